"""Rows by the number: "Knit 6 rows", "Work 10 rnds in k2, p2 rib",
"Cont in garter st until piece measures 9 cm".

In: a cursor at the start of a sentence. Out: :class:`WorkRows`. What one row holds is read by ``steps``;
when to stop, by ``until``; rows worked before and worked again, by ``again``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.amounts import (
    ROW_WORDS,
    TWO_ROWS,
    amount,
    is_unit,
    one,
    parse_side,
    parse_times,
    skip,
    twice_as_many,
    unit_of,
)
from purlwright.pattern.read.direction import take_over
from purlwright.pattern.read.gloss import explained
from purlwright.pattern.read.inwhat import in_what, said_even, whole_row
from purlwright.pattern.read.numbers import parse_length, parse_number
from purlwright.pattern.read.prose import aside_end
from purlwright.pattern.read.references import parse_reference
from purlwright.pattern.read.until import as_another, or_else, parse_ending, parse_until
from purlwright.pattern.read.working import COLOURS, parse_colour
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import InGround, InPattern, Resume, Side, Stated, Until, WorkRows, Yarn

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tree import Length, Statement, Step

__all__ = ["parse_work_rows"]


_KNIT = frozenset({"knit", "k"})


_PURL = frozenset({"purl", "p", "pearl", "seam"})


_WORK = frozenset(
    {"work", "do", "make", "cont", "continue", "rib", "knit", "k", "purl", "p", "pearl", "seam"}
)


def parse_work_rows(cur: Cursor, ctx: Context) -> tuple[Statement | Stated, ...] | None:
    """VERB NUMBER "plain"? ROWS IN-WHAT? (("," | "and") VERB NUMBER ROWS "alternately" UNTIL)?."""
    here = cur.at
    led = cur.any_phrase("end|ending|finish|finishing|begin|beginning with", "end off with") is not None
    if _rows_again_ahead(cur):
        return None
    pair = _pair(cur, ctx, here)
    if pair is not None:
        return pair
    short = _short_ground_rows(cur, ctx, here)
    if short is not None:
        return (short,)
    first = _rows_of(cur, ctx, led=led)
    if first is None:
        cur.at = here
        return None
    side = _facing(cur)
    if side is not None:
        first = replace(first, side=side)
    explained(cur)
    on_these = _on_these(cur, ctx)
    if isinstance(on_these, Resume):
        return (on_these, replace(first, span=first.span.cover(cur.span_from(here))))
    if on_these is not None:
        return (replace(first, span=first.span.cover(cur.span_from(here))), on_these)
    in_turn = _alternating(cur, ctx, first, here)
    if in_turn is not None:
        return (in_turn,)
    u = parse_until(cur, ctx) if first.until is None else None
    if u is not None:
        first = replace(first, until=u)
    else:
        if first.until is None:
            or_else(cur, ctx)
        ending = parse_ending(cur)
        if ending is not None:
            old = first.until or Until()
            first = replace(
                first,
                until=replace(
                    old,
                    side=ending.side,
                    worked=ending.worked,
                    ending_row=ending.ending_row,
                    edge=ending.edge,
                ),
            )
    return (replace(first, span=cur.span_from(here)), *_more_rows(cur, ctx, first))


def _short_ground_rows(cur: Cursor, ctx: Context, here: int) -> WorkRows | None:
    """SHORT: ("ss" | "gs") NUMBER ROWS: "Ss 4 rows", stocking stitch in UK toy patterns."""
    ground = {"ss": "stockinette", "gs": "garter"}.get(cur.peek().low)
    if ground is None:
        return None
    cur.at += 1
    n = amount(cur, ctx)
    if n is None or cur.take(*ROW_WORDS) is None:
        cur.at = here
        return None
    unit = unit_of(cur.peek(-1).low)
    span = cur.span_from(here)
    return WorkRows(body=(InGround(ground=ground, span=span),), rows=n, unit=unit, span=span)


def _rows_again_ahead(cur: Cursor) -> bool:
    """Whether rows worked already are worked again: "work these 2 rows 10 times in all"."""
    if cur.peek().low != "work" or cur.peek(1).low not in {"these", "those", "last", "the"}:
        return False
    n = 2 + (cur.peek(2).low in {"last", "previous", "above"})
    if cur.peek(1).low == "the" and n == 2:
        return False
    n += cur.peek(n).value is not None
    return is_unit(cur.peek(n).low) and (
        cur.peek(n + 1).kind == "n"
        or cur.peek(n + 1).value is not None
        or cur.peek(n + 1).low in {"once", "twice"}
        or (cur.peek(n + 1).low == "a" and cur.peek(n + 2).low in {"total", "further"})
    )


def _on_these(cur: Cursor, ctx: Context) -> Stated | Resume | None:
    """("on" | "over" | "across") "these" NUMBER "sts" at the end: which stitches, and how many they are."""
    here = cur.at
    over, part = take_over(cur, ctx)
    pointed = any(t.low in {"these", "those", "only"} for t in cur.tokens[here : cur.at])
    if part and pointed and cur.peek().low in {"", ".", ";"}:
        return Resume(over=over, part=part, span=cur.span_from(here))
    cur.at = here
    if cur.any_phrase("on|over|across these|those|the|all remaining|rem?") is None:
        return None
    n = parse_number(cur, ctx)
    stitches = cur.take("st", "sts", "stitches") if n is not None else None
    cur.take("only")
    if stitches is None or cur.peek().low not in {"", ".", ";"}:
        cur.at = here
        return None
    return Stated(total=n, span=cur.span_from(here))


def _facing(cur: Cursor) -> Side | None:
    """(("on" | "from") | "the first" ("of them" | "one" | "row")?) SIDE: on which side the first row is.

    "P 1 row on WS", "work 6 rows in garter stitch, the first of them on the right side"
    """
    here = cur.at
    skip(cur, ",")
    first = cur.any_phrase("the first|1st of? them|these|one|row|rnd? is|being|falls?")
    if first is not None or cur.take("on", "from") is not None:
        side = parse_side(cur)
        if side is not None:
            return side
    cur.at = here
    return None


def _more_rows(cur: Cursor, ctx: Context, first: WorkRows) -> tuple[WorkRows, ...]:
    """(("," | "and") NUMBER ROWS YARN)*, the verb left out: "K 2 rows A, 2 rows B"."""
    out: list[WorkRows] = []
    twice = cur.peek(-1).low in {"turn", "turns"} or any(t.low == "turns" for t in cur.tokens[: cur.at])
    while True:
        here = cur.at
        if not skip(cur, ",", ";", "and", "then"):
            break
        start = cur.at
        n = amount(cur, ctx)
        unit = cur.take(*ROW_WORDS) if n is not None else None
        told = cur.take("plain", "purl", "purled", "pearl", "pearled") if unit is not None else None
        if n is not None and unit is not None and told is not None:
            row = whole_row("k" if told.low == "plain" else "p")
            out.append(WorkRows(body=(row,), rows=n, unit=unit_of(unit.low), span=cur.span_from(start)))
            continue
        more = in_what(cur, ctx) if unit is not None else _in_colour(cur, ctx) if n is not None else None
        if n is None or (unit is None and not more) or not more or not all(isinstance(a, Yarn) for a in more):
            cur.at = here
            break
        base = tuple(a for a in first.body if not isinstance(a, Yarn))
        rows = twice_as_many(n) if unit is None and twice else n  # "one turn in brown; two in white"
        said = first.unit if unit is None else unit_of(unit.low)
        out.append(WorkRows(body=(*more, *base), rows=rows, unit=said, span=cur.span_from(start)))
    return tuple(out)


def _in_colour(cur: Cursor, ctx: Context) -> tuple[Step, ...] | None:
    """IN-COLOUR: ("in" | "of" | "with") YARN, the word for rows left out: "two in white", "4 of brown"."""
    here = cur.at
    colour = parse_colour(cur, ctx) if cur.peek().low in {"in", "of", "with"} else None
    return None if colour is None else (Yarn(act="use", colour=colour, span=cur.span_from(here)),)


def _pair(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """VERB? NUMBER "plain" "and" NUMBER "purl" "row": "1 plain and 1 pearl row", one after the other."""
    start = cur.at
    skip(cur, "knit", "work", "do")
    out: list[Statement] = []
    while True:
        at = cur.at
        n = amount(cur, ctx)
        kind = cur.take("plain", "purl", "pearl", "purled", "knit")
        if n is None or kind is None:
            break
        body = (whole_row("k" if kind.low in {"plain", "knit"} else "p"),)
        out.append(WorkRows(body=body, rows=n, span=cur.span_from(at)))
        if cur.take("and", ",", "&") is None:
            break
    if len(out) > 1 and cur.take(*ROW_WORDS) is not None:
        unit = unit_of(cur.peek(-1).low)
        return tuple(replace(o, unit=unit, span=cur.span_from(here)) for o in out)
    cur.at = start
    return None


def take_ridges(cur: Cursor) -> None:
    """RIDGES: "(24 ridges)", "(= 6 cm)": what so many rows make."""
    here = cur.at
    end = aside_end(cur)
    inside = {t.low for t in cur.tokens[here + 1 : end - 1]} if 0 < end <= here + 8 else set()
    if inside & {"ridges", "ridge", "cm", "inches", "in", '"', "ribs"} and cur.pad[end].low in {
        "in",
        "of",
        "until",
        "even",
    }:
        cur.at = end


_ADJECTIVES = frozenset(
    "more further plain open straight purl pearl knit st garter k p purled knitted"
    " even rib single complete additional quite".split()
)


def _rows_of(cur: Cursor, ctx: Context, *, led: bool = False) -> WorkRows | None:
    """VERB? NUMBER ADJECTIVE* ROWS IN-WHAT?: "Knit 6 rows", "P1 rnd", "4 plain rows", "Work 3 more rows
    even".
    """
    here = cur.at
    verb = cur.peek().low if cur.peek().low in _WORK else ""
    if verb:
        cur.at += 1
        cur.take(".") if verb in {"k", "p"} and cur.peek().glued and is_unit(cur.peek(2).low) else None
    skip(cur, "another", "the", "next", "these")
    n = amount(cur, ctx)
    if n is None and verb and cur.peek(-1).low in {"next", "another"} and cur.peek().low in ROW_WORDS:
        n = one(cur, cur.at - 1)
    if n is None:
        return _length_of(cur, ctx, verb, here)
    adjectives = set()
    while cur.peek().low in _ADJECTIVES:
        adjectives.add(cur.next().low)
    side = (
        Side(cur.next().low.upper())
        if cur.peek().low in {"rs", "ws"} and cur.peek(1).low in ROW_WORDS
        else None
    )
    t = cur.peek()
    turn = t.low == "turn" and n.values == (1,) and ctx.terms == "old" and bool(verb)
    if (not is_unit(t.low) and not turn) or t.low in {"needles", "pins", "needle", "pin"}:
        cur.at = here + bool(verb)
        return _length_of(cur, ctx, verb, here)
    told = cur.peek(1).low if cur.peek(1).low in {"purled", "pearled", "seamed", "plain", "knitted"} else ""
    coloured = cur.peek(1).low in {"of", "in", "with"} and _names_yarn(cur, ctx)
    if not verb and not told and not led and side is None and not coloured and not adjectives - {"more"}:
        cur.at = here
        return None
    if cur.peek(1).low in {"-", "of"} and cur.peek(2).low in {"pattern", "each", "every"}:
        cur.at = here
        return None
    cur.at += 1
    other = as_another(cur) if verb in {"work", "cont", "continue", "knit", "k"} else None
    if other is not None:
        return WorkRows(body=(InPattern(),), until=Until(length=other), span=cur.span_from(here))
    skip(cur, "more", "further")
    take_ridges(cur)
    unit = unit_of(t.low)
    if verb and not told and cur.peek().low in {"like", "as"}:
        row = parse_reference(cur, ctx)  # "Knit 20 rounds like the first"
        if row is not None:
            return WorkRows(body=row, rows=n, unit=unit, side=side, span=cur.span_from(here))
    body: tuple[Step, ...] = ()
    if told in {"purled", "pearled", "seamed"}:
        cur.at += 1
        body = (whole_row("p"),)
    elif verb in _PURL or adjectives & {"purl", "pearl", "purled"}:
        body = (whole_row("p"),)
    elif verb in _KNIT or told or adjectives & {"plain", "knit", "knitted", "garter"}:
        body = (whole_row("k"),)
    rows = n
    if t.low in TWO_ROWS or turn:
        rows = twice_as_many(n)
        body = (whole_row("k"),) if t.low not in {"turn", "turns"} else body
    at = cur.at
    more = in_what(cur, ctx)
    if (
        more == ()
        and verb in _KNIT
        and {"pattern", "patt"}.intersection(t.low for t in cur.tokens[at : cur.at])
    ):
        body = (InPattern(how=said_even(cur, here)),)  # "knit 48 rows in pattern"
    if more is not None:
        only_yarn = more and all(isinstance(a, Yarn) for a in more)
        body = (*more, *body) if only_yarn else more or body
    if all(isinstance(a, Yarn) for a in body):  # "work 2 rows with B": as they were, in that yarn
        body = (*body, InPattern(how=said_even(cur, here)))
    return WorkRows(body=body, rows=rows, unit=unit, side=side, span=cur.span_from(here))


def _names_yarn(cur: Cursor, ctx: Context) -> bool:
    """Whether a yarn is named after "rows of": "4 rows of cream", "2 rows with A"."""
    t = cur.peek(2)
    return t.low in COLOURS or t.low in ctx.yarns or (len(t.text) == 1 and t.text in "ABCDEF")


def _length_of(cur: Cursor, ctx: Context, verb: str, here: int) -> WorkRows | None:
    """VERB LENGTH IN-WHAT?: "Work 3 ins even in pattern", "Rib 5 cm", "knit 2 inches"."""
    skip(cur, "another", "about", "a", "further")
    length = (_more_inches(cur, ctx) or parse_length(cur, ctx)) if verb and len(verb) > 1 else None
    if (
        length is not None
        and cur.peek(-1).low == "in"
        and cur.peek().low in {"the", "a", "next", "each", "same", "last"}
    ):
        length = None
    if length is None or (not length.values and verb not in {"work", "rib"}):
        cur.at = here
        return None
    cur.any_phrase("more", "further")
    at = cur.at
    cur.take(",")
    body = in_what(cur, ctx)
    if body is None:
        cur.at = at
    if not body or all(isinstance(a, Yarn) for a in body):
        base: Step = InPattern(how=said_even(cur, here))
        if verb in _KNIT | _PURL:
            base = whole_row("k" if verb in _KNIT else "p")
        body = (*(body or ()), base)
    return WorkRows(body=body, until=Until(length=length), span=cur.span_from(here))


def _more_inches(cur: Cursor, ctx: Context) -> Length | None:
    """MORE-INCHES: NUMBER ("more" | "further") UNIT: "knit 5 more inches"."""
    at = cur.at
    number = cur.peek()
    if number.value is None or cur.peek(1).low not in {"more", "further", "additional"}:
        return None
    inner = Cursor([number, *cur.tokens[at + 2 :]])
    length = parse_length(inner, ctx)
    if length is not None and length.values:
        cur.at = at + 1 + inner.at
        return length
    return None


def _alternating(cur: Cursor, ctx: Context, first: WorkRows, start: int) -> WorkRows | None:
    """ROWS (("," | "and") ROWS)+ ","? "alternately"? UNTIL?: "knit 1 row, purl 1 row alternately for 6
    rows".
    """
    here = cur.at
    turns = [first]
    while True:
        at = cur.at
        skip(cur, ",", "and", "then")
        nxt = _rows_of(cur, ctx)
        if nxt is None:
            cur.at = at
            break
        turns.append(nxt)
    if len(turns) == 1:
        cur.at = here
        return None
    skip(cur, ",")
    said = cur.take("alternately", "alternate", "alternating") is not None
    u = parse_until(cur, ctx)
    often = parse_times(cur, ctx) if u is None else None
    if not said and u is None and often is None:
        cur.at = here
        return None
    alternate = tuple(t.body for t in turns for _ in range(min(t.rows.at(0) or 1, 50) if t.rows else 1))
    rows = u.rows if u is not None else None
    if often is not None:
        times = often[0]
        rows = replace(times, values=tuple(None if v is None else v * len(alternate) for v in times.values))
        u = None
    if u is not None and rows is not None:
        u = None
    return WorkRows(alternate=alternate, rows=rows, until=u, unit=first.unit, span=cur.span_from(start))
