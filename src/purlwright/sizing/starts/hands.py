"""Mittens: in the round from the cuff, a thumb gusset at the side, both alike.

In: what was asked. Out: a :class:`~purlwright.sizing.starts.asked.Start`.
"""

from __future__ import annotations

from fractions import Fraction

from purlwright.sizing.bodies import rule
from purlwright.sizing.lists import growing
from purlwright.sizing.starts.asked import Asked, Finish, Start
from purlwright.sizing.starts.writing import Writing, memory_notes
from purlwright.sizing.unknowns import NoPlan
from purlwright.units import half_up

__all__ = ["mitten"]


def mitten(asked: Asked) -> Start:
    """A pair of mittens with a gusseted thumb."""
    knit = asked.knit
    hand = asked.body_mm("circumference")
    wanted = asked.eased(hand, Fraction(0))
    around = [knit.sts(x, 2) for x in wanted]
    if min(around) < 20:
        raise NoPlan(
            f"A mitten of {min(around)} sts has no room for a thumb; look at the gauge and the hand."
        )
    thumb = [_odd(rule("thumb").share * n) for n in around]
    long = asked.body_or("length", tuple(h * rule("hand length").share for h in hand))
    incs = [(t - 1) // 2 for t in thumb]
    gusset = [1 + 3 * i - 2 for i in incs]
    last = growing([(8 + n % 4, 12 + n % 4) for n in around], [8] * len(around))
    tip = [_tip(n, drawn) for n, drawn in zip(around, last, strict=True)]
    high = [knit.rws(x) for x in long]
    plain = [h - g - len_tip - 1 for h, g, (_, _, len_tip) in zip(high, gusset, tip, strict=True)]
    if min(plain) < 2:
        raise NoPlan(
            "The thumb and the tip are longer than the whole hand; look at the row gauge and the hand."
        )
    cuff = knit.rws(rule("mitten cuff").mm)
    thumb_rows = [knit.rws(x * rule("thumb length").share) for x in long]
    round_ = Finish(
        name="round", wanted_mm=tuple(wanted), mm=tuple(n * knit.stitch_mm for n in around),
        step_mm=knit.stitch_mm,
    )  # fmt: skip
    length = Finish(
        name="long above the cuff", wanted_mm=tuple(long),
        mm=tuple((g + 1 + p + t) * knit.row_mm for g, p, (_, _, t) in zip(gusset, plain, tip, strict=True)),
        step_mm=knit.row_mm,
    )  # fmt: skip
    w = Writing(
        asked, "Mittens", "Plain mittens worked in the round from a ribbed cuff, with a gusset for the thumb."
    )
    w.to_fit("hand", hand)
    w.finished([(round_, "round"), (length, "long above the cuff")])
    w.yarn()
    w.head("Needles", f"{w.needle()} and {w.needle(smaller=True)}, double-pointed or a long circular")
    w.head("Notions", "2 stitch markers; waste yarn; tapestry needle")
    w.gauge("in the round")
    w.head("Make", "2")
    w.named("around", around)
    w.named("thumb", thumb)
    w.section("Cuff")
    w.line(
        f"With the smaller needles cast on {w.n(around)} sts. Join to work in the round, being careful "
        f"not to twist, "
        "and place a marker for the beginning of the round."
    )
    w.line("Rnd 1: *K1, p1; rep from * to end.")
    w.line(f"Rnds 2-{cuff}: As rnd 1.")
    w.line("Change to the larger needles.")
    w.section("Thumb gusset")
    w.line("Next rnd: M1r, k1, m1l, pm, knit to end. (2 sts increased)")
    w.line("Next 2 rnds: Knit.")
    w.line("Inc rnd: M1r, knit to m, m1l, sm, knit to end. (2 sts increased)")
    after = w.sum("around + thumb - 1")
    w.times(f"Rep the last 3 rnds {{n}} more. ({after} sts)", [i - 2 for i in incs])
    w.note(f"{w.n(thumb)} sts stand before the marker.")
    w.section("Hand")
    w.line(
        f"Next rnd: Place the first {w.n(thumb)} sts on waste yarn for the thumb, remove m, cast on 1 "
        f"st, knit to end. "
        f"({w.n(around)} sts)"
    )
    w.line(f"Knit {w.n(plain)} rnds.")
    w.note("The mitten should reach to the tip of the little finger.")
    w.section("Tip")
    w.line(f"Next rnd: K{w.sum('around / 2')}, pm, knit to end.")
    w.line(
        "Dec rnd: *K1, ssk, knit to 3 sts before m, k2tog, k1, sm; rep from * once more. (4 sts decreased)"
    )
    w.line("Next rnd: Knit.")
    w.line(f"Rep the last 2 rnds until {w.n([n for n, _, _ in tip])} sts remain.")
    w.line(f"Rep dec rnd until {w.n([n for _, n, _ in tip])} sts remain.")
    w.line("Break the yarn, draw it through the remaining sts and fasten off.")
    w.section("Thumb")
    w.line(
        f"Place the held thumb sts on the larger needles. With RS facing, pick up and knit 1 st from "
        f"the st cast on over "
        f"the gap, k{w.n(thumb)}, pm and join in the round. ({w.sum('thumb + 1')} sts)"
    )
    w.line(f"Knit {w.n(thumb_rows)} rnds.")
    w.line(f"Next rnd: *K2tog; rep from * to end. ({w.sum('(thumb + 1) / 2')} sts)")
    w.line("Break the yarn, draw it through the remaining sts and fasten off.")
    w.section("Finishing")
    w.line("Weave in the ends, closing the corners of the thumb. Wash, and dry flat.")
    return Start(
        text=w.text(memory_notes(asked, ["circumference", "length"])),
        finished=(round_, length),
        counts={"cast-on": tuple(around), "thumb": tuple(thumb), "plain rounds": tuple(plain)},
        said=(),
    )


def _odd(exact: Fraction) -> int:
    return max(5, 2 * int(half_up((exact - 1) / 2, Fraction(1))) + 1)


def _tip(around: int, last: int) -> tuple[int, int, int]:
    """Stitches when every round is decreased, the ``last`` that are drawn up, and rounds in all, with the
    one that places a marker.
    """
    slow = (around - last) // 4 // 2
    middle = around - 4 * slow
    if slow < 1:
        raise NoPlan(f"{around} sts are too few for the tip of a mitten.")
    return middle, last, 1 + 2 * slow + (middle - last) // 4
