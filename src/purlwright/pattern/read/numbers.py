"""Numbers of stitches, rows and times, and lengths.

In: a cursor at a number. Out: a ``Number`` (one value, or one a size) or a ``Length``.
What is counted is left to the caller.
"""

from __future__ import annotations

from fractions import Fraction

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.problems import (
    BelowNothing,
    NotWhole,
    NumberTooLarge,
    NumberUnknown,
    SizeListLength,
    UnclosedRepeat,
)
from purlwright.pattern.tokens import Cursor, Token
from purlwright.pattern.tree import Length, Number
from purlwright.text import Span

__all__ = ["LARGEST", "ONE", "TWO", "number_of", "parse_length", "parse_number", "parse_ratio"]

LARGEST = 1_000_000
"""No count, repeat or row number may be larger."""

ONE = Number(values=(1,))
TWO = Number(values=(2,))
_CLOSES = {"(": ")", "[": "]"}
_SEPARATORS = {",", ";", "/", "-", ":"}
_COUNTED = {"times", "more", "sts", "st", "stitches", "rows", "rounds", "rnds"}
_NOT_COUNTS = {"once", "twice", "thrice"}
_MAX_LIST = 200
_UNITS = {
    "cm": "cm",
    "cms": "cm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
    "in": "in",
    "ins": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "''": "in",
    "mm": "mm",
    "millimetres": "mm",
    "millimeters": "mm",
    "m": "m",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "yd": "yd",
    "yds": "yd",
    "yard": "yd",
    "yards": "yd",
}
_SPAN_WORDS = {"desired", "required", "wanted", "necessary", "correct"}


def number_of(value: int, span: Span) -> Number:
    """A number that the words imply ("twice", "a stitch")."""
    return Number(values=(value,), span=span)


def parse_number(cur: Cursor, ctx: Context) -> Number | None:
    """Number := digits list? | number word list? | "{" sum "}" | "(" digits ("," digits)+ ")"

    "88 (96, 104, 112)", "90[96, 104]", "90 (96-104)", "twenty-four", "{width - 8}"
    """
    t = cur.pad[cur.at]
    kind = t.kind
    if kind == "n" or (kind == "w" and t.value is not None and t.low not in _NOT_COUNTS):
        value = t.value
        if not isinstance(value, int):
            return None
        cur.at += 1
        if value > LARGEST:
            ctx.findings.report(NumberTooLarge(t.text[:40]), Span(t.start, t.end))
            value = LARGEST
        nxt = cur.pad[cur.at].low
        if kind == "w" and nxt == "(" and _said_again(cur, value, ctx):
            cur.at += 3
            return Number(values=(value,), span=Span(t.start, cur.pad[cur.at - 1].end))
        if nxt == "," and cur.pad[cur.at + 1].low in _CLOSES and len(ctx.sizes) > 2:
            at = cur.at
            cur.at += 1
            rest = _size_list(cur, ctx)  # "cast on 77, (83, 89, 97) sts"
            if rest is not None and len(rest) == len(ctx.sizes) - 1:
                return _sized((value, *rest), Span(t.start, cur.pad[cur.at - 1].end), ctx)
            cur.at = at
        if nxt in _CLOSES and (rest := _size_list(cur, ctx)) is not None:
            span = Span(t.start, cur.pad[cur.at - 1].end)
            return _sized((value, *rest), span, ctx)
        return Number(values=(value,), span=Span(t.start, t.end))
    if kind == "p":
        if t.low == "{":
            return _named(cur, ctx)
        if t.low in _CLOSES:
            here = cur.at
            rest = _size_list(cur, ctx)
            if rest is not None and len(rest) > 1:
                return _sized(rest, Span(t.start, cur.pad[cur.at - 1].end), ctx)
            cur.at = here
        if t.low == "-" and cur.pad[cur.at + 1].low in _CLOSES:
            here = cur.at
            cur.at += 1
            rest = _size_list(cur, ctx)
            if rest is not None and (cur.pad[here + 1].glued or len(rest) + 1 == len(ctx.sizes)):
                return _sized((None, *rest), Span(t.start, cur.pad[cur.at - 1].end), ctx)
            cur.at = here
    return None


def _said_again(cur: Cursor, value: int, ctx: Context) -> bool:
    """Said-again := "(" the same number in digits ")": "four (4) times", "twenty (20) sts"."""
    pad, at = cur.pad, cur.at
    return (
        len(ctx.sizes) != 2
        and pad[at + 1].kind == "n"
        and pad[at + 1].value == value
        and pad[at + 2].low == ")"
        and pad[at + 3].low in _COUNTED
    )


