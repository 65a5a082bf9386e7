"""What a laid-out piece measures: its edges in mm, and the boxes of its rows for a picture.

In: a :class:`~purlwright.cloth.laid.Laid`. Out: plain measures and runs of boxes. Words and lines are left to
``schematic``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from purlwright.cloth.laid import Laid

__all__ = ["Box", "Measures", "boxes", "has_short_rows", "measure"]

_GAP = 3.5
"""Stitches of a row this many stitches apart, or more, have a gap between them."""
_ALIKE = 1e-6


@dataclass(frozen=True, slots=True)
class Box:
    """A run of neighbouring stitches of one row that lie equally high."""

    order: int
    left_mm: float
    right_mm: float
    low_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """Widths of the first row, the widest and the last, how long both edges are, and how high all of it is.

    All in mm, from numbers of stitches and rows alone; the width of a tube is what it measures round.
    """

    first_mm: float
    widest_mm: float
    last_mm: float
    left_mm: float
    right_mm: float
    high_mm: float


def boxes(laid: Laid) -> list[Box]:
    """Every row as boxes, in the order of work, each from left to right.

    In a piece without short rows a row is one box, however its stitches are slipped or drawn up, or one on
    each side of a gap of several stitches.
    """
    half = laid.stitch_mm / 2
    short = has_short_rows(laid)
    out: list[Box] = []
    for order in np.unique(laid.order).tolist():
        mine = np.flatnonzero(laid.order == order)
        mine = mine[np.argsort(laid.x_mm[mine], kind="stable")]
        x, low, high = laid.x_mm[mine], laid.low_mm[mine], laid.high_mm[mine]
        new = np.diff(x) > _GAP * laid.stitch_mm
        if short:
            new |= (np.abs(np.diff(low)) > _ALIKE) | (np.abs(np.diff(high)) > _ALIKE)
        starts = np.concatenate(([0], np.flatnonzero(new) + 1))
        ends = np.concatenate((starts[1:], [len(mine)]))
        for a, b in zip(starts.tolist(), ends.tolist(), strict=True):
            bottom, top = float(np.median(low[a:b])), float(np.median(high[a:b]))
            out.append(Box(order, float(x[a]) - half, float(x[b - 1]) + half, bottom, top))
    return out


def has_short_rows(laid: Laid) -> bool:
    """Whether stitches of one row lie at heights that are more than two rows apart."""
    for order in np.unique(laid.order).tolist():
        low = laid.low_mm[laid.order == order]
        if float(low.max() - low.min()) > 2.5 * laid.row_mm:
            return True
    return False


def measure(laid: Laid) -> Measures | None:
    """The measures; None for a piece without stitches."""
    if not len(laid.stitch):
        return None
    widths: dict[int, float] = {}
    for order in np.unique(laid.order).tolist():
        x = laid.x_mm[laid.order == order]
        widths[order] = float(x.max() - x.min()) * (2 if laid.tube else 1) + laid.stitch_mm
    rows = list(widths.values())
    return Measures(
        first_mm=rows[0],
        widest_mm=max(rows),
        last_mm=rows[-1],
        left_mm=laid.left_mm,
        right_mm=laid.right_mm,
        high_mm=float(laid.high_mm.max()),
    )
