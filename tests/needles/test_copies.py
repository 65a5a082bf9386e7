"""Words that say how often a piece is made: they make copies of it, and work no stitches."""

import pytest

from needles.worked import work

PIECE = "Cast on 20 sts.\nRow 1: K20.\nBind off."


@pytest.mark.parametrize(
    "words",
    [
        f"{PIECE}\nMake 2 mittens.",
        f"{PIECE}\nMake 2 alike.",
        f"{PIECE}\nKnit two the same.",
        f"{PIECE}\nMake both alike.",
        f"{PIECE}\nWork second mitten the same.",
        f"{PIECE} Make 2.",
        f"Make 2.\n{PIECE}",
    ],
)
def test_a_piece_is_made_as_often_as_the_words_say(words):
    w = work(words)
    assert w.wrong == []
    assert [p.name for p in w.knitted.ledger.pieces] == ["Piece 1", "Piece 2"]


@pytest.mark.parametrize("row", ["K18, m1, make 1.", "K20; make 2.", "K18, knit 2."])
def test_a_row_that_ends_in_made_stitches_is_no_copy(row):
    w = work(f"Cast on 20 sts.\nRow 1: {row}\nBind off.")
    assert [p.name for p in w.knitted.ledger.pieces] == ["Piece"]


def test_the_other_side_worked_the_same_is_said():
    w = work(
        "Cast on 20 sts.\nRow 1 (RS): K8, place next 12 sts on a holder, turn.\nBind off.\n"
        "Do the same on the other side."
    )
    assert [f.split(":")[0] for f in w.wrong] == ["not-read", "left-on-hold"]


@pytest.mark.parametrize("where", ["at neck edge", "at armhole edge", "at beg of row"])
def test_stitches_bound_off_at_an_edge_in_one_row(where):
    w = work(f"Cast on 20 sts.\nRow 1 (RS): Bind off 3 sts {where}, k to end. (17 sts)\nBind off.")
    assert w.wrong == []
