"""Held loops and new ones, edges picked up, what a finished piece shows, turns that pass the start of a round."""

import pytest

from needles.worked import ends, work
from purlwright.needles.ledger import Kind
from purlwright.workup import WorkUp


def test_held_loops_and_new_ones_together_are_a_row_and_no_pick_up():
    w = work(
        "Cast on 12 sts. Join in the round.\nRnd 1: K6, place next 3 sts on waste yarn, cast on 1 st, k to end.\n"
        "Bind off.\n\n## Thumb\nPlace the 3 held sts on needle, rejoin yarn and pick up and knit 1 st in the gap. Join in the round.\n"
        "Rnd 1: Knit.\nBind off."
    )
    assert sum(e.returned for e in w.rows) == sum(e.held for e in w.rows) == 3
    assert w.rows[4].kind is Kind.ROW


def test_picking_up_along_the_left_edge_goes_from_the_top_down():
    w = work(
        "Cast on 4 sts.\nKnit 6 rows.\nNext row (RS): K4, pick up and knit 3 sts along the left edge.\nNext row: Knit.\nBind off."
    )
    new = w.made(7)[-3:].tolist()
    rows = [int(w.fabric.row_of_stitch[w.parents(s)[0]]) for s in new]
    assert rows == sorted(rows, reverse=True)


def test_nothing_is_marked_when_nothing_is_live():
    w = work("Cast on 10 sts.\nRow 1: K5, pm, k5.\nRow 2: K5, pm, k5.\nBind off.")
    assert w.rows[-1].markers == ()


def test_a_short_row_that_goes_back_past_the_start_of_the_round_leaves_its_gap():
    w = work(
        "Cast on 10 sts. Join in the round.\nRnd 1: K4, turn.\nRow 2: P8, turn.\nRnd 3: K to end.\nRnd 4: Knit.\nBind off."
    )
    first, second, third = w.rows[2:5]
    assert [(g.from_right_rs, g.turned_on) for g in first.gaps] == [(4, 3)]
    # eight back from the fourth stitch: the turn stands between the sixth and the seventh stitch of the round
    assert (second.worked, second.unworked) == (8, 2)
    assert [(g.from_right_rs, g.turned_on) for g in second.gaps] == [(4, 3), (6, 4)]
    assert third.worked == 4


def test_a_thumb_of_held_and_picked_up_loops_is_joined_without_working_the_held_ones_first():
    hand = "# A\n\n## Hand\nCast on 24 sts. Join in the round.\nRnd 1: Place next 8 sts on holder, cast on 2 sts, "
    thumb = (
        "knit to end.\nBind off.\n\n## Thumb\nPlace the held 8 sts on needles. Rejoin yarn with RS facing, "
        "pick up and knit 2 sts across the gap, join in the round. (10 sts)\nKnit 4 rnds.\nBind off.\n"
    )
    assert WorkUp(hand + thumb).findings() == []


def test_a_row_that_only_turns_is_said_and_loses_no_row():
    w = work("Cast on 4 sts.\nRow 1: K0, turn.\nRow 2: Knit.\nBind off.")
    assert [e.label for e in w.rows if e.label] == ["Row 2"]
    assert [f.code for f in w.knitted.findings] == ["turned-at-once"]


@pytest.mark.parametrize(("n", "row"), [(20, 0), (6, 2)])
def test_of_several_edges_that_were_cast_on_the_one_of_that_many_is_picked_up(n, row):
    w = work(
        "Cast on 20 sts.\nRow 1 (RS): Knit.\nRow 2: Cast on 6 sts, p to end.\nBind off.\n"
        f"Pick up and knit {n} sts along the front neck cast-on edge.\nBind off."
    )
    assert w.wrong == []
    (edge,) = {int(w.fabric.row_of_stitch[p]) for s in w.made(-2).tolist() for p in w.parents(s)}
    assert edge == w.rows[row].order


def test_underarm_stitches_are_cast_on_and_picked_up_by_that_name():
    w = work(
        "Cast on 20 sts. Join in the round.\nRnd 1: K5, place next 6 sts on a holder, cast on 4 underarm sts, k to end."
        "\nBind off.\n\n## Sleeve\nReturn 6 held sts to needle, pick up and knit 4 sts along the underarm cast-on sts."
        " Join in the round.\nRnd 1: Knit. (10 sts)\nBind off."
    )
    assert w.wrong == []


@pytest.mark.parametrize(
    ("words", "after"),
    [
        ("K to gap left by bind-off, cast on 4 sts, k to end.", 20),
        ("K to bound-off sts, cast on 4 sts over bound-off sts, k to end.", 20),
        ("K to 2 sts before gap, k2tog, cast on 4 sts over gap, k to end.", 19),
    ],
)
def test_the_gap_that_stitches_bound_off_leave_is_a_place(words, after):
    assert (
        ends(f"Cast on 20 sts.\nRow 1: K8, bind off 4 sts, k to end.\nRow 2: {words}\nBind off.")[2] == after
    )


def test_a_row_across_the_gap_of_stitches_bound_off_closes_it():
    w = work(
        "Cast on 20 sts.\nRow 1: K8, bind off 4 sts, k to end.\nRow 2: Knit.\nRow 3: K to gap, k to end."
    )
    assert [f.split(":")[0] for f in w.wrong if "left-live" not in f] == ["no-such-gap"]


def test_a_total_printed_after_stitches_picked_up_in_a_row_is_that_rows():
    w = work(
        "Cast on 20 sts. Join in the round.\nRnd 1: K10, place next 4 sts on waste yarn, k6. (16 sts)\n"
        "Next rnd: K10, pick up and knit 4 sts over the gap (20 sts), k6.\nRnd 3: K20.\nBind off."
    )
    assert [[s.stated for s in e.stated] for e in w.rows] == [[], [], [16], [20], [], []]


def test_a_hem_is_joined_stitch_by_stitch_to_the_loops_it_began_with():
    w = work(
        "Cast on 4 sts.\nRow 1 (RS): K.\nRow 2: P.\nRow 3: Knit each st together with its cast-on loop.\nBind off."
    )
    assert w.wrong == []
    joined = list(zip(w.fabric.join_a.tolist(), w.fabric.join_b.tolist(), strict=True))
    assert joined[:4] == [
        (12, 3),
        (13, 2),
        (14, 1),
        (15, 0),
    ]


@pytest.mark.parametrize("name", ["Dec. Row 1", "Inc. Rnd 2"])
def test_a_short_name_with_its_full_stop_is_one_label(name):
    w = work(f"Cast on 9 sts.\nRow 1: K9.\n{name}: K2tog, k to end. (8 sts)\nBind off.")
    assert w.wrong == []
    assert [e.label for e in w.rows][2] == name
