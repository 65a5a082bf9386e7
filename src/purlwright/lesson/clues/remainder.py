"""K03: all counts of a part leave the same remainder: always odd, always a multiple of 4 and 1 more."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import counting
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part

KIND = "K03"
_MOST = 12


def find(part: Part) -> Iterator[Clue]:
    """The largest number up to twelve that all changes of the count are multiples of."""
    counts = [r.seen.count for r in part.rows]
    different = sorted(set(counts))
    if len(different) < 3:
        return
    low = different[0]
    m = next((m for m in range(_MOST, 1, -1) if all((c - low) % m == 0 for c in different)), 0)
    if not m:
        return
    said, stops = rows_said(part, part.rows)
    rest = low % m
    words = (
        f"You can never have an {'even' if rest else 'odd'} number of stitches here."
        if m == 2
        else f"The count is always a multiple of {m}{f', and {rest} more' if rest else ''}."
    )
    yield Clue(
        kind=KIND,
        words=words,
        claims=(claim(Fact("remainder", m), part.rows),),
        rows=said,
        stops=stops,
        seconds=counting(part.rows),
    )
