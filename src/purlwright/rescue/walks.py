"""From altered loops on, row by row: how they lie after each row, and where a row stops.

In: a piece whose rows were tried, and where to begin: a row, and how the loops lie before it. Out: all walks
as arrays, one line for each row after which the work is looked at. What is seen there is left to ``table``.

A walk is a path over nodes, one for each row and way of lying; many walks go over the same nodes. All of them
are walked at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from purlwright.needles.rehearse import Came, Lie
from purlwright.rescue.knitted_on import PieceAt

__all__ = ["MARKER", "Walks", "left_by", "walk"]

MARKER = 99
"""Stands for the stitches over or short where a row stops at a marker, or nothing tells how many."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Walks:
    """Walks laid end to end.

    lies : the ways of lying, and number their places in it. start_of : (n,) int32, the walk of each line.
    row : (n,) int32, the row done, -1 for none. lie_of : (n,) int32, how the loops lie then. off, each :
    (n,) int32, what the next row leaves over or lacks, and of what repeat; 0 if it comes out. shifted,
    moved : (n,) bool, whether a row with several sorts of stitches, or with holes, was worked out of place.
    """

    lies: tuple[Lie, ...]
    number: dict[Lie, int]
    start_of: Any
    row: Any
    lie_of: Any
    off: Any
    each: Any
    shifted: Any
    moved: Any


class _Nodes:
    """One node for each row and way of lying that is met."""

    def __init__(self, piece: PieceAt) -> None:
        self.piece = piece
        self.number: dict[Lie, int] = {}
        self.of: dict[tuple[int, Lie], int] = {}
        self.row: list[int] = []
        self.lie: list[int] = []
        self.off: list[int] = []
        self.each: list[int] = []
        self.after: list[int] = []
        self.shifts: list[bool] = []
        self.moves: list[bool] = []

    def node(self, row: int, lie: Lie) -> int:
        """The node, and those after it, as far as rows were tried."""
        first = here = self._one(row, lie)
        while self.after[here] == _NOT_SEEN:
            came = self.piece.after(self.row[here], lie)
            if came is None or not came.fits:
                self.after[here] = -1
                break
            known = self.of.get((self.row[here] + 1, came.ready))
            following = self._one(self.row[here] + 1, came.ready) if known is None else known
            self.after[here] = following
            here, lie = following, came.ready
        return first

    def _one(self, row: int, lie: Lie) -> int:
        got = self.of.get((row, lie))
        if got is not None:
            return got
        p = self.piece
        came = p.after(row, lie)
        stops = came is not None and not came.fits
        wrong = row < len(p.looks) and lie != p.lies[row]
        n = self.of[row, lie] = len(self.row)
        self.row.append(row)
        self.lie.append(self.number.setdefault(lie, len(self.number)))
        self.off.append(left_by(came) if came is not None else 0)
        self.each.append(came.each if stops and came is not None else 0)
        self.after.append(_NOT_SEEN)
        self.shifts.append(wrong and p.structured[row])
        self.moves.append(wrong and p.looks[row].since[0] == 0)
        return n


_NOT_SEEN = -2


def left_by(came: Came) -> int:
    """What a row leaves over or lacks; 0 if it comes out, :data:`MARKER` where nothing tells how many."""
    if came.fits:
        return 0
    if came.off == 0 or came.crossed:
        return MARKER
    return max(-MARKER + 1, min(MARKER - 1, came.off))


def walk(piece: PieceAt, starts: Sequence[tuple[int, Lie]], skip: Sequence[int], most: Any) -> Walks:
    """Walk from every start.

    starts : a row, and how the loops lie before it: the first state is that after the row before. skip : how
    many states of each walk to leave out at its beginning. most : how many of each to keep after those.
    """
    nodes = _Nodes(piece)
    first = np.array([nodes.node(row, lie) for row, lie in starts], np.int32)
    after = np.array([*nodes.after, -1], np.int32)
    row, lie = np.array(nodes.row, np.int32), np.array(nodes.lie, np.int32)
    off, each = np.array(nodes.off, np.int32), np.array(nodes.each, np.int32)
    shifts, moves = np.array([*nodes.shifts, False]), np.array([*nodes.moves, False])
    skips, keep = np.array(skip, np.int32), np.array(most, np.int32)
    steps = int((skips + keep).max()) if len(first) else 0
    here = first.copy()
    shifted, moved = np.zeros(len(first), np.bool_), np.zeros(len(first), np.bool_)
    lines: list[tuple[Any, Any, Any, Any]] = []
    for step in range(steps):
        on = np.flatnonzero((here >= 0) & (step >= skips) & (step < skips + keep))
        lines.append((on.astype(np.int32), here[on], shifted[on], moved[on]))
        shifted, moved = shifted | shifts[here], moved | moves[here]
        here = after[here]
        if not (here >= 0).any():
            break
    if not lines:
        nothing = np.zeros(0, np.int32)
        lines = [(nothing, nothing, nothing.astype(np.bool_), nothing.astype(np.bool_))]
    start_of, at, shift, move = (np.concatenate([line[i] for line in lines]) for i in range(4))
    order = np.argsort(start_of, kind="stable")
    at = at[order]
    return Walks(
        lies=tuple(nodes.number), number=nodes.number, start_of=start_of[order], row=row[at] - 1,
        lie_of=lie[at],
        off=off[at], each=each[at], shifted=shift[order], moved=move[order],
    )  # fmt: skip
