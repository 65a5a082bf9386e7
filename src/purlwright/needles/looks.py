"""What can be seen of the work when a row is done: counts, the side that faces, gaps, edges, landmarks.

In: one size, knitted. Out: a :class:`RowLook` for each worked row, piece by piece: what a knitter with the
work in her hands can count or point at, without knowing which row it is. Which of these facts tell rows apart
is left to ``lesson`` and ``rescue``.

A landmark is a row with something in it that stays to be seen: a hole, a decrease, an increase, a crossing.
Rows since a landmark are counted from the row itself: 0 when it is the row just worked.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Link
from purlwright.needles.columns import above_marks
from purlwright.needles.ledger import Entry, Kind
from purlwright.needles.optable import op_table
from purlwright.pattern.tree import Side
from purlwright.stitches.kinds import Lean, Loose, Motion

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Piece

__all__ = [
    "LANDMARKS", "RowLook", "Working", "is_worked", "lean_of", "looks", "marks", "operations", "within",
]  # fmt: skip

LANDMARKS = ("hole", "decrease", "increase", "crossing")
"""What can be looked for, in the order asked."""


def is_worked(entry: Entry) -> bool:
    """Whether an entry is a row or a round."""
    return entry.kind is Kind.ROW or entry.kind is Kind.ROUND


@dataclass(frozen=True, slots=True, kw_only=True)
class Working:
    """What was worked in one row, operation by operation, in working order: (k,) arrays.

    ops : numbers of :func:`~purlwright.needles.optable.op_table`. takes, makes : loops taken and made. then :
    loops that come to the right needle right after it, cast on, or that leave it, bound off (below 0).
    """

    ops: Any
    takes: Any
    makes: Any
    then: Any

    @property
    def n(self) -> int:
        return len(self.ops)

    def has(self, landmark: str) -> bool:
        """Whether an operation leaves such a mark."""
        return bool(marks(self, landmark).any())


@dataclass(frozen=True, slots=True, kw_only=True)
class RowLook:
    """What is seen after one row."""

    entry: Entry
    index: int
    """Which row of its piece it is, from 0; rows and rounds only."""
    stitches: int
    side: Side | None
    """The side that faces when the next row is begun; None where nothing tells."""
    waiting: int
    """Stitches beyond the turning place made last, as long as it can be seen; 0 if there is none."""
    between: tuple[int, ...]
    """Stitches before the first marker, between markers, and after the last, as the next row meets them."""
    intervals: tuple[int, ...] | None
    """Stitches before the first turning place, between them, and after the last, from the right as she holds
    it for the next row; empty if there is none, None where nothing tells which side faces."""
    in_part: int
    """Which row of its part it is, from 1."""
    since: tuple[int, ...]
    """For each of LANDMARKS the rows since one was made in this piece; -1 before the first."""
    since_stripe: int
    """Rows since the row that began a colour in this piece; -1 before the first change."""
    above: tuple[int, ...] | None
    """Stitches above the last landmark in each column, as :func:`~purlwright.needles.columns.above_marks`
    counts them."""

    @property
    def yarn(self) -> str | None:
        """Where the working yarn hangs, the right side facing; None where nothing tells."""
        e = self.entry
        if e.kind is Kind.ROUND:
            return "no edge"
        if e.unworked:
            return "middle"
        return None if e.side is None else "left edge" if e.side is Side.RS else "right edge"

    @property
    def gaps(self) -> int:
        """How many turning places can be seen."""
        return len(self.entry.gaps)

    @property
    def ridges(self) -> tuple[int, int]:
        """Purl bumps up the right and the left edge, as the right side shows them."""
        return self.entry.ridges_right, self.entry.ridges_left

    @property
    def chains(self) -> tuple[int, int]:
        """Slipped edge stitches up the right and the left edge: one for two rows."""
        return self.entry.chains_right, self.entry.chains_left


def operations(knitted: Knitted) -> dict[int, Working]:
    """The operations of every row, by its order in the ledger."""
    t = op_table()
    parts: dict[int, list[Any]] = {}
    acts: dict[int, list[tuple[int, str, int]]] = {}
    for item in knitted.log:
        if item[0] == "run":
            parts.setdefault(item[5], []).append(item[1])
        elif item[0] == "act" and t.keys[item[1]] in _COMES_OR_GOES:
            done = sum(map(len, parts.get(item[5], ())))
            acts.setdefault(item[5], []).append((done, t.keys[item[1]], item[4]))
    out = {}
    for order, runs in parts.items():
        ops = runs[0] if len(runs) == 1 else np.concatenate(runs)
        then = np.zeros(len(ops), np.int32)
        for done, act, many in acts.get(order, ()):
            if act == "cast on" and done:
                then[done - 1] += many
            elif act == "bind off":  # each stitch lets the one before it go
                then[max(done + many, 0) : done] -= 1
        out[order] = Working(ops=ops, takes=t.takes[ops], makes=t.makes[ops], then=then)
    return out


_COMES_OR_GOES = frozenset({"cast on", "bind off"})


def marks(w: Working, landmark: str) -> Any:
    """Which operations leave a mark of this kind, (k,) bool."""
    table = op_table().stitches
    kinds = {int(op): _landmark(table[int(op)], landmark) for op in np.unique(w.ops)}
    return np.array([kinds[int(op)] for op in w.ops], np.bool_)


def _landmark(stitch: Any, landmark: str) -> bool:
    if stitch is None:
        return False
    if landmark == "hole":
        return bool(stitch.loose is Loose.OVER and stitch.motion is Motion.WORK)
    if landmark == "decrease":
        return bool(stitch.takes > stitch.makes >= 1)
    if landmark == "increase":
        return bool(stitch.makes > stitch.takes and stitch.loose is not Loose.OVER)
    return bool(stitch.motion is Motion.CROSS)


def within(entry: Entry, w: Working) -> Iterator[tuple[int, int]]:
    """Loops on the left and on the right needle in mid-row, after each operation but the last."""
    left = entry.worked + entry.unworked
    right = entry.start - left
    steps = (w.takes[:-1].tolist(), w.makes[:-1].tolist(), w.then[:-1].tolist())
    for takes, makes, then in zip(*steps, strict=True):
        left, right = left - takes, right + makes + then
        if left >= 0 and right >= 0:  # loops that are picked up were on neither needle
            yield left, right


def lean_of(op: int) -> Lean:
    """Which way an operation's stitch leans, as the right side shows it when worked there."""
    stitch = op_table().stitches[op]
    return Lean.NONE if stitch is None else stitch.lean


