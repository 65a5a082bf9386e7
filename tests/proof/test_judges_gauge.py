"""Gauge, measures, yarn and front matter: what holds on a good pattern, what does not apply, and where each stops."""

import pytest

from purlwright.findings import Result
from purlwright.workup import WorkUp

CAP = """# Bollard Cap
Sizes: S (M, L)
To fit: head 52 (56, 60) cm
Finished size: brim circumference 44 (48, 52) cm / 17¼ (19, 20½) in, unstretched; height 20 (20, 20) cm
Yarn: MC, worsted wool, 2 (2, 3) balls of 50 g (100 m / 109 yds each); about 150 (175, 210) m
Needles: US 6 (4 mm) and US 7 (4.5 mm), 40 cm circular
Gauge: 20 sts and 28 rnds = 4 in (10 cm) in stockinette stitch on larger needles, washed
Level: intermediate
Version: 1.0
Contact: the harbour office
Licence: for your own use

## Brim
With smaller needles cast on 88 (96, 104) sts. Place a marker and join to work in the round.
Work in k2, p2 rib for 5 cm (2 in).

## Body
Change to larger needles.
Knit every round until the cap measures 20 cm from the cast-on edge.
Bind off all sts.
"""
BARE = "# Mat\n\nCast on 12 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nBind off all sts.\n"

MINE = (
    *(f"C0{n}" for n in (15, 38, 50, 51, 53, 54, 55, 56, 57, 58, 59, 60, 61, 62, 63, 64)),
    *(f"C{n}" for n in range(116, 122)),
)


def proved(text):
    work = WorkUp(text)
    proof = work.proved()
    verdicts = {v.check: v for v in proof.verdicts}
    return [(f.code, work.source.text[f.span.start : f.span.end]) for f in proof.findings], verdicts


@pytest.mark.parametrize(
    ("check", "places"),
    [
        ("C050", 1), ("C051", 3), ("C053", 1), ("C054", 1), ("C055", 2), ("C056", 1), ("C057", 3), ("C059", 3),
        ("C060", 5), ("C061", 1), ("C116", 1), ("C117", 3), ("C118", 1), ("C119", 2), ("C120", 1), ("C121", 3),
    ],
)  # fmt: skip
def test_what_holds_on_a_good_pattern(check, places):
    found, verdicts = proved(CAP)
    assert found == []
    assert (verdicts[check].result, verdicts[check].places) == (Result.HOLDS, places)


@pytest.mark.parametrize("check", MINE)
def test_a_pattern_without_header_is_asked_for_nothing(check):
    found, verdicts = proved(BARE)
    assert found == []
    assert verdicts[check].result is Result.NOT_APPLICABLE


