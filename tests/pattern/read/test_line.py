"""Whole lines: label, statements, steps, counts, notes and what could not be read, in order."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from purlwright.pattern import tree
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.pattern.tree import walk
from purlwright.stitches.load import dictionary

CTX = Context(compact=dictionary().compact, yarns=frozenset({"mc", "cc", "a"}))


def kinds(text, **more):
    got = read_line(text, CTX, **more)
    return " ".join(type(a).__name__ for a in got.actions)


LINES = [
    ("Knit 7 rows.", "WorkRows"),
    ("Purl one row. Knit 2 rows.", "WorkRows WorkRows"),
    ("Row 2 (WS): P to last 3 sts, k3. (24 sts)", "Fill Work Stated"),
    ("K20, w&t. P19, w&t.", "Work Turn Work Turn"),
    ("With A, knit 2 rows.", "Yarn WorkRows"),
    ("K2, P2 in the round until desired length.", "WorkRows"),
    ("Knit 2, purl 2 for 4 inches. Knit plain for 1 inch.", "WorkRows WorkRows"),
    ("Work 1 rnd as *(P1, K8) around.", "WorkRows"),
    ("Repeat these 2 rounds 3 times more. 38 sts.", "RepeatRows Stated"),
    ("CO 56 sts. Join, being careful not to twist; pm.", "CastOn JoinRound Marker"),
    ("Bind off, weave in ends.", "BindOff Note"),
    ("Cont in garter st for 5 cm, ending with a WS row. Cast off.", "WorkRows BindOff"),
    (
        "Work in garter st until piece measures 9 cm, AT THE SAME TIME dec 1 st each end of every 4th row.",
        "AtSameTime",
    ),
    (
        "Repeat rows 1-4 until nearly out of yarn. End with 3 knit rows. Bind off.",
        "RepeatRows WorkRows BindOff",
    ),
    ("Gulls are grey above and white below.", "Note"),
]


@pytest.mark.parametrize(("text", "want"), LINES)
def test_a_line_says_one_thing_after_another(text, want):
    assert kinds(text) == want
    assert read_line(text, CTX).findings == ()


def test_a_label_may_stand_apart():
    got = read_line("(WS) K3, p8, k3.", CTX, label="Row 2:")
    assert got.label is not None
    assert (got.label.numbers, got.label.side) == ((2,), "WS")
    assert not got.findings


def test_one_bad_stretch_gives_one_finding_and_reading_goes_on():
    text = "Row 3: K2, wibble the second stitch, k2."
    got = read_line(text, CTX)
    assert kinds(text) == "Work Unread Work"
    (finding,) = got.findings
    assert finding.code == "not-read"
    assert text[finding.span.start : finding.span.end] == "wibble the second stitch"


@pytest.mark.parametrize("text", ["K2, p2 for 12 rows.", "Work 12 rows in k2, p2."])
def test_knits_and_purls_for_many_rows_go_on_across_each_row(text):
    (rows,) = read_line(text, CTX).actions
    body = rows.body[0]
    assert (type(body).__name__, len(rows.body), rows.rows.values) in {
        ("Repeat", 1, (12,)),
        ("InGround", 1, (12,)),
    }


def test_shaping_said_with_one_row_is_in_that_row():
    (rows,) = read_line("Knit 1 round, decreasing 4 sts evenly.", CTX).actions
    assert [type(s).__name__ for s in rows.body] == ["Fill", "Evenly"]


def test_the_last_of_many_rows_may_hold_the_shaping():
    many, last = read_line("Knit 6 rows, inc 1 st at end of last row.", CTX).actions
    assert (many.rows.values, last.rows.values) == ((5,), (1,))


def test_needle_by_needle_the_end_is_the_end_of_the_needle():
    got = read_line("Rnd 4: Needle 1: K to last 3 sts, k2tog, k1. Needles 2 and 3: K.", CTX)
    assert [type(a).__name__ for a in got.actions] == ["Fill", "Work", "Work", "Repeat"]
    assert {n.kind for n in walk(got.actions) if type(n).__name__ == "Place"} == {"needle end"}


@pytest.mark.parametrize("text", ["Do not join.", "Do not break yarn.", "Never cast off tightly."])
def test_what_is_not_to_be_done_is_not_done(text):
    assert kinds(text) == "Note"


@pytest.mark.parametrize("text", ["Slip the first st of every row.", "Always slip the first st of each row."])
def test_a_rule_for_every_row_is_no_stitch_of_this_one(text):
    assert kinds(text) == "RowRule"
    assert len(read_line(text, CTX).findings) == 0


def test_a_line_of_talk_is_a_note():
    assert read_line("The harbour freezes over in March.", CTX).note
    assert not read_line("Knit 2 rows.", CTX).note
    assert not read_line("", CTX).note


WORDS = sorted(
    set(
        re.findall(
            r"\w+|[^\w\s]",
            """knit purl k2 p2 rep repeat rows 1-4 row round last these this until for cm measures sts st remain dec inc
            each end of next and every foll alt 6th times more bind off cast on at beg the ( ) [ ] * , ; . : with A MC
            join in twist break yarn draw through graft to held needle RS WS facing rejoin place work in garter rib
            ending with a 3 40 (42, 46) one two once twice from * yo k2tog turn w&t same time as for back half 1/2 ½ – ’""",
        )
    )
)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=14))
def test_any_words_read_without_raising_and_every_span_lies_inside(words):
    text = " ".join(words)
    got = read_line(text, CTX)
    for node in walk(got.actions):
        if node.span.end >= 0:
            assert 0 <= node.span.start <= node.span.end <= len(text)
    for f in got.findings:
        assert 0 <= f.span.start <= f.span.end <= len(text)


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60))
def test_any_text_reads_without_raising(text):
    read_line(text, CTX)
    read_line(text, CTX, label=text)


@pytest.mark.parametrize(
    "text",
    [
        "Row 1: K3, yo, k to m, yo, k3. (4 sts increased)",
        "Row 1: *K1, yo; rep from * to last st, k1. (4 sts made)",
        "Row 1: K1, m1, k to last st, m1, k1 (4 (6, 8) sts increased)",
    ],
)
def test_a_change_printed_at_the_end_of_a_row_is_a_count(text):
    actions = read_line(text, Context()).actions
    assert isinstance(actions[-1], tree.Stated)
    assert actions[-1].change is not None
    assert actions[-1].change.values[0] == 4


def test_a_yarn_forward_before_a_slipped_marker_makes_a_loop():
    actions = read_line("Row 1: K1, yfwd, slip marker, k2, yfwd, sl1, k1.", Context()).actions
    assert [type(a) for a in actions[1:3]] == [tree.Work, tree.Marker]
    assert isinstance(actions[4], tree.YarnTo)


@pytest.mark.parametrize(
    "text", ["Knit these sts.", "Purl the sts, turn.", "Knit the new stitches.", "Knit the held sts."]
)
def test_these_stitches_are_all_of_them(text):
    assert isinstance(read_line(text, Context()).actions[0], tree.Fill)
