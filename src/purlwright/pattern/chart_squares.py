"""Marks that fill several squares of a chart: a crossing drawn over all the stitches that it crosses.

In: the marks of each row, and the steps of the key. Out: for each row the marks that stand for one stitch in
so many squares. Whether a row is drawn so is told by the other rows: they have as many squares, one for each
stitch.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from purlwright.pattern import tree
from purlwright.stitches.load import dictionary

__all__ = ["crosses", "widths"]


def widths(rows: Sequence[Sequence[str]], key: Mapping[str, tuple[tree.Step, ...]]) -> list[dict[str, int]]:
    """The marks of each row that fill as many squares as they cross stitches; empty for most rows."""
    crossed = {mark: n for mark, steps in key.items() if (n := crosses(steps)) > 1}
    if not crossed:
        return [{} for _ in rows]
    plain = {len(row) for row in rows if not crossed.keys() & set(row)}
    out: list[dict[str, int]] = []
    for row in rows:
        runs = [(mark, sum(1 for _ in run)) for mark, run in groupby(row) if mark in crossed]
        filled = len(row) in plain and all(n % crossed[mark] == 0 for mark, n in runs)
        out.append({mark: crossed[mark] for mark, _ in runs} if filled else {})
    return out


def crosses(steps: tuple[tree.Step, ...]) -> int:
    """How many stitches a step of the key crosses; 0 if it is something else."""
    if len(steps) != 1 or not isinstance(steps[0], tree.Work):
        return 0
    stitch = dictionary().stitches.get(steps[0].stitch)
    return stitch.takes if stitch is not None and stitch.takes == stitch.makes else 0
