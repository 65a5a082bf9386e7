"""What will still be seen of a mistake that is let be.

In: a mistake. Out: one sentence.
"""

from __future__ import annotations

from purlwright.rescue.mistakes.made import Made, Odd

__all__ = ["left_to_see"]

_OF_ODD = {
    Odd.HOLE: "The hole stays.",
    Odd.SMALL_HOLE: "A small hole stays.",
    Odd.LADDER: "The ladder stays.",
    Odd.RIDGE: "The ridge stays.",
    Odd.CROSSED_ROW: "A row of crossed stitches stays.",
    Odd.WRONG_FACE: "One bump or V stays out of place.",
    Odd.WRONG_LEAN: "One lean stays the wrong way.",
    Odd.SHIFTED: "The pattern stays a stitch out of place there.",
    Odd.BAND: "The band stays.",
    Odd.COLOUR: "The row stays in its colour.",
    Odd.TWO_WRAPS: "Two turns lie at one place.",
}
_OF_KIND = {
    "E27": "One turning place lies a stitch out of line.",
    "E38": "A line of holes lies a stitch out of line.",
    "E39": "A line of increases lies a stitch out of line.",
}


def left_to_see(made: Made) -> str:
    """What stays to be seen."""
    return _OF_KIND.get(made.kind.code) or _OF_ODD.get(made.odd, "A small trace stays at the place.")
