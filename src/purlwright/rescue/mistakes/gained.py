"""Loops gained: E07 to E12.

In: a row of the true knitting. Out: each way to end it with a loop too many.
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.needles.looks import marks
from purlwright.rescue.mistakes.made import Holes, Kind, Made, Odd, Outline, RowAt, Site, more_before

__all__ = ["KINDS", "gained"]

EDGE = Kind(
    code="E07",
    name="first stitch seen as two",
    weight=5,
    did="the yarn was pulled over the needle at the beginning of the row, and the first stitch, which then "
    "shows two legs, was worked as two",
)
OVER = Kind(
    code="E08",
    name="yarn over by accident",
    weight=6,
    column=True,
    did="the yarn lay in front when a stitch was worked, which made a yarn over where there should be none",
)
SPLIT = Kind(
    code="E09",
    name="split stitch",
    weight=3,
    column=True,
    did="the needle went through the yarn, and the two halves of a stitch were worked as two",
)
SPLIT_ONE = Kind(
    code="E09",
    name="split stitch",
    weight=2,
    column=True,
    did="the needle went through the yarn, and only a part of a stitch was caught",
)
TWICE = Kind(
    code="E10",
    name="stitch worked twice",
    weight=3,
    column=True,
    did="a stitch was not slipped off the left needle, and was worked again",
)
INCREASED = Kind(
    code="E11", name="increase worked twice", weight=2, did="an increase was worked twice at its place"
)
CAST_ON = Kind(code="E12", name="cast-on miscounted", weight=3, did="the cast-on was not counted right")

MISCOUNTED = (-10, -2, -1, 1, 2, 10)
"""By how much a cast-on is out: one or two, or a ten."""


def gained(row: RowAt) -> Iterator[Made]:
    """Every way to gain a loop in this row."""
    i = row.index
    if i == 0:
        for by in MISCOUNTED:
            lie = more_before(row.lie, row.lie.left - 1, by)
            if lie is not None and -by * 2 < row.lie.left:
                say = f"{abs(by)} {'too many' if by > 0 else 'too few'}"
                yield Made(kind=CAST_ON, row=0, on=0, lie=lie, by=by, detail=say)
    w = row.working
    if not w.n:
        return
    if row.lie.left > 1:
        lie = more_before(row.lie, 0, 1)
        if lie is not None:
            yield Made(
                kind=EDGE,
                row=i,
                on=i,
                lie=lie,
                odd=Odd.EDGE_DOUBLE,
                outline=Outline.FLARES,
                by=1,
                site=row.site(0, 1),
            )
    holes = Holes.EXTRA if w.has("hole") else Holes.RIGHT
    for n, a, b in row.stretches():
        mid = (a + b) // 2
        first, last = row.loops_made(a), row.loops_made(b - 1)
        site = row.site(first, max(last, first + 1))
        loop = min(row.loops_made(mid), max(last - 1, first))
        after = row.after(loop, 1)
        if after is not None:
            yield Made(
                kind=OVER,
                row=i,
                on=i + 1,
                lie=after,
                odd=Odd.HOLE,
                holes=holes,
                by=1,
                site=site,
                stretch=n,
                places=b - a,
            )
        lie = more_before(row.lie, mid, 1)
        if lie is not None:
            for kind, odd in ((SPLIT, Odd.SPLIT), (TWICE, Odd.TWO_FROM_ONE)):
                yield Made(kind=kind, row=i, on=i, lie=lie, odd=odd, by=1, site=site, stretch=n, places=b - a)
    yield Made(
        kind=SPLIT_ONE,
        row=i,
        on=i + 1,
        odd=Odd.SPLIT,
        site=Site(1, row.entry.end),
        places=row.worked,
        detail="the count is right",
    )
    inc = marks(w, "increase")
    taken = w.takes.cumsum()
    for n, a, b in row.stretches():
        here = inc & (taken > a) & (taken <= b) if inc.any() else inc
        if not here.any():
            continue
        j = int(here.nonzero()[0][0])
        by = int(w.makes[j] - w.takes[j])
        loop = int(w.makes[:j].sum())
        after = row.after(loop, by)
        if after is not None:
            yield Made(
                kind=INCREASED,
                row=i,
                on=i + 1,
                lie=after,
                odd=Odd.TWO_FROM_ONE,
                by=by,
                stretch=n,
                site=row.site(loop, loop + 1),
                places=int(here.sum()),
            )


KINDS = (EDGE, OVER, SPLIT, SPLIT_ONE, TWICE, INCREASED, CAST_ON)
