"""Bold and slanted labels, as text copied from a web page has them: "**Row 1 (RS):** K2", "__Sizes:__ S, M".

In: the text of a pattern. Out: the same text, as long, with a space for each mark of emphasis round a label,
a key or a whole line to work, so that every place in it is a place in hers. Stars that the trade means, round
a stretch to be found again, stay: they are told by the words that send a knitter back to them.
"""

from __future__ import annotations

import re

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.label import split_label

__all__ = ["unmarked"]

_LABEL = re.compile(
    r"(?m)^(?P<before>[ \t]{0,8}(?:[-•][ \t]{1,4})?)(?P<mark>\*{2,3}|_{2,3}|[*_])(?=[^\s*_])"
    r"(?P<words>[^*_\n]{1,60}?)(?<=\S)(?P=mark)(?![*_])(?P<colon>[ \t]{0,2}:)?"
)
"""MARK LABEL MARK at the start of a line."""
_LINE = re.compile(
    r"(?m)^(?P<before>[ \t]{0,8})(?P<mark>\*\*|__)(?=[^\s*_])(?P<words>[^*_\n]{1,400})(?<=\S)(?P=mark)"
    r"(?=[ \t]*$)"
)
"""MARK WORDS MARK, the whole line."""
_SENT_BACK = re.compile(
    r"\b(?:from|between|to|at|until|till|after|and)\s{1,4}(?:the\s{1,4})?\*\*", re.IGNORECASE
)
_NOTHING_KNOWN = Context()


def unmarked(text: str) -> str:
    """The text with spaces for marks of emphasis that say nothing to a knitter; ``text`` if it has none.

    "**Row 2:** Purl." gives "  Row 2:   Purl.". A line in bold that has nothing to work, "**Border**", keeps
    its marks: it is a heading, and told elsewhere.
    """
    if "*" not in text and "_" not in text:
        return text
    out = _LABEL.sub(_label, text)
    if "**" in out or "__" in out:
        out = out if _SENT_BACK.search(out) else _LINE.sub(_line, out)
    return out


def _spaced(m: re.Match[str]) -> str:
    blank = " " * len(m["mark"])
    return f"{m['before']}{blank}{m['words']}{blank}"


def _label(m: re.Match[str]) -> str:
    """A label in marks, with its colon inside or after, or a row's number without one."""
    words, colon = m["words"], m["colon"] or ""
    twice = len(m["mark"]) > 1
    if twice and (colon or words.endswith(":")):
        return _spaced(m) + colon
    label = split_label(words if words.endswith((":", ".")) else words + ":", _NOTHING_KNOWN)[0]
    return _spaced(m) + colon if label is not None else m[0]


def _line(m: re.Match[str]) -> str:
    """A whole line in marks that ends as a sentence: "**Bind off all sts.**"."""
    return _spaced(m) if m["words"].endswith((".", ";", ")")) else m[0]
