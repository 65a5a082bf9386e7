"""Drawings and their SVG, read back with Python's own XML reader."""

import re
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.drawing import (
    Circle,
    Drawing,
    Group,
    Ink,
    Line,
    Polygon,
    Rect,
    Symbol,
    Text,
    Use,
    extent,
    mirrored,
    path,
    placed,
    text_width_mm,
    to_svg,
)
from purlwright.text import Span

SVG = "{http://www.w3.org/2000/svg}"
HOOK = Symbol(name="hook", shapes=(path("M0 4 L2 0 A1 1 0 0 1 4 2"),))
EVERY_SHAPE = (
    Line(x1_mm=1, y1_mm=2, x2_mm=3, y2_mm=4),
    Rect(x_mm=1, y_mm=1, width_mm=5, height_mm=2, round_mm=0.5, ink=Ink(fill="#ddd")),
    Circle(x_mm=4, y_mm=4, radius_mm=1.5),
    Polygon(points_mm=((0, 0), (2, 0), (1, 3))),
    Polygon(points_mm=((0, 0), (2, 0), (1, 3)), closed=False),
    path("M0 0 L1 1 2 0 Q3 3 4 0 C1 1 2 2 3 3 Z"),
    Text(x_mm=2, y_mm=9, words="Row 1", size_mm=3, anchor="end", turn_deg=30),
    Use(symbol=HOOK, x_mm=6, y_mm=1),
    Group(shapes=(Use(symbol=HOOK, x_mm=1, y_mm=1),), x_mm=2, y_mm=3, turn_deg=20),
)


def sheet(*shapes, wide=20, high=10):
    return Drawing(width_mm=wide, height_mm=high, shapes=shapes)


def read(drawing, title="Wedge", description="", **asked):
    return ET.fromstring(to_svg(drawing, title, description, **asked))  # noqa: S314 - our own words


def test_an_empty_drawing_is_a_sheet_with_a_title():
    root = read(sheet())
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("20mm", "10mm", "0 0 20 10")
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == root.find(f"{SVG}title").get("id")
    assert root.find(f"{SVG}title").text == "Wedge"
    assert root.find(f"{SVG}defs") is None


def test_the_description_is_told_to_those_who_hear_the_page():
    root = read(sheet(), description="Four rows.", prefix="a-")
    told = root.find(f"{SVG}desc")
    assert (told.text, told.get("id")) == ("Four rows.", root.get("aria-describedby"))
    assert told.get("id").startswith("a-")


def test_a_symbol_is_written_once_and_used_in_its_places():
    root = read(sheet(*(Use(symbol=HOOK, x_mm=4 * n, y_mm=2) for n in range(3))))
    (symbol,) = root.find(f"{SVG}defs")
    uses = list(root.iter(f"{SVG}use"))
    assert [use.get("href") for use in uses] == [f"#{symbol.get('id')}"] * 3
    assert [use.get("x") for use in uses] == ["0", "4", "8"]


def test_symbols_of_the_same_name_keep_their_own_shapes_and_one_may_use_another():
    other = Symbol(
        name="hook", shapes=(Circle(x_mm=1, y_mm=1, radius_mm=1), Use(symbol=HOOK, x_mm=1, y_mm=0))
    )
    root = read(sheet(Use(symbol=other, x_mm=0, y_mm=0), Use(symbol=HOOK, x_mm=9, y_mm=0)))
    drawn = {g.get("id"): [part.tag for part in g] for g in root.find(f"{SVG}defs")}
    assert sorted(drawn.values()) == [[f"{SVG}circle", f"{SVG}use"], [f"{SVG}path"]]
    wanted = {use.get("href").removeprefix("#") for use in root.iter(f"{SVG}use")}
    assert wanted == set(drawn)


def test_ink_is_written_only_where_it_changes():
    grey = Ink(stroke="#777", width_mm=0.5)
    line = Line(x1_mm=0, y1_mm=0, x2_mm=1, y2_mm=1, ink=grey)
    root = read(sheet(Group(shapes=(line, line), ink=grey), line))
    lines = list(root.iter(f"{SVG}path"))
    assert [p.get("stroke") for p in lines] == [None, None, "#777"]


def test_a_place_in_the_source_is_written_when_asked():
    dot = Circle(x_mm=1, y_mm=1, radius_mm=1, span=Span(3, 9))
    assert "data-" not in to_svg(sheet(dot), "Dot")
    assert next(read(sheet(dot), linked=True).iter(f"{SVG}circle")).get("data-span") == "3-9"


@given(st.text())
def test_any_words_are_printed_and_none_is_executed(words):
    root = read(sheet(Text(x_mm=0, y_mm=5, words=words, size_mm=4)), title=words, description=words)
    shown = re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]", "\ufffd", words)
    shown = shown.replace("\r\n", "\n").replace("\r", "\n")  # as every reader of XML takes them
    assert (next(root.iter(f"{SVG}text")).text or "") == shown
    assert {el.tag.removeprefix(SVG) for el in root.iter()} <= {"svg", "title", "desc", "g", "text"}


@pytest.mark.parametrize("shape", EVERY_SHAPE)
def test_a_mirror_held_up_twice_shows_the_thing_itself(shape):
    drawing = sheet(shape)
    assert to_svg(mirrored(mirrored(drawing)), "A") == to_svg(drawing, "A")
    box, flipped = extent(drawing.shapes), extent(mirrored(drawing).shapes)
    assert flipped == pytest.approx((20 - box[2], box[1], 20 - box[0], box[3]))


def test_an_arc_is_mirrored_with_its_bend():
    (arc,) = mirrored(sheet(path("M0 0 A2 2 0 0 1 4 0"))).shapes
    assert arc.steps == (("M", 20, 0), ("A", 2, 2, 0, 0, 0, 16, 0))


@pytest.mark.parametrize("words", ["", "L1 1", "M1", "M0 0 H4", "M0 0 Z1", "M0 0 Q1 1", "m0 0"])
def test_a_path_that_does_not_come_out_is_refused(words):
    with pytest.raises(ValueError, match=r"takes|begins with M|drawn with"):
        path(words)


def test_the_room_that_shapes_take():
    assert extent(()) is None
    assert extent((Group(shapes=EVERY_SHAPE[:1], x_mm=10, scale=2),)) == (12, 4, 16, 8)
    inner = placed(sheet(Rect(x_mm=1, y_mm=1, width_mm=2, height_mm=2)), 5, 5, scale=0.5)
    assert extent((inner,)) == (5.5, 5.5, 6.5, 6.5)
    assert text_width_mm("", 4) == 0
    assert text_width_mm("ill", 4) < text_width_mm("mmm", 4)
