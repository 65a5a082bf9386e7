"""Arithmetic of gauges against worked examples of the trade; each names its source beside the figure."""

from fractions import Fraction
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.cloth.swatch import (
    Measured,
    Multiple,
    count_in,
    flat_disc,
    length_of,
    of_printed,
    of_swatch,
    pick_up_rate,
)
from purlwright.cloth.swatch_words import NotRead, figures, length_mm, multiple, swatch_figures

F = Fraction
INCH = F(25)


def per_inch(count):
    """A gauge of so many to the inch."""
    return of_printed(F(count), INCH)


def test_a_gauge_swap_with_two_seam_stitches():
    """128 sts of which 2 go into seams, at 5.5 to the inch, for one at 6.5: 151 (a shop's blog, 2011).

    The blog rounds the width to 23 in first.
    """
    wide = length_of(128, per_inch("5.5"), edge=2).value
    assert wide / INCH == pytest.approx(22.9, abs=0.02)
    assert count_in(F(23) * INCH, per_inch("6.5"), edge=2).nearest in {151, 152}
    assert abs(count_in(wide, per_inch("6.5"), edge=2).nearest - 151) <= 1


def test_a_rib_of_nine_tenths():
    """42 in at 5.3 sts: an even 222; nine tenths of it, 200, are cast on for the rib (a knit-along, 2011)."""
    body = count_in(42 * INCH, per_inch("5.3"), Multiple(2, 0)).nearest
    assert body == 222
    assert count_in(F(9, 10) * 42 * INCH, per_inch("5.3"), Multiple(2, 0)).nearest == 200


def test_a_hat_of_100_stitches():
    """100 sts at 22 to 10 cm are 45.45 cm round, a circle of 7.23 cm (article on crown shaping, 2016)."""
    round_mm = length_of(100, of_printed(F(22), F(100))).value
    assert float(round_mm) == pytest.approx(454.5, abs=0.5)
    assert float(round_mm) / (2 * pi) == pytest.approx(72.3, abs=0.5)


def test_picking_up_along_rows():
    """16 sts and 24 rows to 4 in: 2 sts for every 3 rows, so 120 rows give 80 (a knitters' forum)."""
    assert pick_up_rate(F(16), F(24)) == (2, 3)
    assert 120 * 2 // 3 == 80 == count_in(20 * INCH, of_printed(F(16), 4 * INCH)).nearest
    assert count_in(20 * INCH, of_printed(F(24), 4 * INCH)).nearest == 120


@pytest.mark.parametrize(
    ("sts", "rows", "rate"), [(22, 30, (3, 4)), (21, 28, (3, 4)), (20, 28, (5, 7)), (18, 36, (1, 2))]
)
def test_the_usual_rates(sts, rows, rate):
    """3 of 4, 5 of 7, 2 of 3 along plain cloth, one for each ridge of garter: five articles, a shop's article."""
    assert pick_up_rate(F(sts), F(rows)) == rate


def test_one_stitch_in_so_many_rows():
    """142 sts along 216 rows are one for every 1.521 rows (a designer's blog, 2010)."""
    sts, rows = pick_up_rate(F(142), F(216), 108)
    assert rows / sts == pytest.approx(1.521, abs=0.001)


def test_a_flat_circle():
    """5 sts and 7 rows to the inch: 4.488 a round, 9 every other round (knitters' forum, "flat hat formula").

    Garter, two rows to a stitch: about 3.14; at rows to stitches of 1.57 the customary 8 every other round.
    """
    assert flat_disc(F(5), F(7)) == pytest.approx(4.488, abs=0.01)
    assert flat_disc(F(1), F(2)) == pytest.approx(3.14, abs=0.01)
    assert 2 * flat_disc(F(100), F(157)) == pytest.approx(8, abs=0.01)


