"""Each stitch points to the words that ask for it, even when they stand in another line than its row."""

import pytest

from needles.worked import work

TWO_ROWS = "Cast on 20 sts.\nRow 1 (RS): K2, p1, k to end.\nRow 2: Purl.\n"


def words_of(w, row):
    """The words that the stitches of an entry point to, each stretch once, as they come."""
    f, out = w.fabric, []
    for stitch in w.made(row).tolist():
        n = int(f.span_of_stitch[stitch])
        said = w.text[int(f.span_start[n]) : int(f.span_end[n])]
        if out[-1:] != [said]:
            out.append(said)
    return out


@pytest.mark.parametrize(
    ("words", "row", "said"),
    [
        (
            "Rep rows 1 and 2 five times more, at the same time dec 1 st at each end of the next and every foll 4th row, 3 times in all.",
            3,
            {"dec 1 st at each end of the next and every foll 4th row, 3 times in all", "K2", "p1", "k to end"},
        ),
        (
            "Rep rows 1 and 2 five times more, and at the same time bind off 2 sts at beg of every RS row 3 times.",
            3,
            {"bind off 2 sts at beg of every RS row 3 times", "K2", "p1", "k to end"},
        ),
        ("Next row: K1, work in pattern as set to last st, k1.", 3, {"K1", "p1", "k to end", "K2", "k1"}),
        ("Knit 2 rows.\nWork 4 rows in k1, p1 rib.\nNext row: Work in rib as set to end.", 9, {"k1, p1 rib"}),
    ],
)  # fmt: skip
def test_stitches_point_to_the_words_that_ask_for_them(words, row, said):
    w = work(TWO_ROWS + words)
    found = words_of(w, row)
    assert found
    assert {s.strip(" ,.*") for s in found} <= said


@pytest.mark.parametrize(
    ("words", "op"),
    [
        ("C4B: slip next 2 sts to cn and hold in back, k2, k2 from cn.", "2/2 rc"),
        ("C4F: (worked over 4 sts) slip 2 to cn, hold before, k2, k2 from cn.", "2/2 lc"),
        ("T4B: slip 2 sts to cn and hold behind, k2, p2 from cn.", "2/2 rpc"),
        ("Cr4L: sl 1 st to cn and hold in front, p3, k1 from cn.", "1/3 lpc"),
        ("X2: sl 1 st to cn and hold in back, k1 tbl, p1 from cn, k2.", "rpt tbl"),
    ],
)
def test_a_crossing_explained_in_words_is_the_usual_one(words, op):
    name = words.split(":")[0]
    w = work(
        f"## Special stitches\n{words}\n## Body\nCast on 8 sts.\nRow 1: K2, {name}, k2.\nRow 2: Purl.\nBind off."
    )
    assert w.wrong == []
    fabric = w.knitted.fabric
    assert op in {fabric.ops[o] for o in fabric.op_of_stitch}


def test_a_crossing_of_other_stitches_is_worked_loop_by_loop():
    w = work(
        "## Special stitches\nRibC: sl 2 sts to cn and hold in front, k1, p1, k1 from cn.\n"
        "## Body\nCast on 8 sts.\nRow 1: K2, RibC, k2.\nRow 2: Purl.\nBind off."
    )
    fabric = w.knitted.fabric
    assert {fabric.ops[o] for o in fabric.op_of_stitch} == {"k", "p", "cast on"}
