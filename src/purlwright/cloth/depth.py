"""How deep a relaxed piece cups, and how high it ruffles.

In: a shape in space. Out: a :class:`Depth`. What the stitches alone foretell is in ``flatness``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from purlwright.cloth.rest import Floats

__all__ = ["Depth", "depth_of"]

_RINGS = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Depth:
    """All in mm.

    radius_mm : how far the piece reaches from its middle, along the plane that fits it best.
    cup_mm : how deep its middle lies below its edge, or above it. ruffle_mm : how far it goes up and down at
    one distance from the middle, from the lowest to the highest.
    """

    radius_mm: float
    cup_mm: float
    ruffle_mm: float

    @property
    def off_flat(self) -> float:
        """The larger of both beside the radius; under a tenth looks flat."""
        return max(self.cup_mm, self.ruffle_mm) / self.radius_mm if self.radius_mm else 0.0


def depth_of(position_mm: Floats) -> Depth:
    """How far from flat some nodes (k, 3) lie; nothing for fewer than three.

    Notes: heights are taken above the plane that fits best, and sorted by distance from the middle; the
    cup is what the means of the rings differ, the ruffle what is left within a ring.
    """
    if len(position_mm) < 3:
        return Depth(radius_mm=0.0, cup_mm=0.0, ruffle_mm=0.0)
    x = position_mm - position_mm.mean(axis=0)
    local = x @ np.linalg.svd(x, full_matrices=False)[2].T
    out, z = np.hypot(local[:, 0], local[:, 1]), local[:, 2]
    far = float(out.max())
    ring = np.minimum((out / max(far, 1e-12) * _RINGS).astype(int), _RINGS - 1)
    count = np.bincount(ring, minlength=_RINGS)
    mean = np.bincount(ring, z, minlength=_RINGS) / np.maximum(count, 1)
    there = count > 0
    rest = z - mean[ring]
    spread = [float(np.ptp(rest[ring == k])) for k in np.flatnonzero(count > 8)]
    return Depth(radius_mm=far, cup_mm=float(np.ptp(mean[there])), ruffle_mm=max(spread, default=0.0))
