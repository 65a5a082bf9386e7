"""The fabric as a net: where each stitch is tied, and the meshes between.

In: what was knitted. Out: a :class:`Mesh`: nodes (stitches, and slipped loops once for each row that passed
them), edges along the rows and up the columns, and the faces between them, seen from the right side.
How a row lies on those before is left to ``netting``, lengths to ``rest``.

A cast-on and a bind-off are lines: the nodes of a cast-on are the lower edge of the first row, and a
bind-off adds none.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Int8, Int32, Link

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.cloth.netting import Netting
    from purlwright.needles.knitted import Knitted

__all__ = ["EdgeKind", "Mesh", "component_of", "mesh_of", "open_lines", "rims_of"]


class EdgeKind(IntEnum):
    """What an edge of the net is."""

    COURSE = 0
    """Along a row."""
    WALE = 1
    """Up a column."""
    GRAFT = 2
    """A row that was sewn, as high as a knitted one."""
    SEAM = 3
    """Two loops or edges drawn together."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mesh:
    """The net of one knitted pattern: ``k`` nodes, ``m`` edges, ``f`` faces.

    stitch : (k,) int32, the fabric's number; a slipped loop has a node more in each row that passed it.
    slipped : (k,) bool, such a node.
    order, piece : (k,) int32, ledger order of the row and number of the piece in the ledger.
    wrong : (k,) bool, worked with the wrong side facing.
    edge : (m, 2) int32 nodes; edge_kind : (m,) int8, an :class:`EdgeKind`. A wale edge is (stitch, below).
    first_of_face : (f + 1,) int32; node_of_face : nodes of each face in turn, anticlockwise from the right
    side.
    row_order : (r,) int32; first_of_row : (r + 1,) int32; node_of_row : nodes of each row in working order.
    component : (k,) int32, which nodes hang together, from 0.
    euler : nodes less edges plus faces: 1 for a flat piece, 0 for a tube, 1 for a tube closed at one end.
    one_sided : a closing laid a right side on a wrong side (a twisted ring).
    left_out : faces left out because two neighbours of a row stand on nothing that joins them, or because
    another face is there already.
    loose : stitches picked up from an edge that the words do not make known, so that they hang on nothing.
    Arrays are read-only.
    """

    stitch: Int32
    slipped: NDArray[np.bool_]
    order: Int32
    piece: Int32
    wrong: NDArray[np.bool_]
    edge: Int32
    edge_kind: Int8
    first_of_face: Int32
    node_of_face: Int32
    row_order: Int32
    first_of_row: Int32
    node_of_row: Int32
    component: Int32
    euler: int
    one_sided: bool
    left_out: int
    loose: int

    @property
    def n(self) -> int:
        """How many nodes."""
        return len(self.stitch)

    @property
    def components(self) -> int:
        """How many parts do not hang together."""
        return int(self.component.max()) + 1 if self.n else 0


