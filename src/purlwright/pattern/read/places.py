"""Places on the needle where something stops.

In: a cursor at "to", "until", "across", "all but", ... Out: a ``Place``.
Where that is among the loops really there is left to ``needles``.
"""

from __future__ import annotations

from msgspec.structs import replace

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import ONE, parse_number
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Number, Place, PlaceKind

__all__ = ["PLACE_WORDS", "STITCH_WORDS", "parse_place", "take_stitch_word"]

STITCH_WORDS = frozenset("st sts stitch stitches stich stiches loop loops lp lps stitch's sts'".split())
PLACE_WORDS = frozenset(
    "to til till until unto up across around round all along as rest remainder within before on over "
    "half halfway "
    "throughout through in".split()
)
_TURNS = frozenset(
    "gap hole turn turning wrap wrapped double ds previously last previous previous-turn".split()
)
_ROWISH = "row|rnd|round|needle|needles|ndl|line|work|rows|rnds|rounds|side|dpn|n|sts|stitches|section"
_CENTRE = "centre|center|middle|central"
_NTH = {
    "next": 1,
    "first": 1,
    "second": 2,
    "third": 3,
    "fourth": 4,
    "fifth": 5,
    "1st": 1,
    "2nd": 2,
    "3rd": 3,
    "4th": 4,
}
_MARKERS = frozenset("marker markers m mk mkr mrk mrkr marks mark pm".split())
_NO_NAMES = frozenset(
    "place slip remove k p knit purl sl sm pm and then of to sts st from before after yo ssk m1".split()
)
_PARTS = (
    "all? the? sts|stitches of|on the? left|right? back|front|sleeve|body|heel|instep|sole|thumb|top|palm",
    "the? left|right? back|front|sleeve|body|heel|instep|sole|thumb|top|palm|gusset sts|stitches?",
)
_PIECES = ("the? first|second|other|left|right back|front|sleeve|thumb|heel|instep|sole sts|stitches?",)
_REMAIN = (
    "remain|remains|remaining|rem|left unworked?",
    "are|is left|remaining|unworked unworked?",
    "before|from|of the? end",
    "unworked",
)


_WHICH = frozenset(
    "sleeve body held back front instep sole thumb heel gusset underarm neck shoulder yoke crown brim cuff"
    " steek edging border band panel selvedge palm hand finger foot live pattern"
    " patterned lace cable left right new".split()
)
"""Which stitches they are: "knit 42 sleeve sts", "purl 16 held instep sts"."""


def take_stitch_word(cur: Cursor) -> bool:
    """stitch-word := ("st" | "sts" | "stitch" | "stitches" | "loops") "."?

    The stop of "sts." is taken when a small letter, a number or a mark follows close after the
    abbreviation.
    """
    pad = cur.pad
    t = pad[cur.at]
    if t.low not in STITCH_WORDS:
        at = cur.at
        while pad[at].low in _WHICH and at < cur.at + 3:
            at += 1
        t = pad[at]
        if at == cur.at or t.low not in STITCH_WORDS:
            return False
        cur.at = at
    cur.at += 1
    if len(t.low) <= 3:
        dot = pad[cur.at]
        if dot.low == "." and dot.glued:
            after = pad[cur.at + 1]
            if (after.kind in {"w", "s"} and after.text[0].islower()) or after.low in {
                ",",
                ")",
                ";",
                "]",
                "(",
            }:
                cur.at += 1
    return True


def _whole_row(cur: Cursor) -> bool:
    """Words that may follow "across", "to end": "(of) (the) row", "of round", "of the needle"."""
    here = cur.at
    cur.take("of", "off", "in", "on", "this")
    cur.take(
        "the", "this", "each", "every", "all", "next", "same", "left", "left-hand", "your", "heel", "first"
    )
    cur.take("left", "of", "hand", "other", "the", "heel", "first", "second", "third", "-")
    if cur.phrase(_ROWISH):
        cur.take(".") if cur.tokens[cur.at - 1].low in {"rnd", "ndl", "sts"} and _goes_on(cur) else None
        return True
    cur.at = here
    return False


def _goes_on(cur: Cursor) -> bool:
    return cur.peek().low == "." and cur.peek().glued and cur.peek(1).low in {",", ";", ")"}


