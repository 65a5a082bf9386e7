"""Edges made and used: binding off, casting on in a row, picking up.

In: a step and the worker. Out: loops made or closed, and the edges they leave. A cast-on that begins a piece
is left to ``ends``.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Int32, Link, Seen
from purlwright.needles import problems
from purlwright.needles.hands import EMPTY, MOST_STITCHES, Edges, Stop, known
from purlwright.needles.loops import Boundary
from purlwright.needles.setwork import as_they_appear
from purlwright.needles.singles import drop_right_marks
from purlwright.pattern import tree
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker


def bind_off(w: Worker, s: tree.BindOff, pass_: int) -> None:
    """Bind off some stitches or all; one loop is left on the right needle unless the row ends there."""
    w.flush()
    nd, c = w.needles, w.count
    there = len(nd.left)
    n = w.number(s.count) if s.count is not None else there - w.number(s.keep, 0)
    if s.count is None and s.keep is None and s.at == "here":
        n = there + (1 if w.loop_waits else 0)
        if w.loop_waits:
            n = there
    if n <= 0:
        return
    w.look("C010")
    if n > there:
        w.report(problems.CountDiffers(w.row_name, n, there), s.span)
        n = there
    op = w.op(known("p" if s.how == "purlwise" else "k"))
    sid = w.span_id(s.span)
    before = len(nd.right)
    waiting = w.loop_waits
    if s.how == "pattern":
        as_they_appear(w, min(n + (0 if n == there else 1), there), s.span)
    else:
        k = min(n + (0 if n == there else 1), there)
        if waiting and n < there:
            k = n
        w.add(op, k, sid, pass_, w.yarn)
        w.flush()
    if waiting:
        before -= 1
    gone = nd.right[before : before + n]
    w.grower.join_each(nd.right[before : before + n + 1], Link.PASSED)
    nd.right = np.concatenate([nd.right[:before], nd.right[before + n :]])
    drop_right_marks(w, before, n)
    w.edges.bound_off.append(gone.copy())
    if before and len(nd.left):
        nd.right_marks.append(Boundary("hole", before))
    c.lost += n
    c.bound_off += n
    c.last = "bind off"
    w.act("bind off", sid, 0, -n)
    w.loop_waits = bool(len(nd.left)) and len(nd.right) > before


def new_loops(w: Worker, n: int, span: Span, *, side: int | None = None, twisted: bool = False) -> Int32:
    """Cast on ``n`` loops that hang on nothing."""
    if n + w.grower.n > MOST_STITCHES:
        w.report(problems.TooMuchKnitting(f"{n:,} stitches cast on"), span)
        raise Stop
    op = w.table.number["cast on"]
    return w.grower.append(
        op=op, row=w.order, column=None, seen=Seen.NONE, side=w.side if side is None else side,
        mount=int(twisted), yarn=w.yarn, span=w.span_id(span), pass_=1, count=n, parents=EMPTY, links=0,
    )  # fmt: skip


def cast_on(w: Worker, s: tree.CastOn) -> None:
    """Cast on loops in the course of a row; after a turn they are the first of the row that follows."""
    w.flush()
    n = w.number(s.count) * max(s.each, 1)
    if n <= 0:
        return
    nd = w.needles
    ids = new_loops(w, n, s.span)
    if s.at == "beginning" or (
        s.at in {"start", "here"}
        and not w.count.worked
        and len(nd.left)
        and (not len(nd.right) or any(b.kind == "gap" and b.at == len(nd.right) for b in nd.right_marks))
    ):
        nd.left = np.concatenate([nd.left, ids])
    else:
        nd.right = np.concatenate([nd.right, ids])
    w.edges.cast_on.append(ids)
    w.count.made += n
    w.count.cast_on += n
    w.count.last = "cast on"
    w.act("cast on", w.span_id(s.span), 0, n)


def pick_up(w: Worker, s: tree.PickUp) -> None:
    """Draw new loops through an edge, spread evenly along it."""
    w.flush()
    want = w.number(s.count) if s.count is not None else None
    edge, exact, name = edge_stitches(w, s.edge, want)
    n = want if want is not None else by_rate(s, len(edge))
    if n <= 0:
        return
    if s.count is not None and len(edge) and exact:
        w.look("C014")
        if n not in {len(edge), (len(edge) + 1) // 2, len(edge) // 2} and "underarm" not in name:
            w.report(problems.PickUpDiffers(n, len(edge), name), s.span)
    elif s.count is not None and len(edge) and s.edge is not None:
        _along_rows(w, s, n, len(edge), name)
    st = known("p" if s.how == "purl" else "k")
    if n + w.grower.n > MOST_STITCHES:
        w.report(problems.TooMuchKnitting(f"{n:,} stitches picked up"), s.span)
        raise Stop
    parents = edge[(np.arange(n) * len(edge)) // n] if len(edge) else EMPTY
    seen = (0 if s.how != "purl" else 1) ^ w.facing
    ids = w.grower.append(
        op=w.op(st), row=w.order, column=None, seen=seen, side=w.side, mount=0, yarn=w.yarn,
        span=w.span_id(s.span), pass_=1, count=n, parents=parents, links=int(Link.EDGE),
    )  # fmt: skip
    nd = w.needles
    nd.right = np.concatenate([nd.right, ids])
    c = w.count
    c.made += n
    c.picked_up += n
    c.first = c.first or "pick up"
    c.last = "pick up"


_FEW_ROWS = 6
"""An edge shorter than this has its corners counted in."""
_PLAIN = (Fraction(2, 3), Fraction(3, 4))
"""Stitches to a row along plain fabric. Source: five articles; with a gauge, its own ratio is as good."""
_TOO_MANY, _TOO_FEW = Fraction(5, 4), Fraction(3, 4)
"""How far from the usual number is spoken of; common practice, no source."""
_PART = re.compile(
    r"\b(?:neck|armhole|shoulder|underarm|slit|vent|slope|half|lower|upper|part|first|last|next|from|to|until"
    r"|between|above|below|beginning|starting|ending|each|both|all|corner|every|ridges?|loops?|chains?)\b",
    re.IGNORECASE,
)
"""Words by which an edge may be no more than a part of the side."""


def _along_rows(w: Worker, s: tree.PickUp, n: int, rows: int, name: str) -> None:
    """Say so when the stitches picked up along row ends are far from the usual number for such an edge.

    Too few are spoken of only where the words name the whole side and the stitches are all that the row picks
    up. Nothing is said if it may be another piece's edge.
    """
    kind = s.edge.kind if s.edge is not None else ""
    sided = [e for e in (w.edges, *w.earlier) if e.left.stitches or e.right.stitches]
    if kind not in {"row ends", "left", "right"} or len(sided) != 1 or rows < _FEW_ROWS or not w.sure():
        return
    w.look("C015")
    side = sided[0].right if kind == "right" else sided[0].left
    slipped, ridged = 2 * side.chains * 5 >= rows * 4, 2 * side.ridges * 5 >= rows * 4
    by_gauge = (w.stitches_a_row,) if w.stitches_a_row is not None else ()
    low, high = min(*_PLAIN, *by_gauge), max(*_PLAIN, *by_gauge)
    if slipped:
        usual, most, least = side.chains, side.chains * 3 // 2 + 3, side.chains * _TOO_FEW - 1
    elif ridged:
        usual, most, least = (rows + 1) // 2, rows * 17 // 20 + 2, rows * _TOO_FEW / 2 - 1
    else:
        usual = int(rows * (by_gauge[0] if by_gauge else _PLAIN[1]))
        most, least = min(int(rows * high * _TOO_MANY), rows) + 2, rows * low * _TOO_FEW - 1
    if n > most:
        w.report(problems.PickUpTooClose(n, rows, name, usual, slipped=slipped, ridged=ridged), s.span)
    elif n < least and w.only_pick_up() and not _PART.search(s.edge.words if s.edge is not None else ""):
        w.report(problems.PickUpTooSparse(n, rows, name, usual, slipped=slipped, ridged=ridged), s.span)


def by_rate(s: tree.PickUp, there: int) -> int:
    """How many loops a rate such as 3 for every 4 rows gives along so many."""
    if s.rate is None:
        return there
    return there * s.rate[0] // s.rate[1]


def edge_stitches(w: Worker, e: tree.Edge | None, want: int | None = None) -> tuple[Int32, bool, str]:
    """The stitches of a named edge of this piece, else of an earlier one.

    ``want`` is how many are to be picked up: of several edges that were cast on (or bound off) the latest of
    so many is meant, else the latest. With them, whether loops are picked up one for one along it, and what
    to call it.
    """
    if e is None:
        return EMPTY, False, "the edge"
    name = e.words or "the edge"
    for prefix in ("along ", "from ", "around ", "round ", "down ", "up ", "across "):
        name = name.removeprefix(prefix)
    pieces = (w.edges, *reversed(w.earlier))
    if want is not None and e.kind in {"cast-on", "bound-off"}:
        all_of_it = [x for edges in pieces for x in reversed(_all_of(edges, e.kind))]
        if any(len(x) == want for x in all_of_it):
            return next(x for x in all_of_it if len(x) == want), True, name
    for edges in pieces:
        found = _of(edges, e.kind)
        if e.kind in {"left", "right", "row ends"} and (e.kind == "right") == bool(w.facing):
            found = found[::-1]  # a left edge is picked up from the top down, seen from the right side
        if len(found):
            return found, e.kind in {"cast-on", "bound-off"}, name
    return EMPTY, False, name


def _all_of(edges: Edges, kind: str) -> list[Int32]:
    """All that was cast on, or bound off, at once, in the order it was."""
    return edges.cast_on if kind == "cast-on" else edges.bound_off


def _of(edges: Edges, kind: str) -> Int32:
    """The stitches of one kind of edge, in the order they were made."""
    if kind == "cast-on" and edges.cast_on:
        return edges.cast_on[-1]
    if kind == "bound-off" and edges.bound_off:
        return edges.bound_off[-1]
    if kind in {"row ends", "left", "right"}:
        return np.array((edges.right if kind == "right" else edges.left).stitches, np.int32)
    return EMPTY


def _one_loop(stitch: str) -> str:
    """What works one loop of the needle, when the other is that of an edge: k2tog knits one of the two."""
    st = dictionary().find(stitch) if stitch else None
    if st is None or st.takes < 2:
        return stitch or "k"
    return "p" if stitch in {"p2tog", "ssp"} else "k"


def join_edge(w: Worker, s: tree.EdgeJoin, pass_: int) -> None:
    """Take a loop of an edge (or a waiting live one) along with a stitch of the row."""
    if s.at == "here":
        one = tree.Work(stitch=_one_loop(s.stitch), count=tree.Number(values=(1,)), span=s.span)
        w.step(one, pass_)
    w.flush()
    nd = w.needles
    mine = w.count.edge_first if s.at == "beginning" else (int(nd.right[-1]) if len(nd.right) else -1)
    if mine < 0:
        return
    if s.live:
        if not nd.holders:
            w.report(problems.NothingHeld(s.edge.words if s.edge is not None else ""), s.span)
            return
        held = nd.holders.pop()
        w.grower.join(mine, int(held.loops[0]), Link.JOINED)
        if len(held.loops) > 1:
            nd.holders.append(replace(held, loops=held.loops[1:]))
        return
    edge, _, _ = edge_stitches(w, s.edge if s.edge is not None else tree.Edge(words="", kind="row ends"))
    if len(edge):
        at = w.joined % len(edge)
        if s.edge is not None and s.edge.kind == "cast-on" and not nd.ring and not w.facing:
            at = len(edge) - 1 - at  # the loop cast on last is worked first
        w.grower.join(mine, int(edge[at]), Link.EDGE)
        w.joined += 1
