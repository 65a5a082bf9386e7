"""The script that draws what a terminal shows: every piece in its column, nothing stretched, every ink legible."""

import importlib.util
import re
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

SCRIPT = Path(__file__).resolve().parents[2] / "scripts" / "picture.py"
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def picture():
    spec = importlib.util.spec_from_file_location("picture", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    sys.modules["picture"] = module
    spec.loader.exec_module(module)
    return module


def read(svg: str) -> ET.Element:
    return ET.fromstring(svg)  # noqa: S314 - our own picture, made a moment ago


def texts(svg: str) -> list[ET.Element]:
    """The pieces of text under the strip."""
    return list(read(svg).iter(f"{SVG}text"))[1:]


def column(picture, element: ET.Element) -> int:
    return round((float(element.get("x").split()[0]) - picture.MARGIN) / picture.WIDE)


def light(ink: str) -> float:
    """Relative luminance, as WCAG 2.2 defines it."""
    parts = [int(ink[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    red, green, blue = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_each_piece_stands_in_its_own_column(picture):
    found = texts(picture.drawn("  row   side\n    \x1b[1m36\x1b[0m  +6 ", "purlwright", 40))
    assert [(column(picture, e), e.text) for e in found] == [(2, "row"), (8, "side"), (4, "36"), (8, "+6")]
    assert found[2].get("font-weight") == "bold"


def test_nothing_is_stretched_and_no_blank_is_drawn(picture):
    svg = picture.drawn("  a   \x1b[2m   \x1b[0m\n\n b", "purlwright", 40)
    assert "textLength" not in svg
    assert [e.text for e in texts(svg)] == ["a", "b"]


def test_marks_under_words_keep_to_the_letters_above(picture):
    marks, said = texts(picture.drawn("ab^^ cd\n   ^^^ uses 20", "purlwright", 40))[1:]
    assert marks.text == "^^^"
    assert len(marks.get("x").split()) == 3
    assert (column(picture, marks), column(picture, said)) == (3, 7)


def test_a_rule_is_a_line(picture):
    svg = picture.drawn("── Wedge ───", "purlwright", 40)
    assert [e.text for e in texts(svg)] == ["Wedge"]
    assert svg.count("stroke-opacity") == 2


def test_words_are_escaped_and_the_picture_has_a_title(picture):
    root = read(picture.drawn("w&t <12>", "purlwright proof a&b", 40))
    assert root.find(f"{SVG}title").text == "What purlwright proof a&b prints"
    assert [e.text for e in root.iter(f"{SVG}text")] == ["purlwright proof a&b", "w&t <12>"]


def test_colours_end_where_they_end(picture):
    a, b, c = texts(picture.drawn("\x1b[1;31mRow 5\x1b[0m:  uses\n20", "purlwright", 40))[0:3]
    assert a.get("fill") == picture.INK["31"]
    assert (a.get("font-weight"), b.get("font-weight"), b.get("fill"), c.get("fill")) == (
        "bold",
        None,
        None,
        None,
    )


def test_every_ink_is_legible_on_the_paper(picture):
    paper = light(picture.PAPER)
    low = {
        ink
        for ink in [*picture.INK.values(), picture.TEXT, picture.FAINT]
        if (paper + 0.05) / (light(ink) + 0.05) < 4.5
    }
    assert low == set()
    assert (light(picture.STRIP) + 0.05) / (light(picture.TEXT) + 0.05) >= 4.5


@pytest.mark.parametrize(
    ("first", "last", "kept"),
    [
        (None, None, "1 2 3 4"),
        (1, None, "1 …"),
        (None, 1, "… 4"),
        (1, 1, "1 … 4"),
        (2, 2, "1 2 3 4"),
        (9, 9, "1 2 3 4"),
    ],
)
def test_an_ellipsis_stands_for_lines_left_out(picture, first, last, kept):
    part = picture.part("1\n2\n3\n4\n", first, last)
    assert re.sub(r"\x1b\[\dm", "", part).split("\n") == kept.split()


def test_the_empty_picture_is_a_picture(picture):
    assert texts(picture.drawn("", "purlwright", 40)) == []
