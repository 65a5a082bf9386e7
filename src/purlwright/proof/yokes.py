"""Family G, yokes: every shaping round of a yoke leaves a whole number of motifs, and its depth suits the
size.

In: the rounds under a heading that speaks of a yoke, the gauge, and the words. Out: C071.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from itertools import pairwise

from purlwright.findings import Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.measures import Said, stated
from purlwright.proof.parts import Part, speaks_of, sure, wholes
from purlwright.proof.rates import worked_rows
from purlwright.proof.sleeves import main_rate
from purlwright.proof.subject import Subject, Way

__all__ = ["JUDGES", "YokeDepthUnlikely"]


@dataclass(frozen=True, slots=True)
class YokeDepthUnlikely:
    """A round yoke is far too shallow, or far too deep, for the chest of its size.

    From the underarm to the neck a round yoke is about a quarter as deep as the garment is round the chest.
    One that is much shallower cuts under the arms; one that is much deeper lets the underarm hang to the
    waist, and the arms cannot be lifted.

    Example: a yoke of 30 rounds at 28 rounds in 10 cm, 11 cm deep, for a chest of 100 cm.

    Cure: count the rounds between the decrease rounds in this size.

    Source: E. Zimmermann's percentages (1971 to 1989) give a quarter of the chest. Half as much and one and
    three quarters as much are let pass.
    """

    depth: str
    chest: str
    usual: str

    code = "yoke-depth-unlikely"
    check = "C071"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The yoke is {self.depth} cm deep at the gauge, for a chest of {self.chest} cm; about "
            f"{self.usual} cm is usual."
        )

    def label(self) -> str:
        return f"{self.depth} cm deep, {self.usual} is usual"

    def help(self) -> str | None:
        return "Count the rounds between the decrease rounds in this size."


_QUARTER = Fraction(1, 4)
_LEAST, _MOST = Fraction(1, 2), Fraction(7, 4)
_NOT_ROUND = re.compile(r"\b(?:raglan|saddle|square yoke|set-in)\b", re.IGNORECASE)


def _repeats(subject: Subject) -> dict[int, tree.Line]:
    """Lines that work a repeat across, or a chart, by where they stand."""
    return {line.offset: line for kind in (tree.Repeat, tree.Call) for line, _ in subject.nodes(kind)}


def _shaped(subject: Subject, lines: dict[int, tree.Line]) -> Iterator[Entry]:
    """Rows of a yoke that repeat a motif straight after a row has changed the count."""
    for way in subject.ways:
        for part in wholes(subject, way, "yoke"):
            for before, entry in pairwise(part.worked):
                line = subject.line_of(entry)
                if before.start != before.end and line is not None and line.offset in lines:
                    yield entry


def _depths(subject: Subject) -> Iterator[tuple[Way, Fraction, Fraction, Seen]]:
    """In each size how deep a yoke in the round is at the gauge, and the chest it is for, in cm."""
    rate = main_rate(subject)
    chests = [
        m for m in subject.kept(stated)
        if m.part in {"chest", "bust"} and m.way in {"round", ""} and m.source is not Said.TEXT
    ]  # fmt: skip
    if rate is None or not chests or _NOT_ROUND.search(subject.source.text):
        return
    chest = next((m for m in chests if m.source is Said.FINISHED), chests[0])
    for way in subject.ways:
        round_ = chest.cm(subject.size_place(way.size))
        for part in wholes(subject, way, "yoke") if round_ else ():
            depth = rate.length_cm(worked_rows(part.worked))
            if depth is None or round_ is None or not _whole_yoke(part):
                continue
            numbers = round(depth), round(round_), round(_QUARTER * round_)
            yield way, depth, round_, Seen("yoke", part.worked[0].span, numbers, partial(_unlikely))


def _unlikely(numbers: tuple[str, ...]) -> YokeDepthUnlikely:
    return YokeDepthUnlikely(*numbers)


def _whole_yoke(part: Part) -> bool:
    """Whether it is knitted in the round, and far narrower at one end than at the other."""
    ends = [e.end for e in part.worked]
    rounds = sum(e.kind is Kind.ROUND for e in part.worked)
    return sure(part) and 2 * rounds > len(ends) > 2 and max(ends) >= 2 * min(ends[0], ends[-1])


def judge_yokes(subject: Subject) -> Answer:
    """C071: a motif that is cut was found while knitting, as a repeat that does not come out even."""
    if not speaks_of(subject, "yoke"):
        return Answer()
    places = 0
    fails = False
    wrong = [f.span.start for f in subject.found.get("C007", ())]
    for entry in _shaped(subject, _repeats(subject)):
        places += 1
        fails = fails or any(entry.span.start <= at <= entry.span.end for at in wrong)
    seen = []
    for way, depth, chest, one in _depths(subject):
        places += 1
        if not _LEAST <= depth / (_QUARTER * chest) <= _MOST and one.span.end >= 0:
            seen.append((way, one))
    return Answer(
        places=places,
        findings=tuple(over_sizes(subject, seen)),
        fails=fails,
        missing=not_read(subject) if places else None,
    )


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C071": judge_yokes}
