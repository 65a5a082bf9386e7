"""Signs of stitches that are told step by step, and of her own."""

import pytest

from chart.squares import chart
from purlwright.chart.signs import letters


@pytest.mark.parametrize(
    ("words", "sign"),
    [
        ("sl 1, k1, pass slipped st over", "two-left-passed"),
        ("sl 1, k2tog, pass slipped st over", "three-left-passed"),
        ("k3tog", "three-right"),
        ("k6tog", "six-right"),
        ("(k1, p1, k1, p1) in next st", "fan-4"),
        ("kfb", "fork"),
        ("k1 tbl", "knit-twisted"),
        ("sl 1 pwise", "slip-behind"),
        ("sl 1 wyif", "slip-front"),
        ("sl 1 pwise with yarn in front", "slip-front"),
        ("sl 1 wyib", "slip-behind"),
        ("yf, sl 1, yb", "slip-front"),
        ("yo twice", "over"),
    ],
)
def test_a_stitch_has_its_usual_sign_however_it_is_told(words, sign):
    grid = chart(f"Cast on 12 sts.\nRow 1 (RS): K2, {words}, k to end.")
    assert sign in {s.sign for s in grid.rows[0].squares}


@pytest.mark.parametrize(
    ("words", "sign"),
    [("p2tog", "two-right"), ("ssp", "two-left"), ("k2tog", "purl-two-right"), ("p1 tbl", "knit-twisted"), ("sl 1 wyif", "slip-behind"), ("p3tog", "three-right")],
)  # fmt: skip
def test_on_the_wrong_side_the_sign_is_what_the_right_side_shows(words, sign):
    grid = chart(f"Cast on 12 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): P2, {words}, p to end.")
    assert sign in {s.sign for s in grid.rows[1].squares}


@pytest.mark.parametrize(("name", "short"), [("MB", "MB"), ("wisp", "wisp"), ("tiny knot", "TK"), ("feather", "FEAT"), ("make 5", "M5")])  # fmt: skip
def test_her_abbreviation_is_made_to_fit_a_square(name, short):
    assert letters(name) == short
