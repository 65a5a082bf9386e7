"""What pullovers in flat pieces have in common: ribbed beginnings, straight sleeves, a picked-up neckband.

In: what is being written, and counts of every size. Out: its lines.
"""

from __future__ import annotations

from collections.abc import Sequence

from purlwright.sizing.shaping import even_rates
from purlwright.sizing.starts.asked import Knit
from purlwright.sizing.starts.pullovers import near, rate_lines
from purlwright.sizing.starts.writing import Writing

__all__ = [
    "EDGE",
    "neck_divided",
    "neck_rejoined",
    "neckband",
    "plain_rows",
    "ribbed_beginning",
    "sleeve_up_to",
]

EDGE = "the cast-on edge"
INC = "K1, m1l, knit to last st, m1r, k1. (2 sts increased)"


def ribbed_beginning(w: Writing, stitches: Sequence[int], rib: int) -> None:
    """Cast on, and so many rows of rib on the smaller needles."""
    w.line(f"With the smaller needles cast on {w.n(stitches)} sts.")
    w.line("Row 1 (RS): *K1, p1; rep from * to end.")
    w.line(f"Rows 2-{rib}: As row 1.")
    w.line("Change to the larger needles.")


def sleeve_up_to(
    w: Writing, stitches: Sequence[int], cuff: Sequence[int], rows: Sequence[int], rib: int
) -> None:
    """A sleeve from its cuff, increased at both edges over ``rows`` up to its widest."""
    w.section("Sleeves (make 2)")
    ribbed_beginning(w, cuff, rib)
    each = zip(stitches, cuff, rows, strict=True)
    rates = [even_rates((wide - narrow) // 2, many, 2) for wide, narrow, many in each]
    rate_lines(w, rates, INC, "row", w.n(stitches))
    w.so_long("The sleeve", [rib + n for n in rows], EDGE)


def plain_rows(w: Writing, rows: Sequence[int]) -> None:
    """So many rows of stockinette from a right-side row on, in the sizes that have any."""
    worked = {n for n in rows if n > 0}
    some = w.only([n > 0 for n in rows]) if worked else ""
    if worked == {1}:
        w.line(f"{some}Next row (RS): Knit.")
    elif worked:
        many = f"{max(worked)}" if len(worked) == 1 else w.n([n or None for n in rows])
        w.line(f"{some}Work {many} rows in stockinette stitch, beginning with a knit row.")


def neck_divided(w: Writing, side: Sequence[int], rest: str) -> None:
    """The row that turns at the neck: ``side`` stitches are worked on, and the ``rest`` wait on a holder."""
    w.line(
        f"Next row (RS): K{w.n(side)}, place the remaining {rest} sts on a holder, turn. ({w.n(side)} sts)"
    )


def neck_rejoined(w: Writing, middle: Sequence[int], side: Sequence[int]) -> None:
    """The row that takes up what waited, bound off in the middle: ``side`` stitches are left."""
    w.line(
        f"With RS facing, place the held sts on the needle, rejoin the yarn and bind off {w.n(middle)} sts, "
        f"knit to end. ({w.n(side)} sts)"
    )


def neckband(
    w: Writing, knit: Knit, drop: Sequence[int], neck: Sequence[int], middle: Sequence[int]
) -> list[int]:
    """The neckband after the shoulder seams; its stitches in each size.

    drop : rows from the bound-off middle of the front to the shoulder. neck, middle : stitches across the
    back neck, and across that middle.
    """
    w.section("Neckband")
    w.line("Sew the shoulder seams.")
    edge = [near(d * knit.row_mm / knit.stitch_mm) for d in drop]
    sides = [e + (1 if (k + m) % 2 else 0) for e, k, m in zip(edge, neck, middle, strict=True)]
    band = [k + m + 2 * e for k, m, e in zip(neck, middle, sides, strict=True)]
    w.line(
        "With the smaller circular needle and RS facing, beginning at the left shoulder, pick up and knit "
        f"{w.n(sides)} sts down the left neck edge, pick up and knit {w.n(middle)} sts across the front "
        f"neck, pick up and knit {w.n(sides)} sts up the right neck edge, pick up and knit {w.n(neck)} sts "
        f"across the back neck, pm and join to work in the round. ({w.n(band)} sts)"
    )
    w.line("Next 6 rnds: *K1, p1; rep from * to end.")
    w.line("Bind off loosely in pattern.")
    return band
