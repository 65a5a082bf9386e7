"""Yarn counted stitch by stitch, against the trade's rules, textile constants and laws; sources beside each."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from purlwright.cloth.gauge import gauge_of_fabric
from purlwright.cloth.kinds import ClothKind
from purlwright.cloth.loop_lengths import loop_constant, plain_loop_mm
from purlwright.cloth.said import Basis
from purlwright.cloth.yarn import yarn_taken
from purlwright.cloth.yarn_left import balls_for, needed_after, one_more
from purlwright.workup import WorkUp

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))
PLAIN = "Gauge: 22 sts and 30 rows = 10 cm in stockinette stitch, after washing"
HEAD = f"Yarn: wool, 3 Light, 240 m per 100 g\n{PLAIN}\n"


def taken(header, body, size=None):
    work = WorkUp(f"# Swatch\n{header}\n{body}")
    knitted = work.knitted(size)
    assert not knitted.unproved
    return yarn_taken(work.pattern.header, knitted, work.source.text)


def rows(n, sts=40):
    return (
        f"Cast on {sts} sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 {n} times more.\nBind off.\n"
    )


def part(found, name):
    return next((p.metres for p in found.uses[0].parts if p.name == name), 0.0)


# --- constants ----------------------------------------------------------------------------------


def test_a_loop_of_dk_wool():
    """22 sts and 29 rows, Kw 4.1: l = 1.864 cm, 1 m2 takes 1189 m of 416.7 tex, 495 g (arithmetic on Munden 1959).

    Ks is a mean of its own and misses Kc x Kw by about 1 in 100, so that l by it is 1.3 in 100 shorter.
    """
    loop = plain_loop_mm(100 / 22, 100 / 29)
    assert loop == pytest.approx(18.64, rel=0.015)
    metres = 22 * 29 * 100 * loop / 1000
    assert metres == pytest.approx(1189, rel=0.015)
    assert metres * 416.7 / 1000 == pytest.approx(495, rel=0.015)


def test_a_yard_makes_45_stitches_of_5_and_7_to_the_inch():
    """A spinner counts 45 stitches between two knots a yard apart (knitnmore.blogspot.com, June 2009)."""
    assert 45 * plain_loop_mm(25.4 / 5, 25.4 / 7) == pytest.approx(914.4, rel=0.03)


def test_an_eighth_over_is_told_to_have():
    """Designers add 10 to 15 in 100 to what the sample took; the two sources stand beside OVER."""
    use = taken(HEAD, rows(20)).uses[0]
    assert 1.10 * use.metres < use.to_have < 1.15 * use.metres
    assert use.to_have > sum(p.metres for p in use.parts)


def test_the_constants_are_mundens():
    """Ks: 19.0 dry, 21.6 wet (Munden 1959); 92.4 loops/cm2 at l = 0.5 cm fully relaxed (GATE 2015 Q.54)."""
    plain = loop_constant(ClothKind.STOCKINETTE)
    assert (plain.least, plain.usual) == (19.0, 21.6)
    assert plain.most / 0.5**2 == pytest.approx(92.4, abs=0.5)
    assert loop_constant(ClothKind.STOCKINETTE).least == pytest.approx(5.0 * 3.8)


def test_a_row_of_garter_takes_about_three_times_its_width():
    """A yarn shop's rule: 3 times the width of the row; its example is of 40 in: 126 in with 6 in to spare."""
    loop = plain_loop_mm(5.0, 2.5, ClothKind.GARTER)
    assert 3.0 <= loop / 5.0 <= 3.5


@pytest.mark.parametrize(
    ("kind", "width", "row", "least", "most"),
    [
        (
            ClothKind.GARTER,
            5.0,
            2.5,
            1.10,
            1.25,
        ),  # common practice: garter takes 10 to 25 % more for one area
        (ClothKind.CABLE, 3.9, 5 / 1.35, 1.20, 1.50),  # cables and brioche 20 to 50 % more
        (ClothKind.SEED, 5.25, 5 / 1.7, 1.0, 1.25),
    ],
)
def test_more_yarn_for_one_area_than_stockinette(kind, width, row, least, most):
    plain = plain_loop_mm(5.0, 5 / 1.35) / (5.0 * 5 / 1.35)
    assert least <= plain_loop_mm(width, row, kind) / (width * row) / plain <= most


def test_a_scarf_by_the_rule_of_six():
    """Yards = length x width x stitches to the inch / 6: 48 x 8 in at 5 give 320 yd (a Q&A page)."""
    stitch, row = 25.4 / 5, 25.4 / 6.75
    yards = (48 * 25.4 / row) * (8 * 5) * plain_loop_mm(stitch, row) / 914.4
    assert yards == pytest.approx(320, rel=0.15)
    assert yards < 320  # the rule buys, the sum uses


