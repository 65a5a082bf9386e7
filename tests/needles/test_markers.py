"""Markers that are slipped, taken off or gone to: they stand where the words say, or it is said."""

import pytest

from needles.worked import ends, work
from purlwright.workup import WorkUp

CAST_ON = "Cast on 20 sts.\nRow 1 (RS): K5, pm, k15.\nRow 2 (WS): Purl.\n"
ROUND = "Cast on 20 sts. Join to work in the round.\nRnd 1: K10, pm, k10.\n"


def said(text):
    return [f.message for f in work(text).knitted.findings if f.code == "marker-not-here"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (CAST_ON + "Row 3: K5, sm, k10, sm, k5.", "Row 3 slips a marker here, but the last one was passed before."),
        (CAST_ON + "Row 3: K2, sm, k18.", "Row 3 slips a marker here, but the next one stands 3 stitches further on."),
        (CAST_ON + "Row 3: K7, remove m, k13.", "Row 3 takes off a marker here, but the last one was passed before."),
        (
            CAST_ON + "Row 3: K5, remove m, k15.\nRow 4: P15, sm, p5.",
            "Row 4 slips a marker here, and no marker is left on the needle.",
        ),
        (CAST_ON + "Row 3: K to marker B, k to end.", "Row 3 goes to marker B, and no marker on the needle has that name."),
        (ROUND + "Rnd 2: K10, sm, k10, sm, k0, m1.", "Rnd 2 slips a marker here, but the last one was passed before."),
    ],
)  # fmt: skip
def test_a_marker_that_is_not_here_is_said(text, message):
    assert said(text) == [message]


@pytest.mark.parametrize(
    "text",
    [
        CAST_ON + "Row 3: K5, sm, k15.\nRow 4: P15, sm, p5.",
        CAST_ON + "Row 3: K to m, yo, sm, k to end.\nRow 4: P15, remove m, p6.",
        ROUND + "Rnd 2: K10, sm, k10, sm.\nRnd 3: Sm, k10, sm, k10.",
        "Cast on 20 sts.\nRow 1: K5, place marker A, k15.\nRow 2: P to marker A, sm, p to end.",
    ],
)
def test_a_marker_where_the_words_say_is_not_spoken_of(text):
    assert said(text) == []


def test_the_same_words_worked_again_are_said_once():
    assert (
        len(said(CAST_ON + "Row 3: K5, sm, k10, sm, k5.\nRow 4: Purl.\nRep rows 3 and 4 five times more."))
        == 1
    )


def test_a_marker_inside_a_decrease_underlines_the_decrease():
    w = work("Cast on 20 sts.\nRow 1 (RS): K10, pm, k10.\nRow 2 (WS): P9, p2tog, p9.")
    (found,) = [f for f in w.knitted.findings if f.code == "marker-inside-stitch"]
    assert w.text[found.span.start : found.span.end] == "p2tog"


@pytest.mark.parametrize(
    ("first", "said"), [("K3, pm, k3", True), ("K2, pm, k4", False), ("K4, pm, k2", False)]
)
def test_a_marker_inside_a_crossing_in_words_is_said(first, said):
    w = work(
        f"Cast on 6 sts.\nRow 1: {first}.\n"
        "Row 2: K2, slip next st to cable needle and hold in front, k1, k1 from cable needle, k2.\nBind off."
    )
    assert [f.code for f in w.knitted.findings] == ["marker-inside-stitch"] * said


@pytest.mark.parametrize(
    ("row", "words", "total"),
    [
        ("K to m, sm, m1l, k to m, m1r, sm, k to end.", "until you have 9 sts between the markers", 26),
        ("K to m, sm, k to 2 sts before m, k2tog, sm, k to end.", "until 1 st remains between markers", 18),
    ],
)
def test_stitches_between_markers_are_counted_there_alone(row, words, total):
    got = ends(
        f"Cast on 20 sts.\nRow 1: K5, pm, k3, pm, k12.\nRow 2: Purl.\nRow 3: {row}\nRep rows 2 and 3 {words}.\nBind off."
    )
    assert got[-2] == total


def test_in_the_round_a_lone_marker_counts_from_the_start_of_the_round():
    got = ends(
        "Cast on 20 sts. Join in the round.\nRnd 1: K3, pm, k17.\nRnd 2: M1l, k to m, sm, k17.\nRep rnd 2 until there are 7 sts between markers.\nBind off."
    )
    assert got[-2] == 24


@pytest.mark.parametrize(
    ("first", "said"),
    [
        ("K5, pm, k15.", "no two are on the needle"),
        ("K5, pm, k4, pm, k11.", "never give 9 stitches between the markers; the nearest they come is 4"),
    ],
)
def test_a_count_between_markers_that_cannot_come_is_said(first, said):
    w = work(
        f"Cast on 20 sts.\nRow 1: {first}\nRow 2: Purl.\nRep row 2 until there are 9 sts between markers.\nBind off."
    )
    assert [said in f for f in w.wrong] == [True]


THREE = "Cast on 27 sts.\nRow 1 (RS): K5, pm, k{}, pm, k{}, pm, k5.\nRow 2: Purl.\n"
GROWS = "Row 3: {}.\nRep rows 2 and 3 until there are 9 sts between markers.\nBind off."


