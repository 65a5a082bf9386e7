"""Statements over rows: so many rows alike, repeats of rows, shaping, joins and closings.

In: a statement of the tree and the knitter at work. Out: rows worked, entries in the ledger. How a row is worked
is left to ``knit`` and ``worker``.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, assert_never

import numpy as np

from purlwright.fabric.arrays import Int32, Link
from purlwright.needles import problems
from purlwright.needles.counts import stated
from purlwright.needles.edges import edge_stitches
from purlwright.needles.hands import Counters
from purlwright.needles.holding import take_held
from purlwright.needles.ledger import Entry, Kind
from purlwright.needles.lookup import rows_of
from purlwright.needles.loops import Boundary
from purlwright.needles.pieces import begin_piece, end_piece
from purlwright.needles.rowends import end_row, enter, ready, settle
from purlwright.needles.state import Evidence, Info, Row, TooMuch
from purlwright.needles.trial import restore, save
from purlwright.pattern import tree
from purlwright.pattern.tree import Side

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter, Row
    from purlwright.text import Span

__all__ = ["work_statement"]

MOST_TIMES = 20_000
_MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "in": Fraction(254, 10),
    "m": Fraction(1000),
    "yd": Fraction(9144, 10),
}


def work_statement(k: Knitter, s: tree.Statement, rest: Sequence[tree.Action], line: tree.Line) -> None:
    """Work one statement; ``rest`` are the actions that follow it in its line."""
    match s:
        case tree.WorkRows():
            _work_rows(k, s)
        case tree.RepeatRows():
            _repeat_rows(k, s, rest, line)
        case tree.Shaping():
            _shaping(k, s)
        case tree.Again():
            _again(k, s, line)
        case tree.AtSameTime():
            _at_same_time(k, s, rest, line)
        case tree.JoinRound():
            _join_round(k, s)
        case tree.Rejoin():
            _rejoin(k, s)
        case tree.Resume():
            _resume(k, s)
        case tree.Close():
            _close(k, s)
        case tree.Gather():
            _gather(k, s)
        case tree.Arrange():
            _arrange(k, s)
        case _:
            assert_never(s)


# --- one row by given steps --------------------------------------------------------------------------


def _row(k: Knitter, steps: Sequence[tree.Action], *, passive: bool = False) -> bool:
    """Work one row by ``steps``. False when nothing could be worked."""
    before = len(k.entries)
    k.info.passive = passive
    k.info.part = False
    actions = k.info.actions
    k.info.actions = tuple(steps)
    k.group(steps)
    end_row(k)
    k.info.actions = actions
    k.info.passive = False
    k.info.gave_up, k.info.left_behind = False, 0
    return len(k.entries) > before


def _replay(k: Knitter, r: Row, *, new_pass: bool = True) -> bool:
    """Work an earlier row once more, under its own label and line."""

    was, offset = k.info, k.worker.offset
    k.info = Info(
        label=r.label, number=r.number, line=r.line, offset=r.offset, unit=r.unit, span=r.span, name=r.name,
        actions=r.actions, new_pass=new_pass, quiet=any(isinstance(a, tree.Unread) for a in r.actions),
    )  # fmt: skip
    k.info.quiet = k.info.quiet or r.line in k.bad
    k.worker.offset = r.offset
    before = len(k.entries)
    k.group([a for a in r.actions if not isinstance(a, (tree.Stated, *_OVER_ROWS))])
    end_row(k)
    k.info, k.worker.offset = was, offset
    if r.number is not None:
        k.last_number = r.number
    return len(k.entries) > before


_OVER_ROWS = (
    tree.WorkRows, tree.RepeatRows, tree.Shaping, tree.Again, tree.AtSameTime, tree.JoinRound, tree.Rejoin, tree.Resume,
    tree.Close, tree.Gather, tree.Arrange,
)  # fmt: skip
_PLAIN: tuple[tree.Step, ...] = (tree.InPattern(),)


# --- until --------------------------------------------------------------------------------------------


def _rows_for(k: Knitter, length: tree.Length, *, since_start: bool, span: Span) -> int | None:
    """How many rows (more) make a length, by the gauge; None if nobody can tell."""
    values = length.values
    value = values[0] if len(values) == 1 else (values[k.size] if k.size < len(values) else None)
    if not values or value is None or length.less:
        k.report(problems.LengthLeftToKnitter(), span)
        return None
    rate = _row_rate(k)
    if rate is None:
        words = length.words or f"{float(value):g} {length.unit}"
        k.report(problems.LengthNeedsGauge(words), span)
        return None
    rows = value * _MM.get(length.unit, Fraction(10)) * rate
    total = int(rows + Fraction(1, 2))
    if since_start:
        first = k.pieces[-1][1] if k.pieces else 0
        total -= sum(1 for e in k.entries[first:] if e.kind in {Kind.ROW, Kind.ROUND})
    return max(total, 0)


def _row_rate(k: Knitter) -> Fraction | None:
    """Rows per millimetre, from the first gauge that gives rows."""
    for g in k.pattern.gauges:
        over = g.rows_over or g.over
        if g.rows is None or over is None or not over.values or over.values[0] is None:
            continue
        mm = over.values[0] * _MM.get(over.unit, Fraction(10))
        if over.unit == "in":
            mm = over.values[0] * 25
        if mm > 0:
            return g.rows / mm
    return None


def _since_start(until: tree.Until) -> bool:
    return until.since not in {"", "here", "for"}


def _repeat_until(
    k: Knitter,
    until: tree.Until,
    once: Callable[[], bool],
    span: Span,
    *,
    rows_each: int = 1,
    first_done: bool = False,
) -> None:
    """Work ``once`` until the words say stop: a count, a length, a number of rows, a side."""
    k.worker.look("C022")
    if until.stitches is not None:
        _until_stitches(k, until, once, span)
    elif until.length is not None:
        rows = _rows_for(k, until.length, since_start=_since_start(until), span=span)
        if rows is None:
            if not first_done:
                once()
        else:
            if rows > MOST_TIMES:
                k.report(problems.TooMuchKnitting(f"{rows:,} rows"), span)
                return
            done = 0
            while done + rows_each / 2 <= rows and done < MOST_TIMES:
                if not once():
                    break
                done += rows_each
    elif until.rows is not None:
        want = until.rows.at(k.size) or 0
        have = 0 if not until.since else sum(1 for r in k.history if r.section == k.section)
        for _ in range(min(max(want - have, 0) // max(rows_each, 1), MOST_TIMES)):
            if not once():
                break
    elif until.times is not None:
        want = until.times.at(k.size) or 0
        done = 1 if first_done else 0
        for _ in range(min(max(want - done, 0), MOST_TIMES)):
            if not once():
                break
    elif not first_done:
        once()
    _end_on(k, until, once, span, rows_each)


def _until_stitches(k: Knitter, until: tree.Until, once: Callable[[], bool], span: Span) -> None:
    want = until.stitches.at(k.size) if until.stitches is not None else None
    if want is None:
        return
    nd = k.worker.needles
    nearest = nd.live
    still = 0
    for _ in range(MOST_TIMES):
        if nd.live == want:
            if k.trial:
                return
            k.unproved = False
            return
        was = nd.live
        if (was < want) != (nd.live < want):
            break
        if not once():
            break
        if abs(nd.live - want) < abs(nearest - want):
            nearest = nd.live
        still = still + 1 if nd.live == was else 0
        if still > 60 or (was - want) * (nd.live - want) < 0 or abs(nd.live - want) > abs(was - want) + 40:
            break
    if nd.live != want:
        k.report(problems.NeverReached(want, nearest), span)


def _end_on(k: Knitter, until: tree.Until, once: Callable[[], bool], span: Span, rows_each: int) -> None:
    """Meet "ending with a WS row" and "ending with row 4", or say that they are not met."""
    if until.side is not None and k.entries and not k.worker.needles.ring:
        last = k.entries[-1].side
        want = until.side if until.worked else (Side.WS if until.side is Side.RS else Side.RS)
        if last is not None and last is not want:
            if (
                (until.length is not None or until.stitches is None)
                and rows_each == 1
                and until.rows is None
                and until.times is None
            ):
                once()
            else:
                k.report(
                    problems.EndingSideDiffers(k.info.name_of_row(), f"a {want} row", f"a {last} row"), span
                )
    if until.ending_row is not None and k.history:
        row = k.history[-1].number
        if row != until.ending_row:
            rows = _rows_up_to(k, until.ending_row)
            for r in rows:
                _replay(k, r)


def _rows_up_to(k: Knitter, number: int) -> list[Row]:
    """The rows of the block in work that come after the last one worked, up to row ``number``."""
    last = k.history[-1].number
    out: list[Row] = []
    top = {
        r.number: r
        for r in k.history
        if r.section == k.section and r.block == k.block and r.number is not None
    }
    if number not in top or last is None:
        return []
    order = sorted(n for n in top if n is not None)
    start = order.index(last) + 1 if last in order else 0
    for i in range(len(order)):
        n = order[(start + i) % len(order)]
        out.append(top[n])
        if n == number:
            return out
    return []


# --- rows alike ------------------------------------------------------------------------------------------


def _work_rows(k: Knitter, s: tree.WorkRows) -> None:
    bodies: Sequence[Sequence[tree.Step]] = s.alternate or (s.body or _PLAIN,)
    as_set = not s.alternate and not s.body
    turn = 0
    if s.side is not None and k.info.side is None:
        k.info.side = s.side

    def once() -> bool:
        nonlocal turn
        body = bodies[turn % len(bodies)]
        turn += 1
        if not as_set:
            k.base = tuple(body) if len(bodies) == 1 else None
        done = _row(k, body, passive=True)
        k.info.side = None
        return done

    if s.rows is not None:
        n = s.rows.at(k.size) or 0
        if n > MOST_TIMES:
            k.report(problems.TooMuchKnitting(f"{n:,} rows"), s.span)
            return
        for _ in range(n):
            if not once():
                break
        if s.until is not None:
            _end_on(k, s.until, once, s.span, 2)
    elif s.until is not None:
        _repeat_until(k, s.until, once, s.span)
    else:
        once()
    if not as_set and len(bodies) == 1:
        k.base = tuple(b for b in bodies[0] if not isinstance(b, tree.Yarn))
    elif not as_set:
        k.base = None


# --- repeats of rows ----------------------------------------------------------------------------------------


def _repeat_rows(k: Knitter, s: tree.RepeatRows, rest: Sequence[tree.Action], line: tree.Line) -> None:
    if s.define:
        return
    k._before_line(line)  # noqa: SLF001 - the block these rows belong to is complete first
    rows = rows_of(k, s.rows, s.span)
    if not rows:
        return
    times = s.times.at(k.size) if s.times is not None else None
    if s.times is not None and times is None:
        return
    if times is not None and times * len(rows) > MOST_TIMES:
        k.report(problems.TooMuchKnitting(f"{times * len(rows):,} rows"), s.span)
        return

    def once() -> bool:
        done = False
        for r in rows:
            done = _replay(k, r) or done
        return done

    if s.until is not None and times is None:
        if s.until.rows is not None and not s.until.since:
            _until_rows(k, s.until, rows)
        else:
            _repeat_until(k, s.until, once, s.span, rows_each=len(rows), first_done=True)
        return
    if times is None:
        once()
    else:
        for _ in range(_how_often(k, s, times, rows, rest, once)):
            if not once():
                break
    if s.until is not None:
        _end_on(k, s.until, once, s.span, len(rows))


def _until_rows(k: Knitter, until: tree.Until, rows: Sequence[Row]) -> None:
    """ "Repeat rows 1 and 2 until 45 rows are done": row by row."""
    want = until.rows.at(k.size) if until.rows is not None else None
    have = sum(1 for r in k.history if r.section == k.section and r.block == k.block)
    i = 0
    while want is not None and have < min(want, MOST_TIMES):
        if not _replay(k, rows[i % len(rows)]):
            return
        i += 1
        have += 1


def _how_often(
    k: Knitter,
    s: tree.RepeatRows,
    times: int,
    rows: Sequence[Row],
    rest: Sequence[tree.Action],
    once: Callable[[], bool],
) -> int:
    """How many more workings "n times" means here."""
    just_done = bool(k.history) and k.history[-1].entry == rows[-1].entry
    k.worker.look("C026")
    if not just_done or s.said is tree.Said.MORE:
        return times
    if s.said is tree.Said.IN_ALL:
        return max(times - 1, 0)
    if times <= 1:
        return times
    if k.trial:
        return times
    changes = any(r.start != r.end for r in rows) or any(
        e.start != e.end for e in k.entries if e.line in {r.line for r in rows}
    )
    more, total = _try(k, times, once, rest), _try(k, times - 1, once, rest)
    if more is True and total is not True:
        return times
    if total is True and more is not True:
        return times - 1
    if more is None and total is False:
        return times
    if total is None and more is False:
        return times - 1
    if more is not False or not changes:
        k.report(problems.AmbiguousTimes(times, len(rows)), s.span)
    return times


def _try(k: Knitter, times: int, once: Callable[[], bool], rest: Sequence[tree.Action]) -> bool | None:
    """Work ``times`` repeats and go on until a printed count (or a row that does not come out) tells; then put all back."""

    state = save(k)
    kept, k.findings = k.findings, type(k.findings)()
    k.trial += 1
    info = k.info
    answer: bool | None = None
    try:
        for _ in range(times):
            if not once():
                break
        for a in rest:
            if isinstance(a, tree.Stated):
                stated(k, a)
        k.run_queue()
    except Evidence as e:
        answer = e.good
    except TooMuch:
        answer = None
    finally:
        k.trial -= 1
        restore(k, state)
        k.findings = kept
        k.info = info
        k.worker.offset = info.offset
        k.worker.quiet = 0
    return answer


# --- shaping ---------------------------------------------------------------------------------------------------


def _shape_steps(k: Knitter, s: tree.Shaping) -> tuple[tree.Action, ...]:
    """The steps of one shaping row: what is named, and the rest of the row as established."""
    if s.row is not None:
        return (s.row,)
    steps = s.steps
    if any(isinstance(x, tree.AtEdges) for x in steps) or any(
        isinstance(x, (tree.Fill, tree.InPattern)) for x in steps
    ):
        return steps
    c = k.measure.all(steps)
    if c is not None and not any(isinstance(x, (tree.Repeat, tree.Evenly)) for x in steps):
        return (*steps, tree.InPattern())
    return steps


def _shaping(k: Knitter, s: tree.Shaping) -> None:
    every = max(k.measure.number(s.every), 1)
    if s.length is not None:
        rows = _rows_for(k, s.length, since_start=False, span=s.span)
        every = max(rows, 1) if rows else 2
    times = s.times.at(k.size) if s.times is not None else None
    if s.times is not None and times is None:
        return
    if times is not None and s.said is tree.Said.MORE and s.start == "next":
        times += 1
    if times is not None and times * every > MOST_TIMES:
        k.report(problems.TooMuchKnitting(f"{times * every:,} rows"), s.span)
        return
    done = 0

    def once() -> bool:
        nonlocal done
        if s.start == "every" or done:
            for _ in range(every - 1):
                _row(k, _PLAIN, passive=True)
        elif s.side is not None and not k.worker.needles.ring and _next_side(k) is not s.side:
            _row(k, _PLAIN, passive=True)
        done += 1
        return _row(k, _shape_steps(k, s), passive=True)

    if times is not None:
        for _ in range(times):
            if not once():
                break
        if s.until is not None and s.until.stitches is not None:
            want = s.until.stitches.at(k.size)
            if want is not None and want != k.worker.needles.live:
                k.report(problems.TotalDiffers(k.info.name_of_row(), want, k.worker.needles.live), s.span)
    elif s.until is not None:
        _repeat_until(k, s.until, once, s.span, rows_each=every)
    else:
        once()


def _next_side(k: Knitter) -> Side:
    """The side that faces in the row to come."""
    if k.first_side is not None:
        return Side.RS if k.first_side == 0 else Side.WS
    facing = k.worker.facing ^ (1 if k.ended else 0)
    return Side.WS if facing else Side.RS


def _events(k: Knitter, s: tree.Shaping) -> Iterator[tuple[int, tuple[tree.Action, ...]]]:
    """At which rows from here a shaping happens, and its steps."""
    every = max(k.measure.number(s.every), 1)
    times = s.times.at(k.size) if s.times is not None else MOST_TIMES
    if times is None:
        return
    if s.times is not None and s.said is tree.Said.MORE and s.start == "next":
        times += 1
    at = 0 if s.start == "next" else every - 1
    if s.side is not None and s.start == "next" and _next_side(k) is not s.side and not k.worker.needles.ring:
        at += 1
    for _ in range(times):
        yield at, _shape_steps(k, s)
        at += every


def _at_same_time(k: Knitter, s: tree.AtSameTime, rest: Sequence[tree.Action], line: tree.Line) -> None:
    """Work the main statement row by row; shaping of the others falls on its rows."""
    main = s.parts[0]
    shapings = [p for p in s.parts if isinstance(p, tree.Shaping)]
    if not [p for p in shapings if p is not main]:
        for p in s.parts:
            work_statement(k, p, rest, line)
        return
    waiting = [iter(_events(k, p)) for p in shapings]
    due = [next(ev, None) for ev in waiting]
    rows = _rows_beside(k, main)
    for i in range(MOST_TIMES):
        row = next(rows, None)
        if row is None and not (isinstance(main, tree.Shaping) and any(due)):
            break
        now: list[tree.Action] = []
        for j, ev in enumerate(waiting):
            event = due[j]
            if event is not None and event[0] == i:
                now.extend(event[1])
                due[j] = next(ev, None)
        if not _shaped(k, row, now):
            return


def _rows_beside(k: Knitter, main: tree.Statement) -> Iterator[Row | Sequence[tree.Action]]:
    """The rows of the main statement, one after the other: earlier rows worked again, or steps."""
    if isinstance(main, tree.RepeatRows):
        rows = k_rows = rows_of(k, main.rows, main.span)
        times = main.times.at(k.size) if main.times is not None else 1
        if times is None or not k_rows:
            return
        if main.said is tree.Said.IN_ALL and k.history and k.history[-1].entry == rows[-1].entry:
            times -= 1
        for _ in range(min(times, MOST_TIMES)):
            yield from rows
    elif isinstance(main, tree.WorkRows):
        body: Sequence[tree.Action] = main.body or _PLAIN
        if main.body:
            k.base = tuple(main.body)
        for _ in range(_rows_of_main(k, main) or 0):
            yield body


def _shaped(k: Knitter, row: Row | Sequence[tree.Action] | None, now: Sequence[tree.Action]) -> bool:
    """Work one row of the main statement with the shaping that falls on it."""
    edges = [a for a in now if isinstance(a, tree.AtEdges)]
    steps = list(_merge(edges)) if edges and len(edges) == len(now) else list(now)
    if isinstance(row, tuple | list) or row is None:
        return _row(k, steps or row or _PLAIN, passive=True)
    if not steps:
        return _replay(k, row)  # type: ignore[arg-type]
    k.base_row = tuple(a for a in row.actions if not isinstance(a, (*_OVER_ROWS, tree.Stated, tree.Note)))  # type: ignore[union-attr]
    try:
        return _replay(k, dataclasses.replace(row, actions=tuple(steps)))  # type: ignore[type-var]
    finally:
        k.base_row = None


def _merge(edges: Sequence[tree.AtEdges]) -> list[tree.Action]:
    """Two shapings at the edges of one row become one step: both ends, if they are at different ends."""
    if len(edges) == 1:
        return list(edges)
    a = edges[0]
    total = sum(e.count.values[0] or 0 for e in edges)
    if {e.where for e in edges} in ({"neck edge", "armhole edge"}, {"beginning", "end"}) and all(
        e.change == a.change and e.count.values == a.count.values for e in edges
    ):
        return [
            tree.AtEdges(
                change=a.change,
                where="each end",
                count=a.count,
                stitch=a.stitch,
                inside=a.inside,
                span=a.span,
            )
        ]
    return [
        tree.AtEdges(
            change=a.change,
            where=a.where,
            count=tree.Number(values=(total,)),
            stitch=a.stitch,
            inside=a.inside,
            span=a.span,
        )
    ]


def _rows_of_main(k: Knitter, main: tree.Statement) -> int | None:
    """How many rows the main statement has; None if only the others' end ends it."""
    if isinstance(main, tree.WorkRows):
        if main.rows is not None:
            return main.rows.at(k.size) or 0
        if main.until is not None and main.until.length is not None:
            return _rows_for(k, main.until.length, since_start=_since_start(main.until), span=main.span)
    return None


