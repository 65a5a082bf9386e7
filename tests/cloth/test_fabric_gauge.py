"""Which gauge holds for which stitch, and that nothing is taken without being said.

Figures: Craft Yarn Council, Standard Yarn Weight System (class 4: 16 to 20 sts); garter, a ridge of two rows
as high as a stitch is wide (three craft articles); Munden 1959 (1.3 rows a stitch). The rest is arithmetic.
"""

from pathlib import Path

import numpy as np
import pytest

from purlwright.cloth.cloths import cloth_factor
from purlwright.cloth.gauge import Basis, gauge_of_fabric
from purlwright.cloth.kinds import ClothKind
from purlwright.cloth.loop_lengths import loop_constant, plain_loop_mm
from purlwright.workup import WorkUp

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))
PLAIN = "Cast on 40 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 9 times more.\n"
GARTER = "Cast on 40 sts.\nKnit 20 rows.\n"


def gauge(header, body=PLAIN):
    work = WorkUp(f"# Swatch\n{header}\n\n{body}Bind off.\n")
    return gauge_of_fabric(work.pattern.header, work.knitted())


def test_a_stated_gauge_is_the_size_of_its_stitches():
    found = gauge("Gauge: 22 sts and 30 rows = 10 cm in stockinette stitch, after washing")
    (only,) = found.gauges
    assert (only.kind, only.basis, only.in_round) == (ClothKind.STOCKINETTE, Basis.STATED, False)
    assert found.width_mm == pytest.approx(np.full(880, 100 / 22))
    assert found.height_mm == pytest.approx(np.full(880, 100 / 30))
    assert found.scaled
    # A whole number printed may be half a stitch off.
    assert only.width_tolerance == pytest.approx(0.5 / 22)
    assert only.height_tolerance == pytest.approx(0.5 / 30)


def test_inches_are_25_mm_by_the_rule_of_the_trade():
    metric, inches = (gauge(f"Gauge: 20 sts and 28 rows = {over}") for over in ("10 cm", "4 in"))
    assert inches.width_mm == pytest.approx(metric.width_mm)


def test_each_cloth_has_its_own_gauge():
    body = PLAIN + "Knit 20 rows.\n"
    found = gauge(
        "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\nGauge: 18 sts and 36 rows = 10 cm in garter stitch",
        body,
    )
    by = {g.kind: (g.stitch_mm, g.row_mm) for g in found.gauges}
    assert by == {
        ClothKind.STOCKINETTE: (5.0, pytest.approx(100 / 28)),
        ClothKind.GARTER: (pytest.approx(100 / 18), pytest.approx(100 / 36)),
    }
    assert [s.basis for s in found.said] == [Basis.STATED, Basis.STATED]


def test_garter_without_a_gauge_has_a_ridge_as_high_as_a_stitch_is_wide():
    found = gauge("Gauge: 20 sts and 26 rows = 10 cm in stockinette stitch", GARTER)
    (only,) = found.gauges
    assert only.basis is Basis.RULE_OF_THUMB
    assert 2 * only.row_mm == pytest.approx(only.stitch_mm)
    assert only.width_tolerance > 0.05
    (said,) = [s for s in found.said if s.basis is Basis.RULE_OF_THUMB]
    assert said.words == (
        "No gauge is given for garter stitch: a stitch is taken as wide (0.95 to 1.1 times) and a row 0.65 times as "
        "high as in stockinette stitch."
    )
    assert said.source


def test_plain_cloth_is_reckoned_back_from_garter():
    found = gauge("Gauge: 20 sts and 40 rows = 10 cm in garter stitch")
    (only,) = found.gauges
    assert only.kind is ClothKind.STOCKINETTE
    assert only.stitch_mm == pytest.approx(5)
    assert 1.25 <= only.stitch_mm / only.row_mm <= 1.5
    assert any("reckoned back" in s.words for s in found.said)


def test_a_gauge_that_names_no_cloth_is_taken_for_what_most_is_knitted_in():
    found = gauge("Gauge: 20 sts and 40 rows = 10 cm", GARTER)
    assert found.gauges[0].basis is Basis.ASSUMED
    assert found.row_mm == pytest.approx(np.full(880, 2.5))
    assert "names no cloth" in found.said[0].words


def test_a_pattern_name_of_her_own_is_the_cloth_that_is_not_plain():
    body = (
        "Cast on 36 sts.\nRow 1 (RS): *Yo, k2tog; rep from *.\nRow 2: Purl.\nRep rows 1 and 2 9 times more.\n"
    )
    found = gauge("Gauge: 21 sts and 27 rows = 10 cm in Gulls' Feet", body)
    only = found.gauges[0]
    assert (only.kind, only.basis) == (ClothKind.LACE, Basis.ASSUMED)
    assert only.stitch_mm == pytest.approx(100 / 21)


