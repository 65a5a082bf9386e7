"""Family C, turns and short rows: every turn closed, or said to be left."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import ROWS, Entry, Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read, while_knitting
from purlwright.proof.rates import ground_of
from purlwright.proof.subject import Subject, Way
from purlwright.text import Span

__all__ = [
    "JUDGES",
    "TurnLeftOpen",
    "TurnsBoundOffOpen",
    "TurnsClosedUnsaid",
    "WrapsNotSpokenOf",
    "WrapsShow",
]


@dataclass(frozen=True, slots=True)
class TurnLeftOpen:
    """A row turned before its end, and no later row works across the gap.

    The stitches beyond the gap wait for ever: a hole stays, or the piece ends with part of its stitches a
    few rows lower than the rest without a word about it.

    Example: `Row 6: Knit 12, turn.`, `Row 7: Knit.` and then `Bind off 12 sts.` with 20 on the needle.

    Cure: work one row across all stitches after the last turn, or say that the turn is left open.
    """

    row: str
    many: int = 1

    code = "turn-left-open"
    check = "C033"
    severity = Severity.WARNING

    def message(self) -> str:
        if self.many > 1:
            return f"{self.many} turns, the first in {self.row}, are never worked across later."
        return f"{self.row} turns before its end, and no later row works across the gap."

    def label(self) -> str:
        return "left open"

    def help(self) -> str | None:
        return "Work a row across all stitches after the last turn, or say that the turn is left open."


@dataclass(frozen=True, slots=True)
class WrapsNotSpokenOf:
    """Stitches are wrapped at the turns, and nothing says what becomes of the wraps.

    Lifted and worked with its stitch a wrap closes the hole; left alone it shows as a bar in plain fabric and
    hides in garter stitch. Half the knitters will do the one and half the other.

    Example: `Row 2: Knit to last 4 sts, w&t.`, and wraps are not mentioned again.

    Cure: say "work each wrap together with its stitch", or "leave the wraps; garter stitch hides them".
    """

    many: int

    code = "wraps-not-spoken-of"
    check = "C033"
    severity = Severity.NOTE

    def message(self) -> str:
        return "Stitches are wrapped at turns, and nothing says whether the wraps are lifted later."

    def label(self) -> str:
        return "wrapped here"

    def help(self) -> str | None:
        return 'Say "work each wrap together with its stitch", or that the wraps are left.'


@dataclass(frozen=True, slots=True)
class WrapsShow(WrapsNotSpokenOf):
    """Wraps at turns in plain fabric are worked over, and nothing says that they are lifted.

    In stockinette a wrap that is left shows as a bar across the foot of its stitch, and the turn leaves a
    hole beside it. Garter stitch hides both, and there it is only noted.

    Example: `Row 2: P21, w&t.` in stockinette, and later `Purl across all sts.`

    Cure: say "work each wrap together with its stitch", or that the wraps are left. (Common practice; no
    source.)
    """

    code = "wraps-show"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            "Stitches are wrapped at turns in plain fabric, where a wrap shows, and nothing says that the "
            "wraps are lifted."
        )


@dataclass(frozen=True, slots=True)
class TurnsBoundOffOpen:
    """Stitches wrapped or doubled at turns are bound off as they are, and nothing says what becomes of them.

    A row across all stitches, that lifts the wraps or knits the double stitches as one, mostly stands between
    the last turn and the bind-off. Without it each turn leaves a hole or a lump in the seam, and a double
    stitch is bound off as two.

    Wraps in garter stitch, which hides them, are let be.

    Example: `Row 5: Knit to 5 sts before gap, turn and make a double stitch.`, `Row 6: Purl to end.` and then
    `Bind off.`

    Cure: add a row to the end, `working each double stitch as one`, before the bind-off, or say that the
    wraps are left. (Common practice; no source.)
    """

    many: int
    what: str

    code = "turns-bound-off-open"
    check = "C033"
    severity = Severity.WARNING

    def message(self) -> str:
        turns = "1 turn is" if self.many == 1 else f"{self.many} turns are"
        how = "with their stitches" if self.what == "wraps" else "as one"
        return f"{turns} still open here, and nothing says that the {self.what} are worked {how}."

    def label(self) -> str:
        return "a row is missing before this?"

    def help(self) -> str | None:
        if self.what == "wraps":
            return (
                "Before this, work a row over all stitches, picking up the wraps; or say that they are left."
            )
        return f"Before this, work a row over all stitches, working the {self.what} as one."


@dataclass(frozen=True, slots=True)
class TurnsClosedUnsaid:
    """One row says that it works the double stitches or wraps with their stitches, and the other does not.

    Short rows leave turns at both ends, and two rows go over them: the one on the right side closes those of
    its end, the one on the wrong side the rest. What is said of the first holds for the first; who reads the
    second as it stands leaves holes at one shoulder.

    Wraps in garter stitch, which hides them, are let be; so is everything where the words speak of it
    outside the rows.

    Example: `Row 7: Knit to end, working each double stitch as one.`, and then `Row 8: Purl to end.`

    Cure: say it in both rows. (Common practice; no source.)
    """

    row: str
    many: int
    what: str
    other: str

    code = "turns-closed-unsaid"
    check = "C033"
    severity = Severity.WARNING

    def message(self) -> str:
        turns = "1 turn" if self.many == 1 else f"{self.many} turns"
        return f"{self.row} works over {turns}, and does not say what {self.other} says of the {self.what}."

    def label(self) -> str:
        return f"and the {self.what} here?"

    def help(self) -> str | None:
        how = "picking up the wraps" if self.what == "wraps" else "working each double stitch as one"
        return f'Add "{how}" to this row too.'


_ABOUT_DOUBLES = re.compile(
    r"\bas one\b|\bdouble[- ]?(?:st|stitch)\w*\b[^.;\n]{0,60}\b(?:together|resolv\w*|clos\w*|both legs)"
    r"|\b(?:each|every|all|both|the|these|those|your)\s+double[- ]?(?:st|stitch)",
    re.IGNORECASE,
)
_ABOUT_WRAPS = re.compile(
    r"\bwraps?\b[^.;\n]{0,80}\b(?:left|leave|lift\w*|hid\w*|not|pick\w*|together|along with|closed?)\b"
    r"|\b(?:leav\w*|lift\w*|pick\w*|hid\w*|without|ignor\w*|clos\w*)\b[^.;\n]{0,80}\bwraps?\b",
    re.IGNORECASE,
)


def _open_turns(way: Way, subject: Subject) -> Iterable[Finding]:
    """Turns whose gaps stand when a piece ends; a graft or bind-off across all of it works over them."""
    for piece in way.knitted.ledger.pieces:
        rows = [e for e in piece.rows if e.kind is not Kind.JOIN]
        if not rows or rows[-1].unread or rows[-1].resumed or not rows[-1].gaps:
            continue
        if rows[-1].kind not in ROWS and not rows[-1].unworked:
            continue
        turned = [_turning(piece.rows, gap.turned_on) for gap in rows[-1].gaps]
        entries = [e for e in turned if e is not None and e.span.end >= 0]
        if entries:
            problem = TurnLeftOpen(row=entries[0].label or "This row", many=len(rows[-1].gaps))
            yield Finding(problem=problem, span=_turn_words(subject, entries[0]))


def _turning(rows: Iterable[Entry], order: int) -> Entry | None:
    return next((e for e in rows if e.order == order), None)


def _turn_words(subject: Subject, entry: Entry) -> Span:
    """The words that turn in a row; the row's own words if they cannot be told."""
    line = subject.line_of(entry)
    if line is not None:
        for node in tree.walk(line.actions):
            if isinstance(node, tree.Turn) and node.span.end >= 0:
                return Span(node.span.start + line.offset, node.span.end + line.offset)
    return entry.span


