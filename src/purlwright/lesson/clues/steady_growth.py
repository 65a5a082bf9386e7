"""K02: the count changes by the same number each time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import counting
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part, Row, label_of

KIND = "K02"


def find(part: Part) -> Iterator[Clue]:
    """One change on every row of a side, or on every row; or one change in each pass of a repeat."""
    change = [r.seen.count - r.seen.start for r in part.rows]
    changing = [r for r, c in zip(part.rows, change, strict=True) if c]
    if len(changing) < 2 or any(
        b.seen.start != a.seen.count for a, b in zip(part.rows, part.rows[1:], strict=False)
    ):
        return
    if len({c for c in change if c}) == 1:
        yield from _each(part, changing, change)
    else:
        yield from _each_pass(part)


def _each(part: Part, changing: list[Row], change: list[int]) -> Iterator[Clue]:
    by = next(c for c in change if c)
    said, stops = rows_said(part, changing)
    if not said.startswith("every"):
        return
    rest = [r for r in part.rows if r not in changing]
    same = f", and the same number after each {rest[0].what} between" if rest else ""
    yield Clue(
        kind=KIND,
        words=f"{_more(by)} after each {said.removeprefix('every ').removesuffix(' of this part')}{same}.",
        claims=(claim(Fact("change"), part.rows),),
        rows=f"every {part.what} of this part",
        stops=stops,
        seconds=counting(part.rows),
    )


def _each_pass(part: Part) -> Iterator[Clue]:
    """Rows of one label, each so many stitches more than the time before."""
    last = [rows for label, rows in part.labels.items() if label and len(rows) >= 3]
    for rows in reversed(last):
        steps = {b.seen.count - a.seen.count for a, b in pairwise(rows)}
        if len(steps) == 1 and (by := steps.pop()):
            label = label_of(rows[0])
            yield Clue(
                kind=KIND,
                words=f"{_more(by)} each time {label} is done than the time before.",
                claims=(claim(Fact("count"), rows),),
                rows=f"{label}, each time",
                stops=f"told for {label} alone",
                seconds=counting(tuple(rows)) + 2,
            )
            return


def _more(by: int) -> str:
    return f"{abs(by)} stitch{'es' if abs(by) > 1 else ''} {'more' if by > 0 else 'fewer'}"
