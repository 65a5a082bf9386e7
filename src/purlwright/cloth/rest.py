"""What the net would measure if nothing pulled on it: lengths of edges, and the rest shape of each face.

In: a :class:`~purlwright.cloth.mesh.Mesh` and the width and height of its stitches. Out: a :class:`Rest`.
Which gauge holds for which stitch is left to ``gauge``; what shape it all takes, to ``relax``.

A face at rest is the polygon of its side lengths whose corners lie on one circle: a rectangle where four
stitches meet, and the only choice that needs no more than the lengths for the many-sided faces over gaps.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from purlwright.cloth.mesh import EdgeKind

if TYPE_CHECKING:
    from purlwright.cloth.mesh import Mesh
    from purlwright.fabric.arrays import Int32

__all__ = ["Corners", "Floats", "Rest", "corners_of", "cyclic_polygons", "face_sides", "rest_of"]

Floats: TypeAlias = NDArray[np.float64]

SEAM_ROWS = 0.5
"""Two edges drawn together stand half a row apart; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Corners:
    """Faces of one number of sides at rest.

    face : (g,) int32, their numbers. node : (g, s) int32. at : (g, s, 2) their corners, anticlockwise.
    """

    face: Int32
    node: Int32
    at: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rest:
    """Lengths at rest, all in mm.

    stitch_mm, row_mm : (k,) width and height at each node. gives : (k,) how many times as far as plain
    stockinette its cloth stretches along the rows.
    edge_mm : (m,) length of each edge. area_mm2 : (f,) area of each face.
    firm : (m,) how hard each edge is to stretch by a share of its length, 1 in plain stockinette.
    faces : the faces in groups by number of sides. Arrays are read-only.
    """

    stitch_mm: Floats
    row_mm: Floats
    gives: Floats
    edge_mm: Floats
    area_mm2: Floats
    firm: Floats
    faces: tuple[Corners, ...]


def rest_of(
    mesh: Mesh, *, stitch_mm: float | Floats, row_mm: float | Floats, gives: float | Floats = 1.0
) -> Rest:
    """Lengths at rest from the gauge.

    stitch_mm, row_mm : one number, or (n,) for every stitch of the fabric by its number, mm, above 0.
    gives : likewise, how many times as far as plain stockinette its cloth stretches along the rows.
    Raises ValueError on sizes that are not above 0, and on arrays too short for the fabric.
    """
    w = _each(mesh, stitch_mm, "a stitch") * _crowded(mesh)
    h = _each(mesh, row_mm, "a row")
    a, b = mesh.edge[:, 0], mesh.edge[:, 1]
    kind = mesh.edge_kind
    length = np.where(kind == EdgeKind.COURSE, (w[a] + w[b]) / 2, h[a]) if len(kind) else np.zeros(0)
    length = np.where(kind == EdgeKind.GRAFT, (h[a] + h[b]) / 2, length)
    length = np.where(kind == EdgeKind.SEAM, (h[a] + h[b]) / 2 * SEAM_ROWS, length)
    give = _each(mesh, gives, "how far a cloth gives")
    firm = np.where(kind == EdgeKind.COURSE, 2 / (give[a] + give[b]), 1.0) if len(kind) else np.ones(0)
    faces = corners_of(mesh.n, mesh.first_of_face, mesh.node_of_face, mesh.edge, length)
    area = np.zeros(len(mesh.first_of_face) - 1)
    for group in faces:
        area[group.face] = _areas(group.at)
    for values in (w, h, give, length, area, firm):
        values.flags.writeable = False
    return Rest(stitch_mm=w, row_mm=h, gives=give, edge_mm=length, area_mm2=area, firm=firm, faces=faces)


def _crowded(mesh: Mesh) -> Floats:
    """What share of its width a stitch has beside others that lie between the same two stitches.

    Three stitches worked into one, and worked together again in the next row, lie in the place of one; with
    all their width such a row would fold over itself.
    """
    share = np.ones(mesh.n)
    wale = mesh.edge[mesh.edge_kind == EdgeKind.WALE].astype(np.int64)
    if not len(wale):
        return share
    below, above = np.full(mesh.n, -1, np.int64), np.full(mesh.n, -1, np.int64)
    below[wale[::-1, 0]] = wale[::-1, 1]
    above[wale[:, 1]] = wale[:, 0]
    inside = (below >= 0) & (above >= 0)
    _, which, many = np.unique(
        below[inside] * mesh.n + above[inside], return_inverse=True, return_counts=True
    )
    share[inside] = 1 / many[which]
    return share


def _each(mesh: Mesh, size: float | Floats, what: str) -> Floats:
    values = np.asarray(size, np.float64)
    if values.ndim and len(values) <= int(mesh.stitch.max(initial=-1)):
        raise ValueError(f"{what} has a size for each stitch of the fabric: not for {len(values)} only")
    out = values[mesh.stitch] if values.ndim else np.full(mesh.n, float(values))
    if not (np.isfinite(out) & (out > 0)).all() or (not values.ndim and not values > 0):
        raise ValueError(f"{what} has a size above 0 mm")
    return out


