"""Rounds told needle by needle: in one line, or each needle in a line of its own."""

import pytest

from needles.worked import work

RING = "Cast on 24 sts. Divide sts onto 3 needles (6, 12, 6). Join in the round.\nRnd 1: Knit.\n"
DECREASES = [
    "K to last 3 sts, k2tog, k1.",
    "K1, ssk, k to last 3 sts, k2tog, k1.",
    "K1, ssk, k to end. (20 sts)",
]


@pytest.mark.parametrize(
    "names",
    [
        ("Needle 1:", "Needle 2:", "Needle 3:"),
        ("1st needle:", "2nd needle:", "3rd needle:"),
        ("First needle:", "Second needle:", "Third needle:"),
        ("N1:", "N2:", "N3:"),
        ("Rnd 2: Needle 1:", "Needle 2:", "Needle 3:"),
        ("Rnd 2:\nNeedle 1:", "Needle 2:", "Needle 3:"),
    ],
)
def test_the_needles_of_a_round_stand_in_a_line_each(names):
    lines = "\n".join(f"{name} {words}" for name, words in zip(names, DECREASES, strict=True))
    w = work(f"{RING}{lines}\nRnd 3: K20.\nBind off.")
    assert w.wrong == []
    assert w.ends == [24, 24, 24, 20, 20, 0]
    assert [e.kind for e in w.rows][3] == "round"


def test_several_needles_in_one_line_are_worked_one_after_the_other():
    w = work(f"{RING}Needle 1: Knit.\nNeedles 2 and 3: K to last 2 sts, k2tog.\nNext rnd: K22.\nBind off.")
    assert w.wrong == []


@pytest.mark.parametrize(
    "start",
    [
        "Cast on 10 sts on each of two needles.",
        "Cast on 20 sts (10 on each needle) using a closed toe-up cast-on.",
        "Using a closed toe-up cast-on, cast on 20 sts, 10 on each needle.",
        "Cast on 10 sts on each needle.",
        "Wrap the yarn around two needles held parallel until there are 10 loops on each needle.",
    ],
)
@pytest.mark.parametrize(
    "row",
    [
        "Needle 1: K1, m1r, k to last st, m1l, k1. Needle 2: K1, m1r, k to last st, m1l, k1.",
        "Needle 1: K1, m1r, k to last st of needle, m1l, k1. Repeat on second needle.",
        "*K1, m1r, k to last st of needle, m1l, k1; rep from * on second needle.",
        "*K1, m1r, k to 1 st before end of needle, m1l, k1; rep from * once more.",
        "On each needle: K1, m1r, k to last st, m1l, k1.",
    ],
)
def test_a_closed_start_lies_on_two_needles_and_is_a_ring(start, row):
    w = work(f"{start}\nRnd 1: Knit.\nRnd 2: {row} (24 sts)\nRnd 3: K24.\nBind off.")
    assert w.wrong == []
    assert [e.kind for e in w.rows] == ["cast-on", "round", "round", "round", "bind-off"]
    made = [w.fabric.ops[o] for o in w.fabric.op_of_stitch[w.made(2)]]
    assert made == ["k", "M1R", *["k"] * 8, "M1L", "k"] * 2
