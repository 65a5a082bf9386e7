"""The log that lies beside a test knit: tables to write into at the needles.

In: what is asked of one size. Out: a :class:`~purlwright.sheet.document.Document`. Nothing in it says what is
expected, so that she writes what she finds.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.sheet.document import (
    Block,
    Document,
    Fact,
    Facts,
    Heading,
    Paragraph,
    Run,
    Stamp,
    Table,
    Words,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.testknit.expected import Expected

__all__ = ["log_document"]

_SITTINGS = 16
_LINES = 10
_ROOM = "\N{NO-BREAK SPACE}" * 16
"""Room to write in."""


def log_document(expected: Expected) -> Document:
    """The log of one size."""
    title = expected.title or "A pattern without a title"
    sized = expected.size != "one size"
    return Document(
        title=f"Test knit: {title}",
        stamp=Stamp(name=title, version=expected.version, size=expected.size if sized else ""),
        blocks=(
            Paragraph(
                words=_said(
                    "Keep this beside your knitting, and write down what you find, also where the sheet says "
                    "otherwise: that is what a test knit is for. Afterwards copy it into the form and send "
                    "the form back."
                )
            ),
            Facts(facts=tuple(_facts(expected))),
            *_gauge(expected),
            *_yarn(expected),
            *_counts(expected),
            *_time(expected),
            *_size(expected),
            Heading(text="What was hard to follow"),
            _blank("Hard to follow", ("Row", "What I took it to mean, and what I did"), _LINES),
        ),
    )


def _said(words: str) -> Words:
    return (Run(words),)


def _facts(expected: Expected) -> Iterator[Fact]:
    yield Fact(label="Pattern", words=_said(expected.title))
    if expected.version:
        yield Fact(label="Version", words=_said(expected.version))
    yield Fact(label="Size", words=_said(expected.size))
    for name, value in expected.options.items():
        yield Fact(label=f"{name[:1].upper()}{name[1:]}", words=_said(value))
    yield Fact(label="Needle I used", words=_said(_ROOM))


def _blank(caption: str, head: tuple[str, ...], lines: int) -> Table:
    """A table to write into."""
    return Table(caption=caption, head=head, rows=tuple([(_ROOM,) * len(head)] * lines))


def _gauge(expected: Expected) -> Iterator[Block]:
    if not expected.gauges:
        return
    yield Heading(text="Gauge")
    yield Paragraph(
        words=_said(
            "Over 10 cm (4 inches), washed as you will wash the piece, dry, and not pulled. Measure in three "
            "places and write the middle one."
        )
    )
    rows = []
    for g in expected.gauges:
        where = f" {g.name}" if g.name else ""
        rows += [(f"Stitches{where}", _ROOM, _ROOM)] if g.stitches is not None else []
        rows += [(f"Rows{where}", _ROOM, _ROOM)] if g.rows is not None else []
    yield Table(caption="Gauge over 10 cm", head=("", "Swatch", "Finished piece"), rows=tuple(rows))


def _yarn(expected: Expected) -> Iterator[Block]:
    if not expected.yarns:
        return
    yield Heading(text="Yarn")
    yield Paragraph(
        words=_said("Weigh it before the cast-on, after the swatch, and what is left at the end.")
    )
    rows = tuple((y.name, _ROOM, _ROOM, _ROOM) for y in expected.yarns)
    yield Table(
        caption="Yarn, in g", head=("", "Before", "Left at the end", "On its band: m per g"), rows=rows
    )


def _counts(expected: Expected) -> Iterator[Block]:
    if not expected.counts:
        return
    yield Heading(text="Stitches after these rows")
    yield Paragraph(words=_said("Count in tens, before you read what the sheet has."))
    rows = tuple((c.called, c.name, _ROOM) for c in expected.counts)
    yield Table(caption="Stitches on the needle", head=("Row", "Which that is", "I have"), rows=rows)


def _time(expected: Expected) -> Iterator[Block]:
    yield Heading(text="Time at the needles")
    parts = ", ".join(s.name for s in expected.stretches)
    if len(expected.stretches) > 1:
        yield Paragraph(words=_said(f"One line a sitting, and a new line for each part: {parts}."))
    yield _blank("Sittings", ("Date", "From row", "To row", "Minutes"), _SITTINGS)


def _size(expected: Expected) -> Iterator[Block]:
    if not expected.measures:
        return
    yield Heading(text="Size")
    yield Paragraph(words=_said("Washed and dry, laid flat without pulling."))
    rows = tuple((m.name, _ROOM) for m in expected.measures)
    yield Table(caption="Size, in cm or in", head=("", "I measured"), rows=rows)
