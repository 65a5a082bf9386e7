"""Where a colour is taken up: before the first stitch of a row, as in all the others.

In: the yarn of each stitch. Out: a finding on the one row that changes colour after its first stitches while
all others change at the edge. ``yarn_ends`` asks for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import ROWS, Entry
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.proof.subject import Subject, Way

__all__ = ["ColourChangesLate", "yarn_faults"]


@dataclass(frozen=True, slots=True)
class ColourChangesLate:
    """A row changes colour after its first stitches; all other rows that change colour change at the edge.

    In stripes and slip-stitch cloth a colour is taken up before the first stitch. Named after it, the first
    stitches of the row have the wrong colour.

    Example: `Row 7: K2, with A, *sl1, k1` where the other rows begin `With A,` or `With B,`.

    Cure: name the colour first. (Common practice; no source.)
    """

    row: str
    late: int
    others: int

    code = "colour-changes-late"
    check = "C109"
    severity = Severity.WARNING

    def message(self) -> str:
        stitches = "1 stitch" if self.late == 1 else f"{self.late} stitches"
        return (
            f"{self.row} changes colour after {stitches}; the other {self.others} rows here that change "
            f"colour change at their beginning."
        )

    def label(self) -> str:
        return "after the first stitches"

    def help(self) -> str | None:
        return "Name the colour before the first stitch."


_ROWS = 4
"""So many other rows that change at the edge make a rule; common practice, no source."""


def yarn_faults(subject: Subject) -> Iterator[Finding]:
    """What is wrong with where yarns are taken up."""
    if subject.ways and subject.ways[0].knitted.log and not subject.amiss(subject.ways[0]):
        yield from _late(subject.ways[0])


def _late(way: Way) -> Iterator[Finding]:
    """Rows with two colours, the second taken up after the first stitches and kept to the end."""
    fabric = way.knitted.fabric
    told: dict[int, tuple[Entry, int]] = {}
    before = -1
    for piece in way.knitted.ledger.pieces:
        for entry in piece.rows:
            yarns = fabric.yarn_of_stitch[fabric.row_of_stitch == entry.order]
            if not len(yarns):
                continue
            changes = np.flatnonzero(np.diff(yarns))
            late = int(changes[0]) + 1 if len(changes) else 0
            steady = len(changes) < 2 and (int(yarns[-1]) != before)
            if entry.kind in ROWS and steady and entry.span.end >= 0 and entry.copied is None:
                told.setdefault(entry.line, (entry, late if int(yarns[0]) == before else 0))
            before = int(yarns[-1])
    odd = [(entry, late) for entry, late in told.values() if late]
    good = [entry for entry, late in told.values() if not late]
    if len(odd) == 1 and len(good) >= _ROWS:
        entry, late = odd[0]
        name = entry.label or f"The row in line {entry.line}"
        problem = ColourChangesLate(name, late, len(good))
        related = (Related(Span(good[0].span.start, good[0].span.end), "at its beginning"),)
        yield Finding(problem=problem, span=entry.span, related=related)
