"""Rows or rounds, and over which stitches: "work back and forth over 24 sts", "on these 8 sts only".

In: a cursor at the start of a clause. Out: :class:`Resume`. Which stitches those are on the needle, and when
the others are worked again, is left to ``needles``.
"""

from __future__ import annotations

from typing import Literal

from purlwright.pattern.read.amounts import skip
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Action, Note, Number, Resume

__all__ = ["parse_direction", "take_headed", "take_over"]

_Part = Literal["", "these", "first", "last", "centre", "half"]

_DIRECTION = Phrases(
    "work|working|knit|continue|cont? now? back and forth in? rows?",
    "now? work|working|knit|cont|continue flat",
    "work|working|knit|continue|cont in rows",
    "work|working|knit the? heel|instep|flap|thumb|toe? back and forth",
    "from here|now on , work in rounds|rnds", "begin|start|now? working in the? round|rounds|rnds",
    "the? heel|flap|thumb|strap|tongue flap? is|are now? worked|knit|knitted back and forth in? rows?",
    "the? heel|flap|thumb|strap|tongue flap? is|are now? worked|knit|knitted flat",
    "the? heel|flap|thumb|strap|tongue flap? is|are now? worked|knit|knitted in rows",
    "the? heel|flap|thumb|strap|tongue flap? is|are now? worked|knit|knitted",
    "begin|start working back and forth", "resume working|knitting|work in the? round|rounds|rnd|rnds",
    "resume working|knitting|work in rows", "begin|start to work|knit in the? round|rounds|rnd|rnds",
    "now? work|working|knit|continue|cont in the? round|rounds|rnd|rnds",
    "work|working|knit|continue|cont", "now work|working|knit|continue|cont",
    "work|working|knit|continue|cont only", "continue|cont|proceed working",
    "now? proceed", "now? work|working the? heel|flap|thumb|strap flap?",
)  # fmt: skip
_SIDE_FIRST = Phrases(
    "complete|finish|work|working|cont|continue on? this|one|right|left|first side first|alone|separately",
    "complete|finish|work|working|cont|continue on? this|one|right|left|first side of the? neck first|only",
)  # fmt: skip
_ENDS = frozenset({"", ".", ";", ",", ":", "(", "for", "until", "till", "as", "in", "and", "thus", "work"})
_WHAT_FOR = Phrases(
    "for|to make|work? the? heel|instep|flap|thumb|strap|tongue|shoulder|earflap flap?",
    "for the? first|second|left|right|one side|half|shoulder|front|back|leg|arm|sleeve? of? the? neck?",
)


