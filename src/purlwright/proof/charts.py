"""Family H, charts as they are drawn: squares used and made, the outline, numbers, symbols,
floats.

In: a pattern's charts. Out: findings on rows that do not meet, outlines that do not tile, numbers on the
wrong side, colours without yarn and floats longer than the words allow. Charts against words stand in
``chart_words``, crossings in ``chart_crossings``, mirrors and periods in ``mirror`` and ``period``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import ROWS, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.chart_colours import judge_colours
from purlwright.proof.chart_repeats import repeats_not_told
from purlwright.proof.chart_words import judge_chart_words
from purlwright.proof.spelled import Spelled, spell, takes

if TYPE_CHECKING:
    from purlwright.pattern.charts import Chart, ChartRow
    from purlwright.proof.subject import Subject

__all__ = [
    "JUDGES",
    "ChartNumberSide",
    "ChartRowsDoNotMeet",
    "OutlineDoesNotTile",
]


@dataclass(frozen=True, slots=True)
class ChartRowsDoNotMeet:
    """A chart row uses another number of stitches than the row below it has made.

    A square is missing or one too many, or a yarn over stands without its decrease. Knitted as drawn the row
    does not come out.

    Example: row 3 makes 12 stitches, and the squares of row 5 use 11.

    Cure: count the squares of both rows: a decrease uses two stitches and makes one, a yarn over uses none.
    (Common practice; no source.)
    """

    chart: str
    row: int
    used: int
    below: int
    made: int

    code = "chart-rows-do-not-meet"
    check = "C081"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f'Row {self.row} of the chart "{self.chart}" uses {self.used} stitches, '
            f"and row {self.below} below it makes {self.made}."
        )

    def label(self) -> str:
        return f"uses {self.used}"

    def help(self) -> str | None:
        by = self.used - self.made
        return (
            f"Look for {abs(by)} stitch{'es' if abs(by) > 1 else ''} too {'many' if by > 0 else 'few'} in "
            f"one of them."
        )


@dataclass(frozen=True, slots=True)
class OutlineDoesNotTile:
    """With the repeat worked several times a chart row does not fit on the row below it.

    The squares outside the outline and n times those inside must use what the row below has made, for every
    n. Where they do not, the first or the last repeat goes wrong.

    Example: row 3 makes 1 + n x 6 + 2 stitches, row 5 uses 1 + n x 6 + 1.

    Cure: move the outline, or add the edge stitch that is missing. (Common practice; no source.)
    """

    chart: str
    row: int
    below: int
    made: int
    made_each: int
    used: int
    used_each: int

    code = "outline-does-not-tile"
    check = "C082"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f'The repeat of row {self.row} of the chart "{self.chart}" does not fit on row {self.below}: '
            f"that makes {self.made} and {self.made_each} for each repeat, this uses {self.used} "
            f"and {self.used_each}."
        )

    def label(self) -> str:
        return "does not fit on the row below"

    def help(self) -> str | None:
        return "Move the upright lines, or add the edge stitches that are missing."


@dataclass(frozen=True, slots=True)
class ChartNumberSide:
    """A chart's row numbers stand for another way of knitting than the words.

    In the round every number stands at the right, flat the wrong-side rows have theirs at the left. A
    knitter who starts where the number stands works every second row backwards.

    Example: a chart numbered at the right throughout, worked back and forth.

    Cure: put the numbers where the rows start. (Common practice; no source.)
    """

    chart: str
    round: bool

    code = "chart-number-side"
    check = "C085"
    severity = Severity.WARNING

    def message(self) -> str:
        if self.round:
            return f'The chart "{self.chart}" is worked in the round, and this number stands at the left.'
        return f'The chart "{self.chart}" is worked back and forth, and all its numbers stand at the right.'

    def label(self) -> str:
        return "starts at the other side"

    def help(self) -> str | None:
        return (
            "Put every number at the right."
            if self.round
            else "Put the numbers of wrong-side rows at the left."
        )


# --- squares and outline ----------------------------------------------------------------------------------


def _pairs(
    chart: Chart, own: Mapping[str, tuple[int, int]]
) -> Iterator[tuple[ChartRow, Spelled, ChartRow, Spelled]]:
    """Each row of a chart with the next above it, both spelled out."""
    rows = [(row, spell(line, 0, own)) for row, line in zip(chart.rows, chart.lines, strict=True)]
    for (below, a), (row, b) in pairwise(rows):
        if a is not None and b is not None and below.number is not None and row.number is not None:
            yield below, a, row, b


def _makes(row: Spelled, many: int) -> int:
    return sum(u.look.makes for u in row.times(many))


def _told_already(subject: Subject, chart: Chart) -> bool:
    """Whether knitting the chart has found a fault in it: one mistake, one message."""
    names = chart.name.lower()
    calls = {
        line.line
        for line, call in subject.nodes(tree.Call)
        if call.name.lower() in names or names in call.name.lower()
    }
    inside = range(subject.source.place(chart.span.start)[0], subject.source.place(chart.span.end)[0] + 1)
    for f in subject.findings:
        if f.severity is not Severity.NOTE and f.span.end >= 0:
            line = subject.source.place(f.span.start)[0]
            if line in calls or line in inside:
                return True
    return False


def _own(subject: Subject) -> Mapping[str, tuple[int, int]]:
    return subject.ways[0].knitted.own if subject.ways else {}


def judge_squares(subject: Subject) -> Answer:
    """C081: rows without an outline; those with one are C082's."""
    places, fails = 0, False
    findings: list[Finding] = []
    for chart in subject.pattern.charts:
        for below, a, row, b in _pairs(chart, _own(subject)):
            if a.body or b.body:
                continue
            places += 1
            made, used = _makes(a, 0), takes(b.before)
            if made != used:
                fails = True
                if not findings and not _told_already(subject, chart):
                    problem = ChartRowsDoNotMeet(chart.name, row.number or 0, used, below.number or 0, made)
                    findings.append(
                        Finding(
                            problem=problem, span=row.span, related=(Related(below.span, f"makes {made}"),)
                        )
                    )
    return Answer(places=places, findings=tuple(findings), fails=fails)


