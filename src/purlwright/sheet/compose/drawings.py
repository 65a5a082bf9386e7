"""The pieces drawn to scale: outline with measures, rows, growth.

In: what is told. Out: figures under a heading of their own, or nothing where no gauge says how large a stitch
is. The drawings and their measures are read off the knitted rows by ``cloth``.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.cloth.pictures import NoPictures, piece_pictures
from purlwright.drawing import mirrored, mirrored_in_place
from purlwright.sheet.compose.finished import SHAPING
from purlwright.sheet.compose.left_handed import mirrored_words
from purlwright.sheet.compose.places import edited
from purlwright.sheet.compose.rows import said
from purlwright.sheet.document import Block, Figure, Heading, Paragraph
from purlwright.units import BY_GAUGE, MM, ROUNDING, Units, lengths_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.sheet.compose.asked import Asked
    from purlwright.sheet.compose.told import Told

__all__ = ["drawings"]

_CAPTIONS = {"outline": "to scale", "rows": "how its rows build it", "growth": "how it grows"}


def drawings(told: Told, asked: Asked) -> Iterator[Block]:
    """Every piece of some length, in the first size of the sheet, with the measures of all its sizes."""
    units = _units(told, asked)
    # A gauge over 10 cm is one over 4 in to who gives all measures in inches.
    more = MM["in"] / BY_GAUGE["in"] if told.in_inches and _over(told) == "cm" else Fraction(1)
    try:
        found = piece_pictures(
            told.pattern,
            told.knitted,
            0,
            lambda mm: lengths_words([float(Fraction(v) * more) for v in mm], units),
        )
    except NoPictures:
        return
    if not found:
        return
    yield Heading(text="The pieces", level=1, anchor="the-pieces")
    gauge = "tension" if told.terms == "UK" else "gauge"
    drawn = f"drawn in size {told.work.sizes[0]}" if len(told.knitted) > 1 else "drawn to scale"
    yield Paragraph(
        words=said(
            f"Each piece is {drawn}, its rows laid straight at the {gauge} above and seen from the right "
            f"side. The measures are reckoned from the stitches and rows that are knitted. {ROUNDING}"
        ),
        hers=False,
    )
    # What stands in space when it is done looks odd as an outline, unless that says what it is.
    laid = any(e.kind in SHAPING for e in told.knitted[0].ledger.entries)
    alone = len({one.piece for one in found}) == 1
    # The outlines first: small ones stand side by side.
    for one in sorted(found, key=lambda one: one.shows != "outline"):
        words = one.picture.words
        if told.left_handed:
            words, _ = edited(words, mirrored_words(words))
        drawing = one.picture.drawing
        if told.left_handed:  # the stages of the growth still follow each other from the left to the right
            drawing = mirrored_in_place(drawing) if one.shows == "growth" else mirrored(drawing)
        yield Figure(
            drawing=drawing,
            alternative=words,
            caption=said(
                _caption(one.shows, "" if alone else one.piece)
                + (", laid straight" if laid and one.shows == "outline" else "")
            ),
            said=(said(words),) if one.shows == "outline" else (),  # the rows are told above
        )


def _caption(shows: str, piece: str) -> str:
    """Says "Sleeve: how it grows"; of the only piece "How it grows"."""
    what = _CAPTIONS[shows]
    return f"{piece}{',' if shows == 'outline' else ':'} {what}" if piece else what[0].upper() + what[1:]


def _units(told: Told, asked: Asked) -> Units:
    """The units that are asked for; else those in which she gives the gauge."""
    if asked.units:
        return asked.units
    return "imperial" if told.in_inches or _over(told) == "in" else "metric"


def _over(told: Told) -> str:
    """The unit of the length that the first gauge is counted over; "" without one."""
    gauges = told.pattern.gauges
    return gauges[0].over.unit if gauges else ""
