"""Stitches told by whether the row before slipped them.

In: a cursor at "knit the slipped sts", "knit the knit sts and slip the slipped sts". Out: one step that looks
at the needle when it is worked. One slipped stitch ("knit the slipped st") is a stitch like any other, and is
left to ``stitches``.
"""

from __future__ import annotations

from msgspec.structs import replace

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import ONE
from purlwright.pattern.read.places import parse_place
from purlwright.pattern.read.slips import slip_kinds
from purlwright.pattern.read.working import Handler, Steps, key
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import BySlip, Fill, Place, PlaceKind, Work

__all__ = ["WORDS"]

_KNIT_OR_PURL = {"k": "k", "knit": "k", "p": "p", "purl": "p", "pearl": "p"}
_SLIPS = frozenset({"sl", "slip"})
_SLIPPED = (
    "the? same slipped|slip|sl - sts|stitches", "the? same slipped|slip|sl sts|stitches",
    "all the? slipped|slip|sl sts|stitches", "each|every slipped|slip|sl st|stitch",
    "the|those|these slipped|slip|sl sts|stitches|ones", "slipped sts|stitches",
    "all? the|those|all sts|stitches that? were? slipped",
)  # fmt: skip
_ROW_BEFORE = (
    "in|on|of the? previous|prev|preceding|last row|rnd|round",
    "as in|on|of the? previous|last row|rnd|round",
)  # fmt: skip
_OTHERS = (
    "the? others", "the|all? other|remaining|rem sts|stitches|ones", "the? rest",
    "all? the? same sts|stitches", "all? the? same sts|stitches knit|knitted|worked|purled",
    "all|the sts|stitches knit|knitted|worked|purled",
    "all|the sts|stitches that|which were? knit|knitted|worked",
)  # fmt: skip
_FACING = (
    "the? knits", "the? purls", "the? knit|k|knitted sts|stitches", "the? purl|p|purled sts|stitches",
)  # fmt: skip
_TAIL = frozenset({",", ";", ".", "", ")", "and", "then", "("})


def _row_before(cur: Cursor) -> None:
    """ROW-BEFORE: "on the previous row", "in row 1"."""
    here = cur.at
    if cur.any_phrase(*_ROW_BEFORE):
        return
    if cur.any_phrase("in|on|of row|rnd|round") and cur.peek().kind == "n":
        cur.next()
        return
    cur.at = here


def _slipped(cur: Cursor) -> bool:
    """SLIPPED: "the slipped sts", "each slipped st", "all sts slipped in the previous row"."""
    if cur.any_phrase(*_SLIPPED) is None:
        return False
    _row_before(cur)
    return True


def _verb(cur: Cursor) -> str:
    """VERB: "knit", "purl" or "slip" as a key; "" if none stands here."""
    low = cur.peek().low
    found = _KNIT_OR_PURL.get(low, "sl" if low in _SLIPS else "")
    if found:
        cur.next()
    return found


def _worked(cur: Cursor, verb: str, here: int) -> Work:
    """One stitch worked so, with what is said of the yarn ("with yarn in front")."""
    at = cur.at
    cur.take(",")
    kind, yarn, _ = slip_kinds(cur) if verb == "sl" else ("", None, False)
    if not kind and yarn is None:
        cur.at = at
    name = f"sl {kind}wise" if kind else verb
    return Work(stitch=key(name), count=ONE, yarn=yarn, span=cur.span_from(here))


def _join(cur: Cursor) -> bool:
    """JOIN: the comma or "and" between the two halves."""
    here = cur.at
    while cur.peek().low in {",", ";", "and", "then", "&"}:
        cur.at += 1
    return cur.at > here


def parse_by_slip(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """BY-SLIP := VERB SLIPPED (JOIN VERB OTHERS)? | (VERB OTHERS JOIN)+ VERB SLIPPED
    | VERB place? ","? "slipping" SLIPPED

    "knit the slipped sts", "purl the slipped sts, knit the rest", "knit the knits, purl the purls and slip
    the slipped sts wyif", "knit all sts worked in row 1, slip all slipped sts", "purl, slipping the slipped
    sts"
    """
    del depth
    if "slipped" not in cur.kept:
        return None
    here = cur.at
    verb = _verb(cur)
    if verb and (found := _slipped_first(cur, ctx, here, verb)) is not None:
        return found
    cur.at = here
    _verb(cur)
    if verb in {"k", "p"} and (found := _others_first(cur, ctx, here, verb)) is not None:
        return found
    cur.at = here
    return None


def _slipped_first(cur: Cursor, ctx: Context, here: int, verb: str) -> Steps | None:
    """As in "purl the slipped sts, knit the rest"; alone, as many as stand next."""
    if not _slipped(cur):
        return None
    slipped = _worked(cur, verb, here)
    end = cur.at
    if _join(cur):
        at = cur.at
        other = _verb(cur)
        if other and (cur.any_phrase(*_OTHERS) or (other in {"k", "p"} and cur.any_phrase(*_FACING))):
            _row_before(cur)
            others = _worked(cur, other, at)
            return (
                BySlip(slipped=slipped, others=others, to=parse_place(cur, ctx), span=cur.span_from(here)),
            )
    cur.at = end
    if cur.peek().low not in _TAIL:
        return None
    span = cur.span_from(here)
    return (
        Fill(body=(replace(slipped, span=span),), to=Place(kind=PlaceKind.SLIPPED, span=span), span=span),
    )


def _others_first(cur: Cursor, ctx: Context, here: int, verb: str) -> Steps | None:
    """As in "knit the knits and slip the slipped sts", "knit across, slipping the slipped sts"."""
    place = None
    others: Work | None = Work(stitch=key(verb), count=ONE, span=cur.span_from(here))
    if cur.any_phrase("all the? same sts|stitches", *_OTHERS):
        _row_before(cur)
    elif cur.any_phrase(*_FACING):
        at = cur.at
        if _join(cur) and _verb(cur) in {"k", "p"} and cur.any_phrase(*_FACING):
            others = None
            cur.any_phrase("as they appear|are|face|present")
        else:
            cur.at = at
    else:
        cur.any_phrase("all? the? sts|stitches")
        place = parse_place(cur, ctx)
        cur.take(",")
        at = cur.at
        if cur.take("slipping") is None or not _slipped(cur):
            return None
        slipped = _worked(cur, "sl", at)
        return (BySlip(slipped=slipped, others=others, to=place, span=cur.span_from(here)),)
    _join(cur)
    at = cur.at
    second = "sl" if cur.take("slipping") else _verb(cur)
    if not second or not _slipped(cur):
        if second != "sl" or not cur.any_phrase("all? the? same sts|stitches"):
            return None
    slipped = _worked(cur, second, at)
    return (BySlip(slipped=slipped, others=others, to=parse_place(cur, ctx), span=cur.span_from(here)),)


WORDS: dict[str, tuple[Handler, ...]] = dict.fromkeys((*_KNIT_OR_PURL, *_SLIPS), (parse_by_slip,))
