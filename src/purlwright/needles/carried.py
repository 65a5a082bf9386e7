"""Rows after an edit that come out as they did before it, carried over instead of knitted again.

In: the knitter at a line from which on the words are those of the last knitting, moved, and the checkpoint of
that knitting at the same line. Out: the knitter some rows further on, with their entries, stitches and moves
in it, moved to their place. Only lines that lean on nothing but how many loops there are, and said nothing,
are carried over, and only if the loops and all else that such a line looks at stand as they stood then.
Everything else is knitted: that is left to ``knit``.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from msgspec.structs import replace as with_fields

from purlwright.needles.rowends import extend_cycle
from purlwright.needles.state import MOST_ROWS
from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.fabric.arrays import Int32
    from purlwright.needles.hands import SideEdge
    from purlwright.needles.knit import Knitter
    from purlwright.needles.ledger import Entry
    from purlwright.needles.resume import Checkpoint, Entered, Track
    from purlwright.needles.state import State

__all__ = ["Later", "carry_over", "later_lines"]


@dataclass(frozen=True, slots=True, eq=False)
class Later:
    """The lines at the end of the queue that are those of the last knitting, moved.

    ``places`` has the checkpoints of that knitting among them, by their place in the queue as it is now.
    """

    old: Track
    places: dict[int, int]
    moved: int
    """By how many places in the queue."""
    characters: int
    lines: int


class _By(NamedTuple):
    """By how much what is carried over differs from what it was."""

    characters: int
    lines: int
    places: int
    """Places in the queue."""
    order: int
    block: int
    stitches: int
    spans: int
    """Numbers of spans."""
    ridges: tuple[int, int]
    chains: tuple[int, int]

    @property
    def words_only(self) -> bool:
        """Whether the words stand at another place of the text, and all else is as it was."""
        return self[1:] == _AS_IT_WAS


_AS_IT_WAS = (0, 0, 0, 0, 0, 0, (0, 0), (0, 0))


def later_lines(k: Knitter, old: Track, track: Track) -> Later | None:
    """The lines that both knittings end with, if a checkpoint stands among them."""
    was, now = old.queue, track.queue
    if not (old.checkpoints and was and now) or k.no_number or len(set(track.facts[-1])) != len(k.headings):
        return None
    (_, a), (_, b) = was[-1], now[-1]
    characters, lines, moved = b.offset - a.offset, b.line - a.line, len(now) - len(was)
    same = 0
    for (i, a), (j, b) in zip(reversed(was), reversed(now), strict=False):
        if (
            i != j
            or b.offset - a.offset != characters
            or b.line - a.line != lines
            or not (a.actions is b.actions or (a.text == b.text and a.actions == b.actions))
            or not (a.label is b.label or a.label == b.label)
        ):
            break
        same += 1
    first = len(was) - same
    places = {c.at + moved: n for n, c in enumerate(old.checkpoints) if c.at >= first}
    return Later(old, places, moved, characters, lines) if len(places) > 1 else None


def carry_over(k: Knitter, at: int) -> bool:
    """Go on from queue line ``at`` to a later one without knitting, if that comes to the same."""
    track = k.track
    later = track.later
    n = None if later is None or track.closed or k.trial or k.open else later.places.get(at)
    if later is None or n is None:
        return False
    checkpoints = later.old.checkpoints[n:]
    if not _stands_as(k, checkpoints[0]):
        return False
    steady = 1
    while steady < len(checkpoints) and _steady(k, later, *checkpoints[steady - 1 : steady + 1]):
        steady += 1
    return steady > 1 and _carry(k, later, checkpoints[:steady])


def _stands_as(k: Knitter, c: Checkpoint) -> bool:
    """Whether everything that a plain row looks at is as it was at a checkpoint.

    Whether words before it came out matters to a row only if a count or a side is not as printed, and then
    something is said.
    """
    w, mind, hold = k.worker, c.state.mind, c.state.hold
    nd, was = w.needles, c.state.needles
    return bool(
        k.rule is mind.rule is None
        and k.rule_after is mind.rule_after is None
        and k.pending is mind.pending is None
        and not (mind.open or w.quiet or k.taken_up[1] or c.taken_up[1])
        and mind.side_known
        and (k.section, k.heading, k.last_number) == (mind.section, mind.heading, mind.last_number)
        and (k.ended, k.first_side, k.side_known) == (mind.ended, mind.first_side, mind.side_known)
        and (k.ring_turned, k.side_said, w.facing, w.yarn)
        == (mind.ring_turned, c.side_said, hold.facing, hold.yarn)
        and (
            _clean(c)
            or (k.unproved, k.miscounted, k.delta, k.side_sure)
            == (mind.unproved, mind.miscounted, mind.delta, mind.side_sure)
        )
        and (nd.ring, nd.start_marked, nd.only) == (was.ring, was.start_marked, was.only)
        and not (nd.left_marks or nd.right_marks or was.left_marks or was.right_marks)
        and (len(nd.left), len(nd.right)) == (len(was.left), len(was.right))
    )


def _clean(c: Checkpoint) -> bool:
    """Whether all words since the last printed count came out."""
    mind = c.state.mind
    return not (mind.unproved or mind.miscounted or mind.delta)


def _steady(k: Knitter, later: Later, a: Checkpoint, b: Checkpoint) -> bool:
    """Whether the lines between two checkpoints lean on nothing but the loops, and said nothing."""
    w, old = k.worker, later.old
    before, after = a.state, b.state
    mind, needles = after.mind, after.needles
    if (
        (a.findings, a.worker.said) != (b.findings, b.worker.said)
        or before.mind.section != mind.section
        or before.lengths.pieces != after.lengths.pieces
        or before.needles.ring != needles.ring
        or mind.open
        or mind.pending is not None
        or not (mind.rule is mind.rule_after is None)
        or needles.left_marks
        or needles.right_marks
        or b.taken_up[1]
        or k.rows_worked + mind.rows_worked > MOST_ROWS  # far too many, either way
    ):
        return False
    unit = tree.Unit.ROW if needles.ring else tree.Unit.ROUND
    for (_, was), (_, line) in zip(
        old.queue[a.at : b.at], k.queue[a.at + later.moved : b.at + later.moved], strict=True
    ):
        label = line.label
        if was.line in old.misread or line.line in k.misread:
            return False
        if label is not None and (label.rule is not None or label.unit is unit):
            return False
        if w.plain(line.actions).steps is None and (
            label is not None or not all(isinstance(x, tree.Note) for x in line.actions)
        ):
            return False
    return True


def _carry(k: Knitter, later: Later, checkpoints: Sequence[Checkpoint]) -> bool:
    """Bring the knitter from where it stands, as at the first checkpoint, to where the last one was.

    False, and nothing is done, if that cannot be told.
    """
    w, grower, was = k.worker, k.grower, later.old.entered
    a, z = checkpoints[0].state, checkpoints[-1].state
    if was is None or any(item[0] not in {"run", "own"} for item in was.log[a.lengths.log : z.lengths.log]):
        return False
    known = a.hold.passes
    for e in was.entries[a.lengths.entries : z.lengths.entries]:
        if (e.section, e.line, e.label) in known or (e.section, e.line + later.lines, e.label) in k.passes:
            return False  # words worked before
    nd, begin = w.needles, grower.mark()
    loops = (
        np.concatenate([a.needles.left, a.needles.right]),
        np.concatenate([nd.left, nd.right]),
    )
    order = k.order - a.mind.order
    grown = grower.grow_as(later.old.grower, a.mark, z.mark, loops, order, later.characters)
    if grown is None:
        return False
    edges, begun = w.edges, a.edges
    by = _By(
        characters=later.characters, lines=later.lines, places=later.moved, order=order,
        block=k.block - a.mind.block, stitches=begin.n - a.mark.n, spans=grown[1],
        ridges=(edges.right.ridges - begun.right.ridges, edges.left.ridges - begun.left.ridges),
        chains=(edges.right.chains - begun.right.chains, edges.left.chains - begun.left.chains),
    )  # fmt: skip
    clean = _clean(checkpoints[0])
    for before, after in pairwise(checkpoints):
        _enter(k, was, before, after, by)
        if not clean:
            mind = after.state.mind
            k.unproved, k.miscounted, k.delta = mind.unproved, mind.miscounted, mind.delta
        _stand(k, before.state, after, by, grown[0])
        k.track.take(k, k.at, begin.and_from(a.mark, after.state.mark))
    return True


def _enter(k: Knitter, was: Entered, a: Checkpoint, b: Checkpoint, by: _By) -> None:
    """Enter what was entered between two checkpoints."""
    w = k.worker
    (e0, h0, _, l0), (e1, h1, _, l1) = a.state.lengths, b.state.lengths
    entries, rows = was.entries[e0:e1], was.history[h0:h1]
    if entries and b.state.hold.last is not None:
        entries[-1] = b.state.hold.last
    if rows and b.last_row is not None:
        rows[-1] = b.last_row
    if any(e.stated for e in entries):  # a count that came true
        k.unproved, k.miscounted, k.delta = False, False, 0
    lines = k.queue[a.at + by.places : b.at + by.places]
    k.side_sure = k.side_sure or any(line.label is not None and line.label.side for _, line in lines)
    words_only = by.words_only
    for e in entries:
        moved = _words_moved(e, by.characters) if words_only else _entry_moved(e, by)
        k.passes[e.section, moved.line, e.label] = e.pass_
        k.entries.append(moved)
    k.marks += was.marks[e0:e1]
    for r in rows:
        span, offset = _moved(r.span, by.characters), r.offset + by.characters
        if words_only:
            row = with_fields(r, offset=offset, span=span)
        else:
            row = with_fields(
                r, line=r.line + by.lines, offset=offset, span=span, entry=r.entry + by.order,
                block=r.block + by.block,
            )  # fmt: skip
        k.history.append(row)
        if row.number is not None:
            extend_cycle(k, row)
    log = was.log[l0:l1]
    w.log += log if not (by.spans or by.stitches or by.order) else [_logged(item, by) for item in log]
    looked = a.state.hold.places
    for check, many in b.state.hold.places.items():
        if many != looked.get(check, 0):
            w.look(check, many - looked.get(check, 0))


def _logged(item: tuple[Any, ...], by: _By) -> tuple[Any, ...]:
    """A run, or which of its operations are one of the pattern's own stitches, as it is logged here."""
    if item[0] == "own":
        kind, name, words, first, end, order = item
        return kind, name, words + by.spans, first, end, order + by.order
    kind, ops, words, passes, stitch, order = item
    return kind, ops, words + by.spans, passes, stitch + by.stitches, order + by.order


