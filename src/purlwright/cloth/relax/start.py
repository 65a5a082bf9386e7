"""Where to begin: positions from the distances along the fabric.

In: a level. Out: positions in two or three dimensions, by landmark scaling: V. de Silva and J. B. Tenenbaum,
Sparse multidimensional scaling using landmark points (2004). The same net always gives the same start.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.relax.coarsen import graph_of

if TYPE_CHECKING:
    from purlwright.cloth.relax.level import Level
    from purlwright.cloth.rest import Floats

__all__ = ["begin"]

_SEED = 20261127
_NOISE = 0.05
"""Of the mean length of an edge: enough to leave a shape that is flat or folded onto itself."""


def begin(level: Level, *, landmarks: int, dimensions: int = 3, flat: bool = False) -> Floats:
    """Positions (n, dimensions). flat : the third axis is drawn in to a tenth, for pieces that lie flat."""
    from scipy.sparse.csgraph import dijkstra

    n = level.n
    many = min(landmarks, n)
    graph = graph_of(level)
    far = np.empty((many, n))
    nearest = np.full(n, np.inf)
    at = 0
    chosen = []
    for k in range(many):
        far[k] = dijkstra(graph, indices=at)
        chosen.append(at)
        nearest = np.minimum(nearest, far[k])
        at = int(nearest.argmax())
    square = far**2
    middle = square[:, chosen]
    mean = middle.mean(axis=1)
    inner = -0.5 * (middle - mean[:, None] - mean[None, :] + mean.mean())
    value, vector = np.linalg.eigh(inner)
    top = np.argsort(value)[::-1][:dimensions]
    value, vector = value[top], vector[:, top]
    # the sign of an eigenvector is free: its largest entry is made positive
    vector = vector * np.sign(vector[np.abs(vector).argmax(axis=0), np.arange(len(top))])
    root = np.sqrt(np.maximum(value, 1e-9))
    # not by BLAS, whose threads cost more here than they save
    x: Floats = np.einsum("kn,kd->nd", square - mean[:, None], -0.5 * vector / root)
    if x.shape[1] < dimensions:
        x = np.concatenate([x, np.zeros((n, dimensions - x.shape[1]))], axis=1)
    step = float(level.length.mean()) if len(level.length) else 1.0
    x += np.random.default_rng(_SEED).normal(scale=_NOISE * step, size=x.shape)
    if flat and dimensions == 3:
        x[:, 2] *= 0.1
    return x
