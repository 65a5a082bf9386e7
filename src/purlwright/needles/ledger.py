"""The ledger: what was worked, row by row, read off the needles.

In: nothing; ``knit`` fills it. Out: frozen entries, one a worked row, gathered by piece.
What the numbers should have been is left to ``proof``; how they look, to the rooms above.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from msgspec import Struct

from purlwright.pattern.tree import Side
from purlwright.text import NOWHERE, Span

__all__ = ["ROWS", "Copied", "Entry", "Gap", "Kind", "Ledger", "MarkAt", "Piece", "StatedCount"]


class Kind(StrEnum):
    """What sort of working an entry records. Only ``ROW`` and ``ROUND`` are rows."""

    CAST_ON = "cast-on"
    ROW = "row"
    ROUND = "round"
    BIND_OFF = "bind-off"
    PICK_UP = "pick-up"
    JOIN = "join"
    GRAFT = "graft"
    SEAM = "seam"


ROWS = frozenset({Kind.ROW, Kind.ROUND})
"""The kinds that are rows."""


@dataclass(frozen=True, slots=True)
class Gap:
    """A gap left by a turn: its place, in stitches from the right edge as seen on the right side."""

    from_right_rs: int
    turned_on: int


@dataclass(frozen=True, slots=True)
class MarkAt:
    """A marker on the needle.

    Its name ("" if none) and how many stitches lie before it, in working order of the next row.
    """

    name: str
    after: int


@dataclass(frozen=True, slots=True)
class Copied:
    """The words that a row copies: in "Rows 13-16: rep rows 7-10" row 13 copies "Row 7" of line 12."""

    label: str
    line: int


class StatedCount(Struct, frozen=True, gc=False):
    """A count printed with a row, and what was on the needle.

    ``used`` is true if knitting went on from it after unread words.
    """

    stated: int
    knitted: int
    span: Span
    kind: str = "total"
    used: bool = False
    approximate: bool = False


class Entry(Struct, frozen=True, kw_only=True, gc=False):
    """One worked row, round, cast-on, bind-off, pick-up or join.

    Always ``end == start + made - lost - held + returned``. ``start`` leaves holders out. ``worked`` counts
    loops taken off the left needle, slips included; ``unworked`` those left on it at the end (0 on the way
    back).
    ``span`` is the row's own words; ``line`` the line they stand on, from 1.
    """

    order: int
    kind: Kind
    label: str
    number: int | None = None
    section: str = ""
    pass_: int = 1
    side: Side | None = None
    start: int
    worked: int
    unworked: int = 0
    made: int = 0
    lost: int = 0
    held: int = 0
    returned: int = 0
    end: int
    gaps: tuple[Gap, ...] = ()
    markers: tuple[MarkAt, ...] = ()
    line: int = 0
    span: Span = NOWHERE
    copied: Copied | None = None
    stated: tuple[StatedCount, ...] = ()
    resumed: bool = False
    """True when the row could not be read or knitted and its end was taken from a printed count."""
    unread: bool = False
    first: str = ""
    """The first operation of the row, by dictionary key."""
    last: str = ""
    yarns: tuple[str, ...] = ()
    ridges_right: int = 0
    ridges_left: int = 0
    """Purl bumps at the right and left edge of the piece so far, as the right side shows them."""
    chains_right: int = 0
    chains_left: int = 0
    """Edge stitches slipped so far at the right and left edge of the piece."""
    stitches_so_far: int = 0
    """Stitches drawn so far in the whole pattern, this row included: what yarn amounts are reckoned from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece: from a cast-on (or pick-up, or held loops taken up again) until it is off the needles."""

    name: str
    rows: tuple[Entry, ...]
    bound_off: int = 0
    live: int = 0
    held: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """All pieces in order of work, for one size and one choice of options."""

    size: str
    options: tuple[tuple[str, str], ...] = ()
    pieces: tuple[Piece, ...] = ()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Every entry in the order worked."""
        return tuple(sorted((e for p in self.pieces for e in p.rows), key=lambda e: e.order))
