"""Increases and decreases by word, with or without a method: "inc 1", "dec 6 evenly", "narrow", "widen".

In: a cursor at such a word. Out: a stitch, ``Evenly`` or ``AtEdges``.
Shaping that runs over several rows is a statement and stands elsewhere.
"""

from __future__ import annotations

from typing import Literal

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.fills import fill_to
from purlwright.pattern.read.numbers import ONE, number_of, parse_number
from purlwright.pattern.read.places import PLACE_WORDS, parse_place, take_stitch_word
from purlwright.pattern.read.working import Handler, Steps, key, take_manner, work
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import AtEdges, Evenly, Fill, Number, Work
from purlwright.text import Span

__all__ = ["WORDS", "parse_shaping"]

Where = Literal["each end", "beginning", "end", "neck edge", "armhole edge", "each side of marker", "centre"]
_UPS = frozenset("inc increase increasing incs increases widen widening incr increased".split())
_WHERE: tuple[tuple[Where, tuple[str, ...]], ...] = (
    (
        "each side of marker",
        (
            "on|at? each|either|both side|sides of the? each? marker|markers|m|centre|center|seam st|stitch",
            "before and|& after each? marker|markers|m",
            "on|at? each|either|both side|sides of the? marker|markers|m",
            "on|at? each|either|both side|sides of the? seam - stitch|st",
            "on|at? each|either|both side|sides of the? seam-stitch|seam",
        ),
    ),
    (
        "each end",
        (
            "at? the? beg|beginning|start and|& the? end",
            "at|on? each|both|either end|ends|side|sides|edge|edges",
            "in|at the? first and|& last st|stitch|sts|stitches",
        ),
    ),
    ("neck edge", ("at|on? the? neck edge|side|end", "at neck")),
    ("armhole edge", ("at|on? the? armhole edge|side|end",)),
    (
        "centre",
        (
            "at|in|on the? centre|center|middle of? the? st|stitch|row|rnd|round?",
            "at|in the? centre|center|middle",
        ),
    ),
    ("beginning", ("at|in? the? beg|beginning|start|commencement", "at|in the? first st|stitch")),
    ("end", ("at? the? end", "in|at the? last st|stitch")),
)
_OF_ROW = (
    "of|in|on this|the|next|each|every row|rnd|round|needle|rows|side",
    "of|on rs|ws row|rows|rnd",
    "of row|rnd|round|needle|rs|ws",
    "of every|each row|rnd|round|needle",
    "of this row|rnd",
    "of the? next|this row|rnd|round",
)


