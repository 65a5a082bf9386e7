"""The words of a row with no abbreviation left: "k2tog" as "knit two together", "sts" as "stitches".

In: her words. Out: the same in full. Her own stitches keep their names, or the name she writes out beside
them. A star or a bracket is said as the group that it marks.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from purlwright.pattern.tokens import tokenize
from purlwright.sheet.compose.abbreviations import shorts
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["in_full"]

_OVER = re.compile(r"\b(?P<word>k|p|sl|knit|purl|slip)\s?(?P<n>\d+)\b")
_MANY = re.compile(r"\d+\s*$|\b(?:last|next|first|rem|remaining|held|live|all)\s+$", re.IGNORECASE)

_STITCHES = frozenset({"st", "sts", "stitch", "stitches", "loop", "loops"})


@cache
def _words() -> Mapping[str, tuple[str, str]]:
    """Each abbreviation in lower case with its words for one and for several."""
    out: dict[str, tuple[str, str]] = {"k": ("knit", "knit"), "p": ("purl", "purl")}
    for short in shorts():
        out[short.name.casefold()] = (short.inline, short.inline)
        if short.many:
            out[f"{short.name.casefold()}s"] = (short.many, short.many)
    return out


def in_full(words: str, own: Mapping[str, str]) -> str:
    """The words without an abbreviation.

    own : her own stitches by name in lower case, with what they are called in full.
    """
    known = dictionary()
    out: list[str] = []
    at = 0
    tokens = tokenize(words, 0, {**known.compact, **dict.fromkeys(own, "")})
    for token, after in zip(tokens, [*tokens[1:], None], strict=True):
        if token.start < at:
            continue
        said = _said(token.low, token.kind, own)
        if token.low == "rem" and said == "remain" and after is not None and after.low in _STITCHES:
            said = "remaining"  # "through rem sts", and not "8 sts rem"
        if after is not None and token.key.endswith(f" {after.low}") and token.low not in own:
            both = f"{token.low} {after.low}"  # "brLsl dec": one stitch, spelled in two words
            said = (
                own.get(both) or words[token.start : after.end] if both in own else _said(token.key, "s", own)
            )
            token = token._replace(end=after.end)
        if said is None:
            continue
        out.append(words[at : token.start])
        glued = words[token.end : token.end + 1].isdigit()
        capital = token.text[:1].isupper() and (
            token.start == 0 or words[: token.start].rstrip()[-1:] in {".", "*"}
        )
        out.append((said[0].upper() + said[1:] if capital else said) + (" " if glued else ""))
        at = token.end
    out.append(words[at:])
    return re.sub(r"\s{2,}", " ", "".join(out)).strip()


def _said(name: str, kind: str, own: Mapping[str, str]) -> str | None:
    """What an abbreviation is in full; None for a word that is none."""
    if name in own:
        return own[name] or None
    if kind == "s":
        stitch = dictionary().find(name)
        if stitch is not None and not stitch.readings:
            name = stitch.spoken or stitch.name_us
            return name.replace(",", "").replace("-", " ")  # a comma would end the stitch
    if kind in {"s", "w"} and name in _words():
        return _words()[name][0]
    return None
