"""Loops on holders, and off them again.

In: a step and the worker. Out: loops moved between needles and holders. Joining held loops to others is left
to ``joining``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from purlwright.needles import problems
from purlwright.needles.loops import Held
from purlwright.needles.places import to_boundary
from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker


def hold(w: Worker, s: tree.Hold) -> None:
    """Move loops to a holder."""
    w.flush()
    nd = w.needles
    n_left = len(nd.left)
    n = w.number(s.count) if s.count is not None else n_left
    w.look("C012")
    if not nd.live and s.of == "next" and s.count is not None and _of_those_waiting(w, s, n):
        return
    if s.of == "marker" or (s.of == "sleeve" and any(b.kind == "marker" for b in nd.left_marks)):
        n = to_boundary(w, tree.Place(kind=tree.PlaceKind.MARKER), s.span)
    over = s.of == "rest" and not n_left and n == len(nd.right)  # "Knit. Sl the remaining 26 sts on a holder"
    if (s.of == "worked" or over) and len(nd.right):
        n = min(n if s.count is not None else len(nd.right), len(nd.right))
        loops = nd.right[len(nd.right) - n :]
        nd.right = nd.right[: len(nd.right) - n]
        nd.right_marks = [b for b in nd.right_marks if b.at <= len(nd.right)]
    else:
        if s.of in {"all", "worked"} and s.count is None:  # "leave these sts on a holder", between rows
            n = n_left
        if n > n_left:
            w.report(problems.HeldDiffers(w.row_name, n, n_left), s.span)
            n = n_left
        if s.of in {"last", "rest"}:  # "the remaining 32 sts" are those after the ones to be worked
            loops = nd.left[:n][::-1]
            nd.left = nd.left[n:]
            nd.left_marks = [b.moved(b.at - n) for b in nd.left_marks if b.at >= n]
        else:
            loops = nd.left[n_left - n :][::-1]
            nd.left = nd.left[: n_left - n]
            nd.left_marks = [b for b in nd.left_marks if b.at <= n_left - n]
    if n == 0:
        return
    where = (s.span[0] + w.offset, s.span[1] + w.offset)
    rest = s.of in {"rest", "last"}
    nd.holders.append(Held(s.place.strip().lower(), loops.copy(), w.facing, w.piece, where, rest))
    w.count.held += n
    w.act("hold", w.span_id(s.span), n, 0)


def _of_those_waiting(w: Worker, s: tree.Hold, n: int) -> bool:
    """In words: ``Slip next 16 sts on to a holder``, when nothing is live: they are of those that wait."""
    nd = w.needles
    fits = [i for i, h in enumerate(nd.holders) if len(h.loops) > n]
    if not fits:
        return False
    at = max(fits, key=lambda i: (nd.holders[i].rest, i))
    h = nd.holders[at]
    where = (s.span[0] + w.offset, s.span[1] + w.offset)
    nd.holders[at : at + 1] = [
        Held(s.place.strip().lower(), h.loops[:n], h.facing, h.piece, where),
        Held(h.name, h.loops[n:], h.facing, h.piece, h.span, h.rest),
    ]
    return True


def take_held(w: Worker, place: str, span: Span) -> Held | None:
    """The holder meant by ``place``; reports when none fits."""
    nd = w.needles
    place = place.strip().lower()
    w.look("C012")
    if not nd.holders:
        w.report(problems.NothingHeld(place), span)
        return None
    words = {w for w in place.replace("-", " ").split() if w not in FILLERS}
    best, score = None, 0
    for h in reversed(nd.holders):
        got = len(words & set(h.name.replace("-", " ").split()))
        if got > score:
            best, score = h, got
    left = [h for h in nd.holders if h.rest] if words & _REST else []
    if best is None and left:
        best = left[-1]
    if best is None:
        numbers = [h for h in nd.holders if not words or str(len(h.loops)) in words]
        best = numbers[-1] if numbers else nd.holders[-1]
    nd.holders.remove(best)
    return best


def _are_held(w: Worker, s: tree.Return) -> bool:
    """Whether stitches named in passing wait on a holder: by its name, or as many as are lacking here."""
    n = w.number(s.count)
    lacking = n > len(w.needles.left)
    return any(
        s.place in h.name or s.place == "held" or (lacking and len(h.loops) == n) for h in w.needles.holders
    )


_EACH_END = re.compile(r"\b(?:each|both|either) ends?\b")


def return_held(w: Worker, s: tree.Return) -> None:
    """Put held loops back on the left needle, ready to be worked."""
    w.flush()
    if s.if_held and not _are_held(w, s):
        return
    h = take_held(w, s.place, s.span)
    if h is None:
        return
    nd = w.needles
    loops = h.loops
    n = w.number(s.count, len(loops)) if s.count is not None else len(loops)
    if s.count is not None and _EACH_END.search(s.place) and 2 * n <= len(loops):
        # the ends of what is held lie side by side: a finger takes some of the palm and some of the back
        held = Held(h.name, loops[n : len(loops) - n], h.facing, h.piece, h.span, h.rest)
        nd.holders += [held] if len(held.loops) else []
        loops = np.concatenate([loops[len(loops) - n :], loops[:n]])
    elif n < len(loops):
        nd.holders.append(Held(h.name, loops[n:], h.facing, h.piece, h.span, h.rest))
        loops = loops[:n]
    elif n > len(loops):
        w.report(problems.HeldDiffers(w.row_name, n, len(loops)), s.span)
    if h.facing != w.facing:
        loops = loops[::-1]
    nd.left = np.concatenate([nd.left, loops[::-1]])
    w.count.returned += len(loops)
    w.act("return", w.span_id(s.span), 0, len(loops))


_REST = frozenset({"rem", "remaining", "rest", "other", "unworked"})
FILLERS = frozenset(
    "the a of on to held sts stitches st holder waste yarn and for from spare needle sleeve's".split()
) - {"sleeve's"}