# --- joins, closings ----------------------------------------------------------------------------------------------


def _plain_entry(k: Knitter, kind: Kind, *, lost: int = 0, worked: int = 0, start: int | None = None) -> None:
    """An entry that is no row."""
    live = k.worker.needles.live
    k.order += 1
    begin = live + lost if start is None else start
    k.worker.count = Counters(bound_off=lost if kind is Kind.BIND_OFF else 0)
    side = None
    enter(
        k,
        Entry(
            order=k.order,
            kind=kind,
            label=k.info.label,
            section=k.heading,
            side=side,
            start=begin,
            worked=worked,
            lost=lost,
            end=live,
            line=k.info.line,
            span=k.info.span,
            stitches_so_far=k.grower.n,
        ),  # fmt: skip
    )


def _join_round(k: Knitter, s: tree.JoinRound) -> None:
    nd = k.worker.needles
    if not nd.live:
        return
    settle(k)
    if nd.ring:
        return
    nd.ring = True
    if k.ended:
        # the loops lie on the right needle in the order they were made: the first made is worked first
        nd.come_round()
        k.ended = False
    elif len(nd.right):
        nd.come_round()
    k.first_side = 0
    k.side_known = True
    k.cycle, k.base = [], None
    k.worker.ground_row.clear()
    del s
    _plain_entry(k, Kind.JOIN)


