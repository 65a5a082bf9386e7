"""Words once passed over in silence: how often, how a repeat ends, where reading stops, which way a cable goes."""

import pytest

from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.text import Source
from purlwright.workup import WorkUp

ROWS = "# Gannet Strip\nSizes: {sizes}\n\nCO {sts} sts.\nRow 1 (RS): Knit.\nRow 2 (WS): Purl.\n{words}\nBind off.\n"


def found(words, sts=20, sizes="one"):
    """The code and the words underlined of all that is found, notes and explanations aside."""
    work = WorkUp(ROWS.format(words=words, sts=sts, sizes=sizes), "strip")
    return [
        (f.code, work.source.text[f.span.start : f.span.end])
        for f in work.proved().findings
        if f.severity != "note"
    ]


@pytest.mark.parametrize(
    ("repeat", "often"),
    [
        ("Rep rows 1 and 2", "umpteen times more"),
        ("Rep rows 1 and 2", "four or five times more"),
        ("Rep rows 1 and 2", "six-and-a-half times"),
        ("Rep rows 1 and 2", "as many times as you like"),
        ("Rep row 2", "umpteen times"),
        ("Row 3: *K2, p2; rep from *", "umpteen times"),
    ],
)
def test_how_often_without_a_number_is_said(repeat, often):
    assert found(f"{repeat} {often}.") == [("not-read", often)]


@pytest.mark.parametrize("often", ["four (5)", "ten (eleven)"])
def test_a_list_of_times_in_words_too_short_for_the_sizes(often):
    assert ("size-list-length", often) in found(f"Rep rows 1 and 2 {often} times more.", sizes="S, M, L")


@pytest.mark.parametrize(
    "often",
    [
        "seven (eight, ten) times more",
        "7 (8, 10) times more",
        ", 7 (8, 10) times more",
        "four (4) times more",
    ],
)
def test_a_list_of_times_is_read_for_every_size(often):
    assert found(f"Rep rows 1 and 2{'' if often[0] == ',' else ' '}{often}.", sizes="S, M, L") == []


def test_a_list_of_times_after_two_row_numbers_is_no_row_number():
    text = ROWS.format(words="Rep rows 1 and 2, 7 (8, 10) times more.", sts=20, sizes="S, M, L")
    lines = [line for section in read_pattern(Source(text)).sections for line in section.lines]
    (again,) = [x for line in lines for x in line.actions if isinstance(x, tree.RepeatRows)]
    assert (again.rows.first, again.rows.last, again.times.values) == (1, 2, (7, 8, 10))


@pytest.mark.parametrize("end", ["to end, ending k3", "to end, ending with k3", ", end k3"])
def test_an_ending_stands_after_whole_repeats(end):
    assert [code for code, _ in found(f"Row 3: *K2, p2; rep from * {end}.")] == ["repeat-uneven"]


@pytest.mark.parametrize(
    ("words", "sts"),
    [
        ("*K2, p2; rep from *, ending k2.", 18),
        ("*K2, p2; rep from * to end, end with k2.", 18),
        ("*K2, p2; rep from *, ending last rep p1.", 19),
        ("*K1, p1, (k2, p2) twice; rep from *, end k2, p2, k2.", 18),
    ],
)
def test_an_ending_that_is_the_beginning_of_the_repeat(words, sts):
    assert found(f"Row 3: {words}", sts) == []


def test_a_row_too_long_to_read_is_said_and_not_counted():
    assert [code for code, _ in found("Row 3: " + "k1, " * 5999 + "k1.", 6000)] == ["line-too-long"]


@pytest.mark.parametrize("words", ["k1 (centre st)", "k1 centre st", "k1 (the center st)", "p1 (seam st)"])
def test_which_stitch_was_worked_is_no_other_stitch(words):
    assert found(f"Row 3: K2, {words}, k2.", 5) == []


@pytest.mark.parametrize("name", ["C6", "C3B"])
def test_a_crossing_that_may_go_either_way(name):
    assert found(f"Row 3: {name}, k{20 - int(name[1])}.") == [("crossing-unclear", name)]
    told = f"## Special stitches\n{name}: slip 1 st to cable needle and hold at back, k{int(name[1]) - 1}, k1 from cn."
    text = ROWS.format(words=f"Row 3: {name}, k{20 - int(name[1])}.", sts=20, sizes="one")
    head, body = text.split("\n\n", 1)
    codes = {f.code for f in WorkUp(f"{head}\n\n{told}\n\n## Strip\n{body}", "strip").proved().findings}
    assert "crossing-unclear" not in codes


@pytest.mark.parametrize("some", ["on 2nd size only", "for the larger sizes only"])
def test_a_size_named_after_its_words_is_said(some):
    assert found(f"Row 3: Inc 1 st at each end of row {some}.", sizes="S, M, L")[:1] == [("not-read", some)]
