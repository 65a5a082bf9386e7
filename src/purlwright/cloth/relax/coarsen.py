"""Fewer nodes for the same cloth: a net of patches, about a quarter as many, and the way back.

In: a level. Out: a coarser one, and for each node the patch it belongs to. Lengths of the coarse net are
walked on the fine one, so that nothing about its shape in space has to be known: how far along the rows, and
how far up the columns, of which the straight way follows.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.cloth.relax.level import Level, Ways, as_long, level_of
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
    far, before, source = dijkstra(graph, indices=seeds, min_only=True, return_predecessors=True)
    number = np.full(level.n, -1, np.int32)
    number[seeds] = np.arange(len(seeds), dtype=np.int32)
    patch = number[source]
    n = len(seeds)
    tie = np.concatenate([level.edge, level.diagonal])
    a, b = patch[tie[:, 0]].astype(np.int64), patch[tie[:, 1]].astype(np.int64)
    apart = a != b
    tie, a, b = tie[apart], a[apart], b[apart]
    walked = far[tie[:, 0]] + np.concatenate([level.length, level.across])[apart] + far[tie[:, 1]]
    from_seed = _from_seed(level, before)
    way = from_seed[tie[:, 0]] + level.way[apart] - from_seed[tie[:, 1]]
    length, way = _straightened(walked, way)
    way = np.where((a > b)[:, None], -way, way)
    key = np.minimum(a, b) * n + np.maximum(a, b)
    order = np.lexsort((length, key))
    key, length, way = key[order], length[order], way[order]
    once = np.concatenate(([True], key[1:] != key[:-1])) if len(key) else np.zeros(0, bool)
    key, length, way = key[once], length[once], way[once]
    edge = np.stack([key // n, key % n], axis=1).astype(np.int32)
    first, nodes = _coarse_faces(level, patch)
    faces = corners_of(n, first, nodes, edge, length)
    return level_of(n, edge, length, way, first, nodes, faces), patch, seeds.astype(np.int32)


_STRAIGHT = 0.85
"""The straight way counts as no shorter than this share of a walk; by trial, those that settle best."""


def _straightened(walked: Floats, way: Floats) -> tuple[Floats, Floats]:
    """How long the straight way is, where it is known how far each walk went along the rows and up them."""
    straight = np.hypot(way[:, 0], way[:, 1])
    length = np.where(np.isfinite(straight), np.clip(straight, _STRAIGHT * walked, walked), walked)
    return length, as_long(way, length)


def _from_seed(level: Level, before: Int32) -> Floats:
    """The way from the middle of its patch to each node, (n, 2). before : the node before it on the walk."""
    known = before < 0
    out = np.zeros((level.n, 2))
    ways = Ways(level.n, np.concatenate([level.edge, level.diagonal]), level.way)
    while not known.all():
        ready = np.flatnonzero(~known & known[np.maximum(before, 0)]).astype(np.int32)
        if not len(ready):
            break
        step: Floats = ways.between(before[ready], ready)
        out[ready] = out[before[ready]] + step
        known[ready] = True
    return out


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
    """Positions for a fine level from a coarse one: each node where its patch is, then smoothed.

    First between the middles of the patches, which stay; then altogether, forth and back a little more, which
    takes away what is rough and keeps the size: G. Taubin, A signal processing approach to fair surface
    design, SIGGRAPH (1995) 351.
    """
    x: Floats = coarse[patch].copy()
    graph = graph_of(level)
    graph.data = 1 / graph.data
    total = np.asarray(graph.sum(axis=1)).reshape(-1, 1)
    for _ in range(_BETWEEN):
        x = (graph @ x) / total
        x[seeds] = coarse
    for _ in range(_FAIR):
        for share in (_FORTH, _BACK):
            x += share * ((graph @ x) / total - x)
    return x


_BETWEEN, _FAIR = 6, 8
_FORTH, _BACK = 0.6, -0.64
