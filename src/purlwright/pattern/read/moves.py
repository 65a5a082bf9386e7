"""What happens between stitches: markers, yarns, holds, returns, binding off, casting on, picking up.

In: a cursor at such words within a row. Out: ``Marker``, ``Yarn``, ``Hold``, ``Return``, ``BindOff``,
``CastOn``, ``PickUp``.
The same words over whole pieces and several rows are statements and stand elsewhere.
"""

from __future__ import annotations

from typing import Literal

from purlwright.pattern.read.amounts import words_from
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.parts import take_for_part
from purlwright.pattern.read.places import take_stitch_word
from purlwright.pattern.read.working import COLOURS, Handler, Steps, parse_colour, take_manner
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Drop, Hold, Marker, Note, Number, Return, SlipBack, Yarn

__all__ = ["WORDS", "hold_after_slip", "parse_marker"]

_MARKERS = frozenset("marker markers m mk mkr mrk mrkr pm".split())
_HOLDERS = (
    "a? the? st|stitch -? holder|holders",
    "a? the? st-holder|stitch-holder|st-holders|stitch-holders",
    "a? the? holder|holders",
    "hold",
    "a? second|third|2nd|3rd|another|separate st|stitch? holder",
    "a? piece|length|bit|strand of? waste|scrap|spare|contrast yarn|wool",
    "waste|scrap|spare|contrast|contrasting yarn|wool|thread",
    "a? spare|extra needle|pin|needles",
    "a? safety pin",
    "a? thread|string|yarn",
    "a? length|piece|strand of? waste|scrap|contrasting? yarn|wool|thread|cotton",
)
_Of = Literal["next", "first", "last", "rest", "all", "worked", "marker", "sleeve"]
_OFS: dict[str, _Of] = {
    "next": "next",
    "first": "first",
    "last": "last",
    "rem": "rest",
    "remaining": "rest",
    "rest": "rest",
    "all": "all",
    "following": "next",
    "foll": "next",
    "centre": "next",
    "center": "next",
    "middle": "next",
    "these": "worked",
    "those": "worked",
    "other": "rest",
}


_WHEN_REMOVED = (
    "on|in the? last|first|next|same rep|repeat|round|rnd|row|time", "on|in this row|round|rnd",
    "as you come to them|it", "as|when you reach|meet them|it|each", "as they|each are|is reached|met",
    "as you go",
)  # fmt: skip
"""When markers are taken away: "removing markers on the first row"."""


def _name_after(cur: Cursor, ctx: Context) -> str | None:
    """The marker's own name: a capital letter, a number, or a colour or word before "marker"."""
    t = cur.peek()
    if t.kind == "n" and t.glued and isinstance(t.value, int):
        cur.next()
        return t.text
    if t.kind in {"w", "s"} and (
        (
            len(t.text) == 1
            and t.text.isupper()
            and cur.peek(1).kind != "n"
            and (t.text not in {"K", "P"} or cur.peek(1).low in {",", ""})
        )
        or t.low in ctx.markers
    ):
        cur.next()
        return t.text
    return None


