"""Single actions: passing over, slipping back, dropping, wrapping, markers.

In: a step and the worker. Out: loops and markers moved, and logged. Holders are left to ``holding``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Link
from purlwright.needles import problems
from purlwright.needles.hands import Stop
from purlwright.needles.loops import Boundary
from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker


_QUIET = (tree.Note, tree.Stated, tree.Marker, tree.Turn, tree.YarnTo)


def pass_over(w: Worker, count: int, over: int, span: Span) -> None:
    """Lift ``count`` loops of the right needle over the last ``over`` worked there."""
    w.flush()
    nd = w.needles
    n = len(nd.right)
    if n < count + over:
        w.report(problems.CountDiffers(w.row_name, count + over, n), span)
        raise Stop
    gone = nd.right[n - over - count : n - over]
    kept = nd.right[n - over :]
    for s in gone.tolist():
        w.grower.join(int(s), int(kept[0]), Link.PASSED)
    nd.right = np.concatenate([nd.right[: n - over - count], kept])
    drop_right_marks(w, n - over - count, count)
    w.count.lost += count
    w.count.last = "pass over"
    w.act("pass over", w.span_id(span), 0, -count)


def pass_next(w: Worker, span: Span) -> None:
    """Lift the next loop of the left needle over the last one worked."""
    w.flush()
    nd = w.needles
    if not len(nd.left) or not len(nd.right):
        raise Stop
    w.grower.join(int(nd.left[-1]), int(nd.right[-1]), Link.PASSED)
    nd.left = nd.left[:-1]
    nd.left_marks = [b for b in nd.left_marks if b.at <= len(nd.left)]
    w.count.lost += 1
    w.count.worked += 1
    w.act("pass over", w.span_id(span), 1, 0)


def drop_right_marks(w: Worker, at: int, gone: int) -> None:
    """Markers of the right needle move when ``gone`` loops above ``at`` are taken off."""
    w.needles.right_marks = [
        b.moved(b.at - gone) if b.at >= at + gone else b.moved(min(b.at, at)) for b in w.needles.right_marks
    ]


def slip_back(w: Worker, n: int, span: Span) -> None:
    """Slip loops from the right needle back to the left one."""
    w.flush()
    nd = w.needles
    n = min(n, len(nd.right))
    nd.left = np.concatenate([nd.left, nd.right[len(nd.right) - n :][::-1]])
    nd.right = nd.right[: len(nd.right) - n]
    moved = [b for b in nd.right_marks if b.at > len(nd.right)]
    nd.right_marks = [b for b in nd.right_marks if b.at <= len(nd.right)]
    top = len(nd.left)
    nd.left_marks += [b.moved(top - (b.at - len(nd.right))) for b in reversed(moved)]
    w.count.worked -= n
    w.act("slip back", w.span_id(span), -n, -n)


def drop_loops(w: Worker, s: tree.Drop) -> None:
    """Let loops of the left needle go."""
    n = w.number(s.count)
    w.look("C017", n)
    if s.what == "wrap" or n <= 0:
        return
    w.flush()
    nd = w.needles
    if n > len(nd.left):
        w.report(problems.CountDiffers(w.row_name, n, len(nd.left)), s.span)
        raise Stop
    nd.left = nd.left[: len(nd.left) - n]
    nd.left_marks = [b.moved(min(b.at, len(nd.left))) for b in nd.left_marks]
    w.count.lost += n
    w.count.worked += n
    w.count.touched += n
    w.act("drop", w.span_id(s.span), n, 0)


def wrap_next(w: Worker, s: tree.Wrap) -> None:
    """Wrap the next loop without working it."""
    w.flush()
    nd = w.needles
    if len(nd.left) and len(nd.right):
        w.grower.join(int(nd.right[-1]), int(nd.left[-1]), Link.WRAPPED)
    w.act("wrap", w.span_id(s.span))


def marker(w: Worker, s: tree.Marker) -> None:
    """Place, slip or remove a marker."""
    nd = w.needles
    sid = w.span_id(s.span)
    if s.act == "place":
        w.marked = w.order
        w.flush()
        if s.after is not None or s.before_end is not None:
            place_at(w, s)
        elif not len(nd.right) and not w.count.worked and nd.ring and w.count.start == 0:
            nd.start_marked = True
        else:
            nd.right_marks.append(Boundary("marker", len(nd.right), s.name or ""))
            if _begins_earlier(w):
                nd.left_marks.append(Boundary("start", len(nd.left)))
        w.act("place marker", sid)
        return
    w.flush()
    if s.act == "remove" and s.name == "all":
        remove_all(w, s)
        return
    if s.act == "slip" and s.name == "all":  # "slipping markers": wherever they are met, which is no place
        return
    here = [b for b in nd.left_marks if b.kind == "marker" and b.at == len(nd.left)]
    back = [b for b in nd.right_marks if b.kind == "marker" and b.at == len(nd.right)]
    if not here and not back and not at_start_of_round(w):
        not_here(w, s)
    if s.act == "slip":
        for b in here[-1:]:
            nd.left_marks.remove(b)
            nd.right_marks.append(b.moved(len(nd.right)))
        w.act("slip marker", sid)
    else:
        if here:
            nd.left_marks.remove(here[-1])
        elif back:
            nd.right_marks.remove(back[-1])
        elif nd.start_marked:
            nd.start_marked = False
        else:  # the marker where the round begins is kept as one met at its end
            nd.left_marks = [b for b in nd.left_marks if b.kind != "marker" or b.at or not nd.ring]
        w.act("remove marker", sid)


def _begins_earlier(w: Worker) -> bool:
    """Whether a round ends before its last stitches, which are the first of the next: "slip last st, remove
    marker, return the st to left needle, replace marker".
    """
    nd = w.needles
    if not nd.ring or not len(nd.left) or w.right_at_start or not w.frames:
        return False
    steps, begun, _ = w.frames[0]
    told = [a for a in steps[:begun] if isinstance(a, (tree.Marker, tree.SlipBack))]
    back = isinstance(told[-2], tree.SlipBack) if len(told) > 1 else False
    taken_off = any(isinstance(a, tree.Marker) and a.act == "remove" for a in told)
    return back and taken_off and all(isinstance(a, _QUIET) for a in steps[begun:])


def remove_all(w: Worker, s: tree.Marker) -> None:
    """Take off every marker between the stitches; where the round begins stays known."""
    nd = w.needles
    there = [b for b in (*nd.left_marks, *nd.right_marks) if b.kind == "marker"]
    if not there and w.marked and not nd.start_marked:
        w.report(problems.MarkerNotHere(w.row_name, s.act, "", None), s.span)
    nd.left_marks = [b for b in nd.left_marks if b.kind != "marker"]
    nd.right_marks = [b for b in nd.right_marks if b.kind != "marker"]
    w.act("remove marker", w.span_id(s.span))


def at_start_of_round(w: Worker) -> bool:
    """Whether the work stands where the round begins, or has come round with nothing more to work."""
    nd = w.needles
    if not nd.ring:
        return False
    if not w.count.worked:
        return True
    steps, begun, _ = w.frames[0] if w.frames else ((), 0, False)
    return not len(nd.left) and all(isinstance(a, (*_QUIET, tree.SlipBack)) for a in steps[begun:])


def not_here(w: Worker, s: tree.Marker) -> None:
    """Report a marker that is not where the words slip it, if markers were placed at all."""
    nd = w.needles
    if not w.marked:
        return  # said once for the whole pattern, when it is proved
    ahead = [len(nd.left) - b.at for b in nd.left_marks if b.kind == "marker"]
    behind = any(b.kind == "marker" for b in nd.right_marks)
    away = min(ahead, default=0 if behind else None)
    w.report(problems.MarkerNotHere(w.row_name, s.act, s.name or "", away), s.span)


def place_at(w: Worker, s: tree.Marker) -> None:
    """Place a marker a number of stitches from the beginning or the end of the row, worked already or not."""
    nd = w.needles
    left = bool(len(nd.left))
    total = len(nd.left) if left else len(nd.right)
    n = w.number(s.after, 0) if s.after is not None else total - w.number(s.before_end, 0)
    if not 0 <= n <= total:
        return
    marks, at = (nd.left_marks, total - n) if left else (nd.right_marks, n)
    if not any(b.kind == "marker" and b.at == at for b in marks):
        marks.append(Boundary("marker", at, s.name or ""))
        marks.sort(key=lambda b: b.at)
