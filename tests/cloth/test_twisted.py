"""A ring that the words twist is told of, and one that is not to be twisted is let be."""

import pytest

from purlwright.cloth.twisted import twists_left_out
from purlwright.text import Source
from purlwright.workup import WorkUp

HEAD = "# Moebius\nGauge: 20 sts and 28 rounds = 10 cm in stockinette stitch\n\n"


def found(text):
    source = Source(text, "ring")
    return [
        (source.place(one.span.start)[0], source.text[one.span.start : one.span.end])
        for one in twists_left_out(source)
    ]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("Join in the round, twisting once.", "twisting once"),
        ("Twist once and join to work in the round.", "Twist once"),
        ("Join, twisting the cast-on once around the needle.", "twisting the cast-on once"),
        ("Graft the ends together with a half twist.", "half twist"),
        ("Sew the ends together to make a Möbius.", "Möbius"),
        ("Join with a twist.", "with a twist"),
    ],
)
def test_a_twist_in_words(line, words):
    assert found(f"{HEAD}Cast on 120 sts.\n{line}\nKnit 40 rounds.\n") == [(5, words)]


@pytest.mark.parametrize(
    "line",
    [
        "Join in the round, being careful not to twist.",
        "Join, taking care that the sts are not twisted around the needle.",
        "Row 3: K2, twist 2 right, k to end.",
        "Twist the yarns around each other once at each change of colour.",
        "Use the twisted half-hitch loop.",
    ],
)
def test_other_twists_are_let_be(line):
    assert found(f"{HEAD}Cast on 120 sts.\n{line}\nKnit 40 rounds.\n") == []


def test_neither_a_title_nor_what_stands_before_the_cast_on_is_a_twist():
    assert (
        found(
            f"{HEAD}A cowl with a half twist.\nCast on 120 sts and join to work in the round.\nKnit 40 rounds.\n"
        )
        == []
    )


def test_a_ring_is_as_wide_with_a_twist_as_without():
    text = HEAD + "Cast on 120 sts.\nJoin in the round{}.\nKnit 40 rounds.\nBind off.\n"
    plain, twisted = WorkUp(text.format("")), WorkUp(text.format(", twisting once"))
    assert plain.settled().rest.edge_mm.sum() == twisted.settled().rest.edge_mm.sum()
