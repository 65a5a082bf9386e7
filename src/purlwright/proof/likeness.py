"""Two halves beside each other: where shaping that else mirrors, or is alike, does not.

In: the events of both. Out: the one place, as an :class:`Odd`. What is said of it is left to ``pairs``.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby, pairwise
from typing import NamedTuple

from purlwright.proof.shaping import Event, mirrored

__all__ = ["Odd", "odd_one"]


class Odd(NamedTuple):
    """A place where two halves that else agree do not: two events, and numbers if it is a number."""

    a: Event
    b: Event
    what: str = ""
    numbers: tuple[int, ...] = ()
    mirror: bool = True


def odd_one(one: Sequence[Event], two: Sequence[Event], *, rounds: bool) -> Odd | None:
    """The one place at which two halves differ, mirrored or alike; None if they agree, or differ in more.

    rounds : both are worked in the round, where neither side begins a row later than the other.
    """
    if len(one) < 3 or len(two) < 3:
        return None
    if rounds and [(r.row, r.net) for r in _shaped(one)] != [(r.row, r.net) for r in _shaped(two)]:
        return _round_by_round(_shaped(one), _shaped(two))
    best: tuple[int, Odd | None] | None = None
    for other in ([mirrored(e) for e in two], list(two)):
        got = _compare(one, other, mirror=other[0] is not two[0])
        if got is not None and (best is None or got[0] < best[0]):
            best = got
    return best[1] if best is not None else None


def _compare(one: Sequence[Event], two: Sequence[Event], *, mirror: bool) -> tuple[int, Odd | None] | None:
    """How many places differ, and the one that does; None when it is no pair in this way."""
    places: list[tuple[Event, Event]] = []
    short: list[tuple[list[Event], list[Event]]] = []
    for edge in ("right", "left", "middle"):
        these, those = _without_centre(_along(one, edge), _along(two, edge))
        if len(these) == len(those):
            places += zip(these, those, strict=True)
        else:
            short.append((these, those))
    differ = [(a, b) for a, b in places if _what(a) != _what(b)]
    if short:
        alike = len(places) + min(len(side) for side in short[0])
        odd = _times(*short[0]) if len(short) == 1 and not differ and alike > 4 else None
        return None if odd is None else (1, odd)
    if not differ:
        odd = _rows(places)
        return (1 if odd else 0, odd)
    agree = [a for a, b in places if _what(a) == _what(b)]
    if not _one_thing(differ) or len(agree) < 2:
        return None
    good, bad = differ[0]
    if (good.sort, good.amount) != (bad.sort, bad.amount):
        if good.sort != bad.sort:
            return None
        return len(differ), Odd(good, bad, _counted(good), (good.amount, bad.amount))
    if mirror and not any(e.lean for e in agree):
        return None  # nothing else leans: she uses one stitch at both edges
    return len(differ), Odd(good, mirrored(bad) if mirror else bad, mirror=mirror)


def _one_thing(differ: list[tuple[Event, Event]]) -> bool:
    """Whether all that differs is one slip: the stitch of one row's words, or one place or number."""
    if all(a[3:6] == b[3:6] for a, b in differ):
        return len({(a.stitch, b.stitch) for a, b in differ}) <= 2
    return len({(_what(a), _what(b), a.edge) for a, b in differ}) == 1


def _without_centre(a: list[Event], b: list[Event]) -> tuple[list[Event], list[Event]]:
    """Both, without the centre stitches that only the side worked second binds off, at its start."""
    for one, other in ((a, b), (b, a)):
        off = [bool(side) and side[0].sort == "bind off" and side[0].row <= 2 for side in (one, other)]
        if off == [True, False]:
            one.pop(0)
            break
    return a, b


def _along(found: Sequence[Event], edge: str) -> list[Event]:
    return sorted((e for e in found if e.edge == edge), key=lambda e: (e.row, e.inside))


