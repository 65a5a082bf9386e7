"""What a settled piece measures: widths, lengths, edges, rounds, areas, and how far each may be off.

In: a :class:`~purlwright.cloth.settled.Settled` and its knitting. Out: plain values in mm. How they are
printed, and how they agree with a stated size, is left to others.

The error is that of the gauge: if every stitch is so much wider than stated, so is the piece.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.mesh import EdgeKind, rims_of
from purlwright.needles.ledger import Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.cloth.mesh import Mesh
    from purlwright.cloth.rest import Floats, Rest
    from purlwright.cloth.settled import Settled
    from purlwright.fabric.arrays import Int32
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry, Piece

__all__ = ["Measured", "edges_of", "length_along", "measured", "rims_of", "row_nodes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One measure of a piece.

    what : "width", "round", "length", "left edge", "right edge", "area" (mm2). at : the row's label, or "".
    order : the ledger's number of that row, -1 where there is none. rest_mm : from the gauge alone, before
    the cloth pulls. off_mm : how far it may be off by the tolerance of the gauge.
    """

    piece: int
    what: str
    at: str
    order: int
    mm: float
    rest_mm: float
    off_mm: float


def row_nodes(mesh: Mesh, order: int) -> Int32:
    """The nodes of a row in working order; empty if it made none."""
    at = np.flatnonzero(mesh.row_order == order)
    if not len(at):
        return np.zeros(0, np.int32)
    return np.concatenate([mesh.node_of_row[mesh.first_of_row[r] : mesh.first_of_row[r + 1]] for r in at])


def length_along(position_mm: Floats, nodes: Int32) -> float:
    """The way from node to node."""
    if len(nodes) < 2:
        return 0.0
    return float(np.sqrt((np.diff(position_mm[nodes], axis=0) ** 2).sum(axis=1)).sum())


def edges_of(mesh: Mesh, piece: int) -> tuple[Int32, Int32]:
    """The left and the right edge of a flat piece as the right side shows it, upwards: nodes of each.

    The outermost stitch of every row that reaches the edge; rows in the round have none.
    """
    one: list[int] = []
    other: list[int] = []
    votes = 0
    wale = mesh.edge[mesh.edge_kind == EdgeKind.WALE]
    tied = set(zip(wale[:, 0].tolist(), wale[:, 1].tolist(), strict=True))
    for r in np.flatnonzero(mesh.piece[mesh.node_of_row[mesh.first_of_row[:-1]]] == piece).tolist():
        row = mesh.node_of_row[mesh.first_of_row[r] : mesh.first_of_row[r + 1]]
        first, last = int(row[0]), int(row[-1])
        if not one:
            one, other = [first], [last]
            continue
        for place, node in enumerate((first, last)):
            if (node, one[-1]) in tied:
                one.append(node)
                # a right-side row begins at the right
                votes += 1 if (place == 0) != bool(mesh.wrong[node]) else -1
            elif (node, other[-1]) in tied:
                other.append(node)
    right, left = (one, other) if votes >= 0 else (other, one)
    return np.array(left, np.int32), np.array(right, np.int32)


def measured(settled: Settled, knitted: Knitted) -> tuple[Measured, ...]:
    """All measures of all pieces: rows (first, widest, narrowest, last), length, edges, area."""
    out: list[Measured] = []
    for number, piece in enumerate(knitted.ledger.pieces):
        out += _of_piece(settled, number, piece)
    return tuple(out)


def _of_piece(settled: Settled, number: int, piece: Piece) -> list[Measured]:
    mesh, rest = settled.mesh, settled.rest
    mine = mesh.piece == number
    if not mine.any():
        return []
    x = settled.shape.position_mm
    wide_off, high_off = settled.gauge.width_tolerance, settled.gauge.height_tolerance
    rows = [(e, row_nodes(mesh, e.order)) for e in piece.rows if e.kind is not Kind.BIND_OFF]
    rows = [(e, nodes) for e, nodes in rows if len(nodes) > 1]
    out = []
    worked = next((e.kind for e, _ in rows if e.kind is not Kind.CAST_ON), Kind.ROW)
    for e, nodes in _chosen(rows, rest):
        ring = e.kind is Kind.ROUND or (e.kind is Kind.CAST_ON and worked is Kind.ROUND)
        line = np.append(nodes, nodes[:1]) if ring else nodes
        # a row is as wide as its stitches, half a stitch beyond the middle of the outermost at both ends
        ends = 0.0 if ring else float(rest.stitch_mm[nodes[[0, -1]]].mean())
        off = float((rest.stitch_mm[nodes] * wide_off[mesh.stitch[nodes]]).sum())
        across = length_along(x, line) + ends
        out.append(
            Measured(
                piece=number, what="round" if ring else "width", at=e.label, order=e.order, mm=across,
                rest_mm=float(rest.stitch_mm[nodes].sum()), off_mm=off,
            )
        )  # fmt: skip
    ways = [("length", _longest_column(mesh, mine))]
    if not any(e.kind is Kind.ROUND for e, _ in rows):
        left, right = edges_of(mesh, number)
        ways += [("left edge", left), ("right edge", right)]
    for what, nodes in ways:
        if len(nodes) > 1:
            high = rest.row_mm[nodes[1:]]
            out.append(
                Measured(
                    piece=number, what=what, at="", order=-1, mm=length_along(x, nodes),
                    rest_mm=float(high.sum()),
                    off_mm=float((high * high_off[mesh.stitch[nodes[1:]]]).sum()),
                )
            )  # fmt: skip
    out.append(_area(settled, number, mine))
    return out


