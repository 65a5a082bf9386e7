"""Parts told as another part: the rows of the other are knitted there, up to where the words say."""

import pytest

from purlwright.needles.knit import knit
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

BACK = """## Back
** Cast on 20 sts.
Row 1 (RS): K20.
Row 2: Purl. **
Shape armholes:
Next 2 rows: Bind off 2 sts, work to end. (16 sts at the last)
Row 1: Knit.
Bind off.
"""


def knitted(text):
    pattern = read_pattern(Source(f"# Quay Trial\n\n{text}"))
    k = knit(pattern)
    found = [f.code for f in (*pattern.findings, *k.findings) if f.severity != "note"]
    return {p.name: [e.end for e in p.rows] for p in k.ledger.pieces}, found


@pytest.mark.parametrize(
    "words",
    [
        "Work as for back.",
        "The front is worked the same as the back.",
        "Make the front exactly like the back.",
        "Follow instructions for back.",
        "Same as back.",
        "Front: Work as given for back.",
    ],
)
def test_a_part_worked_as_another_is_knitted(words):
    pieces, found = knitted(f"{BACK}## Front\n{words}\n")
    assert found == []
    assert pieces["Front"] == pieces["Back"] == [20, 20, 20, 18, 16, 16, 0]


@pytest.mark.parametrize(
    "to", ["to armholes", "to the beginning of armhole shaping", "to **", "from ** to **", "to row 2"]
)
def test_it_stops_where_the_words_say(to):
    pieces, found = knitted(f"{BACK}## Front\nWork as for back {to}.\nNext row: K20.\nBind off.\n")
    assert found == []
    assert pieces["Front"] == [20, 20, 20, 20, 0]


def test_with_it_go_the_sections_below_its_heading():
    text = "## Back\nCast on 9 sts.\nRow 1: K9.\n### Neck\nRow 1: K3, k3tog, k3. (7 sts)\nBind off.\n"
    pieces, found = knitted(f"{text}## Front\nWork as for back.\n")
    assert found == []
    assert pieces == {"Back": [9, 9, 7, 0], "Front": [9, 9, 7, 0]}
    pieces, _ = knitted(f"{text}## Front\nWork as for back to neck.\nBind off.\n")
    assert pieces["Front"] == [9, 9, 0]


def test_a_half_reversed_is_its_mirror():
    left = "## Left front\nCast on 12 sts.\nRow 1 (RS): Knit to last 3 sts, k2tog, k1.\nRow 2: Purl.\nBind off.\n"
    k = knit(
        read_pattern(Source(f"# T\n\n{left}## Right front\nWork as for left front, reversing shaping.\n"))
    )
    assert [f.code for f in k.findings] == []
    first = [k.fabric.ops[o] for o in k.fabric.op_of_stitch[k.fabric.row_of_stitch == 6]]
    assert first[:2] == ["k", "ssk"]


@pytest.mark.parametrize(
    "words",
    [
        "Work as for collar.",
        "Work as for back to the third moon.",
    ],
)
def test_what_is_not_found_is_said_and_not_passed_over(words):
    _, found = knitted(f"{BACK}## Front\n{words}\n")
    assert found == ["part-not-worked"]


def test_a_half_without_a_sure_mirror_is_said():
    _, found = knitted(f"{BACK}## Front\nWork as for back, reversing all shaping.\n")
    assert found == ["half-not-mirrored"]


def test_a_second_one_under_its_own_heading_is_all_that_went_before():
    text = "## Cuff\nCast on 9 sts.\nRow 1: K9.\n## Hand\nRow 1: K9.\nBind off.\n"
    pieces, found = knitted(f"{text}## Second mitten\nMake the second mitten the same.\n")
    assert found == []
    assert list(pieces.values()) == [[9, 9, 9, 0], [9, 9, 9, 0]]


def test_what_stands_between_two_marks_is_worked_again():
    text = "## Strip\nCast on 9 sts.\nRow 1: K9.\n** Row 2: P9.\nRow 3: K3, k2tog, k4. (8 sts)\nRow 4: K3, kfb, k4. **\n"
    pieces, found = knitted(f"{text}Repeat from ** to ** twice more.\nBind off.\n")
    assert found == []
    assert pieces["Strip"] == [9, 9, 9, 8, 9, 9, 8, 9, 9, 8, 9, 0]


def test_its_own_cast_on_stands_for_that_of_the_other():
    text = "## Front\nCast on 24 sts and work same as back to underarm.\nNext row: K24.\nBind off.\n"
    pieces, found = knitted(f"{BACK}{text}")
    assert [f for f in found if f != "count-differs"] == []
    assert pieces["Front"][0] == 24


def test_an_armhole_without_a_heading_begins_at_the_first_bind_off():
    text = BACK.replace("Shape armholes:\n", "")
    pieces, found = knitted(f"{text}## Front\nWork as for back to underarm.\nBind off.\n")
    assert found == []
    assert pieces["Front"] == [20, 20, 20, 0]
