"""Row numbers (C020): they run on without a gap, a double or a step back.

In: the labels of each section. Out: findings at the label where the count stumbles. A count begins again
at 1, and after work that bears no number. Rules such as "every WS row: purl" give rows that no label names.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.proof.answer import Answer
from purlwright.proof.row_sets import set_faults
from purlwright.proof.subject import Met, Subject, at, here, merge, serves

__all__ = ["RowMissing", "RowOutOfOrder", "RowTwice", "judge_numbers"]


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
    alternate: bool = False

    code = "row-missing"
    check = "C020"
    severity = Severity.WARNING

    def message(self) -> str:
        unit = self.unit
        if self.alternate:
            first, last = self.missing[0], self.missing[-1]
            return f"Every other {unit} from {unit} {first} to {unit} {last} is not given."
        return (
            f"{unit.capitalize()} {self.after} comes after {unit} {self.before}: "
            f"{unit}{'s' if len(self.missing) > 1 else ''} {_span_of_numbers(self.missing)} "
            f"{'are' if len(self.missing) > 1 else 'is'} not given."
        )

    def label(self) -> str:
        if self.alternate:
            return f"no {self.unit} {self.missing[0]} before this"
        return f"no {self.unit} {_span_of_numbers(self.missing)} before this"

    def help(self) -> str | None:
        if self.alternate:
            return f'Say once how they are worked, as in "every other {self.unit}: knit".'
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


def _span_of_numbers(numbers: Sequence[int]) -> str:
    """``6``, ``6 and 8``, ``6 to 9``, ``6, 8 and 9``; of many, the first few."""
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{numbers[0]} to {numbers[-1]}"
    words = [str(n) for n in numbers[:6]] + ([f"{len(numbers) - 6} more"] if len(numbers) > 6 else [])
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


@dataclass(slots=True)
class _Run:
    """Numbers met since the count last began, each with its line; whether work without one stood between."""

    lines: dict[int, tree.Line]
    last: int = 0
    loose: bool = True


_LONGEST_GAP = 1000
_SAYS_ALTERNATE = re.compile(
    r"\b(?:every|each|all|the)\s+(?:other|alternate|second|even|odd|ws|rs|wrong|intervening)\b[^.]{0,20}?"
    r"\b(?:rows?|rnds?|rounds?|side)\b|\balternate\s+(?:rows?|rnds?|rounds?)\b",
    re.IGNORECASE,
)
"""Words that give every second row even where no label does; then no number is missed."""


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
    if any(_says_alternate(line.text, _after_label(line)) and not _is_note(line) for line in lines):
        return lambda number: number > 0
    return lambda number: number <= limit and (every or number % 2 in parities)


@lru_cache(maxsize=2048)
def _says_alternate(text: str, start: int) -> bool:
    return _SAYS_ALTERNATE.search(text, start) is not None


def _after_label(line: tree.Line) -> int:
    return line.label.span.end if line.label is not None and line.label.span.end >= 0 else 0


def _works_unnumbered(line: tree.Line) -> bool:
    """Whether a line without a number may work rows, so that numbers may rightly jump after it."""
    quiet = tree.Note | tree.Stated | tree.Yarn | tree.Marker | tree.YarnTo
    return any(not isinstance(a, quiet) for a in line.actions)


def _only_tells(actions: tuple[tree.Action, ...]) -> bool:
    return all(isinstance(a, tree.Note) for a in actions)


def _is_note(line: tree.Line) -> bool:
    """Whether a line only tells: "The braid crosses on every odd round" gives no row."""
    return _only_tells(line.actions)


def _run_on(lines: Sequence[tree.Line]) -> bool:
    """Whether every number is one more than the last, from 1."""
    last = 0
    for line in lines:
        label = line.label
        if label is not None and label.numbers:
            if label.rule is not None or label.numbers[0] != last + 1:
                return False
            last = label.numbers[-1]
            if last - label.numbers[0] != len(label.numbers) - 1:
                return False
    return True


def _number_findings(lines: Sequence[tree.Line]) -> Iterator[Finding]:
    """What is wrong with the numbers of one section, for one size and option."""
    if _run_on(lines):
        return
    covered = _rule_covers(lines)
    given = {n for line in lines if line.label is not None for n in line.label.numbers}
    run = _Run({})
    gaps: list[tuple[tree.Line, tuple[int, ...], int]] = []
    for line in lines:
        label = line.label
        if label is None or not label.numbers:
            run.loose = run.loose or _works_unnumbered(line)
            continue
        low, high = min(label.numbers), max(label.numbers)
        scattered = label.rule is not None or _listed(label.numbers)
        if label.numbers[0] <= run.last and label.rule is None and (label.numbers[0] == 1 or run.loose):
            run = _Run({})  # the count begins again
        yield from _twice_or_back(line, label, run, scattered=scattered)
        run.lines.update(dict.fromkeys(label.numbers, line))
        if not run.loose and low - run.last < _LONGEST_GAP:
            gap = tuple(n for n in range(run.last + 1, low) if n not in given and not covered(n))
            gaps += [(line, gap, run.last)] if gap else []
        run.last = max(run.last, low if scattered else high)
        run.loose = False
    yield from _missing(gaps)


def _twice_or_back(line: tree.Line, label: tree.Label, run: _Run, *, scattered: bool) -> Iterator[Finding]:
    unit = _unit(label)
    for number in label.numbers:
        other = run.lines.get(number)
        if other is not None:
            yield at(line, RowTwice(number, unit), label.span, [here(other, "the first")])
            return
        if number < run.last and not scattered:
            yield at(line, RowOutOfOrder(number, run.last, unit), label.span)
            return


def _missing(gaps: Sequence[tuple[tree.Line, tuple[int, ...], int]]) -> Iterator[Finding]:
    """One finding a gap; where every other row is left out throughout, one for all of them."""
    alternate = len(gaps) > 2 and len({gap[-1] % 2 for _, gap, _ in gaps}) == 1
    alternate = alternate and all(len({n % 2 for n in gap}) == 1 for _, gap, _ in gaps)
    if alternate:
        line, _, before = gaps[0]
        gaps = [(line, tuple(n for _, gap, _ in gaps for n in gap), before)]
    for line, gap, before in gaps:
        label = line.label
        if label is not None:
            problem = RowMissing(gap, before, min(label.numbers), _unit(label), alternate=alternate)
            yield at(line, problem, label.span)


def _unit(label: tree.Label) -> str:
    return label.unit.value if label.unit is not None else "row"


def _listed(numbers: tuple[int, ...]) -> bool:
    """Whether a label lists rows that are not neighbours ("Rows 2, 4 and 6"): others fit between."""
    return len(numbers) > 1 and numbers[-1] - numbers[0] >= len(numbers)


def judge_numbers(subject: Subject) -> Answer:
    """C020. A section all of whose lines are for everyone is looked at once."""
    besides = (tree.RepeatRows, _only_tells)
    known: Answer | None = subject.of_work(judge_numbers, *besides) if subject.calm else None
    if known is not None:
        return known
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
    findings += [] if findings else set_faults(subject)
    answer = Answer(places=places, findings=tuple(findings))
    limited = any(line.sizes or line.options for line in subject.lines)
    if not (findings or limited) and all(_run_on(section.lines) for section in subject.pattern.sections):
        subject.keep_of_work(judge_numbers, answer, *besides)  # no other words were looked at
    return answer
