"""Groups in brackets, and words that repeat what follows them: "alternately", "8 times:".

In: a cursor at an opening bracket or such a word. Out: ``Repeat``, ``Into``, a ``Note`` for an aside, or the
steps themselves. Stars stand in ``stars``.
"""

from __future__ import annotations

from purlwright.pattern.read import steps as reader
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.counts import parse_stated
from purlwright.pattern.read.fills import ground_named
from purlwright.pattern.read.numbers import ONE, parse_number
from purlwright.pattern.read.places import PLACE_WORDS, parse_place, take_stitch_word
from purlwright.pattern.read.problems import UnclosedRepeat
from purlwright.pattern.read.stars import (
    DEEPEST,
    ending_told,
    matching,
    rep_phrase,
    said_words,
    star_at,
    too_deep,
)
from purlwright.pattern.read.working import (
    REPEATS,
    Handler,
    Steps,
    into_tail,
    once_each,
    parse_colour,
    parse_times,
)
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import (
    Choice,
    Fill,
    Into,
    Note,
    Number,
    Place,
    PlaceKind,
    Repeat,
    Said,
    Unread,
    Work,
    Yarn,
)

__all__ = ["WORDS", "parse_bracket"]

_CLOSES = {"(": ")", "[": "]", "{": "}"}


def parse_bracket(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Bracket := ("(" | "[" | "{") steps close (times | place | into | "repeat")?

    "(k1, p1) 3 times", "[k3, p1] to last 2 sts", "(k1, yo, k1) in next st", "(24 sts)", "(the heel begins
    here)"
    """
    here = cur.at
    t = cur.pad[here]
    one = cur.pad[here + 1]
    if depth <= 1 and (one.kind in {"n", "w"} or one.low == "="):
        stated = parse_stated(cur, ctx)
        if stated is not None:
            return (stated,)
        cur.at = here
    if t.low == "{":
        number = parse_number(cur, ctx)
        cur.at = here
        if number is not None:
            return None
    if depth >= DEEPEST:
        cur.at = here + 1
        return too_deep(cur, ctx, here)
    if (
        len(one.text) == 1
        and cur.pad[here + 2].low == ")"
        and one.low != "x"
        and (letter := _letter_mark(cur, here))
    ):
        cur.at += 3
        return star_at(cur, ctx, here, letter, depth)
    cur.at += 1
    close_at = matching(cur, t.low)
    close = _CLOSES[t.low]
    if close_at - here == 2 or (close_at - here == 3 and cur.pad[here + 2].kind == "n"):
        colour = parse_colour(cur, ctx)
        if colour is not None and cur.at == close_at:
            cur.at += 1
            return (Yarn(act="use", colour=colour, span=cur.span_from(here)),)
        cur.at = here + 1
    body = reader.parse_steps(cur, ctx, closers=frozenset({close}), depth=depth + 1)
    if cur.at != close_at and cur.pad[cur.at].low != close:
        aside = _aside(cur, here, close_at)
        if aside is not None:
            return (aside,)
        body += reader.read_on(cur, ctx, frozenset({close}), depth + 1)
    if cur.pad[cur.at].low == close:
        cur.at += 1
    elif not cur.kept.get("deep") and not cur.kept.get("unclosed"):
        cur.kept["unclosed"] = True
        ctx.findings.report(UnclosedRepeat(t.low), t.span)
        if depth <= 1 and _counts_at_end(cur):
            # "[K3, p1 6 times.": which stitches are repeated nobody can tell
            return (Unread(words=said_words(cur, here), span=cur.span_from(here)),)
    if not body:
        return (Note(words=said_words(cur, here), span=cur.span_from(here)),)
    if len(body) == 1 and isinstance(body[0], Choice) and cur.pad[cur.at].low != "x":
        # "(make 1 and knit 2 together 3 times)": the bracket says what is repeated
        body = body[0].readings[0] if len(body[0].readings[0]) == 1 else body
    if len(body) == 1 and isinstance(body[0], Work) and here and cur.tokens[here - 1].key == body[0].stitch:
        # "ssk (slip, slip, knit)": an explanation
        return (Note(words=said_words(cur, here), span=cur.span_from(here)),)
    return _after_bracket(cur, ctx, here, body, t.low, depth)


def _counts_at_end(cur: Cursor) -> bool:
    """Whether the words just read end in how often they are worked."""
    last = cur.pad[cur.at - 1].low
    return last in {"times", "twice", "more", "x"} or (
        last == "." and cur.pad[cur.at - 2].low in {"times", "twice"}
    )


def _letter_mark(cur: Cursor, here: int) -> str:
    """The letter of "(a)", if "repeat from (a)" follows in the line."""
    letter = cur.pad[here + 1].low
    tokens = cur.tokens
    for i in range(here + 3, len(tokens) - 2):
        if tokens[i].low == letter and tokens[i - 1].low == "(" and tokens[i - 2].low in {"from", "to", "*"}:
            return letter
    return ""


def _aside(cur: Cursor, here: int, close_at: int) -> Note | None:
    """An aside holds no knitting word; ``None`` if it holds one."""
    stop = min(close_at, len(cur.tokens))
    if close_at >= len(cur.tokens):
        return None
    for i in range(here + 1, stop):
        t = cur.tokens[i]
        if reader.is_knitting_word(t):
            return None
    cur.at = stop + 1
    return Note(words=said_words(cur, here), span=cur.span_from(here))


def _after_bracket(cur: Cursor, ctx: Context, here: int, body: Steps, mark: str, depth: int) -> Steps:
    """What follows a closed bracket says what it is."""
    del depth
    pad = cur.pad
    t = pad[cur.at]
    low = t.low
    cur.kept["body" + mark] = body
    if low in {"in", "into", "all", "both", "to"} and not (
        low == "to" and pad[cur.at + 1].low not in {"same", "one"}
    ):
        in_each = _in_each(cur, ctx, here, body)
        if in_each is not None:
            return in_each
        tail = into_tail(cur, ctx)
        if tail is not None:
            count, over = tail
            body = once_each(body)
            if (
                over == 1
                and len(count.values) == 1
                and (n := count.values[0])
                and n > 1
                and _takes(body) == n
            ):
                one = Number(values=(1,), span=count.span)
                return (Into(steps=body, count=one, over=n, span=cur.span_from(here)),)
            step = Into(steps=body, count=count, over=over, span=cur.span_from(here))
            more = parse_times(cur, ctx)
            if more is not None:
                return (
                    Repeat(body=(step,), times=more[0], said=more[1], mark=mark, span=cur.span_from(here)),
                )
            return (step,)
    if low in {"rib", "ribbing"} and (ribbed := _ribbed(cur, ctx, here, body)) is not None:
        return ribbed
    at = cur.at
    if low in {",", "-", "."}:
        cur.at += 1
        low = pad[cur.at].low
        if low in REPEATS or not (
            low in PLACE_WORDS or low in {"twice", "x"} or pad[cur.at].value is not None
        ):
            cur.at = at
            low = ","
    times = parse_times(cur, ctx)
    if times is not None:
        parse_place(cur, ctx) or cur.any_phrase("across|over|on the? next|remaining|rem|last")
        if cur.pad[cur.at - 1].low in {"next", "remaining", "rem", "last"}:
            parse_number(cur, ctx)
            take_stitch_word(cur)
        return (Repeat(body=body, times=times[0], said=times[1], mark=mark, span=cur.span_from(here)),)
    if low in PLACE_WORDS:
        place = parse_place(cur, ctx)
        if place is not None:
            cut = ending_told(cur, ctx)  # "(k1, p1) across, end k1"
            return (Repeat(body=body, to=place, said=Said.TO, cut=cut, mark=mark, span=cur.span_from(here)),)
    cur.at = at
    rep = rep_phrase(cur, ctx, mark)
    if rep is not None:
        star = rep.said is not Said.OPEN or rep.to is not None
        return (rep.repeat(body, mark, cur.span_from(here), star=star),)
    return body


def _in_each(cur: Cursor, ctx: Context, here: int, body: Steps) -> Steps | None:
    """As in "(k1, p1) in each st", "(knit, yo, knit) into every st to last 2 sts": again in every stitch."""
    at = cur.at
    cur.take("all", "both")
    if not cur.phrase("in|into each|every st|stitch") or cur.peek().low == "of":
        cur.at = at
        return None
    place = parse_place(cur, ctx) if cur.peek().low in PLACE_WORDS else None
    span = cur.span_from(here)
    one = Into(steps=once_each(body), count=ONE, span=span)
    return (Fill(body=(one,), to=place or Place(kind=PlaceKind.END, span=span), span=span),)


def _ribbed(cur: Cursor, ctx: Context, here: int, body: Steps) -> Steps | None:
    """As in "(k1, p1) rib to end", "[k2, p2] ribbing over next 24 sts"."""
    if not all(isinstance(s, Work) and s.stitch in {"k", "p"} for s in body):
        return None
    name = ", ".join(f"{s.stitch}{s.count.values[0]}" for s in body if isinstance(s, Work)) + " rib"
    cur.at += 1
    return ground_named(cur, ctx, here, name)


def _takes(body: Steps) -> int:
    """How many loops the first step of a body takes off, if it works several together."""
    first = body[0]
    if isinstance(first, Work) and "tog" in first.stitch:
        digits = "".join(c for c in first.stitch if c.isdigit())
        return int(digits) if digits else 0
    return 0


def parse_alternately(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Alternately := "alternately" steps

    "Alternately knit 1, throw the cotton forward."
    """
    here = cur.at
    cur.next()
    body = reader.parse_steps(cur, ctx, depth=depth + 1) if depth < DEEPEST else ()
    if not body:
        cur.at = here
        return None
    return (Repeat(body=body, said=Said.OPEN, mark="", span=cur.span_from(here)),)


