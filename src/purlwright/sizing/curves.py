"""Edges that follow a curve: necklines, armholes, segments of a circle, domes and cones.

In: counts and the size of a stitch. Out: frozen values: what is shaped in which pair of rows, or on which
rounds, as near to the curve as whole stitches come. Their words are in ``curve_words``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from math import hypot, inf, pi, sin, sqrt
from typing import Literal, TypeAlias

from purlwright.sizing.lists import so_many
from purlwright.sizing.shaping import Rate, Rates, along
from purlwright.sizing.unknowns import NoPlan
from purlwright.units import half_up

__all__ = ["Edge", "Line", "Rounds", "armhole", "cone", "dome", "far_from", "follow", "neck", "segment"]

Line: TypeAlias = Callable[[float], float]
"""How far in the edge is, in stitches, at a height counted in rows."""
Order: TypeAlias = Literal["slower", "faster"]

SLOWEST = 8
"""One shaping in so many pairs of rows at the least; own."""
MOST_PLACES = 12_000
"""Stitches at an edge times pairs of rows; beyond it the search would take long; own."""
MOST_ROUNDS = 600
"""Rounds of a dome or a cone; own."""
CHANGE = 0.35
"""What one more kind of shaping costs, beside one stitch off the curve in one pair of rows; own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """One shaped edge. Shapings fall on the first row of a pair: a bind-off there, or a decrease.

    first : stitches bound off before, in the middle of a neck; 0 if none. before : rows worked plain first.
    rates : what follows; the first shaping stands on the very next row. rows : in all. line : the curve.
    """

    first: int
    before: int
    rates: Rates
    rows: int
    line: Line


