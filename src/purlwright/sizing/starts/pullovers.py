"""Pullovers from the neck down, in one piece and in the round: with raglan lines, and with a round yoke.

In: what was asked. Out: a :class:`~purlwright.sizing.starts.asked.Start`. The yoke's own rows are here;
body, sleeves and their numbers are shared.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate
from math import ceil

from purlwright.sizing.bodies import Body, rule
from purlwright.sizing.fit import head_for
from purlwright.sizing.lists import of_sizes, ordinal, times
from purlwright.sizing.shaping import Rate, Rates, even_rates
from purlwright.sizing.spread import spread
from purlwright.sizing.starts.asked import Asked, Finish, Start
from purlwright.sizing.starts.writing import Writing, memory_notes
from purlwright.sizing.unknowns import NoPlan
from purlwright.units import half_up

__all__ = [
    "MEASURES",
    "below_the_underarm",
    "least_neck",
    "near",
    "raglan",
    "rate_lines",
    "rib_mm",
    "round_yoke",
]

MEASURES = (
    "chest",
    "upper arm",
    "armhole depth",
    "back waist length",
    "back hip length",
    "arm length to underarm",
    "cross back",
)
"""The measures of a body that a shaped pullover is planned from."""

DEC = "K1, k2tog, knit to last 3 sts, ssk, k1. (2 sts decreased)"
YOKE_OVER_ARMHOLE_MM = 50
"""A round yoke is no deeper than the armhole and so much; common practice, no source."""
BELOW_WAIST_MM = {"baby": 30, "child": 50, "youth": 70, "woman": 100, "man": 120}
"""How far a pullover reaches below the waist; common practice, no source."""


def below_the_underarm(bodies: Sequence[Body], armholes: Sequence[Fraction]) -> tuple[Fraction, ...]:
    """From the underarm to the hem of each size; none is shorter than that of a smaller size.

    In the tables of women's bodies armholes deepen by more than backs lengthen, so that a larger size would
    be shorter there. (That it is not made so is common practice, no source.)
    """
    each = [_below(body, armhole) for body, armhole in zip(bodies, armholes, strict=True)]
    return tuple(accumulate(each, max))


def _below(body: Body, armhole: Fraction) -> Fraction:
    """From the underarm to the hem: to the waist and a little farther, or to the hip where that is known."""
    if "back waist length" not in body.measures and "back hip length" in body.measures:
        return body.size("back hip length").mm - armhole
    return body.size("back waist length").mm - armhole + BELOW_WAIST_MM.get(body.group, 80)


def rib_mm(bodies: Sequence[Body]) -> Fraction:
    """How deep the ribs of a pullover are: what is usual, and the least there is for babies."""
    usual = rule("garment rib")
    return usual.least * 10 if all(b.group == "baby" for b in bodies) else usual.mm


def near(exact: Fraction, of: int = 1, plus: int = 0) -> int:
    """The nearest whole number that is ``plus`` more than a multiple."""
    return int(half_up((exact - plus) / of, Fraction(1))) * of + plus


def least_neck(chest_mm: Fraction, stitch_mm: Fraction) -> int:
    """Stitches of the narrowest neckband that goes over the head of one with such a chest.

    A ribbed band stretches to twice its width (common practice, no source); heads are those of the tables.
    """
    return ceil(head_for(chest_mm / 10) * 10 / 2 / stitch_mm)


class Shape:
    """What raglan and round yoke have in common: body, underarm, sleeve, cuff and lengths."""

    def __init__(self, asked: Asked) -> None:
        knit = asked.knit
        self.chest = asked.body_mm("chest")
        self.wanted = asked.eased(self.chest, Fraction(0), rule("pullover ease").mm)
        for size, body, want in zip(asked.sizes, self.chest, self.wanted, strict=True):
            if want < body * Fraction(7, 10) or want > body * 2:
                raise NoPlan(
                    f"Size {size}: {float(want) / 10:.0f} cm round a chest of {float(body) / 10:.0f} cm "
                    f"is no pullover; "
                    "give an ease between -30 % and twice the body."
                )
        self.body = [knit.sts(x, 2) for x in self.wanted]
        if min(self.body) < 40:
            raise NoPlan(f"A body of {min(self.body)} sts is too small for a pullover; look at the gauge.")
        self.under = [near(rule("underarm").share * n, 2, n // 2 % 2) for n in self.body]
        arm = asked.body_or("upper arm", tuple(rule("upper sleeve").share * x for x in self.wanted))
        self.arm = tuple(x + rule("sleeve ease").mm for x in arm)
        self.sleeve = [near(x / knit.stitch_mm, 2) for x in self.arm]
        self.cuff = [
            max(min(near(rule("cuff").share * n, 2), s), 16)
            for n, s in zip(self.body, self.sleeve, strict=True)
        ]
        self.armhole = asked.body_mm("armhole depth")
        self.rib = knit.rws(rule("garment rib").mm)
        self.long = asked.lengths.get("length") or below_the_underarm(asked.bodies, self.armhole)
        self.below = [knit.rws(x) - self.rib for x in self.long]
        arm_long = asked.body_mm("arm length to underarm")
        self.arm_rows = [knit.rws(x) - self.rib for x in arm_long]
        self.arm_long = arm_long
        if min(self.below) < 2 or min(self.arm_rows) < 4:
            raise NoPlan("The ribs are longer than body or sleeve; look at the row gauge and the lengths.")
        self.half = [n // 2 - u for n, u in zip(self.body, self.under, strict=True)]
        self.held = [s - u for s, u in zip(self.sleeve, self.under, strict=True)]

    def name(self, w: Writing) -> None:
        """Names for the numbers that many rows depend on."""
        w.named("body", self.body)
        w.named("underarm", self.under)
        w.named("sleeve", self.sleeve)
        w.named("cuff", self.cuff)
        w.named("half", self.half, "body / 2 - underarm")
        w.named("held", self.held, "sleeve - underarm")

    def finished(self, asked: Asked) -> list[tuple[Finish, str]]:
        """The finished measures."""
        knit = asked.knit
        return [
            (
                Finish(
                    name="chest", wanted_mm=tuple(self.wanted),
                    mm=tuple(n * knit.stitch_mm for n in self.body),
                    step_mm=knit.stitch_mm,
                ),
                "round the chest",
            ),
            (
                Finish(
                    name="upper sleeve", wanted_mm=self.arm,
                    mm=tuple(n * knit.stitch_mm for n in self.sleeve),
                    step_mm=knit.stitch_mm,
                ),
                "round the upper sleeve",
            ),
            (
                Finish(
                    name="sleeve seam", wanted_mm=self.arm_long,
                    mm=tuple((n + self.rib) * knit.row_mm for n in self.arm_rows), step_mm=knit.row_mm,
                ),
                "sleeve length from underarm to cuff",
            ),
            (
                Finish(
                    name="body below the underarm", wanted_mm=tuple(self.long),
                    mm=tuple((n + self.rib) * knit.row_mm for n in self.below), step_mm=knit.row_mm,
                ),
                "body length from underarm to hem",
            ),
        ]  # fmt: skip


def _heads(w: Writing, c: Shape, markers: str) -> None:
    w.to_fit("chest", c.chest)
    w.finished(c.finished(w.asked))
    w.yarn()
    w.head(
        "Needles",
        f"{w.needle()} circular, {w.cable(_cable(c, w))}; {w.needle(smaller=True)} circular, "
        f"{w.cable(_cable(c, w))}; {w.needle()} and "
        f"{w.needle(smaller=True)} double-pointed",
    )
    w.head("Notions", f"{markers}; waste yarn; tapestry needle")
    w.gauge("in the round")


def _cable(c: Shape, w: Writing) -> int:
    least = min(c.body) * float(w.asked.knit.stitch_mm) / 10
    return max((x for x in (40, 60, 80) if x <= least), default=40)


def rate_lines(w: Writing, rates: list[Rates], row: str, kind: str = "rnd", total: str = "") -> None:
    """Shaping rows of all sizes: plain rows, the shaping row, and on which rows it is worked again."""
    if any(not r.rates for r in rates):
        raise NoPlan("A size is not shaped at all; plan it by itself, or look at the widths at both ends.")
    rates = [_ordered(r, w.asked.way) for r in rates]
    firsts = [r.rates[0] for r in rates]
    flat = kind == "row"
    step = 2 if flat else 1  # what a size with one rate prints beside the second ones of the others
    seconds = [r.rates[1] if len(r.rates) > 1 else Rate(max(r.rates[0].every - step, step), 0) for r in rates]
    name = "dec" if "decreased" in row else "inc"
    plain = [r.every - 1 for r in firsts]
    if flat:  # on the first row, so that every shaping faces the right side; the plain rows come at the end
        w.line(f"{name.capitalize()} row (RS): {row}")
    else:
        if any(plain):
            w.line(_alike(plain, w))
        w.line(f"{name.capitalize()} rnd: {row}")
    parts = []
    for often, more in ((firsts, [r.times - 1 for r in firsts]), (seconds, [r.times for r in seconds])):
        if any(more):
            many = f"{w.n(more)} times" if len(set(more)) > 1 or more[0] > 2 else times(more[0])
            parts.append(f"on {_every([r.every for r in often], kind)} {many} more")
    if parts:
        first = "Cont in stockinette stitch, rep" if flat else "Rep"
        w.line(f"{first} {name} {kind} {', then '.join(parts)}.")
    left = [r.left + (p if flat else 0) for r, p in zip(rates, plain, strict=True)]
    if flat:
        rows = "row" if max(left) == 1 else "rows"
        w.line(f"Work {w.n(left)} {rows} in stockinette stitch, beginning with a purl row. ({total} sts)")
    elif any(left):
        w.line(_alike(left, w))


def _ordered(rates: Rates, way: int) -> Rates:
    """The longer gaps first, the shorter first, or all as short as the shortest and the rest plain."""
    if len(rates.rates) < 2 or way % 3 == 0:
        return rates
    long, short = rates.rates
    if way % 3 == 1:
        return Rates(rates=(short, long), left=rates.left)
    spare = (long.every - short.every) * long.times
    return Rates(rates=(Rate(short.every, short.times + long.times),), left=rates.left + spare)


def _every(every: list[int], kind: str) -> str:
    if set(every) == {1}:
        return f"every {kind}"
    if set(every) == {2}:
        return f"every other {kind}"
    return f"every {of_sizes([ordinal(n) for n in every])} {kind}"


def _rounds(many: int, kind: str) -> str:
    return kind if many == 1 else f"{many} {kind}s"


def _alike(many: list[int], w: Writing) -> str:
    return f"Knit {w.n(many)} rnd{'s' if max(many) > 1 else ''}."


def _body_and_sleeves(w: Writing, c: Shape) -> None:
    w.section("Body")
    w.line(f"Knit {w.n(c.below)} rnds. ({w.n(c.body)} sts)")
    w.so_long("The body", c.below, "the underarm")
    w.line("Change to the smaller needle.")
    w.line(f"Next {c.rib} rnds: *K1, p1; rep from * to end.")
    w.line("Bind off loosely in pattern.")
    w.section("Sleeves (make 2)")
    left = [u - u // 2 for u in c.under]
    right = [u // 2 for u in c.under]
    w.line(
        "Place the held sts of one sleeve on the larger needle. With RS facing and beginning in the "
        "middle of the underarm, "
        f"pick up and knit {w.n(left)} sts from the underarm cast-on, k{w.n(c.held)}, pick up and knit "
        f"{w.n(right)} sts from "
        f"the underarm cast-on, pm and join in the round. ({w.n(c.sleeve)} sts)"
    )
    rates = [even_rates((s - k) // 2, rows) for s, k, rows in zip(c.sleeve, c.cuff, c.arm_rows, strict=True)]
    rate_lines(w, rates, DEC)
    w.note(f"{w.n(c.cuff)} sts are left for the cuff.")
    w.so_long("The sleeve", c.arm_rows, "the underarm")
    w.line("Change to the smaller needles.")
    w.line(f"Next {c.rib} rnds: *K1, p1; rep from * to end. ({w.n(c.cuff)} sts)")
    w.line("Bind off loosely in pattern.")
    w.section("Finishing")
    w.note("Close the small gaps at the underarms with the yarn ends.")
    w.line("Weave in the ends. Wash, and dry flat to the measurements.")


def _few_stitches(w: Writing) -> None:
    w.note("While the stitches are too few for the circular needle, work them on double-pointed ones.")


def _divide(w: Writing, c: Shape) -> None:
    """From the markers between back, sleeve, front and sleeve."""
    w.section("Dividing")
    one = f"place the next {w.n(c.held)} sts on waste yarn for the sleeve"
    under = f"cast on {w.n(c.under)} sts for the underarm"
    w.line(
        f"Dividing rnd: *Knit to m, remove m, {one}, remove m, {under}; rep from * once more. "
        f"({w.n(c.body)} sts)"
    )


def raglan(asked: Asked) -> Start:
    """A pullover with raglan lines: body and sleeves are increased together, then the body alone."""
    knit = asked.knit
    c = Shape(asked)
    across = asked.body_mm("cross back")
    back: list[int] = []
    top: list[int] = []
    both, alone, fast, slow, plain = [], [], [], [], []
    for n in range(len(asked.sizes)):
        b0 = near(rule("back neck of cross back").share * across[n] / knit.stitch_mm, 2, c.half[n] % 2)
        b0 = min(b0, c.half[n] - 8)
        tb, ts, s0 = _tops(c.half[n], c.held[n], b0)
        least = max(least_neck(c.chest[n], knit.stitch_mm), 2 * (back[-1] + top[-1]) if back else 0)
        while 2 * (b0 + s0) < least and b0 + 2 <= c.half[n] - 8:
            b0 += 2
            tb, ts, s0 = _tops(c.half[n], c.held[n], b0)
        rounds = knit.rws(c.armhole[n] + rule("raglan deeper than armhole").mm)
        quick = min(max(2 * tb - rounds, 0), tb - ts)
        spare = max(rounds - (2 * tb - quick), 1)
        slower = min((spare - 1) // 2, max(ts - 1, 0))
        back.append(b0)
        top.append(s0)
        both.append(ts - slower)
        alone.append(tb - ts - quick)
        fast.append(quick)
        slow.append(slower)
        plain.append(spare - 2 * slower)
    neck = [2 * b + 2 * s for b, s in zip(back, top, strict=True)]
    depth = [
        2 * (a + b) + f + 4 * s + p for a, b, f, s, p in zip(both, alone, fast, slow, plain, strict=True)
    ]
    w = Writing(
        asked,
        "Raglan Pullover",
        "A pullover worked from the neck down in one piece, in the round, with raglan lines.",
    )
    _heads(w, c, "4 stitch markers")
    c.name(w)
    w.named("back neck", back)
    w.named("sleeve top", top)
    w.named("neck", neck, "2 * back neck + 2 * sleeve top")
    w.section("Neckband")
    w.line(
        f"With the smaller needle cast on {w.n(neck)} sts. Join to work in the round, being careful not "
        f"to twist, and place a "
        "marker for the beginning of the round."
    )
    _few_stitches(w)
    w.line("Next 6 rnds: *K1, p1; rep from * to end.")
    w.line("Change to the larger needle.")
    w.section("Yoke")
    w.line(f"Next rnd: K{w.n(back)}, pm, k{w.n(top)}, pm, k{w.n(back)}, pm, knit to end.")
    w.note("Back, sleeve, front, sleeve. The round begins at the back, on the left shoulder.")
    all_four = "*K1, m1l, knit to 1 st before m, m1r, k1, sm; rep from * to end. (8 sts increased)"
    body_only = (
        "*K1, m1l, knit to 1 st before m, m1r, k1, sm, knit to m, sm; rep from * once more. (4 sts increased)"
    )
    _phases(
        w,
        [
            (all_four, 4, slow),
            (all_four, 2, both),
            (body_only, 2, alone),
            (body_only, 1, fast),
        ],
    )
    w.line(f"Knit {w.n(plain)} rnd{'s' if max(plain) > 1 else ''}. ({w.sum('2 * half + 2 * held')} sts)")
    w.note(f"{w.n(c.half)} each for back and front, {w.n(c.held)} for each sleeve.")
    _divide(w, c)
    _body_and_sleeves(w, c)
    return Start(
        text=w.text(memory_notes(asked, MEASURES)),
        finished=tuple(f for f, _ in c.finished(asked)),
        counts={
            "neck": tuple(neck), "body": tuple(c.body), "underarm": tuple(c.under),
            "upper sleeve": tuple(c.sleeve),             "cuff": tuple(c.cuff), "yoke rounds": tuple(depth),
        },
        said=(),
    )  # fmt: skip


def _tops(half: int, held: int, back: int) -> tuple[int, int, int]:
    """How often body and sleeve are widened from such a back neck, and the top of the sleeve."""
    body = (half - back) // 2
    sleeve = max(0, min(body, near((held - Fraction(back, 4)) / 2)))
    top = held - 2 * sleeve
    while top < 2 and sleeve:
        sleeve, top = sleeve - 1, top + 2
    return body, sleeve, top


def _phases(w: Writing, phases: list[tuple[str, int, list[int]]]) -> None:
    """Increase rounds one kind after another; sizes that have none of a kind pass it over."""
    for row, one, often in phases:
        if not any(often):
            continue
        here = w.only([n > 0 for n in often])
        w.line(f"{here}Inc rnd: {row}")
        if one > 1:
            w.line(f"{here}{'Next rnd' if one == 2 else f'Next {one - 1} rnds'}: Knit.")
        again = [max(n - 1, 0) for n in often]
        w.times(f"Rep the last {_rounds(one, 'rnd')} {{n}} more.", again)


def round_yoke(asked: Asked) -> Start:
    """A pullover with a round yoke in the percentage system, turned round: from the neck down.

    Source: E. Zimmermann, Knitting Without Tears (1971) and Knitting Around (1989), as summarised: a neck
    of 40 % of the body; decreased, from below, by a quarter, a third and two fifths at half, three
    quarters and the top of the yoke.
    """
    knit = asked.knit
    c = Shape(asked)
    yoke = [2 * (h + s) for h, s in zip(c.half, c.held, strict=True)]
    unit = [
        max(near(Fraction(y, 20)), ceil(Fraction(least_neck(x, knit.stitch_mm), 6)))
        for y, x in zip(yoke, c.chest, strict=True)
    ]
    depth = [
        knit.rws(min(x * rule("round yoke depth").share, a + YOKE_OVER_ARMHOLE_MM))
        for x, a in zip(c.wanted, c.armhole, strict=True)
    ]
    w = Writing(
        asked,
        "Round-Yoke Pullover",
        "A pullover worked from the neck down in one piece, in the round, with a round yoke.",
    )
    _heads(w, c, "4 stitch markers")
    neck = [6 * u for u in unit]
    c.name(w)
    w.named("unit", unit)
    w.section("Neckband")
    w.line(
        f"With the smaller needle cast on {w.sum('6 * unit')} sts. Join to work in the round, being careful "
        "not to twist, and place a marker for the beginning of the round."
    )
    _few_stitches(w)
    w.line("Next 6 rnds: *K1, p1; rep from * to end.")
    w.line("Change to the larger needle.")
    w.section("Yoke")
    quarter = [d // 4 for d in depth]
    w.line("Knit 1 rnd.")
    w.line(f"Next rnd: *K1, m1l, k1, m1l, k1; rep from * to end. ({w.sum('10 * unit')} sts)")
    w.line(f"Knit {w.n([q - 1 for q in quarter])} rnds.")
    w.line(f"Next rnd: *K2, m1l; rep from * to end. ({w.sum('15 * unit')} sts)")
    w.line(f"Knit {w.n([q - 1 for q in quarter])} rnds.")
    w.line(f"Next rnd: *K3, m1l; rep from * to end. ({w.sum('20 * unit')} sts)")
    rest = [d - 2 * q - 2 for d, q in zip(depth, quarter, strict=True)]
    if min(quarter) < 2 or min(rest) < 3:
        raise NoPlan("The yoke has too few rounds for its increases; look at the row gauge.")
    for n, (y, u) in enumerate(zip(yoke, unit, strict=True)):
        over = y - 20 * u
        if over:
            found = spread("increase" if over > 0 else "decrease", abs(over), 20 * u, in_round=True)
            only = w.only([k == n for k in range(len(yoke))])
            w.line(f"{only}Next rnd: {found.words.replace('m1', 'm1l')}. ({found.after} sts)")
    w.line(f"Knit {w.n([r - 1 - (y != 20 * u) for r, y, u in zip(rest, yoke, unit, strict=True)])} rnds.")
    w.line(
        f"Next rnd: K{w.n(c.half)}, pm, k{w.n(c.held)}, pm, k{w.n(c.half)}, pm, knit to end. "
        f"({w.sum('2 * half + 2 * held')} sts)"
    )
    w.note("Back, sleeve, front, sleeve.")
    _divide(w, c)
    _body_and_sleeves(w, c)
    return Start(
        text=w.text(memory_notes(asked, MEASURES)),
        finished=tuple(f for f, _ in c.finished(asked)),
        counts={
            "neck": tuple(neck), "yoke": tuple(yoke), "body": tuple(c.body), "underarm": tuple(c.under),
            "upper sleeve": tuple(c.sleeve), "cuff": tuple(c.cuff),
        },
        said=(),
    )  # fmt: skip
