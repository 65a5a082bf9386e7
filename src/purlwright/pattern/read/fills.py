"""Working to a place, whole-row words, grounds by name, and going on in pattern.

In: a cursor after "knit", or at "plain", "work", "rib", "in pattern". Out: ``Fill``, ``InGround``,
``InPattern``.
What is established is left to ``needles``.
"""

from __future__ import annotations

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.gloss import told_by_sides
from purlwright.pattern.read.moves import take_from_holder
from purlwright.pattern.read.numbers import ONE, parse_number
from purlwright.pattern.read.places import PLACE_WORDS, parse_place, take_stitch_word
from purlwright.pattern.read.working import (
    FILLERS,
    Handler,
    Steps,
    key,
    parse_colour,
    take_manner,
    take_through_back,
    take_wraps,
)
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Fill, InGround, InPattern, Number, Place, PlaceKind, Step, Work, Yarn
from purlwright.text import Span

__all__ = [
    "WORDS",
    "fill_to",
    "ground_named",
    "parse_after_head",
    "parse_ground",
    "parse_in_pattern",
    "parse_plain",
    "parse_rib",
]

_OPS = frozenset("k p yo k1 p1 sl ssk k2tog p2tog".split())
_LONGEST_GROUND = 9
_KNITS = frozenset({"k", "p", "k1", "p1", "knit", "purl"})
_PART_STS = frozenset("sleeve instep sole thumb gusset underarm body palm back front heel".split())
_AFTER_WORKED = FILLERS | {"in", "as", "tog", "together", "even", "to", "turn"}


def fill_to(base: str, place: Place | None, span: Span) -> Fill:
    """``base`` over and over up to a place, or to the end."""
    body: tuple[Step, ...] = (Work(stitch=base, count=ONE, span=span),)
    return Fill(body=body, to=place or Place(kind=PlaceKind.END, span=span), span=span)


