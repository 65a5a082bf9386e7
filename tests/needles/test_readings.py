"""Words with two readings: the counts choose, and it is said which was knitted."""

import pytest

from purlwright.workup import WorkUp

TIMES = """# Gull
Cast on 10 sts.
Row 1 (RS): Kfb, knit to last st, kfb.
Row 2 (WS): Purl.
Rep rows 1 and 2 three times.{total}
Bind off.
"""
ROW = "# Gull\nCast on 10 sts.\nRow 1 (RS): {row}\nBind off.\n"


def settled(text):
    return [f.message for f in WorkUp(text).proved().findings if f.settled]


def codes(text):
    found = WorkUp(text).proved().findings
    return [f.code for f in found if f.check in {"C001", "C002", "C026", "C041"}]


@pytest.mark.parametrize(
    ("total", "said"),
    [
        (" (18 sts)", '"3 times" was knitted as 3 more: with 3 in all the counts do not come out.'),
        (" (16 sts)", '"3 times" was knitted as 3 in all: with 3 more the counts do not come out.'),
    ],
)
def test_rows_again_so_many_times_are_read_as_the_total_tells_and_it_is_said(total, said):
    assert settled(TIMES.format(total=total)) == [said]


def test_nothing_is_settled_where_no_count_tells():
    assert settled(TIMES.format(total="")) == []
    assert "times-or-more" in codes(TIMES.format(total=""))


def test_a_total_that_fits_neither_reading_is_wrong():
    assert settled(TIMES.format(total=" (17 sts)")) == []
    assert "total-differs" in codes(TIMES.format(total=" (17 sts)"))


@pytest.mark.parametrize(
    ("row", "found"),
    [
        ("K4, k1, p1 3 times.", ["reading-chosen"]),  # 4 + 3 times 2
        ("K6, k1, p1 3 times.", ["reading-chosen"]),  # 6 + 1 + 3: as a comma is mostly read
        ("K1, p1 3 times, knit to end.", ["reads-two-ways"]),
        ("K1, yo and k2tog 3 times, knit to end. (10 sts)", ["reading-chosen"]),
        ("K1, yo and k2tog 3 times, knit to end. (8 sts)", ["reading-chosen"]),
        ("K1, yo, k2tog 3 times, knit to end. (8 sts)", ["reading-chosen"]),
        ("K1, yo, k2tog 3 times, knit to end.", ["reads-two-ways"]),
        ("K1, yo, k2tog 3 times, knit to end. (9 sts)", ["total-differs"]),
        ("*K1, p1; rep from * 4 times.", ["times-chosen"]),  # 4 more: 5 times 2
        ("*K1, p1; rep from * 5 times.", ["times-chosen"]),  # 5 in all
        ("*K1, p1; rep from * 3 times, knit to end.", ["times-or-more"]),
        ("*K1, yo; rep from * 3 times, knit to end. (14 sts)", ["times-chosen"]),  # 4 holes
        ("*K1, yo; rep from * 3 times, knit to end. (13 sts)", ["times-chosen"]),  # 3
        ("[K1, p1 3 times], k4.", ["reading-chosen"]),
        ("(K1 and p1 3 times), k4.", []),
        ("K2tog, yo twice, ssk, k6.", []),
    ],
)
def test_a_row_with_two_readings(row, found):
    assert codes(ROW.format(row=row)) == found


def test_a_reading_that_the_counts_chose_breaks_no_check():
    text = TIMES.format(total=" (18 sts)")
    assert {v.check: v.result for v in WorkUp(text).proved().verdicts}["C026"] == "holds"


PATTERN = """# Gull
Cast on 12 sts.
Row 1 (RS): *K2, p2; rep from * to end.
Row 2 (WS): Purl.
Row 3: *P2, k2; rep from * to end.
Row 4: Purl.
Rep rows 1-4 once more.
{between}
{again}
Bind off.
"""


@pytest.mark.parametrize(
    ("between", "again", "found"),
    [
        ("Next row: Knit.", "Work 4 rows in pattern.", ["pattern-row-not-said"]),
        ("Next 3 rows: Knit.", "Work 4 rows in pattern.", ["pattern-row-not-said"]),
        ("Next 2 rows: Knit.", "Work 4 rows in pattern.", []),
        ("Next row: Knit.", "Cont in pattern, beginning with row 2, for 4 rows.", []),
        (
            "Next row: Knit.",
            "Cont in pattern, beginning with row 3, for 4 rows.",
            ["pattern-row-on-other-side"],
        ),
        ("Next row (RS): Work in pattern.", "Work 4 rows in pattern.", []),
    ],
)
def test_a_pattern_taken_up_again_goes_on_with_a_row_of_the_side_that_faces(between, again, found):
    text = PATTERN.format(between=between, again=again)
    assert [f.code for f in WorkUp(text).proved().findings if f.check == "C027"] == found


def test_the_row_that_the_words_name_is_worked():
    text = PATTERN.format(
        between="Next 2 rows: Knit.", again="Cont in pattern, beginning with row 3, for 1 row."
    )
    last = WorkUp(text).knitted().ledger.pieces[0].rows[-2]
    assert last.first == "p"  # row 3 begins with a purl, row 1 with a knit


def test_two_rows_of_stockinette_are_taken_up_on_the_right_side_without_a_word():
    text = "# Gull\nCast on 12 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): Purl.\nNext row: K2tog, knit to end.\nWork 3 rows in pattern.\nBind off.\n"
    work = WorkUp(text)
    assert [e.first for e in work.knitted().ledger.pieces[0].rows[4:7]] == ["p", "k", "p"]
    assert [f for f in work.proved().findings if f.check == "C027"] == []
