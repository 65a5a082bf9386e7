"""Rows over some of the stitches only: the others wait where they are, and are worked again later.

In: "on these 24 sts only" and the knitter at work. Out: the others on a holder while such rows are worked,
and back on the needle for the row that works them. Holders that the words name are left to ``holding``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Int32
from purlwright.needles import problems
from purlwright.needles.loops import Held, Only
from purlwright.needles.pieces import ready
from purlwright.pattern import tree
from purlwright.pattern.tree import Side

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter

__all__ = ["bring_back", "others_back", "others_wait", "sides_back", "some_only", "work_only"]

_ROUND = "the rest of the round"
_SIDES = ("the stitches to their left", "the stitches to their right")
"""Where those of a flat piece wait, as seen on the right side."""


def work_only(k: Knitter, s: tree.Resume) -> None:
    """In words: ``Working on these 24 sts only``: it holds from the next row that works all of them."""
    nd = k.worker.needles
    count = nd.live // 2 if s.part == "half" else k.measure.number(s.over, 0)
    span = (s.span[0] + k.worker.offset, s.span[1] + k.worker.offset)
    nd.only = Only(count, s.part == "last", s.part == "centre", s.flat is True, span)


def some_only(k: Knitter, part: Sequence[tree.Action]) -> None:
    """A row begins: if it is to be worked over some stitches only, the others wait.

    "The heel is worked over 24 sts. K12, turn. Sl 1, p23, turn.": a row that turns before it has worked more
    than half of them tells its own place, so the others are left till the needle shows which 24 they are.
    """
    w = k.worker
    nd = w.needles
    only = nd.only
    if only is None:
        return
    gap = max((b.at for b in nd.left_marks if b.kind == "gap"), default=0)
    to_gap = len(nd.left) - gap
    n = only.count or to_gap
    if n != to_gap:
        needs = k.measure.all(part)
        turns = any(isinstance(a, tree.Turn) and not a.never for a in k.info.actions)
        if turns and needs is not None and (needs[0] * 2 <= n or needs[0] > to_gap):
            return
        gap = len(nd.left) - n
    if gap < 0 and nd.ring and k.ring_turned and n <= nd.live:
        # "K15, turn. Work back and forth over 29 sts": those before the beginning of the round too
        nd.pull_round(-gap)
        nd.left_marks = [b for b in nd.left_marks if b.kind not in {"start", "gap"}]
        gap = 0
    nd.only = None
    if gap < 0:
        k.report(problems.CountDiffers(k.info.name_of_row(), n, nd.live), k.info.span_rel())
        return
    was_ring = nd.ring
    if was_ring and not k.ring_turned:
        k.first_side = 0
        if k.info.side is Side.WS:  # turned at the beginning of a round: its last stitches come first
            nd.left = nd.left[::-1]
            nd.left_marks = sorted((b.moved(len(nd.left) - b.at) for b in nd.left_marks), key=lambda b: b.at)
            w.facing = k.first_side = 1
    if only.flat or gap or len(nd.right):
        nd.ring = False
    if only.last and was_ring and not k.ring_turned and w.facing == 0 and n == only.count:
        before, nd.left = nd.left[n:][::-1], nd.left[:n]
        nd.left_marks = [b for b in nd.left_marks if b.at < n]
        _put_by(k, before, only, _ROUND)
        return
    if only.centre and not was_ring and n != to_gap:
        side = gap // 2
        nd.right = np.concatenate([nd.right, nd.left[::-1][:side]])
        nd.left, gap = nd.left[: len(nd.left) - side], gap - side
    beyond, nd.left = nd.left[:gap][::-1], nd.left[gap:]
    nd.left_marks = [b.moved(b.at - gap) for b in nd.left_marks if b.at > gap]
    behind, nd.right, nd.right_marks = nd.right, nd.right[:0], []
    if was_ring:
        _put_by(k, np.concatenate([beyond, behind]), only, _ROUND)
    else:
        _put_by(k, beyond, only, _SIDES[w.facing])
        _put_by(k, behind, only, _SIDES[1 - w.facing])


def _put_by(k: Knitter, loops: Int32, only: Only, name: str) -> None:
    """Some of the other stitches wait; ``loops`` in the order in which this side works them."""
    w = k.worker
    if not len(loops):
        return
    loops = loops[::-1] if w.facing else loops
    w.look("C012")
    w.needles.holders.append(Held(name, loops.copy(), 0, w.piece, only.span))
    w.count.held += len(loops)


def _waiting(k: Knitter) -> list[Held]:
    w = k.worker
    return [h for h in w.needles.holders if h.name in {_ROUND, *_SIDES} and h.piece == w.piece]


def others_wait(k: Knitter) -> bool:
    """Whether stitches wait that rows over some only have left."""
    return bool(_waiting(k))


def others_back(k: Knitter, part: Sequence[tree.Action]) -> int:
    """The row that begins here works the others too: a round, a row that picks up and goes on, one that needs
    more stitches than are on the needle. Gives how many come back.
    """
    if not k.worker.needles.holders or not _waiting(k):
        return 0
    works = [a for a in part if not isinstance(a, (tree.Note, tree.Stated, tree.Marker, tree.Yarn))]
    picks = len(works) > 1 and isinstance(works[0], tree.PickUp)
    ups = [i for i, a in enumerate(works) if isinstance(a, tree.PickUp)]
    goes_past = bool(ups) and any(not isinstance(a, tree.PickUp) for a in works[ups[0] :])
    needs = k.measure.all(part)
    more = needs is not None and needs[0] > k.worker.needles.live
    if k.info.unit is tree.Unit.ROUND or goes_past or more:
        # "K17. With RS facing, pick up and knit 15 sts": the words go on in the row that they stand in
        same = bool(k.entries) and k.entries[-1].line == k.info.line
        return bring_back(k, goes_on=picks and k.ended and (k.worker.facing == 0 or same))
    return 0


def sides_back(k: Knitter, facing: int) -> int:
    """Nothing is live, and the stitches on either side of what was worked wait: they go on as one row.

    Those to the right are worked already. Gives how many come back, or 0 where there are no such two.
    """
    nd = k.worker.needles
    sides = [h for h in nd.holders if h.name in _SIDES]
    if nd.live or len(sides) < 2 or sides[-1].span != sides[-2].span:
        return 0
    for h in sides[-2:]:
        nd.holders.remove(h)
        loops = h.loops if facing == h.facing else h.loops[::-1]
        if h.name == _SIDES[1 - facing]:
            nd.right = loops
        else:
            nd.left = loops[::-1]
    return nd.live


def bring_back(k: Knitter, *, goes_on: bool) -> int:
    """Put the others back, to be worked after those on the needle; gives how many.

    goes_on : the work goes on where the last row ended, on its side.
    """
    w = k.worker
    nd = w.needles
    waiting = _waiting(k)
    nd.only = None
    if not waiting:
        return 0
    if goes_on:
        k.ended = False
    elif k.ended:
        ready(k)
    back = 0
    for h in waiting:
        nd.holders.remove(h)
        loops = h.loops if w.facing == h.facing else h.loops[::-1]
        back += len(loops)
        if h.name == _SIDES[1 - w.facing]:  # they lie behind, and the row that works all comes to them later
            nd.right = np.concatenate([loops, nd.right])
            nd.right_marks = [b.moved(b.at + len(loops)) for b in nd.right_marks]
            continue
        nd.left = np.concatenate([loops[::-1], nd.left])
        nd.left_marks = [b.moved(b.at + len(loops)) for b in nd.left_marks]
        if h.name == _ROUND:
            nd.ring = True
            k.ring_turned = False
    return back
