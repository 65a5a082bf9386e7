"""Shawls and mats: triangle, crescent, half-round and flat round.

In: what was asked: how wide or how deep each size is to be, under ``lengths["across"]``. Out: a
:class:`~purlwright.sizing.starts.asked.Start`.
"""

from __future__ import annotations

from fractions import Fraction
from math import pi, sqrt

from purlwright.sizing.lists import ordinal
from purlwright.sizing.rounds import disc
from purlwright.sizing.starts.asked import Asked, Finish, Start
from purlwright.sizing.starts.writing import Writing
from purlwright.units import half_up

__all__ = ["crescent", "half_round", "round_mat", "triangle"]

TAB = 9
"""Stitches after a garter tab of three: three for each border and three between."""
TAB_ROWS = 8
"""Rows of the tab, up to the first row that widens."""
BEFORE = 4
"""Rows of a half circle that its ridges do not count: the tab has eight, of which two ridges are counted."""
EDGE = Fraction(105, 100)
"""The top edge of a half circle is so many times as long as its rows are high: the fabric between pulls its
border. Own, measured on settled cloth (benchmarks/STARTS_AS_CLOTH.md): 1.03.
"""
PULL, PULL_A_ROW = Fraction(10135, 10000), Fraction(416, 1_000_000)
"""The same for a triangle, at no rows, and more for each row: a larger one pulls its border farther. Own, a
straight line through settled cloth of 84 to 236 rows, at 16 sts and 32 rows to 10 cm: 1.048 to 1.112.
"""
PINNED = "The top edge is as the cloth settles; how deep it is pinned out is for whoever blocks it."

CURVED = (
    "The lower edge is as the gauge has it; pinned out flat in its curve, it stretches by about a twentieth."
)
"""Own, measured on settled cloth of 54 to 142 rows: 1.04 to 1.07."""


def _across(asked: Asked, usual: tuple[int, ...]) -> tuple[Fraction, ...]:
    found = asked.lengths.get("across")
    if found is None:
        return tuple(Fraction(n) for n in usual[: len(asked.sizes)])
    return found


def _begin(w: Writing, finished: list[tuple[Finish, str]], notions: str, sts: list[int]) -> None:
    w.finished(finished)
    w.yarn()
    widest = max(sts) * float(w.asked.knit.stitch_mm) / 10
    cable = next((x for x in (80, 100, 120, 150) if widest < 2.5 * x), 150)
    w.head("Needles", f"{w.needle()} circular, {w.cable(cable)} or longer")
    w.head("Notions", notions)
    w.gauge("flat")


def _tab(w: Writing) -> None:
    w.section("Garter tab")
    w.line("Cast on 3 sts.")
    w.line("Knit 6 rows.")
    w.line(
        "Next row (RS): K3, do not turn; pick up and knit 3 sts along the row ends, then pick up and "
        "knit 3 sts from the "
        f"cast-on edge. ({TAB} sts)"
    )
    w.note("One stitch for each garter ridge, and one for each cast-on stitch.")


def triangle(asked: Asked) -> Start:
    """A triangle in garter stitch from the middle of the neck down, 4 stitches more on every right-side
    row.
    """
    knit = asked.knit
    wanted = _across(asked, (1200, 1600, 1900))
    rows = [_triangle_rows(x, knit.row_mm) for x in wanted]
    sts = [TAB + 2 * r for r in rows]
    across = Finish(
        name="along the top edge", wanted_mm=wanted,
        mm=tuple(_triangle_edge(r, knit.row_mm) for r in rows),
        step_mm=4 * _triangle_pull(max(rows)) * knit.row_mm,
    )  # fmt: skip
    w = Writing(
        asked,
        "Triangle Shawl",
        "A garter-stitch triangle worked from the middle of the neck down, with a centre spine.",
    )
    _begin(
        w,
        [(across, "along the top edge")],
        "2 stitch markers; tapestry needle",
        sts,
    )
    w.named("edge", sts)
    _tab(w)
    w.line("Next row (WS): K4, pm, k1, pm, k4.")
    w.section("Body")
    w.line("Row 1 (RS): K3, yo, knit to m, yo, sm, k1, sm, yo, knit to last 3 sts, yo, k3. (4 sts increased)")
    w.line("Row 2 (WS): Knit.")
    w.line(f"Rep rows 1 and 2 until there are {w.n(sts)} sts.")
    w.line("Bind off loosely.")
    w.section("Finishing")
    w.line("Weave in the ends. Soak, pin out to the finished size, and leave to dry.")
    return Start(
        text=w.text(),
        finished=(across,),
        counts={"last count": tuple(sts), "rows": tuple(rows)},
        said=(PINNED,),
    )


