"""Numbers, lengths and places put into words.

In: nodes of the tree. Out: the words a designer would print: "88 (96, 104)", "10 cm", "to last 3 sts".
Steps and rows are left to ``words_steps`` and ``words_rows``.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.pattern.tree import PlaceKind

if TYPE_CHECKING:
    from purlwright.pattern.tree import Length, Number, Place

__all__ = [
    "count_of",
    "length_words",
    "many",
    "number_words",
    "ordinal_words",
    "place_words",
    "sts",
    "times_words",
]

_GLYPHS = {
    Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 3): "⅓", Fraction(2, 3): "⅔",
    Fraction(1, 8): "⅛", Fraction(3, 8): "⅜", Fraction(5, 8): "⅝", Fraction(7, 8): "⅞",
}  # fmt: skip


def _listed(values: list[str]) -> str:
    return values[0] if len(values) == 1 else f"{values[0]} ({', '.join(values[1:])})"


def number_words(n: Number) -> str:
    """Says "24", "88 (96, 104)"; "-" for a size that leaves it out; a named number keeps its name."""
    if n.words is not None:
        return "{" + n.words.strip("{} ") + "}"
    return _listed(["-" if v is None else str(v) for v in n.values])


def many(n: Number) -> bool:
    """Whether the number asks for a plural: more than one in any size."""
    return n.words is not None or any(v is None or v != 1 for v in n.values)


def sts(n: Number) -> str:
    """Says "1 st", "24 sts", "88 (96, 104) sts"."""
    return f"{number_words(n)} {'sts' if many(n) else 'st'}"


def count_of(n: Number, one: str, more: str) -> str:
    """Says "1 row", "4 rows"."""
    return f"{number_words(n)} {more if many(n) else one}"


def times_words(n: Number) -> str:
    """Says "once", "twice", "3 times", "3 (4, 5) times"."""
    if n.words is None and n.values in {(1,), (2,)}:
        return "once" if n.values[0] == 1 else "twice"
    return f"{number_words(n)} times"


def ordinal_words(n: int) -> str:
    """Says "1st", "2nd", "3rd", "11th"."""
    if n % 100 in {11, 12, 13}:
        return f"{n}th"
    return f"{n}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(n % 10, 'th') }"


def _amount(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    if rest in _GLYPHS:
        return f"{whole or ''}{_GLYPHS[rest]}"
    text = f"{float(value):.6f}".rstrip("0")
    return text if Fraction(text) == value else f"{whole} {rest}" if whole else str(rest)


def length_words(length: Length) -> str:
    """Says "10 cm", "4 (4½, 5) in", "desired length", "2 cm less than full length"."""
    if not length.values:
        return length.words or "desired length"
    values = ["-" if v is None else _amount(v) for v in length.values]
    words = f"{_listed(values)} {length.unit}"
    return f"{words} less than desired length" if length.less else words


def place_words(place: Place, *, lead: str = "to ") -> str:
    """Says "to end", "to last 3 sts", "to 2 sts before m", "to gap"."""
    before, past, kind = place.before, place.past, place.kind
    if kind is PlaceKind.END:
        return f"{lead}end" if before is None else f"{lead}last {sts(before)}"
    if kind is PlaceKind.NEEDLE_END and before is not None:
        return f"{lead}last {sts(before)} of needle"
    name = _place_name(place)
    if before is not None:
        return f"{lead}{sts(before)} before {name}"
    if past is not None:
        return f"{lead}{sts(past)} past {name}"
    return lead + name


def _place_name(place: Place) -> str:
    kind = place.kind
    if kind is PlaceKind.MARKER:
        if place.name:
            return f"marker {place.name}" if len(place.name) == 1 else f"{place.name} marker"
        return "m" if place.nth == 1 else f"{ordinal_words(place.nth)} m"
    return {
        PlaceKind.GAP: "gap",
        PlaceKind.WRAPPED: "wrapped st",
        PlaceKind.CENTRE: "centre st",
        PlaceKind.NEEDLE_END: "end of needle",
        PlaceKind.HALF: "half",
        PlaceKind.DECREASE: "previous dec",
        PlaceKind.SLIPPED: "end of slipped sts",
    }[kind]
