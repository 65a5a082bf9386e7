"""Joining into a round, and sharing stitches out over needles.

In: a cursor at "join", "close" or "divide". Out: :class:`JoinRound` and :class:`Arrange`; no loop is
worked by either.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.pattern.read.amounts import STITCHES, skip, until_mark
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.tree import Arrange, JoinRound, Number

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["parse_divide", "parse_join"]


_RING = Phrases(
    "in the? round|rnd|rounds", "into a? round|ring|circle|rnd|loop", "in a? round|ring|circle|rnd",
    "round", "rnd",
    "to work|knit|form in? the|a? round|rounds|ring|circle|rnd|rnds",
    "to begin? working|knitting in the? round|rounds",
    "and|to work|begin|start working|knitting? in the? round|rounds|rnd|rnds",
    "for working|knitting in the? round|rounds|rnd|rnds",
    "to form a? ring|circle|round", "ends", "for circular knitting",
)  # fmt: skip


_CARE = Phrases(
    "being careful|sure not to twist", "and|&? be careful not to twist", "taking care not to twist",
    "take care not to twist",
    "careful not to twist", "without twisting", "making sure not to twist", "do not twist",
    "making sure sts|stitches are not twisted",
    "being sure not to twist", "making sure work is not twisted",
    "making sure that? the? sts|stitches|work are|is not twisted",
    "making certain not to twist", "make sure not to twist",
    "making sure that? the|your? cast -? on|off? edge? is not twisted",
    "making sure that? the|your? cast-on edge? is not twisted",
)  # fmt: skip


_ENDS = Phrases(
    "the? sts|stitches|them|it|work|whole|ends|ring|circle|round|these",
    "the? first and last sts|stitches", "these sts|stitches",
    "both ends", "the ends of the? row",
)  # fmt: skip


def parse_join(cur: Cursor, ctx: Context) -> tuple[JoinRound, ...] | None:
    """CARE? ("join" | "close") "stitches"? RING? CARE?: "Join in the round, being careful not to twist".

    "Taking care not to twist the cast-on edge, join for working in the round."
    """
    here = cur.at
    first = _care(cur)
    if first:
        skip(cur, ",", "and", "then")
        if cur.peek().low not in {"join", "close"}:
            cur.at = here
            return None
    if not ctx.yarns and cur.peek(1).low in {"mc", "cc", "yarn", "new"}:
        return None
    verb = cur.take("join", "close", "form", "joining")
    if verb is None:
        return None
    if cur.peek().low in ctx.yarns:
        cur.at = here
        return None
    _ENDS.take(cur)
    cur.take("together")
    said = verb.low == "close" or cur.peek(-1).low in {
        "ring",
        "circle",
        "round",
        "them",
        "sts",
        "stitches",
        "work",
    }
    ring = _RING.take(cur) is not None
    ring = _by_first_stitch(cur) or ring
    care = _care(cur) or first
    if not (
        ring
        or care
        or (said and verb.low in {"join", "close"})
        or (verb.low == "join" and cur.peek().low in {"", ".", ";", ","})
    ):
        cur.at = here
        return None
    if verb.low == "form" and not ring:
        cur.at = here
        return None
    if care and not ring:
        _RING.take(cur)
    _care(cur)
    return (JoinRound(span=cur.span_from(here)),)


def _by_first_stitch(cur: Cursor) -> bool:
    """BY-FIRST: "by working the first st on left needle with the yarn from the right": how it is joined."""
    here = cur.at
    if cur.any_phrase("by working|knitting|purling the? first st|stitch") is None:
        return False
    cur.any_phrase("on|of|from the? left? hand? -? needle", "cast on", "that was cast on")
    cur.any_phrase(
        "with|using the? working? yarn from|at the? right? hand? -? needle", "with the? working yarn"
    )
    at = cur.at
    skip(cur, "and", ",")
    if _CARE.take(cur) is not None or cur.peek().low in {"", ".", ";"}:
        cur.at = at
        skip(cur, "and")
        return True
    cur.at = here
    return False


def _care(cur: Cursor) -> bool:
    here = cur.at
    skip(cur, ",", "(", "-", ";", ".")
    if _CARE.take(cur) is not None:
        skip(cur, "the", "your", "any", "of", "sts", "stitches", "work", "loops", "it", "them")
        skip(cur, ")", "cast", "-", "on", "cast-on", "caston", "co", "edge", "row", "sts", "stitches")
        cur.any_phrase("is|are not twisted", "around|round the? needle|needles")
        cur.any_phrase("around|round the? needle|needles")
        return True
    cur.at = here
    return False


_SHARE = (
    "divide",
    "divided",
    "arrange",
    "distribute",
    "dividing",
    "arranging",
    "distributing",
    "spread",
    "place",
    "slip",
    "put",
)


_ON = frozenset({"needle", "needles", "dpns", "pins", "dpn"})


def parse_divide(cur: Cursor, ctx: Context) -> tuple[Arrange | JoinRound, ...] | None:
    """("divide" | "arrange") "sts"? "evenly"? "on" NUMBER? "needles" (NUMBER "-" NUMBER ...)?: where the
    needles end.
    """
    here = cur.at
    verb = cur.take(*_SHARE)
    if verb is None:
        return None
    n = until_mark(cur, 16, frozenset({"and", "having", "with"}))
    words = [cur.peek(i).low for i in range(n)]
    if not _ON.intersection(words) or {"holder", "waste", "spare", "cable"}.intersection(words):
        cur.at = here
        return None
    if verb.low in {"place", "slip", "put"} and "held" in words:
        cur.at = here
        return None
    if verb.low in {"place", "slip", "put"} and not {"first", "1st", "half", "quarter", "all"}.intersection(
        words
    ):
        cur.at = here
        return None
    last = max(i for i, w in enumerate(words) if w in _ON)
    count: Number | None = None
    stop = cur.at + last + 1
    while cur.at < stop:
        number = parse_number(cur, ctx) if cur.peek().value is not None and cur.peek().kind != "o" else None
        if number is None:
            cur.at += 1
        elif cur.peek().low not in {"sts", "st", "stitches"}:
            count = number
    cur.at = max(cur.at, stop)
    cur.phrase("as evenly as possible|you can") or cur.take("evenly")
    at = cur.at
    shares = _shares(cur, ctx)
    each = any(t.low == "each" for t in cur.tokens[at : cur.at])
    if each or cur.any_phrase("per|each|on|for each|every? needle|dpn|ndl )?"):
        shares = shares * (min(count.at(0) or 1, 20) if count is not None and len(shares) == 1 else 1)
    return (Arrange(needles=shares, count=count, span=cur.span_from(here)),)


def _shares(cur: Cursor, ctx: Context) -> tuple[Number, ...]:
    """(":" | "having" | "with")? NUMBER ("-" | "," | "on 1st needle" ...) NUMBER ...: how many lie on each
    needle.
    """
    at = cur.at
    skip(cur, ":", ",", ";", "(", "having", "with", "thus", "as", "follows", "-")
    out: list[Number] = []
    while len(out) < 20:
        skip(cur, "and", "with", "leaving")
        number = parse_number(cur, ctx) if cur.peek().kind == "n" or cur.peek().value is not None else None
        if number is None or cur.peek().low in {"rows", "rounds", "cm", "ins", "inches", "times"}:
            break
        skip(cur, *STITCHES)
        if cur.phrase("on|to|for each of? the? other? two|2|3|three?"):
            cur.take("needles", "needle", "pins")
        elif cur.phrase("on|to|for the?"):
            skip(
                cur,
                "each",
                "of",
                "first",
                "second",
                "third",
                "fourth",
                "1st",
                "2nd",
                "2d",
                "3rd",
                "3d",
                "4th",
                "other",
                "needle",
                "needles",
                "pin",
            )
        else:
            cur.take("each")
        out.append(number)
        at = cur.at
        if not skip(cur, "-", "--", ",", "+", ";", "/", "and"):
            break
    cur.at = at
    cur.take(")") if out else None
    return tuple(out)
