"""Words as they are said aloud: stitches by their names in full, groups by words instead of marks.

In: a line's tokens. Out: the same tokens, where a stitch that is named in several words is one token, and a
group that is told in words stands in brackets: "repeat the following 4 times: knit 2, purl 2, end of repeat"
is "[knit 2, purl 2] 4 times", and "repeat the following across: knit 2, purl 2, end of repeat" is "*knit 2,
purl 2; rep from *". Every token keeps its place in the words.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from purlwright.pattern.read.working import is_counted
from purlwright.stitches.kinds import Family
from purlwright.stitches.load import dictionary
from purlwright.stitches.regular import crossing

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from purlwright.pattern.tokens import Token

__all__ = ["as_written"]

_NAMED = {
    Family.INCREASE, Family.DECREASE, Family.TWIST, Family.CABLE, Family.BRIOCHE, Family.GROUP, Family.WRAP,
}  # fmt: skip
"""Families whose stitches have names of their own. Those of the others begin longer sentences that have their
readers.
"""
_AFTER = frozenset({",", ".", ";", ")", "]", "*", "", ":", "twice", "end"})
_BEGIN_REPEAT = ("repeat", "the", "following")
_END_REPEAT = ("end", "of", "repeat")
_BEGIN_INTO = ("work", "all", "of", "this", "into")
_END_INTO = ("end", "of", "group")

_SHORTENED = {
    "ea": "each", "folls": "follows", "follg": "following", "folg": "following", "fol": "foll",
    "altn": "alternate", "rems": "remain", "remg": "remaining", "begg": "beginning", "endg": "ending",
    "workg": "working", "upon": "on", "inc'ing": "increasing", "dec'ing": "decreasing",
    "incing": "increasing", "decing": "decreasing", "incr": "inc", "decr": "dec", "incrs": "inc",
    "rept": "rep", "si": "sl",
}  # fmt: skip
"""Words that some designers shorten, and what they stand for."""


def as_written(tokens: list[Token]) -> list[Token]:
    """The tokens with names in full and spoken groups made into what is usually written."""
    lows = {t.low for t in tokens}
    if not lows.isdisjoint(_SHORTENED):
        tokens = [
            t._replace(low=_SHORTENED[t.low]) if t.kind == "w" and t.low in _SHORTENED else t for t in tokens
        ]
        lows = {t.low for t in tokens}
    if not lows.isdisjoint(_first_words()):
        tokens = _named(tokens)
    if "over" in lows and "cross" in lows:
        tokens = _crossed(tokens)
    if "following" in lows and "repeat" in lows:
        tokens = _bracketed(tokens, _BEGIN_REPEAT, _END_REPEAT, "[]")
    if "this" in lows and "group" in lows:
        tokens = _bracketed(tokens, _BEGIN_INTO, _END_INTO, "()")
    return tokens


@cache
def _names() -> Mapping[str, Mapping[str, tuple[tuple[tuple[str, ...], str], ...]]]:
    """Names of several words by their first word and their second, the longest first, each with the stitch
    it means.
    """
    out: dict[str, dict[str, list[tuple[tuple[str, ...], str]]]] = {}
    known = dictionary()
    for phrase, key in known.words.items():
        words = tuple(phrase.split())
        stitch = known.stitches.get(key)
        if len(words) < 2 or stitch is None or stitch.readings or stitch.family not in _NAMED:
            continue
        out.setdefault(words[0], {}).setdefault(words[1], []).append((words[1:], key))
    return {
        first: {second: tuple(sorted(rest, key=lambda r: -len(r[0]))) for second, rest in more.items()}
        for first, more in out.items()
    }


@cache
def _first_words() -> frozenset[str]:
    return frozenset(_names())


def _named(tokens: list[Token]) -> list[Token]:
    """Each name in full as one token, if nothing follows that makes it the beginning of something longer."""
    names = _names()
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        t = tokens[at]
        more = names.get(t.low) if t.kind == "w" and at + 1 < len(tokens) else None
        for rest, key in more.get(tokens[at + 1].low, ()) if more else ():
            end = at + 1 + len(rest)
            mine = tokens[at + 1 : end]
            after = tokens[end] if end < len(tokens) else None
            stops = after is None or after.low in _AFTER or (after.kind == "n" and is_counted(key))
            if stops and tuple(m.low for m in mine) == rest and all(m.kind != "p" for m in mine):
                text = " ".join(m.text for m in (t, *mine))
                out.append(t._replace(kind="s", low=key, text=text, end=mine[-1].end, key=key, value=None))
                at = end
                break
        else:
            out.append(t)
            at += 1
    return out


def _crossed(tokens: list[Token]) -> list[Token]:
    """NUMBER "over" NUMBER ("around" NUMBER)? ("left" | "right") "purl"? "cross" as one token."""
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        t = tokens[at]
        end = next((i for i in range(at + 4, min(at + 8, len(tokens))) if tokens[i].low == "cross"), None)
        if end is not None and t.value is not None and tokens[at + 1].low == "over":
            text = " ".join(m.text for m in tokens[at : end + 1])
            stitch = crossing(text)
            if stitch is not None:
                last = tokens[end].end
                out.append(
                    t._replace(kind="s", low=stitch.key, text=text, end=last, key=stitch.key, value=None)
                )
                at = end + 1
                continue
        out.append(t)
        at += 1
    return out


def _stands(tokens: Sequence[Token], at: int, words: tuple[str, ...]) -> bool:
    return tuple(t.low for t in tokens[at : at + len(words)]) == words


def _bracketed(tokens: list[Token], begin: tuple[str, ...], end: tuple[str, ...], marks: str) -> list[Token]:
    """Each group from its opening to its closing words put in brackets, what it says of itself after them.

    Groups stand in one another; one that is not closed stays as it is.
    """
    out: list[Token] = []
    open_at: list[tuple[int, list[Token]]] = []
    at = 0
    while at < len(tokens):
        t = tokens[at]
        if t.low == begin[0] and _stands(tokens, at, begin):
            colon = next((i for i in range(at, min(at + 16, len(tokens))) if tokens[i].low == ":"), None)
            if colon is not None:
                open_at.append((len(out), tokens[at : colon + 1]))
                out.append(t._replace(kind="p", low=marks[0], text=marks[0], value=None, key=""))
                at = colon + 1
                continue
        if t.low == end[0] and open_at and _stands(tokens, at, end):
            place, opening = open_at.pop()
            while out and out[-1].low == ",":
                out.pop()
            out.append(t._replace(kind="p", low=marks[1], text=marks[1], value=None, key=""))
            said = opening[len(begin) - (marks == "()") : -1]
            if [s.low for s in said] == ["across"]:  # as often as it fits
                out[place] = opening[0]._replace(kind="p", low="*", text="*", value=None, key="")
                out.pop()
                said = [
                    t._replace(kind=kind, low=low, text=low, value=None, key="")
                    for kind, low in (("p", ";"), ("w", "rep"), ("w", "from"), ("p", "*"))
                ]
            out += said
            at += len(end)
            continue
        out.append(t)
        at += 1
    for place, opening in reversed(open_at):
        out[place : place + 1] = opening
    return out
