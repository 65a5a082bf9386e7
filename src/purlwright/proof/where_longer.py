"""Where one of two pieces that should be as long as each other has its rows more or fewer.

In: the rows of both, as far as they should agree. Out: the words in the one that give the difference, if one
line of it does, or the line that says how often rows are worked again. Whether the two differ is asked
elsewhere.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry
    from purlwright.proof.subject import Subject

__all__ = ["words_that_differ"]


def words_that_differ(subject: Subject, here: Sequence[Entry], there: Sequence[Entry]) -> Span | None:
    """The words of ``here`` that make it longer or shorter than ``there``; None where no one line does."""
    one, two = (Counter(e.line for e in rows) for rows in (here, there))
    lines, others = sorted(one), sorted(two)
    if len(lines) != len(others):
        return None
    differ = [a for a, b in zip(lines, others, strict=True) if one[a] != two[b]]
    if not differ or differ != lines[lines.index(differ[0]) : lines.index(differ[0]) + len(differ)]:
        return None
    again = {e.line for e in here if e.pass_ > 1}
    if differ[-1] in again:
        return _repeating(subject, differ[-1], lines)
    if len(differ) > 1:
        return None
    line = next((x for x in subject.lines if x.line == differ[0]), None)
    return Span(line.offset, line.offset + len(line.text)) if line is not None else None


def _repeating(subject: Subject, last: int, rows: Sequence[int]) -> Span | None:
    """The line that repeats rows up to ``last``: the next that does, before the next row of the piece."""
    later = next((n for n in rows if n > last), None)
    for line, node in subject.nodes(tree.RepeatRows):
        if line.line > last and (later is None or line.line <= later):
            return Span(node.span.start + line.offset, node.span.end + line.offset)
    return None
