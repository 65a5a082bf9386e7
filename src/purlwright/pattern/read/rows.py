"""Rows by the number: "Knit 6 rows", "Work 10 rnds in k2, p2 rib",
"Cont in garter st until piece measures 9 cm".

In: a cursor at the start of a sentence. Out: :class:`WorkRows`. What one row holds is read by ``steps``; when to
stop, by ``until``; rows worked before and worked again, by ``again``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.amounts import (
    ROW_WORDS,
    amount,
    is_unit,
    one,
    parse_side,
    parse_times,
    skip,
    unit_of,
)
from purlwright.pattern.read.fills import parse_ground
from purlwright.pattern.read.numbers import parse_length
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.read.prose import aside_end
from purlwright.pattern.read.until import or_else, parse_ending, parse_until
from purlwright.pattern.tree import (
    Fill,
    InGround,
    InPattern,
    Number,
    Place,
    PlaceKind,
    Side,
    Until,
    Work,
    WorkRows,
    Yarn,
)

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Statement, Step

__all__ = ["parse_go_on", "parse_ground_rows", "parse_work_rows", "whole_row"]

_KNIT = frozenset({"knit", "k"})
_PURL = frozenset({"purl", "p", "pearl", "seam"})
_WORK = frozenset(
    {"work", "do", "make", "cont", "continue", "rib", "knit", "k", "purl", "p", "pearl", "seam"}
)
_MANY = 1_000_000


def whole_row(key: str) -> Fill:
    """A whole row of one stitch."""
    return Fill(body=(Work(stitch=key, count=Number(values=(1,))),), to=Place(kind=PlaceKind.END))


# --- so many rows ----------------------------------------------------------------------------------


def parse_work_rows(cur: Cursor, ctx: Context) -> tuple[Statement, ...] | None:
    """VERB NUMBER "plain"? ROWS IN-WHAT? (("," | "and") VERB NUMBER ROWS "alternately" UNTIL)?."""
    here = cur.at
    led = cur.any_phrase("end|ending|finish|finishing|begin|beginning with", "end off with") is not None
    pair = _pair(cur, ctx, here)
    if pair is not None:
        return pair
    first = _rows_of(cur, ctx, led=led)
    if first is None:
        cur.at = here
        return None
    side = _facing(cur)
    if side is not None:
        first = replace(first, side=side)
    _explained(cur)
    in_turn = _alternating(cur, ctx, first, here)
    if in_turn is not None:
        return (in_turn,)
    u = parse_until(cur, ctx) if first.until is None else None
    if u is not None:
        first = replace(first, until=u)
    else:
        if first.until is None:
            or_else(cur, ctx)
        ending = parse_ending(cur, ctx)
        if ending is not None:
            old = first.until or Until()
            first = replace(
                first,
                until=replace(old, side=ending.side, worked=ending.worked, ending_row=ending.ending_row),
            )
    return (replace(first, span=cur.span_from(here)), *_more_rows(cur, ctx, first))


def _facing(cur: Cursor) -> Side | None:
    """("on" | "from") SIDE: "P 1 row on WS"."""
    here = cur.at
    skip(cur, ",")
    if cur.take("on", "from") is not None:
        side = parse_side(cur)
        if side is not None:
            return side
    cur.at = here
    return None


def _more_rows(cur: Cursor, ctx: Context, first: WorkRows) -> tuple[WorkRows, ...]:
    """(("," | "and") NUMBER ROWS YARN)*, the verb left out: "K 2 rows A, 2 rows B"."""
    out: list[WorkRows] = []
    while True:
        here = cur.at
        if not skip(cur, ",", "and", "then"):
            break
        start = cur.at
        n = amount(cur, ctx)
        unit = cur.take(*ROW_WORDS) if n is not None else None
        more = in_what(cur, ctx) if unit is not None else None
        if n is None or unit is None or not more or not all(isinstance(a, Yarn) for a in more):
            cur.at = here
            break
        base = tuple(a for a in first.body if not isinstance(a, Yarn))
        out.append(WorkRows(body=(*more, *base), rows=n, unit=unit_of(unit.low), span=cur.span_from(start)))
    return tuple(out)


def _pair(cur: Cursor, ctx: Context, here: int) -> tuple[Statement, ...] | None:
    """VERB? NUMBER "plain" "and" NUMBER "purl" "row": "1 plain and 1 pearl row", one after the other."""
    start = cur.at
    skip(cur, "knit", "work", "do")
    out: list[Statement] = []
    while True:
        at = cur.at
        n = amount(cur, ctx)
        kind = cur.take("plain", "purl", "pearl", "purled", "knit")
        if n is None or kind is None:
            break
        body = (whole_row("k" if kind.low in {"plain", "knit"} else "p"),)
        out.append(WorkRows(body=body, rows=n, span=cur.span_from(at)))
        if cur.take("and", ",", "&") is None:
            break
    if len(out) > 1 and cur.take(*ROW_WORDS) is not None:
        unit = unit_of(cur.peek(-1).low)
        return tuple(replace(o, unit=unit, span=cur.span_from(here)) for o in out)  # type: ignore[type-var]
    cur.at = start
    return None


def _rows_of(cur: Cursor, ctx: Context, *, led: bool = False) -> WorkRows | None:
    """VERB? NUMBER ADJECTIVE* ROWS IN-WHAT?: "Knit 6 rows", "P1 rnd", "4 plain rows", "Work 3 more rows
    even".
    """
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
    while cur.peek().low in {"more", "further", "plain", "open", "straight", "purl", "pearl", "knit", "st", "garter", "k", "p",
                             "purled", "knitted", "even", "rib", "single", "complete", "additional",
                             "quite"}:  # fmt: skip
        adjectives.add(cur.next().low)
    side = (
        Side(cur.next().low.upper())
        if cur.peek().low in {"rs", "ws"} and cur.peek(1).low in ROW_WORDS
        else None
    )
    t = cur.peek()
    if not is_unit(t.low) or t.low in {"needles", "pins", "needle", "pin"}:
        cur.at = here + bool(verb)
        return _length_of(cur, ctx, verb, here)
    told = cur.peek(1).low if cur.peek(1).low in {"purled", "pearled", "seamed", "plain", "knitted"} else ""
    if not verb and not told and not led and side is None and not adjectives - {"more"}:
        cur.at = here
        return None
    if cur.peek(1).low in {"-", "of"} and cur.peek(2).low in {"pattern", "each", "every"}:
        cur.at = here
        return None
    cur.at += 1
    skip(cur, "more", "further")
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
    return WorkRows(body=body, rows=rows, unit=unit, side=side, span=cur.span_from(here))


def _length_of(cur: Cursor, ctx: Context, verb: str, here: int) -> WorkRows | None:
    """VERB LENGTH IN-WHAT?: "Work 3 ins even in pattern", "Rib 5 cm", "knit 2 inches"."""
    skip(cur, "another", "about", "a", "further")
    length = parse_length(cur, ctx) if verb and len(verb) > 1 else None
    if (
        length is not None
        and cur.peek(-1).low == "in"
        and cur.peek().low in {"the", "a", "next", "each", "same", "last"}
    ):
        length = None
    if length is None or (not length.values and verb not in {"work", "rib"}):
        cur.at = here
        return None
    at = cur.at
    cur.take(",")
    body = in_what(cur, ctx)
    if body is None:
        cur.at = at
    if not body or all(isinstance(a, Yarn) for a in body):
        base: Step = InPattern()
        if verb in _KNIT | _PURL:
            base = whole_row("k" if verb in _KNIT else "p")
        body = (*(body or ()), base)
    return WorkRows(body=body, until=Until(length=length), span=cur.span_from(here))


def _alternating(cur: Cursor, ctx: Context, first: WorkRows, start: int) -> WorkRows | None:
    """ROWS (("," | "and") ROWS)+ ","? "alternately"? UNTIL?: "knit 1 row, purl 1 row alternately for 6
    rows".
    """
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
    "back and forth", "each way", "backwards and forwards", "backward and forward", "in rows",
    "even in pattern",
    "in pattern", "in patt", "in pattern as set", "in patt as set", "in pattern as established", "as set",
    "as established", "as before", "forward and back", "forwards and backwards", "all round", "around",
    "across",
    "every stitch", "every st", "every|each row|round|rnd", "all rows|rounds|rnds", "quite plain",
    "all knit", "plain knitting",
    "in the same way", "in this|the|that same? way|manner|fashion", "as usual", "as follows",
    "as above|before|directed|described|usual|given|instructed|follows", "as they are",
)  # fmt: skip


def in_what(cur: Cursor, ctx: Context) -> tuple[Step, ...] | None:
    """("in" | "of")? (GROUND | STEPS | "MC" | "pattern") | "even" | "as" STEPS: what those rows are worked
    in.
    """
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
        if cur.peek().low == "(" and cur.peek(1).low in {
            "garter",
            "stockinette",
            "st",
            "stocking",
            "rib",
            "k",
            "knit",
        }:
            cur.at += 1
            closing = ")"
        lead = cur.peek().low
        if lead in ctx.yarns and not found:
            yarn += (Yarn(act="use", colour=cur.next().text, span=cur.span_from(here)),)
            found = True
            continue
        if lead in {"rib", "ribbing"} and _until_here(cur, 1):
            cur.at += 1
            body += (InPattern(span=cur.span_from(here)),)
            found = True
            continue
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
            if cur.phrase("k|knit|p|purl sts|stitches"):
                body += (whole_row("k" if cur.peek(-2).low in _KNIT else "p"),)
                found = True
                continue
            skip(cur, "the", "a", ":", "follows")
        got = _ground_or_steps(cur, ctx, wide=lead in {"in", "of", "as"})
        if got is None or (closing is not None and cur.take(closing) is None):
            cur.at = here
            return (yarn + body) if found else None
        body += got
        found = True
        _explained(cur)


_EXPLAINS = frozenset(
    "k p knit purl row rows round rounds rnd every each and , plain alternately all on rs ws side right wrong ridge ridges garter = the st sts stitch".split()
)


def _explained(cur: Cursor) -> None:
    """EXPLAINED: "stockinette st (K 1 row, P 1 row)": the words in brackets say again what the ground is."""
    if cur.peek().low not in {"(", ","}:
        return
    here = cur.at
    cur.take(",")
    end = aside_end(cur)
    inside = cur.tokens[cur.at + 1 : end - 1] if end > 0 else []
    if (
        inside
        and all(t.kind == "n" or t.low in _EXPLAINS for t in inside)
        and ROW_WORDS.intersection(t.low for t in inside)
    ):
        cur.at = end
    else:
        cur.at = here


def _colour(cur: Cursor, ctx: Context) -> str | None:
    """("in" | "with" | "using") YARN: "in MC", "with A"; the next token must be one of the pattern's
    yarns.
    """
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
        cur.take("rib", "ribbing")
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


_GO_ON = frozenset("work cont continue continuing keep keeping proceed knit purl k p rib working".split())


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
    elif verb not in _GO_ON:
        return None
    else:
        cur.at += 1
        verb = {"k": "knit", "p": "purl"}.get(verb, verb)
        if cur.peek().glued:
            cur.at = here
            return None
    if verb not in {"knit", "purl", "rib", "work", "switch"}:
        at = cur.at
        skip(cur, "on", "to", "work", "working", "knit", "knitting", "going")
        if cur.tokens[at : cur.at] and cur.peek(-1).low in {"knit", "knitting"}:
            verb = "knit"
    body = (_ribbed(cur) if verb == "rib" else None) or in_what(cur, ctx)
    if body is None and not (verb in _MAY_STAND and _until_here(cur)):
        cur.at = here
        return None
    base: Step = InPattern(span=cur.span_from(here))
    if verb == "purl":
        base = replace(whole_row("p"), span=base.span)
    elif verb == "knit":
        base = replace(whole_row("k"), span=base.span)
    if body and not all(isinstance(a, Yarn) for a in body):
        steps = body
    else:
        steps = (*(body or ()), base)
    u = parse_until(cur, ctx) or _about(cur, ctx) or _working_until(cur, ctx)
    if u is None and body is None:
        cur.at = here
        return None
    if u is None and body and verb != "knit" and all(isinstance(a, Yarn) for a in body):
        # "Continue in MC only." works no row
        cur.take("only")
        return body
    if u is None:
        return steps
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
    plain_rows = u.rows is not None and u.side is None and u.ending_row is None
    return (WorkRows(body=steps, rows=u.rows, until=None if plain_rows else u, span=cur.span_from(here)),)


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
    plain = u.rows is not None and u.side is None and u.ending_row is None
    return (WorkRows(body=ground, rows=u.rows, until=None if plain else u, span=cur.span_from(here)),)


_MAY_STAND = frozenset("keep keeping cont continue rib work working knit purl".split())


def _working_until(cur: Cursor, ctx: Context) -> Until | None:
    """WORKING-UNTIL: "Continue in this manner, working to 1 st before gap, until ...": the words between
    say again how.
    """
    here = cur.at
    if cur.peek().low != "," or not cur.peek(1).low.endswith("ing"):
        return None
    for i in range(2, 24):
        low = cur.peek(i).low
        if low in {"", ".", ";", "for"}:
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


def _until_here(cur: Cursor, ahead: int = 0) -> bool:
    return cur.peek(ahead).low in {"to", "for", "until", "till", ","}
