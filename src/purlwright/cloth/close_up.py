"""A few rows of a piece as loops of yarn, laid straight: for lessons, seams and the page of a row.

In: the fabric, the piece, which rows. Out: :class:`~purlwright.cloth.loops.Loops`, ready to be drawn. The
shape of the whole is left to others.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from purlwright.cloth.laid import lay_out
from purlwright.cloth.loops import Loops, loops
from purlwright.needles.ledger import Kind

if TYPE_CHECKING:
    from purlwright.cloth.gauge import FabricGauge
    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Piece

__all__ = ["MOST_STITCHES", "CloseUp", "NoCloseUp", "close_up", "close_ups"]

MOST_STITCHES = 4000

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


class NoCloseUp(ValueError):  # noqa: N818 - a reason, not a fault
    """Why there is no close-up, in a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseUp:
    """Some rows of one section of one piece."""

    section: str
    loops: Loops


def close_ups(
    knitted: Knitted,
    gauge: FabricGauge,
    *,
    section: str | None,
    rows: tuple[int, int] | None,
    columns: tuple[int, int] | None = None,
) -> list[CloseUp]:
    """The rows with these numbers, or all, of a section, or of every section that has them.

    columns : of each row the stitches from the first to the last of these, from 1 at the right edge.
    Raises NoCloseUp when there are none, or too many to be looked at.
    """
    out = []
    for piece in knitted.ledger.pieces:
        for name in dict.fromkeys(e.section for e in piece.rows):
            if section is not None and name.casefold() != section.casefold():
                continue
            mine = [e for e in piece.rows if e.section == name]
            if rows is not None:
                mine = [e for e in mine if e.number is not None and rows[0] <= e.number <= rows[1]]
            orders = [e.order for e in mine]
            here = np.isin(knitted.fabric.row_of_stitch, orders)
            if not here.any():
                continue
            many = int(here.sum())
            if columns is not None:
                many = min(many, (columns[1] - columns[0] + 1) * len(orders))
            if many > MOST_STITCHES:
                raise NoCloseUp(
                    f"These rows have {many:,} stitches, and a close-up shows {MOST_STITCHES:,} at "
                    "most: ask for fewer rows or columns."
                )
            wide, high = float(np.median(gauge.width_mm[here])), float(np.median(gauge.row_mm[here]))
            seen = close_up(knitted.fabric, piece, orders, stitch_mm=wide, row_mm=high, columns=columns)
            if not len(seen.stitch):
                continue
            out.append(CloseUp(section=name, loops=seen))
    if not out:
        raise NoCloseUp(
            "No such rows, or not so many stitches, are knitted; the ledger lists sections and row numbers."
        )
    return out
