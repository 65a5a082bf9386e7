"""All rewordings that are offered for a pattern.

In: a read pattern without errors, and its findings. Out: suggestions in the order of the words.
"""

from __future__ import annotations

from collections.abc import Iterable

from purlwright.findings import Finding
from purlwright.rewrite.mirror import mirror
from purlwright.rewrite.repeats import repeats
from purlwright.rewrite.suggestion import Read, Suggestion
from purlwright.rewrite.together import together
from purlwright.rewrite.totals import totals

__all__ = ["offers"]


def offers(read: Read, findings: Iterable[Finding]) -> tuple[Suggestion, ...]:
    """Totals, repeats, lists of rows and mirrored halves, each tried."""
    found = [*totals(read, findings), *repeats(read), *together(read), *mirror(read)]
    return tuple(sorted(found, key=lambda s: (s.line, s.kind)))
