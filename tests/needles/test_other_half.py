"""The second side of a neck, and the right front: mirrored, and knitted row by row."""

import pytest

from needles.worked import work

DIVIDED = (
    "Cast on 60 sts.\nKnit 10 rows.\nNext row (RS): K22, turn and leave rem sts on a holder.\n"
    "Dec 1 st at neck edge on next 4 rows. (18 sts)\nWork 5 rows straight.\nCast off.\n"
)
REJOIN = "With RS facing, rejoin yarn to rem sts, cast off 16 sts, k to end. (22 sts)\n"


@pytest.mark.parametrize(
    "words",
    [
        "Complete to match first side, reversing shapings.",
        "Work the other side to correspond, reversing shaping.",
        "Work other side to match.",
        "Do the same on the other side.",
        "Work as given for first side of neck, reversing all shapings.",
        "Finish the second side the same as the first.",
        "Complete second shoulder to match first shoulder.",
    ],
)
def test_the_second_side_of_a_neck_is_knitted(words):
    w = work(f"{DIVIDED}{REJOIN}{words}")
    assert w.wrong == []
    first, second = w.ends[12:22], w.ends[23:]
    assert first == second == [21, 20, 19, 18, 18, 18, 18, 18, 18, 0]


def test_the_row_that_divides_is_worked_again_where_only_the_yarn_is_joined():
    w = work(
        f"{DIVIDED}Slip next 16 sts on to a holder for neck. With RS facing, rejoin yarn to rem sts and work the "
        "other side to match.\nWith RS facing, rejoin yarn to the held sts and k16.\nCast off."
    )
    assert w.wrong == []
    assert w.ends[22:33] == [22, 21, 20, 19, 18, 18, 18, 18, 18, 18, 0]


LEFT = (
    "Cast on 30 sts.\nWork 10 rows in st st, ending with a p row.\nCast off 3 sts at beg of next row. (27 sts)\n"
    "Work 1 row.\nDec 1 st at armhole edge of next and foll 2 alt rows. (24 sts)\nWork 4 rows.\n"
    "Next row (WS): Cast off 5 sts, p to end. (19 sts)\nNext row: K to last 3 sts, k2tog, k1. (18 sts)\n"
    "Next row: P1, p2tog, p to end. (17 sts)\nCast off.\n"
)


def test_a_front_reversed_casts_off_on_the_other_side():
    from purlwright.needles.knit import knit
    from purlwright.pattern.file import read_pattern
    from purlwright.text import Source

    text = f"# T\n\n## Left Front\n{LEFT}\n## Right Front\nWork as for left front, reversing all shapings.\n"
    pattern = read_pattern(Source(text))
    k = knit(pattern)
    assert [f.message for f in (*pattern.findings, *k.findings) if f.severity != "note"] == []
    left, right = k.ledger.pieces
    assert [e.end for e in right.rows if e.lost] == [e.end for e in left.rows if e.lost]
    off = {p.name: [e.side for e in p.rows if e.lost and e.kind.value == "row"] for p in (left, right)}
    assert [s.value for s in off["Left Front"]] == ["RS", "RS", "RS", "RS", "WS", "RS", "WS"]
    assert [s.value for s in off["Right Front"]] == ["WS", "WS", "WS", "WS", "RS", "WS", "RS"]
    rows = [e for e in right.rows if e.lost and e.kind.value == "row"]
    ops = [[k.fabric.ops[o] for o in k.fabric.op_of_stitch[k.fabric.row_of_stitch == e.order]] for e in rows]
    assert ops[-2][-2:] == ["ssp", "p"]
    assert ops[-1][:2] == ["k", "ssk"]


def test_a_half_that_has_no_mirror_is_said_and_not_knitted():
    w = work(
        DIVIDED.replace("Work 5 rows straight.", "Row 1: K4, kfb, k12, kfb.")
        + REJOIN
        + "Work other side to match."
    )
    assert any(f.startswith("half-not-mirrored") for f in w.wrong)
