"""Where she is and what went wrong, as they leave.

In: answers of the desk. Out: msgspec structs; field names and order are the contract.
"""

from __future__ import annotations

from msgspec import Struct

__all__ = ["AskOut", "CureOut", "DiagnosisOut", "FoundOut", "LeavesOut", "RescueOut", "WhereOut"]


class FoundOut(Struct, frozen=True, kw_only=True):
    """A row."""

    piece: str
    """The piece, "" for the only one."""
    row: int
    """Which row of its piece, counted from the cast-on."""
    name: str
    number: str
    """Its name, and its number in words."""
    side: str | None
    """The side that faces as the next row begins."""
    stitches: int
    worked: int | None
    """In mid-row, the stitches on the right needle; else null."""
    next: str
    """What the next row is called; "" after the last."""
    next_words: str
    line: int
    """The words of the next row, and the line on which they stand; 0 for none."""


class AskOut(Struct, frozen=True, kw_only=True):
    """The next thing to look at."""

    fact: str
    asks: str
    how: str
    words: list[str]
    """The answers to choose from; none where the answer is a number."""


class LeavesOut(Struct, frozen=True, kw_only=True):
    """What an answer to the next question would leave."""

    answer: str
    rows: list[int]


class WhereOut(Struct, frozen=True, kw_only=True):
    """Answer of ``where --json``. ``rows`` are exactly those that all the facts allow."""

    title: str
    size: str
    options: dict[str, str]
    facts: dict[str, str]
    rows: list[FoundOut]
    near: list[FoundOut]
    """Rows that would fit if the count were out by one or two; only where none fits."""
    clash: str | None
    """Why none fits: the facts that cannot all be true."""
    next: AskOut | None
    leaves: list[LeavesOut]
    errors: int


class CureOut(Struct, frozen=True, kw_only=True):
    """One cure: ``grade`` is quick, tidy or perfect."""

    grade: str
    what: str
    shows: str
    """What will be seen of it."""
    cost: int
    """Stitches to undo and work again, or for a ladder its rows times how hard they are."""
    stitches: int
    row: int
    name: str
    """The count she will then have, and the row then done."""


class DiagnosisOut(Struct, frozen=True, kw_only=True):
    """One thing that may have happened."""

    code: str
    name: str
    did: str
    likely: float
    how_sure: str
    now: FoundOut | None
    """The row she has just finished; null before the first."""
    made_in: FoundOut | None
    """The row of the mistake; null where there was none, and of two, which are told with their rows."""
    reasons: list[str]
    against: list[str]
    alike: list[str]
    """Other mistakes that would show the very same."""
    cures: list[CureOut]


class RescueOut(Struct, frozen=True, kw_only=True):
    """Answer of ``rescue --json``, the likeliest first."""

    title: str
    size: str
    options: dict[str, str]
    facts: dict[str, str]
    notes: list[str]
    found: list[DiagnosisOut]
    clear: bool
    """Whether nothing more need be asked."""
    clash: str | None
    next: AskOut | None
    errors: int
