"""The loop that binding off leaves, counted among the stitches after it: "bind off 6, k16 (including st on
needle)".

In: a cursor after a counted step, and what was read of the line. Out: the step with one stitch fewer to work.
Where the words leave open whether the loop is counted, that is left to the needles.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.pattern.tree import BindOff, InGround, InPattern, Number, Work

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor
    from purlwright.pattern.tree import Action

__all__ = ["take_loop_counted"]

_COUNTING = frozenset({"including", "incl", "includes", "counting", "inclusive"})


def take_loop_counted(cur: Cursor, out: list[Action]) -> bool:
    """LOOP-COUNTED: "("? "including" "the"? ("st" | "loop" | "one") "already"? ("on" "right"? "needle")?
    ("after" | "from" | "used in" "the"? "bind-off")? ")"?, after a bind-off and a counted step.
    """
    here = cur.at
    bracket = cur.take("(", "[") is not None
    if cur.peek().low not in _COUNTING or not any(isinstance(a, BindOff) for a in out):
        cur.at = here
        return False
    cur.at += 1
    cur.any_phrase("of? the? one? st|stitch|loop|one|1", "of? 1|one st|stitch|loop")
    place = cur.any_phrase(
        "that|which? is? already|left|remaining|rem? on|upon the? right? hand? -? hand? needle|pin"
    )
    after = cur.any_phrase(
        "left|used|remaining|rem|that|made? after|from|in|by|for? the? bind|binding|cast|casting -? off",
        "left|used|remaining|rem? after|from|in|by|for? the? bind-off|cast-off",
    )
    last = out[-1]
    if (
        not (place or after)
        or (bracket and cur.take(")", "]") is None)
        or not isinstance(last, Work | InPattern | InGround)
        or last.count is None
        or any(v is not None and v < 1 for v in last.count.values)
    ):
        cur.at = here
        return False
    fewer = Number(
        values=tuple(None if v is None else v - 1 for v in last.count.values), span=last.count.span
    )
    out[-1] = replace(last, count=fewer, span=last.span.cover(cur.span_from(here)))
    return True