def judge_outline(subject: Subject) -> Answer:
    """C082: places are the charts with an outline."""
    places, fails = 0, False
    findings: list[Finding] = []
    for chart in subject.pattern.charts:
        places += any(row.repeat is not None for row in chart.rows)
        for below, a, row, b in _pairs(chart, _own(subject)):
            if not (a.body and b.body):
                continue
            if any(b.over(_makes(a, many)) is None for many in (2, 3, 4)):
                fails = True
                if not findings and not _told_already(subject, chart):
                    made = (_makes(a, 0), _makes(a, 1) - _makes(a, 0))
                    used = (takes(b.before) + takes(b.after), takes(b.body))
                    problem = OutlineDoesNotTile(chart.name, row.number or 0, below.number or 0, *made, *used)
                    findings.append(
                        Finding(problem=problem, span=row.span, related=(Related(below.span, "on this row"),))
                    )
    if not fails:
        findings += repeats_not_told(subject)
    return Answer(places=places, findings=tuple(findings), fails=fails)


def judge_moving_outline(subject: Subject) -> Answer:
    """C083: places are the rows whose outline stands elsewhere than that of the row below."""
    places, fails = 0, False
    for chart in subject.pattern.charts:
        for below, a, row, b in _pairs(chart, _own(subject)):
            if below.repeat is None or row.repeat is None or below.repeat == row.repeat:
                continue
            places += 1
            fails |= any(b.over(_makes(a, many)) is None for many in (2, 3, 4))
    return Answer(places=places, fails=fails)


def judge_symbols(subject: Subject) -> Answer:
    """C084: found while reading; places are the entries of the keys."""
    return Answer(places=sum(len(chart.key) for chart in subject.pattern.charts))


# --- numbers ----------------------------------------------------------------------------------------------


def judge_number_sides(subject: Subject) -> Answer:
    """C085: places are the chart rows; what is wrong in the drawing alone was found while reading."""
    charts = subject.pattern.charts
    if not charts:
        return Answer()
    findings = []
    for chart in charts:
        kinds = _worked_as(subject, chart)
        if len(kinds) != 1 or len(chart.rows) < 2:
            continue
        numbers = {row.number for row in chart.rows}
        if kinds == {Kind.ROUND}:
            wrong = next((row for row in chart.rows if not row.from_right), None)
        else:
            alternate = any(n is not None and n + 1 in numbers for n in numbers)
            wrong = chart.rows[1] if chart.round and alternate else None
        if wrong is not None:
            findings.append(
                Finding(problem=ChartNumberSide(chart.name, kinds == {Kind.ROUND}), span=wrong.span)
            )
    return Answer(places=sum(len(c.rows) for c in charts), findings=tuple(findings))


def _worked_as(subject: Subject, chart: Chart) -> set[Kind]:
    """Whether the lines that call a chart are worked as rows or rounds; nothing if it is never called."""
    name = chart.name.lower()
    lines = {
        line.offset for line, call in subject.nodes(tree.Call)
        if call.name.lower() in name or name in call.name.lower()
    }  # fmt: skip
    if not lines or not subject.ways:
        return set()
    kinds: set[Kind] = set()
    for piece in subject.ways[0].knitted.ledger.pieces:
        for e in piece.rows:
            if e.kind in ROWS and not e.unread:
                line = subject.line_of(e)
                if line is not None and line.offset in lines:
                    kinds.add(e.kind)
    return kinds


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C080": judge_chart_words,
    "C081": judge_squares,
    "C082": judge_outline,
    "C083": judge_moving_outline,
    "C084": judge_symbols,
    "C085": judge_number_sides,
    "C089": judge_colours,
}
