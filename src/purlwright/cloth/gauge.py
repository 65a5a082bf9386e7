"""Which gauge holds for which stitch: how wide each stitch of the knitting is, and how high.

In: the header of a pattern and one knitting. Out: a frozen :class:`FabricGauge`: a width and a height a
stitch in mm, how far they may be off, and a list of what was stated, assumed, or taken by a rule of thumb.
What cloth a stitch lies in is told from the stitches (``kinds``); which gauge holds in a cloth, in
``holding``. Nothing is silent: where no gauge holds, the said list tells what was taken instead.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from purlwright.cloth.cloths import cloth_factor
from purlwright.cloth.holding import ClothGauge, Found, Holding
from purlwright.cloth.kinds import ClothKind, kind_of_stitches, rows_spanned, sunk_shares
from purlwright.cloth.said import Basis, Said
from purlwright.needles.ledger import ROWS, Kind

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Int8
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.header import Gauge, Header

__all__ = ["Basis", "ClothGauge", "FabricGauge", "Said", "gauge_of_fabric"]

Floats: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FabricGauge:
    """The size of every stitch, at rest, before any fabric pulls.

    gauges : one a kind of cloth (and of rib) and way of working, that of the most stitches first.
    gauge_of_stitch : (n,) int8, place in ``gauges``.
    width_mm : (n,) float64, how wide the stitch is.
    row_mm : (n,) how high one row is there.
    height_mm : (n,) how high the stitch stands over what it was drawn through: one row, and one more for each
        row in which the loop below was slipped.
    said : what was stated, assumed or taken by a rule of thumb.
    scaled : False if nothing at all is known of the size, so that only proportions hold.
    Arrays are read-only; an empty fabric gives empty arrays. A cast-on stitch has the size of a stitch of the
    cloth that begins with it; whether an edge counts as a row is left to those who measure.
    """

    gauges: tuple[ClothGauge, ...]
    gauge_of_stitch: Int8
    width_mm: Floats
    row_mm: Floats
    height_mm: Floats
    said: tuple[Said, ...]
    scaled: bool

    @property
    def width_tolerance(self) -> Floats:
        """How far each width may be off, as a share of it, (n,)."""
        return np.array([g.width_tolerance for g in self.gauges] or [0.0])[self.gauge_of_stitch]

    @property
    def height_tolerance(self) -> Floats:
        """How far each height may be off, as a share of it, (n,)."""
        return np.array([g.height_tolerance for g in self.gauges] or [0.0])[self.gauge_of_stitch]

    @property
    def gives(self) -> Floats:
        """How many times as far as stockinette the cloth of each stitch stretches along its row, (n,)."""
        return np.array([cloth_factor(g.kind).gives for g in self.gauges] or [1.0])[self.gauge_of_stitch]


def gauge_of_fabric(header: Header, knitted: Knitted, gauges: Sequence[Gauge] | None = None) -> FabricGauge:
    """The size of every stitch of one knitting.

    gauges : taken instead of those of the header, as for a knitter's own swatch.
    """
    fabric = knitted.fabric
    kinds = kind_of_stitches(knitted)
    rounds = np.zeros(max((e.order for e in knitted.ledger.entries), default=0) + 1, bool)
    rounds[_rounds(knitted)] = True
    code = kinds.astype(np.int16) * 2 + rounds[fabric.row_of_stitch] if fabric.n else np.zeros(0, np.int16)
    sunk, of_share = np.unique(sunk_shares(knitted, kinds), return_inverse=True)
    pairs = code.astype(np.int64) * max(len(sunk), 1) + of_share
    codes, place, many = np.unique(pairs, return_inverse=True, return_counts=True)
    order = np.argsort(-many, kind="stable")
    found = []
    for n in order.tolist():
        kind, share = divmod(int(codes[n]), len(sunk))
        cloth = ClothKind(kind // 2)
        found.append(Found(cloth, in_round=bool(kind % 2), many=int(many[n]), sunk=float(sunk[share])))
    held, said, scaled = Holding(header, gauges, found).decide()
    back = np.empty(len(order), np.int64)
    back[order] = np.arange(len(order))
    of_stitch = back[place].astype(np.int8) if fabric.n else np.zeros(0, np.int8)
    width = np.array([g.stitch_mm for g in held] or [0.0])[of_stitch]
    row = np.array([g.row_mm for g in held] or [0.0])[of_stitch]
    height = (row * rows_spanned(knitted)).astype(np.float64)
    for values in (of_stitch, width, row, height):
        values.flags.writeable = False
    return FabricGauge(
        gauges=tuple(held), gauge_of_stitch=of_stitch, width_mm=width, row_mm=row, height_mm=height,
        said=tuple(said), scaled=scaled,
    )  # fmt: skip


def _rounds(knitted: Knitted) -> list[int]:
    """Orders of what is worked in the round, the edges that rounds stand on or end with included."""
    out: list[int] = []
    for piece in knitted.ledger.pieces:
        begin: list[int] = []
        last = Kind.ROW
        for e in piece.rows:
            if e.kind is Kind.ROUND:
                out += [*begin, e.order]
            elif e.kind is Kind.BIND_OFF and last is Kind.ROUND:
                out.append(e.order)
            begin = [*begin, e.order] if e.kind in {Kind.CAST_ON, Kind.PICK_UP, Kind.JOIN} else []
            last = e.kind if e.kind in ROWS else last
    return out
