"""A pullover with dropped shoulders: back and front alike but for the neck, straight sleeves sewn in.

In: what was asked. Out: a :class:`~purlwright.sizing.starts.asked.Start`.
"""

from __future__ import annotations

from fractions import Fraction

from purlwright.sizing.bodies import rule
from purlwright.sizing.starts.asked import Asked, Finish, Start
from purlwright.sizing.starts.flat_pullovers import (
    EDGE,
    neck_divided,
    neck_rejoined,
    neckband,
    ribbed_beginning,
    sleeve_up_to,
)
from purlwright.sizing.starts.pullovers import below_the_underarm, near, rib_mm
from purlwright.sizing.starts.writing import Writing, memory_notes
from purlwright.sizing.unknowns import NoPlan

__all__ = ["MEASURES", "Counts", "drop_shoulder"]

MEASURES = (
    "chest",
    "armhole depth",
    "back waist length",
    "back hip length",
    "arm length to underarm",
    "cross back",
)


class Counts:
    """The counts of back, front and sleeve."""

    def __init__(self, asked: Asked) -> None:
        knit = asked.knit
        self.chest = asked.body_mm("chest")
        self.wanted = asked.eased(self.chest, Fraction(0), rule("pullover ease").mm)
        self.wide = [near(x / 2 / knit.stitch_mm, 2) for x in self.wanted]
        if min(self.wide) < 24:
            raise NoPlan(f"A back of {min(self.wide)} sts is too small for a pullover; look at the gauge.")
        armhole = asked.body_mm("armhole depth")
        self.armhole = tuple(a + rule("raglan deeper than armhole").mm for a in armhole)
        small = all(b.group == "baby" for b in asked.bodies)
        self.rib = knit.rws(rib_mm(asked.bodies), 2)
        below = asked.lengths.get("length") or below_the_underarm(asked.bodies, armhole)
        self.below = [knit.rws(x, 2) - self.rib for x in below]
        self.up = [knit.rws(x, 2) for x in self.armhole]
        across = asked.body_mm("cross back")
        share = rule("back neck of cross back").share
        self.neck = [near(share * x / knit.stitch_mm, 2) for x in across]
        self.shoulder = [(n - k) // 2 for n, k in zip(self.wide, self.neck, strict=True)]
        deep = rule("neck depth")
        self.drop = [knit.rws(deep.least * 10 if small else deep.mm, 2)] * len(self.wide)
        self.curve = [max(2, min(k // 5, d // 2 - 1)) for k, d in zip(self.neck, self.drop, strict=True)]
        self.middle = [k - 2 * c for k, c in zip(self.neck, self.curve, strict=True)]
        if min(self.shoulder) < 4 or min(self.middle) < 2:
            raise NoPlan("The neck leaves no shoulders; look at the gauge and the ease.")
        self.top = [near(2 * u * knit.row_mm / knit.stitch_mm, 2) for u in self.up]
        self.cuff = [max(near(rule("cuff").share * 2 * n, 2), 16) for n in self.wide]
        arm = asked.body_mm("arm length to underarm")
        over = tuple(
            max(Fraction(0), (n * knit.stitch_mm - x) / 2) for n, x in zip(self.wide, across, strict=True)
        )
        self.arm = tuple(max(a - o, a / 2) for a, o in zip(arm, over, strict=True))
        self.arm_rows = [knit.rws(x, 2) - self.rib for x in self.arm]
        # a short sleeve has a wider cuff: no more than one stitch goes at each edge on every other row
        least = [t - 2 * (r // 2) for t, r in zip(self.top, self.arm_rows, strict=True)]
        self.cuff = [max(n, few) for n, few in zip(self.cuff, least, strict=True)]
        if min(self.below) < 4 or min(self.arm_rows) < 8:
            raise NoPlan("The ribs are longer than body or sleeve; look at the row gauge and the lengths.")
        self.finished = (
            Finish(
                name="chest", wanted_mm=self.wanted, mm=tuple(2 * n * knit.stitch_mm for n in self.wide),
                step_mm=2 * knit.stitch_mm,
            ),
            Finish(
                name="long", wanted_mm=tuple(b + a for b, a in zip(below, self.armhole, strict=True)),
                mm=tuple((self.rib + b + u) * knit.row_mm for b, u in zip(self.below, self.up, strict=True)),
                step_mm=2 * knit.row_mm,
            ),
            Finish(
                name="sleeve", wanted_mm=self.arm,
                mm=tuple((n + self.rib) * knit.row_mm for n in self.arm_rows),
                step_mm=2 * knit.row_mm,
            ),
        )  # fmt: skip


def drop_shoulder(asked: Asked) -> Start:
    """A pullover in four flat pieces with a scooped front neck and a picked-up neckband."""
    c = Counts(asked)
    knit = asked.knit
    w = Writing(
        asked,
        "Drop-Shoulder Pullover",
        "A pullover in flat pieces with dropped shoulders, a scooped neck and straight sleeves.",
    )
    w.to_fit("chest", c.chest)
    w.finished(
        [(c.finished[0], "round the chest"), (c.finished[1], "long"), (c.finished[2], "sleeve length")]
    )
    w.yarn()
    w.head(
        "Needles",
        f"{w.needle()} and {w.needle(smaller=True)}, straight or circular; {w.needle(smaller=True)} "
        f"circular, {w.cable(40)}, for the "
        "neckband",
    )
    w.head("Notions", "stitch holder; 4 locking stitch markers; 1 stitch marker; tapestry needle")
    w.gauge("flat")
    w.named("back", c.wide)
    w.named("armhole", c.up)
    w.named("neck", c.neck)
    w.named("shoulder", c.shoulder, "(back - neck) / 2")
    w.named("middle", c.middle)
    w.named("sleeve top", c.top)
    w.named("cuff", c.cuff)
    total = [b + u for b, u in zip(c.below, c.up, strict=True)]
    w.section("Back")
    ribbed_beginning(w, c.wide, c.rib)
    w.line(f"Work {w.n(total)} rows in stockinette stitch, beginning with a knit row. ({w.n(c.wide)} sts)")
    w.so_long("The back", [c.rib + n for n in total], EDGE)
    w.note(f"Mark both edges {w.n(c.up)} rows below the top: the sleeves are sewn in between.")
    w.line(f"Bind off all {w.n(c.wide)} sts.")
    w.section("Front")
    ribbed_beginning(w, c.wide, c.rib)
    w.line(
        f"Work {w.n([t - d for t, d in zip(total, c.drop, strict=True)])} rows in stockinette stitch, "
        f"beginning with a knit row. "
        f"({w.n(c.wide)} sts)"
    )
    w.so_long("The front", [c.rib + t - d for t, d in zip(total, c.drop, strict=True)], EDGE)
    w.note(f"Mark both edges {w.n(c.up)} rows below the top, as on the back.")
    side = [s + k for s, k in zip(c.shoulder, c.curve, strict=True)]
    w.named("side", side, "(back - middle) / 2")
    neck_divided(w, side, w.sum("back - side"))
    w.line("Row 1 (WS): Purl.")
    w.line("Row 2 (RS): Knit to last 3 sts, k2tog, k1. (1 st decreased)")
    w.line(f"Rep rows 1 and 2 until {w.n(c.shoulder)} sts remain.")
    rest = [d - 1 - 2 * k for d, k in zip(c.drop, c.curve, strict=True)]
    w.line(
        f"Work {w.n(rest)} {'row' if max(rest) == 1 else 'rows'} in stockinette stitch, beginning with "
        f"a purl row."
    )
    w.line(f"Bind off all {w.n(c.shoulder)} sts.")
    neck_rejoined(w, c.middle, side)
    w.line("Row 1 (WS): Purl.")
    w.line("Row 2 (RS): K1, ssk, knit to end. (1 st decreased)")
    w.line(f"Rep rows 1 and 2 until {w.n(c.shoulder)} sts remain.")
    w.line(
        f"Work {w.n(rest)} {'row' if max(rest) == 1 else 'rows'} in stockinette stitch, beginning with "
        f"a purl row."
    )
    w.line(f"Bind off all {w.n(c.shoulder)} sts.")
    sleeve_up_to(w, c.top, c.cuff, c.arm_rows, c.rib)
    w.line(f"Bind off all {w.n(c.top)} sts.")
    band = neckband(w, knit, c.drop, c.neck, c.middle)
    w.section("Finishing")
    w.line("Sew the sleeves in between the markers. Sew the side and sleeve seams.")
    w.line("Weave in the ends. Wash, and dry flat to the measurements.")
    return Start(
        text=w.text(
            memory_notes(asked, MEASURES)
        ),
        finished=c.finished,
        counts={
            "back and front": tuple(c.wide), "shoulder": tuple(c.shoulder), "neck": tuple(c.neck),
            "cuff": tuple(c.cuff),
            "sleeve top": tuple(c.top), "neckband": tuple(band),
        },
        said=(),
    )  # fmt: skip
