"""Questions to a fabric: what a stitch hangs on and what hangs on it, its row, its column, its words.

In: a :class:`~purlwright.fabric.arrays.Fabric`. Out: stitch numbers in small arrays. Nothing is changed or
kept; what the answers mean for a pattern is left to the rooms above.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.fabric.arrays import Fabric, Int8, Int32

__all__ = [
    "Children",
    "Ends",
    "children",
    "children_of_all",
    "column",
    "gaps",
    "neighbours",
    "parent_counts",
    "parent_links",
    "parents",
    "row_ends",
    "row_slice",
    "rows",
    "stitches_of_span",
    "waste_yarns",
    "words_of",
]  # fmt: skip


_WASTE = frozenset({"waste", "scrap", "spare"})


def waste_yarns(names: Sequence[str]) -> frozenset[int]:
    """The numbers of those yarns that are taken out again: "waste yarn"."""
    return frozenset(n for n, name in enumerate(names) if _WASTE.intersection(name.lower().split()))


class Children(NamedTuple):
    """Every stitch's children as one flat array with offsets.

    first_child_of_stitch : (n + 1,) int32, where a stitch's children begin in ``child``.
    child : (m,) int32, stitches, those of one parent in working order.
    link : (m,) int8, how each child hangs (:class:`~purlwright.fabric.arrays.Link`).
    """

    first_child_of_stitch: Int32
    child: Int32
    link: Int8


class Ends(NamedTuple):
    """The outermost stitches of rows.

    row : (r,) int32, ledger order. right, left : (r,) int32, the outermost stitch made in that row at either
    side, seen from the right side. A row whose side is not known counts as a right-side row.
    """

    row: Int32
    right: Int32
    left: Int32


def _checked(fabric: Fabric, stitch: int) -> int:
    if not 0 <= stitch < fabric.n:
        raise ValueError(f"no stitch {stitch}: the fabric has stitches 0 to {fabric.n - 1}")
    return stitch


def parents(fabric: Fabric, stitch: int) -> Int32:
    """Stitches that ``stitch`` hangs on, (p,) int32, as they were taken; empty if it hangs on nothing.

    Raises ValueError when there is no such stitch.
    """
    s = _checked(fabric, stitch)
    first = fabric.first_parent_of_stitch
    return fabric.parent[first[s] : first[s + 1]]


def parent_links(fabric: Fabric, stitch: int) -> Int8:
    """How ``stitch`` hangs on each of its :func:`parents`, (p,) int8.

    Raises ValueError when there is no such stitch.
    """
    s = _checked(fabric, stitch)
    first = fabric.first_parent_of_stitch
    return fabric.link[first[s] : first[s + 1]]


def parent_counts(fabric: Fabric) -> Int32:
    """How many stitches each hangs on, (n,) int32; an empty fabric gives an empty array."""
    return np.diff(fabric.first_parent_of_stitch)


def children_of_all(fabric: Fabric) -> Children:
    """The links of the whole fabric turned round, so that the children of many stitches are found at once.

    An empty fabric gives empty arrays and the offsets ``[0]``. Costs one sort over the links.
    """
    child = np.repeat(np.arange(fabric.n, dtype=np.int32), parent_counts(fabric))
    order = np.argsort(fabric.parent, kind="stable")
    first = np.zeros(fabric.n + 1, np.int32)
    np.cumsum(np.bincount(fabric.parent, minlength=fabric.n), out=first[1:])
    return Children(first, child[order], fabric.link[order])


def children(fabric: Fabric, stitch: int) -> Int32:
    """Stitches that hang on ``stitch``, (c,) int32, in working order; empty for a live or bound-off loop.

    Looks through the links of later stitches only; for many stitches use :func:`children_of_all`.
    Raises ValueError when there is no such stitch.
    """
    s = _checked(fabric, stitch)
    begin = int(fabric.first_parent_of_stitch[s])
    at = np.flatnonzero(fabric.parent[begin:] == s) + begin
    found: Int32 = (np.searchsorted(fabric.first_parent_of_stitch, at, side="right") - 1).astype(np.int32)
    return np.unique(found)


def rows(fabric: Fabric) -> Int32:
    """Ledger orders of the rows that made a stitch, (r,) int32, ascending."""
    made = fabric.row_of_stitch
    if not len(made):
        return made
    return made[np.concatenate(([True], made[1:] != made[:-1]))]


def row_slice(fabric: Fabric, row: int) -> slice:
    """Where the stitches of the row with ledger order ``row`` stand; an empty slice if it made none."""
    made = fabric.row_of_stitch
    return slice(int(np.searchsorted(made, row, "left")), int(np.searchsorted(made, row, "right")))


def neighbours(fabric: Fabric) -> Int32:
    """The stitches made just before and after each in its row, (n, 2) int32; -1 where the row begins or ends.

    Notes: slipped stitches are not made anew, so their neighbours in the row are neighbours of each other.
    """
    n = fabric.n
    out = np.full((n, 2), -1, np.int32)
    if n:
        same = fabric.row_of_stitch[1:] == fabric.row_of_stitch[:-1]
        ids = np.arange(n, dtype=np.int32)
        out[1:, 0] = np.where(same, ids[:-1], -1)
        out[:-1, 1] = np.where(same, ids[1:], -1)
    return out


def column(fabric: Fabric, number: int) -> Int32:
    """Stitches of a column, (c,) int32, the oldest first; empty if there is no such column."""
    return np.flatnonzero(fabric.column_of_stitch == number).astype(np.int32)


def row_ends(fabric: Fabric) -> Ends:
    """The outermost stitches of every row, (r,) each; empty arrays for an empty fabric."""
    r = rows(fabric)
    made = fabric.row_of_stitch
    first = np.searchsorted(made, r, "left").astype(np.int32)
    last = (np.searchsorted(made, r, "right") - 1).astype(np.int32)
    wrong = fabric.side_of_stitch[first] == 1
    return Ends(r, np.where(wrong, last, first), np.where(wrong, first, last))


def gaps(fabric: Fabric, row: int) -> Int32:
    """Where a row steps over the end of a shorter one: the stitches before which it does, (g,) int32.

    Two neighbours of the row then hang on stitches of different rows. Stitches that hang on nothing
    (yarn overs) are passed over.
    """
    part = row_slice(fabric, row)
    first = fabric.first_parent_of_stitch
    s = np.arange(part.start, part.stop, dtype=np.int32)
    s = s[first[s + 1] > first[s]]
    below = fabric.row_of_stitch[fabric.parent[first[s]]]
    stepped: Int32 = s[1:][below[1:] != below[:-1]]
    return stepped


def stitches_of_span(fabric: Fabric, start: int, end: int) -> Int32:
    """Stitches whose words lie in, or reach into, the stretch ``[start, end)`` of the source.

    (k,) int32, in working order.
    """
    meets = (fabric.span_start < end) & (fabric.span_end > start)
    return np.flatnonzero(meets[fabric.span_of_stitch]).astype(np.int32)


def words_of(fabric: Fabric, stitch: int) -> tuple[int, int]:
    """The stretch ``[start, end)`` of the source that made a stitch.

    Raises ValueError when there is no such stitch.
    """
    i = int(fabric.span_of_stitch[_checked(fabric, stitch)])
    return int(fabric.span_start[i]), int(fabric.span_end[i])
