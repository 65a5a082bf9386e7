"""A pattern taken up again after other rows: with which of its rows it goes on.

In: the rows of the pattern as set, and the knitter at work. Out: the row that comes next, and a finding where
the words leave it open. What "in pattern" works of that row is left to ``rowends``.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from purlwright.needles import problems
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter
    from purlwright.needles.state import Row

_SIDES = ("RS", "WS")


def next_of_cycle(k: Knitter) -> Row:
    """The row of the pattern as set that comes next.

    It is worked on the side that it is written for: where the rows between have turned the work, they are
    counted as rows of the pattern, for so the sides come right again.
    """
    many = len(k.cycle)
    row = k.cycle[k.cycle_at % many]
    if k.info.advance_order == k.order:
        return row
    between = _between(k)
    if between:
        k.worker.look("C027")
    if not _on_other_side(k, row):
        return row
    if k.info.begins_with == row.number and row.number is not None:
        k.report(problems.PatternRowOnOtherSide(row.number, _SIDES[k.worker.facing]), k.worker.span_here)
    elif k.info.begins_with is None and between:
        at = (k.cycle_at + between) % many
        if _on_other_side(k, k.cycle[at]):
            at = (k.cycle_at + 1) % many
        now = k.cycle[at]
        if many > 2 and not k.unproved and row.number is not None and now.number is not None:
            here = _SIDES[k.worker.facing]
            problem = problems.PatternRowNotSaid(
                k.cycle[k.cycle_at - 1].number or 0, row.number, now.number, here
            )
            k.report(problem, k.worker.span_here)
        k.cycle_at, row = at, now
    return row


def begin_with(k: Knitter, s: tree.Resume) -> None:
    """In words: ``Cont in pattern, beginning with row 3``: the row that is named comes next."""
    if s.row is None:
        return
    k.worker.look("C027")
    k.info.begins_with = s.row
    at = k.cycle_place.get(s.row)
    if at is not None:
        k.cycle_at = at
    charts = list(k.chart_row) or [chart.name.lower() for chart in k.pattern.charts]
    if len(charts) == 1:
        k.chart_row[charts[0]] = (s.row - 1, -1)


def _on_other_side(k: Knitter, row: Row) -> bool:
    """Whether a row of the pattern is written for the side that does not face now."""
    w = k.worker
    if w.needles.ring or not k.side_known or len(k.cycle) % 2 or w.side == 2:
        return False
    sides = [r.facing for r in k.cycle]
    alternate = all(a != b for a, b in pairwise(sides))
    return alternate and row.facing != w.facing


def _between(k: Knitter) -> int:
    """How many rows were worked since the last row of the pattern as set."""
    numbers = {r.entry for r in k.cycle}
    count = 0
    for r in reversed(k.history):
        if r.entry in numbers or any(isinstance(a, tree.InPattern) for a in tree.walk(tuple(r.actions))):
            break
        count += 1
    return count
