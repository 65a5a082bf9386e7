"""Steps of a row: the dispatcher.

In: a cursor at any place of a row's words. Out: the steps read there, or None.
What each kind of step looks like stands in the files of this folder; statements over rows stand elsewhere.
"""

from __future__ import annotations

from msgspec.structs import replace

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.kept import parse_kept, parse_run_over
from purlwright.pattern.read.numbers import ONE
from purlwright.pattern.read.problems import NotRead
from purlwright.pattern.read.working import (
    FILLERS,
    REPEATS,
    SEPARATORS,
    Handler,
    Steps,
    into_tail,
    once_each,
    parse_times,
)
from purlwright.pattern.tokens import Cursor, Token
from purlwright.pattern.tree import (
    Choice,
    Into,
    Note,
    Repeat,
    Said,
    Stated,
    Step,
    Unread,
    Work,
)
from purlwright.stitches.kinds import Family
from purlwright.stitches.load import dictionary

__all__ = ["is_knitting_word", "parse_step", "parse_steps", "read_on", "single_step", "skip_unread"]

_LEADS = FILLERS | {",", ";", "-", ":", "&"}
_TIMES = frozenset("twice once thrice x for another".split())
_ENDS = frozenset({",", ";", ")", "]", "}", "(", "[", "{", "*", "**", "|"})
_MOST_OFFERS = 10
"""How many unread stretches of one line get the nearest reading looked up."""
_DOUBLE_OVER = (
    "in|into each|every|the? double yo|yos|yarn|over overs|over?",
    "in|into each|every|the? yo twice",
    "in|into each|every|the? double -? yo",
)
_NO_CLOSERS: frozenset[str] = frozenset()
_PLAIN_WORDS = frozenset(
    "the as in with using on to a same like row rnd round using place put leave move take make mark "
    "return change at "
    "place let of for b c m s y o w needle needles ndl n cable size in on row keep cut break".split()
)


def parse_step(cur: Cursor, ctx: Context, depth: int = 0) -> tuple[Step, ...] | None:
    """Step := lead* one (times | "and" one times)?

    One step, or several that the words bind together, at the cursor; None, and the cursor unmoved, if
    nothing
    here is a step. "k4", "sl 1, k1, psso", "(k1, yo) twice", "make 1 and knit 2 together 3 times"
    """
    here = cur.at
    pad = cur.pad
    while pad[cur.at].low in _LEADS and pad[cur.at].kind:
        cur.at += 1
    start = cur.at
    if depth == 0:
        whole = wholes.parse_whole_row(cur, ctx, start)
        if whole is not None:
            return whole
    found = single_step(cur, ctx, depth)
    if found is None:
        cur.at = here
        return None
    if "twist" in cur.kept and (kept := parse_kept(cur, ctx, start, found, depth)) is not None:
        return kept
    t = pad[cur.at]
    low = t.low
    if low in {"in", "into"} and cur.any_phrase(*_DOUBLE_OVER):
        # "k1, p1 into each double yo": its two loops, one after the other
        return (*found[:-1], replace(found[-1], span=cur.span_from(start)))
    if low in {",", ""}:
        if low == "," and (pad[cur.at + 1].kind == "n" or pad[cur.at + 1].value is not None):
            found = _late_times(cur, ctx, start, found)
        elif low == "," and _pairs(found) and _times_near(cur):
            found = _joined(cur, ctx, start, found, depth)
        if "into" in cur.kept:
            found = _all_into(cur, ctx, start, found, depth)
        return found
    if low in _ENDS:
        return found
    if t.kind == "n" or low in _TIMES or t.value is not None:
        return _multiplied(cur, ctx, start, found)
    if low in {"and", "&"}:
        # "knit and purl into the next st": both into one
        into = _all_into(cur, ctx, start, found, depth) if "into" in cur.kept else found
        return into if into is not found else _joined(cur, ctx, start, found, depth)
    if low in {"in", "into", "all"} and "into" in cur.kept:
        return _all_into(cur, ctx, start, found, depth)
    if low in {"before", "between", "after"}:
        return before_each(cur, ctx, start, found)
    return found


