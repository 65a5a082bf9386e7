"""Loops wound about two needles to begin a closed toe: "wrap the yarn around both needles 10 times".

In: a cursor at "wrap" or "wind". Out: one :class:`CastOn` on two needles, or None. Other cast-ons are read by
``caston``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.amounts import until_mark
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.tree import CastOn

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["parse_wound"]

_YARN = frozenset({"yarn", "wool", "thread", "cotton", "silk"})
_TWO = frozenset({"two", "both", "2", "parallel", "together"})
_LOOPS = frozenset({"loops", "loop", "wraps", "sts", "stitches", "times"})


def parse_wound(cur: Cursor, ctx: Context) -> CastOn | None:
    """WOUND := ("wrap" | "wind") yarn "around" "both needles" ("until there are")? NUMBER "loops on each"?

    "wrap the yarn around two needles held parallel until there are 10 loops on each needle", "wind yarn
    around both needles 10 times"
    """
    here = cur.at
    if cur.take("wrap", "wind") is None:
        return None
    n = until_mark(cur, 30)
    end = cur.at + n
    lows = [cur.peek(i).low for i in range(n)]
    if not _YARN.intersection(lows[:3]) or "needles" not in lows or not _TWO.intersection(lows):
        cur.at = here
        return None
    for i in range(lows.index("needles"), n):
        cur.at = here + 1 + i
        if cur.peek().kind != "n" and cur.peek().value is None:
            continue
        count = parse_number(cur, ctx)
        if count is not None and cur.peek().low in _LOOPS:
            cur.at = end
            return CastOn(count=count, each=2, method="wound", span=cur.span_from(here))
    cur.at = here
    return None
