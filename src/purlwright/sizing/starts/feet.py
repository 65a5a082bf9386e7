"""Socks: from the cuff and from the toe, both with a heel on short rows over half the round.

In: what was asked. Out: a :class:`~purlwright.sizing.starts.asked.Start`.
"""

from __future__ import annotations

from fractions import Fraction

from purlwright.sizing.bodies import rule
from purlwright.sizing.lists import growing
from purlwright.sizing.starts.asked import Asked, Finish, Start
from purlwright.sizing.starts.writing import Writing, memory_notes
from purlwright.sizing.turning import heel
from purlwright.sizing.unknowns import NoPlan

__all__ = ["from_cuff", "from_toe"]


class _Counts:
    """The counts of a sock."""

    def __init__(self, asked: Asked) -> None:
        knit = asked.knit
        self.foot = asked.body_mm("circumference")
        self.wanted = asked.eased(self.foot, -rule("sock smaller than foot").share)
        self.around = [knit.sts(x, 2) for x in self.wanted]
        if min(self.around) < 24:
            raise NoPlan(
                f"A sock of {min(self.around)} sts has no room for a heel; look at the gauge and the foot."
            )
        self.half = [n // 2 for n in self.around]
        self.side = [heel(n).side for n in self.around]
        length = asked.body_mm("length")
        self.long = tuple(x - rule("sock shorter than foot").mm for x in length)
        tall = asked.body_or("sock height", tuple(x * Fraction(7, 10) for x in length))
        self.cuff = knit.rws(rule("sock cuff").mm)
        self.leg = [max(knit.rws(x) - self.cuff, 4) for x in tall]
        self.last = _toe_ends(self.around)
        toes = [_toe(n, last) for n, last in zip(self.around, self.last, strict=True)]
        self.middle, self.toe = [m for m, _ in toes], [r for _, r in toes]
        # a heel on short rows is as long as its turns: each stitch of a side is two rows, one way and back
        self.heel = [2 * s for s in self.side]
        self.plain = [knit.rws(x) - t - s for x, t, s in zip(self.long, self.toe, self.heel, strict=True)]
        if min(self.plain) < 2:
            raise NoPlan("Heel and toe are longer than the whole foot; look at the row gauge and the foot.")
        self.finished = (
            Finish(
                name="round the foot", wanted_mm=tuple(self.wanted),
                mm=tuple(n * knit.stitch_mm for n in self.around), step_mm=knit.stitch_mm,
            ),
            Finish(
                name="from heel to toe", wanted_mm=self.long,
                mm=tuple(
                    (p + t + s) * knit.row_mm
                    for p, t, s in zip(self.plain, self.toe, self.heel, strict=True)
                ),
                step_mm=knit.row_mm,
            ),
        )  # fmt: skip


def _toe_ends(around: list[int]) -> list[int]:
    """Stitches left at the end of a toe, about two fifths of the round, no fewer in a larger size."""
    share = rule("sock toe end").share
    below = [4 * int((n * share - n % 4) / 4) + n % 4 for n in around]
    return growing([(b, b + 4) for b in below], [n * share for n in around])


def _toe(around: int, last: int) -> tuple[int, int]:
    """Stitches where every round is decreased from then on, and rounds of the whole toe."""
    slow = (around - last) // 4 * 2 // 3
    middle = around - 4 * slow
    return middle, 2 * slow + (middle - last) // 4


def _heads(w: Writing, c: _Counts) -> None:
    w.to_fit("foot", c.foot)
    w.finished([(c.finished[0], "round the foot"), (c.finished[1], "from heel to toe")])
    w.yarn()
    w.head("Needles", f"{w.needle()}, a set of 5 double-pointed or a long circular")
    w.head("Notions", "2 stitch markers; tapestry needle")
    w.gauge("in the round")
    w.head("Make", "2")
    w.named("around", c.around)
    w.named("half", c.half, "around / 2")
    w.named("toe", c.last)


def _heel(w: Writing, c: _Counts) -> None:
    w.section("Heel")
    w.note(
        "The heel is worked back and forth over the first half of the round. The other sts wait for the "
        "instep."
    )
    w.line(f"Row 1 (RS): Knit {w.sum('half - 1')}, w&t.")
    w.line(f"Row 2 (WS): Purl {w.sum('half - 2')}, w&t.")
    w.line("Row 3: Knit to 1 st before gap, w&t.")
    w.line("Row 4: Purl to 1 st before gap, w&t.")
    w.times("Rep rows 3 and 4 {n} more.", [s - 2 for s in c.side])
    middle = [h - 2 * s for h, s in zip(c.half, c.side, strict=True)]
    w.note(f"{w.n(middle)} sts stand unwrapped in the middle, with {w.n(c.side)} wrapped sts on each side.")
    w.line("Now work outwards again.")
    w.line("Row 1 (RS): Knit to the gap, knit the wrapped st together with its wrap, w&t.")
    w.line("Row 2 (WS): Purl to the gap, purl the wrapped st together with its wrap, w&t.")
    w.note("From the second row on each stitch met has two wraps: lift both.")
    w.times("Rep rows 1 and 2 {n} more.", [s - 2 for s in c.side])
    w.note("One wrapped stitch is left at each end of the heel.")


def from_cuff(asked: Asked) -> Start:
    """A pair of socks from the cuff down, the toe grafted."""
    c = _Counts(asked)
    w = Writing(
        asked,
        "Socks from the Cuff",
        "Plain socks worked from a ribbed cuff down, with a short-row heel and a grafted toe.",
    )
    _heads(w, c)
    w.section("Cuff")
    w.line(
        f"Cast on {w.n(c.around)} sts loosely. Join to work in the round, being careful not to twist, "
        f"and place a marker "
        "for the beginning of the round."
    )
    w.line("Rnd 1: *K1, p1; rep from * to end.")
    w.line(f"Rnds 2-{c.cuff}: As rnd 1.")
    w.section("Leg")
    w.line(f"Knit {w.n(c.leg)} rnds. ({w.n(c.around)} sts)")
    _heel(w, c)
    w.section("Foot")
    w.line("Next rnd: Knit to the gap, knit the wrapped st together with its wraps, pm, knit to end.")
    w.line(f"Next rnd: Knit the wrapped st together with its wraps, knit to end. ({w.n(c.around)} sts)")
    w.line(f"Knit {w.n([p - 2 for p in c.plain])} rnds.")
    w.note("Try the sock on. The toe begins where the little toe ends.")
    w.section("Toe")
    w.line(
        "Dec rnd: K1, ssk, knit to 3 sts before m, k2tog, k1, sm, k1, ssk, knit to last 3 sts, k2tog, "
        "k1. (4 sts decreased)"
    )
    w.line("Next rnd: Knit.")
    w.line(f"Rep the last 2 rnds until {w.n(c.middle)} sts remain.")
    w.line(f"Rep dec rnd until {w.n(c.last)} sts remain.")
    w.section("Finishing")
    w.line(f"Break the yarn, leaving a {'12 in' if asked.inches else '30 cm'} tail.")
    w.line("Graft the sole sts to the instep sts.")
    w.line(
        "Weave in the ends, closing the small holes at the heel as you pass. Wash, and dry on a flat towel."
    )
    return _start(asked, w, c)


def from_toe(asked: Asked) -> Start:
    """A pair of socks from the toe up."""
    c = _Counts(asked)
    w = Writing(
        asked,
        "Socks from the Toe",
        "Plain socks worked from the toe up, with a short-row heel and a ribbed cuff.",
    )
    _heads(w, c)
    w.section("Toe")
    first = w.sum("toe / 2")
    w.line(f"Cast on {first} sts.")
    w.line(
        f"Row 1 (RS): Knit to end, do not turn; pick up and knit {first} sts from the cast-on "
        f"edge, place a marker for "
        f"the beginning of the round and join to work in the round. ({w.n(c.last)} sts)"
    )
    w.line(f"Next rnd: K{first}, pm, knit to end.")
    w.line(
        "Inc rnd: K1, m1l, knit to 1 st before m, m1r, k1, sm, k1, m1l, knit to last st, m1r, k1. (4 "
        "sts increased)"
    )
    w.line(f"Rep inc rnd until there are {w.n(c.middle)} sts.")
    w.line("Next rnd: Knit.")
    w.line("Next rnd: K1, m1l, knit to 1 st before m, m1r, k1, sm, k1, m1l, knit to last st, m1r, k1.")
    w.line(f"Rep the last 2 rnds until there are {w.n(c.around)} sts.")
    w.section("Foot")
    w.line(f"Knit {w.n([p - 2 for p in c.plain])} rnds. ({w.n(c.around)} sts)")
    w.note("Try the sock on. It should end about where the foot begins to rise to the leg.")
    _heel(w, c)
    w.section("Leg")
    w.line("Next rnd: Knit to the gap, knit the wrapped st together with its wraps, remove m, knit to end.")
    w.line(f"Next rnd: Knit the wrapped st together with its wraps, knit to end. ({w.n(c.around)} sts)")
    w.line(f"Knit {w.n(c.leg)} rnds.")
    w.section("Cuff")
    w.line("Rnd 1: *K1, p1; rep from * to end.")
    w.line(f"Rnds 2-{c.cuff}: As rnd 1.")
    w.line("Bind off very loosely in pattern.")
    w.section("Finishing")
    w.line(
        "Weave in the ends, closing the small holes at the heel as you pass. Wash, and dry on a flat towel."
    )
    return _start(asked, w, c)


def _start(asked: Asked, w: Writing, c: _Counts) -> Start:
    return Start(
        text=w.text(memory_notes(asked, ["circumference", "length", "sock height"])),
        finished=c.finished,
        counts={
            "cast-on": tuple(c.around), "heel": tuple(c.half), "wrapped a side": tuple(c.side),
            "toe end": tuple(c.last),
        },
        said=(),
    )  # fmt: skip
