"""Between rows: yarn joined again, held stitches taken up, needles changed."""

import pytest

from purlwright.pattern.read.between import parse_between
from purlwright.pattern.read.context import Context
from purlwright.pattern.tokens import Cursor, tokenize
from purlwright.pattern.tree import Note, Number, Rejoin, Resume, Return, Side, Yarn, bare


def read(text, **known):
    cur = Cursor(tokenize(text, 0, {}))
    got = parse_between(cur, Context(**known))
    return bare(got), " ".join(t.text for t in cur.tokens[cur.at :])


FOUND = [
    ("With RS facing, rejoin yarn to held sts", Rejoin(side=Side.RS, place="held sts")),
    ("Rejoin MC to the back sts", Rejoin(place="back sts", colour="MC")),
    ("With WS facing", Resume(side=Side.WS)),
    ("Place the 12 held thumb sts on needles", Return(place="thumb", count=Number(values=(12,)))),
    ("Slip sts from holder onto needle", Return(place="holder")),
    ("Beginning with a WS row", Resume(side=Side.WS)),
    ("Starting with row 3", Resume(row=3)),
    ("Work back and forth in rows", Resume(flat=True)),
    ("Change to larger needles", Note(words="Change to larger needles")),
    ("With the darkest green wool", Yarn(act="use", colour="darkest green")),
]


@pytest.mark.parametrize(("text", "want"), FOUND)
def test_between_rows(text, want):
    assert read(text, yarns=frozenset({"mc"})) == ((want,), "")


@pytest.mark.parametrize(
    "text", ["", "k2", "Place next 14 sts on a holder", "with yarn in front", "Knit 3 rows"]
)
def test_what_is_no_business_between_rows(text):
    assert read(text)[0] is None
