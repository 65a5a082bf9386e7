"""Rows of a chart or of a stitch pattern that is written apart: "work rows 1-4 of chart A".

In: the name that the words use and the numbers of rows. Out: the rows, ready to be worked, or a finding that
they are not there. Working them is left to whoever asked.
"""

from __future__ import annotations

import re
from itertools import groupby
from typing import TYPE_CHECKING

from msgspec.structs import replace as changed

from purlwright.needles import problems
from purlwright.needles.state import STATEMENTS, Row, body_span, covers, row_word, steps_of
from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.needles.knit import Knitter
    from purlwright.pattern.charts import Chart

__all__ = ["Source", "check_repeats", "find_source", "is_chart_name", "repeats_said", "rows_in"]

MOST_NUMBERS = 5000
_CHART = re.compile(r"\bcharts?\b", re.IGNORECASE)
_WORD = re.compile(r"[\w'-]+")
_AS_THEY_APPEAR = (tree.InPattern(how="as they appear"),)


def is_chart_name(name: str) -> bool:
    """Whether words that name something to work call it a chart."""
    return _CHART.search(name) is not None


class Source:
    """A chart or a stitch pattern that is called by its name: its rows by their numbers."""

    __slots__ = ("chart", "k", "lines", "name", "rs_odd", "section")

    def __init__(
        self, k: Knitter, name: str, lines: Sequence[tree.Line], section: int, chart: Chart | None = None
    ) -> None:
        self.k = k
        self.name = name
        self.lines = lines
        self.section = section
        self.chart = chart
        sides = ((n, ln.label.side) for ln in lines if ln.label is not None for n in ln.label.numbers[:1])
        self.rs_odd = next(((n % 2 == 1) == (side is tree.Side.RS) for n, side in sides if side), True)

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers of its rows from the first to the last, those that only a rule speaks of too."""
        told = sorted({n for ln in self.lines if ln.label is not None for n in ln.label.numbers})
        if not told:
            return ()
        last = told[-1]
        if self.line(last + 1) is not None and len(told) > 1 and all(n % 2 == told[0] % 2 for n in told):
            last += 1  # the last row told has one like the others after it
        first = 1 if told[0] == 2 and self.line(1) is not None else told[0]
        return tuple(range(first, min(last, told[0] + MOST_NUMBERS) + 1))

    def line(self, number: int) -> tree.Line | None:
        """The line that tells row ``number``: by its number, or as a rule for rows in between."""
        lines = [ln for ln in self.lines if ln.label is not None]
        for ln in lines:
            if ln.label is not None and number in ln.label.numbers:
                return ln
        last = max((n for ln in lines if ln.label is not None for n in ln.label.numbers), default=0)
        if number > last + 1 or number < 1:
            return None
        for ln in lines:
            if ln.label is not None and covers(ln.label, number, self.rs_odd):
                return ln
        return self._between(number)

    def _between(self, number: int) -> tree.Line | None:
        """The rule for rows that are not drawn, where words beside the chart give one."""
        if self.chart is None:
            return None
        for i, section in enumerate(self.k.pattern.sections):
            for ln in section.lines:
                if i == self.section and ln.label is not None and covers(ln.label, number, self.rs_odd):
                    return ln
                steps = _rule_of(ln, number)
                if steps is not None and (i == self.section or section.topic == "notes"):
                    return changed(ln, actions=steps, label=tree.Label(numbers=(number,)))
        for words, at in self.k.pattern.header.description:
            steps = _said_between(words, number)
            if steps is not None:
                return tree.Line(label=tree.Label(numbers=(number,)), actions=steps, offset=at.start)
        return None

    def actions(self, number: int, depth: int = 0) -> tuple[tuple[tree.Action, ...], tree.Line] | None:
        """What row ``number`` says, and the line that says it; "as row 2" is looked up here."""
        ln = self.line(number)
        if ln is None or ln.label is None:
            return None
        for a in ln.actions:
            if isinstance(a, tree.Note):
                continue
            if isinstance(a, tree.RepeatRows) and a.rows.first is not None and not a.define and depth < 9:
                there = range(a.rows.first, (a.rows.last or a.rows.first) + 1)
                nth = ln.label.numbers.index(number) if number in ln.label.numbers else 0
                return self.actions(there[nth % len(there)], depth + 1)
            if isinstance(a, tree.RowRef) and a.number is not None and depth < 9:
                return self.actions(a.number, depth + 1)
            break
        return tuple(a for a in ln.actions if not isinstance(a, (*STATEMENTS, tree.Stated))), ln

    def row(self, number: int) -> Row | None:
        """Row ``number``, ready to be worked; None if it is not told."""
        key = (self.name, number, bool(self.k.worker.needles.ring))
        known = self.k.rows_told.get(key)
        if known is not None:
            return known
        found = self.actions(number)
        if found is None:
            return None
        actions, ln = found
        label = ln.label
        here = self.line(number)
        told = here.label if here is not None else None
        side = (
            told.side if told is not None and (self.chart is not None or number in told.numbers[:1]) else None
        )
        unit = label.unit if label is not None else None
        if unit is None and self.k.worker.needles.ring:
            unit = tree.Unit.ROUND
        name = self.name if " " in self.name or not is_chart_name(self.name) else f"the {self.name.lower()}"
        row = Row(
            number, "", f"{row_word(number, unit)} of {name}", actions, ln.line, ln.offset, body_span(ln),
            self.section, unit, -1, 0, 0, 0, 0, side,
        )  # fmt: skip
        self.k.rows_told[key] = row
        return row


def _rule_of(line: tree.Line, number: int) -> tuple[tree.Step, ...] | None:
    """What a line beside the chart says of a row that is not drawn."""
    for a in line.actions:
        if isinstance(a, tree.RowRule) and a.rule == "alternate" and a.steps:
            return a.steps
        if isinstance(a, tree.Note) and (steps := _said_between(a.words, number)) is not None:
            return steps
    return None


_NOT_DRAWN = re.compile(
    r"\b(?:(?:only|just)\b[^.;]*\b(?P<drawn>RS|right[- ]side|odd|WS|wrong[- ]side|even)\b"
    r"|(?P<rest>WS|wrong[- ]side|even|alternate|other)[^.;]*\b(?:rows?|rnds?|rounds?)\b)",
    re.IGNORECASE,
)
_BARE = re.compile(
    r"\b(?:(?P<appear>as (?:they|the sts|stitches) (?:appear|present|face))|(?P<how>knit|purl)(?:ed)?)\b",
    re.IGNORECASE,
)


def _said_between(words: str, number: int) -> tuple[tree.Step, ...] | None:
    """In words: ``Only RS rows are drawn; purl all WS rows.``: what the rows that are not drawn are."""
    if number % 2 or _NOT_DRAWN.search(words) is None:
        return None
    hows = {"appear" if m["appear"] else m["how"].lower() for m in _BARE.finditer(words)}
    if len(hows) != 1:
        return None
    how = hows.pop()
    if how == "appear":
        return _AS_THEY_APPEAR
    stitch = tree.Work(stitch=how[0], count=tree.Number(values=(1,)))
    return (tree.Fill(body=(stitch,), to=tree.Place(kind=tree.PlaceKind.END)),)


def find_source(k: Knitter, name: str) -> Source | None:
    """The chart, or the stitch pattern written apart, that words call by ``name``."""
    low = name.lower().removeprefix("the ")
    chart = _find_chart(k, low)
    if chart is not None:
        i = max((i for i, s in enumerate(k.pattern.sections) if s.span.start < chart.span.start), default=0)
        rounds = k.worker.needles.ring and not k.ring_turned
        return Source(k, chart.name, _whole_crossings(k, chart, rounds=rounds), i, chart)
    for i, section in enumerate(k.pattern.sections):
        head = " ".join(section.heading.lower().replace(":", " ").split())  # "Chart: pods" is chart pods
        if section.kind == "define" and head and (head == low or low in head or head in low):
            lines = [ln for ln in section.lines if ln.label is not None and k.applies(ln.sizes, ln.options)]
            if lines:
                return Source(k, section.heading, lines, i)
    return None


def _find_chart(k: Knitter, low: str) -> Chart | None:
    """A chart by its whole name, by words of it that fit no other, or the only one that stands near."""
    charts = [c for c in k.pattern.charts if c.rows]
    exact = [c for c in charts if c.name.lower() == low]
    if exact:
        return exact[0]
    words = _WORD.findall(low)
    if low in {"chart", "charts"}:
        here = [c for c in charts if _stands_in(k, c)]
        return charts[0] if len(charts) == 1 else here[0] if len(here) == 1 else None
    named = [(c, _WORD.findall(c.name.lower())) for c in charts]
    inside = [c for c, name in named if _has(name, words) or _has(words, name)]
    return inside[0] if len(inside) == 1 else None


def _has(words: Sequence[str], part: Sequence[str]) -> bool:
    n = len(part)
    return any(tuple(words[i : i + n]) == tuple(part) for i in range(len(words) - n + 1))


def _stands_in(k: Knitter, chart: Chart) -> bool:
    """Whether a chart is drawn under the heading of the line in work."""
    starts = sorted(s.span.start for s in k.pattern.sections)
    before = [s for s in starts if s < chart.span.start]
    mine = [s for s in starts if s <= k.info.offset]
    return bool(before and mine) and before[-1] == mine[-1]


def rows_in(k: Knitter, name: str, numbers: Sequence[int] | None, span: Span) -> list[Row] | None:
    """The rows with these ``numbers`` (None: all) of what is called ``name``; None if there is no such thing.

    A row that is not there is reported, and all of them are left out.
    """
    source = find_source(k, name)
    if source is None:
        return None
    out: list[Row] = []
    for n in source.numbers if numbers is None else numbers[:MOST_NUMBERS]:
        row = source.row(n)
        if row is None:
            k.report(problems.NoSuchRow(f"row {n} of {source.name}"), span)
            return []
        out.append(row)
    k.chart_row[source.name.lower()] = (out[-1].number or 0 if out else 0, -1)
    return out


# --- how often the repeat is worked ----------------------------------------------------------------


def repeats_said(k: Knitter) -> tuple[int, ...]:
    """How often the words say that the stitches between a chart's lines are worked, one number a working."""
    here = k.info.line
    section = next((s for s in k.pattern.sections if any(ln.line == here for ln in s.lines)), None)
    told = [
        a
        for ln in (section.lines if section is not None else ())
        if ln.line <= here
        for a in ln.actions
        if isinstance(a, tree.Stated) and a.kind == "lines"
    ]
    return tuple(k.measure.number(n) for n in told[-1].parts) if told else ()


