"""What happens between rows: yarn joined again, held stitches taken up, needles changed, directions for
what follows.

In: a cursor at the start of a sentence or clause. Out: :class:`Rejoin`, :class:`Resume`, :class:`Return`,
or a note for words that change needles and positions but no stitch.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from purlwright.pattern.read.amounts import ROW_WORDS, parse_side, skip, take_words, until_mark, words_from
from purlwright.pattern.read.direction import parse_direction
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.tree import Hold, Note, Rejoin, Resume, Return, Side, Yarn

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Action

__all__ = ["hold_the_rest", "parse_between", "parse_not"]

_HELD = frozenset(
    "held holder holders waste scrap spare stitch-holder hold safety resting set-aside reserved".split()
)
_NEEDLES = frozenset("needle needles dpn dpns pins pin circular hook size sizes hooks".split())


def parse_between(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """REJOIN | RETURN | RESUME | NEEDLES, whichever stands here."""
    return (
        _facing(cur, ctx)
        or _rejoin(cur, ctx, None, cur.at)
        or _return(cur, ctx)
        or _resume(cur, ctx)
        or _needles(cur, ctx)
        or _shade(cur, ctx)
        or _hold_centre(cur, ctx)
    )


def _note(cur: Cursor, here: int) -> tuple[Note]:
    return (Note(words=words_from(cur, here), span=cur.span_from(here)),)


def _facing(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """FACING: "with" SIDE "facing" ","? REJOIN?: "With RS facing, rejoin yarn to held sts"."""
    here = cur.at
    if cur.take("with") is None:
        return None
    side = parse_side(cur)
    if side is None or cur.peek(-1).low != "facing":
        if side is None or cur.phrase("toward|towards you") is False:
            cur.at = here
            return None
    cur.phrase("toward|towards|you? you?")
    cur.phrase("for next row|round|rnd")
    at = cur.at
    skip(cur, ",", "and")
    again = _rejoin(cur, ctx, side, here)
    if again is not None:
        return again
    cur.at = at
    return (Resume(side=side, span=cur.span_from(here)),)


def _rejoin(cur: Cursor, ctx: Context, side: Side | None, here: int) -> tuple[Action, ...] | None:
    """("rejoin" | "join" | "attach") YARN ("to" PLACE)?: "rejoin yarn to held sts", "reattach MC at the
    neck edge".
    """
    start = cur.at
    if cur.take("rejoin", "reattach", "re") is None:
        if cur.peek().low not in {"join", "attach"} or cur.peek(1).low not in {
            "yarn",
            "wool",
            "new",
            "working",
            "a",
            "the",
            "in",
            *ctx.yarns,
        }:
            return None
        cur.at += 1
    cur.phrase("- join|attach")
    skip(cur, "a", "the", "in", "on", "new", "ball", "of", "second", "working")
    colour = None
    t = cur.peek()
    if t.low in {"yarn", "wool", "thread", "cotton", "yarns", "ball"}:
        cur.at += 1
        if cur.peek().low in ctx.yarns:
            colour = cur.next().text
    elif t.low in ctx.yarns:
        cur.at += 1
        colour = t.text
    else:
        cur.at = start
        return None
    place = None
    if cur.peek().low in {"to", "at", "on"}:
        cur.at += 1
        skip(cur, "the", "these")
        n = until_mark(cur, 12, frozenset({"and"}))
        place = take_words(cur, n)
        skip(cur, "and") if cur.peek(1).low in {"left", "right"} else None
    elif (
        cur.peek().low != "with"
        and cur.peek(-1).low in {"yarn", "wool"}
        and cur.peek(start - cur.at).low in {"join", "attach"}
        and side is None
    ):
        cur.at = start
        return None
    if side is None:
        at = cur.at
        skip(cur, ",")
        if cur.take("with") is not None:
            side = parse_side(cur)
        if side is None:
            cur.at = at
    if cur.phrase(", leaving a? long|short? tail|end"):
        pass
    return (Rejoin(side=side, place=place, colour=colour, span=cur.span_from(here)),)


_TAKE = frozenset("place put return slip transfer move take pick replace".split())


def _return(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """("place" | "return" | "slip") NUMBER? "held" "sts" ("from" PLACE)? ("on" | "to") "needles": back to
    the needle.
    """
    here = cur.at
    if cur.peek().low not in _TAKE:
        return None
    n = until_mark(cur, 20)
    words = [cur.peek(i).low for i in range(n)]
    if not {"st", "sts", "stitches", "stitch"}.intersection(words) or not _NEEDLES.intersection(words):
        return None
    if words[0] in {"slip", "return", "move"} and words[1:2] in (["these"], ["those"], ["both"], ["same"]):
        return None  # "slip these 30 sts back to left needle": those just worked, and on no holder
    if "back" in words and any(
        words[i + 1] in {"on", "onto", "to"} for i, w in enumerate(words[:-1]) if w == "back"
    ):
        marks_back = [0]
    else:
        marks_back = []
    marks = marks_back or [i for i, w in enumerate(words) if w in _HELD or w == "thread"]
    over = _goes_on_with(words)
    n, words = over, words[:over]
    goes = next((i for i in range(n - 1, 0, -1) if words[i] in {"on", "onto", "to"}), 0)
    comes = next((i for i, w in enumerate(words) if w in {"from", "off"}), n)
    if not marks and goes and words[0] == "return" and cur.peek(1).kind == "n":
        marks = [0]  # "return 13 thumb sts to needles"
    if (
        not marks
        and goes == 3 + (words[1] == "the")
        and words[goes - 2] in _PART_STS
        and _to_work_with(words)
    ):
        marks = [0]  # "place thumb sts on dpns"
    if not marks or not goes:
        return None
    # held stitches must be where they come from, not where they go to
    if not (marks[0] < goes or (comes < n and marks[0] > comes)):
        return None
    cur.at += 1
    skip(cur, "the", "all", "these", "up", "back", "first", "next", "remaining")
    count = parse_number(cur, ctx)
    place = (
        ""
        if comes >= n
        else " ".join(w for w in words[comes + 1 : goes if goes > comes else n] if w != "the")
    )
    if not place:
        kept = [
            w
            for w in words[:goes]
            if w
            not in {
                "sts",
                "stitches",
                "the",
                "st",
                "stitch",
                "held",
                "of",
                "on",
                "back",
                "place",
                "slip",
                "put",
            }
        ]
        place = " ".join(w for w in kept if w.isalpha() and w not in _TAKE)
    cur.at = here + n
    return (Return(place=place, count=count, span=cur.span_from(here)),)


_PART_STS = frozenset("thumb sleeve finger hood neck underarm held".split())


def _to_work_with(words: list[str]) -> bool:
    """Whether needles to work with are named, and none to wait on."""
    return not {"waste", "spare", "scrap", "holder", "hold", "yarn", "pin", "pins"}.intersection(words)


_NEXT_THING = frozenset(
    "pick pu puk k knit p purl work working join rejoin cast co cont continue place pm slip sl distribute"
    " divide arrange turn bind bo attach with using change mark begin start rib".split()
)


def _goes_on_with(words: list[str]) -> int:
    """Where "and" or "then" leads to the next thing to do: "... on needles and pick up 1 st over the gap"."""
    for i, w in enumerate(words[:-1]):
        if w in {"and", "then"} and i > 1:
            after = i + 1 + (words[i + 1] in {"then", "with"} and i + 2 < len(words))
            if words[after] in _NEXT_THING or words[i + 1] in _NEXT_THING:
                return i
    return len(words)


def _pass_number(cur: Cursor) -> None:
    """Pass over a number and the words that point ("centre 14")."""
    skip(cur, "centre", "center", "first", "last", "remaining")
    if cur.peek().kind == "n" or cur.peek().value is not None:
        cur.at += 1


def _hold_centre(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """("slip" | "place") "the"? "centre" NUMBER "sts" ("on" | "onto") HOLDER: the middle ones wait."""
    here = cur.at
    if cur.take("slip", "sl", "place", "put", "leave", "transfer") is None:
        return None
    skip(cur, "the", "next")
    if cur.take("centre", "center", "middle", "front", "neck") is None:
        cur.at = here
        return None
    count = parse_number(cur, ctx)
    cur.take("sts", "stitches", "st")
    if cur.take("on", "onto", "to", "in") is None or count is None:
        cur.at = here
        return None
    skip(cur, "a", "the", "to")
    n = until_mark(cur, 6, frozenset({"and", "for"}))
    words = [cur.peek(i).low for i in range(n)]
    if not {"holder", "holders", "yarn", "needle", "thread", "pin"}.intersection(words):
        cur.at = here
        return None
    place = take_words(cur, n)
    return (Hold(count=count, place=place, of="next", span=cur.span_from(here)),)


def _resume(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """("beginning" | "starting" | "beg") "with" ("a" SIDE "row" | "row" NUMBER) | "work back and forth in
    rows".
    """
    here = cur.at
    if cur.take("beginning", "starting", "beg", "begin", "start", "commencing", "commence") is not None:
        cur.take(".") if cur.peek(-1).low == "beg" else None
        if cur.take("with", "on", "at", "from") is None:
            cur.at = here
            return parse_direction(cur, ctx)
        skip(cur, "a", "an", "the")
        start = cur.at
        side = parse_side(cur)
        if side is not None:
            return (Resume(side=side, span=cur.span_from(here)),)
        cur.at = start
        row = None
        if cur.peek().low in ROW_WORDS and cur.peek(1).kind == "n":
            row = cur.peek(1).value
            cur.at += 2
        elif cur.peek().kind == "o":
            row = cur.next().value
            skip(cur, "pattern", "patt")
            if cur.take("row", "round", "rnd", "rows") is None:
                row = None
        if row is not None:
            if cur.take("of") is not None:
                cur.at += until_mark(cur, 6, frozenset({"and"}))
            return (Resume(row=int(row), span=cur.span_from(here)),)
        cur.at = here
        return None
    return parse_direction(cur, ctx)


_BEGINS_HERE = Phrases(
    "the? rnd|round|rnds|rounds now? begins|begin|starts|start now? here",
    "the? rnd|round|rnds|rounds now? begins|begin|starts|start now? at|from|with this|that|the side?"
    " marker|point|m",
    "the? rnd|round|rnds|rounds now? begins|begin|starts|start now? at the? centre|center|middle"
    "|back of the? heel|back|sole",
    "the? rnd|round|rnds|rounds now? begins|begin|starts|start now? at the? centre|center back|sole|heel",
    "the? beginning|beg|start of the? rnd|round is now here",
    "the? beginning|beg|start of the? rnd|round is now at this|that|the side? marker|point",
    "this|the marker now? marks|indicates|is now? the? new? beginning|beg|start of the? rnd|round",
    "this is now? the? new beginning|beg|start of the? rnd|round",
    "this is now the? new? beginning|beg|start of the? rnd|round",
)  # fmt: skip


def parse_begins_here(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """BEGINS-HERE: "The rnd now begins at this marker", "this is the new beginning of the round"."""
    del ctx
    here = cur.at
    if _BEGINS_HERE.take(cur) is None or cur.peek().low not in {"", ".", ";", ",", "("}:
        cur.at = here
        return None
    return (Resume(here=True, span=cur.span_from(here)),)


_SORTS = frozenset(
    "smaller larger size us no straight circular double dpns bigger finer coarser main mm 4mm a the".split()
)
_TOGETHER = Phrases(
    "with|holding the? rs|ws|right|wrong side|sides? of pieces? facing? together",
    "with rs|ws|right|wrong side|sides? together",
)
_CHANGE = Phrases(
    "change|changing to", "switch|switching to", "using", "use", "with", "on", "take", "go up|down",
    "go back to", "change the? needles|pins to|for",
    "return to", "work with", "begin with", "starting with", "change back to",
)  # fmt: skip


def _needles(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """("change to" | "with" | "on" | "using") ... "needles": which needles; it moves no stitch."""
    here = cur.at
    skip(cur, "and", "then", "now")
    if cur.take("us", "uk") is not None:
        # "US#2: ..." before what is worked on it
        skip(cur, "#", "size")
        if cur.peek().kind == "n" and cur.peek(1).low == ":":
            cur.at += 2
            return _note(cur, here)
    cur.at = here
    if _TOGETHER.take(cur) is not None:
        return _note(cur, here)
    linked = skip(cur, "and", "then", "now")
    if _CHANGE.take(cur) is None and not ((linked or cur.peek(-1).low == "and") and cur.peek().low in _SORTS):
        cur.at = here
        return None
    n = until_mark(
        cur,
        14,
        frozenset({"cast", "co", "knit", "purl", "work", "k", "p", "pick", "and", "bind", "until", "rib"}),
    )
    words = [cur.peek(i).low for i in range(n)]
    words = words[: _too_few_from(words)]
    n = len(words)
    if (
        not _NEEDLES.intersection(words)
        or {"three", "bind", "bind-off", "kitchener"}.intersection(words)
        or {"st", "sts", "stitches", "stitch"}.intersection(words)
        or ("only" in words and not {"needle", "needles"}.intersection(words))  # "on 2nd size only"
    ):
        cur.at = here
        return None
    cur.at += n
    while True:
        # With size 10.5, 16" circular needle, ...
        at = cur.at
        if cur.peek().low in {",", '"', "."} and cur.peek(1).kind in {"n", "w"}:
            skip(cur, ",", '"', ".")
            m = until_mark(cur, 8, frozenset({"cast", "co", "knit", "purl", "work", "k", "p", "pick"}))
            inside = [cur.peek(i).low for i in range(m)]
            if m and _NEEDLES.intersection(inside) and not {"st", "sts", "stitches"}.intersection(inside):
                cur.at += m
                continue
        cur.at = at
        break
    if cur.peek().low == "(":
        m = next((i for i in range(1, 12) if cur.peek(i).low == ")"), 0)
        if m:
            cur.at += m + 1
    _when_too_few(cur)
    note = _note(cur, here)
    at = cur.at
    skip(cur, ",")
    if _yarn_to_cast_on_with(cur) and (yarn := _shade(cur, ctx)) is not None:
        return (*note, *yarn)
    cur.at = at
    return note


_TOO_FEW = frozenset("few fewer fit longer reach necessary needed required".split())


def _too_few_from(words: list[str]) -> int:
    """Where words begin that say when needles are changed: "when the sts no longer reach round"."""
    at = next((i for i, word in enumerate(words) if word in {"when", "once", "as"}), len(words))
    return at if _TOO_FEW.intersection(words[at:]) else len(words)


def _when_too_few(cur: Cursor) -> None:
    """WHEN: "when the sts no longer reach round", "as there are now too few sts"."""
    n = until_mark(cur, 14)
    words = [cur.peek(i).low for i in range(n)]
    if n and _too_few_from(words) == 0:
        cur.at += n


_YARNS = frozenset(
    "wool yarn color colour shade cotton silk thread worsted saxony fleece strand strands".split()
)


def _yarn_to_cast_on_with(cur: Cursor) -> bool:
    """AND-YARN: "and" WORDS "yarn" LETTER? ","? "cast on", after the needles: "and black thread cast on"."""
    if cur.peek().low != "and":
        return False
    n = 1
    while n < 7 and cur.peek(n).kind in {"w", "s", "n"} and cur.peek(n).low not in {"cast", "co"}:
        n += 1
    words = {cur.peek(i).low for i in range(1, n)}
    n += cur.peek(n).low == ","
    return bool(words & _YARNS) and cur.peek(n).low in {"cast", "co", "cast-on"}


def _shade(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """("with" | "using" | "join on" | "change to") "the"? WORDS "wool": which yarn, as old books name it."""
    here = cur.at
    lead = cur.any_phrase("with", "using", "join|joining on|in", "change to", "take", "in")
    if lead is None and cur.peek().low == "yarn" and cur.peek(-1).low == "and" and cur.peek(1).low == "held":
        lead = "with"
    if lead is None and _yarn_to_cast_on_with(cur):
        lead = "with"
        skip(cur, "and")
    if lead is None:
        return None
    held = until_mark(cur, 8, frozenset({"cast", "co", "knit", "purl", "work", "k", "p", "and"}))
    if any(
        cur.peek(i).low in {"held", "strands", "strand", "doubled"}
        or (cur.peek(i).low == "double" and cur.peek(i + 1).low not in {"-", "pointed", "point"})
        for i in range(held)
    ):
        cur.at += held
        return _note(cur, here)
    skip(cur, "the", "a", "two", "one", "of", "strand", "strands")
    n = until_mark(cur, 7, frozenset({"cast", "knit", "purl", "work", "k", "p", "co", "and"}))
    words = [cur.peek(i).low for i in range(n)]
    last = max((i for i, w in enumerate(words) if w in _YARNS), default=-1)
    if (
        last < 0
        or last > 4
        or {"st", "sts", "stitch", "stitches", "back", "front"}.intersection(words[: last + 1])
    ):
        cur.at = here
        return None
    if (
        words[0] in {"yarn", "wool", "thread"}
        and n > 1
        and words[1] in {"in", "at", "held", "before", "to", "forward"}
    ):
        cur.at = here
        return None
    spare = {"waste", "scrap", "spare"}.intersection(words)
    name = " ".join(w for w in words[: last + 1] if w not in {"yarn", "wool"} or last == 0 or spare)
    cur.at += last + 1
    t = cur.peek()
    if words[last] in {"color", "colour", "yarn", "shade"} and (
        t.low in ctx.yarns or (len(t.text) == 1 and t.text.isupper())
    ):
        name = cur.next().text
    if (
        t.low == "of"
        and words[last] in {"shade", "shades", "colour", "color", "tint"}
        and cur.peek(1).kind == "w"
    ):
        # "change to the next shade of green"
        name = f"{name} of {cur.peek(1).text}"
        cur.at += 2
    act: Literal["use", "join"] = "join" if lead.startswith("join") else "use"
    if name == "working":  # after a spare yarn: "with the working yarn, knit to end"
        return (Yarn(act="use", colour=None, span=cur.span_from(here)),)
    return (Yarn(act=act, colour=name, span=cur.span_from(here)),)


def parse_not(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """NOT: ("do not" | "don't" | "never" | "without") WORDS: what is not to be done works nothing."""
    from purlwright.pattern.read.steps import parse_step

    here = cur.at
    steps = parse_step(cur, ctx)
    if steps is not None:
        return steps
    cur.at = here
    if cur.any_phrase("do not", "don't", "never", "without", "not") is None:
        return None
    n = until_mark(cur, 20)
    if n == 0:
        cur.at = here
        return None
    cur.at += n
    return _note(cur, here)


_ASIDE = Phrases(
    "on|onto|to a|the? st|stitch? holder|holders", "on|onto|to a|the? spare|waste|scrap needle|yarn",
    "on|onto hold",
    "on|onto a|the? length|piece of? yarn|wool|waste?", "on|onto safety pin|pins", "on|onto a safety pin",
)  # fmt: skip


def hold_the_rest(cur: Cursor) -> Hold | None:
    """HOLD: "on a holder", after "turn and leave the remaining sts"."""
    here = cur.at
    if _ASIDE.take(cur) is None:
        return None
    return Hold(place=words_from(cur, here + 1), of="rest", span=cur.span_from(here))
