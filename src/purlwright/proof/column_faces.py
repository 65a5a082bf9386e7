"""The knit and purl stitches of a fabric column by column, and the lines of words that break columns.

In: one knitting. Out: its cloth in flat arrays, and each line whose stitches show one face where all other
lines of their columns show the other. Whether that is a slip, and what is said of it, is left to ``faces``.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from purlwright.needles.ledger import ROWS, Entry, Kind
from purlwright.pattern.tree import Side

if TYPE_CHECKING:
    from collections.abc import Hashable

    from purlwright.fabric.arrays import Fabric
    from purlwright.proof.subject import Subject, Way

__all__ = [
    "OF_SIDE",
    "OTHERS",
    "Break",
    "Cloth",
    "as_knitted",
    "breaks",
    "cloth_of",
    "lines_of_spans",
    "mixed_rows",
    "rows_of",
]

OTHERS = 4
"""So many other lines of words make a rule; common practice, no source."""
OF_SIDE = 3
"""Garter stitch is a rule where so many other lines of the same side knit; common practice, no source."""
_LONG = 10
"""Three lines make a rule where they are worked over so many rounds; common practice, no source."""


class Cloth(NamedTuple):
    """Knit and purl stitches column by column, each column from its foot up.

    column : (m,) int32. line : (m,) int32, place in ``lines`` of the words that made it. row : (m,) int32.
    seen, worked : (m,) int8, 0 knit and 1 purl, as the right side shows it and as it was worked.
    words : (m,) int32, the span that made it. stitch : (m,) int64, place in the fabric.
    """

    column: Any
    line: Any
    words: Any
    row: Any
    seen: Any
    worked: Any
    stitch: Any


class Break(NamedTuple):
    """One line of words that breaks columns: its stitches there, the lines that keep them, and the rule."""

    line: int
    places: Any
    keep: tuple[int, ...]
    garter: bool


def mixed_rows(cloth: Cloth) -> Cloth:
    """The rows that show both faces: ribs, with the plain rows between them left out."""
    knits = np.bincount(cloth.row, cloth.seen == 0) > 0
    purls = np.bincount(cloth.row, cloth.seen == 1) > 0
    both = (knits & purls)[cloth.row]
    return Cloth(*(array[both] for array in cloth))


def rows_of(way: Way) -> dict[int, Entry]:
    """The rows and rounds of one knitting that words stand behind, by their order."""
    return {
        e.order: e
        for piece in way.knitted.ledger.pieces
        for e in piece.rows
        if e.kind in ROWS and e.span.end >= 0
    }


def lines_of_spans(subject: Subject, fabric: Fabric) -> Any:
    """The place in the words, line by line, of each span of a fabric: (s,) int64."""
    offsets = np.array(subject.offsets, np.int64)
    # words without a place of their own stand one before their line
    return np.searchsorted(offsets, fabric.span_start + 1, "right") - 1


def as_knitted(fabric: Fabric, of_span: Any, entries: dict[int, Entry]) -> Hashable:
    """All that a search for broken columns looks at: what is equal here has the same breaks."""
    arrays = (
        fabric.column_of_stitch, fabric.row_of_stitch, fabric.seen_of_stitch, fabric.side_of_stitch,
        fabric.span_of_stitch, of_span,
    )  # fmt: skip
    return *(a.tobytes() for a in arrays), tuple((n, e.kind, e.side) for n, e in entries.items())


def cloth_of(fabric: Fabric, of_span: Any, entries: dict[int, Entry]) -> Cloth | None:
    """The cloth of one way; None if it has too few lines of words for a rule.

    of_span : the line of each span, as :func:`lines_of_spans` gives it.
    """
    if not fabric.n or len({e.line for e in entries.values()}) <= OTHERS:
        return None
    last = int(fabric.row_of_stitch.max())
    is_row = np.zeros(last + 2, bool)
    is_row[[order for order in entries if order <= last]] = True
    plain = (fabric.seen_of_stitch < 2) & (fabric.side_of_stitch < 2) & is_row[fabric.row_of_stitch]
    stitch = np.flatnonzero(plain)
    stitch = stitch[np.argsort(fabric.column_of_stitch[stitch], kind="stable")]
    seen = fabric.seen_of_stitch[stitch]
    return Cloth(
        fabric.column_of_stitch[stitch], of_span[fabric.span_of_stitch[stitch]],
        fabric.span_of_stitch[stitch], fabric.row_of_stitch[stitch],
        seen, seen ^ fabric.side_of_stitch[stitch], stitch,
    )  # fmt: skip


# --- what breaks them --------------------------------------------------------------------------------------


def breaks(cloth: Cloth, entries: dict[int, Entry], *, garter: bool, at_end: bool) -> list[Break]:
    """Lines whose stitches show what no other line near shows in their columns.

    at_end : those that begin or end the columns, not those between others.
    """
    face = cloth.worked if garter else cloth.seen
    if len(face) < 3:
        return []
    starts = np.flatnonzero(
        np.concatenate(([True], (face[1:] != face[:-1]) | (cloth.column[1:] != cloth.column[:-1])))
    )
    low, high = np.minimum.reduceat(cloth.line, starts), np.maximum.reduceat(cloth.line, starts)
    of_column = cloth.column[starts]
    inner = np.zeros(len(starts), bool)
    below, above = of_column[1:-1] == of_column[:-2], of_column[1:-1] == of_column[2:]
    inner[1:-1] = below ^ above if at_end else below & above
    inner &= _ruled(face[starts], of_column, low != high)
    ends = np.append(starts[1:], len(face))
    out = []
    for line in np.unique(low[inner & (low == high)]).tolist():
        runs = np.flatnonzero(inner & (low == high) & (low == line))
        one = _judge(cloth, face, entries, line, starts[runs], ends[runs], garter=garter, at_end=at_end)
        if one is not None:
            out.append(one)
    return out


def _ruled(face: Any, column: Any, of_several: Any) -> Any:
    """The runs in whose column several lines keep the other face somewhere; all else is no rule."""
    out = np.zeros(len(face), bool)
    most = int(column.max()) + 1
    for ground in (0, 1):
        kept = np.zeros(most, bool)
        kept[column[of_several & (face == ground)]] = True
        out |= (face != ground) & kept[column]
    return out


def _judge(
    cloth: Cloth,
    face: Any,
    entries: dict[int, Entry],
    line: int,
    starts: Any,
    ends: Any,
    *,
    garter: bool,
    at_end: bool,
) -> Break | None:
    """The columns that only this line breaks, if enough other lines keep each of them."""
    places: list[int] = []
    keep: set[int] | None = None
    broken = np.unique(np.concatenate([cloth.words[a:b] for a, b in zip(starts, ends, strict=True)]))
    for column, group in groupby(range(len(starts)), key=lambda n: int(cloth.column[starts[n]])):
        first, last = np.searchsorted(cloth.column, [column, column + 1])
        runs = list(group)
        lines, faces = cloth.line[first:last], face[first:last]
        ground = 1 - int(face[starts[runs[0]]])
        others = np.flatnonzero((lines != line) | (faces == ground)) + first
        odd = entries[int(cloth.row[starts[runs[0]]])]
        about = [_about(face, others, int(starts[n]), ground, at_end=at_end) for n in runs]
        if not all(_kept(cloth, entries, odd, a, garter=garter) for a in about):
            continue
        mine = np.flatnonzero((lines == line) & np.isin(cloth.words[first:last], broken)) + first
        if (face[mine] == ground).any():
            continue
        places += mine.tolist()
        lines_here = {int(x) for x in np.unique(cloth.line[others][face[others] == ground])}
        both = lines_here if keep is None else keep & lines_here
        keep = both if keep is None or len(both) >= OTHERS else max(keep, lines_here, key=len)
    return Break(line, np.array(sorted(places)), tuple(sorted(keep or ())), garter) if places else None


def _about(face: Any, others: Any, at: int, ground: int, *, at_end: bool) -> Any:
    """The unbroken stretch of a column about a place, of the stitches that are not of the line judged."""
    k = a = b = int(np.searchsorted(others, at))
    while a > 0 and face[others[a - 1]] == ground:
        a -= 1
    while b < len(others) and face[others[b]] == ground:
        b += 1
    return others[a:b] if at_end or a < k < b else others[:0]


def _kept(cloth: Cloth, entries: dict[int, Entry], odd: Entry, stretch: Any, *, garter: bool) -> bool:
    """Whether a stretch of a column is a rule: so many lines of words, and of both sides where it is flat."""
    rounds: set[int] = set()
    sides: dict[Side | None, set[int]] = {Side.RS: set(), Side.WS: set(), None: set()}
    for n in stretch.tolist():
        entry = entries[int(cloth.row[n])]
        (rounds if entry.kind is Kind.ROUND else sides[entry.side]).add(int(cloth.line[n]))
    flat = min(len(sides[Side.RS]), len(sides[Side.WS]))
    if garter:
        return flat >= 1 and len(sides[odd.side]) >= 2 and len(sides[Side.RS] | sides[Side.WS]) >= OTHERS
    every = rounds | sides[Side.RS] | sides[Side.WS]
    long = len(rounds) >= OTHERS - 1 and len(np.unique(cloth.row[stretch])) >= _LONG
    return long or (len(every) >= OTHERS and (len(rounds) >= OTHERS or flat >= (1 if rounds else 2)))
