"""Fewer nodes for the same cloth: a net of patches, about a quarter as many, and the way back.

In: a level. Out: a coarser one, and for each node the patch it belongs to. Lengths of the coarse net are
walked on the fine one, so that nothing about its shape in space has to be known.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.cloth.relax.level import Level, level_of
from purlwright.cloth.rest import Floats, corners_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.fabric.arrays import Int32

__all__ = ["coarsen", "graph_of", "prolong"]


def graph_of(level: Level) -> Any:
    """All ties of a level with their lengths, as a symmetric sparse matrix; the shorter of two counts."""
    from scipy.sparse import csr_array

    tie = np.concatenate([level.edge, level.diagonal])
    length = np.concatenate([level.length, level.across])
    a = np.concatenate([tie[:, 0], tie[:, 1]]).astype(np.int64)
    b = np.concatenate([tie[:, 1], tie[:, 0]]).astype(np.int64)
    both = np.concatenate([length, length])
    key = a * level.n + b
    order = np.lexsort((both, key))
    key, both = key[order], both[order]
    once = np.concatenate(([True], key[1:] != key[:-1])) if len(key) else np.zeros(0, bool)
    key, both = key[once], both[once]
    first = np.zeros(level.n + 1, np.int32)
    np.cumsum(np.bincount(key // level.n, minlength=level.n), out=first[1:])
    return csr_array((both, (key % level.n).astype(np.int32), first), shape=(level.n, level.n))


def coarsen(level: Level) -> tuple[Level, Int32, Int32]:
    """A coarser level; the patch of each node (n,) int32; the fine node in the middle of each patch."""
    from scipy.sparse.csgraph import dijkstra

    graph = graph_of(level)
    seeds = _apart(graph)
    far, _, source = dijkstra(graph, indices=seeds, min_only=True, return_predecessors=True)
    number = np.full(level.n, -1, np.int32)
    number[seeds] = np.arange(len(seeds), dtype=np.int32)
    patch = number[source]
    n = len(seeds)
    tie = np.concatenate([level.edge, level.diagonal])
    a, b = patch[tie[:, 0]].astype(np.int64), patch[tie[:, 1]].astype(np.int64)
    walked = far[tie[:, 0]] + np.concatenate([level.length, level.across]) + far[tie[:, 1]]
    apart = a != b
    a, b, walked = a[apart], b[apart], walked[apart]
    key = np.minimum(a, b) * n + np.maximum(a, b)
    order = np.lexsort((walked, key))
    key, walked = key[order], walked[order]
    once = np.concatenate(([True], key[1:] != key[:-1])) if len(key) else np.zeros(0, bool)
    key, walked = key[once], walked[once]
    edge = np.stack([key // n, key % n], axis=1).astype(np.int32)
    first, nodes = _coarse_faces(level, patch)
    faces = corners_of(n, first, nodes, edge, walked)
    return level_of(n, edge, walked, first, nodes, faces), patch, seeds.astype(np.int32)


def _apart(graph: Any) -> NDArray[Any]:
    """Nodes no two of which are tied, taken greedily in the order of the yarn."""
    n = graph.shape[0]
    first, near = graph.indptr.tolist(), graph.indices.tolist()
    taken = bytearray(n)
    seeds = []
    for i in range(n):
        if not taken[i]:
            seeds.append(i)
            for j in near[first[i] : first[i + 1]]:
                taken[j] = 1
    return np.array(seeds)


def _coarse_faces(level: Level, patch: Int32) -> tuple[Int32, Int32]:
    """Faces in which three or more patches meet, each patch once."""
    size = np.diff(level.first_of_face)
    label = patch[level.node_of_face]
    owner = np.repeat(np.arange(len(size)), size)
    before = np.arange(-1, len(label) - 1)
    before[level.first_of_face[:-1]] = level.first_of_face[1:] - 1
    change = label != label[before]
    label, owner = label[change], owner[change]
    count = np.bincount(owner, minlength=len(size))
    key = owner.astype(np.int64) * (int(patch.max(initial=0)) + 1) + label
    distinct = np.bincount(owner[np.unique(key, return_index=True)[1]], minlength=len(size))
    good = (count >= 3) & (distinct == count)
    take = good[owner]
    first = np.concatenate(([0], np.cumsum(count[good]))).astype(np.int32)
    return first, label[take].astype(np.int32)


def prolong(level: Level, patch: Int32, seeds: Int32, coarse: Floats) -> Floats:
    """Positions for a fine level from a coarse one: each node where its patch is, then smoothed a little."""
    x: Floats = coarse[patch].copy()
    graph = graph_of(level)
    graph.data = 1 / graph.data
    total = np.asarray(graph.sum(axis=1)).reshape(-1, 1)
    for _ in range(6):
        x = (graph @ x) / total
        x[seeds] = coarse
    return x
