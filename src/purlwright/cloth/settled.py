"""A knitting settled into its shape at its gauge: net, rest lengths and shape together.

In: one knitting and the size of its stitches. Out: a frozen :class:`Settled`, plain values that pictures and
measures are made from. Which gauge holds where is told by ``gauge``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.depth import depth_of
from purlwright.cloth.flatness import Verdict, flatness_of
from purlwright.cloth.mesh import mesh_of
from purlwright.cloth.relax.shape import Lies, relax
from purlwright.cloth.rest import rest_of
from purlwright.fabric.arrays import Link
from purlwright.needles.ledger import Kind

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from purlwright.cloth.flatness import Flatness
    from purlwright.cloth.gauge import FabricGauge
    from purlwright.cloth.mesh import Mesh
    from purlwright.cloth.relax.shape import Shape
    from purlwright.cloth.rest import Rest
    from purlwright.needles.knitted import Knitted

__all__ = ["Settled", "settle"]

LOOKS_FLAT = 0.1
"""A piece that goes up and down by a smaller share of its radius looks flat (by eye)."""
DRAWN = 0.35
"""Loops drawn together on a thread lie as near as the yarn is thick, about a third of a stitch (by eye)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Settled:
    """One knitting in its shape.

    gauge : ``gauge.said`` tells what of its size is stated and what is assumed. flatness : how each piece
    lies, told from its stitches alone.
    """

    gauge: FabricGauge
    mesh: Mesh
    rest: Rest
    flatness: tuple[Flatness, ...]
    shape: Shape


def settle(
    knitted: Knitted,
    gauge: FabricGauge,
    *,
    lies: Lies = Lies.FREE,
    mesh: Mesh | None = None,
    blocked: Callable[[], Settled] | None = None,
    quick: bool = False,
) -> Settled:
    """Let a knitting take its shape.

    mesh : its net, where that is known already. blocked : asked how it lies pinned out, from where a piece
    that lies flat begins. quick : only roughly, for a first look.
    A slipped loop counts once in each row that passed it, so each of its parts is one row high.
    """
    mesh = mesh_of(knitted) if mesh is None else mesh
    wide = np.where(_drawn_together(knitted), DRAWN, 1.0) * gauge.width_mm
    rest = rest_of(mesh, stitch_mm=wide, row_mm=gauge.row_mm, gives=gauge.gives)
    flatness = flatness_of(knitted, mesh, rest)
    # what lies flat in life begins nearly flat, so that it cannot fold over on the way
    flat = bool(flatness) and all(f.verdict is Verdict.FLAT for f in flatness)
    laid = (
        blocked().shape.position_mm
        if blocked is not None and flat and not quick and lies is Lies.FREE
        else None
    )
    shape = relax(mesh, rest, lies=lies, flat=flat, laid_mm=laid, quick=quick)
    if flat and lies is Lies.FREE and not quick and _stands_up(mesh, shape):
        pinned = relax(mesh, rest, lies=Lies.BLOCKED, flat=True) if blocked is None else blocked().shape
        shape = replace(pinned, lies=Lies.FREE)
    return Settled(gauge=gauge, mesh=mesh, rest=rest, flatness=flatness, shape=shape)


def _stands_up(mesh: Mesh, shape: Shape) -> bool:
    """Whether some piece that lies flat was drawn out of the plane, by cables beside plainer cloth, say.

    So little strain holds it there that its own weight on a table lays it flat; and it is told to lie flat.
    Pieces that hang together are let be: a band with too many stitches ruffles, though alone it lies flat.
    """
    alone = len(np.unique(mesh.piece)) == mesh.components
    return alone and any(
        depth_of(shape.position_mm[mesh.piece == number]).off_flat > LOOKS_FLAT
        for number in np.unique(mesh.piece)
    )


def _drawn_together(knitted: Knitted) -> NDArray[np.bool_]:
    """Stitches of a last row through which the yarn was drawn to close it, as at the tip of a mitten."""
    fabric = knitted.fabric
    out = np.zeros(fabric.n, bool)
    joined = np.zeros(fabric.n, bool)
    for side in (fabric.join_a, fabric.join_b):
        joined[side[fabric.join_kind == Link.JOINED]] = True
    for piece in knitted.ledger.pieces:
        for row, end in pairwise(piece.rows):
            drawn = end.kind is Kind.BIND_OFF and end.end == 0 and end.worked == end.lost == row.end
            last = fabric.row_of_stitch == row.order
            made = (fabric.row_of_stitch == end.order).any()
            if drawn and not made and last.sum() == row.end and not joined[last].any():
                out |= last
    return out
