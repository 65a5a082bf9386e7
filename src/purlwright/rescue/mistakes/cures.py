"""Cures gone wrong: E47 to E50. A mistake, and what was done about it.

In: a row of the true knitting. Out: a wrong count set right in the wrong place, a ladder worked up badly, a
row put back on the needle one row off.
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.rescue.mistakes.made import Kind, Made, Odd, RowAt, Site

__all__ = ["KINDS", "cures"]

DECREASED = Kind(
    code="E47",
    name="extra stitch decreased elsewhere",
    weight=3,
    did="a stitch too many was got rid of by a decrease at another place",
)
MADE_GOOD = Kind(
    code="E48",
    name="missing stitch made good at the row's end",
    weight=3,
    did="a missing stitch was made good at the end of the row",
)
LADDER = Kind(
    code="E49",
    name="ladder worked up badly",
    weight=2,
    column=True,
    did="a ladder was worked up with a bar too few or in the wrong order",
)
PUT_BACK = Kind(
    code="E50",
    name="one row off after ripping",
    weight=3,
    did="after ripping back the work was taken up one row lower than it was thought to be",
)


def cures(row: RowAt) -> Iterator[Made]:
    """Every cure gone wrong in this row."""
    i = row.index
    if not row.working.n:
        return
    yield Made(kind=DECREASED, row=i, on=i + 1, odd=Odd.TWO_PLACES, site=Site(1, row.entry.end))
    ops = row.working.ops
    structured = not bool((ops == ops[0]).all())
    yield Made(
        kind=MADE_GOOD,
        row=i,
        on=i + 1,
        odd=Odd.SHIFTED if structured else Odd.TWO_FROM_ONE,
        shifts=structured,
    )
    yield Made(
        kind=LADDER, row=i, on=i + 1, odd=Odd.LOOSE_BAR, site=Site(1, row.entry.end), places=row.worked
    )
    if not row.came.done.left:
        ready = row.came.ready
        lie = row.lie
        if len(lie.left_marks) == len(ready.left_marks) and len(lie.holders) == len(ready.holders):
            yield Made(
                kind=PUT_BACK,
                row=i,
                on=i + 1,
                lie=lie if lie != ready else None,
                odd=Odd.CROSSED_ROW,
                flip=row.flat,
                skipped=1,
                by=-row.net,
            )


KINDS = (DECREASED, MADE_GOOD, LADDER, PUT_BACK)
