"""Lengths as a knitter measures and prints them.

In: millimetres. Out: words with a unit, rounded as a ruler shows: half a centimetre, a quarter of an inch. By
the rule of the trade 4 inches are 10 cm: an inch is told as 25 mm, and sizes in both units stay in step.
Source: Craft Yarn Council, Standard Yarn Weight System (gauge over 4 in, 10 cm). The steps of a ruler are
common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import floor
from types import MappingProxyType
from typing import Literal, TypeAlias

__all__ = ["MM", "ROUNDING", "Units", "half_up", "length_words", "lengths_words"]

Units: TypeAlias = Literal["metric", "imperial", "both"]

MM = MappingProxyType({"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(25)})
"""Millimetres in each unit, by the rule of the trade."""
ROUNDING = "Lengths are rounded to half a centimetre or a quarter of an inch; 4 inches are taken as 10 cm."
"""What a page that prints such lengths says of them."""
_UNITS: Mapping[Units, tuple[Literal["cm", "in"], ...]] = MappingProxyType(
    {"metric": ("cm",), "imperial": ("in",), "both": ("cm", "in")}
)
_QUARTERS = ("", "¼", "½", "¾")


def half_up(value: float | Fraction, step: Fraction) -> Fraction:
    """The multiple of ``step`` nearest to ``value``; halfway goes up. Raises ValueError for a step of 0."""
    if step <= 0:
        raise ValueError(f"a step is above 0, not {step}")
    return floor(Fraction(value) / step + Fraction(1, 2)) * step


def length_words(mm: float, unit: Literal["cm", "in"]) -> str:
    """A length without its unit: ``46.5`` cm, ``18¼`` in. What is not nothing is never told as 0."""
    step = Fraction(1, 2) if unit == "cm" else Fraction(1, 4)
    value = half_up(Fraction(mm) / MM[unit], step)
    if value == 0 and mm > 0:
        value = step
    if unit == "cm":
        return f"{float(value):g}"
    whole, part = divmod(value, 1)
    return f"{whole or '' if part else whole}{_QUARTERS[int(part * 4)]}"


def lengths_words(mm: Sequence[float], units: Units) -> str:
    """One length a size: ``46.5 (50, 56.5) cm``; one number if all are alike; both units side by side."""
    chosen = _UNITS[units]
    return " / ".join(f"{_list([length_words(v, unit) for v in mm])} {unit}" for unit in chosen)


def _list(words: Sequence[str]) -> str:
    if len(set(words)) == 1:
        return words[0]
    return f"{words[0]} ({', '.join(words[1:])})"
