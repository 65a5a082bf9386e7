"""Markers that are slipped, taken off or gone to: they stand where the words say, or it is said."""

import pytest

from needles.worked import work

CAST_ON = "Cast on 20 sts.\nRow 1 (RS): K5, pm, k15.\nRow 2 (WS): Purl.\n"
ROUND = "Cast on 20 sts. Join to work in the round.\nRnd 1: K10, pm, k10.\n"


def said(text):
    return [f.message for f in work(text).knitted.findings if f.code == "marker-not-here"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (CAST_ON + "Row 3: K5, sm, k10, sm, k5.", "Row 3 slips a marker here, but the last one was passed before."),
        (CAST_ON + "Row 3: K2, sm, k18.", "Row 3 slips a marker here, but the next one stands 3 stitches further on."),
        (CAST_ON + "Row 3: K7, remove m, k13.", "Row 3 takes off a marker here, but the last one was passed before."),
        (
            CAST_ON + "Row 3: K5, remove m, k15.\nRow 4: P15, sm, p5.",
            "Row 4 slips a marker here, and no marker is left on the needle.",
        ),
        (CAST_ON + "Row 3: K to marker B, k to end.", "Row 3 goes to marker B, and no marker on the needle has that name."),
        (ROUND + "Rnd 2: K10, sm, k10, sm, k0, m1.", "Rnd 2 slips a marker here, but the last one was passed before."),
    ],
)  # fmt: skip
def test_a_marker_that_is_not_here_is_said(text, message):
    assert said(text) == [message]


@pytest.mark.parametrize(
    "text",
    [
        CAST_ON + "Row 3: K5, sm, k15.\nRow 4: P15, sm, p5.",
        CAST_ON + "Row 3: K to m, yo, sm, k to end.\nRow 4: P15, remove m, p6.",
        ROUND + "Rnd 2: K10, sm, k10, sm.\nRnd 3: Sm, k10, sm, k10.",
        "Cast on 20 sts.\nRow 1: K5, place marker A, k15.\nRow 2: P to marker A, sm, p to end.",
    ],
)
def test_a_marker_where_the_words_say_is_not_spoken_of(text):
    assert said(text) == []


def test_the_same_words_worked_again_are_said_once():
    assert (
        len(said(CAST_ON + "Row 3: K5, sm, k10, sm, k5.\nRow 4: Purl.\nRep rows 3 and 4 five times more."))
        == 1
    )


def test_a_marker_inside_a_decrease_underlines_the_decrease():
    w = work("Cast on 20 sts.\nRow 1 (RS): K10, pm, k10.\nRow 2 (WS): P9, p2tog, p9.")
    (found,) = [f for f in w.knitted.findings if f.code == "marker-inside-stitch"]
    assert w.text[found.span.start : found.span.end] == "p2tog"