def parse_place(cur: Cursor, ctx: Context) -> Place | None:
    """Place := ("to" | "until" | ...) target | "across" row? | "around" | "all but" "the"? number stitches

    "to end", "to last 3 sts", "until 3 sts remain", "across", "to 2 sts before marker"
    """
    here = cur.at
    first = cur.pad[here]
    if first.low not in PLACE_WORDS:
        return None
    place = _place(cur, ctx, here)
    if place is not None and place.kind is PlaceKind.END and _of_the_needle(cur, here):
        place = replace(place, kind=PlaceKind.NEEDLE_END)
    if place is None:
        cur.at = here
    elif place.kind is PlaceKind.HALF and place.past is None and cur.peek().low in {"+", "plus"}:
        # "knit half + 2"
        at = cur.at
        cur.at += 1
        more = parse_number(cur, ctx)
        if more is None:
            cur.at = at
        else:
            take_stitch_word(cur)
            return replace(place, past=more, span=cur.span_from(here))
    elif first.low in {"across", "around"} and cur.peek().low in {"to", "until"} and place.before is None:
        # "(p1, k1) across to last 6 sts"
        at = cur.at
        nearer = _place(cur, ctx, at)
        if nearer is not None and cur.at > at:
            return nearer
        cur.at = at
    return place


def _of_the_needle(cur: Cursor, here: int) -> bool:
    """OF-THE-NEEDLE: "to last st of needle", "to end of the needle": where the round lies on several."""
    said = [t.low for t in cur.tokens[here : cur.at]]
    if not said or said[-1] not in {"needle", "ndl"}:
        return False
    of = next((i for i in range(len(said) - 2, 0, -1) if said[i] in {"of", "on"}), 0)
    return of > 0 and not _ONE_HAND.intersection(said[of:]) and said[of - 1] in {"end", *STITCH_WORDS}


_ONE_HAND = frozenset({"left", "right", "hand", "lh", "rh", "left-hand", "right-hand", "other"})


def _end(cur: Cursor, here: int, before: Number | None = None) -> Place:
    """The end of the row, or of the needle when the words go needle by needle ("Needle 1: k to last 3")."""
    numbered = "needle" in cur.kept
    while (t := cur.peek()).kind == "n" and cur.tokens[cur.at - 1].low in {"needle", "needles", "&", "and"}:
        cur.at += 1
        numbered = True
        if t.kind and cur.peek().low in {"&", "and"} and cur.peek(1).kind == "n":
            cur.at += 1
    said = cur.tokens[here : cur.at]
    if any(t.kind == "o" for t in said) and any(t.low in {"needle", "needles"} for t in said):
        numbered = True
    kind = PlaceKind.NEEDLE_END if numbered else PlaceKind.END
    return Place(kind=kind, before=before, span=cur.span_from(here))


def _place(cur: Cursor, ctx: Context, here: int) -> Place | None:
    low = cur.next().low
    if low == "across":
        if cur.peek(cur.peek().low in {"the", "that", "this"}).low in {"gap", "gaps", "hole"}:
            return None
        if cur.any_phrase(*_PARTS) or cur.any_phrase(*_PIECES):
            words = " ".join(t.low for t in cur.tokens[here + 1 : cur.at])
            return Place(kind=PlaceKind.NEEDLE_END, name=words, span=cur.span_from(here))
        cur.take("the", "all")
        cur.take("rest", "remainder", "entire", "whole", "remaining", "rem", "of")
        cur.phrase("of? the?")
        _whole_row(cur) or take_stitch_word(cur)
        cur.any_phrase("to the? end", "of row|rnd|round")
        cur.any_phrase("of the? row|rnd|round|needle")
        return _end(cur, here)
    if low in {"around", "round"}:
        if low == "round" and cur.take("the") is None and cur.peek().kind in {"n", "w"}:
            return None
        _whole_row(cur)
        cur.any_phrase("to the? end", "to the? marker", "the? row|rnd|round")
        return _end(cur, here)
    if low == "throughout":
        _whole_row(cur)
        return _end(cur, here)
    if low == "all":
        return _all(cur, ctx, here)
    if low in {"half", "halfway"}:
        cur.at = here
        return _thing(cur, ctx, here, None)
    if low == "along":
        return _end(cur, here) if _whole_row(cur) else None
    if low in {"rest", "remainder"}:
        cur.any_phrase("of the? row|rnd|round|needle", "of the? stitches|sts")
        return _end(cur, here)
    if low in {"on", "over", "through", "in"}:
        # "on all sts", "over the whole row", "over all stitches"
        if cur.any_phrase(
            "all the? sts|stitches", "the? whole|entire row|rnd|round", "all rem|remaining sts|stitches"
        ):
            return _end(cur, here)
        if cur.any_phrase(
            "the? rest of? the? row|rnd|round|sts|stitches?", "the? remaining|rem sts|stitches"
        ):
            return _end(cur, here)
        return None
    if low == "up" and cur.take("to", "until") is None:
        return None
    if low == "as" and not cur.phrase("far as"):
        return None
    if low == "before" and cur.peek().low not in {"end", "the", "marker", "m"}:
        return None
    if low == "within":
        return _short_of(cur, ctx, here)
    return _target(cur, ctx, here)


