"""K01: the count that never changes in a part."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import counting
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part
from purlwright.proof.said import count

KIND = "K01"
_LEAST = 4
"""Fewer rows than this with one count are no rule."""


def find(part: Part) -> Iterator[Clue]:
    """The longest run of rows that end with one count."""
    runs = [list(rs) for _, rs in groupby(part.rows, key=lambda r: r.seen.count)]
    rows = max(runs, key=len, default=[])
    if len(rows) < min(_LEAST, len(part.rows)) or len(rows) < 2 or len(rows) * 2 < len(part.rows):
        return
    said, stops = rows_said(part, rows)
    waits = ", those that wait beyond a turn counted too" if any(r.seen.waiting for r in rows) else ""
    yield Clue(
        kind=KIND,
        words=f"Always {count(rows[0].seen.count, 'stitch', 'stitches')}{waits}.",
        claims=(claim(Fact("count"), rows),),
        rows=said,
        stops=stops,
        seconds=counting(tuple(rows)),
    )
