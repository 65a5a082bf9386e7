"""How many stitches stand above the last landmark in each column, after every row.

In: one size, knitted, the rows of one piece, and what was worked in each. Out: for each row a count for every
stitch on the needles. What a landmark is, is said in ``marked``; which counts tell rows apart is left to
``rescue``.

A knitter counts up one column: the cable in her hand was crossed five stitches below the needle, whatever the
other cables did since. Stitches are counted, not rows of the pattern: where a turn left a column unworked, or
a stitch was slipped, nothing is added to it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Link
from purlwright.needles.ledger import Entry, Kind
from purlwright.needles.optable import op_table
from purlwright.pattern.tree import Side
from purlwright.stitches.kinds import Motion

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.looks import Working

__all__ = ["NO_MARK", "UNTOLD", "above_marks"]

NO_MARK = -1
"""The column has no landmark in this piece."""
UNTOLD = -2
"""Nothing tells: loops came or went in a way that is not followed from column to column."""


def above_marks(
    knitted: Knitted, rows: Sequence[Entry], worked: Mapping[int, Working], marked: Any
) -> list[tuple[int, ...] | None]:
    """For each row the stitches above the last landmark in each column, its loop on the needle included.

    marked : (operations,) bool, whether an operation leaves a landmark. Columns are in the order of the
    stitches from the right edge, the right side facing; in the round, from its beginning. 0 for a landmark of
    the row just worked, NO_MARK, or UNTOLD. None for a row of which nothing tells the side.
    """
    out: list[tuple[int, ...] | None] = []
    slips = np.array([s is not None and s.motion is Motion.SLIP for s in op_table().stitches], np.bool_)
    right, left = _nothing(), np.full(rows[0].start if rows else 0, NO_MARK, np.int32)
    for i, entry in enumerate(rows):
        if i:
            right, left = _next_row(rows[i - 1], entry, right, left)
        behind = entry.start - entry.worked - entry.unworked
        if len(right) != behind or len(right) + len(left) != entry.start:
            right, left = _untold(behind), _untold(entry.worked + entry.unworked)
        w = worked.get(entry.order)
        made = None if w is None else _made(w, left, marked, slips)
        if made is not None:
            made = _crossed_in_words(knitted, entry, made)
        if made is None or entry.resumed or len(right) + len(made) + entry.unworked != entry.end:
            right, left = _untold(max(entry.end - entry.unworked, 0)), _untold(entry.unworked)
        else:
            right = np.concatenate([right, made])
            left = left[len(left) - entry.unworked :]
        held = np.concatenate([right, left])
        if entry.side is None:
            out.append(None)
        else:
            out.append(tuple((held if entry.side is Side.RS else held[::-1]).tolist()))
    return out


def _nothing() -> Any:
    return np.zeros(0, np.int32)


def _untold(n: int) -> Any:
    return np.full(max(n, 0), UNTOLD, np.int32)


def _next_row(was: Entry, entry: Entry, right: Any, left: Any) -> tuple[Any, Any]:
    """The loops on both needles as the next row begins: turned, or gone on with from the other end."""
    if was.side is not entry.side:
        return left[::-1], right[::-1]
    if len(left) and entry.kind is not Kind.ROUND:
        return _nothing(), _nothing()  # gone on with in the middle: not followed
    return _nothing(), np.concatenate([left, right])


def _made(w: Working, left: Any, marked: Any, slips: Any) -> Any:
    """The counts of the loops that a row makes; None where it takes more than there are."""
    if int(w.takes.sum()) > len(left):
        return None
    first = np.cumsum(w.takes) - w.takes
    op = np.repeat(np.arange(w.n), w.makes)
    each = np.arange(len(op)) - np.repeat(np.cumsum(w.makes) - w.makes, w.makes)
    takes = w.takes[op]
    if not len(left):
        below = np.full(len(op), UNTOLD, np.int32)
    else:
        at = first[op] + np.minimum(each, np.maximum(takes - 1, 0))
        below = np.where(takes > 0, left[np.minimum(at, len(left) - 1)], NO_MARK)
    grown = np.where((below >= 0) & ~slips[w.ops][op], below + 1, below)
    return np.where(marked[w.ops][op], 0, grown).astype(np.int32)


def _crossed_in_words(knitted: Knitted, entry: Entry, made: Any) -> Any:
    """The same, where stitches were crossed by a sentence of their own instead of by an operation."""
    f = knitted.fabric
    low, high = np.searchsorted(f.row_of_stitch, [entry.order, entry.order + 1]).tolist()
    first = f.first_parent_of_stitch[low : high + 1]
    links = f.link[first[0] : first[-1]]
    at = np.flatnonzero((links == Link.CROSSED_FRONT) | (links == Link.CROSSED_BACK))
    if not len(at):
        return made
    if high - low != len(made):
        return None
    stitch = np.searchsorted(first, at + first[0], "right")
    made = made.copy()
    made[stitch - 1] = 0
    return made