def _all(cur: Cursor, ctx: Context, here: int) -> Place | None:
    """As in "all but (the last) 3 sts", "all (the way) round", "all along the row", "all sts", "all
    across".
    """
    if cur.phrase("but the? last?"):
        n = parse_number(cur, ctx)
        if n is None:
            return None
        take_stitch_word(cur)
        return _end(cur, here, n)
    if cur.any_phrase("the? way? across|around|round|along", "the? way? to the? end"):
        _whole_row(cur)
        return _end(cur, here)
    cur.take("the", "of")
    cur.take("the")
    cur.take("remaining", "rem", "other")
    if take_stitch_word(cur):
        _whole_row(cur)
        cur.any_phrase(
            "to the? end of? row|rnd|round|needle?",
            "to the? end of? the? row|rnd|round|needle",
            "to the? end",
            "across",
            "around",
            "in the? row|rnd|round",
            "on the? needle|needles",
        )
        return _end(cur, here)
    return None


def _target(cur: Cursor, ctx: Context, here: int) -> Place | None:
    """Target := end | "last" number? stitches | "within"? number stitches ("before" | "from") thing |
    thing
    """
    if cur.peek().low in {"all", "across", "around"} and cur.any_phrase(
        "all the? way? around|round|across|along", "across", "around"
    ):
        _whole_row(cur)
        return _end(cur, here)
    cur.take("you", "there", "until", "to")
    cur.any_phrase("have|reach|get|come to?", "are|is")
    said = cur.take("only", "about", "within", "just")
    within = said is not None and said.low == "within"
    cur.take("the", "a", "your", "you")
    if cur.take("end", "ends"):
        if not _whole_row(cur):
            _whole_row(cur)
        cur.any_phrase("of the? heel|left|first|second|next? needle")
        return _end(cur, here)
    if cur.any_phrase("beg|beginning|start of? the? rnd|round|row", "bor", "beg|beginning|start"):
        return _end(cur, here)
    if cur.any_phrase(
        "neck|armhole|arm|front|side|shoulder|underarm|inner|outer|centre|center|seam|other edge"
    ):
        return _end(cur, here)
    t = cur.peek()
    if t.low == "all":
        cur.next()
        cur.take("the", "of")
        if take_stitch_word(cur):
            cur.any_phrase(
                "are|have been|were worked|used|knitted|knit", "are|have worked|used|been? worked?", "remain"
            )
            return _end(cur, here)
        return None
    if t.low in {"last", "final"} and cur.peek(1).low not in _MARKERS | _TURNS:
        cur.next()
        n = parse_number(cur, ctx)
        known = take_stitch_word(cur)
        if n is None and not known:
            return None
        if (m := _before_thing(cur, ctx, here, n or ONE)) is not None:
            return m
        cur.any_phrase(
            "of|in|on the? row|rnd|round|needle|ndl", "remain|remaining|rem", "on|of the? left needle"
        )
        return _end(cur, here, n or ONE)
    thing = _thing(cur, ctx, here, None)
    if thing is not None:
        return thing
    n = parse_number(cur, ctx)
    if n is None:
        return None
    cur.take("more", "other")
    take_stitch_word(cur)
    cur.take("remaining") if cur.peek(1).low in {"before", "from"} else None
    if cur.take("past", "after", "beyond"):
        cur.take("the", "last", "a")
        past = _thing(cur, ctx, here, None)
        if past is not None:
            return Place(kind=past.kind, past=n, name=past.name, nth=past.nth, span=cur.span_from(here))
        return None
    at = cur.at
    if cur.any_phrase("remain|remains|remaining|rem|left") and cur.peek().low == "before":
        if (m := _before_thing(cur, ctx, here, n)) is not None:
            return m
    cur.at = at
    if cur.any_phrase(*_REMAIN):
        cur.any_phrase(
            "of|in|on the? row|rnd|round|needle|rep",
            "on the? left? hand? needle|needles",
            "before the? end",
            "in row|rnd",
            "at the? end",
            "to work",
            "on left needle",
        )
        return _end(cur, here, n)
    if within and cur.peek().low in _CLAUSE_ENDS:
        return _end(cur, here, n)  # "work across to within 4 sts, k2tog"
    return _before_thing(cur, ctx, here, n)