def _sized(values: tuple[int | None, ...], span: Span, ctx: Context) -> Number:
    sizes = max(1, len(ctx.sizes))
    if len(values) != sizes:
        ctx.findings.report(SizeListLength(len(values), sizes), span)
    return Number(values=values, span=span)


def _size_list(cur: Cursor, ctx: Context) -> tuple[int | None, ...] | None:
    """List := "(" (number | "-") ("," (number | "-"))* ")"

    "(96, 104, -)", "[96]", "(96-104)"
    """
    here = cur.at
    pad = cur.pad
    close = _CLOSES[pad[here].low]
    at = here + 1
    values: list[int | None] = []
    want = True
    while len(values) < _MAX_LIST:
        t = pad[at]
        if (
            want
            and isinstance(t.value, int)
            and (t.kind == "n" or (t.kind == "w" and pad[here - 1].kind == "w" and t.low not in _NOT_COUNTS))
        ):
            if t.value > LARGEST:
                ctx.findings.report(NumberTooLarge(t.text[:40]), t.span)
            values.append(min(t.value, LARGEST))
            want = False
        elif t.low == "-" and want and t.kind == "p" and (values or pad[at + 1].low in _SEPARATORS):
            values.append(None)
            want = False
        elif t.kind == "p" and not want and t.low in _SEPARATORS:
            want = True
        elif t.kind == "p" and t.low == close and (not want or len(values) == len(ctx.sizes) - 1 > 0):
            break
        elif len(values) == len(ctx.sizes) - 1 > 0 and _never_closed(cur, pad[here].low, close):
            # "K40 (44, 48, p40 (44, 48)": one value for each size, and the bracket lost
            cur.kept["unclosed"] = True
            ctx.findings.report(UnclosedRepeat(pad[here].low), pad[here].span)
            cur.at = at - want
            return tuple(values)
        else:
            return None
        at += 1
    else:
        return None
    if len(values) == 1 and len(ctx.sizes) != 2:
        # "(24)" after a number is a list of two sizes only in a pattern of two; it may state a total
        after = pad[at + 1]
        if (
            (pad[here].low == "[" and pad[here].glued)
            or (
                pad[here - 1].kind == "n"
                and after.low in {",", ";", "times", "more", "sts", "st", "stitches"}
            )
            or (pad[here - 1].kind == "w" and after.low in {"times", "more"})
        ):
            cur.at = at + 1
            return tuple(values)
        return None
    cur.at = at + 1
    return tuple(values)


def _never_closed(cur: Cursor, opened: str, close: str) -> bool:
    """Whether more brackets of a kind open in the line than close."""
    marks = [t.low for t in cur.tokens]
    return marks.count(opened) > marks.count(close)


def _named(cur: Cursor, ctx: Context) -> Number | None:
    """Named := "{" sum "}"; sum := product (("+" | "-") product)*; product := factor (("x" | "*" | "/")
    factor)*

    "{width - 8}", "{(width - 2) / 2}"
    """
    here = cur.at
    start = cur.next()
    sizes = max(1, len(ctx.sizes))
    try:
        values = _sum(cur, ctx, sizes, 0)
    except ZeroDivisionError:
        values = None
    if values is None or cur.take("}") is None:
        if cur.kept.pop("unnamed", None) is not None:
            while not cur.done and cur.take("}") is None:
                cur.at += 1
            return Number(values=(None,), span=cur.span_from(here), words="?")
        cur.at = here
        return None
    span = Span(start.start, cur.pad[cur.at - 1].end)
    words = " ".join(t.text for t in cur.tokens[here + 1 : cur.at - 1])
    if len(set(values)) == 1:
        values = values[:1]
    out: list[int] = []
    for i, v in enumerate(values):
        if v.denominator != 1:
            size = ctx.sizes[i] if len(values) > 1 and i < len(ctx.sizes) else ""
            ctx.findings.report(NotWhole(words, str(v), size), span)
        out.append(max(0, min(LARGEST, int(v))))
    below = next((i for i, v in enumerate(values) if v < 0), None)
    if below is not None:
        size = ctx.sizes[below] if len(values) > 1 and below < len(ctx.sizes) else ""
        ctx.findings.report(BelowNothing(words, int(values[below]), size), span)
    return Number(values=tuple(out), span=span, words=words)