def _rejoin(k: Knitter, s: tree.Rejoin) -> None:
    w = k.worker
    nd = w.needles
    settle(k)
    if s.colour is not None:
        w.yarn = k.grower.yarn(s.colour)
    if nd.holders and (s.place is not None and s.place != "" or not nd.live):
        if not nd.live:
            begin_piece(k)
        k.ended = False
        h = take_held(w, s.place or "", s.span)
        if h is not None:
            facing = (0 if s.side is Side.RS else 1) if s.side is not None else h.facing
            loops = h.loops if facing == h.facing else h.loops[::-1]
            nd.left = np.concatenate([nd.left, loops[::-1]])
            w.facing = facing
    elif k.ended:
        ready(k)
    if nd.live:
        if s.side is not None:
            k.first_side = 0 if s.side is Side.RS else 1
            k.side_known = True
        else:
            k.first_side = None
            k.side_known = nd.ring


def _resume(k: Knitter, s: tree.Resume) -> None:
    if s.side is not None:
        if k.info.side is None:
            k.info.side = s.side
        if k.first_side is not None or not k.worker.needles.ring:
            k.first_side = 0 if s.side is Side.RS else 1
    if s.flat is True and k.worker.needles.ring:
        settle(k)
        if k.ended:
            ready(k)
        k.worker.needles.ring = False
        k.first_side = k.first_side if k.first_side is not None else 0
        k.fresh_turn = True
    elif s.flat is False and not k.worker.needles.ring and k.worker.needles.live:
        _join_round(k, tree.JoinRound(span=s.span))