def parse_after_head(cur: Cursor, ctx: Context, here: int, base: str, depth: int) -> Steps | None:
    """after-head := "plain"? ("across" | "to" place | "all" "sts" | "every st" | "the rest" | "back" | "in
    pattern")?

    "knit to end", "Knit.", "K all sts", "purl back", "knit plain", "purl every stitch", "k the knits"
    """
    del depth
    pad = cur.pad
    t = pad[cur.at]
    low = t.low
    if low in {"plain", "quite", "loosely", "straight"}:
        if low == "plain" and pad[cur.at + 1].low in {"rows", "rounds", "rnds", "row", "rnd", "round"}:
            return None
        take_manner(cur)
        low = pad[cur.at].low
    if low == "knitting" and pad[here].low in {"pearl", "purl", "seam"}:  # "pearl knitting": a whole row
        cur.at += 1
        return _with_colour(cur, ctx, here, base, parse_place(cur, ctx))
    if low in {"one", "1"} and pad[cur.at + 1].low in {"row", "round", "rnd"}:
        return None
    if low in {"rows", "rnds", "rounds", "off"}:
        return None
    if low in {"up", "in", "as", "it"} and (found := _as_set(cur, ctx, here)) is not None:
        return found
    if low in {"the", "all"} and cur.any_phrase(
        "all the? k|knit|knitted sts|stitches? and|& p|purl all the? p|purl|purled sts|stitches",
        "the k|knit|knits|knitted sts|stitches? and|& then? p|purl the? p|purl|purls sts|stitches?",
        "the knits|k|knit|purl|p sts|stitches? and|& p|purl|k|knit the? purls|p|purl|knit|k sts|stitches?",
        "the knit|purl|k|p sts|stitches",
        "the knits",
        "the sts|stitches as they appear|are|face|present|come|show",
    ):
        cur.any_phrase("as they appear|are|face|present|come|show you?", "as set|est|established")
        place = parse_place(cur, ctx)
        return (InPattern(how="as they appear", to=place, span=cur.span_from(here)),)
    if low == "held" and cur.any_phrase("held sts|stitches"):
        return (fill_to(base, None, cur.span_from(here)),)
    at = cur.at + (low == "the")
    if pad[at].low in _PART_STS and pad[at + 1].low in {"sts", "stitches"} and pad[at + 2].low != "to":
        # "knit the sleeve sts": as many as there are
        low = pad[at].low
        cur.at = at + 2
        named = Place(kind=PlaceKind.NEEDLE_END, name=f"{low} sts", span=cur.span_from(here))
        return (fill_to(base, named, cur.span_from(here)),)
    if low in {"sts", "st", "stitches", "all"} and cur.any_phrase(
        "all? sts|stitches as they appear|are|face|present|come|show",
        "all? the? sts|stitches as set|est|established",
    ):
        return (InPattern(how="as they appear", span=cur.span_from(here)),)
    if low == "across" and "n" in {pad[cur.at + 1].kind, pad[cur.at + 2].kind}:
        # "knit across 32 instep sts": so many, and not the whole row
        at = cur.at
        cur.any_phrase("across the? next|first|last|remaining|rem|held?")
        number = parse_number(cur, ctx)
        which = cur.peek().low
        if number is not None and take_stitch_word(cur):
            step = Work(stitch=base, count=number, span=cur.span_from(here))
            held = take_from_holder(cur, number, which)
            return (step,) if held is None else (held, step)
        cur.at = at
    if cur.any_phrase(
        "in|into? every|each st|stitch|sts",
        "all",
        "back",
        "all? the? whole|entire? row|round|rnd",
    ):
        at = cur.at
        if wraps := take_wraps(cur):
            base = key(f"{base}1w{wraps}")
        elif take_through_back(cur):
            base = key(f"{base}1tbl")
        if pad[at - 1].low == "all":
            cur.at -= 1
            place = parse_place(cur, ctx)
            if place is None:
                cur.at += 1
        else:
            place = None
            if pad[cur.at].low == "of":
                cur.any_phrase("of the? row|round|rnd|needle", "of the? sts|stitches")
            take_manner(cur)
            place = parse_place(cur, ctx)
        take_manner(cur)
        return _with_colour(cur, ctx, here, base, place)
    bare_rest = low in {"rem", "remaining"} and pad[cur.at + 1].low in {"", ".", ",", ";", "(", ")"}
    if cur.any_phrase("the? rest|remainder", "the? rem|remaining sts|stitches") or (
        bare_rest and cur.take(low) is not None
    ):
        cur.any_phrase("of the? row|round|rnd|needle", "of the? sts|stitches")
        take_manner(cur)
        return _with_colour(cur, ctx, here, base, parse_place(cur, ctx))
    if low in {"until", "till"} and (n := _until_on_right(cur, ctx, here)) is not None:
        return (Work(stitch=base, count=n, span=cur.span_from(here)),)
    if low in PLACE_WORDS:
        place = parse_place(cur, ctx)
        if place is not None:
            take_manner(cur)
            return _with_colour(cur, ctx, here, base, place)
    if (
        low in {"row", "rnd", "round", "side"}
        and pad[cur.at + 1].low not in {"of", "is"}
        and pad[cur.at + 1].kind != "n"
    ):
        cur.at += 1
        return (fill_to(base, None, cur.span_from(here)),)
    return _bare(cur, ctx, here, base)


def _until_on_right(cur: Cursor, ctx: Context, here: int) -> Number | None:
    """As in "bind off 6, k until there are 10 sts on right needle": the loop left by binding off is one of
    them.
    """
    at = cur.at
    first = {t.low for t in cur.tokens[:here]}
    if cur.phrase("until|till there|you are|is|have|rem|remain") and ("off" in first or "bo" in first):
        n = parse_number(cur, ctx)
        if n is not None:
            take_stitch_word(cur)
            if cur.any_phrase("on the? right|rh|right-hand -? hand? needle"):
                cur.any_phrase(
                    "after|including|incl the? bind|cast - off",
                    "after|including|incl the? bind-off|cast-off",
                    "after|including|incl the? bind|cast|st|stitch off|used|left?",
                )
                return Number(values=tuple(v if v is None else max(0, v - 1) for v in n.values), span=n.span)
    cur.at = at
    return None


