"""What the readers of steps share: dictionary keys, separators, multipliers, colours, manner words.

In: a cursor inside a row. Out: keys, numbers, names; nothing here is a step of its own.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import TypeAlias

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import number_of, parse_number
from purlwright.pattern.read.places import STITCH_WORDS, take_stitch_word
from purlwright.pattern.tokens import Cursor, Token
from purlwright.pattern.tree import Fill, Number, PlaceKind, Said, Step, Work
from purlwright.text import Span

__all__ = [
    "COLOURS",
    "REPEATS",
    "Handler",
    "Steps",
    "into_tail",
    "is_counted",
    "key",
    "next_op",
    "once_each",
    "parse_colour",
    "parse_times",
    "readings_of",
    "skip_separators",
    "take_manner",
    "take_through_back",
    "take_wraps",
    "work",
]

Steps: TypeAlias = tuple[Step, ...]
Handler: TypeAlias = Callable[[Cursor, Context, int], "Steps | None"]

SEPARATORS = frozenset({",", ";", ".", ":", "-", "/", "&", "and", "then", "+", "|"})
FILLERS = frozenset("and then now finally lastly also next again afterwards & so".split())
REPEATS = frozenset("rep repeat reps rept repeats repeating repeated repent".split())
MANNER = frozenset(
    "loosely carefully tightly firmly neatly gently evenly plain usual only quite very rather altogether "
    "regularly again as before entirely".split()
)
COLOURS = frozenset(
    "white black red blue green yellow pink grey gray brown orange purple violet scarlet crimson "
    "gold cream navy "
    "silver maroon claret amber lilac magenta turquoise".split()
)
_NOCOLOURS = frozenset(
    "new the a waste scrap spare working another second different held same other more double".split()
)
_YARNS = frozenset("wool yarn cotton silk thread worsted colour color shade strand".split())


@cache
def key(name: str) -> str:
    """The dictionary's key for a stitch that is known here by ``name``; the name itself if it has none."""
    from purlwright.stitches.load import dictionary  # the data file is read once, and only when a row is read

    found = dictionary().find(name)
    return found.key if found is not None else name


@cache
def readings_of(key: str) -> tuple[str, ...]:
    """The keys that an ambiguous entry of the dictionary may mean, likeliest first; nothing for a plain
    one.
    """
    from purlwright.stitches.load import dictionary

    found = dictionary().find(key)
    return tuple(found.readings) if found is not None else ()


@cache
def is_counted(key: str) -> bool:
    """True for a stitch whose abbreviation takes a number straight after it ("brp2")."""
    from purlwright.stitches.load import dictionary

    found = dictionary().find(key)
    return found is not None and found.counted


def work(name: str, count: Number, span: Span) -> Work:
    """``count`` of the stitch that is known here by ``name``."""
    return Work(stitch=key(name), count=count, span=span)


def skip_separators(cur: Cursor) -> bool:
    """Separators := ("," | ";" | "." | "-" | "and" | "then")*"""
    here = cur.at
    pad = cur.pad
    while pad[cur.at].low in SEPARATORS:
        cur.at += 1
    return cur.at > here


def next_op(cur: Cursor) -> Token:
    """The token after the separators that stand here; nothing is taken."""
    i = cur.at
    pad = cur.pad
    while pad[i].low in SEPARATORS or pad[i].low in FILLERS:
        i += 1
    return pad[i]


def take_manner(cur: Cursor) -> None:
    """Words that say how carefully, and change nothing: "loosely", "as usual", "as before", "quite
    plain".
    """
    pad = cur.pad
    t = pad[cur.at]
    while t.low in MANNER:
        if t.low == "as":
            if pad[cur.at + 1].low not in {"before", "usual", "above"}:
                return
            cur.at += 1
        elif (
            (t.low == "before" and pad[cur.at + 1].low not in {",", ".", ";", ""})
            or (t.low == "plain" and pad[cur.at + 1].low in {"rows", "row", "rounds", "rnd", "rnds", "round"})
            or (t.low in {"only", "again", "very", "evenly"} and pad[cur.at + 1].kind == "n")
        ):
            return
        cur.at += 1
        t = pad[cur.at]
    if t.low == "in" or (t.low == "," and pad[cur.at + 1].low == "in"):
        cur.any_phrase(
            ",? in the? usual|ordinary|common|customary way|manner",
            ",? in the? same way|manner as before|usual|above|directed|described?",
        )


