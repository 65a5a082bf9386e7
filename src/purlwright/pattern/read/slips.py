"""Slipped stitches, and the stitches that are made of a slip and what is passed over.

In: a cursor at "sl", "slip", "take off", "psso", "slip and bind" ... Out: one named decrease, or the slip
itself.
Slipping to a needle or a holder stands in ``moves`` and ``crossings``.
"""

from __future__ import annotations

from typing import Literal

from msgspec.structs import replace

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.crossings import cross_after_slip
from purlwright.pattern.read.edgings import parse_bind_off
from purlwright.pattern.read.moves import hold_after_slip, parse_hold
from purlwright.pattern.read.numbers import ONE, number_of, parse_number
from purlwright.pattern.read.places import PLACE_WORDS, STITCH_WORDS, parse_place, take_stitch_word
from purlwright.pattern.read.working import (
    SEPARATORS,
    Handler,
    Steps,
    key,
    take_manner,
    take_through_back,
    work,
)
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Fill, Hold, Number, PassOver, SlipBack, Step, Turn, TurnHow, Work, Wrap
from purlwright.text import Span

Side = Literal["front", "back"]

__all__ = ["WORDS", "parse_pass_over", "parse_slip", "slip_kinds"]

_PASS = frozenset(
    "pass passing draw drawing pull pulling bring bringing lift "
    "lifting slip slipping bind throw throwing put take".split()
)
_PASSED = frozenset(
    "the that this these 2nd third 3rd slipped slip slippd sl st sts stitch stitches one ones it them loop "
    "loops both first 1st second last "
    "preceding previous next on right hand needle you just and knit "
    "knitted k1 2 two three 3 yo slip-stitch 'em other lower".split()
)
_ONTO = frozenset(
    "knitted knit purled purl pearled other last next one ones stitch st sts stitches two 2 together "
    "tog narrowed decrease k2tog "
    "formed by knitting k1 just worked seamed made first both new ones remaining one-knitted second".split()
)
_KNITS = {"k": "k", "knit": "k", "p": "p", "purl": "p", "pearl": "p", "seam": "p", "k1": "k", "p1": "p"}
_SLIP_NOUNS = frozenset("a the next first last 1st one these 2nd second following foll both edge".split())
_SLIP_WRAP = tuple(
    f"1? the? next? st|stitch? ,? wrap it? ,? {back} ,? and|then? turn"
    for back in (
        "return final|the|slipped|it? st|stitch?",
        "slip|replace|put it|back? back? to|on? left? needle?",
    )
)
_COMPOUNDS = {
    (1, "k", 1, False): "skp",
    (1, "p", 1, False): "spp",
    (1, "k", 2, True): "sk2p",
    (2, "k", 1, False): "s2kp",
    (2, "p", 1, False): "s2pp",
    (1, "p", 2, True): "sl1, p2tog, psso",
    (1, "k", 3, True): "sl1, k3tog, psso",
    (2, "k", 2, True): "sl2, k2tog, p2sso",
    (2, "k", 3, True): "sl2, k3tog, p2sso",
    (3, "k", 2, True): "sl3, k2tog, p3sso",
}