def follow(line: Sequence[float], whole: int, order: Order) -> tuple[int, Rates]:
    """The shapings nearest to a line, and before them the pairs of rows that stay plain.

    line : for each pair of rows, how many stitches should be gone by then. whole : stitches gone in the
    end. order : a curve that ends upright is shaped ever slower, one that ends flat ever faster; so the
    rows read as the trade writes them, bind-offs first and then decreases farther and farther apart. Of
    all such shapings that with the least sum of squares, a few more kinds of rows being dear. Raises
    NoPlan where the stitches do not fit into the rows.
    """
    pairs = len(line)
    if not whole:
        return 0, Rates(rates=(), left=2 * pairs)
    if not pairs:
        raise NoPlan("There is no row to shape on; give more rows.")
    if pairs * whole > MOST_PLACES:
        raise NoPlan(
            f"{whole} stitches at an edge over {2 * pairs} rows are more than hand knitting shapes in one "
            f"curve; plan it in parts."
        )
    steepest = max(1, -(-whole // max(1, pairs // 4)), int(max(_steps(line))) + 2)
    menu = [(1, k) for k in range(min(steepest, whole), 0, -1)]
    menu += [(gap, 1) for gap in range(2, SLOWEST + 1)]
    if order == "faster":
        menu.reverse()
    off = [list(accumulate(((d - x) ** 2 for x in line), initial=0.0)) for d in range(whole + 1)]
    best = _ways(menu, off, pairs, whole)
    end = min(
        ((cost + off[whole][pairs] - off[whole][p], p, kind) for (p, d, kind), (cost, _) in best.items()
         if d == whole),
        default=None,
    )  # fmt: skip
    if end is None:
        raise NoPlan(f"{whole} stitches at an edge cannot be shaped in {2 * pairs} rows; give more rows.")
    return _read_back(best, (end[1], whole, end[2]), menu, pairs)


def _steps(line: Sequence[float]) -> list[float]:
    return [b - a for a, b in zip([0.0, *line], line, strict=False)]


_State: TypeAlias = tuple[int, int, int]
"""The pair of rows shaped last, stitches gone, and the kind of the shaping."""


def _ways(
    menu: Sequence[tuple[int, int]], off: Sequence[Sequence[float]], pairs: int, whole: int
) -> dict[_State, tuple[float, _State | None]]:
    """The cheapest way to each state: worked pair by pair, kinds never turning back."""
    best: dict[_State, tuple[float, _State | None]] = {}

    def offer(state: _State, cost: float, back: _State | None) -> None:
        if state not in best or cost < best[state][0]:
            best[state] = (cost, back)

    for kind, (_, sts) in enumerate(menu):
        if sts <= whole:
            for p in range(pairs):
                offer((p, sts, kind), off[0][p], None)
    for p in range(pairs):
        for done in range(1, whole):
            cheap: tuple[float, _State] | None = None
            for kind, (gap, sts) in enumerate(menu):
                here = best.get((p, done, kind))
                if here is not None and (cheap is None or here[0] + CHANGE < cheap[0]):
                    cheap = (here[0] + CHANGE, (p, done, kind))
                way = min(
                    (one for one in ((here[0], (p, done, kind)) if here else None, cheap) if one),
                    default=None,
                )
                if way is not None and p + gap < pairs and done + sts <= whole:
                    more = off[done][p + gap] - off[done][p]
                    offer((p + gap, done + sts, kind), way[0] + more, way[1])
    return best


def _read_back(
    best: dict[_State, tuple[float, _State | None]],
    end: _State,
    menu: Sequence[tuple[int, int]],
    pairs: int,
) -> tuple[int, Rates]:
    states: list[_State] = []
    now: _State | None = end
    while now is not None:
        states.append(now)
        now = best[now][1]
    states.reverse()
    rates: list[Rate] = []
    last = states[0][0] - 1
    for p, _, kind in states:
        every, sts = 2 * (p - last), menu[kind][1]
        if rates and (rates[-1].every, rates[-1].stitches) == (every, sts):
            rates[-1] = Rate(every, rates[-1].times + 1, sts)
        else:
            rates.append(Rate(every, 1, sts))
        last = p
    return states[0][0], Rates(rates=tuple(rates), left=2 * (pairs - 1 - last))


# --- the curves -------------------------------------------------------------------------------------


def neck(stitches: int, rows: int, *, pointed: bool = False) -> Edge:
    """One side of a neck ``stitches`` wide and ``rows`` deep: half an ellipse, or a V.

    The middle is bound off in the row that divides; each side is shaped from the third row on.
    Raises NoPlan for fewer than 6 stitches or rows.
    """
    if stitches < 6 or rows < 6:
        raise NoPlan(f"A neck of {stitches} sts and {rows} rows is too small to be shaped; 6 are the least.")
    rows -= rows % 2

    def round_line(y: float) -> float:
        return stitches / 2 * sqrt(max(0.0, 1 - (1 - min(y, rows) / rows) ** 2))

    def straight_line(y: float) -> float:
        return stitches / 2 * min(y, rows) / rows

    line = straight_line if pointed else round_line
    middle = stitches % 2 if pointed else _like(2 * line(1.0), stitches)
    half = (stitches - middle) // 2
    pairs = (rows - 2) // 2
    if pointed:
        return Edge(first=middle, before=0, rates=_straight(half, pairs), rows=rows, line=line)
    plain, rates = follow([line(2 * q + 3.0) - middle / 2 for q in range(pairs)], half, "slower")
    return Edge(first=middle, before=2 * plain, rates=rates, rows=rows, line=line)


def _straight(times: int, pairs: int) -> Rates:
    """So many decreases over so many pairs of rows, the closer ones first."""
    if times > pairs:
        raise NoPlan(
            f"{times} sts at each side of a V cannot go in {2 * pairs + 2} rows, one on every right-side "
            f"row; give {2 * times + 2} rows, or a narrower neck."
        )
    gap, wide = divmod(pairs, times)
    rates = [Rate(2 * gap, times - wide), Rate(2 * (gap + 1), wide)]
    return Rates(rates=tuple(r for r in rates if r.times), left=0)


def _like(exact: float, other: int) -> int:
    """The nearest whole number that is even or odd as another; 1 at least."""
    whole = 2 * int(half_up(Fraction((exact - other % 2) / 2), Fraction(1))) + other % 2
    return max(whole, 2 - other % 2)


CURVED = Fraction(2, 5)
"""The lower part of an armhole that is curved; common practice, no source."""


def armhole(stitches: int, left: int, rows: int) -> Edge:
    """Both edges of an armhole: a quarter of an ellipse over the lower part, then straight.

    ``stitches`` before, ``left`` across the back above. Raises NoPlan where nothing is shaped alike.
    """
    off = stitches - left
    if left < 4:
        raise NoPlan(f"An armhole that leaves {so_many(left, 'st')} leaves no back; 4 are the least.")
    if off < 4 or off % 2:
        raise NoPlan(
            f"From {so_many(stitches, 'st')} to {left} is not so many for each of two armholes that "
            f"they can be shaped; take an even number, 4 at least, off."
        )
    each = off // 2
    high = max(4, int(rows * CURVED))

    def line(y: float) -> float:
        return each * sqrt(max(0.0, 1 - (1 - min(y, high) / high) ** 2))

    plain, rates = follow([line(2 * q + 1.0) for q in range(rows // 2)], each, "slower")
    return Edge(first=0, before=2 * plain, rates=rates, rows=rows - rows % 2, line=line)


def segment(stitches: int, rows: int, stitch_mm: float, row_mm: float) -> Edge:
    """A segment of a circle worked from its straight edge: ``stitches`` long and ``rows`` high."""
    if stitches < 8 or rows < 6:
        raise NoPlan(f"A crescent of {stitches} sts and {rows} rows is too small to be shaped.")
    rows -= rows % 2
    half, high = stitches * stitch_mm / 2, rows * row_mm
    radius = (half**2 + high**2) / (2 * high)
    if half < high:
        raise NoPlan(
            f"{high / 10:.0f} cm is more than half of {2 * half / 10:.0f} cm: a crescent is lower than that."
        )

    def line(y: float) -> float:
        up = radius - high + min(y, rows) * row_mm
        return (half - sqrt(max(0.0, radius**2 - up**2))) / stitch_mm

    top = _like(stitches - 2 * line(rows - 1.0), stitches)
    each = (stitches - top) // 2
    targets = [line(2 * q + 1.0) for q in range((rows - 2) // 2)]
    plain, rates = follow(targets, each, "faster")
    return Edge(first=0, before=2 * plain, rates=rates, rows=rows, line=line)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rounds:
    """Rounds from the middle out: ``lines`` stitches more on each increase round.

    start : cast on. rates : plain rounds and increases. rounds : in all. line : stitches at each round.
    """

    start: int
    lines: int
    rates: Rates
    rounds: int
    line: Line


def dome(across_mm: float, stitch_mm: float, row_mm: float, lines: int = 8) -> Rounds:
    """Half a ball, from its top to its widest round."""
    radius = across_mm / 2
    rounds = int(half_up(Fraction(radius * pi / 2 / row_mm), Fraction(1)))

    def line(y: float) -> float:
        return 2 * pi * radius * sin(min(y * row_mm / radius, pi / 2)) / stitch_mm

    return _rounds(line, rounds, lines)


def cone(across_mm: float, side_mm: float, stitch_mm: float, row_mm: float, lines: int = 8) -> Rounds:
    """A cone from its point to a round ``across_mm`` wide, ``side_mm`` down its side."""
    if side_mm < across_mm / 2:
        raise NoPlan(
            f"A side of {side_mm / 10:.1f} cm is shorter than half of {across_mm / 10:.1f} cm: "
            f"that is less than a flat circle."
        )
    rounds = int(half_up(Fraction(side_mm / row_mm), Fraction(1)))

    def line(y: float) -> float:
        return pi * across_mm * y * row_mm / side_mm / stitch_mm

    return _rounds(line, rounds, lines)


def _rounds(line: Line, rounds: int, lines: int) -> Rounds:
    if rounds < 6:
        raise NoPlan(f"That is only {max(rounds, 0)} rounds at this gauge; make it larger.")
    if rounds > MOST_ROUNDS:
        raise NoPlan(f"That is {rounds} rounds at this gauge, more than one piece has; make it smaller.")
    if not 3 <= lines <= 16:
        raise NoPlan(f"Increases stand in 3 to 16 lines, not {lines}.")
    # round n stands in the middle between its two edges
    ahead = [max(Fraction(0), Fraction(line(n + 1.5) / lines - 1)) for n in range(rounds - 1)]
    rates = along(list(accumulate(ahead, max)))
    if not rates.rates:
        raise NoPlan("That is so narrow that nothing is increased; make it wider.")
    return Rounds(start=lines, lines=lines, rates=rates, rounds=rounds, line=line)


# --- how near ---------------------------------------------------------------------------------------


def far_from(line: Line, rows: int, points: Sequence[tuple[float, float]], wide: float, high: float) -> float:
    """How far the farthest of some points is from a curve.

    points : (stitches, rows) along the knitted edge. wide, high : a stitch and a row, in mm. In mm.
    """
    per = 16
    curve = [(line(n / per) * wide, n / per * high) for n in range(rows * per + 1)]
    curve.append((curve[-1][0], curve[-1][1] + high))
    start = (0.0, 0.0)
    return max(
        (min(_from_stretch(x * wide, y * high, a, b)
             for a, b in zip([start, *curve], curve, strict=False)) for x, y in points),
        default=0.0,
    )  # fmt: skip


def _from_stretch(x: float, y: float, a: tuple[float, float], b: tuple[float, float]) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    if not long:
        return inf if a == (0.0, 0.0) == b else hypot(x - a[0], y - a[1])
    at = max(0.0, min(1.0, ((x - a[0]) * dx + (y - a[1]) * dy) / long))
    return hypot(x - a[0] - at * dx, y - a[1] - at * dy)
