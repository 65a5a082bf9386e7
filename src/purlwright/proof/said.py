"""How numbers and names are said in an answer: counts with their noun, lists with "and", places looked at.

In: numbers and words. Out: words. Nothing of a page's width or colour is known here.
"""

from __future__ import annotations

from collections.abc import Sequence

from purlwright.findings import Verdict
from purlwright.proof.catalogue import CATALOGUE

__all__ = ["ONE_SIZE", "and_list", "count", "places_said", "sizes_said", "told_by"]

ONE_SIZE = "one size"
"""The name of the only size of a pattern that names none."""


def count(number: int, one: str, many: str = "") -> str:
    """``1 row``, ``1,014 rows``."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"


def and_list(words: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else ""


def sizes_said(sizes: Sequence[str]) -> str:
    """``one size``, ``size M``, ``sizes S, M and L``."""
    if tuple(sizes) == (ONE_SIZE,):
        return ONE_SIZE
    return f"{'size' if len(sizes) == 1 else 'sizes'} {and_list(sizes)}"


def places_said(verdict: Verdict) -> str:
    """``168 rows``, ``1 row``: at how many places a check looked."""
    noun = CATALOGUE[verdict.check].noun
    return f"{verdict.places:,} {noun}" if verdict.places != 1 else f"1 {_singular(noun)}"


def told_by(verdict: Verdict) -> str:
    """``told by total-differs``: whose findings tell why a check fails; "" if it has its own, or holds."""
    return f"told by {and_list(verdict.told_by)}" if verdict.told_by else ""


def _singular(noun: str) -> str:
    head, space, tail = noun.partition(" to ")
    one = head.removesuffix("es") if head.endswith(("sses", "tches")) else head.removesuffix("s")
    return one + space + tail
