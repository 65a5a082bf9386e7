"""Stitches still on the needle when the words end: what is a fault of the words, and what is not."""

import pytest

from needles.worked import work

LACE = "Row 1: *K2tog, yo; rep from * to end.\nRow 2: Purl."


def codes(text):
    w = work(text)
    found = [*w.pattern.findings, *w.knitted.findings]
    return {(str(f.severity), f.code) for f in found if f.code in {"left-live", "ending-not-said"}}


def test_a_piece_that_is_not_closed_is_told():
    assert codes(f"Cast on 12 sts.\n{LACE}") == {("warning", "left-live")}


def test_a_stitch_pattern_of_any_width_has_no_end_to_be_told():
    assert codes(f"Cast on a multiple of 2 sts.\n{LACE}") == set()


@pytest.mark.parametrize("again", ["Repeat these 2 rows.", "Repeat rows 1-2 for desired length."])
def test_rows_repeated_without_an_end_get_a_note(again):
    assert codes(f"Cast on 12 sts.\n{LACE}\n{again}") == {("note", "ending-not-said")}


def test_rows_repeated_so_often_have_an_end():
    assert codes(f"Cast on 12 sts.\n{LACE}\nRepeat rows 1-2 twice more.") == {("warning", "left-live")}


def test_after_words_that_were_not_read_nothing_is_said_of_what_is_left():
    assert codes(f"Cast on 12 sts.\n{LACE}\nRow 3: K2 and gurgle 3 sts in the tide.") == set()


def test_a_count_printed_in_a_row_of_unread_words_belongs_to_that_row():
    w = work("Cast on 12 sts.\nRow 1: K2 and gurgle (24 sts")
    assert [(e.start, e.made, e.end, e.resumed) for e in w.rows] == [(0, 12, 12, False), (12, 12, 24, True)]


@pytest.mark.parametrize("label", ["Row 1:", "Rows 1 and 2:", "Next 2 rows:"])
def test_a_bind_off_after_a_row_worked_to_its_end_is_a_row_of_its_own(label):
    w = work(f"Cast on 6 sts.\n{label} Knit, then bind off loosely.")
    assert w.wrong == []
    assert w.ends == [6, *[6] * (1 if "1:" in label else 2), 0]


def test_no_row_of_a_rule_follows_when_all_is_bound_off():
    w = work(
        "Cast on 6 sts. Join in the round.\nRound 2: K2, yo, k to end. Every other round is plain.\n"
        "Round 4: K2, yo, k to end.\nRounds 5 and 6: Plain, then bind off."
    )
    assert w.wrong == []
    assert w.ends[-1] == 0


def test_a_repeat_of_two_rounds_that_ends_with_the_first_goes_on_inside_the_repeat():
    """The set-up round has the lowest number, and is not worked again."""
    w = work(
        "Cast on 12 sts. Join to work in the round.\nRound 1: K6, pm, m1l, pm, k6. (13 sts)\nRound 2: Knit.\n"
        "Round 3: K6, sm, m1l, k to m, sm, k6.\n"
        "Repeat rounds 2 and 3 until there are 5 sts between the markers, ending with round 2.\n"
        "Bind off."
    )
    assert w.wrong == []
    assert w.ends[-4:] == [16, 17, 17, 0]