def looks(knitted: Knitted, piece: Piece) -> tuple[RowLook, ...]:
    """What is seen after each row of one piece; a piece without rows gives none."""
    rows = [e for e in piece.rows if is_worked(e)]
    if not rows:
        return ()
    worked = operations(knitted)
    crossed = _crossed_rows(knitted)
    above = above_marks(knitted, rows, worked, _marked())
    sides = {e.order: e.side for e in piece.rows}
    in_part = 0
    last = dict.fromkeys(LANDMARKS, -1)
    stripe = -1
    out = []
    for i, entry in enumerate(rows):
        w = worked.get(entry.order)
        for mark in LANDMARKS:
            if (w is not None and w.has(mark)) or (mark == "crossing" and entry.order in crossed):
                last[mark] = i
        if i and rows[i - 1].yarns != entry.yarns:
            stripe = i
        in_part = in_part + 1 if i and rows[i - 1].section == entry.section else 1
        side = _facing(entry, rows[i + 1] if i + 1 < len(rows) else None)
        out.append(
            RowLook(
                entry=entry, index=i, stitches=entry.end, side=side,
                waiting=_waiting(entry, sides), between=_between(entry),
                intervals=_intervals(entry, side), in_part=in_part,
                since=tuple(i - last[m] if last[m] >= 0 else -1 for m in LANDMARKS),
                since_stripe=i - stripe if stripe >= 0 else -1,
                above=above[i],
            )
        )  # fmt: skip
    return tuple(out)


def _marked() -> Any:
    """Whether each operation leaves a landmark, (operations,) bool."""
    return np.array([any(_landmark(s, m) for m in LANDMARKS) for s in op_table().stitches], np.bool_)


def _facing(entry: Entry, following: Entry | None) -> Side | None:
    """The side that faces for the next row."""
    if following is not None and following.side is not None:
        return following.side
    if entry.kind is Kind.ROUND or entry.side is None:
        return entry.side
    return Side.RS if entry.side is Side.WS else Side.WS


def _waiting(entry: Entry, sides: dict[int, Side | None]) -> int:
    """Stitches beyond the gap turned last: to the left of it if that row was worked on the right side."""
    if not entry.gaps:
        return entry.unworked
    newest = max(entry.gaps, key=lambda g: g.turned_on)
    if sides.get(newest.turned_on) is Side.WS:
        return newest.from_right_rs
    return entry.end - newest.from_right_rs


def _between(entry: Entry) -> tuple[int, ...]:
    """Stitches in each stretch from marker to marker."""
    return _apart([m.after for m in entry.markers], entry.end)


def _apart(places: list[int], end: int) -> tuple[int, ...]:
    """Stitches from one place to the next; none if no place divides them: at an end it divides nothing."""
    inner = [place for place in places if 0 < place < end]
    return tuple(b - a for a, b in itertools.pairwise([0, *inner, end])) if inner else ()


def _intervals(entry: Entry, side: Side | None) -> tuple[int, ...] | None:
    """Stitches in each stretch from turning place to turning place."""
    if not entry.gaps:
        return ()
    if side is None:
        return None
    from_right = [g.from_right_rs for g in entry.gaps]
    return _apart(sorted(from_right if side is Side.RS else [entry.end - n for n in from_right]), entry.end)


def _crossed_rows(knitted: Knitted) -> frozenset[int]:
    """Rows with a crossing told in words, which is no operation of its own."""
    f = knitted.fabric
    at = np.flatnonzero((f.link == Link.CROSSED_FRONT) | (f.link == Link.CROSSED_BACK))
    if not len(at):
        return frozenset()
    stitch = np.searchsorted(f.first_parent_of_stitch, at, side="right") - 1
    return frozenset(np.unique(f.row_of_stitch[stitch]).tolist())