def parse_times_first(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """times-first := number "times" ":" steps

    "8 times: over, knit 1."
    """
    here = cur.at
    times = parse_times(cur, ctx)
    if times is None or cur.take(":", ",") is None or depth >= DEEPEST:
        cur.at = here
        return None
    body = reader.parse_steps(cur, ctx, depth=depth + 1)
    if not body:
        cur.at = here
        return None
    return (Repeat(body=body, times=times[0], said=times[1], mark="", span=cur.span_from(here)),)


def parse_instead(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Instead := "instead" "of" step: what is replaced by the step before

    "ending with k2 instead of k5"
    """
    here = cur.at
    if not cur.phrase("instead|in of") and not cur.phrase("in place of"):
        return None
    alone = cur.peek().kind == "n" and cur.peek(1).low in {"", ".", ",", ";", ")"}  # "k2 instead of 3"
    if alone:
        cur.at += 1
    elif depth >= DEEPEST or reader.parse_step(cur, ctx, depth + 1) is None:
        cur.at = here
        return None
    return (Note(words=said_words(cur, here), span=cur.span_from(here)),)


_BRACKET = (parse_bracket,)
WORDS: dict[str, tuple[Handler, ...]] = {
    "(": _BRACKET,
    "[": _BRACKET,
    "{": _BRACKET,
    "alternately": (parse_alternately,),
    "instead": (parse_instead,),
}