def parse_marker(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Marker := "pm" name? | "sm" | "rm" | ("place" | "slip" | "remove" | "mark") (word)? "marker" name?
    where?

    "pm", "sm", "place marker A", "slip marker", "remove marker", "place a red marker", "mark centre st"
    """
    del depth
    here = cur.at
    t = cur.next()
    act: Literal["place", "slip", "remove"]
    if t.low == "placing":
        if cur.any_phrase(
            "a|the|another|your? marker|m for|at the? beginning|beg|start of the? rnd|round",
            "a|the|another|your? marker|m",
        ):
            return (Marker(act="place", span=cur.span_from(here)),)
        cur.at = here
        return None
    if t.low in {"removing", "slipping", "discarding"}:
        act = "slip" if t.low == "slipping" else "remove"
        if cur.any_phrase("all|both|the|each|any? the|other|remaining? markers|marker|m|m's"):
            cur.any_phrase(
                "the last time",
                "as they appear|come",
                "in passing",
                "as you pass them",
                *_WHEN_REMOVED,
                "except the? beg|beginning|bor|first marker?",
            )
            words = {t.low for t in cur.tokens[here : cur.at]}
            many = bool(words & {"markers", "m's", "all"})
            return (Marker(act=act, name="all" if many else None, span=cur.span_from(here)),)
        cur.at = here
        return None
    if t.low in {"pm", "sm", "rm", "slm", "slipm", "plm", "slmrk"}:
        act = "remove" if t.low == "rm" else "place" if t.low.startswith("p") else "slip"
        dot = cur.peek()
        if dot.low == "." and dot.glued and cur.peek(1).low == ",":
            cur.next()
        name = _name_after(cur, ctx)
        return _placed(cur, ctx, here, act, name)
    act = {"slip": "slip", "sl": "slip", "pass": "slip", "remove": "remove", "replace": "place"}.get(
        t.low, "place"
    )  # type: ignore[assignment]
    cur.any_phrase("the? next", "a|the|another|each|your|first|second|third|one|two|2", "all")
    u = cur.peek()
    name = None
    if act == "remove" and cur.tokens[cur.at - 1].low == "all" and cur.any_phrase("the? markers"):
        return (Marker(act=act, name="all", span=cur.span_from(here)),)
    if (
        u.low not in _MARKERS
        and cur.peek(1).low in _MARKERS
        and u.kind in {"w", "s", "o"}
        and u.low not in {"in", "of", "to"}
    ):
        cur.next()
        name = u.text if u.low not in {"next", "first", "stitch", "st", "end"} else None
    if len(u.text) == 2 and u.text[0] == "m" and u.text[1].isupper() and name is None:
        cur.next()
        return _placed(cur, ctx, here, act, u.text[1])
    if cur.peek().low in _MARKERS:
        m = cur.next()
        if act == "remove" and m.low in {"markers", "m's"} and name is None:
            cur.any_phrase(*_WHEN_REMOVED)
            return (Marker(act=act, name="all", span=cur.span_from(here)),)
        if m.low == "m" and cur.peek().low == "." and cur.peek().glued and cur.peek(1).low in {",", ";"}:
            cur.next()
        return _placed(cur, ctx, here, act, name or _name_after(cur, ctx))
    if t.low == "mark":
        # "mark centre stitch", "mark as center heel", "mark this st"
        for _ in range(6):
            v = cur.peek()
            if not v.kind or v.kind == "p":
                break
            cur.next()
        return (
            Marker(
                act="place",
                name="centre" if "cent" in "".join(x.low for x in cur.tokens[here : cur.at]) else None,
                span=cur.span_from(here),
            ),
        )
    cur.at = here
    return None


def _placed(
    cur: Cursor, ctx: Context, here: int, act: Literal["place", "slip", "remove"], name: str | None
) -> Steps:
    """Where := "after" "first"? number stitches | "before" "last" number stitches | "for beginning of
    round" | "as you come to them"
    """
    if act == "slip" and cur.take("off") is not None:
        act = "remove"  # "slip marker off"
    after: Number | None = None
    before_end: Number | None = None
    out: list[Marker] = []
    for _ in range(3):
        at = cur.at
        cur.any_phrase("and", ",")
        if cur.any_phrase("after the? first|next?"):
            after = parse_number(cur, ctx)
            if after is None:
                cur.at = at
                break
            take_stitch_word(cur)
            out.append(Marker(act=act, name=name, after=after, span=cur.span_from(here)))
        elif cur.any_phrase("before the? last|final"):
            before_end = parse_number(cur, ctx)
            if before_end is None:
                cur.at = at
                break
            take_stitch_word(cur)
            out.append(Marker(act=act, name=name, before_end=before_end, span=cur.span_from(here)))
        else:
            cur.at = at
            break
    if out:
        return tuple(out)
    cur.any_phrase("on needle|needles", "on right? hand? needle", "on rn|rh needle?", "to right? needle")
    if cur.any_phrase("for|at|to mark|indicate|show?", "to", "for") and cur.at > here:
        words: list[str] = []
        for _ in range(8):
            t = cur.peek()
            if not t.kind or t.kind == "p" or t.low in {"and", "then"}:
                break
            words.append(t.low)
            cur.next()
        if name is None and "beg" in " ".join(words):
            name = "beg"
    cur.any_phrase(
        "as you|they come|go|meet|reach to? them?",
        "as they appear",
        "as you come to them",
        "in passing",
        "when you come to them",
        "as established",
        "as you reach them",
        "as you go",
    )
    return (Marker(act=act, name=name, span=cur.span_from(here)),)


def parse_yarn(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Yarn := ("with" | "using" | "change" "to" | "join" "in"? | "switch" "to" | "in" | "break" | "cut"
    ...) colour

    "with A", "using CC1", "change to MC", "join new yarn", "break yarn", "drop B"
    """
    del depth
    here = cur.at
    t = cur.next()
    if t.low in {"break", "cut", "fasten"}:
        if t.low == "fasten":
            cur.at = here
            return None
        cur.any_phrase("off")
        colour = parse_colour(cur, ctx, alone=True)
        if colour is None and not cur.any_phrase("the? working? yarn|wool|thread|cotton|tail"):
            cur.at = here
            return None
        _aside(cur)
        return (Yarn(act="break", colour=colour, span=cur.span_from(here)),)
    act: Literal["use", "join", "break"] = "use"
    if t.low in {"join", "attach", "rejoin", "tie", "joining"}:
        act = "join"
        cur.any_phrase("in", "on")
        if cur.any_phrase(
            "a|the? new|second|another|2nd|working|other? ball|yarn|wool|ball|length|strand|skein "
            "of? yarn|wool|cotton|thread?",
            "a? second|another|new ball|yarn of?",
            "yarn|wool",
        ):
            cur.take("yarn", "wool")
            colour = (
                parse_colour(cur, ctx, alone=True)
                if cur.peek().kind in {"w", "s"} and cur.peek().low not in {"and", "to"}
                else None
            )
            _leaving_tail(cur)
            return (Yarn(act="join", colour=colour, span=cur.span_from(here)),)
    elif t.low in {"change", "switch", "changing", "switching", "return", "go"}:
        cur.take("back")
        if cur.take("to") is None:
            cur.at = here
            return None
    if (
        t.low == "in"
        or cur.peek().low in ctx.yarns
        or t.low in {"with", "using", "change", "switch", "changing", "join", "switching"}
    ):
        cur.any_phrase("the")
        at = cur.at
        if t.low in {"change", "switch", "join", "with", "using"} and cur.take(*_SHADES) is not None:
            cur.any_phrase("shade|colour|color|yarn|ball|wool")
            cur.take("of")
            if (
                (shade := cur.peek()).low in COLOURS
                or shade.low in ctx.yarns
                or cur.tokens[cur.at - 1].low == "of"
            ):
                cur.next()
            if cur.pad[cur.at].low not in {"needle", "needles", "size", "sized"}:
                words = _said(cur, at)
                return (Yarn(act=act, colour=words, span=cur.span_from(here)),)
            cur.at = at
        colour = parse_colour(cur, ctx, alone=True)
        if colour is not None:
            if cur.peek().low in {"held", "only", "alone"}:
                cur.next()
            take_manner(cur)
            return (Yarn(act=act, colour=colour, span=cur.span_from(here)),)
    cur.at = here
    return (
        _adjunct(cur, here)
        if t.low in {"with", "using", "on", "change", "switch", "changing", "in"}
        else None
    )


_SHADES = "next darkest lightest second third other new following different lighter darker first".split()


def _leaving_tail(cur: Cursor) -> None:
    """As in "leaving a long tail": taken, it works nothing."""
    at = cur.at
    if cur.any_phrase(
        ",? leaving a? long|6|8|10|12|10-inch|short tail|end",
        ",? leaving a? long? tail|end",
        ",? leave a? long? tail|end",
    ):
        return
    cur.at = at


def _adjunct(cur: Cursor, here: int) -> Steps | None:
    """As in "using larger needles,", "with RS facing,", "with size 5 dpns": a note, up to the comma."""
    seen = False
    for _ in range(18):
        t = cur.peek()
        if not t.kind or t.low in {";", ":", ")", "("} or t.low in _WORKING:
            break
        if t.low == "." and not (
            cur.peek(-1).low in {"no", "nos", "sts", "mm"}
            and (cur.peek(1).kind == "n" or cur.peek(1).text[:1].islower())
        ):
            break
        if (
            t.low == ","
            and seen
            and not (cur.peek(1).kind == "n" or cur.peek(1).low in {"circular", "double", "and"})
        ):
            break
        if t.low in _NEEDLES or t.low.startswith("dpn"):
            seen = True
        cur.next()
    if cur.peek(-1).low == "only" and cur.peek(-2).low in {"size", "sizes"}:
        seen = False  # "on 2nd size only" is not said of needles
    if not seen or cur.at <= here + 1:
        cur.at = here
        return None
    return (Note(words=_said(cur, here), span=cur.span_from(here)),)


_WORKING = frozenset("cast co knit work k pick bind bo p purl long-tail".split())
_NEEDLES = frozenset(
    "cast-on waste scrap needle needles pin pins dpn dpns circular hook facing mm "
    "method us smaller larger finer thicker method ndl ndls size".split()
)


def _said(cur: Cursor, here: int) -> str:
    return "".join(("" if t.glued else " ") + t.text for t in cur.tokens[here : cur.at]).strip()


def _aside(cur: Cursor) -> None:
    """As in "leaving a 20 cm tail" after breaking the yarn."""
    at = cur.at
    cur.take(",")
    if cur.take("leaving", "leave") is None:
        cur.at = at
        return
    for _ in range(10):
        t = cur.peek()
        if not t.kind or t.low in {",", ";"} or (t.low == "." and not t.glued):
            return
        cur.next()
        if t.low in {"tail", "end"}:
            return


def _holder(cur: Cursor) -> str | None:
    at = cur.at
    if cur.any_phrase(*_HOLDERS):
        words = _said(cur, at)
        cur.any_phrase(
            "for the? later|thumb|neck|front|back|heel|instep|left|right|sleeve|pocket|hood|collar|"
            "neckband use?|sleeve|front|back|thumb|of?",
            "for now",
        )
        take_for_part(cur)
        if cur.tokens[cur.at - 1].low in {
            "sleeve",
            "front",
            "back",
            "thumb",
            "hood",
            "instep",
            "heel",
            "finger",
        }:
            words = _said(cur, at)  # "waste yarn for left sleeve": taken up again by that name
        if cur.tokens[cur.at - 1].low == "of":
            cur.at -= 1
        cur.any_phrase("of neck", "neck", "without working? them", "to be worked later")
        return words
    return None


def take_from_holder(cur: Cursor, number: Number, which: str) -> Return | None:
    """FROM-HOLDER: "from" holder | "held" | a part's name, after "knit across the 32 instep sts"."""
    here = cur.at
    if cur.take("from", "on") is not None:
        cur.any_phrase("the", "a")
        place = _holder(cur)
        if place is not None:
            named = f"{which} {place}" if which in _HELD_PARTS else place
            return Return(place=named, count=number, span=cur.span_from(here))
        cur.at = here
    if which in _HELD_PARTS:
        return Return(place=which, count=number, if_held=True, span=cur.tokens[here - 1].span)
    return None


_HELD_PARTS = frozenset("instep held heel front back sleeve body thumb neck underarm".split())


def hold_after_slip(cur: Cursor, ctx: Context, here: int, count: Number, of: _Of = "next") -> Steps | None:
    """Hold := slip ("to" | "onto" | "on") holder

    "sl 12 sts to holder", "slip next 8 sts onto waste yarn"
    """
    del ctx
    cur.any_phrase(
        "at|from|on the? neck|armhole|front|side|centre|center edge", "between the? two|2? markers|m's|ms",
        "for the? left|right|back|front|first|second? shoulder|neck|sleeve|thumb|heel|instep|underarm|front"
        "|back",
    )  # fmt: skip
    if cur.take("to", "onto", "on", "in", "upon") is None:
        return None
    cur.take("to")
    cur.any_phrase("hold on|onto")
    place = _holder(cur)
    if place is None:
        return None
    return (Hold(count=count, place=place, of=of, span=cur.span_from(here)),)


def parse_hold(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Hold := ("place" | "put" | "leave" | "slip") ("next" | "rem" | ...)? number? stitches ("on" | "onto"
    | "to") holder

    "place next 14 sts on holder", "leave rem sts on hold", "put 8 sts onto waste yarn"
    """
    del depth
    here = cur.at
    cur.next()
    at = cur.at
    if cur.any_phrase("on|onto a|an|the? spare|stitch? holder|waste|scrap yarn?") and cur.peek().low in {
        "", ".", ";", "for", "and", ",",
    }:  # fmt: skip
        # "Work 10 cm in st st. Place on a holder.": all there are
        return (Hold(place=words_from(cur, at).split(" ", 1)[1], of="all", span=cur.span_from(here)),)
    cur.at = at
    cur.take("the", "all")
    cur.any_phrase("first|last|next set|group of") if cur.peek(1).low in {"set", "group"} else None
    of: _Of = "next"
    if cur.peek(-1).low == "of" and cur.peek(-3).low in _OFS:
        of = _OFS[cur.peek(-3).low]
    part = cur.at
    if cur.any_phrase("thumb gusset?|hole?", "gusset", "left|right|first|second|next? sleeve") and (
        take_stitch_word(cur)
    ):
        # "slip the thumb sts onto scrap yarn": how many is told by the markers
        said: _Of = "sleeve" if "sleeve" in {t.low for t in cur.tokens[part : cur.at]} else "marker"
        place = None
        if cur.take("on", "onto", "to", "in") is not None:
            cur.any_phrase("to", "hold on|onto")
            place = _holder(cur)
        if place is not None:
            return (Hold(place=place, of=said, span=cur.span_from(here)),)
        cur.at = here
        return None
    whole = cur.tokens[cur.at - 1].low == "all" if cur.at > at else False
    t = cur.peek()
    if t.low in _OFS:
        of = _OFS[t.low]
        cur.next()
        cur.take(".") if cur.peek().glued and cur.peek(1).kind == "n" else None
        cur.take("of")
        cur.take("the")
    if cur.peek(1).value is not None:
        cur.take("centre", "center", "middle")
    count = parse_number(cur, ctx)
    cur.take(
        "remaining", "rem", "other", "thumb", "neck", "held", "instep", "heel", "sleeve", "centre", "center"
    )
    sts = take_stitch_word(cur)
    cur.any_phrase(
        "of the? round|rnd|row|needle",
        "for the? first|second|left|right|back|front? thumb|neck|front|back|sleeve|heel|instep|shoulder"
        " neck?",
        "just worked|knitted|knit|purled",
        "left",
        "at neck? edge?",
        "of|for each shoulder|side|front|strap",
    )
    if not sts and count is None and of == "next":
        cur.at = here
        return None
    up_to = cur.any_phrase("up? to the? next|second? marker|m", "as far as the? next? marker|m",
                           "between the? two|2? markers|marker|m's|ms")  # fmt: skip
    if up_to is not None and count is None:
        of = "marker"
    if cur.take("on", "onto", "to", "in", "upon") is None:
        cur.at = here
        return None
    cur.take("to")
    cur.any_phrase("hold on|onto")
    place = _holder(cur)
    if place is None:
        cur.at = here
        return None
    if (whole and count is None) or (count is None and of == "next"):
        of = "all"
    return (Hold(count=count, place=place, of=of, span=cur.span_from(here)),)


def parse_hold_all(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Hold := "slip" ("all" | "the" | "rem") stitches ("on" | "onto" | "to") holder

    "slip all sts onto waste yarn", "slip the remaining sts on to a holder"
    """
    first = cur.peek(1).low
    counted = cur.peek(2).kind == "n"  # "sl remaining 17 sts on a holder"
    if first not in {"all", "the", "rem", "remaining"} or (counted and first in {"all", "the"}):
        return None
    here = cur.at
    held = parse_hold(cur, ctx, depth)
    if held is not None and isinstance(held[0], Hold):
        if held[0].of in {"all", "rest"} and (counted or held[0].count is None):
            return held
    cur.at = here
    return None


def _on_needles_ahead(cur: Cursor, count: Number | None) -> bool:
    """ON-NEEDLES: "place 15 sts on dpns": so many of those that wait, for no one needle is meant."""
    at = cur.at
    found = count is not None and cur.any_phrase(
        "on|onto|to dpns|needles", "on|onto|to double - pointed needles"
    )
    after = cur.peek().low
    cur.at = at
    return bool(found) and after in {"", ".", ",", ";", "and"}


def parse_return(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Return := ("place" | "return" | "slip" | "put" | "transfer") ("held" | number | ...) stitches?
    ("from" holder)? ("on" | "back on" | "to") needle

    "return held sts to needle", "place 14 sts from holder onto needle"
    """
    del depth
    here = cur.at
    cur.next()
    cur.any_phrase("the? held|waiting|resting", "the? next|first|remaining|rem", "the", "these|those")
    count = parse_number(cur, ctx)
    held = cur.tokens[cur.at - 1].low == "held"
    cur.take("held", "thumb", "front", "back", "neck", "heel", "instep", "sleeve", "remaining")
    held = held or cur.tokens[cur.at - 1].low == "held"
    sts = take_stitch_word(cur)
    place = ""
    part = take_for_part(cur)
    if part is not None:
        place = part.lower()
    if cur.any_phrase(
        "from the? st|stitch? holder|holders",
        "from the? waste|scrap|spare yarn|needle",
        "from hold",
        "on the? holder|hold",
    ):
        held = True
    if not sts or not (held or _on_needles_ahead(cur, count)):
        cur.at = here
        return None
    if not cur.any_phrase(
        "back? on|onto|to the? left|right|larger|smaller|double|working|dp|a|main|same|lh|rh? hand? "
        "-? pointed? needle|needles|dpn|dpns",
        "back? to|on|onto the? needle|needles|work|dpn|dpns",
        "back? on|onto larger|smaller double - pointed|point needles",
        "in|into play",
    ):
        cur.at = here
        return None
    return (Return(place=place, count=count, span=cur.span_from(here)),)


def parse_left_on(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Left-on := "leave" ("the" | "these" | "all")* stitches "on" "the"? "needles" ("for" ...)?: they stay.

    "leave the sts on the needles for the heel", "leave all sts on needle"
    """
    del depth, ctx
    here = cur.at
    cur.next()
    cur.any_phrase("the? remaining|rem|live|last", "all? the|these|those?", "all")
    if not take_stitch_word(cur) or not cur.any_phrase(
        "on|upon the|your|their|its|same|circular|working? needle|needles|dpns|pins|cable"
    ):
        cur.at = here
        return None
    if cur.any_phrase("for|as|until|ready") is not None:
        for _ in range(8):
            if not cur.peek().kind or cur.peek().low in {",", ".", ";", "and", "then"}:
                break
            cur.next()
    return (Note(words=_said(cur, here), span=cur.span_from(here)),)


def parse_slipped_back(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Slipped-back := "return" ("the" | "it" | "them" | ...)? number? "slipped"? stitch? "back"? "to" "left"
    "needle"

    "return the slipped st to the left needle", "return it to LH needle", "return both sts to left needle"
    """
    del depth
    here = cur.at
    cur.next()
    cur.any_phrase("the", "this|that|these|those|both")
    both = cur.tokens[cur.at - 1].low == "both"
    them = cur.take("it")
    count = parse_number(cur, ctx)
    cur.take("slipped", "same", "last")
    many = cur.peek().low in {"sts", "stitches"}
    sts = take_stitch_word(cur)
    if (
        not (them or sts)
        or (many and count is None and not both)
        or not cur.any_phrase(
            "back? to|on|onto the? left|lh|ln hand? -? needle?", "back? to|on|onto the? left - hand needle"
        )
    ):
        cur.at = here
        return None
    n = count or Number(values=(2 if both else 1,), span=cur.span_from(here))
    return (SlipBack(count=n, span=cur.span_from(here)),)


def parse_drop(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Drop := ("drop" | "dropping" | "let" "fall") number? ("extra" ("loops" | "wraps") | "yo" | "stitch")
    ("off needle")?

    "drop yo", "dropping extra loops", "drop next st"
    """
    del depth
    here = cur.at
    t = cur.next()
    if t.low in {"letting", "let"}:
        cur.take("the")
    cur.any_phrase("the", "next|all", "all? the? extra|next")
    n = parse_number(cur, ctx)
    cur.any_phrase("extra|long")
    what: Literal["wrap", "yo", "stitch"]
    u = cur.take(
        "wraps",
        "wrap",
        "loops",
        "loop",
        "yo",
        "yos",
        "overs",
        "over",
        "st",
        "sts",
        "stitch",
        "stitches",
        "yarn",
        "yarnover",
        "yarnovers",
    )
    if u is None:
        cur.at = here
        return None
    extra = "extra" in {x.low for x in cur.tokens[here : cur.at]}
    if u.low.startswith(("wrap", "loop")) or extra:
        what = "wrap"
    elif u.low.startswith(("yo", "over", "yarn")):
        if u.low == "yarn" and cur.take("over", "overs") is None:
            cur.at = here
            return None
        what = "yo"
    else:
        what = "stitch"
    cur.any_phrase(
        "off the? left? hand? needle",
        "from the? left? hand? needle|previous row?",
        "of the? last|previous row",
        "fall|drop|go|off|slip off?",
        "as you go|knit|work",
    )
    count = n or Number(values=(1,), span=t.span)
    return (Drop(count=count, what=what, span=cur.span_from(here)),)


_MARK = (parse_marker,)
_YARN = (parse_yarn,)
WORDS: dict[str, tuple[Handler, ...]] = {
    **dict.fromkeys(
        (
            "pm",
            "sm",
            "rm",
            "slm",
            "remove",
            "mark",
            "plm",
            "replace",
            "removing",
            "placing",
            "slipping",
            "discarding",
        ),
        _MARK,
    ),
    "place": (parse_marker, parse_return, parse_hold),
    "put": (parse_return, parse_hold),
    "leave": (parse_left_on, parse_hold),
    "slip": (parse_marker, parse_return, parse_hold_all),
    "sl": (parse_marker, parse_hold_all),
    "return": (parse_slipped_back, parse_return, parse_yarn),
    "transfer": (parse_return, parse_hold),
    "pass": (parse_marker,),
    "leaving": (parse_hold,),
    **dict.fromkeys(
        (
            "with",
            "using",
            "change",
            "switch",
            "join",
            "break",
            "cut",
            "attach",
            "changing",
            "switching",
            "rejoin",
            "tie",
            "in",
            "joining",
            "on",
        ),
        _YARN,
    ),
    **dict.fromkeys(("drop", "dropping", "let", "letting"), (parse_drop,)),
}
