"""Which rows: "rows 1-4", "the first and second rows", "last 2 rows", "this row", "the dec row".

In: a cursor at such words. Out: a :class:`RowSet`. What is done with the rows is left to ``again``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.amounts import ROW_WORDS, rounds_said, skip, take_words, until_mark
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.tree import RowSet

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor

__all__ = ["LETTERS", "name_length", "parse_one_row", "parse_row_number", "parse_row_set", "short_row_ahead"]

_MANY = 1_000_000


def parse_row_set(cur: Cursor, ctx: Context) -> RowSet | None:
    """ROW-SET: "rows 1-4", "the first and second rows", "last 2 rows", "this row", "from 1st row", "the
    dec row".
    """
    here = cur.at
    rows = (
        _from_row(cur)
        or _lettered(cur)
        or _called_and_numbered(cur)
        or _numbered(cur)
        or _counted_back(cur, ctx)
        or _named_rows(cur, ctx)
    )
    if rows is None:
        cur.at = here
        return None
    skip(cur, "only", "inclusive")
    if cur.phrase("( inclusive )"):
        pass
    section = _of_section(cur, ctx) or rows.section
    span = cur.span_from(here)
    return replace(rows, section=section, unit=None if rows.names else rounds_said(cur, span), span=span)


_AFTER_NAME = frozenset(
    "until till for once twice then to a and one two three four five six seven eight nine ten".split()
)


def name_length(cur: Cursor) -> int:
    """How many words a name that stands here has: "chart 2" is a name, "chart 2 times" is not."""
    most = until_mark(cur, 6, _AFTER_NAME)
    lettered = cur.peek(most)
    if most and lettered.text == "A" and cur.peek(most - 1).low in {"chart", "pattern", "panel"}:
        most += 1
    for i in range(most):
        if cur.peek(i).kind == "n" and cur.peek(i + 1).low in {"times", "more", "time"}:
            return i
    return most


def _of_section(cur: Cursor, ctx: Context) -> str | None:
    """OF-SECTION: "of" NAME, a section, chart or stitch pattern that the file has: "rows 1-4 of wave
    pattern".
    """
    if cur.peek().low != "of":
        return None
    here = cur.at
    cur.at += 1
    skip(cur, "the")
    most = name_length(cur)
    for n in range(most, 0, -1):
        words = " ".join(cur.peek(i).low for i in range(n))
        if words in ctx.called:
            cur.at += n
            cur.take("chart", "pattern", "patt", "panel", "motif")
            return ctx.called[words]
    named = {cur.peek(i).low for i in range(most)} & {
        "pattern",
        "patt",
        "chart",
        "panel",
        "stitch",
        "motif",
        "repeat",
        "st",
    }
    if named:
        name = take_words(cur, most)
        return None if most == 1 and "chart" not in named else name
    cur.at = here
    return None


def parse_row_number(cur: Cursor) -> int | None:
    """A row's number: "4", "4th", "fourth"."""
    t = cur.peek()
    if t.kind in {"n", "o"} and isinstance(t.value, int):
        cur.at += 1
        return min(t.value, _MANY)
    return None


_LETTERED = frozenset("abcd")
LETTERS = frozenset("ABCDEFGHXYZ")
"""Rows are called by these: "Row A"."""
_AFTER_CAPITAL = frozenset(
    {"", ".", ",", ";", "and", "&", "until", "till", "once", "twice", "again", "for", "(", "only"}
)


def _lettered(cur: Cursor) -> RowSet | None:
    """ROWS NUMBER LETTER (("and" | "," | "&") NUMBER LETTER)*: "rnds 1B and 1A", rows named with a letter."""
    here = cur.at
    skip(cur, "the", "these")
    noun = cur.take(*ROW_WORDS)
    names: list[str] = []
    while noun is not None and len(names) < 20:
        at = cur.at
        if names and not skip(cur, ",", "and", "&"):
            break
        cur.take(*ROW_WORDS)
        number, letter = cur.peek(), cur.peek(1)
        if number.text in LETTERS and (names or letter.low in _AFTER_CAPITAL):
            names.append(f"{noun.low.removesuffix('s')} {number.low}")
            cur.at += 1
            continue
        if number.kind != "n" or letter.low not in _LETTERED or not letter.glued:
            cur.at = at
            break
        names.append(f"{noun.low.removesuffix('s')} {number.text}{letter.low}")
        cur.at += 2
    if not names:
        cur.at = here
        return None
    return RowSet(names=tuple(names), span=cur.span_from(here))


_NO_CALLED = frozenset(
    "last next these those all each every the first both ws rs chart row rows of and".split()
)


