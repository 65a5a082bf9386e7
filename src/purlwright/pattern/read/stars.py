"""Stars and other marks that a repeat goes back to, and the words that go back to them.

In: a cursor at a mark, or at "rep from". Out: a starred ``Repeat``.
How often an open repeat goes round is left to ``needles``.
"""

from __future__ import annotations

from typing import NamedTuple

from msgspec.structs import replace

from purlwright.pattern.read import steps as reader
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.places import PLACE_WORDS, parse_place
from purlwright.pattern.read.problems import NestedTooDeep, RepeatFromNothing, TimesNotSaid
from purlwright.pattern.read.working import (
    REPEATS,
    SEPARATORS,
    Handler,
    Steps,
    parse_times,
)
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Number, Place, PlaceKind, Repeat, Said, Unread
from purlwright.text import Span

__all__ = [
    "DEEPEST",
    "WORDS",
    "matching",
    "parse_again",
    "parse_star",
    "rep_phrase",
    "said_words",
    "star_at",
    "too_deep",
]

DEEPEST = 50
"""Brackets and stars within one another; what is deeper is left out with a finding."""

_CLOSES = {"(": ")", "[": "]", "{": "}"}
_ENDINGS = frozenset("end ending ends ended finish finishing except".split())


class Tail(NamedTuple):
    """How often and how far a repeat goes."""

    times: Number | None = None
    said: Said = Said.OPEN
    to: Place | None = None
    cut: bool = False

    def repeat(self, body: Steps, mark: str, span: Span, *, star: bool = False) -> Repeat:
        """``body`` worked so often."""
        return Repeat(
            body=body,
            times=self.times,
            to=self.to,
            said=self.said,
            mark=mark,
            star=star,
            cut=self.cut,
            span=span,
        )


def said_words(cur: Cursor, here: int) -> str:
    """The designer's words from token ``here`` up to the cursor."""
    return "".join(("" if t.glued else " ") + t.text for t in cur.tokens[here : cur.at]).strip()


# --- brackets ------------------------------------------------------------------------------------


def matching(cur: Cursor, opened: str) -> int:
    """Index of the bracket that closes the one just taken; the number of tokens if none does."""
    close = _CLOSES[opened]
    known: dict[int, int] | None = cur.kept.get(opened)
    if known is None:
        known = {}
        stack: list[int] = []
        for i, t in enumerate(cur.tokens):
            if t.low == opened:
                stack.append(i)
            elif t.low == close and stack:
                known[stack.pop()] = i
        cur.kept[opened] = known
    return known.get(cur.at - 1, len(cur.tokens))


def too_deep(cur: Cursor, ctx: Context, here: int) -> Steps:
    """Leave out what stands deeper than fifty marks, with one finding a line."""
    cur.at = matching(cur, cur.tokens[here].low) if cur.tokens[here].low in _CLOSES else len(cur.tokens)
    cur.at = min(cur.at + 1, len(cur.tokens))
    span = cur.span_from(here)
    if not cur.kept.get("deep"):
        cur.kept["deep"] = True
        ctx.findings.report(NestedTooDeep(DEEPEST), span)
    return (Unread(words=said_words(cur, here)[:200], span=span),)


