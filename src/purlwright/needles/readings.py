"""Words of a row with two readings: the counts choose, and what they chose is said.

In: a choice, or a star repeat worked "n times", and the worker. Out: the reading to work. Rows repeated
"n times" are left to ``again``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from purlwright.needles import problems
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker


def choice(w: Worker, s: tree.Choice, pass_: int) -> None:
    """Work the reading that uses up what is there and comes to the printed count; the first if several do."""
    if not s.readings:
        return
    w.look("C041")
    tail, wanted = w.tail(), _printed_change(w)
    fitting = [n for n, r in enumerate(s.readings) if _fits(w, r, tail, wanted)]
    if s.usual and wanted is None:
        fitting = [0]  # "k1, p1 across" on an odd number is still a rib
    best = fitting[0] if fitting else 0
    if len(s.ways) == len(s.readings) > 1:
        mine, other = s.ways[best], s.ways[1 if best == 0 else 0]
        if len(fitting) == 1 and not (s.usual and best == 0):
            w.report(problems.ReadingChosen(w.row_name, mine, other), s.span)
        elif len(fitting) > 1 and not s.usual:
            w.report(problems.ReadsTwoWays(w.row_name, mine, other), s.span)
    w.steps(s.readings[best], pass_)


def star_times(w: Worker, s: tree.Repeat, n: int, size: tuple[int, int] | None) -> int:
    """How often in all: ``*K2, p2; rep from * 3 times``, where 3 may be in all or more.

    Where the counts leave it open it is in all, but for "once": nobody repeats from a star to work it once.
    """
    fitting = _fitting_times(w, s, n, size)
    if n == 1 and fitting != [1]:
        return 2
    if len(fitting) == 1:
        w.report(problems.TimesChosen(n, more=fitting[0] > n, sort="stitches"), s.span)
        return fitting[0]
    if size is not None and size[0] > 0 and w.tail() is None:
        w.report(problems.AmbiguousTimes(n, 0, more=False), s.span)
    return n


def _fitting_times(w: Worker, s: tree.Repeat, n: int, size: tuple[int, int] | None) -> list[int]:
    """Of "n" and "n more", what uses up the loops that are there and comes to the printed total."""
    tail, wanted = w.tail(), _printed_change(w)
    if size is None or size[0] <= 0:  # how many loops a pass takes depends on the needle: the total may tell
        nets = [_net(w, step) for step in s.body]
        net = sum(one for one in nets if one is not None)
        return [m for m in (n, n + 1) if wanted == m * net] if net and None not in nets else []
    return [
        m for m in (n, n + 1)
        if (tail is None or w.left_over - tail == size[0] * m)
        and (wanted is None or wanted == m * (size[1] - size[0]))
    ]  # fmt: skip


def _fits(w: Worker, reading: Sequence[tree.Step], tail: int | None, wanted: int | None) -> bool:
    """Whether a reading uses up what is there, and changes the count as it is printed."""
    taken, made = 0, 0
    open_ended: tuple[int, int] | None = None
    for step in reading:
        size = w.measure.one(step)
        if size is None:
            size = w.measure.all(step.body) if isinstance(step, (tree.Repeat, tree.Fill)) else None
            if size is None or size[0] <= 0 or open_ended is not None:
                return True
            open_ended = size
        else:
            taken, made = taken + size[0], made + size[1]
    if tail is not None:
        room = w.left_over - tail - taken
        if open_ended is None:
            if room:
                return False
        else:
            times, rest = divmod(room, open_ended[0])
            if rest or times < 0:
                return False
            taken, made = taken + times * open_ended[0], made + times * open_ended[1]
    elif open_ended is not None:
        return True
    return wanted is None or made - taken == wanted


def _printed_change(w: Worker) -> int | None:
    """By how many stitches the step in work changes the count, by the total printed at the end of its row.

    None where no total is printed, or the rest of the row changes the count by what depends on the needle.
    """
    if not w.frames or not all(once for _, _, once in w.frames):
        return None
    total = w.printed()
    if total is None:
        return None
    rest = [_net(w, step) for steps, at, _ in w.frames for step in steps[at:]]
    if None in rest:
        return None
    have = w.needles.live + w.gathered.made - w.gathered.taken
    return total - have - sum(net for net in rest if net is not None)


def _net(w: Worker, step: tree.Action) -> int | None:
    """By how many stitches a step changes the count; None where that depends on the needle."""
    size = w.measure.one(step)
    if size is not None:
        return size[1] - size[0]
    if isinstance(step, (tree.Fill, tree.Repeat)):
        body = w.measure.all(step.body)
        return 0 if body is not None and body[0] == body[1] else None
    return None
