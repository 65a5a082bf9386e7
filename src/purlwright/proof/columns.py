"""Cables and ribs down their columns: what a crossing carries, which way it leans, what lies between columns.

In: the rows of one section. Out: findings on cables that are printed to travel and do not, on one crossing
that leans against all others of its column, and on one gap between columns unlike all others. All are count-
neutral. ``period`` asks for them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from purlwright.fabric.arrays import Seen
from purlwright.findings import Finding, Related, Severity
from purlwright.proof.texture import Op, Worked, label_of, looks, names, seen_from_right, special, tile_of

if TYPE_CHECKING:
    from purlwright.fabric.arrays import Fabric

__all__ = ["CableDoesNotTravel", "CrossingLeansOtherwise", "GapUnlikeOthers", "column_faults"]


@dataclass(frozen=True, slots=True)
class CableDoesNotTravel:
    """A crossing of knit over purl carries purl stitches in front: its cable is not where the words are.

    A cable that travels takes its place with it: after `2/1 LPC` its two knits stand one stitch further
    left, and the next crossing must begin there. Printed at the old place it takes a purl for a knit, and
    the cable falls apart. The count is right.

    Example: `Row 3: P4, 2/1 LPC, p5.` and `Row 5: P4, 2/1 LPC, p5.` again.

    Cure: move the crossing with its cable. (Common practice; no source.)
    """

    row: str
    purls: int
    others: int

    code = "cable-does-not-travel"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        many = "a purl stitch" if self.purls == 1 else f"{self.purls} purl stitches"
        also = f" So do {self.others} more rows." if self.others > 1 else ""
        also = " So does one more row." if self.others == 1 else also
        return (
            f"The crossing in {self.row} takes {many} for the knits of its cable: the cable is not "
            f"here.{also}"
        )

    def label(self) -> str:
        return "the cable is not here"

    def help(self) -> str | None:
        return "Begin the crossing where the row below has left the knit stitches."


@dataclass(frozen=True, slots=True)
class CrossingLeansOtherwise:
    """One crossing of a column leans against all the others of its column.

    A rope turned four times to the right and once to the left has a flaw that shows at once and that no count
    finds.

    Example: `2/2 RC` on rows 1, 5, 13 and 17, and `2/2 LC` at the same stitches on row 9.

    Cure: cross it as the others, or say that it turns. (Common practice; no source.)
    """

    row: str
    like: str
    leans: str

    code = "crossing-leans-otherwise"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"In {self.row} this crosses to the {self.leans}; in {self.like} the same stitches cross the "
            f"other way."
        )

    def label(self) -> str:
        return f"crosses to the {self.leans}"

    def help(self) -> str | None:
        return "Cross it as in the other rows, or say that the cable turns here."


@dataclass(frozen=True, slots=True)
class GapUnlikeOthers:
    """Between two columns stand more or fewer purl stitches than between all the others, in one row only.

    One purl stands between two cables where there are three everywhere else; the stitches left over have
    gone to the edge or into a column. The count is right.

    Example: `P3, k4, p3, k4, p1, k4, p3, k4, p5` among rows with 3 purls in every gap.

    Cure: give the gap the stitches of the others. (Common practice; no source.)
    """

    row: str
    like: str
    found: int
    wanted: int

    code = "gap-unlike-others"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        s = "" if self.found == 1 else "s"
        return (
            f"{self.row} has {self.found} purl{s} between two columns here and {self.wanted} between "
            f"all others; "
            f"in {self.like} every gap has {self.wanted}."
        )

    def label(self) -> str:
        return f"{self.found} here"

    def help(self) -> str | None:
        return f"Purl {self.wanted} here, and look which stitches make up for it."


def column_faults(rows: Sequence[Worked]) -> list[Finding]:
    """What is wrong with the columns of one section; nothing for a section without crossings or ribs."""
    crossed = [row for row in rows if _crossings(row.key, row.back)]
    found: list[Finding] = []
    if crossed:
        found = _travel(crossed) or _leans(crossed)
    return found or _gaps(rows)


@lru_cache(maxsize=2048)
def _crossings(key: bytes, back: bool) -> tuple[Op, ...]:
    return tuple(op for op in seen_from_right(key, back) if op.look.crosses)


# --- travelling cables ------------------------------------------------------------------------------------


def _travel(rows: Sequence[Worked]) -> list[Finding]:
    """Crossings of knit over purl whose knits are drawn through purls."""
    good: list[Worked] = []
    bad: list[tuple[Worked, int, int]] = []
    beside = 0
    for row in rows:
        if row.drawn:
            continue
        mixed = [op for op in looks(row.key) if op.look.crosses and {"k", "p"} <= set(op.look.faces)]
        if not mixed:
            continue
        wrong = _purls_carried(row)
        if wrong is None:
            good.append(row)
        else:
            bad.append((row, *wrong[:2]))
            beside += wrong[2]
    distinct = len({row.key for row in good})
    alone = (len(bad) == 1 and distinct >= 3) or (len(bad) >= 3 and len(bad) > len(good))
    seen_beside = len(bad) >= 2 and bool(good) and beside == len(bad)
    if not bad or not (alone or seen_beside):
        return []
    row, place, purls = bad[0]
    related = tuple(Related(label_of(r), "here too") for r, _, _ in bad[1:3])
    problem = CableDoesNotTravel(row.name, purls, len(bad) - 1)
    return [Finding(problem=problem, span=row.words(place), related=related)]


class _Wrong(NamedTuple):
    """A crossing that carries purls as its knits: which operation, how many, and whether as many knits as it
    wants stand beside its place in the row below.
    """

    place: int
    purls: int
    beside: bool


def _purls_carried(row: Worked) -> _Wrong | None:
    """The first crossing of a row that carries purls as its knits; None if none does."""
    fabric = row.way.knitted.fabric
    made = fabric.row_of_stitch
    at = int(np.searchsorted(made, row.entry.order, "left"))
    parents, first, seen = fabric.parent, fabric.first_parent_of_stitch, fabric.seen_of_stitch
    for op in looks(row.key):
        look = op.look
        if look.faces == "act":
            continue
        if look.faces == "s":
            continue
        if look.crosses and {"k", "p"} <= set(look.faces):
            stitches = range(at, at + look.makes)
            knits = [s for s in stitches if seen[s] == Seen.KNIT and first[s + 1] > first[s]]
            carried = [int(parents[first[s]]) for s in knits]
            purls = sum(seen[p] == Seen.PURL for p in carried)
            if purls:
                return _Wrong(op.place, purls, _stands_beside(fabric, carried))
        at += look.makes
    return None


def _stands_beside(fabric: Fabric, carried: Sequence[int]) -> bool:
    """Whether the knits among the stitches carried go on beyond them, and make up a cable of as many."""
    seen, row = fabric.seen_of_stitch, fabric.row_of_stitch
    knits = [s for s in carried if seen[s] == Seen.KNIT]
    if not knits:
        return False
    first = last = knits[0]
    while first > 0 and row[first - 1] == row[first] and seen[first - 1] == Seen.KNIT:
        first -= 1
    while last + 1 < fabric.n and row[last + 1] == row[last] and seen[last + 1] == Seen.KNIT:
        last += 1
    return last - first + 1 == len(carried)


# --- leans down a column ----------------------------------------------------------------------------------


def _leans(rows: Sequence[Worked]) -> list[Finding]:
    """One crossing that leans against all others of its column, with others above and below it."""
    columns: dict[tuple[int, int, int, int], list[tuple[Worked, Op]]] = {}
    for row in rows:
        tile = tile_of(row)
        width = tile.width if tile is not None else 0
        for op in _crossings(row.key, row.back):
            if tile is None or tile.first <= op.place < tile.last:
                at = op.at % width if width else op.at
                columns.setdefault((row.entry.start, width, at, op.look.takes), []).append((row, op))
    for column in columns.values():
        if len(column) < 5:
            continue
        leans = [op.look.lean for _, op in column]
        (most, times), *others = Counter(leans).most_common()
        if times != len(column) - 1 or not most or not others:
            continue
        odd = leans.index(others[0][0])
        if odd in {0, len(column) - 1} or column[odd][1].look.faces != column[0][1].look.faces:
            continue
        row, op = column[odd]
        like = [r for r, o in column if o is not op]
        problem = CrossingLeansOtherwise(row.name, names(like), op.look.lean)
        related = tuple(Related(label_of(r), f"to the {most}") for r in like[:2])
        return [Finding(problem=problem, span=row.words(op.place), related=related)]
    return []


# --- gaps between columns ---------------------------------------------------------------------------------


@lru_cache(maxsize=2048)
def _runs(key: bytes, back: bool) -> tuple[tuple[str, int, int], ...]:
    """The faces of a row in runs as worked, as the right side shows them: face, how many, first operation.

    Empty for a row that has more than knits, purls, slips and crossings.
    """
    ops = looks(key)
    if any(special(op.look) and not op.look.crosses for op in ops):
        return ()
    faces: list[tuple[str, int]] = []
    for op in ops:
        for face in op.look.faces:
            shown = {"k": "p", "p": "k"}.get(face, face) if back else face
            faces.append((shown, op.place))
    out = []
    for face, run in groupby(faces, key=lambda f: f[0]):
        stretch = list(run)
        out.append((face, len(stretch), stretch[0][1]))
    return tuple(out)


def _gaps(rows: Sequence[Worked]) -> list[Finding]:
    """One gap of purls unlike all others of its row, while three rows or more have all gaps alike."""
    regular: dict[int, list[Worked]] = {}
    odd: list[tuple[Worked, int, int, int]] = []
    for row in rows:
        runs = _runs(row.key, row.back)
        inner = [(many, place) for face, many, place in runs[1:-1] if face == "p"]
        if len(inner) < 3 or any(face == "k" and many < 2 for face, many, _ in runs[1:-1]):
            continue
        (wanted, times), *others = Counter(many for many, _ in inner).most_common()
        if not others:
            regular.setdefault(wanted, []).append(row)
        elif (
            times == len(inner) - 1
            and times >= 3
            and [r[:2] for r in runs] != [r[:2] for r in reversed(runs)]
        ):
            found, place = next((many, place) for many, place in inner if many != wanted)
            odd.append((row, place, found, wanted))
    if len(odd) != 1:
        return []
    row, place, found, wanted = odd[0]
    like = [r for r in regular.get(wanted, ()) if r.entry.start == row.entry.start]
    if len(like) < 3 or len(like) < len([r for n in regular.values() for r in n]) // 2:
        return []
    problem = GapUnlikeOthers(row.name, names(like), found, wanted)
    return [
        Finding(problem=problem, span=row.words(place), related=(Related(label_of(like[0]), "all alike"),))
    ]
