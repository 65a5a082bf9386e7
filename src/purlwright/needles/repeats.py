"""Fills and repeats: how often something is worked, and what is left over.

In: a step and the worker. Out: operations gathered as often as the words and the needle say, or a finding.
Rows repeated are left to ``again``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec import structs

from purlwright.needles import problems
from purlwright.needles.hands import MOST_STITCHES, Short, Stop
from purlwright.needles.places import distance
from purlwright.needles.readings import star_times
from purlwright.needles.stitching import work_stitch
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker

MOST_PASSES = 20_000
"""So many passes of repeats in one row, and it never ends: no row has as many stitches."""


def fill(w: Worker, body: Sequence[tree.Step], dist: int, s: tree.Action, pass_: int) -> None:
    """Work ``body`` over and over for ``dist`` loops; it may stop inside."""
    if dist <= 0:
        return
    w.loop_waits = False  # "knit to end" counts none: the loop that a bind-off left is behind it
    size = w.measure.all(body)
    if size is None or size[0] <= 0:
        if size is not None:
            w.steps(body, pass_)
        else:
            stop = w.left_over - dist
            while w.left_over > stop:
                here = w.left_over
                w.steps(body, pass_, once=False)
                if w.left_over >= here:
                    break
        return
    each = size[0]
    full, rest = divmod(dist, each)
    if (
        full
        and len(body) == 1
        and isinstance(body[0], tree.Work)
        and not body[0].own
        and body[0].count.values == (1,)
    ):
        work_stitch(w, body[0], pass_, times=full)
    elif full:
        times_over(w, body, full, pass_)
    if rest:
        part_of(w, body, rest, s, pass_, dist)


def part_of(w: Worker, body: Sequence[tree.Step], rest: int, s: tree.Action, pass_: int, dist: int) -> None:
    """Work the beginning of ``body`` for ``rest`` loops.

    A yarn over just where it breaks off belongs to it if it makes good what is lost: "*yo, k3, sk2p, k3, yo,
    k1; rep from *, end k2 instead of k1" has both yarn overs in its last repeat.
    """
    whole, net = w.measure.all(body), 0
    even = isinstance(s, tree.Repeat) and s.cut and whole is not None and whole[0] == whole[1]
    for x in body:
        if rest <= 0 and not (even and net < 0):
            return
        c = w.measure.one(x)
        if c is None:
            continue
        if rest <= 0 and c[0]:
            return
        if c[0] <= rest:
            w.steps((x,), pass_, once=False)
            rest -= c[0]
            net += c[1] - c[0]
            continue
        if isinstance(x, tree.Work):
            t, _ = w.measure.stitch(x)
            k = rest // t if t else 0
            if k:
                part = tree.Work(
                    stitch=x.stitch,
                    own=x.own,
                    colour=x.colour,
                    span=x.span,
                    count=tree.Number(values=(k,)),
                )
                w.steps((part,), pass_, once=False)
                rest -= k * t
        elif isinstance(x, tree.Repeat):
            part_of(w, x.body * w.number(x.times), rest, s, pass_, dist)
            return
        if rest:
            size = w.measure.all(body)
            w.report(problems.GroupUneven(w.row_name, size[0] if size else 1, dist), s.span)
            raise Stop


def _stops_between(w: Worker, body: Sequence[tree.Step], rest: int) -> bool:
    """Whether ``rest`` loops end a repeat between two of its steps, where the words of an ending go on."""
    for x in body:
        if rest <= 0:
            return rest == 0
        c = w.measure.one(x)
        if c is not None and c[0] > rest:
            return isinstance(x, tree.Repeat) and _stops_between(w, x.body * w.number(x.times), rest)
        rest -= c[0] if c is not None else 0
    return rest == 0


_OTHER_FACE = ({"k", "p"}, {"k tbl", "p"}, {"k", "p tbl"}, {"k tbl", "p tbl"})


def ribbing(s: tree.Repeat) -> bool:
    """In words: ``in k2, p2 rib``: knits and purls over and over, which may break off between the two."""
    plain = all(isinstance(x, tree.Work) and x.stitch in {"k", "p"} for x in s.body)
    return plain and s.said is tree.Said.OPEN and not (s.mark or s.star or s.to is not None)


def _ends_alike(w: Worker, body: Sequence[tree.Step], rest: int) -> bool:
    """Whether the ending may stand where ``rest`` loops break the repeat off: it does not knit what would be
    purled there. "*k2, p2; rep from *, ending k3" ends after k2, p2, and not after k2.
    """
    for x in body:
        c = w.measure.one(x)
        if rest <= 0:
            ending = w.after()
            return (
                not isinstance(x, tree.Work)
                or not isinstance(ending, tree.Work)
                or {x.stitch, ending.stitch} not in _OTHER_FACE
            )
        rest -= c[0] if c is not None else 0
    return True


def times_over(w: Worker, body: Sequence[tree.Step], n: int, pass_: int) -> None:
    """Work ``body`` ``n`` times. What can be gathered is gathered once and copied."""
    del pass_
    if n <= 0:
        return
    size = w.measure.all(body)
    if size is None or n == 1:
        for i in range(n):
            _pass(w)
            here, flushed = w.left_over, w.flushes
            w.steps(body, i + 1, once=False)
            if i > 10_000 and here == w.left_over and flushed == w.flushes:
                raise Stop
        return
    g, flushes, mark = w.gathered, w.flushes, w.gathered.mark()
    logged = len(w.log)
    w.steps(body, -1, once=False)
    if w.flushes != flushes or len(w.log) != logged or len(g.ops) == mark[0]:
        for i in range(1, n):
            _pass(w)
            w.steps(body, i + 1, once=False)
        return
    step, more = g.taken - mark[4], n - 1
    if (g.workings - mark[6]) * n + w.grower.n > MOST_STITCHES:
        g.clear()
        raise Stop
    if step * more > w.left_over:
        g.copy(mark, w.left_over // step)
        raise Short(n, step)
    g.copy(mark, more)


def _pass(w: Worker) -> None:
    """Count one pass of a repeat; repeats within repeats may ask for more than ever comes to an end."""
    w.count.passes += 1
    if w.count.passes > MOST_PASSES:
        w.report(problems.TooMuchKnitting(f"more than {MOST_PASSES:,} repeats in one row"), w.span_here)
        raise Stop


def repeat(w: Worker, s: tree.Repeat, pass_: int) -> None:
    """Work a repeat: a number of times, up to a place, or as often as the loops allow."""
    size = w.measure.all(s.body)
    if w.loop_waits:
        w.loop_waits = False
        n = with_loop_waiting(w, s, size)
        if n:
            w.look("C007")
            w.steps(_all_but_one(s.body), 1, once=False)
            times_over(w, s.body, n - 1, pass_)
            return
    if s.to is not None and not (s.to.kind is tree.PlaceKind.END and s.to.before is None):
        dist = distance(w, s.to, s.span)
        if s.cut and dist >= 0:
            tail = w.tail()
            extra = (tail or 0) - w.number(s.to.before, 0)
            dist = max(dist - max(extra, 0), 0)
        whole_times(w, s, dist, size, pass_)
        return
    if s.times is not None:
        counted_times(w, s, size, pass_)
        return
    tail = w.tail()
    if tail is None:
        if s.said is tree.Said.PAIR:
            times_over(w, s.body, 1, pass_)
            return
        tail = 0
    whole_times(w, s, w.left_over - tail if s.to is None else to_end(w, tail), size, pass_)


def with_loop_waiting(w: Worker, s: tree.Repeat, size: tuple[int, int] | None) -> int:
    """How often a repeat is worked if the stitch that a bind-off left is the first of it; 0 if it is not.

    It is when the repeat comes out even with it, and does not without it.
    """
    first = s.body[0] if s.body else None
    tail = w.tail()
    if size is None or size[0] <= 0 or tail is None or not isinstance(first, tree.Work):
        return 0
    if first.own or w.measure.stitch(first) != (1, 1) or w.number(first.count) < 1:
        return 0
    there = w.left_over - tail
    if s.times is not None and s.to is None and not s.star:
        n = w.number(s.times)
        return n if size[0] * n == there + 1 else 0
    if s.times is None and (s.to is None or (s.to.kind is tree.PlaceKind.END and s.to.before is None)):
        n, rest = divmod(there + 1, size[0])
        return n if not rest and there % size[0] else 0
    return 0


def _all_but_one(body: Sequence[tree.Step]) -> Sequence[tree.Step]:
    """A repeat's steps without the first stitch."""
    first = body[0]
    if isinstance(first, tree.Work):
        left = tuple(None if v is None else v - 1 for v in first.count.values)
        return (structs.replace(first, count=tree.Number(values=left)), *body[1:])
    return body


