"""Rows by the number, and rows again."""

from fractions import Fraction

import pytest

from purlwright.pattern.read.again import parse_repeat_rows
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.inwhat import whole_row
from purlwright.pattern.read.rows import parse_work_rows
from purlwright.pattern.tokens import Cursor, tokenize
from purlwright.pattern.tree import (
    Length,
    Number,
    RepeatRows,
    RowSet,
    Said,
    Side,
    Unit,
    Until,
    WorkRows,
    Yarn,
    bare,
)  # fmt: skip


def n(*values):
    return Number(values=values)


def cm(value):
    return Until(length=Length(values=(Fraction(value),), unit="cm", words=f"{value} cm"))


def read(reader, text, **known):
    cur = Cursor(tokenize(text, 0, {}))
    got = reader(cur, Context(**known))
    return bare(got), " ".join(t.text for t in cur.tokens[cur.at :])


K, P = whole_row("k"), whole_row("p")

SO_MANY = [
    ("Knit 7 rows", WorkRows(body=(K,), rows=n(7), unit=Unit.ROW)),
    ("K 7 rnds", WorkRows(body=(K,), rows=n(7), unit=Unit.ROUND)),
    ("P1 rnd", WorkRows(body=(P,), rows=n(1), unit=Unit.ROUND)),
    ("Purl one row", WorkRows(body=(P,), rows=n(1), unit=Unit.ROW)),
    ("Knit a plain row", WorkRows(body=(K,), rows=n(1), unit=Unit.ROW)),
    ("Knit 7 more rounds", WorkRows(body=(K,), rows=n(7), unit=Unit.ROUND)),
    ("4 plain rows", WorkRows(body=(K,), rows=n(4), unit=Unit.ROW)),
    ("Knit 3 ridges", WorkRows(body=(K,), rows=n(6), unit=Unit.ROW)),
    ("K 4 or 5 rows", WorkRows(body=(K,), rows=n(4), unit=Unit.ROW)),
    (
        "Knit 2 rows in MC",
        WorkRows(body=(Yarn(act="use", colour="MC"), K), rows=n(2), unit=Unit.ROW),
    ),
    (
        "knit 1 row, purl 1 row, alternately, for 8 rows",
        WorkRows(alternate=((K,), (P,)), rows=n(8), unit=Unit.ROW),
    ),
    (
        "Knit one row plain and one row purled alternately",
        WorkRows(alternate=((K,), (P,)), unit=Unit.ROW),
    ),
    (
        "K 7 rows, ending with a WS row",
        WorkRows(body=(K,), rows=n(7), unit=Unit.ROW, until=Until(side=Side.WS)),
    ),
]


@pytest.mark.parametrize(("text", "want"), SO_MANY)
def test_so_many_rows(text, want):
    assert read(parse_work_rows, text) == ((want,), "")


@pytest.mark.parametrize("text", ["Knit 7", "Knit 7 sts", "K2, p2", "Work to end", "2 needles", ""])
def test_stitches_are_no_rows(text):
    assert read(parse_work_rows, text)[0] is None


def test_rows_of_every_size():
    got, _ = read(parse_work_rows, "Knit 4 (6, 8) rows", sizes=("small", "medium", "large"))
    assert got == (WorkRows(body=(K,), rows=n(4, 6, 8), unit=Unit.ROW),)


def rows(first, last):
    return RowSet(first=first, last=last)


AGAIN = [
    ("Rep rows 1-4 five more times", RepeatRows(rows=rows(1, 4), times=n(5), said=Said.MORE)),
    ("Rep rows 1-4 five times", RepeatRows(rows=rows(1, 4), times=n(5))),
    ("Rep rows 1-4 a total of 5 times", RepeatRows(rows=rows(1, 4), times=n(5), said=Said.IN_ALL)),
    ("Rep rows 1 and 2 twice more", RepeatRows(rows=rows(1, 2), times=n(2), said=Said.MORE)),
    ("Repeat Rows 1-4", RepeatRows(rows=rows(1, 4))),
    ("[Rep Rows 1-8] 7 times", RepeatRows(rows=rows(1, 8), times=n(7))),
    ("Rep rows 2, 4 and 7 once more", RepeatRows(rows=RowSet(numbers=(2, 4, 7)), times=n(1), said=Said.MORE)),
    ("Repeat the first and second rows 9 times", RepeatRows(rows=rows(1, 2), times=n(9))),
    ("Rep last 2 rows 4 times more", RepeatRows(rows=RowSet(back=2), times=n(4), said=Said.MORE)),
    ("Repeat this row for 8 cm", RepeatRows(rows=RowSet(back=1), until=cm(8))),
    (
        "Repeat these two rounds until 9 sts remain",
        RepeatRows(rows=RowSet(back=2, unit=Unit.ROUND), until=Until(stitches=n(9))),
    ),
    ("Repeat from 1st row", RepeatRows(rows=RowSet(first=1))),
    ("Repeat from row 3 to row 6", RepeatRows(rows=rows(3, 6))),
    ("Begin again from the 2nd row", RepeatRows(rows=RowSet(first=2), said=Said.OPEN)),
    ("Commence again, as at third row", RepeatRows(rows=RowSet(first=3), said=Said.OPEN)),
    ("Rows 1-14 form pattern", RepeatRows(rows=rows(1, 14), define=True)),
    ("These two rows alternately, for 8 cm", RepeatRows(rows=RowSet(back=2), until=cm(8))),
    (
        "Repeat the increase row until you have 45 sts",
        RepeatRows(rows=RowSet(names=("increase row",)), until=Until(stitches=n(45))),
    ),
    ("Rep rows 1-4 for pattern", RepeatRows(rows=rows(1, 4), said=Said.OPEN)),
    (
        "Work as for back to armhole",
        RepeatRows(rows=RowSet(section="back", all=True), said=Said.OPEN, until=Until(things="armhole")),
    ),
]


@pytest.mark.parametrize(("text", "want"), AGAIN)
def test_rows_again(text, want):
    assert read(parse_repeat_rows, text) == ((want,), "")


def test_some_of_the_rows_once_more_after_the_repeats():
    got, left = read(parse_repeat_rows, "Work rows 1-8 a total of 3 times, then rows 1-6 once more")
    assert left == ""
    assert got == (
        RepeatRows(rows=rows(1, 8), times=n(3), said=Said.IN_ALL),
        RepeatRows(rows=rows(1, 6), times=n(1), said=Said.MORE),
    )


@pytest.mark.parametrize(
    "text", ["rep row 1", "rep from * to end", "Repeat", "work to end", "these are small", "cont"]
)
def test_what_is_left_to_the_steps_of_a_row(text):
    assert read(parse_repeat_rows, text)[0] is None
