"""How many rows a length is: for who counts rows rather than measuring, and for a gauge that differs.

In: a line that works until a length is reached, and what it did. Out: a sentence of the sheet's own, or None
where no gauge says how high a row is.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.needles.ledger import Kind
from purlwright.pattern import tree
from purlwright.sheet.compose.rows import said
from purlwright.sheet.compose.worked import by_size
from purlwright.sheet.document import Paragraph

if TYPE_CHECKING:
    from purlwright.sheet.compose.worked import Worked

__all__ = ["rows_of_length"]


def rows_of_length(line: tree.Line, worked: Worked) -> Paragraph | None:
    """Says "By the gauge above, these are 45 (51, 57) rounds."."""
    ends = [n for n in tree.walk(line.actions) if isinstance(n, tree.Until)]
    if not any(u.length is not None and u.length.values for u in ends):
        return None
    if not any(gauge.rows is not None for gauge in worked.told.pattern.gauges):
        return None
    counts: list[int | None] = []
    kinds: set[Kind] = set()
    for once, again in zip(worked.once(line), worked.again(line), strict=True):
        rows = once or (list(again.entries) if again is not None else [])
        if not rows or any(e.unread or e.resumed for e in rows):
            return None
        counts.append(len(rows))
        kinds.update(e.kind for e in rows)
    if len(kinds) != 1:
        return None
    what = "rounds" if kinds == {Kind.ROUND} else "rows"
    gauge = "tension" if worked.told.terms == "UK" else "gauge"
    return Paragraph(words=said(f"By the {gauge} above, these are {by_size(counts)} {what}."), hers=False)
