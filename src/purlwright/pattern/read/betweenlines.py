"""How often the stitches between a chart's lines are worked: "5 times the first time, 4 times the second".

In: a cursor at the start of a sentence. Out: :class:`Stated`, which the knitting compares with the stitches
there are. The chart itself is read by ``charts``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.amounts import parse_times, skip
from purlwright.pattern.tree import Number, Stated

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["parse_between_lines"]

_LAST = "last"
_MOST = 20


def parse_between_lines(cur: Cursor, ctx: Context) -> Stated | None:
    """between-lines := "the"? "sts" "between" LINES "are worked" TIMES (ORDINAL ("time" ...)? TIMES ...)*

    "The sts between the upright lines are worked 5 times the first time the chart is worked, 4 times the
    second."
    """
    here = cur.at
    if (
        cur.any_phrase("the? sts|stitches|squares|section between|within") is None
        or cur.any_phrase("the? two? upright|bold|heavy|thick|red|repeat|vertical? lines|bars") is None
        or cur.any_phrase("are|is worked|repeated|knitted|knit") is None
    ):
        cur.at = here
        return None
    parts: list[Number] = []
    while len(parts) < _MOST:
        at = cur.at
        skip(cur, ",", "and", "then")
        times = parse_times(cur, ctx)
        if times is None:
            cur.at = at
            break
        parts.append(times[0])
        if cur.any_phrase("on|in each|every row|round|rnd|rows"):
            continue
        if not _passing(cur, len(parts)):
            break
    if not parts or cur.peek().low not in {"", ".", ";"}:
        cur.at = here
        return None
    return Stated(kind="lines", parts=tuple(parts), span=cur.span_from(here))


def _passing(cur: Cursor, nth: int) -> bool:
    """("the" ORDINAL | "the last") ("time" ("the chart" "is worked")?)?: which working of the chart it is."""
    here = cur.at
    cur.take("the")
    t = cur.peek()
    if t.low != _LAST and not (t.kind == "o" and t.value == nth):
        cur.at = here
        return False
    cur.at += 1
    cur.any_phrase("time the? chart|pattern|repeat is worked|knitted", "time through?")
    return True
