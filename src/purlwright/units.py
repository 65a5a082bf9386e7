"""Lengths as a knitter measures and prints them.

In: millimetres. Out: words with a unit, rounded as a ruler shows: half a centimetre, a quarter of an inch, an
eighth below one inch. A length is by the ruler, 25.4 mm to the inch. Only a gauge is by the trade's rule, in
which 4 inches stand for 10 cm: the same stitches are counted over either.
Sources: the inch of 25.4 mm, ISO 31-1:1992 annex A (an international agreement of 1959); Craft Yarn Council,
Standard Yarn Weight System (gauge over 4 in, 10 cm). The steps of a ruler are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import floor
from types import MappingProxyType
from typing import Literal, TypeAlias

__all__ = ["BY_GAUGE", "MM", "ROUNDING", "Units", "half_up", "length_words", "lengths_words", "ruler_words"]

Units: TypeAlias = Literal["metric", "imperial", "both"]

MM = MappingProxyType({"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(254, 10)})
"""Millimetres in each unit, by the ruler."""
BY_GAUGE = MappingProxyType({**MM, "in": Fraction(25), "m": Fraction(1000), "yd": Fraction(9144, 10)})
"""Millimetres in each unit where a length is told by a gauge: 4 inches are 10 cm, and rows stay rows."""
ROUNDING = "Lengths are rounded to half a centimetre or a quarter of an inch."
"""What a page that prints such lengths says of them."""
_UNITS: Mapping[Units, tuple[Literal["cm", "in"], ...]] = MappingProxyType(
    {"metric": ("cm",), "imperial": ("in",), "both": ("cm", "in")}
)
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")


def half_up(value: float | Fraction, step: Fraction) -> Fraction:
    """The multiple of ``step`` nearest to ``value``; halfway goes up. Raises ValueError for a step of 0."""
    if step <= 0:
        raise ValueError(f"a step is above 0, not {step}")
    return floor(Fraction(value) / step + Fraction(1, 2)) * step


def length_words(mm: float | Fraction, unit: Literal["cm", "in"]) -> str:
    """A length without its unit: ``46.5`` cm, ``18¼`` in. What is not nothing is never told as 0."""
    value = Fraction(mm) / MM[unit]
    if unit == "cm":
        return f"{float(_on_ruler(value, Fraction(1, 2))):g}"
    return ruler_words(value, Fraction(1, 8) if value < 1 else Fraction(1, 4))


def ruler_words(value: Fraction, step: Fraction) -> str:
    """The mark of a ruler nearest to a value, the rest in eighths: ``18¼``."""
    whole, part = divmod(_on_ruler(value, step), 1)
    return f"{whole or '' if part else whole}{_EIGHTHS[int(part * 8)]}"


def _on_ruler(value: Fraction, step: Fraction) -> Fraction:
    """The nearest mark; the first one for what is not nothing."""
    return half_up(value, step) or (step if value > 0 else Fraction(0))


def lengths_words(mm: Sequence[float], units: Units) -> str:
    """One length a size: ``46.5 (50, 56.5) cm``; one number if all are alike; both units side by side."""
    chosen = _UNITS[units]
    return " / ".join(f"{_list([length_words(v, unit) for v in mm])} {unit}" for unit in chosen)


def _list(words: Sequence[str]) -> str:
    if len(set(words)) == 1:
        return words[0]
    return f"{words[0]} ({', '.join(words[1:])})"
