"""The whole sheet, in the order in which a knitter needs it.

In: a pattern and what is asked. Out: a :class:`Document`: title, what it is, skills, sizes, materials, notes,
abbreviations, the instructions, cautions, and whom to ask; and the rows one by one for each size.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.findings import Severity
from purlwright.sheet.compose.asked import HasErrors
from purlwright.sheet.compose.cautions import cautions
from purlwright.sheet.compose.drawings import drawings
from purlwright.sheet.compose.finished import finished, yarn_alone, yarn_by_size
from purlwright.sheet.compose.follow import follow
from purlwright.sheet.compose.front import DATES, closing, description, materials, sizes
from purlwright.sheet.compose.glossary import glossary
from purlwright.sheet.compose.instructions import instructions, introduction, notes
from purlwright.sheet.compose.links import with_links
from purlwright.sheet.compose.markers import marker_plan
from purlwright.sheet.compose.pictures import pictures
from purlwright.sheet.compose.reading import how_to_read
from purlwright.sheet.compose.rows import said
from purlwright.sheet.compose.skills import skills
from purlwright.sheet.compose.told import tell
from purlwright.sheet.compose.worked import Worked
from purlwright.sheet.document import (
    Block,
    Document,
    Heading,
    Items,
    Note,
    Paragraph,
    Row,
    Stamp,
    plain,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from purlwright.sheet.compose.asked import Again, Asked, Work
    from purlwright.sheet.compose.told import Told

__all__ = ["compose"]


def compose(work: Work, asked: Asked, again: Again) -> Document:
    """The sheet that is asked for.

    again : reads another text, so that the sheet's own words are knitted beside hers.
    Raises NoSheet where the pattern has errors (unless ``asked.unproved``), or cannot be told as asked.
    """
    errors = sum(
        f.severity is Severity.ERROR
        for size in (work.sizes if asked.size is None else (asked.size,))
        for f in work.findings(size, dict(asked.options))
    )
    if errors and not asked.unproved:
        raise HasErrors(
            "The pattern has errors, which a sheet would pass on to a knitter; correct what proof finds."
        )
    told = tell(work, asked, again)
    worked = Worked(told)
    rows = list(instructions(worked, told.terms, drawn_too=asked.drawn))
    before = notes(worked)
    reckoned = asked.drawn and not errors
    blocks = [
        *description(told),
        *introduction(worked),
        *(finished(told, asked) if asked.cloth and not errors else ()),
        *_head(told, asked, errors),
        *pictures(told, asked.pictures),
        *_skills(told),
        *sizes(
            told, yarn_by_size(told, asked, work.pattern.header) if reckoned and len(told.knitted) > 1 else ()
        ),
        *materials(told),
        *(yarn_alone(told, asked, work.pattern.header) if reckoned else ()),
        *marker_plan(told),
        *_notes(before),
        *glossary(told, _printed(introduction(worked), before, rows), told.terms),
        *rows,
        *(drawings(told, asked) if asked.drawn else ()),
        *(how_to_read(told) if asked.drawn else ()),
        *cautions(told),
        *closing(told),
    ]
    names = work.sizes if asked.size is None else (asked.size,)
    return Document(
        title=told.pattern.title or "A pattern without a title",
        title_span=told.places.hers(told.pattern.title_span),
        stamp=_stamp(told, asked),
        blocks=with_links(blocks),
        follow=follow(worked, names, asked.options) if asked.follow else (),
        left_handed=asked.left_handed,
        language="en-GB" if told.terms == "UK" else "en-US",
    )


def _head(told: Told, asked: Asked, errors: int) -> Iterator[Block]:
    if errors:
        yield Paragraph(
            words=said(
                "This sheet is not proved: the pattern has errors, and its numbers do not all come out."
            ),
            hers=False,
        )
    chosen = [f"{value} {name}" for name, value in asked.options]
    for_whom = f"size {asked.size}" if asked.size is not None and len(told.knitted) == 1 else ""
    about = ", ".join(x for x in (for_whom, " and ".join(chosen)) if x)
    if about:
        yield Paragraph(words=said(f"This sheet is for {about} only."), hers=False)
    for sentence in told.kept:
        yield Paragraph(words=said(sentence), hers=False)


def _skills(told: Told) -> Iterator[Block]:
    lines = skills(told)
    if lines:
        yield Heading(text="Skills", level=1, anchor="skills")
        yield Items(items=tuple(said(line[0].upper() + line[1:]) for line in lines))


def _notes(before: list[Block]) -> Iterator[Block]:
    if before:
        yield Heading(text="Notes", level=1, anchor="notes")
        yield from before


def _printed(*blocks: Iterable[Block]) -> str:
    """The words in which abbreviations are looked for."""
    out: list[str] = []
    for some in blocks:
        for block in some:
            if isinstance(block, Row):
                side = f"({block.side})" if block.side else ""
                out.append(f"{block.label} {side} {plain(block.words)} {block.total}")
            elif isinstance(block, Note | Paragraph):
                out.append(plain(block.words))
    return ". ".join(out)


def _stamp(told: Told, asked: Asked) -> Stamp:
    entries = told.pattern.header.entries
    version = next((e.value for e in entries if e.known == "Version"), "")
    date = next((e.value for e in entries if e.key.casefold().strip() in DATES), "")
    size = asked.size or ""
    return Stamp(name=told.pattern.title, version=version, date=date, size=size)
