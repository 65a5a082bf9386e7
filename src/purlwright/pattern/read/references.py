"""Rows worked as other rows, and charts and stitch patterns called by name.

In: a cursor at "as row 2", "same as", "like", "rep row 4", "work row 3 of chart A". Out: ``RowRef``,
``Call``.
"Rep rows 1-4" runs over rows and is a statement.
"""

from __future__ import annotations

from msgspec.structs import replace as changed

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import LARGEST, parse_number
from purlwright.pattern.read.places import parse_place, take_stitch_word
from purlwright.pattern.read.working import Handler, Steps
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import Call, Number, PlaceKind, RowRef, Unit

__all__ = ["WORDS", "parse_call", "parse_called_name", "parse_reference"]

_UNITS = {
    "row": Unit.ROW,
    "rows": Unit.ROW,
    "rnd": Unit.ROUND,
    "round": Unit.ROUND,
    "rounds": Unit.ROUND,
    "rnds": Unit.ROUND,
    "needle": Unit.ROW,
    "r": Unit.ROW,
}


def _row(cur: Cursor, ctx: Context, here: int, *, bare: bool) -> Steps | None:
    """Row := ("row" | "rnd") number | ordinal ("row" | "rnd")? | name ("row" | "rnd")"""
    cur.any_phrase("for|in|on|of the?", "the|of|for|at|in")
    cur.take("the")
    t = cur.peek()
    one = cur.peek(1)
    if t.low in _UNITS and isinstance(one.value, int) and one.kind == "n":
        if cur.peek(2).low in {"and", "to", "-", "&", "through", "thru", "x"} and cur.peek(3).kind == "n":
            return None
        if cur.peek(2).low in {"times", "more"}:
            return None
        cur.at += 2
        return (RowRef(number=min(one.value, LARGEST), unit=_UNITS[t.low], span=cur.span_from(here)),)
    if t.kind == "o" and isinstance(t.value, int):
        cur.next()
        unit = _UNITS.get(cur.peek().low)
        if unit is not None:
            cur.next()
        elif not bare and cur.peek().kind not in {"p", ""}:
            return None
        cur.take(".") if cur.peek(1).low == "," else None
        return (RowRef(number=min(t.value, LARGEST), unit=unit, span=cur.span_from(here)),)
    if t.kind == "n" and isinstance(t.value, int) and bare and one.kind in {"p", ""}:
        cur.next()
        return (RowRef(number=min(t.value, LARGEST), span=cur.span_from(here)),)
    if t.low in {"previous", "last", "prev", "preceding"} and one.low in _UNITS:
        cur.at += 2
        return (RowRef(name="previous", unit=_UNITS[one.low], span=cur.span_from(here)),)
    words: list[str] = []
    at = cur.at
    for _ in range(4):
        u = cur.peek()
        if u.kind not in {"w", "s"}:
            break
        words.append(u.low)
        cur.next()
        name = " ".join(words)
        if name in ctx.row_names or (
            u.low in _UNITS
            and len(words) > 1
            and words[0]
            in {
                "dec",
                "inc",
                "decrease",
                "increase",
                "eyelet",
                "buttonhole",
                "set-up",
                "setup",
                "lace",
                "cable",
            }
        ):
            if cur.peek().low in _UNITS:
                cur.next()
            return (RowRef(name=name, unit=_UNITS.get(u.low), span=cur.span_from(here)),)
    cur.at = at
    return None


