"""K30: the first sign of trouble: which row shows that a yarn over or a decrease was forgotten in an
earlier one.

In: the text of a pattern, one size of it knitted, and a way to knit other words in that size. Out: for each
row with a yarn over or a decrease, the row that is the first not to come out when that is left out, or that
none does. Each is found by knitting the pattern with the slip in its words, so the slip is made each time
the row is worked.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Severity
from purlwright.lesson.rows import entry_label, label_of

if TYPE_CHECKING:
    from purlwright.findings import Finding
    from purlwright.lesson.rows import Part
    from purlwright.needles.knitted import Knitted

__all__ = ["FirstSign", "first_signs"]

_SLIPS = (
    (re.compile(r"\byo\b,?\s*", re.IGNORECASE), "", "yarn over"),
    (re.compile(r"\b(?:k2tog|ssk|skp)\b", re.IGNORECASE), "k1", "decrease"),
)
_MOST = 8
"""So many slips are tried; each is knitted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstSign:
    """A slip and its first sign. ``order`` is the row that does not come out, None if every row does."""

    section: str
    row: str
    what: str
    order: int | None
    words: str


def first_signs(
    text: str, parts: Sequence[Part], knit: Callable[[str], Knitted], most: int = _MOST
) -> tuple[FirstSign, ...]:
    """The first signs for the first rows that give occasion, in the order worked."""
    out: list[FirstSign] = []
    for part, label, start, end in _rows(parts):
        for slip, instead, what in _SLIPS:
            found = slip.search(text, start, end)
            if found is None or len(out) >= most:
                continue
            tried = knit(f"{text[: found.start()]}{instead}{text[found.end() :]}")
            out.append(_sign(part, label, what, tried))
    return tuple(out)


def _rows(parts: Sequence[Part]) -> Iterator[tuple[Part, str, int, int]]:
    """Each row with words of its own, once: where its words stand."""
    seen: set[int] = set()
    for part in parts:
        for row in part.rows:
            span = row.entry.span
            if span.end > span.start >= 0 and span.start not in seen and row.entry.copied is None:
                seen.add(span.start)
                yield part, label_of(row) or row.name, span.start, span.end


def _sign(part: Part, label: str, what: str, tried: Knitted) -> FirstSign:
    entry = next(
        (e for e in tried.ledger.entries if _trouble(tried.findings, e.span.start, e.span.end)), None
    )
    begun = f"If the first {what} of {label} is forgotten"
    if entry is None:
        words = f"{begun}, every row still comes out: only the look of the row tells."
        return FirstSign(section=part.name, row=label, what=what, order=None, words=words)
    name = entry_label(entry) or f"the next {entry.kind.value.replace('-', ' ')}"
    same = name == label
    where = "" if entry.section == part.name else f" of {entry.section}"
    shown = (
        "that row itself does not come out" if same else f"{name}{where} is the first that does not come out"
    )
    return FirstSign(section=part.name, row=label, what=what, order=entry.order, words=f"{begun}, {shown}.")


def _trouble(findings: Sequence[Finding], start: int, end: int) -> bool:
    """Whether an error stands in these words."""
    return end > start and any(
        f.severity is Severity.ERROR and f.span.end >= 0 and start <= f.span.start < end for f in findings
    )
