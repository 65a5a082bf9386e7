"""Counted stitches: knit and purl in every spelling, together, through the back, below, and all named ones.

In: a cursor at "k4", "knit 4", "seam 4", "k2tog", "4 plain", "bead 2" ... Out: steps.
Slips, yarn overs, increases and crossings stand with their own readers.
"""

from __future__ import annotations

import re

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.fills import fill_to, parse_after_head
from purlwright.pattern.read.moves import take_from_holder
from purlwright.pattern.read.numbers import ONE, number_of, parse_number
from purlwright.pattern.read.places import PLACE_WORDS, STITCH_WORDS, parse_place, take_stitch_word
from purlwright.pattern.read.prose import aside_end
from purlwright.pattern.read.working import (
    Handler,
    Steps,
    into_tail,
    is_counted,
    key,
    parse_colour,
    readings_of,
    take_manner,
    take_through_back,
    take_wraps,
    work,
)
from purlwright.pattern.tokens import Cursor, Token
from purlwright.pattern.tree import Fill, InPattern, Into, Number, Place, PlaceKind, Work
from purlwright.text import Span

__all__ = ["HEADS", "WORDS", "finish_counted", "parse_counted", "parse_named", "parse_own"]

HEADS = {
    "k": "k",
    "knit": "k",
    "knits": "k",
    "knitt": "k",
    "kn": "k",
    "knitting": "k",
    "p": "p",
    "purl": "p",
    "purls": "p",
    "pearl": "p",
    "seam": "p",
    "purling": "p",
    "back-stitch": "p",
    "k1": "k",
    "p1": "p",
    "ribb": "k",
}
_WRAP_HEADS = frozenset({"wrapping", "putting", "winding", "throwing"})
_GLUED = frozenset({*HEADS, "x", "sl", "yo", "to", "and", "rep", "turn", "w"})
_FAR = frozenset({"to", "across", "around", "until", "all"})
_DONE = frozenset({",", ";", ")", "]", "*", "", "(", "[", "}", "**", "|"})
_BESIDE = frozenset("plain edge border garter selvedge selvage more extra".split())
_STANDING = frozenset("centre center middle seam corner spine marked".split())
_ROWS = frozenset("row rows rnd rnds round rounds needle needles inch inches in. cm ins".split())
_NOUN_LED = frozenset(
    "a an the next each every all one this these those that first last remaining rem both centre "
    "center second "
    "other two three four five same slipped marked 1st 2nd 3rd 4th long short".split()
)


_PLACES = frozenset({"to", "across", "till", "until", "all"})


