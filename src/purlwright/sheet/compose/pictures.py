"""Her own pictures, each with the words that say what it shows.

In: the header's ``Picture: mat.jpg | what it shows`` lines, and the bytes of the files. Out: blocks. Of a
picture that was not given only the words stay, as a paragraph.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from purlwright.sheet.compose.rows import said, squeezed
from purlwright.sheet.document import Block, Paragraph, Photo

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from purlwright.pattern.header import Header
    from purlwright.sheet.compose.told import Told
    from purlwright.text import Span

__all__ = ["Named", "named", "pictures"]


class Named(NamedTuple):
    """A picture that a header names: its file, what it shows ("" if that is not said), and where."""

    file: str
    shows: str
    span: Span


def named(header: Header) -> tuple[Named, ...]:
    """FILE ("|" WORDS)?: every picture that is named."""
    out = []
    for entry in header.entries:
        if entry.known == "Picture" and entry.value.strip():
            file, _, shows = entry.value.partition("|")
            out.append(Named(file.strip(), squeezed(shows), entry.value_span))
    return tuple(out)


def pictures(told: Told, given: Mapping[str, bytes]) -> Iterator[Block]:
    """Each picture once."""
    seen: set[str] = set()
    for picture in named(told.pattern.header):
        if picture.file in seen:
            continue
        seen.add(picture.file)
        span = told.places.hers(picture.span)
        data = given.get(picture.file)
        if data is not None:
            alternative = picture.shows or told.pattern.title
            yield Photo(name=picture.file, data=data, alternative=alternative, span=span)
        elif picture.shows:
            yield Paragraph(words=said(f"In the picture: {picture.shows}"), span=span)
