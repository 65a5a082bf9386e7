"""The line round a shape that is put together from boxes, as a pencil would draw it.

In: boxes in mm of the paper. Out: closed lines round all of them. Gaps too fine to be drawn are closed, and
the steps of single stitches become a slope; steps that can be seen stay.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, TypeAlias

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.drawing import Rect, Step

__all__ = ["line_round"]

Points: TypeAlias = list[tuple[int, int]]

_CELL_MM = 0.15
_CLOSED = 5
"""Gaps of twice so many cells are closed."""
_STEPS_MM = (0.16, 0.5)
"""A step smaller than the first is no step to the eye; one larger than the second always is."""
_LEAST_HOLE = 100.0
"""A hole of fewer cells is a fault of the drawing and none of the cloth."""


def line_round(rects: Sequence[Rect], step_mm: float) -> tuple[Step, ...]:
    """The steps of a path round the boxes, holes turned the other way; none without boxes.

    step_mm : how large a single stitch or row is drawn: the line may pass its corners by as much, within
    reason.
    """
    if not rects:
        return ()
    left = min(r.x_mm for r in rects)
    top = min(r.y_mm for r in rects)
    by = min(max(step_mm, _STEPS_MM[0]), _STEPS_MM[1]) / _CELL_MM
    steps: list[Step] = []
    for loop in _loops(_closed(_filled(rects, left, top))):
        line = _straightened(loop, by)
        for n, (x, y) in enumerate(line):
            at = (round(left + (x - _CLOSED - 1) * _CELL_MM, 3), round(top + (y - _CLOSED - 1) * _CELL_MM, 3))
            steps.append(("L" if n else "M", *at))
        steps.append(("Z",))
    return tuple(steps)


def _filled(rects: Sequence[Rect], left: float, top: float) -> NDArray[np.bool_]:
    """Which cells lie in a box; with a margin round all, so that closing has room."""
    edges = [
        (
            round((r.x_mm - left) / _CELL_MM),
            round((r.x_mm + r.width_mm - left) / _CELL_MM),
            round((r.y_mm - top) / _CELL_MM),
            round((r.y_mm + r.height_mm - top) / _CELL_MM),
        )
        for r in rects
    ]
    aside = _CLOSED + 1
    wide, high = max(e[1] for e in edges) + 1, max(e[3] for e in edges) + 1
    cells = np.zeros((high + 2 * aside, wide + 2 * aside), dtype=np.bool_)
    for x0, x1, y0, y1 in edges:
        cells[aside + y0 : aside + max(y1, y0 + 1), aside + x0 : aside + max(x1, x0 + 1)] = True
    return cells


def _closed(cells: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The cells with fine gaps filled: grown, and taken back by as much."""
    grown = _spread(cells, _CLOSED)
    return ~_spread(~grown, _CLOSED)


def _spread(cells: NDArray[np.bool_], by: int) -> NDArray[np.bool_]:
    out = cells.copy()
    for axis in (0, 1):
        before = out.copy()
        for n in range(1, by + 1):
            for way in (n, -n):
                moved = np.roll(before, way, axis=axis)
                edge = slice(None, n) if way > 0 else slice(-n, None)
                at: tuple[slice, slice] = (edge, slice(None)) if axis == 0 else (slice(None), edge)
                moved[at] = False
                out |= moved
    return out


def _loops(cells: NDArray[np.bool_]) -> Iterator[Points]:
    """Closed lines along the edges of the cells, the cells at their right hand; small holes left out."""
    after: dict[tuple[int, int], list[tuple[int, int]]] = {}

    def add(edges: NDArray[np.bool_], a: tuple[int, int], b: tuple[int, int]) -> None:
        for y, x in np.argwhere(edges).tolist():
            after.setdefault((x + a[0], y + a[1]), []).append((x + b[0], y + b[1]))

    add(cells & ~np.roll(cells, 1, axis=0), (0, 0), (1, 0))
    add(cells & ~np.roll(cells, -1, axis=1), (1, 0), (1, 1))
    add(cells & ~np.roll(cells, -1, axis=0), (1, 1), (0, 1))
    add(cells & ~np.roll(cells, 1, axis=1), (0, 1), (0, 0))
    while after:
        start = here = next(iter(after))
        loop: Points = []
        while True:
            loop.append(here)
            ways = after[here]
            there = ways.pop()
            if not ways:
                del after[here]
            here = there
            if here == start:
                break
        if _area(loop) > 0 or _area(loop) < -_LEAST_HOLE:
            yield loop


def _area(loop: Points) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(loop, [*loop[1:], loop[0]], strict=True)) / 2


def _straightened(loop: Points, by: float) -> Points:
    """A closed line with as few corners as do, none of it moved by more than so many cells."""
    first = min(range(len(loop)), key=lambda n: (loop[n][0] + loop[n][1], loop[n]))
    line = loop[first:] + loop[:first]
    far = max(range(len(line)), key=lambda n: abs(line[n][0] - line[0][0]) + abs(line[n][1] - line[0][1]))
    return [*_kept(line[: far + 1], by)[:-1], *_kept([*line[far:], line[0]], by)[:-1]]


def _kept(line: Points, by: float) -> Points:
    """The corners of an open line that lie apart from a straight one between those kept before and after.

    Source: D. H. Douglas and T. K. Peucker, Cartographica 10 (1973) 112.
    """
    at = np.array(line, dtype=np.float64)
    keep = {0, len(line) - 1}
    todo = [(0, len(line) - 1)]
    while todo:
        a, b = todo.pop()
        if b - a < 2:
            continue
        way = at[b] - at[a]
        off = np.abs(way[0] * (at[a + 1 : b, 1] - at[a, 1]) - way[1] * (at[a + 1 : b, 0] - at[a, 0]))
        off /= max(float(np.hypot(*way)), 1e-9)
        n = int(off.argmax())
        if off[n] > by:
            keep.add(a + 1 + n)
            todo += [(a, a + 1 + n), (a + 1 + n, b)]
    return [line[n] for n in sorted(keep)]
