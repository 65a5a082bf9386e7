"""Stitches told by whether the row before slipped them: each is worked so, one or many."""

import pytest

from needles.worked import work

SLIPPED = "Cast on 12 sts.\nRow 1: *K2, sl 1; rep from *.\n"


@pytest.mark.parametrize(
    ("words", "ops"),
    [
        ("Knit the knit sts and slip the slipped sts with yarn in front.", ["k", "k"] * 4),
        ("Purl the knit sts and knit the slipped sts.", ["k", "p", "p"] * 4),
        ("Purl the slipped sts, knit the rest.", ["p", "k", "k"] * 4),
        ("Knit all sts worked in row 1, sl all slipped sts wyif.", ["k", "k"] * 4),
        ("Knit the same sts, slip the same sts wyif.", ["k", "k"] * 4),
        ("Purl, slipping the slipped sts.", ["p", "p"] * 4),
        ("*Knit the slipped st, p2; rep from *.", ["k", "p", "p"] * 4),
        ("Knit the slipped sts, purl to end.", ["k"] + ["p"] * 11),
    ],
)
def test_each_stitch_is_worked_by_what_the_row_before_did_with_it(words, ops):
    w = work(f"{SLIPPED}Row 2: {words}\nBind off.")
    assert w.wrong == []
    assert w.ops(2) == ops


def test_as_many_are_knitted_as_were_slipped_before_the_turn():
    w = work("Cast on 12 sts.\nRow 1: Slip 3, turn, knit the slipped sts, turn.\nRow 2: K12.\nBind off.")
    assert w.wrong == []
    assert [e.worked for e in w.rows] == [0, 3, 3, 12, 12]


@pytest.mark.parametrize("last", ["knit the slipped sts", "k3 from cn", "purl the held stitches"])
def test_slipped_to_a_cable_needle_they_are_worked_from_it(last):
    w = work(f"Cast on 12 sts.\nRow 1: Sl 3 sts to cn and hold in back, k3, {last}, k6.\nBind off.")
    assert w.wrong == []
    assert w.ends == [12, 12, 0]


@pytest.mark.parametrize(
    "row",
    [
        "Sl 4, k4, knit the slipped sts.",
        "Knit the slipped sts, k to end.",
        "Purl the slipped sts, knit the rest.",
    ],
)
def test_where_none_was_slipped_it_is_said(row):
    w = work(f"Cast on 12 sts.\nRow 1: {row}\nBind off.")
    assert [f.split(":")[0] for f in w.wrong] == ["no-slipped-stitches"]
