"""Numbers of all sizes in the trade's form: ``88 (96, 104, 112)``.

In: one number a size. Out: words. One number stands alone where all sizes have the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

__all__ = ["and_list", "of_sizes", "ordinal", "times"]


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


def times(n: int) -> str:
    """``once``, ``twice``, ``5 times``."""
    return {1: "once", 2: "twice"}.get(n, f"{n} times")
