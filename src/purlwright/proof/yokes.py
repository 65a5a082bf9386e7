"""Family G, yokes: every shaping round of a yoke leaves a whole number of motifs."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise

from purlwright.needles.ledger import Entry
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read
from purlwright.proof.parts import speaks_of, wholes
from purlwright.proof.subject import Subject

__all__ = ["JUDGES"]


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
    return Answer(places=places, fails=fails, missing=not_read(subject) if places else None)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C071": judge_yokes}
