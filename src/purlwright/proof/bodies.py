"""Family G, fit on the body: what the numbers of the pattern decide, and what needs a table of measures."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import Kind
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.measures import Measure, Said, stated
from purlwright.proof.parts import headings, parts, speaks_of, sure, wholes
from purlwright.proof.seams import outlines
from purlwright.proof.sleeves import main_rate
from purlwright.proof.straight_sleeves import straight_sleeves
from purlwright.proof.subject import Subject, Way

__all__ = ["BODIES", "JUDGES", "ArmholeGrowsTooFast", "FarFromBody", "SleeveFarFromBody"]

BODIES = "a table of body measures"


@dataclass(frozen=True, slots=True)
class FarFromBody:
    """The finished piece is far smaller or larger than the body that the header says it fits.

    Knitting stretches, and coats are wide; but a piece of less than six tenths of the body, or of more than
    twice, is a slip of the key or a size in the wrong row.

    Limits: 0.6 and 2 times the body; common practice, no source.

    Example: `To fit: chest 97 cm` and `Finished size: chest 48 cm round`.

    Cure: look for a half width taken for the whole, inches for centimetres, or a size too many.
    """

    part: str
    finished: str
    body: str

    code = "far-from-body"
    check = "C066"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"The {self.part} is finished at {self.finished} cm, to fit {self.body} cm."

    def label(self) -> str:
        return f"to fit {self.body} cm"

    def help(self) -> str | None:
        return "Look for a half width taken for the whole, or inches for centimetres."


@dataclass(frozen=True, slots=True)
class SleeveFarFromBody:
    """The sleeve at its widest is out of all proportion to the body it belongs to.

    The upper arm is about a third of the chest round. A sleeve of less than a fifth of the body's stitches
    does not go on; one of more than four fifths is a body.

    Limits: a fifth and four fifths of the body's stitches; common practice, no source.

    Example: a body of 200 stitches, and a sleeve that is 36 stitches at the top.

    Cure: count the increases of the sleeve, and how often they are worked.
    """

    sleeve: str
    body: str

    code = "sleeve-far-from-body"
    check = "C067"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The sleeve has {self.sleeve} stitches at its widest, and the body {self.body} round the chest."
        )

    def label(self) -> str:
        return f"{self.sleeve} sts at the widest, to a body of {self.body}"

    def help(self) -> str | None:
        return "Count the increases of the sleeve, and how often they are worked."


@dataclass(frozen=True, slots=True)
class ArmholeGrowsTooFast:
    """From size to size the armhole deepens nearly as fast as the chest widens.

    Wider people are not that much taller: for each 5 cm round the chest an armhole deepens by about 1 cm.
    One that grows by more than half of what the chest does hangs to the waist in the largest size.

    Limit: half of the growth of the chest; common practice, no source.

    Example: chest 90 (100) cm, armhole 20 (26) cm deep.

    Cure: give the larger sizes fewer rows in the armhole.
    """

    depth: str
    chest: str

    code = "armhole-grows-too-fast"
    check = "C074"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"The armhole is {self.depth} cm deep, on a chest of {self.chest} cm round."

    def label(self) -> str:
        return f"{self.depth} cm deep"

    def help(self) -> str | None:
        return "Look at the rows of the armhole: it should deepen by far less than the chest widens."


# --- what the pattern is -------------------------------------------------------------------------

_OVER_HEAD = re.compile(
    r"\b(?:hats?|caps?|beanie|tam|beret|bonnet|helmet|hood|headband|cowl|pullover|sweater|jumper|jersey|gansey"
    r"|neck(?:band)?|balaclava)\b",
    re.IGNORECASE,
)
_ROUND_BODY = re.compile(
    r"\b(?:hats?|beanie|tam|beret|bonnet|helmet|headband|socks?|stockings?(?! st)|mitt(?:en)?s?|gloves?"
    r"|cuffs?|wristers?|legwarmers?|pullover|sweater|jumper|jersey|gansey|cardigan|jacket|vest|slippers?"
    r"|bootees?)\b",
    re.IGNORECASE,
)
_PLACED = frozenset({"pocket", "heel", "thumb"})


def _names(subject: Subject) -> str:
    """The title and the headings."""
    return subject.once(
        "names", lambda: " / ".join((subject.pattern.title, *(h.words for h in headings(subject))))
    )


def _undecided(subject: Subject, words: re.Pattern[str]) -> Answer:
    return Answer(missing=BODIES) if words.search(_names(subject)) else Answer()


def judge_openings(subject: Subject) -> Answer:
    """C065."""
    return _undecided(subject, _OVER_HEAD)


def judge_places(subject: Subject) -> Answer:
    """C076."""
    return Answer(missing=BODIES) if speaks_of(subject, *_PLACED) else Answer()


# --- C066 ----------------------------------------------------------------------------------------


def _stated_pairs(subject: Subject) -> Iterator[tuple[Measure, Measure]]:
    """What a part is finished at, and the same part of the body."""
    finished: dict[str, Measure] = {}
    body: dict[str, Measure] = {}
    for m in subject.kept(stated):
        if m.part and m.way == "round" and m.source in {Said.FINISHED, Said.BODY}:
            (finished if m.source is Said.FINISHED else body).setdefault(m.part, m)
    for part, measure in finished.items():
        if part in body:
            yield measure, body[part]


def judge_round_the_body(subject: Subject) -> Answer:
    """C066: decided where the header gives both the finished piece and the body, grossly."""
    pairs = list(_stated_pairs(subject))
    if not pairs:
        garment = speaks_of(subject, "back", "front", "sleeve")
        return Answer(missing=BODIES) if garment else _undecided(subject, _ROUND_BODY)
    places = 0
    seen = []
    for way in subject.ways:
        size = subject.size_place(way.size)
        for made, body in pairs:
            cm, of_body = made.cm(size), body.cm(size)
            if cm is None or not of_body:
                continue
            places += 1
            if not Fraction(6, 10) <= cm / of_body <= 2:
                numbers = round(cm), round(of_body)
                seen.append((way, Seen(made.part, made.span, numbers, _far(made.part))))
    return Answer(places=places, findings=tuple(over_sizes(subject, seen)))


def _far(part: str) -> Callable[[tuple[str, ...]], FarFromBody]:
    return lambda numbers: FarFromBody(part, numbers[0], numbers[1])


# --- C067 ----------------------------------------------------------------------------------------


def _sleeves_and_bodies(subject: Subject, way: Way) -> Iterator[tuple[int, int, Seen]]:
    """Stitches of each sleeve at its widest and of the body round the chest."""
    backs = [max(e.end for e in p.rows) for p in wholes(subject, way, "back") if _flat_from_cast_on(p.rows)]
    rounds = [
        e.end for p in parts(subject, way) if "body" in p.heading.own for e in p.rows if e.kind is Kind.ROUND
    ]
    body = 2 * max(backs) if backs else max(rounds, default=0)
    if not body:
        return
    for part in wholes(subject, way, "sleeve"):
        if not sure(part) or not part.worked:
            continue
        widest = max(part.worked, key=lambda e: e.end)
        yield widest.end, body, Seen("sleeve", widest.span, (widest.end, body), _out_of_proportion)


def _flat_from_cast_on(rows: tuple[object, ...]) -> bool:
    kinds = [getattr(e, "kind", None) for e in rows]
    return kinds[0] is Kind.CAST_ON and Kind.ROUND not in kinds


def _out_of_proportion(numbers: tuple[str, ...]) -> SleeveFarFromBody:
    return SleeveFarFromBody(*numbers)


def judge_upper_sleeves(subject: Subject) -> Answer:
    """C067: grossly by the body's own stitches, finely by a stated upper arm; else it needs a table."""
    if not speaks_of(subject, "sleeve"):
        return Answer()
    found = [(way, *one) for way in subject.ways for one in _sleeves_and_bodies(subject, way)]
    seen = [(way, one) for way, sleeve, body, one in found if not body <= 5 * sleeve <= 4 * body]
    if seen:
        return Answer(places=len(found), findings=tuple(over_sizes(subject, seen)))
    places, tops = straight_sleeves(subject)
    if tops:
        return Answer(places=places, findings=tuple(over_sizes(subject, tops)))
    return Answer(places=places, missing=BODIES)


