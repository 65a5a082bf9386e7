"""Lengths told by another piece, edges told by name, and the other half of what is shaped at both."""

import pytest

from needles.worked import work

BACK = (
    "## Back\nCast on 40 sts.\nKnit 20 rows.\n## Shape armholes\nCast off 3 sts at beg of next 2 rows. (34 sts)\n"
    "Dec 1 st at each end of next and every foll alt row until 30 sts rem.\nKnit 9 rows.\n"
    "## Shape shoulders\nCast off 5 sts at beg of next 4 rows. (10 sts)\nCast off.\n"
)


def front(straight, armhole):
    return work(
        f"{BACK}## Left Front\nCast on 20 sts.\n{straight}\nNext row: Cast off 3 sts, k to end. (17 sts)\n"
        f"Knit 1 row.\n{armhole}\nNext row: Cast off 9 sts, k to end. (8 sts)\nKnit 1 row.\nCast off."
    )


def piece(w):
    """The rows of the front: its entries after the back's last."""
    return w.rows[w.ends.index(0) + 1 :]


@pytest.mark.parametrize(
    "words",
    [
        "Work in garter st until front measures same as back to armhole, ending with a WS row.",
        "Work in garter st until front measures the same length as back to underarm.",
        "Work in garter st until front matches back to armhole shaping, ending at side edge.",
        "Work in garter st until there are the same number of rows as on back to armhole.",
        "Work in garter st until piece measures same as Back to start of armhole shaping.",
    ],
)
def test_a_front_is_as_long_as_the_back_to_the_armhole(words):
    w = front(words, "Knit 2 rows.")
    assert w.wrong == []
    assert [e.end for e in piece(w)[:23]] == [20] * 21 + [17] * 2
    assert "length-left-to-knitter" not in [f.code for f in w.knitted.findings]


@pytest.mark.parametrize(
    "words",
    [
        "Work even until armhole measures same as back, ending at armhole edge.",
        "Work even until front measures same as back to shoulder.",
        "Cont straight until front matches Back to start of shoulder shaping, ending at side edge.",
    ],
)
def test_an_armhole_is_as_deep_as_that_of_the_back(words):
    w = front("Knit 20 rows.", words)
    assert w.wrong == []
    rows = piece(w)
    # in the back 2 rows of bind-offs, 3 from the first decrease to the last, and 9
    assert [e.end for e in rows[21:-3]] == [17] * 14
    assert rows[-3].side == "RS"


def test_a_place_that_is_not_in_the_other_piece_is_left_to_the_knitter():
    w = front("Work in garter st until front measures same as back to pocket.", "Knit 2 rows.")
    assert "length-left-to-knitter" in [f.code for f in w.knitted.findings]


BOTH = (
    "Cast on 30 sts.\nWork 20 rows in st st.\nNext row (RS): Cast off 4 sts, k to end. (26 sts)\nNext row: Purl.\n"
    "Dec 1 st at armhole edge on next and every foll alt row 4 times in all, AT THE SAME TIME dec 1 st at neck"
    " edge on every 4th row until 16 sts rem.\nWork 3 rows straight, ending at armhole edge.\n"
    "Next row: Cast off 8 sts, work to end. (8 sts)\nWork 1 row.\nCast off.\n"
)


def test_the_right_front_of_shaping_at_two_edges_is_the_mirror_of_the_left():
    w = work(f"## Left Front\n{BOTH}## Right Front\nAs Left Front, reversing all shapings.")
    assert w.wrong == []
    done = [i for i, e in enumerate(w.ends) if e == 0]
    left, right = w.rows[: done[0] + 1], w.rows[done[0] + 1 : done[1] + 1]
    assert [e.end for e in left if e.start - e.end == 4] == [26]
    assert {e.side for e in left if e.lost == 4} == {"RS"}
    assert {e.side for e in right if e.lost == 4} == {"WS"}
    ends = [e.end for e in left if e.kind.value == "row"]
    assert [e.end for e in right if e.kind.value == "row"][1:] == ends or [
        e.end for e in right if e.kind.value == "row"
    ] == [30, *ends]


@pytest.mark.parametrize(
    ("heading", "edge", "lean"),
    [
        ("Left Front", "armhole", "ssk"),
        ("Left Front", "neck", "k2tog"),
        ("Right Front", "armhole", "k2tog"),
        ("Right Front", "neck", "ssk"),
    ],
)
def test_a_decrease_at_a_named_edge_stands_at_that_edge(heading, edge, lean):
    w = work(
        f"## {heading}\nCast on 20 sts.\nKnit 2 rows.\nNext row (RS): Dec 1 st at {edge} edge, k to end."
        "\nCast off."
    )
    last = next(i for i, e in enumerate(w.rows) if e.end == 19)
    ops = w.ops(last)
    assert ops[0 if lean == "ssk" else -1] == lean
