"""What kind of cloth each stitch lies in, told from the knitted stitches round about it.

In: one knitting. Out: a :class:`ClothKind` a stitch. Nothing is read from the words: plain, garter, rib and
seed stitch are told by which faces stand beside and above one another, the others by what was done: tucks,
crossings, holes with their decreases, slips, two colours in a row. What gauge holds in a cloth is left to
``gauge``. The bounds between the kinds are our own.
"""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

from purlwright.fabric.arrays import Int8, Int32, Link, Seen
from purlwright.fabric.query import parent_counts, row_slice
from purlwright.needles.ledger import ROWS, Kind

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric
    from purlwright.needles.knitted import Knitted

__all__ = ["ClothKind", "kind_of_stitches", "rows_spanned", "sunk_shares", "two_colours"]

_Floats: TypeAlias = NDArray[np.float64]
_Marks: TypeAlias = NDArray[np.bool_]


class ClothKind(IntEnum):
    """Kinds of cloth that differ in gauge and in yarn."""

    STOCKINETTE = 0
    """Knit or purl faces all on one side."""
    GARTER = 1
    RIB = 2
    SEED = 3
    """Faces change both from stitch to stitch and from row to row."""
    TEXTURE = 4
    """Any other pattern of knits and purls."""
    LACE = 5
    CABLE = 6
    BRIOCHE = 7
    SLIPPED = 8
    STRANDED = 9


def rows_spanned(knitted: Knitted) -> Int32:
    """How many rows each stitch is high, (n,) int32: 1, and one more for each row in which the loop below it
    was slipped. A stitch that hangs on nothing counts 1.

    Notes: loops that were held count 1 too, as far as a whole row of them was held.
    """
    fabric = knitted.fabric
    out = np.ones(fabric.n, np.int32)
    entries = knitted.ledger.entries
    if not fabric.n or not entries:
        return out
    full = np.zeros(max(e.order for e in entries) + 2, np.int64)
    for e in entries:
        if e.kind in ROWS and e.worked >= e.start > 0:
            full[e.order + 1] = 1
    before = np.cumsum(full)  # full rows with an order below the place
    below, hangs = _below(fabric)
    row = fabric.row_of_stitch.astype(np.int64)
    between = np.where(hangs, before[row] - before[np.minimum(row[below] + 1, row)], 0)
    held = _beside_at_least(between, fabric)
    between = np.where(held > 1, between - held, between)
    return (1 + np.maximum(between, 0)).astype(np.int32)


def kind_of_stitches(knitted: Knitted) -> Int8:
    """The kind of cloth round about each stitch, (n,) int8; an empty fabric gives an empty array."""
    fabric = knitted.fabric
    if not fabric.n:
        return np.zeros(0, np.int8)
    columns = _columns(fabric)
    kinds = _by_faces(fabric, columns)
    whole = np.ones(fabric.n, bool)

    def share(marks: _Marks, beside: int, above: int) -> _Floats:
        if not marks.any():
            return np.zeros(fabric.n)
        return _mean_in_column(_mean_in_row(marks, whole, fabric, beside), whole, columns, above)

    link = _links(fabric)
    drawn = parent_counts(fabric)
    loose = (drawn == 0) & (fabric.seen_of_stitch == Seen.NONE) & ~_cast_on(knitted)
    tucked = link.tucked
    slipped = (rows_spanned(knitted) > 1) & ~_at_ends(fabric)
    lace = np.minimum(share(loose, 6, 4), share((drawn > 1) & ~tucked & ~link.crossed, 6, 4))
    kinds[share(slipped, 4, 4) >= 0.08] = ClothKind.SLIPPED
    kinds[lace >= 0.03] = ClothKind.LACE
    kinds[share(two_colours(fabric), 0, 3) >= 0.4] = ClothKind.STRANDED
    kinds[share(link.crossed, 4, 8) >= 0.05] = ClothKind.CABLE
    kinds[share(tucked, 4, 4) >= 0.15] = ClothKind.BRIOCHE
    _join_scraps(kinds, fabric)
    kinds.flags.writeable = False
    return kinds


