"""A sheet for one who works mirrored: places change hands, stitches and the right side of the fabric do not."""

from pathlib import Path

import pytest

from purlwright.drawing import Group, Text
from purlwright.rewrite.compare import counts_differ
from purlwright.sheet.compose.left_handed import MIRRORED, mirrored_words
from purlwright.sheet.compose.places import edited
from purlwright.sheet.document import Figure, Paragraph, plain
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))


def turned(text):
    return edited(text, mirrored_words(text))[0]


@pytest.mark.parametrize(
    ("hers", "mirrored"),
    [
        ("Left front: work the right edge in garter st.", "Right front: work the left edge in garter st."),
        ("Pick up 3 sts along the left front edge.", "Pick up 3 sts along the right front edge."),
        ("Slip the st to the right needle.", "Slip the st to the left needle."),
        ("Right and left fronts", "Left and right fronts"),
        ("Lift the strand from left to right.", "Lift the strand from right to left."),
        ("The right-hand side is the crown.", "The left-hand side is the crown."),
        ("On the left, work 3.", "On the right, work 3."),
        ("The left side of the neck", "The right-hand side of the neck"),
        (
            "It leans to the left, seen from the right side.",
            "It leans to the right, seen from the right side.",
        ),
    ],
)
def test_places_change_hands(hers, mirrored):
    assert turned(hers) == mirrored


@pytest.mark.parametrize(
    "hers",
    [
        "Row 1 (right side): K to the last 12 sts.",
        "With right side facing, knit.",
        "When 10 sts are left on the needle, turn.",
        "Make 1 left, make 1 right, 2/2 LC.",
        "k until 3 sts are left.",
        "",
    ],
)
def test_stitches_sides_and_what_is_left_over_stay(hers):
    assert turned(hers) == hers


@pytest.mark.parametrize("text", ["left right left-hand right", "LEFT FRONT", "Left edge"])
def test_twice_turned_is_as_it_was(text):
    assert turned(turned(text)) == text


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_it_has_the_same_counts_row_for_row(path):
    work = WorkUp(path.read_text(encoding="utf-8"))
    document = work.sheet(left_handed=True, follow=False)
    assert document.left_handed
    assert any(isinstance(b, Paragraph) and plain(b.words) == MIRRORED for b in document.blocks)
    again = WorkUp(to_text(document))
    for size in work.sizes:
        assert counts_differ(work.knitted(size), again.knitted(size)) == ""


def test_drawings_and_their_words_are_mirrored():
    text = (Path(__file__).resolve().parents[2] / "examples" / "skerry-hat.pattern.md").read_text(
        encoding="utf-8"
    )
    usual, mirrored = (
        next(
            b
            for b in WorkUp(text).sheet(left_handed=left, follow=False).blocks
            if isinstance(b, Figure) and "Outline" in b.alternative
        )
        for left in (False, True)
    )
    assert "46.5 (50, 56.5) cm along the left edge" in usual.alternative
    assert "46.5 (50, 56.5) cm along the right edge" in mirrored.alternative
    assert usual.drawing != mirrored.drawing
    assert usual.drawing.width_mm == mirrored.drawing.width_mm


def _texts(shapes, x=0.0):
    for shape in shapes:
        if isinstance(shape, Text):
            yield shape.words, x + shape.x_mm
        elif isinstance(shape, Group):
            yield from _texts(shape.shapes, x + shape.x_mm)


def test_the_stages_of_the_growth_keep_their_order():
    text = next(path for path in EXAMPLES if "harbour" in path.name).read_text("utf-8")
    found = {}
    for left in (False, True):
        blocks = WorkUp(text).sheet(follow=False, left_handed=left).blocks
        grows = next(b for b in blocks if isinstance(b, Figure) and "grows" in plain(b.caption))
        found[left] = [words for words, _ in sorted(_texts(grows.drawing.shapes), key=lambda t: t[1])]
        heel = grows.drawing.shapes[0].shapes[2]
        found[left, "drawn"] = heel.shapes[0]
    assert found[True] == found[False]
    assert found[True][0] == "after Cuff"
    assert found[True, "drawn"] != found[False, "drawn"]  # each stage is a mirror of its own
