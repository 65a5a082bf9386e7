"""Counts that the designer printed: totals, changes, parts.

In: a cursor after a sentence. Out: a ``Stated``. Whether it is true is left to ``proof``.
"""

from __future__ import annotations

from typing import Literal

from purlwright.pattern.read.amounts import ROW_WORDS
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.places import STITCH_WORDS
from purlwright.pattern.read.problems import SizeListLength
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Number, Stated
from purlwright.text import Span

__all__ = ["parse_count_before", "parse_stated"]

_CLOSES = {"(": ")", "[": "]", "{": "}"}
_STARTS = {
    "(",
    "[",
    "-",
    "=",
    "you",
    "there",
    "leaving",
    "total",
    "giving",
    "yields",
    "yielding",
    "making",
    "makes",
    "this",
    "these",
    "now",
    "should",
    "about",
    "approx",
    "and",
    "for",
    "having",
    "will",
    "~",
    ":",
    "st",
    "sts",
    "stitches",
    "stitch",
    "end",
    "count",
}
_REM = (
    "rem|remain|remains|remaining|left",
    "are|is left|remaining",
    "in all|total",
    "altogether",
    "total",
    "live",
)
_ABOUT = ("about", "approximately", "approx .?", "~", "around", "roughly", "some")
_WHICH = frozenset(
    "gusset thumb sleeve body yoke heel instep front back crown edging chain slipped steek foot"
    " sole neck hood"
    " shoulder underarm".split()
)
_UP = frozenset("inc increased inc'd incd increase increases added made more incs".split())
_DOWN = frozenset("dec decreased dec'd decd decrease decreases lost fewer less decs".split())
_WHERE = (
    "on the? working needle|needles",
    "on the? needle|needles for the? left|right|first|second? front|back|sleeve|shoulder|side|neck",
    "on the? needle|needles|hook",
    "on your needle|needles",
    "on each needle",
    "on needle|needles",
    "in all",
    "in total",
    "each side of the? centre|center|marker|middle|m|neck st|stitch|sts?",
    "each side",
    "each needle",
    "each for the? front|fronts|back|sleeve and the? back|front|sleeve",
    "on the? left|right hand? needle",
    "in the? round|rnd|row",
    "for the? back|front|body|sleeve|heel|foot|thumb|crown|yoke",
    "for each sleeve|front|side|shoulder",
    "on your needle|needles",
    "for each size",
    "each",
    "altogether",
    "total",
    "on each side",
    "along|down|up|on|at each|either|both edge|edges|side|sides|selvedge|selvedges of? the? heel? flap|heel?",
    "at the? end",
    "on your? holder",
    "all round",
    "on the? needle|needles|pin|pins all round",
    "on the? pin|pins",
    "on the? two|three|four|2|3|4 needles|pins",
    "on each pin",
)


def parse_stated(cur: Cursor, ctx: Context) -> Stated | None:
    """Stated := open? "="? number "sts"? "rem"? close | sentence

    "(24 sts)", "[24]", ". 24 (26) sts.", "-24 sts rem", "[8 + 8 + 8 = 24]", "you should now have 24 sts"
    """
    t = cur.pad[cur.at]
    if t.kind != "n" and t.low not in _STARTS and (t.value is None or t.kind != "w"):
        return None
    here = cur.at
    if t.low in _CLOSES and here and cur.tokens[here - 1].kind == "n" and _is_size_list(cur):
        return None
    if t.low in _CLOSES:
        out = _bracketed(cur, ctx, here)
    elif t.kind == "n" or (t.kind == "w" and t.value is not None):
        out = _plain(cur, ctx, here)
    elif t.low in {"-", "=", ":"}:
        while cur.take("-", "=", ":", ">"):
            pass
        inner = parse_stated(cur, ctx) if cur.peek().low in {"(", "["} else _plain(cur, ctx, here, loose=True)
        out = inner or (_sentence(cur, ctx, here) if t.low == "-" else None)
    else:
        out = _sentence(cur, ctx, here) or (
            _again(cur, ctx, here) if t.low in {"about", "approx", "~"} else None
        )
    if out is None:
        cur.at = here
    return out


_BEFORE_WORK = frozenset(
    "work knit purl k p cont continue bind cast bo co rib keep proceed begin start rep repeat".split()
)


