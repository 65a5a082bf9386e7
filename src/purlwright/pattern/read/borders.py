"""A row with other stitches at its ends: "keeping 3 sts in garter st at each edge, purl", "purl, except the
first and last st, which are knitted".

In: a cursor before or after the words of the whole row. Out: its first stitches, what lies between, its last.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeGuard

from msgspec.structs import replace

from purlwright.pattern.read.fills import parse_ground
from purlwright.pattern.read.numbers import ONE, parse_number
from purlwright.pattern.read.places import take_stitch_word
from purlwright.pattern.tree import (
    Action,
    Call,
    Fill,
    InGround,
    InPattern,
    Note,
    Number,
    Place,
    PlaceKind,
    RepeatRows,
    Step,
    Work,
    WorkRows,
    Yarn,
)

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.read.working import Handler, Steps
    from purlwright.pattern.tokens import Cursor
    from purlwright.text import Span

__all__ = ["WORDS", "parse_bordered", "parse_bordered_rows", "take_border"]

_EACH = "at|on each|both|either the? edge|edges|end|ends|side|sides"
_KNITTED = frozenset("knit knitted plain k".split())
_PURLED = frozenset("purl purled pearled seamed p".split())


def parse_bordered(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Bordered := KEPT ","? ("knit" | "purl")

    "keeping 3 sts in garter stitch at each edge, purl"
    """
    from purlwright.pattern.read import steps as reader

    here = cur.at
    if here > 0 and cur.tokens[here - 1].low not in {".", ":", ";"}:
        return None
    edge = _kept(cur, ctx)
    cur.take(",")
    n = edge.count if edge is not None and edge.ground == "garter" else None
    row = reader.parse_step(cur, ctx, depth + 1) if n is not None else None
    if n is None or row is None or len(row) != 1 or not _whole(row[0]):
        cur.at = here
        return None
    return _with_ends(row[0], "k", n, n, cur.span_from(here))


def parse_bordered_rows(cur: Cursor, ctx: Context) -> tuple[Action, ...] | None:
    """BORDERED-ROWS: "keeping" ENDS "in" GROUND "throughout"? "," ROWS: with those ends round each row.

    "Keeping first and last 3 sts in garter st, work rows 3-8 of chart", "Keeping 4 sts at each end in moss
    st, continue in patt until ..."
    """
    from purlwright.pattern.read.openers import parse_one

    here = cur.at
    if cur.peek().low not in {"keeping", "with", "working"}:
        return None
    edge = _kept(cur, ctx)
    cur.any_phrase("throughout", "at all times", "as before|set|established")
    if edge is None or cur.take(",") is None:
        cur.at = here
        return None
    got = parse_one(cur, ctx)
    if got is None or len(got) != 1:
        cur.at = here
        return None
    rows = _rows_with_ends(got[0], edge, cur.span_from(here))
    if rows is None:
        cur.at = here
        return None
    return (rows,)


def _rows_with_ends(a: Action, edge: InGround, span: Span) -> Action | None:
    """The same rows with the stitches of ``edge`` at either end; None where no ends can be put round."""
    edge = replace(edge, span=span)

    def ends(step: Step) -> tuple[Step, ...]:
        return (edge, step, edge)

    to = Place(kind=PlaceKind.END, before=edge.count, span=span)
    match a:
        case RepeatRows() if a.rows.section and a.rows.first and a.until is None:
            if a.times is not None and len(a.times.values) > 1:
                return None
            numbers = range(a.rows.first, (a.rows.last or a.rows.first) + 1)
            calls = [
                Call(name=a.rows.section, row=Number(values=(i,)), to=to, span=span)
                for i in numbers[:_MOST_ROWS]
            ]
            often = 1 if a.times is None else (a.times.values[0] or 1)
            rows = Number(values=(len(calls) * often,))
            return WorkRows(alternate=tuple(ends(c) for c in calls), rows=rows, span=span)
        case WorkRows(alternate=()) if len(a.body) <= 1 and not a.between:
            body = a.body[0] if a.body else InPattern(span=span)
            if isinstance(body, Call | InPattern | InGround | Fill):
                if isinstance(body, Fill) and body.to.kind is not PlaceKind.END:
                    return None
                return replace(a, body=ends(_up_to(body, to)), span=span)
        case Call() | InPattern():
            return WorkRows(body=ends(_up_to(a, to)), rows=ONE, span=span)
        case _:
            pass
    return None


def _up_to(step: Call | InPattern | InGround | Fill, to: Place) -> Step:
    return replace(step, to=to)


_MOST_ROWS = 500


