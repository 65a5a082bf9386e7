"""Repeats within repeats that ask for more than ever comes to an end: said at once, never worked out."""

import pytest

from needles.worked import work
from purlwright.findings import Severity
from purlwright.workup import WorkUp


def nested(depth, words):
    return "# Knot\nCast on 10 sts.\nRow 1: " + "[" * depth + words + "] twice" * depth + "\n"


@pytest.mark.parametrize("words", ["k1", "sm", "yo, sl 1 wyif, drop yo"])
@pytest.mark.parametrize("depth", [12, 30, 50, 51, 200, 10_000])
def test_repeats_within_repeats_come_to_an_end(depth, words):
    """Twice, fifty deep, is 2 to the 50th power: a lifetime, if it were worked one by one."""
    pattern = WorkUp(nested(depth, words))
    assert any(f.severity is not Severity.NOTE for f in pattern.proved().findings)
    assert pattern.repairs() is not None


def test_more_repeats_than_any_row_has_are_said_once():
    found = [f for f in work(nested(40, "sm")[7:]).knitted.findings if f.code == "too-much-knitting"]
    assert len(found) == 1


def test_a_wide_row_of_repeats_worked_step_by_step_is_no_such_thing():
    w = work(
        "Cast on 9000 sts.\nRow 1: [bring yarn to front, sl 1, take yarn to back, k1] 4500 times.\nBind off."
    )
    assert [f.code for f in w.knitted.findings if f.code == "too-much-knitting"] == []
    assert w.ends == [9000, 9000, 0]
