"""Grounds, charts and "in pattern": stitches told by what is set already.

In: a step and the worker. Out: operations gathered for the loops that are there. Finding the chart, or the
row that comes next in the pattern as set, is left to ``lookup`` and ``rowends``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

import numpy as np
from msgspec.structs import replace

from purlwright.fabric.arrays import Seen
from purlwright.needles import problems
from purlwright.needles.gather import Run
from purlwright.needles.hands import Stop, known
from purlwright.needles.places import distance
from purlwright.needles.repeats import fill
from purlwright.needles.stitching import explaining
from purlwright.pattern import tree
from purlwright.stitches.load import grounds
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker


def span_of(w: Worker, count: tree.Number | None, to: tree.Place | None, span: Span) -> int:
    """How many loops a count or a place means here; all that the rest of the row leaves, without either."""
    waits, w.loop_waits = w.loop_waits, False
    if to is not None:
        return distance(w, to, span)
    if count is not None:
        n = w.number(count)
        n -= waits and n > 0 and w.loop_counts()  # the stitch left by the bind-off is the first of these
        if n > w.left_over and not w.reach(n):
            w.too_few(tree.Work(stitch="k", count=count, span=span), 1, n, w.op(known("k")), 1)
        return n
    tail = w.tail()
    return max(w.left_over - (tail or 0), 0)


def ground(w: Worker, s: tree.InGround, pass_: int) -> None:
    """Work a named ground over some loops; each row follows the one before."""
    n = span_of(w, s.count, s.to, s.span)
    g = grounds().find(s.ground)
    if g is None or n <= 0:
        if n > 0:
            as_they_appear(w, n, s.span)
        return
    if "rib" in g.key:
        w.ribbed = w.order
    ring = w.needles.ring
    last = w.ground_row.get(g.key)
    if last is None:
        i, fresh = (0 if ring or len(g.flat) == 1 else w.facing), True
    elif last[1] == w.order:
        i, fresh = last[0], w.ground_fresh
    else:
        i, fresh = last[0] + 1, False
        if not ring and len(g.flat) % 2 == 0 and len(g.setup) % 2 == 0 and i % 2 != w.facing:
            i += 1
    w.ground_fresh = fresh
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
    """Go on as established: as the row that comes next in the pattern, else as the stitches appear."""
    steps, offset = (w.established(s.how) if s.how in {"set", "even", "rib"} else None) or (None, w.offset)
    if steps is not None and s.count is None and s.to is None:
        w.loop_waits = False
        c, tail = w.measure.all(steps), w.tail()
        if (c is None or c[0] + (tail or 0) == w.left_over) and not (c is None and tail):
            here, w.offset = w.offset, offset
            w.quiet += 1
            try:
                w.steps(steps, pass_)
            finally:
                w.quiet -= 1
                w.offset = here
            return
    n = span_of(w, s.count, s.to, s.span)
    if n <= 0:
        return
    if s.how == "knitwise":
        keys_over(w, ("k",), n, s.span, pass_)
    elif steps is not None and _all_knit(steps):
        keys_over(w, (_only(steps),), n, s.span, pass_)
    elif steps is None or not within(w, steps, n, offset):
        as_they_appear(w, n, s.span)


def call(w: Worker, s: tree.Call, pass_: int) -> None:
    """Work a row of a chart or stitch pattern: the whole row, or over some of its stitches."""
    found = w.calls(s)
    if found is None or all(isinstance(step, tree.Unread) for step in found[0]):
        as_they_appear(w, span_of(w, s.over, s.to, s.span), s.span)
        return
    steps, offset = found
    here, at = w.offset, w.at
    n = None if s.over is None and s.to is None else span_of(w, s.over, s.to, s.span)
    w.at = (s.span[0] + here, s.span[1] + here)
    w.offset = offset
    try:
        with explaining(w, s.name.lower(), s.span):
            work_called(w, s, steps, n, pass_)
        w.flush()
    finally:
        w.offset, w.at = here, at


def work_called(w: Worker, s: tree.Call, steps: Sequence[tree.Step], n: int | None, pass_: int) -> None:
    """Work the steps of a row that is called: the whole row, or over ``n`` stitches."""
    if n is None:
        w.steps(steps, pass_)
        return
    c = w.measure.all(steps)
    if c is not None and c[0] > 0 and n % c[0] == 0:
        fill(w, steps, n, s, pass_)
    else:
        narrowed(w, steps, n)


@contextmanager
def _only_next(w: Worker, n: int) -> Iterator[None]:
    """The next ``n`` loops are all there are, until this ends; the loops beyond them are put back."""
    nd = w.needles
    rest = len(nd.left) - n
    parked, parked_marks = nd.left[:rest], [b for b in nd.left_marks if b.at <= rest]
    nd.left = nd.left[rest:]
    nd.left_marks = [b.moved(b.at - rest) for b in nd.left_marks if b.at > rest]
    frames, reach = w.frames, w.right_at_start
    w.frames, w.right_at_start = [], 0
    try:
        yield
    finally:
        nd.left_marks = parked_marks + [b.moved(b.at + rest) for b in nd.left_marks]
        nd.left = np.concatenate([parked, nd.left])
        w.frames, w.right_at_start = frames, reach


def narrowed(w: Worker, steps: Sequence[tree.Action], n: int) -> None:
    """Work steps as if the next ``n`` loops were all there are."""
    w.flush()
    with _only_next(w, n):
        try:
            w.steps(steps)
            w.flush()
            if len(w.needles.left):
                w.report(problems.CountDiffers(w.row_name, n - len(w.needles.left), n), w.span_here)
                raise Stop
        finally:
            w.gathered.clear()


def as_far(w: Worker, s: tree.RowRef, to: tree.Place) -> None:
    """Work the steps of another row from here as far as a place, and nothing of what lies beside that."""
    n = distance(w, to, s.span)
    if n <= 0:
        return
    w.flush()
    steps = _from_loop(w, s.steps, w.count.worked)
    if steps is None:
        as_they_appear(w, n, s.span)
        return
    w.trying += 1
    with _only_next(w, n):
        try:
            w.steps(steps)
            w.flush()
        except Stop:  # the place is reached in the middle of a step
            w.flush()
        finally:
            w.trying -= 1
            left = len(w.needles.left)
    if left:
        w.report(problems.CountDiffers(w.row_name, n - left, n), s.span)
        raise Stop


def _from_loop(w: Worker, steps: Sequence[tree.Step], loops: int) -> Sequence[tree.Step] | None:
    """The steps of a row without those that work its first ``loops`` loops; None if they cannot be cut there.

    A repeat to the end is cut by whole repeats only.
    """
    for i, step in enumerate(steps):
        if loops <= 0:
            return steps[i:]
        if isinstance(step, tree.Work) and w.measure.stitch(step) == (1, 1):
            many = w.number(step.count)
            if many > loops:
                less = replace(step, count=replace(step.count, values=(many - loops,)))
                return (less, *steps[i + 1 :])
            loops -= many
            continue
        took = w.measure.one(step)
        if took is None:
            return None
        loops -= took[0]
        if loops < 0:
            return None
    return () if loops <= 0 else None


def within(w: Worker, steps: Sequence[tree.Action], n: int, offset: int) -> bool:
    """Work steps over the next ``n`` loops if they fit; else put everything back and say so.

    offset : where the words begin that the steps were read from.
    """
    w.flush()
    mark, needles, count = w.grower.mark(), w.needles.copy(), replace(w.count)
    logged, yarn = len(w.log), w.yarn
    here, w.offset = w.offset, offset
    w.trying += 1
    try:
        narrowed(w, steps, n)
    except Stop:
        w.gathered.clear()
        w.grower.back_to(mark)
        nd = w.needles
        nd.left, nd.right = needles.left, needles.right
        nd.left_marks, nd.right_marks = needles.left_marks, needles.right_marks
        w.count, w.yarn = count, yarn
        del w.log[logged:]
        return False
    finally:
        w.trying -= 1
        w.offset = here
    return True


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
