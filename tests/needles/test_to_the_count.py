"""Shaping told as going on as set: a total printed after it says how far, and the centre goes on as it was."""

import pytest

from needles.worked import work

CENTRE = (
    "Cast on 31 sts.\nRow 1 (RS): K14, k3tog, k14. (29 sts)\nRow 2: Purl.\nRow 3: K13, k3tog, k13. (27 sts)\n"
)


@pytest.mark.parametrize(
    "words",
    [
        "Continue as set, cabling on every 6th row and decreasing at centre of alt rows until 2nd cable has been worked",
        "Cont as set, decreasing at centre of every alternate row until the cable is done",
        "Continue as set, decreasing at centre of alt rows until 21 sts remain",
    ],
)
def test_the_shaping_goes_on_to_the_printed_count(words):
    w = work(f"{CENTRE}{words} (21 sts).\nNext row: K21.\nBind off.")
    assert [f for f in w.wrong if "length" not in f] == []
    assert w.ends == [31, 29, 29, 27, 27, 25, 25, 23, 23, 21, 21, 0]
    assert w.ops(5).count("k3tog") == 1


def test_one_more_row_decreased_at_the_centre_takes_the_same_decrease():
    w = work(f"{CENTRE}Row 4: Purl.\nNext row: Knit, decreasing at centre. (25 sts)\nBind off.")
    assert w.wrong == []
    assert w.ops(5)[12] == "k3tog"


def test_words_that_shape_are_not_passed_over_as_a_way_to_go_on():
    w = work(
        f"{CENTRE}Continue as set, making a picot at each end of every row, until 21 sts remain.\nBind off."
    )
    assert w.wrong != []