def parse_slip(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Slip := ("sl" | "slip") "-"? (number | "a" | "the first")? stitches? kind* (sep worked sep
    pass-over)?

    "sl1", "slip 2 wyif", "slip the first stitch", "sl 1, k1, psso", "slip 1, knit 2 together, pass the
    slipped stitch over"
    """
    pad = cur.pad
    here = cur.at
    t = pad[here]
    cur.at = here + 1
    if t.low in {"s", "ss"} and pad[here + 1].kind != "n":
        return None
    glued_one = t.kind == "s" and "1" in t.low
    if t.low == "take" and not cur.phrase("off"):
        return None
    if t.low in {"slip", "sl"} and cur.any_phrase(*_SLIP_WRAP):
        return (Turn(how=TurnHow.WRAP, span=cur.span_from(here)),)
    if (
        t.low in {"slip", "sl"}
        and {"thumb", "gusset", "sleeve", "st", "sts", "stitches"} & {pad[cur.at].low, pad[cur.at + 1].low}
        and (held := _part_held(cur, ctx, here)) is not None
    ):
        return held
    if t.low in {"slip", "sl"} and pad[here + 1].low in {
        "first",
        "next",
        "center",
        "centre",
        "middle",
        "last",
    }:
        cur.at = here
        held = parse_hold(cur, ctx, depth)  # "slip center 24 sts for back neck to second holder"
        if held is not None:
            return held
    if t.low != "take":
        cur.at = here + 1
    if t.low == "slip" and cur.phrase("and bind|cast"):
        cur.at -= 1
        bound = parse_bind_off(cur, ctx, depth)
        if bound is not None:
            return bound
        cur.at = here + 1
    count = ONE
    if glued_one:
        count = Number(values=(1,), span=Span(t.end - 1, t.end))
    else:
        if pad[cur.at].low in {"-", "."} and pad[cur.at].glued and pad[cur.at + 1].kind in {"n", "w"}:
            cur.at += 1
        found = _amount(cur, ctx)
        if found is None:
            cur.at = here
            return None
        count = found
    if (moved := _elsewhere(cur, ctx, here, count, depth)) is not None:
        return moved
    kind, yarn, together = slip_kinds(cur, t.key)
    take_manner(cur)
    n = count.values[0] if len(count.values) == 1 else None
    if n is not None and pad[cur.at].low in SEPARATORS | _KNITS.keys() | {"narrow", "k2tog", "slip", "sl"}:
        found_compound = _compound(cur, ctx, here, count, n, together=together)
        if found_compound is not None:
            return found_compound
    if (moved := _elsewhere(cur, ctx, here, count, depth)) is not None:
        return moved
    name = f"sl {kind}wise" if kind else "sl"
    step = Work(stitch=key(name), count=count, yarn=yarn, span=cur.span_from(here))
    if pad[cur.at].low in PLACE_WORDS and pad[cur.at].low not in {"on", "in", "as", "over"}:
        place = parse_place(cur, ctx)
        if place is not None:
            return (Fill(body=(step,), to=place, span=cur.span_from(here)),)
    return (step,)


def _part_held(cur: Cursor, ctx: Context, here: int) -> Steps | None:
    """As in "slip the thumb sts onto scrap yarn", without a number: the markers say how many."""
    cur.at = here
    held = parse_hold(cur, ctx)
    if held is not None and isinstance(held[0], Hold) and held[0].of in {"marker", "sleeve"}:
        return held
    cur.at = here
    return None


def _amount(cur: Cursor, ctx: Context) -> Number | None:
    """How many are slipped: a number, "a stitch", "the first stitch", "next 2 sts", or one if nothing is
    said.
    """
    pad = cur.pad
    at = cur.at
    t = pad[at]
    if t.low in {"2tog", "2-tog"}:  # "sl 2tog kwise"
        cur.at += 1
        return number_of(2, t.span)
    n = parse_number(cur, ctx)
    if n is not None:
        if pad[cur.at].low in {"times", "x"}:
            cur.at = at
            return number_of(1, t.span)
        take_stitch_word(cur)
        return n
    if t.low in {"marker", "markers", "m", "mk", "mkr"}:
        return None
    if t.low in STITCH_WORDS:
        take_stitch_word(cur)
        number = parse_number(cur, ctx) if pad[cur.at].kind == "n" else None
        return number or number_of(1, t.span)
    if t.low in _SLIP_NOUNS or t.kind == "o":
        cur.take("a", "the", "these", "both")
        cur.take("long", "short", "plain", "edge", "slipped")
        u = pad[cur.at]
        named = u.kind == "o" or u.low in _SLIP_NOUNS
        if named:
            cur.at += 1
        n = parse_number(cur, ctx)
        cur.any_phrase("edge|slipped|wrapped|plain|long|short", "- knitted")
        cur.any_phrase("- knitted")
        sts = take_stitch_word(cur)
        if n is None and not sts and not named:
            cur.at = at
            return None
        cur.any_phrase(
            "of the? row|round|needle", "of each|every row|round|needle", "from the? left hand? -? needle"
        )
        return n or number_of(1, t.span)
    if t.low in {"it", "them"}:
        return number_of(1, t.span)
    return ONE


def slip_kinds(cur: Cursor, known: str = "") -> tuple[str, Side | None, bool]:
    """Kinds := ("pwise" | "kwise" | "as if to purl" | "wyif" | "wyib" | "together")*

    Gives "k", "p" or "" for the way it enters, "front" or "back" for the yarn, and whether they go
    together.
    """
    kind = "k" if "kwise" in known else "p" if "pwise" in known else ""
    yarn: Side | None = "front" if "wyif" in known else "back" if "wyib" in known else None
    together = "sl2" in known
    for _ in range(8):
        at = cur.at
        t = cur.pad[at]
        opened = t.low == "(" and cur.pad[at + 1].low in {
            "k",
            "p",
            "knitwise",
            "purlwise",
            "kwise",
            "pwise",
            "as",
            "wyif",
            "wyib",
        }
        if opened or (
            t.low == ","
            and cur.pad[at + 1].low
            in {
                "wyif",
                "wyib",
                "knitwise",
                "purlwise",
                "pwise",
                "kwise",
                "taking",
                "but",
            }
        ):
            cur.at += 1
        cur.take("but") if t.low in {",", "but"} and cur.pad[cur.at + 1].low in {
            "as",
            "with",
            "keeping",
        } else None
        cur.any_phrase("taking|take them|it off? the? needle|pin?") and cur.any_phrase("off the? needle|pin?")
        cur.any_phrase("in the same|usual way|manner")
        if cur.any_phrase(
            "pwise|purlwise|pw",
            "p|purl -? wise",
            "as if|though you? were|are? going? to purl|pearl|seam",
            "as|like if? for? to? purl|purling|pearl|pearling|seaming|seam",
        ):
            kind = "p"
            cur.any_phrase("plain", "them|it")
        elif cur.any_phrase(
            "kwise|knitwise|kw",
            "k|knit -? wise",
            "as|like if|though|for? you? were|are? going? to? knit|knitting",
        ):
            kind = "k"
            cur.any_phrase("plain", "it|them", "through|thro the? back loop|loops", "tbl")
        elif cur.any_phrase(
            "wyif",
            "with the? yarn|wool|thread|cotton|yf in|at|to the? front",
            "with the? yarn|wool|thread front|forward",
            "yif",
            "keeping|holding|keep|hold the? yarn|wool|thread|cotton in|to|at the? front",
            "with yarn on the? right side",
            "and keep the? yarn|wool in|at the? front",
        ):
            yarn = "front"
            cur.any_phrase("of the? work")
        elif cur.any_phrase(
            "wyib",
            "with the? yarn|wool|thread|cotton in|at|to the? back",
            "with the? yarn|wool|thread back|behind",
            "yib",
            "keeping|holding|keep|hold the? yarn|wool|thread|cotton at|in|to the? back",
            "but with the wool at the back",
            "and keep the? yarn|wool at the? back",
        ):
            yarn = "back"
            cur.any_phrase("of the? work")
        elif cur.any_phrase("together|tog", "as one|1"):
            together = True
        elif cur.any_phrase("as|like if? to|for? k2tog", "as|like if? to|for? k|knit 2 tog|together"):
            together = True
            kind = "k"
        elif cur.any_phrase(
            "one|1 at a time",
            "separately",
            "individually",
            "singly",
            "without knitting|working it?|them?",
            "unknitted",
            "unworked",
            "off",
        ):
            pass
        else:
            cur.at = at
            break
        if opened and cur.take(")") is None:
            cur.at = at
            break
    return kind, yarn, together


def _elsewhere(cur: Cursor, ctx: Context, here: int, count: Number, depth: int) -> Steps | None:
    """As in "slip 3 sts to cn and hold in front ...", "sl 12 sts to holder", "slip it back to the left
    needle".
    """
    t = cur.pad[cur.at]
    if t.low not in {"to", "on", "onto", "back", "over", "in", "upon", "from", "and", "at", "between"}:
        return None
    bound = _bound_together(cur, ctx, here, count)
    if bound is not None:
        return bound
    at = cur.at
    told = [t.low for t in cur.tokens[here + 1 : at]]
    if told[:1] == ["both"] and count.values == (1,):
        count = replace(ONE, values=(2,))
    if cur.any_phrase("to|onto|on the? right|rh|other|working hand? -? needle"):
        cur.any_phrase("needle")
        return (work("sl", count, cur.span_from(here)),)
    if cur.any_phrase(
        "back|over to|on|onto|upon the? left|lh|ln hand? -? needle?",
        "to|onto|on left|lh|ln hand? needle?",
        "back",
        "back to|onto ln",
        "onto|to|on the? left|lh hand? -? needle",
    ):
        cur.take("needle")
        take_manner(cur)
        if told[:1] in (["these"], ["those"], ["all"]) and not any(t.isdigit() for t in told):
            return None  # how many they are is not said
        return (SlipBack(count=count, span=cur.span_from(here)),)
    crossed = cross_after_slip(cur, ctx, here, count, depth)
    if crossed is not None:
        return crossed
    cur.at = at
    held = hold_after_slip(cur, ctx, here, count)
    if held is not None and cur.tokens[here + 1].low in {"these", "those"} and isinstance(held[0], Hold):
        # "k25 and slip these sts on to a holder": those just worked
        counted = any(t.kind == "n" or t.value is not None for t in cur.tokens[here + 1 : at])
        held = (replace(held[0], count=count if counted else None, of="worked"),)
    if held is None:
        cur.at = at
    return held


def _compound(cur: Cursor, ctx: Context, here: int, count: Number, n: int, *, together: bool) -> Steps | None:
    """Compound := slip sep ("k" | "p") number "together"? sep pass-over | "slip" sep? "narrow" sep? "bind"
    | "slip" "and" "bind"

    "sl 1, k1, psso", "slip, narrow and bind", "slip 1, slip 1, knit 2 together"
    """
    at = cur.at
    pad = cur.pad
    _sep(cur)
    t = pad[cur.at]
    if t.low == "bind" and pad[cur.at + 1].low != "off":
        cur.at += 1
        return (work("skp", ONE, cur.span_from(here)),)
    if t.low in {"sl", "slip", "sl1", "s1"} and n == 1:
        cur.at += 1
        number = parse_number(cur, ctx)
        if number is None or number.values == (1,):
            slip_kinds(cur)
            _sep(cur)
            if cur.any_phrase(
                "k|knit 2|two|them tog|together tbl",
                "k|knit them|these|both tog|together tbl?",
                "k2tog tbl",
                "k|knit 2|two tog|together through|thro the? back|backs of? the? loops|loop?",
                "k|knit the|these 2|two slipped? sts|stitches? tog|together",
            ) or (
                number is None
                and count is ONE
                and _unsaid(cur, here)
                and cur.any_phrase("k|knit 2|two? tog|together", "k2tog", "knit|k")
            ):
                take_through_back(cur)
                return (work("ssk", ONE, cur.span_from(here)),)
        cur.at = at
        return None
    worked = _worked(cur, ctx)
    if worked is None:
        cur.at = at
        return None
    base, m, tog = worked
    after_worked = cur.at
    _sep(cur)
    passed = parse_pass_over(cur, ctx)
    if passed is None:
        cur.at = at
        return _long_compound(cur, ctx, here, count, n)
    over_count, plural, _ = passed
    if over_count == 0:
        over_count = n if (plural or together or n <= 2) else 1
    span = cur.span_from(here)
    name = _COMPOUNDS.get((n, base, m, tog)) if over_count == n else None
    if name is not None:
        return (work(name, ONE, span),)
    worked_span = Span(pad[at].start, pad[after_worked - 1].end)
    slipped = Work(
        stitch=key("sl kwise" if together else "sl"), count=count, span=Span(pad[here].start, pad[at - 1].end)
    )
    if tog:
        inner = work(f"{base}{m}tog", ONE, worked_span)
    else:
        inner = Work(stitch=base, count=Number(values=(m,), span=worked_span), span=worked_span)
    pass_span = Span(pad[after_worked].start, span.end)
    over = PassOver(
        count=number_of(over_count, pass_span), over=number_of(1 if tog else m, pass_span), span=pass_span
    )
    return (slipped, inner, over)


def _unsaid(cur: Cursor, here: int) -> bool:
    """True for "slip, slip, knit": neither slip says how many."""
    return cur.pad[here + 1].low in SEPARATORS and cur.pad[here].low in {"slip", "sl"}


def _long_compound(cur: Cursor, ctx: Context, here: int, count: Number, n: int) -> Steps | None:
    """As in "sl 1, k1, yo, k1, psso": several stitches and overs before the pass"""
    at = cur.at
    pad = cur.pad
    inner: list[Step] = []
    loops = 0
    for _ in range(6):
        _sep(cur)
        start = cur.at
        if pad[cur.at].key == "yo" or pad[cur.at].low in {"yo", "yfwd", "yrn"}:
            cur.at += 1
            inner.append(work("yo", ONE, pad[start].span))
            loops += 1
            continue
        if inner and (passed := parse_pass_over(cur, ctx)) is not None:
            span = cur.span_from(here)
            slipped = Work(stitch=key("sl"), count=count, span=Span(pad[here].start, pad[at - 1].end))
            many = number_of(passed[0] or n, span)
            return (
                slipped,
                *inner,
                PassOver(count=many, over=number_of(loops, span), span=cur.span_from(start)),
            )
        cur.at = start
        worked = _worked(cur, ctx)
        if worked is None:
            break
        base, m, tog = worked
        span = cur.span_from(start)
        inner.append(
            work(f"{base}{m}tog", ONE, span)
            if tog
            else Work(stitch=base, count=number_of(m, span), span=span)
        )
        loops += 1 if tog else m
    cur.at = at
    return None


def _sep(cur: Cursor) -> None:
    while cur.pad[cur.at].low in SEPARATORS:
        cur.at += 1


def _worked(cur: Cursor, ctx: Context) -> tuple[str, int, bool] | None:
    """What is worked between the slip and the pass: "k1", "knit a stitch", "k2tog", "narrow"; letter,
    number, together.
    """
    pad = cur.pad
    t = pad[cur.at]
    cur.at += 1
    if t.low in {"narrow", "k2tog"} or t.key == "k2tog":
        return "k", 2, True
    if t.key in {"k3tog", "p2tog"}:
        return t.key[0], int(t.key[1]), True
    base = _KNITS.get(t.low)
    if base is None:
        return None
    if t.low in {"k1", "p1"}:
        return base, 1, False
    if pad[cur.at].low == "." and pad[cur.at + 1].kind == "n":
        cur.at += 1
    if cur.phrase("the? next|following"):
        pass
    number = parse_number(cur, ctx)
    m = 1
    if number is not None:
        if len(number.values) != 1 or number.values[0] is None:
            return None
        m = number.values[0]
    elif (
        cur.take("a", "the", "one") is None
        and pad[cur.at].low not in STITCH_WORDS
        and pad[cur.at - 1].low != "next"
    ):
        if pad[cur.at].low not in SEPARATORS:
            return None
    cur.take("next", "following")
    take_stitch_word(cur)
    tog = cur.take("tog", "together") is not None
    if tog and pad[cur.at].low == "." and pad[cur.at + 1].low in {",", ";"}:
        cur.at += 1
    if m < 1 or m > 12 or (tog and m < 2):
        return None
    return base, m, tog


def parse_pass_over(cur: Cursor, ctx: Context) -> tuple[int, bool, int] | None:
    """pass-over := "psso" | "p2sso" | ("pass" | "draw" | "pull" | "bring") the-slipped "over" the-knitted?

    "pass the slipped stitch over", "pull the slipped stitch over the knitted one", "pass 2 sl sts over",
    "psso".
    Gives how many are passed (0: not said), whether the words speak of several, and over how many.
    """
    del ctx
    here = cur.at
    pad = cur.pad
    t = pad[here]
    if t.low.replace(".", "").replace(" ", "") in {"psso", "passo", "pso", "psk", "po"} or t.key == "psso":
        cur.at += 1
        cur.any_phrase(
            "the 2|two|both? sts|stitches|st|stitch", "over the? k2tog|2|two|both sts|stitches?", "over"
        )
        return 0, False, 1
    if t.key in {"p2sso", "p3sso"} or t.low in {"p2sso", "p3sso", "p4sso"}:
        cur.at += 1
        return int(t.low[1]) if t.low[1:2].isdigit() else 2, True, 1
    if t.low == "bind" and pad[here + 1].low in SEPARATORS | {""}:
        cur.at += 1
        return 0, False, 1
    if t.low == "p" and cur.phrase("p . s . s . o .?"):
        return 0, False, 1
    if t.low not in _PASS:
        return None
    cur.at += 1
    n = 0
    plural = False
    for _ in range(12):
        u = pad[cur.at]
        if u.low in {"over", "o'er"}:
            break
        if isinstance(u.value, int) and u.kind in {"n", "w"} and u.low != "one":
            n = u.value
        elif u.low == "both":
            n = 2
        elif u.low not in _PASSED and u.key != "yo" and u.low not in {"-", "."}:
            cur.at = here
            return None
        if u.low in {"stitches", "sts", "them", "ones", "both"}:
            plural = True
        cur.at += 1
    else:
        cur.at = here
        return None
    if cur.at == here + 1:
        nxt = pad[here + 2].low
        if nxt not in SEPARATORS | {"", "the", "it", "them"}:
            cur.at = here
            return None
    cur.at += 1
    if (
        cur.take("the", "this", "that", "it", "them", "both", "last", "next", "top", "first", "1st")
        is not None
    ):
        while (
            pad[cur.at].low in _ONTO
            or (pad[cur.at].low == "the" and pad[cur.at - 1].low in {"knitting", "by"})
            or (pad[cur.at].kind == "n" and pad[cur.at - 1].low in {"last", "the", "knitting"})
        ):
            cur.at += 1
    elif cur.take("k1", "k2tog", "k3tog") or cur.any_phrase("k|knit 2|two tog|together"):
        pass
    elif (
        any(x.key == "yo" for x in cur.tokens[here : cur.at])
        and pad[cur.at].low in _KNITS
        and pad[cur.at + 1].kind == "n"
    ):
        over = pad[cur.at + 1].value
        cur.at += 2  # "pass yo over k2"
        return n, plural or n > 1, over if isinstance(over, int) else 1
    cur.any_phrase(
        "and off the? right? needle?",
        "and off",
        "and drop it? off the? needle?",
        "& drop the slipped st off the needle",
        "on the? right|rh hand? needle",
    )
    return n, plural or n > 1, 1


def _first_over(cur: Cursor, ctx: Context) -> Steps | None:
    """first-over := "pass" "the"? "first" ("of" "these" number? stitches)? "over" "the"? "other" number

    "pass first of these 3 sts over the other 2", "lift the 1st st over the last 2 sts"
    """
    here = cur.at
    if not cur.any_phrase(
        "pass|lift|draw|pull|slip the? first|1st|third|3rd|fourth|4th of these|those|the? last?"
        " 2|3|4|5|6|two|three|four|five? sts|stitches? over|up?",
        "pass|lift|draw|pull the? first|1st|third|3rd|fourth|4th st|stitch? over",
    ):
        return None
    cur.take("over")
    cur.any_phrase("the? other|last|next|following|second|remaining and? third?", "the")
    over = parse_number(cur, ctx)
    cur.any_phrase("sts|stitches|st|stitch just? worked|knitted?")
    if over is None or not over.values[0] or over.values[0] < 2:
        cur.at = here
        return None
    return (PassOver(count=number_of(1, cur.span_from(here)), over=over, span=cur.span_from(here)),)


def _bound_together(cur: Cursor, ctx: Context, here: int, count: Number) -> Steps | None:
    """bound-together := slip "to" "cn" sep "wrap" "yarn" how-often "around" "these" stitches sep "k" number
    "from" "cn"

    "sl next 4 sts to cable needle, wrap yarn twice around these sts, k4 from cable needle"
    """
    at = cur.at
    if not cur.any_phrase("to|onto|on a|the? cable|spare? needle|cn", "to|onto|on a|the? cn"):
        return None
    cur.any_phrase(",|and|; then?")
    if not cur.any_phrase("wrap|wind|wrapping|winding the? yarn|wool|thread"):
        cur.at = at
        return None
    for _ in range(16):
        if cur.peek().low in {"around", "round", "about"} or not cur.peek().kind:
            break
        cur.next()
    cur.any_phrase("around|round|about these|the|them|all|those?")
    parse_number(cur, ctx)
    take_stitch_word(cur)
    while cur.take(",", "then", "and", ";") is not None:
        pass
    wrapped = cur.span_from(here)
    start = cur.at
    verb = cur.take("k", "knit", "work", "p", "purl")
    n = parse_number(cur, ctx) if verb is not None else None
    cur.any_phrase("them", "the? sts|stitches")
    if verb is None or not cur.any_phrase(
        "from the? cable|spare? needle|cn", "from the? cn", "off the? cn|needle"
    ):
        cur.at = at
        return None
    step = Work(stitch="p" if verb.low[0] == "p" else "k", count=n or count, span=cur.span_from(start))
    return (Wrap(count=count, span=wrapped), step)


def parse_pass(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Pass := pass-over that stands by itself

    "psso", "pass the 2nd st over the 1st", "draw the preceding stitch over the last one"
    """
    del depth
    here = cur.at
    first = _first_over(cur, ctx)
    if first is not None:
        return first
    found = parse_pass_over(cur, ctx)
    if found is None:
        return None
    span = cur.span_from(here)
    return (PassOver(count=number_of(found[0] or 1, span), over=number_of(found[2], span), span=span),)


_TAKEN = (
    "take the? st|stitch you just? slipped and|& then? pass|slip|lift|draw|pull it over",
    "take the? slipped st|stitch and|& then? pass|slip|lift|draw|pull it over",
)
_TAKEN_OVER = (
    "the? last? st|stitch|one you just? knitted|knit|worked|made",
    "the? last? st|stitch|one just? knitted|knit|worked|made?",
    "the? knitted|other|next st|stitch|one?",
)


def parse_taken_over(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Taken := "take the st you slipped" "and" "pass it over" the-knitted ("and drop it off the needle")?

    "take the slipped stitch and pass it over the last stitch you knitted"
    """
    del ctx, depth
    here = cur.at
    if not cur.any_phrase(*_TAKEN) or not cur.any_phrase(*_TAKEN_OVER):
        cur.at = here
        return None
    cur.any_phrase("and|& drop|let it off the? left|right? needle?", "and|& off the? needle?",
                   "and|& drop the? slipped st|stitch off the? left|right? needle?")  # fmt: skip
    return (PassOver(count=ONE, over=ONE, span=cur.span_from(here)),)


def parse_yarn_kept(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Kept := ("wyif" | "wyib" | "with yarn in front") sep? slip

    "wyif sl 1", "with yarn in back, slip 2 purlwise"
    """
    here = cur.at
    _, yarn, _ = slip_kinds(cur)
    if yarn is None:
        cur.at = here
        return None
    _sep(cur)
    t = cur.pad[cur.at]
    if t.low not in {"sl", "slip", "sl1", "s", "s1", "slp"} and not t.low.startswith("sl"):
        from purlwright.pattern.tree import YarnTo

        cur.at = here
        slip_kinds(cur)
        return (YarnTo(front=yarn == "front", span=cur.span_from(here)),)
    slipped = parse_slip(cur, ctx, depth)
    if slipped is None:
        cur.at = here
        return None
    first = slipped[0]
    if isinstance(first, Work):
        made = Work(
            stitch=first.stitch, count=first.count, own=first.own, yarn=yarn, span=cur.span_from(here)
        )
        return (made, *slipped[1:])
    return slipped


_SLIPS = (parse_slip,)
WORDS: dict[str, tuple[Handler, ...]] = {
    **dict.fromkeys(
        (
            "sl",
            "slip",
            "sl1",
            "s",
            "take",
            "s1",
            "ss",
            "slips",
            "slp",
            "sl1p",
            "sl1k",
            "slk",
            "slipped",
            "slipping",
        ),
        _SLIPS,
    ),
    "take": (parse_taken_over, parse_slip),
    **dict.fromkeys(("psso", "p2sso", "p3sso", "passo", "draw", "pull", "bind", "lift"), (parse_pass,)),
    **dict.fromkeys(("wyif", "wyib", "with", "keeping", "holding", "keep", "hold"), (parse_yarn_kept,)),
}
