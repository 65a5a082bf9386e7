"""Work told by what it measures: "When armhole measures 20 cm, bind off ...".

In: a cursor at "when" or "once". Out: rows as set until that is so, as "work even until ..." would have them.
What then follows is left to its own readers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.amounts import skip, until_mark
from purlwright.pattern.read.until import measured_until
from purlwright.pattern.tree import InPattern, WorkRows

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Statement

__all__ = ["parse_when"]

_MEASURES = frozenset({"measures", "measure", "meas", "measuring"})


def parse_when(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """WHEN: ("when" | "once") SUBJECT "measures" LENGTH (","? "measured" FROM)? ENDING?."""
    here = cur.at
    cur.at += 1
    skip(cur, "the", "your")
    if not _MEASURES.intersection(cur.peek(i).low for i in range(until_mark(cur, 10))):
        cur.at = here
        return None
    found = measured_until(cur, ctx)
    if found is None or found.length is None or not found.length.values:
        cur.at = here
        return None
    span = cur.span_from(here)
    return (WorkRows(body=(InPattern(how="even"),), until=found, span=span),)
