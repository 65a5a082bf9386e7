"""Rows and their order: E04 to E06, E14, E15, E17, E23 to E25 and E46.

In: a row of the true knitting, and what the row comes to in other sizes. Out: rows left out, worked twice,
begun at the wrong stitch or by the wrong number.

Rows left out leave the loops as the row before them left them; rows worked twice are really worked twice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from purlwright.needles.rehearse import Lie
from purlwright.rescue.mistakes.made import Kind, Made, Odd, Outline, RowAt

__all__ = ["KINDS", "other_size", "rows", "section"]

LINE = Kind(
    code="E04", name="line of the page skipped or worked twice", weight=4, did="a line of the page was lost"
)
SIZE = Kind(code="E05", name="another size's number", weight=2, did="the number of another size was followed")
CHART = Kind(
    code="E06",
    name="row read the wrong way",
    weight=1.5,
    did="the row was read from the wrong end, so that it is mirrored",
)
WRONG_SIDE = Kind(
    code="E14",
    name="row left out, so that the sides changed over",
    weight=4,
    did="a row was left out, and from there the right-side rows were worked on the wrong side",
)
PAIR = Kind(
    code="E15",
    name="pair of rows skipped or worked twice",
    weight=5,
    did="two rows were lost or worked again",
)
SHIFTED = Kind(
    code="E17",
    name="row begun at the wrong stitch",
    weight=2,
    did="the row was begun one stitch out, and made to come out at its end",
)
REPEAT = Kind(
    code="E23",
    name="repeat counted wrong",
    weight=3,
    did="a repeat in the row was worked once too few or too often",
)
LATE = Kind(
    code="E24",
    name="shaping of a whole row forgotten",
    weight=2,
    did="the row was worked without its shaping",
)
PLAIN = Kind(
    code="E25",
    name="plain rows between shaping lost or too many",
    weight=2,
    did="plain rows between the shaping were left out or worked once too often",
)
SECTION = Kind(code="E46", name="part left out", weight=1, did="a whole part of the pattern was left out")


def rows(row: RowAt) -> Iterator[Made]:
    """Every way to lose the order of rows at this row."""
    i = row.index
    w = row.working
    yield from _left_out(row)
    yield from _again(row)
    structured = w.n > 1 and not bool((w.ops == w.ops[0]).all())
    if structured:
        yield Made(kind=SHIFTED, row=i, on=i + 1, odd=Odd.SHIFTED, shifts=True)
        ws = row.entry.side is not None and row.entry.side.value == "WS"
        if ws and row.flat and not bool((w.ops == w.ops[::-1]).all()):
            yield Made(kind=CHART, row=i, on=i + 1, odd=Odd.WRONG_LEAN, shifts=True)
    unshaped = _unshaped(row) if row.net and w.n else None
    if unshaped is not None:
        yield Made(kind=LATE, row=i, on=i + 1, lie=unshaped, by=-row.net, outline=Outline.STEPS_BACK)
    yield from _repeats(row)


def _unshaped(row: RowAt) -> Lie | None:
    """The loops after the row when nothing was made or lost in it: as before, turned or come round."""
    came = row.came
    if came.done.left or row.lie.right or row.lie.holders != came.ready.holders:
        return None
    if came.done.ring:
        if len(row.lie.left_marks) != len(came.ready.left_marks):
            return None
        total = row.lie.left
        marks = sorted(m._replace(at=m.at % total) for m in row.lie.left_marks)
        return came.ready._replace(left=total, left_marks=tuple(sorted(marks, key=lambda m: m.at)))
    if row.lie.left_marks and len(row.lie.left_marks) != len(came.ready.left_marks):
        return None
    total = row.lie.left
    turned = tuple([m._replace(at=total - m.at) for m in reversed(row.lie.left_marks)])
    return came.ready._replace(left=total, left_marks=turned)


def _alike(a: Lie, b: Lie) -> bool:
    """Whether both have the same markers and holders, so that a row for one can be tried on the other."""
    return len(a.holders) == len(b.holders) and a.ring == b.ring and _markers(a) == _markers(b)


def _markers(lie: Lie) -> int:
    return sum(m.kind == "marker" for m in (*lie.left_marks, *lie.right_marks))


def _left_out(row: RowAt) -> Iterator[Made]:
    """The row, or it and the one before it, left out."""
    i, ready = row.index, row.came.ready
    if not _alike(row.lie, ready):
        return
    flat = row.flat
    lie = row.lie if row.lie != ready else None
    if flat:
        yield Made(
            kind=WRONG_SIDE,
            row=i,
            on=i + 1,
            lie=lie,
            odd=Odd.RIDGE,
            flip=True,
            skipped=1,
            by=-row.net,
            detail="left out",
        )
    else:
        kind = PLAIN if row.plain and _between_shaping(row) else LINE
        yield Made(
            kind=kind, row=i, on=i + 1, lie=lie, skipped=1, by=-row.net, odd=_break(row, 1), detail="left out"
        )
    if not row.before:
        return
    first = row.before[-1]
    if first.flat != flat or not _alike(first.lie, ready):
        return
    lie = first.lie if first.lie != ready else None
    net = first.net + row.net
    kind = PLAIN if first.plain and row.plain and _between_shaping(first) else PAIR
    yield Made(
        kind=kind,
        row=first.index,
        on=i + 1,
        lie=lie,
        skipped=2,
        by=-net,
        odd=_break(first, 2),
        odd_row=i,
        detail="left out",
    )


def _again(row: RowAt) -> Iterator[Made]:
    """The row, or it and the one before it, worked once more."""
    i, ready = row.index, row.came.ready
    if not _alike(row.lie, ready):
        return
    if not row.flat:
        came = row.rehearsal.work(ready)
        if came is not None and came.fits:
            kind = PLAIN if row.plain and _between_shaping(row) else LINE
            lie = came.ready if came.ready != ready else None
            yield Made(
                kind=kind,
                row=i,
                on=i + 1,
                lie=lie,
                again=1,
                by=came.ready.live - ready.live,
                odd=_break(row, 1),
                detail="worked twice",
            )
    if not row.before:
        return
    first = row.before[-1]
    if first.flat != row.flat or not _alike(first.lie, ready):
        return
    one = first.rehearsal.work(ready)
    two = row.rehearsal.work(one.ready) if one is not None and one.fits else None
    if two is None or not two.fits:
        return
    lie = two.ready if two.ready != ready else None
    kind = PLAIN if first.plain and row.plain and _between_shaping(first) else PAIR
    yield Made(
        kind=kind,
        row=first.index,
        on=i + 1,
        lie=lie,
        again=2,
        by=two.ready.live - ready.live,
        odd=_break(first, 2),
        odd_row=i,
        detail="worked twice",
    )


def _break(row: RowAt, n: int) -> Odd:
    """Whether a break in the stitch pattern is seen: not if the rows about it are alike."""
    if row.plain and (not row.before or row.before[-1].plain):
        return Odd.NONE
    return Odd.SHIFTED if not row.plain and n else Odd.NONE


def _between_shaping(row: RowAt) -> bool:
    return bool(row.before) and row.before[-1].shaped


def _repeats(row: RowAt) -> Iterator[Made]:
    """A counted repeat, once too few or too often."""
    passes = row.passes
    if passes is None or not len(passes) or int(passes.max()) < 2:
        return
    w = row.working
    last = int(passes.max())
    unit = passes == last
    net = int((w.makes[unit] - w.takes[unit]).sum())
    if not net:
        return
    at = int(unit.nonzero()[0][-1])
    loop = max(int(w.makes[: at + 1].sum()) - 1, 0)
    for sign, say in ((-1, "once too few"), (1, "once too often")):
        after = row.after(loop, sign * net)
        if after is not None:
            yield Made(kind=REPEAT, row=row.index, on=row.index + 1, lie=after, by=sign * net, detail=say)


def other_size(row: RowAt, nets: Sequence[tuple[str, int]]) -> Iterator[Made]:
    """The row worked by another size's number; ``nets`` are the sizes and what the row changes in them."""
    seen: set[int] = set()
    made = int(row.working.makes.sum())
    for size, net in nets:
        by = net - row.net
        if by == 0 or by in seen or not made:
            continue
        seen.add(by)
        after = row.after(made // 2, by)
        if after is not None and after.left > 0:
            yield Made(kind=SIZE, row=row.index, on=row.index + 1, lie=after, by=by, detail=f"size {size}")


def section(first: RowAt, last: RowAt) -> Iterator[Made]:
    """All rows of a part left out, from ``first`` to ``last``."""
    n = last.index - first.index + 1
    lie, ready = first.lie, last.came.ready
    if n < 3 or not _alike(lie, ready) or (first.flat and n % 2):
        return
    yield Made(
        kind=SECTION,
        row=first.index,
        on=last.index + 1,
        lie=lie if lie != ready else None,
        skipped=n,
        by=lie.live - ready.live,
        odd=Odd.SHIFTED,
        odd_row=last.index,
        detail=f"{n} rows left out",
    )


KINDS = (LINE, SIZE, CHART, WRONG_SIDE, PAIR, SHIFTED, REPEAT, LATE, PLAIN, SECTION)
