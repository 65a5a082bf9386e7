"""Where the markers stand: each time one is placed or taken away, how many stitches lie between them.

In: the ledgers of a told pattern. Out: a table, or nothing where there is one marker at most. The places are
read off the needle after the row, in the order in which the next row meets them.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from purlwright.needles.ledger import Kind
from purlwright.sheet.compose.worked import by_size
from purlwright.sheet.document import Block, Table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from purlwright.needles.ledger import Entry, Ledger
    from purlwright.sheet.compose.told import Told

__all__ = ["marker_plan"]

_FEWEST = 2
"""Two parts are told by the one marker between them."""
_MOST_ROWS = 12
"""A plan that is longer than this is no plan; the rows tell it better."""


def marker_plan(told: Told) -> Iterator[Block]:
    """The table, in the order of work, if the sizes place their markers in the same rows."""
    plans = [_changes(k.ledger) for k in told.knitted]
    first = plans[0] if plans else []
    if not first or len(first) > _MOST_ROWS:
        return
    if any(len(plan) != len(first) for plan in plans):
        return
    rows = []
    for same_row in zip(*plans, strict=True):
        places = {(e.section, e.label) for e, _ in same_row}
        counts = [parts for _, parts in same_row]
        if len(places) != 1 or len({len(parts) for parts in counts}) != 1:
            return
        entry = same_row[0][0]
        side = f" ({entry.side})" if entry.side is not None and entry.kind is Kind.ROW else ""
        place = ", ".join(x for x in (entry.section, f"{entry.label or entry.kind.value}{side}") if x)
        between = "; ".join(by_size([parts[n] for parts in counts]) for n in range(len(counts[0])))
        rows.append((place, between))
    yield Table(
        caption="Where the markers stand",
        head=("After", "Stitches in each part, as the next row meets them"),
        rows=tuple(rows),
    )


def _changes(ledger: Ledger) -> list[tuple[Entry, list[int]]]:
    """Rows after which the markers make more parts or fewer than before, with the stitches in each part.

    A marker at an end of the needle parts nothing, and one that stands alone needs no plan.
    """
    out: list[tuple[Entry, list[int]]] = []
    for piece in ledger.pieces:
        before = 1
        for entry in piece.rows:
            edges = [0, *sorted(m.after for m in entry.markers), entry.end]
            parts = [b - a for a, b in pairwise(edges) if b > a]
            if len(parts) > _FEWEST and len(parts) != before:
                out.append((entry, parts))
            before = len(parts)
    return out