def test_percentages_of_a_yoke_sweater():
    """40 in at 5 sts: K = 200; sleeve 33 % 66, underarm 8 % 16, yoke 268, neck 40 % 80 (after Zimmermann 1971)."""
    k = count_in(40 * INCH, per_inch(5)).nearest
    sleeve, underarm = (round(k * share / 100) for share in (33, 8))
    assert (k, sleeve, underarm, k + 2 * sleeve - 4 * underarm, k * 40 // 100) == (200, 66, 16, 268, 80)


def test_multiples():
    of4 = Multiple(4, 2)
    found = count_in(F(450), of_printed(F(22), F(100)), of4)
    assert (found.exact.value, found.nearest, found.other) == (99, 98, 102)
    assert of4.below(F(1)) == 6
    assert Multiple(4, 2).nearest(F(100)) == 102  # halfway goes up


def test_the_step_of_a_printed_figure_is_what_it_may_be_off():
    assert of_printed(F(20), F(100)).most == F(41, 2)
    assert of_printed(F(11, 2), INCH).least == F(
        21
    )  # 5.5 to the inch, counted to halves: a quarter either way


def test_a_swatch_has_the_range_of_its_tape():
    found = of_swatch([Measured(F(28), F(124))], F(2))
    assert found.value == F(2800, 124)
    assert (found.least, found.most) == (F(2800, 126), F(2800, 122))
    two = of_swatch([Measured(F(28), F(124)), Measured(F(28), F(132))], F(2))
    assert two.least <= F(2800, 132)
    assert two.most >= F(2800, 124)


counts = st.integers(1, 400).map(F)
lengths = st.integers(20, 4000).map(F)


@given(counts, lengths, st.integers(1, 500))
def test_lengths_and_counts_go_back_to_each_other(count, over, many):
    gauge = of_printed(count, over)
    long = length_of(many, gauge)
    assert count_in(long.value, gauge).exact.value == many
    assert long.least <= long.value <= long.most


@given(counts, lengths, lengths, st.integers(1, 30), st.integers(0, 29))
def test_the_nearest_multiple_is_one_and_is_near(count, over, mm, of, plus):
    found = count_in(mm, of_printed(count, over), Multiple(of, plus))
    assert (found.nearest - plus) % of == 0
    assert found.nearest >= of + plus
    if found.exact.value >= of + plus:
        assert abs(found.nearest - found.exact.value) * 2 <= of


@pytest.mark.parametrize(
    ("words", "stitches", "rows"),
    [
        ("22 sts and 30 rows to 10 cm", 22, 30),
        ("22 sts and 30 rows to 4 in", 22, 30),
        ("5½ sts to 1 inch", 22, None),
        ("28 sts = 12.5 cm, 40 rows = 12.5 cm", F("22.4"), 32),
        ("18 sts and 18 ridges = 10 cm in garter stitch", 18, 36),
    ],
)
def test_gauges_in_words(words, stitches, rows):
    found = figures(words)
    assert found.stitches.value == stitches
    assert (found.rows.value if found.rows else None) == rows


@pytest.mark.parametrize(
    "words",
    ["", "22", "22 x 30", "22 sts", "0 sts to 10 cm", "22 sts to 0 cm", "22 sts and 30 rows = 10 x 12 cm"],
)
def test_what_is_no_gauge_is_told_how_to_write_one(words):
    with pytest.raises(NotRead, match="22 sts and 30 rows to 10 cm"):
        figures(words)


def test_a_swatch_too_small_to_measure():
    with pytest.raises(NotRead, match="too little"):
        swatch_figures(["1 st = 3 mm"], F(2))


def test_lengths_and_multiples_in_words():
    assert [length_mm(w, "--width") for w in ("45 cm", "17¾ in", "18 1/2 inches", "450mm")] == [
        450,
        F(1775, 4),
        F(925, 2),
        450,
    ]
    assert [multiple(w) for w in ("4n+2", "4 plus 2", "multiple of 4 plus 2", "4", "4n-1")] == [
        Multiple(4, 2), Multiple(4, 2), Multiple(4, 2), Multiple(4, 0), Multiple(4, 3),
    ]  # fmt: skip
    for bad in ("45", "cm", "-3 cm", "0 cm", "999999 cm"):
        with pytest.raises(NotRead, match="--width"):
            length_mm(bad, "--width")
    for bad in ("", "n", "0", "4+", "four"):
        with pytest.raises(NotRead, match="4n\\+2"):
            multiple(bad)
