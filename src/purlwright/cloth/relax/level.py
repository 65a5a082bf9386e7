"""One net of springs and bending, fine or coarse, and its energy.

In: nodes tied by edges, faces at rest. Out: a :class:`Level` whose :func:`energy` and its slope are what the
solver asks for. Which levels there are is left to ``coarsen``, how they are solved to ``solve``.

E = sum of k (l / L - 1)^2 / 2 over edges and face diagonals, and (bend / 2) tr(x' Q x), lengths counted in
stitch widths. Q = C' M^-1 C, with C the cotangent Laplacian of the faces at rest, averaged over the ways to
cut each into triangles, and M the area about each node; the edge of the fabric is free to bend.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.cloth.rest import Corners, Floats

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.fabric.arrays import Int32

__all__ = ["DIAGONAL", "Level", "Springs", "dot", "energy", "level_of", "springs_of"]

DIAGONAL = 0.1
"""How stiff a face diagonal is beside an edge: a knitted fabric shears easily. Chosen by eye."""
_COTANGENT = (-2.0, 3.0)
"""Cotangents beyond these come from faces that hardly have an area."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Level:
    """A net of ``n`` nodes, lengths in stitch widths.

    edge : (m, 2), length : (m,), the ties that it hangs together by; faces : the faces at rest.
    diagonal : (d, 2), across : (d,), what holds the faces in shape.
    """

    n: int
    edge: Int32
    length: Floats
    faces: tuple[Corners, ...]
    diagonal: Int32
    across: Floats
    first_of_face: Int32
    node_of_face: Int32


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Springs:
    """A level made ready: sparse matrices that give differences along springs, and the bending."""

    n: int
    difference: Any
    gather: Any
    length: Floats
    stiff: Floats
    bending: Any
    precondition: Any
    """Solves for the net with springs that pull in all directions alike."""


def level_of(
    n: int, edge: Int32, length: Floats, first: Int32, nodes: Int32, faces: tuple[Corners, ...]
) -> Level:
    """A level, with the diagonals of its faces."""
    pairs: list[NDArray[Any]] = []
    lengths: list[Floats] = []
    for group in faces:
        s = group.node.shape[1]
        for i in range(s - 2):
            for j in range(i + 2, s - (i == 0)):
                pairs.append(group.node[:, (i, j)])
                lengths.append(np.hypot(*(group.at[:, i] - group.at[:, j]).T))
    diagonal = np.concatenate(pairs) if pairs else np.zeros((0, 2), np.int32)
    across = np.concatenate(lengths) if lengths else np.zeros(0)
    real = (diagonal[:, 0] != diagonal[:, 1]) & (across > 1e-6)
    return Level(
        n=n, edge=edge, length=length, faces=faces, diagonal=diagonal[real].astype(np.int32),
        across=across[real], first_of_face=first, node_of_face=nodes,
    )  # fmt: skip


def springs_of(level: Level, *, weight: float = 1.0, bend: bool = True) -> Springs:
    """Make a level ready. ``weight`` is how many of the finest nodes stand behind one of this level."""
    from scipy.sparse import coo_array, csr_array
    from scipy.sparse.linalg import splu

    n, m, d = level.n, len(level.edge), len(level.diagonal)
    tie = np.concatenate([level.edge, level.diagonal])
    length = np.concatenate([level.length, level.across])
    stiff = np.concatenate([np.full(m, weight), np.full(d, DIAGONAL * weight)])
    total = m + d
    difference = csr_array(
        (
            np.tile([1.0, -1.0], total),
            tie.ravel().astype(np.int32),
            np.arange(0, 2 * total + 1, 2, dtype=np.int32),
        ),
        shape=(total, n),
    )
    gather = difference.T.tocsr()
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
        n=n, difference=difference, gather=gather, length=length, stiff=stiff,
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
    rows: list[Any] = []
    columns: list[Any] = []
    weights: list[Any] = []
    area = np.zeros(n)
    for group in level.faces:
        s = group.node.shape[1]
        for apex in range(s):
            for k in range(1, s - 1):
                three = (apex, (apex + k) % s, (apex + k + 1) % s)
                _triangle(group, three, s, rows, columns, weights, area)
    if not rows:
        return None
    i, j, w = np.concatenate(rows), np.concatenate(columns), np.concatenate(weights)
    c = coo_array(
        (
            np.concatenate([w, w, -w, -w]),
            (np.concatenate([i, j, i, j]), np.concatenate([j, i, i, j])),
        ),
        shape=(n, n),
    ).tocsr()
    inside = ~_rim(level) & (area > 0)
    root = np.where(inside, 1 / np.sqrt(np.where(area > 0, area, 1.0)), 0.0)
    half = dia_array((root[None, :], [0]), shape=(n, n)) @ c
    q = (half.T @ half).tocsr()
    q.eliminate_zeros()
    return q


def _triangle(
    group: Corners, three: tuple[int, int, int], s: int, rows: list[Any], columns: list[Any],
    weights: list[Any], area: Floats,
) -> None:  # fmt: skip
    """Add one triangle of every face of a group, which is one of ``s`` ways to cut it."""
    at = group.at[:, three]
    ahead, behind = np.roll(at, -1, axis=1) - at, np.roll(at, 1, axis=1) - at
    cross = ahead[..., 0] * behind[..., 1] - ahead[..., 1] * behind[..., 0]
    dot = (ahead * behind).sum(axis=2)
    cotangent = np.clip(dot / np.where(np.abs(cross) > 1e-12, cross, 1e-12), *_COTANGENT)
    node = group.node[:, three]
    for corner in range(3):
        rows.append(node[:, (corner + 1) % 3])
        columns.append(node[:, (corner + 2) % 3])
        weights.append(cotangent[:, corner] / (2 * s))
        np.add.at(area, node[:, corner], np.abs(cross[:, 0]) / (6 * s))


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


def energy(springs: Springs, x: Floats, bend: float, press: float = 0.0) -> tuple[float, Floats]:
    """The energy of a shape and its slope. x : (n, 2 or 3)."""
    d = springs.difference @ x
    length = np.sqrt(np.einsum("ij,ij->i", d, d))
    np.maximum(length, 1e-12, out=length)
    strain = length / springs.length - 1.0
    pull = springs.stiff * strain
    total = 0.5 * float(np.einsum("i,i->", pull, strain))
    pull /= length * springs.length
    d *= pull[:, None]
    slope = springs.gather @ d
    if springs.bending is not None and bend:
        q = springs.bending @ x
        total += 0.5 * bend * dot(q, x)
        q *= bend
        slope += q
    if press:
        z = x[:, 2]
        total += 0.5 * press * float(np.einsum("i,i->", z, z))
        slope[:, 2] += press * z
    return total, slope
