"""The stitch that a bind-off leaves on the right needle: counted among the stitches after it where they say so."""

import pytest

from needles.worked import ends, work


@pytest.mark.parametrize(
    ("rest", "after"),
    [
        # 15 stitches and the one left on the right needle are eight times two
        ("[k1, p1] 8 times", 16),
        ("*k1, p1; rep from * to end", 16),
        ("[k2, p2] 4 times", 16),
        ("[k2, p1] 5 times", 16),
        ("k15", 16),
        ("k16", 16),
        ("*k3, p2; rep from * to end", 16),
    ],
)
def test_the_stitch_a_bind_off_leaves_counts_where_the_words_come_out_with_it(rest, after):
    got = ends(f"Cast on 20 sts.\nRow 1: Bind off 4 sts, {rest}.\nBind off.")
    assert got[1] == after


def test_a_group_that_comes_out_neither_way_is_said():
    w = work("Cast on 20 sts.\nRow 1: Bind off 4 sts, [k1, p1] 9 times.\nBind off.")
    assert any("18" in f or "needs" in f for f in w.wrong)


@pytest.mark.parametrize("label", ["Next 4 rows:", "Rows 3-6:"])
@pytest.mark.parametrize(
    ("words", "left"),
    [("Bind off 3 sts at the beginning of each row.", 28), ("Dec 1 st at each end of every row.", 32)],
)
def test_what_is_done_in_each_row_is_done_in_each_of_the_rows_told_together(label, words, left):
    w = work(f"Cast on 40 sts.\nKnit 2 rows.\n{label} {words} ({left} sts)\nBind off.")
    assert w.wrong == []
    assert len(w.rows) == 8
