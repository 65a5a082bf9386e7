"""Shaping told over many rows."""

from fractions import Fraction

import pytest

from purlwright.pattern.read.context import Context
from purlwright.pattern.read.shaping import parse_shaping
from purlwright.pattern.tokens import Cursor, tokenize
from purlwright.pattern.tree import (
    AtEdges,
    BindOff,
    CastOn,
    InPattern,
    Length,
    Number,
    Place,
    PlaceKind,
    Repeat,
    RowRef,
    Said,
    Shaping,
    Unit,
    Until,
    Work,
    bare,
)  # fmt: skip


def n(*values):
    return Number(values=values)


def read(text):
    cur = Cursor(tokenize(text, 0, {}))
    got = parse_shaping(cur, Context())
    return bare(got), " ".join(t.text for t in cur.tokens[cur.at :])


def dec(where="each end", count=1):
    return AtEdges(change=-1, where=where, count=n(count))


def shape(step, every, times=None, **more):
    more.setdefault("unit", Unit.ROW)
    more.setdefault("start", "every")
    return Shaping(steps=(step,), every=n(every), times=None if times is None else n(times), **more)


TOLD = [
    (
        "Dec 1 st each end of next and every foll alt row 5 times",
        (shape(dec(), 2, 5, start="next"),),
    ),
    (
        "Dec 1 st at each end of every 4th row twice, then every 6th row 3 times",
        (shape(dec(), 4, 2), shape(dec(), 6, 3)),
    ),
    (
        "Dec 1 st at neck edge every row 3 times",
        (shape(dec("neck edge"), 1, 3, start="next"),),
    ),
    (
        "Decrease once at the beginning and end of the needle in every alternate row six times",
        (shape(dec(), 2, 6),),
    ),
    (
        "Dec 1 st each end of every row until 9 sts remain",
        (shape(dec(), 1, start="next", until=Until(stitches=n(9))),),
    ),
    (
        "Inc 1 st each side every 2 cm until there are 80 sts",
        (
            Shaping(
                steps=(AtEdges(change=1, where="each end", count=n(1)),),
                every=n(1), start="every", until=Until(stitches=n(80)),
                length=Length(values=(Fraction(2),), unit="cm", words="2 cm"),
            ),
        ),
    ),
    (
        "Inc 1 st at each end of 5th and every foll 6th row to 60 sts",
        (
            shape(AtEdges(change=1, where="each end", count=n(1)), 5, 1, said=Said.IN_ALL),
            shape(AtEdges(change=1, where="each end", count=n(1)), 6, start="after", until=Until(stitches=n(60))),
        ),
    ),
    (
        "Bind off 5 sts at beg of next 2 rows",
        (shape(BindOff(count=n(5), at="beginning"), 1, 2, start="next", said=Said.IN_ALL),),
    ),
    (
        "Cast off 9 stitches at the beginning of each of the next two rows",
        (shape(BindOff(count=n(9), at="beginning"), 1, 2, start="next", said=Said.IN_ALL),),
    ),
    (
        "BO 4 sts at beg of next 2 rows, then 2 sts at beg of foll 4 rows",
        (
            shape(BindOff(count=n(4), at="beginning"), 1, 2, start="next", said=Said.IN_ALL),
            shape(BindOff(count=n(2), at="beginning"), 1, 4, start="next", said=Said.IN_ALL),
        ),
    ),
    (
        "At neck edge, bind off 3 sts once",
        (shape(BindOff(count=n(3), at="neck edge"), 2, 1, start="next", said=Said.IN_ALL, unit=None),),
    ),
    (
        "Cast on 3 sts at beg of next 4 rows",
        (shape(CastOn(count=n(3), at="beginning"), 1, 4, start="next", said=Said.IN_ALL),),
    ),
    (
        "Work dec row every other row 6 times",
        (Shaping(row=RowRef(name="dec row", unit=Unit.ROW), every=n(2), times=n(6), start="every", unit=Unit.ROW),),
    ),
]  # fmt: skip


@pytest.mark.parametrize(("text", "want"), TOLD)
def test_shaping_over_many_rows(text, want):
    assert read(text) == (want, "")


def test_decreases_at_the_end_of_each_needle():
    (got,), left = read("Narrow at the end of each needle every round until 8 stitches remain")
    assert left == ""
    short = Place(kind=PlaceKind.NEEDLE_END, before=n(2))
    body = (InPattern(to=short), Work(stitch="k2tog", count=n(1)))
    assert got.steps == (Repeat(body=body, said=Said.OPEN, mark=""),)
    assert (got.every, got.until) == (n(1), Until(stitches=n(8)))


@pytest.mark.parametrize(
    "text", ["dec 1", "Bind off 5 sts", "Cast on 40 sts", "inc in next st", "work to end", ""]
)
def test_shaping_within_one_row_is_left_to_its_steps(text):
    got, left = read(text)
    assert got is None
    assert left == text
