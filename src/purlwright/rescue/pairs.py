"""Two mistakes at once: looked for only when no single one explains what she says.

In: tables, facts, and the best single diagnosis. Out: the best pair, or None. A knitter who counts 37 on one
side of the spine and 34 on the other has made two slips; one mistake alone leaves one of them unexplained.

The search is bounded: the row she is at is taken from the best single diagnosis, the first mistake from the
leading ones there, the second from all. What two mistakes come to together is reckoned, not knitted: each
changes the counts by what it changes alone. That holds unless one of them makes a row between stop short, and
then she has met it there; tests/rescue/test_pairs.py really makes both. A mistake with a cure gone wrong, the
likeliest pair, is no sum: E47 to E50 are knitted on like any other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from purlwright.rescue.fit import chances, fit
from purlwright.rescue.mistakes.made import Made
from purlwright.rescue.observe import COUNTS, Facts
from purlwright.rescue.rank import Ranked
from purlwright.rescue.table import Table

__all__ = ["Pair", "best_pair"]

FIRST = 80
"""So many of the leading mistakes are tried as one of the two."""
SECOND = 4000
RARER = 12.0
"""Two mistakes are so many times rarer than one more would be by itself (rule of thumb)."""
_ADD_UP = (
    "sts", "cast_on", "gaps", "waiting", "ridges_right", "ridges_left", "chains_right", "chains_left",
    "part_rows",
)  # fmt: skip
_EITHER = (
    "holes", "stacks", "outline", "since_hole", "since_decrease", "since_increase", "since_crossing",
    "since_stripe", "yarn",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two mistakes, the earlier first.

    some : how likely it is that there are two mistakes at all. likely : that it is these two.
    """

    table: Table
    first: Made
    second: Made
    row: int
    some: float
    likely: float


def best_pair(single: Ranked, facts: Facts) -> Pair | None:
    """The pair of mistakes that fits best at the row of the best single one; None if one is likelier."""
    table = single.table
    here = np.flatnonzero(table.column("row") == single.row)
    right = here[table.made_of[here] == 0]
    here = here[table.made_in[here] >= 0]
    if not len(right) or len(here) < 2:
        return None
    alone = fit(table, facts)
    here = here[np.argsort(-alone[here])][:SECOND]
    # one of the two explains what is odd, the other may be any that changes something
    first = here[:FIRST]
    score = table.prior[first][:, None] + table.prior[here][None, :] - np.log(RARER)
    # a prior is that of a place and a row: the row is the same for both, and counts once
    score = score - table.prior[right[0]]
    for name, said in facts.known.items():
        score += _both(table, name, said, first, here, int(right[0]))
    same = table.made_of[first][:, None] == table.made_of[here][None, :]
    score = np.where(same, -np.inf, score)
    k = int(np.argmax(score))
    a, b = int(first[k // len(here)]), int(here[k % len(here)])
    top = float(max(score.flat[k], alone[single.line]))
    pairs = float(np.exp(score - top).sum()) / 2  # each stands there twice, in either order
    singles = float(np.exp(alone[table.column("row") == single.row] - top).sum())
    if pairs <= singles:
        return None
    made = sorted((table.made[int(table.made_of[x])] for x in (a, b)), key=lambda m: m.row)
    share = float(np.exp(score.flat[k] - top)) / (pairs + singles)
    some = pairs / (pairs + singles)
    return Pair(table=table, first=made[0], second=made[1], row=single.row, some=some, likely=share)


def _both(table: Table, name: str, said: Any, first: Any, second: Any, right: int) -> Any:
    """What a fact says of each pair, (first, second)."""
    if name in COUNTS:
        return _counts(table, name, said, first, second, right)
    if name in {"odd", "down", "lies_in", "up", "marks_above", "above_mark"}:
        # she tells of one odd place: that of either
        column = table.column(name).astype(np.int32)
        one, two = (np.log(chances(name, column[x], said)) for x in (first, second))
        return np.maximum(one[:, None], two[None, :])
    if name == "row":  # the same for both
        return np.log(chances(name, table.column(name)[right], said))
    if name not in {*_ADD_UP, *_EITHER, "side"}:
        return 0.0
    column = table.column(name).astype(np.int32)
    a, b, true = column[first][:, None], column[second][None, :], int(column[right])
    if name == "side":
        together = np.where(a == true, b, np.where(b == true, a, true))
    elif name in _EITHER:
        together = np.where(a == true, b, a)
    else:
        together = a + b - true
    return np.log(chances(name, together, said))


def _counts(table: Table, name: str, said: Any, first: Any, second: Any, right: int) -> Any:
    """Counts from marker to marker, or from turn to turn: each mistake changes its own stretch."""
    column = table.column(name)
    true = table.counts[name][int(column[right])]
    if not isinstance(said, tuple) or len(true) != len(said):
        return 0.0

    def changes(lines: Any) -> Any:
        rows = [table.counts[name][int(column[x])] for x in lines]
        return np.array(
            [np.subtract(r, true) if len(r) == len(true) else np.full(len(true), 99) for r in rows]
        )

    together = np.array(true) + changes(first)[:, None, :] + changes(second)[None, :, :]
    each = [np.log(chances("sts", together[:, :, i], n)) for i, n in enumerate(said)]
    return np.sum(each, axis=0)
