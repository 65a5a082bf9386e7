"""Repeats of a chart: found across the rows, proved square by square, and drawn once.

In: a :class:`~purlwright.chart.grid.Grid` as knitted, with every repeat in it. Out: one that shows each
repeat once, and says how often it was knitted. A stretch is a repeat only if in every row all its copies, the
first, those in the middle and the last, are the same square by square, so that it tiles; what stands at its
two edges is kept. The edges of a row move aside where a crossing would be cut. How it is drawn is left to
``draw``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from purlwright.chart.grid import Grid, GridRow, Square, Tile
from purlwright.text import Span

__all__ = ["once_across", "once_upwards", "picture"]

WIDEST = 80
"""The widest repeat looked for where no words say that there is one."""
_UNSAID = 4
"""So many copies make a repeat where no words say that there is one."""
_NOTHING, _WAITING, _ABSENT = 0, 1, 2


@dataclass(frozen=True, slots=True)
class _Window:
    """Columns ``first`` to ``last`` are ``times`` copies of ``width`` columns and a part of one."""

    first: int
    width: int
    times: int


def once_across(grid: Grid) -> Grid:
    """The chart with every repeat across shown once."""
    while True:
        window = _widest_window(grid)
        if window is None:
            return grid
        grid = _taken_in(grid, window)


def once_upwards(grid: Grid) -> Grid:
    """The chart with the fewest rows of which all others are copies, from the first on."""
    rows = grid.rows
    pictures = [picture(row) for row in rows]
    for n in range(1, len(rows) // 2 + 1):
        if any(row.waiting or row.turned for row in rows):
            break
        if all(pictures[i] == pictures[i % n] for i in range(len(rows))):
            if rows[-1].start != rows[0].start or rows[n - 1].end != rows[0].start:
                break
            first, last = rows[0].number, rows[-1].number
            notes = grid.notes
            if first is not None and last is not None and last > first:
                word = "Rounds" if rows[0].round else "Rows"
                notes = (*notes, f"{word} {first} to {last} are worked so.")
            return replace(grid, rows=rows[:n], notes=notes)
    return grid


def picture(row: GridRow) -> tuple[object, ...]:
    """What a row looks like, whatever its number."""
    squares = tuple((s.column, s.width, s.sign, s.yarn) for s in row.squares)
    return (row.from_right, squares, row.absent)


# --- finding ---------------------------------------------------------------------------------------


def _table(grid: Grid) -> NDArray[Any]:
    """A number for what stands in each square, (rows, columns) int32; squares that look and are worked alike
    have the same, and a square of several columns has one for each.
    """
    numbers: dict[tuple[object, ...], int] = {}
    table = np.zeros((len(grid.rows), grid.columns), np.int32)
    for r, row in enumerate(grid.rows):
        table[r, list(row.waiting)] = _WAITING
        table[r, list(row.absent)] = _ABSENT
        for s in row.squares:
            for k in range(s.width):
                key = (s.sign, s.name, s.yarn, s.width, k)
                table[r, s.column + k] = numbers.setdefault(key, len(numbers) + 3)
    return table


def _taken(grid: Grid) -> list[tuple[int, int]]:
    """Columns that belong to repeats shown once already."""
    return [(tile.first, tile.first + tile.width) for tile in grid.tiles]


def _widest_window(grid: Grid) -> _Window | None:
    """The repeat that saves most columns; of equal ones the narrowest."""
    n = grid.columns
    if n < 2 * 2 or not grid.rows:
        return None
    table = _table(grid)
    free = np.ones(n, np.bool_)
    for a, b in _taken(grid):
        free[a:b] = False
    said = _said_widths(grid)
    least = 2 if said else _UNSAID
    best: tuple[int, _Window] | None = None
    for width in range(2, (n // least if said else min(WIDEST, n // least)) + 1):
        if said and not any(width % one == 0 for one in said):
            continue
        same = np.all(table[:, :-width] == table[:, width:], axis=0) & free[:-width] & free[width:]
        same &= ~np.any(table[:, :-width] == _WAITING, axis=0) & ~np.any(table == _NOTHING, axis=0)[:-width]
        for a, b in _runs(same):
            times = (b - a) // width + 1
            if times < least:
                continue
            saved = (times - 1) * width
            if best is not None and saved <= best[0]:
                continue
            if np.all(table[:, a : b + width] == table[:, a : a + 1]):
                continue  # plain in every row: no repeat, only many alike
            best = (saved, _Window(a, width, times))
    if best is None:
        return None
    return _well_placed(grid, best[1], same_to=_end_of(grid, table, best[1]))


def _end_of(grid: Grid, table: NDArray[Any], window: _Window) -> int:
    """Where the copies end, a part of one included."""
    at = window.first
    while at + window.width < grid.columns and np.array_equal(table[:, at], table[:, at + window.width]):
        at += 1
    return at + window.width


def _runs(same: NDArray[Any]) -> Iterable[tuple[int, int]]:
    """Stretches of true values, as begin and end."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], same.astype(np.int8), [0]))))
    return zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True)


