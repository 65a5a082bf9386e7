"""Rounds told needle by needle: "Needle 1: k to last 3, k2tog, k1. Needles 2 and 3: in pattern."

In: a cursor at words that name a needle. Out: the steps for that needle, in which the end is the end of
the needle; for several needles, worked once on each. How many loops lie on a needle is left to ``needles``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.read.amounts import skip
from purlwright.pattern.read.counts import parse_stated
from purlwright.pattern.read.phrases import Phrases
from purlwright.pattern.tree import (
    AtEdges,
    Fill,
    InGround,
    InPattern,
    Note,
    Number,
    Place,
    PlaceKind,
    Repeat,
    Said,
    Stated,
)

if TYPE_CHECKING:
    from purlwright.pattern.read.context import Context
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Action, Step

__all__ = ["again_on_needle", "on_the_needle", "parse_by_needle"]

_NEEDLES = ("needle", "needles", "ndl", "ndls")
EACH = -1
"""So many needles as there are: "on each needle: ..."."""
_END = Place(kind=PlaceKind.NEEDLE_END)


def parse_by_needle(cur: Cursor, ctx: Context) -> tuple[Step, ...] | None:
    """BY-NEEDLE: ("needle" NUMBERS | "on"? "the"? ORDINALS "needle") (":" | ",")? STEPS, up to the next
    needle named.
    """
    from purlwright.pattern.read.steps import parse_step

    here = cur.at
    named = _heading(cur)
    if named == 0:
        cur.at = here
        return None
    out: list[Action] = []
    while not cur.done:
        at = cur.at
        skip(cur, ",", ".", ";", ":", "then", "and")
        if _heading(cur):
            cur.at = at
            break
        if out and again_on_needle(cur, out):
            continue
        stated = parse_stated(cur, ctx)
        step = (stated,) if stated is not None else parse_step(cur, ctx)
        if step is None:
            cur.at = at
            break
        out.extend(step)
    if not out or all(isinstance(s, Stated | Note) for s in out):
        cur.at = here
        return None
    span = cur.span_from(here)
    steps = tuple(on_the_needle(s) for s in out)
    if named == 1:
        return (replace(steps[0], span=span), *steps[1:])
    if named == EACH:
        rest = tuple(s for s in steps if isinstance(s, Stated))
        body = tuple(s for s in steps if not isinstance(s, Stated))
        return (Repeat(body=body, said=Said.OPEN, mark="", span=span), *rest)
    times = Number(values=(named,), span=span)
    return (Repeat(body=steps, times=times, said=Said.IN_ALL, mark="", span=span),)


_SAME = Phrases(
    "rep|repeat this|these|all? instructions|steps? on|for|across|over|to the?",
    "rep|repeat from * on|for|across|over the?", "work|do|knit the same on|for|across|over the?",
    "then? the? same on|for|across|over the?", "work likewise on|across the?",
)  # fmt: skip
_OTHERS = frozenset({"other", "next", "remaining", "each", "opposite"})


def again_on_needle(cur: Cursor, out: list[Action]) -> bool:
    """AGAIN-ON-NEEDLE: "Needle 1: k1, m1, k to end. Repeat on second needle": its steps once more.

    ``out`` is what was read; the steps since the needle was named, or since the row began, become a repeat.
    """
    here = cur.at
    likened = _likened(cur)
    if not likened and _SAME.take(cur) is None:
        return False
    count = likened
    named = cur.peek()
    if likened:
        pass
    elif named.low in _NEEDLES and cur.peek(1).kind == "n":
        cur.at += 1
        count = _list(cur, "n")
    else:
        if named.low in _OTHERS:
            cur.at += 1
            said = cur.peek()
            count = 1
            if isinstance(said.value, int) and said.kind != "o":
                count = said.value
                cur.at += 1
        elif named.kind == "o":
            count = _list(cur, "o")
        plural = cur.peek().low == "needles"
        if not count or cur.take(*_NEEDLES) is None or (plural and count == 1):
            count = 0
    start = max((i + 1 for i, a in enumerate(out) if isinstance(a, Note)), default=0)
    steps = tuple(on_the_needle(a) for a in out[start:] if not isinstance(a, Stated))
    if not count or not steps or cur.peek().low not in {"", ".", ",", ";", "(", "["}:
        cur.at = here
        return False
    span = steps[0].span.cover(cur.span_from(here))
    times = Number(values=(min(count, 20) + 1,), span=span)
    rest = [a for a in out[start:] if isinstance(a, Stated)]
    out[start:] = [Repeat(body=steps, times=times, said=Said.IN_ALL, mark="", span=span), *rest]
    return True


def _likened(cur: Cursor) -> int:
    """LIKENED: "N2: as N1", "needles 3 and 4: same as needles 1 and 2"; how many needles, 0 if none."""
    here = cur.at
    count = _heading(cur)
    if count > 0 and cur.any_phrase("the? same as", "as for?", "work as for?") is not None:
        cur.take(*_NEEDLES, "n")
        if _list(cur, "n") == 1 and count == 1:
            return 1
    cur.at = here
    return 0


def _heading(cur: Cursor) -> int:
    """HEADING: "Needle 1:", "Needles 2 and 3:", "on the 2nd needle", "N1:"; how many needles it names, 0
    if none.
    """
    here = cur.at
    skip(cur, "on", "the", "for")
    low = cur.peek().low
    count = 0
    if low in _NEEDLES or (low == "n" and cur.peek(1).glued):
        cur.at += 1
        count = _list(cur, "n")
    elif cur.peek().kind == "o":
        count = _list(cur, "o")
        if cur.take(*_NEEDLES) is None:
            count = 0
    elif cur.take("each", "every", "both") is not None and cur.take(*_NEEDLES) is not None:
        count = EACH if cur.peek().low == ":" else 0
    if count and cur.peek().low == "(" and cur.peek(1).kind == "w" and cur.peek(2).low == ")":
        cur.at += 3  # "N1 (instep):"
    if count == 0 or cur.peek().low not in {":", ",", "-", ".", "k", "p", "knit", "purl", "work", "sl", "in"}:
        cur.at = here
        return 0
    skip(cur, ":", ",", "-", ".")
    return min(count, 20)


def _list(cur: Cursor, kind: str) -> int:
    count = 0
    first = 0
    while cur.peek().kind == kind and count < 20:
        value = int(cur.next().value or 0)
        if cur.peek(-2).low in {"-", "to"} and first:
            count += max(0, value - first - 1)
        first = value
        count += 1
        if cur.peek().low in {"and", "&", ",", "-", "to"} and cur.peek(1).kind == kind:
            cur.at += 1
        elif cur.peek().low == "," and cur.peek(1).low in {"and", "&"} and cur.peek(2).kind == kind:
            cur.at += 2
    return count


def on_the_needle(step: Action) -> Step:
    """The same step, in which "to end" means the end of the needle."""
    if isinstance(step, Fill):
        return replace(step, to=_shorter(step.to))
    if isinstance(step, InPattern | InGround):
        if step.count is not None:
            return step
        return replace(step, to=_END if step.to is None else _shorter(step.to))
    if isinstance(step, Repeat):
        to = _shorter(step.to) if step.to is not None else None
        if to is None and step.times is None and step.said in {Said.OPEN, Said.PAIR}:
            to = _END
        return replace(step, to=to, said=Said.TO if to is not None else step.said)
    if isinstance(step, AtEdges):
        return step
    return step  # type: ignore[return-value]


def _shorter(place: Place) -> Place:
    return replace(place, kind=PlaceKind.NEEDLE_END) if place.kind is PlaceKind.END else place
