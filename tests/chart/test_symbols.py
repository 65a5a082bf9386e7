"""The signs: each has a source, every mark of the dictionary can be drawn, and no two look alike at 4 mm."""

import io
from itertools import combinations

import numpy as np
import pytest
from PIL import Image

from purlwright.chart.symbols import LINE, known_signs, sign
from purlwright.drawing import Drawing, Group, Ink, Rect, extent, to_svg
from purlwright.stitches.load import dictionary

CROSSINGS = [
    f"cross-{sizes}-{side}{purl}"
    for sizes in ("1-1", "2-1", "1-2", "2-2", "3-3", "4-4", "2-1-2", "1-1-1")
    for side in ("right", "left")
    for purl in ("", "-purl", "-all-purl")
]
BY_NUMBER = [f"{purl}{n}-{how}" for n in ("four", "five", "six", "ten") for how in ("right", "left", "left-twisted", "left-passed", "centre") for purl in ("", "purl-")]  # fmt: skip
DICTIONARY = [s.chart for s in dictionary().stitches.values() if s.chart]
EVERY = list(dict.fromkeys([*known_signs(), *DICTIONARY, *CROSSINGS, *BY_NUMBER]))
SQUARE_MM, DOTS = 4, 20
LEAST = 0.03
"""The part of a square in which two signs must differ: twelve dots of four hundred."""


@pytest.fixture(scope="module")
def pictures():
    """Each sign as printed at 4 mm, five dots a millimetre, its square's outline left out."""
    import typst

    across = 12
    groups, at = [], {}
    for n, name in enumerate(EVERY):
        x, y = n % 4 * across, n // 4
        at[name] = (x, y)
        found = sign(name)
        shade = (Rect(x_mm=0, y_mm=0, width_mm=1, height_mm=1, ink=Ink(fill="#bbb")),) if found.shade else ()
        groups.append(
            Group(shapes=(*shade, *found.shapes), x_mm=x * SQUARE_MM, y_mm=y * SQUARE_MM, scale=SQUARE_MM)
        )
    wide, high = 4 * across * SQUARE_MM, (len(EVERY) // 4 + 1) * SQUARE_MM
    drawing = Drawing(
        width_mm=wide, height_mm=high, shapes=(Group(shapes=tuple(groups), ink=Ink(width_mm=LINE)),)
    )
    page = b"#set page(width: auto, height: auto, margin: 0pt)\n#image(bytes(sys.inputs.svg))"
    png = typst.compile(
        page, format="png", ppi=25.4 * DOTS / SQUARE_MM, sys_inputs={"svg": to_svg(drawing, "Signs")}
    )
    whole = np.asarray(Image.open(io.BytesIO(png)).convert("L"), float) / 255
    return {
        name: whole[y * DOTS : (y + 1) * DOTS, x * DOTS : (x + sign(name).squares) * DOTS]
        for name, (x, y) in at.items()
    }


@pytest.mark.parametrize("name", EVERY)
def test_every_mark_can_be_drawn_and_stays_in_its_squares(name):
    found = sign(name)
    assert found.status in {"confirmed", "recalled", "own"}
    assert found.source
    box = extent(found.shapes)
    if box is not None:
        assert 0 <= box[0] <= box[2] <= found.squares
        assert 0 <= box[1] <= box[3] <= 1


def test_a_mark_that_nobody_knows_has_no_sign():
    assert sign("no such mark") is None


def test_no_two_signs_look_alike_at_four_millimetres(pictures):
    alike = [
        (a, b)
        for a, b in combinations(EVERY, 2)
        if sign(a).squares == sign(b).squares
        and np.abs(pictures[a] - pictures[b]).sum() < LEAST * DOTS * DOTS
    ]
    assert alike == []


def test_only_the_knit_square_is_empty(pictures):
    assert [name for name, picture in pictures.items() if picture.mean() > 0.985] == ["knit"]


def test_signs_differ_in_darkness_too(pictures):
    ink = {name: 1 - picture.mean() for name, picture in pictures.items() if sign(name).squares == 1}
    assert ink["knit"] < ink["purl"] < ink["over"] < ink["bobble-small"] < ink["bobble"]
    assert ink["two-right"] < ink["purl-two-right"] < ink["purl-three-right"]


@pytest.mark.parametrize(
    ("left", "right"),
    [
        ("two-left", "two-right"),
        ("cross-2-2-left", "cross-2-2-right"),
        ("cross-2-1-left-purl", "cross-2-1-right-purl"),
    ],
)
def test_what_leans_to_the_left_mirrors_what_leans_to_the_right(pictures, left, right):
    assert np.abs(pictures[left] - pictures[right][:, ::-1]).mean() < 0.02
