"""Shaping that goes on with fewer or more stitches between the shapings each time, as crowns are told."""

from itertools import pairwise

import pytest

from needles.worked import work
from purlwright.pattern import tree
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.pattern.words import line_words

CROWN = "Cast on 40 sts. Join to knit in the round.\nRnd 1: *K6, k2tog; rep from * to end. (35 sts)\n"
EVEN = CROWN + "Rnd 2: Knit.\n"
TWICE = EVEN + "Rnd 3: *K5, k2tog; rep from * to end. (30 sts)\n"
END = " (10 sts)\nNext rnd: [K2tog] 5 times. (5 sts)\nBreak yarn and draw it through the sts."
TO_TEN = [30, 25, 20, 15, 10]

WAYS = [
    "Continue to decrease in this way every other round, with 1 st fewer between decreases each time, until 10 sts remain.",
    "Continue in this manner, working 1 fewer st between decreases on every dec rnd, until 10 sts remain.",
    "Rep the last 2 rnds, working one stitch less between the decreases each time, until 10 sts rem.",
    "Rep last 2 rnds until 10 sts remain, having 1 st less between decs.",
]


def left_by_shaping(w):
    return [e.end for e in w.rows if e.start != e.end and e.kind.value == "round"]


@pytest.mark.parametrize("words", WAYS)
@pytest.mark.parametrize("rows", [EVEN, TWICE, TWICE + "Rnd 4: Knit.\n"])
def test_each_shaping_round_has_one_stitch_fewer_between_its_decreases(words, rows):
    w = work(rows + words + END)
    assert w.wrong == []
    assert left_by_shaping(w)[1:-1] == TO_TEN
    rounds = [e for e in w.rows if e.kind.value == "round"]
    shaped = [n for n, e in enumerate(rounds) if e.start != e.end][:-1]
    assert [b - a for a, b in pairwise(shaped)] == [2] * 5


def test_a_rule_for_the_rounds_between_does_not_make_two_of_them():
    rule = CROWN + "Rnd 2 and all even rnds: Knit.\nRnd 3: *K5, k2tog; rep from * to end. 30 sts\n"
    w = work(rule + WAYS[0] + END)
    assert w.wrong == []
    rounds = [e.start != e.end for e in w.rows if e.kind.value == "round"]
    assert rounds[:5] == [True, False, True, False, True]


def test_increases_go_on_with_one_stitch_more_between_them():
    w = work(
        "Cast on 8 sts. Join to knit in the round.\nRnd 1: *K1, kfb; rep from * to end. (12 sts)\nRnd 2: Knit.\n"
        "Rep rnds 1 and 2, with 1 st more between increases each time, until there are 28 sts.\nBind off."
    )
    assert w.wrong == []
    assert left_by_shaping(w) == [12, 16, 20, 24, 28]


def test_a_number_that_is_never_reached_is_said():
    w = work(EVEN + WAYS[0].replace("10 sts", "11 sts") + "\nBind off.")
    assert [f.split(":")[0] for f in w.wrong] == ["never-reached"]


def test_a_row_without_one_plain_stretch_is_said():
    rows = EVEN.replace("*K6, k2tog", "*K2, p4, k2tog")
    w = work(rows + WAYS[2] + "\nBind off.")
    assert w.wrong[0].startswith("no-such-row")


@pytest.mark.parametrize(
    "words", [*WAYS, "Rep last 2 rows 6 times more, with 2 sts more between incs each time."]
)
def test_the_words_say_it_again(words):
    def read(text):
        line = read_line(text, Context())
        assert line.findings == ()
        return tree.Line(actions=line.actions)

    line = read(words)
    assert abs(line.actions[-1].between) == (2 if "2 sts more" in words else 1)
    assert tree.bare(read(line_words(line)).actions) == tree.bare(line.actions)
