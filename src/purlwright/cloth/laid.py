"""A piece laid out row upon row: every stitch in a place of its own, at the gauge, before any fabric pulls.

In: a fabric, the ledger's piece, how wide a stitch and how high a row is. Out: a :class:`Laid`, the box of
each stitch in mm, seen from the right side. A row lies straight over the one it was drawn through, where most
of its stitches stand above their parents; a short row lies only on the stitches it works, so that a wedge
stands up as a step. The shape that the cloth then takes on a table is left to others: nothing here bends,
gathers or spreads.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from numpy.typing import NDArray

from purlwright.fabric.arrays import Link
from purlwright.fabric.query import row_slice
from purlwright.needles.ledger import ROWS, Kind

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric, Int32
    from purlwright.needles.ledger import Entry, Piece

__all__ = ["Floats", "Laid", "is_tube", "lay_out"]

Floats: TypeAlias = NDArray[np.float64]

_EDGE = int(Link.EDGE)
_ROWS = {Kind.ROW, Kind.ROUND, Kind.CAST_ON, Kind.PICK_UP, Kind.BIND_OFF}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Laid:
    """The stitches of one piece in their places, in the order they were made.

    stitch : (k,) int32, the fabric's number of each.
    x_mm : (k,) its middle; 0 is the middle of the first row, positive to the right as the right side is seen.
    low_mm, high_mm : (k,) where its box begins and ends; 0 is the first row's lower edge, upwards positive.
    order : (k,) int32, ledger order of the row that made it.
    Arrays are read-only; a piece without stitches gives empty ones.
    """

    stitch: Int32
    x_mm: Floats
    low_mm: Floats
    high_mm: Floats
    order: Int32
    stitch_mm: float
    row_mm: float
    left_mm: float
    right_mm: float
    """How long the two edges are: the rows that reach them, however the edge slants."""
    rounds: bool = False
    """Whether its first row is worked in the round, so that a width is a length round about."""
    tube: bool = False
    """Whether it is a tube laid flat, half as wide as it is round."""


def lay_out(fabric: Fabric, piece: Piece, *, stitch_mm: float, row_mm: float, opened: bool = False) -> Laid:
    """Lay a piece out. Raises ValueError unless both measures are above 0.

    A tube is laid flat: half as wide as it is round about, each round in the middle over the one below; or
    ``opened``, as if it were cut where its rounds begin.

    Notes: cost grows with rows times live loops. A cast-on and a bind-off are lines, not rows: their boxes
    have no height.
    """
    if stitch_mm <= 0 or row_mm <= 0:
        raise ValueError(f"a stitch and a row have a size: not {stitch_mm} mm and {row_mm} mm")
    laying = _Laying(fabric, stitch_mm, row_mm)
    rows = [entry for entry in piece.rows if entry.kind in _ROWS]
    for n, entry in enumerate(rows):
        near = [e.end for e in (*rows[max(n - 1, 0) : n], *rows[n + 1 : n + 2])]
        full = entry.kind in ROWS and not entry.unworked and entry.end > max(near, default=0) > 0
        laying.add(entry, max(near) / entry.end if full and len(near) == 2 else 1.0)
    first = next((e.kind for e in rows if e.kind in ROWS), Kind.ROW)
    if any(e.kind is Kind.GRAFT for e in piece.rows):  # a row of its own, sewn instead of knitted
        laying.left_rows += 1
        laying.right_rows += 1
    laid = replace(laying.laid(), rounds=first is Kind.ROUND)
    return _flattened(laid) if is_tube(piece) and not opened else laid


def is_tube(piece: Piece) -> bool:
    """Whether the piece is worked in the round all along, but for a row or two at its edges."""
    rounds = sum(e.kind is Kind.ROUND for e in piece.rows)
    return rounds > 0 and sum(e.kind is Kind.ROW for e in piece.rows) <= min(2, rounds)


def _flattened(laid: Laid) -> Laid:
    """A tube with its two layers one on the other; rounds of one height, whatever their stitches hang on."""
    x, low, high = laid.x_mm.copy(), laid.low_mm.copy(), laid.high_mm.copy()
    level = 0.0
    for order in dict.fromkeys(laid.order.tolist()):
        mine = laid.order == order
        x[mine] = (x[mine] - (x[mine].max() + x[mine].min()) / 2) / 2
        height = float(np.median(high[mine] - low[mine]))
        low[mine], high[mine] = level, level + height
        level += height
    for values in (x, low, high):
        values.flags.writeable = False
    return replace(
        laid, x_mm=x, low_mm=low, high_mm=high, left_mm=level, right_mm=level, rounds=True, tube=True
    )


class _Laying:
    """The live loops from left to right as the right side shows them, and where each stitch lies."""

    def __init__(self, fabric: Fabric, stitch_mm: float, row_mm: float) -> None:
        self.fabric = fabric
        self.stitch_mm, self.row_mm = stitch_mm, row_mm
        self.live: list[int] = []
        self.x: dict[int, float] = {}
        self.low: dict[int, float] = {}
        self.high: dict[int, float] = {}
        self.order: dict[int, int] = {}
        self.left_rows = self.right_rows = 0
        self.cut_short = False
        self.first_parent = fabric.first_parent_of_stitch.tolist()
        self.parent, self.link = fabric.parent.tolist(), fabric.link.tolist()
        passed = fabric.join_kind == Link.PASSED
        self.off = set(fabric.join_a[passed].tolist())

    def add(self, entry: Entry, close: float) -> None:
        """Lay one row on what is there, its stitches ``close`` times as far apart as the gauge has them."""
        fabric = self.fabric
        part = row_slice(fabric, entry.order)
        made = list(range(part.start, part.stop))
        if not made:
            return
        wrong = int(fabric.side_of_stitch[part.start]) == 1
        if not (wrong or (entry.kind is Kind.CAST_ON and self._from_left(made))):
            made.reverse()  # a right-side row is worked from the right
        parents = {s: self._parents(s) for s in made}
        taken = {p for those in parents.values() for p in those}
        if not taken:
            self._set_down(made, entry)
            return
        place = {s: i for i, s in enumerate(self.live)}
        keys = self._keys(made, parents, place)
        self._stretch_slipped(taken, place, wrong=wrong)
        kept = [(float(i), 0, s) for i, s in enumerate(self.live) if s not in taken]
        come = [(key, n, s) for n, (key, s) in enumerate(zip(keys, made, strict=True))]
        self.live = [s for _, _, s in sorted([*kept, *come])]
        self._place(made, parents, entry, self.stitch_mm * close)

    def _parents(self, stitch: int) -> list[int]:
        """What it hangs on among the stitches laid so far."""
        a, b = self.first_parent[stitch : stitch + 2]
        return [p for p in self.parent[a:b] if p in self.x]

    def _set_down(self, made: list[int], entry: Entry) -> None:
        """Loops that hang on nothing here: the first row, or loops cast on beside what is there."""
        if not self.live:
            left = -len(made) * self.stitch_mm / 2
            level = 0.0
        else:
            # Cast on at an end of the needle: after a right-side row that is the left end.
            right_end = self.live[-1]
            left_end = self.live[0]
            at_left = self._at_left(made)
            edge = left_end if at_left else right_end
            level = max(self.high[edge] - self.row_mm, 0.0)
            step = len(made) * self.stitch_mm
            left = self.x[edge] + (self.stitch_mm / 2 if not at_left else -self.stitch_mm / 2 - step)
        height = 0.0 if entry.kind is Kind.CAST_ON else self.row_mm
        for n, s in enumerate(made):
            self.x[s] = left + (n + 0.5) * self.stitch_mm
            self.low[s], self.high[s] = level, level + height
            self.order[s] = entry.order
        self.live = [*made, *self.live] if self.live and self._at_left(made) else [*self.live, *made]

    def _from_left(self, made: list[int]) -> bool:
        """Whether a cast-on was laid on from the left: the next row, if it is a right-side row, then begins
        with the stitch that was cast on last.
        """
        first, last = made[0], made[-1]
        start = self.first_parent[last + 1]
        for m, parent in enumerate(self.parent[start:], start):
            if first <= parent <= last:
                child = bisect_right(self.first_parent, m) - 1
                from_last = parent - first > last - parent
                return from_last is not bool(self.fabric.side_of_stitch[child] == 1)
        return False

    def _at_left(self, made: list[int]) -> bool:
        """Whether loops cast on during the work stand at the left end: the side the work was going to."""
        return int(self.fabric.side_of_stitch[made[0]]) != 1

    def _keys(self, made: list[int], parents: dict[int, list[int]], place: dict[int, int]) -> list[float]:
        """Where each new stitch goes among the loops: at its leftmost parent; a yarn over after the last."""
        keys: list[float] = []
        at = -1.0
        for s in made:
            found = [place[p] for p in parents[s] if p in place]
            if found:
                at = max(at, float(min(found)))
            elif at < 0:
                later = (place[p] for t in made for p in parents[t] if p in place)
                at = min(later, default=0) - 0.5
            keys.append(at)
        return keys

    def _stretch_slipped(self, taken: set[int], place: dict[int, int], *, wrong: bool) -> None:
        """A loop slipped by the row is drawn up beside it: all loops it passes that it did not work."""
        at = [place[p] for p in taken if p in place]
        if not at:
            return
        low, high = min(at), max(at)
        # The row begins at an end of the needle unless it begins after a turn; loops before its first stitch
        # were slipped if there are only a few of them.
        if wrong and low <= 2:
            low = 0
        if not wrong and len(self.live) - 1 - high <= 2:
            high = len(self.live) - 1
        level = max(self.high[self.live[i]] for i in at)
        for i in range(low, high + 1):
            s = self.live[i]
            if s not in taken and s not in self.off and self.high[s] <= level:
                self.high[s] = self.high[s] + self.row_mm

    def _place(self, made: list[int], parents: dict[int, list[int]], entry: Entry, step: float) -> None:
        """Set the row down where most of its stitches stand over what they were drawn through.

        A row with more loops than the one below and the one above it, as some laces have, is drawn no wider
        than they are: its stitches are set closer. Stitches picked up lie as high as the rest of their row,
        however long the edge is that they were drawn from.
        """
        height = 0.0 if entry.kind is Kind.BIND_OFF else self.row_mm
        at = {s: i for i, s in enumerate(self.live)}
        drifts = []
        for s in made:
            if len(parents[s]) == 1:
                drifts.append(self.x[parents[s][0]] - at[s] * step)
            elif parents[s]:
                middle = sum(self.x[p] for p in parents[s]) / len(parents[s])
                drifts.append(middle - at[s] * step)
        offset = float(np.median(drifts)) if drifts else 0.0
        levels: list[float | None] = [
            None if self._picked_up(s) else max((self.high[p] for p in parents[s]), default=None)
            for s in made
        ]
        for n, s in enumerate(made):
            level = levels[n]
            if level is None:  # a yarn over lies as high as its neighbours
                near = [v for v in (*reversed(levels[:n]), *levels[n + 1 :]) if v is not None]
                level = near[0] if near else max((self.high[p] for p in parents[s]), default=0.0)
            self.x[s] = offset + at[s] * step
            self.low[s], self.high[s] = level, level + height
            self.order[s] = entry.order
        if not height:
            return
        on_needle = [s for s in self.live if s not in self.off]
        if on_needle:
            mine = set(made)
            # A stitch slipped at the edge is passed by its row, though it is not of it.
            whole = entry.kind in ROWS and not entry.unworked and not self.cut_short
            self.left_rows += whole or on_needle[0] in mine
            self.right_rows += whole or on_needle[-1] in mine
        self.cut_short = entry.unworked > 0

    def _picked_up(self, stitch: int) -> bool:
        a, b = self.first_parent[stitch : stitch + 2]
        return b > a and all(link == _EDGE for link in self.link[a:b])

    def laid(self) -> Laid:
        stitches = list(self.x)

        def column(values: dict[int, float]) -> Floats:
            out = np.array([values[s] for s in stitches], dtype=np.float64)
            out.flags.writeable = False
            return out

        numbers = np.array(stitches, dtype=np.int32)
        orders = np.array([self.order[s] for s in stitches], dtype=np.int32)
        numbers.flags.writeable = orders.flags.writeable = False
        return Laid(
            stitch=numbers,
            x_mm=column(self.x),
            low_mm=column(self.low),
            high_mm=column(self.high),
            order=orders,
            stitch_mm=self.stitch_mm,
            row_mm=self.row_mm,
            left_mm=self.left_rows * self.row_mm,
            right_mm=self.right_rows * self.row_mm,
        )