def parse_count_before(cur: Cursor, ctx: Context) -> tuple[Stated, ...] | None:
    """Count-before := ("with" | "rem") number "sts" ","? before the verb of an order.

    "With 60 (66-70) sts. work even until ...", "Rem. 24 sts. bind off": what is on the needle by then
    """
    here = cur.at
    if cur.take("with", "rem", "remaining", "on") is None:
        return None
    cur.take(".") if cur.peek().glued else None
    cur.take("the", "these", "rem", "remaining")
    n = parse_number(cur, ctx) if cur.peek().kind == "n" else None
    if n is None or not cur.take(*STITCH_WORDS):
        cur.at = here
        return None
    cur.take(".") if cur.peek().low == "." and cur.peek().glued else None
    cur.any_phrase("on the? needle|needles", "left|rem|remaining")
    span = cur.span_from(here)
    cur.take(",")
    if cur.peek().low not in _BEFORE_WORK or cur.tokens[here].low == "on":
        cur.at = here
        return None
    return (Stated(total=n, span=span),)


def _is_size_list(cur: Cursor) -> bool:
    """Whether a bracket holds the other sizes of the number before it: "13 (15) sts"."""
    n = 1
    while cur.peek(n).kind == "n" or cur.peek(n).low == ",":
        n += 1
    return n > 1 and cur.peek(n).low == _CLOSES[cur.peek().low] and cur.peek(n + 1).low in STITCH_WORDS


def _again(cur: Cursor, ctx: Context, here: int) -> Stated | None:
    """As in "about 40 sts"."""
    cur.at = here
    return _plain(cur, ctx, here)


def _bracketed(cur: Cursor, ctx: Context, here: int) -> Stated | None:
    close = _CLOSES[cur.next().low]
    cur.take("=", "-", ":")
    cur.any_phrase(
        "you should? now? have",
        "there are|is now?",
        "total of?",
        "now",
        "for a? total of",
        "leaving|yields|yielding",
        "makes",
    )
    cur.take(":", "=")
    cur.any_phrase("st|sts|stitch|stitches count|total?", "stitch count", "st|sts")
    cur.take(":", "=")
    out = _count(cur, ctx, bare=True)
    if out is None:
        return None
    out = _with_change(cur, ctx, out)
    if cur.take(close) is None:
        return None
    if cur.peek().low in STITCH_WORDS:
        cur.next()
        _dot(cur)
        cur.any_phrase(*_REM)
    after = cur.peek()
    if (
        out.kind == "total"
        and not out.parts
        and (
            after.low in {"times", "x", "time", "in", "into", "more"}
            or (after.value is not None and after.low in {"twice", "once"})
        )
    ):
        return None
    return _spanned(out, cur, here)


def _with_change(cur: Cursor, ctx: Context, out: Stated) -> Stated:
    """As in "(24 sts, 2 sts dec'd)", "(4 sts increased - 28 sts)": a total and a change together."""
    at = cur.at
    if cur.take(",", "-", ";", "=", "/", ":") is not None:
        more = _count(cur, ctx, bare=True)
        if more is not None and {out.kind, more.kind} == {"total", "change"}:
            total, change = (out, more) if out.kind == "total" else (more, out)
            return Stated(total=total.total, change=change.change, parts=total.parts)
        if more is not None and more.between is not None and more.total is None and out.kind == "total":
            return Stated(total=out.total, between=more.between)
    cur.at = at
    return out


def _spanned(out: Stated, cur: Cursor, here: int) -> Stated:
    return Stated(
        total=out.total,
        change=out.change,
        kind=out.kind,
        parts=out.parts,
        approximate=out.approximate,
        between=out.between,
        span=cur.span_from(here),
    )


def _ends(cur: Cursor) -> bool:
    """A count that stands alone must end its sentence."""
    t = cur.peek()
    return (
        not t.kind or t.low in {".", ";", ")", "]", ",", "(", "[", "-", ":", "*", ">"} or t.text[:1].isupper()
    )


def _plain(cur: Cursor, ctx: Context, here: int, *, loose: bool = False) -> Stated | None:
    """As in "24 sts.", "24[30] sts rem", "12 sts each side"."""
    at = cur.at
    out = _count(cur, ctx, bare=loose)
    if out is None:
        return None
    words = {t.low for t in cur.tokens[at : cur.at]}
    if not loose and not (words & STITCH_WORDS or _sizes_in(out) > 1 or out.parts or out.kind == "rows"):
        return None
    return _spanned(out, cur, here) if _ends(cur) else None


def _sizes_in(stated: Stated) -> int:
    number = stated.total or stated.change or stated.between
    return len(number.values) if number is not None else 0


