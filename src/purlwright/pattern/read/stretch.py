"""How the next shaping row differs from the last: "with 1 st fewer between decreases each time".

In: a cursor behind words that go on with rows, and what was read so far. Out: those rows with ``between``
set, and with the stop or the rhythm that the words give after it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace as changed

from purlwright.pattern.read.amounts import ROW_WORDS, STITCHES, parse_times, skip
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.schedule import schedule
from purlwright.pattern.read.until import parse_until
from purlwright.pattern.tree import InPattern, RepeatRows, RowRef, Shaping, WorkRows

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Action, Number, Said

__all__ = ["stretch_ahead", "take_stretch"]

_LEADS = ("with", "working", "having", "knitting", "leaving", "but", "and", "always", "there", "being")
_LESS = {"fewer": -1, "less": -1, "more": 1}
_DOWN = frozenset("decreases decrease decs dec decreasings".split())
_OVERS = frozenset("yos yo's overs yarnovers increases incs".split())
_UP = frozenset("increases increase incs inc increasings".split())


def take_stretch(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """STRETCH: LEAD* CHANGE "between" "the"? DECREASES ("each time" | "on every dec row")? WHEN? UNTIL?."""
    last = out[-1] if out else None
    if not isinstance(last, (Shaping, RepeatRows, WorkRows, InPattern)) or cur.peek().kind == "p":
        return False
    if isinstance(last, WorkRows) and not any(isinstance(s, InPattern) for s in last.body):
        return False
    if isinstance(last, InPattern) and (last.count is not None or last.to is not None):
        return False
    here = cur.at
    by = _stretch(cur, ctx)
    if not by:
        cur.at = here
        return False
    at = cur.at
    whens = schedule(cur, ctx) if not isinstance(last, (Shaping, RepeatRows)) else None
    if not whens:
        cur.at = at
    times = _times(cur, ctx) if isinstance(last, RepeatRows) and last.times is None else None
    u = parse_until(cur, ctx)
    span = last.span.cover(cur.span_from(here))
    if whens:
        ref = RowRef(name="decreases" if by < 0 else "increases", span=last.span)
        final = getattr(last, "until", None) or u
        out[-1:] = [
            Shaping(
                row=ref, every=w.every, times=w.times, said=w.said, start=w.start, unit=w.unit, side=w.side,
                until=(final if n == len(whens) else None) or w.until, between=by, span=span,
            )
            for n, w in enumerate(whens, 1)
        ]  # fmt: skip
    elif isinstance(last, InPattern):
        out[-1] = WorkRows(body=(last,), until=u, between=by, span=span)
    else:
        out[-1] = changed(last, between=by, until=last.until or u, span=span)
        if times is not None:
            out[-1] = changed(out[-1], times=times[0], said=times[1])
    return True


def _times(cur: Cursor, ctx: Context) -> tuple[Number, Said] | None:
    """TIMES: ", 5 more times"."""
    here = cur.at
    skip(cur, ",")
    found = parse_times(cur, ctx)
    if found is None:
        cur.at = here
    return found


def stretch_ahead(cur: Cursor, ctx: Context) -> bool:
    """Whether such words stand here, after a comma or without."""
    here = cur.at
    skip(cur, ",")
    found = bool(_stretch(cur, ctx))
    cur.at = here
    return found


def _stretch(cur: Cursor, ctx: Context) -> int:
    """CHANGE: "1 st fewer between decreases each time", "one less stitch between the decs": -1; else 0."""
    skip(cur, *_LEADS)
    if cur.take("a", "one") is not None:
        n: int | None = 1
    else:
        number = parse_number(cur, ctx) if cur.peek().kind == "n" or cur.peek().value is not None else None
        n = number.at(0) if number is not None and len(set(number.values)) == 1 else None
    if n is None:
        return 0
    _stitches(cur)
    sign = _LESS.get(cur.peek().low)
    if sign is None:
        return 0
    cur.at += 1
    _stitches(cur)
    if cur.take("between", "before") is None:
        return 0
    skip(cur, "the", "each", "every", "all", "of", "pairs")
    noun = cur.take(*_DOWN, *_UP, *_OVERS, "shapings")
    if noun is None or (noun.low in _DOWN and sign > 0) or (noun.low in _UP and sign < 0):
        return 0
    cur.take(".") if cur.peek().glued and cur.peek(1).low else None
    _each_time(cur)
    return sign * n


def _stitches(cur: Cursor) -> None:
    if cur.take(*STITCHES) is not None and cur.peek().low == "." and cur.peek().glued:
        if cur.peek(1).low in {"fewer", "less", "more", "between"}:
            cur.at += 1


def _each_time(cur: Cursor) -> None:
    """EACH-TIME: "each time", "on every dec row", "in each following decrease round"."""
    here = cur.at
    skip(cur, ",")
    if cur.phrase("each|every time"):
        return
    skip(cur, "on", "in")
    if cur.take("each", "every") is not None:
        skip(cur, "foll", "following", "succeeding", "successive", "subsequent", "new")
        named = skip(cur, "dec", "decrease", "decreasing", "inc", "increase", "increasing", "shaping")
        cur.take(".") if named and cur.peek().glued and cur.peek(1).low in ROW_WORDS else None
        if named and cur.take(*ROW_WORDS) is not None:
            return
        if cur.take("one", "repeat", "rep") is not None:
            return
    cur.at = here
