"""Numbers published elsewhere: graded garments, the percentage system, crowns and yokes; ours beside
theirs.
"""

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from purlwright.sizing.bodies import bodies, rule
from purlwright.sizing.solve import Solved, solve
from purlwright.sizing.starts.asked import Asked, Knit
from purlwright.sizing.starts.pullovers import round_yoke
from purlwright.sizing.unknowns import Question, Rule, Unknown
from purlwright.workup import WorkUp

ROWS = list(
    csv.DictReader(
        line
        for line in (Path(__file__).parent / "graded.csv").read_text(encoding="utf-8").splitlines()
        if not line.startswith("#")
    )
)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["what"])
def test_a_graded_piece_is_within_one_repeat_of_what_was_published(row):
    """The slipover prints no width: its backs are set beside half the chest of the standard's sizes 4 to
    14.
    """
    inches = [Fraction(n) for n in row["inches"].split()]
    published = [int(n) for n in row["counts"].split()]
    of, plus = int(row["of"]), int(row["plus"])
    found = solve(
        Question(
            sizes=tuple(str(n) for n in range(len(inches))),
            unknowns=(
                Unknown(
                    name="stitches",
                    targets=tuple(n * Fraction(row["per_inch"]) for n in inches),
                    of=of,
                    plus=plus,
                ),
            ),
        )
    )
    assert isinstance(found, Solved)
    assert row["address"].startswith("http")
    off = [abs(a - b) for a, b in zip(found.counts["stitches"], published, strict=True)]
    assert max(off) <= of


def test_a_half_chest_of_the_standard_is_what_the_slipover_is_set_beside():
    chests = {b.name: b.size("chest").mm / Fraction(254, 10) for g in ("child", "youth") for b in bodies(g)}
    got = [round(float(chests[size]) * 2) / 4 for size in ("4", "6", "8", "10", "12", "14")]
    assert got == pytest.approx([11.5, 12.5, 13.25, 14, 15, 15.75], abs=0.26)


def test_the_percentage_system_at_200_stitches():
    """40 in at 5 sts to the inch: sleeve 66, underarm 16, yoke 268, neck 80: E. Zimmermann, as summarised."""
    body = 200
    sleeve = body * Fraction(33, 100)
    assert rule("upper sleeve").least == 33
    underarm = body * rule("underarm").share
    assert (sleeve, underarm) == (66, 16)
    found = solve(
        Question(
            sizes=("one size",),
            unknowns=(
                Unknown(name="body", targets=(Fraction(body),), of=2),
                Unknown(name="sleeve", targets=(sleeve,)),
                Unknown(name="underarm", targets=(underarm,)),
                Unknown(name="yoke", targets=(None,)),
                Unknown(name="neck", targets=(body * rule("neck").share,)),
            ),
            rules=(Rule(terms={"yoke": -1, "body": 1, "sleeve": 2, "underarm": -4}, words="what is joined"),),
        )
    )
    assert {n: c[0] for n, c in found.counts.items()} == {
        "body": 200, "sleeve": 66, "underarm": 16, "yoke": 268, "neck": 80,
    }  # fmt: skip


def test_a_round_yoke_is_worked_by_quarter_third_and_two_fifths():
    """268 -> 201 -> 134 -> 80 (x 3/4, 2/3, 3/5), read from the neck down: each round of the yoke has that
    share.
    """
    (medium,) = [b for b in bodies("woman") if b.name == "M"]
    start = round_yoke(
        Asked(
            sizes=("M",), bodies=(medium,), knit=Knit(stitches=Fraction(20), rows=Fraction(28)),
            fabric="stockinette stitch",
        )
    )  # fmt: skip
    entries = [e for p in WorkUp(start.text).knitted().ledger.pieces for e in p.rows if e.kind == "round"]
    grown = [(e.start, e.end) for e in entries if e.end > e.start]
    big = [(a, b) for a, b in grown if b - a > 20]
    assert [Fraction(a, b) for a, b in big[:3]] == [Fraction(3, 5), Fraction(2, 3), Fraction(3, 4)]
    body, neck = start.counts["body"][0], start.counts["neck"][0]
    assert neck / body == pytest.approx(0.40, abs=0.04)
    assert start.counts["underarm"][0] / body == pytest.approx(0.08, abs=0.01)


def test_a_rib_cast_on_of_90_percent():
    """42 in at 5.3 sts to the inch: 222 sts, cast on 200 (a knit-along article, 2011)."""
    body = 2 * round(42 * Fraction(53, 10) / 2)
    assert body == 222
    assert round(body * rule("rib cast-on").share) == pytest.approx(200, abs=1)


@pytest.mark.parametrize("sts", [96, 112, 120])
def test_a_quick_crown(sts):
    """K2, k2tog / k1, k2tog / k2tog take a hat to 3/4, 2/4, 1/4 (an article on hat crowns): knitted here."""
    text = (
        f"# Crown\n\nCast on {sts} sts. Join to work in the round.\nKnit 2 rnds.\n"
        f"Next rnd: *K2, k2tog; rep from * to end. ({sts * 3 // 4} sts)\n"
        f"Next rnd: *K1, k2tog; rep from * to end. ({sts // 2} sts)\n"
        f"Next rnd: *K2tog; rep from * to end. ({sts // 4} sts)\nBind off.\n"
    )
    assert [f.code for f in WorkUp(text).proved().findings if f.severity.value == "error"] == []


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [
        ("hat smaller than head", 5, 15),
        ("sock smaller than foot", 5, 10),
        ("cuff", 20, 25),
        ("upper sleeve", 33, 35),
    ],
)
def test_what_is_usual_lies_in_the_range_of_the_trade(name, least, most):
    one = rule(name)
    assert (one.least, one.most) == (least, most)
    assert one.least <= one.usual <= one.most
    assert one.source
