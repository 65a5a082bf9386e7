"""Family H, what only a drawn chart can answer: whether a chart without lines is a repeat as a whole.

In: a subject of the proof. Out: judges, handed to the proof by ``workup``. What is told of the squares and
lines themselves is left to the proof's own ``charts``, whose answers these add to.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, cast

from purlwright.chart.charts import too_wide
from purlwright.chart.grid import make_grid
from purlwright.chart.tiling import once_across
from purlwright.chart.typed import knit_chart
from purlwright.findings import Severity
from purlwright.proof.answer import Answer
from purlwright.proof.charts import judge_outline as judge_lines

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.charts import Chart
    from purlwright.pattern.file import Pattern
    from purlwright.proof.subject import Subject

__all__ = ["JUDGES"]


def judge_outline(subject: Subject) -> Answer:
    """C082: places are the charts with lines round their repeat, and those without that are one as a whole:
    knitted three times side by side, their first, middle and last copies are the same squares.
    """
    answer = judge_lines(subject)
    whole = sum(_tiles(chart, subject) for chart in subject.pattern.charts if _without_lines(chart))
    return answer._replace(places=answer.places + whole)


def _without_lines(chart: Chart) -> bool:
    return bool(chart.rows) and not any(row.repeat is not None or row.unclear for row in chart.rows)


def _tiles(chart: Chart, subject: Subject) -> bool:
    """Whether a chart is the same three times over, in every row."""
    pattern = cast("Pattern", subject.pattern)
    whole = cast("Knitted", subject.ways[0].knitted) if subject.ways else None
    options = dict(subject.ways[0].options) if subject.ways else {}
    if too_wide(chart):
        return False
    knitted, rows = knit_chart(pattern, chart, options=options, whole=whole)
    if len(rows) != len(chart.rows) or any(e.unread or e.resumed for e in rows):
        return False
    if any(f.severity is Severity.ERROR and f.code != "left-live" for f in knitted.findings):
        return False
    grid = once_across(make_grid(knitted, rows, chart.name))
    return any(tile.width == grid.columns and tile.times >= 3 for tile in grid.tiles)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C082": judge_outline}
