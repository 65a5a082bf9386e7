"""K18: the gaps left by the turns stand the same number of stitches apart, and their number tells the row."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import few
from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import Part
from purlwright.proof.said import count

KIND = "K18"


def find(part: Part) -> Iterator[Clue]:
    """Rows with two open gaps or more, always the same number of stitches between one and the next."""
    rows = [r for r in part.rows if len(r.seen.gaps) > 1]
    if len(rows) < 2:
        return
    inner = {read(Fact("gap steps"), r) for r in rows}
    if len(inner) != 1 or not isinstance(steps := inner.pop(), tuple) or len(steps) != 1:
        return
    if not isinstance(apart := steps[0], int):
        return
    every = [r for r in part.rows if r.seen.gaps]
    most = max(len(r.seen.gaps) for r in rows)
    turned = all(b == a + 1 for a, b in zip(*_after_turns(part), strict=True))
    tells = " Count them: so many turns are done." if turned else ""
    said, stops = rows_said(part, rows)
    yield Clue(
        kind=KIND,
        words=f"{_gaps(apart, most)}{tells}",
        claims=(claim(Fact("gap steps"), rows), claim(Fact("gaps"), every)),
        rows=said,
        stops=stops or "told of rows with two gaps or more",
        seconds=few(most),
        tells_row=True,
    )


def _gaps(apart: int, most: int) -> str:
    if most == 2:
        return f"The two open gaps stand {count(apart, 'stitch', 'stitches')} apart."
    return f"The open gaps stand {count(apart, 'stitch', 'stitches')} apart, {most} at the most."


def _after_turns(part: Part) -> tuple[list[int], list[int]]:
    """The number of gaps before and after each row that turns."""
    before, after = [], []
    last = 0
    for r in part.rows:
        if r.seen.waiting:
            before.append(last)
            after.append(len(r.seen.gaps))
        last = len(r.seen.gaps)
    return before, after
