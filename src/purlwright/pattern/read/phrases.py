"""Sets of phrases, looked up by their first word, so that a long list costs little.

In: phrases as words with a space between them (``a|b`` either, ``a?`` may be left out). Out: which of them
stands at the cursor. Phrases with no list of their own use :meth:`Cursor.phrase`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor

__all__ = ["Phrases"]

_Word = tuple[frozenset[str], bool]


class Phrases:
    """A set of phrases; where several stand here the longest written is taken."""

    __slots__ = ("_first",)

    def __init__(self, *phrases: str) -> None:
        first: dict[str, list[tuple[str, tuple[_Word, ...]]]] = {}
        for phrase in sorted(phrases, key=lambda p: (-len(p.split()), p)):
            words: tuple[_Word, ...] = tuple(
                (frozenset(w.rstrip("?").split("|")), w.endswith("?")) for w in phrase.split()
            )
            for i, (lows, optional) in enumerate(words):
                for low in lows:
                    first.setdefault(low, []).append((phrase, words[i:]))
                if not optional:
                    break
        self._first = first

    def take(self, cur: Cursor) -> str | None:
        """Take the phrase that stands here and give it as it was written in the set; else None."""
        options = self._first.get(cur.pad[cur.at].low)
        if options is None:
            return None
        here = cur.at
        pad = cur.pad
        stop = len(pad) - 1
        for phrase, words in options:
            at = here
            for lows, optional in words:
                if at < stop and pad[at].low in lows and pad[at].kind:
                    at += 1
                elif not optional:
                    break
            else:
                cur.at = at
                return phrase
        return None
