"""Worked examples of the trade and of textiles: which of them Purlwright answers, and where.

Each row below is one published example. Those about gauge, cloth and yarn are asked here or where the row says; those
about fibres, weaving or things that Purlwright does not reckon are named with the reason, so that none is forgotten.
"""

from fractions import Fraction
from math import pi

import pytest

from purlwright.cloth.cloths import cloth_factor
from purlwright.cloth.kinds import ClothKind
from purlwright.cloth.loop_lengths import loop_constant, plain_loop_mm
from purlwright.cloth.swatch import Multiple, count_in, of_printed
from purlwright.workup import WorkUp

ELSEWHERE = {
    "gate2015_54": "tests/cloth/test_yarn.py", "munden_dry_Ks": "tests/cloth/test_yarn.py",
    "own_dk": "tests/cloth/test_yarn.py", "row_yarn": "tests/cloth/test_yarn.py",
    "longtail_12": "tests/cloth/test_yarn.py", "scarf_yd": "tests/cloth/test_yarn.py",
    "substitute": "tests/cloth/test_yarn.py",
    "disc_5_7": "tests/cloth/test_swatch.py", "hat_22st": "tests/cloth/test_swatch.py",
    "eps_200": "tests/cloth/test_swatch.py", "rib_90": "tests/cloth/test_swatch.py",
    "gauge_swap": "tests/cloth/test_swatch.py", "pickup_120": "tests/cloth/test_swatch.py",
    "pickup_216": "tests/cloth/test_swatch.py",
}  # fmt: skip
"""Where an example is asked."""
HERE = {
    "munden_wet_R", "pi_shawl", "quick_crown", "yoke_thirds", "yoke_graded", "short_row_60", "area_drop",
    "longtail_mm", "float_22",
}  # fmt: skip
NOT_OURS = {
    "gate1992_2": "counts of spun yarn: Purlwright reckons in metres and grams only",
    "ne30": "the same",
    "gate2013_40": "average of mixed counts: no yarn of a pattern is mixed",
    "gate2014_37": "twist contraction: the yarn is measured as it comes from the ball",
    "gate2020_46": "fibres mixed by mass",
    "gate2021_18": "fibres in a tuft",
    "gate2008_71": "diameter of cotton yarns in weaving: loops are not reckoned from diameters",
    "gate2007_85": "the same",
    "handbook_gsm": "weight of a square metre in imperial counts: grams are told of the piece",
    "peirce_jam": "jammed loops: no gauge of hand knitting comes near",
    "short_row_64": "a table of one designer; the thirds are asked by short_row_60",
    "toe_up_heel": "a formula for heels: a heel is knitted as it is written",
    "raglan_neck": "depth of a neck: the shaped piece is measured elsewhere",
    "pool_28": "planned pooling: colours along the yarn are not followed",
    "jp_needle": "Japanese needle numbers are not read",
}


def counts(text):
    """The stitches after each row."""
    work = WorkUp(text)
    knitted = work.knitted()
    assert not knitted.unproved
    return [e.end for e in knitted.ledger.entries if e.kind in {"row", "round"}]


def test_every_example_is_asked_or_told_why_not():
    assert len(ELSEWHERE) + len(HERE) + len(NOT_OURS) == 38
    assert not set(ELSEWHERE) & HERE & set(NOT_OURS)


def test_munden_wet_r():
    """Kc / Kw = 5.3 / 4.1 = 1.29, 1.3 in the table (Munden 1959): the least and most rows a stitch lie about it."""
    rows = cloth_factor(ClothKind.STOCKINETTE).rows
    assert rows.least <= 5.3 / 4.1 <= rows.most


def test_pi_shawl():
    """Cast on 6; doublings give 12, 24, 48, 96 (H. Chayes, Shawl Geometry, 2013, after Zimmermann)."""
    text = (
        "Cast on 6 sts. Join to work in the round.\nRnd 1: *Kfb; rep from *. (12 sts)\nRnds 2-3: Knit.\n"
        "Rnd 4: *Kfb; rep from *. (24 sts)\nRnds 5-8: Knit.\nRnd 9: *Kfb; rep from *. (48 sts)\n"
        "Rnds 10-17: Knit.\nRnd 18: *Kfb; rep from *. (96 sts)\nBind off.\n"
    )
    assert sorted(set(counts(text))) == [12, 24, 48, 96]