def single_step(cur: Cursor, ctx: Context, depth: int) -> Steps | None:
    """One := whatever the first word can begin"""
    at = cur.at
    t = cur.pad[at]
    if not t.kind:
        return None
    if ctx.own:
        found = parse_own(cur, ctx, depth)
        if found is not None:
            return found
    if cur.kept.get("run") and t.low[:1] in {"k", "p"}:
        found = parse_run_over(cur, ctx, depth)
        if found is not None:
            return found
    handlers = _TABLE.get(t.low)
    if t.low in _RIBBED and cur.kept.get("rib"):
        found = fills.parse_ground(cur, ctx, depth)
        if found is not None:
            return found
        cur.at = at
    if handlers is not None:
        for handler in handlers:
            found = handler(cur, ctx, depth)
            if found is not None:
                return found
            cur.at = at
    if t.kind == "s" and t.low not in stitches.HEADS:
        return _TABLE_KEYS.get(t.key, parse_named)(cur, ctx, depth)
    if t.kind == "n" or t.value is not None:
        for handler in _NUMBER_FIRST:
            found = handler(cur, ctx, depth)
            if found is not None:
                return found
            cur.at = at
    if t.kind == "w" and (found := _edge_stitch(cur)) is not None:
        return found
    return None


def _repeat_bracket(cur: Cursor, ctx: Context, depth: int) -> Steps | None:
    """repeat-bracket := ("repeat" | "work") bracket (times | place): "Repeat (k2tog, k7) three times"."""
    here = cur.at
    cur.next()
    if cur.peek().low not in {"(", "["}:
        cur.at = here
        return None
    found = groups.parse_bracket(cur, ctx, depth)
    if found is None or len(found) != 1 or not isinstance(found[0], Repeat):
        cur.at = here
        return None
    return (replace(found[0], span=cur.span_from(here)),)


def _needle_label(cur: Cursor, ctx: Context, depth: int) -> Steps | None:
    """needle-label := ("needle" | "ndl" | "needles") number (("and" | "&") number)* ":"."""
    del ctx, depth
    here = cur.at
    cur.take("on")
    cur.take("the")
    if cur.peek().kind == "o":
        cur.next()
        if cur.take("needle", "needles", "ndl") is None:
            cur.at = here
            return None
        if cur.take(":", "-", ",") is None and cur.peek().low not in {"k", "knit", "purl", "p", "work"}:
            cur.at = here
            return None
    else:
        if cur.take("needle", "needles", "ndl", "n") is None or cur.peek().kind != "n":
            cur.at = here
            return None
        while cur.peek().kind == "n" or cur.peek().low in {"&", "and", ","}:
            cur.next()
        if cur.take(":", "-") is None:
            cur.at = here
            return None
    cur.kept["needle"] = True
    words = "".join(("" if t.glued else " ") + t.text for t in cur.tokens[here : cur.at]).strip()
    return (Note(words=words, span=cur.span_from(here)),)


def _edge_stitch(cur: Cursor) -> Steps | None:
    """As in "selvedge st", "edge st", "border sts": worked as established"""
    if cur.pad[cur.at].low in {"selvedge", "selvage", "edge", "border"}:
        here = cur.at
        if cur.any_phrase("selvedge|selvage|edge|border st|stitch"):
            return (InPattern(count=ONE, span=cur.span_from(here)),)
    return None


def _stated(cur: Cursor, ctx: Context, depth: int) -> Steps | None:
    del depth
    found = parse_stated(cur, ctx)
    return None if found is None else (found,)


# --- what follows a step ---------------------------------------------------------------------------


def _multiplied(cur: Cursor, ctx: Context, start: int, found: Steps) -> Steps:
    """As in "k2tog twice", "yo 3 times", "knit 2 together four times"."""
    if (
        isinstance(found[-1], (Repeat, Stated))
        and found[-1].span.end == cur.pad[cur.at - 1].end
        and len(found) == 1
    ):
        if isinstance(found[0], Stated):
            return found
    times = parse_times(cur, ctx)
    if times is None:
        return found
    span = cur.span_from(start)
    one = found[0]
    number, said = times
    if len(found) == 1 and isinstance(one, Work) and one.count.values == (1,) and said is not Said.MORE:
        return (replace(one, count=number, span=span),)
    return (Repeat(body=found, times=number, said=said, mark="", span=span),)