def test_washed_goes_before_unwashed_and_unwashed_is_said():
    both = gauge(
        "Gauge: 22 sts and 30 rows = 10 cm in stockinette stitch, before washing\n"
        "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch, after washing"
    )
    assert both.width_mm[0] == pytest.approx(5)
    one = gauge("Gauge: 22 sts and 30 rows = 10 cm in stockinette stitch, before washing")
    assert any("unwashed" in s.words and s.basis is Basis.ASSUMED for s in one.said)


def test_the_round_has_the_gauge_of_the_round():
    body = "Cast on 40 sts. Join to work in the round.\nRnd 1: Knit.\nRep rnd 1 9 times more.\n"
    lines = (
        "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch, flat\n"
        "Gauge: 21 sts and 27 rounds = 10 cm in stockinette stitch, in the round"
    )
    assert gauge(lines, body).width_mm == pytest.approx(np.full(480, 100 / 21))
    assert gauge(lines).width_mm == pytest.approx(np.full(880, 5))


def test_two_gauges_for_one_cloth_are_said_and_widen_the_bar():
    found = gauge(
        "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\nGauge: 24 sts and 28 rows = 10 cm in stockinette stitch"
    )
    assert any("Two gauges stand for stockinette" in s.words for s in found.said)
    assert found.gauges[0].width_tolerance == pytest.approx(1 - 20 / 24)


def test_no_rows_are_taken_by_the_shape_of_the_stitch():
    (only,) = gauge("Gauge: 20 sts = 10 cm in stockinette stitch").gauges
    assert 1.25 <= only.stitch_mm / only.row_mm <= 1.5
    assert only.basis is Basis.RULE_OF_THUMB


@pytest.mark.parametrize(
    "words", ["20 sts and 0 rows = 10 cm", "20 sts and 28 rows = 0 cm", "0 sts and 28 rows = 10 cm"]
)
def test_a_gauge_of_nothing_is_said(words):
    found = gauge(f"Gauge: {words} in stockinette stitch\nYarn: wool, 4 Medium")
    assert any(s.basis is Basis.MISSING and "over a length" in s.words for s in found.said)
    assert (found.width_mm > 0).all()
    assert (found.height_mm > 0).all()


def test_without_a_gauge_the_class_of_the_yarn_is_taken_and_said():
    found = gauge("Yarn: wool, 4 Medium, 200 m per 100 g")
    assert 100 / 20 <= found.width_mm[0] <= 100 / 16
    assert "Craft Yarn Council" in found.said[0].source
    assert found.scaled
    by_length = gauge("Yarn: wool, 420 m per 100 g")
    assert 100 / 32 <= by_length.width_mm[0] <= 100 / 27
    by_needle = gauge("Yarn: wool\nNeedles: 4 mm")
    assert 100 / 24 <= by_needle.width_mm[0] <= 100 / 21


def test_with_nothing_at_all_only_proportions_hold():
    found = gauge("Version: 1")
    assert not found.scaled
    assert found.said[0].basis is Basis.MISSING
    assert found.gauges[0].basis is Basis.MISSING


def test_a_slipped_stitch_is_higher_than_its_row():
    body = "Cast on 25 sts.\nRow 1 (RS): *K1, sl 1; rep from * to last st, k1.\nRow 2: Purl.\nRep rows 1 and 2 9 times more.\n"
    found = gauge("Gauge: 20 sts and 40 rows = 10 cm in slip-stitch pattern", body)
    assert found.height_mm.max() == pytest.approx(5)
    assert found.row_mm.max() == pytest.approx(2.5)


def test_nothing_knitted_gives_nothing():
    work = WorkUp("# Nothing\n")
    found = gauge_of_fabric(work.pattern.header, work.knitted())
    assert (found.gauges, found.width_mm.shape, found.width_tolerance.shape) == ((), (0,), (0,))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_every_stitch_of_the_examples_has_a_size_and_everything_is_said(path):
    work = WorkUp(path.read_text(encoding="utf-8"))
    knitted = work.knitted()
    found = gauge_of_fabric(work.pattern.header, knitted)
    assert len(found.width_mm) == len(found.height_mm) == knitted.fabric.n
    assert (found.width_mm > 1).all()
    assert (found.width_mm < 20).all()
    assert (found.height_mm >= found.row_mm).all()
    assert sum(g.stitches for g in found.gauges) == knitted.fabric.n
    assert {g.basis for g in found.gauges} <= {s.basis for s in found.said}
    assert not found.width_mm.flags.writeable


@pytest.mark.parametrize("figure", [0.5, 0.7, 6 / 7])
def test_the_range_of_rib_holds_all_that_its_sources_print(figure):
    """Half of plain in theory and 0.7 in practice (a textile course note); 28 sts of k3, p1 rib are 6 in round.

    The gauge makes 7 in of them (benchmarks/published.toml, mitts). No source prints a width for wider ribs.
    """
    width = cloth_factor(ClothKind.RIB).width
    assert width.least <= figure <= width.most
    assert abs(figure / width.usual - 1) <= width.tolerance


