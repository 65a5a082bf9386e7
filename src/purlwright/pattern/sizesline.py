"""Whether the Sizes line or the lists in the rows are amiss, where their numbers differ.

In: all findings of a pattern as read, its header and sections. Out: the findings, with one at the Sizes line
in place of one at each list where all lists agree among themselves. Reading a list is left to
``read.numbers``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from purlwright.findings import Finding
from purlwright.pattern import tree
from purlwright.pattern.problems import SizesLineDiffers
from purlwright.pattern.read.problems import SizeListLength
from purlwright.text import NOWHERE

if TYPE_CHECKING:
    from purlwright.pattern.file import Section
    from purlwright.pattern.header import Header

__all__ = ["of_the_sizes_line"]

_ENOUGH = 3
"""So many lists that agree speak against the Sizes line: common practice, no source."""


def of_the_sizes_line(
    findings: Sequence[Finding], header: Header, sections: Sequence[Section]
) -> tuple[Finding, ...]:
    """The findings, those of lists put together where every list has the same number and the line another."""
    of_lists = [f for f in findings if isinstance(f.problem, SizeListLength)]
    lengths = {f.problem.found for f in of_lists if isinstance(f.problem, SizeListLength)}
    if header.sizes_span == NOWHERE or len(of_lists) < _ENOUGH or len(lengths) != 1:
        return tuple(findings)
    sizes = max(1, len(header.sizes))
    if sizes > 1 and any(len(n.values) == sizes for n in _numbers(sections)):
        return tuple(findings)
    problem = SizesLineDiffers(lengths.pop(), sizes, tuple(f.span for f in of_lists))
    one = Finding(problem=problem, span=header.sizes_span)
    rest = [f for f in findings if not isinstance(f.problem, SizeListLength)]
    return tuple(sorted([one, *rest], key=lambda f: (f.span == NOWHERE, f.span.start, f.span.end, f.code)))


def _numbers(sections: Sequence[Section]) -> list[tree.Number]:
    return [
        node
        for section in sections
        for line in section.lines
        for node in tree.walk((line.label, line.actions))
        if isinstance(node, tree.Number)
    ]
