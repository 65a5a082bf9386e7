"""Rows that were read wrongly once, and slips of the pen that were passed over."""

from fractions import Fraction

import pytest

from purlwright.pattern import tree
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.pattern.tree import Number, Place, PlaceKind
from purlwright.stitches.load import dictionary


def work(stitch, *count):
    return tree.Work(stitch=stitch, count=Number(values=count or (1,)))


K = tree.Fill(body=(work("k"),), to=Place(kind=PlaceKind.END))
BORDERED = (
    work("k", 3),
    tree.Fill(body=(work("p"),), to=Place(kind=PlaceKind.END, before=Number(values=(3,)))),
    work("k", 3),
)
RIGHT = [
    ("Row 1: K1 (1, 2), p2.", (work("k", 1, 1, 2), work("p", 2))),
    ("Row 1: Sl1, sl1, k to end.", (work("sl"), work("sl"), K)),
    ("Row 1: Pfb, k to end.", (work("pfb"), K)),
    ("Row 1: Inc 1 purlwise, k to end.", (work("pfb"), K)),
    ("Row 1: K2tog 3 (4, 5) times.", (work("k2tog", 3, 4, 5),)),
    (
        "Row 1: Work row 3 of Chart A over next 12 sts, k to end.",
        (tree.Call(name="Chart A", row=Number(values=(3,)), over=Number(values=(12,))), K),
    ),
    ("Row 1: Brk1, brp2.", (work("brk"), work("brp", 2))),
    (
        "Row 1: K3, pass 2nd st over first st.",
        (work("k", 3), tree.PassOver(count=Number(values=(1,)), over=Number(values=(1,)))),
    ),
    (
        "Row 1: Work Chart A row 3 over next 12 sts, k to end.",
        (tree.Call(name="Chart A", row=Number(values=(3,)), over=Number(values=(12,))), K),
    ),
    (
        "Row 1: Break A, with MC, k to end.",
        (tree.Yarn(act="break", colour="A"), tree.Yarn(act="use", colour="MC"), K),
    ),
    ("Row 1: Knit the second stitch, then the first, k to end.", (work("rt"), K)),
    ("Row 1: K3 in the back of the next 3 sts, k to end.", (work("k tbl", 3), K)),
    (
        "Row 1: K1, p1 for 16 sts, k to end.",
        (tree.Repeat(body=(work("k"), work("p")), times=Number(values=(8,))), K),
    ),
    (
        "Row 1: K2, p2 over 18 sts, k to end.",
        (tree.InGround(ground="k2, p2 rib", count=Number(values=(18,))), K),
    ),
    (
        "Row 1: K3tog leaving the sts on the left needle, yo, k3tog again and slip the sts off the needle.",
        (tree.Into(steps=(work("k3tog"), work("yo"), work("k3tog")), count=Number(values=(1,)), over=3),),
    ),
    (
        "Row 1: Sl 1, k1, take the slipped st and pass it over the last st you knitted, k to end.",
        (work("sl"), work("k"), tree.PassOver(count=Number(values=(1,)), over=Number(values=(1,))), K),
    ),
    (
        "Row 1: Knit plain till within three sts of the end, k3tog.",
        (
            tree.Fill(body=(work("k"),), to=Place(kind=PlaceKind.END, before=Number(values=(3,)))),
            work("k3tog"),
        ),
    ),
    (
        "Work i-cord for 6 rows.",
        (tree.WorkRows(body=(K, tree.Turn(slide=True)), rows=Number(values=(6,))),),
    ),
    (
        "Purl the 4th row.",
        (
            tree.WorkRows(
                body=(tree.Fill(body=(work("p"),), to=Place(kind=PlaceKind.END)),),
                rows=Number(values=(1,)),
                unit=tree.Unit.ROW,
            ),
        ),
    ),
    (
        "Knit them back and forth 40 rows.",
        (tree.WorkRows(body=(K,), rows=Number(values=(40,))),),
    ),
    (
        "Work 5 cm more in garter st.",
        (
            tree.WorkRows(
                body=(tree.InGround(ground="garter"),),
                until=tree.Until(length=tree.Length(values=(Fraction(5),), words="5 cm")),
            ),
        ),
    ),
    ("Row 1: Keeping 3 sts in garter stitch at each edge, purl.", BORDERED),
    ("Row 1: Purl, keeping the first and last 3 sts in garter st.", BORDERED),
    (
        "Row 1: Purl every stitch but the last, which is to be knitted.",
        (tree.Fill(body=(work("p"),), to=Place(kind=PlaceKind.END, before=Number(values=(1,)))), work("k")),
    ),
    ("Row 1: Return 1 held st to needle.", (tree.Return(count=Number(values=(1,))),)),
    ("Row 1: Work row 3 of Chart A.", (tree.Call(name="Chart A", row=Number(values=(3,))),)),
]
UNREAD = [
    "Row 1: K2, k2tgo, k2.",
    "Row 1: K2, frobnicate, k2.",
    "Row 1: K2, p to end, keeping 3 sts in garter st at each edge.",
]


def read(words):
    return read_line(
        words,
        Context(
            sizes=("S", "M", "L"),
            compact=dictionary().compact,
            called={"chart a": "Chart A"},
            yarns=frozenset({"a", "mc"}),
        ),
    )


@pytest.mark.parametrize(("words", "actions"), RIGHT)
def test_was_read_wrongly_once(words, actions):
    got = read(words)
    assert tree.bare(got.actions) == tree.bare(actions)
    assert got.findings == ()


@pytest.mark.parametrize("words", UNREAD)
def test_a_slip_of_the_pen_gets_a_finding(words):
    assert [f.code for f in read(words).findings] == ["not-read"]


HANDLED = [
    "K2, start new needle, k2.",
    "Turn the mitten inside out.",
    "If it will not stretch to 50 cm, use a larger needle.",
    "The cotton settles after washing.",
    "K 1 row. I worked these two rows 12 times.",
    "K 1 row (columns numbered 1-6 are the pattern repeat).",
]


@pytest.mark.parametrize("words", HANDLED)
def test_words_of_handling_are_a_note(words):
    got = read(words)
    assert got.findings == ()
    assert any(isinstance(a, tree.Note) for a in got.actions)
    assert not any(isinstance(a, tree.Turn) for a in got.actions)


def test_a_numbered_row_of_decreases_has_a_label():
    got = read("1st decreasing round: K2tog to end.")
    assert got.label is not None
    assert got.label.name == "decreasing round 1"
