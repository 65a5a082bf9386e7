"""Stitches told by whether the row before slipped them.

In: the worker, and what is done with the slipped and with the other stitches. Out: operations gathered for
the loops that are there. Which words say so is left to ``pattern/read/slipped``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Seen
from purlwright.needles import problems
from purlwright.needles.hands import Stop, known
from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.needles.worker import Worker


def slipped_ahead(w: Worker) -> NDArray[np.bool_]:
    """For each loop on the left needle, the next one first, whether the row before slipped it.

    A slip leaves a loop as it was: it is older than the row before. Loops past a gap were not reached there.
    """
    nd = w.needles
    w.flush()
    loops = nd.left[::-1]
    before = next((entry[-1] for entry in reversed(w.log) if entry[-1] < w.order), w.order)
    slipped = np.asarray(w.grower.buf["row"][loops] < before)
    gaps = [len(nd.left) - b.at for b in nd.left_marks if b.kind == "gap"]
    if gaps:
        slipped[min(gaps) :] = False
    return slipped


def past_slipped(w: Worker, span: Span) -> int:
    """How many slipped stitches stand next. Raises Stop if none does."""
    w.look("C037")
    slipped = slipped_ahead(w)
    n = int(np.argmin(slipped)) if not slipped.all() else len(slipped)
    if not n:
        w.report(problems.NoSlippedSts(w.row_name), span)
        raise Stop
    return n


def by_slip(w: Worker, s: tree.BySlip, pass_: int) -> None:
    """Work each stitch up to a place by what the row before did with it."""
    from purlwright.needles.setwork import span_of

    w.flush()
    n = span_of(w, None, s.to, s.span)
    slipped = slipped_ahead(w)[:n]
    w.look("C037")
    if not slipped.any():
        w.report(problems.NoSlippedSts(w.row_name, anywhere=True), s.span)
        raise Stop
    seen = w.grower.buf["seen"][w.needles.left[::-1][:n]]
    purl = seen == (Seen.KNIT if w.facing else Seen.PURL)
    if s.others is None:
        other = np.where(purl, w.op(known("p")), w.op(known("k")))
    else:
        other = np.full(n, w.op(known(s.others.stitch)))
    ops = np.where(slipped, w.op(known(s.slipped.stitch)), other)
    sid = w.span_id(s.span)
    ends = np.flatnonzero(np.diff(ops, append=-1))
    for op, k in zip(ops[ends].tolist(), np.diff(ends, prepend=-1).tolist(), strict=True):
        w.add(op, k, sid, pass_, w.yarn)
