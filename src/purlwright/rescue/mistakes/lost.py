"""Loops lost: E13, E16 and E18 to E22.

In: a row of the true knitting. Out: each way to end it with a loop too few, or one too many where a
decrease was left undone.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from purlwright.needles.looks import marks
from purlwright.needles.optable import op_table
from purlwright.rescue.mistakes.made import Holes, Kind, Made, Odd, Outline, RowAt, more_before
from purlwright.stitches.kinds import Lean

__all__ = ["KINDS", "lost"]

YARN_OVER = Kind(code="E13", name="missed yarn over", weight=7, column=True, did="a yarn over was left out")
DROPPED = Kind(
    code="E16",
    name="dropped stitch",
    weight=7,
    column=True,
    did="a stitch slipped off the needle and ran down",
)
TOGETHER = Kind(
    code="E18",
    name="two knitted together by accident",
    weight=4,
    column=True,
    did="two stitches were worked together where there is no decrease",
)
NOT_PASSED = Kind(
    code="E19",
    name="stitch not passed over",
    weight=3,
    column=True,
    did="the slipped stitch of a decrease was not passed over",
)
ONE_EDGE = Kind(
    code="E20",
    name="shaping forgotten at one place",
    weight=4,
    did="one decrease or increase of the row was forgotten",
)
DOUBLE_OVER = Kind(
    code="E21",
    name="double yarn over worked as one",
    weight=2,
    did="a double yarn over was made or worked as one",
)
BOUND = Kind(
    code="E22",
    name="bind-off miscounted",
    weight=2,
    did="one stitch too many or too few was bound off in the row",
)


def lost(row: RowAt) -> Iterator[Made]:
    """Every way to lose a loop in this row, or to keep one that should go."""
    w = row.working
    if not w.n:
        return
    i = row.index
    for n, a, b in row.stretches():
        mid = (a + b) // 2
        first, last = row.loops_made(a), row.loops_made(b - 1)
        site = row.site(first, max(last, first + 1))
        loop = min(row.loops_made(mid), max(last - 1, first))
        after = row.after(loop, -1)
        if after is not None and b - a > 1:
            yield Made(
                kind=DROPPED,
                row=i,
                on=i + 1,
                lie=after,
                odd=Odd.LADDER,
                by=-1,
                site=site,
                stretch=n,
                places=b - a,
            )
        lie = more_before(row.lie, mid, -1)
        if lie is not None and b - a > 1:
            yield Made(
                kind=TOGETHER,
                row=i,
                on=i,
                lie=lie,
                odd=Odd.TWO_IN_ONE,
                by=-1,
                site=site,
                stretch=n,
                places=b - a - 1,
            )
    yield from _operations(row)
    if "bind off" in row.acts and row.entry.end:
        for by in (-1, 1):
            # the stitches bound off stood at the beginning of the row, which the next row meets last
            ready = row.came.ready
            after = more_before(ready, 0 if ready.ring else ready.left - 1, by)
            if after is not None:
                say = "one too many bound off" if by < 0 else "one too few bound off"
                yield Made(
                    kind=BOUND, row=i, on=i + 1, lie=after, by=by, outline=Outline.STEPS_BACK, detail=say
                )


def _operations(row: RowAt) -> Iterator[Made]:
    """What is left out of the operations that the row has."""
    w = row.working
    table = op_table().stitches
    holes = marks(w, "hole")
    taken = w.takes.cumsum()
    made = w.makes.cumsum()
    double = holes & (np.roll(holes, 1) | np.roll(holes, -1)) if holes.sum() > 1 else np.zeros(w.n, np.bool_)
    net = w.makes - w.takes
    psso = np.array([_passes(table[int(op)]) for op in w.ops], np.bool_)
    shaping = (net != 0) & ~holes
    for n, a, b in row.stretches():
        inside = (taken > a) & (taken <= b) | ((w.takes == 0) & (taken >= a) & (taken < b))
        for which, kind in ((holes & ~double & inside, YARN_OVER), (holes & double & inside, DOUBLE_OVER)):
            if which.any():
                j = int(which.nonzero()[0][0])
                yield from _one(row, kind, j, -1, n, int(which.sum()), made, Odd.NONE, Holes.MISSING)
        for which, kind, odd in (
            (psso & inside, NOT_PASSED, Odd.STRETCHED),
            (shaping & inside, ONE_EDGE, Odd.NONE),
        ):
            if which.any():
                j = int(which.nonzero()[0][0])
                by = 1 if kind is NOT_PASSED else -int(net[j])
                yield from _one(
                    row,
                    kind,
                    j,
                    by,
                    n,
                    int(which.sum()),
                    made,
                    odd,
                    Holes.RIGHT,
                    Outline.STEPS_BACK if kind is ONE_EDGE else Outline.RIGHT,
                )


def _one(
    row: RowAt,
    kind: Kind,
    j: int,
    by: int,
    stretch: int,
    places: int,
    made: Any,
    odd: Odd,
    holes: Holes,
    outline: Outline = Outline.RIGHT,
) -> Iterator[Made]:
    loop = max(int(made[j]) - 1, 0)
    after = row.after(loop, by)
    if after is not None:
        yield Made(
            kind=kind,
            row=row.index,
            on=row.index + 1,
            lie=after,
            odd=odd,
            holes=holes,
            outline=outline,
            by=by,
            site=row.site(loop, loop + 1),
            stretch=stretch,
            places=places,
        )


def _passes(stitch: Any) -> bool:
    """Whether a decrease is made by passing a slipped stitch over."""
    return (
        stitch is not None
        and stitch.takes > stitch.makes >= 1
        and stitch.lean in {Lean.LEFT, Lean.CENTRE}
        and stitch.key.startswith(("sk", "s2k", "sl1", "skp"))
    )


KINDS = (YARN_OVER, DROPPED, TOGETHER, NOT_PASSED, ONE_EDGE, DOUBLE_OVER, BOUND)
