"""When to stop: "for 10 rows", "until piece measures 30 cm from beg, ending with a WS row",
"until 6 sts remain".

In: a cursor that stands at "for", "until" or "ending". Out: one :class:`Until`. What is worked meanwhile
is left to ``rows`` and ``shaping``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.amounts import (
    ROW_WORDS,
    TWO_ROWS,
    amount,
    parse_side,
    rest_of_clause,
    skip,
    take_words,
    twice_as_many,
    until_mark,
)
from purlwright.pattern.read.numbers import parse_length, parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.prose import aside_end
from purlwright.pattern.read.rowset import LETTERS
from purlwright.pattern.tree import Length, Number, Side, Until

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor, Token

__all__ = ["as_another", "measured_until", "or_else", "parse_ending", "parse_until"]

_STITCHES = frozenset({"st", "sts", "stitch", "stitches", "loops"})
_FREE = frozenset(
    "same matches match corresponds equals desired desire wish wished like liked required require"
    " want wanted needed reach reaches fit fits enough yarn wool"
    " length long sufficient square".split()
)
_MEASURES = frozenset("measures measure measuring meas is reaches reach are to be about".split())
_THINGS = frozenset(
    "wedge wedges ridge ridges rib ribs repeat repeats rep reps pattern patterns time times cable"
    " cables section"
    " sections tier tiers square squares stripe stripes point points motif motifs triangle triangles"
    " block blocks"
    " hole holes buttonhole buttonholes"
    " scallop scallops gore gores panel panels band bands teeth leaf leaves".split()
)
_IN_ROWS = frozenset("cable cables buttonhole buttonholes hole".split())
"""Things that a row of its own makes."""
_NO_THING = frozenset("cm mm m in ins inch inches yd above below from after past of".split()) | {'"', "”"}
_DONE = "done worked completed complete knitted knit made finished formed".split()
_CHANGED = frozenset("reduced decreased narrowed increased widened".split())
_USED = frozenset("worked used knitted knit off up done".split())
_ABOUT = (
    "about",
    "approx",
    "approximately",
    "~",
    "roughly",
    "nearly",
    "only",
    "just",
    "another",
    "some",
    "total",
    "a",
)


def parse_until(cur: Cursor, ctx: Context) -> Until | None:
    """UNTIL: ("for" | "until" | "till" | "to") a length, a stitch count, a number of rows or of things,
    then ENDING?.
    """
    here = cur.at
    skip(cur, ",")
    if cur.take("for") is not None:
        found = _for(cur, ctx)
    elif cur.take("until", "till", "til", "untill") is not None:
        cur.take("the")
        found = _until(cur, ctx)
    elif cur.peek().low == "to" and cur.peek(1).low in {
        "desired",
        "required",
        "measure",
        "a",
        "length",
        "the",
        "total",
    }:
        cur.at += 1
        cur.take("a", "the")
        if (
            cur.phrase("measure")
            or cur.phrase("total length of")
            or cur.phrase("length of")
            or cur.phrase("depth of")
        ):
            found = _length(cur, ctx)
        else:
            found = _free(cur, need=True)
    elif cur.take("to") is not None:
        # "Work to 2 inches"; "to 3 sts" is a place within the row
        found = _length(cur, ctx)
    else:
        found = None
    if found is None:
        cur.at = here
        return None
    return _ended(cur, ctx, found, here)


def _ended(cur: Cursor, ctx: Context, found: Until, here: int) -> Until:
    """OR-ELSE? ENDING? after a place to stop."""
    or_else(cur, ctx)
    ending = parse_ending(cur)
    if ending is None and cur.peek().low == "(" and cur.peek(1).low in {"ending", "end", "finishing"}:
        # "until it is as long as you wish (ending with row 1, so that the pattern matches) or ..."
        close = aside_end(cur)
        at = cur.at
        cur.at += 1
        ending = parse_ending(cur) if close > 0 else None
        cur.at = close if ending is not None else at
        or_else(cur, ctx)
    if ending is not None:
        found = replace(
            found, side=ending.side, worked=ending.worked, ending_row=ending.ending_row, edge=ending.edge
        )
    return replace(found, span=cur.span_from(here))


def measured_until(cur: Cursor, ctx: Context) -> Until | None:
    """SUBJECT "measures" LENGTH (","? "measured" "straight"? FROM)? ENDING?, "until" being said otherwise."""
    here = cur.at
    found = _until(cur, ctx)
    if found is None or found.length is None:
        cur.at = here
        return None
    at = cur.at
    skip(cur, ",")
    if cur.take("measured", "measuring") is not None:
        skip(cur, "straight", "up", "down", "vertically")
        since = _since(cur)
        found = replace(found, since=since or found.since)
    else:
        cur.at = at
    return _ended(cur, ctx, found, here)


def or_else(cur: Cursor, ctx: Context) -> None:
    """OR-ELSE: ", or until heel flap measures 6 cm", ", or desired length": another way to say when; the
    first one counts.
    """
    here = cur.at
    skip(cur, ",")
    if cur.take("or") is not None:
        cur.take("for", "to") if cur.peek().low == "to" else None
        found = parse_until(cur, ctx) or _length(cur, ctx) or _count(cur, ctx) or _free(cur, need=True)
        if found is not None:
            if cur.peek().low in {"to", "of", "from", "for"}:
                rest_of_clause(cur)
            return
    cur.at = here


def _for(cur: Cursor, ctx: Context) -> Until | None:
    """FOR: "for" (NUMBER ROWS | LENGTH | "desired length" | "pattern" | "length of scarf as desired")."""
    here = cur.at
    cur.phrase("a total of")
    skip(cur, *_ABOUT[:-1], "the", "next", "first", "a", "further", "another")
    n = amount(cur, ctx)
    if n is not None:
        skip(cur, "more", "further", "plain", "additional")
        unit = cur.take(*ROW_WORDS)
        if unit is not None:
            n = twice_as_many(n) if unit.low in TWO_ROWS else n
            skip(cur, "more", "altogether", "plain")
            if cur.peek().low == "(" and cur.peek(1).kind == "n":
                _aside(cur)
            return Until(rows=n)
    cur.at = here
    found = _length(cur, ctx)
    if found is not None:
        return found
    cur.at = here
    return _free(cur, need=True)


def _aside(cur: Cursor) -> None:
    """Pass over "(6 inches)"."""
    n = 1
    while cur.peek(n).kind and cur.peek(n).low != ")" and n < 14:
        n += 1
    if cur.peek(n).low == ")":
        cur.at += n + 1


def _length(cur: Cursor, ctx: Context) -> Until | None:
    """ABOUT? LENGTH ("less than" ...)? ("or" ...)? SINCE?."""
    here = cur.at
    skip(cur, *_ABOUT, "further")
    length = parse_length(cur, ctx)
    if length is None:
        cur.at = here
        return None
    skip(cur, "long", "deep", "high", "wide")
    cur.any_phrase("is|are|have been? done|knitted|worked|finished|completed|made")
    if cur.phrase("in length") or cur.phrase("in depth") or cur.phrase("in all") or cur.phrase("in width"):
        pass
    if cur.peek().low in {"less", "short", "shorter"}:
        cur.at += 1
        words = rest_of_clause(cur)
        length = replace(length, less=True, words=words, span=cur.span_from(here))
    elif cur.peek().low == "or" and cur.peek(1).low != "to":
        words = rest_of_clause(cur)
        length = replace(length, words=words, span=cur.span_from(here))
    elif (cur.peek().low == "(" and cur.peek(1).kind == "n") or cur.peek(1).low in {"or", "about", "approx"}:
        _aside(cur)
    return Until(length=length, since=_since(cur))


_ENDINGS = frozenset("ending end ends finishing finish finished and then measured or".split())


def _since(cur: Cursor) -> str:
    """("from" | "above" | "after" | "past" | "along") WORDS: from where a length is measured."""
    if cur.peek().low == "measured":
        cur.at += 1
    cur.any_phrase("straight up?") if cur.peek(1).low in {"up", "from"} else None
    if cur.peek().low not in {"from", "above", "after", "past", "along", "below", "since", "at", "beyond"}:
        return ""
    across = cur.peek().low in {"along", "at"}  # "measures 10 cm along the side": not from where
    first = next((i for i in (1, 2) if cur.peek(i).low == "end" and cur.peek(i + 1).low == "of"), 0)
    cur.at += first  # "from the end of the ribbing" is no ending
    n = until_mark(cur, 10, _ENDINGS - {"end"} if first else _ENDINGS)
    words = " ".join(cur.peek(i).text for i in range(1, n))
    cur.at += n
    if cur.peek().low == "." and words.lower().endswith(("beg", "st", "approx")):
        cur.at += 1
    for article in ("the ", "last "):
        words = words.removeprefix(article)
    if across:
        return ""
    return {"beg": "beginning", "start": "beginning", "commencement": "beginning"}.get(words.lower(), words)


_WHEN_TRIED = frozenset("when if slightly stretched fits fit reaches will is measured pulled".split())


def _free(cur: Cursor, *, need: bool) -> Until | None:
    """A length left to the knitter: "desired length", "as long as you wish", "almost out of yarn"."""
    n = until_mark(cur, 16, frozenset({"ending"}))
    words = [cur.peek(i).low for i in range(n)]
    while n and cur.peek(n).low == "," and not _FREE.intersection(words):
        # "until band, when slightly stretched, fits up front edge"
        at = cur.at
        cur.at += n + 1
        more = until_mark(cur, 16, frozenset({"ending"}))
        cur.at = at
        clause = [cur.peek(n + 1 + i).low for i in range(more)]
        if not clause or clause[0] not in _WHEN_TRIED:
            break
        n, words = n + 1 + more, [*words, *clause]
    if n == 0 or (need and not _FREE.intersection(words)):
        return None
    here = cur.at
    said = take_words(cur, n)
    return Until(length=Length(words=said, span=cur.span_from(here)))


_ANOTHER = Phrases(
    "less than|to|on?", "fewer than|to|on?", "shorter than", "longer than", "more than", "short of",
)  # fmt: skip


def as_another(cur: Cursor) -> Length | None:
    """AS-ANOTHER: after a number of rows, "less than back to shoulder", "shorter than back".

    How many rows that is depends on another piece, and is left to the knitter.
    """
    here = cur.at
    if _ANOTHER.take(cur) is None or cur.peek().low in {"", ".", ",", ";"}:
        cur.at = here
        return None
    cur.at = here
    words = rest_of_clause(cur)
    return Length(less=True, words=words, span=cur.span_from(here))


_THE_WORK = frozenset("piece work knitting it length depth height fabric".split())
_ABOUT_IT = frozenset("the your this that whole entire finished total each its of in at with".split())


def _from_where(subject: Sequence[Token]) -> str:
    """SUBJECT "measures": a piece from where it was cast on, a part ("the rib", "sleeve") from its start."""
    words = [t.low for t in subject if t.low.replace("'", "").isalpha()]
    if not {"measures", "measure", "meas", "is", "are"}.intersection(words):
        return ""
    if _THE_WORK.intersection(words):
        return "beginning"
    part = [w for w in words if w not in _MEASURES | _ABOUT_IT and w not in _ABOUT]
    return f"start of {' '.join(part)}" if part else ""


def _until(cur: Cursor, ctx: Context) -> Until | None:
    """UNTIL: "until" SUBJECT (COUNT | LENGTH | DONE)."""
    here = cur.at
    skip(cur, "only", "about")
    cur.phrase("back to")
    row = _row_done(cur)
    if row is not None:
        return row
    you_have = not cur.phrase("there is|are only?") and bool(cur.phrase("you have only? but?"))
    found = _count(cur, ctx)
    if found is None and you_have:  # "till you have 12": stitches, what else
        at = cur.at
        many = parse_number(cur, ctx)
        if many is not None and cur.peek().low in {"", ".", ",", ";", "and"}:
            return Until(stitches=many)
        cur.at = at
    if found is not None:
        return found
    cur.at = here
    # "until you have 43 sts", "until there are 20 rounds", "until piece measures 5 cm", "until work is 10
    # cm long"
    for i in range(until_mark(cur, 16)):
        t = cur.peek(i)
        if (
            t.kind == "n"
            or (t.value is not None and t.low not in {"one", "first", "second"})
            or t.low in {"~", "half"}
        ):
            if cur.peek(i - 1).low == "within":  # "till within 3 sts of the end" is a place in the row
                return None
            cur.at = here + i
            if (
                i > 1
                and cur.peek(-1).low == "to"
                and _CHANGED.intersection(x.low for x in cur.tokens[here : here + i])
            ):
                # "till you have reduced the stitches to 88"
                reduced = parse_number(cur, ctx)
                if reduced is not None:
                    cur.take(*_STITCHES)
                    return Until(stitches=reduced)
            skip(cur, *_ABOUT)
            found = _count(cur, ctx)
            if found is None:
                cur.at = here + i
                found = _length(cur, ctx)
                if found is not None and not found.since:
                    found = replace(found, since=_from_where(cur.tokens[here : here + i]))
            if found is not None:
                return found
            break
    cur.at = here
    n = until_mark(cur, 16, frozenset({"ending"}))
    words = [cur.peek(i).low for i in range(n)]
    if (
        words
        and (words[0] in {"all", "no", "every"} or words[:2] == ["you", "have"])
        and (_STITCHES.intersection(words) or words[-1] in _USED or words[-2:-1] == ["worked"])
    ):
        cur.at += n
        return Until(things=" ".join(words))
    return _chart_done(cur) or _something_done(cur) or _free(cur, need=True)


_CHARTED = frozenset({"chart", "charts", "pattern", "patt", "panel", "motif"})


def _chart_done(cur: Cursor) -> Until | None:
    """CHART-DONE: ("last row of" | "end of") "the"? NAME? "chart" ("is complete")?: up to its last row."""
    here = cur.at
    last = cur.any_phrase(
        "last|final row|rnd|round of the?", "the? end of the?", "last|final row|rnd|round in the?"
    )
    for i in range(4):
        if cur.peek(i).low in _CHARTED:
            cur.at += i + 1
            at = cur.at
            t = cur.peek()
            if t.kind == "n" or (len(t.text) == 1 and t.text.isupper()):
                cur.at += 1
            done = _IS_DONE.take(cur) is not None or cur.take("ends") is not None
            if done or (last and cur.peek().low in {"", ".", ",", ";", "("}):
                return Until(times=Number(values=(1,)), things="chart")
            cur.at = at
            break
        if cur.peek(i).kind not in {"w", "s"}:
            break
    cur.at = here
    return None


def _something_done(cur: Cursor) -> Until | None:
    """SOMETHING-DONE: "the cable is done": when that is, no number says."""
    n = until_mark(cur, 9, frozenset({"ending"}))
    at = cur.at
    for i in range(1, n):
        cur.at = at + i
        if _IS_DONE.take(cur) is not None and cur.at == at + n:
            cur.at = at
            said = take_words(cur, n)
            return Until(length=Length(words=said, span=cur.span_from(at)))
    cur.at = at
    return None


_IS_DONE = Phrases(
    "has|have|is|are been? worked|completed|complete|done|finished|knitted|knit",
    "of the? chart|pattern|patt has|have|is|are been? worked|completed|complete|done|finished|knitted|knit",
)


def _row_done(cur: Cursor) -> Until | None:
    """ROW-DONE: "row 4" ("of" "chart A")? "has been worked": the last row worked is that one."""
    here = cur.at
    if cur.peek().low not in ROW_WORDS or cur.peek(1).kind != "n":
        return None
    number = cur.peek(1).value
    cur.at += 2
    if cur.peek().low == "of":
        done = next((i for i in range(1, 7) if cur.peek(i).low in {"has", "have", "is", "are"}), 0)
        cur.at += done
    if _IS_DONE.take(cur) is None or not isinstance(number, int):
        cur.at = here
        return None
    return Until(ending_row=min(number, 1_000_000), span=cur.span_from(here))


def _count(cur: Cursor, ctx: Context) -> Until | None:
    """NUMBER (STITCHES LEFT? | ROWS DONE? | THINGS DONE?) - "only 6 sts remain", "45 rows", "14 wedges are
    done".
    """
    here = cur.at
    t = cur.peek()
    n: Number | None
    ordinal = t.kind == "o"
    if ordinal:
        cur.at += 1
        n = Number(values=(int(t.value or 0),), span=t.span)
    else:
        n = parse_number(cur, ctx)
    if n is None:
        return None
    if not ordinal and cur.take(*_STITCHES) is not None:
        if cur.peek().low == "." and cur.peek(1).low in {"remain", "rem", "left", "are", "on", "remaining"}:
            cur.at += 1
        both = _each_side(cur, ctx, n)
        return both if both is not None else Until(stitches=n, things=_left(cur, ctx))
    if not ordinal and cur.take("remain", "rem", "left", "remaining") is not None:
        return Until(stitches=n)
    if not ordinal and cur.any_phrase("on the? needle|needles|pin|pins", "on each|every needle|pin"):
        return Until(stitches=n)
    skip(cur, "more", "garter", "full", "complete", "single", "double", "plain", "such")
    unit = cur.peek().low
    if unit in ROW_WORDS and unit not in {"ridge", "ridges", "rib", "ribs"}:
        cur.at += 1
        other = as_another(cur)
        if other is not None:
            return Until(length=other)
        cur.any_phrase("of the? chart|pattern|patt|repeat|lace")
        _done(cur)
        often = _so_often(cur, ctx)
        return Until(rows=n) if often is None else Until(times=often, things="repeats")
    # "14 wedges are done", "4th cable has been worked", "10 single ribs", "3 leaf repeats are done"
    for i in range(3):
        if cur.peek(i).low in _NO_THING:  # "4 cm above rib"
            break
        if cur.peek(i).low in _THINGS and cur.peek(i + 1).low not in _THINGS:
            what = cur.peek(i).low
            cur.at += i + 1
            if what in _IN_ROWS:
                cur.take(*ROW_WORDS)  # "23 cable rows have been worked"
            cur.any_phrase(
                "of the? chart|pattern|patt|motif|panel", "of the? lace|leaf|cable|rope chart|pattern|panel?"
            )
            _done(cur)
            return Until(times=n, things=what)
    cur.at = here
    return None


def _so_often(cur: Cursor, ctx: Context) -> Number | None:
    """SO-OFTEN: NUMBER "times" ("in all")?: "all 8 rows of the pattern have been worked 12 times"."""
    here = cur.at
    often = Number(values=(2,), span=cur.peek().span) if cur.take("twice") else parse_number(cur, ctx)
    if often is None or (cur.peek(-1).low != "twice" and cur.take("times") is None):
        cur.at = here
        return None
    cur.any_phrase("in all|total")
    return often


def _breakdown(cur: Cursor) -> None:
    """BREAKDOWN: "(= 1 edge st, k1, 2 sts in pattern)", "(including cuff)", an aside that explains the
    number.
    """
    while cur.peek().low == "(" and cur.peek(1).low in {"=", "including", "that", "about", "or", "approx"}:
        end = aside_end(cur)
        if end < 0:
            return
        cur.at = end


def _each_side(cur: Cursor, ctx: Context, n: Number) -> Until | None:
    """EACH-SIDE: "remain on each side", "are left on each side of the 8 centre sts".

    With those in the middle it is the count of all.
    """
    here = cur.at
    skip(cur, "remain", "rem", "remaining", "left", "are", "is")
    if cur.any_phrase("on|at each|either|both side|sides") is None:
        cur.at = here
        return None
    at = cur.at
    middle = parse_number(cur, ctx) if cur.phrase("of the?") else None
    skip(cur, "centre", "center", "middle", "central")
    if middle is None or cur.take(*_STITCHES) is None or len(middle.values) > 1:
        cur.at = at
        return Until(stitches=n, things="each side")
    m = middle.values[0] or 0
    return Until(stitches=replace(n, values=tuple(None if v is None else 2 * v + m for v in n.values)))


def _left(cur: Cursor, ctx: Context) -> str | None:
    """LEFT: "remain" | "are left on the needle" | "on each needle for a total of 64 sts" | "rem on hold" |
    "between markers": where they are counted, if not on the whole needle.
    """
    skip(cur, "only", "in", "each")
    skip(cur, "remain", "rem", "remaining", "remains", "left", "are", "is", "have", "been")
    cur.take(".") if cur.peek().low == "." and cur.peek(1).low in {"on", "for", ",", "then"} else None
    if cur.peek().low in {"on", "in"}:
        n = until_mark(cur, 8, _ENDINGS | {"for", "before", "unwrapped"})
        if cur.peek(n).low == "unwrapped":
            cur.at += n + 1
            return "unwrapped"
        cur.at += n
    if cur.any_phrase("between the? two|2? markers|m's|ms") is not None:
        return "between the markers"
    if cur.take("unwrapped") is not None or cur.phrase("in the? centre|center|middle unwrapped"):
        cur.phrase("in the? centre|center|middle")
        return "unwrapped"
    skip(cur, "unworked", "altogether", "total", "remain", "remaining", "between")
    if cur.phrase("for a total of") or cur.phrase("or"):
        parse_number(cur, ctx)
        cur.take(*_STITCHES)
    _breakdown(cur)
    return None


def _done(cur: Cursor) -> None:
    """DONE: "are done" | "have been worked" | "in all" | "from the pickup along the heel flap"."""
    skip(cur, "are", "is", "has", "have", "been", "in", "all", "long", *_DONE)
    if cur.peek().low in {"from", "above", "since"}:
        _since(cur)
    _breakdown(cur)


_BY_THE_END = Phrases(
    "beginning|end|beg of? the? round|rnd marker",
    "beg|beginning|end|start of the? row|round|rnd|needle", "the? marker|m",
    "last|first|beg|centre|center marker", "full|complete round|rnd|row|repeat",
    "end of heel|instep sts|stitches|needle", "back|front|centre|center",
)  # fmt: skip


_AT_EDGES = {
    "armhole": "armhole edge", "side": "side edge", "seam": "side edge", "outer": "side edge",
    "neck": "neck edge", "front": "front edge", "inner": "front edge", "opening": "front edge",
}  # fmt: skip


_ROW_SAID = frozenset({"", ".", ",", ";", "of", "or", "("})


_ENDED_BY = frozenset("worked working completing knitting finished completed knitted".split())


def _ready_for(cur: Cursor) -> Side | None:
    """READY: "ready" ("to" ("begin" | "work" | "start") | "for") "a" SIDE "row": the row that comes next."""
    here = cur.at
    if cur.any_phrase("ready to begin|work|start|knit|purl a|the?", "ready for a|the?") is None:
        return None
    side = parse_side(cur)
    if side is None:
        cur.at = here
    return side


def parse_ending(cur: Cursor) -> Until | None:
    """ENDING: "ending with a WS row", "ending on right side of work", "ending with row 4", "end after a
    purl row".
    """
    here = cur.at
    skip(cur, ",", ";")
    skip(cur, "and", "always", "thus", "so")
    if cur.take("ending", "end", "ends", "finishing", "finish", "ended") is None:
        cur.at = here
        if cur.phrase(", so? that? rs|ws is? facing for next row"):
            return Until(side=Side.RS, worked=False, span=cur.span_from(here))
        skip(cur, ",")
        side = _ready_for(cur)
        if side is not None:
            return Until(side=side, worked=False, span=cur.span_from(here))
        cur.at = here
        return None
    side = _ready_for(cur)
    if side is not None:
        return Until(side=side, worked=False, span=cur.span_from(here))
    cur.phrase("row|rnd on|with|after")  # "ending row on wrong side"
    skip(cur, "with", "on", "after", "by", "at", "having", *_ENDED_BY)
    skip(cur, "a", "an", "the", "complete")
    start = cur.at
    side = parse_side(cur)
    if side is not None:
        facing = cur.peek(-1).low == "facing" or cur.take("facing") is not None
        if facing:
            cur.phrase("for the? next row|round|rnd")
        return Until(side=side, worked=not facing, span=cur.span_from(here))
    cur.at = start
    if cur.peek().low in _AT_EDGES and cur.phrase(" ".join(["|".join(_AT_EDGES), "edge|edges"])):
        return Until(edge=_AT_EDGES[cur.peek(-2).low], span=cur.span_from(here))
    if cur.phrase("centre|center front") and cur.take("edge", "edges"):
        return Until(edge="front edge", span=cur.span_from(here))
    cur.at = start
    if _BY_THE_END.take(cur) is not None:
        return Until(span=cur.span_from(here))
    cur.phrase("repeat of")
    t = cur.peek()
    if t.low in ROW_WORDS and cur.peek(1).text in LETTERS and cur.peek(2).low in {"", ".", ",", ";"}:
        cur.at += 2  # "ending having worked Row B": the last of the rows repeated
        return Until(span=cur.span_from(here))
    if t.low in ROW_WORDS and cur.peek(1).kind in {"n", "o"}:
        row = cur.peek(1).value
        cur.at += 2
        while cur.peek().low in {"or", ","} and cur.peek(1).kind == "n" and cur.peek(2).low in _ROW_SAID:
            cur.at += 2
    elif t.kind == "o":
        row = t.value
        cur.at += 1
        skip(cur, "pattern", "patt")
        if cur.take(*ROW_WORDS) is None:
            cur.at = here
            return None
    else:
        cur.at = here
        return None
    skip(cur, "of", "the", "pattern", "patt", "chart")
    return Until(ending_row=min(int(row or 0), 1_000_000), span=cur.span_from(here))
