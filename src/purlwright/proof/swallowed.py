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

from purlwright.fabric.arrays import Fabric, Int32
from purlwright.findings import Finding, Related, Severity
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
    """A decrease: its stitch, which way it leans (-1, 1; 0 for a double one), and the side on which it takes
    a yarn over (-1, 1; 0 for neither, or both).
    """

    stitch: int
    lean: int
    side: int


def swallowed_faults(subject: Subject) -> Iterator[Finding]:
    """The row of a section that takes a hole on one side."""
    if subject.unread:
        return
    for rows in subject.row_blocks:
        lace = [row for row in rows if not row.drawn and row.entry.made and row.entry.lost]
        if len(lace) <= _ROWS or subject.amiss(lace[0].way):
            continue
        taken = [_taken(row) for row in lace]
        if not all(_both_sides(row) for row in taken):
            continue
        odd = [n for n, row in enumerate(taken) if _askew(row)]
        if len(odd) != 1:
            continue
        yield _finding(lace, odd[0], taken[odd[0]])
        return


def _finding(lace: Sequence[Worked], n: int, taken: Sequence[_Taken]) -> Finding:
    row = lace[n]
    fabric = row.way.knitted.fabric
    first = next(t for t in taken if t.side)
    words = int(fabric.span_of_stitch[first.stitch])
    span = Span(int(fabric.span_start[words]), int(fabric.span_end[words]))
    if not row.entry.span.start <= span.start < span.end <= row.entry.span.end:
        span = row.entry.span
    like = [other for i, other in enumerate(lace) if i != n]
    related = tuple(Related(label_of(other), "alike on both sides") for other in like[:2])
    name = fabric.ops[fabric.op_of_stitch[first.stitch]]
    return Finding(problem=DecreaseTakesHole(row.name, name, names(like)), span=span, related=related)


def _both_sides(row: Sequence[_Taken]) -> bool:
    """Whether a row has decreases, and as many that lean to the left as to the right."""
    return bool(row) and sum(t.lean for t in row) == 0


def _askew(row: Sequence[_Taken]) -> bool:
    """Whether more holes are taken on one side than on the other, by half the decreases or more."""
    return 2 * abs(sum(t.side for t in row)) >= len(row)


def _taken(row: Worked) -> list[_Taken]:
    """Every decrease of a row, with the side on which it takes a yarn over."""
    fabric = row.way.knitted.fabric
    first = fabric.first_parent_of_stitch
    out = []
    for s in np.flatnonzero(fabric.row_of_stitch == row.entry.order).tolist():
        parents = np.sort(fabric.parent[first[s] : first[s + 1]])
        look = _look(fabric.ops[fabric.op_of_stitch[s]])
        if len(parents) < 2 or look is None or look.makes != 1 or look.crosses:
            continue
        holes = [_is_hole(fabric, first, int(p)) for p in parents]
        low, high = holes[0], holes[-1]
        if len(parents) == 2:
            lean = _lean(look)
            out.append(_Taken(s, lean, lean if low or high else 0))
        else:
            out.append(_Taken(s, 0, int(high) - int(low)))
    return out


@lru_cache(maxsize=512)
def _look(name: str) -> Look | None:
    stitch = dictionary().find(name)
    return look_of_stitch(stitch) if stitch is not None else None


def _lean(look: Look) -> int:
    return {"left": -1, "right": 1}.get(look.lean, 0)


def _is_hole(fabric: Fabric, first: Int32, stitch: int) -> bool:
    """Whether a stitch is a yarn over, or the plain stitch worked into one."""
    if first[stitch + 1] == first[stitch]:
        return fabric.ops[fabric.op_of_stitch[stitch]] in _OVERS
    if first[stitch + 1] - first[stitch] != 1:
        return False
    below = int(fabric.parent[first[stitch]])
    return first[below + 1] == first[below] and fabric.ops[fabric.op_of_stitch[below]] in _OVERS


_OVERS = frozenset({"yo", "yo2", "yfwd", "yo3"})
