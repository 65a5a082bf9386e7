"""Sentences of old books that work whole rows, or close a piece, in words of their own.

In: a cursor at the start of a clause. Out: the statements or steps meant; None for any other clause.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from purlwright.pattern.read.numbers import ONE
from purlwright.pattern.read.oldclauses import CLAUSES, FIRST, GOING_ON
from purlwright.pattern.read.ordinals import figures
from purlwright.pattern.tokens import number_word
from purlwright.pattern.tree import (
    Arrange,
    AtEdges,
    CastOn,
    Close,
    Edge,
    Evenly,
    Fill,
    Hold,
    InGround,
    InPattern,
    JoinRound,
    Length,
    Number,
    PickUp,
    Place,
    PlaceKind,
    Rejoin,
    RepeatRows,
    Resume,
    RowRef,
    RowSet,
    Said,
    Shaping,
    Stated,
    Turn,
    Unit,
    Until,
    Work,
    WorkRows,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Action
    from purlwright.text import Span

__all__ = ["opens_old", "parse_old"]

_FIRST = frozenset(
    "reduce reducing decreasing narrowing knit purl pearl seam double place put lay join cast bind work"
    " close the"
    " divide plain remainder rest all narrow off adding add increasing run slip leave keep any it every"
    " each these this"
    " again take on in return raise pick back forward a same knitting purling pearling leave commence"
    " thread proceed weave graft finish do same exactly".split()
)
_KNITS = frozenset("knit purl pearl seam".split())
_GOES_ON = frozenset("more of times pearl purl purled pearled plain".split())
_OFTEN = frozenset({"twice", "thrice", "once"})
_STITCH_WORDS = frozenset("st sts stitch stitches loop loops".split())
_N = r"(?P<n>\d{1,6}|[a-z]+(?:-[a-z]+)?)"
_ST = r"(?:sts?|stitch(?:es)?|loops?)"
_HOW = r"(?P<how>knit|purl|pearl|seam|plain|purled|pearled|seamed|knitted|in pattern)"
_ROW = r"(?P<unit>rows?|rounds?|rnds?)"


def parse_old(cur: Cursor) -> tuple[Action, ...] | None:
    """OLD: whichever of the clauses below stands here, whole."""
    t = cur.peek()
    if t.low in _FIRST or t.low in FIRST:
        one = cur.peek(1)
        if (
            t.low in _KNITS
            and one.value is not None
            and cur.peek(2).low not in _GOES_ON
            and one.low not in _OFTEN
        ):
            # "knit 2": no clause of these
            return None
    elif (
        t.value is None or cur.peek(1).low not in _STITCH_WORDS or cur.peek(2).low not in {"to", "for", "in"}
    ):
        return None
    here = cur.at
    tried = 0
    for until in ("and", ",", ".", "until"):
        n = _words(cur, until)
        if n == tried or not n:
            continue
        tried = n
        words = " ".join(t.low for t in cur.tokens[here : here + n])
        for pattern, make in (*_CLAUSES, *CLAUSES) if until != "until" else GOING_ON:
            m = pattern.match(words)
            if m is None:
                continue
            cur.at = here + n
            got = make(m, cur.span_from(here))
            if got is not None:
                return got
            cur.at = here
    return None


def opens_old(cur: Cursor) -> bool:
    """Whether a clause of these stands here; it is not taken."""
    here = cur.at
    found = parse_old(cur) is not None
    cur.at = here
    return found


def _words(cur: Cursor, until: str) -> int:
    """How many words stand before a stop: before "and" and an order, a comma, or a full stop."""
    n = 0
    while n < 40 and (t := cur.peek(n)).kind and t.low not in _STOPS:
        if t.low == "," and until != ".":
            break
        if until == "until" and n and t.low in {"until", "till", "for", "in"}:
            break
        if until == "and" and n and t.low == "and" and cur.peek(n + 1).low in _ORDERS:
            break
        n += 1
    return n


_STOPS = frozenset({".", ";", "(", ")", "[", "]", "*", "**", ":"})
_ORDERS = frozenset(
    "knit purl bind cast work turn then narrow slip pick take divide proceed join form begin leave".split()
)


def _number(word: str | None, span: Span) -> Number | None:
    if word is None:
        return None
    value = int(word) if word.isdigit() else number_word(word)
    return None if value is None or value > 100_000 else Number(values=(value,), span=span)


def _fill(how: str | None, span: Span) -> Fill | InPattern:
    if how == "in pattern":
        return InPattern(to=Place(kind=PlaceKind.END, span=span), span=span)
    stitch = "p" if (how or "").startswith(("purl", "pearl", "seam")) else "k"
    body = (Work(stitch=stitch, count=ONE, span=span),)
    return Fill(body=body, to=Place(kind=PlaceKind.END, span=span), span=span)


def _reduced(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "reduce to 40 stitches", "decreasing until there are only 96 stitches in the round"."""
    n = _number(m["n"], span)
    return None if n is None else (Evenly(total=n, span=span),)


