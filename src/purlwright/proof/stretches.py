"""Stretches of knitting: rows one above another with one stitch count, piece by piece and section by section.

In: a subject. Out: for each size the stretches of its first knitting, in the order of work. How wide and
long they are by the gauge is told by ``rates``; what was stated, by ``measures``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from purlwright.needles.ledger import Entry, Kind
from purlwright.proof.rates import Ground, ground_of

if TYPE_CHECKING:
    from purlwright.proof.subject import Subject, Way

__all__ = ["Cloth", "Stretch", "cloths", "runs_of_a_line"]


@dataclass(slots=True, kw_only=True)
class Stretch:
    """Rows (or rounds) of one section that end on the same count.

    ``piece`` is its place in the ledger; ``line`` where its first row stands; ``nth`` tells stretches of
    one line apart. ``rows`` leaves out rows over which a turn stands open; ``short`` counts those.
    """

    piece: int
    section: str
    line: int
    nth: int
    count: int
    ring: bool
    entries: list[Entry]
    rows: int = 0
    short: int = 0

    @property
    def key(self) -> tuple[int, int, int]:
        """The same stretch in another size."""
        return self.piece, self.line, self.nth


@dataclass(slots=True, kw_only=True)
class Cloth:
    """One size's knitting, as stretches; ``sure`` is false if words were not read or did not come out."""

    way: Way
    size: int
    stretches: Sequence[Stretch]
    sure: bool
    pieces: tuple[str, ...]

    def ground(self, entries: Sequence[Entry]) -> Ground:
        """What kind of cloth some rows make."""
        return ground_of(self.way.knitted, entries)

    def of_piece(self, piece: int) -> list[Stretch]:
        """The stretches of one piece."""
        return [s for s in self.stretches if s.piece == piece]


def runs_of_a_line(entries: Sequence[Entry]) -> list[list[Entry]]:
    """Rows that follow one another and are worked by one line of the words, gathered."""
    return [list(run) for _, run in groupby(entries, key=lambda e: e.line)]


def cloths(subject: Subject) -> tuple[Cloth, ...]:
    """One cloth for each size, knitted with its first choice of options; ask through ``subject.kept``."""
    seen: set[str] = set()
    out = []
    for way in subject.ways:
        if way.size not in seen:
            seen.add(way.size)
            out.append(_cloth(way, subject.size_place(way.size)))
    return tuple(out)


def _cloth(way: Way, size: int) -> Cloth:
    stretches: list[Stretch] = []
    times: dict[tuple[int, int], int] = {}
    sure = True
    for n, piece in enumerate(way.knitted.ledger.pieces):
        now: Stretch | None = None
        for e in piece.rows:
            if e.kind not in _WORKED:
                if e.kind is not Kind.BIND_OFF or e.end:
                    now = None
                continue
            sure = sure and not e.unread and not e.resumed
            if (
                now is None
                or e.end != now.count
                or e.section != now.section
                or e.kind is not now.entries[-1].kind
            ):
                nth = times[n, e.line] = times.get((n, e.line), 0) + 1
                now = Stretch(
                    piece=n, section=e.section, line=e.line, nth=nth, count=e.end,
                    ring=e.kind is Kind.ROUND, entries=[],
                )  # fmt: skip
                stretches.append(now)
            now.entries.append(e)
            if e.kind is not Kind.CAST_ON and e.kind is not Kind.PICK_UP:
                if e.gaps or e.unworked:
                    now.short += 1
                else:
                    now.rows += 1
    names = tuple(p.name for p in way.knitted.ledger.pieces)
    return Cloth(way=way, size=size, stretches=stretches, sure=sure, pieces=names)


_WORKED = {Kind.ROW, Kind.ROUND, Kind.CAST_ON, Kind.PICK_UP}
