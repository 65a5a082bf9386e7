"""A knitted pattern made into a sheet.

In: a pattern that was read and can be knitted (:class:`~purlwright.sheet.compose.asked.Work`), and what is
asked of the sheet. Out: a :class:`~purlwright.sheet.document.Document`. Its look is left to ``out``.
"""

from __future__ import annotations

from purlwright.sheet.compose.asked import Asked, HasErrors, NoSheet
from purlwright.sheet.compose.whole import compose

__all__ = ["Asked", "HasErrors", "NoSheet", "compose"]