def _said_widths(grid: Grid) -> set[int]:
    """How wide, in columns, what the words repeat across a row is."""
    out: set[int] = set()
    for row in grid.rows:
        columns: dict[Span, list[int]] = {}
        for s in row.squares:
            places = columns.setdefault(s.span, [])
            if len(places) < s.pass_:
                places.append(s.column)
        for places in columns.values():
            apart = {abs(b - a) for a, b in pairwise(places)}
            if len(apart) == 1:
                out |= apart
    return out - {0, 1}


def _well_placed(grid: Grid, window: _Window, same_to: int) -> _Window:
    """The same repeat, begun where the words begin it if it can be, and where fewest crossings are cut."""
    room = same_to - window.first - window.times * window.width
    said = _said_edges(grid)

    def cost(first: int) -> tuple[int, int, int]:
        cut = sum(_cuts(row, first) or _cuts(row, first + window.width) for row in grid.rows)
        right = first + window.times * window.width
        return cut, -said.get(right, 0), first - window.first

    firsts = range(window.first, window.first + min(room, window.width - 1) + 1)
    return replace(window, first=min(firsts, key=cost))


def _said_edges(grid: Grid) -> dict[int, int]:
    """How many rows' words begin a repeat with its right edge at a column."""
    out: dict[int, int] = {}
    for row in grid.rows:
        order = row.squares[::-1] if row.from_right else row.squares
        repeated = {s.span for s in order if s.pass_ > 1}
        begun = next((s for s in order if s.span in repeated), None)
        if begun is not None:
            if not row.from_right:
                last = [s for s in order if s.span in repeated][-1]
                begun = last
            edge = begun.column + begun.width
            out[edge] = out.get(edge, 0) + 1
    return out


def _cuts(row: GridRow, column: int) -> bool:
    """Whether a line to the left of ``column`` would cut a square."""
    return any(s.column < column < s.column + s.width for s in row.squares)


# --- taking in -------------------------------------------------------------------------------------


def _taken_in(grid: Grid, window: _Window) -> Grid:
    """The chart with the copies of one repeat taken out but for the first on the left."""
    away = (window.times - 1) * window.width
    rows, moved = [], []
    for row in grid.rows:
        aside = next(
            (k for k in range(window.width) if not _cuts(row, window.first - k) and window.first >= k), 0
        )
        moved.append(aside)
        begin = window.first - aside + window.width
        rows.append(_without(row, begin, begin + away))
    tiles = [
        replace(tile, first=tile.first - away) if tile.first > window.first else tile for tile in grid.tiles
    ]
    tiles.append(
        Tile(
            first=window.first, width=window.width, bottom=0, top=len(rows), times=window.times,
            moved=tuple(moved),
        )
    )  # fmt: skip
    return replace(
        grid,
        columns=grid.columns - away,
        rows=tuple(rows),
        tiles=tuple(sorted(tiles, key=lambda t: t.first)),
    )


def _without(row: GridRow, begin: int, end: int) -> GridRow:
    """A row without the columns ``begin`` to ``end``."""
    away = end - begin

    def kept(columns: Sequence[int]) -> tuple[int, ...]:
        return tuple(c if c < begin else c - away for c in columns if c < begin or c >= end)

    squares: list[Square] = []
    for s in row.squares:
        if s.column < begin:
            squares.append(s)
        elif s.column >= end:
            squares.append(replace(s, column=s.column - away))
    markers = (c if c <= begin else c - away for c in row.markers if c <= begin or c >= end)
    return replace(
        row,
        squares=tuple(squares),
        waiting=kept(row.waiting),
        absent=kept(row.absent),
        markers=tuple(dict.fromkeys(markers)),
    )
