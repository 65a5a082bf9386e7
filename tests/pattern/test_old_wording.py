"""Rows and sentences in the manner of books of 1840 to 1918: how many are read word for word.

The lines in ``data/old_rows*.txt`` and ``data/old_prose*.txt`` are invented, in many books' habits.
"""

from pathlib import Path

import pytest

from purlwright.pattern import tree
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.pattern.read.prose import is_talk
from purlwright.pattern.tokens import tokenize
from purlwright.pattern.tree import bare
from purlwright.stitches.load import dictionary

DATA = Path(__file__).parent / "data"
COMPACT = dictionary().compact


def old(words):
    return read_line(words, Context(compact=COMPACT, terms="old"))


def is_read(words):
    """Nothing unread, and no note with a word of the trade in it."""
    got = old(words)
    nodes = list(tree.walk(got.actions))
    if got.findings or any(isinstance(n, tree.Unread) for n in nodes):
        return False
    notes = [n for n in nodes if isinstance(n, tree.Note)]
    return all(is_talk(tokenize(n.words, 0, COMPACT)) for n in notes)


@pytest.mark.parametrize(("kind", "least"), [("old_rows", 0.93), ("old_prose", 0.85)])
def test_most_lines_are_read_word_for_word(kind, least):
    lines = [x for f in sorted(DATA.glob(f"{kind}*.txt")) for x in f.read_text().splitlines() if x.strip()]
    left = [x for x in lines if not is_read(x)]
    assert len(lines) >= 80
    assert len(left) <= (1 - least) * len(lines), "\n".join(left)


K = tree.Work(stitch="k", count=tree.Number(values=(1,)))
P = tree.Work(stitch="p", count=tree.Number(values=(1,)))
END = tree.Place(kind=tree.PlaceKind.END)
WHOLE = tree.Fill(body=(K,), to=END)
PURLED = tree.Fill(body=(P,), to=END)


def n(value):
    return tree.Number(values=(value,))


@pytest.mark.parametrize(
    ("words", "actions"),
    [
        ("Every other round is plain.", (tree.RowRule(rule="alternate", steps=(WHOLE,)),)),
        ("The alternate rows are all purled.", (tree.RowRule(rule="alternate", steps=(PURLED,)),)),
        ("Always slip the first stitch of each row.", (tree.RowRule(rule="slip first"),)),
        ("Join at the end.", (tree.EdgeJoin(at="end"),)),
        (
            "Ssk last st with 1 live st of the shawl.",
            (tree.EdgeJoin(edge=tree.Edge(words="shawl", kind="live"), at="here", stitch="ssk", live=True),),
        ),
        (
            "Knit last st together with next st of edge.",
            (tree.EdgeJoin(edge=tree.Edge(words="edge"), at="here", stitch="k2tog"),),
        ),
        ("Double knit 46.", (tree.InGround(ground="double knitting", count=n(46)),)),
        ("Reduce to 40 stitches.", (tree.Evenly(total=n(40)),)),
        ("9 stitches to a pattern.", (tree.Stated(kind="repeat", parts=(n(9),)),)),
        ("Cast on in eights.", (tree.CastOn(multiple=n(8)),)),
        ("Purl the entire next row.", (tree.WorkRows(body=(PURLED,), rows=n(1), unit=tree.Unit.ROW),)),
        (
            "Put the first 18 stitches on a safety-pin.",
            (tree.Hold(count=n(18), place="safety pin", of="first"),),
        ),
    ],
)
def test_an_old_sentence_says(words, actions):
    assert bare(old(words).actions) == bare(actions)


@pytest.mark.parametrize(
    "words",
    [
        "Row 1: Slip the first stitch, knit 2.",
        "Row 1: Knit the last 2 sts together.",
        "Rnd 1: Knit around.",
        "Row 1: (K1, yo) twice, k2.",
        "Row 1: K2, (the next stitch, k1) twice.",
    ],
)
def test_a_row_is_not_taken_for_a_rule(words):
    kinds = {type(x).__name__ for x in tree.walk(old(words).actions)}
    assert not kinds & {"RowRule", "EdgeJoin", "WorkRows"}


@pytest.mark.parametrize(
    "words", ["Seam 2, knit 2, all round.", "Take off the 17 stitches, knit 2.", "Slip 1, seam to the end."]
)
def test_old_words_that_once_read_as_something_else(words):
    nodes = list(tree.walk(old(words).actions))
    assert not [n for n in nodes if isinstance(n, tree.Close | tree.Unread | tree.Note)]