def _live_order(k: Knitter) -> Int32:
    nd = k.worker.needles
    return nd.order()


def _close(k: Knitter, s: tree.Close) -> None:
    w = k.worker
    nd = w.needles
    settle(k)
    w.look("C013")
    if s.how == "seam" or not (nd.live or nd.holders):
        if k.pieces:
            _plain_entry(k, Kind.SEAM if s.how == "seam" else Kind.GRAFT)
        return
    loops = _live_order(k)
    kind = Link.GRAFTED if s.how == "graft" else Link.JOINED
    other, name = _other_edge(k, s)
    n = len(loops)
    if other is None:
        half = n // 2
        a, b = loops[:half], loops[half:][::-1]
        if n % 2:
            k.report(problems.JoinDiffers(half + 1, half, _how(s)), s.span)
    else:
        a, b = loops, other
        if len(a) != len(b):
            k.report(problems.JoinDiffers(len(a), len(b), _how(s)), s.span)
    for x, y in zip(a.tolist(), b.tolist(), strict=False):
        k.grower.join(int(x), int(y), kind)
    del name
    nd.left, nd.right = nd.left[:0], nd.right[:0]
    nd.left_marks, nd.right_marks = [], []
    _plain_entry(k, Kind.GRAFT if s.how == "graft" else Kind.BIND_OFF, lost=n, worked=n)
    end_piece(k)