def _what(e: Event) -> tuple[object, ...]:
    return e.sort, e.amount, e.lean or e.stitch, e.inside


def _counted(e: Event) -> str:
    return {"bind off": "stitches bound off at this edge", "turn": "stitches left at this turn"}.get(
        e.sort, f"stitches in this {e.sort}"
    )


def _times(a: list[Event], b: list[Event]) -> Odd | None:
    """One run of the same shaping that is longer on one side, all other runs the same."""
    one = [(key, list(run)) for key, run in groupby(a, _what)]
    two = [(key, list(run)) for key, run in groupby(b, _what)]
    if [key for key, _ in one] != [key for key, _ in two]:
        return None
    unlike = [(x, y) for (_, x), (_, y) in zip(one, two, strict=True) if len(x) != len(y)]
    if len(unlike) != 1:
        return None
    x, y = unlike[0]
    if min(len(x), len(y)) < 2 or x[0].sort not in {"decrease", "increase"}:
        return None
    return Odd(x[-1], y[-1], f"{x[0].sort}s at this edge", (len(x), len(y)))


def _rows(places: list[tuple[Event, Event]]) -> Odd | None:
    """One stretch of rows that is longer on one side: more than a side that begins a row later explains."""
    places.sort(key=lambda p: p[0].row)
    shift = [b.row - a.row for a, b in places]
    jumps = []
    for n in range(1, len(places)):
        bound = "bind off" in {places[n][0].sort, places[n - 1][0].sort}
        if abs(shift[n] - shift[n - 1]) > (2 if bound else 1):
            jumps.append(n)
    told = {(_what(places[n][0]), _apart(places, n)) for n in jumps}
    if len(told) != 1:
        return None
    a, b = places[jumps[0]]
    return Odd(a, b, "rows from the shaping before to this", _apart(places, jumps[0]))


def _apart(places: list[tuple[Event, Event]], n: int) -> tuple[int, int]:
    (a0, b0), (a, b) = places[n - 1], places[n]
    return a.row - a0.row, b.row - b0.row


# --- in the round --------------------------------------------------------------------------------


class _Shaped(NamedTuple):
    """A round that changes the count, and by how much."""

    row: int
    net: int
    first: Event


def _shaped(found: Sequence[Event]) -> list[_Shaped]:
    out = []
    for row, group in groupby(found, lambda e: e.row):
        here = list(group)
        net = sum(_SIGN.get(e.sort, 0) * e.amount for e in here)
        if net:
            out.append(_Shaped(row, net, here[0]))
    return out


_SIGN = {"increase": 1, "decrease": -1, "bind off": -1}


def _round_by_round(one: list[_Shaped], two: list[_Shaped]) -> Odd | None:
    """One run of shaping rounds that is longer on one side, or lies otherwise spaced."""
    a = [(net, list(run)) for net, run in groupby(one, lambda r: r.net)]
    b = [(net, list(run)) for net, run in groupby(two, lambda r: r.net)]
    if [net for net, _ in a] != [net for net, _ in b]:
        return None
    unlike = [(x, y) for (_, x), (_, y) in zip(a, b, strict=True) if len(x) != len(y)]
    if len(unlike) == 1:
        x, y = unlike[0]
        what = f"{'increase' if x[0].net > 0 else 'decrease'} rounds of this kind"
        return Odd(x[-1].first, y[-1].first, what, (len(x), len(y))) if min(len(x), len(y)) > 1 else None
    if unlike:
        return None
    spaced = [
        (x1, y1, x1.row - x0.row, y1.row - y0.row)
        for (x0, x1), (y0, y1) in zip(pairwise(one), pairwise(two), strict=True)
    ]
    odd = [s for s in spaced if s[2] != s[3]]
    if not odd or len({(s[0].net, s[2], s[3]) for s in odd}) > 1:
        return None
    x1, y1, rows, others = odd[0]
    return Odd(x1.first, y1.first, "rounds from the shaping before to this", (rows, others))
