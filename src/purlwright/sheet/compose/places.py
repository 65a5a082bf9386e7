"""A text changed in places, and where each of its words stood before.

In: a text and edits of it. Out: the new text, and :class:`Places`, which leads a span of the new text back to
the words it came from.
"""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING, NamedTuple

from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from purlwright.findings import Edit

__all__ = ["Places", "edited"]


class _Piece(NamedTuple):
    """A stretch of the new text and of the old one; ``same`` when the words are."""

    new: int
    old: Span
    same: bool


class Places:
    """Where the words of a changed text stood before it was changed."""

    __slots__ = ("_before", "_pieces", "_starts")

    def __init__(self, pieces: Sequence[_Piece] = (), before: Places | None = None) -> None:
        self._pieces = tuple(pieces)
        self._starts = [p.new for p in self._pieces]
        self._before = before

    def hers(self, span: Span) -> Span:
        """The words in her own text that a span was made from; words of ours stand nowhere."""
        if span.end < 0:
            return NOWHERE
        if self._pieces:
            start, end = self._at(span.start, last=False), self._at(max(span.start, span.end - 1), last=True)
            span = Span(start, max(start, end))
        return self._before.hers(span) if self._before is not None else span

    def _at(self, place: int, *, last: bool) -> int:
        piece = self._pieces[max(0, bisect_right(self._starts, place) - 1)]
        if piece.same:
            return piece.old.start + place - piece.new + last
        return piece.old.end if last else piece.old.start


def edited(text: str, edits: Iterable[Edit], before: Places | None = None) -> tuple[str, Places]:
    """The text with the edits made, and the way back. Of two edits that overlap the first holds."""
    out: list[str] = []
    pieces: list[_Piece] = []
    at = long = 0

    def add(words: str, old: Span, *, same: bool) -> None:
        nonlocal long
        if words:
            out.append(words)
            pieces.append(_Piece(long, old, same))
            long += len(words)

    for edit in sorted(edits, key=lambda e: e.span):
        start, end = edit.span
        if start < at:
            continue
        add(text[at:start], Span(at, start), same=True)
        add(edit.words, Span(start, end), same=False)
        at = end
    add(text[at:], Span(at, len(text)), same=True)
    return "".join(out), Places(pieces or [_Piece(0, Span(0, 0), True)], before)
