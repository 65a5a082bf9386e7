"""The dictionary's stitches as number tables, so that a whole row can be knitted in a few array steps.

In: stitches of the dictionary. Out: for each operation how many loops it takes and makes and, loop by loop,
which of the taken loops each made loop hangs on, how, and what it shows. Knitting with the tables is left to
``worker``.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Link, Seen
from purlwright.stitches.kinds import Face, Lean, Loose, Motion, Stitch

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from purlwright.fabric.arrays import Int16

__all__ = ["ACTS", "OpTable", "op_table"]

ACTS = (
    "turn", "place marker", "slip marker", "remove marker", "yarn front", "yarn back", "hold", "return",
    "drop", "slip back", "pass over", "bind off", "wrap", "cast on",
)  # fmt: skip
"""Needle actions that are no stitch; they stand first in every table of operations."""

_OVERS = frozenset({"yo", "yo2"})
_SEEN = {Face.KNIT: Seen.KNIT, Face.PURL: Seen.PURL, Face.NONE: Seen.NONE}


class OpTable:
    """Growing tables over operations ("op") and over the loops each makes ("child").

    Arrays are rebuilt when an operation is added, which happens once a stitch kind a process.
    """

    __slots__ = (
        "_children",
        "_rel",
        "_rel_link",
        "child_keeps",
        "child_new",
        "child_parents",
        "child_rel",
        "child_seen",
        "child_twist",
        "first_child",
        "keys",
        "makes",
        "makes_each",
        "number",
        "over",
        "plain",
        "rel",
        "rel_link",
        "special",
        "stitches",
        "takes",
        "takes_each",
    )  # fmt: skip

    def __init__(self) -> None:
        self.keys: list[str] = []
        self.number: dict[str, int] = {}
        self.stitches: list[Stitch | None] = []
        self._children: list[tuple[int, int, int, int, int, int]] = []
        self._rel: list[int] = []
        self._rel_link: list[int] = []
        self.takes = self.makes = self.first_child = np.zeros(0, np.int32)
        self.plain = np.zeros(0, np.bool_)
        self.special = np.zeros(0, np.int8)
        for act in ACTS:
            self._append(act, None)
        self._rebuild([0] * len(ACTS), [0] * len(ACTS), [0] * len(ACTS), [0] * len(ACTS))

    def _append(self, key: str, stitch: Stitch | None) -> int:
        op = len(self.keys)
        self.keys.append(key)
        self.number[key] = op
        self.stitches.append(stitch)
        return op

    def _rebuild(
        self, takes: Sequence[int], makes: Sequence[int], first: Sequence[int], special: Sequence[int]
    ) -> None:
        self.takes = np.concatenate([self.takes, np.array(takes, np.int32)])
        self.makes = np.concatenate([self.makes, np.array(makes, np.int32)])
        self.takes_each, self.makes_each = self.takes.tolist(), self.makes.tolist()
        self.first_child = np.concatenate([self.first_child, np.array(first, np.int32)])
        self.special = np.concatenate([self.special, np.array(special, np.int8)])
        c = np.array(self._children, np.int32).reshape(-1, 6)
        self.child_new = c[:, 0].astype(np.bool_)
        self.child_seen = c[:, 1].astype(np.int8)
        self.child_twist = c[:, 2].astype(np.int8)
        self.child_parents = c[:, 3]
        self.child_rel = c[:, 4]
        self.child_keeps = c[:, 5]
        self.rel = np.array(self._rel, np.int32)
        self.rel_link = np.array(self._rel_link, np.int8)
        n = len(self.keys)
        plain = np.zeros(n, np.bool_)
        for op in range(n):
            s = self.stitches[op]
            plain[op] = (
                s is not None and s.takes == 1 and s.makes == 1 and not self.special[op]
                and bool(self.child_new[self.first_child[op]])
                and bool(self.rel_link[self.child_rel[self.first_child[op]]] == Link.DRAWN)
            )  # fmt: skip
        self.plain = plain
        self.over = tuple(op for op, key in enumerate(self.keys) if key in _OVERS)

    def overs(self, ops: Int16) -> NDArray[np.bool_]:
        """Which of some operations are yarn overs."""
        which = np.zeros(len(ops), np.bool_)
        for over in self.over:  # there are few; to look each operation up takes longer
            which |= ops == over
        return which

    def add(self, stitch: Stitch) -> int:
        """The number of this stitch's operation, adding it if it is new."""
        op = self.number.get(stitch.key)
        if op is not None:
            return op
        first = len(self._children)
        special = 0
        faces = list(stitch.faces) + [Face.NONE] * (stitch.makes - len(stitch.faces))
        for i in range(stitch.makes):
            rels: list[tuple[int, Link]] = []
            new, keeps = 1, -1
            if stitch.motion is Motion.SLIP:
                new, rels, keeps = 0, [(min(i, max(stitch.takes - 1, 0)), Link.DRAWN)], 0
            elif stitch.motion is Motion.CROSS and stitch.order:
                place = stitch.order[i]
                rels, keeps = [(place, _crossed(stitch, i))], place
            elif stitch.takes == 0:
                if stitch.loose is Loose.STRAND:
                    rels, special = [(-1, Link.STRAND)], 1
                elif stitch.loose is Loose.HEAD:
                    rels, special = [(-1 if stitch.lean is Lean.LEFT else 0, Link.HEAD)], 2
            elif stitch.motion is Motion.TUCK:
                rels, keeps = [(0, Link.TUCKED)], 0
            elif stitch.motion is Motion.BELOW:
                rels, keeps, special = [(0, Link.BELOW)], 0, 3
            elif stitch.takes == stitch.makes and stitch.takes > 1:
                rels, keeps = [(i, Link.DRAWN)], i
            else:
                rels = [(j, Link.DRAWN) for j in range(stitch.takes)]
                if stitch.makes == 1:
                    keeps = min(stitch.top, stitch.takes - 1)
                elif i == (stitch.makes - 1) // 2:
                    keeps = stitch.takes // 2
            at = len(self._rel)
            for r, link in rels:
                self._rel.append(r)
                self._rel_link.append(int(link))
            self._children.append((new, int(_SEEN[faces[i]]), int(stitch.twisted), len(rels), at, keeps))
        op = self._append(stitch.key, stitch)
        self._rebuild([stitch.takes], [stitch.makes], [first], [special])
        return op


def _crossed(stitch: Stitch, i: int) -> Link:
    """Whether the ``i``-th loop worked passes in front: its place moves against or with the lean."""
    moved = i - stitch.order[i]  # above 0: away from the needle's tip, to the left as it is worked
    if moved == 0:
        return Link.DRAWN
    to_left = moved > 0
    in_front = to_left == (stitch.lean is Lean.LEFT)
    return Link.CROSSED_FRONT if in_front else Link.CROSSED_BACK


@cache
def op_table() -> OpTable:
    """The one table of this process; it only ever grows, so numbers stay good."""
    return OpTable()
