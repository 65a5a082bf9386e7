"""Shaping in rows: so many stitches over so many rows, as evenly as whole numbers allow, or along a curve.

In: counts. Out: :class:`Rates`, which say after how many rows each shaping comes. Their words are in
``shaping_words``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, pairwise

from purlwright.sizing.lists import so_many
from purlwright.sizing.unknowns import NoPlan
from purlwright.units import half_up

__all__ = ["Compound", "Rate", "Rates", "along", "compound", "even_rates", "shaped_rows"]


@dataclass(frozen=True, slots=True)
class Rate:
    """On every so many-th row, so many times. ``stitches`` : at each edge, each time."""

    every: int
    times: int
    stitches: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """Shapings one after another; ``left`` rows stay plain at the end."""

    rates: tuple[Rate, ...]
    left: int

    @property
    def rows(self) -> int:
        """Rows that the shaping takes, without those left plain."""
        return sum(r.every * r.times for r in self.rates)

    @property
    def shapings(self) -> int:
        """How often something is shaped."""
        return sum(r.times for r in self.rates)


def even_rates(times: int, rows: int, step: int = 1) -> Rates:
    """``times`` shapings over ``rows`` rows, as evenly as whole numbers allow.

    step : 2 where only every other row may be shaped, so that all fall on one side of the work. The gaps
    are of two lengths at most, one step apart, the longer ones first; and fewer than ``step`` rows are
    left over, or no more than all would need to be one step longer. No gaps in whole steps can be more
    even. Raises NoPlan where there are more shapings than rows to work them on.
    """
    if times < 0 or rows < 0 or step < 1:
        raise NoPlan("Shapings, rows and the step between them are whole numbers, none below 0.")
    if not times:
        return Rates(rates=(), left=rows)
    steps = rows // step
    if steps < times:
        every = {1: "one in every row", 2: "one in every other row"}.get(step, f"one in every {step} rows")
        raise NoPlan(
            f"{so_many(times, 'shaping')} do not fit into {so_many(rows, 'row')} with {every}: "
            f"give {times * step} rows, shape "
            f"{'on every row' if step == 2 and rows >= times else 'more stitches at a time'}, or shape "
            f"{steps} times."
        )
    low, longer = divmod(steps, times)
    rates = [Rate((low + 1) * step, longer), Rate(low * step, times - longer)]
    return Rates(rates=tuple(r for r in rates if r.times), left=rows - steps * step)


def along(line: Sequence[Fraction], step: int = 1, most: int = 1) -> Rates:
    """Shapings that follow a curve: after each shaped row no more than half a stitch off it, if that can be.

    line : after each row, how many stitches should be shaped at this edge; it never falls. most : stitches
    that one row may shape. Where a row would have to shape more, the rest is made up on the next rows that
    can.
    """
    if any(b < a for a, b in pairwise(line)):
        raise NoPlan("A shaping line that turns back has to be planned in two parts.")
    done, last = 0, 0
    found: list[Rate] = []
    for row in range(step, len(line) + 1, step):
        want = int(half_up(line[row - 1], Fraction(1))) - done
        now = min(want, most)
        if now > 0:
            found.append(Rate(row - last, 1, now))
            done, last = done + now, row
    whole = int(half_up(line[-1], Fraction(1))) if line else 0
    if done < whole:
        raise NoPlan(
            f"The line is too steep: {whole - done} of {whole} stitches are left when the {len(line)} "
            f"rows are done."
        )
    return Rates(rates=_gathered(found), left=len(line) - last)


def _gathered(rates: Sequence[Rate]) -> tuple[Rate, ...]:
    return tuple(
        Rate(every, sum(r.times for r in alike), stitches)
        for (every, stitches), alike in groupby(rates, key=lambda r: (r.every, r.stitches))
    )


def shaped_rows(rates: Rates) -> list[int]:
    """The rows that are shaped, counted from 1."""
    out, row = [], 0
    for rate in rates.rates:
        for _ in range(rate.times):
            row += rate.every
            out.append(row)
    return out


@dataclass(frozen=True, slots=True, kw_only=True)
class Compound:
    """Two shapings over the same rounds, as of a raglan: rounds in which both, or one alone, are shaped.

    runs : (rounds, first, second, times): a group of so many rounds of which the first shapes what is
    True, the others are plain; so many times.
    """

    runs: tuple[tuple[int, bool, bool, int], ...]
    left: int


def compound(first: int, second: int, rounds: int) -> Compound:
    """The rounds of a raglan on which body (``first``) and sleeves (``second``) are shaped.

    Shapings of the one with fewer always fall on shapings of the other, as the lines run up side by side.
    Raises NoPlan as :func:`even_rates`.
    """
    many, few = max(first, second), min(first, second)
    outer = even_rates(many, rounds)
    inner = set()
    if few:
        inner = {
            int(half_up(Fraction((2 * k + 1) * many, 2 * few) - Fraction(1, 2), Fraction(1)))
            for k in range(few)
        }
    gaps = [r.every for r in outer.rates for _ in range(r.times)]
    marks = [(gap, True if first >= second else n in inner, True if second > first else n in inner)
             for n, gap in enumerate(gaps)]  # fmt: skip
    if first == second:
        marks = [(gap, True, True) for gap in gaps]
    runs = tuple((*mark, len(list(alike))) for mark, alike in groupby(marks))
    return Compound(runs=runs, left=outer.left)
