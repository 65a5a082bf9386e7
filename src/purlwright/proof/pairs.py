"""Family G and E, pairs: left and right mirror each other, and the halves of a pair agree."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.hands import Pair, crossing_not_turned, same_handed, same_not_mirrored
from purlwright.proof.likeness import Odd, odd_one
from purlwright.proof.outline import Outline
from purlwright.proof.parts import ROWS, Part, headings, parts, speaks_of, sure, wholes
from purlwright.proof.seams import outlines
from purlwright.proof.shaping import Event, events, mirror_of, shown
from purlwright.proof.subject import Subject, Way
from purlwright.text import Span

__all__ = ["JUDGES", "HalvesDiffer", "NotMirrored"]


@dataclass(frozen=True, slots=True)
class NotMirrored:
    """Two halves mirror each other, and in one place they do not.

    Left and right fronts, shoulders, mittens or gloves are looking-glass images: what leans right in the one
    leans left in the other, and stands as far from the other edge. Where all but one place does, that place
    shows in the finished piece, and the knitter finds it when she holds the two side by side.

    Example: the left front decreases with ssk at its armhole and k2tog at its neck; the right front with
    k2tog at its neck too.

    Cure: work the stitch that leans the other way, or say that the two differ on purpose.
    """

    here: str
    there: str
    found: str
    expected: str

    code = "not-mirrored"
    check = "C079"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.here[0].upper()}{self.here[1:]} has {self.found} here; {self.there} is its mirror "
            f"everywhere else, and asks for {self.expected}."
        )

    def label(self) -> str:
        return f"not the mirror of {self.there}"

    def help(self) -> str | None:
        return f"Work {self.expected} here, or say that the two differ."


@dataclass(frozen=True, slots=True)
class HalvesDiffer:
    """Two halves of a pair agree in everything but one number.

    Two fronts, two shoulders or two mittens that are knitted alike must have the same stitches, as many
    decreases, and (within the row by which one side must begin later) as many rows. One number that differs
    gives two pieces that cannot be sewn together or worn as a pair.

    Example: the left front decreases 5 times at the armhole, the right front 4 times.

    Cure: give both the same number, or say that the two differ on purpose.
    """

    here: str
    there: str
    what: str
    number: str
    other: str

    code = "halves-differ"
    check = "C052"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.here[0].upper()}{self.here[1:]} has {self.number} {self.what}, and {self.there}, "
            f"otherwise the same, {self.other}."
        )

    def label(self) -> str:
        return f"{self.other} in {self.there}"

    def help(self) -> str | None:
        return f"Give both the same number of {self.what}, or say that the two differ."


# --- which are pairs -----------------------------------------------------------------------------


def _pairs(subject: Subject, way: Way) -> Iterator[Pair]:
    if any(h.hand for h in headings(subject)):
        by_twin: dict[str, dict[str, list[Part]]] = {}
        for part in wholes(subject, way, hand=True):
            by_twin.setdefault(part.heading.twin, {}).setdefault(part.heading.hand, []).append(part)
        for halves in by_twin.values():
            left, right = halves.get("left", []), halves.get("right", [])
            if len(left) == len(right):
                for a, b in zip(left, right, strict=True):
                    one, two = (a, b) if a.rows[0].order < b.rows[0].order else (b, a)
                    yield Pair(one, two, one.name, two.name)
    for part, after in _divided(subject, way):
        yield Pair(part, after, f"the first side of {part.name}", "the second side")


def _divided(subject: Subject, way: Way) -> Iterator[tuple[Part, Part]]:
    """The two sides of a neck that have no heading: worked while stitches wait, and those taken up again."""
    named = {p.piece for p in parts(subject, way) if p.heading.hand}
    found = [p for p in wholes(subject, way, "front", "back") if p.piece not in named]
    for first, second in pairwise(found):
        if first.heading is not second.heading or second.piece != first.piece + 1:
            continue
        held = [n for n, e in enumerate(first.rows) if e.held]
        if held and second.rows[0].kind is not Kind.CAST_ON:
            yield first._replace(rows=first.rows[held[-1] + 1 :]), second


# --- saying so ------------------------------------------------------------------------------------


def _entry(part: Part, order: int) -> Entry | None:
    return next((e for e in part.rows if e.order == order), None)


def _words(subject: Subject, entry: Entry, stitch: str) -> Span:
    """The words that work a stitch in a row; the row's own words if they cannot be told."""
    line = subject.line_of(entry)
    if line is not None and stitch:
        for node in tree.walk(line.actions):
            if isinstance(node, tree.Work) and node.stitch == stitch and node.span.end >= 0:
                return Span(node.span.start + line.offset, node.span.end + line.offset)
    return entry.span


