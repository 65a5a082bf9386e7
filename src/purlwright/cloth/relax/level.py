"""One net of springs and bending, fine or coarse, and its energy.

In: nodes tied by edges, faces at rest. Out: a :class:`Level` whose :func:`energy` and its slope are what the
solver asks for. Which levels there are is left to ``coarsen``, how they are solved to ``solve``.

E = sum of k (l / L - 1)^2 / 2 over edges and face diagonals, and (bend / 2) tr(x' Q x), lengths counted in
stitch widths; k is 1 in plain stockinette, and less along the rows of a cloth that gives more. Q = C' M^-1 C,
with C the cotangent Laplacian of the faces at rest, averaged over the ways to cut each into triangles, and M
the area about each node; the edge of the fabric is free to bend.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.cloth.rest import Corners, Floats

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.fabric.arrays import Int32

__all__ = [
    "DIAGONAL",
    "Level",
    "Slopes",
    "Springs",
    "Ways",
    "as_long",
    "dot",
    "energy",
    "level_of",
    "springs_of",
]

DIAGONAL = 0.1
"""How stiff a face diagonal is beside an edge: a knitted fabric shears easily. Chosen by eye."""
_COTANGENT = (-2.0, 3.0)
"""Cotangents beyond these come from faces that hardly have an area."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Level:
    """A net of ``n`` nodes, lengths in stitch widths.

    edge : (m, 2), length : (m,), the ties that it hangs together by; faces : the faces at rest.
    diagonal : (d, 2), across : (d,), what holds the faces in shape.
    way : (m + d, 2), which way each edge, then each diagonal, goes along the cloth: to the right along a row
    and up the columns; not a number where it is not known, as over a seam.
    firm : (m,) how stiff each edge is beside one of plain stockinette.
    """

    n: int
    edge: Int32
    length: Floats
    faces: tuple[Corners, ...]
    diagonal: Int32
    across: Floats
    way: Floats
    firm: Floats
    first_of_face: Int32
    node_of_face: Int32


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Springs:
    """A level made ready: both ends of every spring, what sums over them, and the bending."""

    n: int
    begin: NDArray[np.intp]
    end: NDArray[np.intp]
    gather: Any
    """Sums a value of each spring at the node it begins at, and takes it off at the other, (n, springs)."""
    length: Floats
    stiff: Floats
    bending: Any
    precondition: Any
    """Solves for the net with springs that pull in all directions alike: (n, dimensions) gives the same."""


def level_of(
    n: int, edge: Int32, length: Floats, way: Floats, first: Int32, nodes: Int32, faces: tuple[Corners, ...],
    firm: Floats | None = None,
) -> Level:  # fmt: skip
    """A level, with the diagonals of its faces. way : (m, 2), of the edges; firm : all alike if not given."""
    pairs: list[NDArray[Any]] = []
    lengths: list[Floats] = []
    ways: list[Floats] = []
    known = Ways(n, edge, way)
    for group in faces:
        s = group.node.shape[1]
        sides = [known.between(group.node[:, i], group.node[:, (i + 1) % s]) for i in range(s)]
        for i in range(s - 2):
            gone = sides[i]
            for j in range(i + 2, s - (i == 0)):
                gone = gone + sides[j - 1]
                pairs.append(group.node[:, (i, j)])
                lengths.append(np.hypot(*(group.at[:, i] - group.at[:, j]).T))
                ways.append(gone)
    diagonal = np.concatenate(pairs) if pairs else np.zeros((0, 2), np.int32)
    across = np.concatenate(lengths) if lengths else np.zeros(0)
    gone = np.concatenate(ways) if ways else np.zeros((0, 2))
    real = (diagonal[:, 0] != diagonal[:, 1]) & (across > 1e-6)
    across = across[real]
    return Level(
        n=n, edge=edge, length=length, faces=faces, diagonal=diagonal[real].astype(np.int32),
        across=across, way=np.concatenate([way, as_long(gone[real], across)]),
        firm=np.ones(len(edge)) if firm is None else firm,
        first_of_face=first, node_of_face=nodes,
    )  # fmt: skip


def as_long(way: Floats, length: Floats) -> Floats:
    """The same ways, each as long as it is given; one of no length is not known."""
    size = np.hypot(way[:, 0], way[:, 1])
    with np.errstate(divide="ignore", invalid="ignore"):
        out: Floats = np.where(size > 1e-9, length / size, np.nan)[:, None] * way
    return out


