"""Which rows a page shows stitch by stitch: each row once, as it is first worked.

In: one size, knitted. Out: :class:`~purlwright.sheet.document.PlayedRow` s in the order of work, and those
that a page has no room for.
"""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING

from purlwright.lesson.played import Played, play
from purlwright.sheet.document import Beat, PlayedRow

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.needles.knitted import Knitted

__all__ = ["MOST_STITCHES", "left_out", "played_by_order", "played_rows", "rows_called"]

MOST_STITCHES = 10_000
"""A page shows rows of so many stitches together at most, so that it opens at once (about 1 MB)."""


def played_rows(knitted: Knitted) -> tuple[PlayedRow, ...]:
    """The rows that differ, each once, from the first on, as many as a page has room for."""
    rows = _different(knitted)
    return rows[: _room(rows)]


def left_out(knitted: Knitted) -> tuple[PlayedRow, ...]:
    """The rows after those of :func:`played_rows`, for which a page has no room."""
    rows = _different(knitted)
    return rows[_room(rows) :]


def _room(rows: tuple[PlayedRow, ...]) -> int:
    """How many of the rows a page has room for; one in any case."""
    together = accumulate(len(row.beats) for row in rows)
    return max(sum(many <= MOST_STITCHES for many in together), 1)


def _different(knitted: Knitted) -> tuple[PlayedRow, ...]:
    """Each row once, as it is first worked: rows with a number or a name once in their section or line, and
    those with neither where they differ from the row before and are not worked again.
    """
    met: set[tuple[str, str, int]] = set()
    entries = {entry.order: entry for entry in knitted.ledger.entries}
    out: list[PlayedRow] = []
    last: tuple[str, ...] = ()
    for row in play(knitted):
        words = tuple(b.words for b in row.beats)
        entry = entries[row.order]
        key = (row.section, row.label, -1 if row.label[-1:].isdecimal() else entry.line)
        named = bool(entry.label.strip())
        if (named and key in met) or (not named and (words == last or entry.pass_ > 1)):
            continue
        met.add(key)
        last = words
        out.append(_row(row))
    return tuple(out)


def played_by_order(knitted: Knitted) -> Iterator[tuple[int, PlayedRow]]:
    """Every row, by its order in the ledger."""
    yield from ((row.order, _row(row)) for row in play(knitted))


def rows_called(knitted: Knitted, label: str, section: str | None = None) -> tuple[PlayedRow, ...]:
    """The rows with this label, in the sections whose heading has the words; each as it is first worked
    there.
    """
    wanted = " ".join(label.casefold().split())
    out: dict[str, PlayedRow] = {}
    for row in play(knitted):
        here = section is None or section.casefold() in row.section.casefold()
        if here and row.label.casefold() == wanted:
            out.setdefault(row.section, _row(row))
    return tuple(out.values())


def _row(row: Played) -> PlayedRow:
    return PlayedRow(
        label=row.label,
        section=row.section,
        side=row.side,
        left=tuple(row.left),
        behind=row.behind,
        after=row.after,
        beats=tuple(
            Beat(words=b.words, takes=b.takes, makes=tuple(b.makes), yarn=b.yarn, does=b.does)
            for b in row.beats
        ),
    )
