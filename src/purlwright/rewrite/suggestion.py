"""What a rewording is, and how one is tried.

In: the pattern's text, and a way to knit any text. Out: a :class:`Suggestion`: the lines as they are, the
lines as they might be, and in how many ways the two were knitted and came out the same; or why none is
given. The designer's file is never changed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from purlwright.findings import Severity
from purlwright.rewrite.compare import difference

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.file import Pattern
    from purlwright.pattern.tree import Line

__all__ = [
    "Knit",
    "Read",
    "Suggestion",
    "Tried",
    "first_error",
    "in_her_letters",
    "replaced",
    "rows_of",
    "try_words",
]

Knit: TypeAlias = "Callable[[str], tuple[Pattern, tuple[Knitted, ...]]]"
"""Reads a text and knits it in every size and choice."""


@dataclass(frozen=True, slots=True)
class Read:
    """The pattern as it is: its text, what was read, and every knitting of it."""

    text: str
    pattern: Pattern
    knitted: tuple[Knitted, ...]
    knit: Knit

    @property
    def lines(self) -> list[str]:
        return self.text.split("\n")

    def words(self) -> list[Line]:
        """Every line of instruction, in order."""
        return [line for section in self.pattern.sections for line in section.lines]


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """A rewording: instead of lines ``line`` to ``end_line``, the words ``after``.

    ``ways`` says in how many sizes and choices both were knitted and were the same. If ``refused`` says
    why no rewording is given, ``after`` is empty.
    """

    kind: str
    title: str
    line: int
    end_line: int
    before: tuple[str, ...]
    after: tuple[str, ...] = ()
    ways: int = 0
    refused: str = ""


@dataclass(frozen=True, slots=True)
class Tried:
    """Words that were knitted beside the pattern: ``differs`` is "" if nothing differs."""

    ways: int
    differs: str


def try_words(read: Read, text: str) -> Tried:
    """Knit another text and hold it against the pattern, way for way."""
    pattern, others = read.knit(text)
    wrong = first_error(pattern, others)
    if wrong:
        return Tried(0, wrong)
    theirs = {(k.size, k.options): k for k in others}
    for mine in read.knitted:
        other = theirs.get((mine.size, mine.options))
        if other is None:
            return Tried(0, f"size {mine.size} is no longer there")
        differs = difference(mine, other)
        if differs:
            size = f"size {mine.size}: " if len(read.knitted) > 1 else ""
            return Tried(0, size + differs)
    return Tried(len(read.knitted), "")


def first_error(pattern: Pattern, knitted: Sequence[Knitted]) -> str:
    """What is the first error of a text that was read and knitted; "" if there is none."""
    found = [*pattern.findings, *(f for k in knitted for f in k.findings)]
    wrong = next((f for f in found if f.severity is Severity.ERROR), None)
    return wrong.message[0].lower() + wrong.message[1:].rstrip(".") if wrong is not None else ""


Way: TypeAlias = tuple[str, tuple[tuple[str, str], ...]]
"""A size and the option values, as a knitting names them."""


def rows_of(read: Read, number: int) -> dict[Way, tuple[int, int]] | None:
    """From which ledger entry to which the line ``number`` works, way for way (counted from 0, end
    exclusive).

    The pattern is knitted without what comes after the line, and without the line too. None if that does
    not agree with the whole.
    """
    with_it = _counts(read, number)
    without = _counts(read, number - 1)
    if with_it is None or without is None:
        return None
    return {way: (without[way], with_it[way]) for way in with_it}


def _counts(read: Read, last: int) -> dict[Way, int] | None:
    """How many entries the lines up to ``last`` make."""
    lines = read.lines
    for section in read.pattern.sections:
        if section.kind != "define":
            for line in section.lines:
                if line.line > last:
                    lines[line.line - 1] = ""
    _, knitted = read.knit("\n".join(lines))
    whole = {(k.size, k.options): k.ledger.entries for k in read.knitted}
    out = {}
    for k in knitted:
        entries = k.ledger.entries
        mine = whole.get((k.size, k.options), ())
        if len(entries) > len(mine) or any(
            a.end != b.end or a.start != b.start for a, b in zip(entries, mine, strict=False)
        ):
            return None
        out[k.size, k.options] = len(entries)
    return out if len(out) == len(whole) else None


def in_her_letters(words: str, text: str) -> str:
    """Abbreviations as she writes them: "m1r" where her words have it so; "knit to end" for "k to end"."""

    def hers(m: re.Match[str]) -> str:
        low = m[0].lower()
        stem = low.rstrip("lrp")  # "m1r" too where she has written "m1l"
        mine = re.search(rf"\b{m[0]}\b", text) is None and re.search(rf"\b{stem}[lrp]*\b", text)
        return low if mine else m[0]

    words = re.sub(r"(?<=[\s\[])[A-Z]+\d?[A-Z]*\b", hers, words)
    for short, full in (("k to", "knit to"), ("p to", "purl to")):
        if full in text.lower():
            words = re.sub(rf"\b{short}\b", full, words)
            words = re.sub(rf"\b{short.capitalize()}\b", full.capitalize(), words)
    return words


def replaced(lines: Sequence[str], first: int, last: int, words: Iterable[str]) -> str:
    """The text with lines ``first`` to ``last`` (from 1) replaced."""
    return "\n".join([*lines[: first - 1], *words, *lines[last:]])
