"""What a mistake is: an operator on the work at one place, and what it leaves to be seen.

In: nothing; the families make them. Out: :class:`Kind`, one for each operator with its number, name and how
often it happens; :class:`Made`, one such mistake in one row; :class:`RowAt`, the row it happens in. What
comes of it later is left to ``knitted_on``.

How often each happens is nobody's measurement. The weights follow how often teachers and menders bring a
mistake up (rule of thumb, no source): dropped and gained stitches most, then rows lost or miscounted, missed
yarn overs, wrong turns.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from purlwright.needles.ledger import Entry
from purlwright.needles.looks import Working
from purlwright.needles.rehearse import Came, Lie, MarkLie

if TYPE_CHECKING:
    from purlwright.needles.looks import RowLook
    from purlwright.needles.rehearse import Rehearsal

__all__ = ["Holes", "Kind", "Made", "Odd", "Outline", "RowAt", "Site", "more_before"]


class Odd(IntEnum):
    """What looks odd at one place, in words of one who does not know why."""

    NONE = 0
    HOLE = 1
    SMALL_HOLE = 2
    LADDER = 3
    CROSSED = 4
    CROSSED_ROW = 5
    STRAND = 6
    SPLIT = 7
    WRONG_FACE = 8
    STRETCHED = 9
    TWO_IN_ONE = 10
    TWO_FROM_ONE = 11
    EDGE_DOUBLE = 12
    RIDGE = 13
    WRONG_LEAN = 14
    SHIFTED = 15
    TIGHT = 16
    BAND = 17
    SPIRAL = 18
    TWO_WRAPS = 19
    LOOSE_BAR = 20
    NO_MARKER = 21
    HOLE_BY_LEAN = 22
    INSIDE_OUT = 23
    COLOUR = 24
    TWO_PLACES = 25


class Holes(IntEnum):
    """What a look at the holes of the pattern tells."""

    RIGHT = 0
    MISSING = 1
    EXTRA = 2
    OFF = 3


class Outline(IntEnum):
    """What a look at the outline tells."""

    RIGHT = 0
    LONGER = 1
    """One edge is longer than it should be beside the other."""
    FLARES = 2
    """One edge steps out."""
    STEPS_BACK = 3
    """One edge, or one line of shaping, goes straight where it should go on."""


class Site(NamedTuple):
    """Where in a row: from the right edge as the right side shows it, first and last stitch it could be."""

    first: int
    last: int


NO_SITE = Site(0, 0)
"""No place in particular."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One operator. ``code`` is its number in our list; ``did`` what she did, in the past tense."""

    code: str
    name: str
    did: str
    weight: float
    column: bool = False
    """Whether it sits in one column, so that a ladder can reach it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """One mistake in one row of a piece.

    row : the row, by its index in the piece. lie : how the loops lie from row ``on`` on; None if they lie as
    they should. skipped, again : how many rows are left out, or worked once more, from ``row``.
    places : how many places of the row look alike for it.
    """

    kind: Kind
    row: int
    on: int
    lie: Lie | None = None
    odd: Odd = Odd.NONE
    odd_row: int = -1
    """The row in which the odd place lies; below 0: the row of the mistake."""
    holes: Holes = Holes.RIGHT
    outline: Outline = Outline.RIGHT
    flip: bool = False
    """Whether the other side faces from there on."""
    shifts: bool = False
    """Whether what is worked in the row does not stand over its like."""
    skipped: int = 0
    again: int = 0
    ridge: tuple[int, int] = (0, 0)
    """Purl bumps more at the right and at the left edge."""
    gaps: int = 0
    """Turning places more (or fewer) than the loops show."""
    by: int = 0
    """Stitches more or fewer than there should be."""
    site: Site = NO_SITE
    stretch: int = 0
    """In which stretch between markers it lies, from the beginning of the row, from 0."""
    places: int = 1
    detail: str = ""
    """What exactly, where the kind does not say: "one more", "2 too late"."""
    spot: str = ""
    """Which of several in the row, where it has a name: "the 2nd marker". A place, not another mistake."""

    @property
    def did(self) -> str:
        """What she did, in full."""
        more = ", ".join(x for x in (self.spot, self.detail) if x)
        return self.kind.did + (f" ({more})" if more else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class RowAt:
    """A row of the true knitting: what it found, what was worked, what it left."""

    index: int
    entry: Entry
    look: RowLook
    lie: Lie
    came: Came
    working: Working
    passes: Any
    rehearsal: Rehearsal
    before: Sequence[RowAt]
    """The rows of the piece worked before it."""
    acts: tuple[str, ...]
    """Needle actions that are no stitch."""
    yarns: int
    """How many yarns were worked in it."""

    @property
    def flat(self) -> bool:
        """Whether the next row is worked on the other side."""
        return not self.came.done.ring

    @property
    def net(self) -> int:
        return self.entry.end - self.entry.start

    @property
    def plain(self) -> bool:
        """Whether it works every stitch alike and changes nothing."""
        w = self.working
        return self.net == 0 and (w.n == 0 or bool((w.ops == w.ops[0]).all()))

    @property
    def shaped(self) -> bool:
        return bool(self.entry.made or self.entry.lost)

    def stretches(self) -> Iterator[tuple[int, int, int]]:
        """Runs of loops between marks, in working order: number, first and end, counted as loops taken."""
        cuts = [0, *sorted({self.lie.left - m.at for m in self.lie.left_marks}), self.worked]
        cuts = [c for c in cuts if c <= self.worked]
        for n, (a, b) in enumerate(itertools.pairwise(cuts)):
            if b > a:
                yield n, a, b

    @property
    def worked(self) -> int:
        """Loops taken off the left needle."""
        return int(self.working.takes.sum())

    def loops_made(self, taken: int) -> int:
        """How many loops of this row are on the right needle when ``taken`` are off the left one."""
        done = np.cumsum(self.working.takes)
        j = int(np.searchsorted(done, taken, side="right"))
        return int(self.working.makes[:j].sum())

    def after(self, loop: int, by: int) -> Lie | None:
        """How the next row finds the loops with some more (or fewer) beside the ``loop``-th made, from 0.

        None where the loops made do not lie in one run: some were held or bound off.
        """
        came, made = self.came, int(self.working.makes.sum())
        base = self.lie.right
        turned = came.done == came.ready
        lies = came.done.left if turned else came.done.right
        if lies != base + made or not 0 <= loop < made:
            return None
        if came.done.ring and not turned:
            return more_before(came.ready, base + loop, by)
        return more_before(came.ready, lies - 1 - base - loop, by)

    def site(self, first: int, end: int) -> Site:
        """A run of loops made, told from the right edge."""
        total = self.entry.end
        ws = self.entry.side is not None and self.entry.side.value == "WS"
        if ws:
            return Site(total - end + 1, total - first)
        return Site(first + 1, max(end, first + 1))


def more_before(lie: Lie, loop: int, by: int) -> Lie | None:
    """Loops more (or fewer) on the left needle beside its ``loop``-th loop from the tip, from 0."""
    if lie.left + by < 1 or not 0 <= loop < lie.left:
        return None
    at = lie.left - loop
    left_marks = tuple([m if m.at < at else _moved(m, by) for m in lie.left_marks])
    if any(m.at < 0 for m in left_marks):
        return None
    return lie._replace(left=lie.left + by, left_marks=left_marks)


def _moved(m: MarkLie, by: int) -> MarkLie:
    return m._replace(at=m.at + by)


Family = Callable[[RowAt], Iterator[Made]]
