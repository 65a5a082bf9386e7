"""Checks that a tally of printed faults asked for: each holds at the right number of places, or has nothing to judge."""

import pytest

from purlwright.findings import Result
from purlwright.workup import WorkUp

SLEEVE = """# Gull Cardigan
Sizes: S (L)
Finished size: armhole 18 (20) cm deep; sleeve 40 (42) cm long
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch
## Back
Cast on 96 (104) sts.
Work 150 rows in stockinette stitch.
Bind off.
## Sleeve
Cast on 44 (52) sts.
Work in stockinette stitch, increasing 1 st at each end of every 6th row 14 times. (72 (80) sts)
Work 28 (34) rows in stockinette stitch.
{end}
"""
EXPLAINED = """# Gull Panel
## Abbreviations
dec3: slip 1 knitwise, {steps} (2 sts decreased).
sk2p: slip 1, knit 2 together, pass the slipped st over (2 sts decreased).

## Panel
Cast on 12 sts.
Row 1: Knit 9, dec3.
Bind off all sts.
"""
HEEL = """# Gull Sock
Cast on 40 sts and join to work in the round.
Knit 10 rnds.
{turn}Row 1 (WS): {there}19, w&t.
Row 2 (RS): {back}18, w&t.
Row 3: {there} to 1 st before gap, w&t.
Row 4: {back} to 1 st before gap, w&t.
Leave the wraps as they are.
"""


def verdict(text, check):
    return next(v for v in WorkUp(text).proved().verdicts if v.check == check)


def codes(text):
    return {f.code for f in WorkUp(text).proved().findings}


def test_a_straight_sleeve_is_held_against_its_armhole_in_every_size():
    assert verdict(SLEEVE.format(end="Bind off."), "C067").places == 2
    assert "sleeve-top-differs" not in codes(SLEEVE.format(end="Bind off."))


def test_a_sleeve_with_a_cap_is_not_held_against_the_depth():
    capped = SLEEVE.format(end="Bind off 6 sts at the beginning of the next 4 rows.\nBind off.")
    assert verdict(capped, "C067").places == 0


def test_a_shaping_is_held_against_the_length_of_its_part_in_every_size():
    found = verdict(SLEEVE.format(end="Bind off."), "C058")
    assert (found.result, found.places) == (Result.HOLDS, 4)  # twice while knitting, twice against the length


@pytest.mark.parametrize(
    ("steps", "places"),
    [
        ("k2tog, pass the slipped st over", 2),
        ("knit 2 together, psso", 2),
        ("repeat until 1 st is left", 1),  # words that cannot be counted
    ],
)
def test_an_explanation_is_counted_if_its_words_can_be(steps, places):
    text = EXPLAINED.format(steps=steps)
    assert "steps-take-off-other" not in codes(text)
    assert (
        verdict(text, "C018").places - verdict(text.replace(" (2 sts decreased)", ""), "C018").places
        == places
    )


@pytest.mark.parametrize(
    ("turn", "there", "back", "found"),
    [("", "P", "K", False), ("", "K", "P", True), ("Turn.\n", "K", "P", False)],
)
def test_sides_are_exchanged_if_the_rows_show_the_other_face_and_nothing_turned(turn, there, back, found):
    assert ("sides-exchanged" in codes(HEEL.format(turn=turn, there=there, back=back))) is found