def _sum(cur: Cursor, ctx: Context, sizes: int, depth: int) -> tuple[Fraction, ...] | None:
    left = _product(cur, ctx, sizes, depth)
    while left is not None and (sign := cur.take("+", "-")) is not None:
        right = _product(cur, ctx, sizes, depth)
        if right is None:
            return None
        left = tuple(a + b if sign.low == "+" else a - b for a, b in zip(left, right, strict=True))
    return left


def _product(cur: Cursor, ctx: Context, sizes: int, depth: int) -> tuple[Fraction, ...] | None:
    left = _factor(cur, ctx, sizes, depth)
    while left is not None and (sign := cur.take("x", "*", "/")) is not None:
        right = _factor(cur, ctx, sizes, depth)
        if right is None:
            return None
        left = tuple(a / b if sign.low == "/" else a * b for a, b in zip(left, right, strict=True))
        if any(abs(v.numerator) > LARGEST**3 or v.denominator > LARGEST**3 for v in left):
            return None
    return left


def _factor(cur: Cursor, ctx: Context, sizes: int, depth: int) -> tuple[Fraction, ...] | None:
    t = cur.peek()
    if t.kind == "n" and t.value is not None:
        cur.next()
        return (Fraction(min(t.value, LARGEST)),) * sizes
    if t.low == "(" and depth < 50:
        cur.next()
        inside = _sum(cur, ctx, sizes, depth + 1)
        return inside if inside is not None and cur.take(")") is not None else None
    if t.kind in {"w", "s"}:
        return _name(cur, ctx, sizes)
    return None


def _name(cur: Cursor, ctx: Context, sizes: int) -> tuple[Fraction, ...] | None:
    """The values of a named number, which may be several words; the longest name that fits."""
    here = cur.at
    best: tuple[int, tuple[int, ...]] | None = None
    words = ""
    for i in range(here, min(here + 6, len(cur.tokens))):
        t = cur.tokens[i]
        if t.kind == "p" and t.low != "_":
            break
        words += t.low if t.glued or not words else " " + t.low
        for name in (words, words.replace(" ", "_"), words.replace(" ", "")):
            if name in ctx.numbers:
                best = (i + 1, ctx.numbers[name])
    if best is None:
        t = cur.next()
        ctx.findings.report(NumberUnknown(t.text), t.span)
        cur.kept["unnamed"] = True
        return None
    cur.at, values = best
    if len(values) == 1:
        return (Fraction(values[0]),) * sizes
    if len(values) != sizes:
        return tuple(Fraction(values[min(i, len(values) - 1)]) for i in range(sizes))
    return tuple(Fraction(v) for v in values)


def parse_ratio(cur: Cursor) -> Fraction | None:
    """One digit number, fractions too, as a measure has it: "15½", "2 1/2"."""
    t = cur.peek()
    if t.value is not None and (t.kind == "n" or (t.kind == "w" and t.low not in _NOT_COUNTS)):
        cur.next()
        part = cur.peek(1).value
        if cur.peek().low == "-" and cur.peek().glued and cur.peek(1).glued and isinstance(part, Fraction):
            if 0 < part < 1:  # "4-1/4 inches"
                cur.at += 2
                return Fraction(min(t.value, LARGEST)) + part
        return Fraction(min(t.value, LARGEST))
    return None


def _is_unit(t: Token) -> str | None:
    return _UNITS.get(t.low)


def parse_length(cur: Cursor, ctx: Context) -> Length | None:
    """Length := ratio list? unit ("less" "than" ...)? | "desired" "length" | "half" "an" "inch"

    "30 (32, 35) cm", '3½"', "7 ins", "desired length", "2 inches less than desired length"
    """
    here = cur.at
    start = cur.peek().start
    if cur.any_phrase(
        "the? desired|required|wanted|correct length",
        "as long as desired|required|wished|wanted",
        "as long as you wish|like|please|want",
        "long enough",
        "length desired|required|wanted",
        "the? length you? desired|required|want",
    ):
        return Length(span=cur.span_from(here), words=_words(cur, here))
    cur.phrase("about|approximately|approx|~")
    cur.take(".")
    values = _length_values(cur, ctx)
    if values is None:
        cur.at = here
        return None
    cur.take("-")
    unit = _is_unit(cur.peek())
    if unit is None:
        cur.at = here
        return None
    cur.next()
    if unit == "in" and cur.peek().low == "." and cur.peek().glued and cur.peek(1).kind in {"w", "p"}:
        # the stop of "in." is no end of sentence if a small letter follows
        if cur.peek(1).text[:1].islower() or cur.peek(1).kind == "p":
            cur.next()
    _second_unit(cur)
    less = False
    if cur.any_phrase("less than", "short of", "shorter than", "before"):
        less = True
        if not cur.any_phrase(
            "the? desired|required|full|total|finished|wanted finished? length",
            "length desired|required",
            "the? desired|required foot|body|sleeve|leg|total|finished length",
            "desired|total|finished length of foot",
        ):
            less = False
            cur.at -= 1
            while cur.at > here and cur.peek().low in {"than", "of", "less", "short", "shorter", "before"}:
                cur.at -= 1
            cur.at += 1
    end = cur.pad[cur.at - 1].end
    return Length(values=values, unit=unit, less=less, span=Span(start, end), words=_words(cur, here))


