"""Lists of sizes: which number is whose, and which number is missing.

In: the words of a line, and the lists of the whole pattern. Out: the entries with the place of their size,
and the changes that give a list one entry more or less. Sizes step evenly, so the likeliest number is the
one that makes the steps of the list most alike, or that the same list has elsewhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

__all__ = ["Entry", "between", "entries", "known_lists", "steps_unlike", "with_one_less", "with_one_more"]

_LIST = re.compile(
    r"(?<![\d.,(])(?P<first>\d+|-) ?(?P<open>[(\[])(?P<rest>(?:\d+|-)(?:[,;/] ?(?:\d+|-))*)(?P<close>[)\]])"
)
_ENTRY = re.compile(r"\d+|-")
_MOST = 12
"""So many numbers are tried for one that is missing."""


class Entry(NamedTuple):
    """One number of a list: the place of its size, from 0, and all numbers of the list (None for ``-``)."""

    place: int
    values: tuple[int | None, ...]


def _values(m: re.Match[str]) -> tuple[int | None, ...]:
    return tuple(int(n) if n != "-" else None for n in _ENTRY.findall(m[0]))


def entries(text: str, sizes: int) -> Mapping[int, Entry]:
    """The entries of each list that has one for each size, by where they begin; none for one size."""
    if sizes < 2:
        return {}
    out = {}
    for m in _LIST.finditer(text):
        values = _values(m)
        if len(values) == sizes:
            for place, n in enumerate(_ENTRY.finditer(m[0])):
                out[m.start() + n.start()] = Entry(place, values)
    return out


def known_lists(lines: Iterable[str], sizes: int) -> frozenset[tuple[int | None, ...]]:
    """Every list of the pattern that has one number for each size."""
    if sizes < 2:
        return frozenset()
    return frozenset(v for line in lines for m in _LIST.finditer(line) if len(v := _values(m)) == sizes)


def steps_unlike(values: Sequence[int | None]) -> int:
    """By how much the steps from size to size differ among themselves; 0 if they are all alike."""
    there = [v for v in values if v is not None]
    steps = [b - a for a, b in pairwise(there)]
    uneven = sum(abs(b - a) for a, b in pairwise(steps))
    back = sum(-s for s in steps if s < 0) if sum(steps) >= 0 else sum(s for s in steps if s > 0)
    return uneven + 2 * back


def between(entry: Entry) -> Iterator[int]:
    """The numbers that let a list step evenly at this place: halfway, or a step on from its neighbours."""
    values, at = entry.values, entry.place
    below = [v for v in values[:at] if v is not None]
    above = [v for v in values[at + 1 :] if v is not None]
    here = values[at]
    news: set[int] = set()
    if below and above:
        news |= {(below[-1] + above[0]) // 2, (below[-1] + above[0] + 1) // 2}
    elif len(below) > 1:
        news.add(2 * below[-1] - below[-2])
    elif len(above) > 1:
        news.add(2 * above[0] - above[1])
    yield from sorted(n for n in news if n > 0 and n != here)


def with_one_less(text: str) -> Iterator[tuple[int, int, str]]:
    """Each list without one of the numbers in its brackets: from where to where, and which number."""
    for m in re.finditer(r"\((?:\d+|-)(?:, ?(?:\d+|-))+\)", text):
        for n in re.finditer(r"(?:\d+|-)(?:, ?)?", m[0]):
            start, end = m.start() + n.start(), m.start() + n.end()
            if n.end() == len(m[0]) - 1:
                start = m.start() + len(m[0][: n.start()].rstrip(", "))
            yield start, end, n[0].rstrip(", ")


def with_one_more(
    text: str, sizes: int, known: Iterable[tuple[int | None, ...]]
) -> Iterator[tuple[int, int, str, str, float]]:
    """Each list that lacks one number, with one put in: from where to where, the new list, what was put in
    and how unlikely it is.
    """
    known = tuple(known)
    for m in _LIST.finditer(text):
        values = _values(m)
        if len(values) != sizes - 1:
            continue
        elsewhere = {k for k in known if any(k[:i] + k[i + 1 :] == values for i in range(sizes))}
        tried = {*elsewhere, *_interpolated(values)}
        ranked = sorted(tried, key=lambda v: (v not in elsewhere, steps_unlike(v), str(v)))
        for n, new in enumerate(ranked[:_MOST]):
            place = next((i for i in range(len(values)) if values[i] != new[i]), len(values))
            said = _number(new[place])
            said += f" after {_number(new[place - 1])}" if place else f" before {_number(new[1])}"
            yield m.start(), m.end(), _written(m, new), said, (0.2 if new in elsewhere else 0.4) + 0.05 * n


def _interpolated(values: Sequence[int | None]) -> Iterator[tuple[int | None, ...]]:
    """The list with a number put in at each place: between its neighbours, like one of them, or a step on."""
    for place in range(len(values) + 1):
        below = values[place - 1] if place else None
        above = values[place] if place < len(values) else None
        news = {below, above}
        if below is not None and above is not None:
            news |= {(below + above) // 2, (below + above + 1) // 2}
        elif below is not None and len(values) > 1 and (other := values[-2]) is not None:
            news.add(2 * below - other)
        elif above is not None and len(values) > 1 and (other := values[1]) is not None:
            news.add(2 * above - other)
        for new in news:
            if new is not None and new > 0:
                yield (*values[:place], new, *values[place:])


def _number(value: int | None) -> str:
    return "-" if value is None else str(value)


def _written(m: re.Match[str], values: Sequence[int | None]) -> str:
    comma = re.search(r"[,;/] ?", m["rest"])
    between = comma[0] if comma else ", "
    gap = m[0][len(m["first"]) : m[0].index(m["open"])]
    return f"{_number(values[0])}{gap}{m['open']}{between.join(map(_number, values[1:]))}{m['close']}"