def parse_reference(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Reference := ("as" | "same as" | "like" | "rep" | "repeat" | "work") "for"? row | "the same"

    "as row 2", "same as 3rd row", "like 5th", "rep row 4", "work as row 6", "the same"
    """
    del depth
    here = cur.at
    t = cur.next()
    if t.low == "the":
        if not cur.phrase("same"):
            cur.at = here
            return None
    elif t.low == "work" and not cur.any_phrase("the? same? as", "as|like"):
        cur.take("as", "like")
    if t.low in {"same", "the", "exactly"}:
        cur.take("same")
        if cur.take("as", "like") is None:
            if cur.peek().kind not in {"p", ""} or t.low == "exactly":
                cur.at = here
                return None
            return (RowRef(name="previous", span=cur.span_from(here)),)
    cur.take("for", "in", "on", "like")
    found = _row(cur, ctx, here, bare=t.low not in {"rep", "repeat", "work"})
    if found is None:
        cur.at = here
        return None
    return _as_far(cur, ctx, here, found)


def _as_far(cur: Cursor, ctx: Context, here: int, found: Steps) -> Steps:
    """AS-FAR: "to last 6 sts", "to marker", after a row that is worked again: only so much of it."""
    at = cur.at
    ref = found[0]
    again = cur.tokens[here].low in {"rep", "repeat"}  # "rep row 2 to last 6 sts" may be said of many rows
    if again or not isinstance(ref, RowRef) or cur.peek().low != "to":
        return found
    place = parse_place(cur, ctx)
    if place is None or (place.kind is PlaceKind.END and place.before is None):
        cur.at = at
        return found
    return (changed(ref, to=place, span=cur.span_from(here)),)


def parse_call(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Call := ("work" | "follow" | "foll" | "as" ...)? ("row" number "of")? ("chart" | "panel") name?
    ("over" number | place)?

    "work row 3 of chart A over 13 sts", "follow chart B", "work chart over next 12 sts", "row 5 of lace
    panel"
    """
    del depth
    here = cur.at
    cur.any_phrase("work|follow|foll|following|working|knit|begin|beginning|start|continue|cont|as|k")
    cur.any_phrase("in|with|from|across|following the?", "the")
    row: Number | None = None
    following = cur.any_phrase("next|following row|rnd|round|line of|from|on the?")
    if following is None and cur.take("row", "rnd", "round", "rows", "line"):
        row = parse_number(cur, ctx)
        if row is None or cur.any_phrase("of|from|on the?") is None:
            cur.at = here
            return None
    elif (
        following is None and cur.peek().kind == "o" and cur.peek(1).low in _UNITS and cur.peek(2).low == "of"
    ):
        nth = cur.next()
        row = Number(values=(int(min(nth.value or 1, LARGEST)),), span=nth.span)
        cur.at += 2
        cur.take("the")
    cur.take("next") if following is None and row is None else None
    name = parse_called_name(cur, ctx)
    if name is None:
        cur.at = here
        return None
    if row is None and cur.any_phrase(",? row|rnd|round|line"):
        row = parse_number(cur, ctx)
    over: Number | None = None
    place = None
    at = cur.at
    if cur.any_phrase(
        "over|across|on|for the? next|first|centre|center|last|rem|remaining?",
        ",? worked over|across|on the? next|first|centre|center|last|rem|remaining?",
    ):
        over = parse_number(cur, ctx)
        if over is None or cur.peek().low in {*_UNITS, "more", "times"}:
            over = None
            cur.at = at
        else:
            take_stitch_word(cur)
    if over is None:
        place = parse_place(cur, ctx)
    if over is None and place is None and cur.take("("):
        over = parse_number(cur, ctx)
        if over is None or not take_stitch_word(cur) or cur.take(")") is None:
            over = None
            cur.at = at
    return (Call(name=name, row=row, over=over, to=place, span=cur.span_from(here)),)


def parse_called_name(cur: Cursor, ctx: Context) -> str | None:
    """Name := a name the file has, "chart"? | "chart" letter-or-number? | word ("chart" | "panel")"""
    best = 0
    found: str | None = None
    words = ""
    for i in range(5):
        t = cur.peek(i)
        if t.kind not in {"w", "s", "n", "o"}:
            break
        words += t.low if t.glued or not words else " " + t.low
        if words in ctx.called:
            best, found = i + 1, ctx.called[words]
    if found is not None:
        cur.at += best
        cur.take("chart", "pattern", "panel")
        return found
    if cur.take("chart", "charts", "graph", "diagram") is not None:
        t = cur.peek()
        counts = t.kind == "n" and cur.peek(1).low in {"times", "time", "more", "sts", "stitches"}
        if t.kind in {"n", "w", "s"} and (len(t.text) == 1 or t.text.isdigit()) and not counts:
            cur.next()
            return f"chart {t.text}"
        return "chart"
    one = cur.peek(1)
    if (
        cur.peek().kind in {"w", "s"}
        and one.low in {"chart", "panel", "graph"}
        and cur.peek().low not in {"the", "of", "in", "and"}
    ):
        name = f"{cur.peek().text} {one.text}"
        cur.at += 2
        return name
    return None


def parse_chart_row(cur: Cursor, ctx: Context) -> Steps | None:
    """chart-row := call with a row, a number of stitches or a place, no times after it

    "work row 1 of chart B over 14 sts", "Work next rnd of the pod chart over 4 sts", "work in chart A to m"
    """
    here = cur.at
    found = parse_call(cur, ctx)
    if found is None:
        return None
    call = found[0]
    said = [t.low for t in cur.tokens[here : cur.at]]
    one = isinstance(call, Call) and (
        call.over is not None or call.to is not None or call.row is not None or "next" in said
    )
    t = cur.peek()
    if not one or "rows" in said or "rnds" in said or "rounds" in said:
        cur.at = here
        return None
    if t.low in {"once", "twice", "until", "for", "to", "-", "and", "times"} and not (
        t.low == "and" and cur.peek(1).kind != "n"
    ):
        cur.at = here
        return None
    if t.kind == "n" or t.value is not None:
        cur.at = here
        return None
    return found


_REF = (parse_reference,)
WORDS: dict[str, tuple[Handler, ...]] = {
    "as": (parse_call, parse_reference),
    "same": _REF,
    "like": _REF,
    "rep": _REF,
    "repeat": _REF,
    "the": _REF,
    "exactly": _REF,
    "work": (parse_call, parse_reference),
    "row": (parse_call,),
    "rnd": (parse_call,),
    "round": (parse_call,),
    "follow": (parse_call,),
    "foll": (parse_call,),
    "chart": (parse_call,),
    "knit": (parse_call,),
    "following": (parse_call,),
    "working": (parse_call,),
}