def _words(cur: Cursor, here: int) -> str:
    return "".join(("" if t.glued else " ") + t.text for t in cur.tokens[here : cur.at]).strip()


def _length_values(cur: Cursor, ctx: Context) -> tuple[Fraction | None, ...] | None:
    """Values := ratio ("(" (ratio | "-") ("," (ratio | "-"))* ")")? | "half" "an" | "one and a half"."""
    here = cur.at
    if cur.any_phrase("half an", "half a", "one - half of? an?", "one half of? an?"):
        return (Fraction(1, 2),)
    if cur.any_phrase("three - quarters|fourths of? an?", "three quarters|fourths of? an?"):
        return (Fraction(3, 4),)
    if cur.phrase("an|a") and _is_unit(cur.peek()):
        return (Fraction(1),)
    cur.at = here
    first = parse_ratio(cur)
    if first is None:
        return None
    if cur.any_phrase("and a|one - half", "and a|one half", "and half"):
        return (first + Fraction(1, 2),)
    if cur.any_phrase("and a|one - quarter|fourth", "and a|one quarter|fourth"):
        return (first + Fraction(1, 4),)
    if cur.any_phrase("and three - quarters|fourths", "and three quarters|fourths"):
        return (first + Fraction(3, 4),)
    at = cur.at
    if cur.take("-", "to") is not None and (last := parse_ratio(cur)) is not None and last > first:
        cur.take("-")
        if _is_unit(cur.peek()) is not None:  # "4-5 inches": the shorter is long enough
            return (first,)
    cur.at = at
    opened = cur.peek()
    here = cur.at
    if opened.low == "," and cur.peek(1).low in _CLOSES and len(ctx.sizes) > 2:
        cur.next()  # "25, (27, 29, 32) cm"
        opened = cur.peek()
    if opened.low not in _CLOSES:
        return (first,)
    cur.next()
    values: list[Fraction | None] = [first]
    while len(values) < _MAX_LIST:
        v = parse_ratio(cur)
        if v is None and cur.take("-") is None:
            cur.at = here
            return (first,)
        values.append(v)
        if cur.take(_CLOSES[opened.low]):
            break
        if cur.take(*_SEPARATORS) is None:
            cur.at = here
            return (first,)
    sizes = max(1, len(ctx.sizes))
    if len(values) != sizes:
        ctx.findings.report(SizeListLength(len(values), sizes), cur.span_from(here - 1))
    return tuple(values)


def _metric_after_inches(cur: Cursor) -> bool:
    """Whether the same length in cm stands next, with nothing between: '9½ (10, 10)" 24 (25, 25) cm'."""
    n = 1
    if cur.peek().kind != "n" or _is_unit(cur.peek(-1)) != "in":
        return False
    if cur.peek(1).low in _CLOSES:
        while n < _MAX_LIST and cur.peek(n).kind and cur.peek(n).low not in {")", "]"}:
            n += 1
        n += 1
    return _is_unit(cur.peek(n)) in {"cm", "mm"}


def _second_unit(cur: Cursor) -> None:
    """The same length in the other unit: "(7.5 cm)", "[46 (48) cm]", "/ 7.5 cm"; taken and let go."""
    here = cur.at
    close = _CLOSES.get(cur.peek().low)
    bare = _metric_after_inches(cur)
    if close is None and cur.peek().low != "/" and not bare:
        return
    cur.next()
    for _ in range(80):
        t = cur.peek()
        if _is_unit(t) is not None and (bare or cur.at > here + 1):
            cur.next()
            if close is None or cur.take(close):
                return
            break
        if t.kind != "n" and t.low not in {"(", ")", "[", "]", ",", "-", "~", "about", "approx", "."}:
            break
        cur.next()
    cur.at = here