def changed(old, new, text=CAP):
    assert old in text
    return text.replace(old, new, 1)


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        # a misprint gives one message, on its words
        ("20 sts and 28", "30 sts and 28", ["gauge-out-of-shape"]),
        ("88 (96, 104)", "22 (24, 26)", ["width-differs"]),
        ("88 (96, 104)", "88 (96, 140)", ["width-differs"]),
        ("44 (48, 52) cm", "44 (58, 52) cm", ["inches-differ"]),
        ("(20, 20) cm", "(40, 20) cm", ["length-differs"]),
        ("20 (20, 20) cm", "40 (40, 40) cm", ["length-differs"]),
        ("5 cm (2 in)", "5 cm (4 in)", ["inches-differ"]),
        ("height 20 (20, 20) cm", "height 20 (20, 20) cm, label 1 x 2 in (2.5 x 10 cm)", ["inches-differ"]),
        ("(100 m / 109 yds each)", "(200 m / 109 yds each)", ["yarn-measures-differ"]),
        (
            "(100 m / 109 yds each)",
            "(200 m / 219 yds each)",
            ["skein-length-unlikely"],
        ),
        ("2 (2, 3) balls", "1 (2, 3) balls", ["balls-do-not-add-up"]),
        ("US 7 (4.5 mm)", "US 7 (5.5 mm)", ["needle-sizes-differ"]),
        ("until the cap measures 20 cm", "until the cap measures 1 cm", ["length-passed"]),
        ("unstretched; ", "", ["stretch-not-said"]),
        ("To fit: head 52 (56, 60) cm\n", "", ["ease-not-given"]),
        (" in stockinette stitch on larger needles", "", ["gauge-lacks"]),
        ("for 5 cm (2 in)", "for 4.55 cm", ["not-on-a-ruler"]),
        # and these are right
        ("height 20 (20, 20) cm", "height 20 (20, 20) cm, label 2 x 4 in (5 x 10 cm)", []),
        ("balls of 50 g (100 m", "balls of 50 g / 1 3/4 oz (100 m", []),
        ("US 6 (4 mm)", "size 4 (US 6, 4 mm)", []),
        ("20 sts and 28", "21 sts and 29", []),
        ("88 (96, 104)", "92 (96, 104)", []),
        ("(2, 3) balls", "(2, 4) balls", []),
        ("US 7 (4.5 mm)", "4.5 mm (UK 7 / US 7)", []),
        ("17¼ (19, 20½) in", "17½ (19, 21) in", []),
        ("Version: 1.0\n", "", []),
    ],
)
def test_one_misprint_at_a_time(old, new, found):
    assert sorted(code for code, _ in proved(changed(old, new))[0]) == found


SHEET = "# Mat\nYarn: {yarn}\nNeedles: {needles}\nGauge: {gauge}\n\nCast on 12 sts.\nKnit 4 rows.\nBind off all sts.\n"


@pytest.mark.parametrize(
    ("yarn", "needles", "gauge"),
    [
        ("fingering, 75% merino 25% nylon, 400 m / 437 yds per 100 g; one skein", "4 mm (US 6)", "18 sts and 26 rows = 10 cm in stockinette stitch"),
        ("DK, 100% wool, 50 g/1.75 oz (120 m/131 yds): 10 balls", "4 mm (No 8)", "22 sts and 30 rows over 4 in (10 cm) of st st"),
        ("bulky wool, 100 m per 100 g; 900 g", "US 11 (8 mm)", "12 sts and 24 rows to 10 cm in garter stitch"),
        ("cotton, 3 Light, 100 m/50 g; 4 balls", "3.75 mm (US 5/UK 9)", "20 sts and 42 rows = 10 cm in the slip-stitch pattern"),
        ("brushed alpaca, worsted, 420 m per 100 g; about 300 m", "US 10½ (6.5 mm)", '14 sts and 20 rows = 4" in stockinette'),
        ("lace, silk and mohair, 420 m per 50 g; 2 balls", "3½ mm", "26 sts and 40 rows = 10 cm in lace pattern, blocked"),
        ("wool, 4 Medium, 200 m per 100 g, held double; about 400 m", "9 mm", "10 sts and 14 rows = 10 cm in stockinette stitch"),
    ],
)  # fmt: skip
def test_yarns_needles_and_gauges_as_they_are_rightly_printed(yarn, needles, gauge):
    assert proved(SHEET.format(yarn=yarn, needles=needles, gauge=gauge))[0] == []


def test_a_folded_piece_is_twice_as_long_as_its_bag():
    bag = (
        "# Bag\nFinished size: 30 cm wide and 35 cm high\nGauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\n"
        "Cast on 62 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 97 times more.\nBind off all sts.\n"
    )
    assert [code for code, _ in proved(bag)[0]] == ["length-differs"]
    assert proved(f"{bag}Fold in half and sew the sides.\n")[0] == []


def test_a_blanket_of_squares_is_wider_than_one_of_them():
    blanket = (
        "# Blanket\nFinished size: 75 x 90 cm\nGauge: 12 sts and 24 rows = 10 cm in garter stitch\n\n"
        "## Squares (make 30)\nCast on 18 sts.\nKnit 36 rows.\nBind off all sts.\n> Each square is {} cm wide.\n"
    )
    assert proved(blanket.format(15))[0] == []
    assert [code for code, _ in proved(blanket.format(25))[0]] == ["width-differs"]


