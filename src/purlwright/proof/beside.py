"""A stated measure beside what the knitting gives, size by size.

In: nothing. Out: the frozen :class:`Beside`, which ``widths`` and ``lengths`` fill in.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fractions import Fraction

    from purlwright.text import Span

__all__ = ["Beside", "InSize", "shared_words"]


def shared_words(measure: str, headings: Iterable[str]) -> int:
    """How many words of some headings stand in the words of a measure too."""
    said = set(re.findall(r"[a-z]{3,}", measure.lower()))
    return len(said & {word for heading in headings for word in re.findall(r"[a-z]{3,}", heading.lower())})


@dataclass(frozen=True, slots=True, kw_only=True)
class InSize:
    """One size: stated, and knitted at the gauge, in cm; None where it is not known what makes it."""

    size: str
    stated_cm: Fraction
    ours_cm: Fraction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """One stated measure. ``words`` is the clause it stands in, ``made_of`` what gives it: "88 sts of Body".

    Which stitches or rows a measure is of is seldom said: of those that come near it in every size, those are
    taken whose heading shares a word with it, and else the nearest.
    """

    words: str
    span: Span
    line: int
    made_of: str
    sizes: tuple[InSize, ...]
