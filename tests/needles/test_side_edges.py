"""The two sides of a piece: purl bumps the right side shows there, and stitches slipped."""

from needles.worked import work


def test_garter_has_a_bump_at_both_sides_every_other_row():
    last = work("Cast on 6 sts.\nKnit 6 rows.\nBind off.").rows[6]
    assert (last.ridges_right, last.ridges_left) == (3, 3)
    assert (last.chains_right, last.chains_left) == (0, 0)


def test_stockinette_has_none():
    last = work("Cast on 6 sts.\nRow 1: Knit.\nRow 2: Purl.\nRep rows 1-2 2 more times.\nBind off.").rows[6]
    assert (last.ridges_right, last.ridges_left) == (0, 0)


def test_a_slipped_first_stitch_is_a_chain_at_the_side_where_its_row_begins():
    w = work("Cast on 6 sts.\nRow 1 (RS): Sl 1, k5.\nRow 2: Sl 1, p5.\nRow 3: Sl 1, k5.\nBind off.")
    assert [(e.chains_right, e.chains_left) for e in w.rows[1:4]] == [(1, 0), (1, 1), (2, 1)]


def test_a_new_piece_counts_afresh():
    w = work("Cast on 4 sts.\nKnit 4 rows.\nBind off.\n\n## Strap\nCast on 4 sts.\nKnit 2 rows.\nBind off.")
    assert w.rows[-2].ridges_right == 1
