"""A pullover in flat pieces with set-in sleeves: shaped armholes, a rounded neck, sloped shoulders, caps.

In: what was asked. Out: a :class:`~purlwright.sizing.starts.asked.Start`. Each cap is as long along its edge
as the armhole that it is sewn into.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import hypot
from typing import TypeAlias

from purlwright.sizing.bodies import rule
from purlwright.sizing.lists import growing
from purlwright.sizing.starts.asked import Asked, Finish, Knit, Start
from purlwright.sizing.starts.flat_pullovers import (
    EDGE,
    neck_divided,
    neck_rejoined,
    neckband,
    plain_rows,
    ribbed_beginning,
    sleeve_up_to,
)
from purlwright.sizing.starts.pullovers import MEASURES, below_the_underarm, near
from purlwright.sizing.starts.writing import Writing, memory_notes
from purlwright.sizing.unknowns import NoPlan

__all__ = ["set_in"]

DEC = "K1, ssk, knit to last 3 sts, k2tog, k1. (2 sts decreased)"
ARMHOLE_SHARE = Fraction(2, 5)
"""Of the stitches of an armhole, so many are bound off at once; common practice, no source."""
SLOW_SHARE = (Fraction(1, 4), Fraction(0), Fraction(1, 3), Fraction(1, 6))
"""Of its decreases, so many on every fourth row, by the way that is tried; common practice, no source."""
NECK_MIDDLE = Fraction(9, 25)
"""Of the neck, so much is bound off in the middle of the front; common practice, no source."""
LEAST_NECK = 16
"""A neck of fewer stitches has no room for a curve of bind-offs and decreases; own."""
LEAST_SHOULDER = 6
SLOPE = 6
"""Rows of a shoulder's slope, in three steps; common practice, no source."""
CAP_STEP = 3
"""Stitches bound off at the beginning of each of the last four rows of a cap; common practice, no source."""
CAP_TOP = Fraction(1, 4)
"""The top of a cap is about so much of the sleeve; common practice, no source."""
MOST_MOVED = 6
"""A sleeve may be so many stitches wider or narrower than asked, so that its cap fits; own."""


