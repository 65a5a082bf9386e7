"""Lengths in print: a ruler's steps, 4 inches to 10 cm, one number where all sizes are alike."""

from fractions import Fraction

import pytest

from purlwright.units import half_up, length_words, lengths_words


@pytest.mark.parametrize(
    ("mm", "cm", "inches"),
    [(100, "10", "4"), (25, "2.5", "1"), (465, "46.5", "18½"), (6, "0.5", "¼"), (0, "0", "0"), (1, "0.5", "¼"), (12.5, "1.5", "½")],
)  # fmt: skip
def test_a_length_is_told_in_steps_of_a_ruler(mm, cm, inches):
    assert (length_words(mm, "cm"), length_words(mm, "in")) == (cm, inches)


def test_sizes_stand_in_brackets_and_both_units_side_by_side():
    assert lengths_words([465, 500, 565], "metric") == "46.5 (50, 56.5) cm"
    assert lengths_words([100, 150], "both") == "10 (15) cm / 4 (6) in"
    assert lengths_words([100, 101], "imperial") == "4 in"
    assert lengths_words([100], "metric") == "10 cm"


def test_halfway_goes_up():
    assert half_up(Fraction(1, 4), Fraction(1, 2)) == Fraction(1, 2)
    with pytest.raises(ValueError, match="above 0"):
        half_up(1, Fraction(0))
