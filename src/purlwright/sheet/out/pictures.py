"""One drawing as a picture of its own: PNG for a page or a message, PDF for a printer.

In: a drawing, in millimetres. Out: bytes, the same for the same drawing on every machine. The words in it are
set in the faces of the package.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from html import escape, unescape
from math import ceil
from typing import Any, cast

from purlwright.drawing import Drawing, Group, to_svg
from purlwright.sheet.out.faces import TEXT_FACES, in_face, spoken, typst_fonts

__all__ = ["svg_for_print", "to_pages_pdf", "to_picture_pdf", "to_png"]

MOST_PIXELS = 150_000_000
"""About 12,000 by 12,000; a larger picture is no use and takes the memory of a small machine."""

_TRIFLE = 0.01
"""So much of a dot is taken off where whole dots would be rounded up to one more."""

_PICTURE = b"""#let d = json("data.json")
#set document(title: d.title, date: none)
#set page(width: auto, height: auto, margin: 0pt)
#set text(lang: d.language, region: d.region)
#image("drawing.svg", alt: d.alternative, width: d.width * 1mm, height: d.height * 1mm)
"""
_PAGES = b"""#let d = json("data.json")
#set document(title: d.title, keywords: "Purlwright", date: none)
#set text(lang: d.language, region: d.region)
#for p in d.pages {
  set page(width: p.width * 1mm, height: p.height * 1mm, margin: 0pt)
  image(p.file, alt: p.alternative, width: p.width * 1mm, height: p.height * 1mm)
}
"""
_WORDS = re.compile(r"(<text\b[^>]*>)([^<]*)(</text>)")
_NAMES = re.compile(r"(<(title|desc)\b[^>]*>)[^<]*(</\2>)")


def to_png(drawing: Drawing, pixels_per_mm: float = 10) -> bytes:
    """The drawing on white paper, as PNG. 10 pixels to a mm is 254 to the inch.

    Raises ValueError when it would have more than 150 million pixels.
    """
    pixels = drawing.width_mm * pixels_per_mm * drawing.height_mm * pixels_per_mm
    if pixels_per_mm <= 0 or not 0 < pixels <= MOST_PIXELS:
        size = f"{drawing.width_mm:g} x {drawing.height_mm:g} mm at {pixels_per_mm:g} to the mm"
        raise ValueError(f"a picture has from 1 to {MOST_PIXELS:,} pixels; {size} has not")
    whole = _in_whole_dots(drawing, pixels_per_mm)
    return _set(whole, "", "", "en", less_mm=2 * _TRIFLE, format="png", ppi=25.4)


def _in_whole_dots(drawing: Drawing, pixels_per_mm: float) -> Drawing:
    """The drawing with a millimetre for each dot, on paper of whole dots.

    Where its dots come out as a broken number, the typesetter stretches the picture to whole ones and leaves
    out lines of dots, which cuts small letters.
    """
    wide, high = ceil(drawing.width_mm * pixels_per_mm), ceil(drawing.height_mm * pixels_per_mm)
    shapes = (Group(shapes=drawing.shapes, scale=pixels_per_mm),)
    return Drawing(width_mm=wide, height_mm=high - _TRIFLE, shapes=shapes)


def to_picture_pdf(drawing: Drawing, title: str, description: str = "", *, language: str = "en") -> bytes:
    """The drawing as a PDF page of its own size, tagged (PDF/UA-1): its title, and what it shows in words."""
    return _set(drawing, title, description, language, format="pdf", pdf_standards=["ua-1"])


def to_pages_pdf(
    pages: Sequence[Drawing], title: str, descriptions: Sequence[str], *, language: str = "en"
) -> bytes:
    """Drawings as one PDF, each on a page of its own size, tagged (PDF/UA-1); ``descriptions`` says what each
    shows. Raises ValueError for no pages.
    """
    import typst  # loads a compiler; only a picture needs it

    if not pages:
        raise ValueError("a PDF has at least one page")
    said, region = spoken(language)
    files: dict[str, bytes] = {"main.typ": _PAGES}
    data = {"title": title.strip() or "Drawing", "language": said, "region": region, "pages": [
        {
            "file": f"page-{n}.svg", "width": page.width_mm, "height": page.height_mm,
            "alternative": told.strip() or title.strip() or "Drawing",
        }
        for n, (page, told) in enumerate(zip(pages, descriptions, strict=True))
    ]}  # fmt: skip
    files["data.json"] = json.dumps(data).encode()
    for n, page in enumerate(pages):
        files[f"page-{n}.svg"] = svg_for_print(page).encode()
    how: dict[str, Any] = {"format": "pdf", "pdf_standards": ["ua-1"]}
    return cast("bytes", typst.compile(cast("Any", files), font_paths=typst_fonts(), **how))


def svg_for_print(drawing: Drawing) -> str:
    """The drawing as SVG in which each stretch of words names the face that has its letters.

    A typesetter that finds no letter in the first face does not always look in the others.
    """
    first = next(iter(TEXT_FACES))

    def faced(found: re.Match[str]) -> str:
        words = unescape(found[2])
        if words.isascii():
            return found[0]
        parts = [
            escape(part) if face == first else f'<tspan font-family="{face}">{escape(part)}</tspan>'
            for part, face in in_face(words)
        ]
        return f"{found[1]}{''.join(parts)}{found[3]}"

    return _NAMES.sub(r"\1\3", _WORDS.sub(faced, to_svg(drawing, "")))


def _set(
    drawing: Drawing, title: str, description: str, language: str, *, less_mm: float = 0, **how: Any
) -> bytes:
    """The drawing on a page of its own size, or by ``less_mm`` smaller."""
    import typst  # loads a compiler; only a picture needs it

    said, region = spoken(language)
    data = {
        "title": title.strip() or "Drawing",
        "alternative": description.strip() or title.strip() or "Drawing",
        "language": said,
        "region": region,
        "width": drawing.width_mm - less_mm,
        "height": drawing.height_mm - less_mm,
    }
    files = {
        "main.typ": _PICTURE,
        "data.json": json.dumps(data).encode(),
        "drawing.svg": svg_for_print(drawing).encode(),
    }
    return cast("bytes", typst.compile(cast("Any", files), font_paths=typst_fonts(), **how))
