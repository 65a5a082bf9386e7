"""Wordings of sheets and old books, read and knitted: casting on over needles, rows told before the cast-on, groups on
hold, "complete as for", rows named by a letter; and which rows reach an edge.
"""

import pytest

from needles.worked import work
from purlwright.workup import WorkUp


def ends(text):
    return [e.end for e in WorkUp(text).knitted().ledger.entries]


@pytest.mark.parametrize(
    "words",
    [
        "Cast on three needles 24 stitches.",
        "Cast 24 stitches on three needles.",
        "Cast on 24 sts on 3 needles.",
    ],
)
@pytest.mark.parametrize(
    "first", ["1st round: Knit 2, purl 2, all round.", "Rib 2 and 2 for 5 rounds.", "Knit 4 rounds."]
)
def test_what_is_cast_on_over_a_set_of_needles_and_worked_in_rounds_is_a_ring(words, first):
    w = work(f"{words}\n{first}\nCast off.")
    assert w.wrong == []
    assert {e.kind.value for e in w.rows[1:-1]} == {"round"}
    assert w.rows[1].end == 24


def test_so_many_rounds_like_the_first_are_that_round_again():
    w = work(
        "Cast on 24 sts and join in the round.\n1st round: Knit 2, purl 2, all round.\nKnit 5 rounds like the first.\nCast off."
    )
    assert w.wrong == []
    rounds = [e for e in w.rows if e.kind.value == "round"]
    assert len(rounds) == 6
    assert all(e.copied is not None for e in rounds[1:])


def test_next_row_and_every_following_alternate_row():
    w = work(
        "Cast on 20 sts.\nRow 1 (RS): Knit.\nNext row and every foll alt row: Purl.\n"
        "Row 3: K1, ssk, k to end. (19 sts)\nRow 5: K1, ssk, k to end. (18 sts)\nRow 6: Purl.\nBind off."
    )
    assert w.wrong == []
    assert [e.number for e in w.rows[1:-1]] == [1, 2, 3, 4, 5, 6]


@pytest.mark.parametrize(
    ("words", "worked"),
    [
        ("k8 (including st on needle)", 12),
        ("k8, including the st left after binding off", 12),
        ("k8 (counting st already on right needle)", 12),
        ("rib 8 including st on needle", 12),
    ],
)
def test_the_stitch_that_binding_off_leaves_is_one_of_those_counted(words, worked):
    w = work(f"Cast on 20 sts.\nKnit 2 rows.\nBind off 4 sts, {words}, turn. (8 sts)\nP8.\nBind off.")
    row = w.rows[3]
    assert (row.start, row.worked, row.lost) == (20, worked, 4)


def test_a_row_told_by_its_name_before_the_cast_on_is_worked_where_it_is_sent_for():
    w = work(
        "Buttonhole row (RS): Rib 3, yo, k2tog, rib to end.\nCast on 11 sts.\nWork 4 rows in k1, p1 rib.\n"
        "Work buttonhole row.\nWork 3 rows in rib.\nBind off."
    )
    assert w.wrong == []
    assert [(e.made, e.lost) for e in w.rows[1:-1]] == [(0, 0)] * 4 + [(1, 1)] + [(0, 0)] * 3


def test_a_named_row_that_is_never_sent_for_needs_its_stitches():
    w = work("Buttonhole row: Rib 3, yo, k2tog, rib to end.\nCast on 11 sts.\nKnit 4 rows.\nBind off.")
    assert w.wrong[0].startswith("nothing-on-needle")


@pytest.mark.parametrize(
    "words",
    ["Slip all sts onto waste yarn.", "Slip the remaining sts on to a holder.", "Sl all sts to a holder."],
)
def test_all_stitches_are_slipped_to_a_holder(words):
    assert ends(
        f"Cast on 10 sts.\nKnit 2 rows.\n{words}\nPlace the held sts back on needle.\nKnit 1 row.\nBind off."
    ) == [
        10,
        10,
        10,
        10,
        0,
    ]


FINGERS = """\
Cast on 40 sts and join in the round.
Knit 3 rounds.
Slip all sts onto waste yarn.

# Little finger
Slip 5 sts from each end of waste yarn onto needles, cast on 2 sts and join in the round. (12 sts)
Knit 6 rounds.
Next rnd: *K2tog; rep from * to end. (6 sts)
Break yarn, thread through sts and fasten off.

# Ring finger
Slip 6 sts from each end of waste yarn onto needles, cast on 2 sts and join in the round. (14 sts)
Knit 8 rounds.
Complete as for little finger.
"""


def test_a_finger_is_completed_as_another_from_where_it_stands():
    knitted = WorkUp(FINGERS).knitted()
    ring = knitted.ledger.pieces[-1]
    assert [e.end for e in ring.rows if e.kind.value != "join"] == [14] + [14] * 8 + [7, 0]
    assert not [f for f in knitted.findings if f.code == "total-differs"]


