"""The options of one plan, read.

In: a call. Out: :class:`Said`, whose answers are exact values; NoPlan where words are not understood or lack.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Protocol

from purlwright.cloth.swatch_words import figures
from purlwright.sizing.reading import lengths_mm
from purlwright.sizing.starts.asked import Knit
from purlwright.sizing.unknowns import NoPlan

__all__ = ["EXAMPLES", "Call", "Said", "read_knit", "size_names"]

EXAMPLES: Mapping[str, str] = {
    "counts": 'plan counts --gauge "22 sts and 30 rows to 10 cm" --want "back: 45 (50) cm; 4 plus 2"',
    "shaping": "plan shaping --from 44 --to 60 --rows 42 --right-side",
    "evenly": "plan evenly --increase 8 --stitches 74",
    "buttonholes": "plan buttonholes --many 7 --stitches 98",
    "pick-up": "plan pick-up --rows 120 --stitches 80",
    "shoulder": "plan shoulder --stitches 26 --rows 8",
    "heel": "plan heel --stitches 64",
    "cap": 'plan cap --gauge "22 sts and 30 rows to 10 cm" --from 72 --underarm 5 --top 18 --armhole "44 cm"',
    "armhole": 'plan armhole --gauge "22 sts and 30 rows to 10 cm" --from 110 --to 84 --length "20 cm"',
    "neck": 'plan neck --gauge "22 sts and 30 rows to 10 cm" --stitches 84 --across "18 cm" --length "8 cm"',
    "v-neck": 'plan v-neck --gauge "22 sts and 30 rows to 10 cm" --stitches 84 --across 17cm --length 20cm',
    "crescent": 'plan crescent --gauge "22 sts and 30 rows to 10 cm" --across "40 cm" --length "12 cm"',
    "dome": 'plan dome --gauge "22 sts and 30 rows to 10 cm" --across "18 cm"',
    "cone": 'plan cone --gauge "22 sts and 30 rows to 10 cm" --across "18 cm" --length "30 cm"',
    "raglan-rates": "plan raglan-rates --body 32 --sleeve 26 --rows 60",
    "circle": 'plan circle --gauge "22 sts and 30 rows to 10 cm" --across "40 cm"',
    "wedges": 'plan wedges --gauge "18 sts and 36 rows to 10 cm" --across "40 cm"',
    "body": "plan body --for woman",
}
"""An example for each question."""


class Call(Protocol):
    """The call, as far as it is about plans."""

    names: list[str]
    plan: dict[str, list[str]]
    rows: tuple[int, int] | None
    stitches: int | None
    length: str


class Said:
    """The options of one plan."""

    def __init__(self, call: Call, own: str | None) -> None:
        self.name = call.names[0]
        self.call = call
        self.own = own

    def words(self, option: str) -> str:
        """What stands after an option; "" if it was not given."""
        return self.call.plan.get(option, [""])[-1]

    def given(self, option: str) -> bool:
        return option in self.call.plan

    def count(self, option: str, usual: int | None = None) -> int:
        """A whole number. Raises NoPlan if it is none, or lacks and nothing is usual."""
        words = self.words(option)
        if not words:
            if usual is None:
                raise NoPlan(f"Give {option} too, for example: purlwright {EXAMPLES[self.name]}")
            return usual
        if not (words.isascii() and words.isdecimal() and len(words) < 6):
            raise NoPlan(f'{option} takes a whole number below 100,000; "{words}" is not that.')
        return int(words)

    def stitches(self) -> int:
        if self.call.stitches is None:
            raise NoPlan(f"Give --stitches too, for example: purlwright {EXAMPLES[self.name]}")
        return self.call.stitches

    def rows(self) -> int:
        if self.call.rows is None:
            raise NoPlan(f"Give --rows too, for example: purlwright {EXAMPLES[self.name]}")
        return self.call.rows[0]

    def knit(self) -> Knit:
        """The gauge. Raises NoPlan, NotRead."""
        words = self.words("--gauge")
        if not words:
            raise NoPlan('Give the gauge of your swatch: --gauge "22 sts and 30 rows to 10 cm".')
        return read_knit(words)

    def across(self) -> Fraction:
        words = self.words("--across")
        if not words:
            raise NoPlan(f"Give --across too, for example: purlwright {EXAMPLES[self.name]}")
        return lengths_mm(words, "--across", one=True)[0]


def read_knit(words: str) -> Knit:
    """A gauge of stitches and rows. Raises NoPlan, NotRead."""
    if re.search(r"(?<![\d.])0+(?:\.0+)?\s*(?:st|row|rnd|round)", words):
        raise NoPlan("A gauge has more than 0 stitches and more than 0 rows to 10 cm.")
    found = figures(words)
    if found.stitches is None or found.rows is None:
        raise NoPlan(f'"{words}" lacks {"rows" if found.rows is None else "stitches"}: a plan needs both.')
    knit = Knit(stitches=found.stitches.value, rows=found.rows.value)
    for value, what in ((knit.stitches, "sts"), (knit.rows, "rows")):
        if not Fraction(2) <= value <= 120:
            raise NoPlan(
                f"{float(value):g} {what} to 10 cm cannot be knitted by hand; look at the gauge again."
            )
    if not Fraction(1, 2) <= knit.rows / knit.stitches <= 4:
        raise NoPlan(
            f"{float(knit.stitches):g} sts and {float(knit.rows):g} rows to 10 cm make a stitch that is "
            f"far from "
            "square; look at the gauge again."
        )
    return knit


def size_names(many: int) -> tuple[str, ...]:
    """Names for sizes that were given none."""
    return {1: ("one size",), 2: ("small", "large"), 3: ("small", "medium", "large")}.get(
        many, tuple(str(n + 1) for n in range(many))
    )