def _triangle_pull(rows: int) -> Fraction:
    return PULL + PULL_A_ROW * rows


def _triangle_edge(rows: int, row_mm: Fraction) -> Fraction:
    """The top edge of a triangle of so many rows after its tab."""
    return 2 * (rows + TAB_ROWS) * row_mm * _triangle_pull(rows)


def _triangle_rows(wanted_mm: Fraction, row_mm: Fraction) -> int:
    """The even number of rows whose top edge is nearest to what is wanted; 8 at least."""
    most = int(wanted_mm / row_mm) + 8  # the edge is never shorter than twice as many rows are high
    return min(range(8, max(most, 10), 2), key=lambda r: abs(_triangle_edge(r, row_mm) - wanted_mm))


def crescent(asked: Asked) -> Start:
    """A crescent in garter stitch, a stitch more at both ends of every row."""
    knit = asked.knit
    wanted = _across(asked, (1300, 1700, 2100))
    sts = [max(TAB + 8, knit.sts(x, 4, 1)) for x in wanted]
    rows = [(n - TAB) // 2 for n in sts]
    edge = Finish(
        name="along the lower edge", wanted_mm=wanted, mm=tuple(n * knit.stitch_mm for n in sts),
        step_mm=2 * knit.stitch_mm,
    )  # fmt: skip
    deep = Finish(
        name="deep", wanted_mm=tuple(r * knit.row_mm for r in rows), mm=tuple(r * knit.row_mm for r in rows),
        step_mm=knit.row_mm,
    )  # fmt: skip
    w = Writing(
        asked,
        "Crescent Shawl",
        "A garter-stitch crescent worked from the middle of the neck down, widened at both ends of "
        "every row.",
    )
    _begin(w, [(edge, "along the lower edge"), (deep, "deep")], "tapestry needle", sts)
    w.named("edge", sts)
    _tab(w)
    w.line("Next row (WS): Knit.")
    w.section("Body")
    w.line("Row 1 (RS): K3, yo, knit to last 3 sts, yo, k3. (2 sts increased)")
    w.line("Row 2 (WS): K3, yo, knit to last 3 sts, yo, k3. (2 sts increased)")
    w.line(f"Rep rows 1 and 2 until there are {w.n(sts)} sts.")
    w.line("Bind off loosely.")
    w.section("Finishing")
    w.line("Weave in the ends. Soak, pin out in a curve to the finished size, and leave to dry.")
    return Start(
        text=w.text(),
        finished=(edge, deep),
        counts={"last count": tuple(sts), "rows": tuple(rows)},
        said=(CURVED,),
    )


def half_round(asked: Asked) -> Start:
    """A half circle in garter stitch whose stitches are doubled whenever its radius has doubled."""
    knit = asked.knit
    wanted = _across(asked, (1200, 1500, 1800))
    step = float(2 * EDGE * knit.row_mm)
    ridges = [max(8, round((float(x) / step - BEFORE) / 2)) for x in wanted]
    inner, plain = _doublings(knit.stitch_mm, knit.row_mm, max(ridges))
    across = Finish(
        name="along the top edge", wanted_mm=wanted,
        mm=tuple(Fraction((2 * r + BEFORE) * step) for r in ridges),
        step_mm=Fraction(2 * step),
    )  # fmt: skip
    w = Writing(
        asked,
        "Half-Round Shawl",
        "A garter-stitch half circle worked from the middle of the neck outwards; the stitches are "
        "doubled in a few rows.",
    )
    _begin(w, [(across, "along the top edge")], "tapestry needle", [(inner << len(plain)) + 6])
    runs = _runs(plain, ridges)
    w.named("middle", [inner] * len(ridges))
    w.named("outer", runs[-1])
    _tab(w)
    w.line("Next row (WS): Knit.")
    w.section("Body")
    last = [TAB] * len(ridges)
    for n, rows in enumerate(runs):
        if any(rows):
            w.line(f"Knit {w.n(rows)} rows.")
        if n + 1 == len(runs):
            break
        here = [r > sum(plain[: n + 1]) + n + 2 for r in ridges]
        only, total = w.only(here), w.sum(f"{2 << n} * middle + 6")
        w.line(f"{only}Inc row (RS): K3, *yo, k1; rep from * to last 3 sts, k3. ({total} sts)")
        w.line(f"{only}Next row (WS): Knit.")
        count = (inner << n + 1) + 6
        last = [count if yes else old for yes, old in zip(here, last, strict=True)]
    w.line("Bind off loosely.")
    w.section("Finishing")
    w.line("Weave in the ends. Soak, pin out to a half circle of the finished size, and leave to dry.")
    return Start(
        text=w.text(),
        finished=(across,),
        counts={"last count": tuple(last), "ridges": tuple(ridges)},
        said=(),
    )


def _runs(plain: list[int], ridges: list[int]) -> list[list[int]]:
    """Plain rows of each size before the first doubling, before the second, and so on; none where it has
    ended.
    """
    out: list[list[int]] = []
    done = 2
    for many in plain:
        out.append([2 * min(many, max(r - done, 0)) for r in ridges])
        done += many
        if all(r <= done for r in ridges):
            break
        done += 1
    return out


def _doublings(stitch: Fraction, row: Fraction, ridges: int) -> tuple[int, list[int]]:
    """Stitches between the borders at the beginning, and the plain ridges before each doubling.

    A half circle is pi times its radius round. Before a doubling it has too few stitches for that, after
    it too many, by as much: the square root of 2.
    """
    inner, count = TAB - 6, TAB - 6
    out: list[int] = []
    done = 2
    while done < ridges:
        radius = sqrt(2) * (count + 6) * float(stitch) / pi
        at = max(round(radius / (2 * float(row))), done + 1)
        out.append(at - done)
        done = at + 1
        count *= 2
    return inner, out


def round_mat(asked: Asked) -> Start:
    """A flat round from the middle out, with lines of increases."""
    knit = asked.knit
    wanted = _across(asked, (250, 350, 450))
    garter = "garter" in asked.fabric
    choice = (2,) if garter else (2, 1, 3, 4)
    found = [disc(float(x), float(knit.stitch_mm), float(knit.row_mm), every_of=choice) for x in wanted]
    lines, every = found[0].lines, found[0].every
    inner = 2 * lines * float(knit.stitch_mm) / (2 * pi)
    repeats = [
        max(2, int(half_up(Fraction((float(x) / 2 - inner) / float(knit.row_mm) / every), Fraction(1))))
        for x in wanted
    ]
    rounds = [r * every for r in repeats]
    last = [lines * (2 + r) for r in repeats]
    across = Finish(
        name="across", wanted_mm=wanted,
        mm=tuple(Fraction(2 * (inner + r * float(knit.row_mm))) for r in rounds),
        step_mm=max(knit.stitch_mm, every * 2 * knit.row_mm),
    )  # fmt: skip
    w = Writing(
        asked, "Round Mat", f"A flat round worked from the middle outwards, with {lines} lines of increases."
    )
    w.finished([(across, "across")])
    w.yarn()
    w.head("Needles", f"{w.needle()} double-pointed and circular")
    w.head("Notions", f"{lines} stitch markers; tapestry needle")
    w.gauge("in the round")
    w.named("rim", last)
    w.section("Middle")
    w.line(
        f"Cast on {lines} sts. Join to work in the round, being careful not to twist, and place a "
        f"marker for the beginning "
        "of the round."
    )
    w.line(f"Rnd 1: *Kfb; rep from * to end. ({2 * lines} sts)")
    w.line("Rnd 2: *K2, pm; rep from * to end.")
    w.section("Round")
    plain = every - 1
    inc = f"*Knit to m, m1r, sm; rep from * to end. ({lines} sts increased)"
    if garter and every == 2:
        w.line(f"Rnd 1: {inc}")
        w.line("Rnd 2: Purl.")
        w.line(f"Rep rnds 1 and 2 until there are {w.n(last)} sts.")
    elif plain:
        w.line(f"Inc rnd: {inc}")
        w.line("Next rnd: Knit." if plain == 1 else f"Next {plain} rnds: Knit.")
        w.line(f"Rep the last {every} rnds until there are {w.n(last)} sts.")
    else:
        w.line(f"Inc rnd: {inc}")
        w.line(f"Rep inc rnd until there are {w.n(last)} sts.")
    w.line("Bind off loosely.")
    w.section("Finishing")
    w.note("Thread the tail of the cast-on through its stitches, draw up and fasten off.")
    w.line("Weave in the ends. Soak, pin out to a circle, and leave to dry.")
    turned = found[0].turned
    often = {1: "every round", 2: "every other round"}.get(every, f"every {ordinal(every)} round")
    grows = f"It grows by {lines} sts on {often}; {found[0].exact:.2f} sts a round would lie just flat."
    said = (f"{grows} It turns {turned * 360:.0f} of 360 degrees.",)
    return Start(
        text=w.text(), finished=(across,), said=said,
        counts={"lines": (lines,) * len(wanted), "last count": tuple(last), "rounds": tuple(rounds)},
    )  # fmt: skip
