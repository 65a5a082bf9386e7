"""Going downhill: L-BFGS that begins from the springs' own matrix.

In: a level made ready and a start. Out: the positions reached, never worse than the start, and the energy.
The method is that of J. Nocedal, Updating quasi-Newton matrices with limited storage, Mathematics of
Computation 35 (1980) 773; steps are cut back until they fall enough, after L. Armijo, Pacific Journal of
Mathematics 16 (1966) 1.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from purlwright.cloth.relax.level import Slopes, dot

if TYPE_CHECKING:
    from collections.abc import Callable

    from purlwright.cloth.relax.level import Springs
    from purlwright.cloth.rest import Floats

__all__ = ["Solved", "descend", "downhill"]

_MEMORY = 8
_ENOUGH = 1e-4
_WINDOW = 10


class Solved(NamedTuple):
    """Positions, their energy, and how many steps were taken."""

    x: Floats
    energy: float
    steps: int


def downhill(
    springs: Springs,
    x: Floats,
    *,
    bend: float,
    press: float = 0.0,
    still: float = 5e-4,
    most: int = 3000,
) -> Solved:
    """Relax until the energy falls by less than ``still`` of itself in 10 steps, or for ``most`` steps."""
    slopes = Slopes(springs, x.shape[1])
    return descend(lambda at: slopes.at(at, bend, press), springs, x, still=still, most=most)


def descend(
    at: Callable[[Floats], tuple[float, Floats]], springs: Springs, x: Floats, *, still: float, most: int
) -> Solved:
    """The same for any energy: ``at`` gives it and its slope, of shapes that are (dimensions, n)."""
    x = np.array(x.T, np.float64, order="C")
    now, slope = at(x)
    floor = 1e-6 * springs.n
    falls = [now]
    past = _Past(springs, x.shape)
    while len(falls) <= most:
        way = past.direction(slope)
        fall = dot(way, slope)
        found = _stepped(at, x, now, way, fall) if fall < 0 else None
        if found is None:
            if not past.many:
                break
            past.many = 0
            continue
        trial, then, new_slope = found
        past.keep(trial, x, new_slope, slope)
        x, now, slope = trial, then, new_slope
        falls.append(now)
        if len(falls) > _WINDOW and falls[-1 - _WINDOW] - now < max(still * now, floor * still):
            break
        if now < floor * 1e-2:
            break
    return Solved(np.ascontiguousarray(x.T), now, len(falls) - 1)


def _stepped(
    at: Callable[[Floats], tuple[float, Floats]], x: Floats, now: float, way: Floats, fall: float
) -> tuple[Floats, float, Floats] | None:
    """A step that way, cut back until it falls enough; None if none does."""
    step = 1.0
    for _ in range(25):
        trial = x + step * way
        then, slope = at(trial)
        if then <= now + _ENOUGH * step * fall:
            return trial, then, slope
        step *= 0.5 if np.isfinite(then) else 0.1
    return None


class _Past:
    """The last steps: how far each went, and how much the slope turned, in a ring of rows made once."""

    def __init__(self, springs: Springs, shape: tuple[int, ...]) -> None:
        self._solve = springs.precondition
        self._moved, self._turned = (np.empty((_MEMORY, *shape)) for _ in range(2))
        self._one = [0.0] * _MEMORY
        self._next = 0
        self.many = 0
        self._room = np.empty(shape)

    def keep(self, x: Floats, before: Floats, slope: Floats, slope_before: Floats) -> None:
        """Remember a step, if the energy is curved the right way along it."""
        k = self._next
        moved, turned = self._moved[k], self._turned[k]
        np.subtract(x, before, out=moved)
        np.subtract(slope, slope_before, out=turned)
        curve = dot(moved, turned)
        if curve > 1e-12 * dot(moved, moved):
            self._one[k] = 1.0 / curve
            self._next = (k + 1) % _MEMORY
            self.many = min(self.many + 1, _MEMORY)

    def direction(self, slope: Floats) -> Floats:
        """The way downhill from here, (dimensions, n)."""
        q = slope.copy()
        latest_first = [(self._next - 1 - i) % _MEMORY for i in range(self.many)]
        kept = {}
        for k in latest_first:
            a = kept[k] = self._one[k] * dot(self._moved[k], q)
            np.multiply(self._turned[k], a, out=self._room)
            np.subtract(q, self._room, out=q)
        r: Floats = np.ascontiguousarray(self._solve(q.T).T)
        for k in reversed(latest_first):
            b = self._one[k] * dot(self._turned[k], r)
            np.multiply(self._moved[k], kept[k] - b, out=self._room)
            np.add(r, self._room, out=r)
        np.negative(r, out=r)
        return r