# --- edges and ends -------------------------------------------------------------------------------


def test_a_long_tail_is_three_widths_and_a_tenth():
    """12 in wide: 39.6 in of tail (L. Chin, quoted in a craft column)."""
    sts = round(304.8 / (100 / 22))
    found = taken(HEAD, rows(5, sts))
    assert part(found, "cast-on") * 1000 == pytest.approx(39.6 * 25.4, rel=0.09)


def test_a_bind_off_takes_three_to_six_widths():
    """3 to 4 (Q&A page), 6 (yarn shop); what the last row of knitting takes is in it."""
    found = taken(HEAD, rows(5))
    width = 40 * 100 / 22
    last = float(found.metres[-1].sum()) * 1000 - 175  # its tail
    assert 3 <= last / width <= 6.5


def test_waste_yarn_takes_none_of_ours():
    plain = taken(HEAD, rows(5))
    provisional = taken(HEAD, rows(5).replace("Cast on 40 sts.", "Cast on 40 sts provisionally."))
    assert part(provisional, "cast-on") == 0
    assert provisional.uses[0].metres < plain.uses[0].metres


def test_two_tails_of_a_hand_each():
    """15 to 20 cm, common practice."""
    assert 0.3 <= part(taken(HEAD, rows(5)), "tails") <= 0.4


def test_stripes_that_come_again_soon_are_carried_and_others_broken():
    yarns = f"Yarn: A, wool, 240 m per 100 g\nYarn: B, wool, 240 m per 100 g\n{PLAIN}\n"
    narrow = "Cast on 20 sts with A.\nRows 1-2: With A, knit.\nRows 3-4: With B, knit.\nRep rows 1-4 5 times more.\n"
    wide = "Cast on 20 sts with A.\nRows 1-10: With A, knit.\nRows 11-20: With B, knit.\nRep rows 1-20 twice more.\n"
    assert part(taken(yarns, narrow), "tails") < part(taken(yarns, wide), "tails")


# --- laws ------------------------------------------------------------------------------------------


@settings(max_examples=15, deadline=None)
@given(st.integers(2, 12), st.integers(2, 30))
def test_each_more_repeat_takes_the_same(n, sts):
    one, two, three = (taken(HEAD, rows(n + k, sts)).uses[0].metres for k in range(3))
    assert two - one == pytest.approx(three - two, rel=1e-6)
    assert two > one


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_rows_add_up_and_the_range_holds_the_figure(path):
    work = WorkUp(path.read_text(encoding="utf-8"))
    for size in work.sizes:
        found = yarn_taken(work.pattern.header, work.knitted(size), work.source.text)
        for y, use in enumerate(found.uses):
            assert float(found.metres[:, y].sum()) * found.pieces == pytest.approx(use.metres)
            assert sum(p.metres for p in use.parts) == pytest.approx(use.metres)
            assert use.least < use.metres < use.most < 1.6 * use.least + 1
        assert found.share[-1] == pytest.approx(1)
        assert (np.diff(found.share) >= 0).all()
        assert not found.metres.flags.writeable


def test_larger_sizes_take_more():
    for path in EXAMPLES:
        work = WorkUp(path.read_text(encoding="utf-8"))
        metres = [
            sum(u.metres for u in yarn_taken(work.pattern.header, work.knitted(s), work.source.text).uses)
            for s in work.sizes
        ]
        assert metres == sorted(metres), path.name


# --- colours and strands ---------------------------------------------------------------------------


def test_stranded_knitting_has_floats_of_both_and_no_more():
    yarns = "Yarn: MC, wool, 240 m per 100 g\nYarn: CC, wool, 240 m per 100 g\nGauge: 22 sts and 26 rounds = 10 cm in stranded stockinette stitch\n"
    body = (
        "Cast on 40 sts with MC. Join to work in the round.\nRnd 1: *K2 MC, k2 CC; rep from *.\n"
        "Rep rnd 1 19 times more.\n"
    )
    found = taken(yarns, body)
    for name in ("MC", "CC"):
        parts = {p.name: p.metres for p in found.used(name).parts}
        # Behind every stitch of the other colour lies a float as wide as it is: 20 a round, 20 rounds.
        assert parts["floats"] * 1000 == pytest.approx(400 * 100 / 22, rel=0.1)


def test_strands_held_together_count_each():
    single = taken(HEAD, rows(5))
    double = taken(HEAD.replace("wool,", "wool, two strands held together,"), rows(5))
    assert double.uses[0].metres == pytest.approx(2 * single.uses[0].metres)
    assert any("Two strands" in s.words for s in double.said)