def _stand(k: Knitter, before: State, b: Checkpoint, by: _By, now: Int32) -> None:
    """Put needles, edges and all that is kept in mind as they were at a checkpoint.

    now : the stitch here for each stitch there.
    """
    w, after = k.worker, b.state
    _edge_goes_on(w.edges.right, before.edges.right, after.edges.right, now)
    _edge_goes_on(w.edges.left, before.edges.left, after.edges.left, now)
    w.needles.left, w.needles.right = now[after.needles.left], now[after.needles.right]
    mind, hold = after.mind, after.hold
    k.last_number, k.ended, k.first_side = mind.last_number, mind.ended, mind.first_side
    k.side_known, k.ring_turned, k.side_said = mind.side_known, mind.ring_turned, b.side_said
    w.facing, w.side, w.yarn, w.loop_waits = hold[:4]
    w.offset = hold.offset + by.characters
    first, last = hold.counters.edge_first, hold.counters.edge_last
    w.count = with_fields(hold.counters, edge_first=_now(now, first), edge_last=_now(now, last))
    info, span = mind.info, _moved(mind.info.span, by.characters)
    k.info = with_fields(info, line=info.line + by.lines, offset=info.offset + by.characters, span=span)
    k.at = b.at + by.places
    k.block = mind.block + by.block
    k.order = w.order = mind.order + by.order
    k.rows_worked += mind.rows_worked - before.mind.rows_worked
    k.taken_up, k.base_here = (0, 0), None
    w.row_name = k.info.name_of_row()


