"""Rows that come round again: the one that differs from the row it should repeat (C087).

In: the rows of one section. Out: a finding on one row unlike the others of its place in the period, though
the count is the same. ``period`` asks for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from purlwright.findings import Finding, Related, Severity
from purlwright.proof.texture import Worked, label_of, looks, names, seen_from_right, special

__all__ = ["RowUnlikeItsLike", "unlike_rows"]

MOST_ROWS = 400
EDGE = 4
"""So many stitches at either end of a plain row may be its edge."""


@dataclass(frozen=True, slots=True)
class RowUnlikeItsLike:
    """Rows come round again and again, and one of them differs a little from the same row of other rounds.

    Row 17 repeats row 1, row 18 row 2, and so on; but row 21 is not quite row 5. The counts agree, so the
    difference shows only in the fabric.

    Example: rows 5, 13 and 29 are the same words; row 21 has `yo, k1` where they have `k1, yo`.

    Cure: make the row like the others, or say that it differs on purpose. (Common practice; no source.)
    """

    row: str
    like: str

    code = "row-unlike-its-like"
    check = "C087"
    severity = Severity.WARNING

    def message(self) -> str:
        return f"{self.row} differs from {self.like}, which it repeats, though the count is the same."

    def label(self) -> str:
        return "differs here"

    def help(self) -> str | None:
        return "Make this row like the others, or say that it differs."


# --- rows that come round again ---------------------------------------------------------------------------


@lru_cache(maxsize=256)
def _unlike(keys: tuple[bytes, ...]) -> tuple[int, tuple[int, ...]] | None:
    """The one row that breaks the period of the rows, and the rows it should be like.

    The period is the shortest that all pairs of rows so far apart keep, but for those with that one row.
    """
    n = len(keys)
    if len(set(keys)) in {1, n}:
        return None
    for p in range(1, n // 3 + 1):
        broken = [i for i in range(n - p) if keys[i] != keys[i + p]]
        if not broken:
            return None
        if len(broken) > 2:
            continue
        for odd in _suspects(broken, p, n):
            like = tuple(i for i in range(odd % p, n, p) if i != odd)
            if len(like) >= 3 and len({keys[i] for i in like}) == 1 and _near(keys[odd], keys[like[0]]):
                return odd, like
    return None


def _suspects(broken: list[int], p: int, n: int) -> list[int]:
    """Rows that alone can have broken these pairs; the very first and last rows may differ as they like."""
    if len(broken) == 2:
        return [broken[1]] if broken[0] + p == broken[1] else []
    i = broken[0]
    return [x for x in ([i] if i < p else []) + ([i + p] if i + 2 * p >= n else []) if 0 < x < n - 1]


@lru_cache(maxsize=256)
def _near(a: bytes, b: bytes) -> bool:
    """Whether two rows take and make as many stitches and differ in a few operations only."""
    one, two = looks(a), looks(b)
    if not one or not two or len(one) != len(two):
        return False
    net = [sum(op.look.makes - op.look.takes for op in row) for row in (one, two)]
    end = [row[-1].at + row[-1].look.takes for row in (one, two)]
    if net[0] != net[1] or end[0] != end[1]:
        return False
    if any(special(op.look) for op in one) and not any(special(op.look) for op in two):
        return False  # a buttonhole in a band is no fault
    differ = sum(x.look != y.look for x, y in zip(one, two, strict=True))
    return 0 < differ <= max(4, len(one) // 2)


def unlike_rows(rows: Sequence[Worked]) -> list[Finding]:
    """The row that differs from the row it should repeat; at most one in a section."""
    if not 4 <= len(rows) <= MOST_ROWS:
        return []
    found = _unlike(tuple(row.key for row in rows))
    if found is None:
        rows = [row for row in rows if seen_from_right(row.key, row.back)]
        found = _unlike(tuple(row.key for row in rows))
    if found is None:
        return []
    row, like = rows[found[0]], [rows[n] for n in found[1]]
    one, two = looks(row.key), looks(like[0].key)
    differ = [x.place for x, y in zip(one, two, strict=True) if x.look != y.look]
    place = differ[0]
    if not any(special(op.look) for op in two) and (place < EDGE or differ[-1] >= len(one) - EDGE):
        return []  # what differs at the edges is for the checks of edges
    problem = RowUnlikeItsLike(row.name, names(like))
    return [
        Finding(
            problem=problem,
            span=row.words(place),
            related=tuple(Related(label_of(r), "keeps the rule") for r in like[:2]),
        )
    ]
