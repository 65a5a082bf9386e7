"""An old pattern in present words: each line of work told again from what it means.

In: a pattern whose terms are old. Out: edits by line. They are tried on the needles like every other wording,
and a line that would knit otherwise, or that was not read whole, keeps the old words.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.findings import Edit
from purlwright.pattern import tree
from purlwright.pattern.words import line_words
from purlwright.sheet.compose.wording import lines_of_work
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.words_names import Terms
    from purlwright.sheet.compose.asked import Work

__all__ = ["in_present_words"]


def in_present_words(work: Work, terms: Terms) -> dict[int, list[Edit]]:
    """Every line that was read whole, in the words of today, by the number of its line."""
    out: dict[int, list[Edit]] = {}
    for line in lines_of_work(work):
        if any(isinstance(node, tree.Unread | tree.Choice) for node in tree.walk(line.actions)):
            continue
        words = line_words(line, terms)
        if words.strip() and not line.sizes and not line.options:
            span = Span(line.offset, line.offset + len(line.text))
            out.setdefault(line.line, []).append(Edit(span, words))
    for entry in work.pattern.header.entries:  # the header says which terms these are now
        if entry.known == "Terms":
            out.setdefault(entry.line, []).append(Edit(entry.value_span, terms))
    return out
