"""The print of a sheet: a tagged PDF (PDF/UA-1) on A4 or Letter, or in large print.

In: a document. Out: the bytes of a PDF, the same for the same document whenever and wherever it is made. How
it looks is written in ``sheet.typ``, how a block becomes plain values in ``setting``. They are handed over as
data and never as Typst's own language, so that whatever she writes is printed as it stands.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal, TypeAlias, cast

from purlwright.sheet.document import Document, Photo
from purlwright.sheet.out.faces import typst_fonts
from purlwright.sheet.out.setting import Setter

__all__ = ["Paper", "UnusablePicture", "letters_missing", "print_files", "to_pages", "to_pdf"]

Paper: TypeAlias = Literal["a4", "letter"]


class UnusablePicture(ValueError):  # noqa: N818 - it is her file that cannot be used, not a fault
    """A picture of hers is no JPEG or PNG, or cannot be read as one. The message names it."""


def to_pdf(document: Document, paper: Paper = "a4", large: bool = False) -> bytes:
    """The sheet as a PDF that demands PDF/UA-1 of the typesetter: tagged, with language, title, alternatives.

    large : set in large print: 22 point, one column, black, left-aligned, margins of an inch.

    Raises UnusablePicture for a picture of hers that cannot be read.
    """
    import typst  # loads a compiler; only a print needs it

    files = print_files(document, paper, large=large)
    try:
        return _set(files, pdf_standards=["ua-1"])
    except typst.TypstError:
        for photo in document.blocks:
            if isinstance(photo, Photo):
                _try_picture(photo)
        raise


def to_pages(
    document: Document, paper: Paper = "a4", large: bool = False, *, pixels_per_mm: float = 4
) -> tuple[bytes, ...]:
    """The same pages as pictures, a PNG each. 4 pixels to a mm is about 100 to the inch."""
    files = print_files(document, paper, large=large)
    made = cast("bytes | list[bytes]", _set(files, format="png", ppi=pixels_per_mm * 25.4))
    return (made,) if isinstance(made, bytes) else tuple(made)


def letters_missing(document: Document) -> tuple[str, ...]:
    """The letters of the sheet that no face of the package has; the print shows a box for each."""
    setter = Setter("a4", large=False)
    setter.whole(document)
    return tuple(setter.lost)


def print_files(document: Document, paper: Paper, *, large: bool) -> dict[str, bytes]:
    """What the typesetter is given: the template, the data, and the pictures, each under its name."""
    if paper not in {"a4", "letter"}:
        raise ValueError(f'the paper is "a4" or "letter", not {paper!r}')
    setter = Setter(paper, large=large)
    data = setter.whole(document)
    return {"main.typ": _template(), "data.json": json.dumps(data).encode(), **setter.files}


@cache
def _template() -> bytes:
    return (resources.files("purlwright.sheet.out") / "sheet.typ").read_bytes()


def _set(files: Mapping[str, bytes], **how: Any) -> bytes:
    """Have it set. Photographs are handed over in a folder of their own, which is gone afterwards: the
    typesetter takes text from memory, but other bytes only from files.
    """
    import typst

    if not any(name.startswith("photo") for name in files):
        return cast("bytes", typst.compile(cast("Any", dict(files)), font_paths=typst_fonts(), **how))
    with TemporaryDirectory(prefix="purlwright-") as folder:
        for name, data in files.items():
            (Path(folder) / name).write_bytes(data)
        return cast("bytes", typst.compile(Path(folder) / "main.typ", font_paths=typst_fonts(), **how))


def _try_picture(photo: Photo) -> None:
    """Tell a picture that the typesetter cannot read by its name."""
    import typst

    try:
        _set({"main.typ": b'#image("photo")', "photo": photo.data}, format="svg")
    except typst.TypstError as e:
        raise UnusablePicture(
            f'The picture "{photo.name}" cannot be read; open it and save it again as JPEG or PNG.'
        ) from e
