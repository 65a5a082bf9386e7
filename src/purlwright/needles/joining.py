"""Joining in the round, taking up again, and closing: graft, seam, gather.

In: a statement and the knitter at work. Out: loops moved or closed, and entries that are no rows. Which edge
the words mean is left to ``edges``, which holder to ``holding``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Int32, Link
from purlwright.needles import problems
from purlwright.needles.counts import stated
from purlwright.needles.edges import edge_stitches
from purlwright.needles.hands import Counters
from purlwright.needles.holding import take_held
from purlwright.needles.interrupted import begin_with
from purlwright.needles.ledger import Entry, Kind
from purlwright.needles.loops import Boundary
from purlwright.needles.partly import bring_back, others_wait, sides_back, work_only
from purlwright.needles.pieces import begin_piece, end_piece, face_taken_up, ready
from purlwright.needles.rowends import enter, settle
from purlwright.needles.sewing import seam_of
from purlwright.pattern import tree
from purlwright.pattern.tree import Side

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


def plain_entry(k: Knitter, kind: Kind, *, lost: int = 0, worked: int = 0, returned: int = 0) -> None:
    """An entry that is no row."""
    live = k.worker.needles.live
    k.order += 1
    k.worker.count = Counters(bound_off=lost if kind is Kind.BIND_OFF else 0)
    enter(
        k,
        Entry(
            order=k.order,
            kind=kind,
            label=k.info.label,
            section=k.heading,
            side=None,
            start=live + lost - returned,
            worked=worked,
            lost=lost,
            returned=returned,
            end=live,
            line=k.info.line,
            span=k.info.span,
            stitches_so_far=k.grower.n,
        ),
    )


def join_round(k: Knitter) -> None:
    """Join the loops on the needle into a ring."""
    nd = k.worker.needles
    if not nd.live:
        return
    settle(k)
    if nd.ring and not others_wait(k):
        return
    back = bring_back(k, goes_on=k.ended and k.worker.facing == 0)
    nd.ring = True
    if k.ended:
        # the loops lie on the right needle in the order they were made: the first made is worked first
        nd.come_round()
        k.ended = False
    elif len(nd.right):
        nd.come_round()
    k.first_side = 0
    k.side_known = True
    k.cycle, k.cycle_place, k.base = [], {}, None
    k.worker.ground_row.clear()
    plain_entry(k, Kind.JOIN, returned=back)


def rejoin(k: Knitter, s: tree.Rejoin) -> None:
    """Go on with loops that wait, or with the yarn joined anew."""
    w = k.worker
    nd = w.needles
    settle(k)
    if s.colour is not None:
        w.yarn = k.grower.yarn(s.colour)
    facing = 1 if s.side is Side.WS else 0
    if not s.place and (back := sides_back(k, facing)):
        begin_piece(k)
        k.taken_up = (k.info.line, back)
        w.facing = facing
    elif nd.holders and ((s.place is not None and s.place != "") or not nd.live):
        if not nd.live:
            begin_piece(k)
        k.ended = False
        h = take_held(w, s.place or "", s.span)
        if h is not None:
            facing = (0 if s.side is Side.RS else 1) if s.side is not None else h.facing
            loops = h.loops if facing == h.facing else h.loops[::-1]
            nd.left = np.concatenate([nd.left, loops[::-1]])
            k.taken_up = (k.info.line, len(loops))
            w.facing = facing
    elif k.ended:
        ready(k)
    if nd.live:
        if s.side is not None:
            face_taken_up(k, facing)
            k.first_side = 0 if s.side is Side.RS else 1
            k.side_known = True
        else:
            k.first_side = None
            k.side_known = nd.ring
            k.side_said = False


def resume(k: Knitter, s: tree.Resume) -> None:
    """Set the side or row that comes next, where the round begins, or go over to rows or rounds."""
    begin_with(k, s)
    if s.part:
        work_only(k, s)
        return
    if s.here and k.worker.needles.ring:
        k.pending = None
        k.worker.needles.come_round()
        k.ended = False
        return
    if s.side is not None:
        if k.info.side is None:
            k.info.side = s.side
        if k.first_side is not None or not k.worker.needles.ring:
            k.first_side = 0 if s.side is Side.RS else 1
    if s.flat is True and k.worker.needles.ring:
        settle(k)
        if k.ended:
            ready(k)
        k.worker.needles.ring = False
        if k.first_side is None and not k.ring_turned:
            k.first_side = 0
    elif s.flat is False and not k.worker.needles.ring and k.worker.needles.live:
        join_round(k)


def close(k: Knitter, s: tree.Close) -> None:
    """Graft, seam or bind off together: join two edges and take the loops off the needles."""
    w = k.worker
    nd = w.needles
    settle(k)
    if s.how == "seam" or not (nd.live or nd.holders):
        if k.pieces:
            for one, another in seam_of(k, s) if s.how == "seam" else ():
                for x, y in zip(one.tolist(), another.tolist(), strict=True):
                    k.grower.join(x, y, Link.SEAMED)
            plain_entry(k, Kind.SEAM if s.how == "seam" else Kind.GRAFT)
        return
    w.look("C013")
    loops = nd.order()
    kind = Link.GRAFTED if s.how == "graft" else Link.JOINED
    other = other_edge(k, s)
    n = len(loops)
    if other is None:
        half = n // 2
        a, b = loops[:half], loops[half:][::-1]
        if n % 2:
            k.report(problems.JoinDiffers(half + 1, half, how_said(s)), s.span)
    else:
        a, b = loops, other
        if len(a) != len(b):
            k.report(problems.JoinDiffers(len(a), len(b), how_said(s)), s.span)
    for x, y in zip(a.tolist(), b.tolist(), strict=False):
        k.grower.join(int(x), int(y), kind)
    nd.let_go()
    plain_entry(k, Kind.GRAFT if s.how == "graft" else Kind.BIND_OFF, lost=n, worked=n)
    end_piece(k)


def how_said(s: tree.Close) -> str:
    """What to call a closing in a sentence."""
    return {"graft": "graft", "three-needle": "three-needle bind-off", "seam": "seam"}[s.how]


def other_edge(k: Knitter, s: tree.Close) -> Int32 | None:
    """The second edge of a closing: an edge of the piece, or held loops."""
    w = k.worker
    for e in (s.b, s.a):
        if e is None:
            continue
        if e.kind in {"cast-on", "bound-off"}:
            ids, _, _ = edge_stitches(w, e)
            if len(ids):
                return ids
        if e.kind == "held" and w.needles.holders:
            h = take_held(w, e.words, e.span)
            if h is not None:
                return h.loops
    if s.b is not None and w.needles.holders:
        n = w.needles.live
        for h in w.needles.holders:
            if len(h.loops) == n:
                w.needles.holders.remove(h)
                return h.loops
    return None


def gather(k: Knitter, s: tree.Gather) -> None:
    """Draw the yarn through all loops and fasten off."""
    w = k.worker
    nd = w.needles
    settle(k)
    n = nd.live
    if n == 0:
        return
    if s.stated is not None:
        stated(k, tree.Stated(total=s.stated, span=s.stated.span if s.stated.span[1] >= 0 else s.span))
        n = nd.live
    nd.let_go()
    plain_entry(k, Kind.BIND_OFF, lost=n, worked=n)
    end_piece(k)


def arrange(k: Knitter, s: tree.Arrange) -> None:
    """Share the loops out over needles: remember where each needle ends."""
    nd = k.worker.needles
    settle(k)
    if k.ended and nd.ring:
        ready(k)
    total = nd.live
    sizes = [n.at(k.size) or 0 for n in s.needles]
    if not sizes and s.count is not None:
        over = max(k.measure.number(s.count), 1)
        sizes = [total // over + (1 if i < total % over else 0) for i in range(over)]
    k.worker.look("C002")
    if sizes and sum(sizes) != total:
        k.report(problems.StatedPartsDiffer(sum(sizes), total), s.span)
        return
    if sizes and [e.kind for e in k.entries[k.pieces[-1][1] :]] == [Kind.CAST_ON]:
        k.cast_over = len(sizes)  # "Cast on 64 sts. Divide over 4 needles.": the same as cast on over them
    nd.left_marks = [b for b in nd.left_marks if b.kind != "needle"]
    nd.right_marks = [b for b in nd.right_marks if b.kind != "needle"]
    on_left = len(nd.left) == total
    at = 0
    for size in sizes[:-1]:
        at += size
        (nd.left_marks if on_left else nd.right_marks).append(
            Boundary("needle", total - at if on_left else at)
        )
    nd.left_marks.sort(key=lambda b: b.at)
    nd.right_marks.sort(key=lambda b: b.at)