def _here_end(cur: Cursor, span: Span) -> Place:
    """The end of the row, or of the needle when the words go needle by needle."""
    return Place(kind=PlaceKind.NEEDLE_END if "needle" in cur.kept else PlaceKind.END, span=span)


def _with_colour(cur: Cursor, ctx: Context, here: int, base: str, place: Place | None) -> Steps:
    at = cur.at
    colour = parse_colour(cur, ctx) if cur.pad[at].low in {"in", "with", "using"} else None
    span = Span(cur.pad[here].start, cur.pad[at - 1].end)
    fill = fill_to(base, place, span)
    if colour is None:
        return (fill,)
    yarn = Yarn(act="use", colour=colour, span=cur.span_from(at))
    return (yarn, fill)


def _as_set(cur: Cursor, ctx: Context, here: int) -> Steps | None:
    """As in "knit in pattern", "k as set", "knit in rib to end", "knit in garter"."""
    if cur.any_phrase(
        "it? as it? is|comes|set|established|est", "as set|established|est|before", "in the? patt|pattern|pat"
    ):
        cur.any_phrase("as set|established|est|before")
        return (InPattern(to=parse_place(cur, ctx), span=cur.span_from(here)),)
    at = cur.at
    if cur.take("in") is not None:
        ground = parse_ground(cur, ctx)
        if ground is not None:
            return ground
        cur.at = at
    return None


def _bare(cur: Cursor, ctx: Context, here: int, base: str) -> Steps | None:
    """A lone "Knit." is the whole row; "k, p2, k" in the course of a row is one stitch."""
    pad = cur.pad
    take_manner(cur)
    t = pad[cur.at]
    head = pad[here].low
    colour = parse_colour(cur, ctx) if t.kind in {"w", "s"} else None
    t = pad[cur.at]
    if t.kind in {"w", "s", "n", "o"} and colour is None:
        if (
            t.low not in FILLERS
            and t.kind != "s"
            and t.low not in {"k", "p", "sl", "turn", "increasing", "decreasing"}
        ):
            return None
        if t.kind == "s" and len(head) > 1:
            return None
    if len(head) == 1 and t.low in {",", "", "*", ")", "]"} | _OPS:
        one = pad[cur.at + 1] if t.low == "," else t
        inside = t.low in {")", "]", "*"} and here > 0
        if inside or one.low in _OPS or (one.kind == "s" and one.low != "turn"):
            return (Work(stitch=base, count=ONE, colour=colour, span=cur.span_from(here)),)
        if t.low == "" and here > 0 and pad[here - 1].low == "," and pad[here - 2].kind in {"n", "s"}:
            return (Work(stitch=base, count=ONE, colour=colour, span=cur.span_from(here)),)
    span = cur.span_from(here)
    fill = fill_to(base, _here_end(cur, span), span)
    return (fill,) if colour is None else (Yarn(act="use", colour=colour, span=span), fill)