class Ways:
    """Looks up which way the tie between two nodes goes."""

    def __init__(self, n: int, tie: Int32, way: Floats) -> None:
        a, b = tie[:, 0].astype(np.int64), tie[:, 1].astype(np.int64)
        self._n = n
        self._turned = a > b
        key = np.minimum(a, b) * n + np.maximum(a, b)
        self._order = np.argsort(key, kind="stable")
        self._key = key[self._order]
        self._way = way

    def between(self, a: Int32, b: Int32) -> Floats:
        """From nodes ``a`` to nodes ``b``, (k, 2); not a number where nothing ties them."""
        p, q = a.astype(np.int64), b.astype(np.int64)
        key = np.minimum(p, q) * self._n + np.maximum(p, q)
        out = np.full((len(key), 2), np.nan)
        if not len(self._key):
            return out
        at = np.minimum(np.searchsorted(self._key, key), len(self._key) - 1)
        found = self._key[at] == key
        tie = self._order[at[found]]
        sign = np.where(self._turned[tie] != (p > q)[found], -1.0, 1.0)
        out[found] = self._way[tie] * sign[:, None]
        return out


def springs_of(level: Level, *, weight: float = 1.0, bend: bool = True) -> Springs:
    """Make a level ready. ``weight`` is how many of the finest nodes stand behind one of this level."""
    from scipy.sparse import coo_array, csr_array
    from scipy.sparse.linalg import splu

    n, m, d = level.n, len(level.edge), len(level.diagonal)
    tie = np.concatenate([level.edge, level.diagonal])
    length = np.concatenate([level.length, level.across])
    stiff = np.concatenate([level.firm * weight, np.full(d, DIAGONAL * weight)])
    total = m + d
    ends = np.arange(0, 2 * total + 1, 2, dtype=np.int32)
    signs = np.tile([1.0, -1.0], total)
    gather = csr_array((signs, tie.ravel().astype(np.int32), ends), shape=(total, n)).T.tocsr()
    k = stiff[:m] / length[:m] ** 2
    i, j = level.edge[:, 0], level.edge[:, 1]
    pull = coo_array(
        (np.concatenate([k, k, -k, -k]), (np.concatenate([i, j, i, j]), np.concatenate([i, j, j, i]))),
        shape=(n, n),
    ).tocsc()
    pull = pull + _pin(n, pull)
    factor = splu(
        pull.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
    )
    return Springs(
        n=n, begin=tie[:, 0].astype(np.intp), end=tie[:, 1].astype(np.intp), gather=gather, length=length,
        stiff=stiff,
        bending=_bending(level) if bend else None, precondition=factor.solve,
    )  # fmt: skip


def _pin(n: int, pull: Any) -> Any:
    """One node held in its place, and the least of a hold on all, so that there is one answer."""
    from scipy.sparse import dia_array

    diagonal = pull.diagonal()
    hold = np.full(n, 1e-10 * float(diagonal.mean()) + 1e-300)
    hold[0] += max(float(diagonal[0]), 1e-12)
    return dia_array((hold[None, :], [0]), shape=(n, n))


def _bending(level: Level) -> Any:
    from scipy.sparse import coo_array, dia_array

    n = level.n
    ends: list[Any] = []
    weights: list[Any] = []
    area = np.zeros(n)
    for group in level.faces:
        pairs, weight, parts = _cotangents(group)
        ends.append(group.node[:, pairs].reshape(-1, 2))
        weights.append(weight.ravel())
        area += np.bincount(group.node.ravel(), parts.ravel(), n)
    if not ends:
        return None
    (i, j), w = np.concatenate(ends).T, np.concatenate(weights)
    c = coo_array((-w, (i, j)), shape=(n, n)).tocsr()
    c = c + c.T
    inside = ~_rim(level) & (area > 0)
    root = np.where(inside, 1 / np.sqrt(np.where(area > 0, area, 1.0)), 0.0)
    c = c - dia_array((np.asarray(c.sum(axis=1)).reshape(1, -1), [0]), shape=(n, n))
    half = (dia_array((root[None, :], [0]), shape=(n, n)) @ c).tocsr()
    q = (half.T @ half).tocsr()
    q.eliminate_zeros()
    return q


