"""Work told by what it measures: "When armhole measures 20 cm, bind off ...".

In: a cursor at "when" or "once". Out: rows as set until that is so, as "work even until ..." would have them.
What then follows is left to its own readers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.amounts import skip, until_mark
from purlwright.pattern.read.numbers import parse_length
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.until import measured_until
from purlwright.pattern.tree import InPattern, Until, WorkRows

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Statement

__all__ = ["parse_when"]

_MEASURES = frozenset({"measures", "measure", "meas", "measuring"})


_DONE = Phrases(
    "of? plain|ribbed|rib? knitting? is|are|have|has been? knitted|done|knit|worked|finished|completed",
    "of the foot|leg|ankle|hand|wrist|sleeve|work is|are|have|has been? knitted|done|knit|worked|finished",
)


def _done(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """DONE: LENGTH "are knitted": "when 12 inches are done", from the beginning of the piece."""
    at = cur.at
    cur.phrase("you have knitted|done|worked")
    told = cur.at > at
    length = parse_length(cur, ctx)
    if length is None or not length.values or not (told or _DONE.take(cur) is not None):
        cur.at = at
        return None
    span = cur.span_from(here)
    until = Until(length=length, since="beginning", span=span)
    return (WorkRows(body=(InPattern(how="even"),), until=until, span=span),)


_PARTS = frozenset(
    "foot leg stocking sock hand wrist ankle flap heel work knitting piece sleeve thumb cuff".split()
)
_WHOLE = frozenset("stocking sock work knitting piece".split())


def _long(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """LONG: PART "is" LENGTH "long": "when the foot is 8 inches long", from where that part begins."""
    at = cur.at
    part = cur.take(*_PARTS)
    length = parse_length(cur, ctx) if part is not None and cur.take("is", "are") is not None else None
    if part is None or length is None or not length.values or cur.take("long", "deep", "high") is None:
        cur.at = at
        return None
    span = cur.span_from(here)
    since = "beginning" if part.low in _WHOLE else f"start of {part.low}"
    until = Until(length=length, since=since, span=span)
    return (WorkRows(body=(InPattern(how="even"),), until=until, span=span),)


def parse_when(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """WHEN: ("when" | "once") (SUBJECT "measures" LENGTH (","? "measured" FROM)? ENDING? | DONE)."""
    here = cur.at
    cur.at += 1
    skip(cur, "the", "your", "about")
    done = _done(cur, ctx, here)
    if done is not None:
        return done
    long = _long(cur, ctx, here)
    if long is not None:
        return long
    if not _MEASURES.intersection(cur.peek(i).low for i in range(until_mark(cur, 10))):
        cur.at = here
        return None
    found = measured_until(cur, ctx)
    if found is None or found.length is None or not found.length.values:
        cur.at = here
        return None
    span = cur.span_from(here)
    return (WorkRows(body=(InPattern(how="even"),), until=found, span=span),)
