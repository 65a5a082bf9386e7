"""The cloth of a pattern, as it leaves.

In: nothing; the room that writes makes them. Out: msgspec structs; field names and order are the contract.
Lengths are in mm, yarn in metres and grams; ``least`` and ``most`` bound what gauge and loop leave open.
"""

from __future__ import annotations

from msgspec import Struct

from purlwright.wire.sheets import SheetFileOut

__all__ = [
    "ClothCheckOut", "ClothFigureOut", "ClothLeftOut", "ClothOut", "ClothPieceOut", "ClothRowOut",
    "ClothSaidOut", "ClothYarnOut", "YarnPartOut",
]  # fmt: skip


class ClothSaidOut(Struct, frozen=True, kw_only=True):
    """One thing said beside the figures. ``basis`` is "stated", "near", "rule" or "assumed"."""

    basis: str
    words: str
    source: str
    line: int | None


class ClothFigureOut(Struct, frozen=True, kw_only=True):
    """One measure: what is measured, in mm, and its least and most."""

    of: str
    mm: float
    least: float
    most: float


class ClothPieceOut(Struct, frozen=True, kw_only=True):
    """One piece. ``lies`` is "flat", "cups", "ruffles", "tube", or "" where the stitches do not tell."""

    name: str
    lies: str
    told: list[str]
    """How it lies, in sentences, with what would mend it."""
    figures: list[ClothFigureOut]
    area_mm2: float


class YarnPartOut(Struct, frozen=True, kw_only=True):
    """What so many metres go into."""

    name: str
    metres: float


class ClothYarnOut(Struct, frozen=True, kw_only=True):
    """One yarn, of all pieces that are to be made."""

    name: str
    metres: float
    metres_least: float
    metres_most: float
    grams: float | None
    grams_least: float | None
    grams_most: float | None
    metres_to_have: float
    """With the eighth over that designers add to what a pattern tells to have."""
    grams_to_have: float | None
    balls: int | None
    """Whole balls for the most that it may take, if the pattern says how much is on one."""
    strands: int
    parts: list[YarnPartOut]


class ClothRowOut(Struct, frozen=True, kw_only=True):
    """One row: how much of all yarn is gone after it, and what is still needed of each at the most.

    ``time`` is which working of the row it is, from 1.
    """

    order: int
    piece: str
    label: str
    line: int
    time: int
    gone: float
    metres_needed: list[float]
    grams_needed: list[float | None]


class ClothLeftOut(Struct, frozen=True, kw_only=True):
    """What the yarn that is left is enough for."""

    yarn: str
    metres: float
    grams: float | None
    enough_after: int | None
    """Ledger order of the first row after which it is enough for all the rest; None if it never is."""
    one_more: str
    """"yes", "no", "perhaps", or "" where nothing repeats."""
    words: list[str]


class ClothCheckOut(Struct, frozen=True, kw_only=True):
    """What a check of the pattern's own measures answers: what the words say beside what the rows give."""

    check: str
    holds: str
    result: str
    places: int
    line: int | None
    """The first line where it fails."""
    words: list[str]
    """What it found, in sentences."""


class ClothInSizeOut(Struct, frozen=True, kw_only=True):
    """A stated measure in one size. ``ours_mm`` is null where it is not known what makes it."""

    size: str
    stated_mm: float
    ours_mm: float | None


class ClothMeasureOut(Struct, frozen=True, kw_only=True):
    """A stated measure beside what the knitting gives. ``words`` is the clause it stands in."""

    words: str
    line: int
    made_of: str
    """Which stitches or rows give it: "88 (96) sts of Body"; empty where that is not known."""
    sizes: list[ClothInSizeOut]


class ClothOut(Struct, frozen=True, kw_only=True):
    """The cloth of one size and one choice of options."""

    title: str
    size: str
    options: dict[str, str]
    known: bool
    """False where nothing is known of the size of a stitch, so that only proportions hold."""
    pieces: list[ClothPieceOut]
    measures: list[ClothMeasureOut]
    """Each stated width and length, in every size."""
    stated: list[ClothCheckOut]
    yarns: list[ClothYarnOut]
    rows: list[ClothRowOut]
    left: list[ClothLeftOut]
    said: list[ClothSaidOut]
    files: list[SheetFileOut]
    errors: int
