"""Family C, short rows that go too far: past an earlier turn, or past a marker, where the others stop.

In: the turns that follow one another, their gaps and the markers. Out: findings on one turn beyond an earlier
one that is still open, or beyond a marker, unsaid (C037). Going to a marker or gap that is not there is found
while knitting; steps that are uneven are left to ``turn_series``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Entry
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read, while_knitting
from purlwright.proof.subject import Subject, Way
from purlwright.proof.turn_series import SideTurn, series, steps_broken, turn_words

__all__ = ["JUDGES", "TurnPastMarker", "TurnPastTurn"]


@dataclass(frozen=True, slots=True)
class TurnPastTurn:
    """A short row goes on past an earlier turn that is still open, and the other rows stop before it.

    Rows that grow shorter turn before the turn that went before. One that runs past it works over the gap: a
    hole stays open in the middle of the wedge, and two turns stand on the wrong side of each other. Rows that
    are meant to grow longer go past each turn, and that is left alone; so is a row whose words speak of the
    gap or the wrap.

    Example: turns that leave 4, 8, 3 and 16 stitches.

    Cure: turn before the earlier turn, or say how its gap is closed. (Common practice; no source.)
    """

    row: str
    by: int
    earlier: str
    others: int

    code = "turn-past-turn"
    check = "C037"
    severity = Severity.WARNING

    def message(self) -> str:
        sts = "a stitch" if self.by == 1 else f"{self.by} stitches"
        return (
            f"{self.row} turns {sts} past the turn of {self.earlier}, which is still open; {self.others} "
            f"other rows here turn before the turn that went before."
        )

    def label(self) -> str:
        return "past an earlier turn"

    def help(self) -> str | None:
        return f"Turn before the turn of {self.earlier}, or say how its gap is closed."


@dataclass(frozen=True, slots=True)
class TurnPastMarker:
    """A short row goes on past a marker that the other short rows of its side do not reach.

    The marker was placed where the short rows end. The words of this row do not speak of it, and a knitter
    who minds her marker stops there, while the number takes her further.

    Example: turns that leave 12, 10, 6 and 14 stitches, and a marker 8 stitches from the edge.

    Cure: mend the number of stitches, or say that the marker is passed. (Common practice; no source.)
    """

    row: str
    by: int
    others: int

    code = "turn-past-marker"
    check = "C037"
    severity = Severity.WARNING

    def message(self) -> str:
        sts = "a stitch" if self.by == 1 else f"{self.by} stitches"
        return (
            f"{self.row} turns {sts} past a marker that the {self.others} other short rows at this side do "
            f"not reach, and its words do not speak of it."
        )

    def label(self) -> str:
        return "past the marker"

    def help(self) -> str | None:
        return "Turn before the marker, or say that it is slipped."


_WITNESSES = 2
"""So many other turns make a rule; common practice, no source."""


def _sides(way: Way) -> Iterator[tuple[list[SideTurn], list[SideTurn]]]:
    """The turns at each side of each series, each with those at the other side."""
    for run in series(way):
        left, right = ([t for t in run if t.left is side] for side in (True, False))
        yield left, right
        yield right, left


def _past_turn(way: Way, subject: Subject) -> Iterator[Finding]:
    before = _entries_before(way)
    out_of_step = {turn.entry.order for turn, _, _ in steps_broken(way)}
    for side, other in _sides(way):
        steps = [b.beyond - a.beyond for a, b in pairwise(side)]
        there = [b.beyond - a.beyond for a, b in pairwise(other)]
        past = [n for n, d in enumerate(steps) if d < 0]
        short = sum(d > 0 for d in steps) + (sum(d > 0 for d in there) if all(d > 0 for d in there) else 0)
        if len(past) != 1 or short < _WITNESSES or not any(d > 0 for d in steps):
            continue
        earlier, turn = side[past[0]], side[past[0] + 1]
        open_ = {g.turned_on for g in before[turn.entry.order].gaps} if turn.entry.order in before else set()
        if earlier.entry.order not in open_ or turn.entry.order in out_of_step:
            continue
        if _speaks(subject, turn.entry, (tree.Resolve,), _OF_GAPS):
            continue
        name = earlier.entry.label or "an earlier row"
        problem = TurnPastTurn(turn.entry.label or "This row", -steps[past[0]], name, short)
        related = (Related(turn_words(subject, earlier.entry), "turned here before"),)
        yield Finding(problem=problem, span=turn_words(subject, turn.entry), related=related)


def _past_marker(way: Way, subject: Subject) -> Iterator[Finding]:
    for side, _ in _sides(way):
        if len({b.beyond > a.beyond for a, b in pairwise(side) if b.beyond != a.beyond}) < 2:
            continue  # rows that only grow longer, or shorter, pass a marker in their course
        for at in _markers(side):
            past = [t for t in side if t.beyond < at]
            if len(past) != 1 or len(side) - 1 < _WITNESSES + 1:
                continue
            (turn,) = past
            if _speaks(subject, turn.entry, (tree.Marker,), _OF_MARKERS):
                continue
            problem = TurnPastMarker(turn.entry.label or "This row", at - turn.beyond, len(side) - 1)
            yield Finding(problem=problem, span=turn_words(subject, turn.entry))


def _markers(side: Sequence[SideTurn]) -> list[int]:
    """How many stitches lie beyond each marker that stays in its place while the rows turn at this side."""
    always: set[int] | None = None
    for turn in side:
        e = turn.entry
        here = {(m.after + turn.beyond) % e.end for m in e.markers if e.end}  # told from the turn on
        always = here if always is None else always & here
    return sorted(always or ())


_OF_GAPS = frozenset({tree.PlaceKind.GAP, tree.PlaceKind.WRAPPED})
_OF_MARKERS = frozenset({tree.PlaceKind.MARKER})


def _speaks(subject: Subject, e: Entry, kinds: tuple[type, ...], places: frozenset[tree.PlaceKind]) -> bool:
    """Whether the words of a row name such a place, or do such a thing."""
    line = subject.line_of(e)
    return line is None or any(
        isinstance(n, kinds) or (isinstance(n, tree.Place) and n.kind in places)
        for n in tree.walk(line.actions)
    )


def _entries_before(way: Way) -> dict[int, Entry]:
    return {b.order: a for piece in way.knitted.ledger.pieces for a, b in pairwise(piece.rows)}


_knitting = while_knitting("C037")


def judge_past(subject: Subject) -> Answer:
    """C037: places are those that knitting went to, and the turns of series."""
    places = _knitting(subject).places
    if not any(e.gaps for _, e in subject.entries()):
        return Answer(places=places, missing=not_read(subject))
    places += sum(len(run) for way in subject.ways for run in series(way))
    found = subject.each_way(lambda way: _past_turn(way, subject))
    found = found or subject.each_way(lambda way: _past_marker(way, subject))
    return Answer(places=places, findings=tuple(found), missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C037": judge_past}