def _called_and_numbered(cur: Cursor) -> RowSet | None:
    """CALLED ROWS NUMBERS: "heel rows 1 and 2", "pattern rows 1-8": rows that bear a name and a number."""
    here = cur.at
    skip(cur, "the", "these")
    called = cur.peek()
    if called.kind != "w" or called.value is not None or called.low in _NO_CALLED or called.low in ROW_WORDS:
        cur.at = here
        return None
    noun = cur.peek(1)
    if noun.low not in _ROWS or cur.peek(2).kind != "n":
        cur.at = here
        return None
    cur.at += 1
    rows = _numbered(cur)
    if rows is None:
        cur.at = here
        return None
    numbers = rows.numbers or tuple(
        range(rows.first or 1, min((rows.last or 1), (rows.first or 1) + 200) + 1)
    )
    name = f"{called.low} {noun.low.removesuffix('s')}"
    return RowSet(names=tuple(f"{name} {n}" for n in numbers), span=cur.span_from(here))


_ROWS = frozenset("row rows rnd rnds round rounds".split())


def short_row_ahead(cur: Cursor) -> bool:
    """SHORT-ROW-WORD: "R1-10": the letter for a row, and a number."""
    return cur.peek().low == "r" and cur.peek(1).kind == "n" and cur.peek(1).glued


def _numbered(cur: Cursor) -> RowSet | None:
    """ROWS NUMBER ("-" | "to" | "and" | ",") NUMBER ... | "the"? ORDINAL "and" ORDINAL ROWS | "from" ...."""
    here = cur.at
    skip(cur, "the", "these")
    noun = cur.take(*ROW_WORDS) or (cur.next() if short_row_ahead(cur) else None)
    if noun is not None:
        cur.take(".") if cur.peek(1).kind == "n" else None
    elif cur.peek().kind != "o":
        cur.at = here
        return None
    numbers: list[int] = []
    ranges = 0
    if _counts_ahead(cur):  # "these rows 3 times": how often, and no row
        cur.at = here
        return None
    while True:
        n = parse_row_number(cur)
        if n is None:
            break
        at = cur.at
        if cur.take("-", "to", "through", "thru", "--") is not None:
            skip(cur, "the", *ROW_WORDS)
            last = None if _counts_ahead(cur) else parse_row_number(cur)
            if last is None:  # or "rows 2 and 3-8 (10, 12) sts": a count behind a dash
                cur.at = at
                numbers.append(n)
                break
            if (not numbers and not ranges and cur.peek().low not in {",", "and", "&"}) or last < n:
                ranges += 1
                rows = RowSet(first=n, last=last, span=cur.span_from(here))
                skip(cur, *(() if noun else ROW_WORDS), "inclusive")
                return rows
            numbers.extend(range(n, min(last, n + 5000) + 1))
        else:
            numbers.append(n)
        at = cur.at
        linked = skip(cur, ",", "and", "&")
        if not linked or cur.peek().kind not in {"n", "o"} or _counts_ahead(cur):
            cur.at = at
            break
    if not numbers:
        cur.at = here
        return None
    if noun is None and cur.take(*ROW_WORDS) is None:
        cur.at = here
        return None
    if len(numbers) == 1:
        return RowSet(first=numbers[0], last=numbers[0], span=cur.span_from(here))
    if numbers == list(range(numbers[0], numbers[-1] + 1)):
        return RowSet(first=numbers[0], last=numbers[-1], span=cur.span_from(here))
    return RowSet(numbers=tuple(numbers), span=cur.span_from(here))


_COUNTED = frozenset("times time more further sts st stitches".split())
_CLOSES = {"(": ")", "[": "]"}


def _counts_ahead(cur: Cursor) -> bool:
    """COUNT: NUMBER ("(" ... ")")? ("times" | "more" | "sts"), which is no row: "rows 1 and 2, 4 (5, 6)
    times more".
    """
    after = 1
    close = _CLOSES.get(cur.peek(1).low)
    if close is not None:
        while cur.peek(after).kind and cur.peek(after).low != close:
            after += 1
        after += 1
    return cur.peek(after).low in _COUNTED


_SETS = frozenset(
    "the pattern patt st up a rib ribbing garter moss seed lace stitch your cable stripe".split()
)
"""After "set": "last 2 rows set rib" says what those rows form."""
_POINTING = frozenset("last previous above preceding these those this foregoing both two".split())


