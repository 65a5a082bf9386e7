"""Going on: "Cont in garter st until piece measures 9 cm", "Knit every row until ...", "1x1 rib for 3 cm".

In: a cursor at such a verb or the name of a fabric. Out: :class:`WorkRows`, or the steps of a row when no
stop is said.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.amounts import (
    ROW_WORDS,
    amount,
    rounds_said,
    skip,
    unit_of,
    until_here,
    until_mark,
)
from purlwright.pattern.read.fills import parse_ground
from purlwright.pattern.read.inwhat import in_what, said_even, whole_row
from purlwright.pattern.read.numbers import parse_length
from purlwright.pattern.read.stretch import stretch_ahead
from purlwright.pattern.read.until import parse_until
from purlwright.pattern.tree import InGround, InPattern, Note, Number, Shaping, Unit, Until, WorkRows, Yarn

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Statement, Step

__all__ = ["parse_go_on", "parse_ground_rows"]


_GO_ON = frozenset("work cont continue continuing keep keeping proceed knit purl k p rib working".split())


_PIECES = frozenset("heel foot leg ankle body sleeve cuff hand thumb border band top crown flap welt".split())
_PIECE_IN = frozenset("in plain for until till".split())
_ON_TILL = frozenset("for until till plain in as".split())


def parse_go_on(cur: Cursor, ctx: Context) -> tuple[Statement | Step, ...] | None:
    """("work" | "cont" | "keep" | "knit") "on"? "even"? ("in" GROUND | "as set")? UNTIL?: "Cont in garter
    st until ...".
    """
    here = cur.at
    verb = cur.peek().low
    if verb in {"switch", "change", "changing", "switching"}:
        # "switch to 3x1 rib until ..." names a fabric; "change to larger needles" does not
        if not cur.phrase("switch|change|changing|switching back? to"):
            return None
        cur.take("working")
        cur.take("in")
        verb = "switch"
    elif verb in {"begin", "start"} and cur.peek(1).low in {"working", "knitting"}:
        cur.at += 2
        verb = "work"
    elif verb == "carry" and cur.peek(1).low == "on":
        cur.at += 2
        verb = "continue"
    elif verb not in _GO_ON:
        return None
    elif cur.at == here:
        cur.at += 1
        verb = {"k": "knit", "p": "purl"}.get(verb, verb)
        if cur.peek().glued:
            cur.at = here
            return None
        if cur.any_phrase("the? piece even|straight|plain"):
            cur.at -= 1  # "Knit piece even in main colour until ..."
        if cur.peek().low == "the" and cur.peek(1).low in _PIECES and cur.peek(2).low in _PIECE_IN:
            # "knit the foot plain for five inches"
            cur.at += 2
    if verb in {"knit", "purl", "work"} and cur.peek().low == "on" and cur.peek(1).low in _ON_TILL:
        cur.at += 1
    if verb not in {"knit", "purl", "rib", "work", "switch"}:
        at = cur.at
        skip(cur, "on", "to", "work", "working", "knit", "knitting", "going")
        if cur.tokens[at : cur.at] and cur.peek(-1).low in {"knit", "knitting"}:
            verb = "knit"
    if verb in {"knit", "purl"} and (one := _one_row(cur, verb, here)) is not None:
        return (one,)
    if verb in {"knit", "purl", "work"} and cur.peek().low in {"them", "these", "those"}:
        if cur.peek(1).low in {"back", "backward", "backwards", "forwards", "plain"}:
            cur.at += 1
    body = (_ribbed(cur) if verb == "rib" else None) or in_what(cur, ctx)
    if body is None and not (verb in _MAY_STAND and until_here(cur)):
        cur.at = here
        return None
    if body == () and cur.peek(-1).low == "follows" and cur.peek().low in {"", ".", ":", ";"}:
        # "Working on these sts only, work as follows:" only leads to the rows under it
        span = cur.span_from(here)
        return (Note(words=" ".join(t.text for t in cur.tokens[here : cur.at]), span=span),)
    base: Step = InPattern(how=said_even(cur, here), span=cur.span_from(here))
    if verb == "purl":
        base = replace(whole_row("p"), span=base.span)
    elif verb == "knit":
        base = replace(whole_row("k"), span=base.span)
    if body and not all(isinstance(a, Yarn) for a in body):
        steps = body
    else:
        steps = (*(body or ()), base)
    shaped = _shaping_on(cur, ctx, here) if body is not None else None
    if shaped is not None:
        return shaped
    u = parse_until(cur, ctx) or _about(cur, ctx) or _working_until(cur, ctx)
    if u is None and cur.peek(-1).low in {"forth", "forwards", "forward", "back"}:
        u = _rows_after(cur, ctx)
    if u is None and body is None:
        cur.at = here
        return None
    if u is None and body and verb != "knit" and all(isinstance(a, Yarn) for a in body):
        # "Continue in MC only." works no row
        cur.take("only")
        return body
    if u is None:
        return (replace(steps[0], span=cur.span_from(here)), *steps[1:]) if len(steps) == 1 else steps
    if (
        body is None
        and verb in {"knit", "purl"}
        and (u.things or "").startswith(("all st", "every st", "no st"))
    ):
        return (replace(base, span=cur.span_from(here)),)
    if body is None and verb in {"knit", "purl"} and u.stitches is not None:
        # "knit until 3 sts remain" stops within the row
        cur.at = here
        return None
    plain_rows = u.rows is not None and u.side is None and u.ending_row is None and not u.edge
    unit = rounds_said(cur, u.span)
    return (
        WorkRows(
            body=steps, rows=u.rows, unit=unit, until=None if plain_rows else u, span=cur.span_from(here)
        ),
    )


def _one_row(cur: Cursor, verb: str, here: int) -> WorkRows | None:
    """ONE-ROW: "once around" "plain"?, "the 4th row": that one row or round from end to end."""
    at = cur.at
    unit = None
    if cur.phrase("once around|round plain?"):
        unit = Unit.ROUND
    elif cur.phrase("the?") and cur.peek().kind == "o" and cur.peek(1).low in {"row", "round", "rnd"}:
        unit = unit_of(cur.peek(1).low)
        cur.at += 2
        cur.take("plain")
    if unit is None or cur.peek().low not in {"", ".", ",", ";", "("}:
        cur.at = at
        return None
    one = Number(values=(1,))
    return WorkRows(body=(whole_row(verb[0]),), rows=one, unit=unit, span=cur.span_from(here))


def _rows_after(cur: Cursor, ctx: Context) -> Until | None:
    """ROWS-AFTER: "40 rows", after "backwards and forwards"."""
    at = cur.at
    n = amount(cur, ctx)
    if n is None or cur.take(*ROW_WORDS) is None:
        cur.at = at
        return None
    return Until(rows=n, span=cur.span_from(at))


def _shaping_on(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """SHAPING-ON: "in this way", "narrowing on every fourth round" UNTIL: shaping told as how one goes on."""
    from purlwright.pattern.read.shaping import parse_shaping

    at = cur.at
    skip(cur, ",", "and")
    if cur.peek().low in {"cabling", "crossing", "twisting"}:  # that goes on as set too
        cur.at += until_mark(cur, 12, frozenset({"and", "until", "till"}))
        skip(cur, ",", "and")
    if cur.peek().low in {"narrowing", "decreasing", "increasing", "widening"}:
        got = parse_shaping(cur, ctx)
        if got is not None and len(got) == 1 and isinstance(got[0], Shaping):
            one = got[0]
            if one.until is None and one.times is None:
                skip(cur, ",")
                u = parse_until(cur, ctx)
                one = replace(one, until=u)
            if one.until is not None or one.times is not None:
                return (replace(one, span=cur.span_from(here)),)
    cur.at = at
    return None


def _ribbed(cur: Cursor) -> tuple[Step, ...] | None:
    """RIBBED: "2 x 2", "1x1", "k2, p2" after "rib": the rib by its size."""
    from purlwright.stitches.load import grounds

    here = cur.at
    if cur.peek().kind != "n":
        return None
    text = ""
    for _ in range(4):
        t = cur.peek()
        if t.kind != "n" and t.low not in {"x", "/", "by"} and not t.low.startswith("x"):
            break
        text += cur.next().low
        found = grounds().find(text + " rib") if len(text) > 2 else None
        if found is not None:
            return (InGround(ground=found.key, readings=tuple(found.readings), span=cur.span_from(here)),)
    cur.at = here
    return None


def parse_ground_rows(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """GROUND ("for"? NUMBER ROWS | UNTIL): "1x1 rib for 3 cm", "Seed st 6 rows", "Garter stitch for 10
    rows".
    """
    here = cur.at
    ground = parse_ground(cur, ctx)
    if ground is None:
        return None
    cur.take("rib", "ribbing", "pattern", "patt")
    u = parse_until(cur, ctx)
    if u is None:
        n = amount(cur, ctx)
        unit = cur.take(*ROW_WORDS) if n is not None else None
        if n is None or unit is None:
            cur.at = here
            return None
        return (WorkRows(body=ground, rows=n, unit=unit_of(unit.low), span=cur.span_from(here)),)
    plain = u.rows is not None and u.side is None and u.ending_row is None and not u.edge
    unit_said = rounds_said(cur, u.span)
    return (
        WorkRows(
            body=ground, rows=u.rows, unit=unit_said, until=None if plain else u, span=cur.span_from(here)
        ),
    )


_MAY_STAND = frozenset("keep keeping cont continue rib work working knit purl".split())


_DOES_MORE = frozenset(
    "decreasing increasing narrowing widening dec inc making placing binding casting".split()
)
"""Words that say more of the rows than how one goes on: they are not passed over."""


def _working_until(cur: Cursor, ctx: Context) -> Until | None:
    """WORKING-UNTIL: "Continue in this manner, working to 1 st before gap, until ...": the words between
    say again how.
    """
    here = cur.at
    if cur.peek().low != "," or not cur.peek(1).low.endswith("ing") or stretch_ahead(cur, ctx):
        return None
    for i in range(2, 24):
        low = cur.peek(i).low
        if low in {"", ".", ";", "for"} or low in _DOES_MORE:
            return None
        if low in {"until", "till"}:
            cur.at += i
            found = parse_until(cur, ctx)
            if found is None:
                cur.at = here
            return found
    return None


def _about(cur: Cursor, ctx: Context) -> Until | None:
    """ABOUT: "about 3 cm", the "for" left out."""
    here = cur.at
    if cur.take("about", "approx", "approximately") is None:
        return None
    length = parse_length(cur, ctx)
    if length is None:
        cur.at = here
        return None
    return Until(length=length, span=cur.span_from(here))
