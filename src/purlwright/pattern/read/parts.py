"""What stitches are for: "for the front", "for the first finger", "for left shoulder".

In: a cursor at "for". Out: the part's name. What is cast on, bound off or held there is read by others.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from purlwright.pattern.tokens import Cursor

__all__ = ["part_of", "take_for_part"]

_PARTS = frozenset(
    "front fronts back sleeve sleeves shoulder shoulders finger fingers thumb underarm underarms neck"
    " neckband armhole armholes heel instep sole toe foot leg cuff hand palm gusset hood pocket collar brim"
    " crown body yoke strap straps side sides edge edges band border ear flap"
    " button buttonhole buttonholes top hem".split()
)
_WHICH = frozenset(
    "the a an your each this that one both left right first second third fourth 1st 2nd 3rd 4th other little"
    " index middle ring upper lower top bottom half".split()
)
_MOST = 5


def part_of(cur: Cursor) -> str | None:
    """PART: WHICH* NAME: "the first finger", "left front"; its name without the article."""
    here = cur.at
    words: list[str] = []
    while len(words) < _MOST:
        t = cur.peek()
        if t.low in _PARTS:
            words.append(t.text)
            cur.at += 1
            if cur.peek().low not in _PARTS:
                break
        elif t.low in _WHICH and not (words and words[-1].lower() in _PARTS):
            words.append(t.text)
            cur.at += 1
        else:
            break
    if not words or words[-1].lower() not in _PARTS:
        cur.at = here
        return None
    named = [w for w in words if w.lower() not in {"the", "a", "an", "your", "this", "that"}]
    return " ".join(named)


def take_for_part(cur: Cursor) -> str | None:
    """("for" | "of") PART: "for the shoulder"."""
    here = cur.at
    if cur.take("for", "of") is None:
        return None
    found = part_of(cur)
    if found is None:
        cur.at = here
    return found
