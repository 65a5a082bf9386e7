"""What a weighed swatch says of the yarn: grams for each metre that the loops are reckoned to take.

In: the swatches of a header and the size of the stitches. Out: a frozen :class:`Weighed`. The swatch is
reckoned as the piece is, so that an error in the loop is the same in both and falls out of the weight.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.cloth.cloths import cloth_named
from purlwright.cloth.loop_lengths import plain_loop_mm
from purlwright.units import BY_GAUGE

if TYPE_CHECKING:
    from purlwright.cloth.gauge import FabricGauge
    from purlwright.cloth.holding import ClothGauge
    from purlwright.pattern.swatchline import WeighedSwatch
    from purlwright.pattern.tree import Length

__all__ = ["Weighed", "weighed"]

SCALE_G = 0.5
"""A kitchen scale shows whole grams. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """Grams a metre. ``off`` is the share by which the weight may be off.

    ``by_size`` says that the swatch was measured, not counted, so that the gauge counts too.
    """

    grams_per_metre: float
    off: float
    by_size: bool
    words: str


def weighed(
    swatches: Sequence[WeighedSwatch], name: str, gauge: FabricGauge, strands: int = 1
) -> Weighed | None:
    """The swatch of a yarn by its name, or one that names none; None if there is none that can be reckoned.

    Notes: edges of the swatch are left out: a swatch that is weighed has no tails and is as wide as can be.
    """
    mine = [s for s in swatches if s.yarn == name and name] or [s for s in swatches if not s.yarn]
    for swatch in mine:
        cloth = _cloth(swatch, gauge)
        if cloth is None:
            continue
        metres = _stitches(swatch, cloth) * plain_loop_mm(cloth.stitch_mm, cloth.row_mm, cloth.kind) / 1000
        metres *= strands
        if metres > 0:
            grams = float(swatch.grams)
            return Weighed(grams / metres, SCALE_G / grams, swatch.stitches is None, swatch.words)
    return None


def _cloth(swatch: WeighedSwatch, gauge: FabricGauge) -> ClothGauge | None:
    """The cloth that the swatch names, else that of the most stitches."""
    kind = cloth_named(swatch.ground) if swatch.ground else None
    return next((g for g in gauge.gauges if g.kind is kind), gauge.gauges[0] if gauge.gauges else None)


def _stitches(swatch: WeighedSwatch, cloth: ClothGauge) -> float:
    if swatch.stitches is not None and swatch.rows is not None:
        return float(swatch.stitches * swatch.rows)
    if swatch.width is None or swatch.height is None:
        return 0.0
    return float(_mm(swatch.width) * _mm(swatch.height)) / (cloth.stitch_mm * cloth.row_mm)


def _mm(length: Length) -> Fraction:
    return (length.values[0] or Fraction(0)) * BY_GAUGE[length.unit]
