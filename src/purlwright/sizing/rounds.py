"""Flat rounds, domes and cones, and rings of short-row wedges that lie flat.

In: a diameter and the size of a stitch. Out: frozen values: cast-on, stitches more a round, rounds,
wedges. The closing numbers come from ``cloth.flatness``; there is one truth about them.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import pi, sin

from purlwright.cloth.flatness import RIM, increases_for_flat, wedges_for_flat
from purlwright.sizing.unknowns import NoPlan
from purlwright.units import half_up

__all__ = ["Disc", "Wedged", "disc", "doubling", "wedged"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A circle from the middle: ``lines`` of increases, one stitch each on every ``every``-th round.

    start : cast on. rounds, last : of the whole circle. exact : stitches more a round that lie just flat.
    turned : the angle that the circle sweeps, as a share of a full turn; 1 is flat, less cups, more ruffles.
    """

    start: int
    lines: int
    every: int
    rounds: int
    last: int
    exact: float
    turned: float
    diameter_mm: float


def disc(
    diameter_mm: float,
    stitch_mm: float,
    row_mm: float,
    *,
    half_angle: float | None = None,
    every_of: tuple[int, ...] = (2, 1, 3, 4),
) -> Disc:
    """The circle that lies nearest to flat; with ``half_angle`` in radians, the cone that opens by it each
    side.

    Lines of increases are 4 to 12, on every round to every fourth one: of those that lie flat within one
    part in a hundred the one with the roundest edge that is easiest to keep in the head (on every other
    round, then few lines). Raises NoPlan for a circle of fewer than 4 rounds.
    """
    share = 1.0 if half_angle is None else sin(half_angle)
    exact = increases_for_flat(1, stitch_mm, row_mm) * share
    radius = diameter_mm / 2
    best: tuple[float, int, int] | None = None
    for every in every_of:
        lines = max(3, int(half_up(exact * every, Fraction(1))))
        if lines > 16:
            continue
        off = abs(lines / every / exact - 1)
        price = max(off - 0.03, 0) * 100 + {2: 0, 1: 0.4, 3: 0.5}.get(every, 0.8) + off * 10
        if best is None or price < best[0]:
            best = (price, lines, every)
    if best is None:
        raise NoPlan(
            "At this gauge no number of increases makes a circle that lies flat; look at the gauge again."
        )
    _, lines, every = best
    start = lines
    inner = start * stitch_mm / (2 * pi)
    rounds = int(half_up((radius - inner) / row_mm, Fraction(1)))
    if rounds < 4:
        raise NoPlan(
            f"A circle of {diameter_mm / 10:.1f} cm has only {max(rounds, 0)} rounds at this gauge; "
            f"make it larger."
        )
    times = rounds // every
    last = start + times * lines
    return Disc(
        start=start, lines=lines, every=every, rounds=rounds, last=last, exact=exact,
        turned=lines / every / exact * share, diameter_mm=2 * (inner + rounds * row_mm),
    )  # fmt: skip


def doubling(diameter_mm: float, row_mm: float, start: int = 9) -> list[tuple[int, int]]:
    """The circle that doubles its stitches whenever its radius has doubled: (rounds plain after it,
    stitches).

    Source: the doubling circle of E. Zimmermann, as told in three craft articles; H. Chayes, Shawl
    Geometry (2013).
    """
    radius = diameter_mm / 2
    out = []
    plain, stitches, rounds = 1, start, 1
    while (rounds + 1) * row_mm < radius:
        stitches *= 2
        left = int((radius / row_mm) - rounds - 1)
        now = min(plain, max(left, 0))
        out.append((now, stitches))
        rounds += 1 + now
        plain *= 2
        if now < plain // 2:
            break
    if not out:
        raise NoPlan(
            f"A circle of {diameter_mm / 10:.1f} cm is too small to double its stitches; make it larger."
        )
    return out


@dataclass(frozen=True, slots=True, kw_only=True)
class Wedged:
    """A ring of short-row wedges knitted sideways, turned ``turns`` times, ``step`` stitches apart.

    stitches : cast on, ``step`` for each turn and once more. flat : the number of wedges, exactly. wedges
    : the nearest whole number. turned : the angle that all sweep, as a share of a full turn; 1 is flat as
    knitted.
    rim : stitches outside the last turn, where they are more than one step: they stand up like the rim of
    a pan.
    """

    stitches: int
    step: int
    turns: int
    wedges: int
    flat: float
    rim: int
    turned: float
    diameter_mm: float


def wedged(
    diameter_mm: float,
    stitch_mm: float,
    row_mm: float,
    *,
    step: int | None = None,
    rim: int = 0,
    most: int = 40,
) -> Wedged:
    """The wedges of a flat round knitted sideways from its middle to its rim.

    step : stitches from turn to turn; chosen if not given, so that the whole number of wedges is nearest
    to the exact one and the steps fill the radius. rim : stitches to leave outside the last turn, with a
    warning of what they do. Raises NoPlan where no number does.
    """
    across = int(half_up(Fraction(diameter_mm / 2 / stitch_mm), Fraction(1))) - rim
    if across < 6:
        raise NoPlan(
            f"A round of {diameter_mm / 10:.1f} cm is only {max(across, 0)} sts from middle to rim; "
            f"make it larger."
        )
    best: tuple[float, Wedged] | None = None
    for one in [step] if step is not None else range(2, 7):
        if one < 1 or one * 2 > across:
            if step is None:
                continue
            raise NoPlan(f"Turns {one} sts apart leave fewer than two steps in {across} sts.")
        steps = max(2, int(half_up(Fraction(across, one), Fraction(1))))
        flat = wedges_for_flat(one, stitch_mm, row_mm)
        wedges = int(half_up(Fraction(flat), Fraction(1)))
        if wedges > most and step is None:
            continue
        found = Wedged(
            stitches=steps * one + rim, step=one, turns=steps - 1, wedges=wedges, flat=flat,
            rim=rim if rim > max(RIM, one) else 0, turned=wedges / flat,
            diameter_mm=2 * (steps * one + rim) * stitch_mm,
        )  # fmt: skip
        price = abs(found.turned - 1) * 10 + abs(steps * one - across) / across
        if best is None or price < best[0]:
            best = (price, found)
    if best is None:
        raise NoPlan(
            "At this gauge no ring of wedges lies flat with a handy number of turns; give the step yourself."
        )
    return best[1]
