"""Family J, yarn: what becomes of a yarn that is left, and where it hangs after a divide.

In: the yarns that were really worked, row by row, and the words about ends. Out: C109, C110.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from purlwright.findings import Finding, Severity
from purlwright.needles.ledger import ROWS, Entry, Kind, Piece
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.subject import Subject, Way
from purlwright.proof.tails import tails
from purlwright.proof.yarn_changes import yarn_faults
from purlwright.text import Span

__all__ = ["JUDGES", "YarnLeftUnsaid", "YarnNotTakenUp"]


@dataclass(frozen=True, slots=True)
class YarnLeftUnsaid:
    """The colour changes, and no word says what becomes of the yarn that is left.

    It may be broken, carried up the edge or stranded across: each looks different at the edge or on the
    back, and broken yarn cannot be joined again without an end.

    Example: stripes of A and B, and nowhere a word of breaking or carrying.

    Cure: say once whether the yarn is broken or carried.
    """

    colour: str
    changes: int

    code = "yarn-left-unsaid"
    check = "C109"
    severity = Severity.NOTE

    def message(self) -> str:
        times = f"The yarn changes {self.changes} times" if self.changes > 1 else "The yarn changes here"
        return f'{times}, first from "{self.colour}", and nothing says whether it is broken or carried.'

    def label(self) -> str:
        return "broken or carried?"

    def help(self) -> str | None:
        return "Say once whether the yarn is broken, carried up the edge or stranded."


@dataclass(frozen=True, slots=True)
class YarnNotTakenUp:
    """Held stitches are taken up again, and no word says with which yarn they are worked.

    After a divide the yarn hangs at the other part. Without a word the knitter drags it across, or looks
    for an end that is not there. Where yarn is joined and no word tells the side, side-not-known (C021)
    says so.

    Example: `Place the held sts on the needle. Row 1 (RS): Knit.`

    Cure: say where the yarn is joined: `With RS facing, join yarn at the neck edge.`
    """

    stitches: str

    code = "yarn-not-taken-up"
    check = "C110"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"{self.stitches} held stitches are taken up here, and nothing says where the yarn is joined."

    def label(self) -> str:
        return "with which yarn?"

    def help(self) -> str | None:
        return "Say where the yarn is joined, and with which side facing."


_ROWS = frozenset({Kind.ROW, Kind.ROUND, Kind.BIND_OFF})


def judge_yarn(subject: Subject) -> Answer:
    """C109: where the colours that were worked really change, and where a tail is left for a join."""
    colours = _colours(subject)
    places, short = subject.kept(tails)
    return colours._replace(places=colours.places + places, findings=(*colours.findings, *short))


def _colours(subject: Subject) -> Answer:
    if not (subject.coloured or any(node.colour for _, node in subject.nodes(tree.Yarn))):
        return Answer()
    way = subject.ways[0]
    amiss = tuple(yarn_faults(subject))[:1]
    changes = list(_changes(way))
    if not changes:
        return Answer(findings=amiss)
    if amiss or subject.watched.any("yarn end", sorts=("words", "note")):
        return Answer(places=len(changes), findings=amiss)
    left, entry = changes[0]
    problem = YarnLeftUnsaid(left, len(changes))
    return Answer(places=len(changes), findings=(Finding(problem=problem, span=entry.span),))


def _changes(way: Way) -> Iterator[tuple[str, Entry]]:
    """Each row that begins with another yarn than the row before ended with, and the yarn left."""
    for piece in way.knitted.ledger.pieces:
        before: tuple[str, ...] = ()
        for entry in piece.rows:
            yarns = tuple(y for y in entry.yarns if y)
            if yarns and before and not set(yarns) & set(before) and entry.kind in _ROWS:
                yield before[-1], entry
            before = yarns or before


def judge_divides(subject: Subject) -> Answer:
    """C110."""
    holds = subject.nodes(tree.Hold)
    if not holds:
        return Answer()
    findings = []
    seen: set[int] = set()
    for way in subject.ways:
        for piece in way.knitted.ledger.pieces:
            entry = _taken_up(piece)
            if entry is None or entry.line in seen:
                continue
            seen.add(entry.line)
            if entry.unread or _says_yarn(subject, piece, entry):
                continue
            met = [(w, e.returned or e.start) for w in subject.ways for p in w.knitted.ledger.pieces
                   if (e := _taken_up(p)) is not None and e.line == entry.line]  # fmt: skip
            findings.append(
                Finding(problem=YarnNotTakenUp(subject.by_size(met)), span=_words(subject, entry))
            )
    return Answer(places=len(holds), findings=tuple(findings[:1]))


def _taken_up(piece: Piece) -> Entry | None:
    """The first worked row of a piece that begins by taking up held stitches, and picks up none before."""
    first = piece.rows[0] if piece.rows else None
    if first is None or first.kind not in ROWS or not (first.returned or first.start):
        return None
    return first


def _says_yarn(subject: Subject, piece: Piece, entry: Entry) -> bool:
    """Whether the words from the heading to this row speak of yarn: join, with, pick up."""
    lines = subject.watched.lines
    first = entry.line
    while first > 1 and lines[first - 2].sort in {"words", "note"} and entry.line - first < 6:
        first -= 1
    last = max((e.line for e in piece.rows[:2]), default=entry.line)
    return any(
        h.kind in {"take up", "yarn end"}
        for line in lines[first - 1 : max(last, entry.line)]
        for h in line.heard
    )


def _words(subject: Subject, entry: Entry) -> Span:
    line = subject.line_of(entry)
    return Span(line.offset, line.offset + len(line.text)) if line is not None else entry.span


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C109": judge_yarn, "C110": judge_divides}