@pytest.mark.parametrize(
    ("pairs", "row", "total"),
    [
        ((3, 14), "K to m, sm, m1l, k to m, m1r, sm, k to end", 33),
        ((3, 14), "Knit to 3rd m, k to end", None),
        ((12, 5), "K to m, sm, k to m, sm, m1l, k to m, m1r, sm, k to end", 31),
        ((9, 8), "K to m, sm, k to m, sm, k to m, m1r, sm, k to end", 28),
    ],
)
def test_of_three_markers_the_pair_that_changes_is_counted(pairs, row, total):
    w = work(THREE.format(*pairs) + GROWS.format(row))
    assert [f.split(":")[0] for f in w.wrong] == ([] if total else ["never-reached"])
    assert total is None or w.ends[-2] == total


@pytest.mark.parametrize(
    ("count", "said"),
    [
        ("(7 sts between markers)", []),
        ("(27 sts, 10 between the markers)", []),
        ("You should now have 10 sts between markers.", []),
        ("(9 sts between markers)", ["Row 3 says 9 stitches between markers; knitting it gives 7 and 10."]),
        ("(26 sts, 7 between markers)", ["Row 3 says 26 stitches; knitting it gives 27."]),
    ],
)
def test_a_printed_count_between_markers_is_compared_with_what_lies_there(count, said):
    w = work(THREE.format(7, 10) + f"Row 3: Knit. {count}\nBind off.")
    assert [f.split(": ", 1)[1] for f in w.wrong] == said


@pytest.mark.parametrize(
    "words",
    [
        "place sts to next marker on a holder",
        "remove m, place the next sts up to the marker on waste yarn, remove marker",
        "place the thumb sts on a holder",
        "slip thumb gusset sts to waste yarn",
        "slip the sts between the markers onto a holder",
    ],
)
def test_stitches_put_on_hold_without_a_number_go_up_to_the_next_marker(words):
    w = work(
        f"Cast on 20 sts. Join in the round.\nRnd 1: K5, pm, k6, pm, k9.\nRnd 2: K to m, {words}, k to end. (14 sts)"
    )
    assert w.rows[-1].held == 6
    assert [f.split(":")[0] for f in w.wrong] == ["left-live", "left-on-hold"]


def test_stitches_up_to_a_marker_that_is_not_there_are_not_put_on_hold():
    w = work("Cast on 20 sts.\nRow 1: K5, place thumb sts on a holder, k to end.")
    assert any("none is left on the needle" in f for f in w.wrong)


@pytest.mark.parametrize(
    "words",
    [
        "Row 2: Purl, removing all markers.",
        "Row 2: Purl.\nRemove all markers.",
        "Row 2: P3, remove markers, p to end.",
    ],
)
def test_all_markers_are_taken_off_at_once(words):
    w = work(f"Cast on 20 sts.\nRow 1: K5, pm, k6, pm, k9.\n{words}\nRow 3: Knit.")
    assert [f for f in w.wrong if "left-live" not in f] == []
    assert w.rows[-1].markers == ()


def test_a_marker_at_the_edge_goes_along_when_a_short_row_comes_back():
    text = (
        "Cast on 11 sts.\nRow 1: K9, turn.\nRow 2: P2, turn.\nRow 3: K2, pm, k2, pm, k to end.\n"
        "Row 4: P to 2 sts before gap, turn.\nRow 5: Knit.\n"
    )
    rows = work(text).knitted.ledger.entries
    assert [m.after for m in rows[3].markers] == [m.after for m in rows[5].markers]


@pytest.mark.parametrize(
    "back",
    ["return the st to the left needle", "return the slipped st to left needle", "return it to LH needle"],
)
def test_a_round_may_begin_a_stitch_sooner(back):
    w = work(
        "Cast on 8 sts. Join to work in the round. Place marker.\nRnd 1: K7, p1.\n"
        f"Rnd 2: K to last st, slip last st, remove marker, {back}, replace marker.\nRnd 3: P1, k7.\nBind off."
    )
    assert w.wrong == []
    fabric = w.knitted.fabric
    three = next(e for e in w.knitted.ledger.entries if e.label == "Rnd 3")
    first = int((fabric.row_of_stitch == three.order).argmax())
    below = int(fabric.parent[fabric.first_parent_of_stitch[first]])
    assert fabric.ops[fabric.op_of_stitch[below]] == "p", "the purl is worked as the purl of round 1"
    assert int(fabric.row_of_stitch[below]) == three.order - 2, "it was slipped and put back, not knitted"


def test_a_row_that_takes_the_markers_off_is_repeated_without_them():
    text = (
        "# Mat\n\nCast on 12 sts.\nRow 1 (RS): K3, pm, k6, pm, k3.\nRow 2: K3, sm, p6, sm, k3.\n"
        "Next row: Knit to end, removing markers.\nRep the last row 3 times more.\nBind off.\n"
    )
    assert "marker-not-here" not in {f.code for f in WorkUp(text).knitted().findings}
    twice = text.replace("Rep the last row 3 times more.", "Next row: Knit to end, removing markers.")
    assert "marker-not-here" in {f.code for f in WorkUp(twice).knitted().findings}
