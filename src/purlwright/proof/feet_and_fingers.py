"""Family G, socks and gloves: the foot has the stitches of the leg again, the fingers those of the hand."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.parts import Part, headings, parts, speaks_of, sure
from purlwright.proof.subject import Subject, Way, serves
from purlwright.proof.toes import toes
from purlwright.text import Span

__all__ = ["JUDGES", "FingerGapsDiffer", "FingerTooLong", "FootDiffersFromLeg", "GussetSidesDiffer"]

_SLIP = 3
"""A foot that is meant to be narrower than the leg is so by more than a slip of this size."""


@dataclass(frozen=True, slots=True)
class FootDiffersFromLeg:
    """After heel and gusset the foot has nearly, but not quite, the stitches of the leg.

    The gusset is decreased until the foot has the stitches of the leg again, so that the stitch pattern runs
    on and heel and toe lie in line. A foot that is meant to be narrower is narrower by four stitches or more,
    and in every size.

    Example: the leg has 64 stitches, and the gusset is decreased to 62.

    Cure: decrease (or increase) until the foot has as many as the leg; or say why it has not.
    """

    foot: str
    leg: str

    code = "foot-differs-from-leg"
    check = "C077"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"The leg has {self.leg} stitches, and past heel and gusset there are {self.foot}."

    def label(self) -> str:
        return f"{self.foot} sts; the leg has {self.leg}"

    def help(self) -> str | None:
        return f"Shape the gusset until there are {self.leg} stitches, or say why the foot differs."


@dataclass(frozen=True, slots=True)
class GussetSidesDiffer:
    """Along one side of the heel flap more stitches are picked up than along the other.

    Both sides of the flap have the same rows, and the decreases of the gusset take the same number from each.

    Example: 15 stitches are picked up along one side of the flap, 13 along the other.

    Cure: pick up the same number along both. One more in a corner, against a hole, is no matter.
    """

    one: str
    other: str

    code = "gusset-sides-differ"
    check = "C077"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.one} stitches are picked up along one side of the heel, and {self.other} along the other."
        )

    def label(self) -> str:
        return f"{self.other} here, {self.one} along the other side"

    def help(self) -> str | None:
        return f"Pick up {self.one} along both sides."


@dataclass(frozen=True, slots=True)
class FingerGapsDiffer:
    """Between two fingers more or fewer stitches are picked up than were cast on there.

    The stitches cast on between one finger and the next belong to both: the next finger picks them up. In
    this glove it does so everywhere but in one place.

    Example: 2 stitches are cast on between the fingers, and the ring finger picks up 3.

    Cure: pick up as many as were cast on.
    """

    finger: str
    picked: str
    cast_on: str

    code = "finger-gaps-differ"
    check = "C078"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.finger[0].upper()}{self.finger[1:]} picks up {self.picked} stitches where the finger "
            f"before it cast on {self.cast_on}; the other fingers do not."
        )

    def label(self) -> str:
        return f"{self.cast_on} were cast on here"

    def help(self) -> str | None:
        return f"Pick up {self.cast_on}, as between the other fingers."


# --- C077 ----------------------------------------------------------------------------------------

_HEEL = frozenset({"heel", "gusset", "flap"})
_FOOT = _HEEL | {"foot"}


@dataclass(frozen=True, slots=True)
class FingerTooLong:
    """A finger is worked for more rounds than one that is longer on every hand.

    The middle finger is the longest and the little finger the shortest. Two numbers have changed places, or
    one has slipped; the glove fits on three fingers.

    Example: 30 rounds for the little finger and 28 for the ring finger.

    Cure: look at the number of rounds of both fingers. (Common knowledge; no source.)
    """

    finger: str
    rounds: str
    longer: str
    others: str

    code = "finger-too-long"
    check = "C078"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.finger[0].upper()}{self.finger[1:]} has {self.rounds} rounds, and {self.longer}, which "
            f"is longer on every hand, {self.others}."
        )

    def label(self) -> str:
        return f"{self.rounds} rounds; {self.others} for {self.longer}"

    def help(self) -> str | None:
        return "Look at the number of rounds of both fingers."


_OF_HANDS = frozenset({"thumb", "hand", "mitten", "mitt", "glove", "finger"})


def _last_round(found: Sequence[Part]) -> Entry | None:
    return next((e for p in reversed(found) for e in reversed(p.rows) if e.kind is Kind.ROUND), None)


def _first_round(found: Sequence[Part]) -> Entry | None:
    return next((e for p in found for e in p.rows if e.kind is Kind.ROUND), None)


def _leg_and_foot(subject: Subject, way: Way) -> Iterator[tuple[Entry, Entry, bool]]:
    """The rounds before and after each heel, and whether the leg comes first."""
    of_piece: dict[int, list[Part]] = {}
    for part in parts(subject, way):
        of_piece.setdefault(part.piece, []).append(part)
    for found in of_piece.values():
        heels = [n for n, p in enumerate(found) if p.heading.own & _HEEL and not p.heading.roles & _OF_HANDS]
        if not heels or not all(sure(p) for p in found):
            continue
        after = found[heels[-1] + 1 :]
        down = not any(p.heading.own & {"toe", "foot"} for p in found[: heels[0]])
        before = _last_round(found[: heels[0]])
        if down:
            toe = next((n for n, p in enumerate(after) if "toe" in p.heading.own), len(after))
            there = _last_round([*found[heels[0] : heels[-1] + 1], *after[:toe]])
        else:
            there = _first_round(after) or _last_round(found[heels[0] : heels[-1] + 1])
        if before is not None and there is not None and not before.unworked and not there.unworked:
            yield before, there, down


def _feet(subject: Subject) -> tuple[int, list[tuple[Way, Seen]]]:
    found = [(way, *one) for way in subject.ways for one in _leg_and_foot(subject, way)]
    apart = [there.end - before.end for _, before, there, _ in found]
    same = apart.count(0) * 2 > len(apart)
    seen = []
    for (way, before, there, down), by in zip(found, apart, strict=True):
        if by and (same or abs(by) <= _SLIP) and there.span.end >= 0:
            foot, leg = (there.end, before.end) if down else (before.end, there.end)
            related = (Related(before.span, f"{before.end} stitches before the heel"),)
            seen.append((way, Seen("foot", there.span, (foot, leg), _foot_differs, related)))
    return len(found), seen


def _foot_differs(numbers: tuple[str, ...]) -> FootDiffersFromLeg:
    return FootDiffersFromLeg(*numbers)


def _two_sides(subject: Subject) -> Iterator[tuple[tree.Line, tree.PickUp, tree.PickUp]]:
    """Two pick-ups along a heel that stand in one section, first and second side."""
    for section, heading in zip(subject.pattern.sections, headings(subject), strict=True):
        if not heading.roles & _FOOT or heading.roles & _OF_HANDS:
            continue
        ups = [
            (line, node)
            for line in section.lines
            for node in tree.walk(line.actions)
            if isinstance(node, tree.PickUp) and node.count is not None
        ]
        if len(ups) == 2:
            yield ups[1][0], ups[0][1], ups[1][1]


def _gussets(subject: Subject, way: Way) -> Iterator[tuple[Way, Seen]]:
    size = subject.size_place(way.size)
    for line, one, other in _two_sides(subject):
        if one.count is None or other.count is None or not serves(line, way):
            continue
        numbers = one.count.at(size) or 0, other.count.at(size) or 0
        if abs(numbers[0] - numbers[1]) > 1:
            span = Span(other.span.start + line.offset, other.span.end + line.offset)
            yield way, Seen("gusset", span, numbers, _sides_differ)


def _sides_differ(numbers: tuple[str, ...]) -> GussetSidesDiffer:
    return GussetSidesDiffer(*numbers)


def judge_socks(subject: Subject) -> Answer:
    """C077."""
    if not speaks_of(subject, *_HEEL):
        return Answer()
    places, seen = _feet(subject)
    seen += [one for way in subject.ways for one in _gussets(subject, way)]
    if speaks_of(subject, "toe"):
        told = list(toes(subject))
        places += len(told)
        seen += [(way, one) for way, one, fits in told if not fits]
    findings = tuple(over_sizes(subject, seen))
    return Answer(places=places, findings=findings, missing=not_read(subject) if places else None)


# --- C078 ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Finger:
    """What the words of one finger cast on and pick up."""

    name: str
    line: tree.Line | None
    cast_on: tree.Number | None
    picked: tree.Number | None
    span: Span


def _fingers(subject: Subject) -> list[list[_Finger]]:
    """The fingers of each hand, in the order of the words."""
    hands: dict[tuple[int, ...], list[_Finger]] = {}
    for section, heading in zip(subject.pattern.sections, headings(subject), strict=True):
        if "finger" not in heading.own:
            continue
        cast_on = picked = line_of = None
        span = section.span
        for line in section.lines:
            for node in tree.walk(line.actions):
                if isinstance(node, tree.CastOn):
                    cast_on = node.count
                elif isinstance(node, tree.PickUp):
                    picked, line_of = node.count, line
                    span = Span(node.span.start + line.offset, node.span.end + line.offset)
        name = "the " + " ".join(heading.words.split()).lower()
        hands.setdefault(heading.above, []).append(_Finger(name, line_of, cast_on, picked, span))
    return list(hands.values())


def _gaps(subject: Subject, way: Way) -> list[tuple[_Finger, int, int]]:
    """Each finger with what it picks up, and what the finger before it cast on."""
    size = subject.size_place(way.size)
    out = []
    for hand in _fingers(subject):
        for before, finger in pairwise(hand):
            if before.cast_on is not None and finger.picked is not None:
                out.append((finger, finger.picked.at(size) or 0, before.cast_on.at(size) or 0))
    return out


_KINDS_OF_FINGER = re.compile(r"\b(?P<which>little|ring|middle|index)\b", re.IGNORECASE)


def _too_long(subject: Subject, way: Way) -> Iterator[Seen]:
    """Fingers with more rounds than the middle finger of their hand, or fewer than its little finger."""
    hands: dict[tuple[int, ...], dict[str, Part]] = {}
    for part in parts(subject, way):
        m = _KINDS_OF_FINGER.search(part.heading.words)
        if m is not None and "finger" in part.heading.own and sure(part) and part.worked:
            hands.setdefault(part.heading.above, {}).setdefault(m["which"].lower(), part)
    for fingers in hands.values():
        longest, shortest = fingers.get("middle"), fingers.get("little")
        pairs = [(f, longest) for f in fingers.values()] + [(shortest, f) for f in fingers.values()]
        for short, long in pairs:
            if short is None or long is None or len(short.worked) <= len(long.worked):
                continue
            name, other = short.name, long.name
            numbers = len(short.worked), len(long.worked)
            yield Seen((name, other), short.worked[0].span, numbers, partial(_told_too_long, name, other))
            return


def _told_too_long(name: str, other: str, numbers: tuple[str, ...]) -> FingerTooLong:
    return FingerTooLong(name, numbers[0], other, numbers[1])


def judge_gloves(subject: Subject) -> Answer:
    """C078: what is taken from the hand was counted while knitting; here, what lies between the fingers, and
    which is the longest.
    """
    if not speaks_of(subject, "finger"):
        return Answer()
    every = [(way, *gap) for way in subject.ways for gap in _gaps(subject, way)]
    usual, often = Counter(a - b for _, _, a, b in every).most_common(1)[0] if every else (0, 0)
    seen = []
    if often * 2 > len(every) and len(every) > 2:
        for way, finger, picked, cast_on in every:
            if picked - cast_on != usual:
                told = Seen(finger.name, finger.span, (picked, cast_on), _gap_differs(finger.name))
                seen.append((way, told))
    seen += [(way, one) for way in subject.ways for one in _too_long(subject, way)]
    places = sum(1 for way in subject.ways for p in parts(subject, way) if "finger" in p.heading.own)
    left = {"left-on-hold", "nothing-held", "held-differs"}
    return Answer(
        places=places,
        findings=tuple(over_sizes(subject, seen)),
        fails=any(f.code in left and _in_a_finger(subject, f) for f in subject.findings),
        missing=not_read(subject),
    )


def _gap_differs(name: str) -> Callable[[tuple[str, ...]], FingerGapsDiffer]:
    return lambda numbers: FingerGapsDiffer(name, *numbers)


def _in_a_finger(subject: Subject, finding: Finding) -> bool:
    at = finding.span.start
    return any(
        section.lines
        and section.lines[0].offset <= at <= section.lines[-1].offset + len(section.lines[-1].text)
        for section, heading in zip(subject.pattern.sections, headings(subject), strict=True)
        if heading.roles & {"finger", "hand", "glove"} and "thumb" not in heading.own
    )


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C077": judge_socks, "C078": judge_gloves}
