"""Shaping as the trade words it: "every 6th row 5 times, then every 4th row 3 times".

In: rates, groups and counts. Out: words that Purlwright itself reads and knits.
"""

from __future__ import annotations

from collections.abc import Sequence

from purlwright.sizing.lists import ordinal, times
from purlwright.sizing.shaping import Rate, Rates

__all__ = ["rate_words", "rates_words"]


def rate_words(rate: Rate, kind: str = "row") -> str:
    """One rate: "every 6th row 5 times", "on the next row"."""
    if rate.times == 1:
        return f"the next {kind}" if rate.every == 1 else f"the following {ordinal(rate.every)} {kind}"
    every = {1: f"every {kind}", 2: f"every other {kind}"}.get(
        rate.every, f"every {ordinal(rate.every)} {kind}"
    )
    return f"{every} {times(rate.times)}"


def rates_words(rates: Rates, what: str = "dec 1 st at each end", kind: str = "row") -> str:
    """A whole shaping: "Dec 1 st at each end of every 6th row 5 times, then every 4th row 3 times"."""
    if not rates.rates:
        return f"Work {rates.left} {kind}s even."
    parts: Sequence[str] = [rate_words(r, kind) for r in rates.rates]
    said = f"{what[0].upper()}{what[1:]} of {', then of '.join(parts)}"
    if any(r.stitches != 1 for r in rates.rates):
        counted = [
            f"{r.stitches} st{'s' if r.stitches > 1 else ''} on {w}"
            for r, w in zip(rates.rates, parts, strict=True)
        ]
        said = f"{what[0].upper()}{what[1:]}: {', then '.join(counted)}"
    end = f"; then work {rates.left} {kind}{'s' if rates.left > 1 else ''} even" if rates.left else ""
    return f"{said}{end}."
