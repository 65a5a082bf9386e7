"""Rows worked again: "Rep rows 1-4 five more times", "Begin again from the 2nd row", "Rows 1-8 form pattern".

In: a cursor at the start of a sentence. Out: :class:`RepeatRows`. Which rows are meant is read by
``rowset``; a row worked as one other row is a step and left to ``steps``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.amounts import (
    ROW_WORDS,
    one,
    parse_times,
    skip,
    unit_of,
    until_mark,
    words_from,
)
from purlwright.pattern.read.asfor import may_be_as_for, parse_as_for
from purlwright.pattern.read.numbers import parse_number
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.rowset import name_length, parse_one_row, parse_row_set, short_row_ahead
from purlwright.pattern.read.until import or_else, parse_ending, parse_until
from purlwright.pattern.tree import Call, Number, RepeatRows, RowSet, Said, Until, WorkRows

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Statement

__all__ = ["parse_as_rows", "parse_called_rows", "parse_repeat_rows"]

_BEGIN = frozenset({"start", "commence"})
_AGAIN = frozenset("begin follow foll rep repeat repeating repeated work complete reverse knit".split())


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
    elif verb in _AGAIN or verb in _BEGIN:
        cur.at += 1
        cur.take(".") if verb == "rep" else None
    elif verb in ROW_WORDS and bracket is None:
        return _row_so_often(cur, ctx, here)
    elif not (verb in {"these", "those"} and _alternately_ahead(cur)):
        cur.at = here
        return None
    chart = _all_rows(cur, ctx, here)
    if chart is not None and bracket is None:
        return chart
    named = _by_name(cur, ctx) if verb in _AGAIN or verb in _BEGIN else None
    if named is None and verb in _BEGIN:
        cur.at = here
        return None
    if named is not None:
        return _how_often(cur, ctx, named, here, bracket is not None, "chart")
    at, cur.at = cur.at, here
    as_for = parse_as_for(cur, ctx) if may_be_as_for(cur) else None
    if as_for is not None:
        return (as_for,)
    cur.at = at
    if verb == "knit" and here + 1 != cur.at:
        cur.at = here
        return None
    rows = _starred(cur, here) or parse_row_set(cur, ctx)
    if rows is None or (rows.first is not None and rows.last == rows.first and verb not in _AGAIN):
        cur.at = here
        return None
    return _how_often(cur, ctx, rows, here, bracket is not None, verb)


def _row_so_often(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """SO-OFTEN: "row 1 once", "rows 3 and 4 twice": the verb left out, as after "then"."""
    rows = parse_row_set(cur, ctx)
    times = parse_times(cur, ctx) if rows is not None and (rows.first or rows.numbers) else None
    if rows is None or times is None or cur.peek().low not in {"", ".", ","}:
        cur.at = here
        return None
    return (RepeatRows(rows=rows, times=times[0], said=Said.MORE, span=cur.span_from(here)),)


def parse_called_rows(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """ALL-ROWS after a verb: "Work the 4 rows of the chart 3 times", "knit 8 rows of lace pattern"."""
    here = cur.at
    if cur.take("work", "knit", "complete", "rep", "repeat") is None:
        return None
    found = _all_rows(cur, ctx, here)
    if found is None:
        cur.at = here
    return found


def parse_as_rows(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """("as" | "like" | "the"? "same as") "for"? ROW-SET: "Rows 3 and 4: As rows 1 and 2"."""
    here = cur.at
    if cur.any_phrase("the? same as", "as|like") is None:
        return None
    cur.take("for")
    rows = parse_row_set(cur, ctx) if cur.peek().low in {*ROW_WORDS, "the"} else None
    many = rows is not None and (rows.numbers or (rows.first is not None and rows.first != rows.last))
    if rows is None or not many or cur.peek().low not in {"", ".", ";", ",", "(", "["}:
        cur.at = here
        return None
    return (RepeatRows(rows=rows, span=cur.span_from(here)),)


def _all_rows(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """ALL-ROWS: "all 31 rows of pattern", "7 repeats of Chart A, rows 9-24", "8 rows of wave pattern
    twice".
    """
    at = cur.at
    whole = skip(cur, "all", "the")
    n = parse_number(cur, ctx)
    if n is not None and (
        cur.take("patterns", "patts") or cur.any_phrase("full|complete|whole patterns|patts")
    ):
        rows = RowSet(all=True, span=cur.span_from(at))
        return (RepeatRows(rows=rows, times=n, said=Said.IN_ALL, span=cur.span_from(here)),)
    what = cur.take(*ROW_WORDS, "repeats", "reps", "repeat", "times")
    if n is None or what is None or cur.take("of") is None:
        cur.at = at
        return None
    skip(cur, "the", "this")
    m = name_length(cur)
    words = " ".join(cur.peek(i).low for i in range(m))
    if not (
        {"chart", "charts", "pattern", "patt", "panel"}.intersection(words.split()) or words in ctx.called
    ):
        cur.at = at
        return None
    name = " ".join(cur.peek(i).text for i in range(m))
    bare = words.removesuffix(" chart")
    section = ctx.called.get(words) or ctx.called.get(
        bare, name if words not in {"pattern", "patt"} else None
    )
    cur.at += m
    if what.low in ROW_WORDS:
        rows = RowSet(first=1, last=n.at(0) or 1, section=section, span=cur.span_from(at))
        times = parse_times(cur, ctx)
        if times is None and not whole and section is not None:
            # so many rows of it, from where it stands
            call = Call(name=section, span=cur.span_from(at))
            return (WorkRows(body=(call,), rows=n, unit=unit_of(what.low), span=cur.span_from(here)),)
        number = times[0] if times is not None else Number(values=(1,))
        return (RepeatRows(rows=rows, times=number, said=Said.IN_ALL, span=cur.span_from(here)),)
    back = cur.at
    skip(cur, ",")
    named = parse_row_set(cur, ctx)
    if named is None:
        cur.at = back
        named = RowSet(all=True)
    rows = replace(named, section=section, span=cur.span_from(at))
    return (RepeatRows(rows=rows, times=n, said=Said.IN_ALL, span=cur.span_from(here)),)


def _by_name(cur: Cursor, ctx: Context) -> RowSet | None:
    """BY-NAME: "chart A rows 1-20", "chart for rows 1-16", "pattern 5 more times", "Lace Chart twice":
    named, not numbered.
    """
    at = cur.at
    begins = cur.tokens[at - 1].low in {*_BEGIN, "complete", "begin"}
    if begins:
        skip(cur, "to", "work", "working", "following", "in", "from")
    skip(cur, "the", "this")
    name = ""
    for n in range(min(5, until_mark(cur, 5)), 0, -1):
        words = " ".join(cur.peek(i).low for i in range(n))
        if words in ctx.called:
            name = ctx.called[words]
            cur.at += n
            cur.take("chart", "pattern", "panel", "motif")
            break
    else:
        for n in range(4):
            low = cur.peek(n).low
            if low in {"chart", "charts", "pattern", "patt", "motif"}:
                cur.at += n + 1
                t = cur.peek()
                if (
                    low == "chart"
                    and (t.kind == "n" or (len(t.text) == 1 and t.text.isupper()))
                    and (cur.peek(1).low not in {"times", "more"})
                ):
                    cur.at += 1
                name = "" if cur.at - at <= 2 and low != "chart" else words_from(cur, at).removeprefix("the ")
                break
            if cur.peek(n).kind not in {"w", "s"} or low in _NOT_NAMES:
                cur.at = at
                return None
        else:
            cur.at = at
            return None
    here = cur.at
    skip(cur, ",", "for", "from")
    rows = parse_row_set(cur, ctx) if cur.peek().low in ROW_WORDS else None
    if rows is not None:
        return replace(rows, section=name or None, span=cur.span_from(at))
    cur.at = here
    after = cur.peek()
    said = [t.low for t in cur.tokens[at : cur.at]]
    if begins and "chart" in said and after.low in {"", ".", ",", ";", "and"}:
        return RowSet(section=name, all=True, span=cur.span_from(at))
    if after.low not in _AFTER_CHART and after.kind != "n" and after.value is None:
        cur.at = at
        return None
    return RowSet(section=name or None, all=True, span=cur.span_from(at))


_NOT_NAMES = frozenset(
    "in as from row rows last these across to at until rep of with st sts rnd rnds round rounds".split()
)
_AFTER_CHART = frozenset("once twice until till for a again times x to throughout".split())


def _starred(cur: Cursor, here: int) -> RowSet | None:
    """STARRED: "from" STAR "to" STAR at the start of a sentence, stars that stand in lines before: "Repeat
    from ** to ** once".
    """
    at = cur.at
    if here > 0 and cur.tokens[here - 1].low not in {".", ";"}:
        return None
    if cur.take("from") is None:
        return None
    star = cur.take("*", "**", "***")
    alone = star is not None and here == 0 and cur.peek().low in {"until", "till", "for"}
    if star is None or not (alone or (cur.take("to") is not None and cur.take("*", "**", "***") is not None)):
        cur.at = at
        return None
    if any(t.low == star.low for t in cur.tokens[:here]):
        cur.at = at
        return None
    return RowSet(section=star.text, all=True, span=cur.span_from(at))


def _alternately_ahead(cur: Cursor) -> bool:
    return any(cur.peek(i).low in {"alternately", "alternate"} for i in range(2, 5))


_OPEN = Phrases(
    "for the? first|second|third|main? pattern|patt|pat stitch|st?",
    "throughout", "as desired", "for length", "cont throughout",
    "continuously", "as often as desired", "as required",
)  # fmt: skip


_AS_BEFORE = Phrases(
    ", decreasing|increasing|dec|inc|shaping as established|before|set|directed ,?",
    "decreasing|increasing as established|before|set",
    ", working inc|increased sts into pattern|patt ,?", ", keeping pattern correct|as set ,?",
)  # fmt: skip


def _how_often(
    cur: Cursor, ctx: Context, rows: RowSet, here: int, bracket: bool, verb: str
) -> tuple[Statement, ...] | None:
    """What follows the rows named: "]" 7 times, "a total of 3 times, then rows 1-6 once more", "until
    ...".
    """
    if bracket and cur.take("]", ")") is None:
        cur.at = here
        return None
    in_turn = skip(cur, "alternately", "throughout")
    _AS_BEFORE.take(cur)
    alone = rows.first is not None and rows.first == rows.last and rows.section is None and not rows.numbers
    at = cur.at
    skip(cur, ",", "-")
    times = parse_times(cur, ctx)
    if times is None:
        cur.at = at
    elif cur.peek().low in {"around", "across", "along"}:
        cur.at = here  # so many repeats side by side are no rows
        return None
    u = parse_until(cur, ctx)
    if u is None:
        ending = parse_ending(cur)
        if ending is not None:
            u = ending
    if times is None and u is not None:
        at = cur.at
        skip(cur, ",")
        times = parse_times(cur, ctx)
        if times is None:
            cur.at = at
    if times is None and u is None:
        free = _OPEN.take(cur) or ("throughout" if in_turn and rows.back and rows.back > 1 else None)
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
    if times is not None and u is None:
        or_else(cur, ctx)
        _comes_to(cur, ctx, times)
        _rows_in_all(cur, ctx)
    number, said = times if times is not None else (None, Said.TIMES)
    if verb in {"work", "complete"} and said is Said.TIMES and times is not None and rows.back is None:
        said = Said.IN_ALL
    first = RepeatRows(rows=rows, times=number, said=said, until=u, span=cur.span_from(here))
    then = _then(cur, ctx, rows)
    return (first, *then)


def _rows_in_all(cur: Cursor, ctx: Context) -> None:
    """ROWS-IN-ALL: "= 16 rows" "rib"?, after "7 times": what they come to; taken, and not checked."""
    here = cur.at
    if cur.take("=") is None or parse_number(cur, ctx) is None or cur.take(*ROW_WORDS) is None:
        cur.at = here
        return
    skip(cur, "in", "of", "rib", "ribbing", "pattern", "patt", "all", "total")


def _comes_to(cur: Cursor, ctx: Context, times: tuple[Number, Said]) -> None:
    """COMES-TO: "so you have a total of 10 repeats", after "9 more times"; taken if it is so."""
    here = cur.at
    skip(cur, ",")
    if _SO_THAT.take(cur) is None:
        cur.at = here
        return
    total = parse_number(cur, ctx)
    cur.take("repeats", "times", "repetitions", "patterns", "pattern")
    cur.any_phrase("in all", "altogether", "in total")
    number, said = times
    more = 0 if said is Said.IN_ALL else 1
    if total is None or total.values != tuple(None if v is None else v + more for v in number.values):
        cur.at = here


_SO_THAT = Phrases(
    "so that? you? have a? total? of?", "so that? there are", "for a total of", "making a? total? of?"
)


def _one_of_these(cur: Cursor, before: RowSet) -> RowSet | None:
    """ONE-OF-THESE: "the first of these rows", "the 1st of these 2 rows", after "rep last 2 rows 6 times"."""
    here = cur.at
    skip(cur, "the")
    which = cur.take("first", "1st", "second", "2nd", "last")
    if which is not None and before.back and cur.take(*ROW_WORDS) is not None and which.low != "last":
        if cur.peek().low in {"once", "again", "more", "one", ""}:  # "then first row once"
            n = {"second": 2, "2nd": 2}.get(which.low, 1)
            return RowSet(back=before.back, first=n, last=n, span=cur.span_from(here))
        cur.at = here
        return None
    if which is not None and before.back and cur.take("of") is not None:
        skip(cur, "these", "those", "the", "two", "2", "last")
        if cur.take(*ROW_WORDS) is not None:
            n = {"second": 2, "2nd": 2, "last": before.back}.get(which.low, 1)
            return RowSet(back=before.back, first=n, last=n, span=cur.span_from(here))
    cur.at = here
    return None


def _then(cur: Cursor, ctx: Context, before: RowSet) -> tuple[RepeatRows, ...]:
    """("," "then" | "and") ("work" | "rep")? ROW-SET ("once more" | "again")?: "then rows 1-6 once more"."""
    here = cur.at
    skip(cur, ",", ";")
    if cur.take("then", "and") is None:
        cur.at = here
        return ()
    skip(cur, "then", "work", "rep", "repeat", "knit", "end", "with")
    start = cur.at
    rows = _one_of_these(cur, before) or parse_row_set(cur, ctx)
    if rows is None:
        cur.at = here
        return ()
    times = parse_times(cur, ctx)
    number = times[0] if times is not None else one(cur, start)
    u = parse_until(cur, ctx)
    more = RepeatRows(rows=rows, times=number, said=Said.MORE, until=u, span=cur.span_from(start))
    return (more, *_then(cur, ctx, rows))


_FORM = (
    "form forms set sets complete completes make makes establish are is comprise compose constitute".split()
)


def _forms_pattern(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """ROW-SET ("form" | "set" | "complete") "the"? "pattern": what the rows of a pattern are; it works
    nothing.
    """
    here = cur.at
    some = ROW_WORDS | {"these", "the", "last", "this", "those"}
    if not short_row_ahead(cur) and cur.peek().low not in some and cur.peek().kind != "o":
        return None
    rows = parse_row_set(cur, ctx)
    if rows is None:
        return None
    if cur.take(*_FORM) is None:
        cur.at = here
        return None
    skip(cur, "the", "one", "a", "complete", "stitch", "this", "your")
    what = until_mark(cur, 6, frozenset({"and", "throughout"}))
    words = [cur.peek(i).low for i in range(what)]
    if not set(words) & {
        "st",
        "stitch",
        "rib",
        "ribbing",
        "lace",
        "check",
        "pattern",
        "patt",
        "patterns",
        "repeat",
        "rep",
        "patt-rep",
        "row-repeat",
        "pat",
        "panel",
        "motif",
        "cable",
    }:
        cur.at = here
        return None
    cur.at += what
    cur.phrase("and? are|is repeated throughout?") or skip(cur, "throughout")
    return (RepeatRows(rows=rows, define=True, span=cur.span_from(here)),)


def _begin_again(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """("begin" | "commence" | "start") "again" ("from" | "as at" | "with") ROW: back to that row."""
    here = cur.at
    verb = cur.take("begin", "commence", "recommence", "start", "go")
    if verb is None:
        return None
    again = cur.take("again", "back") is not None or verb.low == "recommence"
    skip(cur, ",")
    if cur.take("from", "at", "as", "with", "to", "on", "in") is None or not again:
        cur.at = here
        return None
    skip(cur, "at", "from", "in")
    if cur.phrase("the? beginning|start|commencement|top"):
        rows = RowSet(all=True)
    else:
        first = parse_one_row(cur)
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
