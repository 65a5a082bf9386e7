"""Notes and instructions told apart."""

import pytest

from purlwright.pattern.read.prose import sentence_end, talk_ahead
from purlwright.pattern.tokens import Cursor, tokenize


def cursor(text):
    return Cursor(tokenize(text, 0, {}))


@pytest.mark.parametrize(
    "text",
    [
        "The gull flies north at dusk.",
        "This looks best in a dark grey.",
        "Make both alike.",
        "Work second sock to match.",
        "Work short rows as follows:",
    ],
)
def test_talk(text):
    cur = cursor(text)
    assert talk_ahead(cur) >= len(cur.tokens) - 1


@pytest.mark.parametrize(
    "text", ["Slip the marker.", "There are 24 sts.", "Rib until bored.", "Work in some manner."]
)
def test_instructions(text):
    assert talk_ahead(cursor(text)) == -1


def test_the_stop_of_an_abbreviation_ends_no_sentence():
    cur = cursor("Knit 24 sts. to the end. Purl.")
    assert cur.tokens[sentence_end(cur) - 1].low == "end"
