"""Family H, charts against words: the rows of a chart and the same rows written out (C080).

In: a pattern with charts and sections of numbered rows. Out: findings where squares and words differ, and
where the words tell the reader to go through a chart against its numbers. A section gives the words of a
chart if most of its rows that can be spelled out are rows of the chart, stitch for stitch.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.state import covers
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.spelled import Spelled, Unit, differ, loosely, spell, takes
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.charts import Chart, ChartRow
    from purlwright.proof.subject import Subject

__all__ = ["ChartReadOtherwise", "ChartWordsDiffer", "judge_chart_words"]


@dataclass(frozen=True, slots=True)
class ChartWordsDiffer:
    """A row of a chart and the same row in words are not the same stitches.

    Half the knitters follow the chart and half the words, and two fabrics come of it. Which of the two is
    meant only the designer knows.

    Example: square 5 of row 7 is a yarn over, and the words of row 7 have `k1` there.

    Cure: look which of the two is right, by the rows round it, and make the other the same. Charts are
    compared as they are worked: right-side rows and rounds from right to left, wrong-side rows from left to
    right. (Common practice; no source.)
    """

    chart: str
    row: int
    square: int
    from_right: bool
    drawn: str
    written: str
    more: tuple[int, ...] = ()
    backwards: bool = False

    code = "chart-words-differ"
    check = "C080"
    severity = Severity.WARNING

    def message(self) -> str:
        side = "right" if self.from_right else "left"
        say = (
            f'Row {self.row} of the chart "{self.chart}" and its words differ: square {self.square} from '
            f"the {side}"
        )
        say += f" is {self.drawn}, and the words have {self.written}."
        if self.more:
            numbers = [str(n) for n in self.more]
            listed = f"{', '.join(numbers[:-1])} and {numbers[-1]}" if len(numbers) > 1 else numbers[0]
            say += f" So do{'es' if len(numbers) == 1 else ''} row{'s' if len(numbers) > 1 else ''} {listed}."
        return say

    def label(self) -> str:
        return f"{self.drawn} in the chart"

    def help(self) -> str | None:
        if self.backwards:
            other = "left to right" if self.from_right else "right to left"
            return (
                f"The words agree with the row if it is read from {other}: turn the one or the other round."
            )
        return "Look which of the two is meant, and make the other the same."


@dataclass(frozen=True, slots=True)
class ChartReadOtherwise:
    """The words tell the reader to go through a chart against its numbers.

    The rows of the chart are numbered from the bottom up, and each number stands at the side where its row
    starts. A reader who obeys the words works the chart upside down, or every row backwards: decreases lean
    the wrong way and lines run the wrong way.

    Example: `Read the chart from the top down and from left to right.` beside a chart with row 1 at the
    bottom; `Read every row from right to left.` beside one that is worked back and forth.

    Cure: say what the numbers say: from the bottom up, right-side rows and rounds from right to left,
    wrong-side rows from left to right. (Common practice; no source.)
    """

    said: str
    numbers: str

    code = "chart-read-otherwise"
    check = "C080"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.said}" goes against the numbers of the chart, {self.numbers}.'

    def label(self) -> str:
        return "against the numbers"

    def help(self) -> str | None:
        return (
            "Say how the chart is read as its numbers do: from the bottom up, right-side rows from right "
            "to left, wrong-side rows from left to right."
        )


class _Difference(NamedTuple):
    row: ChartRow
    line: tree.Line
    square: int
    drawn: Unit | None
    written: Unit | None
    backwards: bool


class _Compared(NamedTuple):
    """A chart beside a section: rows alike, those of them with more than plain stitches, and differences."""

    alike: int
    telling: int
    differences: list[_Difference]


def judge_chart_words(subject: Subject) -> Answer:
    """C080: places are the chart rows that are there in words too."""
    charts = [c for c in subject.pattern.charts if len(c.rows) > 1]
    if not charts:
        return Answer()
    own = subject.ways[0].knitted.own if subject.ways else {}
    places = 0
    findings: list[Finding] = []
    for chart in charts:
        for compared in _beside(subject, chart, own):
            places += compared.alike + len(compared.differences)
            findings += _told(chart, compared.differences)
    findings += _directions(subject, charts[0])
    return Answer(places=places, findings=tuple(findings))


def words_of_charts(subject: Subject) -> int:
    """How many charts are there in words too."""
    own = subject.ways[0].knitted.own if subject.ways else {}
    return sum(bool(list(_beside(subject, chart, own))) for chart in subject.pattern.charts)


def _beside(subject: Subject, chart: Chart, own: Mapping[str, tuple[int, int]]) -> Iterator[_Compared]:
    """The sections that give a chart in words."""
    drawn = [spell(line, 0, own) for line in chart.lines]
    name = chart.name.lower().strip()
    for section in subject.pattern.sections:
        lines = [
            ln
            for ln in section.lines
            if ln.label is not None and (ln.label.numbers or ln.label.rule) and not _calls(ln)
        ]
        if len(lines) < 2:
            continue
        alike, telling, differences = 0, 0, []
        for row, squares in zip(chart.rows, drawn, strict=True):
            line = _line_for(lines, row.number)
            words = spell(line, 0, own) if line is not None else None
            if squares is None or words is None or line is None:
                continue
            got = _compare(squares, words)
            group = loosely(line, 0, own) if got is not None else None
            if group is not None and _compare(squares, group) is None:
                got = None
            if got is None:
                alike += 1
                telling += any(
                    u.look.takes != 1 or u.look.makes != 1 or u.look.crosses for u in squares.times(1)
                )
                telling += len({(u.look.faces, u.colour) for u in squares.times(1)}) > 1
            else:
                differences.append(_difference(row, line, squares, words, got))
        heading = section.heading.lower()
        named = bool(name) and (name in heading or name.split(":")[0] in heading)
        turned = named and len(differences) > 1 and all(d.backwards for d in differences)
        if turned or (
            telling >= (1 if named else 2) and alike >= (1 if named else 2) and alike >= len(differences)
        ):
            yield _Compared(alike, telling, differences)


def _calls(line: tree.Line) -> bool:
    """Whether the row is worked from a chart, so that it is no chart's row in words."""
    return any(isinstance(a, tree.Call) for a in tree.walk(line.actions))


