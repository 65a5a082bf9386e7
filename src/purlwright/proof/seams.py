"""Family G, seams: side seams, shoulders, underarms, raglan lines, and the sleeve cap in its armhole."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import NamedTuple

from purlwright.findings import Finding, Problem, Related, Severity
from purlwright.needles.ledger import ROWS, Entry
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.outline import Outline, outline
from purlwright.proof.parts import Part, speaks_of, sure, wholes
from purlwright.proof.sleeve_seams import sleeve_edges
from purlwright.proof.subject import Subject, Way
from purlwright.proof.where_longer import words_that_differ

__all__ = ["JUDGES", "ArmholesDiffer", "RaglansDiffer", "ShouldersDiffer", "SideSeamsDiffer", "outlines"]

_ROW_LATER = 2
"""One side of a piece may begin or end a row or two later than another and still be sewn to it."""


@dataclass(frozen=True, slots=True)
class SideSeamsDiffer:
    """Two pieces that are sewn together at the side have not as many rows up to the underarm.

    A side seam joins row to row. Where one piece has more rows than the other, the longer one puckers along
    the whole seam, or the armholes do not meet.

    Example: the back is worked for 110 rows to the underarm, the front for 100.

    Cure: work both for the same number of rows; or say that one is meant to be longer.
    """

    here: str
    there: str
    rows: str
    others: str

    code = "side-seams-differ"
    check = "C072"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{_begin(self.here)} has {self.rows} rows from the cast-on to the underarm, and {self.there} "
            f"{self.others}; the side seam joins row to row."
        )

    def label(self) -> str:
        return f"after {self.rows} rows; {self.others} in {self.there}"

    def help(self) -> str | None:
        return f"Work {self.others} rows to the underarm, or say that one piece is longer."


@dataclass(frozen=True, slots=True)
class ShouldersDiffer:
    """Front and back come to the shoulder with different numbers of stitches.

    Shoulders are sewn, grafted or bound off together stitch to stitch. A few stitches that are left over end
    up in the neck, which is then wider on one side of the seam than on the other.

    Example: 22 stitches are bound off for each back shoulder, 20 for each front shoulder.

    Cure: bring front and back to the same number of stitches; look at the neck and armhole shaping of both.
    """

    here: str
    there: str
    stitches: str
    others: str

    code = "shoulders-differ"
    check = "C073"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{_begin(self.here)} comes to the shoulder with {self.stitches} stitches, "
            f"{self.there} with {self.others}."
        )

    def label(self) -> str:
        return f"{self.stitches} sts here, {self.others} in {self.there}"

    def help(self) -> str | None:
        return f"Look at the shaping before it: both shoulders of a seam need {self.others} stitches."


@dataclass(frozen=True, slots=True)
class ArmholesDiffer:
    """Front and back have different numbers of rows between the underarm and the shoulder.

    The two edges make one armhole and meet in the shoulder seam; with more rows in one, the seam lies askew
    and the sleeve hangs from one side.

    Example: the back has 50 rows from the underarm to the shoulder, the front 56.

    Cure: work both for the same number of rows; or say that the shoulder seam is meant to lie forward.
    """

    here: str
    there: str
    rows: str
    others: str

    code = "armholes-differ"
    check = "C073"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{_begin(self.here)} has {self.rows} rows from the underarm to the shoulder, "
            f"and {self.there} {self.others}."
        )

    def label(self) -> str:
        return f"{self.rows} rows deep; {self.others} in {self.there}"

    def help(self) -> str | None:
        return (
            f"Work {self.others} rows from the underarm to the shoulder, or say that the seam lies forward."
        )


@dataclass(frozen=True, slots=True)
class RaglansDiffer:
    """The two sides of a raglan line have different numbers of rows.

    A raglan seam joins the slope of the sleeve to that of the body row to row, from the underarm to the neck.

    Example: the back has 48 rows from the underarm to the neck, the sleeve 40.

    Cure: shape both over the same number of rows.
    """

    here: str
    there: str
    rows: str
    others: str

    code = "raglan-rows-differ"
    check = "C070"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{_begin(self.here)} has {self.rows} rows along its raglan line, and {self.there}, "
            f"to which it is sewn, {self.others}."
        )

    def label(self) -> str:
        return f"{self.rows} rows; {self.others} in {self.there}"

    def help(self) -> str | None:
        return "Shape both over the same number of rows from the underarm to the neck."


def _begin(words: str) -> str:
    return words[0].upper() + words[1:]


# --- the pieces ----------------------------------------------------------------------------------


class Outlines(NamedTuple):
    """The outlines of one knitting."""

    backs: list[Outline]
    fronts: list[Outline]
    sleeves: list[Outline]


def outlines(subject: Subject, way: Way) -> Outlines:
    """What is knitted as back, front and sleeve in one way, each from its cast-on."""
    return subject.once(("outlines", way.size, way.options), lambda: _outlines(subject, way))


def _outlines(subject: Subject, way: Way) -> Outlines:
    out = Outlines([], [], [])
    for role, kept in (("back", out.backs), ("front", out.fronts), ("sleeve", out.sleeves)):
        for part in wholes(subject, way, role):
            got = outline(subject, way, part) if sure(part) else None
            if got is not None and (got.cast_on or _goes_up(part, kept)):
                kept.append(got)
    return out


_SIDE = re.compile(r"\b(?:sides?|neck|shoulders?)\b", re.IGNORECASE)


def _goes_up(part: Part, before: list[Outline]) -> bool:
    """Whether a part from held stitches is all that is left of a front or back, and no side of its neck."""
    if "sleeve" in part.heading.own or _SIDE.search(part.heading.words):
        return False
    return all(o.part.heading is not part.heading for o in before)


def _bodies(found: Outlines) -> Iterator[tuple[Outline, Outline]]:
    """Each front with the back it is sewn to."""
    if found.backs:
        for front in found.fronts:
            if "back" not in front.part.heading.own:
                yield front, found.backs[0]


def _begun(one: Outline, other: Outline) -> bool:
    """Whether both are cast on and have an underarm."""
    return bool(one.cast_on and other.cast_on and one.start and other.start)


def _both_to_the_top(one: Outline, other: Outline) -> bool:
    """Whether both are worked to their end, from the same height."""
    return one.whole and other.whole and bool(one.cast_on) == bool(other.cast_on)


_LONGER = re.compile(
    r"\b(?:longer|shorter|split hem|side (?:vent|slit)s?|shirt-?tail|high[ -]low|forward|saddle|dolman"
    r"|wraps? over)\b",
    re.IGNORECASE,
)


def _said_to_differ(subject: Subject) -> bool:
    return subject.once("longer", lambda: _LONGER.search(subject.source.text) is not None)


def _pieces(subject: Subject) -> bool:
    return speaks_of(subject, "back", "front", "sleeve")


# --- C072 and C073 -------------------------------------------------------------------------------


def _seen(
    key: str,
    say: Callable[[str, str, str, str], Problem],
    pair: tuple[Outline, Outline],
    at: tuple[Entry | None, Entry | None],
    numbers: tuple[int, int],
) -> Iterator[Seen]:
    """The second of a pair beside the first, told where both have words."""
    here, there = at
    if here is None or there is None or here.span.end < 0 or there.span.end < 0:
        return
    names = pair[0].part.name, pair[1].part.name
    told = partial(_with_numbers, say, names)
    related = (Related(there.span, f"{names[1]}"),)
    yield Seen((key, *names), here.span, numbers, told, related)


def _with_numbers(
    say: Callable[[str, str, str, str], Problem], names: tuple[str, str], numbers: tuple[str, ...]
) -> Problem:
    return say(names[0], names[1], numbers[0], numbers[1])


def _side_seams(subject: Subject, way: Way) -> Iterator[tuple[Way, Seen]]:
    for front, back in _bodies(outlines(subject, way)):
        if _begun(front, back) and abs(front.start - back.start) > _ROW_LATER:
            at, rows = (front.first, back.first), (front.start - 1, back.start - 1)
            upto = _rows(front)[: rows[0]], _rows(back)[: rows[1]]
            for one in _seen("side", SideSeamsDiffer, (front, back), at, rows):
                yield way, _placed(subject, one, upto)


def _rows(one: Outline) -> list[Entry]:
    return [e for e in one.part.rows if e.kind in ROWS]


def _placed(subject: Subject, one: Seen, rows: tuple[Sequence[Entry], Sequence[Entry]]) -> Seen:
    """The same, at the words that make the difference, if they can be told."""
    span = words_that_differ(subject, *rows)
    return one if span is None else one._replace(span=span)


def _sewn_edges(subject: Subject, way: Way) -> Iterator[tuple[Way, Seen]]:
    yield from _side_seams(subject, way)
    yield from sleeve_edges(way, outlines(subject, way).sleeves)


def judge_seams(subject: Subject) -> Answer:
    """C072: side seams row to row, the two edges of a sleeve; what is grafted or bound off together was
    compared while knitting, shoulders are C073's.
    """
    closes = [node for _, node in subject.nodes(tree.Close) if node.how != "seam"]
    places = len(closes) * len(subject.ways)
    fails = bool(closes) and any(f.code == "join-differs" for f in subject.findings)
    findings: list[Finding] = []
    if _pieces(subject):
        places += _count(subject, lambda found: sum(_begun(*both) for both in _bodies(found)))
        places += _count(subject, lambda found: sum(bool(s.cast_on) for s in found.sleeves))
        if not _said_to_differ(subject):
            findings = over_sizes(subject, _in_every_way(subject, _sewn_edges))
    return Answer(
        places=places, findings=tuple(findings), fails=fails, missing=not_read(subject) if places else None
    )


def _in_every_way(
    subject: Subject, look: Callable[[Subject, Way], Iterable[tuple[Way, Seen]]]
) -> Iterator[tuple[Way, Seen]]:
    return (one for way in subject.ways for one in look(subject, way))


def _count(subject: Subject, count: Callable[[Outlines], int]) -> int:
    return sum(count(outlines(subject, way)) for way in subject.ways)


def _shoulders(subject: Subject, way: Way) -> Iterator[tuple[Way, Seen]]:
    for front, back in _bodies(outlines(subject, way)):
        if not _both_to_the_top(front, back):
            continue
        pair, at = (front, back), (front.last, back.last)
        if front.shoulder is not None and back.shoulder is not None and front.shoulder != back.shoulder:
            both = front.shoulder, back.shoulder
            for one in _seen("shoulder", ShouldersDiffer, pair, at, both):
                yield way, one
        if front.start and back.start and abs(front.depth - back.depth) > _ROW_LATER:
            above = tuple(_rows(o)[o.start : o.top] for o in pair)
            for one in _seen("armhole", ArmholesDiffer, pair, at, (front.depth, back.depth)):
                yield way, _placed(subject, one, (above[0], above[1]))


def judge_shoulders(subject: Subject) -> Answer:
    """C073."""
    if not _pieces(subject) or _raglan(subject):
        return Answer()
    places = _count(subject, lambda found: sum(_both_to_the_top(*both) for both in _bodies(found)))
    if not places:
        return Answer()
    seen = () if _said_to_differ(subject) else _in_every_way(subject, _shoulders)
    return Answer(places=places, findings=tuple(over_sizes(subject, seen)), missing=not_read(subject))


# --- C070 ----------------------------------------------------------------------------------------


def _raglan(subject: Subject) -> bool:
    return subject.once("raglan", lambda: "raglan" in subject.source.text.lower())


def _raglan_lines(subject: Subject, way: Way) -> Iterator[tuple[Way, Seen]]:
    found = outlines(subject, way)
    for sleeve in found.sleeves:
        back = found.backs[0] if found.backs else None
        if back is None or not (_begun(sleeve, back) and _both_to_the_top(sleeve, back)):
            continue
        rows = sleeve.rows - sleeve.start, back.rows - back.start
        if abs(rows[0] - rows[1]) > _ROW_LATER:
            at = sleeve.part.rows[-1], back.part.rows[-1]
            above = _rows(sleeve)[sleeve.start :], _rows(back)[back.start :]
            for one in _seen("raglan", RaglansDiffer, (sleeve, back), at, rows):
                yield way, _placed(subject, one, above)


def judge_raglans(subject: Subject) -> Answer:
    """C070: sleeve and back have the same rows; worked in one piece they cannot differ."""
    if not _raglan(subject):
        return Answer()
    sewn = _count(subject, lambda f: sum(_begun(s, b) for b in f.backs[:1] for s in f.sleeves))
    if sewn:
        found = over_sizes(subject, _in_every_way(subject, _raglan_lines))
        return Answer(places=sewn, findings=tuple(found), missing=not_read(subject))
    whole = sum(1 for way in subject.ways for p in wholes(subject, way, "yoke", "raglan") if p.worked)
    return Answer(places=whole, missing=not_read(subject) if whole else None)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C070": judge_raglans,
    "C072": judge_seams,
    "C073": judge_shoulders,
}