def take_wraps(cur: Cursor) -> int:
    """Wraps := ("wrapping" | "winding" | "putting" | "throwing") "the"? "yarn" ("twice" | number "times")

    "wrapping yarn twice", "putting the thread 3 times round the needle", "with 2 wraps"; 0 if none stands
    here.
    """
    here = cur.at
    if cur.pad[here].low == ",":
        cur.at += 1
    if not cur.any_phrase(*_WRAPPING):
        cur.at = here
        return 0
    cur.any_phrase("round|around|over the? needle|pin", "over|round|around")
    t = cur.peek()
    n = 0
    if t.low in {"twice", "thrice"} and isinstance(t.value, int):
        cur.next()
        n = t.value
    elif cur.peek(1).low in {"times", "wraps", "x", "extra"} and isinstance(t.value, int):
        n = t.value
        cur.next()
        cur.next()
        cur.take("wraps")
    if not 2 <= n <= 4:
        cur.at = here
        return 0
    cur.any_phrase(
        "round|around|over the? right|point needle|pin",
        "round|around|over the? needle|pin|needles|pins",
        "round|around|over",
        "instead of once",
        "for|in each st|stitch",
    )
    return n


_WRAPPING = (
    "wrapping|winding|putting|throwing|passing|taking|bringing|turning the? yarn|wool|thread|cotton|silk",
    "wrapping",
    "with the? yarn|wool|thread|cotton wrapped|wound|put",
    "with",
    "and|but wrap|wind|put|throw|pass|bring the? yarn|thread|wool|cotton|silk",
)


def take_through_back(cur: Cursor) -> bool:
    """Tbl := "tbl" | "through" "the"? "back" "loops"? | "from behind" | "at the back"

    "k2tog tbl", "knit 1 from behind", "knit 2 together through the back loops"
    """
    low = cur.pad[cur.at].low
    if low not in {"tbl", "t", "through", "thro", "in", "into", "from", "at", "by", "taken"}:
        return False
    return (
        cur.any_phrase(
            "tbl",
            "t . b . l .?",
            "through|thro|in|into|by the? back|backs loop|loops|lp|lps",
            "through|thro|in|into|by the? back|backs of the? loop|loops|st|sts|stitch|stitches",
            "through|thro the? back|backs",
            "from the? behind|back",
            "at the? back",
            "in|into the? back",
            "in|into the? back of next|the stitch|st",
            "taken at the back",
        )
        is not None
    )


def parse_times(cur: Cursor, ctx: Context, *, star: bool = False) -> tuple[Number, Said] | None:
    """Times := "twice" | "once" | number ("times" | "x") ("more" | "in all")? | "x" number | number "more"
    "times"

    "3 times", "twice more", "x3", "4x", "once more", "a total of 5 times"
    """
    here = cur.at
    pad = cur.pad
    t = pad[here]
    if t.low in {"(", "["} and pad[here + 1].kind == "n" and pad[here + 2].low in {"x", "times", "more"}:
        cur.at += 1
        inside = parse_times(cur, ctx)  # "(4x)", "[4 times]"
        if inside is not None and cur.take(")", "]"):
            return inside
        cur.at = here
    dash = t.low == "-" and pad[here + 1].low in {"(", "["}  # "- (2, 3) times": none in the first size
    if (t.kind == "p" and not dash) or not t.kind:
        return None
    said = Said.TIMES
    if cur.any_phrase("for? a total of", "in total", "for? a total"):
        said = Said.IN_ALL
    elif cur.phrase("a further"):
        said = Said.MORE
    elif t.low in {"another", "for", "until", "about", "a"}:
        cur.at += 1
    t = pad[cur.at]
    number: Number | None = None
    if t.low in {"twice", "once", "thrice"} and isinstance(t.value, int):
        cur.at += 1
        number = number_of(t.value, Span(t.start, t.end))
    elif t.low == "x" and pad[cur.at + 1].kind == "n":
        cur.at += 1
        number = parse_number(cur, ctx)
        if number is None:
            cur.at = here
            return None
        cur.take("times")
    elif t.kind == "n" or t.value is not None or t.low in {"{", "(", "["} or dash:
        number = parse_number(cur, ctx)
        if number is None:
            cur.at = here
            return None
        if cur.take("more", "additional", "further", "other"):
            said = Said.MORE
            if cur.take("times", "time", "x") is None and not star:
                cur.at = here
                return None
        elif cur.take("times", "time", "tms", "tows") is None:
            x = pad[cur.at]
            if x.low == "x" and not (pad[cur.at + 1].kind == "n" and not x.glued):
                cur.at += 1
            else:
                cur.at = here
                return None
    else:
        cur.at = here
        return None
    if pad[here].low == "another":
        said = Said.MORE
    if cur.any_phrase("more times?", "more", "again"):
        said = Said.MORE
    elif cur.any_phrase("in all", "in total", "total", "altogether", "all together"):
        said = Said.IN_ALL
    cur.take("alternately", "only", "over")
    return number, said


