"""Small values the working modules share.

In: nothing. Out: counters of a row, edges of a piece, and how a row is given up. Filling them in is left to
``worker`` and the modules it calls.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from msgspec import Struct

from purlwright.fabric.arrays import Int32
from purlwright.pattern import tree
from purlwright.stitches.kinds import Motion, Stitch
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.needles.ledger import StatedCount

__all__ = [
    "BULK",
    "EMPTY",
    "MOST_STITCHES",
    "Counters",
    "Edges",
    "Short",
    "SideEdge",
    "Stop",
    "known",
    "worked",
]

EMPTY: Int32 = np.zeros(0, np.int32)
MOST_STITCHES = 5_000_000


class Stop(Exception):  # noqa: N818 - not a fault: the rest of this row cannot be worked
    """The rest of the row cannot be worked; the reason is reported already."""


@dataclass(slots=True)
class SideEdge:
    """One side of the piece in work, seen on the right side: the stitch at that end of every row.

    ``ridges`` counts those that show a purl bump, ``chains`` those that were slipped.
    """

    stitches: list[int] = field(default_factory=list)
    ridges: int = 0
    chains: int = 0

    def add(self, stitch: int, *, slipped: bool, bump: bool) -> None:
        """The edge is one row longer."""
        self.stitches.append(stitch)
        self.chains += slipped
        self.ridges += bump and not slipped

    def copy(self) -> SideEdge:
        return SideEdge(list(self.stitches), self.ridges, self.chains)


@dataclass(slots=True)
class Edges:
    """The edges of the piece in work, as stitch ids in the order they were made."""

    cast_on: list[Int32] = field(default_factory=list)
    bound_off: list[Int32] = field(default_factory=list)
    right: SideEdge = field(default_factory=SideEdge)
    left: SideEdge = field(default_factory=SideEdge)

    def copy(self) -> Edges:
        return Edges(list(self.cast_on), list(self.bound_off), self.right.copy(), self.left.copy())


class Counters(Struct):
    """What one row did so far."""

    start: int = 0
    worked: int = 0
    made: int = 0
    lost: int = 0
    held: int = 0
    returned: int = 0
    picked_up: int = 0
    cast_on: int = 0
    bound_off: int = 0
    touched: int = 0
    passes: int = 0
    """How often a repeat in it was begun, of those that are worked step by step."""
    first: str = ""
    last: str = ""
    edge_first: int = -1
    edge_last: int = -1
    stated: tuple[StatedCount, ...] = ()
    """Counts printed in the row's words before its end."""


class Short(Exception):  # noqa: N818 - not a fault
    """A counted repeat ran out of stitches."""

    def __init__(self, n: int, each: int) -> None:
        super().__init__()
        self.n = n
        self.each = each


BULK = frozenset({Motion.WORK, Motion.SLIP, Motion.CROSS, Motion.BELOW, Motion.TUCK})


def worked(step: tree.Work) -> Stitch | None:
    """The stitch that a step works, if the dictionary has it: a slip with the yarn said to be at one side is
    that slip.
    """
    if step.yarn is not None:
        sided = dictionary().find(f"{step.stitch} {'wyif' if step.yarn == 'front' else 'wyib'}")
        if sided is not None and sided.motion is Motion.SLIP:
            return sided
    return dictionary().find(step.stitch)


def known(key: str) -> Stitch:
    """The stitch of the dictionary with this key; LookupError if our own words are wrong."""
    st = dictionary().find(key)
    if st is None:
        msg = f"the dictionary has no entry {key!r}"
        raise LookupError(msg)
    return st
