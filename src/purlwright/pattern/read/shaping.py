"""Shaping told over many rows: "dec 1 st each end of next and every foll alt row 5 times".

In: a cursor at "dec", "inc", "bind off", "cast on" or "work dec row". Out: :class:`Shaping` statements, one a
stretch of the schedule. What the edge stitches are worked in is left to ``needles``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from msgspec.structs import replace

from purlwright.pattern.read.amounts import ROW_WORDS, STITCHES, one, parse_times, skip, unit_of, until_mark
from purlwright.pattern.read.edges import Where, each_needle, parse_inside, parse_where
from purlwright.pattern.read.numbers import ONE, TWO, parse_number
from purlwright.pattern.read.parts import take_for_part
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.schedule import When, goes_on, schedule
from purlwright.pattern.read.stretch import stretch_ahead
from purlwright.pattern.read.until import parse_until
from purlwright.pattern.tree import (
    AtEdges,
    AtSameTime,
    BindOff,
    CastOn,
    Evenly,
    InPattern,
    Number,
    RowRef,
    Said,
    Shaping,
    Step,
    Work,
    WorkRows,
)

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Statement

__all__ = ["beside", "parse_shaping", "same_time", "stitch_at_edges"]


_DEC = frozenset("dec decrease decreasing narrow narrowing dec'ing decreased".split())


_INC = frozenset("inc increase increasing widen widening inc'ing increased".split())


def parse_shaping(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """SHAPING: WHAT WHERE WHEN ("then" WHEN)*, in that order or WHEN before WHERE."""
    here = cur.at
    where = _before(cur)
    found = _edges(cur, ctx, here, where) or _bound(cur, ctx, here, where)
    if found is None and where is None:
        cur.at = here
        found = (
            _row_by_name(cur, ctx, here)
            or _going_on(cur, ctx, here)
            or _when_first(cur, ctx, here)
            or _bound_last(cur, ctx, here)
            or _at_then(cur, ctx, here)
        )
    if found is None:
        cur.at = here
    return found


def _before(cur: Cursor) -> Where | None:
    """WHERE before the verb: "At neck edge, bind off 3 sts once"."""
    here = cur.at
    cur.take("starting", "beginning", "commencing")
    if cur.peek().low not in {"at", "on"}:
        cur.at = here
        return None
    where = parse_where(cur)
    cur.take("only")
    if where is None or not (skip(cur, ",", ":") or cur.peek().low in _DEC | _INC | {"bind", "cast", "bo"}):
        cur.at = here
        return None
    return where


def _edges(cur: Cursor, ctx: Context, here: int, before: Where | None) -> tuple[Statement, ...] | None:
    """("dec" | "inc") (NUMBER "st" | "once")? WHERE WHEN: "dec 1 st each end of every 4th row twice"."""
    verb = cur.peek().low
    if verb not in _DEC and verb not in _INC:
        return None
    change: Literal[1, -1] = -1 if verb in _DEC else 1
    cur.at += 1
    cur.take(".") if verb in {"dec", "inc"} else None
    cur.take("by")
    start = cur.at - 1
    alike = cur.any_phrase("again? in this|the same? way|manner", "like this", "thus", "again") is not None
    count = _how_many(cur, ctx)
    whens = schedule(cur, ctx)
    if alike and count is None and whens is not None and cur.peek().low in {"", ".", ",", ";", "(", "and"}:
        ref = RowRef(name="decreases" if change < 0 else "increases", span=cur.span_from(start))
        return _shapings((), ref, whens, cur, here)
    by_needle = each_needle(cur, change)
    where = before or (parse_where(cur) if by_needle is None else None)
    if where is None and by_needle is None:
        return _anywhere(cur, ctx, change, count, whens, here)
    inside = parse_inside(cur, ctx)
    if whens is None:
        whens = schedule(cur, ctx, where=where)
    if whens is None:
        if by_needle is None:
            return None
        steps: tuple[Any, ...] = (replace(by_needle[0], span=cur.span_from(here)), *by_needle[1:])
        return steps
    if count is None:
        count = ONE
    if by_needle is not None or where is None:
        return _shapings(by_needle or (), None, whens, cur, here)
    step = AtEdges(change=change, where=where, count=count, inside=inside, span=cur.span_from(here))
    return _shapings((step,), None, whens, cur, here)


def _anywhere(
    cur: Cursor,
    ctx: Context,
    change: Literal[1, -1],
    count: Number | None,
    whens: list[When] | None,
    here: int,
) -> tuple[Statement, ...] | None:
    """("dec" | "inc") NUMBER? "sts"? "evenly"? WHEN, no place said: "dec 6 sts evenly every other round 4
    times".
    """
    if count is None and whens is None:
        return None
    cur.phrase("evenly spaced|spread|across?") or cur.take("evenly")
    whens = whens or schedule(cur, ctx)
    if whens is None or (len(whens) == 1 and whens[0].times == ONE and whens[0].until is None):
        return None
    by = count or ONE
    signed = Number(
        values=tuple(None if v is None else v * change for v in by.values), span=by.span, words=by.words
    )
    return _shapings((Evenly(change=signed, span=cur.span_from(here)),), None, whens, cur, here)


def _how_many(cur: Cursor, ctx: Context) -> Number | None:
    """NUMBER "st" | "once" | "a stitch"."""
    here = cur.at
    if cur.take("once") is not None:
        return one(cur, here)
    if cur.take("twice", "thrice") is not None:  # "decrease twice in every fourth round"
        if cur.peek().low in {"in", "on"} and cur.peek(1).low in {"every", "each", "the"}:
            return Number(values=(2 if cur.peek(-1).low == "twice" else 3,), span=cur.span_from(here))
        cur.at = here
    if cur.take("a", "one") is not None and cur.take(*STITCHES) is not None:
        return one(cur, here)
    cur.at = here
    n = parse_number(cur, ctx)
    if n is None or cur.take(*STITCHES) is None:
        cur.at = here if n is None or cur.peek().low not in {"at", "each", "on", "both"} else cur.at
        return n if cur.at != here else None
    cur.take(".") if cur.peek().glued and cur.peek(1).low in {"at", "each", "on", "both"} else None
    return n


_BINDS = Phrases("bind|cast off", "bind|cast - off", "bind-off|cast-off", "bo", "cast of")


def _bound(cur: Cursor, ctx: Context, here: int, before: Where | None) -> tuple[Statement, ...] | None:
    """("bind off" | "cast off" | "cast on") NUMBER "sts" WHERE WHEN: "bind off 5 sts at beg of next 2
    rows".
    """
    on = False
    if _BINDS.take(cur) is None and cur.any_phrase("binding|casting off") is None:
        if cur.any_phrase("cast-on", "cast - on", "cast on", "co", "casting on") is None:
            return None
        on = True
    out: list[Statement] = []
    where = before
    if where is None and cur.peek().low in {"at", "on"}:  # "bind off at armhole edge 3 sts once"
        where = parse_where(cur)
        skip(cur, ",", ":")
    while True:
        at = cur.at
        got = _one_bound(cur, ctx, here if not out else at, where, on=on, later=bool(out))
        if got is None:
            cur.at = at
            break
        more, where = got
        out.extend(more)
        after = cur.at
        if not skip(cur, ",", ";", "and", "then"):
            break
        if cur.peek().value is None and cur.peek().low != "at":
            cur.at = after
            break
        here_ = cur.at
        if _one_bound(cur, ctx, here_, where, on=on) is None:
            cur.at = after
            break
        cur.at = here_
    return tuple(out) or None


def _one_bound(
    cur: Cursor, ctx: Context, here: int, before: Where | None, *, on: bool, later: bool = False
) -> tuple[tuple[Statement, ...], Where] | None:
    """NUMBER "sts" WHERE WHEN, in either order: "2 sts at beg of foll 4 rows"; at an edge said before, "2
    sts twice".
    """
    step: Step
    n = parse_number(cur, ctx)
    if n is None:
        first = None if on else (_first_of_rows(cur, ctx) or _rows_first(cur, ctx))
        if first is None:
            return None
        step = BindOff(count=first[0], at="beginning", span=cur.span_from(here))
        return _shapings((step,), None, first[1], cur, here), "beginning"
    cur.take(*STITCHES)
    cur.take(".") if cur.peek().glued and cur.peek(1).low in {"at", "each", "on", "loosely"} else None
    skip(cur, "loosely")
    take_for_part(cur)
    whens = schedule(cur, ctx) or (_at_same_edge(cur, ctx) if before is not None else None)
    where = parse_where(cur) or before
    if where is None:
        return None
    if whens is None:
        whens = schedule(cur, ctx, where=where)
    if whens is None and where in {"neck edge", "armhole edge", "each end"}:
        often = parse_times(cur, ctx)
        if often is not None:
            whens = [When(TWO, "next", often[0], Said.IN_ALL, None, None, None, None)]
        elif (
            where == "each end"
            and not on
            and cur.peek(-1).low == "side"
            and cur.peek().low in {"", ".", ";", ","}
        ):
            # "Bind off 3 sts each side": at the beginning of the next row, and of the one after it
            whens, where = [When(ONE, "next", TWO, Said.IN_ALL, None, None, None, None)], "beginning"
        elif before in {"neck edge", "armhole edge"} and (
            cur.any_phrase(", work|knit|k|p|purl|patt to the? end of? row?")
            or cur.peek().low in {"", ".", ";"}
        ):
            whens = [
                When(TWO, "next", ONE, Said.IN_ALL, None, None, None, None)
            ]  # "At arm edge bind off 2 sts."
    if whens is None:
        return None
    if later:
        whens = [goes_on(w) for w in whens]
    if on:
        step = CastOn(count=n, at="end" if where == "end" else "beginning", span=cur.span_from(here))
    else:
        at: Literal["beginning", "end", "each end", "neck edge", "armhole edge"]
        at = where if where not in {"each side of marker", "centre"} else "beginning"  # type: ignore[assignment]
        step = BindOff(count=n, at=at, span=cur.span_from(here))
    return _shapings((step,), None, whens, cur, here), where


def _first_of_rows(cur: Cursor, ctx: Context) -> tuple[Number, list[When]] | None:
    """FIRST-OF-ROWS: "1st st of the next 4 rows", "first 3 sts of next 2 rows": at their beginning."""
    here = cur.at
    cur.take("the")
    if cur.take("1st", "first") is None:
        return None
    n = parse_number(cur, ctx) or one(cur, here)
    if cur.take(*STITCHES) is None or cur.peek().low not in {"of", "on", "in"}:
        cur.at = here
        return None
    whens = schedule(cur, ctx)
    if whens is None:
        cur.at = here
        return None
    return n, whens


def _rows_first(cur: Cursor, ctx: Context) -> tuple[Number, list[When]] | None:
    """ROWS-FIRST: "for armhole"? "at the beg of the next 2 rows" NUMBER "sts": the rows before the number."""
    here = cur.at
    take_for_part(cur) if cur.peek().low == "for" else None
    where = parse_where(cur) if cur.peek().low == "at" else None
    whens = schedule(cur, ctx, where=where) if where == "beginning" else None
    n = parse_number(cur, ctx) if whens is not None else None
    if n is None or whens is None or cur.take(*STITCHES) is None:
        cur.at = here
        return None
    cur.take(".") if cur.peek().glued and cur.peek(1).low == "," else None
    return n, whens


def _at_same_edge(cur: Cursor, ctx: Context) -> list[When] | None:
    """AT-SAME-EDGE: HOW-OFTEN "at same edge": "2 sts twice at same edge", where that edge comes first."""
    here = cur.at
    often = parse_times(cur, ctx)
    if often is None or not cur.phrase("at|on the? same edge|end|side"):
        cur.at = here
        return None
    return [When(TWO, "every", often[0], Said.IN_ALL, None, None, None, None)]


def _bound_last(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """WHERE WHEN ","? "bind off" NUMBER "sts": "At the beg of each of the next 2 rows bind off 2 sts"."""
    if cur.peek().low not in {"at", "in"}:
        return None
    where = parse_where(cur)
    whens = schedule(cur, ctx, where=where) if where in {"beginning", "each end"} else None
    skip(cur, ",", ":")
    if whens is None or _BINDS.take(cur) is None:
        cur.at = here
        return None
    n = parse_number(cur, ctx)
    if n is None or cur.take(*STITCHES) is None:
        cur.at = here
        return None
    skip(cur, "loosely")
    at: Literal["beginning", "each end"] = "beginning" if where == "beginning" else "each end"
    return _shapings((BindOff(count=n, at=at, span=cur.span_from(here)),), None, whens, cur, here)


def _row_by_name(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """("work" | "rep") "the"? NAME "row" WHEN: "work dec row every other row 6 times"."""
    if cur.take("work", "rep", "repeat", "working", "repeating", "make", "making") is None:
        return None
    start = cur.at
    if cur.any_phrase("a|the|one|another buttonhole", "buttonhole|buttonholes") is not None:
        # "work a buttonhole at the beg of every 14th row": the row that is told for it
        ref = RowRef(name="buttonhole row", span=cur.span_from(start))
        parse_where(cur)
        whens = schedule(cur, ctx, named=True)
        if whens is not None:
            return _shapings((), ref, whens, cur, here)
        cur.at = start
    skip(cur, "the", "this", "last", "these", "a", "an")
    name = ""
    for n in range(min(5, until_mark(cur, 5)), 0, -1):
        words = " ".join(cur.peek(i).low for i in range(n))
        if words in ctx.row_names:
            name = words
            cur.at += n
            break
    else:
        words_ = []
        while cur.peek().low in {
            "toe", "crown", "gusset", "thumb", "heel", "raglan", "neck", "armhole","dec", "inc",
            "decrease", "increase", "buttonhole", "shaping", "cable", "eyelet",
                                 "decreasing", "increasing", "short", "body", "sleeve"}:  # fmt: skip
            words_.append(cur.next().low)
            cur.take(".") if cur.peek().glued and cur.peek(1).low in ROW_WORDS else None
        t = cur.take(*ROW_WORDS)
        if t is None and cur.peek().low in _NOUNS:
            # "work toe decreases every other round"
            words_.append(cur.next().low)
            cur.phrase("as set|established|before|directed|above")
            ref = RowRef(name=" ".join(words_), span=cur.span_from(start))
            whens = schedule(cur, ctx)
            return None if whens is None else _shapings((), ref, whens, cur, here)
        if t is None or not words_:
            if t is None or cur.peek(-2).low not in {"this", "last"}:
                return None
            words_ = ["last"]
        name = " ".join((*words_, t.low))
    ref = RowRef(name=name, unit=unit_of(name.split()[-1]), span=cur.span_from(start))
    whens = schedule(cur, ctx, named=True)
    if whens is None:
        return None
    return _shapings((), ref, whens, cur, here)


_NOUNS = frozenset("decreases increases decs incs shaping shapings".split())


def _going_on(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """("cont" | "continue") "to"? ("inc" | "dec") ("as set")? WHEN: the shaping told before, further on."""
    if not (cur.take("cont", "continue", "continuing", "keep", "keeping") or cur.phrase("carry on")):
        cur.at = here
        return None
    cur.take(".") if cur.peek(-1).low == "cont" and cur.peek().glued else None
    skip(cur, "to", "with", "the", "working", "on")
    verb = cur.take(*_DEC, *_INC, *_NOUNS)
    if verb is None:
        cur.at = here
        return None
    name = "decreases" if verb.low in _DEC or verb.low.startswith("dec") else "increases"
    start = cur.at - 1
    if verb.low in _DEC | _INC:  # "cont dec 4 sts in this way every other rnd"
        at = cur.at
        if _how_many(cur, ctx) is None or not cur.any_phrase(
            "in this|the same? way|manner", "as set|before|established"
        ):
            cur.at = at
    cur.any_phrase("for the? top|crown|toe|thumb|gusset|heel|tip|shoulder|neck|raglan")
    cur.any_phrase("as set|established|before|directed|above", "in this|the same? way|manner", "like this")
    apart = _apart(cur, ctx, name)
    if apart is not None:
        every, between = apart
        u = parse_until(cur, ctx)
        ref = RowRef(name=name, span=cur.span_from(start))
        when = When(every, "every", None, Said.TIMES, None, None, None, u)
        return tuple(replace(s, between=between) for s in _shapings((), ref, [when], cur, here))
    whens = schedule(cur, ctx)
    at = cur.at
    if whens is not None and cur.phrase("as set|established|before"):
        u = parse_until(cur, ctx)
        whens = [*whens[:-1], whens[-1]._replace(until=u or whens[-1].until)]
    if whens is None and stretch_ahead(cur, ctx):
        set_ = InPattern(span=cur.span_from(here))
        return (WorkRows(body=(set_,), span=cur.span_from(here)),)
    if whens is None:
        u = parse_until(cur, ctx)
        if u is None:
            cur.at = here
            return None
        whens = [When(TWO, "every", None, Said.TIMES, None, None, None, u)]
    del at
    ref = RowRef(name=name, span=cur.span_from(start))
    return _shapings((), ref, whens, cur, here)


def _apart(cur: Cursor, ctx: Context, name: str) -> tuple[Number, int] | None:
    """APART: ","? "adding" NUMBER "sts between increases" "and working" NUMBER "rows even between" ROWS.

    How many more stitches lie between the shapings each time, and how far apart the shaping rows are.
    """
    here = cur.at
    skip(cur, ",")
    more = cur.take("adding", "having", "with") is not None
    n = parse_number(cur, ctx) if more else None
    if n is None or cur.take(*STITCHES) is None or len(set(n.values)) > 1:
        cur.at = here
        return None
    skip(cur, "more", "extra", "additional")
    if not cur.phrase("between the? increases|incs|increase"):
        cur.at = here
        return None
    cur.any_phrase("each time", "every time")
    at = cur.at
    skip(cur, ",", "and")
    rows = parse_number(cur, ctx) if cur.take("working", "knitting", "with") is not None else None
    skip(cur, "plain") if rows is not None else None
    if rows is None or cur.take(*ROW_WORDS) is None:
        cur.at = at
        return (TWO, n.at(0) or 0) if name == "increases" else None
    skip(
        cur,
        "even",
        "plain",
        "straight",
        "between",
        "the",
        "each",
        "increase",
        "inc",
        "increasing",
        *ROW_WORDS,
    )
    skip(cur, "increases", "incs")
    return replace(rows, values=tuple(None if v is None else v + 1 for v in rows.values)), n.at(0) or 0


def _at_then(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """AT-THEN: "at" WHERE WHEN ","? ("dec" | "inc") NUMBER "st": "At end of next row, dec 1 st"."""
    if cur.peek().low not in {"at", "on"}:
        return None
    where = parse_where(cur)
    whens = schedule(cur, ctx, where=where) if where is not None else None
    skip(cur, ",", ":")
    verb = cur.peek().low
    if where is None or whens is None or (verb not in _DEC and verb not in _INC):
        cur.at = here
        return None
    cur.at += 1
    cur.take(".") if verb in {"dec", "inc"} else None
    count = _how_many(cur, ctx)
    if count is None:
        cur.at = here
        return None
    step = AtEdges(change=-1 if verb in _DEC else 1, where=where, count=count, span=cur.span_from(here))
    return _shapings((step,), None, whens, cur, here)


def _when_first(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """WHEN ","? ("dec" | "inc") NUMBER "st" WHERE: "Every 4th row, dec 1 st at each end"."""
    if cur.peek().low not in {"every", "on", "in", "each", "at"}:
        return None
    whens = schedule(cur, ctx)
    if whens is None:
        cur.at = here
        return None
    skip(cur, ",", ":")
    verb = cur.peek().low
    if verb not in _DEC and verb not in _INC:
        cur.at = here
        return None
    change: Literal[1, -1] = -1 if verb in _DEC else 1
    cur.at += 1
    count = _how_many(cur, ctx)
    where = parse_where(cur)
    if where is None:
        cur.at = here
        return None
    u = parse_until(cur, ctx)
    often = parse_times(cur, ctx) if u is None else None
    last = whens[-1]
    if u is not None:
        last = last._replace(until=u)
    if often is not None:
        last = last._replace(times=often[0], said=often[1])
    step = AtEdges(change=change, where=where, count=count or ONE, span=cur.span_from(here))
    return _shapings((step,), None, [*whens[:-1], last], cur, here)


def stitch_at_edges(cur: Cursor, ctx: Context, work: Work, here: int) -> tuple[Statement, ...] | None:
    """STITCH WHERE WHEN: "K2tog at each end of every row until 50 sts remain"."""
    from purlwright.stitches.load import dictionary

    stitch = dictionary().stitches.get(work.stitch)
    if stitch is None or stitch.net not in {1, -1} or work.count.values != (1,):
        return None
    at = cur.at
    where = parse_where(cur)
    whens = schedule(cur, ctx) if where is not None else None
    if where is None or whens is None:
        cur.at = at
        return None
    change: Literal[1, -1] = 1 if stitch.net > 0 else -1
    step = AtEdges(change=change, where=where, count=ONE, stitch=work.stitch, span=cur.span_from(here))
    return _shapings((step,), None, whens, cur, here)


def _shapings(
    steps: tuple[Step, ...], row: RowRef | None, whens: list[When], cur: Cursor, here: int
) -> tuple[Statement, ...]:
    return tuple(
        Shaping(
            steps=steps, row=row, every=w.every, times=w.times, said=w.said, start=w.start, until=w.until,
            unit=w.unit, side=w.side, length=w.length, span=cur.span_from(here),
        )
        for w in whens
    )  # fmt: skip


def same_time(cur: Cursor) -> bool:
    """SAME-TIME: "at the same time" | "at same time" | "while" | "meanwhile": what follows runs beside
    what went before.
    """
    here = cur.at
    skip(cur, ",", ";", ".", "and", "but", "*")
    if cur.any_phrase(
        "at the same time", "at same time", "and at the same time", "meanwhile", "while at the same time"
    ):
        skip(cur, ",", ":", "-", "*", "and")
        return True
    cur.at = here
    return False


def beside(main: Statement, other: tuple[Statement, ...]) -> AtSameTime:
    """The first statement, and those that run beside it."""
    parts = (*main.parts, *other) if isinstance(main, AtSameTime) else (main, *other)
    return AtSameTime(parts=parts, span=main.span.cover(other[-1].span))
