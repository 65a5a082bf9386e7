"""Shaping told over many rows: "dec 1 st each end of next and every foll alt row 5 times".

In: a cursor at "dec", "inc", "bind off", "cast on" or "work dec row". Out: :class:`Shaping` statements, one a
stretch of the schedule. What the edge stitches are worked in is left to ``needles``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from purlwright.pattern.read.amounts import ROW_WORDS, one, parse_side, parse_times, skip, unit_of, until_mark
from purlwright.pattern.read.numbers import ONE, TWO, parse_length, parse_number
from purlwright.pattern.read.until import parse_until
from purlwright.pattern.tree import (
    AtEdges,
    AtSameTime,
    BindOff,
    CastOn,
    Evenly,
    InPattern,
    Length,
    Number,
    Place,
    PlaceKind,
    Repeat,
    RowRef,
    Said,
    Shaping,
    Side,
    Step,
    Unit,
    Until,
    Work,
)  # fmt: skip

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Statement

__all__ = ["parse_shaping", "same_time"]

_STITCHES = ("st", "sts", "stitch", "stitches")
_DEC = frozenset("dec decrease decreasing narrow narrowing dec'ing decreased".split())
_INC = frozenset("inc increase increasing widen widening inc'ing increased".split())
_Where = Literal["each end", "beginning", "end", "neck edge", "armhole edge", "each side of marker", "centre"]


class _When(NamedTuple):
    """One stretch of a schedule: every so many rows, so often."""

    every: Number
    start: Literal["next", "every"]
    times: Number | None
    said: Said
    unit: Unit | None
    side: Side | None
    length: Length | None
    until: Until | None


def parse_shaping(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """SHAPING: WHAT WHERE WHEN ("then" WHEN)*, in that order or WHEN before WHERE."""
    here = cur.at
    where = _before(cur)
    found = _edges(cur, ctx, here, where) or _bound(cur, ctx, here, where)
    if found is None and where is None:
        cur.at = here
        found = _row_by_name(cur, ctx, here) or _going_on(cur, ctx, here) or _when_first(cur, ctx, here)
    if found is None:
        cur.at = here
    return found


def _before(cur: Cursor) -> _Where | None:
    """WHERE before the verb: "At neck edge, bind off 3 sts once"."""
    if cur.peek().low not in {"at", "on"}:
        return None
    here = cur.at
    where = _where(cur)
    cur.take("only")
    if where is None or not (skip(cur, ",", ":") or cur.peek().low in _DEC | _INC | {"bind", "cast", "bo"}):
        cur.at = here
        return None
    return where


# --- what --------------------------------------------------------------------------------------------


def _edges(cur: Cursor, ctx: Context, here: int, before: _Where | None) -> tuple[Statement, ...] | None:
    """("dec" | "inc") (NUMBER "st" | "once")? WHERE WHEN: "dec 1 st each end of every 4th row twice"."""
    verb = cur.peek().low
    if verb not in _DEC and verb not in _INC:
        return None
    change: Literal[1, -1] = -1 if verb in _DEC else 1
    cur.at += 1
    cur.take(".") if verb in {"dec", "inc"} else None
    cur.take("by")
    count = _how_many(cur, ctx)
    whens = _schedule(cur, ctx)
    by_needle = _each_needle(cur, change)
    where = before or (_where(cur) if by_needle is None else None)
    if where is None and by_needle is None:
        return _anywhere(cur, ctx, change, count, whens, here)
    inside = _inside(cur, ctx)
    if whens is None:
        whens = _schedule(cur, ctx)
    if whens is None:
        return None
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
    whens: list[_When] | None,
    here: int,
) -> tuple[Statement, ...] | None:
    """("dec" | "inc") NUMBER? "sts"? "evenly"? WHEN, no place said: "dec 6 sts evenly every other round 4
    times".
    """
    if count is None and whens is None:
        return None
    cur.phrase("evenly spaced|spread|across?") or cur.take("evenly")
    whens = whens or _schedule(cur, ctx)
    if whens is None or (len(whens) == 1 and whens[0].times == ONE and whens[0].until is None):
        return None
    by = count or ONE
    signed = Number(
        values=tuple(None if v is None else v * change for v in by.values), span=by.span, words=by.words
    )
    return _shapings((Evenly(change=signed, span=cur.span_from(here)),), None, whens, cur, here)


def _each_needle(cur: Cursor, change: Literal[1, -1]) -> tuple[Step, ...] | None:
    """EACH-NEEDLE: "at the"? ("beginning" | "end") "of each needle": once on every needle of the round."""
    here = cur.at
    skip(cur, ",", "at", "the", "on")
    t = cur.take("beginning", "beg", "end", "start")
    if t is None or not cur.phrase("of each|every|the needle|needles|pin") or cur.peek(-2).low == "the":
        cur.at = here
        return None
    span = cur.span_from(here)
    at_end = Place(kind=PlaceKind.NEEDLE_END, span=span)
    if change < 0:
        stitch = Work(stitch="k2tog", count=ONE, span=span)
        short = TWO
    else:
        stitch = Work(stitch="kfb", count=ONE, span=span)
        short = ONE
    body: tuple[Step, ...] = (stitch, InPattern(to=at_end, span=span))
    if t.low == "end":
        before = Place(kind=PlaceKind.NEEDLE_END, before=short, span=span)
        body = (InPattern(to=before, span=span), stitch)
    return (Repeat(body=body, said=Said.OPEN, mark="", span=span),)


def _how_many(cur: Cursor, ctx: Context) -> Number | None:
    """NUMBER "st" | "once" | "a stitch"."""
    here = cur.at
    if cur.take("once") is not None:
        return one(cur, here)
    if cur.take("a", "one") is not None and cur.take(*_STITCHES) is not None:
        return one(cur, here)
    cur.at = here
    n = parse_number(cur, ctx)
    if n is None or cur.take(*_STITCHES) is None:
        cur.at = here if n is None or cur.peek().low not in {"at", "each", "on", "both"} else cur.at
        return n if cur.at != here else None
    cur.take(".") if cur.peek().glued and cur.peek(1).low in {"at", "each", "on", "both"} else None
    return n


def _where(cur: Cursor) -> _Where | None:
    """WHERE: "each end", "at both ends of the needle", "at beg and end", "at neck edge", "on each side",
    "at centre".
    """
    here = cur.at
    skip(cur, ",")
    skip(cur, "at", "on", "the", "in", "of")
    both = cur.take("each", "both", "every", "either") is not None
    t = cur.peek().low
    if both and t in {"end", "ends", "edge", "edges", "side", "sides"}:
        cur.at += 1
        if cur.phrase("of the? marker|markers|m") or cur.phrase("of centre|center st|stitch"):
            return "each side of marker"
        cur.phrase("of the? needle|needles|work|piece")
        return "each end"
    if both and t in {"neck", "armhole", "side"}:
        cur.at += 1
        skip(cur, "edge", "edges")
        return "each end"
    where: _Where | None = None
    if t in {"beg", "beginning", "commencement", "start", "end"}:
        where = "end" if t == "end" else "beginning"
        cur.at += 1
        cur.take(".") if t == "beg" else None
        if cur.phrase("and at? the? end|beg|beginning"):
            where = "each end"
        cur.phrase("of the? needle|needles")
    elif t in {
        "neck",
        "armhole",
        "arm",
        "front",
        "underarm",
        "seam",
        "side",
        "sleeve",
        "inside",
        "outside",
        "inner",
    }:
        cur.at += 1
        skip(cur, "hole")
        if cur.take("edge", "edges", "end", "side") is None and t not in {"neck", "armhole"}:
            cur.at = here
            return None
        cur.take("only")
        where = "neck edge" if t in {"neck", "front", "inner", "inside"} else "armhole edge"
    elif t in {"centre", "center", "middle"}:
        cur.at += 1
        skip(cur, "st", "stitch", "front")
        where = "centre"
    if where is None:
        cur.at = here
    return where


def _inside(cur: Cursor, ctx: Context) -> Number | None:
    """INSIDE: "," ("inside" | "within") NUMBER "edge"? "sts": how many edge stitches stand outside it."""
    here = cur.at
    skip(cur, ",")
    if cur.take("inside", "within") is not None:
        skip(cur, "the", "of")
        n = parse_number(cur, ctx)
        skip(cur, "edge", "border", "selvedge", "end")
        if n is not None and cur.take(*_STITCHES, "stitch") is not None:
            return n
    cur.at = here
    return None


def _bound(cur: Cursor, ctx: Context, here: int, before: _Where | None) -> tuple[Statement, ...] | None:
    """("bind off" | "cast off" | "cast on") NUMBER "sts" WHERE WHEN: "bind off 5 sts at beg of next 2
    rows".
    """
    on = False
    if (
        cur.any_phrase(
            "bind-off",
            "cast-off",
            "bind - off",
            "cast - off",
            "bind off",
            "cast off",
            "bo",
            "binding off",
            "casting off",
        )
        is None
    ):
        if cur.any_phrase("cast-on", "cast - on", "cast on", "co", "casting on") is None:
            return None
        on = True
    out: list[Statement] = []
    where = before
    while True:
        at = cur.at
        got = _one_bound(cur, ctx, here if not out else at, where, on=on)
        if got is None:
            cur.at = at
            break
        more, where = got
        out.extend(more)
        after = cur.at
        if not skip(cur, ",", ";", "and", "then"):
            break
        if cur.peek().value is None:
            cur.at = after
            break
        here_ = cur.at
        if _one_bound(cur, ctx, here_, where, on=on) is None:
            cur.at = after
            break
        cur.at = here_
    return tuple(out) or None


def _one_bound(
    cur: Cursor, ctx: Context, here: int, before: _Where | None, *, on: bool
) -> tuple[tuple[Statement, ...], _Where] | None:
    """NUMBER "sts" WHERE WHEN, in either order: "2 sts at beg of foll 4 rows"; at an edge said before, "2
    sts twice".
    """
    n = parse_number(cur, ctx)
    if n is None:
        return None
    cur.take(*_STITCHES)
    cur.take(".") if cur.peek().glued and cur.peek(1).low in {"at", "each"} else None
    skip(cur, "loosely")
    whens = _schedule(cur, ctx)
    where = _where(cur) or before
    if where is None:
        return None
    if whens is None:
        whens = _schedule(cur, ctx)
    if whens is None and where in {"neck edge", "armhole edge", "each end"}:
        often = parse_times(cur, ctx)
        if often is not None:
            whens = [_When(TWO, "next", often[0], Said.IN_ALL, None, None, None, None)]
    if whens is None:
        return None
    step: Step
    if on:
        step = CastOn(count=n, at="end" if where == "end" else "beginning", span=cur.span_from(here))
    else:
        at: Literal["beginning", "end", "each end", "neck edge", "armhole edge"]
        at = where if where not in {"each side of marker", "centre"} else "beginning"  # type: ignore[assignment]
        step = BindOff(count=n, at=at, span=cur.span_from(here))
    return _shapings((step,), None, whens, cur, here), where


def _row_by_name(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """("work" | "rep") "the"? NAME "row" WHEN: "work dec row every other row 6 times"."""
    if cur.take("work", "rep", "repeat", "working", "repeating") is None:
        return None
    start = cur.at
    skip(cur, "the", "this", "last", "these")
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
            whens = _schedule(cur, ctx)
            return None if whens is None else _shapings((), ref, whens, cur, here)
        if t is None or not words_:
            if t is None or cur.peek(-2).low not in {"this", "last"}:
                return None
            words_ = ["last"]
        name = " ".join((*words_, t.low))
    ref = RowRef(name=name, unit=unit_of(name.split()[-1]), span=cur.span_from(start))
    whens = _schedule(cur, ctx, named=True)
    if whens is None:
        return None
    return _shapings((), ref, whens, cur, here)


_NOUNS = frozenset("decreases increases decs incs shaping shapings".split())


def _going_on(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """("cont" | "continue") "to"? ("inc" | "dec") ("as set")? WHEN: the shaping told before, further on."""
    if cur.take("cont", "continue", "continuing", "keep", "keeping") is None:
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
    cur.phrase("as set|established|before|directed") or cur.phrase("in this|the same? way|manner")
    whens = _schedule(cur, ctx)
    at = cur.at
    if whens is not None and cur.phrase("as set|established|before"):
        u = parse_until(cur, ctx)
        whens = [*whens[:-1], whens[-1]._replace(until=u or whens[-1].until)]
    if whens is None:
        u = parse_until(cur, ctx)
        if u is None:
            cur.at = here
            return None
        whens = [_When(TWO, "every", None, Said.TIMES, None, None, None, u)]
    del at
    ref = RowRef(name=name, span=cur.span_from(start))
    return _shapings((), ref, whens, cur, here)


def _when_first(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """WHEN ","? ("dec" | "inc") NUMBER "st" WHERE: "Every 4th row, dec 1 st at each end"."""
    if cur.peek().low not in {"every", "on", "in", "each", "at"}:
        return None
    whens = _schedule(cur, ctx)
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
    where = _where(cur)
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


def _shapings(
    steps: tuple[Step, ...], row: RowRef | None, whens: list[_When], cur: Cursor, here: int
) -> tuple[Statement, ...]:
    return tuple(
        Shaping(
            steps=steps, row=row, every=w.every, times=w.times, said=w.said, start=w.start, until=w.until,
            unit=w.unit, side=w.side, length=w.length, span=cur.span_from(here),
        )
        for w in whens
    )  # fmt: skip


# --- when --------------------------------------------------------------------------------------------


def _schedule(cur: Cursor, ctx: Context, *, named: bool = False) -> list[_When] | None:
    """WHEN (("," | "and")? "then"? WHEN)*."""
    here = cur.at
    first = _when(cur, ctx, named=named)
    if first is None:
        cur.at = here
        return None
    whens = first
    while True:
        here = cur.at
        linked = skip(cur, ",", ";", "and", "then", "on", "thereafter")
        if not linked:
            break
        more = _when(cur, ctx, named=named, later=True)
        if more is None:
            cur.at = here
            break
        whens += more
    return whens


def _when(cur: Cursor, ctx: Context, *, named: bool = False, later: bool = False) -> list[_When] | None:
    """TIMES? ("of" | "on" | "in")? ("next" | "every" | "this") ... ROWS TIMES? UNTIL?."""
    here = cur.at
    del named
    often = parse_times(cur, ctx)
    skip(cur, ",")
    skip(cur, "of", "on", "in", "at", "for")
    cur.phrase("each of the?") or cur.take("the")
    rows = _rows(cur, ctx)
    if rows is None:
        cur.at = here
        return None
    out: list[_When] = []
    for i, (every, start, times, said, unit, side, length) in enumerate(rows):
        u = None
        if i == len(rows) - 1:
            at = cur.at
            skip(cur, ",")
            again = often if often is not None else parse_times(cur, ctx)
            if again is None:
                cur.at = at
            elif times is None or said is Said.MORE:
                # "next and every foll alt row 5 times" counts them all
                times, said = again
            u = parse_until(cur, ctx) or _to_count(cur, ctx)
            cur.phrase("as set|established|before")
        out.append(_When(every, start, times, said, unit, side, length, u))
    del later
    return out


def _to_count(cur: Cursor, ctx: Context) -> Until | None:
    """TO-COUNT: "to" NUMBER "sts": "every foll 8th row to 70 sts"."""
    here = cur.at
    if cur.take("to") is not None:
        n = parse_number(cur, ctx)
        if n is not None and cur.take(*_STITCHES) is not None:
            return Until(stitches=n, span=cur.span_from(here))
    cur.at = here
    return None


_Row = tuple[
    Number, Literal["next", "every"], Number | None, Said, "Unit | None", "Side | None", "Length | None"
]


def _rows(cur: Cursor, ctx: Context) -> list[_Row] | None:
    """ROWS: "next 4 rows" | "every 6th row" | "every row" | "next and every foll alt row" | "every 2 cm" |
    "RS rows".
    """
    here = cur.at
    before = parse_number(cur, ctx) if cur.peek(1).low in {"foll", "following"} else None
    if cur.take("next", "this", "following", "foll", "same") is not None:
        later = cur.peek(-1).low.startswith("foll")
        cur.take(".") if cur.peek(-1).low == "foll" else None
        n = before or parse_number(cur, ctx)
        every = _spacing(cur)
        side = parse_side(cur)
        t = cur.take(*ROW_WORDS) or (cur.peek(-1) if cur.peek(-1).low in ROW_WORDS else None)
        if every is not None and t is not None:
            start: Literal["next", "every"] = "every" if later else "next"
            return [(every, start, n or ONE, Said.IN_ALL, unit_of(t.low), side, None)]
        at = cur.at
        skip(cur, ",", "then")
        if cur.take("and", "&") is not None or cur.peek(-1).low == "then":
            skip(cur, "on", "the", "then")
            more = _following(cur, ctx)
            if more is not None and n is None:
                every, times, unit, side2 = more
                if times is not None:
                    times = _plus_one(times)
                return [
                    (every, "next", times, Said.IN_ALL if times else Said.TIMES, unit, side2 or side, None)
                ]
            if more is not None and n is not None:
                every, times, unit, side2 = more
                return [
                    (ONE, "next", n, Said.IN_ALL, unit, side, None),
                    (every, "every", times, Said.TIMES, unit, side2, None),
                ]
        cur.at = at
        if t is None:
            cur.at = here
            return None
        return [(ONE, "next", n if n is not None else ONE, Said.IN_ALL, unit_of(t.low), side, None)]
    if cur.take("every", "each", "ev", "all", "alt", "alternate") is not None:
        cur.at -= 1
        got = _following(cur, ctx)
        if got is not None:
            every, times, unit, side = got
            return [
                (
                    every,
                    "next" if every == ONE else "every",
                    times,
                    Said.IN_ALL if times else Said.TIMES,
                    unit,
                    side,
                    None,
                )
            ]
        cur.at = here
        if cur.take("every") is not None:
            length = parse_length(cur, ctx)
            if length is not None:
                return [(ONE, "every", None, Said.TIMES, None, None, length)]
    cur.at = here
    if cur.peek().kind == "o":
        # "5th and every foll 6th row": the first one is the fifth row from here
        t = cur.next()
        skip(cur, *ROW_WORDS)
        if cur.take("and", "&", ",") is not None:
            skip(cur, "then", "on", "the")
            more = _following(cur, ctx)
            if more is not None:
                every, times, unit, side = more
                first = Number(values=(int(t.value or 1),), span=t.span)
                return [
                    (first, "every", ONE, Said.IN_ALL, unit, side, None),
                    (every, "every", times, Said.IN_ALL if times else Said.TIMES, unit, side, None),
                ]
        elif cur.peek(-1).low in ROW_WORDS:
            first = Number(values=(int(t.value or 1),), span=t.span)
            return [(first, "every", ONE, Said.IN_ALL, unit_of(cur.peek(-1).low), None, None)]
    cur.at = here
    side = parse_side(cur)
    if side is not None and cur.peek(-1).low in ROW_WORDS:
        return [(TWO, "next", None, Said.TIMES, unit_of(cur.peek(-1).low), side, None)]
    cur.at = here
    return None


def _spacing(cur: Cursor) -> Number | None:
    """SPACING: "alt" | "alternate" | "other" | ORDINAL, before the word for rows: how far apart they are."""
    t = cur.peek()
    if t.low in {"alt", "alternate", "other"}:
        cur.at += 1
        cur.take(".") if t.low == "alt" and cur.peek().glued else None
        return TWO
    if t.kind == "o" and cur.peek(1).low in ROW_WORDS:
        cur.at += 1
        return Number(values=(min(int(t.value or 1), 1_000_000),), span=t.span)
    return None


def _plus_one(n: Number) -> Number:
    return Number(values=tuple(None if v is None else v + 1 for v in n.values), span=n.span, words=n.words)


def _following(cur: Cursor, ctx: Context) -> tuple[Number, Number | None, Unit | None, Side | None] | None:
    """("every" | "each")? ("foll" | "following")? NUMBER? ("alt" | "other" | ORDINAL | SIDE)? ROWS."""
    here = cur.at
    lead = skip(cur, "every", "each", "all", "ev")
    cur.take(".") if cur.peek(-1).low == "ev" else None
    first_times = parse_number(cur, ctx) if cur.peek(1).low in {"foll", "following"} else None
    follows = skip(cur, "foll", "following", "subsequent", "succeeding")
    cur.take(".") if cur.peek(-1).low == "foll" else None
    times = first_times or parse_number(cur, ctx)
    side: Side | None = None
    every = ONE
    t = cur.peek()
    if t.low in {"alt", "alternate", "other", "even", "odd"}:
        cur.at += 1
        cur.take(".") if t.low == "alt" and cur.peek().glued else None
        every = TWO
    elif t.kind == "o":
        cur.at += 1
        values: tuple[int | None, ...] = (int(t.value or 1),)
        # "every 6th (8th, 8th) row"
        if cur.peek().low in {"(", "["}:
            values += _ordinals(cur)
        every = Number(values=values, span=t.span)
    elif (side := parse_side(cur)) is not None:
        every = TWO
        if cur.peek(-1).low in ROW_WORDS:
            return every, times, unit_of(cur.peek(-1).low), side
    skip(cur, "foll", "following")
    if times is None and cur.peek().kind == "n":
        times = parse_number(cur, ctx)
    noun = cur.take(*ROW_WORDS)
    if noun is None:
        cur.at = here
        return None
    if lead and not follows and every == ONE and times is not None:
        # "every 10 rows" is every tenth row
        return times, None, unit_of(noun.low), side
    return every, times, unit_of(noun.low), side


def _ordinals(cur: Cursor) -> tuple[int | None, ...]:
    here = cur.at
    cur.at += 1
    out: list[int | None] = []
    while cur.peek().kind == "o":
        out.append(int(cur.next().value or 1))
        cur.take(",", ";", "-")
    if cur.take(")", "]") is None:
        cur.at = here
        return ()
    return tuple(out)


# --- at the same time ------------------------------------------------------------------------------


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
