"""Charts and stitch patterns called by name: which rows are worked, how often, and what is said of those not there."""

import pytest

from needles.worked import work
from purlwright.needles.knit import knit
from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.text import Source
from purlwright.workup import work_up

KEY = "\n. = k / p\no = yo\n/ = k2tog\n"
LACE = f"## Lace\n%s\n```chart\n. o / . . . 3\n. . / o . . 1\n{KEY}```\n## Body\n"
UNDRAWN = "Only RS rows are drawn; purl all WS rows."


def lace(words, note=UNDRAWN, cast=12):
    return work(LACE % note + f"Cast on {cast} sts.\n{words}\nBind off.")


def numbers(w):
    """The chart's row worked in each row."""
    return [e.number for e in w.rows[1:-1]]


@pytest.mark.parametrize(
    "words",
    [
        "Work rows 1-4 of the lace chart twice.",
        "Work rows 1 to 4 of the chart twice.",
        "Work the lace chart twice.",
        "Work lace chart rows 1-4 two times.",
        "Work all 4 rows of the chart twice.",
        "Work the 4 rows of lace chart 2 times.",
        "Work 2 repeats of lace chart.",
        "Now work chart rows 1 through 4 twice.",
        "Following lace chart, work rows 1-4 twice.",
        "Begin lace chart and work rows 1-4 twice.",
        "Work rows 1-4 of lace chart. Rep these 4 rows once more.",
        "Work lace chart until 8 rows have been worked.",
    ],
)
def test_rows_of_a_chart_are_worked_as_often_as_the_words_say(words):
    w = lace(words)
    assert w.wrong == []
    assert numbers(w) == [1, 2, 3, 4] * 2
    assert [e.made for e in w.rows[1:-1]] == [2, 0] * 4


@pytest.mark.parametrize(
    "words",
    [
        "Work 6 rows of lace chart.",
        "Work in lace chart for 6 rows.",
        "Working from the lace chart, work 6 rows.",
    ],
)
def test_so_many_rows_of_a_chart_go_on_from_row_to_row(words):
    w = lace(words)
    assert w.wrong == []
    assert [e.made for e in w.rows[1:-1]] == [2, 0] * 3


def test_rows_of_the_ribbing_are_not_taken_for_rows_of_the_chart():
    w = lace(
        "Join in the round.\nRnds 1-4: *K1, p1; rep from * to end.\nWork rnds 1-4 of the lace chart 3 times."
    )
    assert w.wrong == []
    assert [e.made for e in w.rows if e.label.endswith("of Lace")] == [2, 0] * 6


def test_a_chart_numbered_for_rows_is_read_from_the_right_in_the_round():
    chart = (
        "## Chart A\n```chart\n2 . . / o\n. . . . 1\n\n. = k / p\no = yo\n/ = k2tog / p2tog\n```\n## Body\n"
    )
    w = work(chart + "Cast on 4 sts. Join in the round.\nWork rnds 1 and 2 of chart A once.\nBind off.")
    assert w.wrong == []
    assert [s.stitch for s in tree.walk(w.pattern.charts[0].rounds[1]) if isinstance(s, tree.Work)] == [
        "yo",
        "k2tog",
        "k",
        "k",
    ]
    assert {e.side for e in w.rows[2:4]} == {tree.Side.RS}


@pytest.mark.parametrize(
    "words", ["Work rows 1-4 of the lace chart twice.", "Row 1: Work row 2 of lace chart."]
)
def test_a_row_that_is_not_drawn_is_not_made_up(words):
    w = lace(words, note="")
    assert [f.code for f in w.knitted.findings] == ["no-such-row"]
    assert "row 2 of Lace" in w.knitted.findings[0].message


def test_a_row_beyond_the_chart_is_not_there():
    assert [f.code for f in lace("Row 1: Work row 15 of lace chart.").knitted.findings] == ["no-such-row"]


def test_a_chart_that_is_not_in_the_file_is_worked_as_it_appears_and_said():
    w = lace("Rows 1-4: *K1, p1; rep from * to end.\nWork rows 1-6 of chart B 3 times.")
    assert [f.code for f in w.knitted.findings] == ["pattern-not-given"]
    assert len(w.rows) == 2 + 4 + 18


