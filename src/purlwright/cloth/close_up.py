"""A few rows of a piece as loops of yarn, laid straight: for lessons, seams and the page of a row.

In: the fabric, the piece, which rows. Out: :class:`~purlwright.cloth.loops.Loops`, ready to be drawn. The
shape of the whole is left to others.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.laid import lay_out
from purlwright.cloth.loops import Loops, loops
from purlwright.needles.ledger import Kind

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.ledger import Piece

__all__ = ["close_up"]

_OF_A_ROW = 0.5
"""How high a cast-on or a bind-off stands in a picture, in rows; in a measure it is a line."""


def close_up(
    fabric: Fabric,
    piece: Piece,
    rows: Collection[int],
    *,
    stitch_mm: float,
    row_mm: float,
    columns: tuple[int, int] | None = None,
) -> Loops:
    """The loops of some rows of a piece, as they lie over one another.

    rows : ledger orders; others are left out, so that the lowest row shows its own feet.
    columns : only the stitches from the first to the last of these, counted from 1 at the right edge of the
        widest of the rows, as the right side is seen; None for all.
    A tube is shown as if it were cut where its rounds begin. Rows that made nothing give empty loops.
    """
    laid = lay_out(fabric, piece, stitch_mm=stitch_mm, row_mm=row_mm, opened=True)
    wanted = np.isin(laid.order, np.fromiter(rows, np.int32, len(rows)))
    stitch, x = laid.stitch[wanted], laid.x_mm[wanted]
    y = (laid.low_mm[wanted] + laid.high_mm[wanted]) / 2
    kinds = {entry.order: entry.kind for entry in piece.rows}
    for order in np.unique(laid.order[wanted]).tolist():
        shift = {Kind.CAST_ON: -_OF_A_ROW, Kind.BIND_OFF: _OF_A_ROW}.get(kinds[order], 0.0)
        y[laid.order[wanted] == order] += shift * row_mm
    if columns is not None and len(x):
        edge = x.max() + stitch_mm / 2
        first, last = columns
        near = (x <= edge - (first - 1) * stitch_mm) & (x >= edge - last * stitch_mm)
        stitch, x, y = stitch[near], x[near], y[near]
    in_order = np.argsort(stitch)
    at = np.column_stack([x, y])[in_order]
    return loops(fabric, stitch[in_order], at, width_mm=stitch_mm, height_mm=row_mm)