def parse_star(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Star := mark steps (mark | rep-phrase)? tail

    "*k3, p1; rep from * to end", "*k3, p1* k2", "*k2, p2* 4 times", "* k1, yo", "X k3, p2, X all round"
    """
    here = cur.at
    mark = cur.next().low
    if mark == "x" and not any(t.low == "x" for t in cur.tokens[cur.at :]):
        cur.at = here
        return None
    if depth >= DEEPEST:
        return too_deep(cur, ctx, here)
    return star_at(cur, ctx, here, mark, depth)


def _closed_ahead(cur: Cursor, mark: str) -> bool:
    """True when the same mark, or "repeat from", stands further on."""
    tokens = cur.tokens
    for i in range(cur.at, len(tokens)):
        low = tokens[i].low
        if low == mark:
            return True
        if (
            low in REPEATS
            and i + 1 < len(tokens)
            and tokens[i + 1].low in {"from", "between", "to", mark, "fr", "the", "."}
        ):
            return True
    return False


def star_at(cur: Cursor, ctx: Context, here: int, mark: str, depth: int) -> Steps | None:
    """The starred repeat whose mark, already taken, stands at ``here``."""
    pad = cur.pad
    marks = {mark}
    first = cur.at
    body: Steps = ()
    while pad[cur.at].low == mark == "*" and depth < DEEPEST:  # "* *" at the opening stands for "* **"
        at = cur.at
        cur.at += 1
        if any(t.low == "**" for t in cur.tokens[cur.at :]):
            body += star_at(cur, ctx, at, "**", depth + 1) or ()
            if cur.at <= at:  # nothing stands after this second star
                cur.at = at + 1
    closers = frozenset(marks | REPEATS)
    body += reader.parse_steps(cur, ctx, closers=closers, depth=depth + 1)
    closed = _closed_ahead(cur, mark)
    if closed and pad[cur.at].low not in closers:
        body += reader.read_on(cur, ctx, closers, depth + 1)
    if not body:
        if cur.at == first:
            cur.at = here
            return None
    cur.kept["body" + mark] = body
    stop = pad[cur.at]
    if stop.low in marks:
        cur.at += 1
        tail = _pair_tail(cur, ctx, mark)
    elif stop.low in REPEATS:
        found = rep_phrase(cur, ctx, mark)
        tail = found or Tail()
        if found is not None and pad[cur.at].low == mark and not _opens(cur):
            cur.at += 1
            more = _pair_tail(cur, ctx, mark)
            if more.said is not Said.PAIR:
                tail = more
    else:
        tail = _open_tail(cur, ctx)
    if not body:
        cur.at = here
        return None
    inner = body[0]
    if (
        len(body) == 1
        and isinstance(inner, Repeat)
        and tail.said is Said.OPEN
        and not tail.cut
        and not inner.star
        and (inner.to is not None)
    ):
        # "*(k2, p2) around": the star adds nothing to the bracket
        return (replace(inner, span=cur.span_from(here)),)
    return (tail.repeat(body, mark, cur.span_from(here), star=True),)


def _opens(cur: Cursor) -> bool:
    """True when the mark here opens another repeat: something is worked straight after it."""
    nxt = cur.pad[cur.at + 1]
    return reader.is_knitting_word(nxt) or nxt.low in {"(", "["}


def _pair_tail(cur: Cursor, ctx: Context, mark: str) -> Tail:
    """pair-tail := times | place | rep-phrase | "(" rep-phrase ")" | nothing

    "*...* twice", "*...* (repeat between *s to end)", "*...* across", "*...* rep to last 4 sts",
    "*...*, repeat from * to * until 1 st before marker"
    """
    at = cur.at
    if cur.pad[at].low in {"(", "["} and cur.pad[at + 1].low in REPEATS:
        cur.at += 1
        said = rep_phrase(cur, ctx, mark)
        if said is not None and cur.take(")", "]"):
            return said
        cur.at = at
    times = parse_times(cur, ctx)
    if times is None and cur.pad[at].low in {",", ";"}:
        cur.at += 1
        times = parse_times(cur, ctx)
        if times is None:
            cur.at = at
    if times is not None:
        return Tail(
            times[0], times[1] if times[1] is not Said.TIMES else Said.IN_ALL, None, ending_told(cur, ctx)
        )
    if cur.pad[at].low in PLACE_WORDS:
        place = parse_place(cur, ctx)
        if place is not None:
            return Tail(None, Said.TO, place, ending_told(cur, ctx))
    rep = rep_phrase(cur, ctx, mark)
    if rep is not None:
        return rep
    if cur.pad[cur.at].low == "times":
        ctx.findings.report(TimesNotSaid(), cur.next().span)
        return Tail(None, Said.OPEN, None)
    if ending_told(cur, ctx):
        return Tail(None, Said.OPEN, None, True)
    return Tail(None, Said.PAIR)


def _open_tail(cur: Cursor, ctx: Context) -> Tail:
    """A star left open: "* k1, yo", "*(k2, p2), around", "*k2tog. around"."""
    at = cur.at
    while cur.pad[cur.at].low in {",", ";", "-"}:
        cur.at += 1
    times = parse_times(cur, ctx)
    if times is not None:
        return Tail(times[0], times[1] if times[1] is not Said.TIMES else Said.IN_ALL, None)
    if cur.pad[cur.at].low in PLACE_WORDS:
        place = parse_place(cur, ctx)
        if place is not None:
            return Tail(None, Said.TO, place, ending_told(cur, ctx))
    cur.at = at
    return Tail(None, Said.OPEN)


def rep_phrase(cur: Cursor, ctx: Context, mark: str) -> Tail | None:
    """rep-phrase := sep* "and"? "rep" ("from" mark ("to" mark)? | "between" marks | "to" mark?)? (place |
    times | ending)?

    "; rep from * to end", "rep from * 3 times more", "rep between *s", "repeat from * to * to last 3 sts",
    "rep from *, ending k2"
    """
    here = cur.at
    pad = cur.pad
    while pad[cur.at].low in SEPARATORS:
        cur.at += 1
    if pad[cur.at].low not in REPEATS:
        cur.at = here
        return None
    cur.at += 1
    if (
        pad[cur.at].low == "."
        and pad[cur.at].glued
        and pad[cur.at + 1].low in {"from", "to", "between", mark}
    ):
        cur.at += 1
    if pad[cur.at].low in {"row", "rows", "rnd", "rnds", "round", "rounds", "last", "these", "this", "chart"}:
        cur.at = here
        return None
    if pad[cur.at].low in {"across", "around"} and pad[cur.at + 1].low in {"from", "between"}:
        cur.at += 1  # "repeat across from *"
    named = _marks(cur, mark)
    if named is None:
        cur.at = here
        return None
    return _rep_tail(cur, ctx)


def _mark(cur: Cursor, mark: str) -> bool:
    """One mark by its sign or name: "*", "**", "(a)", "[", "star", "asterisk", "X"; an "'s" after it is
    taken.
    """
    at = cur.at
    t = cur.peek()
    if t.low == "(" and len(cur.peek(1).low) == 1 and cur.peek(2).low == ")":
        cur.at += 3
        return True
    if (
        t.low
        in {
            "*",
            "**",
            "***",
            "[",
            "(",
            "star",
            "stars",
            "asterisk",
            "asterisks",
            "x",
            "o",
            "]",
            ")",
            "+",
            "#",
            "°",
            '"',
            "a",
            mark,
        }
        and t.kind != "n"
    ):
        if t.low in {"x", "o", "a"} and t.low != mark and cur.peek(1).kind == "n":
            return False
        cur.next()
        if cur.peek().low in {"s", "'s", "'"} and cur.peek().glued:
            cur.next()
            if cur.peek().low == "s" and cur.peek().glued:
                cur.next()
        return True
    cur.at = at
    return False


def _marks(cur: Cursor, mark: str) -> bool | None:
    """As in "from * to *", "between *s", "between * and *", "*", "* to *", or nothing; ``None`` if "from"
    names something else.
    """
    at = cur.at
    cur.any_phrase("b / t") if cur.peek().low == "b" else None
    lead = cur.take("from", "fr", "frm", "between", "betw", "bet", "to", "the", "instructions", "pattern")
    if lead is not None and lead.low in {"instructions", "pattern"}:
        lead = cur.take("from", "between") or lead
    if lead is not None and lead.low == "to" and not _is_mark(cur):
        cur.at = at  # "rep to end"
        return True
    cur.take("the", "first", "second", "double", "single")
    if lead is not None and lead.low == "from" and cur.phrase("to"):
        return True
    if not _mark(cur, mark):
        if lead is None or lead.low == "the":
            cur.at = at
            return lead is None
        return None
    back = cur.at
    if cur.take("to", "and", "-") is not None:
        cur.take("the", "next", "second")
        if not _is_mark(cur) or not _mark(cur, mark):
            cur.at = back
    return True


def _is_mark(cur: Cursor) -> bool:
    t = cur.peek()
    return t.low in {"*", "**", "***", "]", ")", "star", "asterisk", "x"} or (
        t.low in {"(", "["}
        and (
            (len(cur.peek(1).low) == 1 and cur.peek(2).low == ")")
            or cur.peek(1).low in {"to", "]", ")", "until", "", ".", ",", "across", "around"}
        )
    )


def _rep_tail(cur: Cursor, ctx: Context) -> Tail:
    """Tail := (","? (place | times))* ending?

    "to last 3 sts", "3 times more", "across, ending k2", "to end of row"
    """
    pad = cur.pad
    times: Number | None = None
    said = Said.OPEN
    to: Place | None = None
    for _ in range(3):
        at = cur.at
        if pad[at].low == ",":
            nxt = pad[at + 1]
            if nxt.low not in PLACE_WORDS and nxt.low not in {"twice", "once", "until"}:
                if not (isinstance(nxt.value, int) and pad[at + 2].low in {"times", "more", "x"}):
                    break
            cur.at += 1
        if times is None and cur.any_phrase("on|for|across the? second|2nd|other needle"):
            times, said = Number(values=(1,), span=cur.span_from(at)), Said.MORE
            continue
        cur.take("this", "throughout", "all") if pad[cur.at].low == "throughout" else None
        found = parse_times(cur, ctx, star=True) if times is None else None
        if found is not None:
            times, said = found
            continue
        nearer = to is None or (to.kind is PlaceKind.END and to.before is None and pad[cur.at].low == "to")
        place = parse_place(cur, ctx) if pad[cur.at].low in PLACE_WORDS and nearer else None
        if place is not None:
            to = place
            if times is None:
                said = Said.TO
            continue
        cur.at = at
        break
    return Tail(times, said, to, ending_told(cur, ctx))


def ending_told(cur: Cursor, ctx: Context) -> bool:
    """Ending := ","? ("ending" | "end") ("last" "rep")? ("with" | "on" | "by")?

    ", ending k2", "; end last rep k2", ", ending with k2 instead of k5": what follows is read as steps
    """
    here = cur.at
    pad = cur.pad
    while pad[cur.at].low in {",", ";", ".", "-", "and", "but"}:
        cur.at += 1
    if not cur.phrase("cont . and") and cur.phrase("cont|continue|continuing"):
        cur.take(".")
        cur.take("and")
    if pad[cur.at].low not in _ENDINGS:
        if (
            pad[cur.at].low in {"omit", "omitting", "leaving"}
            and pad[cur.at + 1].low in {"last", "the", "final"}
            and here < cur.at
        ):
            at = cur.at
            cur.any_phrase("omit|omitting|leaving off? the? last|final")
            got = reader.parse_step(cur, ctx, 1)
            if got is not None or cur.any_phrase("yo", "k1"):
                cur.any_phrase("on|in|of the? last|final rep|repeat", "at the? end")
                return True
            cur.at = at
        cur.at = here
        return False
    cur.at += 1
    cur.any_phrase(
        "the? last|final rep|repeat|one|time with|at|on|in|:",
        "the? last|final rep|repeat|one|time",
        "the? row|rnd|round|line",
        "last",
        "rep",
    )
    if cur.take("with", "on", "by", "in", "at", ":", "-", ",") is not None:
        cur.take("a") if cur.peek(1).kind == "s" else None
    t = pad[cur.at]
    if (
        reader.is_knitting_word(t)
        or t.low in {"(", "["}
        or (t.kind == "n" and pad[cur.at + 1].low in {"plain", "k", "p"})
    ):
        if pad[cur.at + 1].low not in {"row", "rnd", "round", "rows"}:
            return True
    cur.at = here
    return False


def parse_again(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Again := rep-phrase after other steps: the starred words once more

    "*k1, p1*, k6, rep between *s"; "repeat from * to * to last 3 sts"
    """
    here = cur.at
    pad = cur.pad
    t = pad[here + 1]
    if t.low in {"row", "rows", "rnd", "rnds", "round", "rounds", "last", "these", "this"}:
        return None
    mark = next(
        (
            m
            for m in ("*", "**", "[", "(", "x", "a", "b", "c")
            if "body" + m in cur.kept and _names(cur, here, m)
        ),
        "",
    )
    tail = rep_phrase(cur, ctx, mark or "*")
    if tail is None:
        return None
    body: Steps | None = cur.kept.get("body" + mark) if mark else None
    if body is None:
        named = any(x.low in {"*", "**"} for x in cur.tokens[here : cur.at])
        if not named:
            cur.at = here
            return None
        span = cur.span_from(here)
        ctx.findings.report(RepeatFromNothing(), span)
        return (Unread(words=said_words(cur, here), span=span),)
    if depth >= DEEPEST:
        return too_deep(cur, ctx, here)
    return (tail.repeat(body, mark, cur.span_from(here)),)


def _names(cur: Cursor, here: int, mark: str) -> bool:
    return any(t.low == mark for t in cur.tokens[here : here + 6])


_STAR = (parse_star,)
WORDS: dict[str, tuple[Handler, ...]] = {
    "*": _STAR,
    "**": _STAR,
    "***": _STAR,
    "x": _STAR,
    **dict.fromkeys(REPEATS, (parse_again,)),
}