def component_of(n: int, edge: NDArray[Any]) -> Int32:
    """Which of ``n`` nodes hang together: (n,) int32, numbered from 0 by their first node."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    if not n:
        return np.zeros(0, np.int32)
    one = np.ones(len(edge), np.int8)
    _, label = connected_components(coo_array((one, (edge[:, 0], edge[:, 1])), shape=(n, n)), directed=False)
    _, first = np.unique(label, return_index=True)
    rank = np.empty(len(first), np.int32)
    rank[np.argsort(first)] = np.arange(len(first), dtype=np.int32)
    out: Int32 = rank[label]
    return out


def rims_of(mesh: Mesh) -> tuple[Int32, ...]:
    """The edges of the cloth, each a closed line of nodes, the longest first."""
    return open_lines(mesh.n, mesh.first_of_face, mesh.node_of_face)


def open_lines(n: int, first_of_face: Int32, node_of_face: Int32) -> tuple[Int32, ...]:
    """The sides that only one face has, in closed lines, the longest first; the cloth lies to their right."""
    after = np.arange(1, len(node_of_face) + 1)
    if not len(after):
        return ()
    after[first_of_face[1:] - 1] = first_of_face[:-1]
    a, b = node_of_face.astype(np.int64), node_of_face[after].astype(np.int64)
    alone = ~np.isin(b * n + a, a * n + b)
    # the cloth lies to the left of a side of its face: its edge goes the other way
    ways: dict[int, list[int]] = {}
    for p, q in zip(b[alone].tolist(), a[alone].tolist(), strict=True):
        ways.setdefault(p, []).append(q)
    out = []
    while ways:
        start = next(iter(ways))
        line = [start]
        while line[-1] in ways:
            onward = ways[line[-1]]
            step = onward.pop()
            if not onward:
                del ways[line[-1]]
            if step == start:
                break
            line.append(step)
        out.append(np.array(line, np.int32))
    return tuple(sorted(out, key=len, reverse=True))


def mesh_of(knitted: Knitted, *, twisted: bool = False) -> Mesh:
    """The net of everything knitted; a pattern without stitches gives empty arrays.

    twisted : close grafts and seams with half a twist. The words of a pattern seldom say which loop meets
    which, so two edges are joined so that the right side goes on to the right side, as any knitter does; a
    ring with half a twist has to be asked for.
    """
    from purlwright.cloth.netting import Netting

    net = Netting(knitted)
    net.knit()
    f = knitted.fabric
    wanted = np.isin(f.join_kind, (Link.GRAFTED, Link.SEAMED, Link.JOINED))
    sewn = f.join_kind[wanted] == Link.SEAMED
    a, b = (
        np.where(sewn, net.node_made(side[wanted]), net.node_now(side[wanted]))
        for side in (f.join_a, f.join_b)
    )
    kind = np.where(f.join_kind[wanted] == Link.GRAFTED, EdgeKind.GRAFT, EdgeKind.SEAM).astype(np.int8)
    real = (a >= 0) & (b >= 0) & (a != b)
    return _finish(net, a[real], b[real], kind[real], twisted)


def _finish(net: Netting, a: Int32, b: Int32, kind: Int8, twisted: bool) -> Mesh:
    n = net.nodes.n
    faces, sizes = net.all_faces()
    edges, kinds = _once(*net.all_edges(), n)
    closed, b, one_sided = _close(net, _half_edges(faces, sizes, n), edges, a, b, twisted)
    faces = np.concatenate([faces, np.array([p for face in closed for p in face], np.int32)])
    sizes = np.concatenate([sizes, np.array([len(face) for face in closed], np.int32)])
    edges, kinds = _once(np.concatenate([edges, np.stack([a, b], axis=1)]), np.concatenate([kinds, kind]), n)
    faces, sizes, doubled = _single(faces, sizes, n, one_sided)
    rows, row_sizes, row_orders = net.all_rows()

    def fixed(values: Any, kind: Any = np.int32) -> Any:
        out = np.ascontiguousarray(values, dtype=kind)
        out.flags.writeable = False
        return out

    def offsets(counts: Any) -> Any:
        return fixed(np.concatenate(([0], np.cumsum(counts))))

    return Mesh(
        stitch=fixed(net.nodes.stitch[:n]), slipped=fixed(net.nodes.virtual[:n], bool),
        order=fixed(net.nodes.order[:n]), piece=fixed(net.nodes.piece[:n]),
        wrong=fixed(net.nodes.wrong[:n], bool),
        edge=fixed(edges), edge_kind=fixed(kinds, np.int8),
        first_of_face=offsets(sizes), node_of_face=fixed(faces),
        row_order=fixed(row_orders), first_of_row=offsets(row_sizes), node_of_row=fixed(rows),
        component=fixed(component_of(n, edges)),
        euler=n - len(edges) + len(sizes), one_sided=one_sided, left_out=net.left_out + doubled,
        loose=net.hanging.loose,
    )  # fmt: skip


def _once(edges: Int32, kinds: Int8, n: int) -> tuple[Int32, Int8]:
    """Each edge once, the first time it comes; none from a node to itself."""
    key = _undirected(edges, n)
    _, first = np.unique(key, return_index=True)
    first.sort()
    first = first[edges[first, 0] != edges[first, 1]]
    return edges[first], kinds[first]


def _undirected(edges: Int32, n: int) -> NDArray[np.int64]:
    key: NDArray[np.int64] = edges.min(axis=1).astype(np.int64) * max(n, 1) + edges.max(axis=1)
    return key


def _half_edges(faces: Int32, sizes: Int32, n: int) -> NDArray[np.int64]:
    """Each directed side of each face as one number."""
    if not len(sizes):
        return np.zeros(0, np.int64)
    ends = np.cumsum(sizes)
    after = np.arange(1, len(faces) + 1)
    after[ends - 1] = ends - sizes
    return faces.astype(np.int64) * max(n, 1) + faces[after]


def _close(
    net: Netting, sides: NDArray[np.int64], edges: Int32, a: Int32, b: Int32, twisted: bool
) -> tuple[list[list[int]], Int32, bool]:
    """Faces between neighbouring ties of closings, the second edge as joined, and if it is one-sided."""
    out: list[list[int]] = []
    n = net.nodes.n
    b = b.copy()
    one_sided = False
    known = _undirected(edges, n)
    for i, j, ways in _closings(net, a, known):
        p, r = a[i : j - 1], a[i + 1 : j]
        if _turned(p, r, b[i : j - 1], b[i + 1 : j], sides, n) != twisted:
            b[i:j] = b[i:j][::-1].copy()
        q, s = b[i : j - 1], b[i + 1 : j]
        beside = np.isin(_undirected(np.stack([q, s], axis=1), n), known)
        goes = p != r
        there = np.isin(p.astype(np.int64) * max(n, 1) + r, sides)[goes]
        run = bool(there.sum() * 2 > len(there))  # the way round that most of the edge has left free
        for k in range(len(p)):
            x, y, u, v = int(p[k]), int(r[k]), int(q[k]), int(s[k])
            back = [] if beside[k] or u == v else net.way(u, v)
            if not (beside[k] or u == v or back):
                continue
            face = [x, *ways.get(i + k, []), y, v, *reversed(back), u]
            face = [m for m, before in zip(face, [face[-1], *face[:-1]], strict=True) if m != before]
            if len(face) < 3 or len(set(face)) < len(face):  # where one edge is longer, two ties meet
                continue
            out.append(face[::-1] if run else face)
            one_sided |= twisted
    return out, b, one_sided


def _closings(
    net: Netting, a: Int32, known: NDArray[np.int64]
) -> list[tuple[int, int, dict[int, list[int]]]]:
    """Stretches of ties whose first ends are neighbours in turn, and what lies between those at a gap."""
    if len(a) < 2:
        return []
    beside = np.isin(_undirected(np.stack([a[:-1], a[1:]], axis=1), net.nodes.n), known) | (a[:-1] == a[1:])
    ways: dict[int, list[int]] = {}
    for k in np.flatnonzero(~beside).tolist():
        way = net.way(int(a[k]), int(a[k + 1]))
        if way:
            ways[k] = way
            beside[k] = True
    cut = np.flatnonzero(np.concatenate(([True], ~beside, [True])))
    return [(int(i), int(j), ways) for i, j in pairwise(cut) if j - i > 1]


def _turned(p: Int32, r: Int32, q: Int32, s: Int32, sides: NDArray[np.int64], n: int) -> bool:
    """Whether a right side would meet a wrong side: both edges already run the same way round their faces."""
    size = max(n, 1)
    first = np.isin(p.astype(np.int64) * size + r, sides)
    second = np.isin(q.astype(np.int64) * size + s, sides)
    either = (first | np.isin(r.astype(np.int64) * size + p, sides)) & (
        second | np.isin(s.astype(np.int64) * size + q, sides)
    )
    return bool(either.any()) and int((first == second)[either].sum()) * 2 > int(either.sum())


def _single(faces: Int32, sizes: Int32, n: int, one_sided: bool) -> tuple[Int32, Int32, int]:
    """Leave out faces with a side that an earlier face has."""
    if not len(sizes) or one_sided:
        return faces, sizes, 0
    sides = _half_edges(faces, sizes, n)
    _, first = np.unique(sides, return_index=True)
    again = np.ones(len(sides), bool)
    again[first] = False
    owner = np.repeat(np.arange(len(sizes)), sizes)
    bad = np.zeros(len(sizes), bool)
    bad[owner[again]] = True
    if not bad.any():
        return faces, sizes, 0
    return faces[~bad[owner]], sizes[~bad], int(bad.sum())