def _late_times(cur: Cursor, ctx: Context, start: int, found: Steps) -> Steps:
    """As in "yo, twice, k7": the times stand after a comma"""
    at = cur.at
    cur.at += 1
    t = cur.pad[cur.at]
    if t.low in {"twice", "thrice"} or cur.pad[cur.at + 1].low == "times":
        out = _multiplied(cur, ctx, start, found)
        if out is not found:
            return out
    cur.at = at
    return found


def _pairs(found: Steps) -> bool:
    """Whether a step is half of a pair worked over and over: knit and purl, a hole and its decrease."""
    one = found[0]
    if len(found) != 1 or not isinstance(one, Work) or one.own:
        return False
    return one.stitch in {"k", "p"} or (one.stitch == "yo" and one.count.values == (1,))


def _is_pair(one: Step, other: Step) -> bool:
    if not isinstance(one, Work) or not isinstance(other, Work) or other.own:
        return False
    if one.stitch != "yo":
        return {one.stitch, other.stitch} == {"k", "p"}
    stitch = dictionary().find(other.stitch)
    return stitch is not None and stitch.family is Family.DECREASE


def _times_near(cur: Cursor) -> bool:
    """Whether the next step after a comma is worked so many "times"."""
    for t in cur.pad[cur.at + 1 : cur.at + 7]:
        if t.low in {"(", "["} and t.kind:
            at = cur.tokens.index(t, cur.at)
            return cur.pad[at + 1].kind == "n" and cur.pad[at + 2].low in {"x", "times"}
        if t.low in _ENDS or not t.kind:
            return False
        if t.low in {"times", "twice", "thrice"}:
            return True
    return False


def _joined(cur: Cursor, ctx: Context, start: int, found: Steps, depth: int) -> Steps:
    """Joined := one ("and" | ",") one (","? times)?

    "make 1 and knit 2 together 3 times", "k1, p1 3 times": both are repeated, or only the second; the printed
    counts choose. A comma makes the second alone the likelier, but for a hole and its decrease.
    """
    at = cur.at
    comma = cur.pad[at].low == ","
    cur.at += 1
    second_at = cur.at
    t = cur.pad[second_at]
    if t.low in _STOPS or not t.kind or t.low in _SINGLES:
        cur.at = at
        return found
    second = single_step(cur, ctx, depth)
    if second is None or (comma and (len(second) > 1 or not _is_pair(found[0], second[0]))):
        cur.at = at
        return found
    before = cur.at
    if cur.pad[before].low == "," and not comma:
        cur.at += 1
    t = cur.pad[cur.at]
    may = t.kind == "n" or t.low in _TIMES or t.value is not None or t.low in {"(", "["}
    times = parse_times(cur, ctx) if may else None
    if times is None:
        cur.at = at if comma else before
        return found if comma else found + second
    span = cur.span_from(start)
    number, said = times
    both = (Repeat(body=found + second, times=number, said=said, mark="", span=span),)
    late = cur.span_from(second_at)
    if len(second) == 1 and isinstance(second[0], Work) and second[0].count.values == (1,):
        last: Steps = (replace(second[0], count=number, span=late),)
    else:
        last = (Repeat(body=second, times=number, said=said, mark="", span=late),)
    ways = ("both worked so often", "only the second worked so often")
    if comma and not (isinstance(found[0], Work) and found[0].stitch == "yo"):
        return (Choice(readings=(found + last, both), ways=ways[::-1], span=span),)
    return (Choice(readings=(both, found + last), ways=ways, span=span),)


