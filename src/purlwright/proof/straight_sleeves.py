"""Check C067 where the armhole is told: a sleeve that ends straight is twice as wide as the armhole is deep.

In: a subject. Out: what a sleeve without a cap is wide at its top, and how deep the armhole is that it is
sewn to. Sleeves with a cap are left to ``sleeves``, gross misproportions to ``bodies``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from purlwright.findings import Severity
from purlwright.needles.ledger import Kind
from purlwright.proof.answer import Seen
from purlwright.proof.measures import Said, stated
from purlwright.proof.parts import sure, wholes
from purlwright.proof.sleeves import main_rate
from purlwright.proof.subject import Subject, Way
from purlwright.text import Span

__all__ = ["SleeveTopDiffers", "straight_sleeves"]


@dataclass(frozen=True, slots=True)
class SleeveTopDiffers:
    """The straight top of a sleeve is not as wide as the armhole that it is sewn to.

    A sleeve without a cap is sewn along the armhole at the front and at the back: it must be twice as wide at
    its top as the armhole is deep. One that is far narrower does not reach the shoulder.

    Example: an armhole 18 cm deep, and a sleeve of 50 sts at 20 sts in 10 cm, 25 cm wide. It asks for 36 cm.

    Cure: count the increases of the sleeve, and how often they are worked.

    Source: arithmetic; a fifth too narrow and a third too wide are let pass, since edges stretch and pleats
    are laid.
    """

    ours: str
    depth: str
    wanted: str

    code = "sleeve-top-differs"
    check = "C067"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The sleeve is {self.ours} cm wide at its top, and the armhole {self.depth} cm deep; "
            f"that asks for {self.wanted} cm."
        )

    def label(self) -> str:
        return f"{self.ours} cm wide, for {self.wanted} cm of armhole"

    def help(self) -> str | None:
        return "Count the increases of the sleeve, and how often they are worked."


_NARROW, _WIDE = Fraction(4, 5), Fraction(4, 3)
_OTHERWISE = re.compile(r"\b(?:raglan|saddle|gussets?|puff|gather|pleat|dolman|pick up)", re.IGNORECASE)


def straight_sleeves(subject: Subject) -> tuple[int, list[tuple[Way, Seen]]]:
    """How many sleeves end straight at a told armhole, and those that do not fit it."""
    depths = [
        m for m in subject.kept(stated)
        if m.source is Said.FINISHED and m.part == "armhole" and m.way == "length" and m.agrees
    ]  # fmt: skip
    rate = main_rate(subject)
    if len(depths) != 1 or rate is None or _OTHERWISE.search(subject.source.text):
        return 0, []
    places, seen = 0, []
    for way in subject.ways:
        depth = depths[0].cm(subject.size_place(way.size))
        for stitches, place in _tops(subject, way) if depth else ():
            wide = rate.width_cm(stitches)
            if depth and wide is not None:
                places += 1
                if not _NARROW <= wide / (2 * depth) <= _WIDE:
                    numbers = round(wide), round(depth), round(2 * depth)
                    seen.append((way, Seen("sleeve top", place, numbers, _differs)))
    return places, seen


def _tops(subject: Subject, way: Way) -> Iterator[tuple[int, Span]]:
    """Stitches at the top of each flat sleeve from the cuff that is bound off all at once at its widest."""
    for part in wholes(subject, way, "sleeve"):
        last, worked = part.rows[-1], part.worked
        if (
            not sure(part)
            or part.rows[0].kind is not Kind.CAST_ON
            or last.kind is not Kind.BIND_OFF
            or not worked
        ):
            continue
        widest = max(worked, key=lambda e: e.end)
        flat = all(e.kind is Kind.ROW for e in worked)
        if flat and last.lost == widest.end > part.rows[0].end and widest.span.end >= 0:
            yield widest.end, widest.span


def _differs(numbers: tuple[str, ...]) -> SleeveTopDiffers:
    return SleeveTopDiffers(*numbers)
