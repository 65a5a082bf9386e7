"""Flat, cups or ruffles, from the stitches alone: published rules, closed formulas, and the relaxed shape."""

from math import pi
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.cloth.depth import depth_of
from purlwright.cloth.flatness import Verdict, flatness_of, increases_for_flat, wedges_for_flat
from purlwright.cloth.mesh import mesh_of
from purlwright.cloth.relax.shape import relax
from purlwright.cloth.rest import rest_of
from purlwright.workup import WorkUp

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def lies(text, w=5.0, h=3.75):
    knitted = WorkUp(text).knitted()
    mesh = mesh_of(knitted)
    return flatness_of(knitted, mesh, rest_of(mesh, stitch_mm=w, row_mm=h))


def wedges(n, *, cast_on=20, steps=6, step=3):
    turns = "".join(
        f"Row {2 * k + 1}: Knit.\nRow {2 * k + 2}: Knit to last {step * (k + 1)} sts, turn.\n"
        for k in range(steps)
    )
    last = 2 * steps + 1
    return (
        f"Cast on {cast_on} sts provisionally.\n{turns}Row {last}: Knit.\nRow {last + 1}: Knit.\n"
        f"Rep rows 1-{last + 1} {n - 2} times more.\nWork rows 1-{last} once more.\nGraft the live sts to the cast-on sts.\n"
    )


def disc(each, rounds, plain):
    """``each`` stitches more every ``plain + 1`` rounds."""
    rows = [f"Cast on {each} sts. Join to work in the round."]
    for k in range(1, rounds + 1):
        rows += [f"Next rnd: *K{k}, m1; rep from * to end.", *["Next rnd: Knit."] * plain]
    return "\n".join(rows) + "\n"


# steps, step, gauge h (w = 1): the closing number pi s w / h and the least-squares slope, from a trial on stitch
# graphs made by another program, in NumPy, on stitch graphs without words
TABLE = [
    (20, 6, 3, 0.5, 18.85, 18.95, 0),
    (20, 9, 2, 0.5, 12.57, 12.66, 0),
    (20, 4, 4, 0.5, 25.13, 26.11, 0),
    (30, 7, 4, 0.5, 25.13, 25.22, 0),
    (20, 4, 3, 0.5, 18.85, 25.32, 8),
    (20, 4, 3, 0.6, 15.71, 21.1, 8),
]


@pytest.mark.parametrize(("cast_on", "steps", "step", "h", "flat", "blocked", "rim"), TABLE)
def test_the_table_of_wedges(cast_on, steps, step, h, flat, blocked, rim):
    (found,) = lies(wedges(8, cast_on=cast_on, steps=steps, step=step), w=1.0, h=h)
    w = found.wedges
    assert (w.count, w.turns, w.step, w.rim_stitches) == (8, steps, step, rim)
    assert w.flat == pytest.approx(flat, abs=0.01)
    assert w.blocked == pytest.approx(blocked, rel=0.01)
    assert (found.ring, found.by_columns, found.verdict) == (True, True, Verdict.CUPS)


@pytest.mark.parametrize(
    ("n", "verdict"), [(12, Verdict.CUPS), (17, Verdict.CUPS), (19, Verdict.FLAT), (21, Verdict.RUFFLES)]
)
def test_wedges_cup_lie_flat_or_ruffle_and_the_cure_is_said(n, verdict):
    (found,) = lies(wedges(n), w=5, h=2.5)
    assert found.verdict is verdict
    cure = f"19 wedges lie flat at this gauge; you have {n}."
    assert (cure in found.said()) == (verdict is not Verdict.FLAT)
    assert not any("rim of a pan" in said for said in found.said())


def test_stitches_beyond_the_last_turn_stand_up_like_a_rim():
    (found,) = lies(wedges(19, steps=4), w=5, h=2.5)
    assert any(said.startswith("The 8 stitches beyond the last turn") for said in found.said())


def test_the_rule_for_flat_discs():
    # worked example: 5 sts and 7 rows per inch: 4.488 a round, 9 every other round (general formula 2 pi w'/h')
    assert increases_for_flat(1, 7, 5) == pytest.approx(4.488, abs=0.001)
    assert round(increases_for_flat(2, 7, 5)) == 9
    # customary 8 every other round, exact when there are 1.57 rows to a stitch
    assert increases_for_flat(2, 1.57, 1) == pytest.approx(8, abs=0.01)
    # a garter ridge is as high as a stitch is wide: about 6 every ridge
    assert increases_for_flat(2, 2, 1) == pytest.approx(6.28, abs=0.01)


@given(st.integers(1, 8), st.floats(1, 9), st.floats(1, 9))
def test_so_many_wedges_make_a_full_turn(step, w, h):
    assert wedges_for_flat(step, w, h) * 2 * h / (step * w) == pytest.approx(2 * pi)