def test_rows_are_named_by_a_letter():
    w = work("Cast on 9 sts.\nR1: K.\nR2: P.\nWork R1-2 3x more, then R1 once.\nBind off.")
    assert w.wrong == []
    assert len(w.rows) == 1 + 2 + 6 + 1 + 1


@pytest.mark.parametrize(
    "words", ["Heel (worked back and forth over 10 sts):", "Heel (worked flat on 10 sts):"]
)
def test_a_heading_says_in_brackets_how_its_rows_are_worked(words):
    w = work(
        f"Cast on 20 sts and join in the round.\nKnit 2 rounds.\n{words}\nRow 1 (RS): K10. (10 sts)\nRow 2 (WS): P10.\n"
        "Resume working in the round.\nKnit 2 rounds.\nBind off."
    )
    assert w.wrong == []
    assert [e.kind.value for e in w.rows if e.label.startswith("Row ")] == ["row", "row"]


def test_shaping_goes_on_at_the_same_edge():
    w = work(
        "Cast on 20 sts.\nKnit 2 rows.\nDec 1 st at beg of next row and at same edge on every foll 4th row until 17 sts rem.\n"
        "Dec 1 st at neck edge on next 2 rows, then at the same edge on every alt row twice. (13 sts)\nBind off."
    )
    assert w.wrong == []
    assert [e.end for e in w.rows if e.lost == 1] == [19, 18, 17, 16, 15, 14, 13]


def test_a_row_begun_at_a_turn_counts_at_no_edge():
    text = (
        "Cast on 10 sts.\nRow 1 (RS): Knit to last 4 sts, turn.\nRow 2: Knit.\nRow 3: Knit to last 2 sts, turn.\nRow 4: Knit.\n"
        "Row 5: Knit.\nRow 6: Knit.\nBind off.\n"
    )
    rows = WorkUp(text).knitted().ledger.entries[1:-1]
    assert [e.ridges_right for e in rows] == [0, 1, 1, 2, 2, 3]  # every row that came back to it
    assert [e.ridges_left for e in rows] == [0, 0, 0, 0, 0, 1]  # the one that began there


def test_sizes_are_divided_by_colons():
    work_up = WorkUp(
        "# Vest\nSizes: to fit chest 81 (86:91:97) cm\n\nCast on 94 (100:106:112) sts.\nKnit 2 rows.\nBind off.\n"
    )
    assert work_up.sizes == ("81", "86", "91", "97")
    assert [work_up.knitted(s).ledger.entries[0].end for s in work_up.sizes] == [94, 100, 106, 112]


def test_a_piece_is_named_right_under_the_keys():
    text = "# Mitts\nTension: 22 sts and 30 rounds = 10cm\nRight mitt\nCast on 9 sts.\nKnit 2 rows.\nBind off.\nLeft mitt\nWork as for right mitt.\n"
    knitted = WorkUp(text).knitted()
    assert [p.name for p in knitted.ledger.pieces] == ["Right mitt", "Left mitt"]
    assert not knitted.findings


@pytest.mark.parametrize(
    "words",
    [
        "Keeping first and last 4 sts in moss st, work 6 rows in st st.",
        "Keeping 4 sts at each end in moss st throughout, work 6 rows in st st.",
        "Work 6 rows in st st keeping 4 sts at each end in moss st.",
    ],
)
def test_a_border_is_kept_in_any_ground(words):
    w = work(f"# T\nTerms: UK\n\nCast on 20 sts.\n{words}\nBind off.")
    assert w.wrong == []
    first, second = w.seen(1), w.seen(2)
    assert (first[:4], first[-4:]) in {("kpkp", "kpkp"), ("pkpk", "pkpk")}
    assert first[4:-4] == "k" * 12
    assert set(second[:4]) == {"k", "p"}


@pytest.mark.parametrize(
    "words", ["dec 1 st on first rnd", "dec 1 st in first rnd", "decreasing 1 st evenly on first rnd"]
)
def test_a_stitch_less_in_the_first_of_several_rounds(words):
    w = work(f"Cast on 20 sts and join in the round.\nK 2 rnds.\nK 3 rnds, {words}. (19 sts)\nBind off.")
    assert w.wrong == []
    assert [e.end for e in w.rows if e.kind.value == "round"] == [20, 20, 19, 19, 19]


def test_so_many_of_those_that_wait_are_placed_on_needles():
    w = work(
        "Cast on 20 sts.\nKnit 2 rows.\nPlace next 8 sts on waste yarn, k12. (12 sts)\nBind off.\n"
        "Place 8 sts on dpns, pick up and knit 2 sts at underarm, join. (10 sts)\nKnit 2 rnds.\nBind off."
    )
    assert w.wrong == []


def test_a_cast_on_with_needles_told_by_their_size_begins_a_line():
    text = "# Purse\nGauge: 24 sts and 32 rows = 10 cm in stocking stitch\nWith 3.5 mm needles and A, cast on 9 sts.\nKnit 2 rows.\nCast off.\n"
    assert ends(text) == [9, 9, 9, 0]
