"""One pattern from its text to what can be read off its knitting.

In: a pattern, a size and options. Out: the clues of each part, weighed beside the other sizes; or
:class:`Unusable`. What a clue is, and how it looks, is made in the rooms below.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from purlwright.files import Unusable, safe

if TYPE_CHECKING:
    from purlwright.lesson.reading import PartClues
    from purlwright.workup import WorkUp

__all__ = ["clues"]


def clues(
    work: WorkUp,
    size: str | None = None,
    options: Mapping[str, str] | None = None,
    *,
    section: str | None = None,
) -> tuple[PartClues, ...]:
    """The clues of every part, or of those under one heading. Raises Unusable where there is no such
    heading.
    """
    from purlwright.lesson.reading import NoSuchSection, read_work

    knitted = work.knitted(size, options)
    others = [work.knitted(other, options) for other in work.sizes if other != knitted.size]
    try:
        return read_work(knitted, others, work.pattern.gauges, section=section)
    except NoSuchSection as why:
        raise Unusable(safe(str(why))) from None