_RIB_OF_ITS_OWN = 24  # stitches of rib from which it is looked at by itself
_ALIKE = 0.08  # shares of sunk columns nearer than this are of one rib; k2, p1 and k3, p1 are farther apart


def sunk_shares(knitted: Knitted, kinds: Int8) -> _Floats:
    """Round each stitch of rib the share of the rarer face, (n,): a half in k2, p2, a quarter in k3, p1.

    Told by sections that are mostly rib, so that a collar does not draw in like the cuffs; those that are
    nearly alike are taken together. Rib that lies within other cloth, whose plain columns beside it are not
    told from its own, and a scrap go by all the rib there is. A half where there is no rib.
    """
    fabric = knitted.fabric
    shares = np.full(fabric.n, 0.5)
    every = kinds == ClothKind.RIB
    rib = np.flatnonzero(every & (fabric.seen_of_stitch != Seen.NONE))
    entries = [(n, e) for n, piece in enumerate(knitted.ledger.pieces) for e in piece.rows]
    between = np.zeros(max((e.order for _, e in entries), default=-1) + 1, bool)
    between[[e.order for _, e in entries if e.kind in ROWS]] = True
    rib = rib[between[fabric.row_of_stitch[rib]]]  # the edges all show one face
    if not len(rib):
        return shares
    sections: dict[tuple[int, str], int] = {}
    of_row = np.zeros(len(between), np.int64)
    for number, e in entries:
        of_row[e.order] = sections.setdefault((number, e.section), len(sections))
    shares[every] = _rarer(fabric.seen_of_stitch[rib])
    section = of_row[fabric.row_of_stitch]
    mostly = np.bincount(section[rib], minlength=len(sections)) * 2 > np.bincount(
        section[between[fabric.row_of_stitch]], minlength=len(sections)
    )
    group = np.where(mostly[section], section, len(sections))
    own = []
    for one in np.unique(group[rib]).tolist():
        mine = rib[group[rib] == one]
        if len(mine) >= _RIB_OF_ITS_OWN:
            like = mine if one < len(sections) else rib
            own.append((_rarer(fabric.seen_of_stitch[like]), one, len(mine)))
    alike: list[list[tuple[float, int, int]]] = []
    for share in sorted(own):
        if alike and share[0] - alike[-1][-1][0] < _ALIKE - 1e-9:
            alike[-1].append(share)
        else:
            alike.append([share])
    for near in alike if len(alike) > 1 else []:
        together = sum(share * many for share, _, many in near) / sum(many for _, _, many in near)
        shares[every & np.isin(group, [one for _, one, _ in near])] = together
    return shares


def _rarer(seen: NDArray[np.int8]) -> float:
    """The share of the rarer of two faces; a half where there is but one."""
    rarer = float(np.unique(seen, return_counts=True)[1].min()) / len(seen)
    return rarer if rarer < 1 else 0.5


_SCRAP = 0.015


def _join_scraps(kinds: Int8, fabric: Fabric) -> None:
    """A kind that is hardly there, as where two cloths meet, becomes what most of its row is; else what most
    of everything is.
    """
    many = np.bincount(kinds, minlength=len(ClothKind))
    scraps = [k for k in range(len(many)) if 0 < many[k] < max(12.0, _SCRAP * fabric.n)]
    usual = int(many.argmax())
    for at in np.flatnonzero(np.isin(kinds, [k for k in scraps if k != usual])).tolist():
        part = row_slice(fabric, int(fabric.row_of_stitch[at]))
        beside = np.bincount(kinds[part], minlength=len(ClothKind))
        beside[scraps] = 0
        kinds[at] = int(beside.argmax()) if beside.any() else usual


# --- faces --------------------------------------------------------------------------------------


