"""Rhythms up the rows: crossings at even distances, stripes of even height, and the row that breaks them.

In: the rows of each numbered block, in the order worked. Out: findings on a crossing that comes a row or two
too soon or too late, and on a row worked in another colour than its stripe. The count is right in all of
these. ``period`` asks for them; what one row has beside its neighbours is left to it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby, pairwise
from typing import TYPE_CHECKING

import numpy as np

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import ROWS
from purlwright.needles.optable import op_table
from purlwright.pattern import tree
from purlwright.stitches.kinds import Motion

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry
    from purlwright.proof.subject import Subject, Way

__all__ = ["ColourOutOfStep", "CrossingOutOfStep", "rhythm_faults"]


@dataclass(frozen=True, slots=True)
class CrossingOutOfStep:
    """A crossing comes a row or more before or after its time: the others stand evenly one above the other.

    A rope that turns every sixth row, and once after eight and then after four, has one long and one short
    link. Every count is right.

    Example: the same crossing in rows 3, 11 and 15 of an 18-row repeat; rows 3, 9 and 15 are six apart.

    Cure: move the crossing to its row, or say that the rope is uneven. (Common practice; no source.)
    """

    row: str
    wanted: int
    apart: int

    code = "crossing-out-of-step"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The crossing in {self.row} is out of step: in row {self.wanted} it would stand {self.apart} "
            "rows from those before and after it, as all the others do."
        )

    def label(self) -> str:
        return "out of step"

    def help(self) -> str | None:
        return f"Cross in row {self.wanted}, or say that the distances differ."


@dataclass(frozen=True, slots=True)
class ColourOutOfStep:
    """A row is worked in another colour than its stripe: with the other colour all stripes were even.

    One round in the wrong colour makes a stripe of one round beside one of three, where all others have two.

    Example: `Rnd 5: With B ...`, `Rnd 6: With A ...` where every stripe is of two rounds and rnds 1 and 2 are
    both worked with B.

    Cure: correct the colour, or say that the stripes differ. (Common practice; no source.)
    """

    row: str
    colour: str
    wanted: str
    high: int

    code = "colour-out-of-step"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.row} is worked in {self.colour}; in {self.wanted} every stripe here would be "
            f"{self.high} row{'s' if self.high > 1 else ''} high."
        )

    def label(self) -> str:
        return f"{self.wanted}?"

    def help(self) -> str | None:
        return f"Work it in {self.wanted}, or say that the stripes differ."


def rhythm_faults(subject: Subject) -> list[Finding]:
    """What is out of step in the first way of knitting; one finding at most of each kind."""
    if not subject.ways or subject.unread:
        return []
    way = subject.ways[0]
    amiss = subject.amiss(way)
    crossings: list[Finding] = []
    colours: list[Finding] = []
    for rows, again in _blocks(way):
        if any(e.line in amiss for e in rows):
            continue
        crossings += _crossings(way, rows, again=again)
        colours += _colours(subject, way, rows)
    return [*crossings[:1], *colours[:1]]


def _blocks(way: Way) -> Iterator[tuple[Sequence[Entry], bool]]:
    """Rows 1, 2, 3 ... of each section as they are first worked, and whether they are worked again."""
    for piece in way.knitted.ledger.pieces:
        for _, group in groupby(piece.rows, key=lambda e: e.section):
            entries = [e for e in group if e.kind in ROWS]
            first: list[Entry] = []
            for at, e in enumerate(entries):
                if e.number == len(first) + 1 and e.pass_ == 1:
                    first.append(e)
                    continue
                if len(first) >= _LEAST:
                    yield first, e.number == 1 and at + len(first) <= len(entries) + 1
                first = [e] if e.number == 1 and e.pass_ == 1 else []
            if len(first) >= _LEAST:
                yield first, False


_LEAST = 6
"""A rhythm wants at least so many rows to be heard."""


# --- crossings --------------------------------------------------------------------------------------------


def _crossings(way: Way, rows: Sequence[Entry], *, again: bool) -> Iterator[Finding]:
    """The one crossing whose row, moved, makes all distances between its like the same."""
    at: dict[bytes, list[int]] = {}
    for n, e in enumerate(rows):
        key = _crossed(way, e)
        if key:
            at.setdefault(key, []).append(n)
    for places in at.values():
        if len(places) != sum(len(p) for p in at.values()):
            return  # crossings of several sorts: each may answer another
        whole = len(rows) if again else 0
        moved = _one_moved(places, whole)
        if moved is not None:
            n, wanted, apart = moved
            e = rows[n]
            related = tuple(Related(rows[p].span, "in step") for p in places if p != n)[:2]
            problem = CrossingOutOfStep(e.label or f"row {n + 1}", wanted + 1, apart)
            yield Finding(problem=problem, span=e.span, related=related)


def _crossed(way: Way, e: Entry) -> bytes:
    """Which crossings a row has, and where; empty for none."""
    f = way.knitted.fabric
    low, high = np.searchsorted(f.row_of_stitch, [e.order, e.order + 1]).tolist()
    ops = f.op_of_stitch[low:high]
    crosses = _crossing_ops(f.ops)
    where = [(i, int(op)) for i, op in enumerate(ops.tolist()) if op in crosses]
    return repr(where).encode() if where else b""


@lru_cache(maxsize=64)
def _crossing_ops(ops: tuple[str, ...]) -> frozenset[int]:
    """Which operations of a fabric are crossings."""
    table = op_table()
    known = [table.stitches[table.number[name]] if name in table.number else None for name in ops]
    return frozenset(n for n, s in enumerate(known) if s is not None and s.motion is Motion.CROSS)


def _one_moved(places: Sequence[int], whole: int) -> tuple[int, int, int] | None:
    """Which place, moved to which, makes all distances one; and that distance. ``whole`` closes the round:
    the rows after which the first comes again; 0 where they are not worked again.
    """
    gaps = [b - a for a, b in pairwise(places)]
    if whole:
        gaps.append(whole - places[-1] + places[0])
    if len(gaps) < _GAPS or len(set(gaps)) == 1:
        return None
    found = []
    for i in range(len(places)):
        inner = whole or 0 < i < len(places) - 1
        for step in (-2, -1, 1, 2):
            moved = sorted({*places} - {places[i]} | {places[i] + step})
            if not inner or len(moved) < len(places) or not 0 <= moved[0] <= moved[-1] < (whole or 10**6):
                continue
            new = [b - a for a, b in pairwise(moved)]
            if whole:
                new.append(whole - moved[-1] + moved[0])
            if len(set(new)) == 1 and new[0] > abs(step):
                found.append((places[i], places[i] + step, new[0]))
    return found[0] if len(found) == 1 else None


_GAPS = 3
"""So many distances make a rhythm; common practice, no source."""


# --- colours ----------------------------------------------------------------------------------------------


def _colours(subject: Subject, way: Way, rows: Sequence[Entry]) -> Iterator[Finding]:
    """The one statement of a colour that, told otherwise, makes all stripes of one height."""
    yarns = [_yarn(way, e) for e in rows]
    if len(rows) < _STRIPED or None in yarns or len(set(yarns)) < 2 or _even(yarns):
        return
    stated = [n for n, e in enumerate(rows) if _says_yarn(subject, e)]
    found = []
    for i, n in enumerate(stated):
        end = stated[i + 1] if i + 1 < len(stated) else len(rows)
        for other in sorted({y for y in yarns if y is not None and y != yarns[n]}):
            new = [*yarns[:n], *[other] * (end - n), *yarns[end:]]
            high = _even(new)
            if high:
                found.append((n, other, high))
    if len(found) != 1:
        return
    n, other, high = found[0]
    e = rows[n]
    names = way.knitted.fabric.yarns
    problem = ColourOutOfStep(e.label, names[yarns[n] or 0], names[other], high)
    yield Finding(problem=problem, span=e.span)


_STRIPED = 8
"""So many rows at least tell of stripes; common practice, no source."""


def _yarn(way: Way, e: Entry) -> int | None:
    """The one yarn of a row; None where it has several, or none is drawn."""
    f = way.knitted.fabric
    low, high = np.searchsorted(f.row_of_stitch, [e.order, e.order + 1]).tolist()
    found = np.unique(f.yarn_of_stitch[low:high])
    return int(found[0]) if len(found) == 1 else None


def _even(yarns: Sequence[int | None]) -> int:
    """How high the stripes are, if all are alike and there are four or more in turn; 0 if they are not."""
    runs = [(yarn, len(list(group))) for yarn, group in groupby(yarns)]
    high = {n for _, n in runs}
    order = [yarn for yarn, _ in runs]
    kinds = len(set(order))
    turns = all(order[i] == order[i + kinds] for i in range(len(order) - kinds))
    return high.pop() if len(high) == 1 and len(runs) >= 2 * kinds and turns else 0


def _says_yarn(subject: Subject, e: Entry) -> bool:
    line = subject.line_of(e)
    if line is None:
        return False
    colour = line.label.colour if line.label is not None else None
    return bool(colour) or any(isinstance(n, tree.Yarn) and n.colour for n in tree.walk(line.actions))
