"""Stitches taken up from the end where the yarn is joined, and shaping that does not go on where other is told."""

import numpy as np
import pytest

from needles.worked import ends, work
from purlwright.needles.knit import knit
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

PANEL = "Cast on 10 sts.\nRow 1 (RS): K6, place rem 4 sts on a holder, turn.\nRow 2: Purl.\nBind off.\n"


def first_taken(words):
    """The loops that the stitches of the first row after ``PANEL`` are worked into, in working order."""
    w = work(f"{PANEL}{words}\nBind off.")
    f = w.fabric
    row = w.rows[4].order
    new = np.flatnonzero(f.row_of_stitch == row)
    return [int(f.parent[f.first_parent_of_stitch[i]]) for i in new]


@pytest.mark.parametrize(
    "words",
    [
        "Return the held sts to needle. With WS facing, join yarn.\nNext row: K4.",
        "Return the held sts to needle and join yarn.\nRow 1 (WS): P4.",
        "Place held sts on needle. Join yarn with WS facing.\nNext row: K4.",
        "With WS facing, rejoin yarn to held sts.\nNext row: K4.",
    ],
)
def test_a_row_joined_on_the_wrong_side_begins_at_the_other_end(words):
    right = first_taken("With RS facing, rejoin yarn to held sts.\nNext row: K4.")
    assert first_taken(words) == right[::-1]


@pytest.mark.parametrize(
    "words",
    [
        "Return the held sts to needle. With RS facing, join yarn.\nNext row: K4.",
        "Return the held sts to needle and join yarn.\nRow 1 (RS): K4.",
    ],
)
def test_a_row_joined_on_the_right_side_begins_where_the_held_stitches_begin(words):
    assert first_taken(words) == first_taken("With RS facing, rejoin yarn to held sts.\nNext row: K4.")


def test_a_bind_off_after_repeated_shaping_rows_does_not_shape_once_more():
    text = (
        "Cast on 40 sts.\nRow 1: Inc 1, k to last st, inc 1.\nRow 2: Purl.\nRep rows 1 and 2 3 times more.\n"
    )
    assert ends(f"{text}Bind off 4 sts at the beg of the next 2 rows.\nBind off.")[-3:] == [44, 40, 0]
    assert ends(f"{text}Dec 1 st at each end of next row.\nBind off.")[-2:] == [46, 0]


@pytest.mark.parametrize(
    ("row", "made"),
    [
        ("K - (2, 4), yo, k to end.", 1),
        ("K1, [yo] - (2, 3) times, k to end.", 2),
        ("K1, [yo, k1] twice, [yo] - (2, 3) times, k to end.", 4),
        ("K1, [yo, k1] -(2, 3) times, k to end.", 2),
    ],
)
def test_a_list_that_begins_with_a_dash_has_one_number_for_each_size(row, made):
    text = f"# Band\n\nSizes: S (M, L)\n\nCast on 20 (24, 28) sts.\nRow 1: {row}\nBind off."
    pattern = read_pattern(Source(text))
    assert [f.message for f in pattern.findings] == []
    ends = [[e.end for e in knit(pattern, size=size).ledger.entries] for size in (0, 1)]
    assert ends[1][1] == 24 + made
    assert ends[0][1] == 20 + {1: 1, 2: 0, 4: 2}[made]
