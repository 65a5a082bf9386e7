"""The words of a finding in one size: of a list of numbers, the number of that size alone.

In: findings merged over all sizes. Out: the same, but one that stands in a single size and on words with one
list of sizes is set on that size's number. What is wrong is left as it was found.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from purlwright.findings import Finding
from purlwright.text import Source, Span

__all__ = ["on_its_number"]

_LIST = re.compile(r"\d+\s?[(\[]\s?[\d,;\s-]+[)\]]")
_NUMBER = re.compile(r"\d+|(?<!\d)-(?!\d)")


def on_its_number(findings: Sequence[Finding], source: Source, sizes: Sequence[str]) -> list[Finding]:
    """``(72 (80, 89) sts)`` wrong in the last of three sizes is marked at ``89``.

    Words met as wrong in several sizes, or after another list of their row, stay whole.
    """
    often = Counter((f.code, f.span) for f in findings)
    return [
        _narrowed(f, source, sizes)
        if len(f.sizes) == 1 and f.span.end >= 0 and often[f.code, f.span] == 1
        else f
        for f in findings
    ]


def _narrowed(finding: Finding, source: Source, sizes: Sequence[str]) -> Finding:
    words = source.words(finding.span)
    total = words.startswith("(")
    lists = [m for m in _LIST.finditer(words) if total or words[m.start() - 1 : m.start()] != "("]
    if len(lists) != 1 or finding.sizes[0] not in sizes:
        return finding
    if not total:  # a step: another list before it may be the wrong one
        line = source.line_span(source.place(finding.span.start)[0])
        if _LIST.search(source.text[line.start : finding.span.start]):
            return finding
    numbers = list(_NUMBER.finditer(lists[0][0]))
    if len(numbers) != len(sizes):
        return finding
    at = finding.span.start + lists[0].start()
    own = numbers[list(sizes).index(finding.sizes[0])]
    return replace(finding, span=Span(at + own.start(), at + own.end()))
