"""A knitting laid row upon row, before it has taken its shape: something to look at while it settles.

In: one knitting and the size of its stitches. Out: a :class:`~purlwright.cloth.settled.Settled` whose
places are those of the rows laid straight, pieces side by side. Nothing here bends, gathers or spreads, and
nothing is measured by it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.laid import lay_out
from purlwright.cloth.mesh import mesh_of
from purlwright.cloth.relax.shape import Lies, Shape
from purlwright.cloth.rest import rest_of
from purlwright.cloth.settled import Settled

if TYPE_CHECKING:
    from purlwright.cloth.gauge import FabricGauge
    from purlwright.cloth.mesh import Mesh
    from purlwright.needles.knitted import Knitted

__all__ = ["unsettled"]

_APART_MM = 20.0


def unsettled(knitted: Knitted, gauge: FabricGauge, *, mesh: Mesh | None = None) -> Settled:
    """The knitting as its rows lie. ``mesh`` is its net, where that is known already."""
    mesh = mesh_of(knitted) if mesh is None else mesh
    rest = rest_of(mesh, stitch_mm=gauge.width_mm, row_mm=gauge.row_mm)
    fabric = knitted.fabric
    place = np.zeros((fabric.n, 3))
    wide = float(np.median(gauge.width_mm)) if fabric.n else 1.0
    high = float(np.median(gauge.row_mm)) if fabric.n else 1.0
    right = 0.0
    for piece in knitted.ledger.pieces:
        laid = lay_out(fabric, piece, stitch_mm=wide, row_mm=high)
        if not len(laid.stitch):
            continue
        x = laid.x_mm - laid.x_mm.min() + right
        place[laid.stitch, 0] = x
        place[laid.stitch, 1] = (laid.low_mm + laid.high_mm) / 2
        right = float(x.max()) + _APART_MM
    at = place[mesh.stitch]
    at.flags.writeable = False
    shape = Shape(
        position_mm=at, lies=Lies.BLOCKED, energy=0.0, start_energy=0.0, strain=0.0, steps=0, inverted=0
    )
    return Settled(gauge=gauge, mesh=mesh, rest=rest, flatness=(), shape=shape)