@pytest.mark.parametrize(("each", "verdict"), [(5, Verdict.CUPS), (8, Verdict.FLAT), (12, Verdict.RUFFLES)])
def test_discs_by_the_rule_and_beside_it(each, verdict):
    (found,) = lies(disc(each, 10, 1), w=5, h=5 / 1.57)
    assert (found.verdict, found.ring) == (verdict, True)
    assert found.per_round == pytest.approx(each / 2, rel=0.03)
    assert found.flat_per_round == pytest.approx(4, rel=0.01)


# "cast on 6; plain rounds 1, 2, 4, 8, 16, 32, 64 between doublings: 12, 24, 48, 96, 192, 384, 768" (H. Chayes,
# Shawl Geometry, 2013, after the method of E. Zimmermann)
PI = "Cast on 6 sts. Join to work in the round.\nKnit 1 round.\n" + "".join(
    f"Next rnd: *Kfb; rep from * to end. ({6 * 2**n} sts)\nKnit {2**n} rounds.\n" for n in range(1, 6)
)


def test_the_doubling_circle_is_all_but_flat():
    knitted = WorkUp(PI).knitted()
    assert knitted.ledger.pieces[0].rows[-1].end == 192
    mesh = mesh_of(knitted)
    (found,) = flatness_of(knitted, mesh, rest_of(mesh, stitch_mm=5, row_mm=5 / 1.57))
    # the method leaves the rounds of doubling themselves out of its sum, five of 68 rounds here, so that the
    # circle has an eighth less than a flat one, and is pulled flat by blocking
    assert found.swept == pytest.approx(2 * pi, rel=0.13)
    assert found.verdict is Verdict.CUPS
    # no row is longer than twice, or shorter than half, of what a flat circle of its radius has
    fullness = found.around_mm[4:] / (2 * pi * found.out_mm[4:])
    assert 0.5 < fullness.min() < fullness.max() < 2


@pytest.mark.parametrize(
    ("text", "verdict"),
    [
        ("Cast on 20 sts.\nKnit 30 rows.\n", Verdict.FLAT),
        ("Cast on 40 sts. Join to work in the round.\nKnit 20 rounds.\n", Verdict.TUBE),
        ("Cast on 3 sts.\n" + "Row 1 (RS): K1, yo, k to last st, yo, k1.\nRow 2: Purl.\n" + "Rep rows 1 and 2 15 times more.\n", Verdict.FLAT),
        ("Cast on 20 sts.\nKnit 10 rows.\nNext row: *Kfb; rep from * to end.\nKnit 2 rows.\nNext row: *Kfb; rep from * to end.\nKnit 4 rows.\n", Verdict.RUFFLES),
        ("Cast on 80 sts.\nKnit 4 rows.\nNext row: *K2tog; rep from * to end.\nKnit 10 rows.\nNext row: *Kfb; rep from * to end.\nKnit 4 rows.\n", Verdict.RUFFLES),
    ],
    ids=["square", "tube", "triangle", "frill", "waist"],
)  # fmt: skip
def test_plain_pieces(text, verdict):
    (found,) = lies(text)
    assert found.verdict is verdict
    assert found.said()


PLAIN = "Row 1 (RS): Knit.\nRow 2: Purl.\nRep these 2 rows {} times more.\n"
ARMHOLE = (
    "Cast on 100 sts.\n" + PLAIN.format(30) + "Row 1 (RS): Bind off 5 sts, k to end.\nRow 2: Bind off 5 sts, p to end.\n"
    "Row 3: K2, ssk, k to last 4 sts, k2tog, k2.\nRow 4: Purl.\nRep rows 3 and 4 19 times more.\nBind off.\n"
)  # fmt: skip
SLEEVE = (
    "Cast on 40 sts.\n" + PLAIN.format(9) + "Row 1 (RS): K1, m1, k to last st, m1, k1.\nRow 2: Purl.\n"
    "Rep these 2 rows 14 times more.\n" + PLAIN.format(19)
)  # fmt: skip
CROWN = "Cast on 96 sts.\n" + PLAIN.format(19) + "".join(
    f"Row {2 * n + 1} (RS): *K{6 - n}, k2tog; rep from * to end.\nRow {2 * n + 2}: Purl.\n" for n in range(6)
)  # fmt: skip


@pytest.mark.parametrize(
    ("text", "verdict"),
    [(ARMHOLE, Verdict.FLAT), (SLEEVE, Verdict.FLAT), (CROWN, Verdict.CUPS)],
    ids=["armholes", "sleeve", "crown"],
)
def test_shaping_at_the_edges_bends_nothing_and_shaping_between_them_does(text, verdict):
    (found,) = lies(text)
    assert found.verdict is verdict


