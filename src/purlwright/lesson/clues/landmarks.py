"""K23: so many landmarks so far: so many rows of this part."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from purlwright.lesson.clues.clue import Clue, claim
from purlwright.lesson.clues.cost import PAGE, few
from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import Part, told

KIND = "K23"


def find(part: Part) -> Iterator[Clue]:
    """Holes, crossings, increases or decreases that come at one distance from the first to the last."""
    for n, landmark in told(part):
        if landmark == "turns":
            continue
        fact = Fact("holds", n)
        rows = [r for r in part.rows if read(fact, r)]
        gaps = {b.number - a.number for a, b in pairwise(rows)}
        if len(rows) < 3 or len(gaps) != 1 or gaps.pop() < 2:
            continue
        k = max(2, len(rows) // 2)
        shown = rows[k - 1]
        yield Clue(
            kind=KIND,
            words=f"{k} {part.what}s with {landmark} so far in this part: you have done {shown.name}.",
            claims=(claim(fact, part.rows),),
            rows=f"every {part.what} of this part",
            seconds=few(k) + PAGE,
            tells_row=True,
        )
        return
