"""Labels: every way of naming a row, and words that only look like one."""

import pytest

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.label import read_label, split_label
from purlwright.pattern.tree import Number, Side, Unit, bare
from purlwright.text import NOWHERE

NOTHING = Context()
ONE, TWO = Number(values=(1,)), Number(values=(2,))

NUMBERED = [
    ("Row 1 (RS): k5", (1,), Unit.ROW, Side.RS),
    ("Row 7 [WS]: k5", (7,), Unit.ROW, Side.WS),
    ("Row 7: (WS) k5", (7,), Unit.ROW, Side.WS),
    ("Row 7 (right side): k5", (7,), Unit.ROW, Side.RS),
    ("Row 7, WS: k5", (7,), Unit.ROW, Side.WS),
    ("1st row - k5", (1,), Unit.ROW, None),
    ("7TH ROW. k5", (7,), Unit.ROW, None),
    ("Seventh row.--k5", (7,), Unit.ROW, None),
    ("Twenty-third round--k5", (23,), Unit.ROUND, None),
    ("_Third row_--k5", (3,), Unit.ROW, None),
    ("2d row k5", (2,), Unit.ROW, None),
    ("Rnds 3, 5 and 7: k5", (3, 5, 7), Unit.ROUND, None),
    ("Rnd. 4: k5", (4,), Unit.ROUND, None),
    ("Rows 1-4: k5", (1, 2, 3, 4), Unit.ROW, None),
    ("Rows 6 to 8 k5", (6, 7, 8), Unit.ROW, None),
    ("rounds 6 thru 8: k5", (6, 7, 8), Unit.ROUND, None),
    ("Rows 1, 3, 5, & : k5", (1, 3, 5), Unit.ROW, None),
    ("Rows 2-10, even: k5", (2, 4, 6, 8, 10), Unit.ROW, None),
    ("Row 3-6: k5", (3, 4, 5, 6), Unit.ROW, None),
    ("R7- k5", (7,), Unit.ROW, None),
    ("R07 k5", (7,), Unit.ROW, None),
    ("7. k5", (7,), None, None),
    ("7.) k5", (7,), None, None),
    ("7.row k5", (7,), Unit.ROW, None),
    ("7th: k5", (7,), None, None),
    ("20th and 21st: k5", (20, 21), None, None),
    ("7th to 9th inclusive: k5", (7, 8, 9), None, None),
    ("2nd needle k5", (2,), None, None),
    ("The 3rd, 5th and 7th round, k5", (3, 5, 7), Unit.ROUND, None),
    ("On the 5th row k5", (5,), Unit.ROW, None),
    ("8th and 10th rounds are worked k5", (8, 10), Unit.ROUND, None),
]


@pytest.mark.parametrize(("text", "numbers", "unit", "side"), NUMBERED)
def test_a_numbered_label_gives_its_rows_and_where_their_words_begin(text, numbers, unit, side):
    label, at = split_label(text, NOTHING)
    assert label is not None
    assert text[at:] == "k5"
    assert (label.numbers, label.unit, label.side) == (numbers, unit, side)
    assert 0 <= label.span.start < label.span.end <= at


RULES = [
    ("Row 2 and all WS rows: purl", (2,), "WS", None),
    ("Row 2 (and all even rows): purl", (2,), "even", None),
    ("1st and every alt row: purl", (1,), "alternate", None),
    ("Row 2 and every following alternate row: purl", (2,), "alternate", None),
    ("Row 2 & every alt row thru 12: purl", (2,), "alternate", 12),
    ("2 and all even rounds: purl", (2,), "even", None),
    ("All WS rows: purl", (), "WS", None),
    ("WS rows: purl", (), "WS", None),
    ("Even rnds: purl", (), "even", None),
    ("Odd-numbered rows: purl", (), "odd", None),
    ("Every alternate row: purl", (), "alternate", None),
]


@pytest.mark.parametrize(("text", "numbers", "rule", "to"), RULES)
def test_a_rule_fills_the_rows_between(text, numbers, rule, to):
    label, at = split_label(text, NOTHING)
    assert label is not None
    assert text[at:] == "purl"
    assert (label.numbers, label.rule, label.rule_to) == (numbers, rule, to)


NEXT = [
    ("Next row: k5", ONE, Unit.ROW),
    ("Next row k5", ONE, Unit.ROW),
    ("Following rnd: k5", ONE, Unit.ROUND),
    ("In the next row k5", ONE, Unit.ROW),
    ("Next 2 rows: k5", TWO, Unit.ROW),
    ("Last 2 rounds: k5", TWO, Unit.ROUND),
]


@pytest.mark.parametrize(("text", "count", "unit"), NEXT)
def test_next_rows_are_counted(text, count, unit):
    label, at = split_label(text, NOTHING)
    assert label is not None
    assert text[at:] == "k5"
    assert (bare(label.next), label.unit) == (count, unit)


NAMED = [
    ("Dec rnd 2: k5", "dec rnd 2", Unit.ROUND),
    ("Dec. Row 3: k5", "dec row 3", Unit.ROW),
    ("Inc row k5", "inc row", Unit.ROW),
    ("Set-up row (WS): k5", "set-up row", Unit.ROW),
    ("Final row: k5", "final row", Unit.ROW),
    ("Row 3 (cable row): k5", "cable row", Unit.ROW),
    ("Short-row 2: k5", "short-row 2", Unit.ROW),
    ("Heel flap: k5", "heel flap", None),
    ("Cuff: k5", "cuff", None),
]


@pytest.mark.parametrize(("text", "name", "unit"), NAMED)
def test_a_named_row_keeps_its_name(text, name, unit):
    label, at = split_label(text, NOTHING)
    assert label is not None
    assert text[at:] == "k5"
    assert (label.name, label.unit) == (name, unit)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "Knit 6 rows.",
        "Rows 1-14 form pattern.",
        "3rd row of the chart is the last.",
        "Repeat rows 1-4 twice.",
        "1.5 cm of garter stitch",
        "40 sts rem",
        "5 rows garter stitch",
        "[k2, p2] 3 times",
        "k2, p2: rep to end",
        "Note: slip all markers.",
        "Row 4n - 2: knit",
        "Sizes M, L only: k5",
    ],
)
def test_words_that_are_no_label(text):
    assert split_label(text, NOTHING) == (None, 0)


def test_a_side_alone_is_a_label():
    label, at = split_label("WS: purl", NOTHING)
    assert label is not None
    assert (label.side, label.numbers, at) == (Side.WS, (), 4)


def test_the_colour_stands_beside_the_side():
    label, _ = split_label("Row 5 (RS, colour A): k5", NOTHING)
    assert label is not None
    assert (label.side, label.colour, label.words) == (Side.RS, "A", "Row 5")


def test_a_name_of_the_pattern_itself_is_a_label():
    ctx = Context(row_names=frozenset({"gull twist"}))
    label, at = split_label("Gull twist: k5", ctx)
    assert label is not None
    assert (label.name, at) == ("gull twist", 12)


def test_a_label_apart_from_its_row_stands_nowhere():
    assert read_label("Row 3:", NOTHING).span == NOWHERE
    assert read_label("Gull edge", NOTHING).name == "gull edge"


def test_a_label_of_a_million_rows_is_cut_short():
    label, _ = split_label("Rows 1-999999: knit", NOTHING)
    assert label is not None
    assert len(label.numbers) == 5000
