"""The order of numbered rows: lines that name lists and ranges are put in the order of their numbers.

In: the lines of a section from a numbered one on. Out: which row is worked by which line, in order, and how
many lines that took. Working them is left to ``knit``.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct

from purlwright.pattern import tree

__all__ = ["Planned", "plan_block"]

_NOTES = frozenset({tree.Note})
_ENDS = frozenset({tree.Close, tree.Gather, tree.BindOff})


class Planned(Struct, frozen=True):
    """Row ``number`` (None for a line without one) by ``line``.

    ``index`` its place among the line's own numbers.
    """

    number: int | None
    line: tree.Line
    index: int = 0


def plan_block(lines: Sequence[tree.Line], last: int | None) -> tuple[list[Planned], int, bool]:
    """Plan the numbered rows at the start of ``lines``.

    last : number of the row worked just before in this section, or None.
    Returns the rows in order, how many lines they took, and whether numbering starts afresh here.
    """
    seen: set[int] = set()
    least = most = 0
    rows: list[Planned] = []
    used = 0
    holes = False
    for line in lines:
        label = line.label
        if label is None or not (label.numbers or label.rule):
            if _NOTES.issuperset(map(type, line.actions)):
                used += 1
                continue
            break
        numbers = label.numbers
        if not numbers:  # a rule alone: "All WS rows: purl"
            used += 1
            continue
        if seen and (not seen.isdisjoint(numbers) or (min(numbers) < most and not (holes or label.rule))):
            break
        if seen and min(numbers) < least and not holes:
            break
        least, most = min(least, *numbers) if seen else min(numbers), max(most, *numbers)
        if len(numbers) > 1 and any(b - a != 1 for a, b in pairwise(numbers)):
            holes = True
        seen.update(numbers)
        if len(numbers) == 1:
            rows.append(Planned(numbers[0], line))
        else:
            rows += [Planned(n, line, i) for i, n in enumerate(numbers)]
        used += 1
        if not _ENDS.isdisjoint(map(type, line.actions)) and any(
            isinstance(a, (tree.Close, tree.Gather)) or binds_all(a) for a in line.actions
        ):
            break
    if holes:
        rows.sort(key=lambda p: p.number or 0)
    restart = bool(rows) and last is not None and (rows[0].number or 0) <= last
    return rows, max(used, 1), restart


def binds_all(a: tree.Action) -> bool:
    """Whether all stitches are bound off here."""
    return isinstance(a, tree.BindOff) and a.count is None and a.keep is None and a.at == "here"