_CLAUSE_ENDS = frozenset({"", ",", ".", ";"})


def _short_of(cur: Cursor, ctx: Context, here: int) -> Place | None:
    """As in "within 3 sts of the end", "within 1 of the centre", "within 4 sts"."""
    n = parse_number(cur, ctx)
    if n is None:
        return None
    sts = take_stitch_word(cur)
    place = _before_thing(cur, ctx, here, n)
    if place is None and sts and cur.peek().low in _CLAUSE_ENDS:
        return _end(cur, here, n)  # "work to within 4 sts, k2tog, k2"
    return place


def _before_thing(cur: Cursor, ctx: Context, here: int, n: Number) -> Place | None:
    """As in "before marker", "from the gap", "short of end", "of the centre"."""
    back = cur.at
    if cur.take("before", "from", "of", "short", "prior", "ahead", "to") is None:
        return None
    cur.take("of", "to", "reaching")
    cur.take("the", "last", "a") if cur.peek().low != "last" or cur.peek(
        1
    ).low not in _TURNS | _MARKERS else None
    if cur.take("end", "beg", "beginning", "start"):
        _whole_row(cur)
        return _end(cur, here, n)
    if cur.any_phrase("front|neck|armhole|arm|side|outer|inner? edge"):
        return _end(cur, here, n)
    if cur.phrase(_ROWISH) and cur.phrase("end"):
        return _end(cur, here, n)
    thing = _thing(cur, ctx, here, n)
    if thing is None:
        cur.at = back
    return thing


