"""Rows over some of the stitches only, and the others worked again afterwards."""

import pytest

from needles.worked import work

RING = "Cast on 48 sts. Join to work in the round.\nKnit 4 rounds.\n"
FLAP = (
    "Row 1 (RS): *Sl 1, k1; rep from * to end.\nRow 2: Sl 1, p to end.\nRep rows 1 and 2 nine times more.\n"
)


@pytest.mark.parametrize(
    "words",
    [
        "Work back and forth over 24 sts for the heel flap.",
        "Now work on these 24 sts only.",
        "The heel is worked in rows on the first 24 sts of the round.",
        "Heel is worked over half the sts.",
        "Work heel over the next 24 sts only, leaving the other 24 sts unworked.",
        "Next row (RS): K24, turn. P24, turn.\nWorking back and forth on these 24 sts only, work as folls:",
    ],
)
def test_a_heel_told_over_some_stitches_is_worked_over_those_only(words):
    w = work(f"{RING}{words}\n{FLAP}Next rnd: Knit.\nBind off.")
    assert w.wrong == []
    flap = [e for e in w.rows if e.label in {"Row 1", "Row 2"}]
    assert len(flap) == 20
    assert {e.end for e in flap} == {24}
    assert {e.worked for e in flap} == {24}
    assert [(e.start, e.returned, e.end) for e in w.rows if e.label == "Next rnd"] == [(24, 24, 48)]
    assert [e.kind.value for e in w.rows if e.label == "Next rnd"] == ["round"]


def test_a_heel_that_lies_about_the_beginning_of_the_round_shows_its_own_place():
    w = work(
        f"{RING}The heel is worked back and forth over 24 sts. K12, turn.\n"
        "Row 1 (WS): Sl 1, p23, turn.\nRow 2: *Sl 1, k1; rep from * 11 more times, turn.\n"
        "Rep these 2 rows 10 times more, then row 1 once again.\n"
        "Row 1: Sl 1, k13, ssk, k1, turn.\nRow 2: Sl 1, p5, p2tog, p1, turn.\nRow 3: Sl 1, k6, ssk, k1, turn.\n"
        "Row 4: Sl 1, p7, p2tog, p1, turn.\nRow 5: Sl 1, k8, ssk, k1, turn.\nRow 6: Sl 1, p9, p2tog, p1, turn.\n"
        "Row 7: Sl 1, k10, ssk, k1, turn.\nRow 8: Sl 1, p11, p2tog, p1, turn.\nRow 9: Sl 1, k12, ssk, turn.\n"
        "Row 10: Sl 1, p12, p2tog, turn. 14 sts rem.\n"
        "Next rnd: K14, pick up and k12 sts along side of heel flap, k24 instep sts, pick up and k12 sts along "
        "other side of flap. (62 sts)\nBind off."
    )
    assert w.wrong == []
    assert w.ends[-2] == 62


@pytest.mark.parametrize(
    "words",
    [
        "Working on these 8 sts only, work 6 rows in garter st. Cast off.",
        "Knit 6 rows on these 8 sts only. Cast off.",
        "Cont on these sts only. Knit 6 rows. Cast off.",
        "Work in garter st on these 8 sts only for 6 rows. Cast off.",
    ],
)
def test_one_side_of_a_flat_piece_is_worked_alone_and_the_rest_afterwards(words):
    w = work(
        f"Cast on 40 sts.\nKnit 2 rows.\nNext row: K8, turn.\n{words}\n"
        "With RS facing, rejoin yarn to rem sts and k to end. (32 sts)\nCast off."
    )
    assert w.wrong == []
    assert w.ends[4:12] == [8, 8, 8, 8, 8, 8, 0, 32]


def test_the_centre_is_worked_alone_and_those_on_either_side_wait():
    w = work(
        "Cast on 40 sts.\nKnit 2 rows.\nWorking on centre 14 sts, work 10 rows in st st.\n"
        "Next row: K14, pick up and k 8 sts along side of flap, k13. (48 sts)\n"
        "Next row: P35, pick up and p 8 sts along other side of flap, p13. (56 sts)\nCast off."
    )
    assert w.wrong == []
    assert w.ends == [40, 40, 40, *[14] * 10, 48, 56, 0]


def test_more_stitches_than_there_are_is_said():
    w = work(f"{RING}Working on these 60 sts only, work 4 rows in st st.\nBind off.")
    assert any("needs 60 stitches, but 48 are" in f for f in w.wrong)


def test_those_never_taken_up_again_are_said():
    w = work(f"{RING}Work back and forth over 24 sts.\n{FLAP}Bind off.")
    assert [f.split(":")[0] for f in w.wrong] == ["left-on-hold"]
