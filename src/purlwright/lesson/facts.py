"""What is true of a row when it is done, each fact under a name: what clues are made of.

In: a row, and what is seen after it. Out: one value, which can be compared; None where the fact means
nothing. The same fact can be asked of a row with a mistake in it, so that it is known which mistakes a clue
shows.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from purlwright.lesson.rows import LANDMARKS

if TYPE_CHECKING:
    from purlwright.lesson.rows import Row, Seen

__all__ = ["FACTS", "Fact", "Value", "read"]

Value: TypeAlias = int | str | tuple["Value", ...] | None


class Fact(NamedTuple):
    """The name of a fact, and the numbers it needs (which marker, which remainder)."""

    name: str
    a: int = 0
    b: int = 0


def read(fact: Fact, row: Row, seen: Seen | None = None) -> Value:
    """The fact after this row, or after the row as it was ``seen`` with a mistake in it."""
    return FACTS[fact.name](fact, row, row.seen if seen is None else seen)


def _fence(fact: Fact, _row: Row, seen: Seen) -> Value:
    return seen.fences[fact.a] if fact.a < len(seen.fences) else None


def _fence_difference(fact: Fact, _row: Row, seen: Seen) -> Value:
    n = len(seen.fences)
    return seen.fences[fact.a] - seen.fences[fact.b] if max(fact.a, fact.b) < n else None


def _begins(fact: Fact, _row: Row, seen: Seen) -> Value:
    return tuple(d.name for d in seen.done[: fact.a])


def _ends(fact: Fact, _row: Row, seen: Seen) -> Value:
    return tuple(d.name for d in seen.done[len(seen.done) - fact.a :])


def _left_over(_fact: Fact, _row: Row, seen: Seen) -> Value:
    """Stitches left on the needle after the last repeat of the row."""
    last = max((i for i, d in enumerate(seen.done) if d.again), default=None)
    return None if last is None else sum(len(d.taken) for d in seen.done[last + 1 :])


def _first_hole(_fact: Fact, _row: Row, seen: Seen) -> Value:
    at = 0
    for d in seen.done:
        if d.hole:
            return at
        at += len(d.made)
    return None


def _last_hole(_fact: Fact, _row: Row, seen: Seen) -> Value:
    at = 0
    for d in reversed(seen.done):
        if d.hole:
            return at
        at += len(d.made)
    return None


def _kinds(_fact: Fact, _row: Row, seen: Seen) -> Value:
    return tuple(k for k in LANDMARKS if k in seen.landmarks)


def _leans(_fact: Fact, _row: Row, seen: Seen) -> Value:
    """How the decreases lean in the right half and in the left half of the row."""
    halves: tuple[set[str], set[str]] = (set(), set())
    whole = sum(len(d.made) for d in seen.done)
    at = 0
    for d in seen.done:
        middle = at + len(d.made) / 2
        if d.lean and middle * 2 != whole:
            first = middle * 2 < whole
            halves[0 if first is (seen.side != "WS") else 1].add(d.lean)
        at += len(d.made)
    return tuple(tuple(sorted(h)) for h in halves)


def _gap_steps(_fact: Fact, _row: Row, seen: Seen) -> Value:
    return tuple(sorted({b - a for a, b in pairwise(seen.gaps)}))


def _faces(_fact: Fact, row: Row, _seen: Seen) -> Value:
    return row.faces


def _edge(fact: Fact, _row: Row, seen: Seen, *, right: bool) -> Value:
    """Loops gained less those lost in the ``a`` stitches next to an edge, as the right side shows it; of a
    row that is too narrow for both, in its half.
    """
    k = min(fact.a, len(seen.done) // 2)
    first = right is (seen.side != "WS")
    return sum(d.net for d in (seen.done[:k] if first else seen.done[len(seen.done) - k :]))


FACTS: Mapping[str, Callable[[Fact, Row, Seen], Value]] = {
    "count": lambda _f, _r, s: s.count,
    "remainder": lambda f, _r, s: s.count % f.a,
    "change": lambda _f, _r, s: s.count - s.start,
    "is": lambda f, _r, s: int(s.count == f.a),
    "waiting": lambda _f, _r, s: s.waiting,
    "waiting is": lambda f, _r, s: int(s.waiting == f.a),
    "worked": lambda _f, _r, s: s.worked,
    "gaps": lambda _f, _r, s: len(s.gaps),
    "gap steps": _gap_steps,
    "fence": _fence,
    "fence difference": _fence_difference,
    "begins": _begins,
    "ends": _ends,
    "left over": _left_over,
    "first hole": _first_hole,
    "last hole": _last_hole,
    "holes": lambda _f, _r, s: sum(len(d.made) for d in s.done if d.hole),
    "holds": lambda f, _r, s: int(LANDMARKS[f.a] in s.landmarks),
    "kinds": _kinds,
    "right edge": partial(_edge, right=True),
    "left edge": partial(_edge, right=False),
    "leans": _leans,
    "faces": _faces,
    "first": lambda _f, r, _s: r.first,
    "side": lambda _f, _r, s: s.side,
    "odd number": lambda _f, r, _s: r.entry.number % 2 if r.entry.number is not None else None,
    "ridges right": lambda _f, r, _s: r.entry.ridges_right,
    "ridges left": lambda _f, r, _s: r.entry.ridges_left,
    "chains right": lambda _f, r, _s: r.entry.chains_right,
    "chains left": lambda _f, r, _s: r.entry.chains_left,
    "yarns": lambda _f, r, _s: r.entry.yarns,
    "stitches so far": lambda _f, r, _s: r.entry.stitches_so_far,
}