def _all_into(cur: Cursor, ctx: Context, start: int, found: Steps, depth: int) -> Steps:
    """As in "k1, p1, k1 all into next st", "knit, purl and knit into next st": single stitches, one after
    another, into one.
    """
    at = cur.at
    body = list(once_each(found))
    if not _single(tuple(body)):
        return found
    for _ in range(12):
        if cur.pad[cur.at].low in {"in", "into", "all", "both"}:
            tail = into_tail(cur, ctx)
            if tail is None:
                break
            if len(body) == 1:
                break
            return (Into(steps=tuple(body), count=tail[0], over=tail[1], span=cur.span_from(start)),)
        if cur.pad[cur.at].low not in {",", "and", "&"}:
            break
        while cur.pad[cur.at].low in {",", "and", "&", "then"}:
            cur.at += 1
        if cur.pad[cur.at].low not in _SINGLE_WORDS:
            break
        before = cur.at
        more = single_step(cur, ctx, depth)
        more = once_each(more) if more is not None else None
        if more is None or not _single(more):
            break
        body += more
        said = {t.low for t in cur.tokens[before : cur.at]}
        if said & {"in", "into"} and said & {"next", "same", "one"} and "back" not in said:
            # "k1, yo, k1 into next st"
            return (Into(steps=tuple(body), count=ONE, span=cur.span_from(start)),)
    cur.at = at
    return found


def _single(found: Steps) -> bool:
    one = found[0]
    return (
        len(found) == 1 and isinstance(one, Work) and one.count.values == (1,) and one.stitch in _SINGLE_KEYS
    )


# --- many steps --------------------------------------------------------------------------------------


def parse_steps(
    cur: Cursor, ctx: Context, *, closers: frozenset[str] = _NO_CLOSERS, depth: int = 0
) -> tuple[Step, ...]:
    """Steps := (sep* step)*

    As many as stand here, with commas, semicolons, full stops, "and" and "then" between them; it stops at a
    closer, or before the first words that are no step. "k4, p2; k2tog and turn."
    """
    out: list[Step] = []
    pad = cur.pad
    while True:
        at = cur.at
        low = pad[at].low
        while low in _BETWEEN and low not in closers and pad[cur.at].kind:
            cur.at += 1
            low = pad[cur.at].low
        if low in closers or not pad[cur.at].kind:
            return tuple(out)
        if low == "(" and out and take_aside(cur, out, strict=True):  # type: ignore[arg-type]
            continue
        found = parse_step(cur, ctx, depth)
        if found is None:
            cur.at = at if out else cur.at
            return tuple(out)
        out += found


def read_on(cur: Cursor, ctx: Context, closers: frozenset[str], depth: int) -> Steps:
    """Read to a closer or the end, leaving out what cannot be read, with one finding for each stretch."""
    out: list[Step] = []
    while not cur.done:
        out += parse_steps(cur, ctx, closers=closers, depth=depth)
        while cur.pad[cur.at].low in _BETWEEN and cur.pad[cur.at].low not in closers and not cur.done:
            cur.at += 1
        if cur.at >= len(cur.tokens) or cur.pad[cur.at].low in closers:
            break
        out.append(skip_unread(cur, ctx, closers))
    return tuple(out)


def skip_unread(cur: Cursor, ctx: Context, closers: frozenset[str] = _NO_CLOSERS) -> Unread:
    """Take the words up to the next comma, semicolon, full stop or bracket, and report them."""
    here = cur.at
    pad = cur.pad
    cur.at += 1
    while not cur.done:
        t = pad[cur.at]
        if t.low in closers or t.low in {",", ";", ")", "]", "(", "[", "*", "**"}:
            break
        if t.low == "." and not (t.glued and pad[cur.at + 1].glued):
            break
        cur.at += 1
    span = cur.span_from(here)
    words = "".join(("" if t.glued else " ") + t.text for t in cur.tokens[here : cur.at]).strip()
    tries = cur.kept["nearest"] = cur.kept.get("nearest", 0) + 1
    nearest = _nearest(cur.tokens[here : cur.at]) if tries <= _MOST_OFFERS else ""
    ctx.findings.report(NotRead(words, nearest=nearest), span)
    return Unread(words=words, span=span)


def _nearest(tokens: list[Token]) -> str:
    """The one abbreviation that is a slip of the pen away from the words, or nothing."""
    joined = "".join(t.low for t in tokens)
    if not 2 <= len(joined) <= 12:
        return ""
    from purlwright.stitches.load import dictionary

    near = dictionary().nearest(joined)
    return str(near) if isinstance(near, str) else ""


def is_knitting_word(t: Token) -> bool:
    """True for a word that begins a step by itself; "the", "in", "with" and their like only do so with
    others.
    """
    return t.kind == "s" or (t.low in _TABLE and t.low not in _PLAIN_WORDS and t.kind == "w")


