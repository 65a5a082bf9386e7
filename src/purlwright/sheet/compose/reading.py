"""How to read the work: the few things in it that tell a knitter where she is, section by section.

In: the told pattern. Out: a heading and one list, nothing where no clue is worth telling. On a sheet for
several sizes only clues stand that are the same in all of them.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.lesson.reading import read_work
from purlwright.sheet.compose.left_handed import mirrored_words
from purlwright.sheet.compose.places import edited
from purlwright.sheet.compose.rows import said
from purlwright.sheet.document import Block, Heading, Items, Paragraph, Run, Words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.lesson.clues.clue import Clue
    from purlwright.sheet.compose.told import Told

__all__ = ["how_to_read"]

_INTRODUCTION = (
    "Each of these was read off the knitted rows and is true of all the rows it is told of. If it is not so "
    "in yours, look at the row just done, then at the one before."
)


def how_to_read(told: Told) -> Iterator[Block]:
    """The clues of each section, the most telling first."""
    first, *others = told.knitted
    lines: list[Words] = []
    for p in read_work(first, others, told.pattern.gauges):
        chosen = [t.clue for t in p.told if t.chosen and (t.every_size or not others)]
        for clue in chosen:
            words = _told(clue)
            if told.left_handed:
                words = edited(words, mirrored_words(words))[0]
            lines.append((Run(f"{p.name}: ", strong=True), Run(words)))
    if lines:
        yield Heading(text="How to read your work", level=1, anchor="how-to-read")
        yield Paragraph(words=said(_INTRODUCTION), hers=False)
        yield Items(items=tuple(lines))


def _told(clue: Clue) -> str:
    """The sentence, and the rows it is told of where those are not all of the part."""
    if clue.rows.startswith("every ") and not clue.stops:
        return clue.words
    both_ends = clue.rows.startswith("from ")  # "from row 2 to row 16" needs no more
    where = f"{clue.rows}; {clue.stops}" if clue.stops and not both_ends else clue.rows
    return f"{clue.words} ({where[:1].upper()}{where[1:]}.)"
