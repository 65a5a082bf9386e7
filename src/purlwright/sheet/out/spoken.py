"""A sheet as plain text to be heard: one thing a line, rows with their number first and their count last.

In: a document whose words are in full. Out: text with no stars, brackets or tables, fit to be read aloud as
it stands by a screen reader, and by the reader of patterns as the same pattern. Only a heading and a note
carry a mark.
"""

from __future__ import annotations

import re
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
from purlwright.sheet.out.text import MADE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.sheet.document import Block, Document

__all__ = ["to_spoken"]

_SIDES = {"RS": ", right side", "WS": ", wrong side", "": ""}
_AFTER_INCHES = (
    r"(?=\s*(?:[,.;:)\]]|$"
    r"|(?:wide|long|deep|high|tall|round|around|across|from|above|below|circular|square)\b))"
)
"""What follows "3 in" when it is a length, and not "3 in each border"."""
_SAID = (
    (re.compile(r"(?<=\d)\s*½"), " and a half"),
    (re.compile(r"(?<=\d)\s*¼"), " and a quarter"),
    (re.compile(r"(?<=\d)\s*¾"), " and three quarters"),
    (re.compile(r"½"), "half"),
    (re.compile(r"¼"), "a quarter"),
    (re.compile(r"¾"), "three quarters"),
    (re.compile(r"\b(\d[\d.,]*|half|quarters?)\s?cm\b"), r"\1 centimetres"),
    (re.compile(r"\b(\d[\d.,]*|half|quarters?)\s?mm\b"), r"\1 millimetres"),
    (re.compile(r"\b(\d[\d.,]*)\s?m\b"), r"\1 metres"),
    (re.compile(r"\b(\d[\d.,]*)\s?g\b"), r"\1 grams"),
    (re.compile(rf"(\d|half|quarters?)\s?(?:\"|″|”|in\b{_AFTER_INCHES})"), r"\1 inches"),
    (re.compile(r"\bmillimetres(?= (?:needles?|circular|double))"), "millimetre"),
    (re.compile(r"\bsts\b"), "stitches"),
    (re.compile(r"\bst\b"), "stitch"),
    (re.compile(r"\brnds\b", re.IGNORECASE), "rounds"),
    (re.compile(r"\brnd\b", re.IGNORECASE), "round"),
    (re.compile(r"\s*=\s*"), " to "),
    (re.compile(r"\b(\d+)\s*[-–]\s*(\d+)\b"), r"\1 to \2"),
    (re.compile(r"\bRS\b"), "right side"),
    (re.compile(r"\bWS\b"), "wrong side"),
    (re.compile(r"\s*[*\[\]{}|]+\s*"), " "),
    (re.compile(r"\s*\(([^()]*)\)"), r", \1,"),
    (re.compile(r",\s*([.,;:])"), r"\1"),
)  # fmt: skip


def to_spoken(document: Document) -> str:
    """The text of a sheet to be heard. Same document, same text."""
    parts = [f"# {one_line(document.title)}"]
    begun = False
    for block in document.blocks:
        begun = begun or isinstance(block, Row)
        lines = list(_lines(block, begun=begun))
        if lines:
            parts.append("\n".join(lines))
    return "\n\n".join([*parts, f"> {MADE}"]) + "\n"


def _lines(block: Block, *, begun: bool) -> Iterator[str]:
    match block:
        case Heading():
            yield f"{'#' * (block.level + 1)} {one_line(block.text)}"
        case Paragraph() | Note():
            yield f"> {_said(plain(block.words))}"
        case Items():
            yield from (f"> {_sentence(_said(plain(item)))}" for item in block.items)
        case Facts():
            mark = "> " if begun else ""
            yield from (f"{mark}{one_line(f.label)}: {_said(plain(f.words))}" for f in block.facts)
        case Table():
            yield f"> {one_line(block.caption)}:"
            for first, *cells in block.rows:
                told = [f"{_said(h)} {_said(c)}" for h, c in zip(block.head[1:], cells, strict=True) if c]
                yield f"> {_sentence(': '.join([_said(first), ', '.join(told)]))}"
        case Glossary():
            for term in block.terms:  # only what she explains may define a stitch
                mark = "> " if term.span.end < 0 else ""
                yield f"{mark}{one_line(term.term)}: {one_line(plain(term.meaning))}"
        case Row():
            yield _row(block)
        case Passes():
            yield f"> {_passes(block)}"
        case Figure():
            yield f"> Drawing: {_sentence(_said(block.alternative))}"
            yield from (f"> {_said(plain(words))}" for words in block.said)
        case Photo():
            yield f"> Picture: {_sentence(_said(block.alternative))}"
        case Cautions():
            for caution in block.cautions:
                cited = f" From: {_sentence(_said(caution.source))}" if caution.source else ""
                yield f"> {_said(plain(caution.words))}{cited}"
        case _:
            assert_never(block)


def _said(words: str) -> str:
    """Words beside the rows, with units and fractions in full and without marks."""
    words = one_line(words)
    for pattern, instead in _SAID:
        words = pattern.sub(instead, words)
    return one_line(words).rstrip(",")


def _sentence(words: str) -> str:
    return words if not words or words[-1] in ".!?" else f"{words}."


def _row(row: Row) -> str:
    """``Row 7, right side: Knit to end. 58 stitches.``"""
    side = "" if " side" in row.label else _SIDES[row.side]
    label = _said(row.label)
    head = f"{label[:1].upper()}{label[1:]}{side}: " if label else ""
    total = f" {_sentence(_said(row.total))}" if row.total else ""
    return f"{head}{_sentence(one_line(plain(row.words)))}{total}"


def _passes(passes: Passes) -> str:
    words = _said(plain(passes.words))
    if not passes.counts:
        return _sentence(f"{words}: {passes.first} to {passes.last}")
    return " ".join(
        [f"{words}.", *(f"Time {n}: {_said(c)}." for n, c in enumerate(passes.counts, passes.first))]
    )
