"""Loops on the needles: two stacks, markers and gaps between loops, holders.

In: nothing; ``worker`` moves loops about. Out: the state of the needles at any moment, which can be copied
and put back. What makes new loops is left to ``worker``.
The top of a stack is the loop nearest the needle's tip.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from purlwright.fabric.arrays import Int32

__all__ = ["Boundary", "Held", "Needles", "Only"]

_NONE: Int32 = np.zeros(0, np.int32)


@dataclass(slots=True)
class Boundary:
    """Something that sits between two loops of a stack, ``at`` loops above its bottom.

    ``kind`` is "marker", "gap" (left by a turn), "needle" (where the loops on one needle end) or "start"
    (where a round begins, when it is not at the ends). A gap knows the ledger order of the row that turned.
    """

    kind: str
    at: int
    name: str = ""
    turned_on: int = 0

    def moved(self, at: int) -> Boundary:
        return Boundary(self.kind, at, self.name, self.turned_on)


@dataclass(frozen=True, slots=True, eq=False)
class Held:
    """Loops on a holder, first the one that was next to be worked.

    ``facing`` the side that faced (0 right, 1 wrong).
    """

    name: str
    loops: Int32
    facing: int
    piece: int
    span: tuple[int, int] = (-1, -1)
    """Where in the source the words stand that put them there."""
    rest: bool = False
    """Whether they are those that a row left: "turn, leave rem sts on a holder"."""


@dataclass(frozen=True, slots=True)
class Only:
    """Over which stitches the rows to come are worked: ``count``, or 0 for those up to the gap.

    ``last`` are the last ones on the needle, ``centre`` those in its middle; ``flat`` when the words say
    "back and forth".
    """

    count: int
    last: bool
    centre: bool
    flat: bool
    span: tuple[int, int]


@dataclass(slots=True)
class Needles:
    """Live loops. ``left`` and ``right`` are stacks of stitch ids, bottom first.

    ``ring`` is True when the work is joined in the round, ``start_marked`` when a marker sits at the start
    of the round. ``only`` is told, but not yet acted on.
    """

    left: Int32 = field(default_factory=lambda: _NONE)
    right: Int32 = field(default_factory=lambda: _NONE)
    left_marks: list[Boundary] = field(default_factory=list)
    right_marks: list[Boundary] = field(default_factory=list)
    holders: list[Held] = field(default_factory=list)
    ring: bool = False
    start_marked: bool = False
    only: Only | None = None

    @property
    def live(self) -> int:
        """Loops in play, holders left out."""
        return len(self.left) + len(self.right)

    def copy(self) -> Needles:
        """The same state, to be changed apart. Loop arrays are shared: they are never written in place."""
        return Needles(
            left=self.left, right=self.right,
            left_marks=[b.moved(b.at) for b in self.left_marks],
            right_marks=[b.moved(b.at) for b in self.right_marks],
            holders=list(self.holders), ring=self.ring, start_marked=self.start_marked, only=self.only,
        )  # fmt: skip

    def turn(self) -> None:
        """Turn the work: the needles change hands."""
        self.left, self.right = self.right, self.left
        self.left_marks, self.right_marks = self.right_marks, self.left_marks

    def pass_edge_marks(self) -> None:
        """At the end of a flat row: markers that hang at the edge, after the last loop, go along with it."""
        edge = [b.moved(len(self.right)) for b in self.left_marks if b.kind == "marker"]
        self.left_marks = [b for b in self.left_marks if b.kind != "marker"]
        self.right_marks += reversed(edge)

    def let_go(self) -> None:
        """Take all loops off the needles, and the markers and gaps with them."""
        self.left, self.right = _NONE, _NONE
        self.left_marks, self.right_marks = [], []

    def come_round(self) -> None:
        """Begin the next round: all loops move to the left needle, in working order, the first on top.

        Sliding the loops to the other end of the needle, to work the same side again, is the same.
        """
        order = np.concatenate([self.left[::-1], self.right])
        total = len(order)
        n_left = len(self.left)
        marks = [b.moved(n_left - b.at) for b in reversed(self.left_marks) if b.kind != "start"]
        marks += [b.moved(n_left + b.at) for b in self.right_marks if b.kind != "start"]
        self.left = order[::-1]
        self.right = _NONE
        # a marker where the round begins is met at its end
        self.left_marks = sorted((b.moved((total - b.at) % max(total, 1)) for b in marks), key=lambda b: b.at)
        self.right_marks = []

    def pull_round(self, loops: int) -> None:
        """In a ring after a turn: bring ``loops`` loops round from the far end of the right needle.

        The first time, the place where they meet the others is where the round begins, kept as "start".
        """
        begun = any(b.kind == "start" for b in (*self.left_marks, *self.right_marks))
        take = self.right[:loops]
        marks = [b for b in self.right_marks if b.at <= loops and b.kind != "start"]
        self.left = np.concatenate([take[::-1], self.left])
        n = len(take)
        self.left_marks = sorted(
            [b.moved(n - b.at) for b in marks] + [b.moved(b.at + n) for b in self.left_marks],
            key=lambda b: b.at,
        )
        self.right = self.right[loops:]
        self.right_marks = [b.moved(b.at - loops) for b in self.right_marks if b.at > loops]
        if not begun:
            self.left_marks.append(Boundary("start", n))
            self.left_marks.sort(key=lambda b: b.at)

    def order(self) -> Int32:
        """All live loops in the order they lie seen from the side being worked, right to left."""
        return np.concatenate([self.right, self.left[::-1]])