HEM = "Gauge: 22 sts and 30 rows = 10 cm in stockinette stitch\nCast on 110 sts.\n" + (
    "Row 1 (RS): *K2, p2; rep from * to last 2 sts, k2.\nRow 2: *P2, k2; rep from * to last 2 sts, p2.\n"
    "Rep rows 1 and 2 nine times more.\n" + PLAIN.format(40) + "Bind off.\n"
)


def test_a_rib_at_the_hem_draws_in_and_the_piece_lies_flat():
    settled = WorkUp(HEM).settled()
    (found,) = settled.flatness
    assert found.verdict is Verdict.FLAT
    assert found.rib.rest_mm < 0.8 * found.rib.out_mm
    assert any(told.startswith("Its rib draws in to ") for told in found.said())
    assert depth_of(settled.shape.position_mm).off_flat < 0.1
    # a piece of rib alone has nothing beside it that could draw it out
    (alone,) = WorkUp(HEM.replace(PLAIN.format(40), "")).settled().flatness
    assert alone.rib is None


def test_cables_beside_plainer_cloth_are_drawn_as_they_lie():
    cables = (
        "Gauge: 18 sts and 24 rows = 10 cm in stockinette stitch\n\nAbbreviations\n"
        "C6F: slip 3 sts to cable needle, hold in front, k3, k3 from cable needle.\n\nCast on 66 sts.\n"
        "Row 1 (RS): *P2, k6; rep from * to last 2 sts, p2.\nRow 2 and all WS rows: *K2, p6; rep from * to last 2 sts, k2.\n"
        "Row 3: *P2, C6F; rep from * to last 2 sts, p2.\nRow 5: As row 1.\nRow 6: As row 2.\n"
        "Rep rows 1-6 14 times more.\n" + PLAIN.format(20) + "Bind off.\n"
    )
    settled = WorkUp(cables).settled()
    assert [f.verdict for f in settled.flatness] == [Verdict.FLAT]
    assert depth_of(settled.shape.position_mm).off_flat < 0.1
    assert settled.shape.strain < 0.03


def test_a_heel_cups_and_a_hat_has_a_crown():
    heel = (
        "Cast on 24 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: Knit 23, turn.\nRow 4: Purl 22, turn.\n"
        "Row 5: Knit to 1 st before gap, turn.\nRow 6: Purl to 1 st before gap, turn.\nRep rows 5 and 6 6 times more.\n"
        "Row 7: Knit to gap, k1, turn.\nRow 8: Purl to gap, p1, turn.\nRep rows 7 and 8 7 times more.\nRow 9: Knit.\nRow 10: Purl.\n"
    )
    (found,) = lies(heel)
    assert (found.verdict, found.ring) == (Verdict.CUPS, False)
    hat = "Cast on 80 sts. Join to work in the round.\nKnit 30 rounds.\n" + "".join(
        f"Next rnd: *K{n}, k2tog; rep from * to end.\nNext rnd: Knit.\n" for n in range(8, 0, -1)
    )
    (found,) = lies(hat)
    brim, crown = found.stretches
    assert (brim.verdict, crown.swept < 0) == (Verdict.TUBE, True)
    assert any("a tube" in said for said in found.said())


def test_nothing_and_a_few_stitches_have_no_verdict():
    assert lies("") == ()
    assert lies("Cast on 1 st.\nKnit 1 row.\n") == ()


def test_the_shape_says_the_same_as_the_stitches():
    for n, flat in ((12, False), (19, True)):
        knitted = WorkUp(wedges(n)).knitted()
        mesh = mesh_of(knitted)
        deep = depth_of(relax(mesh, rest_of(mesh, stitch_mm=5, row_mm=2.5)).position_mm)
        assert (deep.off_flat < 0.35) == flat
        if not flat:
            assert deep.cup_mm > 3 * deep.ruffle_mm  # a cone, not a ruffle


def test_a_bowl_and_a_saddle_of_known_depth():
    r, a = (
        v.ravel() for v in np.meshgrid(np.linspace(0, 50, 26), np.linspace(0, 2 * np.pi, 60, endpoint=False))
    )
    x, y = r * np.cos(a), r * np.sin(a)
    bowl = depth_of(np.stack([x, y, 0.4 * r], axis=1))
    assert bowl.cup_mm == pytest.approx(20, rel=0.1)
    assert bowl.ruffle_mm < 1.5
    saddle = depth_of(np.stack([x, y, 0.1 * r * np.cos(2 * a)], axis=1))
    assert saddle.ruffle_mm == pytest.approx(10, rel=0.1)
    assert saddle.cup_mm < 1
    assert depth_of(np.zeros((0, 3))).off_flat == 0
