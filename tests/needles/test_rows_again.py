"""Rows worked again: repeats after a rule for rows in between, and "3 times" where trade words mean two things."""

import pytest

from needles.worked import ends, work

INC = "K1, yo, k to last st, yo, k1."


@pytest.mark.parametrize(
    "words", ["rows 1 and 2 twice more", "these 2 rows twice more", "rows 1-2 until 11 sts remain"]
)
def test_a_repeat_that_begins_with_the_rows_of_a_rule_begins_at_once(words):
    w = work(f"Cast on 5 sts.\nRow 1 and all following WS rows: Purl.\nRow 2: {INC}\nRep {words}.\nBind off.")
    assert w.wrong == []
    assert [e.label for e in w.rows if e.number] == ["Row 1", "Row 2"] * 3
    assert [e.side.value for e in w.rows if e.number] == ["WS", "RS"] * 3


@pytest.mark.parametrize("words", ["rows 1-4", "these 4 rows"])
@pytest.mark.parametrize("between", ["\n", " "])
def test_a_repeat_that_needs_the_last_row_of_a_rule_has_it_first(words, between):
    w = work(
        f"Cast on 5 sts.\nRow 1: {INC}\nRow 2 and all WS rows: Purl.\nRow 3: {INC}{between}Rep {words} once more. (13 sts)\n"
        "Bind off."
    )
    assert w.wrong == []
    assert [e.label for e in w.rows if e.number] == ["Row 1", "Row 2", "Row 3", "Row 4"] * 2


def decreased(words, total):
    return work(
        f"Cast on 20 sts.\nKnit 2 rows.\nDec 1 st at each end of {words}.\nNext row: Knit.{total}\nBind off."
    )


@pytest.mark.parametrize(
    "words", ["next and every foll 4th row 3 times", "5th and every foll 4th row 3 times"]
)
@pytest.mark.parametrize("total", [14, 12])
def test_the_printed_total_says_whether_the_first_of_three_is_counted(words, total):
    w = decreased(words, f" ({total} sts)")
    assert w.wrong == []
    assert w.ends[-2] == total


def test_without_a_total_three_times_is_said_to_have_two_meanings():
    w = decreased("next and every foll 4th row 3 times", "")
    assert w.ends[-2] == 14
    assert [f.code for f in w.knitted.findings] == ["times-or-more"]
    assert "knitted as 3 in all" in w.knitted.findings[0].message


def test_a_total_that_neither_meaning_reaches_is_said():
    assert any(
        "says 10 stitches" in f for f in decreased("next and every foll 4th row 3 times", " (10 sts)").wrong
    )


def test_the_fifth_and_two_following_rows_are_three():
    assert decreased("5th and 2 foll 6th rows", " (14 sts)").wrong == []


@pytest.mark.parametrize(
    ("words", "total"),
    [
        ("Rep dec rnd every 3rd rnd 5 more times", 20),
        ("Rep dec rnd every 3rd rnd 5 times", 20),
        ("Rep dec rnd every 3rd rnd 5 times", 22),
        ("Work decrease round every 3rd round 5 times in all", 22),
    ],
)
def test_a_named_round_worked_again_so_often(words, total):
    got = ends(
        "Cast on 32 sts. Join in the rnd.\nDec rnd: K1, k2tog, k to last 3 sts, ssk, k1.\n"
        f"{words}.\nNext rnd: Knit. ({total} sts)\nBind off."
    )
    assert got[-2] == total


def test_the_next_row_of_a_chart_goes_on_from_the_row_named_before():
    chart = "## Flag Chart\n```chart\n4 x x x o\nx x o o 3\n2 x o o o\no o o o 1\no = k / p\nx = p / k\n```\n"
    rows = "Row 1: Work row 1 of Flag Chart.\nRow 2: Work row 2 of Flag Chart.\n"
    w = work(
        f"Cast on 4 sts.\n{rows}Row 3: Work next row of chart.\nRow 4: Work next row of the chart.\nBind off.",
        chart,
    )
    assert w.wrong == []
    assert [w.seen(i).count("p") for i in (1, 2, 3, 4)] == [0, 1, 2, 3]


PIECE = "Cast on 10 sts.\nKnit 4 rows.\nBind off.\n"


@pytest.mark.parametrize("words", ["Make both sleeves alike.", "Knit a second piece the same."])
def test_a_piece_made_twice_is_knitted_twice(words):
    w = work(PIECE + words)
    assert w.wrong == []
    assert [e.kind.value for e in w.rows].count("cast-on") == 2


@pytest.mark.parametrize("words", ["Do the same on the other side.", "Repeat the same for the other strap."])
def test_words_that_ask_for_the_same_again_elsewhere_are_never_passed_over_in_silence(words):
    wrong = work(PIECE + words).wrong
    assert any(words[:-1] in f or f.startswith("part-not-worked") for f in wrong)


def test_a_second_piece_where_nothing_is_cast_on_is_said():
    w = work("Cast on 10 sts.\nKnit 4 rows.\n\n## Top\nBind off.\nKnit a second piece the same.")
    assert ["the cast-on of this piece" in f for f in w.wrong] == [True]


@pytest.mark.parametrize("rule", ["All WS rows: Purl.", "Row 2 and all even-numbered rows: Purl."])
def test_a_rule_for_rows_in_between_outlasts_a_repeat_that_ends_on_one(rule):
    words = (
        f"Cast on 20 sts.\nRow 1 (RS): Knit.\n{rule}\nRow 3: K1, yo, k to end.\nRep rows 1-4 twice more.\n"
        "Row 13: Knit.\nRow 15: K1, yo, k to end.\nBind off."
    )
    w = work(words)
    assert [e.label for e in w.rows if e.kind == "row"][-4:] == ["Row 13", "Row 14", "Row 15", "Row 16"]
    assert w.wrong == []


@pytest.mark.parametrize("again", ["Repeat from 1st row.", "Repeat the first and second rows."])
def test_rows_named_by_ordinals_are_numbered_whatever_marks_their_labels(again):
    w = work(f"Cast on 8 sts.\nFirst row: Knit.\nSecond row:-- Purl. {again}\nBind off.")
    assert w.wrong == []
    assert [e.number for e in w.rows if e.number] == [1, 2, 1, 2]


@pytest.mark.parametrize(
    "words", ["The same.", "As previous row.", "Same as last row.", "The same as the previous row."]
)
def test_the_same_is_the_row_before(words):
    """As in books of the 1840s: "2nd row. The same."."""
    w = work(f"Cast on 12 sts.\n1st row. *K2, p1; rep from *.\n2nd row. {words}\n3rd row. {words}\nBind off.")
    assert w.wrong == []
    assert w.ends == [12, 12, 12, 12, 0]
    seen = w.knitted.fabric.ops
    assert {seen[o] for o in w.knitted.fabric.op_of_stitch[12:48]} == {"k", "p"}