class _Counts:
    """The counts of back, front and sleeve."""

    def __init__(self, asked: Asked) -> None:
        knit = self.knit = asked.knit
        self.chest = asked.body_mm("chest")
        self.wanted = asked.eased(self.chest, Fraction(0), rule("pullover ease").mm)
        self.wide = [near(x / 2 / knit.stitch_mm, 2) for x in self.wanted]
        across = asked.body_mm("cross back")
        self.across = [near(x / knit.stitch_mm, 2) for x in across]
        each = [(n - a) // 2 for n, a in zip(self.wide, self.across, strict=True)]
        for size, n, wide in zip(asked.sizes, each, self.wide, strict=True):
            if wide < 32 or n < 3:
                raise NoPlan(
                    f"Size {size}: from {wide} sts only {max(n, 0)} go at each armhole; a set-in sleeve "
                    f"needs 3 at least. Look at the gauge, or give more ease."
                )
        self.under = [near(ARMHOLE_SHARE * n) for n in each]
        left = [n - u for n, u in zip(each, self.under, strict=True)]
        self.slow = [near(SLOW_SHARE[asked.way % 4] * n) for n in left]
        self.fast = [n - s for n, s in zip(left, self.slow, strict=True)]
        share = rule("back neck of cross back").share
        self.neck = [max(near(share * a, 2), LEAST_NECK) for a in self.across]
        self.shoulder = [(a - k) // 2 for a, k in zip(self.across, self.neck, strict=True)]
        self._lengths(asked)
        self._sleeves(asked)

    def _lengths(self, asked: Asked) -> None:
        knit = self.knit
        armhole = asked.body_mm("armhole depth")
        self.rib = knit.rws(rule("garment rib").mm, 2)
        long = asked.lengths.get("length") or below_the_underarm(asked.bodies, armhole)
        self.below = [knit.rws(x, 2) - self.rib for x in long]
        # an armhole of a garment is deeper than that of the body by half of what was added round
        self.deep = tuple(a + rule("raglan deeper than armhole").mm for a in armhole)
        self.up = [knit.rws(x, 2) for x in self.deep]
        shaped = [2 + 2 * f + 4 * s for f, s in zip(self.fast, self.slow, strict=True)]
        self.straight = [u - s for u, s in zip(self.up, shaped, strict=True)]
        for n in range(len(self.up) - 2, -1, -1):  # a row or two less, where a smaller size would have more
            over = self.straight[n] - self.straight[n + 1]
            if 0 < over <= 2:
                self.up[n] -= over
                self.straight[n] -= over
        self._curve(asked.sizes)
        least = [SLOPE + 6 + 2 * n for n in self.decs]
        self.drop = [max(knit.rws(rule("neck depth").mm, 2), n) for n in least]
        before = [s - (d - SLOPE) for s, d in zip(self.straight, self.drop, strict=True)]
        self.before_neck = before
        self.long = long
        if min(self.below) < 4 or min(before) < 0:
            raise NoPlan(
                "The ribs or the armhole shaping are longer than the pieces; look at the row gauge and the "
                "lengths."
            )

    def _curve(self, sizes: Sequence[str]) -> None:
        """Each side of the neck: bound off at once, bound off again, and decreased one by one."""
        self.middle = [_like(NECK_MIDDLE * k, k) for k in self.neck]
        half = [(k - m) // 2 for k, m in zip(self.neck, self.middle, strict=True)]
        self.first = [max(2, near(Fraction(3, 10) * h)) for h in half]
        self.second = [2] * len(half)
        self.decs = [h - a - b for h, a, b in zip(half, self.first, self.second, strict=True)]
        for size, neck, shoulder in zip(sizes, self.neck, self.shoulder, strict=True):
            if shoulder < LEAST_SHOULDER:
                raise NoPlan(
                    f"Size {size}: a round neck of {neck} sts leaves {max(shoulder, 0)} sts for each "
                    f"shoulder, and three steps of a slope need {LEAST_SHOULDER}; take a finer gauge or "
                    f"larger sizes, or plan a drop-shoulder pullover."
                )
        # of the two steps next to a third, the one after which no size has fewer stitches than a smaller one
        both = [(a, (s // 3, -(-s // 3))) for a, s in zip(self.across, self.shoulder, strict=True)]
        left = growing(
            [[a - 4 * n for n in steps] for a, steps in both],
            [a - 4 * near(Fraction(s, 3)) for a, s in zip(self.across, self.shoulder, strict=True)],
        )
        self.step = [(a - n) // 4 for a, n in zip(self.across, left, strict=True)]
        self.last = [s - 2 * one for s, one in zip(self.shoulder, self.step, strict=True)]

    def _sleeves(self, asked: Asked) -> None:
        knit = self.knit
        arm = asked.body_or("upper arm", tuple(rule("upper sleeve").share * x for x in self.wanted))
        self.arm = tuple(x + rule("sleeve ease").mm for x in arm)
        shapings = zip(self.under, self.fast, self.slow, self.straight, strict=True)
        self.edge = [_armhole_mm(knit, *one) for one in shapings]
        found = _in_step(
            [
                _caps(knit, near(x / knit.stitch_mm, 2), u, edge, size)
                for x, u, edge, size in zip(self.arm, self.under, self.edge, asked.sizes, strict=True)
            ]
        )
        self.sleeve = [f[0] for f in found]
        self.cap_fast, self.cap_slow, self.top = ([f[n] for f in found] for n in (1, 2, 3))
        self.cap_mm = [_cap_mm(knit, u, *f[1:]) for u, f in zip(self.under, found, strict=True)]
        self.cuff = [
            max(min(near(rule("cuff").share * 2 * n, 2), s - 4), 16)
            for n, s in zip(self.wide, self.sleeve, strict=True)
        ]
        self.arm_long = asked.body_mm("arm length to underarm")
        self.arm_rows = [knit.rws(x, 2) - self.rib for x in self.arm_long]
        if min(self.arm_rows) < 8:
            raise NoPlan("The ribs are longer than the sleeve; look at the row gauge and the lengths.")

    def finished(self) -> tuple[Finish, ...]:
        """The finished measures."""
        knit = self.knit
        return (
            Finish(
                name="chest", wanted_mm=self.wanted, mm=tuple(2 * n * knit.stitch_mm for n in self.wide),
                step_mm=2 * knit.stitch_mm,
            ),
            Finish(
                name="upper sleeve", wanted_mm=self.arm, mm=tuple(n * knit.stitch_mm for n in self.sleeve),
                step_mm=MOST_MOVED * knit.stitch_mm,
            ),
            Finish(
                name="body below the underarm", wanted_mm=tuple(self.long),
                mm=tuple((b + self.rib) * knit.row_mm for b in self.below), step_mm=2 * knit.row_mm,
            ),
            Finish(
                name="sleeve seam", wanted_mm=self.arm_long,
                mm=tuple((n + self.rib) * knit.row_mm for n in self.arm_rows), step_mm=2 * knit.row_mm,
            ),
            Finish(
                name="cap along its edge", wanted_mm=tuple(Fraction(x) for x in self.edge),
                mm=tuple(Fraction(x) for x in self.cap_mm), step_mm=2 * knit.stitch_mm,
            ),
        )  # fmt: skip


def _like(exact: Fraction, other: int) -> int:
    return near(exact, 2, other % 2)


def _armhole_mm(knit: Knit, under: int, fast: int, slow: int, straight: int) -> float:
    """The edge of both armholes' halves, front and back, underarm bind-offs included."""
    w, h = float(knit.stitch_mm), float(knit.row_mm)
    return 2 * (under * w + fast * hypot(w, 2 * h) + slow * hypot(w, 4 * h) + (2 + straight) * h)


def _cap_mm(knit: Knit, under: int, fast: int, slow: int, top: int) -> float:
    w, h = float(knit.stitch_mm), float(knit.row_mm)
    sides = under * w + fast * hypot(w, 2 * h) + slow * hypot(w, 4 * h) + 2 * hypot(CAP_STEP * w, 2 * h)
    return 2 * sides + top * w


_Cap: TypeAlias = tuple[int, int, int, int]
"""Stitches of the sleeve, decreases on every other and every fourth row, the top."""
MOST_CAPS = 60
"""So many caps of a size are set beside those of the next; own."""


def _caps(knit: Knit, wanted: int, under: int, edge: float, size: str) -> list[tuple[float, _Cap]]:
    """The caps that fit an armhole, each with its price, the cheapest first.

    Raises NoPlan where no sleeve near enough to the one that was wanted has such a cap.
    """
    found: list[tuple[float, _Cap]] = []
    for sleeve in range(wanted - MOST_MOVED, wanted + MOST_MOVED + 1, 2):
        usual = int(sleeve * CAP_TOP)
        for top in range(max(4, usual - 6), usual + 17):
            rest = sleeve - 2 * under - 4 * CAP_STEP - top
            if rest % 2 or rest < 8:
                continue
            pairs = rest // 2
            for slow in range(pairs - 1):
                off = abs(_cap_mm(knit, under, pairs - slow, slow, top) - edge) / float(knit.stitch_mm)
                if off <= 2:
                    price = off + abs(sleeve - wanted) + abs(top - usual) / 8
                    found.append((price, (sleeve, pairs - slow, slow, top)))
    if not found:
        raise NoPlan(
            f"Size {size}: no sleeve of about {wanted} sts has a cap that fits an armhole of "
            f"{edge / 10:.0f} cm round; look at the row gauge, or give another ease."
        )
    return sorted(found)[:MOST_CAPS]


def _in_step(sizes: Sequence[Sequence[tuple[float, _Cap]]]) -> list[_Cap]:
    """One cap a size, the cheapest together, where a number that falls from one size to the next is dear."""
    ways: list[tuple[float, list[_Cap]]] = [(price, [cap]) for price, cap in sizes[0]]
    for choices in sizes[1:]:
        ways = [
            min(
                ((before + price + _steps_back(way[-1], cap), [*way, cap]) for before, way in ways),
                key=lambda one: one[0],
            )
            for price, cap in choices
        ]
    return min(ways, key=lambda one: one[0])[1]


def _steps_back(a: _Cap, b: _Cap) -> float:
    return sum(2.0 * max(x - y, 0) + abs(x - y) / 4 for x, y in zip(a, b, strict=True))


# --- the words --------------------------------------------------------------------------------------


def set_in(asked: Asked) -> Start:
    """A pullover in four flat pieces with set-in sleeves and a picked-up neckband."""
    c = _Counts(asked)
    w = Writing(
        asked,
        "Set-in-Sleeve Pullover",
        "A pullover in flat pieces with shaped armholes, a rounded neck and set-in sleeves.",
    )
    chest, sleeve, body, seam, _ = c.finished()
    w.to_fit("chest", c.chest)
    w.finished(
        [
            (chest, "round the chest"),
            (sleeve, "round the upper sleeve"),
            (body, "body length from underarm to hem"),
            (seam, "sleeve length from underarm to cuff"),
        ]
    )
    w.yarn()
    w.head(
        "Needles",
        f"{w.needle()} and {w.needle(smaller=True)}, straight or circular; {w.needle(smaller=True)} "
        f"circular, {w.cable(40)}, for the neckband",
    )
    w.head("Notions", "stitch holder; 1 stitch marker; tapestry needle")
    w.gauge("flat")
    w.named("back", c.wide)
    w.named("underarm", c.under)
    w.named("across", c.across)
    w.named("neck", c.neck)
    w.named("shoulder", c.shoulder, "(across - neck) / 2")
    w.named("middle", c.middle)
    w.named("sleeve", c.sleeve)
    w.named("cuff", c.cuff)
    w.section("Back")
    _to_the_armhole(w, c)
    _armholes(w, c)
    plain_rows(w, c.straight)
    _shoulders_of_the_back(w, c)
    w.section("Front")
    _to_the_armhole(w, c)
    _armholes(w, c)
    plain_rows(w, c.before_neck)
    _neck(w, c)
    _sleeve(w, c)
    band = neckband(w, c.knit, c.drop, c.neck, c.middle)
    w.section("Finishing")
    w.note("Pin each cap into its armhole, its middle at the shoulder seam, before you sew it.")
    w.line("Sew the sleeves into the armholes. Sew the side and sleeve seams.")
    w.line("Weave in the ends. Wash, and dry flat to the measurements.")
    return Start(
        text=w.text(memory_notes(asked, MEASURES)),
        finished=c.finished(),
        counts={
            "back and front": tuple(c.wide), "across the back": tuple(c.across),
            "shoulder": tuple(c.shoulder), "neck": tuple(c.neck), "upper sleeve": tuple(c.sleeve),
            "cuff": tuple(c.cuff), "top of the cap": tuple(c.top), "neckband": tuple(band),
        },
        said=(CAPS, *_moved(w.sizes, c)),
    )  # fmt: skip


CAPS = "Each cap is as long along its edge as its armhole, front and back, within two stitches."


def _moved(sizes: Sequence[str], c: _Counts) -> Iterator[str]:
    """Which sleeves gave way to their caps, and by how much."""
    for size, wanted, sleeve in zip(sizes, c.arm, c.sleeve, strict=True):
        off = sleeve * c.knit.stitch_mm - wanted
        if abs(off) > 2 * c.knit.stitch_mm:
            yield (
                f"The sleeve of size {size} is {float(abs(off)) / 10:.1f} cm "
                f"{'wider' if off > 0 else 'narrower'} than asked, so that its cap fits its armhole."
            )


def _to_the_armhole(w: Writing, c: _Counts) -> None:
    ribbed_beginning(w, c.wide, c.rib)
    w.line(f"Work {w.n(c.below)} rows in stockinette stitch, beginning with a knit row. ({w.n(c.wide)} sts)")
    w.so_long("The piece", [c.rib + n for n in c.below], EDGE)


def _armholes(w: Writing, c: _Counts) -> None:
    left = [n - 2 * u for n, u in zip(c.wide, c.under, strict=True)]
    w.note("Armholes.")
    total = w.sum("back - 2 * underarm")
    w.line(f"Bind off {w.n(c.under)} sts at the beginning of the next 2 rows. ({total} sts)")
    _decreased(w, c.fast, c.slow, left)


def _decreased(w: Writing, fast: Sequence[int], slow: Sequence[int], before: Sequence[int]) -> list[int]:
    """Decreases at both ends on every other row, then on every fourth; the count after them."""
    after = [n - 2 * f for n, f in zip(before, fast, strict=True)]
    w.line(f"Dec row (RS): {DEC}")
    w.line("Next row: Purl.")
    w.times(f"Rep the last 2 rows {{n}} more. ({w.n(after)} sts)", [f - 1 for f in fast])
    if any(slow):
        some = w.only([s > 0 for s in slow])
        last = [n - 2 * s for n, s in zip(after, slow, strict=True)]
        w.line(f"{some}Next row (RS): Knit.")
        w.line(f"{some}Next row: Purl.")
        w.line(f"{some}Dec row (RS): {DEC}")
        w.line(f"{some}Next row: Purl.")
        w.times(f"Rep the last 4 rows {{n}} more. ({w.n(last)} sts)", [max(s - 1, 0) for s in slow])
        after = last
    return after


def _shoulders_of_the_back(w: Writing, c: _Counts) -> None:
    left = [a - 4 * s for a, s in zip(c.across, c.step, strict=True)]
    w.note("Shoulders.")
    w.line(f"Bind off {w.n(c.step)} sts at the beginning of the next 4 rows. ({w.n(left)} sts)")
    w.line(f"Bind off {w.n(c.last)} sts at the beginning of the next 2 rows. ({w.n(c.neck)} sts)")
    w.line(f"Bind off the remaining {w.n(c.neck)} sts.")


def _neck(w: Writing, c: _Counts) -> None:
    side = [(a - m) // 2 for a, m in zip(c.across, c.middle, strict=True)]
    w.note("Neck, and the shoulder that you wear on the left.")
    w.named("side", side, "(across - middle) / 2")
    neck_divided(w, side, w.sum("across - side"))
    _side(w, c, side, first=True)
    w.note("The shoulder that you wear on the right.")
    neck_rejoined(w, c.middle, side)
    w.line("Next row (WS): Purl.")
    _side(w, c, side, first=False)


def _side(w: Writing, c: _Counts, side: Sequence[int], *, first: bool) -> None:
    """One side of the neck: its edge stands where rows of one side of the work begin.

    The side worked first has its bind-offs one row sooner, and its shoulder one row sooner too.
    """
    row, other, work = ("WS", "RS", "purl") if first else ("RS", "WS", "knit")
    then = "Knit" if first else "Purl"
    count = [n - a for n, a in zip(side, c.first, strict=True)]
    w.line(f"Next row ({row}): Bind off {w.n(c.first)} sts, {work} to end. ({w.n(count)} sts)")
    w.line(f"Next row ({other}): {then}.")
    count = [n - a for n, a in zip(count, c.second, strict=True)]
    w.line(f"Next row ({row}): Bind off {w.n(c.second)} sts, {work} to end. ({w.n(count)} sts)")
    w.line(f"Next row ({other}): {then}.")
    if first:
        w.line("Next row (WS): Purl.")
        w.line("Dec row (RS): Knit to last 3 sts, k2tog, k1. (1 st decreased)")
    else:
        w.line("Dec row (RS): K1, ssk, knit to end. (1 st decreased)")
    w.line("Next row (WS): Purl.")
    w.times(f"Rep the last 2 rows {{n}} more. ({w.n(c.shoulder)} sts)", [n - 1 for n in c.decs])
    # rows of the neck so far, the row that divides included
    plain = [d - SLOPE - 6 - 2 * n for d, n in zip(c.drop, c.decs, strict=True)]
    if not first:
        plain = [n + 1 for n in plain]
    plain_rows(w, plain)
    left = [n - s for n, s in zip(c.shoulder, c.step, strict=True)]
    again = [n - s for n, s in zip(left, c.step, strict=True)]
    row, work, then = ("RS", "knit", "Purl") if first else ("WS", "purl", "Knit")
    other = "WS" if first else "RS"
    w.line(f"Next row ({row}): Bind off {w.n(c.step)} sts, {work} to end. ({w.n(left)} sts)")
    w.line(f"Next row ({other}): {then}.")
    w.line(f"Next row ({row}): Bind off {w.n(c.step)} sts, {work} to end. ({w.n(again)} sts)")
    w.line(f"Next row ({other}): {then}.")
    w.line(f"Bind off the remaining {w.n(c.last)} sts.")


def _sleeve(w: Writing, c: _Counts) -> None:
    sleeve_up_to(w, c.sleeve, c.cuff, c.arm_rows, c.rib)
    w.note("Cap.")
    left = [s - 2 * u for s, u in zip(c.sleeve, c.under, strict=True)]
    total = w.sum("sleeve - 2 * underarm")
    w.line(f"Bind off {w.n(c.under)} sts at the beginning of the next 2 rows. ({total} sts)")
    _decreased(w, c.cap_fast, c.cap_slow, left)
    w.line(f"Bind off {CAP_STEP} sts at the beginning of the next 4 rows. ({w.n(c.top)} sts)")
    w.line(f"Bind off the remaining {w.n(c.top)} sts.")
