"""Family C, wedges of short rows: left and right turns mirror, and they end where the next section begins."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from purlwright.findings import Problem, Related, Severity
from purlwright.needles.ledger import Entry, Kind
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.parts import ROWS, Part, parts, sure
from purlwright.proof.subject import Subject, Way
from purlwright.proof.turn_series import steps_broken

__all__ = ["JUDGES", "ShortRowsEndBackwards", "TurnsNotMirrored"]


@dataclass(frozen=True, slots=True)
class TurnsNotMirrored:
    """In a wedge whose turns go in pairs, one pair does not lie like the others.

    A heel, a shoulder collar or a crescent is the same on both sides: each turn on the right has one on the
    left, as far from its edge. Where one pair is a stitch or two off, the wedge leans.

    Example: turns at 5, 10, 15 and 20 stitches from the left edge, and at 5, 10, 17 and 20 from the right.

    Cure: turn at the same distance from both edges.
    """

    row: str
    found: str
    expected: str

    code = "turns-not-mirrored"
    check = "C035"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.row} turns {self.found} stitches from its edge; in the other pairs of turns both sides "
            f"match, and that would be {self.expected} here."
        )

    def label(self) -> str:
        return f"{self.found} sts from the edge, not {self.expected}"

    def help(self) -> str | None:
        return f"Turn {self.expected} stitches from the edge, as on the other side."


@dataclass(frozen=True, slots=True)
class ShortRowsEndBackwards:
    """The last short row ends with the wrong side facing, and the next section goes on in rounds.

    The knitter is asked to knit a round while the purl side faces her and the yarn hangs at the far end of
    the last turn. Short rows over part of a round end with a wrong-side row, turned.

    Example: a heel that ends with `Row 5: Knit to 1 st before gap, w&t.`, and then `Rnd 1: Knit.`

    Cure: work one more wrong-side row, or leave the last one out.
    """

    row: str
    next: str

    code = "short-rows-end-backwards"
    check = "C036"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.row} turns, so the wrong side faces when {self.next} begins, and the work goes on in the "
            "round."
        )

    def label(self) -> str:
        return "begins with the wrong side facing"

    def help(self) -> str | None:
        return f"Work one more wrong-side row before {self.next}, or one short row less."


class _Turned(NamedTuple):
    """A short row, and how many stitches lie between its turn and the edge that it did not reach."""

    entry: Entry
    left: int


def _turns(part: Part) -> list[_Turned]:
    out = []
    for entry in part.rows:
        for gap in entry.gaps:
            if gap.turned_on == entry.order and entry.side is not None:
                right = gap.from_right_rs
                out.append(_Turned(entry, entry.end - right if entry.side is Side.RS else right))
    return out


def _pairs(part: Part) -> list[tuple[_Turned, _Turned]]:
    """A turn on one side and the next row's on the other, again and again through the part."""
    turns = _turns(part)
    out: list[tuple[_Turned, _Turned]] = []
    n = 0
    while n + 1 < len(turns):
        one, other = turns[n], turns[n + 1]
        if one.entry.side is not other.entry.side:
            out.append((one, other))
            n += 2
        else:
            n += 1
    return out


# --- C035 ----------------------------------------------------------------------------------------


def _odd_pair(part: Part) -> Iterator[Seen]:
    pairs = _pairs(part)
    apart = Counter(a.left - b.left for a, b in pairs)
    if len(pairs) < 4 or len(apart) != 2:
        return
    (usual, often), (_, odd) = apart.most_common(2)
    if odd != 1 or often < 3:
        return
    one, other = next((a, b) for a, b in pairs if a.left - b.left != usual)
    numbers = other.left, one.left - usual
    if 2 * abs(numbers[0] - numbers[1]) > other.entry.end:
        return  # the end of the wedge has passed the beginning of the round
    if other.entry.span.end >= 0:
        related = (Related(one.entry.span, f"{one.left} stitches from its edge"),)
        told = _not_mirrored(other.entry.label or "This row")
        yield Seen(("turns", part.name), other.entry.span, numbers, told, related)


def _not_mirrored(row: str) -> Callable[[tuple[str, ...]], Problem]:
    return lambda numbers: TurnsNotMirrored(row, numbers[0], numbers[1])


def judge_mirrored_turns(subject: Subject) -> Answer:
    """C035: turns that go in pairs, one on each side."""
    if not subject.nodes(tree.Turn):
        return Answer()
    places, fails = 0, False
    seen: list[tuple[Way, Seen]] = []
    for way in subject.ways:
        broken = bool(steps_broken(way))  # a turn out of step with its own side has its finding
        for part in parts(subject, way):
            if any(e.gaps for e in part.rows):
                pairs = len(_pairs(part))
                places += 2 * pairs if pairs > 1 else 0
                odd = [(way, one) for one in _odd_pair(part) if sure(part)]
                fails |= bool(odd) and broken
                seen += [] if broken else odd
    missing = not_read(subject) if places else None
    return Answer(places=places, findings=tuple(over_sizes(subject, seen)), fails=fails, missing=missing)


# --- C036 ----------------------------------------------------------------------------------------


def _after_wedges(subject: Subject, way: Way) -> Iterator[tuple[Entry, Entry, bool]]:
    """The last short row of a part, the first row of the next, and whether the piece goes round."""
    found = parts(subject, way)
    for part, after in pairwise(found):
        worked, follows = part.worked, after.worked
        if part.piece == after.piece and worked and follows and sure(part) and worked[-1].gaps:
            if any(g.turned_on == worked[-1].order for g in worked[-1].gaps):
                ring = any(e.kind is Kind.ROUND for p in found if p.piece == part.piece for e in p.rows)
                yield worked[-1], follows[0], ring


def judge_wedge_ends(subject: Subject) -> Answer:
    """C036: a side that is named there was compared while knitting; rounds need the right side."""
    if not subject.nodes(tree.Turn):
        return Answer()
    places, fails = 0, False
    seen: list[tuple[Way, Seen]] = []
    wrong = [f.span.start for f in subject.found.get("C021", ())]
    for way in subject.ways:
        for last, first, ring in _after_wedges(subject, way):
            places += 1
            line = subject.line_of(first)
            if line is None or first.kind not in ROWS:
                continue
            fails = fails or any(line.offset <= at <= line.offset + len(line.text) for at in wrong)
            rounds = line.label is not None and line.label.unit is tree.Unit.ROUND
            if ring and rounds and last.side is Side.RS and first.side is Side.WS:
                told = _backwards(last.label or "The last row", first.label or "the round")
                seen.append((way, Seen("ends", first.span, (), told, (Related(last.span, "turns here"),))))
    missing = not_read(subject) if places else None
    return Answer(places=places, findings=tuple(over_sizes(subject, seen)), fails=fails, missing=missing)


def _backwards(row: str, after: str) -> Callable[[tuple[str, ...]], Problem]:
    return lambda _: ShortRowsEndBackwards(row, after)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C035": judge_mirrored_turns,
    "C036": judge_wedge_ends,
}
