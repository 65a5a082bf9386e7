"""Numbers of all sizes in the trade's form: ``88 (96, 104, 112)``.

In: one number a size. Out: words. One number stands alone where all sizes have the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

__all__ = ["and_list", "growing", "of_sizes", "ordinal", "so_many", "times"]


def of_sizes(values: Sequence[int | float | Fraction | str], *, always: bool = False) -> str:
    """``88 (96, 104)``; ``88`` where all are alike, unless ``always``."""
    words = [v if isinstance(v, str) else f"{float(v):g}" for v in values]
    if len(words) == 1 or (len(set(words)) == 1 and not always):
        return words[0]
    return f"{words[0]} ({', '.join(words[1:])})"


def and_list(words: Sequence[str]) -> str:
    """``a, b and c``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def ordinal(n: int) -> str:
    """``2nd``, ``3rd``, ``11th``."""
    if n % 100 in {11, 12, 13}:
        return f"{n}th"
    return f"{n}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(n % 10, 'th') }"


def so_many(n: int, what: str) -> str:
    """``1 st``, ``4 sts``."""
    return f"{n} {what}" if n == 1 else f"{n} {what}s"


def times(n: int) -> str:
    """``once``, ``twice``, ``5 times``."""
    return {1: "once", 2: "twice"}.get(n, f"{n} times")


def growing(choices: Sequence[Sequence[int]], wanted: Sequence[Fraction | int]) -> list[int]:
    """One number of each size's choices, as near to what is wanted as goes without a step back.

    Worked from size to size: for each number that the last size may have, the cheapest way to it.
    """
    ways: dict[int, tuple[Fraction, list[int]]] = {}
    for may, want in zip(choices, wanted, strict=True):
        new: dict[int, tuple[Fraction, list[int]]] = {}
        for value in may:
            before = [
                (price + (1000 if last > value else 0), way) for last, (price, way) in ways.items()
            ] or [(Fraction(0), [])]
            price, way = min(before, key=lambda one: one[0])
            new[value] = (price + abs(value - Fraction(want)), [*way, value])
        ways = new
    return min(ways.values(), key=lambda one: one[0])[1] if ways else []
