"""Everything that goes wrong at the needles, E01 to E50, a family a file.

In: a row of the true knitting. Out: each mistake that can be made in it (:class:`~.made.Made`). E01 and E03
are no mistakes but a place lost: ``table`` adds them.
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.rescue.mistakes import cures, gained, handling, lost, rows, turns
from purlwright.rescue.mistakes.made import Kind, Made, RowAt

__all__ = ["KINDS", "LOST_PLACE", "PATTERN", "mistakes_in"]

LOST_PLACE = Kind(code="E01", name="place lost", weight=6, did="nothing went wrong: only the place was lost")
PATTERN = Kind(
    code="P00", name="the pattern is at fault", weight=6, did="the pattern itself does not come out"
)

KINDS: tuple[Kind, ...] = (
    LOST_PLACE,
    *gained.KINDS,
    *lost.KINDS,
    *rows.KINDS,
    *turns.KINDS,
    *handling.KINDS,
    *cures.KINDS,
)


def mistakes_in(row: RowAt) -> Iterator[Made]:
    """Every mistake that can be made in one row."""
    yield from gained.gained(row)
    yield from lost.lost(row)
    yield from rows.rows(row)
    yield from turns.turns(row)
    yield from handling.handling(row)
    yield from cures.cures(row)
