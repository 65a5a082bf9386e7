"""Where shaping is done: "at each end", "at neck edge", "each side of marker", "at the end of each needle".

In: a cursor at such words. Out: one of a few places, or the steps that stand for it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from purlwright.pattern.read.amounts import STITCHES, skip
from purlwright.pattern.read.numbers import ONE, TWO, parse_number
from purlwright.pattern.tree import InPattern, Number, Place, PlaceKind, Repeat, Said, Step, Work

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["Where", "each_needle", "parse_inside", "parse_where"]


Where = Literal["each end", "beginning", "end", "neck edge", "armhole edge", "each side of marker", "centre"]


def each_needle(cur: Cursor, change: Literal[1, -1]) -> tuple[Step, ...] | None:
    """EACH-NEEDLE: "at the"? ("beginning" | "end") "of each needle": once on every needle of the round."""
    here = cur.at
    skip(cur, ",", "at", "the", "on")
    t = cur.take("beginning", "beg", "end", "start", "both")
    both = t is not None and (t.low == "both" or cur.phrase("and at? the? end|beginning"))
    if t is not None and t.low == "both" and cur.take("ends") is None:
        cur.at = here
        return None
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
    if both:
        short_end = Place(kind=PlaceKind.NEEDLE_END, before=short, span=span)
        body = (stitch, InPattern(to=short_end, span=span), stitch)
    elif t.low == "end":
        before = Place(kind=PlaceKind.NEEDLE_END, before=short, span=span)
        body = (InPattern(to=before, span=span), stitch)
    return (Repeat(body=body, said=Said.OPEN, mark="", span=span),)


def parse_where(cur: Cursor) -> Where | None:
    """WHERE: "each end", "at both ends of the needle", "at beg and end", "at neck edge", "on each side",
    "at centre".
    """
    here = cur.at
    skip(cur, ",")
    skip(cur, "at", "on", "the", "in", "of", "from")
    both = cur.take("each", "both", "every", "either") is not None
    t = cur.peek().low
    if both and t in {"end", "ends", "edge", "edges", "side", "sides"}:
        cur.at += 1
        if (
            cur.phrase("of the? seam - stitch")
            or cur.phrase("of the? marker|markers|m|seam stitch|st?")
            or cur.phrase("of each|every|both|all of? the? marker|markers|m|seam|raglan stitch|st|marker?")
            or cur.phrase("of centre|center st|stitch")
            or cur.phrase("of the? foot|leg|gusset|instep|neck|sleeve|body|hand|thumb|heel|seam")
        ):
            return "each side of marker"
        cur.phrase("of the? needle|needles|work|piece")
        return "each end"
    if both and t in {"neck", "armhole", "side"}:
        cur.at += 1
        skip(cur, "edge", "edges")
        return "each end"
    where: Where | None = None
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
        "shoulder",
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


def parse_inside(cur: Cursor, ctx: Context) -> Number | None:
    """INSIDE: "," ("inside" | "within") NUMBER "edge"? "sts": how many edge stitches stand outside it."""
    here = cur.at
    skip(cur, ",")
    if cur.take("inside", "within") is not None:
        skip(cur, "the", "of")
        n = parse_number(cur, ctx)
        skip(cur, "edge", "border", "selvedge", "end")
        if n is not None and cur.take(*STITCHES) is not None:
            return n
    cur.at = here
    return None
