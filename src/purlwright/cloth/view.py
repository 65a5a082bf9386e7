"""The relaxed cloth as it would stand before one's eyes: faces shaded by the light, the nearest last.

In: where the stitches lie, the faces between them, the colours of the yarns, and from where it is looked at.
Out: a drawing in mm of the cloth's own size, times a scale. Seen from its wrong side, cloth is drawn paler,
so that the inside of a tube or a hat can be told from the outside.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.loop_drawing import Look
from purlwright.drawing import Drawing, Group, Ink, Path, Shape, Step

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from purlwright.cloth.loops import Floats
    from purlwright.fabric.arrays import Int8, Int32

__all__ = [
    "FROM_ABOVE",
    "FROM_BEHIND",
    "FROM_THE_FRONT",
    "FROM_THE_SIDE",
    "Eye",
    "draw_view",
    "hung",
    "stood_up",
]

_MARGIN_MM = 4.0
_SLICES = 160
"""Faces are drawn in so many layers of depth; within one, those of one shade as one shape."""
_SHADES = 20
_LINE_MM = 0.12
_FLAT = 0.12
"""A cloth less thick than this share of its breadth lies flat, and is looked at from its front."""
_ROUND = 0.75
"""Two breadths in this proportion or nearer are those of something round."""
_LIGHT = np.array([-0.35, 0.55, 0.76])
"""From the upper left and before; as in most drawings of things."""
_PALER = 0.45


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """From where the cloth is seen: ``turn`` about its own upright, then ``tilt`` towards the eye."""

    turn_deg: float = 0
    tilt_deg: float = 0


FROM_THE_FRONT = Eye()
FROM_BEHIND = Eye(turn_deg=180)
FROM_ABOVE = Eye(tilt_deg=62)
FROM_THE_SIDE = Eye(turn_deg=35, tilt_deg=24)


def draw_view(
    at_mm: Floats,
    first_of_face: Int32,
    node_of_face: Int32,
    yarn_of_node: Int8,
    look: Look | None = None,
    *,
    eye: Eye = FROM_THE_FRONT,
    scale: float = 1.0,
    within_mm: tuple[float, float] | None = None,
) -> Drawing:
    """The picture of a relaxed cloth.

    at_mm : (k, 3); first_of_face, node_of_face : the faces, anticlockwise seen from the right side.
    yarn_of_node : (k,). A cloth without faces gives an empty sheet. within_mm : how wide and high the drawing
    may be at most; a larger cloth is drawn smaller, its lines as fine as before.
    """
    look = look or Look()
    if len(first_of_face) < 2:
        return Drawing(width_mm=2 * _MARGIN_MM, height_mm=2 * _MARGIN_MM)
    at = (at_mm - at_mm.mean(axis=0)) @ _turned(eye).T * scale
    margin = _MARGIN_MM
    if within_mm is not None:
        margin = _LINE_MM
        at *= min(1.0, *((np.array(within_mm) - 2 * margin) / np.maximum(np.ptp(at[:, :2], axis=0), 1e-9)))
    low = at[:, :2].min(axis=0) - margin
    size = at[:, :2].max(axis=0) + margin - low
    flat = at[:, :2] - low
    flat[:, 1] = size[1] - flat[:, 1]
    starts = first_of_face[:-1]
    corners = np.diff(first_of_face)
    middle = np.add.reduceat(at[node_of_face], starts) / corners[:, None]
    facing = _normals(at, first_of_face, node_of_face)
    shade, wrong = _shades(facing)
    shown = np.ones(len(starts), np.bool_)
    if within_mm is not None:  # what lies behind is not drawn: a small picture stays a small file
        shown = _seen(at, first_of_face, node_of_face, middle)
    depth = np.argsort(np.argsort(middle[:, 2])) * _SLICES // len(starts)
    yarn = yarn_of_node[node_of_face[starts]].astype(np.int64)
    kinds = np.column_stack([depth, yarn, wrong, shade])
    order = np.lexsort(kinds.T[::-1])
    order = order[shown[order]]
    changes = np.flatnonzero(np.any(np.diff(kinds[order], axis=0) != 0, axis=1)) + 1
    points = np.round(flat, 2).tolist()
    nodes = node_of_face.tolist()
    shapes: list[Shape] = []
    for faces in np.split(order, changes):
        _, of_yarn, is_wrong, light = kinds[faces[0]].tolist()
        colour = _shaded(look.yarns[of_yarn % len(look.yarns)], light / (_SHADES - 1), pale=bool(is_wrong))
        steps: list[Step] = []
        for f in faces.tolist():
            around = nodes[first_of_face[f] : first_of_face[f + 1]]
            for n, node in enumerate(around):
                steps.append(("L" if n else "M", *points[node]))
            steps.append(("Z",))
        line = _shaded(colour, 0.65, pale=False)
        shapes.append(Path(steps=tuple(steps), ink=Ink(fill=colour, stroke=line)))
    drawn = Group(shapes=tuple(shapes), ink=Ink(join="round", width_mm=_LINE_MM))
    return Drawing(width_mm=float(size[0]), height_mm=float(size[1]), shapes=(drawn,))


def stood_up(at_mm: Floats, up: Floats | None = None, axis: Floats | None = None) -> tuple[Floats, bool]:
    """The cloth as one would stand it up, and whether it is a thing in space rather than a flat piece.

    A flat piece is left as it lies. Something round stands on its wider end, its axis upright; anything else
    on its longest measure; ``up``, (3,) of length 1, is the way that is known to be up, and then it is broad
    before the eye; ``axis`` is upright, one way or the other. (k, 3) gives (k, 3).
    """
    at: Floats = at_mm - at_mm.mean(axis=0) if len(at_mm) else at_mm
    if len(at) < 4:
        return at, False
    _, axes = np.linalg.eigh(at.T @ at)
    spread = np.sqrt(np.mean((at @ axes) ** 2, axis=0))  # ascending
    if spread[0] < _FLAT * spread[1]:
        return at, False
    if up is not None:
        level = at - np.outer(at @ up, up)
        right = np.linalg.eigh(level.T @ level)[1][:, 2]
        return at @ np.stack([right, up, np.cross(right, up)]).T, True
    if axis is not None:
        axis = _wider_down(at, axis)
        return stood_up(at_mm, axis)
    alike = (spread[0] / spread[1], spread[1] / spread[2])
    upright = 2 if alike[0] >= _ROUND or max(alike) < _ROUND else 0
    if max(alike) >= _ROUND and alike[1] > alike[0]:
        upright = 0
    axis = _wider_down(at, axes[:, upright])
    right = axes[:, (upright + 1) % 3]
    frame = np.stack([right, axis, np.cross(right, axis)])
    return at @ frame.T, True


def _wider_down(at: Floats, axis: Floats) -> Floats:
    """An axis turned so that the wider end of a thing is below."""
    high = at @ axis
    wide = np.linalg.norm(at - high[:, None] * axis, axis=1)
    third = np.quantile(high, (1 / 4, 3 / 4))
    return -axis if wide[high >= third[1]].mean() > wide[high <= third[0]].mean() else axis


def hung(at_mm: Floats, edge: Int32, *, down: bool) -> Floats:
    """A flat piece turned on the table until its columns go upwards, or hang ``down``. (k, 3) gives (k, 3).

    edge : (m, 2), the edges up the columns, each from a stitch to the one below it.
    """
    if not len(edge):
        return at_mm
    way = (at_mm[edge[:, 0]] - at_mm[edge[:, 1]])[:, :2].sum(axis=0)
    long = float(np.hypot(*way))
    if long < 1e-9:
        return at_mm
    x, y = way / long * (-1 if down else 1)
    out: Floats = at_mm @ np.array([[y, x, 0.0], [-x, y, 0.0], [0.0, 0.0, 1.0]])
    return out


_BEHIND = 4.0
"""A face lies behind another layer of cloth if it is so many times its own size farther away."""


def _seen(at: Floats, first: Int32, node: Int32, middle: Floats) -> NDArray[np.bool_]:
    """Which faces are not wholly hidden behind a nearer layer: (faces,).

    Looked at in cells of about the size of a face, at the middle and the corners of each. Faces at an edge of
    the nearer layer are kept.
    """
    corners = np.diff(first)
    of_corner = np.repeat(np.arange(len(middle)), corners)
    size = float(np.median(np.linalg.norm(at[node, :2] - middle[of_corner, :2], axis=1))) * 2
    points = np.concatenate([at[node], middle])
    face = np.concatenate([of_corner, np.arange(len(middle))])
    cell = np.floor((points[:, :2] - points[:, :2].min(axis=0)) / max(size, 1e-9)).astype(np.int64)
    cell += 1
    x, y = cell.T
    nearest = np.full((int(x.max()) + 2, int(y.max()) + 2), -np.inf)
    np.maximum.at(nearest, (x, y), points[:, 2])
    cover = nearest[x, y]
    for dx in (-1, 0, 1):
        for dy in (-1, 0, 1):
            cover = np.minimum(cover, nearest[x + dx, y + dy])
    open_ = points[:, 2] >= cover - _BEHIND * size
    seen: NDArray[np.bool_] = np.bincount(face, weights=open_, minlength=len(middle)) > 0
    return seen


def _turned(eye: Eye) -> Floats:
    turn, tilt = np.radians(eye.turn_deg), np.radians(eye.tilt_deg)
    about_y = np.array([[np.cos(turn), 0, np.sin(turn)], [0, 1, 0], [-np.sin(turn), 0, np.cos(turn)]])
    about_x = np.array([[1, 0, 0], [0, np.cos(tilt), -np.sin(tilt)], [0, np.sin(tilt), np.cos(tilt)]])
    out: Floats = about_x @ about_y
    return out


def _normals(at: Floats, first: Int32, node: Int32) -> Floats:
    """Of every face, out of its right side (Newell's sum over its sides); zero for a face without area."""
    after = np.arange(len(node)) + 1
    ends = first[1:] - 1
    after[ends] = first[:-1]
    sums = np.add.reduceat(np.cross(at[node], at[node[after]]), first[:-1])
    size = np.linalg.norm(sums, axis=1, keepdims=True)
    out: Floats = sums / np.maximum(size, 1e-12)
    return out


def _shades(facing: Floats) -> tuple[Int32, Int32]:
    """How light each face is, 0 to 9, and whether its wrong side is seen."""
    wrong = facing[:, 2] < 0
    towards = np.where(wrong[:, None], -facing, facing)
    light = np.clip(towards @ (_LIGHT / np.linalg.norm(_LIGHT)), 0, 1)
    return np.rint(light * (_SHADES - 1)).astype(np.int32), wrong.astype(np.int32)


def _shaded(colour: str, light: float, *, pale: bool) -> str:
    """A web colour in more or less light."""
    parts = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
    if pale:
        parts = [round(p + (255 - p) * _PALER) for p in parts]
    much = 0.55 + 0.5 * light
    return "#" + "".join(f"{min(round(p * much), 255):02x}" for p in parts)
