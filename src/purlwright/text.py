"""Source text and the places in it.

In: the raw text of a pattern. Out: one normalised text with its line starts, and spans that
name places in it. Everything above works in code-point offsets; lines, columns and UTF-16
are computed only when something is shown.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from typing import NamedTuple

__all__ = ["NOWHERE", "Source", "Span"]

_LINE_END = re.compile("\n")


class Span(NamedTuple):
    """A half-open stretch ``[start, end)`` of code points in a source text."""

    start: int
    end: int

    def cover(self, other: Span) -> Span:
        """The shortest span that holds both; ``NOWHERE`` adds nothing."""
        if self.end < 0:
            return other
        if other.end < 0:
            return self
        return Span(min(self.start, other.start), max(self.end, other.end))


NOWHERE = Span(-1, -1)
"""The span of words that stand nowhere in the text (made by the program, not by the designer)."""


class Source:
    """A pattern's text with ``\\n`` line ends, and where its lines begin.

    A byte-order mark is dropped and ``\\r\\n`` and ``\\r`` become ``\\n``; nothing else is changed,
    so a column shown to a person is the column in her own file.
    """

    __slots__ = ("name", "starts", "text")

    def __init__(self, text: str, name: str = "") -> None:
        if "\r" in text:
            text = text.replace("\r\n", "\n").replace("\r", "\n")
        text = text.removeprefix("\ufeff")
        self.text = text
        self.name = name
        self.starts = [0, *(m.end() for m in _LINE_END.finditer(text))]

    @property
    def line_count(self) -> int:
        """How many lines the text has; an empty text has one empty line."""
        return len(self.starts)

    def line_span(self, line: int) -> Span:
        """The span of line ``line`` (from 1), without its line end."""
        start = self.starts[line - 1]
        end = self.starts[line] - 1 if line < len(self.starts) else len(self.text)
        return Span(start, end)

    def line(self, line: int) -> str:
        """The words of line ``line`` (from 1), without its line end."""
        start, end = self.line_span(line)
        return self.text[start:end]

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column, both from 1 and in code points, of an offset."""
        offset = max(0, min(offset, len(self.text)))
        line = bisect_right(self.starts, offset)
        return line, offset - self.starts[line - 1] + 1

    def words(self, span: Span) -> str:
        """The words in a span; nothing for ``NOWHERE``."""
        return self.text[span.start : span.end] if span.end >= 0 else ""

    def utf16(self, offset: int) -> int:
        """The same place counted in UTF-16 units, as a browser's editor counts."""
        return offset + sum(1 for c in self.text[:offset] if ord(c) > 0xFFFF)
