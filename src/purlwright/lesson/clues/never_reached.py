"""K05: a count that cannot be, although it lies between the least and the most of a part."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import counting
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part

KIND = "K05"


def find(part: Part) -> Iterator[Clue]:
    """A round number between the least and the most that is never reached."""
    counts = {r.seen.count for r in part.rows}
    low, high = min(counts, default=0), max(counts, default=0)
    if len(counts) < 3:
        return
    said, stops = rows_said(part, part.rows)
    never = [n for n in range(low + 1, high) if n % 10 == 0 and n not in counts]
    if never:
        n = never[len(never) // 2]
        words, claims = f"You can never have {n} stitches here.", (claim(Fact("is", n), part.rows),)
        yield Clue(kind=KIND, words=words, claims=claims, rows=said, stops=stops, seconds=counting(part.rows))