def corners_of(n: int, first: Int32, nodes: Int32, edge: Int32, length: Floats) -> tuple[Corners, ...]:
    """Every face laid out at rest, grouped by its number of sides."""
    sizes = np.diff(first)
    if not len(sizes):
        return ()
    side = face_sides(n, first, nodes, edge, length)
    out = []
    for s in np.unique(sizes).tolist():
        which = np.flatnonzero(sizes == s)
        take = first[:-1][which, None] + np.arange(s)
        out.append(Corners(face=which.astype(np.int32), node=nodes[take], at=cyclic_polygons(side[take])))
    return tuple(out)


def face_sides(n: int, first: Int32, nodes: Int32, edge: Int32, length: Floats) -> Floats:
    """The length of the side of a face that begins at each of its nodes."""
    after = np.arange(1, len(nodes) + 1)
    after[first[1:] - 1] = first[:-1]
    a, b = nodes.astype(np.int64), nodes[after].astype(np.int64)
    key = np.minimum(a, b) * n + np.maximum(a, b)
    known = edge.min(axis=1).astype(np.int64) * n + edge.max(axis=1)
    order = np.argsort(known, kind="stable")
    at = np.minimum(np.searchsorted(known, key, sorter=order), len(known) - 1)
    at = order[at]
    found = known[at] == key
    out = length[at]
    if not found.all():  # a side that is no edge: as long as the other sides of its face are on the mean
        owner = np.repeat(np.arange(len(first) - 1), np.diff(first))
        total = np.bincount(owner[found], out[found], minlength=len(first) - 1)
        many = np.maximum(np.bincount(owner[found], minlength=len(first) - 1), 1)
        out = np.where(found, out, (total / many)[owner])
    return out


def cyclic_polygons(side: Floats) -> Floats:
    """Polygons with corners on one circle, from their sides in order.

    side : (g, s), above 0. Returns (g, s, 2), anticlockwise, side ``i`` from corner ``i`` to the next. A side
    longer than all others together is shortened until the polygon closes.

    Notes: halves an interval for the radius until it is exact to rounding; equal polygons are worked once.
    """
    g, s = side.shape
    if s == 4:  # rectangles, which nearly all are
        square = np.isclose(side[:, 0], side[:, 2], rtol=1e-9) & np.isclose(side[:, 1], side[:, 3], rtol=1e-9)
        at = np.zeros((g, 4, 2))
        at[:, 1, 0] = at[:, 2, 0] = side[:, 0]
        at[:, 2, 1] = at[:, 3, 1] = side[:, 1]
        if not square.all():
            at[~square] = _cyclic(side[~square])
        return at
    return _cyclic(side)


def _cyclic(side: Floats) -> Floats:
    _, first, back = np.unique(np.round(side, 9), axis=0, return_index=True, return_inverse=True)
    few = side[first].copy()
    g, s = few.shape
    rows, longest = np.arange(g), few.argmax(axis=1)
    others = few.sum(axis=1) - few[rows, longest]
    few[rows, longest] = np.minimum(few[rows, longest], 0.999 * others)
    top = few[rows, longest]
    inside = np.arcsin(few / top[:, None]).sum(axis=1) >= np.pi
    sign = np.ones((g, s))
    sign[rows[~inside], longest[~inside]] = -1.0
    target = np.where(inside, np.pi, 0.0)
    low, high = top / 2, top * 1000.0
    for _ in range(80):
        middle = (low + high) / 2
        total = (sign * np.arcsin(np.minimum(few / (2 * middle)[:, None], 1.0))).sum(axis=1)
        # with the middle inside, a larger circle makes the arcs too short; outside, the other way round
        grow = np.where(inside, total > target, total < target)
        low, high = np.where(grow, middle, low), np.where(grow, high, middle)
    radius = (low + high) / 2
    arc = 2 * np.arcsin(np.minimum(few / (2 * radius)[:, None], 1.0))
    outside = rows[~inside]
    arc[outside, longest[outside]] *= -1.0
    turn = np.concatenate([np.zeros((g, 1)), np.cumsum(arc, axis=1)[:, :-1]], axis=1)
    at = radius[:, None, None] * np.stack([np.cos(turn), np.sin(turn)], axis=2)
    out: Floats = at[back.reshape(-1)]
    return out


def _areas(at: Floats) -> Floats:
    x, y = at[..., 0], at[..., 1]
    total: Floats = (x * np.roll(y, -1, axis=1) - np.roll(x, -1, axis=1) * y).sum(axis=1)
    area: Floats = np.abs(total) / 2
    return area
