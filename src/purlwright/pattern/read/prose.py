"""Telling notes from instructions.

In: the words of a sentence or clause. Out: whether they are only talk. A sentence with no stitch, count, row,
edge, needle, marker, yarn or repeat word does nothing on the needles and is a note; one that has any is an
instruction, and if nobody can read it that is worth saying.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.pattern.tokens import Cursor, Token

__all__ = ["aside_end", "is_talk", "sentence_end", "talk_ahead", "tells_the_round"]

_TRADE = frozenset(
    """stitch stitches st sts loop loops row rows round rounds rnd rnds edge edges needle needles pin pins
    dpn dpns marker markers yarn yarns wool thread cotton silk repeat repeats rep reps repeating knit knits
    purl purls pearl seam seams
    knitting purling knitted purled k p cast bind bo co turn slip sl dec inc decrease decreases increase
    increases
    decreasing increasing narrow widen yo yrn yfwd wrap graft rib ribbing garter stockinette stocking patt
    chart
    pick tog join twist cable holder""".split()
)
# a note says so itself, or only lists what is needed
_NOTE_HEADS = frozenset(
    """note notes nb n.b tip tips hint hints remember materials material abbreviations tension gauge please
    optional see page fig figure illustration explanation designed copyright""".split()
)
_ABBREVIATED = frozenset(
    "st sts rep reps rnd rnds beg tog k p sl in ins inc dec cont foll rem approx alt patt no ev oz"
    " pt pts nos inch cm yd yds fig".split()
)


def sentence_end(cur: Cursor) -> int:
    """The index of the token that ends the sentence which begins here: a full stop (not that of "sts."),
    or the end.
    """
    tokens = cur.tokens
    i = cur.at
    n = len(tokens)
    while i < n:
        t = tokens[i]
        if t.low in {".", "!", "?"} and i > cur.at:
            if i + 1 >= n:
                return i
            after = tokens[i + 1]
            before = tokens[i - 1]
            if (
                t.low != "."
                or before.low not in _ABBREVIATED
                or (after.text[:1].isupper() and not after.glued)
            ):
                return i
        i += 1
    return n


def _trade(tokens: Sequence[Token]) -> bool:
    for i, t in enumerate(tokens):
        if t.kind == "s" and t.low not in {
            "in",
            "on",
            "a",
            "an",
            "to",
            "as",
            "b",
            "f",
            "m",
            "t",
            "c",
            "x",
            "i",
            "no",
            "so",
        }:
            return True
        if t.low in _TRADE:
            return True
        del i
    return False


def is_talk(tokens: Sequence[Token]) -> bool:
    """Whether these words hold no word of the trade at all."""
    return not _trade(tokens)


_ORDERS = frozenset("work working continue cont continuing proceed keep".split())
_ALIKE = frozenset("match correspond alike same identical likewise".split())


def talk_ahead(cur: Cursor) -> int:
    """Where the sentence that begins here ends, if it is only talk; else -1. It is not taken."""
    end = sentence_end(cur)
    first = cur.peek()
    lows = {t.low for t in cur.tokens[cur.at : end]}
    # "Proceed as follows:", "Work short rows as follows:" only open what comes
    if end - cur.at <= 8 and cur.tokens[end - 1].low in {":", "follows"} and lows & {"follows", "thus"}:
        if not any(t.kind == "n" for t in cur.tokens[cur.at : end]):
            return end
    if first.low in {"use", "place", "mark"} and tells_the_round(cur.tokens[cur.at : end]):
        return end
    if _measured(cur.tokens[cur.at : end]):
        return end
    if first.low in _ORDERS and not lows & _ALIKE:
        return -1
    if first.low in _NOTE_HEADS and (
        cur.peek(1).low in {":", "-", "--", "."} or first.low in {"see", "note", "remember", "please"}
    ):
        return end
    if _explains(cur.tokens[cur.at : end]):
        return end
    if _trade(cur.tokens[cur.at : end]):
        return -1
    return end


_THE_WORK = frozenset(
    "work piece knitting armhole sleeve body cuff rib ribbing scarf blanket it length".split()
)
_TILL = frozenset("until till when once end ending bind cast knit purl".split())


def _measured(tokens: Sequence[Token]) -> bool:
    """A sentence that tells what the piece measures by then: "Work measures 2 inches from beg."."""
    lows = [t.low for t in tokens]
    at = next((i for i, low in enumerate(lows[:6]) if low in {"measures", "measure"}), 0)
    return at > 0 and bool(_THE_WORK.intersection(lows[:at])) and not _TILL.intersection(lows)


_SHOWN = frozenset("indicate mark denote show as for".split())
_BEGINS = frozenset("beginning start right wrong rs ws".split())


def tells_the_round(tokens: Sequence[Token]) -> bool:
    """A sentence that tells how something is marked: "Use a pin to indicate the beginning of the round",
    "Mark join as the beginning of the round", "Mark first row with a pin for right side of work".
    """
    lows = [t.low for t in tokens]
    return (
        bool(_BEGINS.intersection(lows))
        and bool(_SHOWN.intersection(lows[1:]))
        and not any(t.kind == "n" for t in tokens)
        and bool({"round", "rnd", "work", "rounds", "side", "of"}.intersection(lows))
        and not {"after", "before", "each", "cast", "knit", "purl"}.intersection(lows)
        and (lows[0] != "place" or bool({"indicate", "denote", "show"}.intersection(lows)))
    )


_TOLD = frozenset("used called shown held named carried given".split())
_COUNTED = frozenset("row rows round rounds rnd rnds sts st stitches stitch".split())


def _explains(tokens: Sequence[Token]) -> bool:
    """A sentence that tells what is used for what: "Yarn A is used for the background, B for the pattern"."""
    lows = [t.low for t in tokens]
    return (
        any(a in {"is", "are"} and b in _TOLD for a, b in pairwise(lows))
        and not _COUNTED.intersection(lows)
        and not any(t.kind == "n" for t in tokens)
    )


def aside_end(cur: Cursor) -> int:
    """The index past the bracket that closes the one standing here, or -1."""
    close = {"(": ")", "[": "]", "{": "}"}.get(cur.peek().low)
    if close is None:
        return -1
    depth = 0
    for i in range(cur.at, len(cur.tokens)):
        low = cur.tokens[i].low
        if low == cur.peek().low:
            depth += 1
        elif low == close:
            depth -= 1
            if depth == 0:
                return i + 1
    return -1