def _by_faces(fabric: Fabric, columns: _Columns) -> Int8:
    """Plain, garter, rib, seed or another pattern of knits and purls."""
    seen = fabric.seen_of_stitch
    below, hangs = _below(fabric)
    known = hangs & (seen != Seen.NONE) & (seen[below] != Seen.NONE)
    changes = known & (seen != seen[below])
    turns = _decided(changes, known, columns, 4)
    turns = _mean_in_row(turns, np.ones(fabric.n, bool), fabric, 1)
    faced = seen != Seen.NONE
    run = np.log(_run_lengths(seen, fabric))
    run = _mean_in_row(_mean_in_column(run, faced, columns, 4), np.ones(fabric.n, bool), fabric, 4)
    wide = np.exp(run)
    kinds = np.full(fabric.n, int(ClothKind.TEXTURE), np.int8)
    kinds[turns < 0.3] = ClothKind.STOCKINETTE
    kinds[(turns < 0.3) & (wide <= 6.5)] = ClothKind.RIB
    kinds[(turns >= 0.65) & (wide > 2.5)] = ClothKind.GARTER
    kinds[(turns >= 0.3) & (wide <= 2.5)] = ClothKind.SEED
    narrow = _row_lengths(fabric) <= 3
    kinds[narrow & (kinds == ClothKind.RIB)] = ClothKind.STOCKINETTE
    kinds[narrow & (kinds == ClothKind.SEED)] = ClothKind.GARTER
    return kinds


def _run_lengths(values: NDArray[np.int8], fabric: Fabric) -> _Floats:
    """How many stitches side by side in its row have the value of each."""
    n = fabric.n
    new = np.ones(n, bool)
    new[1:] = (values[1:] != values[:-1]) | (fabric.row_of_stitch[1:] != fabric.row_of_stitch[:-1])
    number = np.cumsum(new) - 1
    lengths: _Floats = np.bincount(number)[number].astype(np.float64)
    return lengths


def _row_lengths(fabric: Fabric) -> _Floats:
    return _run_lengths(np.zeros(fabric.n, np.int8), fabric)


def two_colours(fabric: Fabric) -> _Marks:
    """Stitches of rows in which two yarns go by turns, neither resting long."""
    run = _run_lengths(fabric.yarn_of_stitch, fabric)
    long = _row_lengths(fabric)
    rows = np.cumsum(np.concatenate(([True], fabric.row_of_stitch[1:] != fabric.row_of_stitch[:-1]))) - 1
    runs = np.bincount(rows, weights=1 / run)[rows]  # each run adds up to one
    marks: _Marks = (runs >= 3) & (long <= runs * 12)
    return marks


# --- links --------------------------------------------------------------------------------------


class _Links(NamedTuple):
    """Which stitches were tucked or drawn from below, and which crossed."""

    tucked: _Marks
    crossed: _Marks


def _links(fabric: Fabric) -> _Links:
    stitch = np.repeat(np.arange(fabric.n), parent_counts(fabric))

    def having(*kinds: Link) -> _Marks:
        marks = np.zeros(fabric.n, bool)
        marks[stitch[np.isin(fabric.link, [int(k) for k in kinds])]] = True
        return marks

    return _Links(having(Link.TUCKED, Link.BELOW), having(Link.CROSSED_FRONT, Link.CROSSED_BACK))


def _below(fabric: Fabric) -> tuple[Int32, _Marks]:
    """The stitch that each was drawn through (itself where there is none), and whether there is one."""
    first = fabric.first_parent_of_stitch
    hangs = first[1:] > first[:-1]
    below = np.arange(fabric.n, dtype=np.int32)
    below[hangs] = fabric.parent[first[:-1][hangs]]
    edge = np.zeros(fabric.n, bool)
    edge[hangs] = fabric.link[first[:-1][hangs]] == Link.EDGE
    return below, hangs & ~edge


def _cast_on(knitted: Knitted) -> _Marks:
    """Stitches of rows that are cast-ons."""
    orders = [e.order for e in knitted.ledger.entries if e.kind is Kind.CAST_ON]
    in_row: _Marks = np.isin(knitted.fabric.row_of_stitch, orders)
    named = [n for n, op in enumerate(knitted.fabric.ops) if "cast on" in op or "cast-on" in op]
    marks: _Marks = in_row | np.isin(knitted.fabric.op_of_stitch, named)
    return marks


def _at_ends(fabric: Fabric) -> _Marks:
    """The first and the last two stitches of each row: a slipped selvage makes no slip-stitch cloth."""
    row = fabric.row_of_stitch
    marks = np.zeros(fabric.n, bool)
    new = np.flatnonzero(row[1:] != row[:-1])
    for at in (0, 1):
        marks[np.clip(new - at, 0, fabric.n - 1)] = marks[np.clip(new + 1 + at, 0, fabric.n - 1)] = True
    marks[:2] = marks[-2:] = True
    return marks


