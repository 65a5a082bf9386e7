"""K21: which way the decreases lean, in the right half of the work and in the left."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import LOOK
from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import Part

KIND = "K21"


def find(part: Part) -> Iterator[Clue]:
    """Rows with decreases in both halves that lean one way in each, always the same."""
    rows = [r for r in part.rows if any(d.lean for d in r.seen.done)]
    leans = {read(Fact("leans"), r) for r in rows}
    if len(rows) < 2 or len(leans) != 1:
        return
    both = leans.pop()
    if not isinstance(both, tuple) or not all(isinstance(h, tuple) and len(h) == 1 for h in both):
        return
    right, left = (str(h[0]) for h in both if isinstance(h, tuple))
    if {right, left} - {"left", "right"}:
        return
    ways = {("left", "right"): "in to the middle", ("right", "left"): "out to the edges"}
    if right == left:
        words = f"All decreases lean to the {right}, seen from the right side."
    else:
        words = (
            f"Decreases in the right half lean to the {right}, those in the left half to the {left}: "
            f"{ways[right, left]}, seen from the right side."
        )
    said, stops = rows_said(part, rows)
    yield Clue(
        kind=KIND,
        words=words,
        claims=(claim(Fact("leans"), rows),),
        rows=said,
        stops=stops,
        seconds=2 * LOOK,
    )
