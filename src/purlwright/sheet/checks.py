"""Checks that are answered from the finished sheet: C127 and C129.

In: a way to make the sheet. Out: judges for :func:`purlwright.proof.registry.prove`. A pattern with errors
has no sheet, so of it nothing is asked here. Where a sheet does not come out as her pattern, the fault is
ours, and the check says what is missing instead of blaming her words.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.findings import Severity
from purlwright.proof.answer import Answer
from purlwright.rewrite.compare import difference
from purlwright.sheet.compose.asked import NoSheet
from purlwright.sheet.document import Row, plain
from purlwright.sheet.out.text import to_text

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from purlwright.proof.subject import Subject
    from purlwright.sheet.compose.asked import Again, Work
    from purlwright.sheet.document import Document

__all__ = ["checks"]


def checks(
    work: Work,
    sizes: tuple[str, ...],
    options: Mapping[str, str],
    sheet: Callable[[], Document],
    again: Again,
) -> Mapping[str, Callable[[Subject], Answer]]:
    """The judges, by check. ``sheet`` makes the sheet of these sizes with these option values, once."""
    made: list[Document | NoSheet] = []

    def the_sheet() -> Document | NoSheet:
        if not made:
            try:
                made.append(sheet())
            except NoSheet as why:
                made.append(why)
        return made[0]

    def judge_plain_text(subject: Subject) -> Answer:
        """C127: places are the rows of the sheet, in every size."""
        if _errors(subject):
            return Answer()
        document = the_sheet()
        if isinstance(document, NoSheet):
            return Answer(places=1, missing=f"a sheet of it: {str(document).rstrip('.')}")
        told = again(to_text(document))
        rows = sum(isinstance(block, Row) for block in document.blocks)
        if len(told.sizes) != len(sizes):
            return Answer(places=rows, missing="sizes whose names read as one each")
        for mine, its in zip(sizes, told.sizes, strict=True):
            differs = difference(work.knitted(mine, options), told.knitted(its))
            if differs:
                return Answer(places=rows, missing=f"a plain text that reads as the pattern does: {differs}")
        return Answer(places=rows)

    def judge_feet(subject: Subject) -> Answer:
        """C129: the foot that all pages share holds title, version, date and size, and no row among them."""
        if _errors(subject):
            return Answer()
        document = the_sheet()
        if isinstance(document, NoSheet):
            return Answer(places=1, missing="a sheet of it")
        stamp = document.stamp
        rows = {_bare(plain(block.words)) for block in document.blocks if isinstance(block, Row)} - {""}
        held = [w for w in (stamp.version, stamp.date) if _bare(w) in rows]
        return Answer(places=1, missing=f'a version and date that are no row: "{held[0]}"' if held else None)

    return {"C127": judge_plain_text, "C129": judge_feet}


def _errors(subject: Subject) -> bool:
    return any(f.severity is Severity.ERROR for f in subject.findings)


def _bare(words: str) -> str:
    return re.sub(r"\W+", " ", words.casefold()).strip()
