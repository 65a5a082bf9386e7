"""Charts drawn in the file."""

import pytest

from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.text import Source
from purlwright.workup import WorkUp

KEY = """
. = k / p
o = yo
/ = k2tog / p2tog
"""


def chart_of(rows, key=KEY, info="chart Wave"):
    p = read_pattern(Source(f"# A\n\n## Wave\n```{info}\n{rows}\n{key}```\n"))
    (chart,) = p.charts
    return p, chart


def stitches(line):
    return [w.stitch for w in tree.walk(line) if isinstance(w, tree.Work)]


def test_rows_are_worked_from_the_bottom_up_each_from_its_numbers_side():
    _, c = chart_of("4 | o / . . |\n  | . . . . | 3\n2 | . . o / |\n  | . / o . | 1")
    assert c.name == "Wave"
    assert [(r.number, r.from_right) for r in c.rows] == [(1, True), (2, False), (3, True), (4, False)]
    assert [line.label.side for line in c.lines] == [tree.Side.RS, tree.Side.WS, tree.Side.RS, tree.Side.WS]
    assert stitches(c.lines[0]) == ["k", "yo", "k2tog", "k"]
    assert stitches(c.lines[1]) == ["p", "p", "yo", "p2tog"]


def test_a_square_is_one_stitch():
    _, c = chart_of(". o / . 1", key="\n. = knit / purl\no = yo\n/ = k2tog / p2tog\n")
    assert all(isinstance(a, tree.Work) and a.count.values == (1,) for a in c.lines[0].actions)


def test_the_repeat_is_what_stands_between_the_lines():
    _, c = chart_of(". . | o / | . 1")
    first, repeat, *rest = c.lines[0].actions
    assert isinstance(repeat, tree.Repeat)
    assert (repeat.said, repeat.star, stitches(repeat)) == (tree.Said.OPEN, True, ["k2tog", "yo"])
    assert (stitches(first), stitches(tuple(rest))) == (["k"], ["k", "k"])


def test_every_step_stands_on_its_mark():
    p, c = chart_of(". o / . 1")
    line = c.lines[0]
    marks = [
        p.source.text[line.offset + w.span.start : line.offset + w.span.end]
        for w in tree.walk(line)
        if isinstance(w, tree.Work)
    ]
    assert marks == [".", "/", "o", "."]


def test_marks_may_stand_close_together():
    _, c = chart_of("|./o.|1")
    assert c.rows[0].marks == (".", "/", "o", ".")
    assert c.rows[0].repeat == (0, 4)


def test_a_mark_of_several_letters_is_one_mark():
    _, c = chart_of(". <<>> . 1", key="\n. = k\n<<>> = c4f\n")
    assert c.rows[0].marks == (".", "<<>>", ".")


def test_in_the_round_every_row_starts_at_the_right():
    _, c = chart_of(". . 2\n. / 1")
    assert c.round
    assert [line.label.side for line in c.lines] == [tree.Side.RS, tree.Side.RS]


def test_the_key():
    p, c = chart_of(". / o 1")
    assert [(k.mark, k.rs_words, k.ws_words) for k in c.key] == [
        (".", "k", "p"),
        ("o", "yo", ""),
        ("/", "k2tog", "p2tog"),
    ]
    assert p.findings == ()


@pytest.mark.parametrize(
    ("rows", "key", "code", "words"),
    [
        (". q . 1", "\n. = k\n", "chart-mark-unknown", "q"),
        (". . 1", "\n. = k\nv = sl1\n", "chart-mark-unused", "v"),
        (". | . . 1", "\n. = k\n", "chart-repeat-lines", ". | . . 1"),
        (". . .", "\n. = k\n", "chart-row-number", ". . ."),
        (". . 5\n. . 1", "\n. = k\n", "chart-row-number", ". . 5"),
        (". . 5\n. . 4\n. . 2\n. . 1", "\n. = k\n", "chart-row-number", ". . 4"),
        (". . 4\n. . 7\n. . 2\n. . 1", "\n. = k\n", "chart-row-number", ". . 7"),
        (". . 2\nmind the middle one\n. . 1", "\n. = k\n", "chart-not-read", "mind the middle one"),
        (". . 1", "\n. = k\na sentence here\n", "chart-not-read", "a sentence here"),
    ],
)
def test_what_can_be_wrong_with_a_chart(rows, key, code, words):
    p, _ = chart_of(rows, key)
    assert [(f.code, p.source.words(f.span)) for f in p.findings] == [(code, words)]


def test_every_other_row_may_be_drawn():
    p, _ = chart_of(". . 5\n. . 3\n. . 1", "\n. = k\n")
    assert p.findings == ()


def test_letters_of_the_key_are_squares_and_no_sentence():
    p, chart = chart_of("aab baa abb", "\na = k\nb = p\n")
    assert [f.code for f in p.findings] == ["chart-row-number"]
    assert len(chart.rows[0].marks) == 9


@pytest.mark.parametrize(
    ("row", "code"), [("| . . . q 1", "chart-repeat-lines"), ("| . q . . | 1", "chart-mark-unknown")]
)
def test_what_is_wrong_in_a_square_is_not_said_again_of_the_stitches(row, code):
    key = "\n. = k / p\n" + ("q = p / k\n" if code == "chart-repeat-lines" else "")
    words = f"# A\n\n## Chart A\n```chart\n{row}\n{key}```\n\n## Body\nCast on 12 sts.\n"
    words += "Row 1 (RS): Work row 1 of chart A.\nBind off all sts.\n"
    assert [f.code for f in WorkUp(words).findings()] == [code]


def test_an_empty_chart():
    p = read_pattern(Source("# A\n\n```chart\n```\n"))
    assert p.charts[0].rows == ()


def test_a_chart_is_named_by_its_fence_or_its_heading():
    assert chart_of(". 1", "\n. = k\n", "chart")[1].name == "Wave"
    assert chart_of(". 1", "\n. = k\n", "chart A")[1].name == "A"


def test_a_crossing_may_fill_a_square_for_each_of_its_stitches():
    key = "\n. = k / p\nL = 2/2 LC\n"
    _, c = chart_of("2 . . . . . .\n. L L L L . 1", key=key)
    assert stitches(c.lines[0]) == ["k", "2/2 lc", "k"]
    _, c = chart_of("2 . . . . . .\n. L . 1", key=key)
    assert stitches(c.lines[0]) == ["k", "2/2 lc", "k"]