from purlwright.pattern.read import (  # noqa: E402 - they read steps within steps
    borders,
    crossings,
    edgings,
    fills,
    groups,
    moves,
    overs,
    references,
    shapings,
    slipped,
    slips,
    stars,
    stitches,
    turns,
    wholes,
    wraps,
)
from purlwright.pattern.read.counts import parse_stated  # noqa: E402
from purlwright.pattern.read.customs import take_aside  # noqa: E402
from purlwright.pattern.read.edgejoin import parse_hem  # noqa: E402
from purlwright.pattern.read.oldsteps import before_each  # noqa: E402
from purlwright.pattern.read.stitches import parse_named, parse_own  # noqa: E402
from purlwright.pattern.tree import InPattern  # noqa: E402

_BETWEEN = SEPARATORS | FILLERS
_STOPS = REPEATS | {"so", "then", "turn", "on", "work", "in"}
_RIBBED = frozenset("k p k1 p1 knit purl".split())
_SINGLES = frozenset({"join"})
_SINGLE_WORDS = frozenset("k p k1 p1 knit purl yo yfwd yrn yon over pearl seam yarn wool ktbl k1tbl".split())
_SINGLE_KEYS = frozenset({"k", "p", "yo", "k tbl", "p tbl"})
_NUMBER_FIRST: tuple[Handler, ...] = (
    crossings.parse_sized_cross,
    stitches.parse_number_first,
    groups.parse_times_first,
    _stated,
)


def _perhaps_twist(cur: Cursor, ctx: Context, depth: int) -> Steps | None:
    """A twist said in words is longer than the stitch it begins with, so it is tried first if the line may
    hold one.
    """
    if "twist" not in cur.kept:
        return None
    return crossings.parse_twist(cur, ctx, depth)


def _gather() -> dict[str, tuple[Handler, ...]]:
    """All that may begin with a word, in the order in which it is tried."""
    table: dict[str, tuple[Handler, ...]] = {}
    for words in (
        borders.WORDS,
        overs.WORDS,
        turns.WORDS,
        wraps.WORDS,
        moves.WORDS,
        edgings.WORDS,
        crossings.WORDS,
        slips.WORDS,
        shapings.WORDS,
        fills.WORDS,
        stitches.WORDS,
        references.WORDS,
        groups.WORDS,
        stars.WORDS,
    ):
        for word, handlers in words.items():
            table[word] = table.get(word, ()) + handlers
    # these are met most often and are tried at once
    for word in ("k", "p", "knit", "purl"):
        table[word] = (stitches.parse_counted, *(h for h in table[word] if h is not stitches.parse_counted))
    for word in ("yo", "over", "m1"):
        table[word] = overs.WORDS[word]
    for word in (
        "needle",
        "needles",
        "ndl",
        "n",
        "on",
        "1st",
        "2nd",
        "3rd",
        "4th",
        "first",
        "second",
        "third",
        "fourth",
    ):
        table[word] = (_needle_label, *table.get(word, ()))
    for word in ("k2tog", "k", "knit", "p2tog", "p", "purl"):
        table[word] = (_perhaps_twist, *table.get(word, ()))
    for word in ("k", "p", "knit", "purl", "k2tog", "ssk"):
        table[word] = (parse_hem, *table.get(word, ()))
    for word, handlers in slipped.WORDS.items():
        table[word] = (*handlers, *table.get(word, ()))
    for word in ("k", "p", "knit", "purl", "lift", "pick", "work"):
        table[word] = (wraps.parse_wrapped, *table.get(word, ()))
    for word in ("repeat", "rep", "work"):
        table[word] = (_repeat_bracket, *table.get(word, ()))
    table["slide"] = (moves.parse_hold, *table["slide"])  # "slide the last 14 sts onto a holder"
    for mark in ("-", "="):
        table[mark] = (_stated,)
    return table


_TABLE = _gather()
_SLIP: Handler = slips.parse_slip
_OVER: Handler = overs.parse_over
_TABLE_KEYS: dict[str, Handler] = dict.fromkeys(
    ("sl", "sl kwise", "sl pwise", "sl wyif", "sl wyib", "sl kwise wyif", "sl kwise wyib"), _SLIP
) | dict.fromkeys(("yo", "yo twice"), _OVER)
