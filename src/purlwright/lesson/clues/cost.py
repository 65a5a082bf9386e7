"""K32: what it costs to test a clue, in seconds, so that cheap ones come first.

Times are by eye, for a slow beginner; common practice, no source.
"""

from __future__ import annotations

from purlwright.lesson.rows import Row

__all__ = ["FEEL", "LOOK", "MEASURE", "PAGE", "counting"]

LOOK = 3.0
"""To look at one place."""
FEEL = 3.0
"""To feel for one place."""
PAGE = 4.0
"""To look something up on the sheet."""
MEASURE = 25.0
"""To lay the work flat and put a ruler on it."""
_EACH = 0.6
"""To count one stitch."""


def counting(rows: tuple[Row, ...], most: int | None = None) -> float:
    """To count the stitches on the needle, as many as there are on the whole; at most ``most`` of them."""
    many = sum(r.seen.count for r in rows) / len(rows) if rows else 0.0
    return LOOK + _EACH * (many if most is None else min(many, most))


def few(n: float) -> float:
    """To count a few things."""
    return LOOK + _EACH * n
