"""Where a colour is taken up: before the first stitch of a row, as in all the others.

In: the yarn of each stitch. Out: findings on the one row that changes colour after its first stitches while
all others change at the edge, and on a row that takes up a yarn at the edge where it does not hang.
``yarn_ends`` asks for them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import ROWS, Entry, Kind
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.proof.subject import Subject, Way

__all__ = ["ColourChangesLate", "YarnAtOtherEdge", "yarn_faults"]


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


@dataclass(frozen=True, slots=True)
class YarnAtOtherEdge:
    """A row takes up a yarn that hangs at the other edge.

    Worked flat, a yarn waits at the edge where its last row ended. A row that begins at the other edge
    cannot take it up: a row too many or too few stands between, or the row was meant in the other colour.

    Example: `With B, knit 3 rows.` and then `With A, knit 2 rows.` where A was left at the right edge.

    Cure: work an even number of rows in each colour, or break the yarn and join it again. (Common practice;
    no source.)
    """

    row: str
    yarn: str
    there: str
    here: str

    code = "yarn-at-other-edge"
    check = "C109"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.row} begins at the {self.here} edge with {self.yarn}, which was left at the "
            f"{self.there} edge."
        )

    def label(self) -> str:
        return f"{self.yarn} hangs at the other edge"

    def help(self) -> str | None:
        return "Look for a row too many or too few in one colour, or say that the yarn is joined anew."


_ROWS = 4
"""So many other rows that change at the edge make a rule; common practice, no source."""


def yarn_faults(subject: Subject) -> Iterator[Finding]:
    """What is wrong with where yarns are taken up."""
    if subject.ways and subject.ways[0].knitted.log and not subject.amiss(subject.ways[0]):
        yield from _late(subject.ways[0])
        yield from _at_other_edge(subject, subject.ways[0])


_OTHERWISE = re.compile(
    r"\b(?:intarsia|bobbins?|slid(?:e|ing)|strand(?:ed|ing)|fair ?isle|(?:two|both|other) ends?|rejoin\w*)\b",
    re.IGNORECASE,
)
"""Words by which a yarn may come to where it is wanted."""
_TAKEN_UP = 2
"""So many other lines that take up a yarn where it hangs make a rule, for a yarn cannot be taken up elsewhere
unless it is cut or the work slid; common practice, no source.
"""


def _at_other_edge(subject: Subject, way: Way) -> Iterator[Finding]:
    """The row that takes up a yarn at the other edge, where the other rows take them up as they hang."""
    for piece in way.knitted.ledger.pieces:
        rows = [e for e in piece.rows if e.kind in ROWS]
        if not _flat_in_stripes(rows):
            continue
        hangs: dict[str, tuple[Side, int]] = {}
        fits: set[int] = set()
        amiss: list[tuple[Entry, str]] = []
        before = ""
        for e in rows:
            (yarn,) = e.yarns
            if yarn != before and yarn in hangs:
                side, since = hangs[yarn]
                if side is e.side:
                    fits.add(e.line)
                elif not _broken(subject, yarn, since, e.line):
                    amiss.append((e, yarn))
            before = yarn
            hangs[yarn] = (Side.WS if e.side is Side.RS else Side.RS, e.line)
        if len(fits) >= _TAKEN_UP and amiss and len({e.line for e, _ in amiss}) <= 2:
            if _OTHERWISE.search(subject.source.text):
                return
            e, yarn = amiss[0]
            here, there = ("right", "left") if e.side is Side.RS else ("left", "right")
            problem = YarnAtOtherEdge(e.label or f"The row in line {e.line}", yarn, there, here)
            yield Finding(problem=problem, span=e.span)
            return


def _broken(subject: Subject, yarn: str, since: int, until: int) -> bool:
    """Whether a line between the yarn's last row and this one breaks it, or this one joins it."""
    return any(
        since <= line.line <= until
        and (node.colour is None or node.colour.lower() == yarn.lower())
        and (node.act == "break" or (node.act == "join" and line.line == until))
        for line, node in subject.nodes(tree.Yarn)
    )


def _flat_in_stripes(rows: Sequence[Entry]) -> bool:
    """Whether each row is worked flat, across all stitches, in one yarn that has a name, and turned after."""
    return len({y for e in rows for y in e.yarns}) > 1 and all(
        e.kind is Kind.ROW and len(e.yarns) == 1 and e.yarns[0] and e.side is not None and not e.unworked
        and not (e.unread or e.resumed) and e.span.end >= 0
        for e in rows
    ) and all(a.side is not b.side for a, b in pairwise(rows))  # fmt: skip


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
