"""Lengths in print: a ruler's steps, 25.4 mm to the inch, one number where all sizes are alike.

Only a gauge takes 4 inches as 10 cm. A length told so would be an eighth of an inch out at a hand's breadth,
and a chest of 60 in would be 150 cm on one page and 152.5 on the next.
"""

from fractions import Fraction

import pytest

from purlwright.units import BY_GAUGE, MM, half_up, length_words, lengths_words


@pytest.mark.parametrize(
    ("mm", "cm", "inches"),
    [(100, "10", "4"), (25, "2.5", "1"), (465, "46.5", "18¼"), (1524, "152.5", "60"), (6, "0.5", "¼"),
     (0, "0", "0"), (1, "0.5", "⅛"), (12.5, "1.5", "½"), (22, "2", "⅞")],
)  # fmt: skip
def test_a_length_is_told_in_steps_of_a_ruler(mm, cm, inches):
    assert (length_words(mm, "cm"), length_words(mm, "in")) == (cm, inches)


def test_sizes_stand_in_brackets_and_both_units_side_by_side():
    assert lengths_words([465, 500, 565], "metric") == "46.5 (50, 56.5) cm"
    assert lengths_words([100, 150], "both") == "10 (15) cm / 4 (6) in"
    assert lengths_words([100, 101], "imperial") == "4 in"
    assert lengths_words([100], "metric") == "10 cm"


def test_only_a_gauge_takes_four_inches_as_ten_centimetres():
    assert 4 * BY_GAUGE["in"] == 10 * BY_GAUGE["cm"]
    assert 10 * MM["in"] == Fraction(254)


def test_halfway_goes_up():
    assert half_up(Fraction(1, 4), Fraction(1, 2)) == Fraction(1, 2)
    with pytest.raises(ValueError, match="above 0"):
        half_up(1, Fraction(0))
