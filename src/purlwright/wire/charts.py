"""The charts of a pattern, as they leave.

In: nothing; the room that writes makes them. Out: msgspec structs; field names and order are the contract.
"""

from __future__ import annotations

from msgspec import Struct

from purlwright.wire.sheets import SheetFileOut

__all__ = ["ChartKeyOut", "ChartOut", "ChartRepeatOut", "ChartRowOut", "ChartSquareOut", "ChartsOut"]


class ChartSquareOut(Struct, frozen=True, kw_only=True):
    """One sign. ``column`` counts from 1 at the left edge, ``width`` how many squares it fills."""

    column: int
    width: int
    sign: str
    stitch: str
    own: bool
    yarn: str | None
    line: int | None
    """The line of the words it was worked from, from 1."""


class ChartRowOut(Struct, frozen=True, kw_only=True):
    """One row, its squares from left to right as the right side shows them."""

    number: int | None
    label: str
    kind: str
    side: str
    start: int
    end: int
    squares: list[ChartSquareOut]
    no_stitch: list[int]
    """Columns in which there is no stitch, from 1."""
    not_reached: list[int]
    """Columns whose stitch a short row leaves, from 1."""
    turned: str | None
    words: str


class ChartRepeatOut(Struct, frozen=True, kw_only=True):
    """A frame: its first column from 1, its width, and how often it was knitted across, all alike."""

    column: int
    width: int
    times: int


class ChartKeyOut(Struct, frozen=True, kw_only=True):
    """One line of the key."""

    sign: str
    rs: str
    ws: str
    words: str


class ChartOut(Struct, frozen=True, kw_only=True):
    """One chart, rows from the bottom up."""

    title: str
    columns: int
    rows: list[ChartRowOut]
    repeats: list[ChartRepeatOut]
    key: list[ChartKeyOut]
    notes: list[str]
    files: list[SheetFileOut]


class ChartsOut(Struct, frozen=True, kw_only=True):
    """Answer of ``chart --json``."""

    title: str
    size: str
    options: dict[str, str]
    charts: list[ChartOut]
    errors: int
    """How many errors the pattern has in this size."""
    said: list[str]
    """What there is to know: rows that could not be drawn, sections that were left out."""
