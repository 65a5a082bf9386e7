"""Totals where readers look for them: after shaping, divides, joins, pick-ups.

In: a read pattern and its findings. Out: one suggestion for each total that is lacking (check C004),
knitted beside the pattern with the total printed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from purlwright.findings import Finding
from purlwright.rewrite.suggestion import Read, Suggestion, try_words
from purlwright.text import Source

__all__ = ["totals"]


def totals(read: Read, findings: Iterable[Finding]) -> Iterator[Suggestion]:
    """Each line after which a total is lacking, with the total at its end."""
    source = Source(read.text)
    for finding in findings:
        if finding.check != "C004" or finding.fix is None:
            continue
        text = read.text
        for edit in sorted(finding.fix.edits, key=lambda e: e.span.start, reverse=True):
            text = text[: edit.span.start] + edit.words + text[edit.span.end :]
        number = source.place(finding.fix.edits[0].span.start)[0]
        before = read.lines[number - 1]
        after = text.split("\n")[number - 1]
        said = Suggestion(
            kind="totals", title="The total after this row", line=number, end_line=number, before=(before,)
        )
        tried = try_words(read, text)
        if tried.differs:
            yield replace(said, refused=f"with the total printed, {tried.differs}")
        else:
            yield replace(said, after=(after,), ways=tried.ways)
