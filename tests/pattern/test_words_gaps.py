"""Rows that were read wrongly once, and slips of the pen that were passed over."""

import pytest

from purlwright.pattern import tree
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.pattern.tree import Number, Place, PlaceKind
from purlwright.stitches.load import dictionary


def work(stitch, *count):
    return tree.Work(stitch=stitch, count=Number(values=count or (1,)))


K = tree.Fill(body=(work("k"),), to=Place(kind=PlaceKind.END))
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
    ("Row 1: Return 1 held st to needle.", (tree.Return(count=Number(values=(1,))),)),
    ("Row 1: Work row 3 of Chart A.", (tree.Call(name="Chart A", row=Number(values=(3,))),)),
]
UNREAD = [
    "Row 1: K2, k2tgo, k2.",
    "Row 1: K2, frobnicate, k2.",
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
