"""Brackets that say again what a fabric is: "stockinette st (k 1 row, p 1 row)", "st st (k on RS, p on WS)".

In: a cursor after the name of a fabric. Out: whether such a bracket was taken; it works nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.amounts import ROW_WORDS
from purlwright.pattern.read.prose import aside_end

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor, Token

__all__ = ["explained", "told_by_sides"]

_EXPLAINS = frozenset(
    "k p then knit purl row rows round rounds rnd every each and , plain alternately all on rs ws side"
    " right wrong both ridge ridges garter = the st sts stitch stitches is ; i . e that odd even"
    " numbered".split()
)
_SIDES = frozenset({"rs", "ws", "side", "sides"})


def told_by_sides(cur: Cursor) -> bool:
    """BY-SIDES: "(k on RS, p on WS)", "(knit on right side rows, purl on wrong side rows)"; taken."""
    end = aside_end(cur) if cur.peek().low == "(" else 0
    inside = cur.tokens[cur.at + 1 : end - 1] if end > 0 else []
    if not _only_explains(inside) or not _SIDES.intersection(t.low for t in inside):
        return False
    cur.at = end
    return True


def _only_explains(inside: list[Token]) -> bool:
    return bool(inside) and all(t.kind == "n" or t.low in _EXPLAINS for t in inside)


def explained(cur: Cursor) -> bool:
    """EXPLAINED: "stockinette st (K 1 row, P 1 row)": the words in brackets say again what the ground is.

    Gives whether they were taken.
    """
    if cur.peek().low not in {"(", ","} and not (cur.peek().low == "." and cur.peek().glued):
        return False
    if cur.any_phrase("( turning|fold|purl|picot|hem|garter|folding ridge|line|row|round|edge|fold )"):
        return True
    here = cur.at
    cur.take(",") or (cur.take(".") if cur.peek(1).low == "(" else None)
    end = aside_end(cur)
    inside = cur.tokens[cur.at + 1 : end - 1] if end > 0 else []
    low = {t.low for t in inside}
    if (
        inside
        and low & {"k", "p"}
        and all(t.kind == "n" or t.low in {"k", "p", ".", ",", "and"} for t in inside)
    ):
        # "double rib (k2, p2)"
        cur.at = end
    elif _only_explains(inside) and low & {*ROW_WORDS, *_SIDES}:
        cur.at = end
    else:
        cur.at = here
    return cur.at > here
