"""Squares whose columns follow the fabric, against pieces that can be followed by hand."""

import pytest

from chart.squares import chart, drawn, rows_of
from purlwright.chart.grid import make_grid


def test_no_rows_give_a_chart_without_squares():
    _, knitted, _ = rows_of("Cast on 4 sts.\nRow 1: Knit.")
    grid = make_grid(knitted, [], "Nothing")
    assert (grid.columns, grid.rows) == (0, ())


def test_one_stitch_is_one_square():
    assert drawn(chart("Cast on 1 st.\nRow 1 (RS): Knit.")) == [". 1"]


def test_the_right_side_is_shown_and_numbers_stand_where_rows_start():
    words = "Cast on 4 sts.\nRow 1 (RS): K1, p3.\nRow 2 (WS): K3, p1."
    assert drawn(chart(words)) == ["2 ---.", "---. 1"]


def test_rounds_all_start_at_the_right():
    words = "Cast on 4 sts. Join in the round.\nRnd 1: K1, p3.\nRnd 2: K1, p3."
    assert drawn(chart(words)) == ["---. 2", "---. 1"]


def test_a_hole_and_its_decrease_share_the_row_without_a_new_column():
    words = "Cast on 7 sts.\nRow 1 (RS): K1, yo, k2, k2tog, k2.\nRow 2: Purl.\nRow 3: K2, ssk, k1, yo, k2."
    assert drawn(chart(words)) == ["..o.\\.. 3", "2 .......", "../..o. 1"]


def test_stitches_made_for_good_open_columns_beside_the_stitch_they_come_from():
    words = """Cast on 3 sts.
Row 1 (RS): K1, yo, k1, yo, k1.
Row 2: Purl.
Row 3: K2, yo, k1, yo, k2.
Row 4: Purl."""
    assert drawn(chart(words)) == ["4 .......", "..o.o.. 3", "2 ..#.#..", ".o#.#o. 1"]


def test_several_from_one_stand_over_their_columns_and_are_taken_together_there():
    words = """Cast on 5 sts.
Row 1 (RS): K2, (k1, yo, k1) in next st, k2.
Row 2 (WS): P2, p3tog, p2.
Row 3: Knit."""
    assert drawn(chart(words)) == ["..#.#.. 3", "2 ..#R#..", "..fff.. 1"]


def test_a_column_that_ended_is_used_again_where_the_fabric_opens_one():
    words = "Cast on 6 sts.\nRow 1 (RS): K2, k2tog, k2.\nRow 2: Purl.\nRow 3: K2, m1l, k3."
    assert drawn(chart(words)) == ["...l.. 3", "2 ...#..", "../#.. 1"]


def test_a_crossing_is_one_sign_over_its_stitches():
    grid = chart("Cast on 8 sts.\nRow 1 (RS): P2, 2/2 RC, p2.\nRow 2 (WS): K2, p4, k2.")
    (crossing,) = [s for s in grid.rows[0].squares if s.width > 1]
    assert (crossing.sign, crossing.column, crossing.width) == ("cross-2-2-right", 2, 4)


@pytest.mark.parametrize(
    ("words", "sign"),
    [
        ("2/2 LC", "cross-2-2-left"),
        ("2/1 RPC", "cross-2-1-right-purl"),
        ("2/1/2 LPC", "cross-2-1-2-left-purl"),
        ("sl 2 sts to cable needle and hold in back, k2, k2 from cable needle", "cross-2-2-right"),
        ("sl 2 sts to cable needle and hold in front, p1, k2 from cable needle", "cross-2-1-left-purl"),
        ("sl 1 st to cable needle and hold in back, k2, p1 from cable needle", "cross-2-1-right-purl"),
        ("RT", "twist-right"),
    ],
)
def test_a_crossing_is_read_off_the_fabric_however_it_is_told(words, sign):
    grid = chart(f"Cast on 9 sts.\nRow 1 (RS): K2, {words}, k to end.\nRow 2: Purl.")
    assert [s.sign for s in grid.rows[0].squares if s.width > 1] == [sign]


def test_a_crossing_worked_on_the_wrong_side_is_the_one_the_right_side_shows():
    """Worked from behind, two in front leaning right lie behind, and the others pass in front of them."""
    grid = chart("Cast on 5 sts.\nRow 1 (RS): K5.\nRow 2 (WS): P1, 2/1 RC, p1.")
    (crossing,) = [s for s in grid.rows[1].squares if s.width > 1]
    assert crossing.sign == "cross-1-2-right-all-purl"


def test_short_rows_leave_squares_out_and_turn_before_them():
    words = "Cast on 6 sts.\nRow 1 (RS): K4, w&t.\nRow 2 (WS): Purl.\nRow 3: K2, turn.\nRow 4: Purl."
    grid = chart(words)
    assert drawn(grid) == ["4 ~~~..", "~~~.. 3", "2 ~....", "~.... 1"]
    assert [row.turned for row in grid.rows] == ["turn-wrapped", "", "turn", ""]


def test_stitches_bound_off_leave_no_column_behind():
    words = "Cast on 6 sts.\nRow 1 (RS): Bind off 2 sts, k to end.\nRow 2: Purl."
    assert drawn(chart(words)) == ["2 ....", "....cc 1"]


def test_a_stitch_of_her_own_is_one_square_with_her_abbreviation():
    words = """# A
## Abbreviations
MB: (k1, yo, k1) in next st, turn, p3, turn, k3tog.
## Body
Cast on 5 sts.
Row 1 (RS): K2, MB, k2.
Row 2: Purl."""
    grid = chart(words)
    assert [s.sign for s in grid.rows[0].squares] == ["knit", "knit", "bobble", "knit", "knit"]
    assert [s.name for s in grid.rows[0].squares if s.own] == ["MB"]


def test_an_abbreviation_that_nobody_else_has_stands_in_its_square():
    words = """# A
## Abbreviations
wisp: k1, yo, k1, pass the first of these over the other two.
## Body
Cast on 6 sts.
Row 1 (RS): K2, wisp, k2."""
    grid = chart(words)
    assert [s.sign for s in grid.rows[0].squares if s.own] == ["letters:wisp"]


def test_every_square_knows_its_words():
    work, knitted, rows = rows_of("Cast on 4 sts.\nRow 1 (RS): K1, [yo, k2tog], k1.")
    grid = make_grid(knitted, rows, "A")
    said = [work.source.words(s.span) for s in grid.rows[0].squares[::-1]]
    assert said == ["K1", "yo", "k2tog", "k1"]


def test_a_row_that_was_not_read_is_told_by_its_line():
    words = "Cast on 4 sts.\nRow 1 (RS): K2, zzork 4, k2. (6 sts)\nRow 2: Purl. (6 sts)"
    assert chart(words).unread == (2,)
