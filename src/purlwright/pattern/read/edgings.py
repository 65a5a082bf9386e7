"""Binding off, casting on and picking up.

In: a cursor at such words. Out: ``BindOff``, ``CastOn``, ``PickUp``.
"Bind off 5 sts at the beginning of the next 2 rows" runs over rows and is a statement.
"""

from __future__ import annotations

from typing import Literal

from msgspec.structs import replace

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.places import take_stitch_word
from purlwright.pattern.read.working import Handler, Steps
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import BindOff, CastOn, Edge, Number, PickUp, Return
from purlwright.text import Span

__all__ = ["WORDS", "parse_bind_off", "parse_cast_on", "parse_pick_up"]

_At = Literal["here", "beginning", "end", "each end", "neck edge", "armhole edge"]
_ATS: tuple[tuple[_At, tuple[str, ...]], ...] = (
    (
        "each end",
        (
            "at|on each|both end|ends|side|sides|edge of? the? your? work|needle|needles|pin|pins?",
            "at|on each|both end|ends|side|sides|edge",
        ),
    ),
    ("beginning", ("at|from? the? beg|beginning|start|commencement",)),
    ("end", ("at the? end",)),
    ("neck edge", ("at|for the? neck edge?",)),
    ("armhole edge", ("at|for the? armhole|armholes|underarm edge?",)),
)
_How = Literal["", "pattern", "knitwise", "purlwise"]
_MANNERS = {
    "three-needle": (
        "with|using? a? the? three|3 - needle|needles bo|bind off?",
        "using 3 - needle|needles",
        "using three needles",
    ),
    "sewn": ("with|using? a? sewn bind|cast -? off", "with|using? a? sewn bo|bind-off|cast-off", "sewn bo"),
    "stretchy": ("with|using a stretchy|elastic bind|cast|bo -? off?", "using jssbo"),
    "i-cord": ("with|using? a|an? i - cord bind|cast|bo|edge -? off?",),
    "picot": ("with|using? a? picot bind|cast|bo|edge|edging -? off?",),
}
_STOP_WORDS = frozenset(", . ; ( [ : * and then k knit p purl join work place turn in".split())
_METHODS = {
    "long-tail": ("long -? tail",),
    "knitted": ("knitted|knit -? on?",),
    "cable": ("cable",),
    "backward loop": ("backward|backwards|e -? loop", "loop"),
    "provisional": ("provisional|invisible", "crochet provisional|chain?"),
    "judy's magic": ("judy's magic",),
    "tubular": ("tubular|italian",),
    "turkish": ("turkish",),
    "figure-8": ("figure -? 8|eight",),
    "twisted german": ("twisted german?", "german twisted"),
    "thumb": ("thumb",),
    "crochet": ("crochet",),
    "pinhole": ("pinhole|pin - hole|disappearing|circular",),
    "old norwegian": ("old norwegian",),
    "channel island": ("channel island",),
}