def _how(s: tree.Close) -> str:
    return {"graft": "graft", "three-needle": "three-needle bind-off", "seam": "seam"}[s.how]


def _other_edge(k: Knitter, s: tree.Close) -> tuple[Int32 | None, str]:
    """The second edge of a closing: an edge of the piece, or held loops."""
    w = k.worker
    for e in (s.b, s.a):
        if e is None:
            continue
        if e.kind in {"cast-on", "bound-off"}:
            ids, _, name = edge_stitches(w, e)
            if len(ids):
                return ids, name
        if e.kind == "held" and w.needles.holders:
            h = take_held(w, e.words, e.span)
            if h is not None:
                return h.loops, e.words
    if s.b is not None and w.needles.holders:
        n = w.needles.live
        for h in w.needles.holders:
            if len(h.loops) == n:
                w.needles.holders.remove(h)
                return h.loops, s.b.words
    return None, ""


def _gather(k: Knitter, s: tree.Gather) -> None:
    w = k.worker
    nd = w.needles
    settle(k)
    n = nd.live
    if n == 0:
        return
    if s.stated is not None:
        stated(k, tree.Stated(total=s.stated, span=s.stated.span if s.stated.span[1] >= 0 else s.span))
        n = nd.live
    nd.left, nd.right = nd.left[:0], nd.right[:0]
    nd.left_marks, nd.right_marks = [], []
    _plain_entry(k, Kind.BIND_OFF, lost=n, worked=n)
    end_piece(k)


