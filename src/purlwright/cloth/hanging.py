"""What each stitch of a row hangs on, in working order: loops, tucks, crossings, edges that were picked up.

In: a fabric and the nodes so far. Out: :class:`Hanging`, asked row by row. What lies between two neighbours
is left to ``netting``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Int32, Link
from purlwright.needles.ledger import Kind

if TYPE_CHECKING:
    from purlwright.cloth.nodes import Nodes
    from purlwright.fabric.arrays import Fabric

__all__ = ["Hanging"]

_HANGS = (Link.DRAWN, Link.BELOW, Link.TUCKED, Link.CROSSED_FRONT, Link.CROSSED_BACK, Link.EDGE)


class Hanging:
    """What hangs on what.

    keep : (n,) of the fabric's stitches, those that are nodes: bound-off ones and inner rows of bobbles are
    not. last_child : the latest stitch that hangs on each. loose : picked up from no edge that is known.
    lies : of a cast-on by its row, whether its loops lie from right to left in the order they were made.
    """

    def __init__(self, fabric: Fabric, nodes: Nodes, binding: set[int]) -> None:
        """``binding`` are the rows in which loops are bound off."""
        self.fabric, self.nodes = fabric, nodes
        self.keep = np.ones(fabric.n, bool)
        self.last_child = np.full(fabric.n, -1, np.int64)
        self.lifted: dict[int, list[int]] = {}
        self.lies: dict[int, bool] = {}
        self.loose = 0
        self._look_ahead(binding)

    def _look_ahead(self, binding: set[int]) -> None:
        """What of the fabric is no node of its own, and which loops are lifted over others."""
        f = self.fabric
        counts = np.diff(f.first_parent_of_stitch)
        child = np.repeat(np.arange(f.n), counts)
        hangs = np.isin(f.link, _HANGS)
        np.maximum.at(self.last_child, f.parent[hangs], child[hangs])
        self.odd = counts != 1
        odd_link = child[(f.link != Link.DRAWN)]
        self.odd[odd_link] = True
        passed = f.join_kind == Link.PASSED
        a, b = f.join_a[passed], f.join_b[passed]
        same = f.row_of_stitch[a] == f.row_of_stitch[b]
        bound = np.isin(f.row_of_stitch[a], list(binding)) & same & (b == a + 1)
        self.keep[a[bound]] = False
        for s, over in zip(a[~same].tolist(), b[~same].tolist(), strict=True):
            if s < over:  # slipped, and passed over what was worked after it
                self.lifted.setdefault(over, []).append(s)
                self.odd[over] = True
                self.last_child[s] = max(int(self.last_child[s]), over)
        within = hangs & (f.row_of_stitch[f.parent] == f.row_of_stitch[child])
        self.keep[f.parent[within]] = False  # the inner rows of a bobble
        self.odd[child[within]] = True

    def below(self, nodes: Int32, kind: Kind) -> tuple[Int32, Int32, dict[int, list[int]]]:
        """The first and last node each hangs on in working order, -1 for none; all of them, where more."""
        f = self.fabric
        start = f.first_parent_of_stitch[nodes]
        first = np.full(len(nodes), -1, np.int32)
        plain = ~self.odd[nodes]
        first[plain] = self.nodes.now[f.parent[start[plain]]]
        last = first.copy()
        more: dict[int, list[int]] = {}
        odd = np.flatnonzero(~plain)
        if len(odd):
            self._odd_below(nodes, odd, first, last, more, kind)
        return first, last, more

    def _odd_below(
        self, nodes: Int32, odd: Any, first: Int32, last: Int32, more: dict[int, list[int]], kind: Kind
    ) -> None:
        f = self.fabric
        picked: list[int] = []
        made_here = int(nodes[0])
        root: dict[int, int] = {}
        new: list[int] = []
        for i in odd.tolist():
            s = int(nodes[i])
            below = [int(self.nodes.now[p]) for p in self.lifted.get(s, ())]
            for j in range(int(f.first_parent_of_stitch[s]), int(f.first_parent_of_stitch[s + 1])):
                p, link = int(f.parent[j]), int(f.link[j])
                if link not in _HANGS:
                    continue
                if p >= made_here:  # an inner row of a bobble
                    at = root.get(p, -1)
                else:
                    at = int(self.nodes.now[p])
                    if link == Link.EDGE:
                        at = self._on_edge(p, at)
                        picked.append(i)
                    elif link == Link.BELOW and self.nodes.above[at] >= 0:
                        at = int(self.nodes.above[at])
                if at >= 0 and at not in below:
                    below.append(at)
            if len(below) > 1:  # a tuck hangs on the loop it is worked with
                under = {int(self.nodes.first_below[p]) for p in below}
                below = [p for p in below if p not in under] or below
            if below:
                first[i], last[i] = below[0], below[-1]
                root[s] = below[0]
                if len(below) > 1:
                    more[s] = below
            elif kind is Kind.PICK_UP:
                self.loose += 1
            elif int(f.first_parent_of_stitch[s + 1]) > int(f.first_parent_of_stitch[s]) or not self.cast(s):
                new.append(i)
        if picked:
            self._along_cast_on(picked, first, last, wrong=bool(self.nodes.wrong[made_here]))
        crossing = np.isin(
            [f.link[f.first_parent_of_stitch[nodes[i]]] if first[i] >= 0 and len(f.link) else 0 for i in odd],
            (Link.CROSSED_FRONT, Link.CROSSED_BACK),
        )
        if crossing.any():
            self._uncross(odd[crossing], first, last, more, nodes)
        for i in new:  # a yarn over or a lifted strand opens between its neighbours
            at = int(last[i - 1]) if i else -1
            if at < 0:
                later = np.flatnonzero(first[i:] >= 0)
                at = int(first[i + later[0]]) if len(later) else -1
            first[i] = last[i] = at

    def _on_edge(self, stitch: int, now: int) -> int:
        """The node of an edge stitch itself, which may have been slipped or knitted on since."""
        return stitch if self.keep[stitch] else now

    def _along_cast_on(self, picked: list[int], first: Int32, last: Int32, *, wrong: bool) -> None:
        """Loops picked up under a cast-on go along it the other way round than the row above it did.

        Where two runs of one row are picked up from one cast-on, as in the middle of an underarm, each has a
        half of it.
        """
        row = self.fabric.row_of_stitch
        runs: dict[int, list[list[int]]] = {}
        for i in picked:
            p = int(first[i])
            if p >= self.fabric.n or self.nodes.first_below[p] >= 0:
                continue
            mine = runs.setdefault(int(row[p]), [])
            if mine and mine[-1][-1] == i - 1:
                mine[-1].append(i)
            else:
                mine.append([i])
        for groups in runs.values():
            at_edge = int(first[groups[0][0]])
            if len(groups) == 2:
                at_edge = self._cast_on_beside(int(first[groups[0][-1] + 1]), at_edge)
            nodes = self._cast_on_at(at_edge)
            ascends = self.lies.get(int(row[nodes[0]]), not self.nodes.wrong[nodes[0]])
            if ascends != wrong:
                nodes = nodes[::-1]
            order = [i for group in (groups[::-1] if len(groups) == 2 else groups) for i in group]
            want = {int(first[i]) for i in order}
            if len(groups) == 2:
                at = ((np.arange(len(order)) + 0.5) * len(nodes) / len(order)).astype(int)
                first[order] = last[order] = nodes[at]
            elif len(groups) == 1 and want <= set(nodes.tolist()):
                place = {int(p): k for k, p in enumerate(nodes)}
                there = sorted((int(first[i]) for i in order), key=place.__getitem__)
                first[order] = last[order] = np.array(there, np.int32)

    def _cast_on_beside(self, loop: int, at: int) -> int:
        """The cast-on of the same row as ``at`` that lies beside a loop; ``at`` if none is near."""
        row = self.fabric.row_of_stitch
        seen = here = [loop] if loop >= 0 else []
        for _ in range(4):
            here = [q for p in here for q in self.nodes.near(p) if q not in seen]
            for q in here:
                if q < self.fabric.n and row[q] == row[at] and self.nodes.first_below[q] < 0 and self.cast(q):
                    return q
            seen = [*seen, *here]
        return at

    def _cast_on_at(self, p: int) -> Int32:
        """All loops cast on together with one, by their numbers."""
        row = self.fabric.row_of_stitch
        a = b = p
        while a > 0 and row[a - 1] == row[p] and self.nodes.first_below[a - 1] < 0 and self.cast(a - 1):
            a -= 1
        while (
            b + 1 < self.fabric.n
            and row[b + 1] == row[p]
            and self.nodes.first_below[b + 1] < 0
            and self.cast(b + 1)
        ):
            b += 1
        return np.arange(a, b + 1, dtype=np.int32)

    def cast(self, s: int) -> bool:
        """Whether a stitch that hangs on nothing is one of several loops cast on, with an opening below."""
        f = self.fabric
        name = f.ops[int(f.op_of_stitch[s])]
        return name == "cast on"

    def _uncross(
        self, crossing: Any, first: Int32, last: Int32, more: dict[int, list[int]], nodes: Int32
    ) -> None:
        """Stitches of a crossing stand side by side; only their columns change places."""
        runs = np.split(crossing, np.flatnonzero(np.diff(crossing) > 1) + 1)
        for run in runs:
            if any(int(nodes[i]) in more for i in run.tolist()):
                continue
            below = sorted(int(first[i]) for i in run.tolist())
            # along the working direction: the neighbours of the run tell which way numbers go
            up = self._goes_up(int(run[0]), int(run[-1]), first, below)
            first[run] = last[run] = np.array(below if up else below[::-1], np.int32)

    def _goes_up(self, a: int, b: int, first: Int32, below: list[int]) -> bool:
        if a > 0 and _last_known(first[:a]) >= 0:
            return _last_known(first[:a]) < below[0]
        after = first[b + 1 :]
        known = after[after >= 0]
        return not len(known) or int(known[0]) > below[-1]

    def orient(self, below: Int32, wrong: bool) -> None:
        """Loops just cast on lie as the first row finds them: from the last made or from the first."""
        known = below[below >= 0]
        if not len(known) or self.nodes.left[known[0]] >= 0 or self.nodes.right[known[0]] >= 0:
            return
        at = int(known[0])
        if self.nodes.first_below[at] >= 0 or self.nodes.virtual[at] or at >= self.fabric.n:
            return
        made = self.fabric.row_of_stitch
        a, b = (int(np.searchsorted(made, made[at], side)) for side in ("left", "right"))
        line = np.arange(a, b, dtype=np.int32)
        line = line[(self.nodes.first_below[line] < 0) & self.keep[line]]
        here = known[np.isin(known, line)]
        up = len(here) > 1 and int(here[1]) > int(here[0])
        self.lies[int(made[at])] = up != wrong
        if not up:
            line = line[::-1]
        forth, back = self.nodes.ways(wrong)
        forth[line[:-1]] = line[1:]
        back[line[1:]] = line[:-1]


def _last_known(values: Int32) -> int:
    """The last of some numbers that is not -1; -1 if there is none."""
    known = values[values >= 0]
    return int(known[-1]) if len(known) else -1
