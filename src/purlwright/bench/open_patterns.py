"""The patterns that are open, each with what was read and knitted of it before, so that an edit costs little.

In: a path, a text, a house style. Out: the work on it. At most a few are kept, those last asked for.
"""

from __future__ import annotations

from collections import OrderedDict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from purlwright.workup import Kept, WorkUp

__all__ = ["OpenPatterns"]

_MOST = 4


class OpenPatterns:
    """The last patterns worked on in this process."""

    def __init__(self) -> None:
        self._open: OrderedDict[tuple[str, str], tuple[Kept, WorkUp]] = OrderedDict()

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
