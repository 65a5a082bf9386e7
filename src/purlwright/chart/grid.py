"""Knitted rows as a chart: squares whose columns follow the fabric.

In: a knitted pattern and the rows wanted. Out: a frozen :class:`Grid`, its rows from the bottom up, as the
right side of the fabric shows them; every square keeps the words it came from. Repeats are found by
``tiling``, the key is written by ``key``, and the drawing is left to ``draw``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from purlwright.chart.columns import set_columns
from purlwright.chart.follow import Deed, Followed, follow
from purlwright.chart.signs import LETTERS, letters, sign_of
from purlwright.needles.ledger import Entry, Kind
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted

__all__ = ["Grid", "GridRow", "Square", "Tile", "make_grid"]

_SHARED = frozenset({"knit", "purl", "cast", "close", "slip-behind"})
"""Signs that stand for several ways to make the same fabric."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Square:
    """One sign over ``width`` columns from ``column``, counted from 0 at the left.

    ``name`` is the stitch as worked in this row: a key of the dictionary, or her abbreviation if ``own``.
    ``taken`` and ``made`` count its loops; ``stitches`` are those of the fabric that it made.
    """

    column: int
    width: int
    sign: str
    name: str
    own: bool = False
    yarn: int = -1
    taken: int = 1
    made: int = 1
    pass_: int = 1
    stitches: tuple[int, ...] = ()
    span: Span = NOWHERE


