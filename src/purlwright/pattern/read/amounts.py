"""Amounts of rows: "6 rows", "a round", "3 times more", "next 2 rows", and the words round about them.

In: a cursor. Out: small values (numbers, units, sides). What is to be done in those rows is left to ``rows``
and ``shaping``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.problems import NotRead
from purlwright.pattern.tree import Number, Said, Side, Unit

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.text import Span

__all__ = [
    "ROW_WORDS", "TWO_ROWS", "amount", "is_unit", "one", "parse_side", "parse_times", "rest_of_clause",
    "rounds_said", "skip", "twice_as_many", "unit_of", "until_mark",
]  # fmt: skip

ROW_WORDS = frozenset(
    "row rows round rounds rnd rnds rw rws rd rds needle needles ridge ridges rib ribs pin pins turns".split()
)
TWO_ROWS = frozenset({"ridge", "ridges", "rib", "ribs", "turns"})
"""What is made of two rows: a garter ridge, and the turn of old books: "two rows in the same stitch,
backwards and forwards" (Lambert, My Knitting Book, 1843, explanation of terms).
"""
STITCHES = ("st", "sts", "stitch", "stitches")
"""Words for stitches as things counted."""
_ROUNDS = frozenset("round rounds rnd rnds rd rds".split())
_STOPS = frozenset({".", ",", ";", ":", "(", ")", "[", "]", "--"})


def is_unit(low: str) -> bool:
    """IS-UNIT: "row", "rnds", "needle": a word for one working across."""
    return low in ROW_WORDS


def unit_of(low: str) -> Unit:
    """Row or round, by the word used."""
    return Unit.ROUND if low in _ROUNDS else Unit.ROW


def rounds_said(cur: Cursor, span: Span) -> Unit | None:
    """Round, where the words of a number of rows say so: "for 20 rounds"; None where they do not."""
    words = (t for t in cur.tokens[: cur.at] if span.start <= t.start < span.end)
    return Unit.ROUND if any(t.low in _ROUNDS for t in words) else None


def one(cur: Cursor, at: int) -> Number:
    """The number one, standing where the words from ``at`` stand ("a round", "again")."""
    return Number(values=(1,), span=cur.span_from(at))


def twice_as_many(n: Number) -> Number:
    """Rows, of a number of ridges or turns."""
    return replace(n, values=tuple(None if v is None else min(v * 2, _MANY) for v in n.values))


_MANY = 1_000_000


def skip(cur: Cursor, *lows: str) -> bool:
    """Pass over any of these words, as many as there are; true if there was one."""
    found = False
    while cur.take(*lows) is not None:
        found = True
    return found


def until_mark(cur: Cursor, most: int = 14, also: frozenset[str] = frozenset()) -> int:
    """How many words stand before the next mark (or one of ``also``), at most ``most``; the stop of "No.
    8" is none.
    """
    n = 0
    while n < most:
        t = cur.peek(n)
        if not t.kind or t.low in also:
            break
        if t.low in {"(", "["} and n and (past := _list_end(cur, n)):
            n = past
            continue
        if t.low in _STOPS and not (t.low == "." and n and cur.peek(n - 1).low in {"no", "nos"}):
            break
        n += 1
    return n


_IN_LISTS = frozenset({",", "-", "/", ";", "mm", "us", "uk"})


def _list_end(cur: Cursor, at: int) -> int:
    """How far on a list of sizes that follows a number ends ("8 (10, 10, 12) sts"); 0 if none stands here."""
    if cur.peek(at - 1).kind != "n":
        return 0
    i = at + 1
    while cur.peek(i).kind == "n" or cur.peek(i).low in _IN_LISTS:
        i += 1
    return i + 1 if i > at + 1 and cur.peek(i).low in {")", "]"} else 0


def rest_of_clause(cur: Cursor) -> str:
    """Take the words up to the next mark and give them."""
    return take_words(cur, until_mark(cur, 30))


def take_words(cur: Cursor, n: int) -> str:
    """Take ``n`` words and give them as they stand, spaces where the text has some."""
    here = cur.at
    cur.at += n
    return words_from(cur, here)


def words_from(cur: Cursor, here: int) -> str:
    """The words from ``here`` up to the cursor as they stand."""
    tokens = cur.tokens[here : cur.at]
    return "".join(t.text if t.glued or i == 0 else " " + t.text for i, t in enumerate(tokens))


def amount(cur: Cursor, ctx: Context) -> Number | None:
    """NUMBER | "a" | "an" | "one" | NUMBER "or" NUMBER: how many; of "4 or 5" the first is taken."""
    at = cur.at
    if cur.take("a", "an", "another") is not None:
        if cur.peek().kind == "n" or cur.peek().value is not None:
            return parse_number(cur, ctx)
        return one(cur, at)
    n = parse_number(cur, ctx)
    if n is not None and cur.peek().low == "or" and cur.peek(1).kind == "n":
        start = cur.at
        cur.at += 1
        other = parse_number(cur, ctx)
        a, b = n.at(0), other.at(0) if other is not None else None
        if a is None or b is None or not 0 < b - a <= _EITHER:
            # "27 or 19 rows": one of two that the words do not choose
            ctx.findings.report(NotRead(words_from(cur, start)), cur.span_from(start))
    return n


_EITHER = 4
"""Numbers no further apart than this are left to the knitter ("4 or 5 rows")."""


def parse_side(cur: Cursor) -> Side | None:
    """SIDE: "RS" | "WS" | "right side" | "wrong side" | ("knit" | "purl") before "row", an article before
    it or not.
    """
    here = cur.at
    skip(cur, "a", "an", "the", "on")
    t = cur.peek()
    side = None
    n = 0
    if t.low in {"rs", "ws"}:
        side, n = (Side.RS if t.low == "rs" else Side.WS), 1
    elif t.low in {"right", "wrong"} and cur.peek(1).low == "-" and cur.peek(2).low == "side":
        side, n = (Side.RS if t.low == "right" else Side.WS), 3
    elif t.low in {"right", "wrong"} and cur.peek(1).low in {"side", "sides"}:
        side, n = (Side.RS if t.low == "right" else Side.WS), 2
    elif t.low in {"purl", "pearl", "p", "knit", "k", "plain"}:
        n = 1 + (cur.peek(1).low == "." and len(t.low) == 1)  # "ending with a p. row"
        if cur.peek(n).low in ROW_WORDS:
            side = Side.RS if t.low in {"knit", "k", "plain"} else Side.WS
    if side is None:
        cur.at = here
        return None
    cur.at += n
    if cur.phrase("of work") or cur.phrase("of the work"):
        pass
    cur.take("row", "rows", "round", "rnd")
    cur.take("facing")
    return side


def parse_times(cur: Cursor, ctx: Context) -> tuple[Number, Said] | None:
    """HOW-OFTEN: "5 times", "a total of 3 times", "four times more", "twice", "once more", "again", "x 3"."""
    here = cur.at
    said = Said.TIMES
    if cur.peek().low in {"(", "["} and cur.peek(1).kind == "n" and cur.peek(2).low in {"x", "times"}:
        cur.at += 1
        inside = parse_times(cur, ctx)  # "(12x)", "(3 times)"
        if inside is not None and cur.take(")", "]"):
            return inside
        cur.at = here
    skip(cur, "for")
    if cur.any_phrase("a total of", "in all", "altogether") is not None:
        said = Said.IN_ALL
    elif cur.any_phrase("another", "a further") is not None:
        said = Said.MORE
    elif cur.take("again") is not None:
        n = parse_times(cur, ctx)
        return (n[0], Said.MORE) if n is not None else (one(cur, here), Said.MORE)
    at = cur.at
    t = cur.peek()
    number: Number | None
    if t.low in {"once", "twice", "thrice"}:
        cur.at += 1
        number = Number(values=({"once": 1, "twice": 2, "thrice": 3}[t.low],), span=t.span)
    elif t.low == "x" and cur.peek(1).kind == "n":
        cur.at += 1
        number = parse_number(cur, ctx)
    else:
        number = parse_number(cur, ctx)
        if number is None and cur.take("several", "many"):
            cur.at = here
            return None
        if number is not None:
            if cur.take("more", "further", "additional") is not None:
                said = Said.MORE
            if cur.take("times", "time", "x") is None:
                cur.at = here
                return None
    if number is None:
        cur.at = here
        return None
    del at
    if cur.take("more", "again", "further") is not None:
        said = Said.MORE
    else:
        here2 = cur.at
        cur.take(",")
        if cur.any_phrase("in all", "in total", "altogether", "total", "all told") is not None:
            said = Said.IN_ALL
        else:
            cur.at = here2
    return number, said


def until_here(cur: Cursor, ahead: int = 0) -> bool:
    """Whether a word that says when to stop may stand here."""
    return cur.peek(ahead).low in {"to", "for", "until", "till", ","}
