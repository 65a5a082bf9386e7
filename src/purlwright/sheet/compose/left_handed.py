"""Her words for one who works mirrored: where left is said, right is meant, and the other way round.

In: a text. Out: edits of the words that tell a place or a direction. The stitches stay as they are named and
explained: worked mirrored, the same move leans the other way, which is what makes the whole piece the mirror
of the other. "Right side" (of the fabric) is no direction, and "12 sts left" is no place.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.findings import Edit
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["MIRRORED", "mirrored_words"]

MIRRORED = (
    "This sheet is for those who knit left-handed, from the left to the right. Left and right are exchanged, "
    "charts and drawings are mirrored, and every stitch is made with the move that is explained here, in "
    "mirror: a stitch whose name says left then leans to the right, and the other way round. The right side "
    "is the public side of the fabric, as ever."
)

_THINGS = (
    r"hand|handed|needles?|edges?|fronts?|sleeves?|shoulders?|necks?|neckline|backs?|mittens?|mitts?|gloves?|hal(?:f|ves)"
    r"|ends?|borders?|bands?|foot|feet|legs?|arms?|armholes?|thumbs?|heels?|lean|leaning|leans|slant|slanting|slants"
    r"|corner|wing|panel|pocket|cuff|ear|strap|tie|seam|selvedge|selvage|cable|gusset|sock|slipper|piece"
)
_EITHER = r"[- ](?:and|or|&)[- ](?:left|right)"
_PLACE = re.compile(
    rf"\b(?P<word>left|right)(?:-hand(?:ed)?)?(?=(?:{_EITHER})?[- ](?:{_THINGS})\b)"
    r"|\b(?:to|on|at|from|towards?)\s+(?:the\s+|your\s+)?(?P<bare>left|right)(?=\s*(?:[.,;:)]|$|(?:and|or|to|of)\b))"
    r"|\b(?P<a>left|right)\s+to\s+(?P<b>left|right)\b"
    r"|\b(?P<side>left)\s+side\b"
    r"|\b(?P<which>left|right)-hand\s+side\b",
    re.IGNORECASE,
)
_STITCH = re.compile(r"\b(?:make\s+(?:1|one)|m1|twist|cross|cable|increase|inc|lifted)\s*$", re.IGNORECASE)


def mirrored_words(text: str) -> Iterator[Edit]:
    """The edits that exchange left and right where they tell a place or a direction."""
    for m in _PLACE.finditer(text):
        if _STITCH.search(text[max(0, m.start() - 12) : m.start()]):
            continue
        for name in ("word", "bare", "a", "b", "which"):
            if m[name] is not None:
                yield Edit(Span(m.start(name), m.end(name)), _other(m[name]))
        if m["side"] is not None:  # never "right side", which is the public one
            words = "right-hand side"
            yield Edit(Span(m.start(), m.end()), words.capitalize() if m["side"][0].isupper() else words)


def _other(word: str) -> str:
    """``left`` for ``right``, with her capitals."""
    other = "right" if word.casefold() == "left" else "left"
    return other.upper() if word.isupper() else other.capitalize() if word[0].isupper() else other
