"""Family G, sleeves: the cap is as long as its armhole, and sleeve and body agree at the underarm."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import NamedTuple, TypeAlias

from purlwright.findings import Related, Severity
from purlwright.needles.ledger import Entry
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.outline import Outline, edge_length
from purlwright.proof.parts import headings, speaks_of
from purlwright.proof.rates import Rate, rates
from purlwright.proof.seams import outlines
from purlwright.proof.subject import Subject, Way, serves
from purlwright.text import Span

__all__ = ["JUDGES", "CapDiffersFromArmhole", "UnderarmsDiffer", "main_rate"]

_SHORT_CM, _SHORT_SHARE = 4.0, 0.1
_LONG_CM, _LONG_SHARE = 6.0, 0.15
_EASED_IN = 0.25


@dataclass(frozen=True, slots=True)
class CapDiffersFromArmhole:
    """The edge of the sleeve cap is not as long as the armhole it is set into.

    Both edges are reckoned from the bind-offs, decreases and rows at the pattern's gauge, the slopes measured
    along the slope. A cap is eased in by up to an inch or two; a cap that is shorter than the armhole draws
    the shoulder in and cannot be eased at all.

    Allowed: 4 cm or 10 % too short, 6 cm or 15 % too long, up to a quarter too long with a note: steps eased
    in take up some of it; common practice, no source.

    Example: a cap of 34 cm along its edge for an armhole of 44 cm.

    Cure: shape the cap over more rows (or fewer), or change the stitches bound off at its top.
    """

    cap: str
    armhole: str
    little: bool = False

    code = "cap-differs-from-armhole"
    check = "C068"

    @property
    def severity(self) -> Severity:
        return Severity.NOTE if self.little else Severity.WARNING

    def message(self) -> str:
        return f"At the gauge the cap is {self.cap} cm long at its edge, and the armhole {self.armhole} cm."

    def label(self) -> str:
        return f"{self.cap} cm along the cap; {self.armhole} cm round the armhole"

    def help(self) -> str | None:
        return "Shape the cap over more or fewer rows, until its edge is as long as the armhole."


@dataclass(frozen=True, slots=True)
class UnderarmsDiffer:
    """Sleeve and body do not have the same number of stitches at the underarm.

    Stitches bound off, held or cast on at the underarm of the body meet those of the sleeve one to one:
    sewn, grafted, or picked up. Where one has more, there is a hole or a pucker under the arm.

    Example: 6 stitches are cast on for each underarm, and 8 are picked up from them for the sleeve.

    Cure: give both the same number of stitches in every size.
    """

    sleeve: str
    body: str
    few: bool = False

    code = "underarms-differ"
    check = "C069"

    @property
    def severity(self) -> Severity:
        return Severity.NOTE if self.few else Severity.WARNING

    def message(self) -> str:
        return f"At the underarm the sleeve has {self.sleeve} stitches, and the body {self.body}."

    def label(self) -> str:
        return f"{self.sleeve} sts at the sleeve; {self.body} at the body"

    def help(self) -> str | None:
        return "Give sleeve and body the same number of stitches at the underarm in every size."


# --- C068 ----------------------------------------------------------------------------------------

_EASED = re.compile(r"\b(?:puff|gather|pleat|full(?:ness)?|eas(?:e|ing) in)", re.IGNORECASE)
_RAGLAN = re.compile(r"\b(?:raglan|saddle)", re.IGNORECASE)


def main_rate(subject: Subject) -> Rate | None:
    """The gauge of the main fabric: the first that counts stitches and rows, and is none of a border."""
    counted = [r for r in subject.kept(rates) if r.stitches and r.rows]
    return next((r for r in counted if r.ground not in {"rib", "garter"}), counted[0] if counted else None)


def _edges(sleeve: Outline, back: Outline, rate: Rate) -> tuple[float, float]:
    """Length of the cap's edge and of the armhole, in cm."""
    stitch, row = float(1 / (rate.stitches or 1)), float(1 / (rate.rows or 1))
    cap = sleeve.end * stitch + sum(
        edge_length(side, sleeve.start, sleeve.rows, stitch, row) for side in (sleeve.right, sleeve.left)
    )
    armhole = sum(
        edge_length(side, back.start, back.top - 1, stitch, row) for side in (back.right, back.left)
    )
    return cap, armhole


