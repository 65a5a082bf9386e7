"""Ribbing over a number of stitches that its repeat does not divide: it breaks off, and goes on as it appears."""

import pytest

from needles.worked import work


@pytest.mark.parametrize(("many", "faces"), [(12, "kkppkkppkkpp"), (10, "kkppkkppkk")])
def test_ribbing_lines_up_whatever_it_ends_with(many, faces):
    w = work(f"Cast on {many} sts.\nWork in ribbing of k2, p2 for 4 rows.\nBind off.")
    assert w.wrong == []
    front = [w.seen(n) if n % 2 else w.seen(n)[::-1] for n in range(1, 5)]
    assert front[0] == faces
    if many == 10:
        assert set(front) == {faces}


def test_ribbing_does_not_break_off_inside_a_purl_of_two():
    w = work("Cast on 11 sts.\nWork in ribbing of k2, p2 for 4 rows.\nBind off.")
    assert [f.split(":")[0] for f in w.wrong] == ["repeat-uneven"]


def test_a_repeat_from_a_star_does_not_break_off():
    w = work("Cast on 10 sts.\nRow 1: *K2, p2; rep from * to end.\nBind off.")
    assert [f.split(":")[0] for f in w.wrong] == ["repeat-uneven"]


@pytest.mark.parametrize(
    "needles", ["three needles", "three of the finest knitting-needles", "three of the pins"]
)
def test_a_cast_on_shared_by_some_of_the_needles_is_counted_on_each(needles):
    w = work(
        f"Cast on 16 stitches on each of {needles}, and close into a round.\nKnit 1 round. (48 sts)\nBind off."
    )
    assert w.wrong == []
