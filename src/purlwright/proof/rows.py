"""Family B, rows, rounds and sides: numbers that run on, and the words row and round."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Kind
from purlwright.pattern import tree
from purlwright.proof.answer import Answer, not_read, while_knitting
from purlwright.proof.subject import Met, Subject, Way, at, merge, serves
from purlwright.text import Span

__all__ = ["JUDGES", "RoundCalledRow", "RowMissing", "RowOutOfOrder", "RowTwice", "WrongSideInRound"]


@dataclass(frozen=True, slots=True)
class RowMissing:
    """The row numbers jump: a row was left out, or a number is wrong.

    A knitter who meets row 7 after row 5 cannot know whether row 6 fell out in print or never was. If a
    rule such as "every WS row: purl" covers it, nothing is said here.

    Example: `Row 5: Knit.` is followed by `Row 7: K2, *yo, k2tog; rep from * to end.`

    Cure: give the row that is missing, or mend the number.
    """

    missing: tuple[int, ...]
    before: int
    after: int
    unit: str = "row"

    code = "row-missing"
    check = "C020"
    severity = Severity.WARNING

    def message(self) -> str:
        unit = self.unit
        return (
            f"{unit.capitalize()} {self.after} comes after {unit} {self.before}: "
            f"{unit}{'s' if len(self.missing) > 1 else ''} {_span_of_numbers(self.missing)} "
            f"{'are' if len(self.missing) > 1 else 'is'} not given."
        )

    def label(self) -> str:
        return f"no {self.unit} {_span_of_numbers(self.missing)} before this"

    def help(self) -> str | None:
        return f"Give {self.unit} {_span_of_numbers(self.missing)}, or mend the number."


@dataclass(frozen=True, slots=True)
class RowTwice:
    """Two rows of a section have the same number.

    Asked which row she is on, a knitter can no longer answer with a number, and "repeat rows 1-6" has
    two meanings.

    Example: `Row 4: Purl.` and, two lines on, `Row 4: Knit.`

    Cure: renumber one of them, or put it under a heading of its own.
    """

    number: int
    unit: str = "row"

    code = "row-twice"
    check = "C020"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"There is a {self.unit} {self.number} in this section already."

    def label(self) -> str:
        return f"the second {self.unit} {self.number}"

    def help(self) -> str | None:
        return "Renumber one of them, or begin a section with a heading."


@dataclass(frozen=True, slots=True)
class RowOutOfOrder:
    """A row number steps back.

    Rows are worked in the order they stand, whatever their numbers say. A number that steps back makes
    a knitter search for the row that she is on.

    Example: rows numbered 1, 2, 4, 3.

    Cure: put the rows in the order they are worked.
    """

    number: int
    after: int
    unit: str = "row"

    code = "row-out-of-order"
    check = "C020"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.unit.capitalize()} {self.number} comes after {self.unit} {self.after}."

    def label(self) -> str:
        return f"after {self.unit} {self.after}"

    def help(self) -> str | None:
        return "Put the rows in the order they are worked, or mend the number."


@dataclass(frozen=True, slots=True)
class RoundCalledRow:
    """Work in the round is called a row, or flat work a round.

    The word tells a knitter whether to turn at the end. Called by the wrong word, she turns joined work,
    or goes on round where she should turn back.

    Example: `Join to work in the round. Row 1: Knit.`

    Cure: say round where the work is joined, row where it is turned.
    """

    said: str
    is_: str
    many: int = 1

    code = "round-called-row"
    check = "C023"
    severity = Severity.WARNING

    def message(self) -> str:
        worked = "in the round" if self.is_ == "round" else "flat, back and forth"
        if self.many > 1:
            return f"{self.many} labels say {self.said} where the work is {worked}; this is the first."
        return f"This says {self.said}, but here the work is {worked}."

    def label(self) -> str:
        return f"this is a {self.is_}"

    def help(self) -> str | None:
        return f"Say {self.is_} here."


@dataclass(frozen=True, slots=True)
class WrongSideInRound:
    """A round is said to be worked on the wrong side.

    In the round the right side faces all the time unless the work is turned inside out. A WS label makes a
    knitter turn and undo her round.

    Example: `Round 4 (WS): Purl.`

    Cure: take the WS away; or, if the work is turned, say so.
    """

    label_words: str

    code = "wrong-side-in-round"
    check = "C024"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'"{self.label_words}" is worked in the round, where the right side faces all the time.'

    def label(self) -> str:
        return "WS, in the round"

    def help(self) -> str | None:
        return "Take the WS away, or say that the work is turned."


def _span_of_numbers(numbers: Sequence[int]) -> str:
    """``6``, ``6 and 8``, ``6 to 9``, ``6, 8 and 9``."""
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{numbers[0]} to {numbers[-1]}"
    words = [str(n) for n in numbers]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


# --- C020: numbers ------------------------------------------------------------------------------------


@dataclass(slots=True)
class _Run:
    """Numbers met since the count last began, each with its line; whether work without one stood between."""

    lines: dict[int, tree.Line]
    last: int = 0
    loose: bool = True


def _rule_covers(lines: Iterable[tree.Line]) -> Callable[[int], bool]:
    """Whether a rule of the section ("every WS row: purl") gives a row of that number."""
    parities: set[int] = set()
    every = False
    limit = 0
    for line in lines:
        label = line.label
        if label is None or label.rule is None:
            continue
        limit = max(limit, label.rule_to or 1_000_000)
        if label.rule == "even":
            parities.add(0)
        elif label.rule == "odd":
            parities.add(1)
        elif label.numbers:
            parities.add(label.numbers[0] % 2)
        else:
            every = True
    return lambda number: number <= limit and (every or number % 2 in parities)


def _works_unnumbered(line: tree.Line) -> bool:
    """Whether a line without a number may work rows, so that numbers may rightly jump after it."""
    quiet = tree.Note | tree.Stated | tree.Yarn | tree.Marker | tree.YarnTo
    return any(not isinstance(a, quiet) for a in line.actions)


def _number_findings(lines: Sequence[tree.Line]) -> Iterator[Finding]:
    """What is wrong with the numbers of one section, for one size and option."""
    covered = _rule_covers(lines)
    run = _Run({})
    for line in lines:
        label = line.label
        numbers = label.numbers if label is not None else ()
        if not numbers:
            run.loose = run.loose or _works_unnumbered(line)
            continue
        span = label.span if label is not None else None
        unit = (label.unit.value if label is not None and label.unit else None) or "row"
        if numbers[0] <= run.last and numbers[0] == 1 and (label is None or not label.rule):
            run = _Run({})
        for number in numbers:
            if number in run.lines:
                other = run.lines[number]
                if other is not line:
                    yield at(line, RowTwice(number, unit), span, [_here(other, "the first")])
                    break
            elif number < run.last and not (label and label.rule) and not _listed(numbers):
                yield at(line, RowOutOfOrder(number, run.last, unit), span)
            run.lines[number] = line
        low = min(numbers)
        gap = tuple(n for n in range(run.last + 1, low) if n not in run.lines and not covered(n))
        if gap and not run.loose and len(gap) < 1000:
            later = {n for other in lines if other.label for n in other.label.numbers}
            if gap := tuple(n for n in gap if n not in later):
                yield at(line, RowMissing(gap, run.last, low, unit), span)
        scattered = (label is not None and label.rule) or _listed(numbers)
        run.last = max(run.last, low if scattered else max(numbers))
        run.loose = False


def _listed(numbers: tuple[int, ...]) -> bool:
    """Whether a label lists rows that are not neighbours ("Rows 2, 4 and 6"): others fit between."""
    return len(numbers) > 1 and numbers[-1] - numbers[0] >= len(numbers)


def _here(line: tree.Line, words: str) -> Related:
    span = line.label.span if line.label is not None else Span(0, len(line.text))
    return Related(Span(span.start + line.offset, span.end + line.offset), words)


def judge_numbers(subject: Subject) -> Answer:
    """C020. A section all of whose lines are for everyone is looked at once."""
    places = 0
    findings: list[Finding] = []
    for section in subject.pattern.sections:
        lines = section.lines
        places += sum(1 for line in lines if line.label is not None and line.label.numbers)
        if not any(line.sizes or line.options for line in lines):
            findings += _number_findings(lines)
            continue
        given = {n for line in lines if line.label for n in line.label.numbers}
        met = [
            Met(f, way)
            for way in subject.ways
            for f in _number_findings([line for line in lines if serves(line, way)])
            if not (isinstance(f.problem, RowMissing) and given.intersection(f.problem.missing))
        ]
        findings += merge(met, subject.ways)
    return Answer(places=places, findings=tuple(findings))


# --- C023 and C024 --------------------------------------------------------------------------------------


def _first_workings(way: Way, subject: Subject) -> Iterator[tuple[tree.Line, tree.Label, Kind]]:
    """Each labelled line with how it was worked the first time."""
    seen: set[int] = set()
    for piece in way.knitted.ledger.pieces:
        for entry in piece.rows:
            line = subject.line_of(entry)
            if line is None or line.label is None or entry.copied is not None or line.offset in seen:
                continue
            if entry.kind in {Kind.ROW, Kind.ROUND} and not entry.unread:
                seen.add(line.offset)
                yield line, line.label, entry.kind


def judge_row_or_round(subject: Subject) -> Answer:
    """C023: one finding for each wrong word, at its first place, the others beside it."""
    places = 0
    wrong: dict[tuple[str, str], dict[int, tree.Line]] = {}
    for way in subject.ways:
        for line, label, kind in _first_workings(way, subject):
            if label.unit is None:
                continue
            places += 1
            if label.unit.value != kind.value:
                wrong.setdefault((label.unit.value, kind.value), {})[line.offset] = line
    findings = []
    for (said, is_), lines in wrong.items():
        first, *others = (lines[n] for n in sorted(lines))
        related = [_here(line, f"a {is_} too") for line in others[:3]]
        span = first.label.span if first.label is not None else None
        findings.append(at(first, RoundCalledRow(said, is_, len(lines)), span, related))
    return Answer(places=places, findings=tuple(findings), missing=not_read(subject))


def judge_sides_in_round(subject: Subject) -> Answer:
    """C024."""
    places = 0

    def judge(way: Way) -> Iterable[Finding]:
        nonlocal places
        for line, label, kind in _first_workings(way, subject):
            if kind is Kind.ROUND:
                places += 1
                if label.side is tree.Side.WS:
                    yield at(line, WrongSideInRound(label.words.strip()), label.span)

    findings = subject.each_way(judge)
    return Answer(places=places, findings=tuple(findings), missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {
    **{check: while_knitting(check) for check in ("C021", "C022", "C026")},
    "C020": judge_numbers,
    "C023": judge_row_or_round,
    "C024": judge_sides_in_round,
}
