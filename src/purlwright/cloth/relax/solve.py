"""Going downhill: L-BFGS that begins from the springs' own matrix.

In: a level made ready and a start. Out: the positions reached, never worse than the start, and the energy.
The method is that of J. Nocedal, Updating quasi-Newton matrices with limited storage, Mathematics of
Computation 35 (1980) 773; steps are cut back until they fall enough, after L. Armijo, Pacific Journal of
Mathematics 16 (1966) 1.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from purlwright.cloth.relax.level import dot, energy

if TYPE_CHECKING:
    from purlwright.cloth.relax.level import Springs
    from purlwright.cloth.rest import Floats

__all__ = ["Solved", "downhill"]

_MEMORY = 8
_ENOUGH = 1e-4
_WINDOW = 20


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
    still: float = 1e-3,
    most: int = 3000,
) -> Solved:
    """Relax until the energy falls by less than ``still`` of itself in 20 steps, or for ``most`` steps."""
    x = np.array(x, np.float64)
    now, slope = energy(springs, x, bend, press)
    floor = 1e-6 * springs.n
    falls = [now]
    pairs: list[tuple[Floats, Floats, float]] = []
    steps = 0
    while steps < most:
        way = _direction(springs, slope, pairs)
        fall = dot(way, slope)
        if fall >= 0:
            if not pairs:
                break
            pairs.clear()
            continue
        step, found = 1.0, None
        for _ in range(25):
            trial = x + step * way
            then, new_slope = energy(springs, trial, bend, press)
            if then <= now + _ENOUGH * step * fall:
                found = trial, then, new_slope
                break
            step *= 0.5 if np.isfinite(then) else 0.1
        if found is None:
            if not pairs:
                break
            pairs.clear()
            continue
        trial, then, new_slope = found
        moved, turned = trial - x, new_slope - slope
        curve = dot(moved, turned)
        if curve > 1e-12 * dot(moved, moved):
            pairs.append((moved, turned, 1.0 / curve))
            del pairs[:-_MEMORY]
        x, now, slope = trial, then, new_slope
        steps += 1
        falls.append(now)
        if len(falls) > _WINDOW:
            before = falls[-1 - _WINDOW]
            if before - now < max(still * now, floor * still):
                break
        if now < floor * 1e-2:
            break
    return Solved(x, now, steps)


def _direction(springs: Springs, slope: Floats, pairs: list[tuple[Floats, Floats, float]]) -> Floats:
    q = slope.copy()
    kept: list[float] = []
    for moved, turned, one in reversed(pairs):
        a = one * dot(moved, q)
        kept.append(a)
        q -= a * turned
    r: Floats = np.ascontiguousarray(springs.precondition(q))
    for (moved, turned, one), a in zip(pairs, reversed(kept), strict=True):
        b = one * dot(turned, r)
        r += (a - b) * moved
    np.negative(r, out=r)
    return r
