"""What a wrong count means, row by row, reckoned ahead: for a page that has to answer without us.

In: the table of a piece. Out: for each row an :class:`AheadRow`: for every likely wrong count, and for every
likely number of stitches left over or short in the row after it, the few mistakes that lead there, likeliest
first, each with what else would be seen of it and its quickest safe cure. Nothing is found out here that
``table`` and ``cure`` do not know.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from purlwright.rescue.cure import Cure, Grade, cures_for
from purlwright.rescue.fit import said_of
from purlwright.rescue.mistakes.made import Made
from purlwright.rescue.observe import ODD_MEANS, ODD_WORDS, Said
from purlwright.rescue.rank import Ranked
from purlwright.rescue.table import Table

__all__ = ["SEEN", "AheadRow", "Likely", "ahead"]

MOST_COUNTS = 6
"""So many wrong counts of a row, and so many ways not to come out, are reckoned ahead: the likeliest."""
MOST_TOLD = 5
"""So many sorts of mistake are kept for each: more facts may bring a later one forward."""
SEEN = ("side", "waiting", "gaps", "holes", "outline", "stacks")
"""The facts beside the count that a page may weigh, each of them quickly looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Likely:
    """One mistake that may lead there. ``share`` is how likely among all that lead there, from 0 to 1.

    made : the mistake, in the row where it is likeliest. down : how many rows below the row just worked the
    odd place lies, if ``sign`` names one. cure : the quickest that is safe, None if none is. then : the
    stitches she has when it is done, done : the row that is then done, which is the next one if the cure is
    worked within it.
    """

    made: Made
    share: float
    sign: str
    down: int
    cure: Cure | None
    seen: tuple[Said | None, ...]
    """What would be said of each of SEEN."""
    then: int = 0
    done: int = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class AheadRow:
    """What may be wrong when a row, by its index (-1: the cast-on), is done.

    counts : by a count that is not the right one. off : by the stitches left over (above 0) or short (below
    0) in the row after it; 99 where that row stops at a marker.
    """

    row: int
    counts: tuple[tuple[int, tuple[Likely, ...]], ...]
    off: tuple[tuple[int, tuple[Likely, ...]], ...]


def ahead(table: Table) -> tuple[AheadRow, ...]:
    """For each row what its wrong counts may mean, in the order of the rows."""
    if not table.n:
        return ()
    looks = table.piece.looks
    begun = table.piece.lies[0]
    right = np.array([x.stitches for x in looks] + [looks[0].entry.start if begun is None else begun.live])
    row, sts = table.column("row").astype(np.int64), table.column("sts").astype(np.int64)
    off = table.column("off").astype(np.int64)
    # a mistake of the row after it is met in that row, before there is anything to count
    counts = _groups(table, row, sts, (sts != right[row]) & (table.made_in <= row))
    over = _groups(table, row, off, off != 0, tried=True)
    return tuple(
        AheadRow(row=r, counts=counts.get(r, ()), off=over.get(r, ())) for r in sorted({*counts, *over})
    )


def _groups(
    table: Table, row: Any, value: Any, chosen: Any, *, tried: bool = False
) -> dict[int, tuple[tuple[int, tuple[Likely, ...]], ...]]:
    """The lines that are chosen, by row and by value, and in each the likeliest sorts of mistake."""
    lines = np.flatnonzero(chosen)
    if not len(lines):
        return {}
    sorts: dict[str, int] = {}
    sort_of = np.array([sorts.setdefault(m.kind.name + m.detail, len(sorts)) for m in table.made], np.int64)
    weight = np.exp(table.prior[lines].astype(np.float64))
    place = (row[lines] + 1) * 1_000_000 + value[lines] + 500_000
    places, at = np.unique(place, return_inverse=True)
    total = np.bincount(at, weight)
    both, which = np.unique(
        at.astype(np.int64) * len(sorts) + sort_of[table.made_of[lines]], return_inverse=True
    )
    share = np.bincount(which, weight)
    best = np.zeros(len(both), np.int64)
    order = np.argsort(weight, kind="stable")
    best[which[order]] = lines[order]  # the likeliest of each comes last
    of_place: dict[int, list[int]] = {}
    for k in np.argsort(-share, kind="stable").tolist():
        told = of_place.setdefault(int(both[k]) // len(sorts), [])
        if len(told) < MOST_TOLD:
            told.append(k)
    by_row: dict[int, list[int]] = {}
    for p in np.argsort(-total, kind="stable").tolist():
        kept = by_row.setdefault(int(places[p]) // 1_000_000 - 1, [])
        if len(kept) < MOST_COUNTS:
            kept.append(p)
    return {
        r: tuple(
            (
                int(places[p]) % 1_000_000 - 500_000,
                tuple(
                    _likely(table, int(best[k]), float(share[k] / total[p]), tried=tried) for k in of_place[p]
                ),
            )
            for p in kept
        )
        for r, kept in by_row.items()
    }


def _likely(table: Table, line: int, share: float, *, tried: bool) -> Likely:
    made, row = table.made[int(table.made_of[line])], int(table.column("row")[line])
    cures = cures_for(Ranked(table=table, made=made, row=row, likely=share, line=line), tried=tried)
    word = next(word for word, odd in ODD_WORDS.items() if int(odd) == int(table.column("odd")[line]))
    cure = cures[0] if cures else None
    then, done = (cure.then, cure.row) if cure is not None else (0, -1)
    fudged = cure is not None and cure.grade is Grade.QUICK and then != int(table.column("sts")[line])
    if fudged and done == row and row + 1 < len(table.piece.looks):  # made good as the next row is worked
        done += 1
        then = table.piece.looks[done].stitches
    return Likely(
        made=made,
        share=share,
        sign="" if word == "nothing" else ODD_MEANS[word],
        down=int(table.column("down")[line]),
        cure=cure,
        seen=tuple([_said(table, line, name) for name in SEEN]),
        then=then,
        done=done,
    )


def _said(table: Table, line: int, name: str) -> Said | None:
    """What she would say; None of a side that nothing tells."""
    unknown = name == "side" and int(table.column("side")[line]) > 1
    return None if unknown else said_of(table, line, name)
