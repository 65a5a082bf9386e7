"""The editor's report as a document, so that it is printed and shown like a sheet.

In: a :class:`~purlwright.proof.report.Report`. Out: a :class:`~purlwright.sheet.document.Document`, in the
words of ``proof.letter``.
"""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.proof.letter import COVERS, READ_SO, Reach, parts, reach, readings, title
from purlwright.proof.report import GRAVITIES, Remark, Report
from purlwright.sheet.document import (
    Block,
    Document,
    Fact,
    Facts,
    Heading,
    Items,
    Paragraph,
    Run,
    Stamp,
    Words,
)

__all__ = ["report_document"]


def report_document(report: Report) -> Document:
    """The letter, section by section."""
    blocks: list[Block] = [Paragraph(words=_words(said)) for said in report.version]
    blocks += [Heading(text="What was knitted"), Paragraph(words=_words(report.knitting.said))]
    blocks += [Heading(text="In short"), Paragraph(words=_words(report.summary))]
    for gravity, head in GRAVITIES.items():
        remarks = [r for r in report.remarks if r.gravity is gravity]
        if remarks:
            blocks.append(Heading(text=head))
            blocks += [block for remark in remarks for block in _remark(remark)]
    if (read := readings(report)) is not None:
        blocks += [Heading(text=READ_SO), Paragraph(words=_words(read.words))]
        blocks.append(Items(items=tuple(map(_words, read.listed))))
    blocks += [Heading(text="What this report covers"), Paragraph(words=_words(COVERS))]
    blocks += [block for answer in reach(report) for block in _answer(answer)]
    name = title(report)
    return Document(title=name, stamp=Stamp(name=name), blocks=tuple(blocks))


def _words(said: str) -> Words:
    return (Run(" ".join(said.split())),)


def _remark(remark: Remark) -> Iterator[Block]:
    """Its number and place; what it says, each thing under its name; and the changes that were knitted."""
    yield Heading(text=f"{remark.number}. {remark.place}", level=2, anchor=f"remark-{remark.number}")
    facts: list[Fact] = []
    for part in parts(remark):
        if not part.listed:
            facts.append(Fact(label=part.name or "Found", words=_words(part.words)))
            continue
        facts.append(Fact(label="Repair" if len(part.listed) == 1 else "Repairs", words=_words(part.words)))
        yield Facts(facts=tuple(facts))
        yield Items(items=tuple(map(_words, part.listed)))
        facts = []
    yield Facts(facts=tuple(facts))


def _answer(answer: Reach) -> Iterator[Block]:
    yield Heading(text=answer.words.rstrip(":"), level=2)
    for group in answer.groups:
        if group.head:
            yield Heading(text=group.head.rstrip(":"), level=3)
        yield Items(items=tuple(_words(words) for words in group.lines))
