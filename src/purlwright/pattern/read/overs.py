"""Yarn overs, "make 1", and bringing the yarn forward or back.

In: a cursor at "yo", "over", "make 1", "bring the wool forward" ... Out: yarn overs, lifted increases,
``YarnTo``.
Old texts say "make 1" for a yarn over; where the words leave it open both readings are kept.
"""

from __future__ import annotations

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import ONE, number_of, parse_number
from purlwright.pattern.read.places import STITCH_WORDS, take_stitch_word
from purlwright.pattern.read.slips import parse_pass, parse_slip
from purlwright.pattern.read.working import (
    SEPARATORS,
    Handler,
    Steps,
    into_tail,
    key,
    next_op,
    take_manner,
    work,
)
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Number, Turn, TurnHow, Work, YarnTo
from purlwright.text import Span

__all__ = ["WORDS", "parse_make", "parse_over", "parse_yarn_words"]

_MATERIAL = frozenset("yarn wool thread cotton silk worsted wl th twine yn floss".split())
_MOVES = frozenset(
    "bring bringing throw throwing pass passing put putting take taking place placing "
    "carry wind lay turn draw keep keeping cast bringthe".split()
)
_WAYS = frozenset(
    "forward fwd forwards fwrd over round around twice once the a right left hand needle pin needles "
    "pins rn to in front of back behind before "
    "between proper place its as if front-of loosely work again right-hand side other backwards "
    "backward and three times 3 double "
    "under knit purl pearl form by at stitch thus making 1 loop".split()
)
_PURLS = frozenset("p purl pearl seam p1 p2tog p3tog".split())
_SLIPPED = frozenset("sl slip sl1 s1 slp sl1p sl1k turn w&t wrap".split())


def _double(cur: Cursor, ctx: Context) -> Number | None:
    """As in "twice", "two times", "x 2", "2": how many loops an over makes."""
    at = cur.at
    t = cur.peek()
    if t.low in {"twice", "thrice"} and isinstance(t.value, int):
        cur.next()
        return number_of(t.value, t.span)
    if t.low in {"(", "["} and cur.peek(1).low in {"twice", "2"} and cur.peek(2).low in {")", "]"}:
        cur.at += 3
        return number_of(2, t.span)
    if t.low == "x" and cur.peek(1).kind == "n":
        cur.next()
        return parse_number(cur, ctx)
    n = parse_number(cur, ctx)
    if n is not None:
        cur.take("times", "time", "x")
        after = cur.peek()
        if after.low in STITCH_WORDS or (after.kind in {"w", "s"} and after.glued):
            cur.at = at
            return None
    return n


