"""A heel flap on part of a round, its turn, and the round taken up again with the instep from a holder."""

import pytest

from needles.worked import work

LEG = "Cast on 64 sts. Join to work in the round.\nKnit 4 rounds.\n"
FLAP = (
    "Row 1 (RS): *Sl 1, k1; rep from * to end.\nRow 2 (WS): Sl 1, purl to end.\n"
    "Rep rows 1 and 2 fifteen more times. (32 sts)\n"
)
TURN = (
    "## Turn heel\nRow 1 (RS): K17, ssk, k1, turn.\nRow 2 (WS): Sl 1, p3, p2tog, p1, turn.\n"
    "Row 3: Sl 1, knit to 1 st before gap, ssk, k1, turn.\nRow 4: Sl 1, purl to 1 st before gap, p2tog, p1, turn.\n"
    "Rep rows 3 and 4 until all heel sts have been worked. (18 sts)\n"
)
GUSSET = (
    "## Gusset\nNext rnd: Knit across the 18 heel sts, pick up and knit 16 sts along the side of the heel flap, pm, "
    "{}, pm, pick up and knit 16 sts along the other side of the heel flap, k9. (82 sts)\n"
    "Rnd 1: Knit to 3 sts before marker, k2tog, k1, sm, knit to next marker, sm, k1, ssk, knit to end.\n"
    "Rnd 2: Knit.\nRep rnds 1 and 2 until there are 64 sts.\nBind off.\n"
)
HOLD = "Place the remaining 32 sts on a holder for the instep.\n"


@pytest.mark.parametrize(
    "hold",
    [
        "The heel flap is worked back and forth on the first 32 sts. " + HOLD,
        HOLD,
        HOLD + "Work back and forth in rows on the heel sts.\n",
    ],
)
@pytest.mark.parametrize(
    "instep",
    ["knit across the 32 instep sts", "knit across the 32 instep sts from holder", "knit across 32 held sts"],
)
def test_a_sock_with_a_flap_a_turn_and_a_gusset_comes_out(hold, instep):
    w = work(LEG + hold + FLAP + TURN + GUSSET.format(instep))
    assert w.wrong == []
    flap = [e for e in w.rows if e.label in {"Row 1", "Row 2"} and e.line < 14]
    assert {e.kind.value for e in flap} == {"row"}
    assert {e.kind.value for e in w.rows if e.label.startswith("Rnd")} == {"round"}
    assert [e.returned for e in w.rows if e.label == "Next rnd"] == [32]


OPEN_FLAP = (
    "Row 1 (RS): *Sl 1, k1; rep from * 15 times more, turn. (32 heel sts)\nRow 2 (WS): Sl 1, p31, turn.\n"
    "Rep rows 1 and 2 fifteen more times.\n"
)


@pytest.mark.parametrize("again", ["until all heel sts have been worked", "five times more"])
def test_the_instep_may_wait_on_the_needle(again):
    """No holder: the rows of the heel turn, and the instep lies beyond the beginning of the round all the while."""
    turn = TURN.replace("until all heel sts have been worked. (18 sts)", f"{again}.")
    w = work(LEG + OPEN_FLAP + turn + GUSSET.format("knit across the 32 instep sts"))
    assert w.wrong == []
    heel = [e for e in w.rows if e.kind.value == "row" and e.lost]
    assert len(heel) == 14
    assert [e.worked for e in heel[-2:]] == [18, 19]  # both go to the very end of the heel
    assert {e.unworked for e in heel[-2:]} == {32}
    assert [e.end for e in w.rows if e.label == "Next rnd"] == [82]


def test_a_turn_that_never_works_all_stitches_is_said():
    odd = TURN.replace("K17", "K18").replace("p3", "p5")
    w = work(LEG + HOLD + FLAP + odd)
    assert any("Row 3 needs" in f for f in w.wrong)


RING = "Cast on 56 sts. Join to work in the round.\nRnd 1: Knit.\n"


@pytest.mark.parametrize(
    ("one", "two", "marked"),
    [("WS", "WS", "Row 2"), ("RS", "RS", "Row 2"), ("RS", "WS", None), ("WS", "RS", None)],
)
def test_rows_that_turn_within_a_round_show_each_side_in_turn(one, two, marked):
    w = work(
        f"{RING}Row 1 ({one}): Knit 27, w&t.\nRow 2 ({two}): Purl 26, w&t.\nRow 3: Knit to 1 st before gap, w&t.\n"
        "Row 4: Purl to 1 st before gap, w&t."
    )
    told = [f.message for f in w.knitted.findings if f.code == "side-differs"]
    assert [m.split(" is")[0] for m in told] == ([marked] if marked else [])
