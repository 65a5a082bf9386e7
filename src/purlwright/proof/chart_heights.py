"""Charts as high as the words say: "work the 24 rows of chart A" (C090).

In: the words and the charts. Out: a finding on words that give a chart fewer rows than it has.
Rows that are not there are missed while knitting.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Related, Severity
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.charts import Chart

__all__ = ["JUDGES", "ChartHeightDiffers"]


@dataclass(frozen=True, slots=True)
class ChartHeightDiffers:
    """The words give a chart fewer rows than it has.

    The knitter who counts her rows by the words stops before the chart is done. Rows that are not drawn are
    missed at the needles, and told there.

    Example: `Work the 22 rows of chart A` where chart A has 24.

    Cure: correct the number, or say "the first 22 rows". (Common practice; no source.)
    """

    chart: str
    said: int
    rows: int

    code = "chart-height-differs"
    check = "C090"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.said} rows of {self.chart} are spoken of here, and it has {self.rows}."

    def label(self) -> str:
        return f"{self.rows} rows in the chart"

    def help(self) -> str | None:
        return f'Write {self.rows}, or "the first {self.said} rows".'


_ROWS_OF = re.compile(
    r"\b(?:all|the|these|all of the)\s+(?P<n>\d{1,3})\s+(?:rows|rounds|rnds)\s+of\s+(?P<name>[^.;,()]{1,60})",
    re.IGNORECASE,
)


def _height(chart: Chart) -> int:
    """How many rows a chart is high: the number of its last row; rows without numbers are counted."""
    return max((row.number or 0 for row in chart.rows), default=0) or len(chart.rows)


def _meant(charts: Sequence[Chart], words: str) -> Chart | None:
    """The chart that some words name; the only one there is for "the chart"."""
    low = f" {' '.join(re.findall(r'[a-z0-9]+', words.lower()))} "
    named = [c for c in charts if f" {' '.join(re.findall(r'[a-z0-9]+', c.name.lower()))} " in low]
    if len(named) == 1:
        return named[0]
    return charts[0] if len(charts) == 1 and " chart " in low else None


def _heights(subject: Subject) -> Iterator[tuple[Chart, int, Span]]:
    """Every chart with the number of rows that words give it, and where."""
    for line in subject.watched.lines:
        if line.sort in {"words", "note"} and " of " in line.text:
            for m in _ROWS_OF.finditer(line.text):
                chart = _meant(subject.pattern.charts, m["name"])
                if chart is not None and chart.rows:
                    yield chart, int(m["n"]), Span(line.offset + m.start(), line.offset + m.end("name"))


def judge_heights(subject: Subject) -> Answer:
    """C090: charts are worked row by row as the words call them; a row that is not there has its finding."""
    if not subject.pattern.charts:
        return Answer()
    called = len({call.name.lower() for _, call in subject.nodes(tree.Call)})
    said = list(_heights(subject))
    findings = tuple(
        Finding(
            problem=ChartHeightDiffers(chart.name, n, _height(chart)),
            span=span,
            related=(Related(chart.rows[-1].span, "the last row of the chart"),),
        )
        for chart, n, span in said
        if n < _height(chart)  # a row too many is missed at the needles
    )
    fails = any(f.code == "no-such-row" for f in subject.findings)
    return Answer(places=called + len(said), findings=findings, fails=fails)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C090": judge_heights}