def _against_the_rule(subject: Subject, way: Way, pair: Pair, odd: Odd) -> bool:
    """Whether the first half is the one that breaks what all other shaping does at its edges."""
    rule = Counter((e.edge, e.lean) for part in pair[:2] for e in events(subject, way, part))
    return rule[odd.a.edge, odd.a.lean] < rule[odd.b.edge, odd.b.lean]


def _seen(subject: Subject, way: Way) -> Iterator[tuple[Way, Seen]]:
    for pair in _pairs(subject, way):
        if not (sure(pair.a) and sure(pair.b)) or _width(pair.a) != _width(pair.b):
            continue  # where one half is wider they are no pair
        rounds = all(any(e.kind is Kind.ROUND for e in part.rows) for part in pair[:2])
        odd = odd_one(events(subject, way, pair.a), events(subject, way, pair.b), rounds=rounds)
        if odd is None:
            told_so = list(same_not_mirrored(subject, way, pair)) or list(_crossing(subject, way, pair))
            yield from ((way, one) for one in told_so or (same_handed(subject, way, pair) if rounds else ()))
            continue
        a, b, names = odd.a, odd.b, (pair.name_a, pair.name_b)
        x, y = _entry(pair.a, a.order), _entry(pair.b, b.order)
        if x is None or y is None or x.span.end < 0 or y.span.end < 0:
            continue
        if not odd.numbers and _against_the_rule(subject, way, pair, odd):
            a, b, x, y, names = b, a, y, x, (pair.name_b, pair.name_a)
        if odd.numbers:
            say = partial(_differ, names, odd.what)
            yield way, Seen(say.args, y.span, odd.numbers, say, (Related(x.span, "the same place here"),))
        else:
            told = NotMirrored(names[1], names[0], *_found_and_expected(a, b, mirror=odd.mirror))
            spans = _words(subject, y, b.stitch), _words(subject, x, a.stitch)
            yield way, Seen(told, spans[0], (), partial(_as_it_is, told), (Related(spans[1], "its mirror"),))


def _crossing(subject: Subject, way: Way, pair: Pair) -> Iterator[Seen]:
    """A crossing that leans one way in both halves, where all else is turned."""
    odd = crossing_not_turned(subject, way, pair)
    if odd is None:
        return
    stitch = odd.stitch
    told = NotMirrored(pair.name_b, pair.name_a, shown(stitch), mirror_of(stitch))
    related = (Related(odd.there.words(odd.fellow), "its mirror"),)
    yield Seen(told, odd.here.words(odd.place), (), partial(_as_it_is, told), related)


def _as_it_is(told: NotMirrored, _: tuple[str, ...]) -> NotMirrored:
    return told


def _differ(names: tuple[str, str], what: str, numbers: tuple[str, ...]) -> HalvesDiffer:
    return HalvesDiffer(names[1], names[0], what, numbers[1], numbers[0])


def _found_and_expected(good: Event, odd: Event, *, mirror: bool) -> tuple[str, str]:
    """What stands in the odd half, and what the good one asks for there."""
    expected = mirror_of(good.stitch) if mirror else shown(good.stitch)
    if good.inside == odd.inside:
        return shown(odd.stitch), expected
    return _away(shown(odd.stitch), odd), _away(shown(odd.stitch), good)


def _away(stitch: str, e: Event) -> str:
    return f"{stitch or e.sort} {e.inside} stitch{'' if e.inside == 1 else 'es'} from the edge"


def _width(part: Part) -> int:
    """Stitches it begins with; of a side taken up again, without the centre stitches bound off there."""
    first = part.rows[0]
    return first.start if first.kind in ROWS and first.lost < 3 else first.end


def _all(subject: Subject) -> list[Finding]:
    def find() -> list[Finding]:
        seen = [one for way in subject.ways for one in _seen(subject, way)]
        return over_sizes(subject, [*seen, *_in_most_sizes(subject), *_as_wide(subject)])

    return subject.once("pairs", find)


