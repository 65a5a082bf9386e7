"""Off the needles: bound off, joined, gathered, finished."""

import pytest

from purlwright.pattern.read.closing import (
    parse_bind_off,
    parse_break,
    parse_close,
    parse_finish,
    parse_gather,
)
from purlwright.pattern.read.context import Context
from purlwright.pattern.tokens import Cursor, tokenize
from purlwright.pattern.tree import BindOff, Close, Edge, Gather, Note, Number, Stated, Yarn, bare


def n(*values):
    return Number(values=values)


def read(reader, text):
    cur = Cursor(tokenize(text, 0, {}))
    got = reader(cur, Context())
    return bare(got), " ".join(t.text for t in cur.tokens[cur.at :])


OFF = [
    ("Bind off", BindOff()),
    ("Bind off all sts", BindOff()),
    ("Cast off loosely in pattern", BindOff(how="pattern")),
    ("Cast off in rib", BindOff(how="pattern")),
    ("BO loosely purlwise", BindOff(how="purlwise")),
    ("Bind off rem 24 sts knitwise", (Stated(total=n(24)), BindOff(how="knitwise"))),
    ("Bind off 22 sts", BindOff(count=n(22))),
    ("Bind off all sts using picot bind-off", BindOff(manner="picot")),
]


@pytest.mark.parametrize(("text", "want"), OFF)
def test_binding_off(text, want):
    assert read(parse_bind_off, text) == (want, "")


CLOSED = [
    ("Graft toe", Close(how="graft", a=Edge(words="toe"))),
    (
        "Graft the live sts to the cast-on sts in garter stitch",
        Close(
            how="graft",
            a=Edge(words="live sts", kind="live"),
            b=Edge(words="cast-on sts", kind="cast-on"),
            manner="garter stitch",
        ),
    ),
    ("Sew side seams", Close(how="seam", a=Edge(words="side seams", kind="row ends"))),
    (
        "Join shoulders with three-needle bind-off",
        Close(how="three-needle", a=Edge(words="shoulders"), manner="three-needle bind-off"),
    ),
]


@pytest.mark.parametrize(("text", "want"), CLOSED)
def test_joining_two_edges(text, want):
    assert read(parse_close, text) == (want, "")


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Break yarn, draw through last 6 sts and pull tight", 6),
        ("Cut yarn, leaving a long tail, and thread through remaining sts, pull tight and fasten off", None),
        ("Draw yarn through the 8 remaining sts", 8),
    ],
)
def test_gathering_the_last_stitches(text, count):
    want = Gather(stated=None if count is None else n(count))
    assert read(parse_gather, text) == (want, "")


def test_breaking_the_yarn_alone():
    assert read(parse_break, "Break off wool") == (Yarn(act="break"), "")
    assert read(parse_gather, "Break off wool")[0] is None


@pytest.mark.parametrize("text", ["weave in ends", "Block to size", "Darn in all ends"])
def test_finishing_moves_no_stitch(text):
    got, left = read(parse_finish, text)
    assert got == Note(words=text)
    assert left == ""