def _count(cur: Cursor, ctx: Context, *, bare: bool) -> Stated | None:
    """Count := about? number ("+" number)* "="? number? stitches? remain? where? change?"""
    about = cur.any_phrase(*_ABOUT) is not None
    first = parse_number(cur, ctx)
    if first is None:
        first = _listed(cur, ctx)
        if first is None:
            return None
    parts = [first]
    while cur.take("+", "and") if cur.peek(1).kind == "n" else None:
        n = parse_number(cur, ctx)
        if n is None:
            return None
        parts.append(n)
    total: Number | None = first
    if len(parts) > 1:
        total = parse_number(cur, ctx) if cur.take("=") else None
        if total is None:
            total = _sum(parts)
    if cur.peek().low in _WHICH and cur.peek(1).low in STITCH_WORDS:
        cur.next()  # "2 gusset sts inc'd"
    sts = cur.peek().low in STITCH_WORDS
    if sts:
        cur.next()
        _dot(cur)
    return _after_count(cur, ctx, total, parts, about=about, sts=sts, bare=bare)


def _listed(cur: Cursor, ctx: Context) -> Number | None:
    """Sizes with no number before the bracket, inside a bracket: "(24, 26, 28 sts)" is read as one list."""
    del cur, ctx
    return None


def _dot(cur: Cursor) -> None:
    if cur.peek().low == "." and cur.peek().glued:
        one = cur.peek(1)
        if (one.kind in {"w", "s"} and one.text[0].islower()) or one.low in {")", "]", ","}:
            cur.next()


def _sum(parts: list[Number]) -> Number | None:
    size = max(len(p.values) for p in parts)
    sums: list[int] = []
    for i in range(size):
        each = [p.at(i) for p in parts]
        if any(v is None for v in each):
            return None
        sums.append(sum(v for v in each if v is not None))
    return Number(values=tuple(sums))


Kind = Literal["total", "change", "unworked", "part", "bound off", "held"]
_WORKED = (
    "have|has|are been? worked|completed|done|knitted|knit in|altogether? all|total?",
    "worked|done|completed|knitted",
    "in all|total", "altogether", "total",
)  # fmt: skip


def _after_count(
    cur: Cursor,
    ctx: Context,
    total: Number | None,
    parts: list[Number],
    *,
    about: bool,
    sts: bool,
    bare: bool,
) -> Stated | None:
    """What stands after the number says what it counts."""
    first = parts[0]
    if bare and not sts and cur.take(","):
        # "(24, 26, 28 sts)", "(24, 26)": one a size with no bracket of their own
        values = list(first.values)
        while True:
            n = parse_number(cur, ctx)
            if n is None:
                return None
            values += n.values
            if not cur.take(","):
                break
        if len(values) != max(1, len(ctx.sizes)):
            span = Span(first.span.start, cur.pad[cur.at - 1].end)
            ctx.findings.report(SizeListLength(len(values), max(1, len(ctx.sizes))), span)
        total = Number(values=tuple(values), span=Span(first.span.start, cur.pad[cur.at - 1].end))
        parts = [total]
        if cur.peek().low in STITCH_WORDS:
            cur.next()
            _dot(cur)
    if not sts and cur.peek().low in ROW_WORDS and cur.peek(1).kind != "n":
        cur.next()
        cur.any_phrase(*_WORKED)
        return Stated(total=total, kind="rows", approximate=about)
    kind: Kind = "total"
    change: Number | None = None
    cur.any_phrase("will|should|must|ought now? to? be found|left|remaining")
    cur.any_phrase(*_REM[:2]) if cur.peek(1).low in {"unworked", "on"} else None
    low = cur.peek().low
    if low in _UP or low in _DOWN:
        cur.next()
        _dot(cur)
        cur.any_phrase(
            "in all",
            "total",
            "each side",
            "evenly",
            "between the? markers|ms",
            "in each gusset|section|panel|sleeve",
            "on each side|needle",
            "per rnd|round|row|needle",
            "this|each rnd|round|row",
        )
        n = total or first
        down = low in _DOWN
        change = Number(values=tuple(-v if down and v is not None else v for v in n.values), span=n.span)
        return Stated(change=change, kind="change", approximate=about)
    if cur.any_phrase("unworked", "left unworked", "are|is unworked", "not worked"):
        return Stated(total=total, kind="unworked", approximate=about)
    if cur.any_phrase("bound off", "cast off", "bo", "off"):
        return Stated(total=total, kind="bound off", approximate=about)
    if cur.any_phrase(
        "on|held on? a? holder|hold", "on a|the? stitch|st -? holder", "held", "on the? holder", "on hold"
    ):
        return Stated(total=total, kind="held", approximate=about)
    cur.any_phrase(*_REM)
    _dot(cur)
    if _on_numbered(cur):
        return Stated(total=total, kind="part", parts=(first,), approximate=about)
    if cur.any_phrase("between the? two|2? gusset|thumb? markers|m's|ms"):
        return Stated(between=total, approximate=about)
    if cur.peek().low in {"in", "after", "on"} and cur.peek(1).low in ROW_WORDS and cur.peek(2).kind == "n":
        cur.at += 3  # "8 sts in row 5", after rows that are worked again
    where = cur.any_phrase(*_WHERE)
    cur.any_phrase(*_REM)
    if where and ("each" in where):
        kind = "part"
        here_again = cur.at
        if cur.take(",", ";", "-", "=", "for", "making") and cur.any_phrase("making|for? a? total? of?"):
            pass
        more = parse_number(cur, ctx) if cur.peek().kind == "n" else None
        if more is not None:
            if cur.peek().low in STITCH_WORDS:
                cur.next()
                _dot(cur)
            cur.any_phrase("in all", "in total", "total", "altogether", "on the? needles")
            return Stated(total=more, parts=_each_part(first, more) or tuple(parts), approximate=about)
        cur.at = here_again
        return Stated(total=total, kind=kind, parts=(first,), approximate=about)
    if where and ("sleeve" in where or "front" in where or "back" in where or "side" in where):
        return Stated(total=total, kind="part", parts=(first,), approximate=about)
    return Stated(total=total, parts=tuple(parts) if len(parts) > 1 else (), approximate=about)


