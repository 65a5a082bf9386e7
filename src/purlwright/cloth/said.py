"""What is said aloud beside figures: where each comes from.

In: nothing. Out: the values :class:`Basis` and :class:`Said`, which every room that tells a size or an amount
hands on. How they are printed is left to the rooms above.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from purlwright.text import Span

__all__ = ["Basis", "Said"]


class Basis(StrEnum):
    """Where a figure comes from."""

    STATED = "stated"
    """The pattern prints it."""
    ASSUMED = "assumed"
    """The pattern prints something near it, and it is taken to hold here too."""
    RULE_OF_THUMB = "rule of thumb"
    """A habit or a table of the trade, named beside it."""
    MISSING = "missing"
    """Nothing is known: proportions hold, lengths do not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One thing that is said aloud beside the figures: in a sentence, with its source where it has one."""

    basis: Basis
    words: str
    source: str = ""
    span: Span | None = None
