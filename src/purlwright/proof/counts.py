"""Family A, stitch counts: totals where they are needed, and rows that change their own count.

Most of this family is found while knitting; what is judged here is what only the whole ledger shows.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from purlwright.findings import Edit, Finding, Fix, Related, Severity
from purlwright.needles.ledger import Entry, Kind, Piece, StatedCount
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read, of_the_work, while_knitting
from purlwright.proof.goes_on import past_place
from purlwright.proof.subject import Subject, Way, where_met
from purlwright.stitches.load import dictionary
from purlwright.text import Span

__all__ = ["JUDGES", "BindOffTwoWays", "TotalLacking", "TotalOnRepeat"]

_ROWS = (Kind.ROW, Kind.ROUND)


@dataclass(frozen=True, slots=True)
class TotalLacking:
    """The stitch count has just changed for good, and no total says what it is now.

    A knitter counts to be sure of herself. After shaping, after a divide or a join, after stitches are
    picked up, she has nothing to hold her count against unless the pattern prints it; a slip made here
    is found many rows later.

    Example: `Row 9: K2tog, knit to last 2 sts, ssk.` is the last shaping row of the flap, and nothing
    says how many stitches are left.

    Cure: print the total after the row, for example `(18 sts)`. Purlwright has counted it for you.
    """

    total: str
    after: str

    code = "total-lacking"
    check = "C004"
    severity = Severity.NOTE

    def message(self) -> str:
        are = "is 1 stitch" if self.total == "1" else f"are {self.total} stitches"
        return f"After {self.after} there {are} on the needle, and no total says so."

    def label(self) -> str:
        return f"{self.total} sts now"

    def help(self) -> str | None:
        return f"Print ({self.total} sts) after it."


@dataclass(frozen=True, slots=True)
class TotalOnRepeat:
    """A total stands on a row that is worked again, and the next time it is no longer true.

    A knitter on her third time through reads the total and believes that she has lost stitches. Nothing
    is wrong with her knitting: the total was true the first time only. Where the words that repeat the row
    give the number that it ends with, she can check that, and nothing is said.

    Example: `Row 2: K2tog, knit to end. (29 sts)`, then `Repeat row 2 five times more.` and no total.

    Cure: print the total after the repeat, or say which time it is true for.
    """

    first: str
    last: str
    times: str

    code = "total-on-repeat"
    check = "C005"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f"This total is true the first time only: the row is worked {self.times} times, and ends with "
            f"{self.first} stitches at first and {self.last} at last."
        )

    def label(self) -> str:
        return "true the first time only"

    def help(self) -> str | None:
        return "Print the total after the repeat, or say which time it is true for."


@dataclass(frozen=True, slots=True)
class BindOffTwoWays:
    """Binding off leaves one stitch on the right needle, and the pattern counts it in two ways.

    After "bind off 5" a sixth stitch has been worked and waits on the right needle. Either the number that
    follows includes it or it does not. If one row counts it and another does not, a knitter who has learned
    the one comes out a stitch wrong in the other.

    Example: with 20 stitches `Bind off 5 sts, k14.` leaves it out; with 15, `Bind off 5 sts, k10.` counts it.

    Cure: count it one way throughout, and say which way once.
    """

    code = "bind-off-two-ways"
    check = "C010"
    severity = Severity.WARNING

    def message(self) -> str:
        return "Here the stitch left by binding off is counted among those that follow; elsewhere it is not."

    def label(self) -> str:
        return "counted here"

    def help(self) -> str | None:
        return "Count it one way throughout, and say which."


@dataclass(frozen=True, slots=True)
class BindOffWayUnsaid:
    """A row binds off and goes on with counted stitches, and no word says whether they hold the stitch that
    the bind-off left on the right needle.

    Whoever adds the counts up can tell; at the needles a knitter comes out a stitch over, or lacks one.

    Example: with 20 stitches `Bind off 5 sts, k14.`

    Cure: say it once: "the stitch on the right needle after binding off is (not) counted".

    Source: common practice of technical editors, no single source.
    """

    counted: bool

    code = "bind-off-way-unsaid"
    check = "C010"
    severity = Severity.NOTE

    def message(self) -> str:
        way = "are counted with" if self.counted else "come after"
        return f"The stitches here {way} the one left by binding off, and no word says so."

    def label(self) -> str:
        return "counted with it" if self.counted else "after it"

    def help(self) -> str | None:
        return 'Say it once, such as "k14 (not counting the st on the needle after binding off)".'


_LOOP_TOLD = re.compile(
    r"\b(?:includ\w+|count(?:s|ed|ing)?|plus|already|besides)\b[^.;]{0,60}\b(?:needle|bind|bound|cast|loop|st\b|stitch)"
    r"|\b(?:st|stitch|loop|sts)\b[^.;]{0,30}\b(?:on|left on|remaining on)\b[^.;]{0,20}\bneedle\b"
    r"|\bafter (?:the )?(?:bind|bound|cast)",
    re.IGNORECASE,
)


# --- C004 --------------------------------------------------------------------------------------------


def _needed(piece: Piece) -> Iterator[tuple[Entry, str, list[Entry]]]:
    """Where a total is needed: the entry, what happened there, and the entries that may print it."""
    for _section, group in groupby(piece.rows, key=lambda e: e.section):
        rows = list(group)
        changed = [n for n, e in enumerate(rows) if _changes(e)]
        for place in changed:
            entry, later = rows[place], rows[place + 1 :]
            until = next((n for n, e in enumerate(later) if e.end != entry.end), len(later))
            why = _why(entry, last=place == changed[-1])
            if why and entry.end > 1:  # the last stitch of all is counted by whoever fastens it off
                yield entry, why, [entry, *later[:until]]


def _changes(entry: Entry) -> bool:
    """Whether the count differs after it, or loops went to or came from a holder."""
    if entry.end == entry.start and not (entry.held or entry.returned):
        return False
    return entry.kind not in {Kind.CAST_ON, Kind.BIND_OFF, Kind.GRAFT, Kind.SEAM}


def _why(entry: Entry, *, last: bool) -> str:
    """What a knitter would call what happened, or "" if no total is needed yet."""
    if entry.kind is Kind.PICK_UP:
        return "picking up"
    if entry.kind is Kind.JOIN or entry.returned:
        return "joining"
    if entry.held:
        return "dividing"
    return "this shaping" if last else ""


def _named_in_words(subject: Subject, way: Way) -> set[int]:
    """Totals that words to go on give: "until there are 96 sts", "until 8 sts remain"."""
    at = subject.size_place(way.size)
    counts = (until.stitches.at(at) for _, until in subject.nodes(tree.Until) if until.stitches is not None)
    return {n for n in counts if n is not None}


_NEXT = range(3)
"""The line itself and the one under it, which may stand after a blank one."""


def _taken_whole(subject: Subject, way: Way) -> set[tuple[int, int]]:
    """Line and number where words take up what is left: "cast off rem 6 sts", "leave 23 sts on a holder"."""
    at = subject.size_place(way.size)
    counts = [(line, x.count) for line, x in subject.nodes(tree.BindOff)]
    counts += [(line, x.count) for line, x in subject.nodes(tree.Hold)]
    return {(line.line, n) for line, count in counts if count is not None and (n := count.at(at)) is not None}


@of_the_work(tree.Until, tree.BindOff, tree.Hold)
def judge_totals_lacking(subject: Subject) -> Answer:
    """C004."""
    places = 0
    lacking: dict[Span, list[tuple[Way, Entry, str]]] = {}
    for way in subject.ways:
        named, amiss = _named_in_words(subject, way), subject.amiss(way)
        misled = {e.order for rows in _workings(subject, way) if _true_once(rows) for e in rows}
        taken = _taken_whole(subject, way)
        for piece in way.knitted.ledger.pieces:
            for entry, why, printing in _needed(piece):
                places += 1
                if entry.unread or entry.resumed or entry.line in amiss:
                    continue  # its words were not read whole or do not work, the total perhaps among them
                if entry.order in misled:
                    continue  # C005 asks for the total after the repeat
                if any((entry.line + n, entry.end) in taken for n in _NEXT):
                    continue
                if entry.end not in named and not any(s.kind == "total" for e in printing for s in e.stated):
                    lacking.setdefault(entry.span, []).append((way, entry, why))
    findings = []
    for span, met in lacking.items():
        if span.end < 0:
            continue
        total = subject.by_size((way, entry.end) for way, entry, _ in met)
        end = span.end + (subject.source.text[span.end : span.end + 1] == ".")
        fix = Fix(title="Print the total", edits=(Edit(Span(end, end), f" ({total} sts)"),))
        problem = TotalLacking(total=total, after=met[0][2])
        finding = Finding(problem=problem, span=span, fix=fix)
        findings.append(where_met(finding, [way for way, _, _ in met], subject.ways))
    return Answer(places=places, findings=tuple(findings), missing=not_read(subject))


# --- C005 and C008 -----------------------------------------------------------------------------------


def _workings(subject: Subject, way: Way) -> list[list[Entry]]:
    """The entries that work the same words, in order, for words worked more than once in a piece."""
    return subject.once(("workings", id(way)), lambda: list(_worked_again(way)))


def _worked_again(way: Way) -> Iterator[list[Entry]]:
    for piece in way.knitted.ledger.pieces:
        by_words: dict[tuple[Span, str], list[Entry]] = {}
        for entry in piece.rows:
            if entry.kind in _ROWS and entry.span.end >= 0:
                by_words.setdefault((entry.span, entry.label), []).append(entry)
        yield from (rows for rows in by_words.values() if len(rows) > 1)


def _true_once(rows: list[Entry]) -> StatedCount | None:
    """The total printed with words worked several times, if it is true the first time and not each time."""
    total = next((s for s in rows[0].stated if s.kind == "total" and not s.approximate), None)
    if total is None or any(e.resumed or e.unread for e in rows) or total.stated != rows[0].end:
        return None
    return total if len({e.end for e in rows}) > 1 else None


def _ends_with_total(way: Way, last: Entry, again: set[int], named: set[int]) -> bool:
    """Whether the repeat in which a row is worked the last time ends with a number that the words give."""
    rows = next(p.rows for p in way.knitted.ledger.pieces if last in p.rows)
    end = last
    for entry in rows[rows.index(last) :]:
        if entry.order not in again and entry.end != end.end:
            break
        end = entry
        if entry.end in named or any(s.kind == "total" and s.stated == entry.end for s in entry.stated):
            return True
    return False


@of_the_work(tree.Until)
def judge_totals_on_repeats(subject: Subject) -> Answer:
    """C005: one finding a total, its numbers as a list of sizes."""
    places = 0
    untrue: dict[Span, list[tuple[Way, list[int]]]] = {}
    for way in subject.ways:
        named, workings = _named_in_words(subject, way), _workings(subject, way)
        again = {e.order for rows in workings for e in rows[1:]}
        for rows in workings:
            places += any(s.kind == "total" and not s.approximate for s in rows[0].stated)
            total = _true_once(rows)
            if total is not None and not _ends_with_total(way, rows[-1], again, named):
                untrue.setdefault(total.span, []).append((way, [e.end for e in rows]))
    findings = []
    for span, met in untrue.items():
        problem = TotalOnRepeat(
            first=subject.by_size((way, ends[0]) for way, ends in met),
            last=subject.by_size((way, ends[-1]) for way, ends in met),
            times=subject.by_size((way, len(ends)) for way, ends in met),
        )
        findings.append(where_met(Finding(problem=problem, span=span), [w for w, _ in met], subject.ways))
    return Answer(places=places, findings=tuple(findings), missing=not_read(subject))


@of_the_work()
def judge_changing_repeats(subject: Subject) -> Answer:
    """C008: fails where a row works the first time and not a later one; knitting has said so there."""
    places = fails = 0
    for way in subject.ways:
        for rows in _workings(subject, way):
            if all(e.made == e.lost for e in rows):
                continue
            places += 1
            fails += not rows[0].resumed and any(e.resumed and not e.unread for e in rows[1:])
    return Answer(places=places, fails=bool(fails), missing=not_read(subject))


# --- C010, C011 and C017 -----------------------------------------------------------------------------


def judge_bind_off_loop(subject: Subject) -> Answer:
    """C010: of bind-offs with a number and work after them, all count the loop or none does."""
    places = 0
    ways_of: dict[bool, tuple[tree.Line, Span]] = {}
    counted = any(node.count is not None for _, node in subject.nodes(tree.BindOff))
    for way in subject.ways if counted else ():
        size = subject.size_place(way.size)
        for entry in (e for p in way.knitted.ledger.pieces for e in p.rows if e.kind in _ROWS):
            line = subject.line_of(entry)
            if line is None or len(line.actions) < 2 or not isinstance(line.actions[0], tree.BindOff):
                continue
            off = line.actions[0].count.at(size) if line.actions[0].count is not None else None
            if not off:
                continue
            places += 1
            over = _left_for_the_loop(line.actions[1:], entry.start - off, size)
            if over in {0, 1} and not entry.resumed:
                ways_of.setdefault(over == 0, (line, _to_last_step(line)))
    findings: tuple[Finding, ...] = ()
    if len(ways_of) == 2:
        (_, span), (_, other) = ways_of[True], ways_of[False]
        findings = (Finding(problem=BindOffTwoWays(), span=span, related=(Related(other, "not counted"),)),)
    elif ways_of and not any(_LOOP_TOLD.search(told.text) for told in subject.watched.lines):
        counted_there, (_, span) = next(iter(ways_of.items()))
        findings = (Finding(problem=BindOffWayUnsaid(counted_there), span=span),)
    return Answer(places=places, findings=findings, missing=not_read(subject))


def _left_for_the_loop(actions: Iterable[tree.Action], there: int, size: int) -> int | None:
    """How many of the stitches ``there`` the steps leave over; None if they are not all counted ones."""
    stitches = dictionary().stitches
    for step in actions:
        if isinstance(step, tree.Work) and not step.own and step.stitch in stitches:
            there -= (step.count.at(size) or 0) * stitches[step.stitch].takes
        elif not isinstance(step, tree.Stated | tree.Note):
            return None
    return there


def _to_last_step(line: tree.Line) -> Span:
    """From the bind-off to the last stitch after it, without the total."""
    spans = [a.span for a in line.actions if isinstance(a, tree.BindOff | tree.Work) and a.span.end >= 0]
    return Span(spans[0].start + line.offset, spans[-1].end + line.offset) if spans else Span(-1, -1)


@of_the_work(tree.BindOff)
def judge_last_bind_off(subject: Subject) -> Answer:
    """C011: a piece that ends with a bind-off has nothing left; knitting has said so where it has."""
    binding = {line.offset for line, _ in subject.nodes(tree.BindOff)}
    places = fails = 0
    for way in subject.ways:
        for piece in way.knitted.ledger.pieces:
            ends = [e for e in piece.rows if e.kind is Kind.BIND_OFF or _offset(subject, e) in binding]
            places += len(ends)
            fails += bool(ends) and ends[-1] is piece.rows[-1] and piece.live > 0
    return Answer(places=places, fails=bool(fails), missing=not_read(subject))


def _offset(subject: Subject, entry: Entry) -> int:
    line = subject.line_of(entry)
    return -1 if line is None else line.offset


def _keeps_count(node: tree.Node) -> bool:
    """Whether a step is one whose count readers stumble over: slips, drops, wraps, elongated stitches."""
    if isinstance(node, tree.Work):
        return node.stitch.startswith(("sl", "drop", "k elong", "p elong"))
    return isinstance(node, tree.Drop | tree.Wrap) or (
        isinstance(node, tree.Turn) and node.how is not tree.TurnHow.PLAIN
    )


def _stumbles(actions: Iterable[tree.Action]) -> bool:
    return any(_keeps_count(node) for node in tree.walk(tuple(actions)))


@of_the_work(_stumbles)
def judge_slips_keep_count(subject: Subject) -> Answer:
    """C017: totals on rows with slips, drops or wraps come true."""
    stumbled = subject.told_each(subject.lines, _stumbles)
    lines = {line.offset for line, told in zip(subject.lines, stumbled, strict=True) if told}
    places = fails = 0
    if lines:
        for _, entry in subject.entries():
            totals = [s for s in entry.stated if s.kind == "total" and not s.approximate]
            if totals and _offset(subject, entry) in lines:
                places += len(totals)
                fails += any(s.stated != s.knitted for s in totals)
    return Answer(places=places, fails=bool(fails), missing=not_read(subject))


def judge_places(subject: Subject) -> Answer:
    """C006: places that cannot be reached are found at the needles; here those that say nothing."""
    return _places(subject)._replace(findings=tuple(past_place(subject)))


_places = while_knitting("C006")

JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    **{check: while_knitting(check) for check in ("C001", "C002", "C003", "C007", "C009")},
    "C006": judge_places,
    **{check: while_knitting(check) for check in ("C012", "C013", "C014", "C016", "C019")},
    "C004": judge_totals_lacking,
    "C005": judge_totals_on_repeats,
    "C008": judge_changing_repeats,
    "C010": judge_bind_off_loop,
    "C011": judge_last_bind_off,
    "C017": judge_slips_keep_count,
}
