"""Family H, crossings in charts: a square for each stitch crossed, and none across the outline.

In: a pattern's charts. Out: C088. A crossing drawn as one mark cannot lie across the outline.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.pattern.chart_squares import crosses
from purlwright.proof.answer import Answer
from purlwright.proof.spelled import Spelled, spell
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.charts import Chart, ChartRow
    from purlwright.proof.subject import Subject

__all__ = ["JUDGES", "CrossingOverOutline", "CrossingSquaresDiffer"]


@dataclass(frozen=True, slots=True)
class CrossingSquaresDiffer:
    """A crossing is drawn over more or fewer squares than it crosses stitches.

    A square is missing or one too many, or the key explains another crossing. Knitted as drawn the row does
    not come out, or the cable stands beside its column.

    Example: three squares for `x = 2/2 RC`, which crosses four stitches.

    Cure: draw a square for each stitch of the crossing, or correct the key. (Common practice; no source.)
    """

    chart: str
    row: int
    words: str
    squares: int
    stitches: int

    code = "crossing-squares-differ"
    check = "C088"
    severity = Severity.ERROR

    def message(self) -> str:
        squares = "1 square" if self.squares == 1 else f"{self.squares} squares"
        return (
            f'In row {self.row} of the chart "{self.chart}" {self.words} fills {squares}, and it crosses '
            f"{self.stitches} stitches."
        )

    def label(self) -> str:
        return f"crosses {self.stitches} stitches"

    def help(self) -> str | None:
        return f"Draw {self.stitches} squares for it, or correct the key."


@dataclass(frozen=True, slots=True)
class CrossingOverOutline:
    """A crossing lies across the line round the repeat: part of its squares stand inside, part outside.

    Whoever works the repeat over and over cuts the crossing in two. It can be knitted only if the repeat
    begins and ends elsewhere in that row, and then the words must say so.

    Example: `x x | x x . . x x | x x` with `x = 2/2 RC`.

    Cure: move the outline by half a crossing, or say in a note how that row begins and ends. (Common
    practice; no source.)
    """

    chart: str
    row: int
    words: str

    code = "crossing-over-outline"
    check = "C088"
    severity = Severity.ERROR

    def message(self) -> str:
        return (
            f'In row {self.row} of the chart "{self.chart}" {self.words} lies across the line round the '
            f"repeat."
        )

    def label(self) -> str:
        return "across the line"

    def help(self) -> str | None:
        return "Move the outline so that no crossing lies across it, or say how this row begins and ends."


_NOTE = re.compile(
    r"\b(?:cross\w*|cables?)\b[^.\n]*\b(?:outline|repeat|marker|edge)s?\b"
    r"|\b(?:outline|repeat|marker|edge)s?\b[^.\n]*\b(?:cross\w*|cables?)\b",
    re.IGNORECASE,
)


def _in_squares(chart: Chart) -> Iterator[tuple[ChartRow, str, int, int, int]]:
    """Each run of a crossing in rows with a square for each stitch: row, mark, stitches, first, last + 1."""
    crossed = {key.mark: n for key in chart.key if (n := crosses(key.rs)) > 1}
    plain = {len(row.marks) for row in chart.rows if not crossed.keys() & set(row.marks)}
    for row in chart.rows:
        if len(row.marks) not in plain:
            continue
        at = 0
        for mark, run in groupby(row.marks):
            end = at + sum(1 for _ in run)
            if mark in crossed:
                yield row, mark, crossed[mark], at, end
            at = end


def _amiss(chart: Chart) -> Iterator[Finding]:
    words = {key.mark: key.rs_words.strip() for key in chart.key}
    for row, mark, many, first, end in _in_squares(chart):
        span = Span(row.spans[first].start, row.spans[end - 1].end)
        number = row.number or 0
        if (end - first) % many:
            yield Finding(
                problem=CrossingSquaresDiffer(chart.name, number, words[mark], end - first, many), span=span
            )
        elif row.repeat is not None and any(
            first < line < end and (line - first) % many for line in row.repeat
        ):
            yield Finding(problem=CrossingOverOutline(chart.name, number, words[mark]), span=span)


def judge_crossings(subject: Subject) -> Answer:
    """C088: places are the squares that hold a crossing. One finding a chart: the rest is drawn alike."""
    places = 0
    findings: list[Finding] = []
    missing = None
    for chart in subject.pattern.charts:
        crossing = {
            key.mark for key in chart.key
            if any(isinstance(s, tree.Cross) for s in key.rs)
            or any(u.look.crosses for u in (spell(tree.Line(actions=key.rs)) or Spelled(())).before)
        }  # fmt: skip
        places += sum(mark in crossing for row in chart.rows for mark in row.marks)
        found = next(_amiss(chart), None)
        if found is None:
            continue
        if found.code == "crossing-over-outline" and _NOTE.search(subject.source.text):
            missing = "how a crossing over the line round the repeat is worked, which only a note says"
        else:
            findings.append(found)
    return Answer(places=places, findings=tuple(findings), missing=missing)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C088": judge_crossings}
