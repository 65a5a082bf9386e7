"""Where rows begin and end: turns, sides, rows that stop short, and the ledger entry of each row.

In: the knitter at work. Out: entries, gaps, the needles ready for the next row. What is worked within a row
is left to ``worker``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from msgspec.structs import replace

from purlwright.fabric.arrays import Link, Seen
from purlwright.needles import problems
from purlwright.needles.hands import Counters, Stop
from purlwright.needles.interrupted import next_of_cycle
from purlwright.needles.ledger import Entry, Gap, Kind, MarkAt
from purlwright.needles.loops import Boundary, Needles
from purlwright.needles.partly import others_back, some_only
from purlwright.needles.pieces import begin_piece, end_piece, face_taken_up, ready
from purlwright.needles.ringagain import ring_again
from purlwright.needles.state import (
    MOST_ROWS,
    STATEMENTS,
    WORKING,
    AsSet,
    Evidence,
    Info,
    Row,
    TooMuch,
    steps_of,
)
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


def side(k: Knitter, *, extends: bool) -> None:
    """Which side faces: the printed label wins; else rounds are RS and rows alternate."""
    w = k.worker
    label = k.info.side
    begins = k.first_side is not None and not extends
    if k.first_side is not None and not extends:
        w.facing = k.first_side
        k.first_side = None
    elif w.needles.ring and not k.ring_turned:
        w.facing = 0
    if label is None:
        w.side = w.facing if k.side_known else 2
        if not k.side_known:
            known = side_ahead(k)
            if known is not None:
                w.facing = w.side = known
                k.side_known = True
            else:
                if not k.side_said:
                    k.report(problems.SideNotKnown(k.info.name_of_row()), k.info.span_rel())
                k.side_said = True
        return
    k.info.side = None  # the label speaks of the first row of its words; after a turn the sides alternate
    stated = 0 if label is Side.RS else 1
    w.look("C021")
    if begins or not k.side_known:
        face_taken_up(k, stated)
    to_and_fro = not w.needles.ring or k.ring_turned  # a round has no side until a label gives one
    if k.side_known and stated != w.facing and not begins and to_and_fro and not extends:
        names = ("RS", "WS")
        problem = problems.SideDiffers if k.side_sure else problems.SideNotAsCounted
        fresh = not k.side_sure and bool(k.marks) and "pick up" in k.marks[-1]  # a tab and what is taken up
        if problem is problems.SideNotAsCounted and _garter_so_far(k):
            problem = problems.CastOnCounted
        if w.needles.ring and _side_told(k):
            w.side = w.facing
            return  # one label is amiss, and those after it come of that
        if k.side_sure or not (k.unproved or fresh):  # round it has no side until a label gives one
            k.report(problem(k.info.name_of_row(), names[stated], names[w.facing]), k.info.span_rel())
        if w.needles.ring:
            w.side = w.facing  # what the turns have brought is sure
            return
    w.facing = w.side = stated
    k.side_known = k.side_sure = True


def _side_told(k: Knitter) -> bool:
    """Whether a label of this section was told to be of the other side already."""
    first = next((line.offset for i, line in k.queue if i == k.section), 0)
    return any(f.code == problems.SideDiffers.code and f.span.start >= first for f in k.findings.sorted())


def _garter_so_far(k: Knitter) -> bool:
    """Whether every stitch since the cast-on was knitted: no row then shows its side."""
    k.worker.flush()
    since = k.entries[k.pieces[-1][1]].stitches_so_far if k.pieces and k.entries else 0
    ops = k.grower.buf["op"][since : k.grower.n]
    return bool(len(ops)) and bool((ops == k.worker.op(dictionary().stitches["k"])).all())


def side_ahead(k: Knitter) -> int | None:
    """The side of the next row that follows from the next printed side, counting rows back from it."""
    k.track.closed = True  # the answer depends on the lines to come
    n = 0
    for i, line in k.queue[k.at : k.at + 40]:
        if i != k.section:
            return None
        label = line.label
        if label is None:
            if any(isinstance(a, WORKING) for a in line.actions):
                n += 1
            for a in line.actions:
                if isinstance(a, STATEMENTS):
                    return None
            continue
        if label.side is not None and not label.rule:
            side = 0 if label.side is Side.RS else 1
            return side ^ ((n + 1) % 2)
        n += max(len(label.numbers), 1)
    return None


def settle_short(k: Knitter, part: Sequence[tree.Action]) -> None:
    """The last row stopped before its end without a turn. What follows tells what was meant."""
    if k.pending is None:
        return
    uses, there, span, entry, name = k.pending
    k.pending = None
    w = k.worker
    nd = w.needles
    c = k.measure.all(part)
    rest = len(nd.left)
    if k.info.number is None and not k.info.label and c is not None and c[0] == rest:
        return  # the words go on in the same row
    if c is not None and c[0] == len(nd.right) and c[0] != rest + len(nd.right):
        gap(k, entry)
        nd.turn()
        w.facing ^= 1
        return
    findings_short(k, uses, there, span, name)
    move_over(k)


def findings_short(k: Knitter, uses: int, there: int, span: Span, name: str) -> None:
    """Say that a row left stitches over."""
    if k.trial:
        raise Evidence(good=False)
    if k.unproved:
        return
    k.unproved = k.ever_unproved = True
    k.bad.add(k.entries[-1].copied.line if k.entries[-1].copied else k.entries[-1].line)
    if not k.miscounted:
        k.miscounted = True
        k.findings.report(problems.CountDiffers(name, uses, there), span)


def move_over(k: Knitter) -> None:
    """Loops that a row left over pass to the right needle unworked."""
    pass_left_over(k.worker.needles)
    k.ended = True


def pass_left_over(nd: Needles) -> None:
    """All loops of the left needle pass to the right one as they are, markers with them; gaps go."""
    nd.right = np.concatenate([nd.right, nd.left[::-1]])
    total = len(nd.right)
    nd.right_marks += [b.moved(total - b.at) for b in reversed(nd.left_marks) if b.kind == "marker"]
    nd.left, nd.left_marks = nd.left[:0], []


def settle(k: Knitter) -> None:
    """Nothing more is worked in the last row: if it stopped short, say so."""
    if k.pending is not None:
        uses, there, span, _, name = k.pending
        k.pending = None
        if len(k.worker.needles.left):
            findings_short(k, uses, there, span, name)
            move_over(k)


def gap(k: Knitter, order: int) -> None:
    """Remember the gap that the turn of row ``order`` leaves between the loops worked and those left."""
    nd = k.worker.needles
    if len(nd.left):
        nd.left_marks = [b for b in nd.left_marks if not (b.kind == "gap" and b.at == len(nd.left))]
        nd.left_marks.append(Boundary("gap", len(nd.left), turned_on=order))


def turn(k: Knitter, step: tree.Turn) -> None:
    """Turn in the course of a row: the row is done, what is left stays unworked."""
    w = k.worker
    nd = w.needles
    if not k.open:
        turn_between(k, step)
        return
    c = w.count
    if not (len(nd.right) or c.touched or c.made or c.held or c.returned or c.lost or step.slide):
        if all(begun <= 1 for _, begun, _ in w.frames):
            return  # "(turn, p14) 8 times": the turn between rows, told with the row that follows it
        k.report(problems.TurnedAtOnce(w.row_name), step.span)
        end_row(k)
        return
    if step.leave is not None:
        w.look("C031")
        leave = k.measure.number(step.leave)
        if leave != len(nd.left):
            k.report(problems.LeavesDiffers(w.row_name, leave, len(nd.left)), step.span)
    w.act("turn", w.span_id(step.span))
    if step.how is tree.TurnHow.WRAP and len(nd.left) and len(nd.right):
        k.grower.join(int(nd.right[-1]), int(nd.left[-1]), Link.WRAPPED)
    if step.how is not tree.TurnHow.PLAIN:
        w.look("C033")
    if step.slide:
        end_row(k)
        if k.ended:
            k.ended = False
            nd.come_round()
        return
    if nd.ring and not len(nd.left) and w.right_at_start and k.ring_turned:
        # what lies beyond the start of the round stays unworked on the far side; stitches that wait on this
        # side of it, as those at the other edge of a heel, stay where they are
        starts = [b.at for b in nd.right_marks if b.kind == "start" and b.at <= w.right_at_start]
        nd.pull_round(max(starts, default=w.right_at_start))
    gap(k, k.order)
    end_row(k, turned=True)
    nd.turn()
    w.facing ^= 1
    k.ended = False


def turn_between(k: Knitter, step: tree.Turn) -> None:
    """Turn between rows: "Turn." that stands alone."""
    if step.never:
        return
    w = k.worker
    nd = w.needles
    if step.slide:
        if k.ended:
            k.ended = False
            nd.come_round()
        return
    if k.ended:
        k.ended = False
        if nd.ring:
            nd.come_round()
        nd.turn()
        if k.first_side is None:
            w.facing ^= 1
        return
    if k.pending is not None:
        _, _, _, order, _ = k.pending
        k.pending = None
        gap(k, order)
        nd.turn()
        w.facing ^= 1


_SET = 2
"""Stitches cast on over so many needles, and then worked in rounds, are a ring."""


def ring_of_needles(k: Knitter) -> bool:
    """In words: ``Cast 48 stitches on three needles. Rib 20 rounds.``: a round after a cast-on over a set of
    needles joins them; whether it did.
    """
    nd = k.worker.needles
    if nd.ring or not k.pieces or not nd.live or k.cast_over < _SET:
        return False
    if [e.kind for e in k.entries[k.pieces[-1][1] :]] != [Kind.CAST_ON]:
        return False
    settle(k)
    nd.ring = True
    nd.come_round()
    k.ended, k.first_side, k.side_known = False, 0, True
    return True


def part_of_ring(k: Knitter) -> None:
    """Rows with a side, worked while part of the round is on hold, go back and forth: a heel flap.

    A round after them joins the work again; so does one after a cast-on over a set of needles.
    """
    nd = k.worker.needles
    if not nd.ring and k.info.unit is tree.Unit.ROUND and k.pieces and nd.live:
        so_far = [e.kind for e in k.entries[k.pieces[-1][1] :]]
        if ring_of_needles(k):
            pass
        elif any(kind in {Kind.JOIN, Kind.ROUND} for kind in so_far):
            ready(k)
            nd.ring = True
            k.ring_turned = False
        else:
            ring_again(k)
        return
    if not (nd.ring and k.info.unit is tree.Unit.ROW and k.info.side is not None):
        return
    if any(h.piece == k.worker.piece for h in nd.holders):
        ready(k)
        nd.ring = False
        if k.first_side is None:
            k.first_side = 0


def open_row(k: Knitter, part: Sequence[tree.Action], *, extends: bool = False) -> None:
    """Begin a row: turn if the last one is done, find the side, start counting."""
    w = k.worker
    nd = w.needles
    if k.pending is not None:
        settle_short(k, part)
    back = others_back(k, part)
    part_of_ring(k)
    if k.ended and not extends:
        ready(k)
    if k.watch is not None and k.heard is None and not k.trial:
        k.watch(k, part)
    if k.rows_worked > MOST_ROWS:
        k.report(problems.TooMuchKnitting(f"more than {MOST_ROWS:,} rows"), k.info.span_rel())
        raise TooMuch
    k.rows_worked += 1
    k.order += 1
    w.order = k.order
    k.open = True
    line, taken_up = k.taken_up
    taken_up = taken_up if line == k.info.line else 0
    k.taken_up = (0, 0)
    taken_up += back
    w.count = Counters(start=nd.live - taken_up, returned=taken_up)
    w.loop_waits = False
    w.row_name = k.info.name_of_row()
    some_only(k, part)
    w.right_at_start, w.last_taken = len(nd.right), -1
    side(k, extends=extends)


_ROW, _ROUND, _BIND_OFF, _PICK_UP, _CAST_ON = Kind.ROW, Kind.ROUND, Kind.BIND_OFF, Kind.PICK_UP, Kind.CAST_ON


def end_row(k: Knitter, *, turned: bool = False) -> None:
    """The row is done: enter it in the ledger."""
    if not k.open:
        return
    w = k.worker
    try:
        w.flush()
    except Stop:
        give_up_row(k)
    k.open = False
    nd, c, info = w.needles, w.count, k.info
    live = nd.live
    start_mark = bool(nd.left_marks) and any(
        b.kind == "start" and b.at == len(nd.left) for b in nd.left_marks
    )
    whole = len(nd.left) == 0 or start_mark
    if not len(nd.left) and nd.left_marks and not nd.ring:
        nd.pass_edge_marks()
    unworked = min(info.left_behind, live) if info.gave_up else len(nd.left)
    unread = info.quiet and bool(
        info.label
    )  # it cannot be worked, but it is a row, and the next one faces accordingly
    if not (c.touched or c.made or c.held or c.returned or c.lost or unread):
        k.order -= 1
        k.rows_worked -= 1
        k.ended = k.ended or whole
        return
    kind = _ROW
    if c.cast_on and not c.touched and not c.picked_up and not c.returned:
        kind = _CAST_ON
    elif c.touched == 0 and c.picked_up and not c.returned:
        kind = _PICK_UP
    elif live == 0 and c.bound_off:
        kind = _BIND_OFF
    elif nd.ring and not turned and whole and not w.facing:
        kind = _ROUND
    if nd.ring:
        k.ring_turned = turned or (k.ring_turned and not (whole and not w.facing))
    if c.edge_first >= 0 and not nd.ring and (kind is _ROW or kind is _BIND_OFF):
        edges(k, c, whole=whole)
    side = None if w.side == 2 else (Side.WS if w.side else Side.RS)
    entry = Entry(
        order=k.order, kind=kind, label=info.label, number=info.number, section=k.heading,
        pass_=pass_of(k, info), side=None if kind is _CAST_ON else side, start=c.start, worked=c.worked,
        unworked=unworked, made=c.made, lost=c.lost, held=c.held, returned=c.returned, end=live,
        gaps=gaps_on(nd, w.facing), markers=markers_on(nd) if live else (), line=info.line, span=info.span,
        copied=info.copied, stated=c.stated, unread=info.quiet, first=c.first, last=c.last,
        stitches_so_far=k.grower.n, yarns=(k.grower.yarns[w.yarn],),
        ridges_right=w.edges.right.ridges, ridges_left=w.edges.left.ridges,
        chains_right=w.edges.right.chains, chains_left=w.edges.left.chains,
    )  # fmt: skip
    enter(k, entry)
    if kind is _ROW or kind is _ROUND or kind is _BIND_OFF:
        w.look("C001")
    if kind is _ROW or kind is _ROUND:
        remember(k, entry, info)
    if turned:
        return
    if whole:
        k.ended = True
        if start_mark:
            nd.come_round()
            k.ended = False
    elif nd.live and kind not in {_PICK_UP, _CAST_ON} and info.quiet:
        k.unproved = k.ever_unproved = True
        move_over(k)
    elif (
        nd.live
        and kind not in {_PICK_UP, _CAST_ON}
        and not (c.picked_up and not c.touched)
        and not (c.returned and not c.worked and not c.start)  # taken up, with some cast on: not worked yet
    ):
        uses = c.worked
        k.pending = (uses, uses + len(nd.left), info.span, entry.order, info.name_of_row())
    else:
        k.ended = kind is _PICK_UP or (kind is _CAST_ON and not len(nd.left))
    if live == 0:
        end_piece(k)


def pass_of(k: Knitter, info: Info) -> int:
    """Which working of these words this is: one more than the last when an earlier row is worked again."""
    key = (k.heading, info.line, info.label)
    n = k.passes.get(key, 0)
    if info.new_pass or n == 0:
        n += 1
        k.passes[key] = n
    info.new_pass = False
    return n


def edges(k: Knitter, c: Counters, *, whole: bool) -> None:
    """Remember the first and last stitch of a row as its edges, where it begins or ends at one: a row begun
    at a turn has stitches beside it.
    """
    w, made = k.worker, k.grower.buf
    begin, end = (w.edges.left, w.edges.right) if w.facing else (w.edges.right, w.edges.left)
    first, last = -1 if w.right_at_start else c.edge_first, c.edge_last if whole else -1
    for edge, stitch in ((begin, first), (end, last)):
        if stitch >= 0:
            slipped = int(made["row"][stitch]) != k.order
            edge.add(stitch, slipped=slipped, bump=int(made["seen"][stitch]) == Seen.PURL)


def gaps_on(nd: Needles, facing: int) -> tuple[Gap, ...]:
    """The gaps on the needles, told from the right edge (in a ring, its start) as seen on the right side."""
    if not (nd.left_marks or nd.right_marks):
        return ()
    total = nd.live

    def from_right(b: Boundary, *, on_left: bool) -> int:
        along = total - b.at if on_left else b.at  # from the bottom of the right needle, in working order
        return total - along if facing else along

    start = 0
    places = [(b, True) for b in nd.left_marks] + [(b, False) for b in nd.right_marks]
    for b, on_left in places:
        if b.kind == "start":
            start = from_right(b, on_left=on_left)
    round_ = max(total, 1) if nd.ring else total + 1
    gaps = [
        Gap((from_right(b, on_left=on_left) - start) % round_, b.turned_on)
        for b, on_left in places
        if b.kind == "gap"
    ]
    return tuple(sorted(gaps, key=lambda g: g.from_right_rs))


def markers_on(nd: Needles) -> tuple[MarkAt, ...]:
    """The markers on the needles, in the order the next row meets them."""
    if not (nd.left_marks or nd.right_marks):
        return ()
    right = len(nd.right)
    if nd.ring:
        ahead = [b for b in reversed(nd.left_marks) if b.kind == "marker"]
        return (
            *(MarkAt(b.name, b.at) for b in nd.right_marks if b.kind == "marker"),
            *(MarkAt(b.name, right + len(nd.left) - b.at) for b in ahead),
        )
    # turned, the loops just worked come first, the last of them on top; then those that were left
    return (
        *(MarkAt(b.name, right - b.at) for b in reversed(nd.right_marks) if b.kind == "marker"),
        *(MarkAt(b.name, right + b.at) for b in nd.left_marks if b.kind == "marker"),
    )


def enter(k: Knitter, entry: Entry) -> None:
    """Add an entry to the ledger."""
    if not k.pieces:
        begin_piece(k)
    k.entries.append(entry)
    k.marks.append(_marks_of(k, entry))
    k.piece_bound_off[-1] += k.worker.count.bound_off


def remember(k: Knitter, entry: Entry, info: Info) -> None:
    """Keep a worked row, to be referred to later."""
    row = Row(
        info.number, info.name.lower(), info.label, tuple(info.actions), info.line, info.offset, info.span,
        k.section, info.unit, entry.order, k.block, entry.start, entry.end, k.worker.facing,
    )  # fmt: skip
    last = k.history[-1] if k.history else None
    if (
        last is not None
        and last.line == row.line
        and last.label == row.label
        and last.actions is row.actions
        and info.part
    ):
        return
    k.history.append(row)
    info.part = True
    if not info.passive and info.number is not None:
        extend_cycle(k, row)


def extend_cycle(k: Knitter, row: Row) -> None:
    """Keep the rows of the pattern as set, so that "in pattern" knows which comes next."""
    if k.cycle and (k.cycle[-1].block != row.block or k.cycle[-1].section != row.section):
        k.cycle, k.cycle_place = [], {}
    if row.number is not None:
        i = k.cycle_place.get(row.number)
        if i is not None:
            k.cycle[i] = row
            k.cycle_at = (i + 1) % len(k.cycle)
            return
        k.cycle_place[row.number] = len(k.cycle)
    k.cycle.append(row)
    k.cycle_at = 0
    k.base = None


def next_as_set(k: Knitter, how: str = "set") -> AsSet | None:
    """The row that comes next in the pattern as set; None if no pattern is.

    how : "even" if nothing is shaped, so that rows that leave more stitches or fewer each time are no pattern
    to go on in; "rib" to take up a rib again after other rows.
    """
    even = how == "even"
    if how == "rib" and (ribbed := _rib_before(k)) is not None:
        return ribbed
    if k.base_row is not None:
        return k.base_row
    if k.base_here is not None:
        return None if _leans_on_pattern(k.base_here) else (k.base_here, k.worker.offset)
    if k.base is not None:
        return None if _leans_on_pattern(k.base[0]) else k.base
    r = _charted_row(k)
    if r is None:
        if not k.cycle or (even and sum(r.end - r.start for r in k.cycle) != 0):
            return None
        r = next_of_cycle(k)
        if k.info.advance_order != k.order:
            k.info.advance_order = k.order
            k.cycle_at = (k.cycle_at + 1) % len(k.cycle)
        if k.info.own_shaping and r.start != r.end and sum(c.end - c.start for c in k.cycle) != 0:
            return None
    steps = tuple(
        replace(s, row=None) if isinstance(s, tree.Call) and s.row is not None else s
        for s in steps_of(r.actions)
    )  # the chart goes on with its next row
    return None if _leans_on_pattern(steps) else (steps, r.offset)


def _rib_before(k: Knitter) -> AsSet | None:
    """The last row of rib on this side, if rows of another kind were worked since; None while it goes on."""
    if not k.history or _is_rib(k.history[-1]):
        return None
    ring, facing = k.worker.needles.ring, k.worker.facing
    for r in reversed(k.history):
        if _is_rib(r) and (ring or r.facing == facing):
            return steps_of(r.actions), r.offset
    return None


def _is_rib(r: Row) -> bool:
    """Whether a row is worked in rib: one named so, or knits and purls in turn and nothing else."""
    steps = [x for x in tree.walk(steps_of(r.actions)) if isinstance(x, tree.Work | tree.InGround)]
    if any(isinstance(x, tree.InGround) for x in steps):
        return all(isinstance(x, tree.InGround) and "rib" in x.ground for x in steps)
    return {x.stitch for x in steps if isinstance(x, tree.Work)} == {"k", "p"}


def _charted_row(k: Knitter) -> Row | None:
    """The row without a number that last called a chart, if all rows since went on as set."""
    for r in reversed(k.history):
        if r.number is None and any(isinstance(a, tree.Call) for a in r.actions):
            return r
        if r.number is not None or not all(isinstance(a, tree.InPattern) for a in r.actions):
            return None
    return None


def give_up_row(k: Knitter) -> None:
    """The rest of the row cannot be worked.

    Move what is left over, so that the next row has a whole needle.
    """
    nd = k.worker.needles
    k.unproved = k.ever_unproved = True
    k.info.gave_up = True
    if len(nd.left):
        k.info.left_behind = len(nd.left)
        pass_left_over(nd)


_SHAPED = (tree.InPattern, tree.AtEdges, tree.Evenly, tree.RowRef, tree.CastOn, tree.BindOff, tree.Turn)


def _leans_on_pattern(steps: Sequence[tree.Action]) -> bool:
    """Whether a row is itself told by the pattern as set, or is shaped, so that it cannot be the pattern."""
    return any(isinstance(x, _SHAPED) for x in tree.walk(tuple(steps)))


def _marks_of(k: Knitter, entry: Entry) -> frozenset[str]:
    """What a length may later be measured from."""
    c, w = k.worker.count, k.worker
    row = entry.kind is _ROW or entry.kind is _ROUND
    out = set()
    if row and (entry.held or c.cast_on or c.bound_off):
        out.add("divide")
    if entry.kind is Kind.JOIN:
        out.add("join")
    if w.ribbed == entry.order or "rib" in entry.section.lower():
        out.add("rib")
    if w.marked == entry.order:
        out.add("marker")
    if c.picked_up:
        out.add("pick up")
    if row and (entry.made or entry.lost):
        out.add("shaping")
    return frozenset(out)