def _chosen(rows: list[tuple[Entry, Int32]], rest: Rest) -> list[tuple[Entry, Int32]]:
    """The first row, the widest, the narrowest and the last, each once, in the order worked.

    Judged by the widths of their stitches at rest, to the millimetre: a rib is narrower than the plain rows
    above it that have as many stitches. Of rows alike it is the cast-on or the last if that is one of them,
    else the one in the middle, which nothing beside it draws in.
    """
    if not rows:
        return []
    sizes = [round(float(rest.stitch_mm[nodes].sum())) for _, nodes in rows]
    want = {0, len(rows) - 1}
    for size in (max(sizes), min(sizes)):
        alike = [i for i, mine in enumerate(sizes) if mine == size]
        if not want & set(alike):
            want.add(alike[len(alike) // 2])
    return [rows[i] for i in sorted(want)]


def _longest_column(mesh: Mesh, mine: Floats) -> Int32:
    """The column with most rows, from its foot upwards: the one in the middle where several have as many.

    At a shaped edge a column runs aslant, and is longer than the piece.
    """
    wale = mesh.edge[mesh.edge_kind == EdgeKind.WALE]
    wale = wale[mine[wale[:, 0]] & mine[wale[:, 1]]]
    below = np.full(mesh.n, -1, np.int64)
    below[wale[::-1, 0]] = wale[::-1, 1]
    # stitches come after those they hang on, so one pass finds how many rows stand under each
    order = np.argsort(mesh.order, kind="stable")
    high = np.zeros(mesh.n, np.int64)
    for node in order[mine[order]].tolist():
        if below[node] >= 0:
            high[node] = high[below[node]] + 1
    tops = np.flatnonzero(mine & (high == high[mine].max()))
    way = [int(tops[len(tops) // 2])]
    while below[way[-1]] >= 0:
        way.append(int(below[way[-1]]))
    return np.array(way[::-1], np.int32)


def _area(settled: Settled, number: int, mine: NDArray[np.bool_]) -> Measured:
    """The faces between the middles of stitches, and the outer halves of the stitches of free side edges."""
    mesh, rest = settled.mesh, settled.rest
    x = settled.shape.position_mm
    area = still = off = 0.0
    tolerance = settled.gauge.width_tolerance + settled.gauge.height_tolerance
    for group in rest.faces:
        which = mine[group.node].all(axis=1)
        at = x[group.node[which]]
        middle = at.mean(axis=1, keepdims=True)
        spokes = at - middle
        area += float(np.sqrt((np.cross(spokes, np.roll(spokes, -1, axis=1)) ** 2).sum(axis=2)).sum()) / 2
        mm2 = rest.area_mm2[group.face[which]]
        still += float(mm2.sum())
        off += float((mm2 * tolerance[mesh.stitch[group.node[which, 0]]]).sum())
    side = _free_sides(mesh, mine)
    a, b = mesh.edge[side].T
    half = (rest.stitch_mm[a] + rest.stitch_mm[b]) / 4
    area += float((np.sqrt(((x[a] - x[b]) ** 2).sum(axis=1)) * half).sum())
    strips = rest.edge_mm[side] * half
    still += float(strips.sum())
    off += float((strips * tolerance[mesh.stitch[a]]).sum())
    return Measured(piece=number, what="area", at="", order=-1, mm=area, rest_mm=still, off_mm=off)


def _free_sides(mesh: Mesh, mine: NDArray[np.bool_]) -> Int32:
    """Numbers of the edges up the columns at which the cloth of a piece ends, sewn to nothing."""
    after = np.arange(1, len(mesh.node_of_face) + 1)
    after[mesh.first_of_face[1:] - 1] = mesh.first_of_face[:-1]
    a, b = mesh.node_of_face.astype(np.int64), mesh.node_of_face[after].astype(np.int64)
    sides, faces = np.unique(np.minimum(a, b) * mesh.n + np.maximum(a, b), return_counts=True)
    key = mesh.edge.min(axis=1).astype(np.int64) * mesh.n + mesh.edge.max(axis=1)
    free = (mesh.edge_kind == EdgeKind.WALE) & mine[mesh.edge].all(axis=1) & np.isin(key, sides[faces == 1])
    return np.flatnonzero(free).astype(np.int32)