def parse_direction(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """DIRECTION: WAY OVER?: "work back and forth in rows", "cont on these 20 sts only", "begin in the round".

    "K22, turn and complete this side first": those up to the turn. A way that says neither rows nor rounds
    needs the stitches: "The heel is worked over 24 sts".
    """
    here = cur.at
    if _SIDE_FIRST.take(cur) is not None and cur.peek().low in _ENDS:
        return (Resume(part="these", span=cur.span_from(here)),)
    cur.at = here
    said = _DIRECTION.take(cur)
    if said is None:
        cur.at = here
        return _on_some(cur, ctx)
    if cur.peek(-1).low == "cont" and cur.peek().low == "." and cur.peek().glued:
        cur.at += 1
    flat: bool | None = "back" in said or "rows" in said or "flat" in said
    if not flat:
        flat = False if "round" in said else None
    at = cur.at
    over, part = take_over(cur, ctx)
    if not part and cur.at > at and (rest := _remaining(cur, ctx, at)) is not None:
        over, part = rest, "these"  # "continue on the remaining 48 stitches until ..."
    if not part:
        skip(cur, "in", "from", "here", "this", "point", "rows", "on")
        if flat is None or cur.peek().low in {"for", "until", "till", "plain", "even", "knitting", "over"}:
            cur.at = here
            return None
    elif flat is None and over is None and part in {"first", "last"}:
        cur.at = here
        return None
    if part:
        cur.take("only")
        _WHAT_FOR.take(cur)
        if cur.peek().low not in _ENDS:
            cur.at = here
            return None
    return (Resume(flat=flat, over=over, part=part, span=cur.span_from(here)),)


_WORKED = frozenset("knit work purl rib k p continue cont make repeat rep proceed pearl seam".split())


def _on_some(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """ON-SOME: "on the last 26 sts" ","? before what is worked on them: "On these 8 sts knit 20 rows"."""
    here = cur.at
    if cur.peek().low not in {"on", "over"}:
        return None
    over, part = take_over(cur, ctx)
    if not part and cur.at > here and (rest := _remaining(cur, ctx, here)) is not None:
        over, part = rest, "these"
    cur.take(",")
    if not part or cur.peek().low not in _WORKED:
        cur.at = here
        return None
    return (Resume(over=over, part=part, span=cur.span_from(here)),)


def _remaining(cur: Cursor, ctx: Context, here: int) -> Number | None:
    """REMAINING: "on the remaining 34 stitches", taken already: how many they are."""
    at = cur.at
    cur.at = here + 1
    skip(cur, "the")
    count = parse_number(cur, ctx) if cur.take("remaining", "rem") is not None else None
    cur.at = at
    return count


_WAY = Phrases("back and forth in? rows?", "flat in? rows?", "in rows", "in the? round|rounds|rnd|rnds")


def take_headed(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """HEADED: PART "(" "worked" WAY OVER? ")" ":"?: "Heel (worked back and forth over 30 sts):"."""
    here = cur.at
    if not out or not all(isinstance(a, Note) for a in out):
        return False
    if cur.take("(", "[") is None or cur.take("worked", "knitted", "knit") is None:
        cur.at = here
        return False
    said = _WAY.take(cur)
    over, part = take_over(cur, ctx)
    if (said is None and over is None) or cur.take(")", "]") is None:
        cur.at = here
        return False
    flat = None if said is None else "round" not in said and "rnd" not in said
    out.append(Resume(flat=flat, over=over, part=part, span=cur.span_from(here)))
    cur.take(":")
    return True


def take_over(cur: Cursor, ctx: Context) -> tuple[Number | None, _Part]:
    """OVER: ("on" | "over") ("these" | "first" | "last" | "half")? NUMBER? "heel"? "sts" "only"?.

    "over 24 sts", "on these sts only", "on the first 12 sts of the round", "over half the sts". Gives how
    many and which; ``part`` is "" where no stitches are told, or where they are all of them.
    """
    here = cur.at
    if cur.take("on", "over") is None:
        return None, ""
    at = cur.at
    skip(cur, *_POINTS)
    if cur.phrase("one? set|group of"):
        at = min(at, cur.at - 1)
    words = {t.low for t in cur.tokens[at : cur.at]}
    half = bool(cur.take("half"))
    if half:
        skip(cur, "of", "the", "total", "number")
    count = None if half else parse_number(cur, ctx)
    at = cur.at
    named = skip(cur, *_KINDS)
    words |= {t.low for t in cur.tokens[at : cur.at]}
    if cur.take("sts", "stitches", "st") is None:
        cur.at = here
        return None, ""
    if cur.peek().low == "." and cur.peek().glued and cur.peek(1).low in _AFTER_STS:
        cur.at += 1
    cur.any_phrase(
        "of|in the? last? rnd|round|row",
        "of the? first|second|left|right? side|shoulder|front",
        "just|already? worked|knitted",
    )
    alone = cur.take("only", "alone") is not None
    _rest_said(cur, ctx)
    if half:
        return None, "half"
    if words & {"all", "remaining", "rem", "other", "both"}:
        return None, ""
    middle = count is not None and bool(words & {"centre", "center", "middle"})
    part: _Part = (
        "centre" if middle else "first" if "first" in words else "last" if "last" in words else "these"
    )
    if part != "these" and words & {"these", "those"}:
        part = "these"
    if count is None and part == "these" and not (words & {"these", "those"} or alone or named):
        cur.at = here
        return None, ""
    return count, part


_AFTER_STS = frozenset({"only", "for", "and", ",", "until", "till", "thus", "as"})
_POINTS = (
    "these", "those", "the", "first", "last", "next", "following", "foll", "all", "remaining", "rem", "other",
    "both", "centre", "center", "middle",
)  # fmt: skip
_KINDS = (
    "left",
    "right",
    "leg",
    "shoulder",
    "sleeve",
    "heel",
    "flap",
    "thumb",
    "strap",
    "centre",
    "center",
    "middle",
    "live",
    "back",
    "front",
    "tongue",
)


def _rest_said(cur: Cursor, ctx: Context) -> None:
    """REST-SAID: ", leaving the other 24 sts unworked": what becomes of the others follows from it.

    So does ". Leave the remaining 28 (32, 36) sts on the needle for the instep".
    """
    here = cur.at
    cur.take(",", ".", ";", "and")
    if cur.take("leaving", "leave") is None:
        cur.at = here
        return
    skip(cur, "the")
    cur.take("other", "remaining", "rem", "rest", "instep")
    skip(cur, "of", "the")
    parse_number(cur, ctx)
    cur.take("instep")
    cur.take("sts", "stitches", "st")
    said = cur.any_phrase("unworked", "resting?", "to rest") is not None
    said = cur.any_phrase("on the|their|your? needle|needles|cable") is not None or said
    said = cur.any_phrase("for|as the? instep|front|top|leg|later") is not None or said
    if not said:
        cur.at = here
