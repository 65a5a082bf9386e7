"""K07: the two halves have the same number, or differ always by the same."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import counting
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part

KIND = "K07"


def find(part: Part) -> Iterator[Clue]:
    """Stretches between markers that lie alike on both sides of the middle and grow alike."""
    rows = [r for r in part.rows if r.seen.fences and not r.seen.waiting]
    widths = {len(r.seen.fences) for r in rows}
    if len(rows) < 3 or len(rows) * 2 < len(part.rows) or len(widths) != 1:
        return
    n = widths.pop()
    pairs = [(i, n - 1 - i) for i in range(n // 2)]
    alike = [
        (i, j)
        for i, j in pairs
        if len({r.seen.fences[i] - r.seen.fences[j] for r in rows}) == 1
        and len({r.seen.fences[i] for r in rows}) > 1
    ]
    if not alike:
        return
    i, j = alike[-1]
    by = rows[0].seen.fences[i] - rows[0].seen.fences[j]
    said, stops = rows_said(part, rows)
    middle = "either side of the middle" if n % 2 else "the two halves"
    how = (
        "have the same number of stitches"
        if not by
        else f"differ by {abs(by)}, the {'right' if by > 0 else 'left'} one having more"
    )
    inner = f"The stretches between the markers on {middle}" if n > 2 else "The two sides of the marker"
    more = (
        ""
        if len(alike) == 1
        else ", and so do those farther out"
        if not by and all(rows[0].seen.fences[a] == rows[0].seen.fences[b] for a, b in alike)
        else ""
    )
    yield Clue(
        kind=KIND,
        words=f"{inner} always {how}{more}.",
        claims=tuple(claim(Fact("fence difference", a, b), rows) for a, b in alike),
        rows=said,
        stops=stops,
        seconds=counting(tuple(rows)) / 2,
    )