def _once_round(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "knit once around plain"."""
    return (WorkRows(body=(_fill(m["how"], span),), rows=ONE, unit=Unit.ROUND, span=span),)


def _one_row(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "purl the entire next row", "purl 4th row"."""
    unit = Unit.ROW if m["unit"].startswith("row") else Unit.ROUND
    return (WorkRows(body=(_fill(m["how"], span),), rows=ONE, unit=unit, span=span),)


def _rest(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "the remainder plain", "all the rest pearled"."""
    return (_fill(m["how"], span),)


def _double(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "double knit 46", "double knitting for 13 rows", "double knitting"."""
    count = _number(m["n"], span) if m["n"] else None
    rows = _number(m["rows"], span) if m["rows"] else None
    if (m["n"] and count is None) or (m["rows"] and rows is None):
        return None
    ground = InGround(ground="double knitting", count=count, span=span)
    if rows is not None:
        return (WorkRows(body=(ground,), rows=rows, span=span),)
    return (ground,)


def _cast_off_together(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "join the toe by casting off, knitting one stitch from each needle together"."""
    del m
    return (Close(how="three-needle", span=span),)


def _shared(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "divide the stitches, placing half on one needle and a quarter on each of the others"."""
    del m
    return (Arrange(span=span),)


def _pinned(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "put the first 18 stitches on a safety-pin"."""
    n = _number(m["n"], span)
    of = {"first": "first", "last": "last", "1st": "first", None: "next"}.get(m["of"], "next")
    return None if n is None else (Hold(count=n, place="safety pin", of=of, span=span),)  # type: ignore[arg-type]


def _part(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "knit the instep stitches": those of one needle."""
    stitch = "p" if m["how"].startswith(("purl", "pearl", "seam")) else "k"
    place = Place(kind=PlaceKind.NEEDLE_END, name=m["part"], span=span)
    return (Fill(body=(Work(stitch=stitch, count=ONE, span=span),), to=place, span=span),)


def _repeat_width(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "9 stitches to a pattern", "it takes 8 stitches for the pattern"."""
    n = _number(m["n"], span)
    return None if n is None else (Stated(kind="repeat", parts=(n,), span=span),)


_GROUPS = {
    "twos": 2,
    "threes": 3,
    "fours": 4,
    "fives": 5,
    "sixes": 6,
    "sevens": 7,
    "eights": 8,
    "tens": 10,
    "twelves": 12,
}


def _in_groups(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "cast on in eights", "any number of stitches divisible by 3"."""
    word = m["n"]
    n = Number(values=(_GROUPS[word],), span=span) if word in _GROUPS else _number(word, span)
    if n is None:
        return None
    plus = _number(m["plus"], span) if m["plus"] else None
    return (CastOn(multiple=n, plus=plus, span=span),)


def _alike(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "every row is alike": the row just told is the pattern."""
    del m
    return (RepeatRows(rows=RowSet(back=1, span=span), define=True, span=span),)


def _forth_and_back(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "knit forward and purl back for 5 rows"."""
    rows = _number(m["rows"], span) if m["rows"] else Number(values=(2,), span=span)
    if rows is None:
        return None
    second = "p" if (m["back"] or "").startswith(("p", "seam")) else "k"
    return (
        WorkRows(
            alternate=((_fill("knit", span),), (_fill("purl" if second == "p" else "knit", span),)),
            rows=rows,
            span=span,
        ),
    )


def _some_of(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "narrow off 1 of the 6 stitches in each of next 5 rounds"."""
    n, rows = _number(m["n"], span), _number(m["rows"] or m["rows2"], span)
    if n is None or rows is None:
        return None
    down = Number(values=tuple(-(v or 0) for v in n.values), span=span)
    step = Evenly(change=down, span=span)
    return (Shaping(steps=(step,), every=ONE, times=rows, said=Said.IN_ALL, span=span),)


def _added(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "adding 6 extra stitches along the front"."""
    n = _number(m["n"], span)
    return None if n is None else (Evenly(change=n, span=span),)


def _flat(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "these stitches are knitted backwards and forwards"."""
    del m
    return (Resume(flat=True, span=span),)


def _knit_off(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "knit off 18 stitches on right-hand needle"."""
    n = _number(m["n"], span)
    return None if n is None else (Work(stitch="k", count=n, span=span),)


def _waits(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "run the stitches before the opening on a spare needle"."""
    return (Hold(of="rest", place=m["place"].strip(), span=span),)


def _on_needles(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "put these on 2 needles", "slip the stitches of both pieces on to 3 needles"."""
    n = _number(m["n"], span)
    return None if n is None else (Arrange(count=n, span=span),)


def _past_half(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "knit 1 more than half of the heel stitches"."""
    n = _number(m["n"], span)
    if n is None:
        return None
    place = Place(kind=PlaceKind.HALF, past=n, span=span)
    return (Fill(body=(Work(stitch="k", count=ONE, span=span),), to=place, span=span),)


_FABRICS = {
    "ribbed": "k2, p2 rib",
    "rib": "k2, p2 rib",
    "plain": "garter",
    "garter": "garter",
    "moss": "seed",
}


def _inches(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "do two inches of ribbed knitting in the same shade"."""
    n = _number(m["n"], span)
    if n is None:
        return None
    length = Length(values=(Fraction(n.values[0] or 0),), unit="in", span=span)
    ground = InGround(ground=_FABRICS[m["what"]], span=span)
    return (WorkRows(body=(ground,), until=Until(length=length, span=span), span=span),)


def _same_as(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "knit the same as the 35th row"."""
    numbers = figures(m["n"], 1)
    return (RowRef(number=numbers[0], span=span),) if numbers else None


def _left_at_turn(m: re.Match[str], span: Span) -> tuple[Action, ...] | None:
    """As in "leave 6, turn"."""
    n = _number(m["n"], span)
    return None if n is None else (Turn(leave=n, span=span),)


def _joined(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "join and knit once around"."""
    del m
    return (JoinRound(span=span),)


def _grafted(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "proceed to weave the front and back together"."""
    del m
    return (Close(how="graft", span=span),)


def _taken_up(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "take up the remaining stitches of the cast-on"."""
    return (PickUp(how="lift", edge=Edge(words=m["edge"], span=span), span=span),)


def _left(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "leave these stitches for the present", "leave the rest of the stitches on the needle"."""
    return (Hold(of="rest" if m["which"] else "all", place="needle", span=span),)


def _returned(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "return to the stitches left on the pin"."""
    return (Rejoin(place=m["place"], span=span),)


def _lifted(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "take up a loop between two stitches and knit it"."""
    return (Work(stitch="M1" if m["how"] == "knit" else "M1P", count=ONE, span=span),)


def _plain_row(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "back plain", "a round of purl"."""
    row = _fill(m["how"], span)
    if m["unit"] is None:
        return (row,)
    unit = Unit.ROW if m["unit"].startswith("row") else Unit.ROUND
    return (WorkRows(body=(row,), rows=ONE, unit=unit, span=span),)


_WHERE: dict[str, Literal["each end", "beginning", "end"]] = {
    "each end": "each end", "both ends": "each end", "the beginning": "beginning", "the end": "end",
}  # fmt: skip


def _edges(m: re.Match[str], span: Span) -> tuple[Action, ...]:
    """As in "forward, knitting 2 together at each end"."""
    stitch = "k2tog" if m["how"] == "knitting" else "p2tog"
    return (AtEdges(change=-1, where=_WHERE[m["where"]], count=ONE, stitch=stitch, span=span),)


_CLAUSES: tuple[tuple[re.Pattern[str], Callable[[re.Match[str], Span], tuple[Action, ...] | None]], ...] = (
    (
        re.compile(
            rf"(?:reduce|reducing)(?: the| your)?(?: number of)?(?: {_ST})? to (?:only )?{_N}(?: {_ST})?$"
        ),
        _reduced,
    ),
    (
        re.compile(
            rf"(?:decreasing|narrowing) (?:until|till) (?:there are |you have |there are left )?(?:only"
            rf" |but )?{_N}"
            rf"(?: {_ST})?(?: (?:in the round|on the needles?|are left|left|remain|in all|altogether))*$"
        ),
        _reduced,
    ),
    (
        re.compile(
            r"(?P<how>knit|purl|pearl|seam) (?:plain )?(?:once|one time) (?:all )?a?round(?: plain)?$"
        ),
        _once_round,
    ),
    (
        re.compile(
            rf"(?P<how>knit|purl|pearl|seam) (?:plain )?(?:the )?(?:entire |whole )next {_ROW}(?: plain)?$"
        ),
        _one_row,
    ),
    (
        re.compile(rf"(?P<how>knit|purl|pearl|seam) (?:the )?\w+(?:th|st|nd|rd|d) {_ROW}(?: plain)?$"),
        _one_row,
    ),
    (
        re.compile(
            rf"(?:all )?(?:the )?(?:remainder|rest)(?: of the (?:row|round|needle|{_ST}))?(?: (?:is|are"
            rf"|being|to be))?"
            rf"(?: (?:knit|knitted|worked))? {_HOW}$"
        ),
        _rest,
    ),
    (
        re.compile(
            rf"double[ -]+knit(?:ting)?(?: (?:the )?{_N}(?: {_ST})?)??(?: for (?P<rows>\d+|[a-z]+)(?:"
            rf" or \d+)? {_ROW})?$"
        ),
        _double,
    ),
    (
        re.compile(
            r"(?:join|close|cast off|bind off|place|lay|put|work)\b.*\b(?:(?:one|a|1) stitch (?:from|of"
            r"|off) each"
            r"|both needles together|two needles together)\b.*"
        ),
        _cast_off_together,
    ),
    (
        re.compile(
            rf"divide(?: for the [a-z]+| (?:the |your |these )?(?:whole number of )?{_ST})(?: exactly|"
            rf" equally)?(?: ,)?"
            rf" (?:placing|putting|leaving|having"
            r"|with|so as to have|taking)\b.*\b(?:needles?|pins?|others?|instep|heel)\b.*"
        ),
        _shared,
    ),
    (
        re.compile(
            rf"(?:place|put|slip|leave) (?:the )?(?:(?P<of>first|last|next|1st) )?{_N} {_ST} on(?: to)?"
            rf" (?:a |the )?safety"
            r"[ -]+pins?$"
        ),
        _pinned,
    ),
    (
        re.compile(
            r"(?P<how>knit|purl|pearl|seam) (?:the |across the )?(?P<part>(?:instep|heel|front|sole"
            r"|thumb|side|foot)(?: needle)?)"
            rf"(?: {_ST})?(?: plain| needle)?$"
        ),
        _part,
    ),
    (
        re.compile(
            rf"(?:(?:it|this pattern|each pattern|the pattern) (?:takes|requires|needs|will take|is)"
            rf" )?(?:about )?{_N} {_ST} (?:to|for|in) (?:a|the|each|every|one) (?:pattern|repeat)"
            r"(?: of the pattern)?$"
        ),
        _repeat_width,
    ),
    (
        re.compile(
            rf"(?:any|some) number of {_ST} (?:(?:that|which) (?:can|may|will) (?:be )?)?(?:divisible"
            rf"|divided|divide) by {_N}"
            rf"(?:(?: ,)?(?: and)? (?P<plus>\d+|[a-z]+)(?: {_ST})? (?:over|more|extra))?$"
        ),
        _in_groups,
    ),
    (
        re.compile(r"cast on in (?P<n>[a-z]+)(?:(?: ,)? and (?P<plus>\d+|[a-z]+) (?:over|more|extra))?$"),
        _in_groups,
    ),
    (
        re.compile(
            rf"(?:every|each|all the|all) {_ROW} (?:is|are) (?:(?:worked|knitted|knit) )?(?:alike|the same)$"
        ),
        _alike,
    ),
    (
        re.compile(
            r"(?:again )?knit (?:forward|forwards|across|forth) and (?P<back>purl |knit |pearl |seam"
            r" )?back(?:wards?)?"
            rf"(?: again)?(?: for (?P<rows>\d+|[a-z]+) {_ROW})?$"
        ),
        _forth_and_back,
    ),
    (
        re.compile(
            rf"(?:in (?:each of )?(?:the )?next (?P<rows2>\d+|[a-z]+) {_ROW}(?: ,)? )?(?:narrow"
            rf"|decrease|knit)(?: off)? {_N}"
            rf" of (?:the|these) (?:\d+|[a-z]+)(?: {_ST})?"
            r"(?:(?: in)?(?: each of)?(?: the)? next (?P<rows>\d+|[a-z]+) (?:rows?|rounds?|rnds?))?$"
        ),
        _some_of,
    ),
    (
        re.compile(
            rf"(?:adding|add|increasing|increase) {_N} (?:extra |additional |more )?{_ST}"
            rf" (?:distributed|along|evenly|spaced|in"
            r"|here and there|across)\b.*"
        ),
        _added,
    ),
    (
        re.compile(
            r"(?:these|this|the)\b[a-z -]*\b(?:is|are|be) (?:then |now )?(?:knit|knitted|worked|done)"
            r" (?:backwards? and forwards?"
            r"|back and forth|forwards? and backwards?|in rows)(?: thus| as follows| in rows)?$"
        ),
        _flat,
    ),
    (
        re.compile(
            rf"knit off (?:the )?(?:first |next )?{_N} {_ST}(?: (?:on|on to|onto|from) (?:the |a )?[a-z"
            rf" -]*(?:needle|pin))?$"
        ),
        _knit_off,
    ),
    (
        re.compile(
            rf"(?:run|put|place|slip|leave|keep) (?:the |these |those )?(?:remaining |other |rest of"
            rf" the )?(?:{_ST} )?"
            r"(?:(?:before|after|at|on) [a-z ]{1,40}? )?on(?: ?to)? (?P<place>(?:a |an |the )?(?:spare"
            r"|extra|another|separate|third"
            r"|3d|third) (?:needle|pin|thread|string|holder|twine))$"
        ),
        _waits,
    ),
    (
        re.compile(
            rf"(?:put|place|slip|take|arrange) (?:these|them|(?:all )?the {_ST}(?: of both pieces)?|all"
            rf" {_ST})(?: evenly)?"
            rf" on(?: ?to)? {_N} (?:needles|pins)$"
        ),
        _on_needles,
    ),
    (re.compile(rf"knit {_N} more than half(?: of)?(?: the)? [a-z\" -]*{_ST}$"), _past_half),
    (
        re.compile(
            r"leave(?! (?:\d+|[a-z]+) (?:stitches|sts|loops) on the (?:needle|pin))"
            r"(?: the| these| those)?(?: )?(?P<which>rest|remaining|other|remainder)?(?: of the| \d+|"
            r" [a-z]+)?(?: (?:stitches|sts|loops))"
            r"(?: (?:for the present|for a while|until wanted|till wanted|till required|as they are|on"
            r" the (?:needle|pin)"
            r"|unworked|unknitted|at rest))*$"
        ),
        _left,
    ),
    (
        re.compile(
            r"return to the (?:stitches|sts|loops)(?: left| waiting| held| that were left)?(?: (?:on"
            r"|upon) (?P<place>[a-z ]+))?$"
        ),
        _returned,
    ),
    (
        re.compile(
            r"(?:take|pick|raise) up (?:a|the|one) (?:loop|thread|bar|stitch)(?: (?:between|below|from"
            r"|of|before)[a-z ]*?)?"
            r" and (?P<how>knit|purl|pearl) it(?: [a-z ]+)?$"
        ),
        _lifted,
    ),
    (
        re.compile(
            rf"(?:(?:back|forward)(?: again)?|(?:a|one) {_ROW} of) {_HOW}(?: knitting)?(?: alternately)?$"
        ),
        _plain_row,
    ),
    (
        re.compile(
            rf"(?:take|put|place|slip|knit) half(?: of)?(?: the| your)? {_ST} on(?: ?to)? (?:one|a|the)"
            rf" (?:needle|pin)$"
        ),
        _shared,
    ),
    (
        re.compile(
            r"(?:forward ,? ?)?(?P<how>knitting|purling|pearling) (?:2|two) (?:stitches )?together at"
            r" (?P<where>each end|both ends"
            r"|the beginning|the end)(?: of the (?:row|needle|round))?$"
        ),
        _edges,
    ),
    (
        re.compile(
            r"(?:thread [a-z -]+ and )?(?:proceed to )?(?:weave|graft) (?:the )?(?:front and back|two"
            r" (?:sides|halves|needles))"
            r"(?: together)?(?: as follows| thus)?$"
        ),
        _grafted,
    ),
    (
        re.compile(
            rf"(?:take|pick) up (?:the |all the )?(?:remaining |other |rest of the )(?P<edge>{_ST}"
            rf" (?:of|along|round|from)"
            r" [a-z0-9 ]+)$"
        ),
        _taken_up,
    ),
    (re.compile(r"(?:join|close)(?: them| these| it)?(?: together)?(?: and)?$"), _joined),
    (
        re.compile(
            r"finish(?: the (?:row|round|needle))? by (?P<how>knitting|pearling|purling|seaming)(?:"
            r" plain)?(?: to the end)?$"
        ),
        _rest,
    ),
    (
        re.compile(
            r"(?:do|work|knit) (?P<n>\d+|[a-z]+) (?P<inch>inches|inch|ins) (?:of|in) (?P<what>ribbed"
            r"|rib|plain|garter|moss)"
            r"(?: (?:knitting|rib|ribbing|stitch))?(?: (?:in|with) [a-z -]+)?$"
        ),
        _inches,
    ),
    (
        re.compile(
            r"(?:knit |work |purl )?(?:exactly |just )?(?:the same|same) as (?:the |in the"
            r" )?(?P<n>[a-z0-9-]+) (?:row|round)$"
        ),
        _same_as,
    ),
    (
        re.compile(
            rf"leave (?P<n>\d+|[a-z]+)(?: {_ST})?(?: (?:unknitted|unworked|at the end|on the needle"
            rf"|on the pin))*(?: ,)?(?: and)? turn(?: back)?$"
        ),
        _left_at_turn,
    ),
)