def test_what_is_not_knitted_is_said():
    found = taken(HEAD, rows(5) + "\n## Finishing\nSew the side seams. Make a tassel for each corner.\n")
    said = [s.words for s in found.said if s.basis is Basis.MISSING]
    assert any("seams is not reckoned" in words for words in said)
    assert any("tassel is not reckoned" in words for words in said)
    assert not [s for s in taken(HEAD, rows(5)).said if s.basis is Basis.MISSING]


def test_making_two_takes_twice():
    one, two = taken(HEAD, rows(5)), taken(HEAD + "Make: 2\n", rows(5))
    assert two.uses[0].metres == pytest.approx(2 * one.uses[0].metres)


def test_no_gauge_and_no_yarn_are_said():
    nothing = taken("", rows(3))
    assert not nothing.known
    assert nothing.uses[0].grams(1.0) is None
    by_class = taken("Yarn: wool, 4 Medium\n", rows(3))
    assert by_class.uses[0].grams(180.0) == pytest.approx(100)
    assert any("No length and weight" in s.words for s in by_class.said)


def test_nothing_knitted_takes_nothing():
    work = WorkUp("# Nothing\n")
    found = yarn_taken(work.pattern.header, work.knitted())
    assert [u.metres for u in found.uses] in ([], [0.0])
    assert found.metres.shape[0] == 0


# --- a swatch that was weighed ---------------------------------------------------------------------


@pytest.mark.parametrize(
    "swatch", ["10 x 10 cm weighs 6 g", "22 sts and 30 rows weigh 6 g", "4 in by 4 in, 6 g"]
)
def test_a_weighed_swatch_scales_by_area(swatch):
    """Weight goes with area: ten swatches' area of the same cloth weigh ten times as much, without any constant."""
    found = taken(f"{HEAD}Swatch: {swatch}\n", rows(149, 22))  # 22 sts and 300 rows: ten squares of 10 cm
    use = found.uses[0]
    inside = part(found, "stitches") - float(found.metres[0, 0] - part(found, "cast-on"))
    assert use.grams(inside) == pytest.approx(60, rel=0.02)
    least, most = use.grams_least_most
    assert least < use.grams(use.metres) < most
    assert most - least < use.grams(use.most) - use.grams(use.least) + 10


def test_a_swatch_line_that_says_nothing_is_found():
    work = WorkUp("# S\nSwatch: nice and soft\n\nCast on 3 sts.\n")
    assert any("15 x 15 cm weighs 6 g" in f.problem.help() for f in work.findings() if f.problem.help())


# --- what is left ----------------------------------------------------------------------------------


def test_what_is_needed_to_the_end():
    found = taken(HEAD, rows(9))
    use = found.uses[0]
    start, most = needed_after(found, use, -1)
    assert start == pytest.approx(use.metres)
    assert most == pytest.approx(use.most)
    assert needed_after(found, use, int(found.order[-1])) == (0.0, 0.0)
    last_row = int(found.order[-2])
    assert needed_after(found, use, last_row)[0] == pytest.approx(float(found.metres[-1, 0]))


def test_one_more_repeat_and_still_bind_off():
    found = taken(HEAD, rows(9))
    use = found.uses[0]
    repeat, ending = found.order[-3:-1], int(found.order[-2])
    need = float(found.metres[-3:, 0].sum())
    plenty, little, between = (
        one_more(found, use, repeat, ending, left) for left in (need * 1.2, need * 0.8, need)
    )
    assert (plenty.sure, plenty.no) == (True, False)
    assert (little.sure, little.no) == (False, True)
    assert (between.sure, between.no) == (False, False)
    assert plenty.repeat + plenty.rest == pytest.approx(need)
    # A yarn shop's example is of the same kind: a row of 3 widths, a bind-off of 6, 9 for both.
    assert plenty.rest > plenty.repeat / 2


def test_balls_are_rounded_up():
    """10 skeins of 112 m for skeins of 192 m: 5.8, so 6 (a yarn importer, 2021)."""
    assert balls_for(1120, 192) == 6
    assert balls_for(400, 200) == 2
    with pytest.raises(ValueError, match="a ball has some length"):
        balls_for(1, 0)


def test_the_yarn_follows_the_loops_of_the_gauge():
    """Stitches times loop: 100 m at a loop of 18 mm are 5500 stitches (by definition)."""
    work = WorkUp(f"# S\n{HEAD}\n{rows(20)}")
    knitted = work.knitted()
    gauge = gauge_of_fabric(work.pattern.header, knitted)
    found = yarn_taken(work.pattern.header, knitted, work.source.text, gauge)
    assert part(found, "stitches") * 1000 == pytest.approx(
        knitted.fabric.n * plain_loop_mm(100 / 22, 100 / 30), rel=1e-6
    )
