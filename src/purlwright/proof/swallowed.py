"""What each decrease of a lace swallows: the row whose decreases take a hole that those of the others spare.

In: the fabric of one choice of options. Out: a finding on the one lace row of a section whose decreases take
a yarn over of the rows below on one side and not on the other, where all other rows take as much from both
sides. The count is right. ``period`` asks for this.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from purlwright.fabric.arrays import Fabric, Int32
from purlwright.findings import Finding, Related, Severity
from purlwright.pattern import tree
from purlwright.proof.texture import Look, Worked, label_of, look_of_stitch, names
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.proof.subject import Subject

__all__ = ["DecreaseTakesHole", "swallowed_faults"]


@dataclass(frozen=True, slots=True)
class DecreaseTakesHole:
    """The decreases of one lace row take a hole of the row below, on one side only.

    In a lace that is the same on both sides, what stands under a decrease on the left stands under the one on
    the right, and a double decrease has the same on both sides of its middle stitch. Where one row swallows a
    yarn over on one side alone, it stands a stitch off: a word is missing, or the start of the round was not
    moved. The count is right, and the hole is drawn shut.

    Example: `Rnd 5: *S2kp, k2, yo, k1, yo, k2` begun one stitch late, so that s2kp takes two stitches and the
    yarn over beside them.

    Cure: look what the row below has under the decrease, and at the start of the row. (Common practice; no
    source.)
    """

    row: str
    name: str
    like: str

    code = "decrease-takes-hole"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.row}: {self.name} takes a yarn over of the rows below on one side only; in {self.like} "
            f"what is taken is alike on both sides."
        )

    def label(self) -> str:
        return "takes a hole on one side"

    def help(self) -> str | None:
        return "Look which stitches of the row below stand under it: the row may begin a stitch off."


_ROWS = 3
"""So many other lace rows make a rule; common practice, no source."""


class _Taken(NamedTuple):
    """Decreases in working order: (d,) each. ``lean`` is -1 or 1, and 0 for a double one; ``side`` is where
    it takes a yarn over, -1 or 1, and 0 for neither, or both.
    """

    stitch: Int32
    lean: Int32
    side: Int32


def swallowed_faults(subject: Subject) -> Iterator[Finding]:
    """The row of a section that takes a hole on one side."""
    if subject.unread or subject.of_work(swallowed_faults, tree.Call):
        return
    for rows in subject.row_blocks:
        lace = [row for row in rows if not row.drawn and row.entry.made and row.entry.lost]
        if len(lace) <= _ROWS or subject.amiss(lace[0].way):
            continue
        taken, orders = _decreases(lace[0].way.knitted.fabric)
        rows_worked = np.array([row.entry.order for row in lace])
        first, last = np.searchsorted(orders, rows_worked), np.searchsorted(orders, rows_worked + 1)
        many = last - first
        leans, sides = (np.concatenate(([0], np.cumsum(v))) for v in (taken.lean, taken.side))
        if not many.all() or (leans[last] != leans[first]).any():
            continue  # a row without decreases, or with more that lean to one side
        odd = np.flatnonzero(2 * np.abs(sides[last] - sides[first]) >= many)
        if len(odd) != 1:
            continue
        n = int(odd[0])
        askew = np.flatnonzero(taken.side[first[n] : last[n]])[0]
        yield _finding(lace, n, int(taken.stitch[first[n] + askew]))
        return
    if subject.calm:
        subject.keep_of_work(swallowed_faults, True, tree.Call)


def _finding(lace: Sequence[Worked], n: int, first: int) -> Finding:
    row = lace[n]
    fabric = row.way.knitted.fabric
    words = int(fabric.span_of_stitch[first])
    span = Span(int(fabric.span_start[words]), int(fabric.span_end[words]))
    if not row.entry.span.start <= span.start < span.end <= row.entry.span.end:
        span = row.entry.span
    like = [other for i, other in enumerate(lace) if i != n]
    related = tuple(Related(label_of(other), "alike on both sides") for other in like[:2])
    name = fabric.ops[fabric.op_of_stitch[first]]
    return Finding(problem=DecreaseTakesHole(row.name, name, names(like)), span=span, related=related)


def _decreases(fabric: Fabric) -> tuple[_Taken, Int32]:
    """Every decrease of a fabric, with the side on which it takes a yarn over, and the order of its row."""
    first = fabric.first_parent_of_stitch
    kinds = _kinds(fabric.ops)
    stitch = np.flatnonzero(np.diff(first) >= 2).astype(np.int32)
    stitch = stitch[kinds.single[fabric.op_of_stitch[stitch]]]
    orders = fabric.row_of_stitch[stitch]
    if not len(stitch):
        return _Taken(stitch, stitch, stitch), orders
    each = first[stitch + 1] - first[stitch]
    begins = np.cumsum(each) - each
    parents = fabric.parent[np.arange(each.sum()) + np.repeat(first[stitch] - begins, each)]
    low = _holes(fabric, first, np.minimum.reduceat(parents, begins), kinds.over)
    high = _holes(fabric, first, np.maximum.reduceat(parents, begins), kinds.over)
    two = each == 2
    lean = np.where(two, kinds.lean[fabric.op_of_stitch[stitch]], 0)
    side = np.where(two, np.where(low | high, lean, 0), high.astype(np.int32) - low)
    return _Taken(stitch, lean, side), orders


def _holes(fabric: Fabric, first: Int32, stitch: Int32, over: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Which of some stitches are yarn overs, or the plain stitch worked into one."""
    many = first[stitch + 1] - first[stitch]
    below = np.where(many == 1, fabric.parent[np.minimum(first[stitch], len(fabric.parent) - 1)], stitch)
    out: NDArray[np.bool_] = (
        (many <= 1) & (first[below + 1] == first[below]) & over[fabric.op_of_stitch[below]]
    )
    return out


class _Kinds(NamedTuple):
    """Of each operation: whether it makes one loop of several, its lean, whether it is an over."""

    single: NDArray[np.bool_]
    lean: Int32
    over: NDArray[np.bool_]


@lru_cache(maxsize=256)
def _kinds(ops: tuple[str, ...]) -> _Kinds:
    looks = [_look(name) for name in ops]
    return _Kinds(
        np.array([k is not None and k.makes == 1 and not k.crosses for k in looks], np.bool_),
        np.array([_lean(k) if k is not None else 0 for k in looks], np.int32),
        np.array([name in _OVERS for name in ops], np.bool_),
    )


@lru_cache(maxsize=512)
def _look(name: str) -> Look | None:
    stitch = dictionary().find(name)
    return look_of_stitch(stitch) if stitch is not None else None


def _lean(look: Look) -> int:
    return {"left": -1, "right": 1}.get(look.lean, 0)


_OVERS = frozenset({"yo", "yo2", "yfwd", "yo3"})
