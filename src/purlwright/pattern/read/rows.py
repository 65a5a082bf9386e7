"""Rows by the number: "Knit 6 rows", "Work 10 rnds in k2, p2 rib", "Rep rows 1-4 five times more".

In: a cursor at the start of a sentence. Out: :class:`WorkRows` and :class:`RepeatRows`. What one row holds is
read by ``steps``; when to stop, by ``until``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.amounts import (
    ROW_WORDS, amount, is_unit, one, parse_times, skip, unit_of, until_mark,
)  # fmt: skip
from purlwright.pattern.read.fills import parse_ground
from purlwright.pattern.read.numbers import parse_length, parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.until import parse_ending, parse_until
from purlwright.pattern.tree import (
    Fill, InPattern, Number, Place, PlaceKind, RepeatRows, RowSet, Said, Until, Work, WorkRows, Yarn,
)  # fmt: skip

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Statement, Step, Unit

__all__ = ["parse_go_on", "parse_repeat_rows", "parse_row_set", "parse_work_rows", "whole_row"]

_KNIT = frozenset({"knit", "k"})
_PURL = frozenset({"purl", "p", "pearl", "seam"})
_WORK = frozenset({"work", "do", "make", "cont", "continue", "rib", "knit", "k", "purl", "p", "pearl", "seam"})
_MANY = 1_000_000


def whole_row(key: str) -> Fill:
    """A whole row of one stitch."""
    return Fill(
        body=(Work(stitch=key, count=Number(values=(1,))),), to=Place(kind=PlaceKind.END)
    )


# --- so many rows ----------------------------------------------------------------------------------


def parse_work_rows(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """VERB NUMBER "plain"? ROWS IN-WHAT? (("," | "and") VERB NUMBER ROWS "alternately" UNTIL)?."""
    here = cur.at
    first = _rows_of(cur, ctx)
    if first is None:
        cur.at = here
        return None
    in_turn = _alternating(cur, ctx, first, here)
    if in_turn is not None:
        return (in_turn,)
    u = parse_until(cur, ctx) if first.until is None else None
    if u is not None:
        first = replace(first, until=u)
    else:
        ending = parse_ending(cur, ctx)
        if ending is not None:
            old = first.until or Until()
            first = replace(
                first, until=replace(old, side=ending.side, worked=ending.worked, ending_row=ending.ending_row)
            )
    return (replace(first, span=cur.span_from(here)),)


def _rows_of(cur: Cursor, ctx: Context) -> WorkRows | None:
    """VERB? NUMBER ADJECTIVE* ROWS IN-WHAT?: "Knit 6 rows", "P1 rnd", "4 plain rows", "Work 3 more rows even"."""
    here = cur.at
    verb = cur.peek().low if cur.peek().low in _WORK else ""
    if verb:
        cur.at += 1
    skip(cur, "another", "the", "next", "these")
    n = amount(cur, ctx)
    if n is None and cur.peek(-1).low in {"next"} and verb:
        n = one(cur, cur.at - 1)
    if n is None:
        return _length_of(cur, ctx, verb, here)
    adjectives = set()
    while cur.peek().low in {"more", "further", "plain", "open", "straight", "purl", "pearl", "knit", "st", "garter",
                             "purled", "knitted", "even", "rib", "single", "complete", "additional", "quite"}:  # fmt: skip
        adjectives.add(cur.next().low)
    t = cur.peek()
    if not is_unit(t.low) or t.low in {"needles", "pins", "needle", "pin"}:
        cur.at = here + bool(verb)
        return _length_of(cur, ctx, verb, here)
    told = cur.peek(1).low if cur.peek(1).low in {"purled", "pearled", "seamed", "plain", "knitted"} else ""
    if not verb and not told and not adjectives - {"more"}:
        cur.at = here
        return None
    if cur.peek(1).low in {"-", "of"} and cur.peek(2).low in {"pattern", "each", "every"}:
        cur.at = here
        return None
    cur.at += 1
    unit = unit_of(t.low)
    body: tuple[Step, ...] = ()
    if told in {"purled", "pearled", "seamed"}:
        cur.at += 1
        body = (whole_row("p"),)
    elif verb in _PURL or adjectives & {"purl", "pearl", "purled"}:
        body = (whole_row("p"),)
    elif verb in _KNIT or told or adjectives & {"plain", "knit", "knitted", "garter"}:
        body = (whole_row("k"),)
    rows = n
    if t.low in {"ridge", "ridges", "rib", "ribs"}:
        # a garter ridge is two rows
        rows = replace(n, values=tuple(None if v is None else min(v * 2, _MANY) for v in n.values))
        body = (whole_row("k"),)
    more = in_what(cur, ctx)
    if more is not None:
        only_yarn = more and all(isinstance(a, Yarn) for a in more)
        body = (*more, *body) if only_yarn else more or body
    if not body:
        body = (InPattern(),)
    return WorkRows(body=body, rows=rows, unit=unit, span=cur.span_from(here))


def _length_of(cur: Cursor, ctx: Context, verb: str, here: int) -> WorkRows | None:
    """VERB LENGTH IN-WHAT?: "Work 3 ins even in pattern", "Rib 5 cm", "knit 2 inches"."""
    skip(cur, "another", "about", "a", "further")
    length = parse_length(cur, ctx) if verb else None
    if length is None or (not length.values and verb not in {"work", "rib"}):
        cur.at = here
        return None
    body = in_what(cur, ctx)
    if not body or all(isinstance(a, Yarn) for a in body):
        base: Step = InPattern()
        if verb in _KNIT | _PURL:
            base = whole_row("k" if verb in _KNIT else "p")
        body = (*(body or ()), base)
    return WorkRows(body=body, until=Until(length=length), span=cur.span_from(here))


def _alternating(cur: Cursor, ctx: Context, first: WorkRows, start: int) -> WorkRows | None:
    """ROWS (("," | "and") ROWS)+ ","? "alternately"? UNTIL?: "knit 1 row, purl 1 row alternately for 6 rows"."""
    here = cur.at
    turns = [first]
    while True:
        at = cur.at
        skip(cur, ",", "and", "then")
        nxt = _rows_of(cur, ctx)
        if nxt is None:
            cur.at = at
            break
        turns.append(nxt)
    if len(turns) == 1:
        cur.at = here
        return None
    skip(cur, ",")
    said = cur.take("alternately", "alternate", "alternating") is not None
    u = parse_until(cur, ctx)
    often = parse_times(cur, ctx) if u is None else None
    if not said and u is None and often is None:
        cur.at = here
        return None
    alternate = tuple(t.body for t in turns for _ in range(min(t.rows.at(0) or 1, 50) if t.rows else 1))
    rows = u.rows if u is not None else None
    if often is not None:
        times = often[0]
        rows = replace(times, values=tuple(None if v is None else v * len(alternate) for v in times.values))
        u = None
    if u is not None and rows is not None:
        u = None
    return WorkRows(alternate=alternate, rows=rows, until=u, unit=first.unit, span=cur.span_from(start))


_HOW = Phrases(
    "plain", "even", "straight", "evenly", "without shaping", "without shapings", "in the round", "in rounds",
    "back and forth", "each way", "backwards and forwards", "backward and forward", "in rows", "even in pattern",
    "in pattern", "in patt", "in pattern as set", "in patt as set", "in pattern as established", "as set",
    "as established", "as before", "forward and back", "forwards and backwards", "all round", "around", "across",
    "every stitch", "every st", "every|each row|round|rnd", "quite plain", "all knit", "plain knitting", "in the same way", "as they are",
)  # fmt: skip


def in_what(cur: Cursor, ctx: Context) -> tuple[Step, ...] | None:
    """("in" | "of")? (GROUND | STEPS | "MC" | "pattern") | "even" | "as" STEPS: what those rows are worked in."""
    body: tuple[Step, ...] = ()
    yarn: tuple[Step, ...] = ()
    found = False
    while True:
        here = cur.at
        how = _HOW.take(cur)
        if how is not None:
            found = True
            continue
        closing = None
        if cur.peek().low == "(" and cur.peek(1).low in {"garter", "stockinette", "st", "stocking", "rib", "k", "knit"}:
            cur.at += 1
            closing = ")"
        lead = cur.peek().low
        if lead in {"in", "of", "with", "as", "using"}:
            at = cur.at
            colour = _colour(cur, ctx)
            if colour is not None:
                yarn += (Yarn(act="use", colour=colour, span=cur.span_from(at)),)
                found = True
                continue
            if lead in {"with", "using"}:
                cur.at = here
                return (yarn + body) if found else None
            cur.at += 1
            skip(cur, "the", "a", ":", "follows")
        got = _ground_or_steps(cur, ctx, wide=lead in {"in", "of", "as"})
        if got is None or (closing is not None and cur.take(closing) is None):
            cur.at = here
            return (yarn + body) if found else None
        body += got
        found = True


def _colour(cur: Cursor, ctx: Context) -> str | None:
    """("in" | "with" | "using") YARN: "in MC", "with A"; the next token must be one of the pattern's yarns."""
    skip_ = 2 if cur.peek(1).low in {"the", "yarn", "colour", "color"} and cur.peek(2).low in ctx.yarns else 1
    t = cur.peek(skip_)
    if t.low in ctx.yarns or t.low in {"mc", "cc", "cc1", "cc2"} or (len(t.text) == 1 and t.text in "ABCD"):
        cur.at += skip_ + 1
        return t.text
    return None


