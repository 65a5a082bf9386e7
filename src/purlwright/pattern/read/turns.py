"""Turns and wraps; how earlier turns are closed stands in ``wraps``.

In: a cursor at "turn", "w&t", "wrap", "slide" Out: ``Turn``, ``Wrap``.
"""

from __future__ import annotations

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import ONE, parse_number
from purlwright.pattern.read.places import take_stitch_word
from purlwright.pattern.read.working import Handler, Steps, take_manner
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Number, Turn, TurnHow, Wrap

__all__ = ["WORDS", "parse_turn"]

_DOUBLE = (
    "and|,? make|work|create a? double stitch|st|sts|stitches",
    "and|,? make|work ds",
    "and|, mds",
    "and|,? pull up a? double stitch|st",
    "and work a? double stitch|st",
)


def _leaving(cur: Cursor, ctx: Context) -> Number | None:
    """Leaving := ","? ("leaving" | "leave") ("the"? ("rem" | "last") | number) stitches? ("unworked" |
    ...)?

    "turn, leaving 4 sts unworked", "turn, leaving rem sts unworked"
    """
    at = cur.at
    if cur.any_phrase(",? leaving|leave", "and leave", "( leaving|leave", "- leaving|leave") is None:
        if cur.peek().low in {",", "(", "-", "with"} or cur.peek().kind == "n":
            opened = cur.take("(")
            if opened is None:
                cur.take(",", "-", "with")
            n = parse_number(cur, ctx)
            if n is not None:
                take_stitch_word(cur)
                if cur.any_phrase("unworked", "left|remain|remaining|rem unworked", "left unworked?"):
                    if opened is not None:
                        cur.take(")")
                    return n
        cur.at = at
        return None
    in_brackets = cur.tokens[at].low == "("
    cur.any_phrase("the? remaining|rem|last|other|rest")
    n = parse_number(cur, ctx)
    cur.take("of")
    cur.take("the")
    cur.take("remaining", "rem")
    sts = take_stitch_word(cur)
    more = cur.any_phrase(
        "unworked|unknit|unknitted|unpurled",
        "on the? left? hand? needle",
        "at the? end unworked?",
        "not worked|knitted",
        "un - worked",
    )
    if (n is None and not sts and more is None) or (more is None and cur.peek().low in {"on", "onto", "to"}):
        cur.at = at
        return None
    if in_brackets:
        cur.take(")")
    return n


def _turned(cur: Cursor, ctx: Context, here: int, how: TurnHow) -> Steps:
    cur.any_phrase("the? work|needle|needles|knitting|piece|row", "work around")
    if how is TurnHow.PLAIN and cur.any_phrase(*_DOUBLE):
        how = TurnHow.DOUBLE
    if how is TurnHow.PLAIN and cur.any_phrase("and|,? yo", "and|,? yarn over"):
        how = TurnHow.OVER
    leave = _leaving(cur, ctx)
    take_manner(cur)
    return (Turn(how=how, leave=leave, span=cur.span_from(here)),)


def parse_turn(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Turn := "turn" "work"? (","? "leaving" number "sts unworked")? | "turn" "and" "make" "double stitch"

    "turn", "turn work", "turn, leaving 4 sts unworked"
    """
    del depth
    here = cur.at
    cur.next()
    if cur.peek().low == "the" and cur.peek(1).low in {"heel", "hem", "piece", "sock", "toe"}:
        cur.at = here
        return None
    if cur.peek().low in {"heel", "sock", "hem", "inside"}:
        cur.at = here
        return None
    cur.any_phrase("back", "about", "round the? work|needle|pin", "round|around")
    return _turned(cur, ctx, here, TurnHow.PLAIN)


def parse_wrap_turn(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """wrap-turn := "w&t" | "w" "&" "t" | "wrap" ("next st")? ("and" | "&" | ",")? "turn"

    "w&t", "wrap and turn", "wrap next st and turn"; "wrap next st" alone is a wrap
    """
    del depth
    here = cur.at
    t = cur.next()
    if t.low == "w":
        if not cur.phrase("&|+|/|and|- t"):
            cur.at = here
            return None
        return _turned(cur, ctx, here, TurnHow.WRAP)
    if t.low != "wrap":
        return _turned(cur, ctx, here, TurnHow.WRAP)
    cur.any_phrase("the? next", "the", "yarn around|round the?")
    n = parse_number(cur, ctx)
    cur.any_phrase("next|following")
    take_stitch_word(cur)
    at = cur.at
    for _ in range(2):
        if cur.take("and", "&", ",", ".", ";") is None:
            break
    if cur.take("turn") and cur.peek().low != "over":
        return _turned(cur, ctx, here, TurnHow.WRAP)
    cur.at = at
    return (Wrap(count=n or ONE, span=cur.span_from(here)),)


def parse_double_stitch(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """double-stitch := "mds" | "gsr" | "make" "a"? "double" "stitch" | "ds"

    "MDS", "make double stitch"; it is the turn that it belongs to
    """
    del depth
    here = cur.at
    t = cur.next()
    if (
        t.low in {"make", "work"}
        and not cur.phrase("a? double stitch|st|sts|stitches")
        and not cur.phrase("a? ds")
    ):
        cur.at = here
        return None
    at = cur.at
    if cur.any_phrase("and|&|,? turn"):
        return _turned(cur, ctx, here, TurnHow.DOUBLE)
    cur.at = at
    if cur.kept.get("turned") is not None:
        pass
    take_manner(cur)
    del ctx
    return (Turn(how=TurnHow.DOUBLE, span=cur.span_from(here)),)


def parse_no_turn(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """no-turn := ("do" "not" | "don't" | "without") ("turn" | "turning")

    "do not turn", "don't turn", "without turning"
    """
    del ctx, depth
    here = cur.at
    if cur.any_phrase("do not turn", "don't turn", "dont turn", "without turning", "not turning"):
        cur.any_phrase("the? work|needle")
        cur.any_phrase("after|at|on the? end? of? the? this? last|final|row|rnd row|rnd?")
        return (Turn(never=True, span=cur.span_from(here)),)
    return None


def parse_slide(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Slide := "slide" ("sts" | "work")? ("to" "other" "end" ...)?

    "slide", "slide sts to other end of needle"
    """
    del ctx, depth
    here = cur.at
    cur.next()
    cur.any_phrase("all? the? sts|stitches|work|needle")
    cur.any_phrase(
        "back? to the? other|right|opposite|beginning|beg|start end|tip|side of? the? needle|row?",
        "back? to the? right|beginning of the? needle|row",
        "to the? end",
    )
    cur.any_phrase("of the? needle|row")
    return (Turn(slide=True, span=cur.span_from(here)),)


_WT = (parse_wrap_turn,)
_MDS = (parse_double_stitch,)
WORDS: dict[str, tuple[Handler, ...]] = {
    "turn": (parse_turn,),
    "turning": (parse_turn,),
    "w": _WT,
    "w&t": _WT,
    "wt": _WT,
    "wrap": _WT,
    "w-t": _WT,
    "w/t": _WT,
    "w+t": _WT,
    "mds": _MDS,
    "gsr": _MDS,
    "ds": _MDS,
    "make": _MDS,
    "do": (parse_no_turn,),
    "don't": (parse_no_turn,),
    "dont": (parse_no_turn,),
    "without": (parse_no_turn,),
    "not": (parse_no_turn,),
    "slide": (parse_slide,),
}