def _counted_back(cur: Cursor, ctx: Context) -> RowSet | None:
    """("the" "last" | "these" | "this") NUMBER? ROWS: "last 2 rows", "these two rounds", "this row", "this
    8-row pattern".
    """
    here = cur.at
    skip(cur, "the")
    if cur.peek().kind == "n" and cur.peek(1).low == "-" and cur.peek(2).low in ROW_WORDS:
        # "the 14-row pattern"
        size = parse_number(cur, ctx)
        cur.at += 2
        if size is not None and cur.take("pattern", "patt", "repeat", "rep", "sequence", "chart") is not None:
            cur.take("repeat", "rep")
            return RowSet(back=min(size.at(0) or 1, _MANY), span=cur.span_from(here))
        cur.at = here
        return None
    pointing = False
    both = False
    while cur.peek().low in _POINTING and not (cur.peek().low == "two" and not pointing):
        if cur.peek().low == "two":
            break
        both = both or cur.peek().low == "both"
        cur.at += 1
        pointing = True
    if not pointing and not (
        cur.at > here
        and cur.peek().kind == "w"
        and cur.peek().value is not None
        and cur.peek(1).low in ROW_WORDS
    ):
        cur.at = here
        return None
    n = parse_number(cur, ctx)
    if n is None and cur.peek().low == "alternate" and cur.peek(1).low in ROW_WORDS:
        cur.at += 2
        return RowSet(back=2, span=cur.span_from(here))
    cur.take("-")
    skip(cur, "pattern", "patt")
    t = cur.peek()
    if t.low in ROW_WORDS or t.low in {"step", "steps", "lines"}:
        cur.at += 1
        plural = t.low.endswith("s")
        if n is None and not plural:
            back = 1
        elif n is None:
            back = 2 if both else 0
        else:
            back = min(n.at(0) or 0, _MANY)
        if cur.peek(1).low not in _SETS:
            if cur.take("pattern", "patt", "set", "repeat", "rep", "sequence") and n is None:
                back = 0
        if back == 0:
            return RowSet(all=True, span=cur.span_from(here))
        return RowSet(back=back, span=cur.span_from(here))
    cur.at = here
    return None


def _from_row(cur: Cursor) -> RowSet | None:
    """FROM-ROW: "from" ("1st row" | "row 3" | "beginning" | "the beginning"): all rows from there on."""
    here = cur.at
    if cur.take("from") is None:
        return None
    skip(cur, "the")
    if cur.take("beginning", "start", "commencement", "beg") is not None:
        cur.take(".") if cur.peek(-1).low == "beg" else None
        skip(cur, "again")
        return RowSet(all=True, span=cur.span_from(here))
    first = parse_one_row(cur)
    if first is None:
        cur.at = here
        return None
    at = cur.at
    if cur.take("to", "through", "thru", "-") is not None:
        last = parse_one_row(cur) or parse_row_number(cur)
        if last is not None:
            return RowSet(first=first, last=last, span=cur.span_from(here))
        cur.at = at
    return RowSet(first=first, span=cur.span_from(here))


def parse_one_row(cur: Cursor) -> int | None:
    """ONE-ROW: "row 3" | "3rd row" | "the third row"."""
    here = cur.at
    skip(cur, "the")
    if cur.take(*ROW_WORDS) is not None:
        n = parse_row_number(cur)
    else:
        n = parse_row_number(cur) if cur.peek().kind == "o" else None
        skip(cur, "pattern")
        if n is not None and cur.take(*ROW_WORDS) is None:
            n = None
    if n is None:
        cur.at = here
    return n


_NAMED = frozenset(
    "dec inc decrease increase decreasing increasing set-up setup setup eyelet cable pattern patt"
    " rib plain buttonhole"
    " shaping short lace foundation turning purl knit".split()
)


def _named_rows(cur: Cursor, ctx: Context) -> RowSet | None:
    """NAMED-ROWS: "the" NAME ROWS: "the increase row", "dec rnd", "the pattern", and names that the
    pattern has given.
    """
    here = cur.at
    skip(cur, "the", "this", "these")
    for n in range(min(6, until_mark(cur, 6)), 0, -1):
        words = " ".join(cur.peek(i).low for i in range(n))
        if words in ctx.row_names and not words[:1].isdigit():
            cur.at += n
            return RowSet(names=(words,), span=cur.span_from(here))
        if words in ctx.called:
            cur.at += n
            cur.take("chart")
            return RowSet(section=ctx.called[words], all=True, span=cur.span_from(here))
    words_: list[str] = []
    while cur.peek().low in _NAMED and len(words_) < 3:
        words_.append(cur.next().low)
        cur.take(".") if cur.peek(1).low in ROW_WORDS else None
    if words_ and cur.peek().low in ROW_WORDS:
        words_.append(cur.next().low)
        if words_[0] in {"pattern", "patt"} and words_[-1].endswith("s"):
            return RowSet(all=True, span=cur.span_from(here))
        return RowSet(names=(" ".join(words_),), span=cur.span_from(here))
    if words_ in (["pattern"], ["patt"]) and cur.peek(-2).low in {"the", "this"}:
        return RowSet(all=True, span=cur.span_from(here))
    cur.at = here
    return None
