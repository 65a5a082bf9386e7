"""How wide the terminal is, whether it has colour, and how wide words stand in it.

In: words from a pattern, which may hold anything. Out: words safe to print, cut, wrapped or padded to a
width in columns. What is printed is left to the other files of this room.
"""

from __future__ import annotations

from dataclasses import dataclass
from unicodedata import category, combining, east_asian_width

__all__ = ["Look", "plain", "width_of"]

_TAB = "    "


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """The page to write on: ``width`` columns, in colour or not."""

    width: int = 80
    colour: bool = False

    def _in(self, code: str, words: str) -> str:
        return f"\x1b[{code}m{words}\x1b[0m" if self.colour and words else words

    def strong(self, words: str) -> str:
        """A title."""
        return self._in("1", words)

    def faint(self, words: str) -> str:
        """The designer's own words beside what came of them, and what can be passed over."""
        return self._in("2", words)

    def good(self, words: str) -> str:
        return self._in("32", words)

    def bad(self, words: str) -> str:
        return self._in("1;31", words)

    def careful(self, words: str) -> str:
        return self._in("33", words)

    def cure(self, words: str) -> str:
        return self._in("36", words)


def plain(words: str) -> str:
    """``words`` with nothing in it that a terminal would obey: tabs are spaces, control marks show as dots.

    Every character stays one character, but for the tab, which is four.
    """
    if words.isascii() and words.isprintable():
        return words
    out = []
    for c in words:
        if c == "\t":
            out.append(_TAB)
        elif category(c) in {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}:
            out.append("·")
        else:
            out.append(c)
    return "".join(out)


def width_of(words: str) -> int:
    """How many columns ``words`` takes; wide letters take two, accents set over a letter none."""
    if words.isascii():
        return len(words)
    return sum(0 if combining(c) else 2 if east_asian_width(c) in "WF" else 1 for c in words)


def cut(words: str, columns: int) -> str:
    """``words`` in at most ``columns``, with an ellipsis where the rest was left out."""
    if width_of(words) <= columns:
        return words
    if columns < 2:
        return "…"[:columns]
    out, used = "", 0
    for c in words:
        used += width_of(c)
        if used > columns - 1:
            break
        out += c
    return out.rstrip(" ,;") + "…"


def pad(words: str, columns: int) -> str:
    """``words`` filled with spaces on the right to ``columns``."""
    return words + " " * max(0, columns - width_of(words))


def wrap(words: str, columns: int, indent: str = "") -> list[str]:
    """``words`` in lines of at most ``columns``, later ones after ``indent``; no word is cut."""
    lines: list[str] = []
    line, used = "", 0
    for word in words.split():
        wide = width_of(word)
        if line and used + 1 + wide > columns:
            lines.append(line)
            line, used = f"{indent}{word}", width_of(indent) + wide
        else:
            line, used = (f"{line} {word}", used + 1 + wide) if line else (word, wide)
    return [*lines, line] if line else lines


def heading(words: str, look: Look) -> str:
    """``── Does not hold ─────``: a line across the page."""
    said = cut(plain(words), max(1, look.width - 6))
    line = "─" * max(2, min(look.width, 88) - width_of(said) - 4)
    return f"{look.faint('──')} {look.strong(said)} {look.faint(line)}"