def _line_for(lines: list[tree.Line], number: int | None) -> tree.Line | None:
    if number is None:
        return None
    for line in lines:
        if line.label is not None and number in line.label.numbers:
            return line
    return next((ln for ln in lines if ln.label is not None and covers(ln.label, number, True)), None)


class _Got(NamedTuple):
    """Two spellings that differ: the chart's, the words', and the first place that does."""

    squares: tuple[Unit, ...]
    words: tuple[Unit, ...]
    at: int


def _compare(squares: Spelled, words: Spelled) -> _Got | None:
    """None if chart row and words are the same, over three repeats or in the repeat alone."""
    many = 3 if squares.body else 0
    drawn = squares.times(many)
    written = words.over(takes(drawn))
    first: _Got | None = None
    if written is not None:
        at = differ(drawn, written)
        if at is None:
            return None
        first = _Got(drawn, written, at)
    body = squares.body or squares.before
    if words.body and takes(words.body) == takes(body):
        at = differ(body, words.body)
        if at is None and (len(body) > 1 or written is None):
            return None
        first = first or _Got(body, words.body, at or 0)
    if first is None:
        written = words.times(many) if words.body else words.before
        first = _Got(drawn, written, differ(drawn, written) or 0)
    return first


def _difference(row: ChartRow, line: tree.Line, squares: Spelled, words: Spelled, got: _Got) -> _Difference:
    at = got.at
    drawn = got.squares[at] if at < len(got.squares) else None
    written = got.words[at] if at < len(got.words) else None
    turned = (
        Spelled(squares.after[::-1], squares.body[::-1], squares.before[::-1])
        if squares.body
        else Spelled(squares.before[::-1])
    )
    square = _square(row, drawn, at)
    return _Difference(row, line, square, drawn, written, _compare(turned, words) is None)