def check_repeats(k: Knitter, row: Row, times: int, span: Span) -> None:
    """Whether the stitches there are the chart's own and ``times`` its repeat."""
    repeat = next((a for a in row.actions if isinstance(a, tree.Repeat)), None)
    if repeat is None:
        return
    inner = k.measure.all(repeat.body)
    outer = k.measure.all([a for a in row.actions if a is not repeat])
    if inner is None or outer is None:
        return
    uses, there = outer[0] + times * inner[0], k.worker.needles.live
    if uses != there:
        k.report(problems.CountDiffers(row.label, uses, there), span)


# --- crossings drawn over several squares ---------------------------------------------------------


def _whole_crossings(k: Knitter, chart: Chart, *, rounds: bool) -> tuple[tree.Line, ...]:
    """A chart's rows, in which the squares of one crossing are one step."""
    key = (chart.name, rounds)
    known = k.charts_told.get(key)
    if known is None:
        lines = chart.rounds if rounds else chart.lines
        known = tuple(changed(ln, actions=_crossed(k, ln.actions)) for ln in lines)
        if _is_tile(k, known):
            known = tuple(changed(ln, actions=(_all_along(ln.actions),)) for ln in known)
        k.charts_told[key] = known
    return known


def _is_tile(k: Knitter, lines: Sequence[tree.Line]) -> bool:
    """Whether a chart without repeat lines is as wide in every row: then the whole of it is the repeat."""
    widths: set[int] = set()
    for ln in lines:
        if any(isinstance(a, (tree.Repeat, tree.Unread)) for a in ln.actions):
            return False
        c = k.measure.all(ln.actions)
        if c is None or c[0] < 1:
            return False
        widths.update(c)
    return len(widths) == 1