def to_end(w: Worker, tail: int) -> int:
    """Loops to the end of the row (or round), less what the words after the repeat take."""
    return distance(w, tree.Place(kind=tree.PlaceKind.END), w.span_here) - tail


def whole_times(w: Worker, s: tree.Repeat, dist: int, size: tuple[int, int] | None, pass_: int) -> None:
    """Work a repeat as often as ``dist`` loops allow; it must come out even."""
    if size is None or size[0] <= 0:
        stop = w.left_over - dist
        i = 0
        while w.left_over > stop and i < MOST_STITCHES:
            here = w.left_over
            i += 1
            w.steps(s.body, i, once=False)
            if w.left_over >= here:
                break
        return
    w.look("C007")
    each = size[0]
    full, rest = divmod(max(dist, 0), each)
    if dist < 0:
        uses = w.count.worked + w.gathered.taken + each + w.left_over - dist
        w.report(
            problems.CountDiffers(w.row_name, uses, w.count.worked + w.gathered.taken + w.left_over),
            s.span,
        )
        raise Stop
    if rest and not (
        (s.cut or ribbing(s)) and _stops_between(w, s.body, rest) and _ends_alike(w, s.body, rest)
    ):
        _as_often(w, s, full, each, dist, pass_)
        w.report(problems.RepeatUneven(w.row_name, each, dist), s.span)
        raise Stop
    _as_often(w, s, full, each, dist, pass_)
    if rest:
        part_of(w, s.body, rest, s, pass_, dist)


