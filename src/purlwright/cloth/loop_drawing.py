"""The loops of a fabric as a picture: every crossing of the yarn over and under, seen from either side.

In: :class:`~purlwright.cloth.loops.Loops` and the colours of the yarns. Out: a drawing in mm. What lies
behind is drawn first; each stretch of yarn has a dark edge, so that stitches of one colour, and colours that
print alike, can be told apart.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from purlwright.cloth.loops import POINTS, Floats, Loops
from purlwright.drawing import Drawing, Group, Ink, Path, Shape, Step, Symbol, Use

__all__ = ["Look", "draw_loops", "strands"]

_MARGIN_MM = 4.0
_EDGE = 0.24
"""How much of a yarn's thickness is its dark edge."""
_ROWS_APART = 80
"""Up to so many rows, each row is drawn with an edge of its own against the one below it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """The colours of a picture of loops."""

    yarns: tuple[str, ...] = ("#cdb38b", "#4f7186", "#a4573d", "#5f7350", "#7c5c80", "#3f3f46")
    """One a yarn; begun again when there are more yarns."""
    edge: str = "#2f261e"
    marked: str = "#f2c230"
    """For stitches that are pointed out; they have a heavier edge as well."""


def strands(loops: Loops) -> tuple[Floats, Floats]:
    """Every stretch of yarn between two points of a loop as a curve.

    (k, 12, 4, 3) the four points of a cubic, and (k, 12) how far before the cloth each lies, in loops. Smooth
    from stitch to stitch, as the yarn runs.
    """
    line = loops.line
    k = len(line)
    came_from = np.full(k, -1, np.int64)
    on = loops.goes_to >= 0
    came_from[loops.goes_to[on]] = np.flatnonzero(on)
    ahead = np.concatenate([line, line[:, -1:]], axis=1)
    ahead[on, -1] = line[loops.goes_to[on], 1]
    full = np.concatenate([line[:, :1], ahead], axis=1)
    back = came_from >= 0
    full[back, 0] = line[came_from[back], POINTS - 2]
    a, b, c, d = (full[:, i : i + POINTS - 1] for i in range(4))
    curves = np.stack([b, b + (c - a) / 6, c - (d - b) / 6, c], axis=2)
    return curves, (loops.depth[:, :-1] + loops.depth[:, 1:]) / 2


def draw_loops(
    loops: Loops,
    look: Look | None = None,
    *,
    side: Literal["right", "wrong"] = "right",
    marked: Collection[int] = (),
    scale: float = 1.0,
) -> Drawing:
    """The picture of some loops, ``scale`` times as large as the knitting.

    marked : stitches (the fabric's numbers) that are pointed out. No loops give an empty sheet.
    """
    look = look or Look()
    if not len(loops.stitch):
        return Drawing(width_mm=2 * _MARGIN_MM, height_mm=2 * _MARGIN_MM)
    curves, depth = strands(loops)
    flat = curves[..., :2] * scale
    flat[..., 1] *= -1
    if side == "wrong":
        flat[..., 0] *= -1
        depth = -depth
    low = flat.reshape(-1, 2).min(axis=0) - _MARGIN_MM
    size = flat.reshape(-1, 2).max(axis=0) + _MARGIN_MM - low
    flat -= low
    thick = loops.thick_mm * scale
    pointed = np.isin(loops.stitch, np.fromiter(marked, np.int32, len(marked)))
    layers = np.where(np.abs(depth) < 1, np.where(depth > 0, 1, -1), np.rint(depth)).astype(np.int64)
    shapes: list[Shape] = []
    rows = loops.row if len(np.unique(loops.row)) <= _ROWS_APART else np.zeros(len(loops.row), np.int32)
    kinds = np.column_stack([rows, loops.yarn, pointed])
    for layer in np.unique(layers):
        here = layers == layer
        for kind in np.unique(kinds[here.any(axis=1)], axis=0):
            mine = here & (kinds == kind).all(axis=1)[:, None]
            row, yarn, lit = kind.tolist()
            colour = look.marked if lit else look.yarns[yarn % len(look.yarns)]
            name = f"d{layer}r{row}y{yarn}{'m' if lit else ''}"
            shapes += _yarn(name, flat[mine], thick, colour, look.edge, heavy=bool(lit))
    return Drawing(width_mm=float(size[0]), height_mm=float(size[1]), shapes=tuple(shapes))


def _yarn(name: str, curves: Floats, thick: float, colour: str, edge: str, *, heavy: bool) -> Sequence[Shape]:
    """Stretches of one colour at one depth: their edge, then the yarn on it."""
    steps: list[Step] = []
    last: tuple[float, ...] | None = None
    for (ax, ay), (bx, by), (cx, cy), (dx, dy) in np.round(curves, 2).tolist():
        if (ax, ay) != last:
            steps.append(("M", ax, ay))
        steps.append(("C", bx, by, cx, cy, dx, dy))
        last = (dx, dy)
    symbol = Symbol(name=name, shapes=(Path(steps=tuple(steps)),))
    use = Use(symbol=symbol, x_mm=0, y_mm=0)
    rim = _EDGE * (1.6 if heavy else 1)
    return (
        Group(shapes=(use,), ink=Ink(stroke=edge, width_mm=thick, cap="butt")),
        Group(shapes=(use,), ink=Ink(stroke=colour, width_mm=thick * (1 - rim), cap="round")),
    )