def parse_counted(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Counted := ("k" | "knit" | "p" | "purl" | "seam" ...) "."? number stitches? tail*

    "k4", "K. 4", "knit four", "purl 4 sts", "seam 2", "k the next 4"
    """
    pad = cur.pad
    here = cur.at
    head = pad[here]
    base = HEADS[head.low]
    if head.low in {"k1", "p1"}:  # the dictionary knows these as one word
        cur.at = here + 1
        one = Number(values=(1,), span=Span(head.start + 1, head.end))
        nxt = pad[cur.at]
        if (nxt.low in _DONE or nxt.low == ".") and pad[cur.at + 1].low not in _WRAP_HEADS:
            if nxt.low not in {"(", "["} or not nxt.glued:
                return (Work(stitch=base, count=one, span=Span(head.start, head.end)),)
            # "k1[2]": one, or two in the second size
            cur.at = here
            return _first_of_list(cur, ctx, head, base)
        return finish_counted(cur, ctx, here, base, one)
    nxt = pad[here + 1]
    at = here + 1
    if (
        nxt.kind == "p"
        and nxt.low in {".", "-"}
        and pad[here + 2].kind == "n"
        and (nxt.glued and len(head.low) < 3)
    ):
        if nxt.low == "-" or not _states(cur, here + 2):
            at = here + 2
            nxt = pad[at]
    if nxt.kind == "n":
        cur.at = at
        count = parse_number(cur, ctx)
        if count is None:
            cur.at = here
            return None
        if pad[cur.at].low in _DONE and pad[cur.at + 1].low not in _WRAP_HEADS:
            return (Work(stitch=base, count=count, span=Span(head.start, pad[cur.at - 1].end)),)
        return finish_counted(cur, ctx, here, base, count)
    cur.at = here + 1
    after = pad[here + 2]
    if nxt.low == "." and nxt.glued and len(head.low) == 1 and after.low in _PLACES and after.text.islower():
        cur.at, nxt = here + 2, after  # "k. to end"
    if nxt.kind == "w" and nxt.value is not None and nxt.low not in {"twice", "once", "thrice"}:
        count = parse_number(cur, ctx)
        if count is not None:
            return finish_counted(cur, ctx, here, base, count)
    if nxt.low in {"{", "[", "("} or (nxt.low == "-" and (nxt.glued or after.low in {"[", "("})):
        count = parse_number(cur, ctx)
        if count is not None:
            return finish_counted(cur, ctx, here, base, count)
    if nxt.low in _NOUN_LED or nxt.low in STITCH_WORDS or nxt.kind == "o":
        found = _noun(cur, ctx, here, base, depth)
        if found is not None:
            return found
        cur.at = here + 1
    if nxt.low in {"tbl", "through", "into", "in", "twice", "below", "wrapping"}:
        found = _no_number(cur, ctx, here, base)
        if found is not None:
            return found
        cur.at = here + 1
    if nxt.low in {"tog", "together"}:
        return None
    return parse_after_head(cur, ctx, here, base, depth)


def _first_of_list(cur: Cursor, ctx: Context, head: Token, base: str) -> Steps | None:
    """As in "k1[2]", "p1 (2, 3)": the 1 of the abbreviation is the first of a list of sizes."""
    here = cur.at
    number = head._replace(kind="n", low="1", text="1", start=head.start + 1, value=1, key="")
    inner = Cursor([number, *cur.tokens[here + 1 :]])
    count = parse_number(inner, ctx)
    cur.at = here + inner.at
    if count is None or len(count.values) == 1:
        cur.at = here + 1
        return (Work(stitch=base, count=Number(values=(1,), span=number.span), span=head.span),)
    if cur.pad[cur.at].low in _DONE:
        return (Work(stitch=base, count=count, span=Span(head.start, cur.pad[cur.at - 1].end)),)
    return finish_counted(cur, ctx, here, base, count)


def _states(cur: Cursor, at: int) -> bool:
    """True when "K. 24 sts." prints a total: the number and its word end the line."""
    pad = cur.pad
    i = at + 1
    while pad[i].low in {"(", "[", ",", ")", "]"} or pad[i].kind == "n":
        i += 1
    if pad[i].low not in STITCH_WORDS:
        return False
    i += 1
    while pad[i].low in {".", "rem", "remain", "remaining", ")"}:
        i += 1
    return not pad[i].kind


def finish_counted(cur: Cursor, ctx: Context, here: int, base: str, count: Number) -> Steps | None:
    """Tail := "together" tbl? | tbl | "below" | wraps | "into front and back" | "into next st" | colour |
    place

    "knit 2 together", "knit 1 from behind", "k1 below", "k1 wrapping yarn twice", "k3 in MC", "k1 to the
    end"
    """
    pad = cur.pad
    start = pad[here].start
    which = pad[cur.at].low
    if (
        which in {"first", "next", "last"} and pad[cur.at + 1].low in STITCH_WORDS
    ):  # "knit the 3 first stitches"
        cur.at += 1
    if which in _BESIDE or (which in _STANDING and pad[cur.at + 1].low in STITCH_WORDS):  # "k1 centre st"
        cur.at += 1
    sts = take_stitch_word(cur)
    t = pad[cur.at]
    low = t.low
    if low in _ROWS and not sts:
        return None
    if low == "." and pad[cur.at + 1].low in {"tog", "together"}:  # "K. 2. tog", a stray stop
        cur.at += 1
        low = pad[cur.at].low
    if low == "of" and cur.phrase("of? the? next") and take_stitch_word(cur):
        low = pad[cur.at].low
    if low in {"tog", "together", "to", "into", "as", "at"} and _together(cur, low):
        return _decrease(cur, ctx, here, base, count)
    if low in {"tbl", "t", "through", "thro", "from", "at", "in", "into"}:
        if low in {"in", "into"}:
            found = _into_front_and_back(cur, ctx, here, base, count)
            if found is not None:
                return found
        if take_through_back(cur):
            if cur.take("tog", "together"):
                return _decrease(cur, ctx, here, base, count, back=True)
            cur.any_phrase("of next|the stitch|st|sts", "of? the? next st|stitch")
            _of_as_many(cur, ctx, count)
            return (work(f"{base}1tbl", count, cur.span_from(here)),)
        if (n := into_tail(cur, ctx)) is not None:
            return _into(cur, here, base, count, n)
    if low in {"below", "in", "into", "b"} and cur.any_phrase(
        "below",
        "in|into the? next? row|st|stitch below",
        "in|into the? next? st|stitch|loop of|in the? row below",
        "b below",
        "in|into the? stitch|st of? the? previous row",
    ):
        return (work(f"{base}1below", count, cur.span_from(here)),)
    wraps = take_wraps(cur)
    if wraps:
        return (work(f"{base}1w{wraps}", count, cur.span_from(here)),)
    if sts and pad[cur.at].low == "from" and (held := take_from_holder(cur, count, "")) is not None:
        return (held, Work(stitch=base, count=count, span=cur.span_from(here)))
    if cur.any_phrase("left|remaining on the? needle|pin|front") or (
        sts and cur.any_phrase("on the? left? needle", "on your needle") is not None
    ):
        return (Work(stitch=base, count=count, span=cur.span_from(here)),)
    take_manner(cur)
    if cur.pad[cur.at].low in PLACE_WORDS:
        place = parse_place(cur, ctx)
        if place is not None:
            body = (Work(stitch=base, count=count, span=Span(start, count.span.end)),)
            return (Fill(body=body, to=place, span=cur.span_from(here)),)
    if cur.any_phrase("in pattern|patt|pat", "as set|established|est"):
        return (InPattern(count=count, span=cur.span_from(here)),)
    colour = parse_colour(cur, ctx)
    t = cur.pad[cur.at]
    if (
        t.glued
        and t.kind == "w"
        and colour is None
        and t.low not in _GLUED
        and cur.pad[cur.at - 1].kind == "n"
    ):
        return None  # "k2tgo" is not "k2" and something more
    take_manner(cur)
    cur.any_phrase("stitches|sts plain?", "plain")
    return (Work(stitch=base, count=count, colour=colour, span=cur.span_from(here)),)


def _of_as_many(cur: Cursor, ctx: Context, count: Number) -> None:
    """OF-AS-MANY: "of the next 3 sts", after "k3 in the back": as many as are worked."""
    at = cur.at
    if cur.any_phrase("of each|all? of? the? next|following?"):
        n = parse_number(cur, ctx)
        if n is not None and n.values == count.values and take_stitch_word(cur):
            return
    cur.at = at


def _together(cur: Cursor, low: str) -> bool:
    if low in {"tog", "together"}:
        cur.at += 1
        dot = cur.pad[cur.at]
        if dot.low == "." and dot.glued and low == "tog":
            after = cur.pad[cur.at + 1]
            if after.low in {",", ";", ")", "("} or (after.kind in {"w", "s"} and after.text[0].islower()):
                cur.at += 1
        return True
    return (
        cur.any_phrase("to gether", "as 1|one", "into 1|one", "as one stitch", "at once", "at a time")
        is not None
    )


_BY_THE_BACK = (
    ",? taking|taken the? back|backs part|loop|loops? of the? two|2? stitches|loops|sts",
    ",? taken|taking at the? back", ",? taking the? back|backs",
)  # fmt: skip
"""BY-THE-BACK: "knit 2 together, taking the back of the stitches"."""


def _decrease(
    cur: Cursor, ctx: Context, here: int, base: str, count: Number, *, back: bool = False
) -> Steps | None:
    n = count.values[0]
    if n is None or not 2 <= n <= 12:
        return None
    back = take_through_back(cur) or back
    if not back and cur.pad[cur.at].low == "," and cur.pad[cur.at + 1].low in {"tbl", "through"}:
        cur.at += 1
        back = take_through_back(cur)
    back = back or cur.any_phrase(*_BY_THE_BACK) is not None
    take_manner(cur)
    name = f"{base}{n}tog" + (" tbl" if back else "")
    step = work(name, ONE, cur.span_from(here))
    if cur.pad[cur.at].low in _FAR:
        place = parse_place(cur, ctx)
        if place is not None:
            return (Fill(body=(step,), to=place, span=cur.span_from(here)),)
    return (step,)


def _into_front_and_back(
    cur: Cursor, ctx: Context, here: int, base: str, count: Number | None
) -> Steps | None:
    """As in "knit 1 into front and back of next st", "k into fb", "in front, back and front"."""
    at = cur.at
    if cur.any_phrase("in|into the? front|back , back|front , front?", "in|into the? front , back and front"):
        cur.any_phrase("and front", ", front")
        kind = "fbf"
    elif cur.any_phrase(
        "in|into the? front|back loop?|leg? and|& then? in|into? the? back|front loop?|leg?",
        "in|into fb",
        "in|into front|back and|& into? the? back|front",
        "in|into f & b",
    ):
        kind = "fb"
        if cur.any_phrase("and|& front", "then front"):
            kind = "fbf"
    else:
        cur.at = at
        return None
    cur.take("loop", "loops", "legs")
    cur.phrase("( kfb|k1fb|kfbf|pfb )")  # what it is called for short
    if (fill := _every(cur, ctx, here, f"{base}{kind}")) is not None:
        return fill
    cur.take("of")
    at = cur.at
    if count is None and cur.any_phrase("in|into each|both? of? the? next|first|last|foll|following"):
        each = parse_number(cur, ctx)
        if take_stitch_word(cur):  # "(kfb) in each of next 2 stitches"
            return (work(f"{base}{kind}", each or ONE, cur.span_from(here)),)
    cur.at = at
    if count is None and cur.any_phrase("the? next|first|last|following") and (n := parse_number(cur, ctx)):
        if take_stitch_word(cur):  # "k into f & b of first 3 sts"
            return (work(f"{base}{kind}", n, cur.span_from(here)),)
    cur.at = at
    cur.any_phrase(
        "of? the? next|same|following|last|first|each|every st|stitch|sts",
        "of? the? st|stitch|sts",
        "of? next",
    )
    cur.any_phrase("to increase|inc")
    return (work(f"{base}{kind}", count or ONE, cur.span_from(here)),)


def _into(cur: Cursor, here: int, base: str, count: Number, tail: tuple[Number, int]) -> Steps:
    """As in "k1 in next st" is one knit; "knit 2 in the next stitch" makes two of it."""
    times, over = tail
    n = count.values[0]
    span = cur.span_from(here)
    if len(count.values) == 1 and n == 1 and over == 1:
        return (Work(stitch=base, count=times, span=span),)
    each = Work(stitch=base, count=count, span=span)
    return (Into(steps=(each,), count=times, over=over, span=span),)


_SEVERAL = frozenset({"sts", "stitches", "loops"})


def _noun(cur: Cursor, ctx: Context, here: int, base: str, depth: int) -> Steps | None:
    """Noun := article? ("next" | "first" | "last" | ordinal) number? stitches ("together" | "to end" ...)?

    "knit a stitch", "k the next 4", "purl the last 2 sts together", "k centre st", "knit every st", "k all
    sts"
    """
    pad = cur.pad
    t = pad[cur.at]
    if t.low in {"all", "every", "each"} or (t.low == "the" and pad[cur.at + 1].low in {"rest", "remainder"}):
        return None
    if t.low == "the" and pad[cur.at + 1].low in {
        "knits",
        "purls",
        "knit",
        "purl",
        "k",
        "p",
        "wrap",
        "wraps",
        "double",
    }:
        return None
    article = cur.take("a", "an", "the", "this", "these", "that", "those", "both")
    if article is not None and article.low == "both":
        take_stitch_word(cur)
        if cur.take("together", "tog"):
            return _decrease(cur, ctx, here, base, number_of(2, article.span))
        cur.at = here + 1
        return None
    if article is not None and cur.any_phrase("held|live|resting sts|stitches"):
        if cur.peek().low in {"", ".", ",", ";", "(", "and", "then"}:
            return (fill_to(base, None, cur.span_from(here)),)
        cur.at = here
        return None
    if article is not None and article.low in {"the", "these", "those"}:
        after = cur.at
        if cur.any_phrase("new? sts|stitches") and cur.peek().low in {"", ".", ",", ";", "(", "and", "then"}:
            return (fill_to(base, None, cur.span_from(here)),)  # "knit these sts": all of them
        cur.at = after
    cur.take("off")
    cur.take("same", "other", "final")
    which = cur.peek()
    if which.kind == "o" or which.low in {
        "next",
        "last",
        "centre",
        "center",
        "remaining",
        "rem",
        "plain",
        "slipped",
        "marked",
        "middle",
        "long",
        "short",
        "seam",
        "one",
        "edge",
        "foll",
        "following",
    }:
        cur.next()
        if which.low in {"remaining", "rem"} and cur.peek().low in STITCH_WORDS:
            take_stitch_word(cur)
            place = parse_place(cur, ctx)
            return (fill_to(base, place, cur.span_from(here)),)
    cur.take("one", "of") if cur.peek(1).low in STITCH_WORDS else None
    if cur.peek().low in {"row", "rnd", "round", "rows", "rounds", "rnds", "needle"}:
        return None
    n = parse_number(cur, ctx)
    cur.take("remaining", "rem", "slipped", "plain", "edge", "slip", "border", "marked", "same")
    sts = take_stitch_word(cur)
    if n is None and sts and which.kind != "o" and which.low != "one" and pad[cur.at - 1].low in _SEVERAL:
        return None  # "knit the sleeve sts" is not one stitch
    if (
        n is None
        and not sts
        and which.kind == "o"
        and (half := _half(cur, here, base, which.low)) is not None
    ):
        return half
    if not sts and which.kind == "o" and cur.any_phrase("thread|part|half|loop"):
        cur.any_phrase("of this|the|next|same stitch|st|loop")
    if n is None and not sts and which.kind != "o" and which.low not in {"next", "last"}:
        return None
    if (
        n is None
        and not sts
        and which.kind == "o"
        and cur.peek().kind == "w"
        and cur.peek().low not in _HANGS
    ):
        return _half(cur, here, base, which.low)
    if which.low == "one":
        n = number_of(1, which.span)
    cur.any_phrase("from the? left hand? -? needle", "of the? row|round|needle", "from? each needle")
    if n is None:
        n = number_of(1, which.span if which.kind else pad[here].span)
    del depth
    if cur.peek().low == "and" and cur.peek(1).kind == "o":  # "knit the first and second together"
        at = cur.at
        cur.at += 2
        take_stitch_word(cur)
        if cur.take("together", "tog"):
            return _decrease(cur, ctx, here, base, number_of(2, which.span))
        cur.at = at
    return finish_counted(cur, ctx, here, base, n)


_HANGS = frozenset(
    "and then into in through from together tog with as on by again to of but before after without over"
    " leaving which at so when twice plain".split()
)
_HANGS_HALF = _HANGS - {"of"}


def _half(cur: Cursor, here: int, base: str, which: str) -> Steps | None:
    """Half := ("first" | "second") "half" ("of the stitches")?: "knit the first half, turn"."""
    at = cur.at
    if which not in {"first", "second"} or cur.take("half") is None:
        return None
    cur.any_phrase("of the? sts|stitches", "of the? row|round|rnd|needle", "sts|stitches")
    if cur.peek().kind == "w" and cur.peek().low not in _HANGS_HALF:
        cur.at = at
        return None
    span = cur.span_from(here)
    kind = PlaceKind.HALF if which == "first" else PlaceKind.END
    return (fill_to(base, Place(kind=kind, span=span), span),)


def _every(cur: Cursor, ctx: Context, here: int, name: str) -> Steps | None:
    """As in "into the back of every stitch", "into front and back of each st across", "... to last 4 sts"."""
    if cur.any_phrase("of|in|into? every|each st|stitch|sts", "of|in? all sts|stitches"):
        whole = cur.any_phrase(
            "across|around", "to the? end", "of|in the? row|rnd|round", "to end of row|rnd|round"
        )
        place = parse_place(cur, ctx) if whole is None and cur.peek().low in PLACE_WORDS else None
        return (fill_to(key(name), place, cur.span_from(here)),)
    return None


def _in_each(cur: Cursor, ctx: Context, one: Work, here: int) -> Steps | None:
    """IN-EACH: "kfb in each st", "kfb in every st to last 2 sts": over and over, and not in one stitch."""
    at = cur.at
    if not cur.phrase("in|into each|every st|stitch|loop"):
        return None
    if cur.peek().low == "of":  # "in each stitch of the last 3"
        cur.at = at
        return None
    place = parse_place(cur, ctx) if cur.peek().low in PLACE_WORDS else None
    cur.any_phrase("of|in the? row|rnd|round") if place is None else None
    span = cur.span_from(here)
    return (Fill(body=(one,), to=place or Place(kind=PlaceKind.END, span=span), span=span),)


def _no_number(cur: Cursor, ctx: Context, here: int, base: str) -> Steps | None:
    """As in "k tbl", "k into front and back", "k twice in next st", "k into next st", "k below"."""
    found = _into_front_and_back(cur, ctx, here, base, None)
    if found is not None:
        return found
    if cur.peek().low == "twice" and cur.any_phrase(
        "twice in|into every|each st|stitch", "twice in|into all sts|stitches"
    ):
        place = parse_place(cur, ctx) if cur.peek().low in PLACE_WORDS else None
        span = cur.span_from(here)
        one = work(f"{base}fb", ONE, span)
        return (Fill(body=(one,), to=place or Place(kind=PlaceKind.END, span=span), span=span),)
    if cur.peek().low in {"twice", "in", "into"}:
        at = cur.at
        times = 2 if cur.take("twice") else 1
        tail = into_tail(cur, ctx)
        if tail is not None and times == 2:
            cur.any_phrase("front and back", ", front and back")
            return (work(f"{base}fb", tail[0], cur.span_from(here)),)
        if tail is not None:
            if cur.take("twice"):
                return (work(f"{base}fb", tail[0], cur.span_from(here)),)
            if cur.any_phrase("through? front and back"):
                return (work(f"{base}fb", tail[0], cur.span_from(here)),)
            if cur.any_phrase("below", "in|of the? row|rnd|round below"):
                return (work(f"{base}1below", tail[0], cur.span_from(here)),)
            return (Work(stitch=base, count=tail[0], span=cur.span_from(here)),)
        cur.at = at
    if take_through_back(cur):
        every = _every(cur, ctx, here, f"{base}1tbl")
        if every is not None:
            return every
        step = work(f"{base}1tbl", ONE, cur.span_from(here))
        if cur.pad[cur.at].low in PLACE_WORDS and (place := parse_place(cur, ctx)) is not None:
            return (Fill(body=(step,), to=place, span=cur.span_from(here)),)
        return (step,)
    if cur.take("below"):
        return (work(f"{base}1below", ONE, cur.span_from(here)),)
    return None


def parse_named(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Named := abbreviation number? tbl? into?

    "k2tog", "ssk 2", "mb", "c4f", "kfb in next 3 sts", "k2tog tbl"
    """
    del depth
    here = cur.at
    pad = cur.pad
    t = pad[here]
    cur.at = here + 1
    own = t.key.startswith("=")
    name = t.key[1:] if own else t.key
    if " " in name and not own and name.split()[0] == t.low:
        # "brLsl dec": the dictionary's own spelling in two words
        rest = name.split()[1:]
        if all(pad[here + 1 + i].low == w for i, w in enumerate(rest)):
            here += len(rest)
            cur.at = here + 1
    nxt = pad[here + 1]
    readings = () if own else readings_of(name)
    if nxt.low == "(" and not own:
        _take_gloss(cur)
    if nxt.low == "," and "tog" in t.key and "tbl" not in t.key and cur.any_phrase(*_BY_THE_BACK):
        return (work(f"{name} tbl", ONE, cur.span_from(here)),)
    if nxt.low in _DONE or nxt.low == ".":
        if nxt.low == "." and nxt.glued and pad[here + 2].low in {",", ";"}:
            cur.at += 1
        return (Work(stitch=name, count=ONE, own=own, readings=readings, span=Span(t.start, t.end)),)
    count = ONE
    colour = None
    if (
        nxt.kind == "n"
        and isinstance(nxt.value, int)
        and (not nxt.glued or own or is_counted(name))
        and pad[here + 2].low in _DONE | {"."} | STITCH_WORDS
    ):
        number = parse_number(cur, ctx)
        if number is not None and pad[cur.at].low in {"times", "x", "more"}:
            cur.at = here + 1
        elif number is not None:
            count = number
            take_stitch_word(cur)
    if not own and "tog" in t.key and "tbl" not in t.key and cur.any_phrase(*_BY_THE_BACK):
        return (work(f"{name} tbl", count, cur.span_from(here)),)
    if not own and nxt.kind == "w":
        if (
            nxt.low in {"tbl", "through", "thro", "from", "at", "in", "into"}
            and "tog" in t.key
            and "tbl" not in t.key
        ):
            if take_through_back(cur):
                return (work(f"{name} tbl", count, cur.span_from(here)),)
        if nxt.low == "tog":
            cur.at += 1
    if nxt.low in {"in", "into"} and cur.at == here + 1:
        each = _in_each(cur, ctx, Work(stitch=name, count=ONE, own=own, span=t.span), here)
        if each is not None:
            return each
    if nxt.low in {"in", "into", "over", "on", "of"}:
        at = cur.at
        tail = into_tail(cur, ctx)
        if tail is not None:
            count = tail[0] if count is ONE else count
        elif cur.phrase("over the? next") or cur.phrase("over|on|of"):
            n = parse_number(cur, ctx)
            if n is None or not take_stitch_word(cur):
                cur.at = at
    if nxt.low in PLACE_WORDS and cur.at == here + 1:
        place = parse_place(cur, ctx)
        if place is not None:
            body: Steps = (Work(stitch=name, count=count, own=own, span=t.span),)
            return (Fill(body=body, to=place, span=cur.span_from(here)),)
    if cur.at == here + 1:
        colour = parse_colour(cur, ctx)
    take_manner(cur)
    span = cur.span_from(here)
    return (Work(stitch=name, count=count, own=own, colour=colour, readings=readings, span=span),)


_GLOSS = frozenset(
    "slip sl 1 2 3 one two three knit purl k p pass over the st sts stitch stitches tog together through"
    " thru thro tbl back front loop loops of them it that those then and next as if to a at time knitwise"
    " purlwise kwise pwise left right hand needle lh rh slipped insert into in from by is i . e , - return"
    " returned lift put both last k1 k2tog sl1 psso".split()
)


def _take_gloss(cur: Cursor) -> None:
    """GLOSS: "(slip 1, knit 1, pass slip stitch over the knit 1)", after the stitch that it explains."""
    end = aside_end(cur)
    inside = [t.low for t in cur.tokens[cur.at + 1 : end - 1]] if end > 0 else []
    if (
        len(inside) < 5
        or not {"slip", "sl", "sl1"}.intersection(inside[:2])
        or not {"pass", "psso", "together", "tog", "through", "lift"}.intersection(inside)
        or not _GLOSS.issuperset(inside)
        or cur.pad[end].value is not None
        or cur.pad[end].low in {"times", "x", "twice", "once"}
    ):
        return
    cur.at = end


_PIECES = re.compile(r"\d+|[a-z']+|[^\sa-z\d]")


def parse_own(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Own := "make"? name of the pattern's own stitch, in one word or several

    "work bobble", "make wheat ear", "selvedge st"
    """
    del depth
    firsts: dict[str, list[tuple[list[str], str]]] | None = cur.kept.get("own")
    if firsts is None:
        firsts = {}
        for name in ctx.own:
            # "4-st rpc" is four tokens, as it is in a row
            words = _PIECES.findall(name) if name[:1].isdigit() else name.split()
            if words:
                firsts.setdefault(words[0], []).append((words, name))
        cur.kept["own"] = firsts
    here = cur.at
    pad = cur.pad
    low = pad[here].low
    if low in {"make", "work"} and pad[here + 1].low not in firsts and pad[here + 2].low in firsts:
        cur.at += 2 if pad[here + 1].low in {"a", "an", "one", "1"} else 0
    elif low in {"make", "work"} and pad[here + 1].low in firsts:
        cur.at += 1
    at = cur.at
    best = 0
    found = ""
    for words, name in firsts.get(pad[at].low, ()):
        if len(words) > best and all(pad[min(at + i, len(pad) - 1)].low == w for i, w in enumerate(words)):
            best, found = len(words), name
    if not found:
        cur.at = here
        return None
    cur.at = at + best
    count = ONE
    if pad[cur.at].kind == "n" and pad[cur.at + 1].low in _DONE | {"."}:
        count = parse_number(cur, ctx) or ONE
    return (Work(stitch=ctx.own[found], count=count, own=True, span=cur.span_from(here)),)


def parse_number_first(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """number-first := number ("plain" | "k" | "knit" | "p" | "purl" | "yo" | "overs") | number colour

    "4 plain", "4 k", "2 purl", "2 overs", "4A, 6B"
    """
    del depth
    here = cur.at
    n = parse_number(cur, ctx)
    if n is None:
        return None
    t = cur.peek()
    cur.any_phrase("st|sts|stitches") if cur.peek(1).low in {
        "plain",
        "knit",
        "purl",
        "pearl",
        "seam",
        "k",
        "p",
        "garter",
    } else None
    t = cur.peek()
    one = cur.peek(1)
    if (
        t.low
        in {"plain", "knit", "k", "knitted", "purl", "p", "purled", "pearl", "pearled", "seam", "seamed"}
        and one.kind != "n"
    ):
        cur.next()
        take_stitch_word(cur)
        if cur.peek().low in {"row", "rows", "round", "rounds", "rnd", "rnds", "times"}:
            return None
        return (
            Work(
                stitch="p" if t.low[0] in "ps" and t.low != "plain" else "k",
                count=n,
                span=cur.span_from(here),
            ),
        )
    if t.low in {"over", "overs", "yo", "yos", "yarn-overs"} and one.low not in {"from", "the"}:
        cur.next()
        return (work("yo", n, cur.span_from(here)),)
    if t.low in {"tog", "together"}:
        cur.next()
        return _decrease(cur, ctx, here, "k", n)
    if t.kind in {"w", "s"} and (t.glued or t.low in ctx.yarns or t.low in {"mc", "cc"}):
        colour = parse_colour(cur, ctx)
        if colour is None and t.glued and t.text.isalpha() and len(t.text) <= 2 and t.low in ctx.yarns:
            cur.next()
            colour = t.text
        if colour is not None:
            cur.take(".") if cur.peek(1).low == "," else None
            return (Work(stitch="k", count=n, colour=colour, span=cur.span_from(here)),)
    if t.kind == "s" and t.key and not t.glued and t.key not in {"k", "p"} and one.kind != "n":
        # "2 k2tog", "3 ssk"
        cur.next()
        return (Work(stitch=t.key.lstrip("="), count=n, own=t.key.startswith("="), span=cur.span_from(here)),)
    return None


WORDS: dict[str, tuple[Handler, ...]] = dict.fromkeys(HEADS, (parse_counted,))
