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

from purlwright.cloth.hanging import Hanging
from purlwright.cloth.mesh import EdgeKind
from purlwright.cloth.nodes import Nodes
from purlwright.cloth.picked import on_an_edge
from purlwright.fabric.arrays import Int8, Int32
from purlwright.needles.ledger import Kind
from purlwright.needles.optable import op_table

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Entry

__all__ = ["Netting"]

_SIDES = 14
"""A stretch with more sides is an opening, not a face."""
_EDGE_SLIPS = 4
"""Up to so many loops slipped at the beginning or end of a row are looked for."""


class Netting:
    """A net in the making."""

    def __init__(self, knitted: Knitted) -> None:
        f = self.fabric = knitted.fabric
        self.pieces: dict[int, int] = {}
        self.entries: dict[int, Entry] = {}
        for i, piece in enumerate(knitted.ledger.pieces):
            for entry in piece.rows:
                self.pieces[entry.order], self.entries[entry.order] = i, entry
        keys = op_table().keys
        binding = {item[-1] for item in knitted.log if item[0] == "act" and keys[item[1]] == "bind off"}
        self.nodes = Nodes(f)
        self.hanging = Hanging(f, self.nodes, binding)
        self.left_out = 0
        self.edges: list[Int32] = []
        self.kinds: list[Int8] = []
        self.faces: list[Int32] = []
        self.sizes: list[Int32] = []
        self.rows: list[Int32] = []
        self.row_orders: list[int] = []
        self.last: dict[int, Any] = {}
        """For each piece the row worked last: its nodes, side and kind."""
        self.number = np.zeros(0, np.int32)
        """The last numbers of nodes by their first, -1 for those left out."""

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
        self.nodes.piece[a:b] = piece
        if kind is Kind.BIND_OFF:
            self.hanging.keep[a:b] = False
        nodes = np.arange(a, b, dtype=np.int32)
        first, last, more = self.hanging.below(nodes, kind)
        if kind is Kind.PICK_UP and (first < 0).any():
            self._seek_edge(nodes, first, last, order)
        gone = ~self.hanging.keep[a:b]
        if gone.any():
            self.nodes.now[nodes[gone]] = np.where(last[gone] >= 0, last[gone], -1)
        wrong = bool(self.nodes.wrong[a])
        was = self.last.get(piece)
        if kind is Kind.BIND_OFF and was is not None and wrong != was[1] and b > a:
            self._start(nodes, first, last, was, wrong, kind)
        for run in _runs(~gone):
            mine, lo, hi = nodes[run], first[run], last[run]
            self.hanging.orient(lo, wrong)
            before = -1
            if was is not None and run.start == 0:
                mine, lo, hi, before = self._start(mine, lo, hi, was, wrong, kind)
            mine = self._lay(mine, lo, hi, more, before, wrong, entry)
            self.rows.append(mine)
            self.row_orders.append(order)
            was = (mine, wrong, kind)
        if was is not None:
            self.last[piece] = was

    def _seek_edge(self, nodes: Int32, first: Int32, last: Int32, order: int) -> None:
        """Find the edge for stitches picked up where the words name none that is known."""
        following = self.entries.get(order + 1)
        ring = following is not None and following.kind in {Kind.JOIN, Kind.ROUND}
        faces, sizes = self.all_faces()
        found = on_an_edge(self.hanging, nodes, first, faces, sizes, ring=ring)
        if found is None:
            return
        line, at = found
        self.hanging.loose -= int((first < 0).sum()) - int((at < 0).sum())
        first[:] = last[:] = at
        forth, back = self.nodes.ways(bool(self.nodes.wrong[nodes[0]]))
        onward = np.roll(line, -1)
        forth[line], back[onward] = onward, line

    # --- how a row begins ------------------------------------------------------------------------------

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
        back = self.nodes.left if wrong else self.nodes.right
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
                new = np.array([self.nodes.carry(p, int(mine[0])) for p in reversed(out)], np.int32)
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
        back = self.nodes.left if wrong else self.nodes.right
        for _ in range(_EDGE_SLIPS):
            if back[at] < 0:
                return at
            at = int(back[at])
        return at

    def _slipped_last(
        self, nodes: Int32, beyond: list[int], mine: Int32, lo: Int32, hi: Int32, was_wrong: bool
    ) -> tuple[Int32, Int32, Int32, int]:
        end = int(nodes[-1])
        new = np.array([self.nodes.carry(p, end) for p in beyond], np.int32)
        under = np.array(beyond, np.int32)
        longer = self._lay(new, under, under, {}, end, was_wrong, None)
        self.rows[-1] = np.concatenate([self.rows[-1], longer])
        swap = dict(zip(beyond, new.tolist(), strict=True))
        for values in (lo, hi):
            for i in range(min(len(values), len(beyond) + 1)):
                values[i] = swap.get(int(values[i]), int(values[i]))
        return mine, lo, hi, -1

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
        forth, back = self.nodes.ways(wrong)
        a, b = mine[:-1], mine[1:]
        pa, pb = hi[:-1], lo[1:]
        if before >= 0:
            a, b = np.insert(a, 0, before), np.insert(b, 0, mine[0])
            pa, pb = np.insert(pa, 0, self.nodes.last_below[before]), np.insert(pb, 0, lo[0])
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
            twice = np.array(
                [[s, p] for s, ps in more.items() if self.hanging.keep[s] for p in ps[1:]], np.int32
            )
            if len(twice):
                self._edge(twice[:, 0], twice[:, 1], EdgeKind.WALE)
        self.nodes.first_below[mine], self.nodes.last_below[mine] = lo, hi
        self.nodes.above[lo[hangs]] = mine[hangs]
        self.nodes.above[hi[hangs]] = mine[hangs]
        whole = mine if before < 0 else np.insert(mine, 0, before)
        if slips:
            parts: list[Any] = []
            done = 0
            for i, got in sorted(slips.items()):
                parts += [whole[done : i + 1], np.array(got, np.int32)]
                done = i + 1
            whole = np.concatenate([*parts, whole[done:]])
        self._edge(whole[:-1], whole[1:], EdgeKind.COURSE)
        self.nodes.later[whole[:-1]], self.nodes.earlier[whole[1:]] = whole[1:], whole[:-1]
        if before < 0 and entry is not None and entry.kind is Kind.CAST_ON:
            return whole  # how it lies is known when it is worked
        forth, back = self.nodes.ways(wrong)  # they may have grown
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
        way = self.nodes.along(pa, pb, forth)
        if way is None:
            way = self.nodes.around(pa, pb)
        if way is None:
            self.left_out += 1
            return []
        inner = way[1:-1]
        waiting = [
            p
            for p in inner
            if not self._hung_on(p, way) and self.hanging.last_child[self.nodes.stitch[p]] >= min(a, b)
        ]
        held = entry is not None and entry.held > 0
        if waiting and len(waiting) == len(inner) and not held and self._same_piece(waiting, b):
            new = [self.nodes.carry(p, b) for p in inner]
            line, under = [a, *new, b], way
            for i in range(len(line) - 1):
                self._face(np.array([[line[i], line[i + 1], under[i + 1], under[i]]], np.int32), wrong)
            fresh = np.array(new, np.int32)
            self._edge(fresh, np.array(inner, np.int32), EdgeKind.WALE)
            self.nodes.above[inner] = fresh
            return new
        if waiting or len(way) + 2 > _SIDES:
            self.left_out += 1
            return []
        self._face(np.array([[a, b, *reversed(way)]], np.int32), wrong)
        return []

    def _same_piece(self, waiting: list[int], b: int) -> bool:
        later = self.hanging.last_child[self.nodes.stitch[waiting]]
        rows = self.fabric.row_of_stitch[later]
        return all(self.pieces.get(int(r), -1) == int(self.nodes.piece[b]) for r in rows.tolist())

    def _hung_on(self, p: int, way: list[int]) -> bool:
        """Whether a stitch of the stretch itself hangs on this one."""
        return int(self.nodes.above[p]) in way

    def _decrease(self, s: int, below: list[int], forth: Int32, wrong: bool) -> None:
        """Faces between the loops that were worked together."""
        if not self.hanging.keep[s]:
            return
        for p, q in pairwise(below):
            if int(forth[p]) == q:
                self._face(np.array([[s, q, p]], np.int32), wrong)
                continue
            way = self.nodes.along(p, q, forth) or self.nodes.around(p, q)
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
        found = (
            self.nodes.along(a, b, self.nodes.left)
            or self.nodes.along(a, b, self.nodes.right)
            or self.nodes.around(a, b)
        )
        if found is None or len(found) + 2 > _SIDES:
            return []
        return [int(self.number[q]) for q in found[1:-1]]

    def node_now(self, stitches: Int32) -> Int32:
        """The nodes in which some loops lie at the end; -1 for none."""
        got: Int32 = self.nodes.now[stitches]
        return got

    def node_made(self, stitches: Int32) -> Int32:
        """The nodes in which some loops were made, as at the ends of rows; of bound-off ones, the last."""
        made: Int32 = self.number[stitches]
        return np.where(made >= 0, made, self.nodes.now[stitches]).astype(np.int32)

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
        used = np.ones(self.nodes.n, bool)
        used[: self.fabric.n] = self.hanging.keep
        number = self.number = self.nodes.only(used)
        self.edges = [number[e] for e in self.edges]
        self.faces = [number[f] for f in self.faces]
        self.rows = [number[r] for r in self.rows]


def _runs(wanted: Any) -> list[slice]:
    """Stretches of True."""
    edge = np.flatnonzero(np.diff(np.concatenate(([0], wanted.astype(np.int8), [0]))))
    return [slice(int(a), int(b)) for a, b in zip(edge[::2], edge[1::2], strict=True)]


def _joined(parts: list[Int32]) -> Int32:
    return np.concatenate(parts) if parts else np.zeros(0, np.int32)
