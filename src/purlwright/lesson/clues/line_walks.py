"""K12: the holes walk: each time so many stitches nearer to the edge, or farther from it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import few
from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import Part, Row

KIND = "K12"
_LEAST = 3


def find(part: Part) -> Iterator[Clue]:
    """The longest run of rows with holes of one side in which the first hole moves by the same number each
    time.
    """
    sided = [[r for r in part.rows if r.seen.side == s and _at(r) is not None] for s in ("RS", "WS", "")]
    best: list[Row] = []
    for rows in sided:
        run: list[Row] = []
        for r in rows:
            fits = len(run) < 2 or _step(run[-1], r) == _step(run[0], run[1])
            run = (
                [*run, r]
                if fits and (not run or _step(run[-1], r))
                else [*run[-1:], r]
                if run and _step(run[-1], r)
                else [r]
            )
            if len(run) > len(best):
                best = run
    if len(best) < _LEAST:
        return
    by = _step(best[0], best[1])
    said, stops = rows_said(part, best)
    gaps = {b.number - a.number for a, b in pairwise(best)}
    each = (
        "each time"
        if gaps == {1}
        else f"every {next(iter(gaps))} {part.what}s"
        if len(gaps) == 1
        else "each time"
    )
    way = "farther from the beginning of the row" if by > 0 else "nearer to the beginning of the row"
    yield Clue(
        kind=KIND,
        words=f"The first hole stands {abs(by)} stitch{'es' if abs(by) > 1 else ''} {way} {each}.",
        claims=(claim(Fact("first hole"), best),),
        rows=said,
        stops=stops,
        seconds=few(8),
    )


def _at(row: Row) -> int | None:
    at = read(Fact("first hole"), row)
    return at if isinstance(at, int) else None


def _step(a: Row, b: Row) -> int:
    return (_at(b) or 0) - (_at(a) or 0)
