"""Family B, rows, rounds and sides: the words row and round. Row numbers stand in ``row_numbers``."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read, of_the_work, while_knitting
from purlwright.proof.row_numbers import judge_numbers
from purlwright.proof.subject import Subject, Way, at, here

__all__ = ["JUDGES", "RoundCalledRow", "WrongSideInRound"]


@dataclass(frozen=True, slots=True)
class RoundCalledRow:
    """Work in the round is called a row, or flat work a round.

    The word tells a knitter whether to turn at the end. Called by the wrong word, she turns joined work,
    or goes on round where she should turn back.

    Example: `Join to work in the round. Row 1: Knit.`

    Cure: say round where the work is joined, row where it is turned.
    """

    said: str
    is_: str
    many: int = 1

    code = "round-called-row"
    check = "C023"
    severity = Severity.WARNING

    def message(self) -> str:
        worked = "in the round" if self.is_ == "round" else "flat, back and forth"
        if self.many > 1:
            return f"{self.many} labels say {self.said} where the work is {worked}; this is the first."
        return f"This says {self.said}, but here the work is {worked}."

    def label(self) -> str:
        return f"this is a {self.is_}"

    def help(self) -> str | None:
        if self.said == "round":
            return 'Say "join to work in the round" where the work is joined, or call these rows.'
        return f"Say {self.is_} here."


@dataclass(frozen=True, slots=True)
class WrongSideInRound:
    """A round is said to be worked on the wrong side.

    In the round the right side faces all the time unless the work is turned inside out. A WS label makes a
    knitter turn and undo her round.

    Example: `Round 4 (WS): Purl.`

    Cure: take the WS away; or, if the work is turned, say so.
    """

    label_words: str

    code = "wrong-side-in-round"
    check = "C024"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.label_words} is called a WS round; in the round the right side faces all the time."

    def label(self) -> str:
        return "WS, in the round"

    def help(self) -> str | None:
        return "Take the WS away, or say that the work is turned."


# --- C023 and C024 --- --------------------------------------------------------------------------------------


_Working: TypeAlias = tuple[tree.Line, tree.Label, Kind]


def _first_workings(subject: Subject) -> list[tuple[Way, list[_Working]]]:
    """Each way, with each labelled line and how it was first worked; ask through ``subject.kept``."""
    out = []
    for way in subject.ways:
        seen: set[int] = set()
        found: list[_Working] = []
        for piece in way.knitted.ledger.pieces:
            before = None
            for entry in piece.rows:
                kind = entry.kind
                if (kind is _ROW or kind is _ROUND) and not entry.unread and entry.copied is None:
                    line = subject.line_of(entry)
                    label = line.label if line is not None else None
                    if line is not None and label is not None and line.offset not in seen:
                        seen.add(line.offset)
                        if not _neither(entry, before, label):
                            found.append((line, label, kind))
                before = entry
        out.append((way, found))
    return out


_ROW, _ROUND, _ROUND_UNIT = Kind.ROW, Kind.ROUND, tree.Unit.ROUND


_CORD = 6
"""A cord has no more stitches than this, and goes by rows though it is a tube: common practice, no source."""


def _neither(entry: Entry, before: Entry | None, label: tree.Label) -> bool:
    """Whether a row is no whole round, and not turned: up to where the next round begins; or a cord."""
    if entry.kind is _ROUND:
        return label.unit is tree.Unit.ROW and entry.start <= _CORD
    return before is not None and before.kind is _ROUND and entry.unworked > 0 and not entry.gaps


def _wrong_side_round(label: tree.Label) -> bool:
    """Whether a label says round and WS at once: worked as a row back, it is still a round to the reader."""
    return label.unit is tree.Unit.ROUND and label.side is tree.Side.WS


_ONE_LETTER = re.compile(r"\s*r\s?\d", re.IGNORECASE)
"""The label says neither in full: "R1", "r 3"."""


@of_the_work()
def judge_row_or_round(subject: Subject) -> Answer:
    """C023: one finding for each wrong word, at its first place, the others beside it."""
    places = 0
    wrong: dict[tuple[str, str], dict[int, tree.Line]] = {}
    for way, workings in subject.kept(_first_workings):
        amiss = subject.amiss(way)
        for line, label, kind in workings:
            unit = label.unit
            if unit is None or line.line in amiss or _wrong_side_round(label):
                continue
            if _ONE_LETTER.match(label.words):
                continue
            places += 1
            if (unit is _ROUND_UNIT) is not (kind is _ROUND):
                wrong.setdefault((unit.value, kind.value), {})[line.offset] = line
    findings = []
    for (said, is_), lines in wrong.items():
        first, *others = (lines[n] for n in sorted(lines))
        related = [here(line, f"a {is_} too") for line in others[:3]]
        span = first.label.span if first.label is not None else None
        findings.append(at(first, RoundCalledRow(said, is_, len(lines)), span, related))
    return Answer(places=places, findings=tuple(findings), missing=not_read(subject))


@of_the_work()
def judge_sides_in_round(subject: Subject) -> Answer:
    """C024."""
    places = 0

    workings = {id(way): found for way, found in subject.kept(_first_workings)}

    def judge(way: Way) -> Iterable[Finding]:
        nonlocal places
        for line, label, kind in workings[id(way)]:
            if kind is _ROUND or _wrong_side_round(label):
                places += 1
                if label.side is tree.Side.WS:
                    yield at(line, WrongSideInRound(label.words.strip()), label.span)

    findings = subject.each_way(judge)
    return Answer(places=places, findings=tuple(findings), missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    **{check: while_knitting(check) for check in ("C022", "C026")},
    "C020": judge_numbers,
    "C023": judge_row_or_round,
    "C024": judge_sides_in_round,
}
