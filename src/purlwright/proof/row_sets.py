"""Rows sent back to by their numbers (C020): they are given in the section that speaks of them.

In: the labels of each section and the words that repeat rows. Out: findings on rows of a repeat that are not
given where the others are, so that an older section's would be worked; on a repeat that ends within rows told
together; on numbers that run backwards; and on a section whose numbers begin at 2. ``rows`` asks for them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.proof.subject import SectionLike, Subject, at, here

__all__ = ["FirstRowMissing", "RepeatSplitsRows", "RowNotInSection", "RowsBackwards", "set_faults"]


@dataclass(frozen=True, slots=True)
class RowNotInSection:
    """A repeat names rows of which some are given in its section and some are not.

    "Rep rows 1-4" under a heading with rows 1 to 3: row 4 is missing, or it is another number. Sought
    further back, a row 4 of another section would be knitted in its place.

    Example: `Rnd 1`, `Rnd 2` and `Rnd 3` under the heading "Leg", and `Rep rnds 1-4 until 14 repeats are
    done`.

    Cure: give the row, or mend the numbers of the repeat. (Common practice; no source.)
    """

    missing: tuple[int, ...]
    given: tuple[int, ...]
    unit: str

    code = "row-not-in-section"
    check = "C020"
    severity = Severity.WARNING

    def message(self) -> str:
        lacks = _are(self.unit, self.missing)
        return f"{lacks.capitalize()} not given under this heading; {_are(self.unit, self.given)}."

    def label(self) -> str:
        return f"no {self.unit} {self.missing[0]} here"

    def help(self) -> str | None:
        return f"Give {self.unit} {self.missing[0]}, or mend the numbers of the repeat."


@dataclass(frozen=True, slots=True)
class RepeatSplitsRows:
    """A repeat ends in the middle of rows that are told together.

    `Rows 3-8: As row 2` says that rows 3 to 8 belong together; `Rep rows 1-6` just after leaves two of them
    behind, which are then worked once and never again.

    Example: `Rows 3-8: As row 2.` and `Rep rows 1-6 until 12 sts remain.`

    Cure: repeat all of them, or tell the last ones on a line of their own. (Common practice; no source.)
    """

    last: int
    unit: str
    label_words: str

    code = "repeat-splits-rows"
    check = "C020"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'The repeat ends with {self.unit} {self.last}, in the middle of "{self.label_words}".'

    def label(self) -> str:
        return "ends in the middle"

    def help(self) -> str | None:
        return "Repeat the rows to the last one, or tell those that are not repeated on a line of their own."


@dataclass(frozen=True, slots=True)
class RowsBackwards:
    """Rows are named from the higher number to the lower, or from a row to itself.

    Example: `Rep rows 3 and 2 three times`, `Work rows 1-1`.

    Cure: mend the number. (Common practice; no source.)
    """

    first: int
    last: int
    unit: str

    code = "rows-backwards"
    check = "C020"
    severity = Severity.WARNING

    def message(self) -> str:
        if self.first == self.last:
            return f"{self.unit.capitalize()} {self.first} is named twice: one of the two numbers is another."
        return (
            f"{self.unit.capitalize()} {self.last} is named after {self.unit} {self.first}: "
            f"{self.unit}s are not worked backwards."
        )

    def label(self) -> str:
        return "the wrong way round"

    def help(self) -> str | None:
        return "Mend one of the two numbers."


@dataclass(frozen=True, slots=True)
class FirstRowMissing:
    """The numbers of a section begin at 2, and nothing stands before that could be row 1.

    Example: the heading "Cables", and under it at once `Rnd 2: *K6, p2; rep from * to end.`

    Cure: give row 1, or mend the number. (Common practice; no source.)
    """

    unit: str

    code = "first-row-missing"
    check = "C020"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"The {self.unit}s of this section begin with {self.unit} 2: {self.unit} 1 is not given."

    def label(self) -> str:
        return f"no {self.unit} 1 before this"

    def help(self) -> str | None:
        return f"Give {self.unit} 1, or mend the number."


def _are(unit: str, numbers: Sequence[int]) -> str:
    return f"{unit} {numbers[0]} is" if len(numbers) == 1 else f"{unit}s {_some(numbers)} are"


def _some(numbers: Sequence[int]) -> str:
    """``6``, ``6 and 8``, ``6 to 9``."""
    if len(numbers) > 2 and numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{numbers[0]} to {numbers[-1]}"
    words = [str(n) for n in numbers]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def set_faults(subject: Subject) -> Iterator[Finding]:
    """What is wrong with rows sent back to, section by section."""
    before = 0
    told = {f.span.start for f in subject.findings}
    repeats: dict[int, list[tree.RepeatRows]] = {}
    for line, node in subject.nodes(tree.RepeatRows):
        repeats.setdefault(line.offset, []).append(node)
    for section in subject.pattern.sections:
        yield from _first_missing(section, before)
        given: dict[int, tree.Line] = {}
        rule = any(line.label is not None and line.label.rule is not None for line in section.lines)
        for line in section.lines:
            for node in () if rule else repeats.get(line.offset, ()):
                own = line.label.numbers if line.label is not None and _after_the_row(line, node) else ()
                found = _of_set(line, node.rows, given | dict.fromkeys(own, line))
                if found is not None and found.span.start not in told:
                    yield found
            if line.label is not None:
                given.update(dict.fromkeys(line.label.numbers, line))
        before = max(given, default=before)


def _after_the_row(line: tree.Line, node: tree.RepeatRows) -> bool:
    """Whether a row is told before the repeat that stands in its line: "Row 4: Purl. Repeat rows 1-4"."""
    return any(a is not node and not isinstance(a, tree.Note) for a in line.actions[:1])


def _of_set(line: tree.Line, rows: tree.RowSet, given: dict[int, tree.Line]) -> Finding | None:
    numbers = list(rows.numbers)
    words = line.text[rows.span.start : rows.span.end]
    unit = "round" if re.search(r"r(?:ou)?nds?\b", words, re.IGNORECASE) else "row"
    if rows.first is not None and rows.last is not None:
        if rows.last < rows.first or (rows.last == rows.first and len(re.findall(r"\d+", words)) > 1):
            return at(line, RowsBackwards(rows.first, rows.last, unit), rows.span)
        numbers = list(range(rows.first, rows.last + 1))
    for a, b in pairwise(numbers):
        if b <= a:
            return at(line, RowsBackwards(a, b, unit), rows.span)
    if len(numbers) > _MOST or rows.section or rows.names:
        return None
    missing = [n for n in numbers if n not in given]
    if missing and len(missing) < len(numbers):
        have = tuple(sorted(n for n in given))
        return at(line, RowNotInSection(tuple(missing), have, unit), rows.span)
    last = given.get(numbers[-1]) if len(numbers) > 1 else None
    if last is not None and last.label is not None and last is _latest(given):
        told = last.label.numbers
        if told[0] < numbers[-1] < told[-1] and told[-1] - told[0] == len(told) - 1:
            problem = RepeatSplitsRows(numbers[-1], unit, last.label.words)
            return at(line, problem, rows.span, [here(last, "told together")])
    return None


_MOST = 1000


def _latest(given: dict[int, tree.Line]) -> tree.Line:
    return max(given.values(), key=lambda line: line.offset)


def _first_missing(section: SectionLike, before: int) -> Iterator[Finding]:
    """A section that begins at once with row 2; ``before`` is the last number of the section before."""
    for line in section.lines:
        if all(isinstance(a, tree.Note) for a in line.actions):
            continue
        label = line.label
        if label is None or not label.numbers or label.rule is not None or line.sizes or line.options:
            return
        if label.numbers[0] == 2 and before != 1 and not _given(section, 1):
            yield at(line, FirstRowMissing(label.unit.value if label.unit else "row"), label.span)
        return


def _given(section: SectionLike, number: int) -> bool:
    return any(line.label is not None and number in line.label.numbers for line in section.lines)