def _ground_or_steps(cur: Cursor, ctx: Context, *, wide: bool) -> tuple[Step, ...] | None:
    """GROUND, or (after "in" or "as") STEPS: "k2, p2 rib", "*(p1, k8) around"."""
    ground = parse_ground(cur, ctx)
    if ground is not None:
        return ground
    if not wide:
        return None
    # loaded here: steps reads whole rows and may come to need this file
    from purlwright.pattern.read.steps import parse_step

    body: tuple[Step, ...] = ()
    while True:
        here = cur.at
        skip(cur, ",")
        step = parse_step(cur, ctx)
        if step is None:
            cur.at = here
            break
        body += step
    if body:
        cur.take("rib", "ribbing", "pattern")
    return body or None


_GO_ON = frozenset("work cont continue continuing keep keeping proceed knit rib working".split())


def parse_go_on(cur: Cursor, ctx: Context) -> tuple[Statement | Step, ...] | None:
    """("work" | "cont" | "keep" | "knit") "on"? "even"? ("in" GROUND | "as set")? UNTIL?: "Cont in garter st until ..."."""
    here = cur.at
    verb = cur.peek().low
    if verb not in _GO_ON:
        return None
    cur.at += 1
    skip(cur, "on", "to", "work", "working", "knit", "knitting", "the", "in") if verb not in {"knit", "rib", "work"} else None
    if cur.peek(-1).low == "in":
        cur.at -= 1
    body = in_what(cur, ctx)
    if body is None and not (verb in {"cont", "continue", "rib", "work", "working"} and _until_here(cur)):
        cur.at = here
        return None
    base: Step = whole_row("k") if verb == "knit" or cur.peek(-1).low == "knitting" else InPattern()
    steps = body or (replace(base, span=cur.span_from(here)),)
    u = parse_until(cur, ctx)
    if u is None:
        return steps
    plain_rows = u.rows is not None and u.side is None and u.ending_row is None
    return (WorkRows(body=steps, rows=u.rows, until=None if plain_rows else u, span=cur.span_from(here)),)


