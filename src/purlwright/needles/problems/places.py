"""Places on the needle: markers, gaps, turns.

In: numbers met at the needles. Out: problems in a knitter's words.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from purlwright.findings import Severity
from purlwright.needles.problems.said import Said, number_are, sts

__all__ = [
    "CrossingDiffers",
    "LeavesDiffers",
    "MarkerCrossed",
    "MarkerNotHere",
    "NoMarker",
    "NoSlippedSts",
    "NoSuchGap",
    "PlaceBehind",
    "TurnedAtOnce",
]


@dataclass(frozen=True, slots=True)
class PlaceBehind(Said):
    """The words ask to stop ("to last 4 sts", "to 4 sts before marker") before the place already reached.

    Example: ``K10, knit to last 4 sts`` with 12 stitches: after 10 only 2 are left.

    Cure: take stitches off what comes before, or change the number.
    """

    code: ClassVar[str] = "place-behind"
    check: ClassVar[str | None] = "C006"
    row: str
    wanted: int
    there: int
    place: str

    def message(self) -> str:
        return (
            f"{self.row} wants to stop {sts(self.wanted)} before the {self.place}, "
            f"but only {number_are(self.there)} left before it."
        )

    def label(self) -> str:
        return f"{self.there} left"

    def help(self) -> str | None:
        return (
            f"Take {sts(self.wanted - self.there)} off what is worked before, "
            f"or stop {self.there} before the {self.place}."
        )


@dataclass(frozen=True, slots=True)
class NoMarker(Said):
    """The words go to a marker that is not on the needle.

    Example: ``K to marker, M1`` when no marker was placed, or it was taken off in an earlier row.

    Cure: place the marker in an earlier row, or say where to stop in stitches.
    """

    code: ClassVar[str] = "no-marker"
    check: ClassVar[str | None] = "C037"
    row: str
    name: str = ""
    between: bool = False

    def message(self) -> str:
        if self.between:
            return f"{self.row} counts the stitches between markers, but no two are on the needle."
        which = f"marker {self.name}" if self.name else "a marker"
        return f"{self.row} goes to {which}, but none is left on the needle."

    def label(self) -> str:
        return "no marker here"

    def help(self) -> str | None:
        return "Place the marker in an earlier row, or give the place in stitches."


@dataclass(frozen=True, slots=True)
class MarkerNotHere(Said):
    """The words slip or take off a marker where none stands, or go to one by a name that none has.

    Markers are on the needle, but not here: one was not placed, or was placed some stitches away. A knitter
    who finds no ring at this place does not know which of her rows is wrong.

    Example: ``Row 3: K5, sm, k10, sm, k5.`` when only one marker was placed, after 5 sts.

    Cure: place the marker in an earlier row, or mend the number of stitches before it.
    """

    code: ClassVar[str] = "marker-not-here"
    check: ClassVar[str | None] = "C108"
    severity: ClassVar[Severity] = Severity.WARNING
    row: str
    act: str
    name: str = ""
    away: int | None = None
    """How many stitches ahead the next marker is; 0 if all are behind; None if there is none."""

    def message(self) -> str:
        which = f"marker {self.name}" if self.name else "a marker"
        if self.act == "go to":
            return f"{self.row} goes to {which}, and no marker on the needle has that name."
        does = "slips" if self.act == "slip" else "takes off"
        if self.away is None:
            return f"{self.row} {does} {which} here, and no marker is left on the needle."
        where = "the last one was passed before"
        if self.away > 0:
            where = f"the next one stands {sts(self.away)} further on"
        return f"{self.row} {does} {which} here, but {where}."

    def label(self) -> str:
        return "no marker of that name" if self.act == "go to" else "no marker here"

    def help(self) -> str | None:
        if self.act == "go to":
            return "Place the marker under that name, or leave the name out."
        return "Place the marker in an earlier row, or mend the number of stitches before it."


@dataclass(frozen=True, slots=True)
class NoSuchGap(Said):
    """The words go to a gap (a turning point, a wrapped stitch) that is not there.

    A gap stands where an earlier row turned before its end, and closes when a row is worked across it.

    Example: ``Knit to 4 sts before gap, turn`` when no row has turned yet.

    Cure: turn in an earlier row first, or give the place in stitches.
    """

    code: ClassVar[str] = "no-such-gap"
    check: ClassVar[str | None] = "C037"
    row: str

    def message(self) -> str:
        return f"{self.row} goes to a gap, but no turn and no bind-off has left one in front of it."

    def label(self) -> str:
        return "no gap here"

    def help(self) -> str | None:
        return "Turn in an earlier row first, or give the place in stitches."


@dataclass(frozen=True, slots=True)
class NoSlippedSts(Said):
    """The words work "the slipped sts", but the next stitch on the left needle was not slipped.

    Slipped stitches are those that the row before passed to the other needle unworked. How many are meant is
    told by the needle alone, so nothing can be worked where none stands next.

    Example: ``Sl 3, k3, knit the slipped sts`` without a cable needle: the three are on the right needle.

    Cure: say how many stitches are worked, and on which needle they wait.
    """

    code: ClassVar[str] = "no-slipped-stitches"
    check: ClassVar[str | None] = "C037"
    row: str
    anywhere: bool = False

    def message(self) -> str:
        if self.anywhere:
            return f"{self.row} works the slipped stitches, but the row before slipped none."
        return f"{self.row} works the slipped stitches, but the next stitch on the needle was not slipped."

    def label(self) -> str:
        return "none slipped here"

    def help(self) -> str | None:
        return "Say how many stitches are worked, and on which needle they wait."


@dataclass(frozen=True, slots=True)
class TurnedAtOnce(Said):
    """A row turns before any stitch of it is worked.

    The yarn would hang at the far end, and the next row could not begin.

    Example: ``Row 4: K0, turn.``

    The turn was left out.

    Cure: say what is worked before the turn, or leave the row out.
    """

    code: ClassVar[str] = "turned-at-once"
    check: ClassVar[str | None] = "C031"
    row: str

    def message(self) -> str:
        return f"{self.row} turns before a stitch of it is worked."

    def label(self) -> str:
        return "nothing worked yet"

    def help(self) -> str | None:
        return "Say what is worked before the turn, or leave the row out."


@dataclass(frozen=True, slots=True)
class LeavesDiffers(Said):
    """A turn does not leave the stitches that the words say it leaves.

    Example: ``K20, turn, leaving 6 sts unworked`` with 24 stitches leaves 4.

    Cure: correct the number that is worked, or the number left.
    """

    code: ClassVar[str] = "leaves-differs"
    check: ClassVar[str | None] = "C031"
    row: str
    stated: int
    left: int

    def message(self) -> str:
        return f"{self.row} says {sts(self.stated)} stay unworked; knitting it leaves {self.left}."

    def label(self) -> str:
        return f"{self.left} left"

    def help(self) -> str | None:
        when = "later" if self.left > self.stated else "sooner"
        return f"Print {self.left}, or turn {abs(self.left - self.stated)} {when}."


@dataclass(frozen=True, slots=True)
class CrossingDiffers(Said):
    """More or fewer stitches are worked from the cable needle than were put on it.

    Example: ``Slip 3 sts to cn and hold in front, k3, k2 from cn``.

    Cure: correct one of the two numbers.
    """

    code: ClassVar[str] = "crossing-differs"
    check: ClassVar[str | None] = "C018"
    row: str
    held: int
    worked: int

    def message(self) -> str:
        return f"{self.row} puts {sts(self.held)} on the cable needle, and works {self.worked} from it."

    def label(self) -> str:
        return f"{self.held} put there, {self.worked} worked"

    def help(self) -> str | None:
        return f"Put {self.worked} there, or work {self.held} from it."


@dataclass(frozen=True, slots=True)
class MarkerCrossed(Said):
    """A stitch is worked across a marker.

    A marker cannot lie inside a stitch: one loop comes from either side of it.

    Example: ``K2tog`` when the marker sits between the two stitches.

    Cure: remove the marker first and say where it goes again.
    """

    code: ClassVar[str] = "marker-inside-stitch"
    check: ClassVar[str | None] = "C037"
    severity: ClassVar[Severity] = Severity.WARNING
    row: str
    stitch: str

    def message(self) -> str:
        return f"{self.row}: {self.stitch} takes stitches from both sides of a marker."

    def help(self) -> str | None:
        return "Remove the marker before it, and say where to put it back."
