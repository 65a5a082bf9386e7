"""Which column of the chart each loop stands in.

In: rows that were followed loop by loop. Out: the rows' loops with their columns filled, and how many columns
there are. What stands in a square is left to ``grid``.

A stitch stands in the column of the stitch it continues. Where a row makes a loop in one place and loses one
in another, those between move over by one, and no column is opened or closed; only what a row makes or loses
for good opens or closes one. A column that is closed is a place where no stitch is, and is used again where
the fabric opens one between the same neighbours.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from heapq import heappop, heappush
from itertools import groupby, pairwise

from purlwright.chart.follow import Deed, Followed, Loop

__all__ = ["set_columns"]


class _Columns:
    """Columns from left to right, as a chain: each knows the next."""

    def __init__(self) -> None:
        self.next: list[int] = []
        self.born: list[int] = []
        """In which row each was opened; 0 for those that were there before the first."""
        self.row = 0
        self.first = -1

    def after(self, left: int) -> int:
        """A new column to the right of ``left``; -1 is the left edge."""
        new = len(self.next)
        self.born.append(self.row)
        if left < 0:
            self.next.append(self.first)
            self.first = new
        else:
            self.next.append(self.next[left])
            self.next[left] = new
        return new

    def between(self, left: int, right: int) -> Iterator[int]:
        """The columns between two others; -1 is an edge."""
        at = self.first if left < 0 else self.next[left]
        while at not in {-1, right}:
            yield at
            at = self.next[at]

    def places(self) -> list[int]:
        """For each column its place from the left."""
        out = [0] * len(self.next)
        at, place = self.first, 0
        while at >= 0:
            out[at] = place
            at, place = self.next[at], place + 1
        return out


def set_columns(rows: Sequence[Followed], column_of_stitch: Sequence[int]) -> int:
    """Give every loop its column, from 0 at the left; the number of columns.

    column_of_stitch : the fabric's own columns, which tell which loop of several goes on.
    """
    columns = _Columns()
    every: dict[int, Loop] = {}
    for row in rows:
        _set_new(row.before, columns)
        columns.row += 1
        _set_row(row, columns, column_of_stitch)
    places = columns.places()
    for row in rows:
        every.update((id(loop), loop) for loop in row.before)
        for deed in row.deeds:
            every.update((id(loop), loop) for loop in (*deed.taken, *deed.made))
        every.update((id(loop), loop) for loop in row.line)
    for loop in every.values():
        loop.column = places[loop.column]
    return len(places)


def _set_new(loops: Sequence[Loop], columns: _Columns) -> None:
    """Columns for loops that lie on the needles and were not made by a row before: those of the first row,
    and those that came from a holder.
    """
    last = -1
    for loop in loops:
        if loop.column < 0:
            loop.column = columns.after(last)
        last = loop.column


def _set_row(row: Followed, columns: _Columns, fabric_column: Sequence[int]) -> None:
    """The columns of the loops that one row made."""
    for stretch in _stretches(row):
        _set_stretch(stretch, columns, fabric_column, row)


def _stretches(row: Followed) -> list[list[Deed]]:
    """The deeds of a row in stretches with no loop left out between them."""
    place = {id(loop): i for i, loop in enumerate(row.line)}
    out: list[list[Deed]] = [[]]
    at = None
    for deed in row.deeds:
        first = place.get(id(deed.made[0])) if deed.made else None
        if first is not None and at is not None and first > at + 1 and not out[-1][-1].closed:
            out.append([])
        out[-1].append(deed)
        if first is not None:
            at = place.get(id(deed.made[-1]), first)
    return [stretch for stretch in out if stretch]


def _set_stretch(
    deeds: Sequence[Deed], columns: _Columns, fabric_column: Sequence[int], row: Followed
) -> None:
    surplus = _surplus(deeds)
    edge = _before(deeds, row)
    slots: list[int] = []
    wanted: list[tuple[int, int]] = []  # where in the slots columns are to be opened, and how many
    for deed, more in zip(deeds, surplus, strict=True):
        base = [loop.column for loop in deed.taken if loop.column >= 0]
        kept = _kept(deed, fabric_column)
        if more < 0:
            base = _closed(base, -more, kept[1], columns)
        if more > 0:
            left = min(more, kept[0]) if base else 0
            wanted += [(len(slots), left)] if left else []
            slots += base
            wanted += [(len(slots), more - left)] if more - left else []
        else:
            slots += base
    for at, many in reversed(wanted):
        left = slots[at - 1] if at else edge[0]
        right = slots[at] if at < len(slots) else edge[1]
        slots[at:at] = _opened(columns, left, right, many, to_left=at == 0)
    made = [loop for deed in deeds for loop in deed.made]
    for loop, column in zip(made, slots, strict=True):
        loop.column = column


def _before(deeds: Sequence[Deed], row: Followed) -> tuple[int, int]:
    """The columns of the loops beside a stretch, -1 for an edge."""
    mine = {id(loop) for deed in deeds for loop in deed.made}
    places = [i for i, loop in enumerate(row.line) if id(loop) in mine]
    if not places:
        return -1, -1
    left = row.line[places[0] - 1].column if places[0] else -1
    right = row.line[places[-1] + 1].column if places[-1] + 1 < len(row.line) else -1
    return left, right


def _kept(deed: Deed, fabric_column: Sequence[int]) -> tuple[int, int]:
    """Of the loops made, and of those taken, the place of the one that goes on."""
    made = [fabric_column[loop.stitch] if loop.stitch >= 0 else -1 for loop in deed.made]
    taken = [fabric_column[loop.stitch] if loop.stitch >= 0 else -2 for loop in deed.taken]
    for i, column in enumerate(made):
        if column in taken:
            return i, taken.index(column)
    return max(0, (len(made) - 1) // 2), max(0, (len(taken) - 1) // 2)


def _closed(base: Sequence[int], many: int, kept: int, columns: _Columns) -> list[int]:
    """The columns of a decrease without those that end there: the youngest, and of those that are as old the
    farthest from the one that goes on.
    """

    def ends_first(i: int) -> tuple[int, int]:
        return columns.born[base[i]], abs(i - kept)

    gone = set(sorted(range(len(base)), key=ends_first, reverse=True)[:many])
    return [column for i, column in enumerate(base) if i not in gone]


def _opened(columns: _Columns, left: int, right: int, many: int, *, to_left: bool) -> list[int]:
    """So many columns between two others: those that stand empty there, then new ones."""
    free = list(columns.between(left, right))
    free = free[-many:] if to_left else free[:many]
    while len(free) < many:
        if to_left:
            free.insert(0, columns.after(left))
        else:
            free.append(columns.after(free[-1] if free else left))
    return free


def _surplus(deeds: Sequence[Deed]) -> list[int]:
    """For each deed how many loops it makes (above 0) or loses for good.

    What one makes and another loses is set off, the nearest first: within one working of a repeat, then over
    the whole row.
    """
    rest = [len(d.made) - len(d.taken) for d in deeds]
    some = [i for i, more in enumerate(rest) if more]
    if len(some) < 2:
        return rest
    repeated = {d.span for d in deeds if d.pass_ > 1}
    place, at = [], 0
    for deed in deeds:
        place.append(at)
        at += max(len(deed.made), len(deed.taken))
    begins = [0] * len(deeds)
    for i in range(1, len(deeds)):
        a, b = deeds[i - 1], deeds[i]
        new = a.pass_ != b.pass_ or (a.span in repeated) != (b.span in repeated)
        begins[i] = i if new else begins[i - 1]
    for _, part in groupby(some, key=lambda i: begins[i]):
        _set_off(rest, list(part), place)
    _set_off(rest, [i for i in some if rest[i]], place)
    return rest


def _set_off(rest: list[int], part: list[int], place: Sequence[int]) -> None:
    """Set loops made against loops lost, the nearest neighbours first."""
    before: dict[int, int] = dict(pairwise(reversed(part)))
    after: dict[int, int] = dict(pairwise(part))
    heap: list[tuple[int, int, int]] = []

    def meet(a: int | None, b: int | None) -> None:
        if a is not None and b is not None and (rest[a] > 0) != (rest[b] > 0):
            heappush(heap, (place[b] - place[a], a, b))

    for a, b in after.items():
        meet(a, b)
    while heap:
        _, a, b = heappop(heap)
        if not rest[a] or not rest[b] or after.get(a) != b:
            continue
        many = min(abs(rest[a]), abs(rest[b]))
        rest[a] -= many if rest[a] > 0 else -many
        rest[b] -= many if rest[b] > 0 else -many
        for done in (a, b):
            if rest[done]:
                continue
            left, right = before.pop(done, None), after.pop(done, None)
            if left is not None:
                after.pop(left)
            if right is not None:
                before.pop(right)
            if left is not None and right is not None:
                after[left], before[right] = right, left
            meet(left, right)
