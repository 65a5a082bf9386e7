"""A cardigan with dropped shoulders: back and two fronts, sleeves sewn in, garter bands with buttonholes.

In: what was asked. Out: a :class:`~purlwright.sizing.starts.asked.Start`. Back, sleeves and lengths are those
of the pullover; the fronts leave room for one band, since the two lie one over the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate

from purlwright.sizing.starts.asked import Asked, Finish, Start
from purlwright.sizing.starts.drop_shoulder import MEASURES, Counts
from purlwright.sizing.starts.flat_pullovers import EDGE, plain_rows, ribbed_beginning, sleeve_up_to
from purlwright.sizing.starts.pullovers import near
from purlwright.sizing.starts.writing import Writing, memory_notes
from purlwright.sizing.unknowns import NoPlan

__all__ = ["cardigan"]

BAND_ROWS = 8
"""Rows of a band in garter stitch, the picked-up row among them; common practice, no source."""
NECKBAND_ROWS = 6
BUTTON_EVERY_MM = 80
"""From button to button about so far; common practice, no source."""
END = 2
"""Stitches of a band before its first buttonhole and after its last, at least; common practice, no source."""
POCKET_SHARE = Fraction(1, 2)
"""A pocket is so much of a front; common practice, no source."""
POCKET_RIM = 4
"""Rows of garter stitch along the top of a pocket; common practice, no source."""


class _Fronts:
    """The counts of fronts, bands and pockets."""

    def __init__(self, asked: Asked, c: Counts) -> None:
        knit = self.knit = asked.knit
        band_mm = BAND_ROWS * knit.row_mm
        band_sts = band_mm / knit.stitch_mm
        self.front = [near((n - band_sts) / 2, 2) for n in c.wide]
        self.gone = [f - s for f, s in zip(self.front, c.shoulder, strict=True)]
        self.decs = [max(2, min(g // 2, d // 2 - 2)) for g, d in zip(self.gone, c.drop, strict=True)]
        self.first = [g - n for g, n in zip(self.gone, self.decs, strict=True)]
        self.rest = [d - 2 - 2 * n for d, n in zip(c.drop, self.decs, strict=True)]
        for size, front, first, rest in zip(asked.sizes, self.front, self.first, self.rest, strict=True):
            if first < 2 or rest < 0:
                raise NoPlan(
                    f"Size {size}: a front of {front} sts has no room for a shoulder, a neck and its band; "
                    f"take a finer gauge, more ease or larger sizes."
                )
        self.total = [b + u for b, u in zip(c.below, c.up, strict=True)]
        self.before_neck = [t - d for t, d in zip(self.total, c.drop, strict=True)]
        self.side = [near(d * knit.row_mm / knit.stitch_mm) for d in c.drop]
        self.neckband = [2 * f + 2 * s + k for f, s, k in zip(self.first, self.side, c.neck, strict=True)]
        self._bands(c)
        self.pocket = [near(POCKET_SHARE * f, 2) for f in self.front]
        self.pocket_rows = [knit.rws(p * knit.stitch_mm, 2) for p in self.pocket]
        chest = [
            2 * f * knit.stitch_mm + n * knit.stitch_mm + band_mm
            for f, n in zip(self.front, c.wide, strict=True)
        ]
        self.finished = (
            Finish(name="chest, buttoned", wanted_mm=c.wanted, mm=tuple(chest), step_mm=4 * knit.stitch_mm),
            *c.finished[1:],
        )

    def _bands(self, c: Counts) -> None:
        """Stitches of a band, and its buttonholes: all as far apart, the ends alike to a stitch."""
        knit = self.knit
        rows = [c.rib + n + NECKBAND_ROWS for n in self.before_neck]
        long = [r * knit.row_mm for r in rows]
        self.band = list(accumulate((near(x / knit.stitch_mm) for x in long), max))
        self.buttons = list(accumulate((max(4, near(x / BUTTON_EVERY_MM) + 1) for x in long), max))
        self.between, self.ahead = [], []
        for band, many in zip(self.band, self.buttons, strict=True):
            gap = (band - 2 * END - 2 * many) // (many - 1)
            if gap < 3:
                raise NoPlan(f"A band of {band} sts has no room for {many} buttonholes; look at the gauge.")
            self.between.append(gap)
            self.ahead.append((band - 2 * many - gap * (many - 1)) // 2)


def cardigan(asked: Asked) -> Start:
    """A cardigan in flat pieces with a round neck, picked-up garter bands, and patch pockets if wanted."""
    c = Counts(asked)
    f = _Fronts(asked, c)
    w = Writing(
        asked,
        "Drop-Shoulder Cardigan",
        "A cardigan in flat pieces with dropped shoulders, a round neck and garter-stitch bands"
        f"{', and two patch pockets' if asked.pockets else ''}.",
    )
    _head(w, c, f)
    w.section("Back")
    ribbed_beginning(w, c.wide, c.rib)
    w.line(f"Work {w.n(f.total)} rows in stockinette stitch, beginning with a knit row. ({w.n(c.wide)} sts)")
    w.so_long("The back", [c.rib + n for n in f.total], EDGE)
    w.note(f"Mark both edges {w.n(c.up)} rows below the top: the sleeves are sewn in between.")
    w.line(f"Bind off all {w.n(c.wide)} sts.")
    _left_front(w, c, f)
    _right_front(w, c, f)
    sleeve_up_to(w, c.top, c.cuff, c.arm_rows, c.rib)
    w.line(f"Bind off all {w.n(c.top)} sts.")
    _edges(w, c, f)
    if asked.pockets:
        _pockets(w, f)
    w.section("Finishing")
    w.line("Sew the sleeves in between the markers. Sew the side and sleeve seams.")
    if asked.pockets:
        w.note("Sew a pocket to each front, its lower edge along the top of the rib.")
    w.note("Sew the buttons to the left front band, each facing its buttonhole.")
    w.line("Weave in the ends. Wash, and dry flat to the measurements.")
    counts = {
        "back": tuple(c.wide), "each front": tuple(f.front), "shoulder": tuple(c.shoulder),
        "neck": tuple(c.neck),
        "cuff": tuple(c.cuff), "sleeve top": tuple(c.top), "band": tuple(f.band), "buttons": tuple(f.buttons),
    }  # fmt: skip
    if asked.pockets:
        counts["pocket"] = tuple(f.pocket)
    return Start(
        text=w.text(memory_notes(asked, MEASURES)), finished=f.finished, counts=counts, said=(BUTTONED,)
    )


BUTTONED = "The right front buttons over the left; for buttonholes in the left band exchange the two bands."


def _head(w: Writing, c: Counts, f: _Fronts) -> None:
    w.to_fit("chest", c.chest)
    w.finished(
        [
            (f.finished[0], "round the chest, buttoned"),
            (c.finished[1], "long"),
            (c.finished[2], "sleeve length"),
        ]
    )
    w.yarn()
    w.head(
        "Needles",
        f"{w.needle()} and {w.needle(smaller=True)}, straight or circular; {w.needle(smaller=True)} "
        f"circular, {w.cable(80)}, for the bands",
    )
    w.head("Notions", f"{w.n(f.buttons)} buttons; 6 locking stitch markers; tapestry needle")
    w.gauge("flat")
    w.named("back", c.wide)
    w.named("front", f.front)
    w.named("neck", c.neck)
    w.named("shoulder", c.shoulder, "(back - neck) / 2")
    w.named("front neck", f.first)
    w.named("sleeve top", c.top)
    w.named("cuff", c.cuff)
    w.named("band", f.band)


def _up_to_the_neck(w: Writing, c: Counts, f: _Fronts, rows: Sequence[int]) -> None:
    ribbed_beginning(w, f.front, c.rib)
    w.line(f"Work {w.n(rows)} rows in stockinette stitch, beginning with a knit row. ({w.n(f.front)} sts)")
    w.so_long("The front", [c.rib + n for n in rows], EDGE)


def _left_front(w: Writing, c: Counts, f: _Fronts) -> None:
    w.section("Left front")
    _up_to_the_neck(w, c, f, [n + 1 for n in f.before_neck])
    w.line(f"Next row (WS): Bind off {w.n(f.first)} sts, purl to end. ({w.sum('front - front neck')} sts)")
    w.line("Dec row (RS): Knit to last 3 sts, k2tog, k1. (1 st decreased)")
    _to_the_shoulder(w, c, f, "side")


def _right_front(w: Writing, c: Counts, f: _Fronts) -> None:
    w.section("Right front")
    _up_to_the_neck(w, c, f, f.before_neck)
    w.line(f"Next row (RS): Bind off {w.n(f.first)} sts, knit to end. ({w.sum('front - front neck')} sts)")
    w.line("Next row (WS): Purl.")
    w.line("Dec row (RS): K1, ssk, knit to end. (1 st decreased)")
    _to_the_shoulder(w, c, f, "side")


def _to_the_shoulder(w: Writing, c: Counts, f: _Fronts, edge: str) -> None:
    w.line("Next row (WS): Purl.")
    w.times(f"Rep the last 2 rows {{n}} more. ({w.n(c.shoulder)} sts)", [n - 1 for n in f.decs])
    plain_rows(w, f.rest)
    w.note(f"Mark the {edge} edge {w.n(c.up)} rows below the top, as on the back.")
    w.line(f"Bind off all {w.n(c.shoulder)} sts.")


def _edges(w: Writing, c: Counts, f: _Fronts) -> None:
    """Neckband and front bands, in garter stitch after the shoulder seams."""
    w.section("Neckband")
    w.line("Sew the shoulder seams.")
    picked = [
        f"{w.n(f.first)} sts across the right front neck",
        f"{w.n(f.side)} sts up the right neck edge",
        f"{w.n(c.neck)} sts across the back neck",
        f"{w.n(f.side)} sts down the left neck edge",
        f"{w.n(f.first)} sts across the left front neck",
    ]
    w.line(
        "With the smaller circular needle and RS facing, beginning at the right front, "
        f"{', '.join(f'pick up and knit {one}' for one in picked)}. ({w.n(f.neckband)} sts)"
    )
    w.line("Row 1 (WS): Knit.")
    w.line(f"Rows 2-{NECKBAND_ROWS - 1}: As row 1.")
    w.line("Bind off loosely.")
    w.section("Button band")
    w.line(
        f"With the smaller circular needle and RS facing, beginning at the neck, pick up and knit "
        f"{w.n(f.band)} sts along the left front edge. ({w.n(f.band)} sts)"
    )
    w.line("Row 1 (WS): Knit.")
    w.line(f"Rows 2-{BAND_ROWS - 1}: As row 1.")
    w.line("Bind off loosely.")
    w.section("Buttonhole band")
    half = BAND_ROWS // 2
    w.line(
        f"With the smaller circular needle and RS facing, beginning at the lower corner, pick up and "
        f"knit {w.n(f.band)} sts along the right front edge. ({w.n(f.band)} sts)"
    )
    w.line("Row 1 (WS): Knit.")
    w.line(f"Rows 2 and {half - 1}: As row 1.")
    w.note(f"Row {half} makes {w.n(f.buttons)} buttonholes.")
    often = [n - 2 for n in f.buttons]
    w.line(
        f"Row {half} (RS): K{w.n(f.ahead)}, *yo, k2tog, k{w.n(f.between)}; rep from * {w.n(often)} times "
        f"more, yo, k2tog, knit to end. ({w.n(f.band)} sts)"
    )
    w.line(f"Rows {half + 1}-{BAND_ROWS - 1}: As row 1.")
    w.line("Bind off loosely.")


def _pockets(w: Writing, f: _Fronts) -> None:
    w.section("Pockets (make 2)")
    w.line(f"With the larger needles cast on {w.n(f.pocket)} sts.")
    w.line(f"Work {w.n(f.pocket_rows)} rows in stockinette stitch, beginning with a knit row.")
    w.line("Change to the smaller needles.")
    w.line(f"Knit {POCKET_RIM} rows.")
    w.line(f"Bind off all {w.n(f.pocket)} sts.")
