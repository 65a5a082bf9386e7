"""The nodes of a net in the making, and the line along the edge of the fabric so far.

In: a fabric. Out: :class:`Nodes`, which grow by one for each loop that a row slips. How rows are laid on each
other is left to ``netting``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric, Int32

__all__ = ["Nodes"]

_REACH = 60
"""How far the line is followed to find the next loop, in nodes."""


class Nodes:
    """``n`` nodes so far; the first are the stitches, by their numbers in the fabric.

    left, right : the next on the line, as the right side shows it; -1 where it ends.
    first_below, last_below : what each hangs on, in working order. above : the latest that hangs on it.
    earlier, later : its neighbours along the yarn. now : of a stitch, the node in which its loop lies now; -1
    for one that has none.
    """

    def __init__(self, fabric: Fabric) -> None:
        room = fabric.n + 16
        self.n = fabric.n
        self.stitch = np.arange(room, dtype=np.int32)
        self.order = self._padded(fabric.row_of_stitch, room)
        self.wrong = self._padded(fabric.side_of_stitch == 1, room)
        self.piece = np.zeros(room, np.int32)
        self.virtual = np.zeros(room, bool)
        self.left = np.full(room, -1, np.int32)
        self.right = np.full(room, -1, np.int32)
        self.first_below = np.full(room, -1, np.int32)
        self.last_below = np.full(room, -1, np.int32)
        self.above = np.full(room, -1, np.int32)
        self.earlier = np.full(room, -1, np.int32)
        self.later = np.full(room, -1, np.int32)
        self.now = np.arange(room, dtype=np.int32)

    @staticmethod
    def _padded(values: Any, room: int) -> Any:
        out = np.zeros(room, values.dtype)
        out[: len(values)] = values
        return out

    def ways(self, wrong: bool) -> tuple[Int32, Int32]:
        """The line onwards and back again, as a row on that side is worked."""
        return (self.right, self.left) if wrong else (self.left, self.right)

    def carry(self, node: int, like: int) -> int:
        """A node more for a loop that a row slips, beside the node ``like`` of that row."""
        if self.n == len(self.stitch):
            for name in (
                "stitch", "order", "wrong", "piece", "virtual", "left", "right", "first_below", "last_below",
                "above", "earlier", "later", "now",
            ):  # fmt: skip
                old = getattr(self, name)
                new = np.full(2 * len(old), -1 if old.dtype == np.int32 else 0, old.dtype)
                new[: len(old)] = old
                setattr(self, name, new)
        v = self.n
        self.n += 1
        s = int(self.stitch[node])
        self.stitch[v], self.virtual[v] = s, True
        self.order[v], self.wrong[v], self.piece[v] = self.order[like], self.wrong[like], self.piece[like]
        self.left[v] = self.right[v] = self.above[v] = self.earlier[v] = self.later[v] = -1
        self.first_below[v] = self.last_below[v] = node
        self.now[s] = v
        return v

    def along(self, a: int, b: int, forth: Int32) -> list[int] | None:
        """The stretch of the line from one node to another."""
        way = [a]
        at = a
        for _ in range(_REACH):
            at = int(forth[at])
            if at < 0 or at == a:
                return None
            way.append(at)
            if at == b:
                return way
        return None

    def around(self, a: int, b: int) -> list[int] | None:
        """The shortest way from one node to another over what is tied, where the line is lost."""
        came = {a: -1}
        here = [a]
        for _ in range(5):
            later = []
            for p in here:
                for q in self.near(p):
                    if q not in came:
                        came[q] = p
                        later.append(q)
            if b in came:
                way = [b]
                while way[-1] != a:
                    way.append(came[way[-1]])
                return way[::-1]
            here = later
        return None

    def near(self, p: int) -> list[int]:
        """The nodes that one is tied to, as far as they are remembered."""
        near = (
            self.left[p], self.right[p], self.first_below[p], self.last_below[p], self.above[p],
            self.earlier[p], self.later[p],
        )  # fmt: skip
        return [int(q) for q in near if q >= 0]

    def only(self, used: Any) -> Int32:
        """Leave out nodes that are not used and number the others anew; gives the new numbers, (n + 1,)."""
        n = self.n
        number = np.full(n + 1, -1, np.int32)
        number[:n][used] = np.arange(int(used.sum()), dtype=np.int32)
        for name in ("stitch", "order", "wrong", "piece", "virtual"):
            setattr(self, name, getattr(self, name)[:n][used])
        self.now = number[self.now[:n]]
        self.n = int(used.sum())
        return number
