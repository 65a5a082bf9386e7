"""Grounds, charts and "in pattern": stitches told by what is set already.

In: a step and the worker. Out: operations gathered for the loops that are there.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Seen
from purlwright.needles.gather import Run
from purlwright.needles.hands import known
from purlwright.needles.places import distance
from purlwright.needles.repeats import fill
from purlwright.pattern import tree
from purlwright.stitches.load import grounds
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker


def span_of(w: Worker, count: tree.Number | None, to: tree.Place | None, span: Span) -> int:
    if to is not None:
        return distance(w, to, span)
    if count is not None:
        n = w.number(count)
        if n > w.left_over and not w._reach(n):
            w._too_few(tree.Work(stitch="k", count=count, span=span), 1, n, w.op(known("k")), 1)
        return n
    tail = w.tail()
    return max(w.left_over - (tail or 0), 0)


def ground(w: Worker, s: tree.InGround, pass_: int) -> None:
    n = span_of(w, s.count, s.to, s.span)
    g = grounds().find(s.ground)
    if g is None or n <= 0:
        if n > 0:
            as_they_appear(w, n, s.span)
        return
    ring = w.needles.ring
    last = w.ground_row.get(g.key)
    if last is None:
        i, fresh = (0 if ring or len(g.flat) == 1 else w.facing), True
    elif last[1] == w.order:
        i, fresh = last[0], w._ground_fresh
    else:
        i, fresh = last[0] + 1, False
        if not ring and len(g.flat) % 2 == 0 and len(g.setup) % 2 == 0 and i % 2 != w.facing:
            i += 1
    w._ground_fresh = fresh
    w.ground_row[g.key] = (i, w.order)
    row_of_keys(w, g.row(n, i, in_the_round=ring), s.span, pass_)


def row_of_keys(w: Worker, keys: Sequence[str], span: Span, pass_: int) -> None:
    """Work one dictionary key a loop."""
    sid = w.span_id(span)
    at, n = 0, len(keys)
    while at < n:
        end = at
        while end < n and keys[end] == keys[at]:
            end += 1
        w.add(w.op(known(keys[at])), end - at, sid, pass_, w.yarn)
        at = end


def keys_over(w: Worker, row: Sequence[str], n: int, span: Span, pass_: int) -> None:
    """Work dictionary keys over and over for ``n`` loops."""
    body = tuple(tree.Work(stitch=k, count=tree.Number(values=(1,)), span=span) for k in row)
    if len(set(row)) == 1:
        body = body[:1]
    fill(w, body, n, tree.Fill(body=body, to=tree.Place(kind=tree.PlaceKind.END), span=span), pass_)


def as_they_appear(w: Worker, n: int, span: Span) -> None:
    """Knit the knit stitches and purl the purl stitches, as they face."""
    w.flush()
    nd = w.needles
    src = nd.left[len(nd.left) - n :][::-1]
    seen = w.grower.buf["seen"][src] if n else np.zeros(0, np.int8)
    purl = np.asarray(seen == Seen.PURL)
    if w.facing:
        purl = np.asarray(seen == Seen.KNIT)
    k, p = w.op(known("k")), w.op(known("p"))
    ops = np.where(purl, p, k).astype(np.int16)
    sid = w.span_id(span)
    if n:
        w.run(Run(ops, np.full(n, sid, np.int32), np.ones(n, np.int32), w.yarn, n))


def in_pattern(w: Worker, s: tree.InPattern, pass_: int) -> None:
    if s.count is None and s.to is None and s.how == "set":
        steps = w.established()
        if steps is not None:
            c = w.measure.all(steps)
            tail = w.tail()
            if (c is None or c[0] + (tail or 0) == w.left_over) and not (c is None and tail):
                w.quiet += 1
                try:
                    w.steps(steps, pass_)
                finally:
                    w.quiet -= 1
                return
    n = span_of(w, s.count, s.to, s.span)
    if n <= 0:
        return
    if s.how == "knitwise":
        keys_over(w, ("k",), n, s.span, pass_)
        return
    steps = w.established()
    if s.how == "set" and steps is not None and _all_knit(steps):
        keys_over(w, (_only(steps),), n, s.span, pass_)
        return
    as_they_appear(w, n, s.span)


def call(w: Worker, s: tree.Call, pass_: int) -> None:
    steps = w.calls(s)
    if steps is None:
        n = span_of(w, s.over, s.to, s.span)
        as_they_appear(w, n, s.span)
        return
    if s.over is None and s.to is None:
        w.steps(steps, pass_)
        return
    n = span_of(w, s.over, s.to, s.span)
    fill(w, steps, n, s, pass_)


def _only(steps: Sequence[tree.Step]) -> str:
    s = steps[0]
    if isinstance(s, tree.Fill) and isinstance(s.body[0], tree.Work):
        return s.body[0].stitch
    return s.stitch if isinstance(s, tree.Work) else "k"


def _all_knit(steps: Sequence[tree.Step]) -> bool:
    """Whether a row is one plain stitch all along ("Knit.")."""
    if len(steps) != 1:
        return False
    s = steps[0]
    return isinstance(s, tree.Fill) and len(s.body) == 1 and isinstance(s.body[0], tree.Work)
