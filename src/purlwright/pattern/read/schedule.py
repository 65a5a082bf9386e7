"""When shaping is done: "every 4th row twice, then every 6th row 3 times", "next and 3 foll alt rows".

In: a cursor at a schedule. Out: its stretches in order (:class:`When`). What is done then is left to
``shaping``.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Literal, NamedTuple

from purlwright.pattern.read.amounts import (
    ROW_WORDS,
    STITCHES,
    parse_side,
    parse_times,
    skip,
    twice_as_many,
    unit_of,
)
from purlwright.pattern.read.edges import Where, parse_where
from purlwright.pattern.read.numbers import ONE, TWO, parse_length, parse_number
from purlwright.pattern.read.until import parse_until
from purlwright.pattern.tree import Length, Number, Said, Side, Unit, Until

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["When", "goes_on", "schedule"]


class When(NamedTuple):
    """One stretch of a schedule: every so many rows, so often."""

    every: Number
    start: Literal["next", "every", "after"]
    times: Number | None
    said: Said
    unit: Unit | None
    side: Side | None
    length: Length | None
    until: Until | None


def schedule(
    cur: Cursor, ctx: Context, *, named: bool = False, where: Where | None = None
) -> list[When] | None:
    """WHEN (("," | "and")? "then"? WHERE? WHEN)*; ``where`` the shaping is done may be said again."""
    here = cur.at
    first = _when(cur, ctx, named=named, where=where)
    if first is None:
        cur.at = here
        return None
    whens = first
    while True:
        here = cur.at
        linked = skip(cur, ",", ";", "and", "then", "on", "thereafter")
        if not linked:
            break
        at = cur.at
        if not _same_edge(cur) and (where is None or parse_where(cur) != where):
            cur.at = at  # "then at both ends of every row" says it again
        cur.at = at if cur.peek(-1).low in ROW_WORDS else cur.at
        more = _when(cur, ctx, named=named, later=True)
        if more is None:
            cur.at = here
            break
        whens += [goes_on(w) for w in more]
    return whens


def goes_on(w: When) -> When:
    """As "the next row and the next alternate row": counted from the row before, not from here."""
    return w._replace(start="every") if w.start == "next" and w.every != ONE else w


def _when(
    cur: Cursor, ctx: Context, *, named: bool = False, later: bool = False, where: Where | None = None
) -> list[When] | None:
    """TIMES? ("of" | "on" | "in")? ("next" | "every" | "this") ... ROWS TIMES? UNTIL?."""
    here = cur.at
    del named
    often = parse_times(cur, ctx)
    skip(cur, ",")
    skip(cur, "of", "on", "in", "at", "for")
    cur.phrase("each of the?") or cur.take("the")
    rows = _rows(cur, ctx, where) or _plain_between(cur, ctx)
    if rows is None:
        cur.at = here
        return None
    out: list[When] = []
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
            if times is None and u is not None and (many := _in_rows(u, every)) is not None:
                times, said, u = many, Said.IN_ALL, None
        out.append(When(every, start, times, said, unit, side, length, u))
    del later
    return out


def _in_rows(u: Until, every: Number) -> Number | None:
    """IN-ROWS: "in every fourth round for 12 rounds": three times."""
    n, by = (u.rows, every.at(0)) if u.rows is not None else (None, None)
    if n is None or not by or u.side is not None or u.ending_row is not None or len(every.values) > 1:
        return None
    if any(v is None or v % by for v in n.values):
        return None
    return Number(values=tuple((v or 0) // by for v in n.values), span=n.span)


def _same_edge(cur: Cursor) -> bool:
    """SAME-EDGE: "at the"? "same edge", where it was done before: "and at same edge on every 4th row"."""
    return cur.any_phrase("at|on the? same|that edge|end|place|point on|of|in?") is not None


def _to_count(cur: Cursor, ctx: Context) -> Until | None:
    """TO-COUNT: "to" NUMBER "sts": "every foll 8th row to 70 sts"."""
    here = cur.at
    if cur.take("to") is not None:
        n = parse_number(cur, ctx)
        if n is not None and cur.take(*STITCHES) is not None:
            return Until(stitches=n, span=cur.span_from(here))
    cur.at = here
    return None


_Row = tuple[
    Number,
    Literal["next", "every", "after"],
    Number | None,
    Said,
    "Unit | None",
    "Side | None",
    "Length | None",
]


def _rows(cur: Cursor, ctx: Context, where: Where | None = None) -> list[_Row] | None:
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
            _same_edge(cur)
            skip(cur, "on", "of", "the", "then")
            after = cur.at
            more = _following(cur, ctx)
            if more is not None and n is None and "then" in {t.low for t in cur.tokens[at:after]}:
                n = ONE  # "the next, then every foll 10th row twice": the next one besides
            if more is not None and n is None:
                every, times, unit, side2 = more
                said = {t.low for t in cur.tokens[after : cur.at]}
                if times is None and said & {"row", "rnd", "round"} and not said & _EVERY:
                    times = ONE  # "next and foll alt row"
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
        apart = TWO if side is not None and n is not None and n != ONE else ONE  # "next 3 RS rows"
        return [(apart, "next", n if n is not None else ONE, Said.IN_ALL, unit_of(t.low), side, None)]
    if cur.take("every", "each", "ev", "all", "alt", "alternate") is not None:
        cur.at -= 1
        got = _following(cur, ctx, where)
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
            length = _one_unit(cur) or parse_length(cur, ctx)
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
                if times is not None:
                    times = _plus_one(times)
                return [
                    (first, "every", ONE, Said.IN_ALL, unit, side, None),
                    (every, "after", times, Said.IN_ALL if times else Said.TIMES, unit, side, None),
                ]
        elif cur.peek(-1).low in ROW_WORDS:
            first = Number(values=(int(t.value or 1),), span=t.span)
            return [(first, "every", ONE, Said.IN_ALL, unit_of(cur.peek(-1).low), None, None)]
    cur.at = here
    side = parse_side(cur)
    if side is not None and cur.peek(-1).low in ROW_WORDS:
        return [(TWO, "every", None, Said.TIMES, unit_of(cur.peek(-1).low), side, None)]
    cur.at = here
    return None


_EVERY = frozenset({"every", "each", "all"})
_SHAPINGS = (
    "decreasing", "decreasings", "decrease", "decreases", "increasing", "increasings", "increase",
    "increases",
    "narrowing", "narrowings", "widening", "widenings", "one", "time",
)  # fmt: skip


def _plain_between(cur: Cursor, ctx: Context) -> list[_Row] | None:
    """PLAIN-BETWEEN: "with" NUMBER "plain"? ROWS ("plain")? "between" ("each" DECREASE | "them")."""
    here = cur.at
    n = parse_number(cur, ctx) if cur.take("with", "working", "knitting") is not None else None
    skip(cur, "plain", "even")
    unit = cur.take(*ROW_WORDS) if n is not None else None
    skip(cur, "plain", "even")
    if n is None or unit is None or cur.take("between") is None:
        cur.at = here
        return None
    skip(cur, "each", "every", "the", "them", "all")
    cur.take(*_SHAPINGS)
    every = Number(values=tuple(None if v is None else v + 1 for v in n.values), span=n.span)
    return [(every, "next", None, Said.TIMES, unit_of(unit.low), None, None)]


def _one_unit(cur: Cursor) -> Length | None:
    """ONE-UNIT: "inch" | "cm" after "every": one of them."""
    t = cur.take("inch", "cm", "centimetre", "centimeter")
    if t is None:
        return None
    return Length(values=(Fraction(1),), unit="in" if t.low == "inch" else "cm", span=t.span, words=t.text)


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


def _following(
    cur: Cursor, ctx: Context, where: Where | None = None
) -> tuple[Number, Number | None, Unit | None, Side | None] | None:
    """("every" | "each")? ("foll" | "following")? NUMBER? ("alt" | "other" | ORDINAL | SIDE)? ROWS."""
    here = cur.at
    lead = skip(cur, "every", "each", "all", "ev")
    cur.take(".") if cur.peek(-1).low == "ev" else None
    first_times = parse_number(cur, ctx) if cur.peek(1).low in {"foll", "following"} else None
    follows = skip(cur, "foll", "following", "subsequent", "succeeding")
    cur.take(".") if cur.peek(-1).low == "foll" else None
    times = first_times or parse_number(cur, ctx)
    if times is not None and len(times.values) > 1 and cur.peek().glued and cur.peek(1).low in ROW_WORDS:
        cur.take("th", "st", "nd", "rd")  # "every 10 (9, 8)th row"
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
    if lead and times is None and cur.take("turn", "turns") is not None:
        return twice_as_many(every), None, Unit.ROW, side
    noun = cur.take(*ROW_WORDS)
    if (
        noun is None
        and lead
        and t.low in {"alt", "alternate", "other", "second"}
        and (cur.peek().low in {"", ".", ",", ";"} or cur.take("one", "time") is not None)
    ):
        # "decreasing 1 at the end of every other"
        return every, times, None, side
    if noun is None and where is not None and lead and times is None and every == ONE and side is None:
        if cur.peek().low in {"", ".", ",", ";"} or cur.take("one", "time") is not None:
            return ONE, None, None, None  # "increasing 1 at the beginning of each"
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
