"""Stitches kept on the left needle and worked into again; a run of knits and purls over a number of stitches.

In: a cursor after a decrease, or at the first stitch of a run. Out: ``Into`` over the kept loops, a counted
``Repeat``.
"""

from __future__ import annotations

from purlwright.pattern.read import steps as reader
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.numbers import ONE, parse_number
from purlwright.pattern.read.places import take_stitch_word
from purlwright.pattern.read.prose import aside_end
from purlwright.pattern.read.working import Steps
from purlwright.pattern.tokens import Cursor
from purlwright.pattern.tree import InGround, Into, Number, Repeat, Said, Step, Unread, Work

__all__ = ["parse_kept", "parse_run_over"]

_KEPT = (
    "leaving|leave|keeping|keep the? knit|worked? tog? sts|stitches|them on the? left|lh hand? -? needle",
    "leaving|leave|keeping|keep both|all sts|stitches|loops on the? left|lh hand? -? needle",
    "do not slip|drop|take them|sts|stitches off the? left? needle?",
)
_OFF = (
    "slip|sl|drop|take|let the? sts|stitches|loops off|from the? left|lh? hand? -? needle",
    "slip|sl|drop|take them|both|all off|from the? left|lh? hand? -? needle?",
)
_ONTO = "on|onto|to the? right|rh hand? -? needle"
_MARKS = frozenset({",", ";", "but", "and", "then", "&"})


def parse_kept(cur: Cursor, ctx: Context, start: int, found: Steps, depth: int) -> Steps | None:
    """Kept := decrease "leaving sts on left needle" (sep step)? sep decrease "again"? aside? (sep slip-off)?

    "k3tog leaving the sts on the left needle, yo, k3tog again, and slip the sts off the needle"
    """
    from purlwright.stitches.load import dictionary

    first = found[0]
    stitch = dictionary().stitches.get(first.stitch) if isinstance(first, Work) else None
    if len(found) != 1 or stitch is None or stitch.takes < 2 or first.count.values != (1,):  # type: ignore[union-attr]
        return None
    here = cur.at
    _marks(cur)
    if not cur.any_phrase(*_KEPT):
        cur.at = here
        return None
    body: list[Step] = [first]
    for _ in range(4):
        _marks(cur)
        more = reader.single_step(cur, ctx, depth + 1)
        if more is None or len(more) != 1 or isinstance(more[0], Unread):
            break
        body += more
        last = more[0]
        if isinstance(last, Work) and last.stitch == first.stitch and last.count.values == (1,):  # type: ignore[union-attr]
            _worked_off(cur)
            return (Into(steps=tuple(body), count=ONE, over=stitch.takes, span=cur.span_from(start)),)
    cur.at = here
    return None


def _marks(cur: Cursor) -> None:
    while cur.peek().low in _MARKS:
        cur.at += 1


def _worked_off(cur: Cursor) -> None:
    """("again" | "once more")? aside? (sep "slip the sts off the left needle" ("onto the right needle")?)?"""
    cur.any_phrase("once? again", "once more")
    cur.any_phrase("into|in the? same sts|stitches|loops")
    here = cur.at
    end = aside_end(cur)
    if end > 0 and not any(t.kind == "n" for t in cur.tokens[here:end]):
        if {"again", "previous", "same"} & {t.low for t in cur.tokens[here:end]}:
            cur.at = end
    here = cur.at
    _marks(cur)
    if not cur.any_phrase(*_OFF):
        cur.at = here
        return
    cur.phrase(_ONTO)


_RUNS = frozenset("k p knit purl k1 p1".split())


def parse_run_over(cur: Cursor, ctx: Context, depth: int = 0) -> Steps | None:
    """Run-over := knits sep purls ("for" | "over") "the"? "next"? number stitches

    "k1, p1 for 16 sts", "knit 2, purl 2 for 18 stitches": as many whole runs as those stitches hold.
    """
    from purlwright.stitches.load import grounds

    here = cur.at
    if cur.pad[here - 1].low == "," and here > 0:
        return None
    run = cur.kept.pop("run", None)
    body: list[Step] = []
    for _ in range(2):
        cur.take(",", "and")
        if cur.peek().low not in _RUNS:
            break
        one = reader.parse_step(cur, ctx, depth + 1)
        if one is None or len(one) != 1 or not isinstance(one[0], Work):
            break
        body += one
    cur.kept["run"] = run
    keys = sorted(s.stitch for s in body if isinstance(s, Work))
    found = keys == ["k", "p"] and cur.any_phrase("for|over the? next?") is not None
    number = parse_number(cur, ctx) if found else None
    if number is None or not take_stitch_word(cur):
        cur.at = here
        return None
    times = _times(body, number)
    span = cur.span_from(here)
    if times is None:
        rib = f"{body[0].stitch}{body[0].count.at(0)}, {body[1].stitch}{body[1].count.at(0)} rib"  # type: ignore[union-attr]
        ground = grounds().find(rib) if body[0].stitch == "k" else None  # type: ignore[union-attr]
        if ground is None:
            cur.at = here
            return None
        return (InGround(ground=ground.key, count=number, readings=tuple(ground.readings), span=span),)
    return (Repeat(body=tuple(body), times=times, said=Said.TIMES, mark="[", span=span),)


def _times(body: list[Step], number: Number) -> Number | None:
    """How many whole runs the stitches hold, for each size; None if any is left over."""
    out: list[int | None] = []
    size = max(len(number.values), *(len(s.count.values) for s in body if isinstance(s, Work)))
    for i in range(size):
        each = sum(s.count.at(i) or 0 for s in body if isinstance(s, Work))
        n = number.at(i)
        if n is None or not each or n % each:
            return None
        out.append(n // each)
    return Number(values=tuple(out), span=number.span)
