"""Shaping over many rows.

In: a statement and the knitter at work. Out: rows worked with their increases and decreases. Where in the row
they stand is left to ``shapework``; shaping beside other rows, to ``beside``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from msgspec import structs

from purlwright.needles import problems
from purlwright.needles.again import attempt, chosen
from purlwright.needles.between import changes_by, row_between, rows_since, told, work_next
from purlwright.needles.lookup import find_row
from purlwright.needles.onerow import MOST_TIMES, PLAIN, one_row
from purlwright.needles.stopping import end_on, ends_on_other_side, repeat_until, rows_for
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
    if chosen(first, second) or chosen(second, first):
        mine = chosen(first, second)
        if s.said is tree.Said.TIMES:
            k.report(problems.TimesChosen(said, more=more if mine else not more, sort="shaping"), s.span)
        return times if mine else other
    if first is not False and s.said is tree.Said.TIMES:
        k.report(problems.AmbiguousTimes(said, 1, more), s.span)
    # "a total of 6 times" counts the one just worked, if nothing speaks against it
    return other if s.row is not None and s.said is tree.Said.IN_ALL else times


def shaping(k: Knitter, s: tree.Shaping, rest: Sequence[tree.Action] = ()) -> None:
    """In words: ``Dec 1 st each end of next and every foll alt row 5 times``."""
    if s.row is not None and not s.between and s.row.name in {"decreases", "increases"}:
        s = structs.replace(s, between=changes_by(k))
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

    shaped_last = find_row(k, s.row.number, s.row.name) if s.between and s.row is not None else None
    if shaped_last is not None and not told(k, (shaped_last,), s.between, s.span):
        return

    def afresh() -> Callable[[], bool]:
        done = 0
        first = first_after(k, s, every)
        if s.between and s.start == "every":
            first = max(first - rows_since(k), 0)

        def once() -> bool:
            nonlocal done
            for _ in range(every - 1 if done else first):
                one_row(k, row_between(k) if s.between else PLAIN, passive=True)
            done += 1
            if s.between and shaped_last is not None:
                return work_next(k, shaped_last, s.between * done)
            return one_row(k, shape_steps(k, s), passive=True, own_shaping=s.row is None)

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
        repeat_until(k, structs.replace(s.until, side=None), once, s.span, rows_each=every)
        if s.until.stitches is not None and every > 1 and ends_on_other_side(k, s.until):
            one_row(k, PLAIN, passive=True)
        end_on(k, s.until, once, s.span, every)
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
