"""From the net to the shape: every part relaxed, coarse net first, and laid so that it can be measured.

In: a mesh, its rest and how it lies. Out: a :class:`Shape`, positions in mm. What it measures is left to
``measure``; whether it lies flat, to ``flatness``.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.mesh import EdgeKind, rims_of
from purlwright.cloth.relax.coarsen import coarsen, prolong
from purlwright.cloth.relax.level import Level, energy, level_of, springs_of
from purlwright.cloth.relax.solve import downhill
from purlwright.cloth.relax.start import begin
from purlwright.cloth.relax.unfold import unfolded
from purlwright.cloth.rest import Corners, corners_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.cloth.mesh import Mesh
    from purlwright.cloth.rest import Floats, Rest
    from purlwright.fabric.arrays import Int32

__all__ = ["BEND", "Lies", "Shape", "levels_of", "relax"]

BEND = 0.2
"""Stiffness against bending beside stretching, in stitch widths; chosen by eye, not measured on cloth."""
_STIFF_FIRST = 20.0
_STEPS_STIFF = 20
_STILL = 5e-4
"""Solved when ten steps gain no more: within two thousandths of the best energy on every piece tried."""
_COARSEST = 3000
_ONE_LEVEL = 12000
_PATCHES = 1500
"""A first look relaxes no more patches than these."""
_FEW = 0.01
"""Blocked flat it is a start for a piece that lies flat, if no more of its faces are turned over; with more,
it is unfolded first."""
_LEAVE = 0.02
"""Out of the plane by so many stitch widths, so that it may leave it."""
_PRESS = (1e-2, 1e-1)
_UNDER_WEIGHT = 0.1
"""What is left of the stiffness under a weight: with all of it the layers slide past each other to ease the
fold, as no tube does in life."""


class Lies(StrEnum):
    """How the piece lies while it takes its shape."""

    FREE = "free"
    """In space, as it comes off the needles and out of the wash."""
    BLOCKED = "blocked"
    """Pinned out flat in one layer."""
    PRESSED = "pressed"
    """A tube laid flat in two layers."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shape:
    """A relaxed net.

    position_mm : (k, 3) float64, read-only; parts that do not hang together stand side by side. Seen from the
    right side x goes to the right and y upwards; a piece lies with its first row along x.
    energy, start_energy : what is left and what there was, without unit; not a number of a quick shape.
    strain : root mean square of the edges' stretch, 0.01 is one hundredth.
    inverted : (blocked only) faces that lie with the wrong side up.
    """

    position_mm: Floats
    lies: Lies
    energy: float
    start_energy: float
    strain: float
    steps: int
    inverted: int


def levels_of(mesh: Mesh, rest: Rest, nodes: Int32, unit: float) -> Level:
    """The finest level of one part, lengths in stitch widths."""
    number = np.full(mesh.n, -1, np.int32)
    number[nodes] = np.arange(len(nodes), dtype=np.int32)
    whole = len(nodes) == mesh.n
    mine = np.ones(len(mesh.edge), bool) if whole else number[mesh.edge[:, 0]] >= 0
    edge, length = number[mesh.edge[mine]], rest.edge_mm[mine] / unit
    way = _ways(mesh, mine, length)
    if whole:
        faces = tuple(Corners(face=g.face, node=g.node, at=g.at / unit) for g in rest.faces)
        return level_of(mesh.n, edge, length, way, mesh.first_of_face, mesh.node_of_face, faces, rest.firm)
    size = np.diff(mesh.first_of_face)
    here = number[mesh.node_of_face[mesh.first_of_face[:-1]]] >= 0 if len(size) else np.zeros(0, bool)
    take = np.repeat(here, size)
    first = np.concatenate(([0], np.cumsum(size[here]))).astype(np.int32)
    inside = number[mesh.node_of_face[take]]
    faces = corners_of(len(nodes), first, inside, edge, length)
    return level_of(len(nodes), edge, length, way, first, inside, faces, rest.firm[mine])


def _ways(mesh: Mesh, mine: NDArray[np.bool_], length: Floats) -> Floats:
    """Which way edges go: rows to the right as the right side shows, columns up; not known where sewn."""
    kind, b = mesh.edge_kind[mine], mesh.edge[mine, 1]
    out = np.full((len(length), 2), np.nan)
    course, wale = kind == EdgeKind.COURSE, kind == EdgeKind.WALE
    out[course] = 0.0
    out[course, 0] = np.where(mesh.wrong[b[course]], length[course], -length[course])
    out[wale] = 0.0
    out[wale, 1] = -length[wale]
    return out


