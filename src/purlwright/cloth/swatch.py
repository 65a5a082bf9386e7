"""Arithmetic of gauges: stitches to lengths and back, one gauge to another, a swatch to a gauge.

In: counts and lengths as exact fractions. Out: frozen values, each with its least and its most where a
measure can be off. Nothing is read from words here, and nothing is rounded but to whole stitches and rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import pi

from purlwright.units import half_up

__all__ = [
    "Counted",
    "Measured",
    "Multiple",
    "Ranged",
    "count_in",
    "flat_disc",
    "length_of",
    "of_printed",
    "of_swatch",
    "pick_up_rate",
]

_TEN_CM = Fraction(100)


@dataclass(frozen=True, slots=True)
class Ranged:
    """A figure with its least and its most."""

    value: Fraction
    least: Fraction
    most: Fraction

    def over(self, other: Fraction) -> Ranged:
        """``other`` divided by it: what has the most of one has the least of the other."""
        return Ranged(other / self.value, other / self.most, other / self.least)

    def times(self, other: Fraction) -> Ranged:
        """So many times as much."""
        return Ranged(self.value * other, self.least * other, self.most * other)


@dataclass(frozen=True, slots=True)
class Measured:
    """So many stitches, or rows, were measured to be so long, in mm."""

    count: Fraction
    mm: Fraction


@dataclass(frozen=True, slots=True)
class Multiple:
    """A stitch pattern's multiple: ``of`` stitches, and ``plus`` once."""

    of: int = 1
    plus: int = 0

    def below(self, count: Fraction) -> int:
        """The greatest number of stitches that is not more than ``count``; one repeat at least."""
        least = self.of + self.plus
        return max(least, int((count - self.plus) // self.of) * self.of + self.plus)

    def nearest(self, count: Fraction) -> int:
        """The number of stitches nearest to ``count``; halfway goes up."""
        low = self.below(count)
        return low if count - low < low + self.of - count else low + self.of


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """So many stitches or rows for a length, and the next that would do on its other side."""

    exact: Ranged
    nearest: int
    other: int | None
    """The multiple on the other side of the exact number; None if the nearest is just it."""


def of_printed(count: Fraction, over_mm: Fraction) -> Ranged:
    """A printed gauge to 10 cm: it may be off by half the step it is printed to.

    A whole number over 5 cm or more is counted to a stitch, any other to half a stitch. Raises ValueError
    unless both are above 0. Source: arithmetic of rounding, own.
    """
    if count <= 0 or over_mm <= 0:
        raise ValueError(f"a gauge counts something over some length, not {count} over {over_mm} mm")
    step = Fraction(1) if count.denominator == 1 and over_mm >= 50 else Fraction(1, 2)
    off = min(step / 2, count / 2)
    per = _TEN_CM / over_mm
    return Ranged(count * per, (count - off) * per, (count + off) * per)


def of_swatch(measured: Sequence[Measured], off_mm: Fraction) -> Ranged:
    """The gauge to 10 cm of a swatch measured at one place or several, each to ``off_mm`` either way.

    The places are taken together; the range also holds every single one of them. Raises ValueError for no
    place, or where the measure is no longer than it may be off.
    """
    if not measured:
        raise ValueError("a swatch is measured at one place at least")
    if any(m.count <= 0 or m.mm <= off_mm for m in measured):
        raise ValueError("a measure is longer than it may be off")
    count, mm = sum(m.count for m in measured), sum(m.mm for m in measured)
    value = _TEN_CM * count / Fraction(mm)
    singly = [_TEN_CM * m.count / m.mm for m in measured]
    many = len(measured)
    return Ranged(
        value,
        min(_TEN_CM * count / (mm + many * off_mm), *singly, value),
        max(_TEN_CM * count / (mm - many * off_mm), *singly, value),
    )


def length_of(count: int, gauge: Ranged, edge: int = 0) -> Ranged:
    """How long so many stitches or rows are, in mm; ``edge`` of them go into seams."""
    return gauge.over(_TEN_CM * max(count - edge, 0))


def count_in(mm: Fraction, gauge: Ranged, multiple: Multiple | None = None, edge: int = 0) -> Counted:
    """How many stitches or rows make a length, in whole multiples, with ``edge`` more for seams.

    The multiple is of all stitches together, those of the seams too.
    """
    multiple = multiple or Multiple()
    exact = gauge.times(mm / _TEN_CM)
    exact = Ranged(exact.value + edge, exact.least + edge, exact.most + edge)
    nearest = multiple.nearest(exact.value)
    other = None
    if nearest != exact.value and multiple.of > 1:
        other = nearest + multiple.of if nearest < exact.value else nearest - multiple.of
        if other < multiple.of + multiple.plus:
            other = nearest + multiple.of
    return Counted(exact=exact, nearest=nearest, other=other)


def pick_up_rate(stitches: Fraction, rows: Fraction, most_rows: int = 7) -> tuple[int, int]:
    """Along row ends: so many stitches for so many rows, in numbers that can be kept in the head.

    Source: stitch gauge over row gauge, as five articles on picking up have it (2 of 3, 3 of 4, 5 of 7).
    """
    rate = (stitches / rows).limit_denominator(most_rows)
    return (rate.numerator, rate.denominator) if rate else (1, most_rows)


def flat_disc(stitches: Fraction, rows: Fraction) -> float:
    """Stitches by which each round of a flat circle grows: it is 2 pi longer for each row of its radius.

    Source: geometry; derived in two craft articles.
    """
    return 2 * pi * float(stitches / rows)


def whole(value: Fraction) -> int:
    """The nearest whole number; halfway goes up."""
    return int(half_up(value, Fraction(1)))