def test_quick_crown():
    """K2, k2tog; k1, k2tog; k2tog: three quarters, half, a quarter (a magazine on hat crowns)."""
    text = (
        "Cast on 80 sts. Join to work in the round.\nRnd 1: *K2, k2tog; rep from *.\nRnd 2: *K1, k2tog; rep from *.\n"
        "Rnd 3: *K2tog; rep from *.\n"
    )
    assert counts(text) == [60, 40, 20]


def test_yoke_decreases():
    """268 sts: by thirds 179, 120, 80; graded 201, 134, 80 (summary of the percentage system)."""
    head = "Cast on 268 sts. Join to work in the round.\n"
    thirds = (
        "Rnd 1: *K1, k2tog; rep from * to last st, k1.\nRnd 2: *K1, k2tog; rep from * to last 2 sts, k2.\n"
        "Rnd 3: *K1, k2tog; rep from *.\n"
    )
    graded = (
        "Rnd 1: *K2, k2tog; rep from *.\nRnd 2: *K1, k2tog; rep from *.\n"
        "Rnd 3: *(K2tog) twice, k1; rep from * to last 4 sts, (k2tog) twice.\n"
    )
    assert counts(head + thirds) == [179, 120, 80]
    assert counts(head + graded) == [201, 134, 80]


def test_short_row_heel():
    """60 sts: 30 for the heel, 10 left in the middle, 10 turned at each side (a yarn magazine on heels)."""
    lines = [
        "Cast on 60 sts. Join to work in the round.",
        "Rnd 1: Knit.",
        "Row 2: K29, w&t.",
        "Row 3: P28, w&t.",
    ]
    lines += [f"Row {n}: {'K' if n % 2 == 0 else 'P'}{31 - n}, w&t." for n in range(4, 22)]
    work = WorkUp("\n".join(lines) + "\n")
    gaps = [len(e.gaps) for e in work.knitted().ledger.entries][-1]
    assert gaps == 20  # ten at each side


def test_area_of_a_drop_shoulder_body():
    """Back 20 x 28 in and the front the same: 1120 sq in (a blog on swatching, 2020): stitches times their area."""
    stitch, row = of_printed(Fraction(20), Fraction(100)), of_printed(Fraction(28), Fraction(100))
    wide, long = count_in(20 * Fraction(25), stitch).nearest, count_in(28 * Fraction(25), row).nearest
    area = 2 * wide * long * (100 / 20) * (100 / 28)
    assert area / 25**2 == pytest.approx(1120, rel=0.001)


def test_long_tail_by_the_needle():
    """n sts on a needle of m mm: n m / 8 in of tail (a knitters' blog, 2016): 240 on 4 mm, 120 in.

    On 4 mm needles a stitch is about 4.5 mm wide (class 3, 22 sts): by its width ours is 240 x 4.55 x 3.575 mm.
    """
    from purlwright.cloth.yarn import LONG_TAIL

    assert pytest.approx(120 + 33.5, rel=0.01) == 240 * (100 / 22) * LONG_TAIL / 25.4
    assert pytest.approx(120, rel=0.1) == 240 * (100 / 22) * 3 / 25.4  # the least of the rules


def test_floats_of_an_inch():
    """22 sts to 4 in: a float of an inch passes about 6 sts (a magazine's column on stranding)."""
    assert abs(count_in(Fraction(25), of_printed(Fraction(22), Fraction(100)), Multiple()).nearest - 6) <= 1


def test_a_jammed_loop_is_far_from_any_gauge_of_hand_knitting():
    """Why peirce_jam is not asked: at l / d = 16.7 a plain fabric jams; DK wool at 22 sts is far above it.

    d by the trade's wraps to the inch, 11 to 15 for DK: 1.7 to 2.3 mm when wraps just touch, about half when pressed.
    """
    assert plain_loop_mm(100 / 22, 100 / 30) / (25.4 / 15 / 2) > 16.7


def test_circles_are_two_pi():
    """Crown radius: circumference / 2 pi = 0.159 (geometry; a hat designer, 2016)."""
    assert 1 / (2 * pi) == pytest.approx(0.159, abs=0.0005)
    assert loop_constant(ClothKind.STOCKINETTE).status == "confirmed"
