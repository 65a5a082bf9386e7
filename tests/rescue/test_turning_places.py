"""Turning places told one by one: what is known of wedges from the counting of their turns.

Source: the closed form of a wedge. Where each turn leaves k stitches more, the stretches from the edge are
u, k, k, ...; a turn d too early leaves k+d and then k-d where the next turn is counted from the edge (own
reckoning, by drawing it out).
"""

import pytest

from purlwright.rescue.fit import said_of
from purlwright.rescue.observe import Facts
from purlwright.rescue.where import fact_of
from purlwright.workup import WorkUp

WEDGE = """# Ebb
Cast on 24 sts.
Row 1 (RS): Knit.
Row 2 (WS): Knit to last 4 sts, w&t.
Row 3: Knit to end.
Row 4: Knit to last 8 sts, w&t.
Row 5: Knit to end.
Row 6: Knit to last 12 sts, w&t.
Row 7: Knit to end.
Row 8: Knit to last 16 sts, w&t.
Row 9: Knit to end.
Row 10: Knit.
"""


@pytest.fixture(scope="module")
def desk():
    return WorkUp(WEDGE, "ebb").desk()


def seen(desk, kind, row, at, detail=""):
    """What is seen after row ``at`` of a mistake made in row ``row``, rows from 1."""
    (table,) = desk.tables
    found = {
        said_of(table, line, "intervals")
        for line, i in enumerate(table.made_of.tolist())
        if (m := table.made[i]).kind.code == kind
        and m.row == row - 1
        and m.detail == detail
        and table.column("row")[line] == at - 1
    }
    assert len(found) == 1, found
    return found.pop()


def test_the_stretches_of_a_wedge_are_all_alike(desk):
    looks = desk.pieces[0][1]
    assert [look.intervals for look in looks] == [
        (), (4, 20), (20, 4), (4, 4, 16), (16, 4, 4), (4, 4, 4, 12), (12, 4, 4, 4), (4, 4, 4, 4, 8),
        (8, 4, 4, 4, 4), (),
    ]  # fmt: skip
    assert all(sum(look.intervals) in {0, look.stitches} for look in looks)


def test_who_works_on_to_the_edge_works_over_the_first_turning_place_too(desk):
    assert seen(desk, "E26", 4, 4) == ()
    assert seen(desk, "E26", 4, 6) == (12, 12)  # only the turn after it is there
    found = desk.rescue(Facts(intervals=(12, 12), row=6)).found[0]
    assert (found.code, found.made_row) == ("E26", 4)


@pytest.mark.parametrize(
    ("detail", "stretches"),
    [
        ("1 stitch too early", (4, 5, 15)),
        ("1 stitch too late", (4, 3, 17)),
        ("2 stitches too early", (4, 6, 14)),
    ],
)
def test_a_turn_too_early_or_too_late_makes_its_stretch_longer_or_shorter(desk, detail, stretches):
    assert seen(desk, "E27", 4, 4, detail) == stretches


def test_counted_from_the_edge_the_next_stretch_makes_up_for_it(desk):
    assert seen(desk, "E27", 4, 6, "1 stitch too early") == (4, 5, 3, 12)


def test_the_stretches_alone_tell_which_turn_was_wrong(desk):
    found = desk.rescue(Facts(intervals=(4, 5, 3, 12), row=6)).found[0]
    assert (found.code, found.made_row, found.now_row) == ("E27", 4, 6)
    assert "1 stitch too early" in found.did


def test_the_tables_and_the_rows_say_the_same(desk):
    (table,) = desk.tables
    for line in (table.made_of == 0).nonzero()[0].tolist():
        row = int(table.column("row")[line])
        if row >= 0:
            look = table.piece.looks[row]
            assert said_of(table, line, "intervals") == (fact_of(look, "intervals") or ())
            assert said_of(table, line, "part_rows") == look.in_part


def test_where_names_the_row_by_its_stretches(desk):
    rows = desk.where(Facts(intervals=(4, 4, 16))).rows
    assert [f.look.index + 1 for f in rows] == [4]
