"""The clues of a pattern, as they leave.

In: what the lesson room has read. Out: msgspec structs; field names and order are the contract.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:
    from purlwright.lesson.choose import Told
    from purlwright.lesson.reading import PartClues

__all__ = ["ClueOut", "CluePartOut", "CluesOut", "clues_out"]


class ClueOut(Struct, frozen=True, kw_only=True):
    """One true thing, with the rows it is true of."""

    kind: str
    words: str
    rows: str
    stops: str | None
    """Where in the part it does not hold; null if it holds from the first row to the last."""
    orders: list[int]
    """``order`` of the rows it speaks of, as in the ledger."""
    tells_row: bool
    touch: bool
    every_size: bool
    seconds: float
    strength: float
    faked_by: list[str]
    chosen: bool


class CluePartOut(Struct, frozen=True, kw_only=True):
    """The rows under one heading, and what can be read off them."""

    name: str
    piece: str
    row_count: int
    clues: list[ClueOut]
    missing: str | None


class CluesOut(Struct, frozen=True, kw_only=True):
    """Answer of ``clues --json``."""

    title: str
    size: str
    options: dict[str, str]
    parts: list[CluePartOut]
    errors: int


def clues_out(
    title: str,
    size: str,
    options: Mapping[str, str],
    parts: Sequence[PartClues],
    errors: int,
    *,
    every: bool = False,
) -> CluesOut:
    """The chosen clues of each part, or every one."""
    return CluesOut(
        title=title,
        size=size,
        options=dict(options),
        parts=[
            CluePartOut(
                name=p.name,
                piece=p.part.piece,
                row_count=len(p.part.rows),
                clues=[_clue(t) for t in p.told if t.chosen or every],
                missing=p.missing or None,
            )
            for p in parts
        ],
        errors=errors,
    )


def _clue(told: Told) -> ClueOut:
    clue = told.clue
    return ClueOut(
        kind=clue.kind,
        words=clue.words,
        rows=clue.rows,
        stops=clue.stops or None,
        orders=sorted({order for claim in clue.claims for order in claim.orders}),
        tells_row=clue.tells_row,
        touch=clue.touch,
        every_size=told.every_size,
        seconds=round(clue.seconds, 1),
        strength=round(told.strength, 3),
        faked_by=list(told.faked),
        chosen=told.chosen,
    )
