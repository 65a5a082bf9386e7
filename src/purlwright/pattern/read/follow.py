"""What may only follow something: "until ..." after steps, "ending with a WS row" after rows, a bare
"repeat".

In: a cursor after something was read, and what was read. Out: whether it was taken; the list is changed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace as changed

from purlwright.pattern.read.amounts import amount, is_unit, parse_times, rounds_said, skip
from purlwright.pattern.read.direction import take_over
from purlwright.pattern.read.inwhat import across
from purlwright.pattern.read.openers import statement
from purlwright.pattern.read.places import PLACE_WORDS, parse_place
from purlwright.pattern.read.shaping import beside
from purlwright.pattern.read.until import parse_ending, parse_until
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import (
    Action,
    Again,
    Arrange,
    AtSameTime,
    BindOff,
    CastOn,
    Close,
    Gather,
    Hold,
    InGround,
    InPattern,
    JoinRound,
    Note,
    PlaceKind,
    Rejoin,
    Repeat,
    RepeatRows,
    Resume,
    RowSet,
    Said,
    Shaping,
    Stated,
    Turn,
    Unread,
    Until,
    WorkRows,
)

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context

__all__ = ["STATEMENTS", "again", "bare_repeat", "run_beside"]


STATEMENTS = (
    WorkRows,
    RepeatRows,
    Shaping,
    Again,
    AtSameTime,
    JoinRound,
    Arrange,
    Rejoin,
    Resume,
    Close,
    Gather,
)


_NO_ROW = (Unread, Stated, Turn, BindOff, CastOn, Hold, Note)


_REPEATING = (WorkRows, RepeatRows, Shaping, Again, AtSameTime)


def bare_repeat(cur: Cursor, ctx: Context, out: list[Action]) -> bool:
    """("repeat" | "rep") (UNTIL | HOW-OFTEN)?, with nothing said to be repeated: the steps before it, or
    the rows.
    """
    here = cur.at
    t = cur.take("repeat", "rep", "repeating")
    if t is None and cur.peek().low == "do" and cur.phrase("do this|these|so|the same? same?"):
        t = cur.tokens[here]
        if cur.peek().low in {"", ".", ","}:
            cur.at = here
            return False
    if (
        t is None
        and cur.peek().low in {"continue", "proceed"}
        and cur.peek(2).low in {"till", "until", "for"}
    ):
        if cur.phrase("continue|proceed this|these|so|thus"):
            t = cur.tokens[here]
    if t is None:
        return False
    cur.take(".") if t.low == "rep" and cur.peek().glued else None
    cur.any_phrase(
        "the same ,? alternately? ,?",
        "these|this|the two|three|four|five|six|2|3|4|5|6|8|10|12 stitches|sts",
        "these|this|the stitches|sts|directions|direction|instructions",
        "this",
        "from the? beginning|commencement|start of? the? row|round?",
    )
    u = parse_until(cur, ctx)
    times = parse_times(cur, ctx) if u is None else None
    place = parse_place(cur, ctx) if u is None and times is None and cur.peek().low in PLACE_WORDS else None
    if place is not None and place.kind is not PlaceKind.END:
        cur.at = here
        return False
    if u is None and times is None:
        cur.phrase("as desired|required|needed|often") or cur.phrase("as often as desired|required|needed")
    if u is None and times is None and place is None and cur.peek().low not in {"", ".", ";", ","}:
        cur.at = here
        return False
    said = times[1] if times is not None else Said.TIMES if u is not None else Said.OPEN
    if place is not None:
        said = Said.TO
    number = times[0] if times is not None else None
    first = len(out)
    while first > 0 and not isinstance(out[first - 1], STATEMENTS):
        first -= 1
    body = out[first:]
    turns = sum(isinstance(a, Turn) for a in body)
    span = cur.span_from(here)
    if not body or turns:
        back = turns + (not isinstance(body[-1], Turn)) if body else 0
        rows = RowSet(back=back, span=t.span) if back else RowSet(all=True, span=t.span)
        out.append(RepeatRows(rows=rows, times=number, said=said, until=u, span=span))
        return True
    span = body[0].span.cover(span)
    if u is not None:
        whole: Action = Repeat(body=tuple(body), said=Said.OPEN, mark="", star=True, span=span)  # type: ignore[arg-type]
        out[first:] = [WorkRows(body=(whole,), until=u, span=span)]  # type: ignore[arg-type]
    else:
        out[first:] = [
            Repeat(body=tuple(body), times=number, to=place, said=said, mark="", star=True, span=span)  # type: ignore[arg-type]
        ]
    return True


def again(cur: Cursor, ctx: Context, out: list[Action], since: int) -> bool:
    """What may only follow something: UNTIL after steps makes rows of them; "ending with a WS row" after
    rows.
    """
    here = cur.at
    if not out and cur.peek().low in {"until", "till"}:
        u = parse_until(cur, ctx)
        if u is not None:
            rows = RowSet(all=True, span=u.span)
            out.append(RepeatRows(rows=rows, until=u, span=u.span))
            return True
    cur.any_phrase(
        "knitting|working|worked? in the? round|rounds",
        "knitting|working|worked? back and forth",
        "forward and back",
        "backwards and forwards",
        "in rows",
        "in rib|ribbing",
        "alternately all? round?",
        "all round",
        "in? every|each row|round|rnd",
        "only",
    )
    ribbed = cur.peek(-1).low in {"rib", "ribbing"} and cur.at > here
    at = cur.at
    over, part = take_over(cur, ctx)
    some: tuple[Action, ...] = (Resume(over=over, part=part, span=cur.span_from(at)),) if part else ()
    cur.any_phrase("on|over these|the|those stitches|sts|needles only|alone?")
    if (
        not some
        and cur.peek().low in {"on", "over"}
        and cur.peek(2).value is not None
        and cur.peek(2).low != "one"
    ):
        at = cur.at
        cur.at += 2
        amount(cur, ctx)
        if not cur.phrase("heel|instep|remaining|centre|middle? stitches|sts only|alone?"):
            cur.at = at
    skip(cur, ",")
    u = parse_until(cur, ctx)
    if u is None and out and isinstance(out[-1], InGround | InPattern):
        u = _plain_rows(cur, ctx)
    if u is not None and out:
        last = out[-1]
        if isinstance(last, Resume):
            count = u.rows if _only_rows(u) else None
            ground = (InPattern(how="rib", span=u.span),) if ribbed else (InPattern(span=u.span),)
            out.extend(some)
            out.append(WorkRows(body=ground, rows=count, until=None if count else u, span=u.span))
            return True
        if isinstance(last, (WorkRows, RepeatRows, Shaping)) and last.until is None and since == len(out):
            out[-1:] = [*some, changed(last, until=u, span=last.span.cover(u.span))]
            return True
        first = len(out)
        while first > since and not isinstance(out[first - 1], (*STATEMENTS, *_NO_ROW)):
            first -= 1
        body = out[first:]
        if body:
            span = body[0].span
            for a in body:
                span = span.cover(a.span)
            out[first:] = [
                *some,
                WorkRows(
                    body=across(tuple(body)),  # type: ignore[arg-type]
                    until=None if _only_rows(u) else u,
                    rows=u.rows,
                    unit=rounds_said(cur, u.span),
                    span=span.cover(u.span),
                ),
            ]
            return True
    cur.at = here
    ending = parse_ending(cur)
    if ending is not None:
        for i in range(len(out) - 1, -1, -1):
            last = out[i]
            if isinstance(last, AtSameTime):
                return True
            if isinstance(last, (WorkRows, RepeatRows, Shaping)):
                old = last.until or Until()
                u = changed(
                    old,
                    side=ending.side,
                    worked=ending.worked,
                    ending_row=ending.ending_row,
                    edge=ending.edge,
                )
                out[i] = changed(last, until=u, span=last.span.cover(ending.span))
                return True
            if not isinstance(last, Note | Stated):
                break
    cur.at = here
    return False


def _plain_rows(cur: Cursor, ctx: Context) -> Until | None:
    """ROWS: "6 rows", straight after the name of a ground."""
    here = cur.at
    n = amount(cur, ctx)
    if n is None or not is_unit(cur.peek().low):
        cur.at = here
        return None
    cur.at += 1
    return Until(rows=n, span=cur.span_from(here))


def _only_rows(u: object) -> bool:
    return (
        getattr(u, "rows", None) is not None
        and getattr(u, "side", None) is None
        and getattr(u, "ending_row", None) is None
    )


def _whole_row(a: Action) -> bool:
    """Whether a step works a row to its end: "as set", "in garter stitch"."""
    return isinstance(a, InPattern | InGround) and a.count is None and a.to is None


def run_beside(cur: Cursor, ctx: Context, out: list[Action], here: int, *, in_row: bool) -> None:
    """SAME-TIME STATEMENT: it runs beside the statement before it, or beside what the lines before say.

    "Continue as set, at the same time inc 1 st each end of every 4th row" is no one row.
    """
    at = cur.at
    got = statement(cur, ctx)
    if got is None or not all(isinstance(a, _REPEATING) for a in got):
        cur.at = at
        return
    i = len(out) - 1
    while i >= 0 and isinstance(out[i], Note | Stated):
        i -= 1
    if i >= 0 and isinstance(out[i], _REPEATING):
        out[i] = beside(out[i], got)  # type: ignore[arg-type]
    elif i == 0 and not in_row and _whole_row(out[i]):
        main = WorkRows(body=(out[i],), span=out[i].span)  # type: ignore[arg-type]
        out[i] = beside(main, got)  # type: ignore[arg-type]
    else:
        out.append(AtSameTime(parts=got, span=cur.span_from(here)))  # type: ignore[arg-type]