@pytest.mark.parametrize(
    ("words", "missing"),
    [
        ("Finished size: 30 cm wide", "a gauge with stitches"),
        ("Finished size: raglan line 20 cm long", "a gauge of stitches and rows"),
    ],
)
def test_what_would_be_needed_to_decide(words, missing):
    _, verdicts = proved(BARE.replace("# Mat\n", f"# Mat\n{words}\n"))
    assert missing in {verdicts["C053"].missing, verdicts["C064"].missing}


WING = "\nCast on 40 sts.\nRow 1 (RS): Knit to last 3 sts, k2tog, k1.\nRow 2: Purl.\nRep rows 1 and 2 29 times more. (10 sts)\nBind off all sts.\n"
RAGLAN = (
    "\n## Back\nCast on 80 sts.\nWork 40 rows in stockinette stitch.\n"
    "Bind off 4 sts at the beginning of the next 2 rows. (72 sts)\n"
    "Next row (RS): K2, ssk, knit to last 4 sts, k2tog, k2. (70 sts)\nNext row (WS): Purl.\n"
    "Rep the last 2 rows 19 times more. (32 sts)\nBind off all sts.\n"
)


@pytest.mark.parametrize(
    ("told", "words", "result"),
    [
        # 60 rows of 10 / 28 cm straight up are 21.4 cm; with 30 stitches of half a cm aside, about 26 cm
        ("slanted edge 26 cm", WING, "holds"),
        ("right edge 26 cm along the slope", WING, "holds"),
        ("slanted edge 21 cm high", WING, "holds"),
        ("slanted edge 21 cm", WING, "Along its slope the slanted edge is 26 cm at the gauge, and the words say 21 cm."),
        ("slanted edge 30 cm straight up", WING, "Straight up the slanted edge is 21 cm at the gauge, and the words say 30 cm."),
        ("diagonal 30 cm", WING, "which edge is meant"),
        # 4 stitches bound off in one row, then 20 steps of one stitch in two rows, and a last row
        ("armhole 19 cm along the curve", RAGLAN, "holds"),
        ("armhole 30 cm along the curve", RAGLAN, "Along its slope the edge of the armhole is 20 cm at the gauge, and the words say 30 cm."),
        ("raglan depth 14 cm", RAGLAN, "holds"),
        ("raglan depth 20 cm", RAGLAN, "Straight up the raglan line is 14 cm at the gauge, and the words say 20 cm."),
        ("raglan 14 cm", RAGLAN, "Along its slope the raglan line is 18 cm at the gauge, and the words say 14 cm."),
        ("slanted edge 20 cm", "\nCast on 40 sts.\nKnit 20 rows.\nBind off all sts.\n", "a slanted edge that is knitted"),
        ("slanted edge 20 cm", WING.replace("Bind off", "Next row (RS): Knit 5, turn.\nNext row: Purl.\nBind off"), "a slanted edge that is knitted"),
    ],
)  # fmt: skip
def test_a_slanted_edge_by_its_slope_or_straight_up(told, words, result):
    gauge = "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n"
    proof = WorkUp(f"# Wing\nFinished size: {told}\n{gauge}{words}").proved()
    found = [f for f in proof.findings if f.code == "slant-differs"]
    verdict = next(v for v in proof.verdicts if v.check == "C064")
    assert result in {verdict.result.value, verdict.missing, *(f.problem.message() for f in found)}
    assert (len(found) == 1) == (verdict.result is Result.FAILS)
    if "21 cm." in result:
        assert (
            found[0].problem.help()
            == "21 cm is its height: say that it is taken straight up, or print 26 cm."
        )