def parse_colour(cur: Cursor, ctx: Context, *, alone: bool = False) -> str | None:
    """Colour := ("in" | "with" | "using")? ("MC" | "CC" digit? | letter | name)

    "K5 A", "k3 in MC", "k2 with CC1", "knit 4 in white". With ``alone`` any one word does ("with plum").
    """
    here = cur.at
    pad = cur.pad
    t = pad[here]
    led = t.low in {"in", "with", "using", "of"}
    if led:
        cur.at += 1
        cur.take("the", "yarn", "colour", "color", "main", "contrast", "contrasting") if pad[cur.at].low in {
            "the",
            "yarn",
            "colour",
            "color",
        } else None
        t = pad[cur.at]
    if t.kind not in {"w", "s"}:
        cur.at = here
        return None
    joined = t.text
    step = 1
    one = pad[cur.at + 1]
    if one.kind == "n" and one.glued and t.low in {"cc", "mc", "c", "col", "shade"}:
        joined += one.text
        step = 2
    low = joined.lower()
    if t.text == "a":  # "with a larger needle", though a yarn is called A
        cur.at = here
        return None
    known = low in ctx.yarns or t.low in {"mc", "cc"} or (step == 2 and t.low == "cc")
    if not known and len(t.text) == 1 and "A" <= t.text <= "J":
        known = one.low not in STITCH_WORDS and not (one.kind == "n" and one.glued)
    if not known and (led or alone) and (low in COLOURS or (one.low in _YARNS and t.low not in _NOCOLOURS)):
        known = True
    if not known:
        cur.at = here
        return None
    cur.at += step
    if cur.pad[cur.at].low in _YARNS:
        cur.at += 1
    return joined


def once_each(body: Steps) -> Steps:
    """The steps of a group worked into one stitch, where a bare "knit" or "purl" is one stitch and no row.

    "(knit, purl, knit) in next st"
    """
    return tuple(
        s.body[0]
        if isinstance(s, Fill) and len(s.body) == 1 and s.to.kind is PlaceKind.END and s.to.span == s.span
        else s
        for s in body
    )


def into_tail(cur: Cursor, ctx: Context) -> tuple[Number, int] | None:
    """Into := ("all" | "both")? ("in" | "into") "the"? ("next" | "same" | "one" | "each of next" n) stitch

    "in next st", "all into the same stitch", "in each of next 3 sts". Gives how many stitches, and 1 or the
    number taken together ("into the same 3 sts").
    """
    here = cur.at
    cur.take("all", "both")
    t = cur.take("in", "into", "to", "thro")
    if t is None or (t.low == "to" and cur.peek().low not in {"same", "next", "one"}):
        cur.at = here
        return None
    start = cur.at
    cur.take("the")
    each = cur.take("each", "every") is not None
    cur.take("of")
    cur.take("the")
    same = cur.take("same")
    which = cur.take(
        "next", "following", "foll", "last", "first", "one", "centre", "center", "this", "that", "second",
        "large", "made", "double", "long", "big",
    )  # fmt: skip
    number = parse_number(cur, ctx)
    one = (
        cur.take("a", "one") if number is None and cur.peek().text != "A" else None
    )  # "k3 in A" names a yarn
    if number is None and one is not None:
        number = number_of(1, one.span)
    sts = take_stitch_word(cur)
    if (not sts and not (same or which or number)) or not (same or which or number or each):
        cur.at = here
        return None
    if not sts and cur.peek().kind and cur.peek().low not in {",", ".", ";", ")", "]", "*"}:
        cur.at = here
        return None
    if number is None:
        return number_of(1, cur.span_from(start)), 1
    if same and not each and number.values[0] and number.values[0] > 1:
        return number_of(1, number.span), number.values[0]
    return number, 1
