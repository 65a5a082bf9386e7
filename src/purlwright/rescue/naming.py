"""What to call a row to someone who has to find it.

In: what is seen of a row, and its piece. Out: its name in words: its label, its part, which working of it
this is, and its number from the cast-on. A row without a label is told by its number alone.
"""

from __future__ import annotations

from purlwright.needles.ledger import Kind
from purlwright.needles.looks import RowLook
from purlwright.pattern.words_numbers import ordinal_words

__all__ = ["NamedRow", "name_of", "row_number", "stitches", "word_of"]

NamedRow = tuple[str, str]
"""A row's name, and where to find it: "Row 5 of Wings, the 3rd time", "row 41 from the cast-on"."""


def stitches(n: int) -> str:
    """So many stitches: "1 stitch", "4 stitches"."""
    return f"{n} stitch" if n == 1 else f"{n} stitches"


def word_of(look: RowLook) -> str:
    """Say "round" or "row"."""
    return "round" if look.entry.kind is Kind.ROUND else "row"


def row_number(look: RowLook) -> int:
    """Which row of its piece it is, from 1."""
    return look.index + 1


def name_of(look: RowLook, piece: str) -> NamedRow:
    """Name a row."""
    e = look.entry
    label = e.label[:1].upper() + e.label[1:] if e.label else ""
    part = e.section or piece or "the piece"
    start = "from the cast-on" if not piece or part == piece else f"from the beginning of {piece}"
    number = f"{word_of(look)} {row_number(look)} {start}"
    if not label:
        return f"A {word_of(look)} of {part}", number
    time = f", the {ordinal_words(e.pass_)} time" if e.pass_ > 1 else ""
    return f"{label} of {part}{time}", number
