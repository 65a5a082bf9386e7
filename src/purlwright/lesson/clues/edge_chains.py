"""K16: slipped edge stitches make a chain, one link for two rows.

A chain selvage has one link for every two rows; M. Stanley, The Handknitter's Handbook, 1986 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import few
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part
from purlwright.proof.said import count

KIND = "K16"


def find(part: Part) -> Iterator[Clue]:
    """Chains at one edge or both that grow by one every two rows."""
    if not part.even or part.before is None or len(part.rows) < 4 or any(r.seen.waiting for r in part.rows):
        return
    last = part.rows[-1].entry
    right, left = last.chains_right - part.before.chains_right, last.chains_left - part.before.chains_left
    half = len(part.rows) / 2
    chained = [n for n in (right, left) if n and abs(n - half) <= 0.5]
    if not chained:
        return
    both = len(chained) == 2
    where = "each edge" if both else f"the {'right' if right in chained else 'left'} edge"
    said, stops = rows_said(part, part.rows)
    yield Clue(
        kind=KIND,
        words=f"One chain at {where} for every two rows: {count(chained[0], 'chain')} at the end of this "
        "part.",
        claims=(claim(Fact("chains right"), part.rows), claim(Fact("chains left"), part.rows)),
        rows=said,
        stops=stops,
        seconds=few(chained[0]),
        tells_row=True,
    )
