"""What is seen when a row is done: rules that teachers give for reading knitting, and laws.

The rules are from published pages; each is named beside its test. That one slipped edge stitch stands for two
rows is common knowledge of every manual (from memory, for example M. Thomas, Mary Thomas's Knitting Book, 1938).
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.needles.looks import LANDMARKS, lean_of, looks
from purlwright.needles.optable import op_table
from purlwright.stitches.kinds import Lean
from purlwright.stitches.load import dictionary
from purlwright.workup import WorkUp


def after(text):
    """What is seen after each row of the first piece."""
    knitted = WorkUp(text).knitted()
    return looks(knitted, knitted.ledger.pieces[0])


@given(st.integers(1, 40), st.integers(3, 30))
def test_two_rows_of_garter_make_one_ridge(rows, sts):
    """ "Every 2 rows in garter stitch is equivalent to 1 ridge": thehuts-eastbourne.co.uk, How to count garter stitch rows."""
    last = after(f"# Ebb\nCast on {sts} sts.\nKnit {rows} rows.\n")[-1]
    assert last.ridges[0] == last.ridges[1] == rows // 2


@given(st.integers(1, 20))
def test_a_slipped_edge_shows_one_chain_for_two_rows(pairs):
    last = after(
        f"# Ebb\nCast on 12 sts.\nRow 1 (RS): Sl 1, k to end.\nRow 2: Sl 1, p to end.\nRep rows 1 and 2 {pairs} times more.\n"
    )[-1]
    assert last.chains == (pairs + 1, pairs + 1)


def test_rows_since_a_crossing_are_counted_as_strands_above_the_hole():
    """Crossings in rows 7 and 15, 14 rows worked: the first strand is row 7 itself.

    craftandhobby.com, Counting cable rows; the strand right above the hole is "strand zero": tinynonsense.com,
    Counting rows, 2024.
    """
    text = "# Eel\nCast on 12 sts.\n" + "".join(
        f"Row {n}{' (RS)' if n == 1 else ''}: "
        + ("P3, 3/3 LC, p3.\n" if n in {7, 15} else "P3, k6, p3.\n" if n % 2 else "K3, p6, k3.\n")
        for n in range(1, 17)
    )
    seen = after(text)
    crossing = LANDMARKS.index("crossing")
    assert seen[5].since[crossing] == -1
    assert seen[6].since[crossing] == 0
    assert seen[13].since[crossing] == 7, "eight strands above the hole, row 7's own among them"
    assert seen[14].since[crossing] == 0


@pytest.mark.parametrize(("stitch", "lean"), [("k2tog", Lean.RIGHT), ("ssk", Lean.LEFT), ("skp", Lean.LEFT)])
def test_decreases_lean_as_teachers_say(stitch, lean):
    """K2tog leans right, ssk left: shop.garturstitchfarm.com, Week 2: Decreasing; skpo to the left: zanotowane.pl/774/5105."""
    kind = dictionary().find(stitch)
    assert lean_of(op_table().add(kind)) is lean


def test_short_rows_leave_stitches_beyond_the_gap():
    seen = after(
        "# Ebb\nCast on 20 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): Knit to last 4 sts, w&t.\nRow 3: Knit.\nRow 4: Knit to 4 sts before gap, w&t.\nRow 5: Knit.\nRow 6: Knit.\n"
    )
    assert [x.waiting for x in seen] == [0, 4, 4, 8, 8, 0]
    assert [x.gaps for x in seen] == [0, 1, 1, 2, 2, 0]
    assert [x.side.value for x in seen] == ["WS", "RS", "WS", "RS", "WS", "RS"]


def test_stitches_between_markers_are_told_as_the_next_row_meets_them():
    seen = after("# Ebb\nCast on 12 sts.\nRow 1 (RS): K2, pm, k7, pm, k3.\nRow 2: Purl.\n")
    assert [x.between for x in seen] == [(3, 7, 2), (2, 7, 3)]


def test_a_piece_without_rows_has_nothing_to_see():
    assert after("# Ebb\nCast on 12 sts.\nBind off.\n") == ()
