"""Bind-offs in the middle of a row: whose the stitch is that each leaves, by the numbers of the whole row."""

import pytest

from needles.worked import work

RIB = "Cast on 98 sts.\nRows 1-3: *K1, p1; rep from * to end.\n"


@pytest.mark.parametrize(
    "row",
    [
        "Row 4: Rib 3, [bind off 2 sts, rib 16] 5 times, bind off 2 sts, rib 3.",
        "Row 4: K3, [bind off 2 sts, k16] 5 times, bind off 2 sts, k3.",
        "Row 4: Rib 3, [bind off 2 sts, rib 15] 5 times, bind off 2 sts, rib 2.",
    ],
)
def test_the_stitch_left_is_counted_as_the_numbers_of_the_row_come_out(row):
    w = work(f"{RIB}{row}\nBind off.")
    assert w.wrong == []
    assert w.ends[4] == 86


@pytest.mark.parametrize(
    "row", ["Row 4: Rib 5, k2tog, yo, rib 7.", "Row 4: K5, k2tog, yo, work in pattern over next 7 sts."]
)
def test_a_row_in_pattern_that_leaves_stitches_over_is_said(row):
    w = work(f"Cast on 20 sts.\nRows 1-3: *K1, p1; rep from * to end.\n{row}\nRow 5: Knit.\nBind off.")
    assert [f.message for f in w.knitted.findings] == ["Row 4 uses 14 of the 20 stitches on the needle."]


def test_rows_of_two_yarns_are_worked_again_in_those_yarns():
    w = work(
        "With A cast on 10 sts.\nWith A, knit 4 rows.\nWith B, knit 2 rows.\n"
        "Rep the last 6 rows once more.\nBind off."
    )
    assert w.wrong == []
    assert "".join(e.yarns[0] for e in w.knitted.ledger.entries[1:13]) == "AAAABBAAAABB"


def test_rows_worked_again_with_a_yarn_that_is_named_are_of_that_yarn():
    w = work(
        "With A cast on 10 sts.\nWith A, knit 2 rows.\nWith B, knit 2 rows.\n"
        "With C, rep the last 4 rows.\nBind off."
    )
    assert "".join(e.yarns[0] for e in w.knitted.ledger.entries[1:9]) == "AABBCCCC"
