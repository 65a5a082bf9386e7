"""Named numbers: ``width = 20 (24, 28)`` and plain arithmetic on them, exact, one value a size.

In: the words of a Numbers section, or what stands in ``{ }`` in a row. Out: one value for each size, or the
reason why not. Only ``+ - * /``, brackets, numbers and the names already given. Where results go is left to
the reader of rows; how they are printed, to ``words``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.pattern.problems import NumberNamedTwice, NumberNotRead
from purlwright.pattern.read.problems import NotWhole, NumberTooLarge, NumberUnknown
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from collections.abc import Mapping

    from purlwright.findings import Collector, Problem

__all__ = ["NamedNumber", "Reckoned", "read_numbers", "reckon"]

_MOST = 1_000_000
"""A named number is at most this, either side of nothing."""
_DEEPEST = 50
_LONGEST = 500

_PIECE = re.compile(
    r"\s*(?:(?P<num>\d{1,12}(?:\.\d{1,12})?)|(?P<name>[^\W\d][\w-]*(?:[ ][^\W\d][\w-]*)*)"
    r"|(?P<mark>[-+*/×÷−()\[\],]))"
)
_NAME = re.compile(r"\s*(?P<name>[^\W\d][\w -]{0,40}?)\s{0,8}=\s*")
_UNIT = re.compile(r"(?<=\s)(?:sts?|stitches|rows?|rnds?|rounds?)$")


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedNumber:
    """One named number: its name as written, one value a size (or one for all), its words, and where it
    stands.
    """

    name: str
    values: tuple[int, ...]
    words: str
    span: Span


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What some arithmetic gives: exact values, one a size or one for all; or the problem met, and where in
    the words.
    """

    values: tuple[Fraction, ...] = ()
    problem: Problem | None = None
    span: Span = NOWHERE


class _Stop(Exception):  # noqa: N818 - not an error of ours: the words cannot be reckoned
    def __init__(self, problem: Problem, span: Span) -> None:
        self.problem = problem
        self.span = span


class _Reckoner:
    """A descent over the pieces of one piece of arithmetic."""

    __slots__ = ("at", "depth", "names", "pieces", "sizes", "words")

    def __init__(self, words: str, names: Mapping[str, tuple[int, ...]], sizes: int) -> None:
        self.words = words
        self.names = names
        self.sizes = max(1, sizes)
        self.depth = 0
        self.at = 0
        self.pieces: list[tuple[str, str, int, int]] = []
        here = 0
        text = words[:_LONGEST]
        while here < len(text.rstrip()):
            m = _PIECE.match(text, here)
            if m is None:
                raise _Stop(NumberNotRead(words=words.strip()), Span(here, len(words)))
            kind = m.lastgroup or ""
            self.pieces.append((kind, m[kind], m.start(kind), m.end(kind)))
            here = m.end()
        if len(words) > _LONGEST:
            raise _Stop(NumberNotRead(words=words[:40].strip()), Span(0, len(words)))

    def peek(self, ahead: int = 0) -> str:
        i = self.at + ahead
        return self.pieces[i][1] if i < len(self.pieces) else ""

    def span(self) -> Span:
        if not self.pieces:
            return Span(0, len(self.words))
        _, _, a, b = self.pieces[min(self.at, len(self.pieces) - 1)]
        return Span(a, b)

    def fail(self) -> _Stop:
        return _Stop(NumberNotRead(words=self.words.strip()), self.span())

    def sum(self) -> tuple[Fraction, ...]:
        """PRODUCT (("+" | "-") PRODUCT)*: "width - 8"."""
        self.depth += 1
        if self.depth > _DEEPEST:
            raise self.fail()
        value = self.product()
        while self.peek() and self.peek() in "+-−":
            mark = self.peek()
            self.at += 1
            value = self.both(value, self.product(), "+" if mark == "+" else "-")
        self.depth -= 1
        return value

    def product(self) -> tuple[Fraction, ...]:
        """FACTOR (("*" | "/") FACTOR)*: "repeats * 6"."""
        value = self.factor()
        while self.peek() and self.peek() in "*/×÷":
            mark = self.peek()
            self.at += 1
            value = self.both(value, self.factor(), "*" if mark in "*×" else "/")
        return value

    def factor(self) -> tuple[Fraction, ...]:
        """Says "-" FACTOR | "(" SUM ")" | LIST | NAME."""
        if self.at >= len(self.pieces):
            raise self.fail()
        kind, text, start, end = self.pieces[self.at]
        if text in {"-", "−"}:
            self.at += 1
            self.depth += 1
            if self.depth > _DEEPEST:
                raise self.fail()
            value = tuple(-v for v in self.factor())
            self.depth -= 1
            return value
        if kind == "num":
            return self.sizes_of()
        if kind == "name":
            self.at += 1
            known = self.names.get(" ".join(text.lower().split()))
            if known is None:
                raise _Stop(NumberUnknown(name=text), Span(start, end))
            return tuple(Fraction(v) for v in known)
        if text in {"(", "["}:
            self.at += 1
            value = self.sum()
            if self.peek() != (")" if text == "(" else "]"):
                raise self.fail()
            self.at += 1
            return value
        raise self.fail()

    def sizes_of(self) -> tuple[Fraction, ...]:
        """NUMBER (("(" | "[") NUMBER ("," NUMBER)* (")" | "]"))?: "20 (24, 28)"."""
        first = Fraction(self.pieces[self.at][1])
        self.at += 1
        if self.peek() not in {"(", "["}:
            return (first,)
        values = [first]
        close = ")" if self.peek() == "(" else "]"
        at = self.at + 1
        while at < len(self.pieces) and self.pieces[at][0] == "num":
            values.append(Fraction(self.pieces[at][1]))
            at += 1
            if at < len(self.pieces) and self.pieces[at][1] == ",":
                at += 1
                continue
            break
        if at < len(self.pieces) and self.pieces[at][1] == close and len(values) in {1 + 1, self.sizes}:
            if len(values) == self.sizes:
                self.at = at + 1
                return tuple(values)
        raise self.fail()

    def both(self, a: tuple[Fraction, ...], b: tuple[Fraction, ...], mark: str) -> tuple[Fraction, ...]:
        n = max(len(a), len(b))
        a = a * n if len(a) == 1 else a
        b = b * n if len(b) == 1 else b
        if mark == "+":
            value = tuple(x + y for x, y in zip(a, b, strict=False))
        elif mark == "-":
            value = tuple(x - y for x, y in zip(a, b, strict=False))
        elif mark == "*":
            value = tuple(x * y for x, y in zip(a, b, strict=False))
        elif 0 in b:
            raise self.fail()
        else:
            value = tuple(x / y for x, y in zip(a, b, strict=False))
        if any(abs(v) > _MOST or v.denominator > _MOST for v in value):
            raise _Stop(NumberTooLarge(words=self.words.strip()[:40]), Span(0, len(self.words)))
        return value


