"""Row on row, how the fabric hangs together: which faces lie between a row and what was there before.

In: what was knitted. Out: nodes, edges, faces and rows for ``mesh``. What they measure is left to ``rest``.

The edge of the fabric so far is kept as one line that is passed from loop to loop (``left`` and ``right`` as
the right side shows it), selvedges and the steps at turns included. Two neighbours of a row close a face
with the stretch of that line between the loops they were drawn through: four sides as a rule, three at an
increase or decrease, six or more over the gap of a short row. Loops that a row slipped lie in the stretch
as well; each gets a node more in that row, so that the next row finds it at its height.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.cloth.mesh import EdgeKind
from purlwright.fabric.arrays import Int8, Int32, Link
from purlwright.needles.ledger import Kind
from purlwright.needles.optable import op_table

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["Netting"]

_HANGS = (Link.DRAWN, Link.BELOW, Link.TUCKED, Link.CROSSED_FRONT, Link.CROSSED_BACK, Link.EDGE)
_REACH = 60
"""How far the line is followed to find the next loop, in nodes."""
_SIDES = 14
"""A stretch with more sides is an opening, not a face."""
_EDGE_SLIPS = 4
"""Up to so many loops slipped at the beginning or end of a row are looked for."""


class Netting:
    """A net in the making. ``n`` nodes so far; the first are the stitches, by their numbers in the fabric."""

    def __init__(self, knitted: Knitted) -> None:
        f = self.fabric = knitted.fabric
        self.pieces: dict[int, int] = {}
        self.entries: dict[int, Entry] = {}
        for i, piece in enumerate(knitted.ledger.pieces):
            for entry in piece.rows:
                self.pieces[entry.order], self.entries[entry.order] = i, entry
        keys = op_table().keys
        binding = {
            item[-1] for item in knitted.log if item[0] == "act" and keys[item[1]] == "bind off"
        }  # rows in which loops are bound off
        room = f.n + 16
        self.n = f.n
        self.stitch = np.arange(room, dtype=np.int32)
        self.order = self._padded(f.row_of_stitch, room)
        self.wrong = self._padded(f.side_of_stitch == 1, room)
        self.piece = np.zeros(room, np.int32)
        self.virtual = np.zeros(room, bool)
        self.left = np.full(room, -1, np.int32)
        self.right = np.full(room, -1, np.int32)
        self.first_below = np.full(room, -1, np.int32)
        self.last_below = np.full(room, -1, np.int32)
        self.above = np.full(room, -1, np.int32)
        """The latest node that hangs on it."""
        self.earlier = np.full(room, -1, np.int32)
        self.later = np.full(room, -1, np.int32)
        """The nodes before and after it along the yarn, where they are neighbours."""
        self.now = np.arange(room, dtype=np.int32)
        """Of a stitch: the node in which its loop lies now; -1 for one that has none."""
        self.keep = np.ones(f.n, bool)
        self.last_child = np.full(f.n, -1, np.int64)
        self.left_out = 0
        self.loose = 0
        self.lies: dict[int, bool] = {}
        """Of a cast-on by its row: whether its loops lie from right to left in the order they were made."""
        self.edges: list[Int32] = []
        self.kinds: list[Int8] = []
        self.faces: list[Int32] = []
        self.sizes: list[Int32] = []
        self.rows: list[Int32] = []
        self.row_orders: list[int] = []
        self.last: dict[int, Any] = {}
        """For each piece the row worked last: its nodes, side and kind."""
        self._look_ahead(binding)

    @staticmethod
    def _padded(values: Any, room: int) -> Any:
        out = np.zeros(room, values.dtype)
        out[: len(values)] = values
        return out

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
        self.lifted: dict[int, list[int]] = {}
        for s, over in zip(a[~same].tolist(), b[~same].tolist(), strict=True):
            if s < over:  # slipped, and passed over what was worked after it
                self.lifted.setdefault(over, []).append(s)
                self.odd[over] = True
                self.last_child[s] = max(int(self.last_child[s]), over)
        within = hangs & (f.row_of_stitch[f.parent] == f.row_of_stitch[child])
        self.keep[f.parent[within]] = False  # the inner rows of a bobble
        self.odd[child[within]] = True

    # --- the work --------------------------------------------------------------------------------------

    def knit(self) -> None:
        """Lay every row on what was there before it."""
        f = self.fabric
        made = f.row_of_stitch
        if not f.n:
            return
        starts = np.flatnonzero(np.concatenate(([True], made[1:] != made[:-1])))
        ends = np.append(starts[1:], f.n)
        for a, b in zip(starts.tolist(), ends.tolist(), strict=True):
            self._row(int(made[a]), a, b)
        self._drop_unused()

    def _row(self, order: int, a: int, b: int) -> None:
        entry = self.entries.get(order)
        piece = self.pieces.get(order, 0)
        kind = entry.kind if entry is not None else Kind.ROW
        self.piece[a:b] = piece
        if kind is Kind.BIND_OFF:
            self.keep[a:b] = False
        nodes = np.arange(a, b, dtype=np.int32)
        first, last, more = self._below(nodes, kind)
        gone = ~self.keep[a:b]
        if gone.any():
            self.now[nodes[gone]] = np.where(last[gone] >= 0, last[gone], -1)
        wrong = bool(self.wrong[a])
        was = self.last.get(piece)
        if kind is Kind.BIND_OFF and was is not None and wrong != was[1] and b > a:
            self._start(nodes, first, last, was, wrong, kind)
        for run in _runs(~gone):
            mine, lo, hi = nodes[run], first[run], last[run]
            self._orient(lo, wrong)
            before = -1
            if was is not None and run.start == 0:
                mine, lo, hi, before = self._start(mine, lo, hi, was, wrong, kind)
            mine = self._lay(mine, lo, hi, more, before, wrong, entry)
            self.rows.append(mine)
            self.row_orders.append(order)
            was = (mine, wrong, kind)
        if was is not None:
            self.last[piece] = was

    def _below(self, nodes: Int32, kind: Kind) -> tuple[Int32, Int32, dict[int, list[int]]]:
        """The first and last node each hangs on in working order, -1 for none; all of them, where more."""
        f = self.fabric
        start = f.first_parent_of_stitch[nodes]
        first = np.full(len(nodes), -1, np.int32)
        plain = ~self.odd[nodes]
        first[plain] = self.now[f.parent[start[plain]]]
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
            below = [int(self.now[p]) for p in self.lifted.get(s, ())]
            for j in range(int(f.first_parent_of_stitch[s]), int(f.first_parent_of_stitch[s + 1])):
                p, link = int(f.parent[j]), int(f.link[j])
                if link not in _HANGS:
                    continue
                if p >= made_here:  # an inner row of a bobble
                    at = root.get(p, -1)
                else:
                    at = int(self.now[p])
                    if link == Link.EDGE:
                        at = self._on_edge(p, at)
                        picked.append(i)
                    elif link == Link.BELOW and self.above[at] >= 0:
                        at = int(self.above[at])
                if at >= 0 and at not in below:
                    below.append(at)
            if len(below) > 1:  # a tuck hangs on the loop it is worked with
                under = {int(self.first_below[p]) for p in below}
                below = [p for p in below if p not in under] or below
            if below:
                first[i], last[i] = below[0], below[-1]
                root[s] = below[0]
                if len(below) > 1:
                    more[s] = below
            elif kind is Kind.PICK_UP:
                self.loose += 1
            elif int(f.first_parent_of_stitch[s + 1]) > int(f.first_parent_of_stitch[s]) or not self._cast(s):
                new.append(i)
        if picked:
            self._along_cast_on(picked, first, last, wrong=bool(self.wrong[made_here]))
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
            if p >= self.fabric.n or self.first_below[p] >= 0:
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
            ascends = self.lies.get(int(row[nodes[0]]), not self.wrong[nodes[0]])
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
            here = [q for p in here for q in self._near(p) if q not in seen]
            for q in here:
                if q < self.fabric.n and row[q] == row[at] and self.first_below[q] < 0 and self._cast(q):
                    return q
            seen = [*seen, *here]
        return at

    def _cast_on_at(self, p: int) -> Int32:
        """All loops cast on together with one, by their numbers."""
        row = self.fabric.row_of_stitch
        a = b = p
        while a > 0 and row[a - 1] == row[p] and self.first_below[a - 1] < 0 and self._cast(a - 1):
            a -= 1
        while (
            b + 1 < self.fabric.n
            and row[b + 1] == row[p]
            and self.first_below[b + 1] < 0
            and self._cast(b + 1)
        ):
            b += 1
        return np.arange(a, b + 1, dtype=np.int32)

    def _cast(self, s: int) -> bool:
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
        if a > 0 and last_known(first[:a]) >= 0:
            return last_known(first[:a]) < below[0]
        after = first[b + 1 :]
        known = after[after >= 0]
        return not len(known) or int(known[0]) > below[-1]

    # --- how a row begins ------------------------------------------------------------------------------

    def _orient(self, below: Int32, wrong: bool) -> None:
        """Loops just cast on lie as the first row finds them: from the last made or from the first."""
        known = below[below >= 0]
        if not len(known) or self.left[known[0]] >= 0 or self.right[known[0]] >= 0:
            return
        at = int(known[0])
        if self.first_below[at] >= 0 or self.virtual[at] or at >= self.fabric.n:
            return
        made = self.fabric.row_of_stitch
        a, b = (int(np.searchsorted(made, made[at], side)) for side in ("left", "right"))
        line = np.arange(a, b, dtype=np.int32)
        line = line[(self.first_below[line] < 0) & self.keep[line]]
        here = known[np.isin(known, line)]
        up = len(here) > 1 and int(here[1]) > int(here[0])
        self.lies[int(made[at])] = up != wrong
        if not up:
            line = line[::-1]
        forth, back = (self.right, self.left) if wrong else (self.left, self.right)
        forth[line[:-1]] = line[1:]
        back[line[1:]] = line[:-1]

    def _start(
        self, mine: Int32, lo: Int32, hi: Int32, was: Any, wrong: bool, kind: Kind
    ) -> tuple[Int32, Int32, Int32, int]:
        """Slipped loops at the turn, and the stitch before the first where the row goes on from it."""
        nodes, was_wrong, was_kind = was
        if not len(nodes) or not len(lo) or kind is Kind.PICK_UP:
            return mine, lo, hi, -1
        end = int(nodes[-1])
        if was_kind is Kind.CAST_ON and kind is Kind.ROW and lo[0] >= 0:
            end = self._line_begins(int(lo[0]), wrong)
        elif wrong == was_wrong or was_kind is Kind.CAST_ON:
            round_about = Kind.ROUND in {kind, was_kind}
            no_row = kind is Kind.CAST_ON or (len(lo) and lo[0] < 0)
            goes_on = (round_about and (kind is not Kind.CAST_ON)) or no_row
            return mine, lo, hi, end if goes_on and end != lo[0] else -1
        back = self.left if wrong else self.right
        at = int(lo[0])
        if at == end or at < 0:
            return mine, lo, hi, end if at < 0 else -1
        # Slipped at the beginning of this row: the end of the row before lies further out.
        out: list[int] = []
        step = at
        for _ in range(_EDGE_SLIPS):
            step = int(back[step])
            if step < 0 or kind is Kind.BIND_OFF:
                break
            out.append(step)
            if step == end:
                new = np.array([self._carry(p, int(mine[0])) for p in reversed(out)], np.int32)
                old = np.array(out[::-1], np.int32)
                return (
                    np.concatenate([new, mine]),
                    np.concatenate([old, lo]),
                    np.concatenate([old, hi]),
                    -1,
                )
        # Slipped at the end of the row before: this row begins on a loop beyond its end.
        step = int(back[end])
        beyond: list[int] = []
        for _ in range(_EDGE_SLIPS + 1):
            if step < 0 or step == at:
                break
            step_to = int(back[step])
            if step_to < 0:
                break
            beyond.append(step_to)
            if step_to == at:
                return self._slipped_last(nodes, beyond, mine, lo, hi, was_wrong)
            step = step_to
        return mine, lo, hi, -1

    def _line_begins(self, at: int, wrong: bool) -> int:
        """The first loop of a cast-on, a few before ``at`` in working order; ``at`` if that is far off."""
        back = self.left if wrong else self.right
        for _ in range(_EDGE_SLIPS):
            if back[at] < 0:
                return at
            at = int(back[at])
        return at

    def _slipped_last(
        self, nodes: Int32, beyond: list[int], mine: Int32, lo: Int32, hi: Int32, was_wrong: bool
    ) -> tuple[Int32, Int32, Int32, int]:
        end = int(nodes[-1])
        new = np.array([self._carry(p, end) for p in beyond], np.int32)
        under = np.array(beyond, np.int32)
        longer = self._lay(new, under, under, {}, end, was_wrong, None)
        self.rows[-1] = np.concatenate([self.rows[-1], longer])
        swap = dict(zip(beyond, new.tolist(), strict=True))
        for values in (lo, hi):
            for i in range(min(len(values), len(beyond) + 1)):
                values[i] = swap.get(int(values[i]), int(values[i]))
        return mine, lo, hi, -1

    def _carry(self, node: int, like: int) -> int:
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

    # --- laying a row ----------------------------------------------------------------------------------

    def _lay(
        self,
        mine: Int32,
        lo: Int32,
        hi: Int32,
        more: dict[int, list[int]],
        before: int,
        wrong: bool,
        entry: Entry | None,
    ) -> Int32:
        """Lay a run of neighbours on the line; gives them with the loops slipped between them."""
        forth, back = (self.right, self.left) if wrong else (self.left, self.right)
        a, b = mine[:-1], mine[1:]
        pa, pb = hi[:-1], lo[1:]
        if before >= 0:
            a, b = np.insert(a, 0, before), np.insert(b, 0, mine[0])
            pa, pb = np.insert(pa, 0, self.last_below[before]), np.insert(pb, 0, lo[0])
        known = (pa >= 0) & (pb >= 0)
        plain = known & (forth[pa] == pb) & (pa != pb)
        fan = known & (pa == pb)
        self._face(np.stack([a, b, pb, pa], axis=1)[plain], wrong)
        self._face(np.stack([a, b, pb], axis=1)[fan], wrong)
        slips: dict[int, list[int]] = {}
        for i in np.flatnonzero(known & ~plain & ~fan).tolist():
            got = self._between(int(a[i]), int(b[i]), int(pa[i]), int(pb[i]), forth, wrong, entry)
            if got:
                slips[i] = got
        for s, below in more.items():
            if len(mine) and int(mine[0]) <= s <= int(mine[-1]):
                self._decrease(s, below, forth, wrong)
        hangs = lo >= 0
        self._edge(mine[hangs], lo[hangs], EdgeKind.WALE)
        if more:
            twice = np.array([[s, p] for s, ps in more.items() if self.keep[s] for p in ps[1:]], np.int32)
            if len(twice):
                self._edge(twice[:, 0], twice[:, 1], EdgeKind.WALE)
        self.first_below[mine], self.last_below[mine] = lo, hi
        self.above[lo[hangs]] = mine[hangs]
        self.above[hi[hangs]] = mine[hangs]
        whole = mine if before < 0 else np.insert(mine, 0, before)
        if slips:
            parts: list[Any] = []
            done = 0
            for i, got in sorted(slips.items()):
                parts += [whole[done : i + 1], np.array(got, np.int32)]
                done = i + 1
            whole = np.concatenate([*parts, whole[done:]])
        self._edge(whole[:-1], whole[1:], EdgeKind.COURSE)
        self.later[whole[:-1]], self.earlier[whole[1:]] = whole[1:], whole[:-1]
        if before < 0 and entry is not None and entry.kind is Kind.CAST_ON:
            return whole  # how it lies is known when it is worked
        forth, back = (self.right, self.left) if wrong else (self.left, self.right)  # they may have grown
        forth[whole[:-1]] = whole[1:]
        back[whole[1:]] = whole[:-1]
        if before < 0 and lo[0] >= 0:
            back[whole[0]] = lo[0]
            forth[lo[0]] = whole[0]
        if hi[-1] >= 0:
            forth[whole[-1]] = hi[-1]
            back[hi[-1]] = whole[-1]
        return whole if before < 0 else whole[1:]

    def _between(
        self, a: int, b: int, pa: int, pb: int, forth: Int32, wrong: bool, entry: Entry | None
    ) -> list[int]:
        """Close what lies between two neighbours; gives the new nodes of loops slipped there."""
        way = self._along(pa, pb, forth)
        if way is None:
            way = self._around(pa, pb)
        if way is None:
            self.left_out += 1
            return []
        inner = way[1:-1]
        waiting = [
            p for p in inner if not self._hung_on(p, way) and self.last_child[self.stitch[p]] >= min(a, b)
        ]
        held = entry is not None and entry.held > 0
        if waiting and len(waiting) == len(inner) and not held and self._same_piece(waiting, b):
            new = [self._carry(p, b) for p in inner]
            line, under = [a, *new, b], way
            for i in range(len(line) - 1):
                self._face(np.array([[line[i], line[i + 1], under[i + 1], under[i]]], np.int32), wrong)
            fresh = np.array(new, np.int32)
            self._edge(fresh, np.array(inner, np.int32), EdgeKind.WALE)
            self.above[inner] = fresh
            return new
        if waiting or len(way) + 2 > _SIDES:
            self.left_out += 1
            return []
        self._face(np.array([[a, b, *reversed(way)]], np.int32), wrong)
        return []

    def _same_piece(self, waiting: list[int], b: int) -> bool:
        later = self.last_child[self.stitch[waiting]]
        rows = self.fabric.row_of_stitch[later]
        return all(self.pieces.get(int(r), -1) == int(self.piece[b]) for r in rows.tolist())

    def _hung_on(self, p: int, way: list[int]) -> bool:
        """Whether a stitch of the stretch itself hangs on this one."""
        return int(self.above[p]) in way

    def _along(self, a: int, b: int, forth: Int32) -> list[int] | None:
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

    def _around(self, a: int, b: int) -> list[int] | None:
        """The shortest way from one node to another over what is tied, where the line is lost."""
        came = {a: -1}
        here = [a]
        for _ in range(5):
            later = []
            for p in here:
                for q in self._near(p):
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

    def _near(self, p: int) -> list[int]:
        """The nodes that one is tied to, as far as they are remembered."""
        near = (
            self.left[p], self.right[p], self.first_below[p], self.last_below[p], self.above[p],
            self.earlier[p], self.later[p],
        )  # fmt: skip
        return [int(q) for q in near if q >= 0]

    def _decrease(self, s: int, below: list[int], forth: Int32, wrong: bool) -> None:
        """Faces between the loops that were worked together."""
        if not self.keep[s]:
            return
        for p, q in pairwise(below):
            if int(forth[p]) == q:
                self._face(np.array([[s, q, p]], np.int32), wrong)
                continue
            way = self._along(p, q, forth) or self._around(p, q)
            if way is not None and len(way) + 1 <= _SIDES:
                self._face(np.array([[s, *reversed(way)]], np.int32), wrong)
            else:
                self.left_out += 1

    # --- gathering -------------------------------------------------------------------------------------

    def _edge(self, a: Int32, b: Int32, kind: EdgeKind) -> None:
        if len(a):
            self.edges.append(np.stack([a, b], axis=1))
            self.kinds.append(np.full(len(a), kind, np.int8))

    def _face(self, nodes: Int32, wrong: bool) -> None:
        """Faces of equally many sides, (g, sides), given as the worker sees them."""
        if len(nodes):
            self.faces.append((nodes[:, ::-1] if wrong else nodes).ravel())
            self.sizes.append(np.full(len(nodes), nodes.shape[1], np.int32))

    def way(self, p: int, r: int) -> list[int]:
        """The nodes between two, by their last numbers, along the edge; none if they are far apart."""
        old = np.flatnonzero(self.number[:-1] >= 0)
        a, b = int(old[p]), int(old[r])
        found = self._along(a, b, self.left) or self._along(a, b, self.right) or self._around(a, b)
        if found is None or len(found) + 2 > _SIDES:
            return []
        return [int(self.number[q]) for q in found[1:-1]]

    def node_now(self, stitches: Int32) -> Int32:
        """The nodes in which some loops lie at the end; -1 for none."""
        got: Int32 = self.now[stitches]
        return got

    def all_faces(self) -> tuple[Int32, Int32]:
        return _joined(self.faces), _joined(self.sizes)

    def all_edges(self) -> tuple[Int32, Int8]:
        edges = np.concatenate(self.edges) if self.edges else np.zeros((0, 2), np.int32)
        kinds = np.concatenate(self.kinds) if self.kinds else np.zeros(0, np.int8)
        return edges, kinds

    def all_rows(self) -> tuple[Int32, Any, Any]:
        return _joined(self.rows), [len(r) for r in self.rows], self.row_orders

    def _drop_unused(self) -> None:
        """Number anew the nodes that are left: bound-off stitches and inner rows of bobbles are none."""
        n = self.n
        used = np.ones(n, bool)
        used[: self.fabric.n] = self.keep
        number = self.number = np.full(n + 1, -1, np.int32)
        number[:n][used] = np.arange(int(used.sum()), dtype=np.int32)
        for name in ("stitch", "order", "wrong", "piece", "virtual"):
            setattr(self, name, getattr(self, name)[:n][used])
        self.edges = [number[e] for e in self.edges]
        self.faces = [number[f] for f in self.faces]
        self.rows = [number[r] for r in self.rows]
        self.now = number[self.now[: self.fabric.n]]
        self.n = int(used.sum())


def last_known(values: Int32) -> int:
    """The last of some numbers that is not -1; -1 if there is none."""
    known = values[values >= 0]
    return int(known[-1]) if len(known) else -1


def _runs(wanted: Any) -> list[slice]:
    """Stretches of True."""
    edge = np.flatnonzero(np.diff(np.concatenate(([0], wanted.astype(np.int8), [0]))))
    return [slice(int(a), int(b)) for a, b in zip(edge[::2], edge[1::2], strict=True)]


def _joined(parts: list[Int32]) -> Int32:
    return np.concatenate(parts) if parts else np.zeros(0, np.int32)