def _square(row: ChartRow, drawn: Unit | None, at: int) -> int:
    """The number of a square, counted from the side where the row starts."""
    if drawn is None:
        return len(row.marks)
    start = drawn.span.start + row.span.start
    n = next((i for i, span in enumerate(row.spans) if span.start == start), None)
    if n is None:
        return at + 1
    return len(row.marks) - n if row.from_right else n + 1


def _told(chart: Chart, differences: list[_Difference]) -> list[Finding]:
    """A finding for each row, or one for all of them when they are many."""
    together = len(differences) > 3
    backwards = len(differences) > 1 and all(d.backwards for d in differences)
    out = []
    for d in differences[:1] if together else differences:
        rest = tuple(x.row.number or 0 for x in differences[1:]) if together else ()
        problem = ChartWordsDiffer(
            chart.name, d.row.number or 0, d.square, d.row.from_right, _name(d.drawn), _name(d.written), rest,
            backwards,
        )  # fmt: skip
        base = d.line.offset
        if d.written is not None and d.written.span.end >= 0:
            span = Span(d.written.span.start + base, d.written.span.end + base)
        else:
            span = Span(base, base + len(d.line.text))
        square = d.row.span
        if d.drawn is not None:
            square = Span(d.drawn.span.start + d.row.span.start, d.drawn.span.end + d.row.span.start)
        out.append(Finding(problem=problem, span=span, related=(Related(square, "in the chart"),)))
    return out


def _name(unit: Unit | None) -> str:
    if unit is None:
        return "nothing more"
    return f"{unit.key} in {unit.colour}" if unit.colour else unit.key


# --- how the words say a chart is read --------------------------------------------------------------------

_READ = re.compile(
    r"\b(?:top[- ](?:down|to[- ]bottom)|(?:from|at) the top|top row first|downwards?"
    r"|(?:from )?(?:the )?left to (?:the )?right|(?:from )?(?:the )?right to (?:the )?left)\b",
    re.IGNORECASE,
)
_CHART = re.compile(r"\bcharts?\b", re.IGNORECASE)
_BACK = re.compile(r"\b(?:WS|wrong[- ]side|even|purl|back|alternate|return)\b", re.IGNORECASE)
_RIGHT_SIDE = re.compile(r"\b(?:RS|right[- ]side|odd)\b", re.IGNORECASE)
_EACH_ROW = re.compile(r"\b(?:every|each|all)(?: the| of the)? (?:chart )?rows?\b", re.IGNORECASE)
_SENTENCE = re.compile(r"[^.;\n]+")


def _directions(subject: Subject, chart: Chart) -> list[Finding]:
    """Sentences about reading a chart that go against the numbers of the first chart."""
    text = subject.source.text
    if _READ.search(text) is None:
        return []
    charts = subject.pattern.charts
    for sentence in _SENTENCE.finditer(text):
        words = sentence[0]
        if any(c.span.start <= sentence.start() < c.span.end for c in charts) or not _CHART.search(words):
            continue
        for m in _READ.finditer(words):
            numbers = _against(m[0].lower(), words, m.start(), chart)
            if numbers:
                start = sentence.start() + m.start()
                problem = ChartReadOtherwise(m[0], numbers)
                related = (Related(chart.rows[0].span, f"row {chart.rows[0].number}"),)
                return [Finding(problem=problem, span=Span(start, start + len(m[0])), related=related)]
    return []


def _against(said: str, words: str, at: int, chart: Chart) -> str:
    """What the numbers of the chart say, if ``said`` goes against it; else nothing."""
    if "right" not in said:
        return "which run from the bottom up" if "top" in said or "down" in said else ""
    clause = (
        re.split(r"\band\b|,|\bbut\b|\bwhile\b", words[:at])[-1]
        + words[at : at + 80].split(" and ", maxsplit=1)[0]
    )
    to_right = said.find("left") < said.find("right")
    if to_right and not _BACK.search(clause) and (_RIGHT_SIDE.search(clause) or not _BACK.search(words)):
        return "which stand at the right, where right-side rows begin"
    back = _BACK.search(clause) or (
        _EACH_ROW.search(clause) and any(not row.from_right for row in chart.rows)
    )
    if not to_right and back and not _RIGHT_SIDE.search(clause) and not chart.round:
        return "which stand at the left for wrong-side rows"
    return ""