def _caps(subject: Subject, way: Way, rate: Rate) -> Iterator[tuple[Way, Seen]]:
    eased = _EASED.search(subject.source.text) is not None
    for sleeve, back in _set_in(subject, way):
        cap, armhole = _edges(sleeve, back, rate)
        short = armhole - cap > max(_SHORT_CM, _SHORT_SHARE * armhole)
        long = cap - armhole > max(_LONG_CM, _LONG_SHARE * armhole) and not eased
        if (short or long) and sleeve.first is not None and back.first is not None:
            related = (Related(back.first.span, "the armhole begins here"),)
            numbers = round(cap), round(armhole)
            little = 0 < cap - armhole <= _EASED_IN * armhole
            say = partial(_cap_differs, little)
            where = _depth_words(subject, sleeve, sleeve.first)
            yield way, Seen(("cap", little), where, numbers, say, related)


def _depth_words(subject: Subject, sleeve: Outline, first: Entry) -> Span:
    """The words that give the depth of the cap in cm or inches; its first bind-off if none do."""
    for entry in sleeve.part.rows:
        line = subject.line_of(entry) if entry.order > first.order else None
        stops = () if line is None else tree.walk(line.actions)
        for node in stops:
            if isinstance(node, tree.Until) and node.length is not None and node.span.end >= 0 and line:
                return Span(node.span.start + line.offset, node.span.end + line.offset)
    return first.span


def _cap_differs(little: bool, numbers: tuple[str, ...]) -> CapDiffersFromArmhole:
    return CapDiffersFromArmhole(numbers[0], numbers[1], little)


def _set_in(subject: Subject, way: Way) -> Iterator[tuple[Outline, Outline]]:
    """Each sleeve with a cap, and the back with its armhole. Raglan caps are sewn row to row: C070."""
    if _RAGLAN.search(subject.source.text):
        return
    found = outlines(subject, way)
    whole = [
        b
        for b in found.backs
        if b.cast_on
        and b.whole
        and b.start
        and not any(e.held for e in b.part.rows)
        and not b.part.heading.hand
    ]
    for sleeve in found.sleeves:
        if whole and sleeve.whole and sleeve.start and sleeve.end and sleeve.rows - sleeve.start > 4:
            yield sleeve, whole[0]


def judge_caps(subject: Subject) -> Answer:
    """C068."""
    if not speaks_of(subject, "sleeve"):
        return Answer()
    places = sum(1 for way in subject.ways for _ in _set_in(subject, way))
    if not places:
        return Answer()
    rate = main_rate(subject)
    if rate is None:
        return Answer(places=0, missing="a gauge of stitches and rows")
    findings = over_sizes(subject, (one for way in subject.ways for one in _caps(subject, way, rate)))
    return Answer(places=places, findings=tuple(findings), missing=not_read(subject))


# --- C069 ----------------------------------------------------------------------------------------

_UNDERARM = re.compile(r"\bunder-?arms?\b", re.IGNORECASE)


class Amount(NamedTuple):
    """A number of stitches at the underarm, and where it is told."""

    number: tree.Number
    span: Span
    line: tree.Line
    sleeve: int
    """Which heading of a sleeve it stands under, by its place; -1 for the body."""


