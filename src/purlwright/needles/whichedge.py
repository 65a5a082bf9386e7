"""Which edge of a piece is the armhole edge, and which the neck edge: at which rows' beginning it lies.

In: the knitter at work. Out: the side of the rows that begin at a named edge, or None. A left front has its
armhole where right-side rows begin (it is worn on the left, so its side seam lies to the right as its right
side faces), a right front where wrong-side rows begin; else it is where stitches were bound off.
What is worked there is left to ``shapework`` and ``stopping``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.needles.ledger import Kind
from purlwright.pattern.tree import Side

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter

__all__ = ["edge_begins"]

_OUTER = frozenset({"armhole edge", "side edge"})
_INNER = frozenset({"neck edge", "front edge"})


def edge_begins(k: Knitter, name: str) -> Side | None:
    """The side that faces in the rows that begin at this edge; None where nothing tells."""
    if k.worker.needles.ring or name not in _OUTER | _INNER:
        return None
    outer = _by_heading(k)
    outer = outer if outer is not None else _by_binding_off(k)
    if outer is None or name in _OUTER:
        return outer
    return Side.RS if outer is Side.WS else Side.WS


def _by_heading(k: Knitter) -> Side | None:
    piece = k.pieces[-1][0] if k.pieces else ""
    words = set(re.findall(r"[a-z]+", f"{k.heading} {piece}".lower()))
    hands = words & {"left", "right"}
    if "back" in words or len(hands) != 1 or not words & {"front", "fronts"}:
        return None
    return Side.RS if "left" in hands else Side.WS


def _by_binding_off(k: Knitter) -> Side | None:
    """The side of the rows at whose beginning stitches were bound off, if all of them face alike."""
    start = k.pieces[-1][1] if k.pieces else 0
    sides = {
        e.side
        for e, marks in zip(k.entries[start:], k.marks[start:], strict=True)
        if e.kind is Kind.ROW and "divide" in marks and e.lost and not e.held
    }
    return sides.pop() if len(sides) == 1 else None
