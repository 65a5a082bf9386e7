"""What most likely happened: the diagnoses in order.

In: tables and facts. Out: :class:`Weighed`, every line of the tables with its weight, and from it
:class:`Ranked`, the likeliest first. How facts are weighed is left to ``fit``; how answers are said, to
``verdict``.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from purlwright.rescue.fit import fit
from purlwright.rescue.mistakes.made import Made
from purlwright.rescue.observe import Facts
from purlwright.rescue.table import Table

__all__ = ["CERTAIN", "CLEAR", "LEADERS", "Ranked", "Weighed", "rank", "weigh"]

CLEAR = 0.9
"""So likely is clear enough: nothing more is asked."""
CERTAIN = 0.95
"""So likely is called almost certain."""
LEADERS = 2000
"""So many of the likeliest lines of a table are looked at one by one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranked:
    """A diagnosis: one mistake in one row, and where she is now.

    likely : from 0 to 1. line : the line of the table that fits best. alike : other mistakes that show the
    very same, so that nothing she can see tells them apart.
    """

    table: Table
    made: Made
    row: int
    likely: float
    line: int
    alike: tuple[Made, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """The leading lines of one table, and how likely each is among all lines of all tables."""

    table: Table
    lines: Any
    chance: Any


def weigh(tables: Iterable[Table], facts: Facts) -> tuple[Weighed, ...]:
    """Weigh every line; keep the leading ones. Tables without lines are left out."""
    scores = [(t, fit(t, facts)) for t in tables if t.n]
    if not scores:
        return ()
    top = max(float(score.max()) for _, score in scores)
    chances = [(t, np.exp(score - top)) for t, score in scores]
    total = sum(float(chance.sum(dtype=np.float64)) for _, chance in chances)
    out = []
    for table, chance in chances:
        n = min(LEADERS, table.n)
        lines = np.argpartition(chance, table.n - n)[table.n - n :]
        out.append(Weighed(table=table, lines=lines, chance=chance[lines].astype(np.float64) / total))
    return tuple(out)


def rank(weighed: Iterable[Weighed], most: int = 8) -> list[Ranked]:
    """The likeliest diagnoses, best first."""
    found = [r for w in weighed for r in _diagnoses(w, most)]
    found.sort(key=lambda r: -r.likely)
    return [replace(r, alike=_alike(r.table, r.line)) for r in found[:most]]


def _diagnoses(w: Weighed, most: int) -> list[Ranked]:
    """Lines that show the same, taken together; then lines of one mistake in one row."""
    table = w.table
    sorts, which = np.unique(table.sorts[w.lines], return_inverse=True)
    chance = np.bincount(which, w.chance)
    best_line = np.zeros(len(sorts), np.int64)
    order = np.argsort(w.chance)
    best_line[which[order]] = w.lines[order]  # the likeliest of each comes last
    out: list[Ranked] = []
    taken: dict[tuple[str, int, int], int] = {}
    for k in np.argsort(-chance)[: most * 8].tolist():
        line = int(best_line[k])
        made, row = table.made[int(table.made_of[line])], int(table.column("row")[line])
        key = (made.kind.code + made.detail, made.row, row)
        if key in taken:  # another stretch of the same row
            was = out[taken[key]]
            out[taken[key]] = Ranked(
                table=table, made=was.made, row=row, likely=was.likely + float(chance[k]), line=was.line,
            )  # fmt: skip
            continue
        taken[key] = len(out)
        out.append(Ranked(table=table, made=made, row=row, likely=float(chance[k]), line=line))
    return out


def _alike(table: Table, line: int) -> tuple[Made, ...]:
    """The other mistakes of which the very same is seen."""
    return tuple(
        table.made[int(table.made_of[x])] for x in table.alike(int(table.sorts[line])).tolist() if x != line
    )
