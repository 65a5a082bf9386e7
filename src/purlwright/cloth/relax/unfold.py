"""A piece that lies flat in life, unfolded in the plane: no face of it may lie with its wrong side up.

In: a net, its springs and where it lies in the plane. Out: the same with its folds opened, as far as they can
be. Springs alone do not mind a face that is turned over; each corner that has less than a share of its area
at rest is pressed open until it has.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.cloth.relax.level import Slopes, dot, energy
from purlwright.cloth.relax.solve import descend

if TYPE_CHECKING:
    from purlwright.cloth.relax.level import Level, Springs
    from purlwright.cloth.rest import Floats
    from purlwright.fabric.arrays import Int32

__all__ = ["unfolded"]

_OPEN = 0.3
"""A corner is pressed open until it has this share of its area at rest."""
_PRESS = 10.0
_MOST = 80
_STILL = 1e-3
_LARGEST = 0.5
"""Square stitch widths: an opening of many sides has no corner that needs more."""


def unfolded(level: Level, springs: Springs, x: Floats) -> tuple[Floats, float, int]:
    """Positions (n, 2) without folds, their energy without the pressing, and how many steps it took."""
    corner, area = _corners(level)
    if not len(corner):
        return x, energy(springs, x, 0.0)[0], 0
    now = _areas(x, corner)
    if (now < 0).mean() > 1 / 2:
        x = x * (-1.0, 1.0)
        now = -now
    if not (now < 0).any():
        return x, energy(springs, x, 0.0)[0], 0
    wanted = _OPEN * np.minimum(area, _LARGEST)
    slopes = Slopes(springs, 2)

    def pressed(flat: Floats) -> tuple[float, Floats]:
        value, slope = slopes.at(flat, 0.0)
        lacking = np.maximum(wanted - _areas(flat.T, corner), 0.0)
        slope -= _PRESS * _opening(flat.T, corner, lacking).T
        return value + _PRESS * dot(lacking, lacking), slope

    got = descend(pressed, springs, x, still=_STILL, most=_MOST)
    return got.x, energy(springs, got.x, 0.0)[0], got.steps


def _corners(level: Level) -> tuple[Int32, Floats]:
    """Every corner of every face with its two neighbours, (c, 3), and its area at rest in stitch widths."""
    nodes: list[Int32] = []
    areas: list[Floats] = []
    for group in level.faces:
        sides = group.node.shape[1]
        for i in range(1 if sides == 3 else sides):
            three = [i, (i + 1) % sides, (i + 2) % sides]
            nodes.append(group.node[:, three])
            at = group.at[:, three]
            areas.append(_cross(at[:, 1] - at[:, 0], at[:, 2] - at[:, 0]) / 2)
    if not nodes:
        return np.zeros((0, 3), np.int32), np.zeros(0)
    return np.concatenate(nodes), np.concatenate(areas)


def _cross(a: Floats, b: Floats) -> Any:
    return a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]


def _areas(x: Floats, corner: Int32) -> Any:
    p, q, r = (x[corner[:, i]] for i in range(3))
    return _cross(q - p, r - p) / 2


def _opening(x: Floats, corner: Int32, lacking: Floats) -> Floats:
    """Which way each node goes to open the corners that lack some area: (n, 2)."""
    out = np.zeros_like(x)
    for i in range(3):
        a, b = x[corner[:, (i + 1) % 3]], x[corner[:, (i + 2) % 3]]
        out[:, 0] += np.bincount(corner[:, i], lacking * (a[:, 1] - b[:, 1]), len(x))
        out[:, 1] += np.bincount(corner[:, i], lacking * (b[:, 0] - a[:, 0]), len(x))
    return out
