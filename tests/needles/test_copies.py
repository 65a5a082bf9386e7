"""Words that say how often a piece is made: they make copies of it, and work no stitches."""

import pytest

from needles.worked import work
from purlwright.needles.knit import knit
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

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
        f"{PIECE}\n(Make 2)",
        f"{PIECE}\nKnit a second piece.",
        f"{PIECE} Knit the other sleeve in the same way.",
        f"{PIECE}\nThe second sleeve is worked in the same way.",
        f"{PIECE}\nRepeat for the other sleeve.",
        f"{PIECE}\nBoth sleeves are worked alike.",
        f"Both sleeves are worked alike.\n{PIECE}",
        f"{PIECE}\nKnit 2 of these squares.",
        f"{PIECE}\nMake one more.",
    ],
)
def test_a_piece_is_made_as_often_as_the_words_say(words):
    w = work(words)
    assert w.wrong == []
    assert [p.name for p in w.knitted.ledger.pieces] == ["Piece 1", "Piece 2"]


@pytest.mark.parametrize(
    "heading",
    ["Sleeves (both alike)", "Sleeves (make two)", "Sleeves - both alike", "Sleeves (2)", "Sleeves x 2",
     "Back and front (alike)", "Both sleeves", "Sleeves: make 2"],
)  # fmt: skip
def test_a_heading_says_how_often_its_piece_is_made(heading):
    k = knit(read_pattern(Source(f"# Quay Trial\n\n## {heading}\n{PIECE}\n")))
    assert [p.name for p in k.ledger.pieces] == [f"{heading} 1", f"{heading} 2"]


@pytest.mark.parametrize(
    "heading", ["Sleeves", "Chart (2)", "Second sleeve", "Front and back, size 2", "Body (both sides)"]
)
def test_a_heading_that_says_no_number_makes_one(heading):
    k = knit(read_pattern(Source(f"# Quay Trial\n\n## {heading}\n{PIECE}\n")))
    assert len(k.ledger.pieces) == 1


def test_another_piece_before_its_own_cast_on_is_no_copy():
    text = (
        f"# Quay Trial\n\n## Squares\n{PIECE}\nKnit a second piece.\nCast on 8 sts.\nRow 1: K8.\nBind off.\n"
    )
    k = knit(read_pattern(Source(text)))
    assert [p.bound_off for p in k.ledger.pieces] == [20, 8]


@pytest.mark.parametrize("row", ["K18, m1, make 1.", "K20; make 2.", "K18, knit 2."])
def test_a_row_that_ends_in_made_stitches_is_no_copy(row):
    w = work(f"Cast on 20 sts.\nRow 1: {row}\nBind off.")
    assert [p.name for p in w.knitted.ledger.pieces] == ["Piece"]


def test_the_other_side_worked_the_same_is_said():
    w = work(
        "Cast on 20 sts.\nRow 1 (RS): K8, place next 12 sts on a holder, turn.\nBind off.\n"
        "Do the same on the other side."
    )
    assert [f.split(":")[0] for f in w.wrong] == ["left-on-hold", "part-not-worked"]


@pytest.mark.parametrize("where", ["at neck edge", "at armhole edge", "at beg of row"])
def test_stitches_bound_off_at_an_edge_in_one_row(where):
    w = work(f"Cast on 20 sts.\nRow 1 (RS): Bind off 3 sts {where}, k to end. (17 sts)\nBind off.")
    assert w.wrong == []
