"""Landmarks that come at one distance, from the first to the last: what several kinds of clue look for.

In: a part. Out: for each such landmark its name, the fact that tells it, its rows, and how many rows lie from
one to the next. What is said of it is left to the kinds.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import Part, Row, told

__all__ = ["evenly_spaced"]


def evenly_spaced(part: Part, least: int) -> Iterator[tuple[str, Fact, list[Row], int]]:
    """Holes, crossings, increases or decreases in three rows or more, always ``least`` rows apart or more."""
    for n, landmark in told(part):
        if landmark == "turns":
            continue
        fact = Fact("holds", n)
        rows = [r for r in part.rows if read(fact, r)]
        gaps = {b.number - a.number for a, b in pairwise(rows)}
        if len(rows) >= 3 and len(gaps) == 1 and (gap := gaps.pop()) >= least:
            yield landmark, fact, rows, gap
