"""Family G, hands: a left and a right half that are the same, and should not be.

In: two halves named left and right. Out: what is said if both fit one hand, or if the words call one the
mirror of the other. Halves that differ in some place are left to ``pairs``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from purlwright.findings import Related, Severity
from purlwright.needles.ledger import Entry
from purlwright.needles.optable import op_table
from purlwright.proof.answer import Seen
from purlwright.proof.parts import Part
from purlwright.proof.shaping import Raw, shaped
from purlwright.proof.subject import Subject, Way
from purlwright.proof.texture import Worked, looks, mirrored

__all__ = [
    "Pair",
    "SameHanded",
    "SameNotMirrored",
    "crossing_not_turned",
    "same_handed",
    "same_not_mirrored",
]

_OF_HANDS = frozenset({"mitten", "mitt", "glove", "hand"})
_ASIDE = 3
"""A thumb up to so many stitches from the side of the hand stands at the side."""


@dataclass(frozen=True, slots=True)
class SameHanded:
    """The left and the right mitten are the same stitch for stitch, with the thumb to one side of both.

    A thumb that does not stand at the very side lies towards the palm. Worked alike, both thumbs lie on the
    same side of the tip, and both mittens fit the same hand.

    Example: both mittens begin the gusset with `Rnd 1: K4, pm, m1r, k1, m1l, pm, knit to end.`

    Cure: place the thumb of one as many stitches before the end of the round as that of the other after its
    beginning.
    """

    here: str
    there: str

    code = "same-handed"
    check = "C079"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.here[0].upper()}{self.here[1:]} is {self.there} again, stitch for stitch, and its thumb "
            "does not stand at the side: both fit the same hand."
        )

    def label(self) -> str:
        return f"the thumb stands where that of {self.there} does"

    def help(self) -> str | None:
        return "Place the thumb of one as far before the end of the round as the other after its beginning."


@dataclass(frozen=True, slots=True)
class SameNotMirrored:
    """Left and right are the same stitch for stitch, and the words call one the mirror of the other.

    A crossing or decrease that leans to one side leans to the other in a mirror, and what stands at the
    beginning of a round stands at its end. Copied from one half to the other the rows give two of a kind.

    Example: "the right glove is the mirror of the left", and on both `Rnd 13: K3, p1, 2/2 LC, p1, k31.`

    Cure: work one half the other way round: the last stitches first, and every lean to the other side.
    """

    here: str
    there: str
    leans: str

    code = "same-not-mirrored"
    check = "C079"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.here[0].upper()}{self.here[1:]} is {self.there} again, stitch for stitch, and the words "
            f"call it the mirror: this leans to the {self.leans} in both."
        )

    def label(self) -> str:
        return f"to the {self.leans} in both"

    def help(self) -> str | None:
        return "Work the rows of one half from their end to their beginning, with every lean turned round."


class Pair(NamedTuple):
    """Two halves of one kind, and how each is called."""

    a: Part
    b: Part
    name_a: str
    name_b: str


def same_handed(subject: Subject, way: Way, pair: Pair) -> Iterator[Seen]:
    """The thumb of the second half, if both are the same and the thumb is not at the side of the tip."""
    if not pair.a.heading.roles & _OF_HANDS or not pair.a.heading.hand or not _same(way, pair):
        return
    thumb = _off_the_side(subject, way, pair.b)
    other = _off_the_side(subject, way, pair.a)
    if thumb is not None and other is not None and thumb.span.end >= 0:
        told = SameHanded(pair.name_b, pair.name_a)
        related = (Related(other.span, "and here"),)
        yield Seen(told, thumb.span, (), lambda _: told, related)


_MIRROR = re.compile(
    r"\b(?:left|right|other|pair|second|two)\b[^.\n]*\b(?:mirror|looking[- ]glass)"
    r"|\bmirror[^.\n]*\b(?:left|right|other|first)\b",
    re.IGNORECASE,
)


def same_not_mirrored(subject: Subject, way: Way, pair: Pair) -> Iterator[Seen]:
    """The first crossing or lean of the second half that shows it to be no mirror, if the words call it
    one.
    """
    if _MIRROR.search(subject.source.text) is None or not _same(way, pair):
        return
    lopsided = _lopsided(subject, way, pair.b)
    other = _lopsided(subject, way, pair.a)
    if lopsided is not None and other is not None:
        row, place, leans = lopsided
        told = SameNotMirrored(pair.name_b, pair.name_a, leans)
        related = (Related(other[0].words(other[1]), "and here"),)
        yield Seen(told, row.words(place), (), lambda _: told, related)


def _lopsided(subject: Subject, way: Way, part: Part) -> tuple[Worked, int, str] | None:
    """The first row of a part with more that leans to one side than to the other: where, and which side."""
    for row in _rows_of(subject, way, part):
        if row.back:
            continue
        leaning = [op for op in looks(row.key) if op.look.lean and op.look.takes > 1]
        to_left = sum(op.look.lean == "left" for op in leaning)
        if 2 * to_left != len(leaning):
            side = "left" if 2 * to_left > len(leaning) else "right"
            return row, next(op.place for op in leaning if op.look.lean == side), side
    return None


_TURNED = re.compile(
    r"\b(?:towards? each other|away from each other|(?:in )?opposite (?:ways?|directions?)"
    r"|lean\w* (?:the )?other way)\b",
    re.IGNORECASE,
)


class Crossing(NamedTuple):
    """A crossing of each half at one place, which lean the same way: their rows, and which operation."""

    here: Worked
    place: int
    there: Worked
    fellow: int

    @property
    def stitch(self) -> str:
        """The key of the crossing, the same in both."""
        return op_table().keys[int(np.frombuffer(self.here.key, np.int16)[self.place])]


def crossing_not_turned(subject: Subject, way: Way, pair: Pair) -> Crossing | None:
    """The first crossing of the second half that leans as in the first, where all else is its mirror.

    Cables of both hands may lean one way on purpose: the words call one the mirror of the other, or say how
    they lean, or else more crossings are turned than not. Rows that are the same in both tell nothing.
    """
    one, other = (_rows_of(subject, way, part) for part in (pair.a, pair.b))
    if len(one) != len(other):
        return None
    alike: list[Crossing] = []
    turned = 0
    for a, b in zip(one, other, strict=True):
        if a.key == b.key:
            if any(op.look.crosses for op in looks(a.key)):
                return None
            continue
        ops_a, ops_b = looks(a.key), looks(b.key)[::-1]
        if len(ops_a) != len(ops_b) or a.back != b.back:
            return None
        for x, y in zip(ops_a, ops_b, strict=True):
            if mirrored(x.look) == y.look:
                turned += x.look.crosses
            elif x.look.crosses and x.look.lean and x.look == y.look:
                alike.append(Crossing(b, y.place, a, x.place))
            else:
                return None
    text = subject.source.text
    told = _MIRROR.search(text) is not None or _TURNED.search(text) is not None
    return alike[0] if alike and (turned > len(alike) or (told and not turned)) else None


def _rows_of(subject: Subject, way: Way, part: Part) -> list[Worked]:
    orders = {e.order for e in part.rows}
    return [r for r in subject.worked_rows if r.way is way and r.entry.order in orders]


def _same(way: Way, pair: Pair) -> bool:
    """Whether both are the same operations in the same yarns, from the first row to the last."""
    fabric = way.knitted.fabric
    row_of = fabric.row_of_stitch
    spans = []
    for part in (pair.a, pair.b):
        first = int(np.searchsorted(row_of, part.rows[0].order, "left"))
        spans.append(slice(first, int(np.searchsorted(row_of, part.rows[-1].order, "right"))))
    one, other = spans
    return all(
        np.array_equal(array[one], array[other]) for array in (fabric.op_of_stitch, fabric.yarn_of_stitch)
    )


def _off_the_side(subject: Subject, way: Way, part: Part) -> Entry | None:
    """The round that begins a thumb gusset away from the side, which the decreases of the tip make known."""
    found = shaped(subject, way)
    gusset: Entry | None = None
    tips = 0
    for entry in part.rows:
        here = found.get(entry.order, [])
        more = [r for r in here if r.sort == "increase"]
        if gusset is None and more and entry.made and not entry.lost:
            gusset = entry if _aside(more) else None
            if gusset is None:
                return None
        if entry.lost and not entry.made:
            less = [r for r in here if r.sort == "decrease"]
            tips += len(less) > 1 and _balanced(less)
    return gusset if tips > 1 else None


def _aside(increases: list[Raw]) -> bool:
    """Whether the middle of some increases lies away from both the beginning and the half of the round."""
    width = increases[0].right + increases[0].left + 1
    middle = sum(r.right for r in increases) / len(increases)
    twice = (2 * middle) % width
    return len(increases) <= 2 and min(twice, width - twice) > 2 * _ASIDE


def _balanced(decreases: list[Raw]) -> bool:
    """Whether decreases lie as far from the end of the round as from its beginning."""
    right = sorted(r.right for r in decreases)
    left = sorted(r.left for r in decreases)
    return all(abs(a - b) <= 1 for a, b in zip(right, left, strict=True))
