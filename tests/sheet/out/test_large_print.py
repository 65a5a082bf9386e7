"""Large print keeps what it says of itself; and the inks of the other print can be read by everyone."""

import io
import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from purlwright.sheet.document import Heading, Row
from purlwright.sheet.out import pdf
from purlwright.sheet.out.pdf import to_pages, to_pdf
from sheets import every_block, of, rows, w
from tagged_pdf import opened

TEMPLATE = (Path(pdf.__file__).parent / "sheet.typ").read_text(encoding="utf-8")


def test_letters_are_of_22_points_or_more_and_upright():
    read = opened(to_pdf(of(Heading(text="Body", level=1), *rows(9), *every_block().blocks[:16]), large=True))
    assert min(size for page in read.places for _, _, size in page) >= 22 - 0.01
    fonts = {
        str(font.get_object()["/BaseFont"])
        for page in read.reader.pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert {name for name in fonts if "Italic" in name or "Fraunces" in name} == set()


def test_everything_is_black_on_white():
    for page in to_pages(every_block(), large=True, pixels_per_mm=2):
        pixels = np.asarray(Image.open(io.BytesIO(page)).convert("RGB")).astype(int)
        assert int(np.ptp(pixels, axis=2).max()) == 0


def test_the_page_number_stands_at_the_left():
    read = opened(to_pdf(every_block(), large=True))
    for n, page in enumerate(read.pages, 1):
        assert f"page {n} of {len(read.pages)}" in page


def test_it_says_what_it_keeps_and_owns_up_to_what_it_does_not():
    short = opened(to_pdf(of(*rows(3)), large=True)).document.said
    assert "Letters of 22 points or more" in short
    assert "No row goes over to the next page." in short
    assert "Pictures keep" not in short
    long = of(Row(label="Row 1", words=w("K1, p1, " * 200)))
    assert (
        "Only a row too long for a page goes over to the next."
        in opened(to_pdf(long, large=True)).document.said
    )
    assert "Pictures keep" in opened(to_pdf(every_block(), large=True)).document.said
    assert "22 points" not in opened(to_pdf(of(*rows(3)))).document.said


def light(ink: str) -> float:
    """Relative luminance, as WCAG 2.2 defines it."""
    parts = [int(ink[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    red, green, blue = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("name", ["ink", "quiet", "accent"])
def test_every_ink_that_words_are_set_in_can_be_read(name):
    (ink,) = re.findall(rf'#let {name} = if large {{ black }} else {{ rgb\("(#\w+)"\) }}', TEMPLATE)
    assert 1.05 / (light(ink) + 0.05) >= 7