# --- C074 ----------------------------------------------------------------------------------------


def _depths(subject: Subject) -> Iterator[tuple[Way, float, float, Seen]]:
    """In each size the depth of the armhole and the chest round, in cm, of flat pieces at the gauge."""
    rate = main_rate(subject)
    for way in subject.ways if rate is not None and len(subject.ways) > 1 else ():
        back = next(
            (
                b
                for b in outlines(subject, way).backs
                if b.cast_on and b.whole and b.start and b.first is not None
            ),
            None,
        )
        if back is None or back.first is None or rate is None:
            continue
        depth, half = rate.length_cm(back.depth), rate.width_cm(back.cast_on)
        if depth is not None and half is not None:
            numbers = round(depth), round(2 * half)
            yield way, float(depth), float(2 * half), Seen("depth", back.first.span, numbers, _too_fast)


def _too_fast(numbers: tuple[str, ...]) -> ArmholeGrowsTooFast:
    return ArmholeGrowsTooFast(*numbers)


def judge_armholes(subject: Subject) -> Answer:
    """C074: from the smallest to the largest size."""
    if not speaks_of(subject, "armhole", "sleeve", "back") or len(subject.pattern.sizes) < 2:
        return Answer()
    found = list(_depths(subject))
    if not found:
        return Answer(missing=BODIES) if speaks_of(subject, "sleeve", "armhole") else Answer()
    findings: list[Finding] = []
    deeper, wider = found[-1][1] - found[0][1], found[-1][2] - found[0][2]
    if wider > 2 and deeper > wider / 2 + 1:
        findings = over_sizes(subject, ((way, seen) for way, _, _, seen in found))
    return Answer(places=len(found), findings=tuple(findings), missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C065": judge_openings,
    "C066": judge_round_the_body,
    "C067": judge_upper_sleeves,
    "C074": judge_armholes,
    "C076": judge_places,
}
