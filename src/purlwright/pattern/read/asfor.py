"""A part worked as another part of the pattern: "Work as for back to armholes".

In: a cursor at the beginning of a sentence. Out: one :class:`RepeatRows` that names the other part, up to
where, and whether it is mirrored. Which lines these are is left to ``needles``; rows referred to by number
are read by ``again`` and ``references``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.amounts import ROW_WORDS, skip, take_words, until_mark
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.until import parse_ending, parse_until
from purlwright.pattern.tree import RepeatRows, RowSet, Said, Until

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["may_be_as_for", "parse_as_for"]

_PIECES = frozenset(
    "back front fronts sleeve sleeves foot leg heel sock stocking mitten mitt glove hand thumb cuff piece"
    " half armhole shoulder body toe sole border collar left right neck finger hat slipper bootee strap"
    " pocket square strip block triangle motif panel wing ear petal section wedge".split()
)
_NAMING = frozenset("the a this another other second left right upper lower".split())
_LIKE = frozenset("as like same match correspond mate identical identically instructions".split())
_LEAD = Phrases(
    "cast on and work|knit|make", "work|knit|make|finish|complete|follow|repeat|shape|worked|knitted|made",
)  # fmt: skip
_IS = Phrases("is|are worked|made|knitted|knit exactly|just?")
_TIE = Phrases(
    "exactly|just? the? same? as|like for|on?",
    "exactly|just? the? same? as given|directed|done|described|told for?",
    "in the same way|manner as for?", "the? instructions given? for", "to match|correspond|mate with|to?",
    "identical|identically to",
)  # fmt: skip
_REVERSED = Phrases(
    "but|with|and? reversing|reverse|reversed all? the? shaping|shapings?",
    "but|with? all? the? shaping|shapings reversed", "but|in? reverse|reversed",
)  # fmt: skip
_STOPS = frozenset("to until till but reversing reverse reversed as except from with and only up".split())
_OF_ONE_PIECE = frozenset("side sides half shoulder edge end".split())
"""A side that is like the other side of the same piece has no words of its own to work again."""
_STARS = ("*", "**", "***", "****")


def may_be_as_for(cur: Cursor) -> bool:
    """Whether a word stands in the line that likens one part to another."""
    known: bool | None = cur.kept.get("like")
    if known is None:
        known = cur.kept["like"] = any(t.low in _LIKE for t in cur.tokens)
    return known


def parse_as_for(cur: Cursor, ctx: Context) -> RepeatRows | None:
    """AS-FOR := "work"? PART? ("as for" | "same as" | "to match") NAME ("to" LANDMARK)? REVERSED?

    "work as for back to underarm", "make the front exactly like the back", "as given for the back to **",
    "work as for left front, reversing shapings", "the front is worked the same as the back"
    """
    here = cur.at
    led = _LEAD.take(cur) is not None
    rest = led and cur.tokens[here].low in {"complete", "finish"}
    since, to = _from_star(cur)
    for _ in range(4):
        if cur.peek().low not in _PIECES | _NAMING or (cur.peek().low == "the" and cur.peek(1).low == "same"):
            break
        cur.at += 1
        led = True
    if (
        _IS.take(cur) is None
        and not led
        and cur.peek().low not in {"as", "same", "the", "exactly", "identical"}
    ):
        cur.at = here
        return None
    if _TIE.take(cur) is None:
        cur.at = here
        return None
    tied = cur.tokens[cur.at - 1].low
    skip(cur, "the")
    if cur.peek().low == "for":  # "knit another piece to correspond for the back"
        cur.at = here
        return None
    n = until_mark(cur, 5, _STOPS)
    words = {cur.peek(i).low for i in range(n)}
    numbered = any(w.isdigit() for w in words) and bool(
        words & (_OF_ONE_PIECE | {"square", "piece", "block"})
    )
    named = numbered or bool(words & (_PIECES | {"first", "other"})) or (tied in {"for", "on"} and n <= 3)
    if (
        not n
        or not named
        or words
        & (
            ROW_WORDS
            | (frozenset() if numbered else _OF_ONE_PIECE)
            | {"st", "sts", "follows", "chart", "it", "this"}
        )
    ):
        cur.at = here
        return None
    name = take_words(cur, n)
    rest = _from_first_row(cur) or rest
    until = _count_left(cur, ctx) or _length_left(cur, ctx) or _landmark(cur)
    if until is None and to:
        until = Until(things=to, since=since, span=cur.span_from(here))
    ending = parse_ending(cur)
    if ending is not None and until is not None:
        until = replace(
            until, side=ending.side, worked=ending.worked, ending_row=ending.ending_row, edge=ending.edge
        )
    mirrored = _mirrored(cur) or tied in {"match", "correspond", "mate"}
    if cur.peek().low not in {
        "",
        ".",
        ",",
        ";",
        "(",
        "[",
        "but",
        "except",
        "and",
        "*",
        "then",
        "until",
        "ending",
    }:
        cur.at = here
        return None
    rows = RowSet(section=name, all=True, mirrored=mirrored, rest=rest, span=cur.span_from(here))
    return RepeatRows(rows=rows, said=Said.OPEN, until=until, span=cur.span_from(here))


def _from_star(cur: Cursor) -> tuple[str, str]:
    """FROM-STAR := ("from" STAR)? "to" STAR before the name: "work from ** to ** as for back"."""
    here = cur.at
    since = ""
    if cur.take("from") is not None and (star := cur.take(*_STARS)) is not None:
        since = star.text
    if cur.take("to") is not None and (star := cur.take(*_STARS)) is not None:
        return since, star.text
    cur.at = here
    return "", ""


def _count_left(cur: Cursor, ctx: Context) -> Until | None:
    """COUNT-LEFT: "until 28 sts rem, ending with a purl row": up to another count than the other part has."""
    here = cur.at
    until = parse_until(cur, ctx)
    if until is None or until.stitches is None:
        cur.at = here
        return None
    if cur.peek().low in {"after", "at", "in", "for"}:  # "88 sts remain after armhole shaping"
        cur.at += until_mark(cur, 6, frozenset({"ending"}))
    return until


def _length_left(cur: Cursor, ctx: Context) -> Until | None:
    """LENGTH-LEFT: "until piece measures 40 cm": up to where the other part goes to such a length, or
    further.
    """
    here = cur.at
    until = parse_until(cur, ctx)
    if until is None or until.length is None or not until.length.values:
        cur.at = here
        return None
    return until


def _from_first_row(cur: Cursor) -> bool:
    """FROM-ROW: "from" ("row" 1 | "1st row" | "there" | "here" "on"?): its rows, without its cast-on."""
    here = cur.at
    if cur.any_phrase(
        "from row|rnd|round 1", "from the? first|1st row|rnd|round", "from there|here|then on?"
    ):
        cur.any_phrase("onwards|on", "to the? end")
        return True
    cur.at = here
    return False


def _landmark(cur: Cursor) -> Until | None:
    """LANDMARK := ("from" STAR)? ("to" | "until") (STAR | words): "to the neck", "from ** to **"."""
    here = cur.at
    since = ""
    if cur.take("from") is not None and (star := cur.take(*_STARS)) is not None:
        since = star.text
    cur.take("up")
    if cur.take("to", "until", "till") is None:
        cur.at = here
        return None
    skip(cur, "the")
    if (star := cur.take(*_STARS)) is not None:
        return Until(things=star.text, since=since, span=cur.span_from(here))
    n = until_mark(cur, 8, frozenset({"but", "and", "reversing", "with"}))
    if not n:
        cur.at = here
        return None
    return Until(things=take_words(cur, n), since=since, span=cur.span_from(here))


def _mirrored(cur: Cursor) -> bool:
    """REVERSED: ", reversing all shapings"."""
    here = cur.at
    skip(cur, ",", "(")
    if _REVERSED.take(cur) is None:
        cur.at = here
        return False
    cur.take(")")
    return True
