"""The same rows over and over: when a pass comes to just what the last one came to, the others are copied.

In: how one pass is worked, and how many are asked for. Out: the passes worked, with every row in the ledger,
every stitch in the fabric and every move in the log, as if each had been worked by itself. The first passes
always are. Only rows that lean on nothing but how many loops there are, and said nothing, are copied, and
only if all else that such rows look at stands as it stood a pass ago. What a pass is, is left to the caller.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from msgspec.structs import replace as with_fields

from purlwright.fabric.arrays import Int32
from purlwright.needles.hands import MOST_STITCHES
from purlwright.needles.ledger import ROWS, Entry
from purlwright.needles.rowends import extend_cycle
from purlwright.needles.state import MOST_ROWS

if TYPE_CHECKING:
    from purlwright.fabric.grow import Mark
    from purlwright.needles.knit import Knitter

__all__ = ["work_passes"]

FEWEST = 3
"""So many passes at least are copied at once, or they are worked one by one."""
MOST_TRIED = 5
"""If so many passes did not come to the same, none will."""


class _Here(NamedTuple):
    """Where everything that only grows stands between two passes."""

    stands: tuple[Any, ...]
    """What a row looks at, loops left out."""
    loops: Int32
    mark: Mark
    entries: int
    history: int
    log: int
    edges: tuple[int, int]
    flushes: int
    looks: dict[str, int]


@dataclass(frozen=True, slots=True, eq=False)
class _Pass:
    """The last pass, from ``a`` to ``z``; ``before`` is where the pass before it began."""

    before: _Here
    a: _Here
    z: _Here

    @property
    def rows(self) -> int:
        return self.z.entries - self.a.entries

    @property
    def stitches(self) -> int:
        return self.z.mark.n - self.a.mark.n


def work_passes(k: Knitter, once: Callable[[], bool], times: int, *, rows: int, cycle: int = 1) -> bool:
    """Work ``once``, a pass of ``rows`` rows, so many times; False if it stopped because nothing was worked.

    cycle : after how many passes the very same words come again; 0 if that may never be.
    """
    each = cycle if k.worker.needles.ring or cycle * rows % 2 == 0 else 2 * cycle  # the same side faces again
    met: list[_Here] = []
    done = 0
    while done < times:
        # one who watches is to see every row
        if each and k.watch is None and len(met) < MOST_TRIED and times - done >= each * FEWEST:
            met.append(_here(k))
            if len(met) > 2 and _came_to_the_same(k, last := _Pass(*met[-3:])):
                done += each * _copy(k, last, (times - done) // each)
                each = 0
        for _ in range(min(each or 1, times - done)):
            if not once():
                return False
            done += 1
    return True


def _here(k: Knitter) -> _Here:
    w, nd = k.worker, k.worker.needles
    return _Here(
        (
            k.section, k.heading, k.block, k.rule, k.rule_after, k.last_number, k.open, k.ended, k.pending,
            k.first_side, k.side_known, k.side_sure, k.side_said, k.unproved, k.ever_unproved, k.miscounted,
            k.delta, k.ring_turned, k.nothing_said, k.any_width, k.at, k.base, k.base_here, k.taken_up,
            k.cycle_at, len(k.cycle), len(k.findings), len(k.pieces),
            w.said, w.quiet, w.facing, w.side, w.yarn, w.offset, w.loop_waits, w.ribbed, w.marked,
            nd.ring, nd.start_marked, len(nd.left), len(nd.right), len(nd.left_marks), len(nd.right_marks),
            len(nd.holders), nd.only,
        ),
        np.concatenate([nd.left, nd.right]), k.grower.mark(), len(k.entries), len(k.history), len(w.log),
        (len(w.edges.right.stitches), len(w.edges.left.stitches)), w.flushes, dict(w.places),
    )  # fmt: skip


def _grown(a: _Here, z: _Here) -> tuple[int, ...]:
    """By how much everything grew in a pass."""
    was = (a.entries, a.history, a.log, *a.edges, *a.mark[:3])
    now = (z.entries, z.history, z.log, *z.edges, *z.mark[:3])
    return tuple(n - w for w, n in zip(was, now, strict=True))


def _came_to_the_same(k: Knitter, p: _Pass) -> bool:
    """Whether the last pass began and ended as the one before it, and came to the same."""
    b, a, z = p.before, p.a, p.z
    w, nd = k.worker, k.worker.needles
    if not b.stands == a.stands == z.stands or k.open or k.rule is not None or k.pending is not None:
        return False
    if nd.left_marks or nd.right_marks or not k.side_known or w.quiet:
        return False
    if _grown(b, a) != _grown(a, z):
        return False
    return (
        p.rows == z.history - a.history > 0
        and p.stitches > 0
        and a.mark[3:] == z.mark[3:]  # no link, section, span or yarn is new
        and all(item[0] == "run" for item in w.log[a.log : z.log])
        and all(w.plain(r.actions).steps is not None for r in k.history[b.history : z.history])
        and k.marks[b.entries : a.entries] == k.marks[a.entries : z.entries]
        and all(_goes_on(e, later, p.rows) for e, later in _entries(k, p))
        and _on_the_same_loops(k, p)
    )


def _goes_on(e: Entry, later: Entry, rows: int) -> bool:
    """Whether an entry says what the one a pass before it said, but for what is counted on."""
    if e.kind not in ROWS or e.gaps or e.markers or e.stated or e.unread:
        return False
    return later == with_fields(
        e, order=e.order + rows, pass_=later.pass_, stitches_so_far=later.stitches_so_far,
        ridges_right=later.ridges_right, ridges_left=later.ridges_left,
        chains_right=later.chains_right, chains_left=later.chains_left,
    )  # fmt: skip


def _on_the_same_loops(k: Knitter, p: _Pass) -> bool:
    """Whether loops, what they hang on and edges are those of a pass before, each as many stitches later."""
    b, a, z, n, g = p.before, p.a, p.z, p.stitches, k.grower
    if len(z.loops) == 0 or int(z.loops.min()) < a.mark.n or not np.array_equal(a.loops + n, z.loops):
        return False
    first, links = g.buf["first"], z.mark.m - a.mark.m
    if not np.array_equal(first[b.mark.n : a.mark.n] + links, first[a.mark.n : z.mark.n]):
        return False
    if not np.array_equal(g.parent[b.mark.m : a.mark.m] + n, g.parent[a.mark.m : z.mark.m]):
        return False
    edges = k.worker.edges
    for edge, start, middle in zip((edges.right, edges.left), b.edges, a.edges, strict=True):
        if [s + n for s in edge.stitches[start:middle]] != edge.stitches[middle:]:
            return False
    return True


def _entries(k: Knitter, p: _Pass) -> Iterator[tuple[Entry, Entry]]:
    """Each entry of the last pass, after that of the pass before it."""
    return zip(k.entries[p.before.entries : p.a.entries], k.entries[p.a.entries : p.z.entries], strict=True)


def _copy(k: Knitter, p: _Pass, times: int) -> int:
    """Enter the last pass so many times more, as far as anything may be knitted; how many times it was."""
    w, g, a, n, rows = k.worker, k.grower, p.a, p.stitches, p.rows
    times = min(times, (MOST_ROWS - k.rows_worked) // rows, (MOST_STITCHES - g.n) // n)
    if times < FEWEST or not g.again(a.mark, times, rows, (a.loops, p.z.loops)):
        return 0
    copies = range(1, times + 1)
    _enter(k, p, copies)
    k.marks += k.marks[a.entries :] * times
    w.log += [
        (kind, ops, spans, passes, first + i * n, order + i * rows)
        for i in copies
        for kind, ops, spans, passes, first, order in w.log[a.log : p.z.log]
    ]
    moved = times * n
    for edge, start in zip((w.edges.right, w.edges.left), a.edges, strict=True):
        edge.stitches += [stitch + i * n for i in copies for stitch in edge.stitches[start:]]
    w.needles.left, w.needles.right = w.needles.left + np.int32(moved), w.needles.right + np.int32(moved)
    first, last = w.count.edge_first + moved, w.count.edge_last + moved
    w.count = with_fields(w.count, edge_first=first, edge_last=last)
    for check, many in p.z.looks.items():
        w.look(check, times * (many - a.looks.get(check, 0)))
    w.flushes += times * (p.z.flushes - a.flushes)
    k.rows_worked += times * rows
    k.order = w.order = k.order + times * rows
    return times


def _enter(k: Knitter, p: _Pass, copies: range) -> None:
    """Enter the rows of the last pass in the ledger and among the rows to be referred to, once a copy."""
    n, rows, edges = p.stitches, p.rows, k.worker.edges
    kept = k.history[p.a.history : p.z.history]
    counted = [
        (
            e, e.pass_ - was.pass_, e.ridges_right - was.ridges_right, e.ridges_left - was.ridges_left,
            e.chains_right - was.chains_right, e.chains_left - was.chains_left,
        )
        for was, e in _entries(k, p)
    ]  # fmt: skip
    k.entries += [
        with_fields(
            e, order=e.order + i * rows, pass_=e.pass_ + i * passes,
            ridges_right=e.ridges_right + i * right, ridges_left=e.ridges_left + i * left,
            chains_right=e.chains_right + i * slipped_right, chains_left=e.chains_left + i * slipped_left,
            stitches_so_far=e.stitches_so_far + i * n,
        )
        for i in copies
        for e, passes, right, left, slipped_right, slipped_left in counted
    ]  # fmt: skip
    for e in k.entries[-rows:]:
        k.passes[e.section, e.line, e.label] = e.pass_
    k.history += [with_fields(r, entry=r.entry + i * rows) for i in copies for r in kept]
    for was, row in zip(kept, k.history[-rows:], strict=True):
        if row.number is not None and k.cycle and k.cycle[k.cycle_place.get(row.number, 0)] is was:
            extend_cycle(k, row)
    last = k.entries[-1]
    edges.right.ridges, edges.right.chains = last.ridges_right, last.chains_right
    edges.left.ridges, edges.left.chains = last.ridges_left, last.chains_left
