"""Counts printed by the designer: compared with the needle, and gone on from after unread words.

In: a stated count and the knitter at work. Out: findings; where need be, the needle brought to the printed
count. Reading the count from the words is left to ``pattern``.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from purlwright.needles import problems
from purlwright.needles.edges import new_loops
from purlwright.needles.hands import Stop
from purlwright.needles.ledger import Entry, StatedCount
from purlwright.needles.pieces import begin_piece
from purlwright.needles.rowends import end_row, give_up_row, move_over, settle
from purlwright.needles.state import Evidence, TooMuch
from purlwright.pattern import tree
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


def between_markers(k: Knitter, s: tree.Stated) -> None:
    """In words: ``(13 sts between markers)``: two markers side by side must have so many between them."""
    nd = k.worker.needles
    want = s.total.at(k.size) if s.total is not None else None
    total = nd.live
    at = {b.at for b in nd.right_marks if b.kind == "marker"}
    at |= {total - b.at for b in nd.left_marks if b.kind == "marker"}
    if want is None or len(at) < 2:
        return
    k.worker.look("C002")
    met = sorted(at | {0, total} if nd.ring else at)
    gaps = [b - a for a, b in pairwise(met)]
    if want not in gaps and not k.unproved:
        nearest = min(gaps, key=lambda gap: abs(gap - want))
        k.report(problems.TotalDiffers(k.info.name_of_row(), want, nearest), s.span)


def stated(k: Knitter, s: tree.Stated) -> None:
    """Compare a printed count with the needle; go on from it after words that could not be knitted."""
    w = k.worker
    if k.open:
        w.flush()
        if not len(w.needles.left) or k.info.gave_up:
            end_row(k)
    if s.kind in {"part", "held", "bound off"}:
        return
    if s.kind == "lines":
        return  # told of the chart, and compared where its rows are worked
    if s.kind == "between":
        between_markers(k, s)
        return
    if s.kind == "unworked" and s.total is not None:
        stated_unworked(k, s, k.measure.number(s.total))
        return
    if s.change is not None and s.total is None:
        stated_change(k, s)
        return
    if s.total is None:
        return
    want = s.total.at(k.size)
    if want is None:
        return
    have = w.needles.live
    last = k.entries[-1] if k.entries else None
    w.look("C002")
    parts = [p.at(k.size) or 0 for p in s.parts]
    if parts and sum(parts) != want and want == have:
        k.report(problems.StatedPartsDiffer(sum(parts), have), s.span)
    ok = want == have or (s.approximate and abs(want - have) <= max(2, have // 20))
    if not ok and last is not None and not k.open:
        ok = bool(last.unworked or last.gaps) and want == last.worked
    span = Span(s.span[0] + w.offset, s.span[1] + w.offset) if s.span[1] >= 0 else NOWHERE
    if not ok and k.pending is not None:
        settle(k)
    used = False
    if k.trial and not s.approximate:
        raise Evidence(good=ok)
    if ok:
        k.unproved = k.miscounted = False
        k.delta = 0
    elif k.unproved and want > 0:
        used = True
        if not k.info.quiet and not any(n <= k.info.line for n in k.no_number):  # the cause is said there
            k.findings.report(problems.KnittedOnFromCount(want, have), span)
        resume_from(k, want)
        k.unproved = k.miscounted = False
        k.delta = 0
    elif want - have != k.delta or k.delta == 0:
        k.delta = want - have
        k.report(problems.TotalDiffers(k.info.name_of_row(), want, have), s.span)
        k.unproved, k.miscounted = False, True
    if last is not None:
        count = StatedCount(want, have, span, used=used, approximate=s.approximate)
        restate(k, last, count, resumed=used)


def restate(k: Knitter, last: Entry, stated: StatedCount, *, resumed: bool) -> None:
    """Put a printed count beside the row it belongs to, and what the needle came to if it is gone on from."""
    end = k.worker.needles.live if not k.open else last.end
    made, lost = last.made, last.lost
    if resumed:
        made, lost = made + max(end - last.end, 0), lost + max(last.end - end, 0)
    k.entries[-1] = replace(
        last, stated=(*last.stated, stated), resumed=last.resumed or resumed, end=end, made=made, lost=lost
    )


def resume_from(k: Knitter, want: int) -> None:
    """Bring the needle to ``want`` loops, so that the knitting can go on."""
    nd = k.worker.needles
    if k.open:
        give_up_row(k)
    if len(nd.left) and not k.ended:
        move_over(k)
    k.pending = None
    have = len(nd.right)
    if want > 500_000:
        return
    if want > have:
        try:
            extra = new_loops(k.worker, want - have, Span(0, 0))
        except Stop:  # the fabric is full
            raise TooMuch from None
        nd.right = np.concatenate([nd.right, extra])
    else:
        nd.right = nd.right[:want]
        nd.right_marks = [b for b in nd.right_marks if b.at <= want]
    k.ended = True
    if not k.pieces:
        begin_piece(k)


def stated_unworked(k: Knitter, s: tree.Stated, want: int) -> None:
    """Compare a printed "6 sts unworked" with what the row left, or with what lies beyond one of its gaps."""
    if not k.entries:
        return
    w, last = k.worker, k.entries[-1]
    w.look("C031")
    have = len(w.needles.left) if k.open else last.unworked
    if want != have and not any(
        want in {g.from_right_rs, w.needles.live - g.from_right_rs} for g in last.gaps
    ):
        k.report(problems.LeavesDiffers(k.info.name_of_row(), want, have), s.span)


def stated_change(k: Knitter, s: tree.Stated) -> None:
    """Compare a printed "4 sts decreased" with what the row did."""
    w = k.worker
    if not k.entries or s.change is None:
        return
    want = s.change.at(k.size)
    if want is None:
        return
    w.look("C003")
    if k.open:
        w.flush()
        have = w.count.made - w.count.lost
    else:
        have = k.entries[-1].made - k.entries[-1].lost
    if k.trial:
        raise Evidence(good=want == have)
    if want != have and not k.unproved:
        k.report(problems.ChangeDiffers(k.info.name_of_row(), want, have), s.span)
