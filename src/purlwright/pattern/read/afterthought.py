"""An opening held by a row of other yarn: "Remove waste yarn and place the 18 live sts on dpns", "pick up
9 sts above and 9 sts below the waste yarn".

In: a cursor at such words. Out: :class:`PickUp` of the loops that lie open above and below. The row of other
yarn itself is worked like any other stitches, slipped back and worked over.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.amounts import skip, until_mark, words_from
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.tree import Edge, Number, PickUp

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["parse_opening"]

_UNDO = Phrases(
    "carefully? remove|unpick|undo|unravel|snip|cut|release|pick|take|pull out? the? waste|scrap|contrast"
    " yarn|thread|wool|stitches|sts",
)  # fmt: skip
_TAKE = Phrases(
    "place|put|slip|transfer|return|catch|pick|take|picking|placing|slipping up? the? resulting|open? live?",
)  # fmt: skip
_LOOPS = frozenset("st sts stitch stitches loops loop".split())
_EXTRA = Phrases("picking|pick up and? knit?", "plus", "and pick up")


def parse_opening(cur: Cursor, ctx: Context) -> tuple[PickUp, ...] | None:
    """OPENING: REMOVE-YARN "and" TAKE COUNT | "pick up" COUNT ("," | "then") REMOVE-YARN; then CORNERS?.

    COUNT is "18 live sts" or "9 sts above and 9 sts below".
    """
    here = cur.at
    first = _UNDO.take(cur) is not None
    if first and skip(cur, ",", "and", ".", ";", "then") == 0:
        cur.at = here
        return None
    if _TAKE.take(cur) is None:
        cur.at = here
        return None
    count = _both_sides(cur, ctx, need=not first)
    if count is None:
        cur.at = here
        return None
    stop = until_mark(cur, 14, frozenset({"and"}))
    words = {cur.peek(i).low for i in range(stop)}
    if words & {"pick", "knit", "purl"}:
        cur.at = here
        return None
    cur.at += stop
    if not first:
        skip(cur, ",", "and", "then", ";")
        if _UNDO.take(cur) is None and not words & {"waste", "scrap", "opening", "contrast"}:
            cur.at = here
            return None
    edge = Edge(words=words_from(cur, here), span=cur.span_from(here))
    out = [PickUp(count=count, how="lift", edge=edge, span=cur.span_from(here))]
    corners = _corners(cur, ctx)
    if corners is not None:
        out.append(corners)
    return tuple(out)


def _both_sides(cur: Cursor, ctx: Context, *, need: bool) -> Number | None:
    """COUNT: NUMBER "live"? "sts" ("from"? "above" "and" NUMBER "sts"? "from"? "below")?."""
    n = parse_number(cur, ctx)
    skip(cur, "live", "open", "held", "exposed", "thumb", "heel")
    if n is None or cur.take(*_LOOPS) is None:
        return None
    at = cur.at
    skip(cur, "from", "along", "on", "the")
    if cur.take("above", "top", "upper", "below", "bottom", "lower") is None:
        cur.at = at
        return None if need else n
    skip(cur, "edge", "row", "of", "the", "opening", "waste", "yarn", ",", "and")
    more = parse_number(cur, ctx)
    if more is None:
        return None if need else n
    cur.take(*_LOOPS)
    skip(cur, "from", "along", "on", "the")
    if cur.take("above", "top", "upper", "below", "bottom", "lower") is None:
        return None
    size = max(len(n.values), len(more.values))
    pairs = [(n.at(i), more.at(i)) for i in range(size)]
    values = tuple(None if a is None or b is None else a + b for a, b in pairs)
    return Number(values=values, span=n.span.cover(more.span))


def _corners(cur: Cursor, ctx: Context) -> PickUp | None:
    """CORNERS: "," "picking up" NUMBER "extra"? "st" "at each" ("corner" | "side" | "end"): twice as many."""
    here = cur.at
    skip(cur, ",", "and")
    start = cur.at
    if _EXTRA.take(cur) is not None:
        n = parse_number(cur, ctx)
        skip(cur, "extra", "more", "additional")
        if (
            n is not None
            and cur.take(*_LOOPS) is not None
            and cur.any_phrase("at|in|from each|both corner|corners|side|sides|end|ends|gap")
        ):
            cur.any_phrase("of the? opening|gap")
            both = Number(values=tuple(None if v is None else 2 * v for v in n.values), span=n.span)
            edge = Edge(words=words_from(cur, start), span=cur.span_from(start))
            return PickUp(count=both, how="lift", edge=edge, span=cur.span_from(start))
    cur.at = here
    return None