@pytest.mark.parametrize(
    ("rib", "width"),
    [
        ("k1, p1", 0.7),
        ("k2, p2", 0.7),
        ("k2, p1", 0.8),
        ("k3, p1", 6 / 7),
        ("p3, k1", 6 / 7),
        ("k5, p1", 0.9),
    ],
)
def test_a_rib_draws_in_as_far_as_it_has_columns_that_sink(rib, width):
    """1x1 and k3, p1 are printed (above); the others lie between by the share of the rarer face."""
    rounds = f"Cast on 60 sts and join in the round.\nRnds 1-20: *{rib}; rep from * to end.\n"
    work = WorkUp(
        f"Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\n{rounds}Knit 30 rnds.\nBind off.\n"
    )
    (one,) = [g for g in work.fabric_gauge().gauges if g.kind is ClothKind.RIB]
    assert one.stitch_mm / 5 == pytest.approx(width, rel=0.03)
    assert one.width_tolerance >= abs(one.stitch_mm / 5 / width - 1)


def rib_pieces(**pieces: str) -> WorkUp:
    """Pieces of 60 stitches and 20 rounds, each in a rib of its own."""
    worked = (
        f"## {name}\nCast on 60 sts and join in the round.\nRnds 1-20: *{rib}; rep from * to end.\nBind off.\n"
        for name, rib in pieces.items()
    )
    return WorkUp("Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\n" + "\n".join(worked))


def test_a_collar_of_another_rib_than_the_cuff_has_its_own_width():
    """As wide as each alone: 0.7 of stockinette for k2, p2 and 0.88 for k4, p1 (the rule of data/cloths.csv)."""
    both = rib_pieces(Cuff="k2, p2", Collar="k4, p1")
    found = both.fabric_gauge()
    assert sorted(g.stitch_mm for g in found.gauges) == pytest.approx([5 * 0.7, 5 * 0.88], rel=0.01)
    for rib in ("k2, p2", "k4, p1"):
        (alone,) = rib_pieces(Collar=rib).fabric_gauge().gauges
        assert alone.stitch_mm in [pytest.approx(g.stitch_mm) for g in found.gauges]
    cuff = both.knitted().ledger.pieces[0].rows
    of_cuff = found.width_mm[both.knitted().fabric.row_of_stitch <= cuff[-1].order]
    assert of_cuff == pytest.approx(np.full(len(of_cuff), 3.5), rel=0.01)
    told = " ".join(s.words for s in found.said)
    assert "rib in which about 1 of 2 columns sink back" in told
    assert "rib in which about 1 of 5 columns sink back" in told


def test_ribs_of_one_kind_in_two_pieces_are_told_once():
    found = rib_pieces(Cuff="k2, p2", Collar="k1, p1").fabric_gauge()
    assert len(found.gauges) == 1
    (said,) = [s.words for s in found.said if "for rib" in s.words]
    assert said.startswith(
        "No gauge is given for rib: a stitch is taken 0.7 times as wide (0.5 to 0.9 times)"
    )


def test_a_stated_gauge_holds_for_every_kind_of_rib():
    ribs = rib_pieces(Cuff="k2, p2", Collar="k4, p1")
    stated = str(ribs.source.text).replace("stockinette stitch", "rib")
    assert {g.stitch_mm for g in WorkUp(stated).fabric_gauge().gauges} == {5.0}


def test_a_stated_gauge_of_rib_goes_before_the_rule():
    rounds = "Cast on 60 sts and join in the round.\nRnds 1-20: *K3, p1; rep from * to end.\nBind off.\n"
    work = WorkUp(f"Gauge: 25 sts and 28 rows = 10 cm in rib\n\n{rounds}")
    assert work.fabric_gauge().gauges[0].stitch_mm == pytest.approx(4)


@pytest.mark.parametrize("figure", [22 / 24, 13 / 17, 3.75 / 36 * 27 / 4, 1 / 1.25, 5 / 6, 4 / 6])
def test_the_range_of_cables_holds_all_that_its_sources_print(figure):
    """Two gauges on one page, and a teacher's rules for stitches made before a cable: data/cloths.csv."""
    width = cloth_factor(ClothKind.CABLE).width
    assert width.least <= figure <= width.most


@pytest.mark.parametrize(("plain", "cable"), [((22, 30), (24, 28)), ((13, 18), (17, 20))])
def test_a_cabled_stitch_has_the_loop_of_a_plain_one_on_the_same_needles(plain, cable):
    """Pages that print both gauges, to 4 in: the loop by either lies in the range of the other."""
    loop = plain_loop_mm(100 / plain[0], 100 / plain[1])
    c = loop_constant(ClothKind.CABLE)
    area = 100 / cable[0] * 100 / cable[1]
    assert (c.least * area) ** 0.5 <= loop * 1.01
    assert (c.most * area) ** 0.5 >= loop
