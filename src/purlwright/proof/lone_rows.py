"""One row by itself that is its own mirror, and both its halves alike, but for one slip (C086).

In: rows of words. Out: the row, if turning one lean or exchanging two neighbours makes its left half the
mirror of its right and the two halves the same: a toe or a raglan round, shaped beside two markers or more.
Rows that have neighbours to be compared with are looked at by ``mirror``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from purlwright.proof.texture import Look, Worked, looks, mirrored, special

__all__ = ["Slip", "lone_slips"]

_LEANS = 4
"""So many leaning stitches, two on each side of the middle, make a figure; common practice, no source."""
_MOST = 40
"""A row with more of them is lace, whose rows are compared with each other."""


class Slip(NamedTuple):
    """Where a row has its slip: the operation, and what is said of it."""

    place: int
    what: str


def lone_slips(rows: Sequence[Worked]) -> Iterator[tuple[Worked, Slip]]:
    """Every row with just one slip that breaks its figure."""
    for row in rows:
        slip = _slip(row.key)
        if slip is not None:
            yield row, slip


@lru_cache(maxsize=2048)
def _slip(key: bytes) -> Slip | None:
    row = [op.look for op in looks(key)]
    leaning = [n for n, x in enumerate(row) if special(x) and x.lean and not x.crosses]
    if len(row) % 2 or not _LEANS <= len(leaning) <= _MOST or len(leaning) % 2 or _whole(row):
        return None
    found = [Slip(n, _leans(row[n])) for n in leaning if _whole(_turned(row, n))]
    if found:
        return found[0] if len(found) == 1 else None
    beside = {n for m in leaning for n in (m - 1, m) if 0 <= n < len(row) - 1}
    moved = [n for n in sorted(beside) if row[n] != row[n + 1] and _whole(_exchanged(row, n))]
    return Slip(moved[0], "two neighbours have changed places in one half") if len(moved) == 1 else None


def _leans(look: Look) -> str:
    return f"this leans to the {look.lean}, and its fellow in the other half too"


def _turned(row: Sequence[Look], n: int) -> list[Look]:
    return [*row[:n], mirrored(row[n]), *row[n + 1 :]]


def _exchanged(row: Sequence[Look], n: int) -> list[Look]:
    return [*row[:n], row[n + 1], row[n], *row[n + 2 :]]


def _whole(row: Sequence[Look]) -> bool:
    """Whether a row is its own mirror, and its two halves are alike."""
    half = len(row) // 2
    return row[:half] == row[half:] and all(
        x == mirrored(y) for x, y in zip(row[:half], reversed(row), strict=False)
    )
