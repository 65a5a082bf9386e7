"""Casting on, joining into a round, sharing stitches out."""

import pytest

from purlwright.pattern.read.caston import parse_cast_on
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.ring import parse_divide, parse_join
from purlwright.pattern.tokens import Cursor, tokenize
from purlwright.pattern.tree import Arrange, CastOn, JoinRound, Number, bare


def n(*values):
    return Number(values=values)


def read(reader, text, **known):
    cur = Cursor(tokenize(text, 0, {}))
    got = reader(cur, Context(**known))
    return bare(got), " ".join(t.text for t in cur.tokens[cur.at :])


CAST_ON = [
    ("Cast on 38", CastOn(count=n(38))),
    ("Cast on: 38 sts", CastOn(count=n(38))),
    ("CO 38 sts loosely", CastOn(count=n(38))),
    ("Cast 38 stitches", CastOn(count=n(38))),
    ("Cast on 38 sts provisionally", CastOn(count=n(38), method="provisional", provisional=True)),
    ("Using the long-tail method, cast on 38 sts", CastOn(count=n(38), method="long tail")),
    ("Long-tail cast on 38 sts", CastOn(count=n(38), method="long tail")),
    ("Cast on 38 sts using cable cast-on", CastOn(count=n(38), method="cable")),
    ("Cast on a multiple of 6 sts plus 2", CastOn(multiple=n(6), plus=n(2))),
    ("CO any multiple of 4 + 2 sts", CastOn(multiple=n(4), plus=n(2))),
    ("Cast on six stitches for each pattern, and two over for the edge", CastOn(multiple=n(6), plus=n(2))),
    ("Cast on an odd number of stitches", CastOn(multiple=n(2), plus=n(1))),
    ("Cast on 12 sts to each needle", CastOn(count=n(12), each=2)),
    ("Cast on 12 sts on each of 4 needles", CastOn(count=n(12), each=4)),
    ("Cast on 60 sts on 3 needles 20-24-16", CastOn(count=n(60), over=3, needles=(n(20), n(24), n(16)))),
    (
        "Cast on 20 sts on the first needle, and 18 on each of the other 2",
        CastOn(count=n(56), needles=(n(20), n(18), n(18))),
    ),
    ("Cast on 20 sts at end of row", CastOn(count=n(20), at="end")),
    ("Cast on 3 sts at the beginning of the next row", CastOn(count=n(3), at="beginning")),
    ("Cast on 6 sts over the gap", CastOn(count=n(6), at="gap")),
    ("Cast on 6 sts (counts as first row)", CastOn(count=n(6), counts_row=True)),
]


@pytest.mark.parametrize(("text", "want"), CAST_ON)
def test_casting_on(text, want):
    assert read(parse_cast_on, text) == (want, "")


def test_casting_on_for_every_size():
    got, _ = read(parse_cast_on, "Cast on 36 (42, 46) sts", sizes=("child", "adult", "large"))
    assert got == CastOn(count=n(36, 42, 46))


@pytest.mark.parametrize("text", ["", "Cast", "Cast on", "Cast off 3 sts", "Knit 3"])
def test_no_casting_on(text):
    assert read(parse_cast_on, text) == (None, text)


@pytest.mark.parametrize(
    "text",
    [
        "Join",
        "Join in the round",
        "Join to work in the round, being careful not to twist",
        "Join, taking care not to twist sts",
        "join stitches",
        "join them into a circle",
        "close into a round",
        "close the ring",
        "Join without twisting",
    ],
)
def test_joining_into_a_round(text):
    assert read(parse_join, text) == ((JoinRound(),), "")


@pytest.mark.parametrize("text", ["join MC", "join new yarn", "join the shoulders", "close"])
def test_other_joins_are_not_taken(text):
    assert read(parse_join, text, yarns=frozenset({"mc"}))[0] is None or text == "close"


SHARED = [
    ("Divide evenly between needles", Arrange()),
    ("Divide sts on 3 needles: 16-18-16", Arrange(count=n(3), needles=(n(16), n(18), n(16)))),
    ("Arrange sts over 4 needles", Arrange(count=n(4))),
    ("Divide sts over 3 needles (16 sts on each)", Arrange(count=n(3), needles=(n(16), n(16), n(16)))),
    ("divide on 2 needles, having 14 on each needle", Arrange(count=n(2), needles=(n(14), n(14)))),
]


@pytest.mark.parametrize(("text", "want"), SHARED)
def test_sharing_out_over_needles(text, want):
    assert read(parse_divide, text) == ((want,), "")
