"""Family G, what tables of bodies decide: openings, rounds, sleeves, and where thumb and heel stand.

In: a subject of the proof. Out: judges, handed to the proof by ``workup``; each goes on where the proof's
own judge of the same check says that a table is missing. How a piece is worn is told from its title and
headings.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction
from functools import cache

from purlwright.findings import Finding
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern import tree
from purlwright.proof import bodies as grossly
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.bodies import ArmholeGrowsTooFast, FarFromBody
from purlwright.proof.fit_problems import OpeningTooSmall, PlaceOffBody, SleeveTooNarrow
from purlwright.proof.measures import Said, stated
from purlwright.proof.parts import Part, headings, parts
from purlwright.proof.rates import Rate
from purlwright.proof.sleeves import main_rate
from purlwright.proof.subject import Subject, Way
from purlwright.sizing.bodies import GROUPS, Body, Size, bodies, heads_hands_feet
from purlwright.text import Span

__all__ = ["JUDGES"]

STRETCH, RIB_STRETCH = Fraction(3, 2), Fraction(2)
"""An edge stretches to so many times its width, one in rib to so many; common practice, no source."""
WHOM = "whom it is to fit, in a line like To fit: chest 97 cm"
_HAT = re.compile(r"\b(?:hats?|caps?|beanie|bonnet|helmet|headband)\b", re.IGNORECASE)
_LOOSE = re.compile(r"\b(?:tams?|beret|slouch\w*|doll|teddy|toy|egg)\b", re.IGNORECASE)
_SOCK = re.compile(r"\b(?:socks?|stockings?(?! st))\b", re.IGNORECASE)
_MITTEN = re.compile(r"\b(?:mitt(?:en)?s?|gloves?|wristers?)\b", re.IGNORECASE)
_OVER_HEAD = re.compile(r"\b(?:pullover|sweater|jumper|jersey|gansey)\b", re.IGNORECASE)
_OPENS = re.compile(
    r"\b(?:cardigans?|jackets?|buttons?|buttonholes?|plackets?|zips?|zippers?)\b", re.IGNORECASE
)
_NECK = re.compile(r"\bneck(?:band)?\b", re.IGNORECASE)
_PARTS = {"head": _HAT, "foot": _SOCK, "hand": _MITTEN}
_LIMITS = {"head": ("6/10", "5/4"), "foot": ("6/10", "6/5"), "hand": ("7/10", "3/2")}
"""Of the body round, at the gauge; common practice, no source."""
_NAMES = {"head": "hat", "foot": "sock", "hand": "mitten"}


def _names(subject: Subject) -> str:
    return subject.once(
        "names", lambda: " / ".join((subject.pattern.title, *(h.words for h in headings(subject))))
    )


def _part_of(subject: Subject) -> str:
    """Head, foot or hand, by the title and headings; "" for anything else, or what is worn loosely."""
    words = _names(subject)
    fits = {m.part for m in subject.kept(stated) if m.source is Said.BODY}
    if one := fits & set(_PARTS):
        return one.pop() if len(one) == 1 and not _LOOSE.search(words) else ""
    if _LOOSE.search(words) or _OVER_HEAD.search(subject.pattern.title):
        return ""
    return next((part for part, said in _PARTS.items() if said.search(words)), "")


def _to_fit(subject: Subject, part: str, size: int) -> Fraction | None:
    """The body round, in cm, that the header is to fit."""
    known = {part, "", "bust"} if part == "chest" else {part, ""}
    for m in subject.kept(stated):
        if m.source is Said.BODY and m.part in known and m.way in {"round", ""}:
            found = m.cm(size)
            if found is not None:
                return found
    return None


@cache
def _range_of(part: str) -> tuple[Fraction, Fraction]:
    """The smallest and the largest of a table, in cm; the rows from memory too, for a range that is narrower
    than people are blames what fits.
    """
    sizes = [b.measures["circumference"] for b in heads_hands_feet(part) if "circumference" in b.measures]
    return min(s.least_mm for s in sizes) / 10, max(s.most_mm for s in sizes) / 10


@cache
def _everybody() -> tuple[Body, ...]:
    return tuple(b for group in GROUPS for b in bodies(group) if "chest" in b.measures)


def _arm_of(chest_cm: Fraction) -> Size | None:
    """The slimmest arm that the tables know of for about such a chest."""
    near = [
        b.measures["upper arm"]
        for b in _everybody()
        if "upper arm" in b.measures and abs(b.size("chest").mm / 10 - chest_cm) <= 5
    ]
    return min(near, key=lambda size: size.mm, default=None)


def _rounds(subject: Subject, way: Way) -> list[Entry]:
    return [e for p in parts(subject, way) for e in p.rows if e.kind is Kind.ROUND and e.end]


def _plain_round(rounds: list[Entry]) -> Entry | None:
    """The first round of the count that is worked most often: the body of a hat, the leg and foot of a
    sock. Fingers, thumbs and tips, less than half as wide as the widest, are no such round.
    """
    widest = max((e.end for e in rounds), default=0)
    counts = Counter(e.end for e in rounds if 2 * e.end >= widest)
    if not counts:
        return None
    most = max(counts, key=lambda n: (counts[n], n))
    return next(e for e in rounds if e.end == most)


def _rate(subject: Subject) -> Rate | None:
    rate = main_rate(subject)
    return rate if rate is not None and rate.sure else None


# --- C066 ----------------------------------------------------------------------------------------


def judge_round_the_body(subject: Subject) -> Answer:
    """C066: hats, socks and mittens by the rounds knitted; other pieces as the proof itself judges them."""
    first = grossly.judge_round_the_body(subject)
    part = _part_of(subject)
    if first.missing is None or not part:
        return first
    rate = _rate(subject)
    if rate is None:
        return Answer(missing="a gauge of stitches and rows")
    low, high = (Fraction(x) for x in _LIMITS[part])
    places = 0
    seen = []
    for way in subject.ways:
        size = subject.size_place(way.size)
        entry = _plain_round(_rounds(subject, way))
        span, cm = _finished(subject, size)
        if entry is not None:
            span, cm = entry.span, rate.width_cm(entry.end)
        if cm is None or span is None:
            return Answer(missing="rounds that go about the body")
        places += 1
        body = _to_fit(subject, part, size)
        least, most = (body, body) if body is not None else _range_of(part)
        if not low * least <= cm <= high * most:
            said = _cm(least) if body is not None else f"{_cm(least)} to {_cm(most)}"
            seen.append((way, Seen(part, span, (round(cm),), _far(part, said))))
    missing = not_read(subject)
    return Answer(places=places, findings=tuple(over_sizes(subject, seen)), missing=missing)


def _finished(subject: Subject, size: int) -> tuple[Span | None, Fraction | None]:
    """What the header says a piece worked sideways is round, where no round can be counted."""
    for m in subject.kept(stated):
        if m.source is Said.FINISHED and m.way == "round" and m.cm(size) is not None:
            return m.span, m.cm(size)
    return None, None


def _far(part: str, body: str) -> Callable[[tuple[str, ...]], FarFromBody]:
    return lambda numbers: FarFromBody(_NAMES[part], numbers[0], body)


def _cm(value: Fraction) -> str:
    return f"{float(value):.1f}".removesuffix(".0")


# --- C065 ----------------------------------------------------------------------------------------


_EDGE_ROUNDS = 4
"""The rounds at the edge of a brim that tell whether it is ribbed."""


def _ribbed_lines(subject: Subject) -> frozenset[int]:
    """The lines that are worked in rib: a rib by name, or knits and purls in turn and nothing else."""

    def told() -> frozenset[int]:
        named = {line.line for line, g in subject.nodes(tree.InGround) if "rib" in g.ground}
        for line, again in subject.nodes(tree.Repeat):
            if {s.stitch if isinstance(s, tree.Work) else "" for s in again.body} == {"k", "p"}:
                named.add(line.line)
        return frozenset(named)

    return subject.once("ribbed lines", told)


def _stretch(subject: Subject, rows: Iterable[Entry]) -> Fraction:
    """How far an edge of these rows stretches."""
    ribbed = _ribbed_lines(subject)
    return RIB_STRETCH if any(e.line in ribbed for e in rows) else STRETCH


def _openings(subject: Subject, way: Way) -> Iterator[tuple[str, Entry, Fraction | None, Fraction]]:
    """What goes over the head: its name, the row where it is tightest, the head in cm, and its stretch."""
    size = subject.size_place(way.size)
    if _part_of(subject) == "head":
        rounds = _rounds(subject, way)
        if rounds:
            edge = max((rounds[0], rounds[-1]), key=lambda e: e.end)
            near = rounds[:_EDGE_ROUNDS] if edge is rounds[0] else rounds[-_EDGE_ROUNDS:]
            yield "brim", edge, _to_fit(subject, "head", size), _stretch(subject, near)
        return
    if not any(_NECK.search(h.words) for h in headings(subject)):
        return
    if _OPENS.search(subject.source.text):
        return
    chest = _to_fit(subject, "chest", size)
    head = None if chest is None else head_for(chest)
    for part in parts(subject, way):
        if _NECK.search(part.heading.words) and (ring := _ring(part)):
            yield "neckband", min(ring, key=lambda e: e.end), head, _stretch(subject, ring)


def _ring(part: Part) -> list[Entry]:
    return [e for e in part.worked if e.kind is Kind.ROUND and e.end]


@cache
def _heads() -> Mapping[str, Fraction]:
    return {b.name: b.size("circumference").least_mm / 10 for b in heads_hands_feet("head")}


def head_for(chest: Fraction) -> Fraction:
    """The smallest head of those who have such a chest: up to two years, up to fourteen, grown up."""
    if chest <= 54:
        return _heads()["toddler 3 mo-3 yr"]
    return _heads()["child 3-14 yr" if chest <= 82 else "adult"]


def judge_openings(subject: Subject) -> Answer:
    """C065: places are the openings that go over a head."""
    first = grossly.judge_openings(subject)
    if first.missing is None:
        return first
    rate = _rate(subject)
    if rate is None:
        return Answer(missing="a gauge of stitches and rows")
    places = 0
    seen = []
    for way in subject.ways:
        for name, entry, head, stretch in _openings(subject, way):
            cm = rate.width_cm(entry.end)
            if head is None or cm is None:
                return Answer(missing=WHOM)
            places += 1
            if cm * stretch < head:
                numbers = (entry.end, round(cm))
                told = _too_small(name, _cm(head), ribbed=stretch == RIB_STRETCH)
                seen.append((way, Seen(name, entry.span, numbers, told)))
    missing = not_read(subject) or (None if places else "which stitches go over the head")
    return Answer(places=places, findings=tuple(over_sizes(subject, seen)), missing=missing)


def _too_small(name: str, head: str, *, ribbed: bool) -> Callable[[tuple[str, ...]], OpeningTooSmall]:
    return lambda numbers: OpeningTooSmall(name, numbers[0], numbers[1], head, ribbed)


# --- C067 and C074 -------------------------------------------------------------------------------


def judge_upper_sleeves(subject: Subject) -> Answer:
    """C067: the sleeve at its widest beside the arm of the chest that the pattern is to fit."""
    first = grossly.judge_upper_sleeves(subject)
    if first.missing != grossly.BODIES:
        return first
    rate = _rate(subject)
    if rate is None:
        return Answer(places=first.places, missing="a gauge of stitches and rows")
    places = 0
    seen = []
    for way in subject.ways:
        chest = _to_fit(subject, "chest", subject.size_place(way.size))
        if chest is None:
            return Answer(places=first.places, missing=WHOM)
        arm = _arm_of(chest)
        for part in parts(subject, way):
            if "sleeve" not in part.heading.own or not part.worked or arm is None:
                continue
            widest = max(part.worked, key=lambda e: e.end)
            cm = rate.width_cm(widest.end)
            if cm is None:
                continue
            places += 1
            if cm < arm.least_mm / 10 * Fraction(9, 10):
                numbers = (widest.end, round(cm))
                seen.append(
                    (way, Seen("sleeve", widest.span, numbers, _narrow(_arm_said(arm.mm, arm.from_memory))))
                )
    missing = not_read(subject) or (None if places else "which stitches go round the arm")
    return Answer(
        places=max(places, first.places), findings=tuple(over_sizes(subject, seen)), missing=missing
    )


def _arm_said(mm: Fraction, from_memory: bool) -> str:
    return f"{_cm(mm / 10)} (a figure from memory)" if from_memory else _cm(mm / 10)


def _narrow(arm: str) -> Callable[[tuple[str, ...]], SleeveTooNarrow]:
    return lambda numbers: SleeveTooNarrow(numbers[0], numbers[1], arm)


def judge_armholes(subject: Subject) -> Answer:
    """C074: of a yoke, its rounds stand for the depth of the armhole."""
    first = grossly.judge_armholes(subject)
    rate = _rate(subject)
    if first.missing != grossly.BODIES or rate is None:
        return first
    found: list[tuple[Way, Fraction, Fraction, Entry]] = []
    for way in subject.ways:
        yoke = [e for p in parts(subject, way) if "yoke" in p.heading.own for e in p.worked]
        body = [e.end for p in parts(subject, way) if "body" in p.heading.own for e in p.worked]
        depth = rate.length_cm(len(yoke)) if yoke else None
        chest = rate.width_cm(max(body)) if body else None
        if depth is None or chest is None:
            return Answer(missing="the depth of the armhole")
        found.append((way, depth, chest, yoke[0]))
    if len(found) < 2:
        return Answer(missing="the depth of the armhole")
    deeper, wider = found[-1][1] - found[0][1], found[-1][2] - found[0][2]
    findings: tuple[Finding, ...] = ()
    if wider > 2 and deeper > wider / 2 + 1:
        findings = tuple(
            over_sizes(
                subject,
                (
                    (w, Seen("depth", e.span, (round(d), round(c)), lambda n: ArmholeGrowsTooFast(*n)))
                    for w, d, c, e in found
                ),
            )
        )
    return Answer(places=len(found), findings=findings, missing=not_read(subject))


# --- C076 ----------------------------------------------------------------------------------------


def judge_places(subject: Subject) -> Answer:
    """C076: how far up the hand the thumb is set aside, and how long a foot is from heel to toe."""
    first = grossly.judge_places(subject)
    rate = _rate(subject)
    part = _part_of(subject)
    if first.missing is None:
        return first
    if part not in {"hand", "foot"}:
        return Answer(missing="how high on the body it is to stand")
    if rate is None:
        return Answer(missing="a gauge of stitches and rows")
    places = 0
    seen = []
    for way in subject.ways:
        found = (_thumb if part == "hand" else _foot)(subject, way, rate)
        if found is None:
            continue
        what, entry, cm, least, most = found
        places += 1
        if not least <= cm <= most:
            said = f"{_cm(least)} to {_cm(most)} cm"
            seen.append((way, Seen(part, entry.span, (round(cm),), _off_body(what, said))))
    missing = not_read(subject) or (None if places else "rounds from which it could be told")
    return Answer(places=places, findings=tuple(over_sizes(subject, seen)), missing=missing)


_Place = tuple[str, Entry, Fraction, Fraction, Fraction]


def _thumb(subject: Subject, way: Way, rate: Rate) -> _Place | None:
    """From the first increase of a gusset to where its stitches are set aside."""
    rounds = _rounds(subject, way)
    held = next(
        (n for n, e in enumerate(rounds) if e.held or (n and 0 < e.start < rounds[n - 1].end)), None
    )  # set aside in the round, or before it
    if held is None:
        return None
    begins = next((n for n, e in enumerate(rounds[:held]) if e.made), held)
    cm = rate.length_cm(held - begins + 1)
    if cm is None or held == begins:
        return None
    hand = _to_fit(subject, "hand", subject.size_place(way.size))
    least, most = (
        (hand * Fraction(1, 5), hand * Fraction(3, 5)) if hand is not None else (Fraction(2), Fraction(12))
    )
    return "The thumb is set aside after a gusset of", rounds[held], cm, least, most


def _foot(subject: Subject, way: Way, rate: Rate) -> _Place | None:
    """The rounds of foot and toe."""
    rows = [
        e
        for p in parts(subject, way)
        if p.heading.own & {"foot", "toe"}
        for e in p.worked
        if e.kind is Kind.ROUND
    ]
    cm = rate.length_cm(len(rows)) if rows else None
    if cm is None or any(f.code == "length-left-to-knitter" for f in subject.findings):
        return None
    return "Foot and toe together are knitted for", rows[0], cm, Fraction(4), Fraction(33)


def _off_body(what: str, usual: str) -> Callable[[tuple[str, ...]], PlaceOffBody]:
    return lambda numbers: PlaceOffBody(what, numbers[0], usual)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C065": judge_openings,
    "C066": judge_round_the_body,
    "C067": judge_upper_sleeves,
    "C074": judge_armholes,
    "C076": judge_places,
}