def _until_here(cur: Cursor) -> bool:
    return cur.peek().low in {"for", "until", "till", ","}


# --- rows again ------------------------------------------------------------------------------------

_PIECES = frozenset(
    "back front sleeve sleeves foot leg heel sock mitten mitt glove hand thumb cuff first other side piece half armhole"
    " shoulder body toe sole border collar left right neck finger hat".split()
)
_AGAIN = frozenset("rep repeat repeating repeated work complete reverse".split())


def parse_repeat_rows(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """("[")? "repeat" ROW-SET ("]")? HOW-OFTEN? UNTIL? ("then" ROW-SET "once more")?."""
    here = cur.at
    bracket = cur.take("[", "(")
    found = _forms_pattern(cur, ctx) or _begin_again(cur, ctx)
    if found is not None and bracket is None:
        return found
    if found is not None:
        cur.at = here
        return None
    verb = cur.peek().low
    if verb in {"cont", "continue", "continuing", "keep"}:
        cur.at += 1
        skip(cur, "to", "in", "by", "with")
        verb = cur.peek().low
        if verb in {"knitting", "working", "rep", "repeat", "repeating", "knit", "work"}:
            cur.at += 1
    elif verb in _AGAIN:
        cur.at += 1
        cur.take(".") if verb == "rep" else None
    elif not (verb in {"these", "those"} and _alternately_ahead(cur)):
        cur.at = here
        return None
    as_for = _as_for(cur, ctx, here)
    if as_for is not None:
        return as_for
    rows = parse_row_set(cur, ctx)
    if rows is None or (rows.first is not None and rows.last == rows.first and verb not in _AGAIN):
        cur.at = here
        return None
    return _how_often(cur, ctx, rows, here, bracket is not None, verb)


def _as_for(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """("work" | "finish")? "same"? "as" ("for" | "given for")? "the"? NAME ("to" LANDMARK)?: "work as for back to underarm"."""
    del ctx
    at = cur.at
    skip(cur, "exactly", "the", "same", "just", "from", "*", "**", "to")
    if cur.take("as", "like") is None:
        cur.at = at
        return None
    skip(cur, "given", "directed", "done", "described")
    said = cur.take("for", "on", "in") is not None
    skip(cur, "the", "first", "other")
    n = until_mark(cur, 6, frozenset({"to", "until", "but", "reversing", "as", "except"}))
    words = [cur.peek(i).low for i in range(n)]
    pieces = _PIECES.intersection(words)
    if not n or not (pieces or (said and n <= 3)) or (ROW_WORDS | {"st", "sts", "follows"}).intersection(words):
        cur.at = at
        return None
    name = " ".join(cur.peek(i).text for i in range(n))
    cur.at += n
    u = None
    here2 = cur.at
    if cur.take("to", "until") is not None:
        skip(cur, "the")
        m = until_mark(cur, 8, frozenset({"but", "and"}))
        landmark = " ".join(cur.peek(i).text for i in range(m))
        stars = cur.take("*", "**", "***") if not m else None
        cur.at += m
        if m or stars is not None:
            u = Until(things=landmark or stars.text if stars is not None else landmark, span=cur.span_from(here2))
        else:
            cur.at = here2
    return (
        RepeatRows(
            rows=RowSet(section=name, all=True, span=cur.span_from(here)), said=Said.OPEN, until=u, span=cur.span_from(here)
        ),
    )


def _alternately_ahead(cur: Cursor) -> bool:
    return any(cur.peek(i).low in {"alternately", "alternate"} for i in range(2, 5))


_OPEN = Phrases(
    "for pattern", "for patt", "for the pattern", "throughout", "as desired", "for length", "cont throughout",
    "continuously", "as often as desired", "as required",
)  # fmt: skip


def _how_often(
    cur: Cursor, ctx: Context, rows: RowSet, here: int, bracket: bool, verb: str
) -> tuple[Statement, ...] | None:
    """What follows the rows named: "]" 7 times, "a total of 3 times, then rows 1-6 once more", "until ..."."""
    if bracket and cur.take("]", ")") is None:
        cur.at = here
        return None
    skip(cur, "alternately")
    alone = rows.first is not None and rows.first == rows.last and rows.section is None and not rows.numbers
    at = cur.at
    skip(cur, ",")
    times = parse_times(cur, ctx)
    if times is None:
        cur.at = at
    u = parse_until(cur, ctx)
    if u is None:
        ending = parse_ending(cur, ctx)
        if ending is not None:
            u = ending
    if times is None and u is not None:
        at = cur.at
        skip(cur, ",")
        times = parse_times(cur, ctx)
        if times is None:
            cur.at = at
    if times is None and u is None:
        free = _OPEN.take(cur)
        if free is None and alone:
            # "repeat row 1" within or as a row is a step: work this row as row 1
            cur.at = here
            return None
        if free is None and (rows.names or (verb == "work" and rows.back is None and rows.last is None)):
            cur.at = here
            return None
        if free is not None:
            times_said = Said.OPEN
            return (RepeatRows(rows=rows, said=times_said, span=cur.span_from(here)),)
    number, said = times if times is not None else (None, Said.TIMES)
    if verb in {"work", "complete"} and said is Said.TIMES and times is not None and rows.back is None:
        said = Said.IN_ALL
    first = RepeatRows(rows=rows, times=number, said=said, until=u, span=cur.span_from(here))
    then = _then(cur, ctx)
    return (first, *then)


def _then(cur: Cursor, ctx: Context) -> tuple[RepeatRows, ...]:
    """("," "then" | "and") ("work" | "rep")? ROW-SET ("once more" | "again")?: "then rows 1-6 once more"."""
    here = cur.at
    skip(cur, ",", ";")
    if cur.take("then", "and") is None:
        cur.at = here
        return ()
    skip(cur, "then", "work", "rep", "repeat", "knit", "end", "with")
    start = cur.at
    rows = parse_row_set(cur, ctx)
    if rows is None:
        cur.at = here
        return ()
    times = parse_times(cur, ctx)
    number = times[0] if times is not None else one(cur, start)
    u = parse_until(cur, ctx)
    more = RepeatRows(rows=rows, times=number, said=Said.MORE, until=u, span=cur.span_from(start))
    return (more, *_then(cur, ctx))


def parse_row_set(cur: Cursor, ctx: Context) -> RowSet | None:
    """ROW-SET: "rows 1-4", "the first and second rows", "last 2 rows", "this row", "from 1st row", "the dec row"."""
    here = cur.at
    rows = _from_row(cur) or _numbered(cur) or _counted_back(cur, ctx) or _named_rows(cur, ctx)
    if rows is None:
        cur.at = here
        return None
    skip(cur, "only", "inclusive")
    if cur.phrase("( inclusive )"):
        pass
    section = _of_section(cur, ctx)
    return replace(rows, section=section, span=cur.span_from(here))


def _of_section(cur: Cursor, ctx: Context) -> str | None:
    """"of" NAME, a section, chart or stitch pattern that the file has: "rows 1-4 of wave pattern"."""
    if cur.peek().low != "of":
        return None
    here = cur.at
    cur.at += 1
    skip(cur, "the")
    for n in range(min(6, until_mark(cur, 6)), 0, -1):
        words = " ".join(cur.peek(i).low for i in range(n))
        if words in ctx.called:
            cur.at += n
            return ctx.called[words]
    if cur.take("pattern", "patt", "chart") is not None:
        return None
    cur.at = here
    return None


def _row_number(cur: Cursor) -> int | None:
    t = cur.peek()
    if t.kind in {"n", "o"} and isinstance(t.value, int):
        cur.at += 1
        return min(t.value, _MANY)
    return None


def _numbered(cur: Cursor) -> RowSet | None:
    """ROWS NUMBER ("-" | "to" | "and" | ",") NUMBER ... | "the"? ORDINAL "and" ORDINAL ROWS | "from" ...."""
    here = cur.at
    skip(cur, "the", "these")
    noun = cur.take(*ROW_WORDS)
    if noun is not None:
        cur.take(".") if cur.peek(1).kind == "n" else None
    elif cur.peek().kind != "o":
        cur.at = here
        return None
    numbers: list[int] = []
    ranges = 0
    while True:
        n = _row_number(cur)
        if n is None:
            break
        at = cur.at
        if cur.take("-", "to", "through", "thru", "--") is not None:
            skip(cur, "the", *ROW_WORDS)
            last = _row_number(cur)
            if last is None:
                cur.at = at
                numbers.append(n)
                break
            if not numbers and not ranges and cur.peek().low not in {",", "and", "&"} or last < n:
                ranges += 1
                rows = RowSet(first=n, last=last, span=cur.span_from(here))
                skip(cur, *(() if noun else ROW_WORDS), "inclusive")
                return rows
            numbers.extend(range(n, min(last, n + 5000) + 1))
        else:
            numbers.append(n)
        at = cur.at
        linked = skip(cur, ",", "and", "&")
        if not linked or cur.peek().kind not in {"n", "o"} or (
            cur.peek(1).low in {"times", "time", "more", "sts", "st", "stitches"}
        ):
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


_POINTING = frozenset("last previous above preceding these those this foregoing both two".split())


def _counted_back(cur: Cursor, ctx: Context) -> RowSet | None:
    """("the" "last" | "these" | "this") NUMBER? ROWS: "last 2 rows", "these two rounds", "this row", "this 8-row pattern"."""
    here = cur.at
    skip(cur, "the")
    pointing = False
    both = False
    while cur.peek().low in _POINTING and not (cur.peek().low == "two" and not pointing):
        if cur.peek().low == "two":
            break
        both = both or cur.peek().low == "both"
        cur.at += 1
        pointing = True
    if not pointing:
        cur.at = here
        return None
    n = parse_number(cur, ctx)
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
        if cur.take("pattern", "patt", "set", "repeat", "rep", "sequence") and n is None:
            back = 0
        if back == 0:
            return RowSet(all=True, span=cur.span_from(here))
        return RowSet(back=back, span=cur.span_from(here))
    cur.at = here
    return None


def _from_row(cur: Cursor) -> RowSet | None:
    """"from" ("1st row" | "row 3" | "beginning" | "the beginning"): all rows from there on."""
    here = cur.at
    if cur.take("from") is None:
        return None
    skip(cur, "the")
    if cur.take("beginning", "start", "commencement", "beg") is not None:
        cur.take(".") if cur.peek(-1).low == "beg" else None
        skip(cur, "again")
        return RowSet(all=True, span=cur.span_from(here))
    first = _one_row(cur)
    if first is None:
        cur.at = here
        return None
    at = cur.at
    if cur.take("to", "through", "thru", "-") is not None:
        last = _one_row(cur) or _row_number(cur)
        if last is not None:
            return RowSet(first=first, last=last, span=cur.span_from(here))
        cur.at = at
    return RowSet(first=first, span=cur.span_from(here))


def _one_row(cur: Cursor) -> int | None:
    """"row 3" | "3rd row" | "the third row"."""
    here = cur.at
    skip(cur, "the")
    if cur.take(*ROW_WORDS) is not None:
        n = _row_number(cur)
    else:
        n = _row_number(cur) if cur.peek().kind == "o" else None
        skip(cur, "pattern")
        if n is not None and cur.take(*ROW_WORDS) is None:
            n = None
    if n is None:
        cur.at = here
    return n


_NAMED = frozenset(
    "dec inc decrease increase decreasing increasing set-up setup setup eyelet cable pattern patt rib plain buttonhole"
    " shaping short lace foundation turning purl knit".split()
)


def _named_rows(cur: Cursor, ctx: Context) -> RowSet | None:
    """"the" NAME ROWS: "the increase row", "dec rnd", "the pattern", and names that the pattern has given."""
    here = cur.at
    skip(cur, "the", "this", "these")
    for n in range(min(6, until_mark(cur, 6)), 0, -1):
        words = " ".join(cur.peek(i).low for i in range(n))
        if words in ctx.row_names and not words[:1].isdigit():
            cur.at += n
            return RowSet(names=(words,), span=cur.span_from(here))
        if words in ctx.called:
            cur.at += n
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


def _forms_pattern(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """ROW-SET ("form" | "set" | "complete") "the"? "pattern": what the rows of a pattern are; it works nothing."""
    here = cur.at
    if cur.peek().low not in ROW_WORDS | {"these", "the", "last", "this", "rows", "those"}:
        return None
    rows = parse_row_set(cur, ctx)
    if rows is None:
        return None
    if cur.take("form", "forms", "set", "sets", "complete", "completes", "make", "makes", "establish", "are", "is",
                "comprise", "compose", "constitute") is None:  # fmt: skip
        cur.at = here
        return None
    skip(cur, "the", "one", "a", "complete", "stitch", "this", "your")
    what = until_mark(cur, 6, frozenset({"and", "throughout"}))
    words = [cur.peek(i).low for i in range(what)]
    if not set(words) & {"pattern", "patt", "patterns", "repeat", "rep", "patt-rep", "row-repeat"}:
        cur.at = here
        return None
    cur.at += what
    skip(cur, "throughout")
    return (RepeatRows(rows=rows, define=True, span=cur.span_from(here)),)


def _begin_again(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """("begin" | "commence" | "start") "again" ("from" | "as at" | "with") ROW: back to that row."""
    here = cur.at
    verb = cur.take("begin", "commence", "recommence", "start", "go")
    if verb is None:
        return None
    again = cur.take("again", "back") is not None or verb.low == "recommence"
    skip(cur, ",")
    if cur.take("from", "at", "as", "with", "to") is None or not again:
        cur.at = here
        return None
    skip(cur, "at", "from", "in")
    if cur.phrase("the? beginning|start|commencement|top"):
        rows = RowSet(all=True)
    else:
        first = _one_row(cur)
        if first is None:
            cur.at = here
            return None
        rows = RowSet(first=first)
    times = parse_times(cur, ctx)
    u: Until | None = parse_until(cur, ctx)
    return (
        RepeatRows(
            rows=rows,
            times=times[0] if times else None,
            said=times[1] if times else Said.OPEN if u is None else Said.TIMES,
            until=u,
            span=cur.span_from(here),
        ),
    )