def parse_over(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Over := ("yo" | "over" | "yfwd" | "yrn" | "yon" | "yf" ...) ("twice" | number)?

    "yo", "yo twice", "over", "yfwd" between knits, "yf" before a slip or turn (then the yarn only moves),
    "yo, turn"
    """
    del depth
    here = cur.at
    pad = cur.pad
    t = pad[here]
    cur.at += 1
    if t.low == "t" and not cur.phrase(".? f .?"):
        cur.at = here
        return None
    if t.low in {"w", "wl"} and cur.any_phrase(".? b|bk|back .?"):
        return (YarnTo(front=False, span=cur.span_from(here)),)
    if t.low == "w" and not cur.any_phrase(".? fwd|f|fd|forward .?"):
        cur.at = here
        return None
    if t.low == "wl" and not cur.any_phrase(".? fwd|fd .?", ".? forward"):
        cur.at = here
        return None
    if t.low == "forward" and pad[cur.at].low not in {",", ".", ";", "", "twice", "once", "and", "*", ")"}:
        cur.at = here
        return None
    if t.low in {"yo", "y"} and pad[cur.at].low == "." and pad[cur.at + 1].low == "o":
        cur.at += 2
        cur.take(".")
    nxt = pad[cur.at]
    if nxt.low == "." and nxt.glued and pad[cur.at + 1].low in {",", ";"}:
        cur.at += 1
        nxt = pad[cur.at]
    count = ONE
    if nxt.low not in {",", ";", "", ")", "]", "*"}:
        cur.any_phrase("the? right? needle|pin", "needle")
        n = _double(cur, ctx) if nxt.low != "." else None
        if n is not None:
            count = n
        else:
            cur.any_phrase("round|around the? needle|pin twice?", "needle|pin")
        if pad[cur.at - 1].low == "twice" and count is ONE:
            count = number_of(2, pad[cur.at - 1].span)
    span = cur.span_from(here)
    following = next_op(cur)
    if t.low in {"w", "wl"} and _goes_back_too(cur):
        return (YarnTo(front=True, span=span),)
    if (
        following.low in _SLIPPED
        and t.low in {"yf", "yfwd", "yft", "yfd", "fwd", "w", "wl", "wfwd", "wlfwd"}
        and not _slips_marker(cur)
        and not _slip_is_decrease(cur, ctx)
    ):
        return (YarnTo(front=True, span=span),)
    if (
        following.low == "turn"
        and pad[cur.at].low in {",", ".", ";", "and", "turn"}
        and count is ONE
        and cur.peek(2).low != "over"
    ):
        while pad[cur.at].low in SEPARATORS:
            cur.at += 1
        cur.at += 1
        cur.any_phrase("the? work")
        return (Turn(how=TurnHow.OVER, span=cur.span_from(here)),)
    return (work("yo", count, span),)


def _goes_back_too(cur: Cursor) -> bool:
    """Whether the row takes the wool back as well: "w.fd, sl 1, w.bk": then neither makes a loop."""
    lows = [t.low for t in cur.tokens]
    return any(
        a in {"w", "wl"} and {"b", "bk", "back"}.intersection(lows[i + 1 : i + 3]) for i, a in enumerate(lows)
    )


def _slips_marker(cur: Cursor) -> bool:
    """Whether what is slipped next is a marker: "yfwd, slip marker" makes a loop."""
    at = cur.at
    while cur.pad[at].low in SEPARATORS:
        at += 1
    return any(t.low in {"m", "marker", "markers"} for t in cur.pad[at + 1 : at + 3])


def _slip_is_decrease(cur: Cursor, ctx: Context) -> bool:
    """True when the slip that follows begins "slip 1, knit 1, pass over": then the yarn before it makes a
    loop.
    """
    at = cur.at
    while cur.pad[cur.at].low in SEPARATORS:
        cur.at += 1
    found = False
    if cur.pad[cur.at].low in {"sl", "slip", "sl1", "s1"}:
        steps = parse_slip(cur, ctx, 0)
        found = steps is not None and (
            len(steps) == 3 or (isinstance(steps[0], Work) and not steps[0].stitch.startswith("sl"))
        )
    cur.at = at
    return found


def parse_back(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """As in "yb", "ybk": the yarn goes to the back between the needles."""
    del ctx, depth
    t = cur.next()
    return (YarnTo(front=False, span=t.span),)


def parse_yarn_words(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """yarn-words := ("bring" | "throw" | "pass" ...)? "the"? ("wool" | "thread" ...) way+

    "bring the wool forward", "throw the cotton forward", "thread twice round the needle", "put the wool
    back"
    """
    del depth
    here = cur.at
    pad = cur.pad
    verb = pad[here].low if pad[here].low in _MOVES else ""
    if verb:
        cur.at += 1
        cur.take("the", "your", "a")
    again = verb and pad[cur.at].low == "it" and pad[cur.at + 1].low in {"back", "forward", "behind"}
    if pad[cur.at].low not in _MATERIAL and not again:
        cur.at = here
        return None
    cur.at += 1
    if (
        pad[cur.at].low == "."
        and pad[cur.at].glued
        and pad[cur.at + 1].low in {"fwd", "forward", "over", "f", "o", "r"}
    ):
        cur.at += 1
    said: set[str] = set()
    times = 1
    for _ in range(16):
        t = pad[cur.at]
        if t.low not in _WAYS and not (t.low == "-" and t.glued):
            break
        if t.low in {
            "and",
            "knit",
            "purl",
            "pearl",
            "1",
            "as",
            "making",
            "3",
            "three",
            "in",
            "to",
            "before",
            "at",
        }:
            one = pad[cur.at + 1].low
            fits = {
                "and": {"over", "round", "around"},
                "as": {"if"},
                "in": {"front", "the"},
                "to": {"the", "front", "back", "its", "right", "form", "make", "purl"},
                "3": {"times"},
                "three": {"times"},
                "making": {"1", "a", "one"},
                "before": {"the", "needle"},
                "knit": set(),
                "purl": set(),
                "pearl": set(),
                "1": {"loop", "stitch"},
                "at": {"the", "back"},
            }[t.low]
            if one not in fits and not (t.low == "to" and "if" in said):
                break
        said.add(t.low)
        if t.low == "twice":
            times = 2
        elif t.low in {"3", "three"}:
            times = 3
        cur.at += 1
    if not said:
        cur.at = here
        return None
    if (
        pad[cur.at].low == "."
        and pad[cur.at].glued
        and pad[cur.at - 1].low == "fwd"
        and pad[cur.at + 1].low in {",", ";"}
    ):
        cur.at += 1
    if (times == 1) and pad[cur.at].low == "twice":
        cur.at += 1
        times = 2
    span = cur.span_from(here)
    if said & {"over", "round", "around", "rn"}:
        return (work("yo", number_of(times, span), span),)
    if said & {"back", "behind", "backward", "backwards"} or "place" in said:
        return (YarnTo(front=False, span=span),)
    following = next_op(cur).low
    if "before" in said or "front" in said or verb in {"keep", "keeping"}:
        if following in _PURLS and _purl_together(cur):
            return (work("yo", ONE, span),)
        return (YarnTo(front=True, span=span),)
    if said & {"forward", "forwards", "fwd", "fwrd"}:
        if following in _SLIPPED and _back_after_slip(cur):
            return (YarnTo(front=True, span=span),)
        if (
            following in _SLIPPED
            and not _slip_is_decrease(cur, ctx)
            and (following not in {"slip", "sl", "sl1"} or ctx.terms != "old" or next_op(cur).low == "turn")
        ):
            return (YarnTo(front=True, span=span),)
        return (work("yo", number_of(times, span), span),)
    cur.at = here
    return None


_TAKEN_BACK = frozenset("pass bring put throw take turn and then the your".split())


def _back_after_slip(cur: Cursor) -> bool:
    """Whether the wool is taken back after one slip: "wool forward, slip 1, pass the wool back" makes no
    loop.
    """
    pad = cur.pad
    i = cur.at
    while pad[i].low in SEPARATORS:
        i += 1
    i += 1
    while (
        pad[i].kind == "n" or pad[i].value is not None or pad[i].low in {"a", "the", "st", "stitch", "next"}
    ):
        i += 1
    while pad[i].low in SEPARATORS or pad[i].low in _TAKEN_BACK:
        i += 1
    return pad[i].low in _MATERIAL and pad[i + 1].low in {"back", "behind"}


def _purl_together(cur: Cursor) -> bool:
    i = cur.at
    while cur.pad[i].low in SEPARATORS:
        i += 1
    return cur.pad[i].low in {"p2tog", "p3tog"} or (
        cur.pad[i + 1].value is not None and cur.pad[i + 2].low in {"together", "tog"}
    )


def parse_make(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Make := ("make" | "m") (number | "one" | "a stitch") ("left" | "right" | "purlwise" | "below" | "by
    ...")?

    "make 1" (a yarn over in old texts), "make 1 left", "make one purlwise", "make 2"
    """
    del depth
    here = cur.at
    pad = cur.pad
    t = pad[here]
    cur.at += 1
    if t.low == "m" and (pad[cur.at].kind != "n" or not isinstance(pad[cur.at].value, int)):
        if not (pad[cur.at].low == "." and pad[cur.at + 1].kind == "n"):
            cur.at = here
            return None
        cur.at += 1
    if pad[cur.at].low == "." and pad[cur.at + 1].kind == "n" and len(t.low) == 1:
        cur.at += 1
    glued = t.low in {"m1", "mk1"}
    count: Number | None = ONE if glued else parse_number(cur, ctx)
    if count is None and cur.take("a", "another") is not None and pad[cur.at].low in STITCH_WORDS:
        count = ONE
    if count is None:
        cur.at = here
        return None
    sts = take_stitch_word(cur)
    if pad[cur.at].low in {"bobble", "knot", "buttonhole", "hole", "more", "holes", "times"}:
        cur.at = here
        return None
    name = ""
    if cur.any_phrase("left|l", "- l", "m1l", "left -? leaning"):
        name = "M1L"
        cur.any_phrase("leaning|slanting", "- leaning|slanting")
        if cur.any_phrase("purlwise|pwise|purl|p", "- p"):
            name = "M1LP"
    elif cur.any_phrase("right|r", "- r"):
        name = "M1R"
        cur.any_phrase("leaning|slanting", "- leaning|slanting")
        if cur.any_phrase("purlwise|pwise|purl|p"):
            name = "M1RP"
    elif cur.any_phrase("below", "in the? row below", "in? st|stitch below"):
        name = "rli"
        cur.any_phrase("purlwise|pwise", "knitwise|kwise")
    elif cur.any_phrase("purlwise|pwise", "p - wise", "p wise", "purl"):
        name = "M1P"
    elif cur.any_phrase("knitwise|kwise", "k - wise", "tbl", "through the? back loop?"):
        name = "M1"
    if cur.take("by", "(") is not None:
        cur.at -= 1
        words = _explained(cur)
        if words & {"yarn", "over", "forward", "wool", "thread"} and not words & {
            "lifting",
            "lift",
            "picking",
            "strand",
            "bar",
        }:
            name = "yo"
        elif words & {"twice", "back"} and words & {"front"}:
            name = "kfb"
        elif words:
            name = name or "M1"
    take_manner(cur)
    span = cur.span_from(here)
    into = into_tail(cur, ctx) if pad[cur.at].low in {"in", "into"} else None
    if into is not None:
        return (work("kfb", into[0], cur.span_from(here)),)
    del sts
    if name:
        return (work(name, count, span),)
    if ctx.terms == "old":
        return (work("yo", count, span),)
    if t.low == "make" and not ctx.terms:
        return (Work(stitch=key("M1"), count=count, readings=(key("M1"), key("yo")), span=span),)
    return (Work(stitch=key("M1"), count=count, span=span),)


def _explained(cur: Cursor) -> set[str]:
    """As in "by lifting the strand before the next st", "(by picking up the bar)": taken up to the comma
    or bracket.
    """
    here = cur.at
    closed = cur.take("(")
    if closed and cur.peek().low not in {
        "by",
        "pick",
        "lift",
        "picking",
        "lifting",
        "knit",
        "yarn",
        "i",
        "with",
    }:
        cur.at = here
        return set()
    words: set[str] = set()
    for _ in range(40):
        t = cur.peek()
        if not t.kind or t.low in {";", "."} or (t.low == "," and not closed):
            break
        if t.low == ")":
            cur.next()
            return words
        if t.low in {"*", "[", "("}:
            break
        words.add(t.low)
        cur.next()
    if closed:
        cur.at = here
        return set()
    return words


def parse_turn_over(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """turn-over := "turn" "over" "twice"?: an old yarn over

    "turn over, knit two together", "turn over twice"
    """
    del depth
    here = cur.at
    if not cur.phrase("turn over"):
        return None
    n = _double(cur, ctx) or ONE
    return (work("yo", n, cur.span_from(here)),)


def parse_double(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """As in "double yo", "double over": two loops."""
    del ctx, depth
    here = cur.at
    if cur.phrase("double yo|over|yarn-over") or cur.phrase("double yarn over"):
        return (work("yo", number_of(2, Span(cur.pad[here].start, cur.pad[here].end)), cur.span_from(here)),)
    return None


_OVER = (parse_over,)
_YARN = (parse_yarn_words,)
_EITHER = (parse_yarn_words, parse_pass)
WORDS: dict[str, tuple[Handler, ...]] = {
    **dict.fromkeys(
        (
            "yo",
            "over",
            "yfwd",
            "yf",
            "yfd",
            "yfon",
            "yon",
            "yrn",
            "yfrn",
            "yos",
            "wl",
            "w",
            "t",
            "wfwd",
            "wlfwd",
            "forward",
            "yft",
            "yarnover",
            "o",
            "y",
            "overs",
            "wrn",
            "yfd",
        ),
        _OVER,
    ),
    **dict.fromkeys(
        (
            "yarn",
            "wool",
            "thread",
            "cotton",
            "silk",
            "bring",
            "bringing",
            "throw",
            "throwing",
            "put",
            "place",
            "placing",
            "putting",
            "carry",
            "wind",
            "lay",
            "passing",
        ),
        _YARN,
    ),
    **dict.fromkeys(("pass", "take", "draw", "pull"), _EITHER),
    **dict.fromkeys(("yb", "ybk", "ytb"), (parse_back,)),
    "make": (parse_make,),
    "m1": (parse_make,),
    "m": (parse_make,),
    "makes": (parse_make,),
    "mk1": (parse_make,),
    "turn": (parse_turn_over, parse_yarn_words),
    "double": (parse_double,),
    "keep": _YARN,
    "keeping": _YARN,
}
