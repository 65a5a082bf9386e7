"""Charts drawn in plain text, with the designer's own key.

In: the lines of a fenced block ``chart``. Out: a frozen :class:`Chart`: its rows as lines of steps, in the
order worked, for the side each row is worked on. The bottom row is worked first; one mark stands for one
stitch, and a crossing may fill a square for each of its stitches; the row's number stands on the side where
it starts; upright lines stand round the repeat; under the squares stands the key, ``mark = words on RS /
words on WS``. No mark means anything by itself.

    4 | o / . . |
      | . . . . | 3
    2 | . . o / |
      | . . . . | 1

    . = k / p
    o = yo
    / = k2tog / p2tog
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from dataclasses import replace as replaced
from itertools import pairwise
from typing import TYPE_CHECKING, Any, cast

from msgspec import Struct
from msgspec.structs import replace

from purlwright.pattern import tree
from purlwright.pattern.chart_squares import widths
from purlwright.pattern.problems import (
    ChartMarkUnknown,
    ChartMarkUnused,
    ChartNotRead,
    ChartRepeatLines,
    ChartRowNumber,
)
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Callable

    from purlwright.findings import Collector

    ReadSteps = Callable[[str, int], tuple[tree.Step, ...]]

__all__ = ["Chart", "ChartKey", "ChartRow", "read_chart"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartKey:
    """One line of the key. ``ws`` is what to work on WS; the words for RS serve if none are given."""

    mark: str
    rs_words: str
    ws_words: str
    rs: tuple[tree.Step, ...]
    ws: tuple[tree.Step, ...]
    span: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartRow:
    """One row of squares, as drawn from left to right.

    ``number`` None if the row has none. ``from_right`` tells which end it starts at.
    ``repeat`` is the stretch of ``marks`` between the upright lines, or None; ``unclear`` that the lines do
    not say which squares it is.
    ``spans`` are the places of the marks in the source.
    """

    number: int | None
    from_right: bool
    marks: tuple[str, ...]
    repeat: tuple[int, int] | None
    unclear: bool
    spans: tuple[Span, ...]
    span: Span
    line: int

    @property
    def side(self) -> tree.Side:
        """A row worked from the right is a right-side row (or a round)."""
        return tree.Side.RS if self.from_right else tree.Side.WS


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """A chart: its name, its rows from the bottom up, its key, and the rows as lines to work.

    ``rounds`` are the lines for work in the round, where every row starts at the right.
    """

    name: str
    span: Span
    rows: tuple[ChartRow, ...]
    key: tuple[ChartKey, ...]
    lines: tuple[tree.Line, ...]
    rounds: tuple[tree.Line, ...] = ()

    @property
    def round(self) -> bool:
        """Whether every row starts at the right, as in the round."""
        return bool(self.rows) and all(r.from_right for r in self.rows)


_KEY = re.compile(r"\s*(?P<mark>\S{1,12})\s+=\s+(?P<words>\S.*)$")
_SEPARATOR = re.compile(r"\s/\s")
_LETTERS = re.compile(r"[A-Za-z]{2,}")
_LEFT = re.compile(r"\s*(?P<n>\d{1,4})(?=[\s|])")
_RIGHT = re.compile(r"(?<=[\s|])(?P<n>\d{1,4})\s*$")


def read_chart(
    name: str, words: str, offset: int, line: int, read_steps: ReadSteps, findings: Collector
) -> Chart:
    """ROW+ KEY*: the lines of a chart block.

    words, offset, line : the block's text, where it stands in the source, and its first line.
    read_steps : reads the words of a key, at their place in the source.
    An empty block gives a chart without rows.
    """
    rows: list[tuple[str, int, int]] = []
    keys: list[ChartKey] = []
    at = offset
    for n, text in enumerate(words.split("\n")):
        if text.strip():
            m = _KEY.match(text.rstrip())
            if m is not None:
                keys.append(_key(m, at, read_steps))
            elif keys:
                findings.report(ChartNotRead(text.strip()), _words_of(text, at))
            else:
                rows.append((text, at, line + n))
        at += len(text) + 1
    marks = {k.mark for k in keys}
    found: list[ChartRow] = []
    for text, place, number in reversed(rows):
        if _is_sentence(text, marks):
            findings.report(ChartNotRead(text.strip()), _words_of(text, place))
            continue
        row = _row(text, place, number, marks, found[-1] if found else None, findings)
        if row is not None:
            found.append(row)
    by_mark = {k.mark: k for k in keys}
    _report_marks(found, keys, findings)
    _report_numbers(found, findings)
    wide = widths([row.marks for row in found], {mark: k.rs for mark, k in by_mark.items()})
    lines = tuple(_line(row, by_mark, w) for row, w in zip(found, wide, strict=True))
    flat = any(not row.from_right for row in found)
    rounds = lines
    if flat:
        turned = [replaced(row, from_right=True) for row in found]
        rounds = tuple(_line(row, by_mark, w) for row, w in zip(turned, wide, strict=True))
    return Chart(
        name=name,
        span=Span(offset, offset + len(words)),
        rows=tuple(found),
        key=tuple(keys),
        lines=lines,
        rounds=rounds,
    )


def _words_of(text: str, at: int) -> Span:
    """The line without its outer spaces."""
    return Span(at + len(text) - len(text.lstrip()), at + len(text.rstrip()))


def _is_sentence(text: str, marks: set[str]) -> bool:
    """Whether a line among the squares is words: many letters that the key does not know, no squares round
    them.
    """
    if not marks or "|" in text:
        return False
    words = [w for w in _LETTERS.findall(text) if w not in marks]
    strange = {c for w in words for c in w.lower() if c not in marks}
    return len(strange) > 2 and max(map(len, words)) > 2 and (len(words) > 1 or not re.search(r"\d", text))


def _key(m: re.Match[str], at: int, read_steps: ReadSteps) -> ChartKey:
    """MARK "=" WORDS ("/" WORDS)?: "/ = k2tog / p2tog", ". = knit on RS, purl on WS"."""
    words = m["words"]
    start = at + m.start("words")
    rs_at, ws_at = _by_side(words)
    rs_words = words[slice(*rs_at)]
    ws_words = words[slice(*ws_at)] if ws_at else ""
    rs = _once(read_steps(rs_words, start + rs_at[0]))
    ws = _once(read_steps(ws_words, start + ws_at[0])) if ws_at else rs
    return ChartKey(
        mark=m["mark"],
        rs_words=rs_words,
        ws_words=ws_words,
        rs=rs,
        ws=ws,
        span=Span(at + m.start("mark"), at + m.end()),
    )


_RS, _WS = r"(?:RS|right[- ]side)(?: rows?)?", r"(?:WS|wrong[- ]side)(?: rows?)?"
_SIDES = (
    re.compile(
        rf"(?P<rs>.+?) on (?:the )?{_RS}\s*(?:[,;/]|and|[,;] and)\s+(?P<ws>.+?) on (?:the )?{_WS}\.?$",
        re.IGNORECASE,
    ),
    re.compile(
        rf"(?:on )?(?:the )?{_RS}[:,]\s*(?P<rs>.+?)\s*[,;/]\s*(?:on )?(?:the )?{_WS}[:,]\s*(?P<ws>.+?)\.?$",
        re.IGNORECASE,
    ),
    re.compile(rf"(?P<rs>.+?) on (?:the )?(?:{_RS}|both sides)\.?$", re.IGNORECASE),
    re.compile(rf"(?:on )?(?:the )?{_RS}[:,]\s*(?P<rs>.+?)\.?$", re.IGNORECASE),
)


def _by_side(words: str) -> tuple[tuple[int, int], tuple[int, int] | None]:
    """Where the words for RS stand, and those for WS, if there are any."""
    cut = _SEPARATOR.search(words)
    if cut is not None and not re.search(rf"\b(?:{_RS}|{_WS})\b", words, re.IGNORECASE):
        start = cut.end() + len(words[cut.end() :]) - len(words[cut.end() :].lstrip())
        return (0, len(words[: cut.start()].rstrip())), (start, len(words.rstrip()))
    for form in _SIDES:
        m = form.match(words.rstrip())
        if m is not None:
            return m.span("rs"), m.span("ws") if "ws" in form.groupindex else None
    if cut is not None:
        return (0, len(words[: cut.start()].rstrip())), (cut.end(), len(words.rstrip()))
    return (0, len(words)), None


def _once(steps: tuple[tree.Step, ...]) -> tuple[tree.Step, ...]:
    """A stitch with no number is a whole row in the words of a row ("knit"), and one stitch in a square."""

    def single(step: tree.Step) -> tree.Step:
        if not isinstance(step, tree.Fill) or len(step.body) != 1:
            return step
        whole = step.to.kind is tree.PlaceKind.END and step.to.before is None
        return step.body[0] if whole else step

    return tuple(single(s) for s in steps)


def _row(
    text: str, at: int, line: int, marks: set[str], below: ChartRow | None, findings: Collector
) -> ChartRow | None:
    """NUMBER? MARK* ("|" MARK* "|")? MARK* NUMBER?"""
    left, right = 0, len(text.rstrip())
    span = _words_of(text, at)
    m = _RIGHT.search(text[:right]) if not text[:right].strip().isdigit() else None
    number: int | None = None
    from_right = True
    if m is not None:
        number, right = int(m["n"]), m.start("n")
    else:
        m = _LEFT.match(text)
        if m is not None:
            number, left, from_right = int(m["n"]), m.end("n"), False
        elif below is not None:
            from_right = not below.from_right
    before = below.number if below is not None else None
    if number is None:
        findings.report(ChartRowNumber(None, before), span)
        number = before + 1 if before is not None else (1 if below is None else None)
    found: list[str] = []
    spans: list[Span] = []
    lines: list[int] = []
    longest = max((len(mark) for mark in marks), default=1)
    i = left
    while i < right:
        c = text[i]
        if c.isspace():
            i += 1
            continue
        if c == "|" and "|" not in marks:
            lines.append(len(found))
            i += 1
            continue
        size = next((n for n in range(longest, 1, -1) if text[i : i + n] in marks and i + n <= right), 1)
        found.append(text[i : i + size])
        spans.append(Span(at + i, at + i + size))
        i += size
    if not found:
        findings.report(ChartNotRead(text.strip()), span)
        return None
    repeat: tuple[int, int] | None = None
    unclear = len(lines) not in {0, 2}
    if len(lines) == 2:
        repeat = (lines[0], lines[1])
    elif unclear:
        findings.report(ChartRepeatLines(len(lines)), span)
    if repeat is not None and repeat[0] == repeat[1]:
        repeat = None
    return ChartRow(
        number=number,
        from_right=from_right,
        marks=tuple(found),
        repeat=repeat,
        unclear=unclear,
        spans=tuple(spans),
        span=span,
        line=line,
    )


def _report_marks(rows: list[ChartRow], keys: list[ChartKey], findings: Collector) -> None:
    known = {k.mark for k in keys}
    drawn: set[str] = set()
    for row in rows:
        for mark, span in zip(row.marks, row.spans, strict=True):
            if mark not in known and mark not in drawn:
                findings.report(ChartMarkUnknown(mark), span)
            drawn.add(mark)
    for key in keys:
        if key.mark not in drawn:
            findings.report(ChartMarkUnused(key.mark), Span(key.span.start, key.span.start + len(key.mark)))


def _report_numbers(rows: list[ChartRow], findings: Collector) -> None:
    """Rows are numbered one by one, or two by two where only every other row is drawn; a gap in either is
    said once.
    """
    numbered = [(row, row.number) for row in rows if row.number is not None]
    steps = [n - before for (_, before), (_, n) in pairwise(numbered)]
    step = 2 if steps.count(2) > steps.count(1) else 1
    before, due = numbered[0][1] if numbered else 0, 0
    for row, number in numbered[1:]:
        follows = number == before + step
        if not follows and number != due:
            findings.report(ChartRowNumber(number, before), row.span)
            due = max(due, before + step) + step  # the rows above may go on from the number that was due
        else:
            due = number + step
        before = number


def _at(node: Any, span: Span) -> Any:
    """The same node standing at ``span``, all its parts too."""
    if isinstance(node, Span):
        return span
    if isinstance(node, tuple):
        return tuple(_at(x, span) for x in node)
    if isinstance(node, Struct):
        return replace(node, **{f: _at(getattr(node, f), span) for f in node.__struct_fields__})
    return node


def _line(row: ChartRow, key: dict[str, ChartKey], wide: dict[str, int]) -> tree.Line:
    """The row as a line: the steps before the repeat, the repeat as often as the stitches allow, the steps
    after. ``wide`` has the marks that fill several squares in this row.
    """

    def steps(first: int, last: int) -> tuple[tree.Step, ...]:
        order = range(last - 1, first - 1, -1) if row.from_right else range(first, last)
        out: list[tree.Step] = []
        drawn = 0  # squares of this stitch still to come
        for i in order:
            if drawn:
                drawn -= 1
                continue
            entry = key.get(row.marks[i])
            drawn = wide.get(row.marks[i], 1) - 1
            a, b = (max(i - drawn, first), i) if row.from_right else (i, min(i + drawn, last - 1))
            span = Span(row.spans[a].start - row.span.start, row.spans[b].end - row.span.start)
            if entry is None:  # said already; one loop is worked into one
                plain = "k" if row.from_right else "p"
                out += [
                    tree.Unread(words=row.marks[i], span=span),
                    tree.Work(stitch=plain, count=tree.Number(values=(1,)), span=span),
                ]
            else:
                out += cast("tuple[tree.Step, ...]", _at(entry.rs if row.from_right else entry.ws, span))
        return tuple(out)

    actions: tuple[tree.Action, ...]
    if row.unclear:
        actions = (tree.Unread(words="|", span=Span(0, row.span.end - row.span.start)),)
    elif row.repeat is None:
        actions = steps(0, len(row.marks))
    else:
        a, b = row.repeat
        body = steps(a, b)
        outer = ((b, len(row.marks)), (0, a)) if row.from_right else ((0, a), (b, len(row.marks)))
        span = Span(row.spans[a].start - row.span.start, row.spans[b - 1].end - row.span.start)
        repeat = tree.Repeat(body=body, said=tree.Said.OPEN, mark="|", star=True, span=span)
        actions = (*steps(*outer[0]), repeat, *steps(*outer[1]))
    label = tree.Label(
        words=f"Row {row.number}" if row.number is not None else "",
        numbers=(row.number,) if row.number is not None else (),
        side=row.side,
    )
    return tree.Line(label=label, actions=actions, line=row.line, offset=row.span.start)