def relax(
    mesh: Mesh,
    rest: Rest,
    *,
    lies: Lies = Lies.FREE,
    flat: bool = False,
    laid_mm: Floats | None = None,
    quick: bool = False,
) -> Shape:
    """The shape of everything knitted.

    flat : the piece is known to lie flat, so that it begins nearly flat and cannot fold over.
    laid_mm : (k, 3), where it lies when it is blocked, if that is known already.
    quick : only patches of stitches are relaxed, and the stitches set between them, good enough for a first
        look; a pressed piece is relaxed in full.
    An empty mesh gives an empty shape. The same mesh and rest give the same shape, to the last bit on one
    machine.
    """
    parts = [np.flatnonzero(mesh.component == c).astype(np.int32) for c in range(mesh.components)]
    out = np.zeros((mesh.n, 3))
    total = start = 0.0
    steps = 0
    offset = 0.0
    for nodes in parts:
        unit = _unit(rest, nodes)
        level = levels_of(mesh, rest, nodes, unit)
        row = _first_row(mesh, nodes)
        relaxed = _sketch_part if quick and lies is not Lies.PRESSED else _relax_part
        x, after, before, n_steps = relaxed(
            level, row, lies, flat=flat, laid=None if laid_mm is None else laid_mm[nodes] / unit
        )
        if lies is Lies.FREE and not _closes(x[row]):
            row = _longest_ring(mesh, nodes, row)
        x = _set_upright(level, x, row, lies) * unit
        if len(parts) > 1:
            x[:, 0] += offset - x[:, 0].min()
            offset = float(x[:, 0].max()) + 5 * unit
        out[nodes] = x
        total, start, steps = total + after, start + before, steps + n_steps
    out.flags.writeable = False
    d = out[mesh.edge[:, 0]] - out[mesh.edge[:, 1]] if mesh.n else np.zeros((0, 3))
    strain = np.sqrt((d**2).sum(axis=1)) / rest.edge_mm - 1 if len(d) else np.zeros(1)
    return Shape(
        position_mm=out, lies=lies, energy=total, start_energy=start,
        strain=float(np.sqrt((strain**2).mean())), steps=steps,
        inverted=_below_nothing(rest.faces, out) if lies is Lies.BLOCKED else 0,
    )  # fmt: skip


def _unit(rest: Rest, nodes: Int32) -> float:
    return float(rest.stitch_mm[nodes].mean()) if len(nodes) else 1.0


def _sketch_part(
    level: Level, row: Int32, lies: Lies, *, flat: bool, laid: Floats | None = None
) -> tuple[Floats, float, float, int]:
    """A first look: the net of patches relaxed, and nothing finer."""
    chain, here = _chain(level, _PATCHES)
    if not chain:
        return _relax_part(level, row, lies, flat=flat, laid=laid)
    # what lies flat is sketched as it is pinned out
    two = flat or lies is Lies.BLOCKED
    x, _, _, steps = _relax_part(here, row, Lies.BLOCKED if two else Lies.FREE, flat=False)
    for fine, patch, seeds in reversed(chain):
        x = prolong(fine, patch, seeds, x)
    return x, np.nan, np.nan, steps


def _chain(level: Level, most: int) -> tuple[list[tuple[Level, Int32, Int32]], Level]:
    """Ever coarser nets of a net until one has no more nodes than ``most``; and that one."""
    chain: list[tuple[Level, Int32, Int32]] = []
    here = level
    while here.n > most:
        coarse, patch, seeds = coarsen(here)
        if coarse.n > 0.7 * here.n:
            break
        chain.append((here, patch, seeds))
        here = coarse
    return chain, here


