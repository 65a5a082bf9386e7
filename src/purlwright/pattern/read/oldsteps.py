"""Steps as old books put them: an over before each of some stitches, one between every three.

In: a cursor after a step, and the step. Out: the repeat that is meant, or the step unchanged.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.numbers import ONE, parse_number
from purlwright.pattern.read.places import STITCH_WORDS
from purlwright.pattern.tree import Number, Place, PlaceKind, Repeat, Said, Work

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.read.working import Steps
    from purlwright.pattern.tokens import Cursor

__all__ = ["before_each"]

_OVERS = frozenset({"yo", "M1", "M1L", "M1R", "m1", "M1P"})


def before_each(cur: Cursor, ctx: Context, start: int, found: Steps) -> Steps:
    """BEFORE-EACH: OVER ("before" | "after") "each" ("of" "the" "other")? NUMBER? "stitches" | OVER "between"
    "every" NUMBER "stitches".

    "bring the wool forward before each of the other 6 stitches", "make 1 between every 3 stitches"
    """
    one = found[-1]
    if len(found) != 1 or not isinstance(one, Work) or one.count.values != (1,):
        return found
    if one.stitch not in _OVERS and not one.readings:
        return found
    here = cur.at
    word = cur.next().low
    if not cur.any_phrase("each|every of the? other|next|remaining|last|following?", "each|every", "the"):
        cur.at = here
        return found
    n = parse_number(cur, ctx)
    if cur.peek().low not in STITCH_WORDS or (n is None and word == "between" and cur.peek().low[-1:] == "s"):
        cur.at = here
        return found
    cur.at += 1
    of = any(t.low == "of" for t in cur.tokens[here : cur.at])
    cur.any_phrase("of|in the? row|round", "in the? row|round")
    span = cur.span_from(start)
    plain = Work(stitch="k", count=ONE, span=span)
    if word == "between" or (n is not None and not of):
        # so many stitches stand between one and the next
        run = Work(stitch="k", count=n or Number(values=(1,), span=span), span=span)
        body: Steps = (one, run) if word == "before" else (run, one)
        end = Place(kind=PlaceKind.END, span=span)
        return (Repeat(body=body, to=end, said=Said.OPEN, mark="", span=span),)
    body = (one, plain) if word == "before" else (plain, one)
    if n is None:
        end = Place(kind=PlaceKind.END, span=span)
        return (Repeat(body=body, to=end, said=Said.TO, mark="", span=span),)
    return (Repeat(body=body, times=n, said=Said.IN_ALL, mark="", span=span),)
