"""Turns: E02, E26 to E31, and E41.

In: a row of the true knitting. Out: turns that were not asked for, forgotten, or made at the wrong stitch.
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.needles.looks import marks
from purlwright.needles.rehearse import Lie, MarkLie
from purlwright.rescue.mistakes.made import Kind, Made, Odd, Outline, RowAt, Site

__all__ = ["KINDS", "turns"]

WRONG_WAY = Kind(
    code="E02",
    name="turned in mid-row",
    weight=5,
    did="the work was put down in mid-row, taken up the wrong way round and worked back",
)
NO_TURN = Kind(
    code="E26",
    name="turn forgotten",
    weight=4,
    did="the row was worked on past its turning place, to the end",
)
OFF = Kind(
    code="E27", name="turned at the wrong stitch", weight=4, did="the row was turned at the wrong stitch"
)
SAME_GAP = Kind(
    code="E28",
    name="turned at the place of the turn before",
    weight=2,
    did="the row was turned where the one before it was, so that one stitch is wrapped twice",
)
NO_WRAP = Kind(
    code="E29",
    name="turned without a wrap",
    weight=3,
    did="the row was turned without wrapping the next stitch",
)
NOT_CLOSED = Kind(
    code="E30",
    name="turns not closed as one",
    weight=3,
    did="wraps or double stitches were worked as stitches of their own",
)
BESIDE = Kind(
    code="E31",
    name="closing decrease beside the gap",
    weight=2,
    did="the decrease that closes the gap was worked beside it",
)
IN_ROUND = Kind(
    code="E41",
    name="turned in the round",
    weight=2,
    did="the work was turned in the round and worked back inside out",
)


def turns(row: RowAt) -> Iterator[Made]:
    """Every way to go wrong at a turn in this row."""
    i, came = row.index, row.came
    turned = came.done == came.ready and came.done.right > 0
    if row.worked > 3 and not row.net and not turned:
        kind, outline = (WRONG_WAY, Outline.LONGER) if row.flat else (IN_ROUND, Outline.RIGHT)
        yield Made(
            kind=kind,
            row=i,
            on=i + 1,
            odd=Odd.SMALL_HOLE if row.flat else Odd.INSIDE_OUT,
            outline=outline,
            flip=row.flat,
            ridge=(1, 0) if row.flat else (0, 0),
            site=Site(2, row.entry.end - 1),
            places=row.worked - 2,
        )
    if turned and any(m.kind == "gap" for m in came.ready.right_marks):
        yield from _short_row(row)
    gaps_before = sum(m.kind == "gap" for m in (*row.lie.left_marks, *row.lie.right_marks))
    closed = gaps_before - sum(m.kind == "gap" for m in (*came.ready.left_marks, *came.ready.right_marks))
    if closed > 0 and not turned:
        after = row.after(0, closed)
        if after is not None:
            yield Made(kind=NOT_CLOSED, row=i, on=i + 1, lie=after, by=closed, odd=Odd.STRAND)
        if marks(row.working, "decrease").any():
            yield Made(kind=BESIDE, row=i, on=i + 1, odd=Odd.HOLE_BY_LEAN)


def _short_row(row: RowAt) -> Iterator[Made]:
    """A row that turns before its end; ``ready`` has what was worked on the left needle."""
    i, ready = row.index, row.came.ready
    at = ready.right
    gap = next((m for m in ready.right_marks if m.kind == "gap" and m.at == at), None)
    if gap is None:
        return
    total = ready.left + ready.right
    others = tuple([m for m in ready.right_marks if m is not gap])
    # the far edge is met first after the turn there
    kept = [m for m in others if m.kind == "marker"]
    left_marks = tuple(
        sorted(
            [*ready.left_marks, *(MarkLie(m.kind, total - m.at, m.name, m.turned_on) for m in kept)], key=_at
        )
    )
    ws = row.entry.side is not None and row.entry.side.value == "WS"
    yield Made(
        kind=NO_TURN,
        row=i,
        on=i + 1,
        lie=ready._replace(left=total, right=0, left_marks=left_marks, right_marks=()),
        outline=Outline.LONGER,
        ridge=(1, 0) if ws else (0, 1),
    )
    for by in (-2, -1, 1, 2):
        new = at + by
        if not 0 < new < total - 1 or any(m.at == new for m in others) or any(m.at > new for m in others):
            continue
        say = f"{abs(by)} stitch{'es' if abs(by) > 1 else ''} too {'early' if by > 0 else 'late'}"
        yield Made(kind=OFF, row=i, on=i + 1, lie=_gap_at(ready, gap, new), detail=say)
    previous = [m for m in others if m.kind == "gap"]
    if previous:
        new = max(m.at for m in previous)
        yield Made(
            kind=SAME_GAP,
            row=i,
            on=i + 1,
            odd=Odd.TWO_WRAPS,
            lie=ready._replace(
                left=total - new, right=new, right_marks=tuple([m for m in ready.right_marks if m is not gap])
            ),
        )
    yield Made(kind=NO_WRAP, row=i, on=i + 1, odd=Odd.SMALL_HOLE)


def _gap_at(ready: Lie, gap: MarkLie, at: int) -> Lie:
    by = at - ready.right
    marks_ = tuple([m._replace(at=at) if m is gap else m for m in ready.right_marks])
    left_marks = tuple([m for m in ready.left_marks if m.at < ready.left - by])
    return ready._replace(left=ready.left - by, right=at, right_marks=marks_, left_marks=left_marks)


def _at(m: MarkLie) -> int:
    return m.at


KINDS = (WRONG_WAY, NO_TURN, OFF, SAME_GAP, NO_WRAP, NOT_CLOSED, BESIDE, IN_ROUND)
