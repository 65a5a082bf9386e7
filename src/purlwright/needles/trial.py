"""Trying a reading: the knitter's state put aside and put back.

In: the knitter at work. Out: its state as one value. Which reading to try is left to ``again``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.needles.state import State

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


def save(k: Knitter) -> State:
    """The state of everything a trial may change."""
    w = k.worker
    return State(
        w.needles.copy(), w.edges.copy(),
        (
            k.section, k.heading, k.block, k.rule, k.rule_after, k.last_number, k.open, k.info, k.ended,
            k.first_side, k.side_known, k.pending, k.unproved, k.miscounted, k.ring_turned,
            k.side_sure, k.nothing_said, k.any_width,
            k.ever_unproved, k.delta, k.at, k.cycle_at, k.base, k.order, k.rows_worked,
        ),
        (len(k.entries), len(k.history), len(k.pieces), len(w.log)),
        k.grower.mark(),
        (
            w.facing, w.side, w.yarn, w.loop_waits, dict(w.ground_row), dict(w.places),
            w.count,
            (list(k.cycle), dict(k.cycle_place), dict(k.passes)), dict(k.chart_row),
            list(k.piece_bound_off), w.offset,
            k.entries[-1] if k.entries else None,
        ),
    )  # fmt: skip


def restore(k: Knitter, s: State) -> None:
    """Put everything back as it was."""
    w = k.worker
    w.needles, w.edges = s.needles.copy(), s.edges.copy()
    (
        k.section, k.heading, k.block, k.rule, k.rule_after, k.last_number, k.open, k.info, k.ended,
        k.first_side, k.side_known, k.pending, k.unproved, k.miscounted, k.ring_turned,
        k.side_sure, k.nothing_said, k.any_width,
        k.ever_unproved, k.delta, k.at, k.cycle_at, k.base, k.order, k.rows_worked,
    ) = s.scalars  # fmt: skip
    e, h, p, g = s.lengths
    del k.entries[e:], k.marks[e:], k.history[h:], k.pieces[p:], w.log[g:]
    if k.entries and s.worker[11] is not None:
        k.entries[-1] = s.worker[11]
    k.grower.back_to(s.mark)
    w.facing, w.side, w.yarn, w.loop_waits = s.worker[:4]
    w.ground_row, w.places = dict(s.worker[4]), dict(s.worker[5])
    w.count = s.worker[6]
    cycle, place, passes = s.worker[7]
    k.cycle, k.cycle_place, k.passes, k.chart_row = list(cycle), dict(place), dict(passes), dict(s.worker[8])
    k.piece_bound_off = list(s.worker[9])
    w.offset = s.worker[10]
    w.gathered.clear()
    w.frames.clear()
