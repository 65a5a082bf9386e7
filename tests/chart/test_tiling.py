"""Repeats found, proved and shown once."""

from chart.squares import chart, drawn, rows_of
from purlwright.chart.grid import make_grid
from purlwright.chart.tiling import once_across, once_upwards

LACE = """Cast on 27 sts.
Row 1 (RS): K2, *yo, k2, sk2p, k2, yo, k1; rep from * to last st, k1.
Row 2: Purl.
Row 3: K3, *yo, k1, sk2p, k1, yo, k3; rep from * to end."""


def test_a_repeat_is_shown_once_with_what_stands_at_its_edges():
    grid = chart(LACE, once=True)
    assert drawn(grid) == ["...o.L.o... 3", "2 ...........", "..o..L..o.. 1"]
    (tile,) = grid.tiles
    assert (tile.first, tile.width, tile.times) == (1, 8, 3)


def test_one_stitch_that_is_different_in_one_copy_is_no_repeat():
    spoiled = LACE.replace("Row 2: Purl.", "Row 2: P12, k1, p14.")
    assert chart(spoiled, once=True).tiles == ()


def test_two_repeats_side_by_side_are_each_shown_once():
    words = """Cast on 20 sts.
Row 1 (RS): [K1, p1] 4 times, k3, [p2, k1] 3 times.
Row 2 (WS): [P1, k2] 3 times, p3, [k1, p1] 4 times."""
    grid = chart(words, once=True)
    assert [(t.width, t.times) for t in grid.tiles] == [(3, 3), (2, 4)]


def test_a_crossing_over_the_edge_moves_the_frame_aside():
    words = """Cast on 24 sts. Join in the round.
Rnd 1: [2/2 RC, k2] 4 times.
Rnd 2: K2, [2/2 LC, k2] 3 times, 2/2 LC."""
    grid = chart(words, once=True)
    (tile,) = grid.tiles
    for row, aside in zip(grid.rows, tile.moved, strict=True):
        for edge in (tile.first - aside, tile.first + tile.width - aside):
            assert not any(s.column < edge < s.column + s.width for s in row.squares)


def test_plain_rows_are_no_repeat():
    assert chart("Cast on 12 sts.\nRow 1 (RS): *K2; rep from * to end.\nRow 2: Purl.", once=True).tiles == ()


def test_words_that_do_not_repeat_make_a_repeat_only_when_it_is_plain_to_see():
    two = "Cast on 8 sts.\nRow 1 (RS): P1, k3, p1, k3."
    four = "Cast on 16 sts.\nRow 1 (RS): P1, k3, p1, k3, p1, k3, p1, k3."
    assert chart(two, once=True).tiles == ()
    assert [t.times for t in chart(four, once=True).tiles] == [4]


def test_rows_that_come_again_are_drawn_once():
    words = "Cast on 8 sts. Join in the round.\nRnds 1-6: *K1, p1; rep from * to end."
    _, knitted, rows = rows_of(words)
    grid = once_upwards(once_across(make_grid(knitted, rows, "Rib")))
    assert drawn(grid) == ["-. 1"]
    assert grid.notes == ("Rounds 1 to 6 are worked so.",)
