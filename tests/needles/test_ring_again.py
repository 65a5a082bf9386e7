"""Stitches taken up again from a ring, and words that say round."""

import pytest

from needles.worked import work

HAND = (
    "Cast on 36 sts. Join to work in the round.\nKnit 4 rounds.\n"
    "Next rnd: K18, slip next 11 sts onto waste yarn, cast on 1 st, k to end. (26 sts)\nKnit 4 rounds.\nBind off.\n"
)
UP = "Place the held sts on needles."


@pytest.mark.parametrize(
    "words",
    [
        "Place the held sts on needles and pick up and knit 1 st over the gap. 12 sts.\nKnit 3 rounds.",
        f"{UP} Join yarn and pick up and knit 1 st over the gap. 12 sts.\nRound 1: Knit.\nWork 2 more rounds.",
        "Return the held sts to needles and knit across, then pick up and k 1 st over the gap.\nKnit 3 rounds.",
    ],
)
def test_a_thumb_is_joined_where_the_words_say_round(words):
    w = work(f"{HAND}{words}\nBind off.")
    assert w.wrong == []
    thumb = w.rows[w.ends.index(0) + 1 :]
    assert [(e.kind.value, e.end) for e in thumb] == [("row", 12), *[("round", 12)] * 3, ("bind-off", 0)]
    assert [f.code for f in w.knitted.findings] == ["round-from-held"]


def test_rows_on_such_stitches_go_back_and_forth():
    w = work(f"{HAND}Place the held sts on needles and join yarn.\nKnit 3 rows.\nBind off.")
    assert [e.kind.value for e in w.rows[-4:]] == ["row", "row", "row", "bind-off"]
    assert "round-from-held" not in [f.code for f in w.knitted.findings]


def test_stitches_never_joined_are_not_joined_by_the_word():
    w = work(
        "Cast on 36 sts.\nKnit 4 rows.\nNext row: K18, slip next 11 sts onto waste yarn, k to end.\nBind off.\n"
        "Place the held sts on needles and join yarn.\nKnit 3 rounds.\nBind off."
    )
    assert [e.kind.value for e in w.rows[-4:-1]] == ["row"] * 3
