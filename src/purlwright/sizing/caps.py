"""Sleeve caps whose edge is as long as the armhole it is sewn into.

In: counts and the size of a stitch. Out: a frozen :class:`Cap`: bind-offs, rates and the length of its edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from purlwright.sizing.lists import so_many, times
from purlwright.sizing.shaping import Rate, Rates
from purlwright.sizing.shaping_words import rate_words
from purlwright.sizing.unknowns import NoPlan

__all__ = ["Cap", "cap"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cap:
    """A cap: bind-off at both sides, decreases at each end, and the top bound off.

    rows : in all. edge_mm : along the whole edge from underarm to underarm. lines : as rows, each with its
    count; decreases begin on the right-side row after the bind-offs, and stay on right-side rows but where
    every row is shaped.
    """

    underarm: int
    rates: Rates
    top: int
    rows: int
    edge_mm: float
    lines: tuple[str, ...]


def cap(stitches: int, *, underarm: int, top: int, armhole_mm: float, stitch_mm: float, row_mm: float) -> Cap:
    """The cap of which the edge is nearest to the armhole's, of the shape of a bell.

    armhole_mm : the whole edge of the armhole, front and back, the underarm bind-offs included. Decreases
    come on every other row below and above, on every fourth row between; on every row where the cap must
    be shallow. Raises NoPlan where no such cap has the length.
    """
    if (stitches - 2 * underarm - top) % 2:
        raise NoPlan(
            f"From {so_many(stitches, 'st')}, {underarm} bound off on each side and {top} at the top "
            "leave an odd number for the two edges; change one of them by 1."
        )
    pairs = (stitches - 2 * underarm - top) // 2
    if pairs < 2 or top < 2:
        raise NoPlan(
            f"A cap from {so_many(stitches, 'st')}, {underarm} bound off on each side and {top} at the top, "
            f"leaves nothing to decrease along its edges; bind off less, or give the sleeve more stitches."
        )
    best: tuple[float, tuple[int, int, int]] | None = None
    for every, four in ((e, f) for e in range(pairs + 1) for f in range(pairs + 1 - e)):
        if (every and four) or every % 2 or not pairs - every - four:
            continue  # an even number of single rows: the next decrease is on the right side again
        two = pairs - every - four
        edge = _edge(underarm, top, every, two, four, stitch_mm, row_mm)
        off = abs(edge - armhole_mm)
        if best is None or off < best[0]:
            best = (off, (every, two, four))
    if best is None or best[0] > 0.05 * armhole_mm + stitch_mm:
        shortest = _edge(underarm, top, pairs, 0, 0, stitch_mm, row_mm)
        longest = _edge(underarm, top, 0, 0, pairs, stitch_mm, row_mm)
        raise NoPlan(
            f"An edge of {armhole_mm / 10:.1f} cm cannot be had from {stitches} sts: the cap's edge comes to "
            f"{shortest / 10:.1f} cm at its shortest and {longest / 10:.1f} cm at its longest. "
            f"Make the sleeve {'wider' if armhole_mm > longest else 'narrower'}."
        )
    every, two, four = best[1]
    low = two - two // 2  # 1 at least
    rates = tuple(r for r in (Rate(2, low), Rate(4, four), Rate(1, every), Rate(2, two // 2)) if r.times)
    if not (four or every):
        rates = (Rate(2, two),)
    done = Rates(rates=rates, left=0)
    return Cap(
        underarm=underarm,
        rates=done,
        top=top,
        rows=2 + done.rows + 1,
        edge_mm=_edge(underarm, top, every, two, four, stitch_mm, row_mm),
        lines=tuple(_lines(stitches, underarm, rates, top)),
    )


def _lines(stitches: int, underarm: int, rates: tuple[Rate, ...], top: int) -> Iterator[str]:
    count = stitches - 2 * underarm
    yield f"Bind off {underarm} sts at the beginning of the next 2 rows. ({count} sts)"
    for n, rate in enumerate(rates):
        count -= 2 * rate.times
        often = rate_words(rate)
        if not n:
            often = "the next RS row" if rate.times == 1 else f"the next {rate.times} RS rows"
        elif rate.every == 2:
            often = "the next RS row" if rate.times == 1 else f"every RS row {times(rate.times)}"
        elif rate.every == 1:
            often = f"the next {rate.times} rows"
        yield f"Dec 1 st at each end of {often}. ({count} sts)"
    yield "Work 1 row even."
    yield f"Bind off the remaining {top} sts."


def _edge(underarm: int, top: int, every: int, two: int, four: int, w: float, h: float) -> float:
    sides = every * hypot(w, h) + two * hypot(w, 2 * h) + four * hypot(w, 4 * h)
    return 2 * (underarm * w + sides) + top * w