def _as_often(w: Worker, s: tree.Repeat, full: int, each: int, dist: int, pass_: int) -> None:
    """Work the whole passes; a stitch of hers that takes more than was measured makes the repeat uneven."""
    try:
        times_over(w, s.body, full, pass_)
    except Short:
        w.report(problems.RepeatUneven(w.row_name, each, dist), s.span)
        raise Stop from None


def counted_times(w: Worker, s: tree.Repeat, size: tuple[int, int] | None, pass_: int) -> None:
    """Work a repeat a given number of times; after a star "n times" may be n in all or n more."""
    n = w.number(s.times)
    if size is not None and any(isinstance(x, tree.BindOff) for x in s.body) and w.loop_counts():
        size = (w.measure.by_numbers(s.body) or size[0], size[1])
    if s.star:
        w.look("C026")
        if s.said is tree.Said.MORE:
            n += 1
        elif s.said is tree.Said.TIMES:
            n = star_times(w, s, n, size)
    try:
        if size is not None and size[0] * n > w.left_over and not w.reach(size[0] * n):
            fit = w.left_over // size[0]
            times_over(w, s.body, fit, pass_)
            uses = w.count.worked + w.gathered.taken + size[0] * (n - fit) + (w.tail() or 0)
            there = w.count.worked + w.gathered.taken + w.left_over
            w.report(problems.CountDiffers(w.row_name, uses, there, group=size[0]), s.span)
            raise Stop
        times_over(w, s.body, n, pass_)
    except Short as e:
        there = w.count.worked + w.gathered.taken + w.left_over
        w.report(problems.CountDiffers(w.row_name, e.each * e.n, there, group=e.each), s.span)
        raise Stop from None
