"""Row numbers as they stand in labels: "3", "5th", "2d", "Twenty-first", "7 to 10", "1, 3 & 5".

In: the words of a list of rows. Out: the numbers, in the order written. Stitch counts are left to
``numbers``.
"""

from __future__ import annotations

import re

from purlwright.pattern.tokens import _NUMBER_WORDS, _ORDINAL_WORDS

__all__ = ["FIGURE", "ORDINAL", "figures", "spelled"]

_WORDS = "|".join(w.replace("-", "[- ]") for w in sorted(_ORDINAL_WORDS, key=len, reverse=True))
_SCANNED = r"f[;:!1l]rst|s[ec]{2}ond|tbird|fourtb|fiftb|sixtb"
"""Ordinals as a scan may have them: "F;rst row"."""
ORDINAL = rf"(?:\d{{1,4}}\s?(?:st|nd|rd|th|d)(?![a-z0-9])|(?:{_WORDS}|{_SCANNED})(?![a-z0-9]))"
"""An ordinal: "5th", "2d", "twenty-first"."""
FIGURE = r"\d{1,6}(?![\da-z/½¼¾])"
"""A plain row number."""

_PIECE = re.compile(
    rf"(?P<num>{ORDINAL}|{FIGURE})|(?P<to>-|\bto\b|\bthru\b|\bthrough\b|\buntil\b)", re.IGNORECASE
)


def spelled(words: str) -> int:
    """The value of one row number, however written: "12", "2d", "third", "two"; 0 when it is none."""
    low = re.sub(r"[\s-]+", "-", words.strip().lower())
    low = re.sub(r"^f[;:!1l]rst$", "first", re.sub(r"tb$", "th", low.replace("tbird", "third")))
    digits = re.match(r"\d{1,6}", low)
    if digits is not None:
        return int(digits.group())
    return _ORDINAL_WORDS.get(low) or _NUMBER_WORDS.get(low) or 0


def figures(words: str, most: int) -> tuple[int, ...]:
    """The row numbers that a list names, ranges written out, at most ``most`` of them: "1-3, 5" is (1, 2,
    3, 5).
    """
    out: list[int] = []
    ranged = False
    for m in _PIECE.finditer(words):
        if m["to"]:
            ranged = True
            continue
        value = spelled(m["num"])
        if ranged and out and out[-1] < value:
            out.extend(range(out[-1] + 1, min(value, out[-1] + most) + 1))
        else:
            out.append(value)
        ranged = False
    return tuple(out[:most])
