"""Shaping over many rows, alone or beside other rows.

In: a statement and the knitter at work. Out: rows worked with their increases and decreases. Where in the row
they stand is left to ``shapework``.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import structs

from purlwright.needles import problems
from purlwright.needles.again import attempt, chosen
from purlwright.needles.lookup import find_row, rows_of
from purlwright.needles.onerow import MOST_TIMES, PLAIN, one_row, replay
from purlwright.needles.state import Row, steps_of
from purlwright.needles.stopping import repeat_until, rows_for, since_of
from purlwright.pattern import tree
from purlwright.pattern.tree import Side

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


def shape_steps(k: Knitter, s: tree.Shaping) -> tuple[tree.Action, ...]:
    """The steps of one shaping row: what is named, and the rest of the row as established."""
    if s.row is not None:
        return (s.row,)
    steps = s.steps
    off = steps[0] if len(steps) == 1 else None
    if isinstance(off, tree.BindOff) and off.at == "each end" and off.count is not None:
        here = structs.replace(off, at="here")
        to = tree.Place(kind=tree.PlaceKind.END, before=off.count, span=off.span)
        return (here, tree.InPattern(to=to, span=off.span), here)
    if any(isinstance(x, tree.AtEdges) for x in steps) or any(
        isinstance(x, (tree.Fill, tree.InPattern)) for x in steps
    ):
        return steps
    c = k.measure.all(steps)
    if c is not None and not any(isinstance(x, (tree.Repeat, tree.Evenly)) for x in steps):
        return (*steps, tree.InPattern())
    return steps


def counted(s: tree.Shaping, times: int | None) -> int | None:
    """How many shaping rows are still to come, if "n times" counts them all."""
    if times is None:
        return None
    if s.said is tree.Said.MORE:
        return times + 1 if s.start == "next" else times
    return max(times - 1, 0) if s.start == "after" else times


def which_times(
    k: Knitter,
    s: tree.Shaping,
    times: int,
    afresh: Callable[[], Callable[[], bool]],
    rest: Sequence[tree.Action],
) -> int:
    """In words: ``next and every foll 4th row 3 times``: three with the first, or three after it?

    And ``rep dec rnd every 8th rnd 3 times``, just after a dec round: three more, or three with that one?
    """
    if k.trial or s.said is tree.Said.MORE or times < 1 or k.measure.number(s.every) < 2:
        return times
    if s.row is not None:
        found = find_row(k, s.row.number, s.row.name)
        if found is None or not k.history or found.entry != k.history[-1].entry:
            return times
        other, said, more = times - 1, times, True
    elif s.said is tree.Said.TIMES and s.start in {"next", "after"}:
        other, more = times + 1, False
        said = times if s.start == "next" else other
    else:
        return times
    k.worker.look("C026")
    first, second = attempt(k, times, afresh(), rest), attempt(k, other, afresh(), rest)
    if chosen(first, second):
        return times
    if chosen(second, first):
        return other
    if first is not False and s.said is tree.Said.TIMES:
        k.report(problems.AmbiguousTimes(said, 1, more), s.span)
    return times


def shaping(k: Knitter, s: tree.Shaping, rest: Sequence[tree.Action] = ()) -> None:
    """In words: ``Dec 1 st each end of next and every foll alt row 5 times``."""
    every = max(k.measure.number(s.every), 1)
    if s.length is not None:
        rows = rows_for(k, s.length, since=None, span=s.span)
        every = max(rows, 1) if rows else 2
    times = s.times.at(k.size) if s.times is not None else None
    if s.times is not None and times is None:
        return
    times = counted(s, times)
    if times is not None and times * every > MOST_TIMES:
        k.report(problems.TooMuchKnitting(f"{times * every:,} rows"), s.span)
        return

    def afresh() -> Callable[[], bool]:
        done = 0

        def once() -> bool:
            nonlocal done
            for _ in range(every - 1 if done else first_after(k, s, every)):
                one_row(k, PLAIN, passive=True)
            done += 1
            return one_row(k, shape_steps(k, s), passive=True)

        return once

    once = afresh()
    if times is not None:
        for _ in range(which_times(k, s, times, afresh, rest)):
            if not once():
                break
        if s.until is not None and s.until.stitches is not None:
            want = s.until.stitches.at(k.size)
            if want is not None and want != k.worker.needles.live:
                k.report(problems.TotalDiffers(k.info.name_of_row(), want, k.worker.needles.live), s.span)
    elif s.until is not None:
        repeat_until(k, s.until, once, s.span, rows_each=every)
    else:
        once()


def next_side(k: Knitter) -> Side:
    """The side that faces in the row to come."""
    if k.first_side is not None:
        return Side.RS if k.first_side == 0 else Side.WS
    facing = k.worker.facing ^ (1 if k.ended else 0)
    return Side.WS if facing else Side.RS


def first_after(k: Knitter, s: tree.Shaping, every: int) -> int:
    """How many rows are worked before the first shaping row: the next row of its side, if it names one."""
    if s.side is not None and not k.worker.needles.ring:
        return 0 if next_side(k) is s.side else 1
    return 0 if s.start == "next" else every - 1


def chained(shapings: Sequence[tree.Shaping]) -> list[tuple[tree.Shaping, ...]]:
    """Shapings that follow one another: "on the 3rd row, and on every foll 4th row", "then every 6th row"."""
    out: list[tuple[tree.Shaping, ...]] = []
    for s in shapings:
        if (
            out
            and tree.bare(out[-1][-1].row) == tree.bare(s.row)
            and tree.bare(out[-1][-1].steps) == tree.bare(s.steps)
        ):
            out[-1] = (*out[-1], s)
        else:
            out.append((s,))
    return out


def events(k: Knitter, chain: Sequence[tree.Shaping]) -> Iterator[tuple[int, tuple[tree.Action, ...]]]:
    """At which rows from here a shaping happens, and its steps."""
    last = -1
    done = 0
    for i, s in enumerate(chain):
        every = max(k.measure.number(s.every), 1)
        times = MOST_TIMES if s.times is None else counted(s, s.times.at(k.size))
        if times is None:
            return
        if s.until is not None and s.until.times is not None and s.times is None:
            times = max(k.measure.number(s.until.times) - done, 0)  # "until 5 buttonholes have been made"
        at = first_after(k, s, every) if i == 0 else last + every
        for _ in range(times):
            done += 1
            yield at, shape_steps(k, s)
            last, at = at, at + every


def at_same_time(k: Knitter, s: tree.AtSameTime, rest: Sequence[tree.Action], line: tree.Line) -> None:
    """Work the main statement row by row; shaping of the others falls on its rows."""
    main = s.parts[0]
    shapings = [p for p in s.parts if isinstance(p, tree.Shaping)]
    if not [p for p in shapings if p is not main]:
        from purlwright.needles.statements import work_statement

        for p in s.parts:
            work_statement(k, p, rest, line)
        return
    waiting = [iter(events(k, chain)) for chain in chained(shapings)]
    due = [next(ev, None) for ev in waiting]
    rows = rows_beside(k, main)
    k.worker.look("C058")
    endless = isinstance(main, tree.Shaping) or (
        isinstance(main, tree.WorkRows) and main.rows is None and main.until is None
    )
    for i in range(MOST_TIMES):
        row = next(rows, None)
        if row is None and not (endless and any(due)):
            break
        now: list[tree.Action] = []
        for j, ev in enumerate(waiting):
            event = due[j]
            if event is not None and event[0] == i:
                now.extend(event[1])
                due[j] = next(ev, None)
        if not shaped(k, row, now):
            return
    if any(due):
        _left_over(
            k, main, shapings, sum(_one_more(ev, event) for ev, event in zip(waiting, due, strict=True))
        )


def _one_more(waiting: Iterator[tuple[int, tuple[tree.Action, ...]]], due: tuple[int, object] | None) -> int:
    """How many shapings of one sort are left: the one that is due, and those after it."""
    return 0 if due is None else 1 + sum(1 for _ in waiting)


def _left_over(k: Knitter, main: tree.Statement, shapings: Sequence[tree.Shaping], left: int) -> None:
    """Say that rows worked so many times, or to a length, end before the shaping beside them does."""
    if k.unproved or any(s.until is not None or s.times is None or s.row is not None for s in shapings):
        return
    if (
        isinstance(main, tree.WorkRows)
        and main.rows is None
        and (main.until is None or main.until.length is None)
    ):
        return
    asked = sum(s.times.at(k.size) or 0 for s in shapings if s.times is not None)
    k.report(problems.ShapingDoesNotFit(left, max(asked, left)), shapings[0].span)


def rows_beside(k: Knitter, main: tree.Statement) -> Iterator[Row | Sequence[tree.Action]]:
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
        body: Sequence[tree.Action] = main.body or PLAIN
        if main.body:
            k.base = tuple(main.body)
        many = rows_of_main(k, main)
        if many is None and main.until is not None and main.until.stitches is not None:
            many = MOST_TIMES
        for _ in range(many or 0):
            yield body


def shaped(k: Knitter, row: Row | Sequence[tree.Action] | None, now: Sequence[tree.Action]) -> bool:
    """Work one row of the main statement with the shaping that falls on it."""
    edges = [a for a in now if isinstance(a, tree.AtEdges)]
    others = [a for a in now if not isinstance(a, tree.AtEdges)]
    if isinstance(row, Row):
        if not now:
            return replay(k, row)
        if edges:
            return _with_edges(k, row, edges)
        return replay(k, dataclasses.replace(row, actions=tuple(others)))
    if not edges:
        return one_row(k, others or row or PLAIN, passive=True)
    named = others[0] if len(others) == 1 else None
    if isinstance(named, tree.RowRef):
        found = find_row(k, named.number, named.name)
        if found is not None:
            return _with_edges(k, found, edges)
    return one_row(k, merge(edges), passive=True)


def _with_edges(k: Knitter, row: Row, edges: Sequence[tree.AtEdges]) -> bool:
    """Work an earlier row again with increases or decreases at its edges."""
    k.base_row = steps_of(row.actions)
    try:
        worked = replay(k, dataclasses.replace(row, actions=tuple(merge(edges))))
    finally:
        k.base_row = None
    if worked and k.history:  # later words that name this row mean it without the shaping
        k.history[-1] = dataclasses.replace(k.history[-1], actions=row.actions)
    return worked


def merge(edges: Sequence[tree.AtEdges]) -> list[tree.Action]:
    """Two shapings at the edges of one row become one step: both ends, if they are at different ends."""
    a = edges[0]
    if len(edges) == 1:
        return [a]
    if {e.where for e in edges} in ({"neck edge", "armhole edge"}, {"beginning", "end"}) and all(
        e.change == a.change and e.count.values == a.count.values for e in edges
    ):
        return [structs.replace(a, where="each end")]
    total = sum(e.count.values[0] or 0 for e in edges)
    return [structs.replace(a, count=tree.Number(values=(total,)))]


def rows_of_main(k: Knitter, main: tree.Statement) -> int | None:
    """How many rows the main statement has; None if only the others' end ends it."""
    if isinstance(main, tree.WorkRows):
        if main.rows is not None:
            return main.rows.at(k.size) or 0
        if main.until is not None and main.until.length is not None:
            return rows_for(k, main.until.length, since=since_of(main.until), span=main.span)
    return None
