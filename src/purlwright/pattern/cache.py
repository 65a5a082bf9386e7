"""Lines read once and kept, so that an edit costs the reading of one line.

In: the words of a line and what was known when it was read. Out: the same line again, put where it stands
now. Spans in a line count from its own start, so a line that only moved is still good. Which lines to ask for
is left to ``file``.
"""

from __future__ import annotations

from collections import OrderedDict
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

    from purlwright.findings import Finding
    from purlwright.pattern.header import Header
    from purlwright.pattern.read.line import Bodies
    from purlwright.pattern.tree import Line

__all__ = ["LineCache"]

_T = TypeVar("_T")


class LineCache:
    """The lines read last, by their words and what was known; the longest unused is let go first.

    One cache serves one reader at a time. ``read`` counts the lines that had to be read, ``kept`` those that
    were there.
    """

    __slots__ = ("_bodies", "_known", "_lines", "_told", "header", "kept", "most", "names", "read", "whole")

    def __init__(self, most: int = 20_000) -> None:
        self.most = most
        self.read = 0
        self.kept = 0
        self.header: tuple[object, Header] | None = None
        """The header read last, about which nothing was said, with all it was read from."""
        self._bodies: dict[Hashable, Bodies] = {}
        self.names: dict[tuple[str, str], tuple[frozenset[str], frozenset[str], frozenset[str]]] = {}
        """The names that begin in the first of two lines."""
        self.whole: dict[tuple[str, bool, int], tuple[Line, bool]] = {}
        """Lines that are the whole of a block and about which nothing was said, where they stood last; and
        whether each stands by itself: it neither begins nor ends anything, and is no needle's.
        """
        self._known: dict[Hashable, int] = {}
        self._told: dict[tuple[Hashable, str], Any] = {}
        self._lines: OrderedDict[Hashable, tuple[Line, tuple[Finding, ...]]] = OrderedDict()

    def place_of(self, known: Hashable) -> int:
        """A number for what is known while lines are read: the same number for the same knowledge."""
        if len(self._known) > 1000:
            self._known.clear()
            self._bodies.clear()
            self.whole.clear()
            self._lines.clear()
        return self._known.setdefault(known, len(self._known))

    def get(
        self, key: Hashable, read: Callable[[], tuple[Line, tuple[Finding, ...]]]
    ) -> tuple[Line, tuple[Finding, ...]]:
        """What was read under ``key``; read now if it is not there."""
        lines = self._lines
        found = lines.get(key)
        if found is not None:
            lines.move_to_end(key)
            self.kept += 1
            return found
        found = read()
        self.read += 1
        lines[key] = found
        if len(lines) > self.most:
            lines.popitem(last=False)
        return found

    def found(self, key: Hashable) -> bool:
        """Whether anything was found in a line that was read under ``key``, or it is not there any more."""
        line = self._lines.get(key)
        return line is None or bool(line[1])

    def bodies_of(self, known: Hashable) -> Bodies:
        """What stood after the labels of lines read with the same knowledge."""
        found = self._bodies.get(known)
        if found is None or len(found) > self.most:
            if len(self._bodies) > 100:
                self._bodies.clear()
            found = self._bodies[known] = {}
        return found

    def told(self, what: Hashable, words: str, tell: Callable[[str], _T]) -> _T:
        """What ``tell`` says of some words; asked now if it was not asked before.

        what : names the question, with all the answer leans on besides the words.
        """
        key = (what, words)
        found: _T | None = self._told.get(key)
        if found is None:
            if len(self._told) >= self.most:
                self._told.clear()
            found = self._told[key] = tell(words)
        return found

    def __len__(self) -> int:
        return len(self._lines)
