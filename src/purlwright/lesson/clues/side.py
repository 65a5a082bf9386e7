"""K14: the side that faces you tells whether the next row has an odd or an even number."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import LOOK
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part

KIND = "K14"


def find(part: Part) -> Iterator[Clue]:
    """Where all right-side rows have odd numbers, or all have even ones."""
    numbered = [r for r in part.rows if r.entry.number is not None]
    if not part.even or len(numbered) != len(part.rows) or len(part.rows) < 4:
        return
    right = {(r.entry.number or 0) % 2 for r in part.rows if r.seen.side == "RS"}
    wrong = {(r.entry.number or 0) % 2 for r in part.rows if r.seen.side == "WS"}
    if len(right) != 1 or len(wrong) != 1 or right == wrong:
        return
    odd = "an odd" if right == {1} else "an even"
    said, stops = rows_said(part, part.rows)
    yield Clue(
        kind=KIND,
        words=f"With the right side facing you, ready to begin: the next row has {odd} number. "
        "Hang a clip on that side.",
        claims=(claim(Fact("side"), part.rows), claim(Fact("odd number"), part.rows)),
        rows=said,
        stops=stops,
        seconds=LOOK,
        tells_row=True,
    )