_KEPT = {tree.TurnHow.WRAP: "wraps", tree.TurnHow.DOUBLE: "double stitches"}


def _bound_off_open(way: Way, subject: Subject) -> Iterable[Finding]:
    """Bind-offs that come straight upon turns still open, wrapped in plain fabric or made double."""
    for piece in way.knitted.ledger.pieces:
        for before, entry in pairwise(piece.rows):
            if entry.kind is not Kind.BIND_OFF or entry.end or not before.gaps or entry.span.end < 0:
                continue
            turned = [e for g in before.gaps if (e := _turning(piece.rows, g.turned_on)) is not None]
            hows = {_how(subject, e) for e in turned}
            if len(hows) != 1 or any(e.unread or e.resumed for e in turned):
                continue
            how = hows.pop()
            plain = ground_of(way.knitted, [e for e in piece.rows if e.order < entry.order]) == "stockinette"
            if how in _KEPT and (plain or how is tree.TurnHow.DOUBLE):
                problem = TurnsBoundOffOpen(len(before.gaps), _KEPT[how])
                related = tuple(Related(_turn_words(subject, e), "turned here") for e in turned[-1:])
                yield Finding(problem=problem, span=entry.span, related=related)


def _closed_unsaid(way: Way, subject: Subject, how: tree.TurnHow) -> Iterable[Finding]:
    """Rows that work over turns to the end and say nothing, beside one that says what becomes of them."""
    for piece in way.knitted.ledger.pieces:
        rows = [e for e in piece.rows if e.kind is Kind.ROW]
        if any(e.unread or e.resumed for e in rows) or (
            how is tree.TurnHow.WRAP and ground_of(way.knitted, rows) != "stockinette"
        ):
            continue
        closers = []
        for before, entry in pairwise(rows):
            left = {g.turned_on for g in entry.gaps}
            many = sum(g.turned_on not in left for g in before.gaps)
            line = subject.line_of(entry)
            if many and line is not None and not entry.unworked and entry.span.end >= 0:
                closers.append((entry, line, many))
        says = [e for e, line, _ in closers if _resolves(line)]
        for entry, line, many in closers:
            if says and not _resolves(line) and not _OF_TURNS.search(line.text):
                other = min(says, key=lambda e: abs(e.order - entry.order))
                problem = TurnsClosedUnsaid(
                    entry.label or "This row", many, _KEPT[how], (other.label or "another row").lower()
                )
                related = (Related(other.span, "it is said here"),)
                yield Finding(problem=problem, span=entry.span, related=related)


