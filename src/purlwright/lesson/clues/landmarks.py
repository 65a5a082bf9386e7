"""K23: so many landmarks so far: so many rows of this part."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim
from purlwright.lesson.clues.cost import PAGE, few
from purlwright.lesson.clues.spacing import evenly_spaced
from purlwright.lesson.rows import Part

KIND = "K23"


def find(part: Part) -> Iterator[Clue]:
    """Holes, crossings, increases or decreases that come at one distance from the first to the last."""
    for landmark, fact, rows, _ in evenly_spaced(part, 2):
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
