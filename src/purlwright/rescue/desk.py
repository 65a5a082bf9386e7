"""One size of one pattern, ready to answer: where am I, and what went wrong?

In: a size as knitted, and a way to knit it once more. Out: a :class:`Desk`. The tables are made when first
needed and kept; after that an answer takes a moment.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from purlwright.needles.looks import RowLook, looks, operations
from purlwright.rescue.observe import Facts
from purlwright.rescue.where import Where, where

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Ledger
    from purlwright.rescue.knitted_on import Knit
    from purlwright.rescue.table import Table
    from purlwright.rescue.verdict import Verdict

__all__ = ["Desk"]


class Desk:
    """Answers about one size with one choice of options."""

    def __init__(self, knitted: Knitted, knit: Knit, others: Sequence[tuple[str, Ledger]] = ()) -> None:
        """``others`` are the other sizes' ledgers: a number of theirs may have been followed."""
        self.knitted = knitted
        self._knit = knit
        self._others = others

    @cached_property
    def pieces(self) -> tuple[tuple[str, tuple[RowLook, ...]], ...]:
        """What is seen after each row of each piece that has rows. The only piece has no name."""
        seen = [(p.name, looks(self.knitted, p)) for p in self.knitted.ledger.pieces]
        worked = [(name, rows) for name, rows in seen if rows]
        return tuple(worked) if len(worked) > 1 else tuple(("", rows) for _, rows in worked)

    @cached_property
    def tables(self) -> tuple[Table, ...]:
        """What would be seen of every mistake."""
        from purlwright.rescue.knitted_on import knit_on
        from purlwright.rescue.table import lay_out

        return tuple(lay_out(p) for p in knit_on(self.knitted, self._knit, self._others) if p.looks)

    def where(self, facts: Facts) -> Where:
        """The rows that the facts allow."""
        pieces = [p for p in self.pieces if facts.piece in {None, p[0]}]
        return where(pieces, facts, operations(self.knitted))

    def rescue(self, facts: Facts, asked: Iterable[str] = ()) -> Verdict:
        """What most likely happened."""
        from purlwright.rescue.verdict import diagnose

        tables = [t for t in self.tables if facts.piece in {None, t.piece.name}]
        return diagnose(tables, facts, asked, self._knit)