def take_border(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """After a whole row: ", keeping KEPT", ", except" ENDS ", which are" HOW; its ends are put round it."""
    last = out[-1] if out else None
    if isinstance(last, WorkRows) and cur.peek().low in {"keeping", "with", "working"}:
        # "Work 5 rows even keeping 3 sts at each end in garter st"
        here = cur.at
        edge = _kept(cur, ctx)
        rows = _rows_with_ends(last, edge, last.span.cover(cur.span_from(here))) if edge is not None else None
        if rows is None:
            cur.at = here
            return False
        out[-1] = rows
        return True
    if last is None or not _whole(last) or not all(isinstance(a, Note | Yarn) for a in out[:-1]):
        return False
    here = cur.at
    edge = _kept(cur, ctx)
    n = edge.count if edge is not None and edge.ground == "garter" else None
    if n is not None:
        out[-1:] = _with_ends(last, "k", n, n, last.span.cover(cur.span_from(here)))
        return True
    ends = _ends_plain(cur, ctx)
    if ends is not None:
        out[-1:] = _with_ends(last, "k", *ends, last.span.cover(cur.span_from(here)))
        return True
    cur.take("except", "excepting", "save", "but")
    if cur.at == here and cur.peek(-1).low != "but":
        return False
    cur.take("the")
    first = cur.take("first") is not None and cur.take("and", "&") is not None
    cur.take("the")
    n = None
    if cur.take("last") is not None:
        n = parse_number(cur, ctx) or ONE
        take_stitch_word(cur)
        cur.any_phrase("of the? row|round", "of? each row")
    cur.take(",")
    cur.any_phrase("which|these|those is|are|must|should? to? be?", "which|these|to is|are|be?", "being")
    how = cur.peek().low
    if n is None or how not in _KNITTED | _PURLED:
        cur.at = here
        return False
    cur.at += 1
    stitch = "k" if how in _KNITTED else "p"
    out[-1:] = _with_ends(last, stitch, n if first else None, n, last.span.cover(cur.span_from(here)))
    return True


def _ends_plain(cur: Cursor, ctx: Context) -> tuple[Number, Number] | None:
    """ENDS-PLAIN: "keeping" "the"? "first" N "and" "last" N "sts"? ("plain" | "in garter st"): both
    knitted.
    """
    here = cur.at
    if cur.take("keeping", "with", "knitting", "working") is None:
        return None
    knitted = cur.peek(-1).low == "knitting"
    cur.take("the")
    first = (parse_number(cur, ctx) or ONE) if cur.take("first") is not None else None
    take_stitch_word(cur)
    linked = cur.take("and", "&") is not None
    cur.take("the")
    n = (parse_number(cur, ctx) or ONE) if linked and cur.take("last") is not None else None
    take_stitch_word(cur)
    cur.any_phrase("of the? row", "of each row")
    plain = cur.any_phrase("plain", "in garter st|stitch?", "knit|knitted", "in knit|plain") or knitted
    if first is None or n is None or not plain or cur.peek().low not in {"", ".", ",", ";", "("}:
        cur.at = here
        return None
    return first, n


def _kept(cur: Cursor, ctx: Context) -> InGround | None:
    """KEPT: "keeping" ("the first and last" N "sts" "in" GROUND | N "sts in" GROUND "at each edge")."""
    here = cur.at
    if ctx.round or cur.take("keeping", "with", "working") is None:
        return None
    both = cur.phrase("the? first and|& the? last")
    n = parse_number(cur, ctx)
    if n is None or not take_stitch_word(cur):
        cur.at = here
        return None
    each = both or cur.phrase(_EACH)
    ground = parse_ground(cur, ctx) if cur.take("in") is not None else None
    edge = ground[0] if ground is not None and len(ground) == 1 else None
    if (
        isinstance(edge, InGround)
        and edge.count is None
        and _to_the_end(edge.to)
        and (each or cur.phrase(_EACH))
    ):
        return replace(edge, count=n, to=None)
    cur.at = here
    return None


def _to_the_end(to: Place | None) -> bool:
    """Whether a place is the end of the row: "in garter st throughout"."""
    return to is None or (to.kind is PlaceKind.END and to.before is None)


def _whole(step: Action) -> TypeGuard[Fill]:
    """Whether one stitch is worked from here to the end of the row."""
    return (
        isinstance(step, Fill)
        and step.to.kind is PlaceKind.END
        and step.to.before is None
        and len(step.body) == 1
        and isinstance(step.body[0], Work)
        and step.body[0].count.values == (1,)
    )


def _with_ends(row: Fill, stitch: str, first: Number | None, last: Number, span: Span) -> tuple[Step, ...]:
    between = replace(row, to=replace(row.to, before=last), span=span)
    begin = () if first is None else (Work(stitch=stitch, count=first, span=span),)
    return (*begin, between, Work(stitch=stitch, count=last, span=span))


_KEEP = (parse_bordered,)
WORDS: dict[str, tuple[Handler, ...]] = {"keeping": _KEEP, "with": _KEEP, "working": _KEEP}
