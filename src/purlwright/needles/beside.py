"""Shaping at the same time as other rows or other shaping.

In: statements that run beside one another, and the knitter at work. Out: rows worked, each with all the
shaping that falls on it. What one shaping does alone is left to ``shapings``, where in a row it stands to
``shapework``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import structs

from purlwright.needles import problems
from purlwright.needles.again import attempt, chosen
from purlwright.needles.ledger import Kind
from purlwright.needles.lookup import find_row, rows_of
from purlwright.needles.onerow import MOST_TIMES, PLAIN, one_row, replay
from purlwright.needles.shapings import counted, first_after, next_side, shape_steps
from purlwright.needles.state import Row, steps_of
from purlwright.needles.stopping import MOST_IN_VAIN, rows_for, since_of, wanted
from purlwright.needles.whichedge import edge_begins
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter

__all__ = ["at_same_time"]

_EDGES = ("neck edge", "armhole edge")
Steps = tuple[tree.Action, ...]


def chained(shapings: Sequence[tree.Shaping]) -> list[tuple[tree.Shaping, ...]]:
    """Shapings that follow one another: "on the 3rd row, and on every foll 4th row", "then every 6th row"."""
    out: list[tuple[tree.Shaping, ...]] = []
    for s in shapings:
        if out and _goes_on(out[-1][-1], s):
            out[-1] = (*out[-1], s)
        else:
            out.append((s,))
    return out


def _goes_on(one: tree.Shaping, next_: tree.Shaping) -> bool:
    """Whether the next is the same further on, or bound off at the same edge: "3 sts once, 2 sts twice"."""
    if tree.bare(one.row) != tree.bare(next_.row):
        return False
    a, b = _bound(one), _bound(next_)
    if isinstance(a, tree.BindOff) and isinstance(b, tree.BindOff):
        return a.at == b.at
    return bool(tree.bare(one.steps) == tree.bare(next_.steps))


def events(k: Knitter, chain: Sequence[tree.Shaping], more: int = 0) -> Iterator[tuple[int, Steps]]:
    """At which rows from here a shaping happens, and its steps.

    more : so many times more where "n times" may or may not count the first.
    """
    last = -1
    done = 0
    for i, s in enumerate(chain):
        every = _spacing(k, s)
        times = MOST_TIMES if s.times is None else counted(s, s.times.at(k.size))
        if times is None:
            return
        if s.until is not None and s.until.times is not None and s.times is None:
            times = max(k.measure.number(s.until.times) - done, 0)  # "until 5 buttonholes have been made"
        if _two_ways(k, s):
            times += more
        at = first_at(k, s, every) if i == 0 else last + every
        for _ in range(times):
            done += 1
            yield at, shape_steps(k, s)
            last, at = at, at + every


def _spacing(k: Knitter, s: tree.Shaping) -> int:
    """Every how many rows it is shaped; told by the gauge for "every 2 cm"."""
    if s.length is None:
        return max(k.measure.number(s.every), 1)
    return rows_for(k, s.length, since=None, span=s.span) or 2


def first_at(k: Knitter, s: tree.Shaping, every: int) -> int:
    """How many rows come before the first: stitches are bound off where a row begins."""
    first = first_after(k, s, every)
    step = s.steps[0] if s.steps else None
    if s.side is None and isinstance(step, tree.BindOff) and step.at in _EDGES and every % 2 == 0:
        side = edge_begins(k, step.at) or _bound_off_on(k)
        if side is not None and (next_side(k) is side) != (first % 2 == 0):
            return first - 1 if first else 1
    return first


def _bound_off_on(k: Knitter) -> Side | None:
    """The side of the latest row of this piece at whose beginning stitches were bound off."""
    start = k.pieces[-1][1] if k.pieces else 0
    for e, marks in zip(reversed(k.entries[start:]), reversed(k.marks[start:]), strict=True):
        if e.kind is Kind.ROW and "divide" in marks and e.lost and not e.held:
            return e.side
    return None


def _two_ways(k: Knitter, s: tree.Shaping) -> bool:
    """In words: ``next and every foll 4th row 3 times``: three with the first, or three after it?"""
    return (
        s.said is tree.Said.TIMES
        and s.start in {"next", "after"}
        and s.times is not None
        and (s.times.at(k.size) or 0) > 0
        and k.measure.number(s.every) > 1
    )


def at_same_time(k: Knitter, s: tree.AtSameTime, rest: Sequence[tree.Action], line: tree.Line) -> None:
    """Work the main statement row by row; shaping of the others falls on its rows."""
    main = s.parts[0]
    shapings = [p for p in s.parts if isinstance(p, tree.Shaping)]
    if not [p for p in shapings if p is not main]:
        from purlwright.needles.statements import work_statement

        for p in s.parts:
            work_statement(k, p, rest, line)
        return

    def with_more(more: int) -> Callable[[], bool]:
        def once() -> bool:
            work_beside(k, main, shapings, more)
            return True

        return once

    with_more(_how_many_more(k, shapings, with_more, rest))()


def _how_many_more(
    k: Knitter,
    shapings: Sequence[tree.Shaping],
    with_more: Callable[[int], Callable[[], bool]],
    rest: Sequence[tree.Action],
) -> int:
    """Whether "n times" leaves out the first: the printed counts choose."""
    unclear = [p for p in shapings if _two_ways(k, p)]
    if k.trial or not unclear:
        return 0
    k.worker.look("C026")
    as_said, one_more = attempt(k, 1, with_more(0), rest), attempt(k, 1, with_more(1), rest)
    p = unclear[0]
    times = k.measure.number(p.times)
    said = times if p.start == "next" else times + 1
    for more, chose in enumerate((chosen(as_said, one_more), chosen(one_more, as_said))):
        if chose:
            k.report(problems.TimesChosen(said, more=bool(more), sort="shaping"), p.span)
            return more
    if as_said is not False:
        k.report(problems.AmbiguousTimes(said, 1, False), p.span)
    return 0


def work_beside(k: Knitter, main: tree.Statement, shapings: Sequence[tree.Shaping], more: int) -> None:
    """Work the rows of the main statement with the shaping that falls on each."""
    endless = isinstance(main, tree.Shaping) or (
        isinstance(main, tree.WorkRows) and main.rows is None and main.until is None
    )
    most, wants = stops(k, shapings) if endless else (MOST_TIMES, stops(k, shapings)[1])
    chains = chained(shapings)
    edge = named_edge(k, chains)
    waiting = [iter(events(k, chain, more)) for chain in chains]
    waits = shifts(k, chains)
    due = [next(ev, None) for ev in waiting]
    rows = rows_beside(k, main)
    k.worker.look("C058")
    have = k.worker.needles.live
    until = main.until if isinstance(main, tree.WorkRows | tree.RepeatRows) else None
    ends = [(main.span, k.measure.number(until.stitches))] if until is not None and until.stitches else []
    away = 0
    for i in range(most):
        row = next(rows, None)
        if row is None and not (endless and any(due)):
            break
        now: list[tree.Action] = []
        for j, ev in enumerate(waiting):
            event = due[j]
            if event is not None and event[0] + waits[j] == i:
                now.extend(event[1])
                due[j] = next(ev, None)
        if not shaped(k, row, told_apart(now, edge, i)):
            return
        was, have = have, k.worker.needles.live
        for span, want in ends:
            if (was - want) * (have - want) <= 0 and was != want:
                if have != want:
                    k.report(problems.NeverReached(want, was), span)
                return
        away = away + 1 if all(abs(have - n) > abs(was - n) for _, n in wants) else away * (have == was)
        if wants and away > MOST_IN_VAIN:  # they go on the other way
            k.report(problems.NeverReached(wants[0][1], have), wants[0][0])
            return
        for span, want in wants:
            if (was - want) * (have - want) <= 0 and was != want:
                if have != want:
                    k.report(problems.NeverReached(want, was), span)
                due = [None] * len(due)
        if ends and not any(due) and have == was:
            k.report(problems.NeverReached(ends[0][1], have), ends[0][0])
            return
    if any(due):
        left = sum(_one_more(ev, event) for ev, event in zip(waiting, due, strict=True))
        _left_over(k, main, shapings, left)


def _one_more(waiting: Iterator[tuple[int, Steps]], due: tuple[int, Steps] | None) -> int:
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


def stops(k: Knitter, shapings: Sequence[tree.Shaping]) -> tuple[int, list[tuple[Span, int]]]:
    """The most rows that shaping without other rows goes on for, and the stitches at which it stops."""
    wants: list[tuple[Span, int]] = []
    most = MOST_TIMES
    for s in shapings:
        u = s.until
        if u is not None and u.stitches is not None:
            wants.append((s.span, wanted(k, u) or 0))
        elif u is not None and u.length is not None:
            rows = rows_for(k, u.length, since=since_of(u), span=s.span)
            most = min(most, rows if rows is not None else 1)
        elif s.times is None and (u is None or u.times is None):
            most = min(most, max(k.measure.number(s.every), 1) if not wants else most)
    return (MOST_TIMES if wants else most), wants


def _bound(s: tree.Shaping) -> tree.BindOff | tree.CastOn | None:
    """The bind-off or cast-on that a shaping repeats at an edge."""
    step = s.steps[0] if s.steps else None
    return step if isinstance(step, (tree.BindOff, tree.CastOn)) else None


def shifts(k: Knitter, chains: Sequence[tuple[tree.Shaping, ...]]) -> list[int]:
    """How many rows later each shaping begins: no row binds off at both edges, so the second waits one."""
    out: list[int] = []
    met: dict[str, int] = {}
    for chain in chains:
        step = _bound(chain[0])
        late = 0
        if step is not None and step.at in _EDGES and not k.worker.needles.ring:
            first = first_at(k, chain[0], max(k.measure.number(chain[0].every), 1)) % 2
            late = int(any(name != step.at and at == first for name, at in met.items()))
            met.setdefault(step.at, (first + late) % 2)
        out.append(late)
    return out


Edge = tuple[str, int]
"""An edge by name, and whether it is at the beginning of the rows with even (0) or odd places from here."""


def named_edge(k: Knitter, chains: Sequence[tuple[tree.Shaping, ...]]) -> Edge | None:
    """Which edge is where, when both are shaped: stitches are bound off where a row begins."""
    if k.worker.needles.ring:
        return None
    names = {x.where for chain in chains for s in chain for x in s.steps if isinstance(x, tree.AtEdges)}
    for chain in chains:
        s = chain[0]
        step, every = _bound(s), max(k.measure.number(s.every), 1)
        if step is None or every % 2 or step.at not in {*_EDGES, "beginning"}:
            continue
        name = step.at if step.at in _EDGES else _EDGES["neck edge" in names]
        return name, first_at(k, s, every) % 2
    side = edge_begins(k, "armhole edge") or Side.RS
    return ("armhole edge", int(next_side(k) is not side)) if names >= set(_EDGES) else None


def told_apart(now: Sequence[tree.Action], edge: Edge | None, i: int) -> list[tree.Action]:
    """The steps of row ``i`` from here, named edges told as its beginning or its end."""
    if edge is None:
        return list(now)
    name, first = edge
    out: list[tree.Action] = []
    for a in now:
        if isinstance(a, tree.AtEdges) and a.where in _EDGES:
            begins = (a.where == name) == (i % 2 == first)
            out.append(structs.replace(a, where="beginning" if begins else "end"))
        else:
            out.append(a)
    return out


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
            k.base = (tuple(main.body), k.worker.offset)
        many = rows_of_main(k, main)
        if many is None and main.until is not None and main.until.stitches is not None:
            many = MOST_TIMES
        for _ in range(many or 0):
            yield body


def shaped(k: Knitter, row: Row | Sequence[tree.Action] | None, now: Sequence[tree.Action]) -> bool:
    """Work one row of the main statement with the shaping that falls on it."""
    edges = [a for a in now if isinstance(a, tree.AtEdges)]
    others = [a for a in now if not isinstance(a, tree.AtEdges)]
    bound = [a for a in others if isinstance(a, (tree.BindOff, tree.CastOn))]
    if bound:
        steps = [*bound, *merge(edges)] if edges else others
        return _with_edges(k, row, steps) if isinstance(row, Row) else one_row(k, steps, passive=True)
    if isinstance(row, Row):
        if not now:
            return replay(k, row)
        if edges:
            return _with_edges(k, row, merge(edges))
        return _replay_with(k, row, others)
    if not edges:
        return one_row(k, others or row or PLAIN, passive=True)
    named = others[0] if len(others) == 1 else None
    if isinstance(named, tree.RowRef):
        found = find_row(k, named.number, named.name)
        if found is not None:
            return _with_edges(k, found, merge(edges))
    return one_row(k, merge(edges), passive=True)


def _with_edges(k: Knitter, row: Row, steps: Sequence[tree.Action]) -> bool:
    """Work an earlier row again with increases, decreases or stitches bound off at its edges."""
    k.base_row = (steps_of(row.actions), row.offset)
    try:
        worked = _replay_with(k, row, steps)
    finally:
        k.base_row = None
    if worked and k.history:  # later words that name this row mean it without the shaping
        k.history[-1] = structs.replace(k.history[-1], actions=row.actions)
    return worked


def _replay_with(k: Knitter, row: Row, steps: Sequence[tree.Action]) -> bool:
    """Work an earlier row again by steps that stand in the words read now, not in its own."""
    told = tree.moved(tuple(steps), k.worker.offset - row.offset)
    return replay(k, structs.replace(row, actions=told))


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
