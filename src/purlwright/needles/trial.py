"""Trying a reading: the knitter's state put aside and put back.

In: the knitter at work. Out: its state as one value. Which reading to try is left to ``again``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.needles.state import Hold, Lengths, Mind, State

if TYPE_CHECKING:
    from purlwright.fabric.grow import Mark
    from purlwright.needles.knit import Knitter


def save(k: Knitter, mark: Mark | None = None) -> State:
    """The state of everything a trial may change.

    mark : where the fabric stood, if it is further on by now.
    """
    w = k.worker
    return State(
        w.needles.copy(), w.edges.copy(),
        Mind(
            k.section, k.heading, k.block, k.rule, k.rule_after, k.last_number, k.open, k.info, k.ended,
            k.first_side, k.side_known, k.pending, k.unproved, k.miscounted, k.ring_turned,
            k.side_sure, k.nothing_said, k.any_width,
            k.ever_unproved, k.delta, k.at, k.cycle_at, k.base, k.order, k.rows_worked,
        ),
        Lengths(len(k.entries), len(k.history), len(k.pieces), len(w.log)),
        k.grower.mark() if mark is None else mark,
        Hold(
            w.facing, w.side, w.yarn, w.loop_waits, dict(w.ground_row), dict(w.places), w.count,
            list(k.cycle), dict(k.cycle_place), dict(k.passes), dict(k.chart_row),
            list(k.piece_bound_off), w.offset, k.entries[-1] if k.entries else None,
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
    ) = s.mind  # fmt: skip
    e, h, p, g = s.lengths
    del k.entries[e:], k.marks[e:], k.history[h:], k.pieces[p:], w.log[g:]
    hold = s.hold
    if k.entries and hold.last is not None:
        k.entries[-1] = hold.last
    k.grower.back_to(s.mark)
    w.facing, w.side, w.yarn, w.loop_waits = hold[:4]
    w.offset = hold.offset
    w.ground_row, w.places, w.count = dict(hold.ground_row), dict(hold.places), hold.counters
    k.cycle, k.cycle_place, k.passes = list(hold.cycle), dict(hold.cycle_place), dict(hold.passes)
    k.chart_row, k.piece_bound_off = dict(hold.chart_row), list(hold.piece_bound_off)
    w.gathered.clear()
    w.frames.clear()
