"""The second side of a divided piece told as the first: "Complete to match first side, reversing shapings."

In: a cursor at the beginning of a sentence. Out: one :class:`RepeatRows` of the first side's rows, mirrored.
Which lines these are is left to ``needles``; pieces told as another piece are read by ``asfor``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.pattern.tree import RepeatRows, RowSet, Said

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor

__all__ = ["FIRST_SIDE", "OPENS_SIDE", "parse_other_side"]

FIRST_SIDE = "first side"
"""What the rows of the side worked first are called, whatever the words name it."""

_PART = (
    r"(?:side|half|shoulder|neck edge)"
    r"(?: of (?:the )?(?:neck|front|back|foot|boot|shoe|sock|heel|toe|collar|hood|work|opening))?"
)
_OTHER = rf"(?:the )?(?:(?:other|second|opposite|remaining|left|right) {_PART}|other front|second half)"
_FIRST = rf"(?:the )?(?:first|other|left|right) {_PART}"
_MATCH = (
    r"(?:to (?:match|correspond|mate)(?: with| to)?"
    r"|(?:in )?(?:exactly )?the same(?: way| manner)?|in same way)"
)
_REVERSED = r"(?: ?,? ?(?:but )?(?:reversing|with) (?:all )?(?:the )?(?:neck )?shapings?(?: reversed)?)?"
_VERB = r"(?:work|complete|finish|knit|shape|cont|continue)"
_SAME = (
    r"(?:exactly )?(?:as|like|(?:the )?same as|in the same (?:way|manner) as)"
    r"(?: given| worked| directed)?(?: for)?"
)
_TOLD = re.compile(
    rf"(?:{_VERB} {_OTHER} {_MATCH}(?: {_FIRST}| the first)?"
    rf"|{_VERB} {_MATCH} {_FIRST}"
    rf"|(?:{_VERB} )?{_SAME} {_FIRST}"
    rf"|{_VERB} {_OTHER} {_SAME} (?:{_FIRST}|the first)"
    rf"|(?:do|work|repeat) the same (?:on|at|for|with) {_OTHER}){_REVERSED}$"
)
OPENS_SIDE = frozenset(
    "work complete finish knit shape cont continue as like same the exactly in do repeat".split()
)
"""Words that may begin it."""
_STOPS = frozenset({".", ";", ":", "(", "[", "*"})
_MOST = 24


def parse_other_side(cur: Cursor) -> RepeatRows | None:
    """OTHER-SIDE := VERB? ("second side" "to match" | ("to match" | "as for") "first side") REVERSED?

    "complete to match first side", "work the other side to correspond, reversing shaping", "as given for
    first side of neck, reversing all shapings", "do the same on the other side".
    """
    here = cur.at
    lows: list[str] = []
    while len(lows) < _MOST and (t := cur.peek(len(lows))).kind and t.low not in _STOPS:
        lows.append(t.low)
    if "side" not in lows and not {"half", "shoulder", "edge", "front"}.intersection(lows):
        return None
    if _TOLD.fullmatch(" ".join(lows)) is None:
        return None
    cur.at += len(lows)
    span = cur.span_from(here)
    rows = RowSet(section=FIRST_SIDE, all=True, mirrored=True, span=span)
    return RepeatRows(rows=rows, said=Said.OPEN, span=span)
