"""Family L, words that can be followed: sentences, lists of sizes and headings that the ear can keep.

In: a pattern's notes, rows and headings. Out: notes on what is hard to follow when it is read aloud, or one
line at a time. Whether the words are clear and kind only a person can say.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Related, Severity
from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.proof.subject import Subject

__all__ = ["HeadingJumps", "ManyNumbers", "SentenceLong", "hard_to_follow"]

MOST_WORDS = 60
"""A sentence longer than this is lost before it ends. Common practice asks for far fewer; no source."""
MOST_LISTS = 5
"""So many lists of sizes in one line can be followed."""
MOST_NUMBERS = 40
"""A line of more numbers than this, in more lists, is not followed by ear. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class SentenceLong:
    """A sentence of a note or of the description is so long that its beginning is forgotten at its end.

    Who hears the pattern cannot look back, and who reads it at the needles has to find her place again.

    Example: a note of 80 words without a full stop.

    Cure: make two sentences of it. (Common practice; no source for the limit of 60 words.)
    """

    words: int

    code = "sentence-long"
    check = "C125"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"This sentence has {self.words} words; past {MOST_WORDS} its beginning is forgotten."

    def label(self) -> str:
        return f"{self.words} words"

    def help(self) -> str | None:
        return "Make two sentences of it."


@dataclass(frozen=True, slots=True)
class ManyNumbers:
    """One line has so many numbers for so many sizes that no knitter keeps to hers.

    At the needles, and more so by ear, the right number is found by counting along each list; a line with
    list after list is where a wrong one is taken.

    Example: a line that casts on, knits, decreases, knits, binds off and knits again, each for nine sizes.

    Cure: give each step a line of its own. (Common practice; no source for the limit.)
    """

    numbers: int
    lists: int

    code = "many-numbers"
    check = "C125"
    severity = Severity.NOTE

    def message(self) -> str:
        return f"This line has {self.numbers} numbers in {self.lists} lists of sizes."

    def label(self) -> str:
        return f"{self.lists} lists"

    def help(self) -> str | None:
        return "Give each step a line of its own."


@dataclass(frozen=True, slots=True)
class HeadingJumps:
    """A heading stands more than one level under the heading before it.

    Who goes from heading to heading by ear takes the missing level for a part that was lost.

    Example: `#### Left front` right under `## Body`.

    Cure: write the heading one level under the one before it.

    Source: PDF/UA-1 (ISO 14289-1), 7.4: no level of heading is left out on the way down (from memory).
    """

    level: int
    before: int

    code = "heading-jumps"
    check = "C125"
    severity = Severity.NOTE

    def message(self) -> str:
        marks, under = "#" * self.level, "#" * self.before
        apart = self.level - self.before
        return f"This heading ({marks}) stands {apart} levels under the one before it ({under})."

    def label(self) -> str:
        return "a level is left out"

    def help(self) -> str | None:
        return f"Begin it with {'#' * (self.before + 1)}."


def hard_to_follow(subject: Subject) -> Iterator[Finding]:
    """What of the words is hard to follow line by line, in their order."""
    yield from _headings(subject)
    for words, span in subject.pattern.header.description:
        yield from _sentences(words, span.start)
    if all(subject.told_texts(_is_short)):
        return
    for section in subject.pattern.sections:
        for line in section.lines:
            if _is_short(line.text):
                continue
            if line.actions and all(isinstance(a, tree.Note) for a in line.actions):
                yield from _sentences(line.text, line.offset)
            else:
                yield from _numbers(line)


def _is_short(text: str) -> bool:
    """Whether a line cannot be too much: a word is a letter and a space, a list of sizes has a bracket."""
    if len(text) > 2 * MOST_WORDS:
        return False
    return text.count("(") + text.count("[") + text.count("{") <= MOST_LISTS


def _headings(subject: Subject) -> Iterator[Finding]:
    before, where = 1, None
    for section in subject.pattern.sections:
        if section.span.end < 0 or not subject.source.text[: section.span.start].rstrip(" \t").endswith("#"):
            continue  # a heading without marks has no level of its own
        if section.level > before + 1:
            problem = HeadingJumps(section.level, before)
            related = (Related(where, "the heading before it"),) if where is not None else ()
            yield Finding(problem=problem, span=section.span, related=related)
        before, where = section.level, section.span


_END = re.compile(r"(?<=[.!?:;])[\"”’)]*\s+|\n")
_WORD = re.compile(r"\w[\w'’-]*")


def _sentences(words: str, at: int) -> Iterator[Finding]:
    begin = 0
    for end in [*(m.start() for m in _END.finditer(words)), len(words)]:
        part = words[begin:end]
        many = len(_WORD.findall(part))
        if many > MOST_WORDS:
            first = begin + len(part) - len(part.lstrip())
            yield Finding(problem=SentenceLong(many), span=Span(at + first, at + end))
        begin = end


def _numbers(line: tree.Line) -> Iterator[Finding]:
    lists = [n for n in tree.walk(line.actions) if isinstance(n, tree.Number) and len(n.values) > 1]
    lists = list({n.span: n for n in lists if n.span.end >= 0}.values())
    numbers = sum(len(n.values) for n in lists)
    if len(lists) > MOST_LISTS and numbers > MOST_NUMBERS:
        first, last = lists[0].span, lists[-1].span
        span = Span(line.offset + first.start, line.offset + last.end)
        yield Finding(problem=ManyNumbers(numbers, len(lists)), span=span)
