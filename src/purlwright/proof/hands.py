"""Family G, hands: a left and a right mitten that are the same, with the thumb to one side.

In: two halves named left and right, worked in the round. Out: what is said if both fit one hand. Halves that
differ in some place are left to ``pairs``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from purlwright.findings import Related, Severity
from purlwright.needles.ledger import Entry
from purlwright.proof.answer import Seen
from purlwright.proof.parts import Part
from purlwright.proof.shaping import Raw, shaped
from purlwright.proof.subject import Subject, Way

__all__ = ["Pair", "SameHanded", "same_handed"]

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
