"""How far the work is, on one line that is written over: for a person who waits at a terminal.

In: how many pieces are done. Out: a bar of plain characters on standard error, and nothing at all when that
is no terminal.
"""

from __future__ import annotations

import time
from typing import TextIO

__all__ = ["Progress"]

_WIDE = 30
_PAUSE_S = 0.1
"""Between two drawings of the bar."""


class Progress:
    """``[######........................]  212 of 1,000``"""

    def __init__(self, total: int, out: TextIO | None) -> None:
        self._total = total
        self._out = out if out is not None and out.isatty() else None
        self._drawn = 0
        self._next_s = 0.0

    def at(self, done: int) -> None:
        """Draw the bar for so many done, unless it was drawn a moment ago."""
        now = time.monotonic()
        if self._out is None or (now < self._next_s and done < self._total):
            return
        self._next_s = now + _PAUSE_S
        full = _WIDE * done // max(1, self._total)
        line = f"[{'#' * full}{'.' * (_WIDE - full)}]  {done:,} of {self._total:,}"
        self._out.write(f"\r{line}")
        self._out.flush()
        self._drawn = len(line)

    def clear(self) -> None:
        """Take the bar away, so that something else can be written."""
        if self._out is not None and self._drawn:
            self._out.write(f"\r{' ' * self._drawn}\r")
            self._out.flush()
            self._drawn = 0
            self._next_s = 0.0