def _each_part(one: Number, total: Number) -> tuple[Number, ...]:
    """The parts that are all alike: "33 sts on each needle for a total of 99" has three."""
    ratios = {(b or 0) / a if a else 0 for a, b in zip(one.values, total.values, strict=False)}
    times = ratios.pop() if len(ratios) == 1 and len(one.values) == len(total.values) else 0
    return (one,) * int(times) if times == int(times) and 1 < times <= _MOST_NEEDLES else ()


_MOST_NEEDLES = 12


def _on_numbered(cur: Cursor) -> bool:
    """ON-NUMBERED: "each"? "on" "Needles" NUMBER ("and" NUMBER)*: what lies on some of the needles; taken."""
    here = cur.at
    cur.take("each")
    if cur.any_phrase("on needle|needles|ndl|ndls") is None or cur.peek().kind != "n":
        cur.at = here
        return False
    while cur.peek().kind == "n":
        cur.at += 1
        if (
            cur.peek().low in {"and", "&", ","}
            and cur.peek(1).kind == "n"
            and cur.peek(2).low not in {*STITCH_WORDS, "(", "["}
        ):
            cur.at += 1
    return True


def _sentence(cur: Cursor, ctx: Context, here: int) -> Stated | None:
    """As in "you should now have 24 sts", "there are 24 on the needle", "leaving 24 sts", "total 24
    sts".
    """
    held: Kind | None = None
    cur.take("and", "-", "now", ",", "so", "for")
    if not cur.any_phrase(
        "you should|will|must? now? have",
        "you now have",
        "there should|will|must? now? be|are|is|remain",
        "leaving",
        "there are|is now? only?",
        "this|these|which|it|that will|should? leave|leaves|give|gives|make|makes you? with?",
        "giving|making|having you?",
        "yields|yielding",
        "a? total of?",
        "total :?",
        "st|sts|stitch count",
        "there ought now? to now? be",
        "you ought now? to now? have",
        "now have",
        "end with",
        "stitches|sts :|=",
        "there remain|remains",
        "this should|will leave|give|make you?",
        "you will|should be left with",
        "making a? total of?",
        "for a total of",
        "makes",
        "count :",
        "end with",
    ):
        return None
    cur.take(":", "=", "is", "you", "with", "only", "now")
    cur.any_phrase("a? total of", "with")
    out = _count(cur, ctx, bare=True)
    if out is None:
        return None
    if held is None and not _ends(cur) and not cur.any_phrase("and|then|for|which"):
        at = cur.at
        # "24 on the needle", "24 sts on each of 3 needles"
        if not cur.any_phrase("on|for|in|at|to|between"):
            return None
        cur.at = at
        for _ in range(8):
            if _ends(cur):
                break
            cur.next()
    if cur.tokens[cur.at - 1].low in {"and", "then", "for", "which"}:
        cur.at -= 1
    return _spanned(out, cur, here)
