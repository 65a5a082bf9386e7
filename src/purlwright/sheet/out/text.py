"""The sheet as plain text that can be read, proved and knitted again.

In: a document. Out: a pattern file: what is worked stands as it is printed, and all that the sheet says of
itself stands behind ``>``, where a reader of patterns knits nothing. Tick boxes are left to paper.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, assert_never

from purlwright.sheet.document import (
    Cautions,
    Facts,
    Figure,
    Glossary,
    Heading,
    Items,
    Note,
    Paragraph,
    Passes,
    Photo,
    Row,
    Table,
    one_line,
    plain,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.sheet.document import Block, Document

__all__ = ["MADE", "to_text"]

MADE = "This text was written by Purlwright. Change the pattern, not this copy."


def to_text(document: Document) -> str:
    """The text of a sheet, with one blank line between its parts. Same document, same text."""
    parts = [f"# {one_line(document.title)}"]
    worked = False
    for block in document.blocks:
        worked = worked or isinstance(block, Row)
        lines = list(_lines(block, worked=worked))
        if lines:
            parts.append("\n".join(lines))
    out = [parts[0]]
    kinds = [None, *(type(b) for b in document.blocks if list(_lines(b, worked=False)))]
    for (before, kind), part in zip(pairwise(kinds), parts[1:], strict=True):
        close = before is kind is Row or (before is Heading and kind is not Heading)
        out.append(part if close else f"\n{part}")
    return "\n".join([*out, "", f"> {MADE}"]) + "\n"


def _lines(block: Block, *, worked: bool) -> Iterator[str]:
    match block:
        case Heading():
            yield f"{'#' * (block.level + 1)} {one_line(block.text)}"
        case Paragraph():
            words = one_line(plain(block.words))
            yield words if block.hers else f"> {words}"
        case Note():
            yield f"> {one_line(plain(block.words))}"
        case Items():
            yield from (f"> - {one_line(plain(item))}" for item in block.items)
        case Facts():
            mark = "> " if worked else ""
            yield from (f"{mark}{one_line(f.label)}: {one_line(plain(f.words))}" for f in block.facts)
        case Table():
            yield from _table(block)
        case Glossary():
            # Only what she explains may define a stitch; what we add is read by people alone.
            for term in block.terms:
                mark = "> " if term.span.end < 0 else ""
                yield f"{mark}{one_line(term.term)}: {one_line(plain(term.meaning))}"
        case Row():
            yield _row(block)
        case Passes():
            yield f"> {_passes(block)}"
        case Figure():
            yield f"> Drawing: {one_line(block.alternative)}"
            yield from (f"> {one_line(plain(words))}" for words in block.said)
        case Photo():
            yield f"> Picture: {one_line(block.alternative)}"
        case Cautions():
            yield from (f"> - {one_line(plain(c.words))}{_cited(c.source)}" for c in block.cautions)
        case _:
            assert_never(block)


def _cited(source: str) -> str:
    return f" ({one_line(source)})" if source else ""


def _row(row: Row) -> str:
    head = row.label + (f" ({row.side})" if row.side and row.label else "")
    words = one_line(plain(row.words))
    body = f"{head}: {words}" if head else words
    only = f"{row.only}: " if row.only else ""
    return f"{only}{body} ({row.total})" if row.total else f"{only}{body}"


def _passes(passes: Passes) -> str:
    """Says "Rows 1-4: 1 (24 sts), 2 (28 sts), 3 (32 sts)"; with no counts "Wedges: 1 to 13"."""
    words = one_line(plain(passes.words))
    if not passes.counts:
        return f"{words}: {passes.first} to {passes.last}"
    each = (f"{n}: {count}" for n, count in enumerate(passes.counts, passes.first))
    return f"{words}. {'; '.join(each)}."


def _table(table: Table) -> Iterator[str]:
    """One line a row, each cell with its head before it."""
    yield f"> {one_line(table.caption)}"
    for first, *cells in table.rows:
        told = "; ".join(
            f"{one_line(h)}: {one_line(c)}" for h, c in zip(table.head[1:], cells, strict=True) if c
        )
        yield f"> {one_line(first)}. {told}"
