"""Swatch lines: a swatch that was weighed, "15 x 15 cm weighs 6 g", "30 sts and 42 rows weigh 6 g".

In: the value of a Swatch line. Out: a frozen :class:`WeighedSwatch`, amounts as exact fractions. What follows
for the yarn of the pattern is left to the rooms above.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.pattern.gauge import read_length
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.tree import Length

__all__ = ["WeighedSwatch", "read_swatch"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighedSwatch:
    """A swatch by its size or its counts, its weight in grams, its ground and its yarn ("" if not named)."""

    words: str
    span: Span
    grams: Fraction
    width: Length | None = None
    height: Length | None = None
    stitches: Fraction | None = None
    rows: Fraction | None = None
    ground: str = ""
    yarn: str = ""


_N = r"\d{1,5}(?:\.\d{1,2})?"
_UNIT = r"cms?|centimet(?:re|er)s?|mm|inch(?:es)?|ins?\b|[\"”″]"
_SIZE = re.compile(
    rf"(?P<w>{_N})\s*(?P<wu>{_UNIT})?\s*(?:x|×|by)\s*(?P<h>{_N})\s*(?P<hu>{_UNIT})", re.IGNORECASE
)
_COUNTS = re.compile(
    rf"(?P<s>{_N})\s*(?:sts?|stitches)\b\s*(?:x|×|by|and|,|&)?\s*(?P<r>{_N})\s*(?:rows?|rnds?|rounds?)\b",
    re.IGNORECASE,
)
_WEIGHT = re.compile(rf"(?P<n>{_N})\s*(?P<unit>g\b|gr\b|grams?\b|grammes?\b|oz\b|ounces?\b)", re.IGNORECASE)
_GROUND = re.compile(
    r"(?<!\d )\bin\s+(?P<ground>[A-Za-z][^,;.()]*?)(?=\s*(?:[,;.()]|$|\b(?:weigh|after|before)))",
    re.IGNORECASE,
)
_YARN = re.compile(r"^\s*(?P<name>MC|CC\s?\d?|[A-Z]\d?)\s*[,:]|\bin (?P<of>MC|CC\d?|[A-H])\b")


def read_swatch(value: str, at: int) -> WeighedSwatch | None:
    """(YARN ",")? (LENGTH "x" LENGTH | N "sts" "and" N "rows") ("in" GROUND)? "weighs" N "g".

    "15 x 15 cm weighs 6 g", "MC, 30 sts and 42 rows in garter stitch weigh 6 g". None without a size and a
    weight, or where one of them is nothing.
    """
    weight = _WEIGHT.search(value)
    size, counts = _SIZE.search(value), _COUNTS.search(value)
    if weight is None or (size is None and counts is None):
        return None
    grams = Fraction(weight["n"]) * (1 if weight["unit"].lower().startswith("g") else Fraction(2835, 100))
    width = height = None
    if size is not None:
        width = read_length(f"{size['w']} {size['wu'] or size['hu']}")
        height = read_length(f"{size['h']} {size['hu']}")
    amounts = [grams]
    amounts += [Fraction(size["w"]), Fraction(size["h"])] if size is not None else []
    amounts += [Fraction(counts["s"]), Fraction(counts["r"])] if counts is not None else []
    if not all(amounts):
        return None
    ground, yarn = _GROUND.search(value), _YARN.search(value)
    named = (yarn["name"] or yarn["of"]).replace(" ", "") if yarn is not None else ""
    return WeighedSwatch(
        words=value,
        span=Span(at, at + len(value)),
        grams=grams,
        width=width,
        height=height,
        stitches=Fraction(counts["s"]) if counts is not None else None,
        rows=Fraction(counts["r"]) if counts is not None else None,
        ground=" ".join(ground["ground"].split()) if ground is not None and ground["ground"] != named else "",
        yarn=named,
    )
