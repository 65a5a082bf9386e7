"""Hats: from the brim, from the crown, and sideways in wedges.

In: what was asked. Out: a :class:`~purlwright.sizing.starts.asked.Start`. Counts are exact; what is
rounded is rounded to whole stitches and rounds.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise, product

from purlwright.cloth.flatness import wedges_for_flat
from purlwright.sizing.bodies import rule
from purlwright.sizing.lists import times
from purlwright.sizing.spread import spread
from purlwright.sizing.starts.asked import Asked, Finish, Start
from purlwright.sizing.starts.writing import Writing, memory_notes
from purlwright.sizing.unknowns import NoPlan

__all__ = ["from_brim", "from_crown", "wedges"]

LINES = 8
"""Lines of decreases in a crown, as is usual (``data/rules.csv``)."""
TURNS = 5
"""Turns in a wedge."""


class _Counts:
    """The counts of a hat with a crown of eight lines."""

    def __init__(self, asked: Asked) -> None:
        knit = asked.knit
        self.head = asked.body_mm("circumference")
        self.wanted = asked.eased(self.head, -rule("hat smaller than head").share)
        self.around = [knit.sts(w, 2) for w in self.wanted]
        if min(self.around) < 3 * LINES:
            raise NoPlan(
                f"A hat of {min(self.around)} sts is too small for a crown of {LINES} lines; "
                "look at the gauge, the head and the ease."
            )
        self.wedge = [n // LINES for n in self.around]
        self.over = [n % LINES for n in self.around]
        self.high = asked.lengths.get("length") or tuple(h * rule("hat height").share for h in self.head)
        self.brim = knit.rws(rule("hat brim").mm)
        self.slow = [(w + 1) // 2 for w in self.wedge]
        self.fast = [w - 1 - s for w, s in zip(self.wedge, self.slow, strict=True)]
        self.crown = [2 * s + f for s, f in zip(self.slow, self.fast, strict=True)]
        changing = [1 if o else 0 for o in self.over]
        self.plain = [
            knit.rws(h) - self.brim - c - 1 - o
            for h, c, o in zip(self.high, self.crown, changing, strict=True)
        ]
        if min(self.plain) < 1:
            raise NoPlan(
                "The crown and the brim are higher than the whole hat: ask for a greater length, or "
                "look at the gauge."
            )
        rows = [self.brim + p + o + 1 + c for p, o, c in zip(self.plain, changing, self.crown, strict=True)]
        self.finished = (
            Finish(
                name="round",
                wanted_mm=tuple(self.wanted),
                mm=tuple(n * knit.stitch_mm for n in self.around),
                step_mm=knit.stitch_mm,
            ),
            Finish(
                name="high", wanted_mm=tuple(self.high), mm=tuple(r * knit.row_mm for r in rows),
                step_mm=knit.row_mm,
            ),
        )  # fmt: skip


def from_brim(asked: Asked) -> Start:
    """A hat in the round from the brim up, its crown in eight lines."""
    c = _Counts(asked)
    w = Writing(
        asked,
        "Hat from the Brim",
        "A plain hat worked in the round from a ribbed brim to a crown of eight lines.",
    )
    _heads(w, c)
    w.named("around", c.around)
    w.named("wedge", c.wedge)
    w.section("Brim")
    w.line(
        f"With the smaller needles cast on {w.n(c.around)} sts. Join to work in the round, being "
        f"careful not to "
        "twist, and place a marker for the beginning of the round."
    )
    w.line("Rnd 1: *K1, p1; rep from * to end.")
    w.line(f"Rnds 2-{c.brim}: As rnd 1.")
    w.line("Change to the larger needles.")
    w.section("Body")
    w.line(f"Knit {w.n(c.plain)} rnds.")
    w.so_long("The hat", [c.brim + n for n in c.plain], "the cast-on edge")
    for n, (around, over) in enumerate(zip(c.around, c.over, strict=True)):
        if over:
            found = spread("decrease", over, around)
            w.line(f"{_size_only(w, n)}Next rnd: {found.words}. ({found.after} sts)")
    w.section("Crown")
    w.line(f"Next rnd: *K{w.n(c.wedge)}, pm; rep from * to end. ({w.sum(f'{LINES} * wedge')} sts)")
    w.line(f"Dec rnd: *Knit to 2 sts before m, k2tog, sm; rep from * to end. ({LINES} sts decreased)")
    w.line("Next rnd: Knit.")
    w.line(
        f"Rep the last 2 rnds until "
        f"{w.n([LINES * (x - s) for x, s in zip(c.wedge, c.slow, strict=True)])} sts remain."
    )
    w.times("Rep dec rnd {n} more. " + f"({LINES} sts)", c.fast)
    w.line("Break the yarn, draw it through the remaining sts and fasten off.")
    w.section("Finishing")
    w.line("Weave in the ends. Wash, and dry flat.")
    return Start(
        text=w.text(memory_notes(asked, ["circumference"])),
        finished=c.finished,
        counts={
            "cast-on": tuple(c.around),
            "stitches a wedge": tuple(c.wedge),
            "plain rounds": tuple(c.plain),
        },
        said=(),
    )


def _size_only(w: Writing, n: int) -> str:
    return w.only([k == n for k in range(len(w.sizes))])


def _heads(w: Writing, c: _Counts) -> None:
    w.to_fit("head", c.head)
    w.finished([(c.finished[0], "round"), (c.finished[1], "high")])
    w.yarn()
    w.head("Needles", f"{w.needle()} and {w.needle(smaller=True)}, double-pointed or a long circular")
    w.head("Notions", f"{LINES} stitch markers; tapestry needle")
    w.gauge("in the round")


def from_crown(asked: Asked) -> Start:
    """The same hat from the crown down."""
    c = _Counts(asked)
    w = Writing(
        asked,
        "Hat from the Crown",
        "A plain hat worked in the round from a crown of eight lines down to a ribbed brim.",
    )
    _heads(w, c)
    w.named("wedge", c.wedge)
    w.named("around", c.around)
    w.section("Crown")
    w.line(
        f"With the larger needles cast on {LINES} sts. Join to work in the round, being careful not to "
        f"twist, and "
        "place a marker for the beginning of the round."
    )
    w.line(f"Rnd 1: *Kfb; rep from * to end. ({2 * LINES} sts)")
    w.line("Rnd 2: *K2, pm; rep from * to end.")
    w.line(f"Inc rnd: *Knit to m, m1r, sm; rep from * to end. ({LINES} sts increased)")
    w.times("Rep inc rnd {n} more.", [f - 2 for f in c.fast])
    w.line("Next rnd: Knit.")
    w.line("Next rnd: *Knit to m, m1r, sm; rep from * to end.")
    w.line(f"Rep the last 2 rnds until there are {w.sum(f'{LINES} * wedge')} sts.")
    w.section("Body")
    w.line("Next rnd: *Knit to m, remove m; rep from * to end.")
    for n, (wedge, over) in enumerate(zip(c.wedge, c.over, strict=True)):
        if over:
            found = spread("increase", over, LINES * wedge)
            words = found.words.replace("m1", "m1r").replace("M1", "M1r")
            w.line(f"{_size_only(w, n)}Next rnd: {words}. ({found.after} sts)")
    w.line(f"Knit {w.n(c.plain)} rnds.")
    w.section("Brim")
    w.line("Change to the smaller needles.")
    w.line("Rnd 1: *K1, p1; rep from * to end.")
    w.line(f"Rnds 2-{c.brim}: As rnd 1. ({w.n(c.around)} sts)")
    w.line("Bind off loosely in pattern.")
    w.section("Finishing")
    w.note("Thread the tail of the cast-on through its stitches, draw up and fasten off.")
    w.line("Weave in the ends. Wash, and dry flat.")
    return Start(
        text=w.text(memory_notes(asked, ["circumference"])),
        finished=c.finished,
        counts={"brim": tuple(c.around), "stitches a wedge": tuple(c.wedge), "plain rounds": tuple(c.plain)},
        said=(),
    )


def wedges(asked: Asked) -> Start:
    """A garter-stitch hat knitted sideways in short-row wedges, grafted: turns wrapped or with a double
    stitch.
    """
    knit = asked.knit
    head = asked.body_mm("circumference")
    wanted = asked.eased(head, -rule("hat smaller than head").share)
    high = asked.lengths.get("length") or tuple(h * rule("hat height").share for h in head)
    across = [knit.sts(h, 2) for h in high]
    step = 4
    turns = TURNS + (0, -1, 1, -2)[asked.way % 4]
    per = 2 * (turns + 1)
    ridges = _ridges([want / knit.row_mm / 2 for want in wanted], per // 2)
    rows = [2 * r for r in ridges]
    many = [r // per for r in rows]
    wider = [(r - m * per) // 2 for r, m in zip(rows, many, strict=True)]
    if (
        min(across) < step * (turns + 1)
        or min(many) < 6
        or any(x >= m for x, m in zip(wider, many, strict=True))
    ):
        raise NoPlan(
            f"A hat of {min(across)} sts from brim to crown and {min(rows)} rows round has no room for "
            f"wedges of "
            f"{per} rows; look at the gauge and the sizes."
        )
    flat = wedges_for_flat(step, float(knit.stitch_mm), float(knit.row_mm))
    brim = Finish(
        name="round the brim",
        wanted_mm=tuple(wanted),
        mm=tuple(r * knit.row_mm for r in rows),
        step_mm=2 * knit.row_mm,
    )
    tall = Finish(
        name="from brim to crown", wanted_mm=tuple(high), mm=tuple(n * knit.stitch_mm for n in across),
        step_mm=2 * knit.stitch_mm,
    )  # fmt: skip
    w = Writing(
        asked, "Wedge Hat",
        "A garter-stitch hat knitted sideways in short-row wedges, from a provisional cast-on to a graft.",
    )  # fmt: skip
    w.to_fit("head", head)
    w.finished([(brim, "round the brim"), (tall, "from brim to crown")])
    w.yarn()
    w.head("Needles", f"{w.needle()}, and a spare needle of the same size or a little finer for the graft")
    w.head("Notions", "smooth waste yarn for the cast-on; tapestry needle")
    w.gauge("flat")
    w.head("Options", "turns = wrapped (usual), double stitch")
    w.named("height", across)
    total = w.n(across)
    w.section("Wedge")
    w.line(f"Cast on {total} sts provisionally.")
    w.line("Row 1 (RS): Knit.")
    w.line(f"wrapped only: Row 2 (WS): Knit to last {step} sts, w&t.")
    w.line(f"double stitch only: Row 2 (WS): Knit to last {step} sts, turn and make a double stitch.")
    w.line("Row 3: Knit to end.")
    w.line(f"wrapped only: Row 4: Knit to {step} sts before gap, w&t.")
    w.line(f"double stitch only: Row 4: Knit to {step} sts before gap, turn and make a double stitch.")
    w.line(f"Rows 5-{per - 2}: Rep rows 3 and 4 {times((per - 6) // 2)}.")
    w.line(f"Row {per - 1}: Knit to end.")
    w.line(f"wrapped only: Row {per}: Knit to end, leaving the wraps as they are. ({total} sts)")
    w.line(f"double stitch only: Row {per}: Knit to end, working each double stitch as one. ({total} sts)")
    w.note(f"That is one wedge: {per} rows at the brim, and two at the crown.")
    w.line(
        f"Repeat rows 1-{per} until {w.n([m - x - 1 for m, x in zip(many, wider, strict=True)])} wedges "
        f"are done."
    )
    if any(wider):
        w.section("Wider wedges")
        w.note("A few wedges have two rows more, so that the brim comes out as long as it should be.")
        here = w.only([x > 0 for x in wider])
        w.line(f"{here}Work rows 1-{per} once more.")
        w.line(f"{here}Next 2 rows: Knit. ({total} sts)")
        w.times(f"Rep the last {per + 2} rows {{n}} more.", [max(x - 1, 0) for x in wider])
    w.section("Last wedge")
    w.line(f"Work rows 1-{per - 1} once more. ({total} sts)")
    w.note(
        "The graft is the last row of this wedge. With one more row you would see a flat stripe at the join."
    )
    w.section("Finishing")
    w.line("Break the yarn, leaving a tail four times as long as the needle edge.")
    w.note("Unpick the waste yarn and place the cast-on sts on the spare needle.")
    w.line("Graft the live sts to the cast-on sts in garter stitch.")
    w.note("Run the tail through the ridges of the crown edge, draw up tightly and fasten off.")
    w.line("Weave in the ends. Wash, and dry over a bowl.")
    return Start(
        text=w.text(memory_notes(asked, ["circumference"])),
        finished=(brim, tall),
        counts={"cast-on": tuple(across), "wedges": tuple(many), "of them wider": tuple(wider)},
        said=(f"It cups, as a hat should: about {flat:.0f} wedges would lie flat at this gauge.",),
    )


def _ridges(wanted: list[Fraction], per: int) -> list[int]:
    """Whole ridges round the brim, rounded so that a larger size does not have fewer of the plain wedges."""
    whole = [w.numerator // w.denominator for w in wanted]
    best = min(
        product(*((w, w + 1) for w in whole)),
        key=lambda chosen: (
            sum(a // per - a % per > b // per - b % per for a, b in pairwise(chosen)),
            sum(abs(a - b) for a, b in zip(chosen, wanted, strict=True)),
        ),
    )
    return list(best)