def reckon(words: str, numbers: Mapping[str, tuple[int, ...]], sizes: int) -> Reckoned:
    """The exact value of some plain arithmetic, for each size.

    words : "width - 8", "(width - 2) / 2", "20 (24, 28)".
    numbers : named numbers by lower-case name.
    sizes : how many sizes the pattern has.
    Never raises; empty words give a problem.
    """
    try:
        r = _Reckoner(words, numbers, sizes)
        value = r.sum()
        if r.at < len(r.pieces):
            raise r.fail()
    except _Stop as stop:
        return Reckoned(problem=stop.problem, span=stop.span)
    if any(abs(v) > _MOST for v in value):
        return Reckoned(problem=NumberTooLarge(words=words.strip()[:40]), span=Span(0, len(words)))
    return Reckoned(values=value)


def _not_whole(words: str, values: tuple[Fraction, ...], sizes: tuple[str, ...]) -> NotWhole:
    at = next(i for i, v in enumerate(values) if v.denominator != 1)
    return NotWhole(words, str(values[at]), sizes[at] if len(values) > 1 and at < len(sizes) else "")


def read_number(
    text: str, offset: int, known: dict[str, tuple[int, ...]], sizes: tuple[str, ...], findings: Collector
) -> NamedNumber | None:
    """NAME "=" SUM: "width = 20 (24, 28)". Adds it to ``known``; a line of another shape gives None and says
    nothing.
    """
    m = _NAME.match(text)
    if m is None:
        return None
    words = text[m.end() :]
    stated = words.rstrip().rstrip(".;")
    unit = _UNIT.search(stated[-20:])
    stated = stated[: len(stated) - len(unit[0])].rstrip() if unit is not None else stated
    name = " ".join(m["name"].split())
    span = Span(offset, offset + len(text.rstrip()))
    got = reckon(stated, known, len(sizes))
    start = offset + m.end()
    if got.problem is not None:
        findings.report(got.problem, Span(start + got.span.start, start + got.span.end))
        return None
    if any(v.denominator != 1 for v in got.values):
        findings.report(_not_whole(stated, got.values, sizes), Span(start, start + len(stated)))
        return None
    if name.lower() in known:
        findings.report(NumberNamedTwice(name=name), Span(offset + m.start("name"), offset + m.end("name")))
    values = tuple(int(v) for v in got.values)
    known[name.lower()] = values
    return NamedNumber(name=name, values=values, words=stated, span=span)


def read_numbers(
    lines: list[tuple[str, int]], sizes: tuple[str, ...], findings: Collector
) -> tuple[tuple[NamedNumber, ...], dict[str, tuple[int, ...]]]:
    """All named numbers of the Numbers sections, in order, and the table that rows are read with.

    lines : (words, where they stand in the source).
    """
    known: dict[str, tuple[int, ...]] = {}
    out: list[NamedNumber] = []
    for text, offset in lines:
        number = read_number(text, offset, known, sizes, findings)
        if number is not None:
            out.append(number)
        elif _NAME.match(text) is None and text.strip():
            findings.report(NumberNotRead(words=text.strip()[:60]), Span(offset, offset + len(text.rstrip())))
    return tuple(out), known