def parse_plain(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Plain := ("quite" | "all")? ("plain" | "seamed" | "purled" | "knitted" | "plain knitting" | "pearl
    knitting") place?

    "Plain.", "Seamed.", "plain knitting", "quite plain", "plain to end", "purled"
    """
    del depth
    here = cur.at
    cur.take("quite", "all", "worked", "work")
    t = cur.next()
    base = "k"
    if t.low in {"seamed", "purled", "pearled", "purl", "seam", "pearl"}:
        base = "p"
        cur.take("knitting", "back")
    elif t.low == "plain":
        if cur.peek().low in {
            "row",
            "rows",
            "rounds",
            "round",
            "rnd",
            "rnds",
            "stitch",
            "stitches",
            "sts",
            "st",
        } and (cur.peek(1).kind and cur.peek(1).low != "."):
            cur.at = here
            return None
        if cur.take("knit", "knitting", "k"):
            n = parse_number(cur, ctx)
            if n is None and cur.phrase("the? two|2|three|3 last sts|stitches"):
                word = cur.tokens[cur.at - 3]
                value = word.value if isinstance(word.value, int) else 2
                n = Number(values=(value,), span=word.span)
            if n is not None:
                take_stitch_word(cur)
                return (Work(stitch="k", count=n, span=cur.span_from(here)),)
            if cur.phrase("the? rest|remainder"):
                pass
        elif cur.peek().kind == "n":
            cur.at = here
            return None
        cur.take("row", "round", "rnd")
    elif t.low == "knitted":
        cur.take("plain")
    else:
        cur.at = here
        return None
    take_manner(cur)
    place = parse_place(cur, ctx)
    take_manner(cur)
    after = cur.peek()
    goes_on = FILLERS | {"turn", "with", "in", "but", "except", "keeping"}
    if after.kind in {"w", "s", "n"} and after.low not in goes_on and place is None:
        cur.at = here
        return None
    return _with_colour(cur, ctx, here, base, place)


def parse_ground(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Ground := name of a fabric ("over" number stitches | place)?

    "garter st", "2x2 rib to end", "k1, p1 rib", "moss st over next 9 sts", "St st to last 3 sts"
    """
    del depth
    from purlwright.stitches.load import grounds

    here = cur.at
    pad = cur.pad
    find = grounds().find
    best = None
    words = ""
    end = here
    for i in range(here, min(here + _LONGEST_GROUND, len(cur.tokens))):
        t = pad[i]
        if t.kind == "p" and t.low not in {",", "/", ".", "-", "x"}:
            break
        words += t.low if t.glued or not words else " " + t.low
        if t.kind == "p" or t.low in {"in", "for", "to", "and", "until"}:
            if t.low in {"in", "for", "to", "until"}:
                break
            continue
        found = find(words)
        if found is not None and ("rib" in words or cur.pad[here].low not in _KNITS):
            best, end = found, i + 1
    if best is None and pad[here].low in _SHORT_GROUNDS and _names_it(cur):
        best, end = find(_SHORT_GROUNDS[pad[here].low]), here + 1
    if best is None:
        return None
    low = words.split(" ", 1)[0]
    if end == here + 1 and low in {"k", "p", "knit", "purl", "k1", "p1", "plain"}:
        return None
    cur.at = end
    if (
        pad[end].low == "."
        and pad[end].glued
        and pad[end - 1].low in {"st", "patt", "gar"}
        and pad[end + 1].low in {",", "for"}
    ):
        cur.at += 1
    cur.take("st", "sts", "stitch", "ribbing", "rib", "pattern", "patt", "fabric")
    told_by_sides(cur)
    return _over(cur, ctx, here, best.key, tuple(best.readings))


_SHORT_GROUNDS = {"ss": "stockinette", "gs": "garter"}
"""Short forms that stand for other things too: read only where a fabric is named (UK toy patterns)."""
_AFTER_GROUND = frozenset({"", ".", ",", ";", "for", "until", "till", "(", "throughout", "beg", "beginning"})


def _names_it(cur: Cursor) -> bool:
    """Whether a fabric is named here: "in ss", "GS for 4 rows", a row that is all "GS"."""
    return cur.pad[cur.at - 1].low in {"in", "of"} or (
        cur.pad[cur.at + 1].low in _AFTER_GROUND and cur.pad[cur.at].low == "gs"
    )


def ground_named(cur: Cursor, ctx: Context, here: int, name: str) -> Steps | None:
    """The ground of that name from ``here`` on, and how far it goes."""
    from purlwright.stitches.load import grounds

    found = grounds().find(name)
    return None if found is None else _over(cur, ctx, here, found.key, tuple(found.readings))


def _over(cur: Cursor, ctx: Context, here: int, ground: str, readings: tuple[str, ...]) -> Steps | None:
    at = cur.at
    count: Number | None = None
    cur.take(",") if cur.peek(1).low in {"over", "to"} and cur.peek(2).low in {
        "last",
        "next",
        "end",
    } else None
    named = _these_for_edge(cur, ctx)
    if named is not None:
        count = named
    elif cur.any_phrase("over|on|across|for the? next|first|last|remaining|rem|centre|center", "over|on|for"):
        count = parse_number(cur, ctx)
        if count is None or not take_stitch_word(cur):
            count = None
            cur.at = at
    elif (
        cur.peek().kind == "n"
        and cur.peek(1).low in {"st", "sts", "stitches", ",", "", ";", "."}
        and _same_sentence(cur)
    ):
        count = parse_number(cur, ctx)
        take_stitch_word(cur)
    cur.any_phrase("as given|set|worked|established for the? back|front|body|sleeve|sleeves|cuff|first|other",
                   "as set|established|given|before")  # fmt: skip
    place = parse_place(cur, ctx) if count is None else None
    take_manner(cur)
    if cur.peek().low in {"rows", "rnds", "rounds"}:
        return None
    return (InGround(ground=ground, count=count, to=place, readings=readings, span=cur.span_from(here)),)


def _these_for_edge(cur: Cursor, ctx: Context) -> Number | None:
    """As in "over these 5 sts for front border, k8": the first stitches of a row, and what they are for.

    "On these 8 sts only for 6 rows" is a piece of its own and stays as it was.
    """
    at = cur.at
    if cur.any_phrase("over|on|across these|those"):
        count = parse_number(cur, ctx)
        if count is not None and take_stitch_word(cur):
            if cur.any_phrase(
                "for the? front|back|side|left|right|neck|button|edge? border|band|edge|edging"
            ):
                return count
            if cur.peek().low == "," and cur.peek(1).kind == "s":
                return count
    cur.at = at
    return None


def _same_sentence(cur: Cursor) -> bool:
    """A number that follows a ground counts its stitches only if no stop stands between."""
    return cur.pad[cur.at - 1].low not in {".", ";"}


def parse_rib(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Rib := ("rib" | "work" "in"? ) ground | "rib" number | "rib" place

    "rib 6", "rib to end", "work in k1, p1 rib to last 3 sts"
    """
    here = cur.at
    ground = parse_ground(cur, ctx, depth)
    if ground is not None and len(ground) == 1:
        g = ground[0]
        if isinstance(g, InGround) and cur.tokens[here].low == "rib" and g.count is None and g.to is None:
            pass
        else:
            return ground
    cur.at = here + 1
    n = parse_number(cur, ctx)
    if n is not None:
        if cur.peek().low in {"rows", "rnds", "rounds", "row", "rnd", "round"}:
            cur.at = here
            return None
        take_stitch_word(cur)
        return (InPattern(count=n, span=cur.span_from(here)),)
    place = parse_place(cur, ctx)
    take_manner(cur)
    if place is None:
        cur.any_phrase("as at|in the? beginning|start", "as before")
    return (InPattern(how="set" if place else "rib", to=place, span=cur.span_from(here)),)


def parse_in_pattern(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """in-pattern := ("work" | "cont" | "keep" ...)? ("in" "patt" | "as est" | "even" | "straight") count?
    place?

    "work in pattern to end", "patt 6", "as set", "work even", "keeping pattern correct", "in patt over
    next 12 sts"
    """
    del depth
    here = cur.at
    count: Number | None = None
    if cur.any_phrase(
        "keeping|keep the? pattern|patt|pat|continuity correct|of? the? pattern?",
        "keeping|keep pattern as|in set|est|established",
    ):
        return (InPattern(span=cur.span_from(here)),)
    cur.take("in")
    cur.take("the", "established", "est", "same", "set", "previous")
    if cur.take("patt", "pattern", "pat", "patts", "patterns", "manner"):
        cur.take(".") if cur.peek().glued and cur.peek(1).low in {",", "to", "over"} else None
        cur.any_phrase("as set|established|est|before|given|above", "st|stitch")
        cur.any_phrase(
            "for the? back|front|body|sleeve|sleeves|first|other|left|right side|half|front|sleeve|mitten?"
        )
    elif cur.any_phrase(
        "as set|established|est|before|given|above|usual|described",
        "as they appear|face",
        "as previously|usually",
    ):
        cur.any_phrase("set|established|est")
    elif cur.take("even", "straight", "evenly", "etc"):
        cur.take(".") if cur.peek().glued and cur.peek(1).low in {",", ";"} else None
    elif cur.any_phrase("without shaping|increasing|decreasing") is None:
        cur.at = here
        return None
    cur.any_phrase(
        "over|across|on the? next|first|last|rem|remaining|centre|center", "over|across|for"
    ) if cur.peek(1).kind == "n" or cur.peek(2).kind == "n" or cur.peek(3).kind == "n" else None
    if cur.peek().kind == "n" and cur.peek(1).low not in {
        "rows",
        "rnds",
        "rounds",
        "times",
        "row",
        "inches",
        "cm",
        "in",
    }:
        count = parse_number(cur, ctx)
        take_stitch_word(cur)
    place = parse_place(cur, ctx) if count is None else None
    take_manner(cur)
    if place is None and count is None and "needle" in cur.kept:
        place = _here_end(cur, cur.span_from(here))
    return (InPattern(count=count, to=place, span=cur.span_from(here)),)


def _part_in_pattern(cur: Cursor, here: int) -> InPattern | None:
    """PART-IN-PATTERN: "the"? PART "sts" ("in pattern" | "as set")?, after "work": as many as there are."""
    at = cur.at
    cur.take("the", "all")
    part = cur.next().low
    if part in _PART_STS and cur.take("sts", "stitches") is not None:
        said = cur.any_phrase(
            "in the? established|est? patt|pattern|pat",
            "as set|est|established|before|charted",
            "even|straight",
        )  # fmt: skip
        if said is not None or cur.peek().low in {"", ",", ".", ";", "("}:
            to = Place(kind=PlaceKind.NEEDLE_END, name=f"{part} sts", span=cur.span_from(at))
            return InPattern(to=to, span=cur.span_from(here))
    cur.at = at
    return None


def parse_work(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Work := "work" (number stitches | place | in-pattern | ground | "each" "st" ...) ("in pattern")?

    "work 4 sts", "work to end", "work across", "work 50 sts in pattern", "work as est to marker", "work in
    rib"
    """
    here = cur.at
    pad = cur.pad
    cur.at += 1
    if pad[cur.at].low == "." and pad[cur.at].glued and pad[here].low == "cont":
        cur.at += 1
    cur.take("even", "straight") if pad[cur.at + 1].low in PLACE_WORDS else None
    if pad[cur.at].low in {"row", "rows", "rnd", "round", "chart", "panel", "short"}:
        cur.at = here
        return None
    part = _part_in_pattern(cur, here)
    if part is not None:
        return (part,)
    for try_one in (parse_in_pattern, parse_ground):
        found = try_one(cur, ctx, depth)
        if found is not None:
            return tuple(_respan(s, cur.span_from(here)) for s in found)
    at = cur.at
    if cur.take("in"):
        found = parse_ground(cur, ctx, depth)
        if found is not None:
            return tuple(_respan(s, cur.span_from(here)) for s in found)
        cur.at = at
    n = _worked(cur, ctx)
    if n is not None:
        if cur.take("tog", "together"):
            v = n.values[0]
            return (Work(stitch=f"k{v}tog", count=ONE, span=cur.span_from(here)),) if v in {2, 3} else None
        cur.any_phrase("in|as patt|pattern|pat|rib|set|est|established", "even")
        ground = None
        at = cur.at
        if cur.take("in"):
            ground = parse_ground(cur, ctx, depth)
            if ground is None:
                cur.at = at
        if ground is not None and isinstance(ground[0], InGround):
            g = ground[0]
            return (InGround(ground=g.ground, count=n, readings=g.readings, span=cur.span_from(here)),)
        return (InPattern(count=n, span=cur.span_from(here)),)
    place = parse_place(cur, ctx)
    if place is not None:
        at = cur.at
        if cur.phrase(",? in|as"):
            cur.at = at + (1 if pad[at].low == "," else 0)
            more = parse_in_pattern(cur, ctx)
            if more is None and cur.take("in"):
                ground = parse_ground(cur, ctx, depth)
                if ground is not None and isinstance(ground[0], InGround):
                    g = ground[0]
                    return (
                        InGround(ground=g.ground, to=place, readings=g.readings, span=cur.span_from(here)),
                    )
            if more is None:
                cur.at = at
        return (InPattern(to=place, span=cur.span_from(here)),)
    if cur.any_phrase("each|every st|stitch", "all? sts|stitches"):
        cur.any_phrase(
            "as they|it appear|appears|face|faces|present|presents|are|is themselves|itself?",
            "in the manner it|they presents|present|appears|appear itself|themselves?",
            "in? pattern|patt",
            "as set|est|established",
        )
        return (InPattern(how="as they appear", to=parse_place(cur, ctx), span=cur.span_from(here)),)
    if cur.any_phrase(
        "the? rest|remainder of? the? row|round|rnd|sts|stitches?", "rem|remaining sts|stitches"
    ):
        cur.any_phrase("in|as pattern|patt|pat|set|est|established")
        return (InPattern(span=cur.span_from(here)),)
    # "work k2, p2 to end" and "work (k1, p1) twice": the word adds nothing
    t = pad[cur.at]
    if t.kind == "s" or t.low in {"k", "p", "(", "[", "*", "knit", "purl", "sl", "yo"}:
        from purlwright.pattern.read import steps

        return steps.parse_step(cur, ctx, depth + 1)
    cur.at = here
    return None


def _worked(cur: Cursor, ctx: Context) -> Number | None:
    """As in "the next 4 sts", "50 stitches", "first 12 sts"."""
    at = cur.at
    cur.take("the", "these", "those", "across", "over")
    cur.take("next", "first", "last", "remaining", "rem", "centre", "center", "foll", "following", "edge")
    t = cur.peek()
    n = parse_number(cur, ctx)
    if n is None and t.low in {"st", "stitch"}:
        n = Number(values=(1,), span=t.span)
    if n is None or (
        cur.peek().low
        in {"rows", "rnds", "rounds", "row", "rnd", "round", "times", "inches", "cm", "more", "in"}
        and (cur.peek().low != "in" or cur.peek(1).low in {".", ",", ""})
    ):
        cur.at = at
        return None
    after = cur.peek()
    if not take_stitch_word(cur) and after.kind in {"w", "s", "n"} and after.low not in _AFTER_WORKED:
        cur.at = at
        return None
    return n


def _respan(step: Step, span: Span) -> Step:
    from msgspec.structs import replace

    return replace(step, span=span)


_IN = (parse_in_pattern,)
WORDS: dict[str, tuple[Handler, ...]] = {
    "plain": (parse_plain,),
    "all": (parse_plain,),
    "seamed": (parse_plain,),
    "purled": (parse_plain,),
    "knitted": (parse_plain,),
    "pearled": (parse_plain,),
    "quite": (parse_plain,),
    "work": (parse_work,),
    "works": (parse_work,),
    "worked": (parse_work,),
    "gs": (parse_ground,),
    "rib": (parse_rib,),
    "ribbing": (parse_rib,),
    "in": _IN,
    "as": _IN,
    "even": _IN,
    "straight": _IN,
    "patt": _IN,
    "pattern": _IN,
    "pat": _IN,
    "keeping": _IN,
    "etc": _IN,
    "without": _IN,
    "keep": _IN,
    "cont": (parse_work,),
    "continue": (parse_work,),
}
for _name in "garter stockinette stocking seed moss double st reverse rev single 1x1 2x2 g gst".split():
    WORDS[_name] = (parse_ground,)
