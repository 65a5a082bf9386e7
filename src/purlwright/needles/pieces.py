"""Pieces: begun by a cast-on, a pick-up or held loops, and done when nothing is live.

In: the knitter at work. Out: the knitter ready for a new piece, for none, or for the next row of
this one. What is still live when the words end is left to ``ends``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.needles.hands import Edges

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


def begins_piece(k: Knitter) -> bool:
    """Whether a cast-on here begins a new piece: nothing is live, or all that is live waits."""
    return k.worker.needles.live == 0


def begin_piece(k: Knitter) -> None:
    """A new piece begins here, named by the heading it stands under."""
    name = k.heading or k.pattern.title or "Piece"
    names = [n for n, _ in k.pieces]
    if name in names:
        again = 2
        while f"{name} {again}" in names:
            again += 1
        name = f"{name} {again}"
    k.worker.piece = len(k.pieces)
    k.pieces.append((name, len(k.entries)))
    k.piece_bound_off.append(0)
    k.worker.earlier.append(k.worker.edges)
    k.worker.edges = Edges()
    k.worker.needles.ring = False
    k.worker.needles.start_marked = False
    k.worker.needles.only = None
    k.worker.ground_row.clear()
    k.ended = False
    k.pending = None
    k.first_side = 0
    k.side_known = True
    k.ring_turned = False
    k.side_sure = False
    k.nothing_said = False
    k.any_width = False
    k.cycle, k.cycle_place, k.base = [], {}, None


def end_piece(k: Knitter) -> None:
    """All loops of the piece are off the needles."""
    k.ended = False
    k.worker.needles.left_marks, k.worker.needles.right_marks = [], []


def face_taken_up(k: Knitter, facing: int) -> None:
    """Loops put back on a needle and not worked yet are worked from the end where the yarn is joined."""
    w = k.worker
    fresh = bool(k.pieces) and k.pieces[-1][1] == len(k.entries)
    if fresh and not len(w.needles.right) and not w.needles.ring and facing != w.facing:
        w.needles.left = w.needles.left[::-1]
        w.facing = facing


def ready(k: Knitter) -> None:
    """Put the loops on the left needle as for the next row, without beginning one."""
    w = k.worker
    nd = w.needles
    if k.ended:
        k.ended = False
        if nd.ring:
            nd.come_round()
        else:
            nd.turn()
            if k.first_side is None:
                w.facing ^= 1