def _in_most_sizes(subject: Subject) -> Iterator[tuple[Way, Seen]]:
    """Stitches that front and back, or both fronts, have in common in most sizes and not in this one."""
    met: dict[tuple[str, str, str], list[tuple[Way, Entry | None, Entry | None, int, int]]] = {}
    for way in subject.ways:
        for one, other in _halves(subject, way):
            names = one.part.name, other.part.name
            first, second = one.part.rows[0], other.part.rows[0]
            cast_on = (way, first, second, one.cast_on, other.cast_on)
            met.setdefault((*names, "stitches cast on"), []).append(cast_on)
            underarm = (way, one.first, other.first, one.underarm, other.underarm)
            met.setdefault((*names, "stitches bound off at each underarm"), []).append(underarm)
    for (name, other_name, what), found in met.items():
        unlike = [f for f in found if f[3] != f[4]]
        if not unlike or 2 * len(unlike) >= len(found):
            continue
        for way, x, y, number, other_number in unlike:
            if x is not None and y is not None and x.span.end >= 0:
                say = partial(_differ, (other_name, name), what)
                related = (Related(y.span, "the same place here"),)
                yield way, Seen(say.args, x.span, (other_number, number), say, related)


_ASKEW = 4
"""A neck that stands aside by more stitches than this in one size is meant to."""


def _as_wide(subject: Subject) -> Iterator[tuple[Way, Seen]]:
    """Two halves that begin with as many stitches in one size or more, and in another with a few more or
    fewer, all shaped alike: what parts them stands a little aside there.
    """
    met: dict[tuple[str, str], list[tuple[Way, Pair]]] = {}
    for way in subject.ways:
        for pair in _pairs(subject, way):
            if sure(pair.a) and sure(pair.b):
                met.setdefault((pair.name_a, pair.name_b), []).append((way, pair))
    for names, found in met.items():
        alike = [_width(pair.a) == _width(pair.b) for _, pair in found]
        if all(alike) or not any(alike):
            continue
        for (way, pair), same in zip(found, alike, strict=True):
            a, b = _width(pair.a), _width(pair.b)
            shaped = [[_what_of(e) for e in events(subject, way, part)] for part in pair[:2]]
            if same or abs(a - b) > _ASKEW or len(shaped[0]) != len(shaped[1]) or shaped[0] != shaped[1]:
                continue
            at = _parted(way, pair)
            say = partial(_differ, names, "stitches at its start")
            yield way, Seen((*say.args, "wide"), at.span, (a, b), say)


def _what_of(e: Event) -> tuple[object, ...]:
    return e.row, e.sort, e.amount, e.inside


def _parted(way: Way, pair: Pair) -> Entry:
    """The row that parts the two halves, where the same piece was knitted in one before; else the first row
    of the second.
    """
    first = min(pair.a.rows[0].order, pair.b.rows[0].order)
    before = next((e for e in way.knitted.ledger.entries if e.order == first - 1), None)
    parts = before is not None and (before.held or before.lost) and before.span.end >= 0
    return before if before is not None and parts else pair.b.rows[0]


def _halves(subject: Subject, way: Way) -> Iterator[tuple[Outline, Outline]]:
    found = outlines(subject, way)
    fronts = [f for f in found.fronts if f.cast_on]
    whole = [f for f in fronts if not f.part.heading.hand]
    if (
        found.backs
        and found.backs[0].cast_on
        and whole
        and whole[0].part.heading is not found.backs[0].part.heading
    ):
        yield whole[0], found.backs[0]
    sides = {f.part.heading.hand: f for f in reversed(fronts) if f.part.heading.hand}
    if len(sides) == 2:
        yield sides["right"], sides["left"]


def _any_pairs(subject: Subject) -> bool:
    known: bool | None = subject.of_work(_any_pairs)
    if known is not None:
        return known
    told = speaks_of(subject, "front", "back") or any(h.hand for h in headings(subject))
    return subject.keep_of_work(_any_pairs, told)


def _judge(check: str) -> Callable[[Subject], Answer]:
    def judge(subject: Subject) -> Answer:
        if not _any_pairs(subject):
            return Answer()
        places = sum(1 for way in subject.ways for pair in _pairs(subject, way) if _shaped(pair))
        findings = tuple(f for f in _all(subject) if f.check == check)
        return Answer(places=places, findings=findings, missing=not_read(subject) if places else None)

    judge.__name__ = f"judge_{check.lower()}"
    return judge


def _shaped(pair: Pair) -> bool:
    return any(e.kind in ROWS for e in pair.a.rows) and any(e.kind in ROWS for e in pair.b.rows)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C052": _judge("C052"), "C079": _judge("C079")}
