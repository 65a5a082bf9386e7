"""What the bench is told by one who is lost, and what it answers.

In: nothing; ``bench`` fills it. Out: msgspec structs whose field names are the contract with the page; the
answers themselves are those of ``where --json`` and ``rescue --json``.
"""

from __future__ import annotations

from msgspec import Struct

from purlwright.wire.rescue import RescueOut, WhereOut

__all__ = ["LostIn", "LostOut", "SaidIn", "WhereLostOut"]


class SaidIn(Struct, frozen=True, kw_only=True):
    """An answer to a question: the question's ``fact``, and what she says; "?" if she does not know."""

    fact: str
    said: str


class LostIn(Struct, frozen=True, kw_only=True):
    """Her pattern and everything she has answered so far, in order."""

    path: str = ""
    version: int = 0
    text: str
    size: str | None = None
    options: dict[str, str] = {}
    piece: str | None = None
    """Which piece she knits; null while she has not said."""
    answers: list[SaidIn] = []


class LostOut(Struct, frozen=True, kw_only=True):
    """What most likely went wrong, and the next question. ``pieces`` to choose from, where there are
    several.
    """

    version: int
    pieces: list[str]
    found: RescueOut


class WhereLostOut(Struct, frozen=True, kw_only=True):
    """The rows that all she says allows, and the next question."""

    version: int
    pieces: list[str]
    found: WhereOut
