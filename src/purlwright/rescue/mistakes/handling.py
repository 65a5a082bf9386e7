"""Handling: E32 to E45. Most leave the count as it is and one place that looks odd.

In: a row of the true knitting. Out: twisted, slipped, miscrossed and wrongly faced stitches, and trouble with
markers, needles, colours and holders.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from purlwright.needles.looks import lean_of, marks
from purlwright.needles.optable import op_table
from purlwright.needles.rehearse import Lie
from purlwright.pattern.words_numbers import ordinal_words
from purlwright.rescue.mistakes.made import Holes, Kind, Made, Odd, Outline, RowAt, Site
from purlwright.stitches.kinds import Lean, Motion

__all__ = ["KINDS", "handling"]

SLIPPED = Kind(
    code="E32",
    name="slipped the wrong way",
    weight=2,
    did="stitches were slipped the wrong way, or with the yarn on the wrong side",
)
TWISTED = Kind(
    code="E33",
    name="twisted stitches",
    weight=4,
    did="the stitches of a row were worked through the back loop, or sat the wrong way on the needle",
)
BY_ACCIDENT = Kind(
    code="E34",
    name="stitch slipped by accident",
    weight=2.5,
    did="a stitch was slipped instead of worked",
    column=True,
)
FACE = Kind(
    code="E35",
    name="knit for purl",
    weight=4,
    did="a stitch was knitted that should be purled, or purled that should be knitted",
    column=True,
)
LEAN = Kind(
    code="E36",
    name="decrease or cable the wrong way",
    weight=3,
    did="a decrease leans, or a cable crosses, the wrong way",
    column=True,
)
NO_MARKER = Kind(code="E37", name="marker lost", weight=2, did="a marker came off")
HOPPED = Kind(
    code="E38",
    name="marker slipped over a yarn over",
    weight=3,
    did="a marker hopped over the yarn over beside it",
)
PINNED = Kind(
    code="E39",
    name="marker on the wrong side of an increase",
    weight=1.5,
    did="a marker was put on the wrong side of an increase",
)
TWIST = Kind(
    code="E40",
    name="round joined with a twist",
    weight=2,
    did="the cast-on was twisted when the round was joined",
)
NEEDLE = Kind(
    code="E42", name="wrong needle size", weight=1.5, did="a needle of another size was used from here on"
)
COLOUR = Kind(code="E43", name="wrong colour", weight=1.5, did="the row was worked in the wrong colour")
FLOAT = Kind(
    code="E44",
    name="strand too tight or not crossed",
    weight=1.5,
    did="the strand behind was drawn too tight, or the yarns were not crossed",
)
SHARED = Kind(
    code="E45",
    name="stitches shared wrongly",
    weight=2,
    did="one stitch too many or too few was put on the holder",
)


def handling(row: RowAt) -> Iterator[Made]:
    """Every way to handle this row's stitches wrongly."""
    w, i = row.working, row.index
    if not w.n:
        return
    table = op_table()
    stitches = [table.stitches[int(op)] for op in np.unique(w.ops)]
    motions = {s.motion for s in stitches if s is not None}
    whole = Site(1, row.entry.end)
    if Motion.SLIP in motions or Motion.TUCK in motions:
        yield Made(kind=SLIPPED, row=i, on=i + 1, odd=Odd.STRAND)
    yield Made(kind=TWISTED, row=i, on=i + 1, odd=Odd.CROSSED_ROW)
    yield Made(kind=BY_ACCIDENT, row=i, on=i + 1, odd=Odd.STRETCHED, site=whole, places=row.worked)
    yield Made(kind=FACE, row=i, on=i + 1, odd=Odd.WRONG_FACE, site=whole, places=row.worked)
    leans = [j for j in range(w.n) if lean_of(int(w.ops[j])) in {Lean.LEFT, Lean.RIGHT}]
    if leans or marks(w, "crossing").any() or row.look.since[3] == 0:
        yield Made(kind=LEAN, row=i, on=i + 1, odd=Odd.WRONG_LEAN, places=max(len(leans), 1))
    yield from _markers(row)
    if i == 0 and row.came.done.ring:
        yield Made(kind=TWIST, row=i, on=i + 1, odd=Odd.SPIRAL)
    if row.before and row.before[-1].entry.section != row.entry.section:
        yield Made(kind=NEEDLE, row=i, on=i + 1, odd=Odd.BAND)
    if row.yarns > 1:
        yield Made(kind=FLOAT, row=i, on=i + 1, odd=Odd.TIGHT)
    if row.yarns > 1 or (row.before and row.before[-1].entry.yarns != row.entry.yarns):
        yield Made(kind=COLOUR, row=i, on=i + 1, odd=Odd.COLOUR)
    if row.entry.held and row.came.ready.holders:
        for by in (-1, 1):
            holders = (*row.came.ready.holders[:-1], row.came.ready.holders[-1] + by)
            ready = row.came.ready
            if ready.left - by < 1 or holders[-1] < 0:
                continue
            say = f"one too {'many' if by > 0 else 'few'} held"
            lie = ready._replace(left=ready.left - by, holders=holders)
            yield Made(kind=SHARED, row=i, on=i + 1, lie=lie, by=-by, detail=say)


def _markers(row: RowAt) -> Iterator[Made]:
    """A marker that came off, or that changed its place by one loop."""
    i, ready = row.index, row.came.ready
    w = row.working
    holes = Holes.OFF if w.has("hole") else Holes.RIGHT
    marks_ = [m for m in ready.left_marks if m.kind == "marker" and 0 < m.at < ready.left]
    made = {int(x) for x in w.makes.cumsum()}
    over = marks(w, "hole")
    beside = {int(x) for x in w.makes.cumsum()[over]} | {int(x) - 1 for x in w.makes.cumsum()[over]}
    gain = (w.makes > w.takes) & ~over
    grown = {int(x) for x in w.makes.cumsum()[gain]} | {int(x) - 1 for x in w.makes.cumsum()[gain]}
    for n, m in enumerate(marks_):
        at = ready.left - m.at if ready.ring else m.at
        without = tuple([x for x in ready.left_marks if x is not m])
        yield Made(
            kind=NO_MARKER,
            row=i,
            on=i + 1,
            lie=ready._replace(left_marks=without),
            odd=Odd.NO_MARKER,
            stretch=n,
            spot=f"the {ordinal_words(n + 1)} marker",
        )
        for near, kind in ((beside, HOPPED), (grown, PINNED)):
            if not near or at not in made or not near & {at - 1, at, at + 1}:
                continue
            for by in (-1, 1):
                lie = _walked(ready, m, by)
                if lie is not None:
                    yield Made(
                        kind=kind,
                        row=i,
                        on=i + 1,
                        lie=lie,
                        holes=holes if kind is HOPPED else Holes.RIGHT,
                        outline=Outline.RIGHT,
                        stretch=n,
                        spot=f"the {ordinal_words(n + 1)} marker",
                    )


def _walked(lie: Lie, m: object, by: int) -> Lie | None:
    moved = tuple([x._replace(at=x.at + by) if x is m else x for x in lie.left_marks])
    at = [x.at for x in moved]
    if at != sorted(at) or min(at) < 0 or max(at) > lie.left or len(set(at)) != len(at):
        return None
    return lie._replace(left_marks=moved)


KINDS = (
    SLIPPED,
    TWISTED,
    BY_ACCIDENT,
    FACE,
    LEAN,
    NO_MARKER,
    HOPPED,
    PINNED,
    TWIST,
    NEEDLE,
    COLOUR,
    FLOAT,
    SHARED,
)
