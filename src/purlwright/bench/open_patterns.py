"""The patterns that are open, each with what was read and knitted of it before, so that an edit costs little.

In: a path, a text, a house style. Out: the work on it. At most a few are kept, those last asked for.
"""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from purlwright.lesson.played import Played
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Piece
    from purlwright.workup import Kept, WorkUp

__all__ = ["OpenPatterns"]

_MOST = 4


class OpenPatterns:
    """The last patterns worked on in this process."""

    def __init__(self) -> None:
        self._open: OrderedDict[tuple[str, str], tuple[Kept, WorkUp]] = OrderedDict()
        self._played: tuple[tuple[str, int, str, str], dict[int, Played]] | None = None

    def work(self, name: str, text: str, house: str = "") -> WorkUp:
        """The work on this text; that of last time if the text is the same."""
        from purlwright.workup import Kept, WorkUp

        kept, last = self._open.pop((name, house), (None, None))
        if kept is None:
            kept = Kept()
        if last is None or last.source.text != text:
            last = WorkUp(text, name, kept, house)
        self._open[name, house] = (kept, last)
        while len(self._open) > _MOST:
            self._open.popitem(last=False)
        return last

    def played(self, work: WorkUp, knitted: Knitted, piece: Piece) -> dict[int, Played]:
        """The rows of a piece stitch by stitch, by their place in the ledger; the last is kept."""
        from purlwright.lesson.played import play

        key = (work.source.text, piece.rows[0].order, knitted.size, str(knitted.options))
        if self._played is None or self._played[0] != key:
            alone = replace(knitted, ledger=replace(knitted.ledger, pieces=(piece,)))
            self._played = (key, {row.order: row for row in play(alone)})
        return self._played[1]