def _thing(cur: Cursor, ctx: Context, here: int, before: Number | None) -> Place | None:
    """Thing := "next"? "marker" name? | gap | wrapped stitch | centre stitch | decrease | half"""
    back = cur.at
    cur.take("the", "a")
    nth = 1
    name: str | None = None
    t = cur.peek()
    if (t.low in _NTH and t.kind in {"w", "o"}) and not (
        t.low == "next" and cur.peek(1).low in {"row", "rnd"}
    ):
        nth = _NTH[t.low]
        cur.next()
    elif t.low in {"last", "previous", "prev", "other", "final"}:
        name = "last" if t.low in {"last", "final"} else None
        cur.next()
    t = cur.peek()
    if t.low in {"stitch", "st"} and cur.peek(1).low in _MARKERS:
        cur.next()
        t = cur.peek()
    one = cur.peek(1)
    if t.low in _MARKERS:
        cur.next()
        cur.take(".") if t.low != "marker" and cur.peek(1).low == "," else None
        label = _marker_name(cur, ctx, close=t.low != "m")
        return Place(
            kind=PlaceKind.MARKER, before=before, name=label or name, nth=nth, span=cur.span_from(here)
        )
    if t.kind in {"w", "s"} and one.low in _MARKERS and t.low not in {"and", "of", "place", "slip", "remove"}:
        cur.next()
        if t.low in {"centre", "center", "middle", "beg", "beginning", "eor", "bor"}:
            cur.next()
            return Place(kind=PlaceKind.MARKER, before=before, name=t.low, nth=nth, span=cur.span_from(here))
        cur.next()
        return Place(kind=PlaceKind.MARKER, before=before, name=t.text, nth=nth, span=cur.span_from(here))
    for ahead in (2, 3):
        if cur.peek(ahead).low in _MARKERS and all(
            cur.peek(i).kind in {"w", "s"} and cur.peek(i).low not in _NO_NAMES for i in range(ahead)
        ):
            name = " ".join(cur.peek(i).text for i in range(ahead))
            cur.at += ahead + 1
            return Place(kind=PlaceKind.MARKER, before=before, name=name, nth=nth, span=cur.span_from(here))
    if len(t.text) == 2 and t.text[0] == "m" and t.text[1].isupper():
        cur.next()
        return Place(kind=PlaceKind.MARKER, before=before, name=t.text[1], nth=nth, span=cur.span_from(here))
    if t.low in ctx.markers and t.kind in {"w", "s"}:
        cur.next()
        return Place(kind=PlaceKind.MARKER, before=before, name=t.text, nth=nth, span=cur.span_from(here))
    if cur.any_phrase(
        "previous|last|previously? wrapped|wrap stitch|st|sts|stitches",
        "previously|last? wrapped st|stitch",
        "wrap|wrapped stitch|st",
        "wrap",
        "double|dbl stitch|st",
        "ds",
        "twin stitch|st",
    ):
        return Place(kind=PlaceKind.WRAPPED, before=before, span=cur.span_from(here))
    if cur.any_phrase(
        "last|previous? gap|hole left by the? bind|bound|cast -? off sts?",
        "last|previous? gap|hole left by the? bind-off|cast-off|bound-off sts?",
        "bound|cast -? off sts|stitches|edge",
        "bound-off|cast-off sts|stitches|edge",
        "last|previous? gap|hole",
        "last|previous? turning point|place|stitch|st|gap",
        "last|previous turn",
        "where you? turned",
        "turn",
        "place where you? turned",
        "st|stitch where|at you? turned",
        "st|stitch at|on which you turned",
        "st|stitch in the? previous|last row where you turned",
        "turn of last|previous row",
    ):
        cur.any_phrase(
            "of|on the? last|previous row", "in the? last|previous row", "left by the? last|previous turn"
        )
        return Place(kind=PlaceKind.GAP, before=before, span=cur.span_from(here))
    if before is None and cur.any_phrase("slipped st|stitch|sts"):
        # the stitch slipped where the row before began: one stitch before its turn
        return Place(kind=PlaceKind.GAP, before=ONE, span=cur.span_from(here))
    if cur.phrase(_CENTRE):
        if cur.peek().low in _MARKERS:
            cur.next()
            return Place(kind=PlaceKind.MARKER, before=before, name="centre", span=cur.span_from(here))
        cur.take("of")
        cur.take("the")
        cur.take("needle", "row", "dec", "decrease", "double")
        cur.any_phrase("st|sts|stitch|stitches|spine")
        cur.take(".") if cur.peek(1).low == "," else None
        return Place(kind=PlaceKind.CENTRE, before=before, span=cur.span_from(here))
    if cur.any_phrase(
        "half way|- way?", "halfway", "half the? row|sts|stitches?", "half of the? row|sts|stitches|needle"
    ):
        cur.any_phrase("across|along|round|around the? row|rnd|round|needle?", "point")
        return Place(kind=PlaceKind.HALF, before=before, span=cur.span_from(here))
    if cur.any_phrase(
        "dec|decrease|decreases|spine",
        "seam st|stitch",
        "seam",
        "dec|decrease line|st|stitch",
        "st|stitch before decrease|dec",
        "marked st|stitch",
    ):
        cur.phrase("- stitch|st|line") or cur.take("st", "stitch", "line")
        kind = PlaceKind.DECREASE
        return Place(kind=kind, before=before, span=cur.span_from(here))
    if cur.phrase("st|stitch before"):
        return _thing(cur, ctx, here, ONE)
    cur.at = back
    return None


def _marker_name(cur: Cursor, ctx: Context, *, close: bool) -> str | None:
    """The name after "marker": one capital letter, a number, or a name met before."""
    t = cur.peek()
    if t.kind == "n" and isinstance(t.value, int) and (close or t.glued):
        one = cur.peek(1).low
        if one not in STITCH_WORDS and one != "times":
            cur.next()
            return t.text
        return None
    if (
        t.kind in {"w", "s"}
        and len(t.text) == 1
        and t.text.isupper()
        and cur.peek(1).kind != "n"
        and (t.text not in {"K", "P", "A"} or cur.peek(1).low in {",", ".", ";", ""})
    ):
        cur.next()
        return t.text
    if t.kind in {"w", "s"} and t.low in ctx.markers:
        cur.next()
        return t.text
    return None