_OF_TURNS = re.compile(
    r"\b(?:double|wrap\w*|gaps?|turn\w*|as one|legs|close|closing|resolv\w*|same way|likewise|as before)\b",
    re.IGNORECASE,
)


def _resolves(line: tree.Line) -> bool:
    return any(isinstance(n, tree.Resolve) and not n.left for n in tree.walk(line.actions))


def _said_elsewhere(subject: Subject) -> bool:
    """Whether wraps and double stitches are spoken of outside the rows that work over them."""
    text = subject.source.text
    rows = [
        Span(line.offset, line.offset + len(line.text))
        for section in subject.pattern.sections
        for line in section.lines
        if _resolves(line)
    ]
    return any(
        not any(s.start <= m.start() < s.end for s in rows)
        for about in (_ABOUT_DOUBLES, _ABOUT_WRAPS)
        for m in about.finditer(text)
    )


def _how(subject: Subject, entry: Entry) -> tree.TurnHow | None:
    line = subject.line_of(entry)
    turns = [n for n in tree.walk(line.actions) if isinstance(n, tree.Turn)] if line is not None else []
    return turns[0].how if len(turns) == 1 else None


def _in_plain(subject: Subject) -> bool:
    """Whether every row that wraps stands in plain fabric, and a row lies across the turns later."""
    if not subject.ways:
        return False
    knitted = subject.ways[0].knitted
    turning = []
    for piece in knitted.ledger.pieces:
        rows = [e for e in piece.rows if e.kind in {Kind.ROW, Kind.ROUND}]
        turned = [e for e in rows if _how(subject, e) is tree.TurnHow.WRAP]
        if turned:
            turning.append(rows)
            if any(e.unread or e.resumed for e in rows) or all(
                e.gaps for e in rows if e.order > turned[-1].order
            ):
                return False
    return bool(turning) and all(ground_of(knitted, rows) == "stockinette" for rows in turning)


def judge_turns(subject: Subject) -> Answer:
    """C033."""
    turns = subject.nodes(tree.Turn)
    known: Answer | None = subject.of_work(judge_turns) if subject.calm and not turns else None
    if known is not None:
        return known
    places = sum(
        1
        for _, e in subject.entries()
        if e.gaps and any(g.turned_on == e.order for g in e.gaps) and not e.unread
    )
    findings = subject.each_way(lambda way: _open_turns(way, subject))
    wraps = [
        Span(node.span.start + line.offset, node.span.end + line.offset)
        for line, node in subject.nodes(tree.Turn)
        if node.how is tree.TurnHow.WRAP and node.span.end >= 0
    ]
    hows = {node.how for _, node in subject.nodes(tree.Turn)} & set(_KEPT)
    text = subject.source.text
    if hows and not (subject.nodes(tree.Resolve) or _ABOUT_WRAPS.search(text) or _ABOUT_DOUBLES.search(text)):
        open_ = subject.each_way(lambda way: _bound_off_open(way, subject))
        findings += open_
        wraps = [] if open_ else wraps
    if wraps and not (subject.nodes(tree.Resolve) or _ABOUT_WRAPS.search(subject.source.text)):
        related = tuple(Related(span, "and here") for span in wraps[1:3])
        problem = (WrapsShow if _in_plain(subject) else WrapsNotSpokenOf)(len(wraps))
        findings.append(Finding(problem=problem, span=wraps[0], related=related))
    if len(hows) == 1 and subject.nodes(tree.Resolve) and not _said_elsewhere(subject):
        (how,) = hows
        findings += subject.each_way(lambda way: _closed_unsaid(way, subject, how))
    answer = Answer(places=places, findings=tuple(findings), missing=not_read(subject))
    if subject.calm and not turns and not findings:  # the words have nothing to say of it
        subject.keep_of_work(judge_turns, answer)
    return answer


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    "C031": while_knitting("C031"),
    "C033": judge_turns,
}