@pytest.mark.parametrize(
    "note",
    [
        "WS rows are not shown: purl them.",
        "Purl all even rows.",
        "All WS rows: Purl.",
        "Even-numbered rows are purled.",
        "Work all WS rows as they appear.",
    ],
)
def test_words_beside_a_chart_tell_the_rows_that_are_not_drawn(note):
    w = lace("Work rows 1-4 of the lace chart.", note=note)
    assert w.wrong == []
    assert numbers(w) == [1, 2, 3, 4]


@pytest.mark.parametrize(
    ("words", "rows"),
    [
        ("Continue in pattern as set until row 4 of the chart has been worked.", 4),
        ("Continue in lace chart until row 4 has been worked.", 4),
        ("Continue as set until 2 repeats of the chart are complete.", 8),
    ],
)
def test_a_chart_goes_on_where_it_stands(words, rows):
    w = lace(f"Next row (RS): Work row 1 of lace chart to end.\n{words}")
    assert w.wrong == []
    assert [e.made for e in w.rows[1:-1]] == [2, 0] * (rows // 2)


CABLE = "\n. = k1 / p1\nL = 2/2 LC\n"


@pytest.mark.parametrize(
    ("row", "cast"), [("L L L L", 4), (". L L L L L L L L .", 10), ("L . L", 9), (". | L L L L . | .", 12)]
)
def test_a_crossing_may_be_drawn_as_one_square_or_over_all_its_stitches(row, cast):
    w = work(
        f"## Chart A\n```chart\n{row} 1\n{CABLE}```\n## Body\nCast on {cast} sts.\nWork row 1 of chart A once.\nBind off."
    )
    assert [f for f in w.wrong if "chart-mark-unused" not in f] == []
    assert w.ends[-2] == cast


def test_a_crossing_of_her_own_may_be_drawn_over_its_stitches():
    w = work(
        "## Special stitches\nTW4: sl 2 sts to cn and hold in front, k2, k2 from cn\n"
        "## Chart A\n```chart\n. T T T T . 1\n\n. = k1 / p1\nT = TW4\n```\n## Body\n"
        "Cast on 6 sts.\nWork row 1 of chart A once.\nBind off."
    )
    assert w.wrong == []
    assert w.ends == [6, 6, 0]


@pytest.mark.parametrize(
    "words", ["Work rows 1-4 of wave pattern twice.", "Rep rows 1-4 of wave pattern twice."]
)
def test_a_stitch_pattern_has_the_rows_that_only_its_rule_speaks_of(words):
    w = work(
        "## Wave pattern\nRow 1 (RS): *Yo, k2tog; rep from * to end.\nRow 2 and every following WS row: Purl.\n"
        f"Row 3: *K2tog, yo; rep from * to end.\n## Body\nCast on 8 sts.\nKnit 4 rows.\n{words}\nBind off."
    )
    assert w.wrong == []
    assert [e.number for e in w.rows[5:-1]] == [1, 2, 3, 4] * 2


@pytest.mark.parametrize("heading", ["Chart A", "Chart A: waves", "The wave: chart A"])
def test_a_chart_is_known_by_words_of_its_heading(heading):
    w = work(
        f"## {heading}\n```chart\n. o / . 1\n{KEY}```\n## Body\nCast on 4 sts.\nWork row 1 of chart A once.\nBind off."
    )
    assert w.wrong == []
    assert w.rows[1].made == 1


def test_a_name_that_fits_two_charts_is_not_guessed_at():
    chart = f"```chart\n. o / . 1\n{KEY}```\n"
    w = work(
        f"## Left chart\n{chart}## Right chart\n{chart}## Body\nCast on 4 sts.\nWork row 1 of the chart once.\nBind off."
    )
    assert [f.code for f in w.knitted.findings] == ["pattern-not-given"]


@pytest.mark.parametrize(
    "words",
    [
        "k / p",
        "knit on RS, purl on WS",
        "k1 on RS / p1 on WS",
        "RS: knit; WS: purl",
        "knit on right side, purl on wrong side",
    ],
)
def test_a_key_may_name_the_sides(words):
    chart = f"## Chart A\n```chart\n2 . . . .\n. . . . 1\n\n. = {words}\n```\n"
    w = work(f"{chart}## Body\nCast on 4 sts.\nWork rows 1-2 of chart A once.\nBind off.")
    assert w.wrong == []
    rows = [
        [x.stitch for x in tree.walk(line) if isinstance(x, tree.Work)] for line in w.pattern.charts[0].lines
    ]
    assert rows == [["k"] * 4, ["p"] * 4]


def test_repeats_side_by_side_are_no_rows():
    w = lace("Join in the round.\nWork rnds 1-4 of the lace chart, repeating the chart 2 times around.")
    assert w.wrong == []
    assert [e.number for e in w.rows[2:-1]] == [1, 2, 3, 4]
    assert {e.worked for e in w.rows[2:-1]} == {12}


NARROWING = (
    "## Cap chart\n```chart\n2 . . . | . . . . | . . .\n. . / | . o ^ o | \\ . . 1\n\n. = k1 / p1\n/ = k2tog\n"
    "\\ = ssk\no = yo\n^ = sk2p\n```\n## Cap\nCast on 20 sts.\n"
)


@pytest.mark.parametrize(("said", "wrong"), [("3 times", []), ("4 times", ["count-differs"])])
def test_how_often_the_stitches_between_the_lines_are_worked_is_checked(said, wrong):
    words = f"The sts between the upright lines are worked {said} the first time the chart is worked."
    w = work(f"{NARROWING}{words}\nWork rows 1-2 of the cap chart once.\nBind off.")
    assert [f.code for f in w.knitted.findings] == wrong


ONE_HEADING = f"# Quay Trial\n\n## Lace Chart\n```chart\n. . . . . 2\n. o / . . 1\n{KEY}```\n"


def test_a_cast_on_under_the_heading_of_a_chart_ends_the_section_of_the_chart():
    text = f"{ONE_HEADING}Row 1 (RS): K2, k2tog, yo, k1.\nRow 2: Purl.\n\nCast on 15 sts.\nRow 1: Knit.\nRow 2: Purl.\nBind off.\n"
    pattern = read_pattern(Source(text))
    k = knit(pattern)
    assert [f.code for f in (*pattern.findings, *k.findings)] == []
    assert [(p.name, [e.made for e in p.rows]) for p in k.ledger.pieces] == [("Quay Trial", [15, 0, 0, 0])]


def test_rows_worked_from_a_chart_are_not_the_chart_in_words():
    text = f"{ONE_HEADING}Cast on 15 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: Work row 1 of Lace Chart.\nBind off.\n"
    assert "chart-words-differ" not in {f.code for f in work_up(text).proved().findings}


@pytest.mark.parametrize(
    "words",
    [
        "Keeping first and last 3 sts in garter st, work rows 1-4 of Lace Chart.",
        "Keeping the first and last 3 stitches in garter stitch throughout, work 4 rows of Lace Chart.",
        "Row 1: K3, work row 1 of Lace Chart, worked over the next 12 sts, k3.\nRows 2-4: Knit.",
    ],
)
def test_rows_of_a_chart_stand_between_garter_edges(words):
    w = lace(words, cast=18)
    assert w.wrong == []
    assert [e.made for e in w.rows[1:3]] == [2, 0]
    assert w.ops(1)[:3] == w.ops(1)[-3:] == ["k", "k", "k"]


def test_the_rule_for_undrawn_rows_may_be_two_sentences():
    w = lace("Work rows 1-4 of the lace chart.", note="Only RS rows are charted. On WS rows, purl all sts.")
    assert w.wrong == []
    assert numbers(w) == [1, 2, 3, 4]


@pytest.mark.parametrize("until", ["the last row of the chart has been worked", "the chart is complete"])
def test_as_set_until_the_chart_is_done_goes_on_to_its_last_row(until):
    w = lace(f"Row 1 (RS): Work row 1 of lace chart.\nContinue as set until {until}.")
    assert w.wrong == []
    assert len(w.rows) == 6
