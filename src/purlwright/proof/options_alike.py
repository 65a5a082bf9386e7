"""Two ways to do one thing in one pattern: rows given once for each value of an option do the same work.

In: the ledgers and fabrics of two choices that differ in one option. Out: a finding on the one row that takes
other stitches, or other faces, than its counterpart, while all other rows given for each value agree.
``turn_series`` asks for it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Entry
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.proof.subject import Subject, Way

__all__ = ["OptionRowsDiffer", "option_faults"]


@dataclass(frozen=True, slots=True)
class OptionRowsDiffer:
    """A row written out for each choice does not do the same in both, and all other such rows do.

    Where a pattern is turned with wraps or with double stitches, each such row stands there twice. One that
    turns a stitch sooner in one of them, or purls where the other knits, is misprinted.

    Example: `wrapped only: Row 4: Knit to 5 sts before gap, w&t` and `double stitch only: Row 4: Knit to
    4 sts before gap, turn`.

    Cure: compare the two and mend one. (Common practice; no source.)
    """

    row: str
    one: str
    two: str
    others: int

    code = "option-rows-differ"
    check = "C032"
    severity = Severity.WARNING

    def message(self) -> str:
        also = "the other row" if self.others == 1 else f"the other {self.others} rows"
        return (
            f'{self.row} for "{self.one}" does not work the same stitches as for "{self.two}"; {also} given '
            f"for both do."
        )

    def label(self) -> str:
        return "not as for the other"

    def help(self) -> str | None:
        return "Compare the two word by word: one of them has the slip."


_OTHERS = 2
"""So many other rows given for each value make a rule; common practice, no source."""


def option_faults(subject: Subject) -> Iterator[Finding]:
    """The one row that differs between the first choice and one that differs from it in one option."""
    if not (subject.ways and subject.ways[0].knitted.log) or not any(line.options for line in subject.lines):
        return
    first = subject.ways[0]
    for way in subject.ways[1:]:
        apart = set(way.options) - set(first.options)
        if way.size != first.size or len(apart) != 1 or subject.amiss(way) or subject.amiss(first):
            continue
        ((name, value),) = apart
        usual = dict(first.options)[name]
        found = _differ(subject, first, way, (usual, value))
        if found is not None:
            yield found
            return


def _differ(subject: Subject, first: Way, way: Way, values: tuple[str, str]) -> Finding | None:
    one, two = (w.knitted.ledger.entries for w in (first, way))
    if len(one) != len(two):
        return None
    pairs: dict[tuple[int, int], bool] = {}
    entries: dict[tuple[int, int], tuple[Entry, Entry, tree.Line, tree.Line]] = {}
    for a, b in zip(one, two, strict=True):
        x, y = subject.line_of(a), subject.line_of(b)
        if a.copied or b.copied or x is None or y is None or x is y or not (x.options and y.options):
            continue
        key = (x.offset, y.offset)
        pairs[key] = pairs.get(key, True) and _same(first, way, a, b)
        entries.setdefault(key, (a, b, x, y))
    odd = [key for key, same in pairs.items() if not same]
    if len(odd) != 1 or len(pairs) - 1 < _OTHERS:
        return None
    a, b, _, _ = entries[odd[0]]
    name = a.label or f"The row in line {a.line}"
    problem = OptionRowsDiffer(name, *values, len(pairs) - 1)
    return Finding(problem=problem, span=a.span, related=(Related(b.span, f'for "{values[1]}"'),))


def _same(first: Way, way: Way, a: Entry, b: Entry) -> bool:
    if (a.start, a.worked, a.unworked, a.end) != (b.start, b.worked, b.unworked, b.end):
        return False
    return _mostly(first, a) == _mostly(way, b)


def _mostly(way: Way, entry: Entry) -> int:
    """The face that most stitches of a row show."""
    fabric = way.knitted.fabric
    seen = fabric.seen_of_stitch[fabric.row_of_stitch == entry.order]
    return int(np.argmax(np.bincount(seen, minlength=3))) if len(seen) else -1
