"""Numbers of several sizes written as a designer writes them: 57 (63, 69)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from purlwright.proof.subject import Way

__all__ = ["by_size", "size_list"]


def by_size(numbers: Iterable[tuple[Way, int]], sizes: Iterable[str]) -> str:
    """One number a size, the first that was met for it; "-" for a size that was not met."""
    first: dict[str, int] = {}
    for way, number in numbers:
        first.setdefault(way.size, number)
    return size_list(first, sizes)


def size_list(numbers: Mapping[str, int], sizes: Iterable[str]) -> str:
    """``57 (63, 69)``, or ``57`` when every size met has the same."""
    if len(set(numbers.values())) <= 1:
        return str(next(iter(numbers.values()), 0))
    head, *rest = (str(numbers[s]) if s in numbers else "-" for s in sizes)
    return f"{head} ({', '.join(rest)})"
