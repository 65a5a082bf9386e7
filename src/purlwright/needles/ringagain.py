"""Stitches of a ring that waited, and are worked in rounds again: the thumb of a mitten, a sleeve.

In: the knitter at work, where the words say round. Out: the loops joined, and a note of it. Joining where the
words say so is left to ``joining``.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from purlwright.needles import problems
from purlwright.needles.ledger import Kind

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter

__all__ = ["ring_again"]

_ROUND = {Kind.JOIN, Kind.ROUND}
_BEFORE_ROUND = {Kind.ROW, Kind.PICK_UP, Kind.CAST_ON}


def ring_again(k: Knitter) -> None:
    """In words: ``Place the held sts on needles. Pick up 1 st over the gap. Knit 3 rounds.``

    Joins loops taken up from a ring, if no more than the row that took them up was worked since.
    """
    nd = k.worker.needles
    if nd.ring or not nd.live or not k.pieces or k.pending is not None:
        return
    since = k.entries[k.pieces[-1][1] :]
    if len(since) > 1 or not all(e.kind in _BEFORE_ROUND for e in since) or not _of_a_ring(k):
        return
    nd.ring = True
    if k.ended or len(nd.right):
        nd.come_round()
    k.ended, k.ring_turned = False, False
    k.first_side, k.side_known = 0, True
    k.report(problems.RoundFromHeld(), k.info.span_rel())


def _of_a_ring(k: Knitter) -> bool:
    """Whether a loop on the needles comes from a piece that was joined, or hangs on one that does."""
    made = k.grower.buf["row"]
    loops = k.worker.needles.order().tolist()
    before = [p for loop in loops for p in k.grower.parents_of(loop).tolist()]
    rows = {int(made[s]) for s in (*loops, *before)}
    starts = [begun for _, begun in k.pieces]
    pieces = [k.entries[a:b] for a, b in pairwise(starts)]
    joined = [p for p in pieces if any(e.kind in _ROUND for e in p)]
    return any(e.order in rows for p in joined for e in p)
