"""Short rows: shoulders in steps, heels turned on short rows, wedges.

In: counts. Out: frozen values with the stitches left at each turn, and their words.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from purlwright.sizing.lists import times
from purlwright.sizing.unknowns import NoPlan

__all__ = ["Heel", "Slope", "heel", "slope"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """A slope turned on short rows: stitches left unworked more at each turn; the last step has no turn."""

    steps: tuple[int, ...]
    words: str


def slope(stitches: int, rows: int) -> Slope:
    """A shoulder of so many stitches that rises by so many rows, two rows a step.

    Steps differ by one stitch at most, the wider ones first, at the outer edge. Raises NoPlan where it
    cannot be.
    """
    many = rows // 2
    if rows % 2 or many < 2:
        raise NoPlan(f"A slope on short rows rises by an even number of rows, 4 at least, not {rows}.")
    if many > stitches:
        raise NoPlan(f"{stitches} sts cannot be turned {many} times; {stitches * 2} rows are the most.")
    low, wide = divmod(stitches, many)
    steps = [low + 1] * wide + [low] * (many - wide)
    said = []
    for n, (step, alike) in enumerate(groupby(steps[:-1])):
        count = len(list(alike))
        where = "the end" if not n else "the last turn"
        if not n:
            said.append(f"turn {step} sts before the end of the row")
            if count > 1:
                said.append(f"then {step} sts before the last turn, {times(count - 1)}")
        else:
            said.append(f"then {step} sts before {where}, {times(count)}")
    return Slope(
        steps=tuple(steps), words=f"{'; '.join(said)}; then work across all {stitches} sts.".capitalize()
    )


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
