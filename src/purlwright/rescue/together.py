"""Two mistakes really made: both worked on row by row, on the loops that the two of them leave.

In: a piece, pairs of its mistakes, the row she has come to, and a way to knit once more. Out: for each pair
what the needle comes to (:class:`Both`), or None where the second cannot be laid on what the first leaves
(a turn at another place, rows worked twice). Which pairs are worth it is left to ``pairs``.

Rows that were tried on such loops already are looked up; the others are tried in one more knitting, all pairs
at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from purlwright.rescue.mistakes.made import more_before

if TYPE_CHECKING:
    from purlwright.needles.rehearse import Came, Lie, Rehearsal
    from purlwright.rescue.knitted_on import Knit, PieceAt
    from purlwright.rescue.mistakes.made import Made

__all__ = ["Both", "both_made"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Both:
    """What two mistakes come to.

    met : whether a row before hers does not come out, so that she would have met them there. lie : how the
    loops lie after her row. next : what the row after it comes to; None if it is the last, or was not tried.
    """

    met: bool
    lie: Lie
    next: Came | None


class _EnoughKnitted(Exception):  # noqa: N818 - nothing is wrong: no later row is asked for
    """The last row that is asked for was tried."""


def both_made(piece: PieceAt, pairs: Sequence[tuple[Made, Made]], row: int, knit: Knit) -> list[Both | None]:
    """What each pair comes to after ``row``; the two of a pair in the order in which they are worked on."""
    walkers = [_Walker(piece=piece, first=a, second=b, row=row) for a, b in pairs]
    for w in walkers:
        w.walk(None)
    waiting = [w for w in walkers if w.waits]
    if not waiting:
        return [w.found() for w in walkers]
    at = {look.entry.order: look.index for look in piece.looks}

    def watch(r: Rehearsal) -> None:
        i = at.get(r.order)
        if i is None:
            return
        for w in waiting:
            if w.at == i:
                w.walk(r)
        if i > row:
            raise _EnoughKnitted

    with suppress(_EnoughKnitted):
        knit(watch)
    return [w.found() for w in walkers]


@dataclass(slots=True, kw_only=True)
class _Walker:
    """One pair on its way. ``at`` is the row to be worked next; ``lies`` how the loops lay before each."""

    piece: PieceAt
    first: Made
    second: Made
    row: int
    at: int = -1
    lies: dict[int, Lie] = field(default_factory=dict)
    waits: bool = False
    met: bool = False
    cannot: bool = False
    next: Came | None = None

    def walk(self, r: Rehearsal | None) -> None:
        """Go on as far as rows were tried, or by trying the row that is about to be worked."""
        if not self.lies and not self._begin():
            return
        self.waits = False
        while self.at <= self.row + 1 and self.at < len(self.piece.looks):
            lie = self.lies[self.at]
            came = self.piece.after(self.at, lie)
            if came is None and r is not None and r.order == self.piece.looks[self.at].entry.order:
                came = r.work(lie)
                if came is None or came.entries != 1:
                    self.cannot = True
                    return
            if came is None:
                self.waits = True
                return
            if self.at > self.row:
                self.next = came
                return
            if not came.fits:
                self.met = True
                return
            self.at += 1
            if not self._lay(came.ready):
                self.cannot = True
                return

    def _begin(self) -> bool:
        """The loops that the first leaves, and the second too if it is worked on from the same row."""
        a = self.first
        lie = self.piece.lies[a.on] if a.lie is None else a.lie
        if lie is None:
            self.cannot = True
            return False
        self.at = a.on
        self.cannot = not self._lay(lie)
        return not self.cannot

    def _lay(self, lie: Lie) -> bool:
        """Loops before the row ``at``, with the second mistake laid on them if it begins there."""
        b = self.second
        if self.at == b.on and b.lie is not None:
            both = _on_top(self.piece, b, lie)
            if both is None:
                return False
            lie = both
        self.lies[self.at] = lie
        return True

    def found(self) -> Both | None:
        """What it came to."""
        if self.cannot or self.waits or not self.lies:
            return None
        return Both(met=self.met, lie=self.lies[self.at], next=self.next)


def _on_top(piece: PieceAt, made: Made, lie: Lie) -> Lie | None:
    """The mistake on loops that lie otherwise already; None where it is more than loops gained or lost."""
    true = piece.lies[made.on]
    if true is None or made.skipped or made.again or made.lie is None:
        return None
    if made.lie == true:
        return lie
    loop = next((k for k in range(true.left) if more_before(true, k, made.by) == made.lie), None)
    if not made.by or loop is None:
        return None
    return more_before(lie, _same_place(true, loop, lie), made.by)


def _same_place(true: Lie, loop: int, lie: Lie) -> int:
    """The loop that lies as far from the tip, within the same stretch between marks."""
    cuts, other = _cuts(true), _cuts(lie)
    if len(cuts) != len(other):
        return min(loop, lie.left - 1)
    n = max(i for i, cut in enumerate(cuts[:-1]) if cut <= loop)
    return max(0, min(other[n] + loop - cuts[n], other[n + 1] - 1))


def _cuts(lie: Lie) -> list[int]:
    """Where the stretches begin, counted in loops from the tip, and the end."""
    return [0, *sorted({lie.left - m.at for m in lie.left_marks} - {0, lie.left}), lie.left]
