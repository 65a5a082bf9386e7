"""Family B, the start of the round: it is moved wherever the words go on from another place.

In: the rounds that do not come out, and the markers on the needle. Out: a finding where they come out from
another marker. What does not come out by itself was found while knitting.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING

from purlwright.findings import Severity
from purlwright.needles.ledger import Kind
from purlwright.needles.measure import Measure
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.subject import Subject
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.needles.ledger import Entry
    from purlwright.proof.subject import Way

__all__ = ["JUDGES", "SHORT_ROUND", "RoundBeginsElsewhere"]

_MOST_TIMES = 1000
SHORT_ROUND = frozenset({"count-differs", "repeat-uneven", "marker-not-here", "no-marker"})


@dataclass(frozen=True, slots=True)
class RoundBeginsElsewhere:
    """A round does not come out from where it begins, and would come out from one of the markers.

    The words go on from another place of the round, and nothing moves its start there: the round that knits
    on to that marker fell out, or the marker at the start was never moved. Shaping then lies in the wrong
    place.

    Example: the round begins at the centre back, and `Dec rnd: *K1, k2tog, knit to 3 sts before marker, ssk,
    k1, sm; rep from * once more` counts from the side.

    Cure: before this round knit on to that marker, and say "the round now begins here".
    """

    row: str
    stitches: str

    code = "round-begins-elsewhere"
    check = "C030"

    severity = Severity.ERROR

    def message(self) -> str:
        return (
            f"{self.row} does not come out from the start of the round, and does from the marker "
            f"{self.stitches} stitches further on: nothing moves the start there."
        )

    def label(self) -> str:
        return "begins at another marker"

    def help(self) -> str | None:
        return 'Before it knit to that marker and say "the round now begins here", or correct the round.'


class _Off(Exception):  # noqa: N818 - not a fault: the words do not come out
    """The words do not come out, or cannot be followed without knitting."""


def comes_out(steps: Sequence[tree.Action], stitches: int, marks: Sequence[int], measure: Measure) -> bool:
    """Whether steps use up a round of so many stitches.

    marks : how many stitches lie before each marker, that at the end of the round left out.
    """
    try:
        return _walk(steps, 0, stitches, (*marks, stitches), measure) == stitches
    except _Off:
        return False


def _walk(steps: Sequence[tree.Action], pos: int, end: int, marks: Sequence[int], measure: Measure) -> int:
    """How many stitches are worked after some steps."""
    for step in steps:
        if isinstance(step, tree.Marker):
            if step.act == "slip" and pos not in marks:
                raise _Off
        elif isinstance(step, tree.Fill):
            pos = _filled(step, pos, end, marks, measure)
        elif isinstance(step, tree.Repeat):
            pos = _repeated(step, pos, end, marks, measure)
        else:
            size = measure.one(step)
            if size is None:
                raise _Off
            pos += size[0]
        if pos > end:
            raise _Off
    return pos


def _filled(step: tree.Fill, pos: int, end: int, marks: Sequence[int], measure: Measure) -> int:
    place = step.to
    if place.kind not in {tree.PlaceKind.MARKER, tree.PlaceKind.END} or place.name or place.past:
        raise _Off
    ahead = [m for m in marks if m > pos] if place.kind is tree.PlaceKind.MARKER else [end]
    if len(ahead) < place.nth:
        raise _Off
    stop = ahead[place.nth - 1] - measure.number(place.before, 0)
    body = measure.all(step.body)
    if stop < pos or body is None or body[0] <= 0 or (stop - pos) % body[0]:
        raise _Off
    return stop


def _repeated(step: tree.Repeat, pos: int, end: int, marks: Sequence[int], measure: Measure) -> int:
    if step.times is not None:
        times = measure.number(step.times) + (step.star and step.said is tree.Said.MORE)
        for _ in range(min(times, _MOST_TIMES)):
            pos = _walk(step.body, pos, end, marks, measure)
        return pos
    if step.to is not None and step.to.kind is not tree.PlaceKind.END:
        raise _Off
    stop = end - (measure.number(step.to.before, 0) if step.to is not None else 0)
    while pos < stop:
        here, pos = pos, _walk(step.body, pos, end, marks, measure)
        if pos <= here:
            raise _Off
    return pos


def _elsewhere(subject: Subject, way: Way) -> Iterator[Seen]:
    """Rounds that do not come out from their start, and do from one of the markers."""
    amiss = {
        subject.source.place(f.span.start)[0]
        for f in way.knitted.findings
        if f.code in SHORT_ROUND and f.span.end >= 0
    }
    if not amiss:
        return
    measure = Measure(subject.size_place(way.size), way.knitted.own, {})
    for piece in way.knitted.ledger.pieces:
        for before, entry in pairwise(piece.rows):
            line = subject.line_of(entry)
            if before.kind is not Kind.ROUND or entry.line not in amiss or line is None or before.end < 2:
                continue
            steps = [a for a in line.actions if not isinstance(a, (tree.Note, tree.Stated))]
            found = [m for m in _inner(before) if comes_out(steps, before.end, _turned(before, m), measure)]
            if found and not comes_out(steps, before.end, _inner(before), measure):
                name = entry.label or "The round"
                span = Span(entry.span.start, entry.span.end)
                yield Seen(name, span, (found[0],), partial(_begins_elsewhere, name))
                return


def _begins_elsewhere(row: str, numbers: tuple[str, ...]) -> RoundBeginsElsewhere:
    return RoundBeginsElsewhere(row, numbers[0])


def _inner(entry: Entry) -> list[int]:
    """Where the markers lie, but for that at the start of the round."""
    return sorted({m.after for m in entry.markers} - {0, entry.end})


def _turned(entry: Entry, start: int) -> list[int]:
    """Where the other markers lie if the round begins at one of them; the old start is taken away."""
    return sorted({(m - start) % entry.end for m in _inner(entry)} - {0})


def judge_round_start(subject: Subject) -> Answer:
    """C030: places are the rounds that move their start, and those that do not come out from it."""
    moves = set()
    for line, node in (*subject.nodes(tree.Marker), *subject.nodes(tree.Resume)):
        first = next((a for a in line.actions if not isinstance(a, tree.Note)), None)
        moved = node is first and isinstance(node, tree.Marker) and node.act == "remove"
        if moved or (isinstance(node, tree.Resume) and node.here):
            moves.add(line.offset)
    seen = ((way, one) for way in subject.ways for one in _elsewhere(subject, way))
    findings = tuple(over_sizes(subject, seen))
    missing = not_read(subject) if moves and not findings else None
    return Answer(places=len(moves) + len(findings), findings=findings, missing=missing)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C030": judge_round_start}
