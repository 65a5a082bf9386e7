"""Whole rows in brackets or after a star: "[Knit 5 rounds, then work dec round] 4 times".

In: a cursor at a bracket or star. Out: :class:`Again`, or None where the marks hold stitches of one row.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read import openers
from purlwright.pattern.read.amounts import is_unit, parse_times
from purlwright.pattern.read.references import parse_reference
from purlwright.pattern.read.rowset import parse_row_set
from purlwright.pattern.read.until import parse_until
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Again, RepeatRows, RowRef, Said, Shaping, Stated, WorkRows

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tree import Action

__all__ = ["parse_rows_again"]

_CLOSES = {"(": ")", "[": "]"}
_FIRST = frozenset("knit k purl p work repeat rep one".split())
_NAMED = frozenset("inc dec increase decrease increasing decreasing gusset".split())
_LINKS = frozenset({",", ";", ".", "and", "then", "&"})
_MOST = 40


def parse_rows_again(cur: Cursor, ctx: Context) -> tuple[Again | RepeatRows, ...] | None:
    """rows-again := mark rows ("," "then"? rows)* (close | "rep from *") (times | until)

    "[knit 5 rounds, then work dec round] 4 times", "*Knit 5 rounds, work dec round; rep from * 3 more times."
    """
    here = cur.at
    if cur.peek().low in {"rep", "repeat", "work"} and cur.peek(1).low in _CLOSES:
        cur.at += 1
    mark = cur.peek().low
    if (mark not in _CLOSES and not mark.startswith("*")) or not _rows_ahead(cur):
        cur.at = here
        return None
    cur.at += 1
    body = _rows(cur, ctx)
    star = mark.startswith("*")
    if len(body) < 1 or not (_star_again(cur, mark) if star else cur.take(_CLOSES[mark]) is not None):
        cur.at = here
        return None
    times = parse_times(cur, ctx)
    until = parse_until(cur, ctx) if times is None else None
    if times is None and until is None:
        cur.at = here
        return None
    number, said = times if times is not None else (None, Said.OPEN)
    whole = Again(body=body, times=number, said=said, star=star, until=until, span=cur.span_from(here))
    return (whole, *_once_more(cur, ctx))


def _once_more(cur: Cursor, ctx: Context) -> tuple[RepeatRows, ...]:
    """once-more := "," "then" row "once more": "then inc rnd once more"."""
    here = cur.at
    if not cur.any_phrase(", then|and work|rep|repeat?", "then|and work|rep|repeat?"):
        return ()
    start = cur.at
    rows = parse_row_set(cur, ctx)
    times = parse_times(cur, ctx) if rows is not None else None
    if rows is None or times is None:
        cur.at = here
        return ()
    return (RepeatRows(rows=rows, times=times[0], said=Said.MORE, span=cur.span_from(start)),)


def _rows_ahead(cur: Cursor) -> bool:
    """Whether a word for rows stands near the mark: a bracket of stitches costs no more than a look."""
    if cur.peek(1).low not in _FIRST | _NAMED:
        return False
    return any(
        is_unit(cur.peek(i).low) and cur.peek(i).low not in {"rib", "ribs", "needle", "needles"}
        for i in range(2, 6)
    )


def _star_again(cur: Cursor, mark: str) -> bool:
    """As in "; rep from *", "* repeat from * to *", "*"."""
    while cur.take(",", ";", ".") is not None:
        pass
    if cur.take("rep", "repeat") is None:
        return cur.take(mark) is not None
    cur.take(".")
    cur.take("from", "between")
    return cur.take(mark) is not None


def _rows(cur: Cursor, ctx: Context) -> tuple[Action, ...]:
    """Rows one after the other, as long as they are rows."""
    out: list[Action] = []
    while len(out) < _MOST:
        at = cur.at
        while cur.take(*_LINKS) is not None:
            pass
        if cur.peek().low in {"rep", "repeat"} and cur.peek(1).low in {"from", "*", "**", "."}:
            cur.at = at
            break
        start = cur.at
        ref = parse_reference(cur, ctx) if cur.peek().low in {"work", "rep", "repeat"} else None
        if ref is not None and isinstance(ref[0], RowRef):
            out.extend(ref)
            continue
        cur.at = start
        if cur.peek().low in _NAMED and (named := parse_row_set(cur, ctx)) is not None and named.names:
            out.append(RowRef(name=named.names[0], span=named.span))
            continue
        cur.at = start
        got = openers.statement(cur, ctx)
        if got is None or not all(isinstance(a, (WorkRows, RepeatRows, Shaping, Stated)) for a in got):
            cur.at = at
            break
        out.extend(got)
    return tuple(out)