def test_a_slanted_edge_in_every_size():
    wing = (
        "# Wing\nSizes: S (M)\nFinished size: slanted edge 26 (40) cm\n"
        "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\nCast on 40 (50) sts.\n"
        "Row 1 (RS): Knit to last 3 sts, k2tog, k1.\nRow 2: Purl.\nRep rows 1 and 2 29 (37) times more. (10 (12) sts)\n"
        "Bind off all sts.\n"
    )
    found = [f for f in WorkUp(wing).proved().findings if f.code == "slant-differs"]
    assert [f.sizes for f in found] == [("M",)]


def test_shaping_beside_rows_that_end_too_soon():
    front = (
        "# Front\n\nCast on 60 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\n"
        "Work {} rows in stockinette stitch, and at the same time dec 1 st at each end of every 4th row {} times.\n"
    )
    codes = [code for code, _ in proved(front.format(20, 12))[0]]
    assert "shaping-does-not-fit" in codes
    assert "shaping-does-not-fit" not in [code for code, _ in proved(front.format(20, 5))[0]]


def test_stitches_picked_up_along_row_ends():
    strip = "# Strip\n\nCast on 20 sts.\nKnit 40 rows.\nBind off all sts.\nPick up and knit {} sts along the left edge. ({} sts)\nBind off all sts.\n"
    assert [code for code, _ in proved(strip.format(60, 60))[0]] == ["pick-up-too-close"]
    found, verdicts = proved(strip.format(20, 20))
    assert (found, verdicts["C015"].result, verdicts["C015"].places) == ([], Result.HOLDS, 1)


@pytest.mark.parametrize(
    ("work", "edge", "n", "codes"),
    [
        ("Knit 40 rows.", "the left edge", 13, ["pick-up-too-sparse"]),  # one for each ridge: 20
        ("Work 80 rows in stockinette stitch.", "the left edge", 36, ["pick-up-too-sparse"]),
        ("Work 80 rows in stockinette stitch.", "the straight front edge", 36, ["pick-up-too-sparse"]),
        ("Work 80 rows in stockinette stitch.", "the left edge", 53, []),  # two for three
        ("Work 80 rows in stockinette stitch.", "the left edge", 60, []),  # three for four
        ("Work 80 rows in stockinette stitch.", "the left edge", 82, ["pick-up-too-close"]),
        ("Work 80 rows in stockinette stitch.", "the left edge of the neck", 20, []),
        ("Work 80 rows in stockinette stitch.", "the left edge to the marker", 20, []),
        ("Row 1: Sl 1, k19.\nRow 2: Sl 1, p19.\nRepeat rows 1 and 2 19 times more.", "the left edge", 12,
         ["pick-up-too-sparse"]),  # 40 rows, 20 slipped
        ("Row 1: Sl 1, k19.\nRow 2: Sl 1, p19.\nRepeat rows 1 and 2 19 times more.", "the left edge", 21, []),
    ],
)  # fmt: skip
def test_too_few_are_as_wrong_as_too_many(work, edge, n, codes):
    strip = f"# Strip\n\nCast on 20 sts.\n{work}\nBind off all sts.\nPick up and knit {n} sts along {edge}. ({n} sts)\nBind off all sts.\n"
    assert [code for code, _ in proved(strip)[0]] == codes


def test_the_gauge_says_how_many_rows_a_stitch_is_wide():
    strip = "# Strip\n\nGauge: 20 sts and 50 rows = 10 cm in slip stitch\n\nCast on 20 sts.\nWork 80 rows in stockinette stitch.\nBind off all sts.\nPick up and knit {} sts along the left edge. ({} sts)\nBind off all sts.\n"
    codes = [
        [code for code, _ in proved(strip.format(n, n))[0] if code.startswith("pick-up")] for n in (32, 20)
    ]
    assert codes == [[], ["pick-up-too-sparse"]]


def test_a_bracket_after_the_weight_of_a_colour_tells_of_one_ball():
    yarn = "Yarn: dk wool, MC 80 g, CC 20 g (120 m per 50 g)\n"
    found = [
        f.code for f in WorkUp(f"# Gull\n{yarn}Cast on 12 sts.\nKnit 2 rows.\nBind off.\n").proved().findings
    ]
    assert "skein-length-unlikely" not in found