def _amounts(subject: Subject) -> tuple[list[Amount], list[Amount]]:
    """What lines about the underarm bind off, hold, cast on or pick up: for the sleeves, for the body."""
    sleeves: list[Amount] = []
    body: list[Amount] = []
    known = headings(subject)
    for section, heading in zip(subject.pattern.sections, known, strict=True):
        above = (*heading.above, heading.place)
        sleeve = next((n for n in above if "sleeve" in known[n].own), -1)
        kept = body if sleeve < 0 else sleeves
        for line in section.lines:
            if not _UNDERARM.search(line.text):
                continue
            for node in tree.walk(line.actions):
                if (
                    not isinstance(node, tree.BindOff | tree.CastOn | tree.PickUp | tree.Hold)
                    or node.count is None
                ):
                    continue
                if isinstance(node, tree.Hold) and "sleeve" in line.text.lower():
                    continue  # the sleeve's own stitches wait
                span = Span(node.span.start + line.offset, node.span.end + line.offset)
                kept.append(Amount(node.count, span, line, sleeve))
    return sleeves, body


def _underarms(subject: Subject) -> Iterator[tuple[Way, int, int, Amount, Amount]]:
    """For each way the underarm stitches of one sleeve and of one side of the body."""
    sleeves, body = _amounts(subject)
    for way in subject.ways:
        size = subject.size_place(way.size)
        of_each: dict[int, list[Amount]] = {}
        for a in sleeves:
            if serves(a.line, way):
                of_each.setdefault(a.sleeve, []).append(a)
        theirs = [a for a in body if serves(a.line, way)]
        numbers = {a.number.at(size) or 0 for a in theirs}
        if len(numbers) == 1:
            for mine in of_each.values():
                yield way, sum(a.number.at(size) or 0 for a in mine), max(numbers), mine[0], theirs[0]


def _sewn(subject: Subject) -> Iterator[tuple[Way, int, int, Outline, Outline]]:
    """For each way the underarm bind-offs of a sleeve's cap and of the back's armhole."""
    for way in subject.ways:
        found = outlines(subject, way)
        if found.sleeves and found.backs:
            sleeve, back = found.sleeves[0], found.backs[0]
            if sleeve.underarm and back.underarm and sleeve.rows - sleeve.start > 4:
                yield way, sleeve.underarm, back.underarm, sleeve, back


def judge_underarms(subject: Subject) -> Answer:
    """C069: what is picked up or joined is compared number for number, what is sewn from size to size."""
    if not speaks_of(subject, "sleeve"):
        return Answer()
    met: list[_Underarm] = [(w, n, m, a.span, b.span) for w, n, m, a, b in _underarms(subject)]
    joined = bool(met)
    if not joined:
        for way, mine, theirs, a, b in _sewn(subject):
            if a.first is not None and b.first is not None:
                met.append((way, mine, theirs, a.first.span, b.first.span))
    seen = (
        (way, Seen("underarm", at, (mine, theirs), partial(_differ, few), (Related(there, "at the body"),)))
        for (way, mine, theirs, at, there), few in _unlike(met, joined=joined)
    )
    findings = tuple(over_sizes(subject, seen))
    return Answer(places=len(met), findings=findings, missing=not_read(subject) if met else None)


_Underarm: TypeAlias = tuple[Way, int, int, Span, Span]
_TO_CLOSE_A_HOLE = range(5)
"""So many more are picked up than were cast on, to close the corners: common practice, no source."""


def _unlike(met: list[_Underarm], *, joined: bool) -> Iterator[tuple[_Underarm, bool]]:
    """Underarms that differ, and whether it may be meant so: a seam that differs alike in every size."""
    apart = [mine - theirs for _, mine, theirs, _, _ in met]
    usual = Counter(apart).most_common(1)[0][0] if apart else 0
    for one, by in zip(met, apart, strict=True):
        if by == 0 or (joined and usual and by in _TO_CLOSE_A_HOLE):
            continue
        yield one, not joined and len(set(apart)) == 1


def _differ(few: bool, numbers: tuple[str, ...]) -> UnderarmsDiffer:
    return UnderarmsDiffer(numbers[0], numbers[1], few)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C068": judge_caps, "C069": judge_underarms}