def _relax_part(
    level: Level, row: Int32, lies: Lies, *, flat: bool, laid: Floats | None = None
) -> tuple[Floats, float, float, int]:
    dimensions = 2 if lies is Lies.BLOCKED else 3
    if level.n < 2 or not len(level.edge):
        return np.zeros((level.n, 3)), 0.0, 0.0, 0
    if flat and dimensions == 3:
        if laid is None:
            x, _, _, steps = _relax_part(level, row, Lies.BLOCKED, flat=True)
        else:
            x, steps = laid - laid.mean(axis=0), 0
        if _below_nothing(level.faces, x) <= _FEW * (len(level.first_of_face) - 1):
            # from there it leaves the plane only where it is drawn out of it
            x[:, 2] = np.random.default_rng(1).normal(scale=_LEAVE, size=level.n)
            springs = springs_of(level)
            start = energy(springs, x, BEND)[0]
            x, now, more = downhill(springs, x, bend=BEND, still=_STILL)
            return x, now, start, steps + more
    chain, here = _chain(level, _COARSEST) if level.n > _ONE_LEVEL else ([], level)
    # a coarse net is solved from its landmarks, each finer one from that below
    x = begin(
        here, landmarks=50 if not chain and here.n > _COARSEST else 100, dimensions=dimensions, flat=flat
    )
    bend = BEND if dimensions == 3 else 0.0
    springs = springs_of(here, weight=level.n / here.n, bend=dimensions == 3)
    start = energy(springs, x, bend)[0]
    if not chain and here.n > _COARSEST and bend:
        x = downhill(springs, x, bend=_STIFF_FIRST * bend, most=_STEPS_STIFF).x
    x, now, steps = downhill(springs, x, bend=bend, still=1e-4 if chain else _STILL)
    for fine, patch, seeds in reversed(chain):
        x = prolong(fine, patch, seeds, x)
        springs = springs_of(fine, weight=level.n / fine.n, bend=dimensions == 3)
        if fine is level:
            start = energy(springs, x, bend)[0]
        x, now, more = downhill(springs, x, bend=bend, still=_STILL)
        steps += more
    if lies is Lies.PRESSED:
        x = _across(x, row) * (np.pi / 2, 1.0, 0.05)
        for press in _PRESS:
            x, now, more = downhill(springs, x, bend=_UNDER_WEIGHT * bend, press=press)
            steps += more
    if dimensions == 2 and flat and _below_nothing(level.faces, x) > _FEW * (len(level.first_of_face) - 1):
        x, now, more = unfolded(level, springs, x)
        steps += more
    if dimensions == 2:
        x = np.concatenate([x, np.zeros((level.n, 1))], axis=1)
    return x, now, start, steps


def _closes(line: Floats) -> bool:
    """Whether a row or an edge comes round to where it began."""
    if len(line) < 3:
        return False
    around = float(np.sqrt((np.diff(line, axis=0) ** 2).sum(axis=1)).sum())
    return around > 0 and float(np.sqrt(((line[-1] - line[0]) ** 2).sum())) < 0.4 * around


def _longest_ring(mesh: Mesh, nodes: Int32, row: Int32) -> Int32:
    """What a piece stands on that was knitted sideways and closed to a ring: its longer edge."""
    inside = np.zeros(mesh.n, bool)
    inside[nodes] = True
    rims = [rim for rim in rims_of(mesh) if inside[rim].all()]
    if len(rims) < 2 or not (mesh.edge_kind == EdgeKind.GRAFT).any():
        return row
    number = np.cumsum(inside) - 1
    out: Int32 = number[rims[0]].astype(np.int32)
    return out


