"""Increases, decreases, buttonholes and picked-up stitches, spread evenly along one row.

In: counts. Out: frozen values with their groups, and their words, which Purlwright reads and knits.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Literal

from purlwright.sizing.lists import so_many, times
from purlwright.sizing.unknowns import NoPlan

__all__ = ["Buttons", "PickUp", "Spread", "buttonholes", "pick_up", "spread"]

Kind = Literal["increase", "decrease"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """``plain`` stitches before each shaping and after the last; ``after`` is the count that comes out."""

    kind: Kind
    plain: tuple[int, ...]
    after: int
    words: str


def _portions(total: int, parts: int) -> list[int]:
    """A total in so many parts that differ by one at most, the larger ones spread among the smaller."""
    return [total * (n + 1) // parts - total * n // parts for n in range(parts)]


def spread(kind: Kind, many: int, stitches: int, *, in_round: bool = False) -> Spread:
    """So many increases (m1) or decreases (k2tog) evenly across a row, half a gap at both ends; or in a
    round.

    Gaps between shapings differ by one stitch at most, and the two ends by one. Raises NoPlan where they
    do not fit.
    """
    if many < 1 or stitches < 1:
        raise NoPlan("Give at least one stitch, and one increase or decrease.")
    takes = 2 if kind == "decrease" else 0
    plain = stitches - takes * many
    if plain < 0 or (kind == "increase" and many > stitches):
        most = stitches // 2 if kind == "decrease" else stitches
        raise NoPlan(
            f"{so_many(many, kind)} do not fit into {so_many(stitches, 'st')}; {most} at most, one at a time."
        )
    if in_round:
        gaps = [*_longer_first(_portions(plain, many)), 0]
    else:
        # two half gaps at the ends make one gap more in all but name
        ends = round_down(Fraction(plain, many))
        inner = _portions(plain - ends, many - 1) if many > 1 else []
        if many > 1:
            ends = plain - sum(inner)
        gaps = [ends - ends // 2, *_longer_first(inner), ends // 2]
        if many == 1:
            gaps = [plain - plain // 2, plain // 2]
    after = stitches + (many if kind == "increase" else -many)
    return Spread(kind=kind, plain=tuple(gaps), after=after, words=_spread_words(kind, gaps))


def round_down(value: Fraction) -> int:
    return value.numerator // value.denominator


def _longer_first(gaps: list[int]) -> list[int]:
    return sorted(gaps, reverse=True)


def _spread_words(kind: Kind, gaps: list[int]) -> str:
    what = "m1" if kind == "increase" else "k2tog"
    steps: list[str] = []
    for gap, alike in groupby(gaps[:-1]):
        many = len(list(alike))
        one = f"k{gap}, {what}" if gap else what
        steps.append(one if many == 1 else f"[{one}] {times(many)}")
    if gaps[-1]:
        steps.append(f"k{gaps[-1]}")
    words = ", ".join(steps)
    return _with_capital(words)


def _with_capital(words: str) -> str:
    """The first letter as a row begins with it, inside a bracket too: ``[K23, m1] 4 times``."""
    return re.sub(r"[a-z]", lambda m: m[0].upper(), words, count=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Buttons:
    """Buttonholes along a band: stitches before the first, between two, after the last; each takes
    ``wide``.
    """

    first: int
    between: tuple[int, ...]
    last: int
    wide: int
    words: str


def buttonholes(many: int, stitches: int, *, wide: int = 2, end: int = 3) -> Buttons:
    """Buttonholes evenly along a band, ``end`` stitches from both ends or as near to that as comes out even.

    Where the stitches between them cannot all be alike, they differ by one and the two kinds are told. Two
    wide is a yarn over with a decrease; more are bound off and cast on again. Raises NoPlan where they do
    not fit.
    """
    if many < 1 or wide < 2 or end < 1:
        raise NoPlan("Give one buttonhole at least, 2 stitches or more wide, 1 stitch or more from the ends.")
    room = stitches - many * wide - 2 * end
    if room < many - 1:
        most = (stitches - 2 * end + 1) // (wide + 1)
        raise NoPlan(
            f"{so_many(many, 'buttonhole')} of {wide} sts do not fit into {so_many(stitches, 'st')}; "
            + (f"{most} would." if most > 0 else "none would.")
        )
    first = last = end
    between: list[int] = []
    if many == 1:
        first = end + room - room // 2
        last = end + room // 2
    else:
        for more in sorted(range(-end + 1, end + 2), key=lambda m: (abs(m), -m)):
            rest = room - more
            if rest >= many - 1 and rest % (many - 1) == 0:  # all alike, with ends a little longer or shorter
                first, last = end + more - more // 2, end + more // 2
                if min(first, last) >= 1:
                    between = [rest // (many - 1)] * (many - 1)
                    break
        else:
            first = last = end
            between = _longer_first(_portions(room, many - 1))
    gaps = [first, *between]
    hole = "yo, k2tog" if wide == 2 else f"bind off {wide} sts"
    steps = []
    for gap, alike in groupby(gaps):
        many_alike = len(list(alike))
        # in words the stitch left on the needle after a bind-off counts among the next
        steps.append(f"k{gap}, {hole}" if many_alike == 1 else f"[k{gap}, {hole}] {times(many_alike)}")
    steps.append(f"k{last}" if wide == 2 else "k to end")
    words = ", ".join(steps)
    return Buttons(first=first, between=tuple(between), last=last, wide=wide, words=_with_capital(words))


@dataclass(frozen=True, slots=True, kw_only=True)
class PickUp:
    """Stitches along row ends: ``sts`` for every ``per`` rows, so often; then the rest."""

    total: int
    rows: int
    sts: int
    per: int
    times: int
    rest_sts: int
    rest_rows: int
    words: str


def pick_up(rows: int, total: int, most: int = 7) -> PickUp:
    """A rate for picking up ``total`` stitches along ``rows`` row ends, in numbers that can be kept in the
    head.

    Raises NoPlan for more than two stitches a row, or none.
    """
    if rows < 1 or total < 1:
        raise NoPlan("Give the rows of the edge and the stitches to pick up, one at least.")
    if total > 2 * rows:
        raise NoPlan(
            f"{total} sts are more than 2 for each of {so_many(rows, 'row')}; the edge would ruffle and tear."
        )
    rate = Fraction(total, rows).limit_denominator(most) or Fraction(1, most)
    sts, per = rate.numerator, rate.denominator
    times = min(rows // per, total // sts)
    rest_rows, rest_sts = rows - times * per, total - times * sts
    while times and (rest_sts > 2 * rest_rows or (rest_rows and not rest_sts and rest_rows > per)):
        times -= 1
        rest_rows, rest_sts = rows - times * per, total - times * sts
    words = (
        f"Pick up {sts} st{'s' if sts > 1 else ''} for every {per} rows"
        if per > 1
        else f"Pick up {sts} st{'s' if sts > 1 else ''} for every row"
    )
    if rest_rows or rest_sts:
        words += f" along the first {times * per} rows, and {rest_sts} along the last {rest_rows}"
    return PickUp(
        total=total, rows=rows, sts=sts, per=per, times=times, rest_sts=rest_sts, rest_rows=rest_rows,
        words=f"{words}: {total} sts.",
    )  # fmt: skip
