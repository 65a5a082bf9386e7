"""Holding, joining, picking up, ending.

In: numbers met at the needles. Out: problems in a knitter's words.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from purlwright.findings import Severity
from purlwright.needles.problems.said import Said, number_are, sts, sts_are

__all__ = [
    "EndingNotSaid", "HeldDiffers", "JoinDiffers", "LeftLive", "LeftOnHold", "NothingHeld", "PickUpDiffers"
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class HeldDiffers(Said):
    """More stitches go on hold, or come back, than are there.

    Example: ``Place the next 14 sts on a holder`` with 12 stitches left in the row.

    Cure: correct the number.
    """

    code: ClassVar[str] = "held-differs"
    check: ClassVar[str | None] = "C012"
    row: str
    wanted: int
    there: int

    def message(self) -> str:
        return f"{self.row} names {sts(self.wanted)} for the holder; {number_are(self.there)} there."

    def label(self) -> str:
        return f"{self.there} there"

    def help(self) -> str | None:
        return f"Print {self.there}, or correct the row before."


@dataclass(frozen=True, slots=True)
class NothingHeld(Said):
    """Held stitches are called back that were never put on hold, or came back already.

    Example: ``Place the sleeve sts back on the needle`` when no stitches were held for a sleeve.

    Cure: name the holder as it was named when the stitches went there.
    """

    code: ClassVar[str] = "nothing-held"
    check: ClassVar[str | None] = "C012"
    place: str

    def message(self) -> str:
        which = f'"{self.place}"' if self.place else "a holder"
        return f"Stitches are taken up from {which}, but none wait there."

    def help(self) -> str | None:
        return "Name the holder as it was named when the stitches were put on it."


@dataclass(frozen=True, slots=True)
class JoinDiffers(Said):
    """Two edges that are joined stitch by stitch have different numbers of stitches.

    Example: grafting 30 live stitches to a cast-on edge of 32.

    Cure: bring both to the same number.
    """

    code: ClassVar[str] = "join-differs"
    check: ClassVar[str | None] = "C013"
    a: int
    b: int
    how: str

    def message(self) -> str:
        return f"The {self.how} joins {self.a} stitches to {self.b}; the two edges must have the same number."

    def label(self) -> str:
        return f"{self.a} to {self.b}"

    def help(self) -> str | None:
        return "Bring both edges to the same number of stitches."


@dataclass(frozen=True, slots=True)
class PickUpDiffers(Said):
    """The number picked up does not suit the edge it is picked up along.

    Along live, cast-on and bound-off stitches it is one for one; along row ends a usual ratio of the rows.

    Example: ``Pick up and knit 40 sts along the cast-on edge`` of 36 stitches.

    Cure: print the number that the edge has, or say what extra stitches are for.
    """

    code: ClassVar[str] = "pick-up-differs"
    check: ClassVar[str | None] = "C014"
    severity: ClassVar[Severity] = Severity.WARNING
    wanted: int
    there: int
    edge: str

    def message(self) -> str:
        return f"{sts(self.wanted)} are picked up along {self.edge}, which has {self.there}."

    def label(self) -> str:
        return f"edge has {self.there}"

    def help(self) -> str | None:
        return f"Pick up {self.there}, or say where the others come from."


@dataclass(frozen=True, slots=True)
class PickUpTooClose(Said):
    """More stitches are picked up along row ends than the rows have room for.

    A row is not as high as a stitch is wide, so there are fewer stitches than rows: along plain fabric two
    for three rows or three for four, along garter stitch one for each ridge, along a slipped edge one for
    each slipped stitch. With more the edge ruffles, and the knitter hunts for places to put her needle.

    Example: ``Pick up and knit 60 sts along the left edge`` of a strip of 40 rows.

    Cure: pick up about as many as the rows give.

    Source: five articles for plain fabric, one each for garter stitch and slipped edges; common practice.
    Only a quarter more than the gauge or three for four rows gives, or half as many again as there are
    slipped stitches or ridges, is spoken of.
    """

    code: ClassVar[str] = "pick-up-too-close"
    check: ClassVar[str | None] = "C015"
    severity: ClassVar[Severity] = Severity.WARNING
    wanted: int
    rows: int
    edge: str
    usual: int
    slipped: bool = False
    ridged: bool = False

    def message(self) -> str:
        why = " of slipped edge" if self.slipped else " of garter stitch" if self.ridged else ""
        return (
            f"{sts(self.wanted)} are picked up along {self.edge}, and {self.rows} rows{why} have room for "
            f"about {self.usual}."
        )

    def label(self) -> str:
        return f"{self.rows} rows here"

    def help(self) -> str | None:
        return f"Pick up about {self.usual}, or say along which other edges the rest is picked up."


@dataclass(frozen=True, slots=True)
class PickUpTooSparse(PickUpTooClose):
    """Fewer stitches are picked up along row ends than such an edge needs to lie flat.

    Along plain fabric two stitches are picked up for three rows or three for four, along garter stitch one
    for each ridge, along a slipped edge one for each slipped stitch. With far fewer the band is shorter than
    the edge: it draws the edge up, and between the stitches there are holes.

    Example: ``Pick up and knit 36 sts along the left edge`` of a strip of 80 rows.

    Cure: pick up about as many as the rows give; where only a part of the edge is meant, say which.

    Source: five articles for plain fabric, one each for garter stitch and slipped edges; common practice.
    Only a quarter fewer than the least of these, or than the gauge gives, is spoken of.
    """

    code: ClassVar[str] = "pick-up-too-sparse"

    def message(self) -> str:
        why = " of slipped edge" if self.slipped else " of garter stitch" if self.ridged else ""
        return (
            f"{sts(self.wanted)} are picked up along {self.edge}, and {self.rows} rows{why} need about "
            f"{self.usual} to lie flat."
        )

    def help(self) -> str | None:
        return f"Pick up about {self.usual}, or say which part of the edge is meant."


@dataclass(frozen=True, slots=True)
class CastOnBesideLive(Said):
    """A section begins with a cast-on while stitches of the one before are still on the needle.

    They were knitted on together, as the words say. More often the piece before lacks its bind-off.

    Example: `## Cuff`, `Cast on 20 sts. Knit 6 rows.`, then `## Collar`, `Cast on 12 sts.`

    Cure: bind the piece before off, or say what the new stitches are for: "cast on 12 sts for the neck".
    """

    code: ClassVar[str] = "cast-on-beside-live"
    check: ClassVar[str | None] = "C019"
    severity: ClassVar[Severity] = Severity.WARNING
    live: int
    section: str

    def message(self) -> str:
        return f'"{self.section}" begins with a cast-on, and {sts(self.live)} are still on the needle.'

    def label(self) -> str:
        return f"{self.live} live here"

    def help(self) -> str | None:
        return "Bind off the piece before, or say what the new stitches are cast on for."


@dataclass(frozen=True, slots=True)
class LeftLive(Said):
    """Stitches are still live when the words end.

    Every loop must be bound off, grafted, gathered, seamed or joined, or the piece ravels.

    Example: a hat whose last words are ``Knit 1 round.`` with 8 stitches on the needle.

    Cure: say how they are closed: bind off, gather, graft.
    """

    code: ClassVar[str] = "left-live"
    check: ClassVar[str | None] = "C019"
    severity: ClassVar[Severity] = Severity.WARNING
    piece: str
    live: int

    def message(self) -> str:
        return f"{self.piece}: {sts_are(self.live)} still on the needle when the words end."

    def label(self) -> str:
        return f"{self.live} left"

    def help(self) -> str | None:
        return "Say how they are closed: bind off, gather or graft."


@dataclass(frozen=True, slots=True)
class EndingNotSaid(LeftLive):
    """The last words repeat the rows without an end, and nothing says how the stitches are closed.

    In a stitch pattern that is right: whoever uses it knows what comes after. A piece to be made needs an
    end.

    Example: ``Repeat rows 1-14 for the desired length.`` as the last words.

    Cure: if this is the end of a piece, say how long it is worked, and bind off.
    """

    code: ClassVar[str] = "ending-not-said"
    severity: ClassVar[Severity] = Severity.NOTE

    def message(self) -> str:
        return f"{self.piece}: the rows are repeated without an end, and {sts_are(self.live)} not bound off."

    def label(self) -> str:
        return f"{self.live} on the needle"

    def help(self) -> str | None:
        return "If a piece ends here, say how long it is worked, and bind off."


@dataclass(frozen=True, slots=True)
class LeftOnHold(Said):
    """Stitches were put on hold and are never taken up again.

    They must be worked, bound off or joined at some time, or the piece ravels from there.

    Example: ``Place rem 34 sts on a holder for back neck`` and no neckband that takes them up.

    Cure: say what becomes of them: "k across the held back-neck sts", or bind them off.
    """

    code: ClassVar[str] = "left-on-hold"
    check: ClassVar[str | None] = "C012"
    severity: ClassVar[Severity] = Severity.WARNING
    place: str
    held: int

    def message(self) -> str:
        where = f" ({self.place})" if self.place else ""
        are = "is" if self.held == 1 else "are"
        return f"{sts(self.held)} put on hold here{where} {are} never taken up again."

    def label(self) -> str:
        return f"{self.held} wait"

    def help(self) -> str | None:
        return "Say what becomes of them: work them, bind them off or join them."
