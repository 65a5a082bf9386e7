"""Short rows: shoulders in steps, heels turned on short rows, wedges.

In: counts. Out: frozen values with the stitches left at each turn, and their words.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from purlwright.sizing.lists import so_many
from purlwright.sizing.unknowns import NoPlan

__all__ = ["Heel", "Slope", "bound_off", "heel", "slope", "slope_rows"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """A slope turned on short rows: stitches left unworked more at each turn; the last step has no turn."""

    steps: tuple[int, ...]


def slope(stitches: int, rows: int) -> Slope:
    """A shoulder of so many stitches that rises by so many rows, two rows a step.

    Steps differ by one stitch at most, the wider ones first, at the outer edge. Raises NoPlan where it
    cannot be.
    """
    many = rows // 2
    if rows % 2 or many < 2:
        raise NoPlan(f"A slope on short rows rises by an even number of rows, 4 at least, not {rows}.")
    if many > stitches:
        raise NoPlan(
            f"{so_many(stitches, 'st')} cannot be turned {many} times; {stitches * 2} rows are the most."
        )
    low, wide = divmod(stitches, many)
    steps = [low + 1] * wide + [low] * (many - wide)
    return Slope(steps=tuple(steps))


def slope_rows(found: Slope) -> list[str]:
    """The rows of one shoulder that is turned, the outer edge at the end of its right-side rows."""
    total = sum(found.steps)
    out = [f"Row 1 (RS): Knit to last {found.steps[0]} sts, w&t.", "Row 2 (WS): Purl to end."]
    row = 3
    for step in found.steps[1:-1]:
        out += [f"Row {row}: Knit to {step} sts before gap, w&t.", f"Row {row + 1}: Purl to end."]
        row += 2
    out.append(f"Row {row}: Knit to end, working each wrap together with its st. ({total} sts)")
    out.append(f"Row {row + 1}: Purl to end.")
    return out


def bound_off(found: Slope) -> list[str]:
    """Both shoulders of a back bound off in the same steps, the neck left between them."""
    out = []
    for step, alike in groupby(found.steps):
        many = 2 * len(list(alike))
        out.append(f"Bind off {step} st{'s' if step > 1 else ''} at the beginning of the next {many} rows.")
    return out


@dataclass(frozen=True, slots=True, kw_only=True)
class Heel:
    """A heel on short rows: ``stitches`` of the round, ``middle`` never wrapped, ``side`` wrapped on both
    sides.
    """

    round: int
    stitches: int
    side: int
    middle: int
    words: str


def heel(around: int) -> Heel:
    """A short-row heel over half the round, about a third of it left unwrapped in the middle.

    Source: the middle third, a sock article in a yarn magazine and a designer's table of 48 to 88 stitches
    (0.28 to 0.34 of the heel), both read as excerpts in November 2026. Raises NoPlan for fewer than 12
    stitches or an odd number.
    """
    if around < 12 or around % 2:
        raise NoPlan(f"A sock of {around} sts cannot be halved for a heel; take an even number, 12 at least.")
    half = around // 2
    side = (half + 1) // 3
    middle = half - 2 * side
    return Heel(
        round=around, stitches=half, side=side, middle=middle,
        words=f"Work the heel over {half} sts: wrap {side} on each side, and leave {middle} in the middle.",
    )  # fmt: skip
