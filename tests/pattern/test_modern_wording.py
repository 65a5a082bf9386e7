"""Patterns in the manner of designers of today: how many lines are read word for word, and what is knitted.

The patterns in ``data/modern-*.txt`` are invented: hats, socks, mitts, shawls, jumpers, cloths, cables, lace, brioche,
slipped colours, a toy and odd pieces, each in another designer's habits.
"""

import re
from pathlib import Path

import pytest

from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.text import Source
from purlwright.workup import work_up

DATA = Path(__file__).parent / "data"
FILES = sorted(DATA.glob("modern-*.txt"))
WORKS = re.compile(
    r"\b(?:k|p|sl|yo|knit|purl|slip|sts?|stitch(?:es)?|cast|bind|bo|co|rows?|rnds?|rounds?|rep|repeat|inc|dec|turn|graft)\b",
    re.IGNORECASE,
)
"""A word of the row itself: a note that holds one may be an instruction nobody read."""
KNITTED = ["brioche", "hat", "lace", "mosaic"]
"""Patterns that are knitted from first to last without an error."""


def lines():
    for path in FILES:
        for section in read_pattern(Source(path.read_text(encoding="utf-8"))).sections:
            yield from section.lines


def is_read(line):
    nodes = list(tree.walk(line.actions))
    notes = [x.words for x in nodes if isinstance(x, tree.Note)]
    return not any(isinstance(x, tree.Unread) for x in nodes) and not any(WORKS.search(w) for w in notes)


@pytest.mark.parametrize(("labelled", "least"), [(True, 0.97), (False, 0.88)])
def test_most_lines_are_read_word_for_word(labelled, least):
    told = [x for x in lines() if (x.label is not None) == labelled and WORKS.search(x.text)]
    left = [x.text for x in told if not is_read(x)]
    assert len(told) >= 100
    assert len(left) <= (1 - least) * len(told), "\n".join(left)


@pytest.mark.parametrize("name", KNITTED)
def test_is_knitted_without_an_error(name):
    text = (DATA / f"modern-{name}.txt").read_text(encoding="utf-8")
    assert work_up(text).proved().errors == 0


def test_needles_and_a_yarn_are_both_read_before_a_cast_on():
    text = "# Mitten\nYarn: MC, wool\nYarn: CC, wool\n\nWith the smaller needles and MC cast on 8 sts.\nKnit 2 rows.\n"
    fabric = work_up(text).knitted().fabric
    assert {fabric.yarns[n] for n in fabric.yarn_of_stitch.tolist()} == {"MC"}


def test_the_working_yarn_is_that_of_the_piece_after_waste_yarn():
    text = (
        "# Mitten\nYarn: MC, wool\n\nWith MC cast on 8 sts.\n"
        "Row 1: K2, with waste yarn k4, slip these 4 sts back to the left needle, with the working yarn k to end.\n"
    )
    fabric = work_up(text).knitted().fabric
    names = [fabric.yarns[n] for n in fabric.yarn_of_stitch.tolist()]
    assert names == ["MC"] * 10 + ["waste yarn"] * 4 + ["MC"] * 6