def _moved(span: Span, by: int) -> Span:
    return span if span[1] < 0 else Span(span[0] + by, span[1] + by)


def _now(now: Int32, stitch: int) -> int:
    return int(now[stitch]) if stitch >= 0 else stitch


def _edge_goes_on(edge: SideEdge, start: SideEdge, end: SideEdge, now: Int32) -> None:
    """The edge grows by what it grew from ``start`` to ``end``."""
    more = end.stitches[len(start.stitches) :]
    if more:
        edge.stitches += now[more].tolist()
    edge.ridges += end.ridges - start.ridges
    edge.chains += end.chains - start.chains


def _words_moved(e: Entry, characters: int) -> Entry:
    """The same entry, its words so many characters further on."""
    span = _moved(e.span, characters)
    if not e.stated:
        return with_fields(e, span=span)
    stated = tuple(with_fields(s, span=_moved(s.span, characters)) for s in e.stated)
    return with_fields(e, span=span, stated=stated)


def _entry_moved(e: Entry, by: _By) -> Entry:
    right, left = by.ridges
    return with_fields(
        e, order=e.order + by.order, line=e.line + by.lines, span=_moved(e.span, by.characters),
        stated=e.stated and tuple(with_fields(s, span=_moved(s.span, by.characters)) for s in e.stated),
        ridges_right=e.ridges_right + right, ridges_left=e.ridges_left + left,
        chains_right=e.chains_right + by.chains[0], chains_left=e.chains_left + by.chains[1],
        stitches_so_far=e.stitches_so_far + by.stitches,
    )  # fmt: skip