def _arrange(k: Knitter, s: tree.Arrange) -> None:
    """Share the loops out over needles: remember where each needle ends."""
    nd = k.worker.needles
    settle(k)
    if k.ended and nd.ring:
        ready(k)
    total = nd.live
    sizes = [n.at(k.size) or 0 for n in s.needles]
    if not sizes and s.count is not None:
        over = max(k.measure.number(s.count), 1)
        sizes = [total // over + (1 if i < total % over else 0) for i in range(over)]
    k.worker.look("C002")
    if sizes and sum(sizes) != total:
        k.report(problems.StatedPartsDiffer(sum(sizes), total), s.span)
        return
    nd.left_marks = [b for b in nd.left_marks if b.kind != "needle"]
    nd.right_marks = [b for b in nd.right_marks if b.kind != "needle"]
    on_left = len(nd.left) == total
    at = 0
    for size in sizes[:-1]:
        at += size
        (nd.left_marks if on_left else nd.right_marks).append(
            Boundary("needle", total - at if on_left else at)
        )
    nd.left_marks.sort(key=lambda b: b.at)
    nd.right_marks.sort(key=lambda b: b.at)


def _again(k: Knitter, s: tree.Again, line: tree.Line) -> None:
    """Work whole rows over again."""
    times = s.times.at(k.size) if s.times is not None else None
    if s.times is not None and times is None:
        return
    info = k.info

    def once() -> bool:
        before = len(k.entries)
        k.info = dataclasses.replace(info, copied=None)
        k.actions(s.body, line, k.info)
        k.info = info
        return len(k.entries) > before

    if s.until is not None:
        _repeat_until(k, s.until, once, s.span)
        return
    n = times if times is not None else 1
    if s.star and s.said is not tree.Said.IN_ALL:
        n += 1
    if n > MOST_TIMES:
        k.report(problems.TooMuchKnitting(f"{n:,} repeats"), s.span)
        return
    for _ in range(n):
        if not once():
            break