def parse_shaping(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Shaping := ("inc" | "dec" | "increase" ...) (number | "one" | "once")? stitches? (evenly | edges |
    into | place)?

    "inc 6 sts evenly", "dec 1 st each end", "increase in next st", "inc 1", "decreasing 8 sts evenly
    across"
    """
    del depth
    here = cur.at
    pad = cur.pad
    t = pad[here]
    up = t.low in _UPS
    cur.at += 1
    dot = pad[cur.at]
    if (
        dot.low == "."
        and dot.glued
        and (pad[cur.at + 1].kind in {"n", "o"} or pad[cur.at + 1].text[:1].islower())
    ):
        cur.at += 1
    if up and cur.any_phrase("every st|stitch", "in|into all the? sts|stitches"):
        cur.any_phrase("across", "to the? end", "around", "of the? row|rnd|round")
        return (fill_to(key("kfb"), None, cur.span_from(here)),)  # "inc every st"
    if cur.take("row", "rows", "round", "rounds", "rnd", "rnds", "every", "as") is not None:
        cur.at = here
        return None
    evenly = cur.phrase("evenly spaced|spaced?") or cur.phrase("evenly|even")
    total: Number | None = None
    count: Number | None = None
    if cur.take("to") is not None:
        total = parse_number(cur, ctx)
        if total is None:
            cur.at -= 1
    if total is None:
        count = parse_number(cur, ctx)
        if (
            count is None
            and pad[cur.at].low == "1st"
            and pad[cur.at + 1].low in {".", "in", "into", "at", "each"}
        ):
            # "1st." for "1 st."
            count = number_of(1, pad[cur.at].span)
            cur.at += 1
            cur.take(".")
        if count is None and (w := cur.take("once", "twice", "a", "another")) is not None:
            count = number_of(w.value if isinstance(w.value, int) else 1, w.span)
    cur.take("more")
    take_stitch_word(cur)
    if cur.peek().low in {"row", "rows", "rounds"}:
        cur.at = here
        return None
    wise = cur.take("purlwise", "pwise", "knitwise", "kwise")
    at = cur.at
    cur.take(",")
    if evenly or cur.any_phrase(
        "evenly spaced|space|spread|distributed?", "evenly", "even", "at even intervals"
    ):
        return _evenly(cur, ctx, here, count, total, up=up)
    cur.at = at
    if total is not None:
        cur.any_phrase("evenly", "sts|stitches")
        return _evenly(cur, ctx, here, None, total, up=up)
    if (
        up
        and count is None
        and cur.any_phrase(
            "by knitting|k in|into the? front and|& in|into? the? back",
            "in the? st|stitch by knitting|k in|into the? front and|& in|into? the? back",
        )
    ):
        # "Increase by knitting into front and back of every stitch", "... of the next st"
        every = cur.any_phrase("of|in every|each st|stitch|sts", "of|in all sts|stitches") is not None
        if not every:
            cur.any_phrase("of it") or (
                cur.any_phrase("of the? next|same|first", "of the") and take_stitch_word(cur)
            )
        span = cur.span_from(here)
        return (fill_to(key("kfb"), None, span) if every else work("kfb", ONE, span),)
    if pad[cur.at].low in {"in", "into"} and up and (found := _into(cur, ctx, here, count)) is not None:
        return found
    for where, phrases in _WHERE:
        if cur.any_phrase(*phrases):
            while cur.any_phrase(*_OF_ROW):
                pass
            take_manner(cur)
            span = cur.span_from(here)
            inside = _inside(cur, ctx)
            return (
                AtEdges(change=1 if up else -1, where=where, count=count or ONE, inside=inside, span=span),
            )
    if (
        count is not None
        and (count.values[0] or 0) > 1
        and cur.any_phrase("across|over|around|along|in the? row|rnd|round|sts|stitches?")
    ):
        cur.at -= 1
        return _evenly(cur, ctx, here, count, None, up=up)
    if pad[cur.at].low in PLACE_WORDS and pad[cur.at].low not in {"on", "in"} and count is None:
        place = parse_place(cur, ctx)
        if place is not None:
            one = work("kfb" if up else "k2tog", ONE, t.span)
            return (Fill(body=(one,), to=place, span=cur.span_from(here)),)
    take_manner(cur)
    span = cur.span_from(here)
    if t.low in {"increasing", "decreasing", "increased", "increases"} and count is None:
        cur.at = here
        return None
    if t.low in {"widen", "widening"}:
        return (work("kfb", count or ONE, span),)
    if up and wise is not None:
        return (work(f"{wise.low[0]}fb", count or ONE, span),)
    if up:
        return (Work(stitch=key("kfb"), count=count or ONE, readings=(key("kfb"), key("M1")), span=span),)
    return (Work(stitch=key("k2tog"), count=count or ONE, readings=(key("k2tog"), key("ssk")), span=span),)


def _inside(cur: Cursor, ctx: Context) -> Number | None:
    """As in "inside 2 edge sts", "one stitch in from the edge"."""
    at = cur.at
    if cur.any_phrase("inside|within the?"):
        n = parse_number(cur, ctx)
        if n is not None:
            cur.take("edge", "border", "garter", "selvedge", "selvage")
            take_stitch_word(cur)
            return n
    cur.at = at
    return None


def _evenly(
    cur: Cursor, ctx: Context, here: int, count: Number | None, total: Number | None, *, up: bool
) -> Steps:
    """As in "evenly", "evenly across", "evenly over next 40 sts", "evenly to 60 sts", "evenly 8 sts
    across", "evenly around - 60 sts".
    """
    cur.take("spaced", "space", "spread", "distributed")
    over: Number | None = None
    if count is None and total is None:
        if cur.take("to"):
            total = parse_number(cur, ctx)
        else:
            cur.take("by")
            count = parse_number(cur, ctx)
        take_stitch_word(cur)
    at = cur.at
    if cur.any_phrase("over|across the? next|rem|remaining?"):
        over = parse_number(cur, ctx)
        if over is not None:
            take_stitch_word(cur)
        else:
            cur.at = at
    if over is None:
        cur.any_phrase(
            "across|around|over|in|along|round the? next|this? row|rnd|round|sts|stitches|needle",
            "across|around|round|along",
            "to the? end",
        )
    if total is None and cur.take("to") is not None:
        total = parse_number(cur, ctx)
        if total is None:
            cur.at -= 1
        else:
            take_stitch_word(cur)
    change = None
    if count is not None:
        change = (
            count
            if up
            else Number(values=tuple(None if v is None else -v for v in count.values), span=count.span)
        )
    take_manner(cur)
    return (Evenly(change=change, total=total, over=over, span=cur.span_from(here)),)


def _into(cur: Cursor, ctx: Context, here: int, count: Number | None) -> Steps | None:
    """As in "in next st", "in each of next 3 sts", "in every st"."""
    at = cur.at
    cur.next()
    cur.take("the")
    nth = cur.any_phrase(
        "every|each alternate|alt|other|second|2nd st|stitch", "every|each third|3rd st|stitch",
        "every|each fourth|4th st|stitch",
    )  # fmt: skip
    if nth is not None:
        cur.any_phrase("to the? end", "across the? row?", "around", "all round")
        plain = 3 if "fourth" in nth else 2 if "third" in nth else 1
        span = cur.span_from(here)
        rest = work("k", number_of(plain, span), span)
        return (Fill(body=(rest, work("kfb", ONE, span)), to=fill_to("k", None, span).to, span=span),)
    if cur.any_phrase("every|each st|stitch"):
        cur.any_phrase("to the? end", "across", "around")
        return (fill_to(key("kfb"), None, cur.span_from(here)),)
    if (
        cur.any_phrase(
            "each|every of? the? next|following|foll|last|first",
            "each|both of the?",
            "next|following|foll|same|this|first|last|1st",
        )
        is None
    ):
        cur.at = at
        return None
    if cur.tokens[cur.at - 1].low == "first" and cur.take("and", "&"):
        cur.at = at
        return None
    n = parse_number(cur, ctx)
    if not take_stitch_word(cur):
        cur.at = at
        return None
    del count
    return (work("kfb", n or ONE, cur.span_from(here)),)


def parse_narrow(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Narrow := "narrow" | "take" "in" | "take" number "together": an old k2tog

    "narrow", "take 2 together", "narrow at each end"
    """
    del depth
    here = cur.at
    t = cur.next()
    if t.low == "take":
        if cur.take("in") is not None:
            n = parse_number(cur, ctx)
            return (work("k2tog", n or ONE, cur.span_from(here)),)
        n = parse_number(cur, ctx)
        if n is None or len(n.values) > 1 or n.values[0] not in range(2, 13):
            cur.at = here
            return None
        sts = take_stitch_word(cur)
        if cur.take("together", "tog") is None and (
            sts or ctx.terms != "old" or (n.values[0] or 0) > 3 or cur.peek().low not in {",", ";", ".", ""}
        ):  # "make one, take two, knit five"
            cur.at = here
            return None
        back = cur.any_phrase("at the? back", "from behind", "through the? back loops?") is not None
        take_manner(cur)
        return (work(f"k{n.values[0]}tog" + (" tbl" if back else ""), ONE, cur.span_from(here)),)
    if cur.take("off", "every", "each", "all", "as") is not None:
        cur.at = here
        return None
    at = cur.at
    cur.take("once", "one", "1")  # "narrowing once at the end"
    for where, phrases in _WHERE:
        if cur.any_phrase(*phrases):
            while cur.any_phrase(*_OF_ROW):
                pass
            return (AtEdges(change=-1, where=where, count=ONE, span=cur.span_from(here)),)
    cur.at = at
    n = parse_number(cur, ctx)
    span = Span(t.start, cur.pad[cur.at - 1].end)
    return (work("k2tog", n or ONE, span),)


def parse_n(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """N := "n" before a comma or stop, in a row that also says "o" or "over": narrow

    "k 2, o, n, k 1"
    """
    del depth
    here = cur.at
    if ctx.terms != "old" and not any(t.low in {"o", "over"} for t in cur.tokens):
        return None
    if cur.pad[here + 1].low not in {",", ".", ";", "", ")", "]", "*"} and cur.pad[here + 1].kind != "n":
        return None
    cur.at += 1
    cur.take("1")
    return (work("k2tog", ONE, cur.span_from(here)),)


def parse_raise(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Raise := "raise" (number | "a" "stitch"): lift the strand and knit it

    "raise 1", "raise a stitch"
    """
    del depth
    here = cur.at
    cur.next()
    n = parse_number(cur, ctx)
    if n is None and cur.take("a", "one") is None:
        cur.at = here
        return None
    take_stitch_word(cur)
    return (work("M1", n or ONE, cur.span_from(here)),)


_SHAPE = (parse_shaping,)
WORDS: dict[str, tuple[Handler, ...]] = {
    **dict.fromkeys(
        (*_UPS, "dec", "decrease", "decreasing", "decs", "decreases", "decr", "decreased"), _SHAPE
    ),
    "narrow": (parse_narrow,),
    "n": (parse_n,),
    "take": (parse_narrow,),
    "raise": (parse_raise,),
    "narrowing": (parse_narrow,),
}
