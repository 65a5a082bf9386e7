"""A drawing as a picture of its own: size, ink, words, and what a reader of the PDF is told."""

import io

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from purlwright.drawing import Drawing, Ink, Rect, Text
from purlwright.sheet.out.pictures import to_picture_pdf, to_png

SQUARE = Rect(x_mm=5, y_mm=5, width_mm=10, height_mm=10, ink=Ink(fill="#c00000", stroke="none"))


def drawn(*shapes, wide=30.0, high=20.0):
    return Drawing(width_mm=wide, height_mm=high, shapes=shapes)


def opened(png):
    return Image.open(io.BytesIO(png)).convert("RGB")


def test_a_picture_has_the_pixels_asked_for():
    picture = opened(to_png(drawn(SQUARE), 8))
    assert picture.size == (240, 160)
    assert picture.getpixel((80, 80)) == (192, 0, 0)
    assert picture.getpixel((8, 8)) == (255, 255, 255)


def test_words_are_drawn_in_the_faces_of_the_package_whatever_they_are():
    def inked(words):
        picture = opened(to_png(drawn(Text(x_mm=2, y_mm=12, words=words, size_mm=6))))
        return int((np.asarray(picture) < 250).any(axis=2).sum())

    blank = inked(" ")
    assert all(inked(words) > blank + 100 for words in ("Row", "½", "שלום", "🧶", "毛", "<&>"))


def test_the_smallest_picture():
    assert opened(to_png(drawn(wide=1, high=1), 1)).size == (1, 1)


@pytest.mark.parametrize("pixels_per_mm", [8, 10])
@pytest.mark.parametrize(("wide", "high"), [(225.52, 91.42), (40.33, 60.77), (100, 100)])
def test_no_line_of_dots_is_left_out_or_shown_twice(wide, high, pixels_per_mm):
    # Bars of whole dots are equally high all the way down, and equally wide all the way across.
    ink = Ink(fill="#000", stroke="none")
    down = tuple(Rect(x_mm=5, y_mm=y, width_mm=20, height_mm=0.5, ink=ink) for y in range(8, int(high) - 2))
    across = tuple(Rect(x_mm=x, y_mm=2, width_mm=0.5, height_mm=4, ink=ink) for x in range(2, int(wide) - 2))
    dots = np.asarray(opened(to_png(drawn(*down, *across, wide=wide, high=high), pixels_per_mm)))[:, :, 0]
    for line, bars in ((dots[:, 15 * pixels_per_mm], len(down)), (dots[4 * pixels_per_mm], len(across))):
        bar = [255] * (pixels_per_mm // 2) + [0] * (pixels_per_mm // 2)
        assert (255 - line.astype(int)).sum() >= bars * 255 * pixels_per_mm // 2
        assert "".join(map(chr, bar * (bars - 1))) in "".join(map(chr, line.tolist()))


@pytest.mark.parametrize("pixels_per_mm", [0, -1, 1000])
def test_a_picture_of_no_size_or_a_monstrous_one_is_refused(pixels_per_mm):
    with pytest.raises(ValueError, match="150,000,000 pixels"):
        to_png(drawn(SQUARE), pixels_per_mm)


def test_a_page_of_its_own_size_with_its_title_and_alternative():
    words = Text(x_mm=2, y_mm=18, words="Row 1 # $x$ שלום", size_mm=3)
    raw = to_picture_pdf(drawn(SQUARE, words), "A #chart <b>", "A red square.", language="en-GB")
    pdf = PdfReader(io.BytesIO(raw))
    page, root = pdf.pages[0], pdf.trailer["/Root"]
    assert [round(float(side) / 72 * 25.4, 1) for side in page.mediabox[2:]] == [30, 20]
    assert pdf.metadata.title == "A #chart <b>"
    assert "/CreationDate" not in pdf.metadata
    assert root["/Lang"] == "en-GB"
    assert b"A red square." in b"".join(
        str(o.get_object().get("/Alt", "")).encode() for o in objects(pdf) if "/Alt" in o.get_object()
    )
    assert "Row 1 # $x$" in page.extract_text()


def objects(pdf):
    """Every element of the tag tree."""
    held = [pdf.trailer["/Root"]["/StructTreeRoot"]]
    while held:
        item = held.pop().get_object()
        if not isinstance(item, dict):
            continue
        yield item
        kids = item.get("/K", [])
        kids = kids.get_object() if hasattr(kids, "get_object") else kids
        held += [k for k in (kids if isinstance(kids, list) else [kids]) if not isinstance(k, int)]


def test_the_same_drawing_gives_the_same_bytes():
    assert to_picture_pdf(drawn(SQUARE), "A") == to_picture_pdf(drawn(SQUARE), "A")
    assert to_png(drawn(SQUARE)) == to_png(drawn(SQUARE))