def parse_bind_off(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """bind-off := ("bo" | "bind off" | "cast off") manner? ("all" | "rem" | number | "next" number)
    stitches? at? how?

    "bind off 6 sts", "cast off all sts loosely in rib", "BO all but 7", "bind off 5 sts at beg of row"
    """
    del depth
    here = cur.at
    t = cur.next()
    if t.low in {"bind", "cast", "binding", "casting"}:
        if cur.take("off") is None and not cur.phrase("- off"):
            cur.at = here
            return None
    elif t.low == "b":
        if not cur.phrase(". o .?") and not cur.phrase("/ o"):
            cur.at = here
            return None
    elif t.low in {"loosely", "c"}:
        if not cur.any_phrase("bind|cast off", "bo", ". off", "c . off"):
            cur.at = here
            return None
    how: _How = ""
    at_edge: _At = "here"
    manner = ""
    count: Number | None = None
    keep: Number | None = None
    cur.any_phrase("very? loosely|knitwise|purlwise|tightly|firmly")
    how = _how(cur) or how
    manner = _manner(cur) or manner
    cur.any_phrase("the? first|next|last|following|centre|center|middle", "the", "these|those")
    if cur.phrase("all but the? last?"):
        keep = parse_number(cur, ctx)
        take_stitch_word(cur)
    elif cur.any_phrase("all? the? rem|remaining|live|other", "all of? the?", "all|remainder"):
        count = parse_number(cur, ctx)
        take_stitch_word(cur)
    else:
        count = parse_number(cur, ctx)
        if count is not None:
            cur.take("centre", "center", "thumb", "remaining", "underarm", "more")
            if cur.peek().low in {"rows", "rounds", "row"}:
                cur.at = here
                return None
        take_stitch_word(cur)
    if count is not None and cur.take("and"):
        cur.at -= 1
    for _ in range(5):
        at = cur.at
        found = _how(cur)
        how = found or how
        manner = _manner(cur) or manner
        for where, phrases in _ATS:
            if cur.any_phrase(*phrases):
                at_edge = where
                if (
                    cur.phrase("of|on each of? the? next")
                    or cur.phrase("of each|every")
                    or cur.phrase("of the? next|following")
                ):
                    if cur.peek().kind == "n" or cur.peek().value is not None:
                        cur.at = here
                        return None
                    cur.any_phrase("and|&? every|each? foll|following|next? row|rows|rnd")
                cur.any_phrase("of? the? this? row|rnd|round|needle|rows", "of rs|ws row|rows")
                break
        cur.any_phrase(
            "very|quite? loosely|tightly|firmly|evenly|neatly|carefully", "as you go", "fairly loosely"
        )
        cur.any_phrase(
            "for the? thumb|neck|front|back|underarm|armhole|shoulder|shoulders|heel|left|right "
            "shoulder?|neck|front?",
            "( loosely )",
        )
        if cur.at == at:
            break
    return (BindOff(count=count, keep=keep, manner=manner, how=how, at=at_edge, span=cur.span_from(here)),)


def _how(cur: Cursor) -> _How:
    """As in "in pattern", "in rib", "knitwise", "purlwise", "as established"."""
    if cur.any_phrase("in? knitwise|kwise", "in knit"):
        return "knitwise"
    if cur.any_phrase("in? purlwise|pwise", "in purl"):
        return "purlwise"
    if cur.any_phrase(
        "in the? established|est? pattern|patt|pat|rib|ribbing|garter|moss|seed|st|k1|stocking|"
        "stockinette stitch|st|pattern?",
        "as est|established|set",
        "in k1 , p1 rib",
        "in moss st",
        "using pattern stitches",
        "in rib",
    ):
        cur.any_phrase("as est|established|set")
        return "pattern"
    return ""


def _manner(cur: Cursor) -> str:
    if cur.peek().low not in {"with", "using", "three", "3", "sewn", "i", "picot", "stretchy", "in"}:
        return ""
    for name, phrases in _MANNERS.items():
        if cur.any_phrase(*phrases):
            return name
    return ""


def parse_cast_on(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """cast-on := ("co" | "cast on") ":"? (number stitches? | "a"? "multiple of" number ("plus" number)?)
    tail*

    "cast on 36 (42) sts provisionally", "CO 4 sts at end of row", "cast on a multiple of 6 sts plus 2"
    """
    del depth
    here = cur.at
    t = cur.next()
    if t.low in {"cast", "casting"} and cur.take("on") is None and not cur.phrase("- on"):
        cur.at = here
        return None
    if t.low == "c" and not cur.phrase(". o .?") and not cur.phrase("/ o"):
        cur.at = here
        return None
    if cur.peek().low in {"edge", "sts", "row", "tail", "st", "stitches"}:
        cur.at = here
        return None
    method = ""
    provisional = False
    cur.any_phrase("loosely|very|firmly", "and knit|purl", ":", "the? next")
    at_all = _method(cur)
    method = at_all or method
    cur.any_phrase("an|a? additional|extra|new|total of?", "a total of", "about|approximately")
    count: Number | None = None
    multiple: Number | None = None
    plus: Number | None = None
    if cur.any_phrase(
        "a|an|any? multiple of", "a|any number of? sts|stitches? divisible by", "any multiple of"
    ):
        multiple = parse_number(cur, ctx)
        take_stitch_word(cur)
        at = cur.at
        cur.take(",")
        if cur.take("plus", "+", "and"):
            plus = parse_number(cur, ctx)
            if plus is None:
                cur.at = at
            else:
                cur.any_phrase("more|extra|edge")
                take_stitch_word(cur)
        else:
            cur.at = at
        if multiple is None:
            cur.at = here
            return None
    else:
        count = parse_number(cur, ctx)
        if count is None:
            cur.at = here
            return None
        cur.any_phrase("new|more|extra|additional|live")
        take_stitch_word(cur)
    return _cast_on_tail(cur, ctx, here, count, multiple, plus, method, provisional=provisional)


def _cast_on_tail(
    cur: Cursor,
    ctx: Context,
    here: int,
    count: Number | None,
    multiple: Number | None,
    plus: Number | None,
    method: str,
    *,
    provisional: bool,
) -> Steps:
    needles: list[Number] = []
    each = 1
    counts_row = False
    where: Literal["start", "here", "end", "beginning", "gap"] = "start"
    for _ in range(8):
        at = cur.at
        cur.take(",") if cur.peek(1).low in {"using", "with", "loosely", "provisionally", "divided"} else None
        if cur.any_phrase("provisionally"):
            provisional = True
        elif cur.any_phrase(
            "to|on each|both needle|needles", "on each of 2|3|4|two|three|four needles|dpns", "on each"
        ):
            words = [x for x in cur.tokens[at : cur.at] if isinstance(x.value, int)]
            each = int(words[0].value or 1) if words else 2
        elif cur.any_phrase("at the? end of? the? row|this|next|rnd|needle?", "at end"):
            where = "end"
            cur.take("row", "round", "rnd")
        elif cur.any_phrase("at the? beg|beginning|start of? the? this? row|rnd|next?"):
            where = "beginning"
            cur.take("row", "rnd")
        elif cur.any_phrase(
            "over|in|above|across|at the? gap|gaps|buttonhole|buttonholes|bound -? off sts|stitches?",
            "over|in place of the? bound|cast -? off sts|stitches|edge",
            "over|above those|these bound|cast off",
            "over|to replace the? bo sts",
            "over the? sts bound|cast off",
        ):
            where = "gap"
            cur.any_phrase("on|of|in the? previous|last row|rnd|round")
        elif cur.any_phrase("using|with|by the?", "using|with a|an|the", "in"):
            found = _method(cur)
            if not found:
                for _ in range(10):
                    if not cur.peek().kind or cur.peek().low in _STOP_WORDS:
                        break
                    cur.next()
            else:
                method = found
                provisional = provisional or found == "provisional"
        elif cur.any_phrase(
            "on|onto|over 3|4|5|2|three|four|five|two needles|dpns|pins|double -?",
            "divided|evenly? on|over|between|onto 3|4|5|three|four needles|dpns",
        ):
            cur.any_phrase("- pointed|point|: needles|dpns?", "pointed needles")
            cur.take(":", ",")
            needles += _shares(cur, ctx)
        elif cur.any_phrase(
            "loosely|firmly|evenly|tightly",
            "on|onto|with|using? the? left|right|lh|rh|larger|smaller|working|circular|straight "
            "hand? -? needle|needles",
        ):
            pass
        elif cur.any_phrase(
            "( counts as row 1|one )",
            "( this counts as row 1|one )",
            "- counts as row 1|one",
            ", which counts as row 1|one",
            "( counts as first row )",
        ):
            counts_row = True
        elif cur.any_phrase(
            "for each|the|one? sock|sleeve|front|back|body|thumb|heel|underarm|hat|mitten|size|neck",
            "for underarm|thumb|neck|front|heel",
        ):
            pass
        else:
            found = (
                _method(cur)
                if cur.peek().low not in {"cable", "knit", "knitted", "loop"}
                or "cast" in (cur.peek(1).low, cur.peek(2).low)
                else ""
            )
            if found:
                method = found
                provisional = provisional or found == "provisional"
        if cur.at == at:
            break
    if where == "start" and here > 0 and any(x.kind in {"n", "s"} for x in cur.tokens[:here]):
        where = "here"
    return (
        CastOn(
            count=count,
            multiple=multiple,
            plus=plus,
            needles=tuple(needles),
            each=each,
            method=method,
            provisional=provisional,
            counts_row=counts_row,
            at=where,
            span=cur.span_from(here),
        ),
    )


def _method(cur: Cursor) -> str:
    for name, phrases in _METHODS.items():
        if cur.any_phrase(*phrases):
            cur.any_phrase("cast-on|co|caston method?", "cast -? on method?", "method")
            return name
    return ""


def _shares(cur: Cursor, ctx: Context) -> list[Number]:
    """As in "20-24-20", "20, 24, 20": how many to each needle."""
    out: list[Number] = []
    while True:
        n = parse_number(cur, ctx)
        if n is None:
            break
        out.append(n)
        if cur.take("-", ",", "/", "and") is None:
            break
    return out


def parse_pick_up(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """pick-up := ("pick up" | "take up" | "pu") (("and" | "&") ("knit" | "purl"))? number? stitches? ("at
    rate" ...)? edge?

    "pick up and knit 16 sts along left edge", "pick up 14", "pu & k 1 st in each slipped st"
    "take up the 48 sts from the waste yarn" brings back held stitches: a Return
    """
    del depth
    here = cur.at
    t = cur.next()
    how: Literal["knit", "purl", "lift"] = "lift"
    if t.low in {"pick", "take", "picking", "taking"}:
        if cur.take("up") is None:
            cur.at = here
            return None
        if cur.peek().low in {"wraps", "wrap", "wrapped", "all", "where", "from"}:
            cur.at = here
            return None
    elif t.low in {"puk", "pick up k"}:
        how = "knit"
    if cur.take("and", "&", "+") is not None:
        verb = cur.take("knit", "k", "purl", "p", "work", "knits", "pearl", "seam", "purls")
        if verb is None:
            cur.at = here
            return None
        how = "purl" if verb.low[0] in "ps" and verb.low != "work" else "knit"
        cur.take("up")
    elif (verb := cur.take("knitwise", "purlwise")) is not None:
        how = "knit" if verb.low[0] == "k" else "purl"
    cur.any_phrase("the", "about|approximately|approx|around|an additional|another|a total of|back up the")
    early = _rate(cur)
    if early is not None:
        edge = _edge(cur) if cur.peek().low in _ALONG else None
        return (PickUp(how=how, edge=edge, rate=early, span=cur.span_from(here)),)
    count = parse_number(cur, ctx)
    cur.any_phrase("more|extra|new|edge|loose|slipped|heel|live")
    if count is None and cur.peek().low in {"a", "one"} and cur.peek(1).low in {"st", "stitch"}:
        count = Number(values=(1,), span=cur.next().span)
    take_stitch_word(cur)
    if (
        count is None
        and cur.peek(-1).low not in {"sts", "stitches", "."}
        and cur.peek().low not in {"along", "from", "in", "around", "all"}
    ):
        cur.at = here
        return None
    rate: tuple[int, int] | None = None
    edge = None
    at = cur.at
    opened = cur.take("(")
    if opened is not None and cur.peek().low in {"about", "approximately", "approx"}:
        while cur.peek().kind and cur.take(")") is None:
            cur.next()
    elif opened is not None:
        cur.at = at
    rate = _rate(cur)
    if cur.peek().low in {
        "along",
        "from",
        "in",
        "into",
        "around",
        "across",
        "on",
        "at",
        "down",
        "up",
        "evenly",
        "between",
        "through",
        "over",
        "of",
        "round",
        "for",
        "under",
    }:
        edge = _edge(cur)
    rate = rate or _rate(cur)
    if how == "lift" and rate is None and edge is not None and edge.kind == "held":
        place = edge.words.removeprefix("from ").removeprefix("the ")
        return (Return(place=place, count=count, span=cur.span_from(here)),)
    first = PickUp(count=count, how=how, edge=edge, rate=rate, span=cur.span_from(here))
    return (first, *_more_edges(cur, ctx, how))


_ALONG = frozenset("along from in around round across down up over on at".split())


def _more_edges(cur: Cursor, ctx: Context, how: Literal["knit", "purl", "lift"]) -> Steps:
    """more-edges := (("," | "and") number stitches? edge)*

    "..., 12 sts from the front neck cast-on, 12 sts up the right neck edge and 40 sts along the cast-on edge"
    """
    out: list[PickUp] = []
    while len(out) < 40:
        at = cur.at
        while cur.take(",", "and", "then", "another") is not None:
            pass
        start = cur.at
        count = parse_number(cur, ctx) if start > at else None
        if count is None:
            cur.at = at
            break
        cur.any_phrase("more|extra|new")
        sts = take_stitch_word(cur)
        t = cur.peek()
        total = t.low == "in" and cur.peek(1).low in {"all", "total"}  # "20 sts across back, 92 sts in all"
        if t.low not in _ALONG or total or (not sts and t.low in {"in", "on", "at", "over"}):
            cur.at = at
            break
        edge = _edge(cur)
        if edge is None or edge.words.lower() in {"on", "in", "up"}:
            cur.at = at
            break
        out.append(PickUp(count=count, how=how, edge=edge, span=cur.span_from(start)))
    return tuple(out)


def _rate(cur: Cursor) -> tuple[int, int] | None:
    """As in "3 sts for every 4 rows", ", about 3 sts for every 4 rows", "1 in each slipped st"."""
    at = cur.at
    cur.any_phrase("at a|the rate of", ",", "( ")
    cur.any_phrase("about|approximately|roughly")
    a = cur.peek()
    if isinstance(a.value, int) and cur.peek(1).low in {
        "st",
        "sts",
        "stitch",
        "stitches",
        "for",
        "in",
        "per",
    }:
        cur.next()
        take_stitch_word(cur)
        if cur.any_phrase("for every|each", "in every|each|per", "per|every|to every"):
            b = cur.peek()
            n = 1
            if isinstance(b.value, int):
                n = b.value
                cur.next()
            cur.any_phrase(
                "slipped? row|rows|st|sts|stitches|stitch|edge|chain|chains sts|st|stitch|stitches?",
                "garter? ridge|ridges",
            )
            if 0 < n < 100 and 0 < a.value < 100:
                return a.value, n
    cur.at = at
    return None


_EDGE_KINDS: tuple[tuple[str, str], ...] = (
    ("cast-on", "cast on"),
    ("cast-on", "cast-on"),
    ("bound-off", "bound off"),
    ("bound-off", "bound-off"),
    ("bound-off", "cast off"),
    ("bound-off", "bind off"),
    ("bound-off", "bo "),
    ("row ends", "row end"),
    ("row ends", "ends of row"),
    ("held", "holder"),
    ("held", "held"),
    ("held", "waste yarn"),
    ("left", "left"),
    ("right", "right"),
    ("row ends", "side"),
    ("row ends", "flap"),
    ("row ends", "edge of heel"),
    ("row ends", "selv"),
    ("unknown", "lower"),
    ("unknown", "top"),
    ("row ends", "straight"),
    ("row ends", "front edge"),
)


def _edge(cur: Cursor) -> Edge | None:
    """The words of an edge, as they stand, up to a comma, a full stop, a bracket or the next
    instruction.
    """
    here = cur.at
    first = True
    for _ in range(24):
        t = cur.peek()
        if (
            not t.kind
            or t.low in {",", ";", ".", "(", "[", ":", "*", "then"}
            or (t.low == "-" and not t.glued)
        ):
            break
        if t.low == "and" and cur.peek(1).low in {
            "k",
            "knit",
            "purl",
            "p",
            "work",
            "pick",
            "turn",
            "place",
            "join",
        }:
            break
        if t.low == "and" and cur.peek(1).kind == "n" and not first:
            break
        if t.kind == "w" and t.low in {"turn", "work"} and not first:
            break
        cur.next()
        first = False
    if cur.at == here:
        return None
    words = "".join(("" if x.glued else " ") + x.text for x in cur.tokens[here : cur.at]).strip()
    low = words.lower().replace("- ", "-").replace(" -", "-")
    kind = next((k for k, w in _EDGE_KINDS if w in low), "unknown")
    start = cur.tokens[here].start
    return Edge(words=words, kind=kind, span=Span(start, cur.tokens[cur.at - 1].end))  # type: ignore[arg-type]


def parse_along(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Along := edge "," pick-up: "Along one long edge, pick up and k 30 sts"."""
    here = cur.at
    edge = _edge(cur)
    cur.take(",")
    picked = None
    if edge is not None and cur.peek().low in {"pick", "take", "pu", "puk"}:
        picked = parse_pick_up(cur, ctx, depth)
    if picked is None or len(picked) != 1 or not isinstance(picked[0], PickUp) or picked[0].edge is not None:
        cur.at = here
        return None
    return (replace(picked[0], edge=edge, span=cur.span_from(here)),)


_BO = (parse_bind_off,)
_CO = (parse_cast_on,)
_PU = (parse_pick_up,)
WORDS: dict[str, tuple[Handler, ...]] = {
    **dict.fromkeys(
        ("bo", "bind", "b", "loosely", "binding", "coff", "castoff", "b/o", "c.off", "cast-off", "bind-off"),
        _BO,
    ),
    **dict.fromkeys(("cast", "c", "casting"), (parse_bind_off, parse_cast_on)),
    **dict.fromkeys(("co", "caston", "c/o", "cast-on"), _CO),
    **dict.fromkeys(("along", "down", "up", "around"), (parse_along,)),
    **dict.fromkeys(("pick", "pu", "puk", "take", "picking", "pu&k", "taking"), _PU),
}