def _beside_at_least(values: NDArray[np.int64], fabric: Fabric) -> NDArray[np.int64]:
    """The least value among three neighbours on that side, left or right, where it is greater."""
    row, n = fabric.row_of_stitch, fabric.n
    if not values.any():
        return np.zeros(n, np.int64)
    most = np.iinfo(np.int64).max

    def least(step: int) -> NDArray[np.int64]:
        out = np.full(n, most)
        for away in (1, 2, 3):
            at = np.arange(n) + step * away
            there = (at >= 0) & (at < n)
            at = np.clip(at, 0, n - 1)
            there &= row[at] == row
            out = np.where(there, np.minimum(out, values[at]), out)
        return np.where(out == most, 0, out)

    return np.maximum(least(-1), least(1))


# --- means in a row and in a column ---------------------------------------------------------------


class _Columns(NamedTuple):
    """Stitches sorted by column: ``order``, and where the column of each place begins and ends."""

    order: NDArray[np.int64]
    first: NDArray[np.int64]
    last: NDArray[np.int64]


def _columns(fabric: Fabric) -> _Columns:
    order = np.argsort(fabric.column_of_stitch, kind="stable")
    first, last = _bounds(fabric.column_of_stitch[order])
    return _Columns(order, first, last)


def _bounds(groups: Int32) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Where the group of each place begins, and where it ends (one past)."""
    new = np.concatenate(([True], groups[1:] != groups[:-1]))
    number = np.cumsum(new) - 1
    starts = np.append(np.flatnonzero(new), len(groups))
    return starts[number], starts[number + 1]


def _window(
    values: NDArray[np.generic], counted: _Marks, low: NDArray[np.int64], high: NDArray[np.int64]
) -> _Floats:
    """The mean of the counted values from ``low`` up to ``high`` of each place; 0 where none counts."""
    every = bool(counted.all())
    kept = values if every else np.where(counted, values, 0)
    total = np.concatenate(([0.0], np.cumsum(kept, dtype=np.float64)))
    if every:
        whole: _Floats = (total[high] - total[low]) / np.maximum(high - low, 1)
        return whole
    many = np.concatenate(([0], np.cumsum(counted)))
    mean: _Floats = (total[high] - total[low]) / np.maximum(many[high] - many[low], 1)
    return mean


def _mean_in_row(values: NDArray[np.generic], counted: _Marks, fabric: Fabric, beside: int) -> _Floats:
    at = np.arange(fabric.n)
    first, last = _bounds(fabric.row_of_stitch)
    return _window(values, counted, np.maximum(at - beside, first), np.minimum(at + beside + 1, last))


def _mean_in_column(values: NDArray[np.generic], counted: _Marks, columns: _Columns, above: int) -> _Floats:
    at = np.arange(len(columns.order))
    low, high = np.maximum(at - above, columns.first), np.minimum(at + above + 1, columns.last)
    out = np.empty(len(at))
    out[columns.order] = _window(values[columns.order], counted[columns.order], low, high)
    return out


def _decided(values: _Marks, counted: _Marks, columns: _Columns, above: int) -> _Floats:
    """The mean of the rows before or after, whichever is further from a half: an edge between two cloths
    stays where it is.
    """
    at = np.arange(len(columns.order))
    v, c = values[columns.order], counted[columns.order]
    down = _window(v, c, np.maximum(at - above, columns.first), at + 1)
    up = _window(v, c, np.minimum(at + 1, columns.last), np.minimum(at + above + 1, columns.last))
    many = np.concatenate(([0], np.cumsum(c)))
    no_down = many[at + 1] == many[np.maximum(at - above, columns.first)]
    no_up = many[np.minimum(at + above + 1, columns.last)] == many[np.minimum(at + 1, columns.last)]
    up = np.where(no_up, down, up)
    down = np.where(no_down, up, down)
    out = np.empty(len(at))
    out[columns.order] = np.where(abs(up - 0.5) > abs(down - 0.5), up, down)
    return out