@dataclass(frozen=True, slots=True, kw_only=True)
class GridRow:
    """One row, drawn from left to right. Its number stands where it starts.

    ``waiting`` are columns whose stitch this row did not reach, ``absent`` those between its ends where there
    is no stitch. ``start`` and ``end`` count the stitches before and after it, ``turned`` names the sign of a
    turn before its end.
    """

    order: int
    number: int | None
    label: str
    from_right: bool
    round: bool
    squares: tuple[Square, ...]
    waiting: tuple[int, ...] = ()
    absent: tuple[int, ...] = ()
    start: int
    end: int
    turned: str = ""
    markers: tuple[int, ...] = ()
    """The columns to whose left a marker stands after this row."""
    span: Span = NOWHERE
    line: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """A repeat: ``width`` columns from ``first``, in rows ``bottom`` to ``top`` (from 0, ``top`` left out).

    ``moved`` says for each of these rows how many columns its edges stand to the left of ``first``. ``times``
    is how often it was knitted across, all of them found equal, square by square.
    """

    first: int
    width: int
    bottom: int
    top: int
    times: int
    moved: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A chart. ``columns`` counts the squares across, ``yarns`` names the yarns that squares speak of.

    ``stands_for`` says of which rows these are the first, if others are the same: (last row number).
    """

    title: str
    columns: int
    rows: tuple[GridRow, ...]
    yarns: tuple[str, ...] = ()
    tiles: tuple[Tile, ...] = ()
    notes: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    """Where the stitch pattern is from, in her words."""
    mirrored: bool = False
    """Whether it is drawn for one who works mirrored: right-side rows then start at the left."""
    held: bool = False
    """Whether stitches go onto a holder, or come from one, in these rows."""
    unread: tuple[int, ...] = ()
    """Lines of rows that could not be read or knitted, and so cannot be drawn."""
    varies: bool = False
    """Whether its repeats may be worked more or fewer times across than here: it stands apart from the rows
    that work it, or they are worked again over other stitches.
    """
    span: Span = NOWHERE

    @property
    def sayings(self) -> tuple[str, ...]:
        """The sentences that stand under the drawing."""
        return (*self.notes, *(f"Source: {words.rstrip('.')}." for words in self.sources))

    @property
    def flat(self) -> bool:
        """Whether it is worked back and forth."""
        return any(not row.from_right for row in self.rows)

    @property
    def colours(self) -> int:
        """How many yarns it is knitted with."""
        return len({square.yarn for row in self.rows for square in row.squares if square.yarn >= 0})


def make_grid(knitted: Knitted, entries: Sequence[Entry], title: str) -> Grid:
    """A chart of some rows of one piece, in the order worked. No rows give a chart without squares."""
    rows = [e for e in entries if e.kind in {Kind.ROW, Kind.ROUND, Kind.BIND_OFF}]
    unread = tuple(dict.fromkeys(e.line for e in rows if e.unread or e.resumed))
    followed = follow(knitted, rows)
    columns = set_columns(followed, knitted.fabric.column_of_stitch.tolist())
    signs = _Signs(knitted)
    made = tuple(_row(row, signs) for row in followed)
    span = NOWHERE
    for row in made:
        span = span.cover(row.span)
    whole = Grid(
        title=title, columns=columns, rows=made, yarns=tuple(knitted.fabric.yarns), unread=unread, span=span,
        held=any(e.held or e.returned for e in rows),
    )  # fmt: skip
    return _trimmed(whole)


def _trimmed(grid: Grid) -> Grid:
    """Without the columns at the sides that only wait in every row, but for one where a turn may stand."""
    worked = [c for row in grid.rows for s in row.squares for c in (s.column, s.column + s.width)]
    if not worked:
        return grid
    left, right = max(0, min(worked) - 1), min(grid.columns, max(worked) + 1)
    if (left, right) == (0, grid.columns):
        return grid

    def row(r: GridRow) -> GridRow:
        return replace(
            r,
            squares=tuple(replace(s, column=s.column - left) for s in r.squares),
            waiting=tuple(c - left for c in r.waiting if left <= c < right),
            absent=tuple(c - left for c in r.absent if left <= c < right),
            markers=tuple(c - left for c in r.markers if left < c < right),
        )

    return replace(grid, columns=right - left, rows=tuple(map(row, grid.rows)))


class _Signs:
    """Signs of stitches, no two different ones under the same sign on the same side."""

    def __init__(self, knitted: Knitted) -> None:
        self.fabric = knitted.fabric
        self.name_of: dict[tuple[str, bool], str] = {}
        self.known: dict[tuple[str, bool, bool, bool, int, int], str] = {}

    def of(self, deed: Deed, *, from_right: bool) -> str:
        taken, made = len(deed.taken), len(deed.made)
        if taken == made > 1:  # it may cross, and only the fabric tells how
            return self._look(deed, from_right=from_right)
        key = (deed.name, deed.own, deed.closed, from_right, taken, made)
        if key not in self.known:
            self.known[key] = self._look(deed, from_right=from_right)
        return self.known[key]

    def _look(self, deed: Deed, *, from_right: bool) -> str:
        found = sign_of(deed, self.fabric, from_right=from_right)
        if found in _SHARED or found.startswith((LETTERS, "cross-")):
            return found
        name = self.name_of.setdefault((found, from_right), deed.name)
        return found if name == deed.name else LETTERS + letters(deed.name)


def _row(row: Followed, signs: _Signs) -> GridRow:
    entry = row.entry
    squares = tuple(_square(deed, signs, row) for deed in row.deeds if deed.made)
    waiting = {loop.column for loop in row.line if id(loop) in row.waiting}
    taken = {c for s in squares for c in range(s.column, s.column + s.width)}
    every = taken | waiting
    absent = set(range(min(every), max(every) + 1)) - every if every else set()
    return GridRow(
        order=entry.order,
        number=entry.number,
        label=entry.label,
        from_right=row.from_right,
        round=entry.kind is Kind.ROUND,
        squares=tuple(sorted(squares, key=lambda s: s.column)),
        waiting=tuple(sorted(waiting)),
        absent=tuple(sorted(absent)),
        start=entry.start,
        end=entry.end,
        turned=row.turned,
        markers=tuple(_markers(row)),
        span=entry.span,
        line=entry.line,
    )


def _markers(row: Followed) -> Iterator[int]:
    """Where markers lie between two loops of the needle after a whole row; they are told as the next row
    meets them.
    """
    entry, line = row.entry, row.line
    if row.waiting or row.turned or len(line) != entry.end:
        return
    back = entry.kind is not Kind.ROUND and row.from_right
    for marker in entry.markers:
        at = marker.after if back else len(line) - marker.after
        if 0 < at < len(line):
            yield line[at].column


def _square(deed: Deed, signs: _Signs, row: Followed) -> Square:
    places = [loop.column for loop in deed.made]
    return Square(
        column=min(places),
        width=max(places) - min(places) + 1,
        sign=signs.of(deed, from_right=row.from_right),
        name=deed.name,
        own=deed.own,
        yarn=deed.yarn,
        taken=len(deed.taken),
        made=0 if deed.closed else len(deed.made),
        pass_=deed.pass_,
        stitches=tuple(loop.stitch for loop in deed.made if loop.stitch >= 0),
        span=deed.span,
    )
