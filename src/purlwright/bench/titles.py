"""What a pattern calls itself and how many sizes it has, without knitting it; kept until the file changes.

In: a file and when it was changed. Out: its title and its number of sizes.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

__all__ = ["titles"]

_ENOUGH = 8_000
"""So many letters of the beginning of a text hold its header."""


@lru_cache(maxsize=600)
def titles(place: Path, changed_ms: int) -> tuple[str, int]:  # noqa: ARG001 - another time is another text
    """The title, or "" where there is none; and how many sizes, 1 for one size."""
    from purlwright.pattern.file import read_pattern
    from purlwright.text import Source

    with place.open("rb") as file:
        words = file.read(_ENOUGH).decode("utf-8", "replace")
    head = words.split("\n## ", 1)[0]
    pattern = read_pattern(Source(head))
    return pattern.title, max(1, len(pattern.sizes))
