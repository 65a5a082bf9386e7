"""What a stitch is: one entry of the stitch dictionary.

In: nothing. Out: the frozen :class:`Stitch` and the small closed lists its fields are drawn from.
Reading the entries from the data file is left to ``load``; what needles do with them, to ``needles``.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Face", "Family", "Lean", "Loose", "Motion", "Stitch"]


class Family(StrEnum):
    """The shelves of the dictionary."""

    BASIC = "basic"
    SLIP = "slip"
    INCREASE = "increase"
    DECREASE = "decrease"
    CABLE = "cable"
    TWIST = "twist"
    LACE = "lace"
    BRIOCHE = "brioche"
    GROUP = "group"
    WRAP = "wrap"
    DROP = "drop"
    CAST_ON = "cast-on"
    BIND_OFF = "bind-off"
    PICK_UP = "pick-up"
    SHORT_ROW = "short-row"
    PASS = "pass"


class Lean(StrEnum):
    """Which way the top stitch lies, seen from the right side, when worked on the right side."""

    LEFT = "left"
    RIGHT = "right"
    CENTRE = "centre"
    NONE = "none"


class Face(StrEnum):
    """What the side being worked shows afterwards: a smooth V, a bump, or neither."""

    KNIT = "knit"
    PURL = "purl"
    NONE = "none"


class Loose(StrEnum):
    """How a loop that is drawn through no stitch comes about."""

    NONE = "none"
    OVER = "yarn over"
    STRAND = "lifted strand"
    HALF_HITCH = "half hitch"
    HEAD = "lifted head"
    CAST_ON = "cast on"


class Motion(StrEnum):
    """What the needles do, for the knitting room to act on."""

    WORK = "work"
    SLIP = "slip"
    CROSS = "cross"
    BELOW = "below"
    PASS = "pass"
    DROP = "drop"
    BIND_OFF = "bind off"
    CAST_ON = "cast on"
    PICK_UP = "pick up"
    TURN = "turn"
    TUCK = "tuck"
    MOVE_YARN = "move yarn"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stitch:
    """One entry of the dictionary.

    ``takes`` and ``makes`` count loops leaving the left needle and loops left on the right one.
    ``faces`` has one face for each loop made, in working order; among several loops out of one, a loop of no
    face is a yarn over.
    ``lean`` is the same from both sides; ``top`` and ``front`` are told from the side being worked.
    ``order`` is for crossings: the places, from 0, of the loops taken in the order they are worked.
    ``front`` is for crossings: how many of the loops worked pass in front (the group named by ``lean``).
    ``top`` is for decreases: the place, from 0, of the loop taken that lies on top, seen from the side
    worked.
    ``behind`` is the key of the stitch that gives the same fabric when worked from the other side (k, p).
    ``readings`` is for ambiguous terms: the keys they may stand for, the likeliest first. The other fields
    are then those of the first reading, unless the entry says otherwise.
    ``yarn`` is the yarn the whole operation draws, in plain stitches: a rule of thumb, no source.
    ``counted`` says whether a number straight after the abbreviation tells how often (k4, p2, sl3).
    """

    key: str
    us: str
    uk: str
    name_us: str
    name_uk: str
    family: Family
    takes: int
    makes: int
    motion: Motion = Motion.WORK
    lean: Lean = Lean.NONE
    faces: tuple[Face, ...] = ()
    twisted: bool = False
    top: int = 0
    order: tuple[int, ...] = ()
    front: int = 0
    loose: Loose = Loose.NONE
    counted: bool = False
    aliases: tuple[str, ...] = ()
    old: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()
    spoken: str = ""
    chart: str | None = None
    behind: str = ""
    yarn: float = 1.0
    source: str = ""
    status: str = ""
    note: str = ""

    @property
    def net(self) -> int:
        """Change in the stitch count."""
        return self.makes - self.takes
