"""Counts printed by the designer: compared with the needle, and gone on from after unread words.

In: a stated count and the knitter at work. Out: findings; where need be, the needle brought to the printed
count. Reading the count from the words is left to ``pattern``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from msgspec.structs import replace

from purlwright.needles import problems
from purlwright.needles.edges import new_loops
from purlwright.needles.hands import Stop
from purlwright.needles.ledger import Entry, StatedCount
from purlwright.needles.pieces import begin_piece
from purlwright.needles.rowends import end_row, give_up_row, move_over, settle
from purlwright.needles.state import Evidence, TooMuch
from purlwright.needles.stopping import between_gaps, between_markers
from purlwright.pattern import tree
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


def stated(k: Knitter, s: tree.Stated) -> None:
    """Compare a printed count with the needle; go on from it after words that could not be knitted."""
    w = k.worker
    if k.open:
        w.flush()
        if not len(w.needles.left) or k.info.gave_up:
            end_row(k)
    at, k.info.at = k.info.at, None  # the count is printed here, whatever row the words copy
    compare(k, s)
    k.info.at = at


def compare(k: Knitter, s: tree.Stated) -> None:
    """Compare what the count says with the needle."""
    w = k.worker
    if s.between is not None:
        stated_between(k, s, s.between.at(k.size))
    if s.kind in {"part", "held", "bound off"}:
        return
    if s.kind == "lines":
        return  # told of the chart, and compared where its rows are worked
    if s.kind == "rows":
        stated_rows(k, s)
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
    if not ok and k.open:  # "p2, bind off rem 9 sts"
        ok = want == len(w.needles.left)
    if not ok and last is not None and not k.open:
        ok = bool(last.unworked or last.gaps) and want == last.worked
    if not ok and any(b.kind == "gap" for b in (*w.needles.left_marks, *w.needles.right_marks)):
        ok = want == between_gaps(k)
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
        if k.open:  # the count closes the row that it stands in
            give_up_row(k)
            end_row(k)
            last = k.entries[-1] if k.entries else None
        resume_from(k, want)
        k.unproved = k.miscounted = False
        k.delta = 0
    elif want - have != k.delta or k.delta == 0:
        k.delta = want - have
        k.report(problems.TotalDiffers(k.info.name_of_row(), want, have), s.span)
        k.unproved, k.miscounted = False, True
    if last is not None:
        count = StatedCount(want, have, span, used=used, approximate=s.approximate)
        if k.open:  # the row goes on after it
            w.count.stated = (*w.count.stated, count)
        else:
            restate(k, last, count, resumed=used)


def stated_rows(k: Knitter, s: tree.Stated) -> None:
    """Compare "28 rows worked" with the rows of the words before it, the first working of them counted or
    not; or with all of the section.
    """
    want = s.total.at(k.size) if s.total is not None else None
    if want is None or k.unproved or k.open or not k.history:
        return
    k.worker.look("C026")
    here = [r for r in k.history if r.section == k.section]
    unit: set[Span] = set()
    run = 0
    for r in reversed(here):
        if r.span in unit:
            break
        unit.add(r.span)
    for r in reversed(here):
        if r.span not in unit:
            break
        run += 1
    if want not in {run, run - len(unit), len(here)} and not s.approximate:
        k.report(problems.RowsDiffer(want, run), s.span)


def restate(k: Knitter, last: Entry, stated: StatedCount, *, resumed: bool) -> None:
    """Put a printed count beside the row it belongs to, and what the needle came to if it is gone on from."""
    end = k.worker.needles.live
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


def stated_between(k: Knitter, s: tree.Stated, want: int | None) -> None:
    """Compare a printed "12 sts between markers" with what lies between each marker and the next."""
    if want is None or not k.entries or (k.unproved and not k.trial):
        return
    k.worker.look("C002")
    have = between_markers(k)
    ok = any(want == n or (s.approximate and abs(want - n) <= 2) for n in have)
    if k.trial and not s.approximate:
        raise Evidence(good=ok)
    if ok:
        return
    if have:
        k.report(problems.BetweenDiffers(k.info.name_of_row(), want, tuple(have)), s.span)
    else:
        k.report(problems.NoMarker(k.info.name_of_row(), between=True), s.span)


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
