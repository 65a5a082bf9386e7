"""When to stop."""

from fractions import Fraction

import pytest

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.until import parse_until
from purlwright.pattern.tokens import Cursor, tokenize
from purlwright.pattern.tree import Length, Number, Side, Until, bare


def read(text):
    cur = Cursor(tokenize(text, 0, {}))
    got = parse_until(cur, Context())
    return bare(got), " ".join(t.text for t in cur.tokens[cur.at :])


def n(*values):
    return Number(values=values)


def length(value, unit, words, **more):
    return Until(length=Length(values=(Fraction(value),), unit=unit, words=words), **more)


FOUND = [
    ("for 10 rows", Until(rows=n(10))),
    ("for 10 more rounds", Until(rows=n(10))),
    ("for 5 cm", length(5, "cm", "5 cm")),
    ("for about 4 ins", length(4, "in", "4 ins")),
    ("until 6 sts remain", Until(stitches=n(6))),
    ("until only 6 stitches are left on the needle", Until(stitches=n(6))),
    ("until there are 44 sts on each needle", Until(stitches=n(44))),
    ("till you have 44 stitches", Until(stitches=n(44))),
    ("until there are 20 rounds", Until(rows=n(20))),
    ("until you have done 45 rows", Until(rows=n(45))),
    ("until 14 wedges are done", Until(times=n(14), things="wedges")),
    ("until 4th cable has been worked", Until(times=n(4), things="cable")),
    (
        "until piece measures 30 cm from beg, ending with a WS row",
        length(30, "cm", "30 cm", since="beginning", side=Side.WS),
    ),
    ("until the work is 9 inches long", length(9, "in", "9 inches", since="beginning")),
    ("until sleeve measures 9 cm from underarm", length(9, "cm", "9 cm", since="underarm")),
    ("for 5 cm, ending with row 4", length(5, "cm", "5 cm", ending_row=4)),
    ("for 5 cm, ending with RS facing for next row", length(5, "cm", "5 cm", side=Side.RS, worked=False)),
    ("until 9 sts remain, ending on wrong side", Until(stitches=n(9), side=Side.WS)),
    ("until almost out of yarn", Until(length=Length(words="almost out of yarn"))),
]


@pytest.mark.parametrize(("text", "want"), FOUND)
def test_when_to_stop(text, want):
    assert read(text) == (want, "")


@pytest.mark.parametrize("text", ["", "for", "until", "for the sleeve", "until marker", "to end", "k 2"])
def test_no_stop_is_said(text):
    got, left = read(text)
    assert got is None
    assert left == text