def _across(x: Floats, row: Int32) -> Floats:
    """Turn a tube so that the third axis goes across it, where it is thinnest, never along it.

    A tube as thick one way as another is pressed so that its rounds begin at a fold.
    """
    x = x - x.mean(axis=0)
    if len(row) < 4:
        thin: Floats = x @ np.linalg.svd(x, full_matrices=False)[2].T
        return thin
    first = x[row]
    up = x.mean(axis=0) - first.mean(axis=0)
    if np.linalg.norm(up) < 1e-9:
        up = np.linalg.svd(first - first.mean(axis=0), full_matrices=False)[2][2]
    up = up / np.linalg.norm(up)
    level = x - np.outer(x @ up, up)
    _, spread, axes = np.linalg.svd(level, full_matrices=False)
    right = axes[0]
    if spread[0] < 1.2 * spread[1]:
        right = first[0] - first[len(row) // 2]
        right = right - up * float(right @ up)
        right = right / max(float(np.linalg.norm(right)), 1e-12)
    turned: Floats = x @ np.stack([right, up, np.cross(right, up)]).T
    return turned


def _first_row(mesh: Mesh, nodes: Int32) -> Int32:
    """The places, among the nodes of a part, of its first row from left to right as the right side shows."""
    inside = np.zeros(mesh.n, bool)
    inside[nodes] = True
    number = np.cumsum(inside) - 1
    for r in range(len(mesh.row_order)):
        row = mesh.node_of_row[mesh.first_of_row[r] : mesh.first_of_row[r + 1]]
        if len(row) > 1 and inside[row[0]]:
            out: Int32 = number[row].astype(np.int32)
            return out
    return np.zeros(0, np.int32)


def _set_upright(level: Level, x: Floats, row: Int32, lies: Lies) -> Floats:
    """Turn the right side to the viewer and the first row along x, the rest above it.

    The start may have been its own mirror image; the normals of the faces tell.
    """
    x = x - x.mean(axis=0)
    if lies is not Lies.FREE:
        normal = _normals(level, x)[:, 2].sum()
        # in two layers the upper one shows its right side: what matters is which way round the tube goes
        if lies is Lies.BLOCKED and normal < 0:
            x[:, 0] *= -1
    elif _mirrored(level, x):
        x[:, 2] *= -1
    if len(row) > 1 and lies is not Lies.FREE:
        return _along_x(x, row, ring=lies is Lies.PRESSED)
    if len(row) > 1:
        x = _stand(level, x, row)
    return x


def _normals(level: Level, x: Floats) -> Floats:
    """The area vector of each face."""
    out = np.zeros((len(level.first_of_face) - 1, 3))
    for group in level.faces:
        at = x[group.node]
        nxt = np.roll(at, -1, axis=1)
        out[group.face] = np.cross(at, nxt).sum(axis=1) / 2
    return out


def _mirrored(level: Level, x: Floats) -> bool:
    """Whether a shape in space shows its wrong side outwards."""
    normals = _normals(level, x)
    middle = np.zeros_like(normals)
    for group in level.faces:
        middle[group.face] = x[group.node].mean(axis=1)
    volume = float((normals * middle).sum())
    area = float(np.sqrt((normals**2).sum(axis=1)).sum())
    across = float(np.sqrt((x**2).sum(axis=1).mean()))
    return volume < -0.02 * area * across


def _along_x(x: Floats, row: Int32, *, ring: bool) -> Floats:
    """Lay the first row along x in the plane, the rest above it."""
    run = x[row] - x[row].mean(axis=0)
    if ring:  # it goes there and back: what counts is the way it spreads
        way = np.linalg.svd(run[:, :2], full_matrices=False)[2][0]
    else:
        way = run[-1] - run[0] if np.hypot(*(run[-1] - run[0])[:2]) > 1e-9 else np.array([1.0, 0, 0])
    angle = np.arctan2(way[1], way[0])
    c, s = np.cos(-angle), np.sin(-angle)
    turn = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])
    out: Floats = (x - x[row].mean(axis=0)) @ turn.T
    if out[:, 1].mean() < 0:
        out[:, :2] *= -1
    return out


def _stand(level: Level, x: Floats, row: Int32) -> Floats:
    """Stand a shape up: a ring's first round lies level below, a flat piece faces the viewer."""
    first = x[row]
    centre = first.mean(axis=0)
    if _closes(first):  # a ring: its own plane, the rest above
        axes = np.linalg.svd(first - centre, full_matrices=False)[2]
        up = axes[2] * (1.0 if float((x - centre).mean(axis=0) @ axes[2]) >= 0 else -1.0)
        right = axes[0] - up * float(axes[0] @ up)
        right /= np.linalg.norm(right)
        toward = np.cross(right, up)
        stood: Floats = (x - centre) @ np.stack([right, up, toward]).T
        return stood
    front = _normals(level, x).sum(axis=0)
    if np.linalg.norm(front) < 1e-9:
        front = np.array([0.0, 0.0, 1.0])
    front = front / np.linalg.norm(front)
    right = first[-1] - first[0]
    right = right - front * float(right @ front)
    if np.linalg.norm(right) < 1e-9:
        right = np.linalg.svd(x, full_matrices=False)[2][0]
        right = right - front * float(right @ front)
    right /= np.linalg.norm(right)
    up = np.cross(front, right)
    if float((x - centre).mean(axis=0) @ up) < 0:
        right, up = -right, -up
    faced: Floats = (x - centre) @ np.stack([right, up, front]).T
    return faced


def _below_nothing(faces: tuple[Corners, ...], x: Floats) -> int:
    """How many faces lie with their wrong side up, of a shape that as a whole lies either way up."""
    up = down = 0
    for group in faces:
        at = x[group.node]
        nxt = np.roll(at, -1, axis=1)
        area = (at[..., 0] * nxt[..., 1] - nxt[..., 0] * at[..., 1]).sum(axis=1)
        up, down = up + int((area > 0).sum()), down + int((area < 0).sum())
    return min(up, down)