def _cotangents(group: Corners) -> tuple[Int32, Floats, Floats]:
    """The cotangent weights between every two corners of faces of one kind, over all ways to cut them.

    Each way cuts a face into triangles from one corner; all ways count alike. Gives the (p, 2) pairs of
    corners, the (g, p) weights and the (g, s) share of its area that each corner has.
    """
    g, s = group.node.shape
    place = {(i, j): k for k, (i, j) in enumerate((i, j) for i in range(s) for j in range(i + 1, s))}
    weight = np.zeros((len(place), g))
    parts = np.zeros((s, g))
    x, y = (np.ascontiguousarray(group.at[:, :, c].T) for c in (0, 1))
    for apex in range(s):
        for k in range(1, s - 1):
            three = (apex, (apex + k) % s, (apex + k + 1) % s)
            for corner in range(3):
                at, to, fro = three[corner], three[(corner + 1) % 3], three[(corner + 2) % 3]
                ax, ay, bx, by = x[to] - x[at], y[to] - y[at], x[fro] - x[at], y[fro] - y[at]
                cross = ax * by - ay * bx
                cotangent = (ax * bx + ay * by) / np.where(np.abs(cross) > 1e-12, cross, 1e-12)
                weight[place[min(to, fro), max(to, fro)]] += np.clip(cotangent, *_COTANGENT) / (2 * s)
                parts[at] += np.abs(cross) / (6 * s)
    return np.array(list(place), np.int32).reshape(-1, 2), weight.T, parts.T


def _rim(level: Level) -> NDArray[np.bool_]:
    """Nodes on the edge of the fabric: on a side that only one face has."""
    first, nodes = level.first_of_face, level.node_of_face
    after = np.arange(1, len(nodes) + 1)
    after[first[1:] - 1] = first[:-1]
    a, b = nodes.astype(np.int64), nodes[after].astype(np.int64)
    key, count = np.unique(np.minimum(a, b) * level.n + np.maximum(a, b), return_counts=True)
    alone = key[count == 1]
    rim = np.ones(level.n, bool)
    rim[nodes] = False
    rim[alone // level.n] = rim[alone % level.n] = True
    return rim


def dot(a: Floats, b: Floats) -> float:
    """The inner product of two sets of positions.

    Notes: not by BLAS, whose threads cost more here than they save, most of all beside other work.
    """
    return float(np.einsum("i,i->", a.ravel(), b.ravel()))


class Slopes:
    """The energy of one net and its slope, for one shape after another, in arrays that are made once."""

    def __init__(self, springs: Springs, dimensions: int) -> None:
        many = len(springs.length)
        self.springs = springs
        self._apart = np.empty((dimensions, many))
        self._length, self._strain, self._pull = (np.empty(many) for _ in range(3))
        self._inverse = 1.0 / springs.length

    def at(self, x: Floats, bend: float, press: float = 0.0) -> tuple[float, Floats]:
        """The energy of a shape and its slope, (dimensions, n) both, one row a dimension."""
        s, apart, length, strain, pull = self.springs, self._apart, self._length, self._strain, self._pull
        for c in range(len(x)):
            np.take(x[c], s.begin, out=apart[c], mode="clip")
            np.take(x[c], s.end, out=pull, mode="clip")
            np.subtract(apart[c], pull, out=apart[c])
        np.multiply(apart[0], apart[0], out=length)
        for c in range(1, len(x)):
            np.multiply(apart[c], apart[c], out=pull)
            np.add(length, pull, out=length)
        np.sqrt(length, out=length)
        np.maximum(length, 1e-12, out=length)
        np.multiply(length, self._inverse, out=strain)
        np.subtract(strain, 1.0, out=strain)
        np.multiply(s.stiff, strain, out=pull)
        total = 0.5 * dot(pull, strain)
        np.divide(pull, length, out=pull)
        np.multiply(pull, self._inverse, out=pull)
        slope = np.empty_like(x)
        for c in range(len(x)):
            np.multiply(apart[c], pull, out=apart[c])
            slope[c] = s.gather @ apart[c]
            if s.bending is not None and bend:
                q = s.bending @ x[c]
                total += 0.5 * bend * dot(q, x[c])
                q *= bend
                slope[c] += q
        if press:
            total += 0.5 * press * dot(x[2], x[2])
            slope[2] += press * x[2]
        return total, slope


def energy(springs: Springs, x: Floats, bend: float, press: float = 0.0) -> tuple[float, Floats]:
    """The energy of a shape and its slope. x : (n, 2 or 3)."""
    total, slope = Slopes(springs, x.shape[1]).at(np.ascontiguousarray(x.T), bend, press)
    return total, slope.T