def _all_along(actions: tuple[tree.Action, ...]) -> tree.Action:
    """The squares over and over to the end of the row."""
    steps = steps_of(actions)
    return tree.Repeat(
        body=steps, said=tree.Said.OPEN, mark="|", star=True, span=steps[0].span.cover(steps[-1].span)
    )


def _crossed(k: Knitter, actions: tuple[tree.Action, ...]) -> tuple[tree.Action, ...]:
    """SQUARE*: n equal squares of a crossing over n stitches are that crossing, drawn once.

    Reading has joined the squares of named crossings where the other rows are as wide; here come those of
    the pattern's own crossings, and of charts with crossings in every row.
    """
    out: list[tree.Action] = []
    for run in _runs(actions):
        first = run[0]
        if isinstance(first, tree.Repeat):
            out.append(changed(first, body=_crossed(k, first.body)))
            continue
        takes = _crosses(k, first)
        drawn = first.span.end - first.span.start
        if takes < 2 or drawn >= takes or len(run) % takes:
            out += run
            continue
        for i in range(0, len(run), takes):
            a, b = run[i].span, run[i + takes - 1].span
            out.append(changed(first, span=a.cover(b)))
    return tuple(out)


def _runs(actions: Sequence[tree.Action]) -> Iterator[list[tree.Action]]:
    """Equal squares side by side; what shares its square with other steps stands alone."""
    squares = [list(g) for _, g in groupby(actions, key=lambda a: (a.span, isinstance(a, tree.Repeat)))]
    for _, group in groupby(squares, key=lambda sq: tree.bare(sq[0]) if len(sq) == 1 else sq):
        same = list(group)
        if len(same[0]) == 1:
            yield [sq[0] for sq in same]
        else:
            for sq in same:
                yield from ([a] for a in sq)


def _crosses(k: Knitter, step: tree.Action) -> int:
    """Over how many stitches a step goes that leaves as many as it takes, more than one; else 0."""
    if not isinstance(step, (tree.Work, tree.Cross)):
        return 0
    if isinstance(step, tree.Work) and k.measure.number(step.count) != 1:
        return 0
    c = k.measure.one(step)
    return c[0] if c is not None and c[0] == c[1] and c[0] > 1 else 0
