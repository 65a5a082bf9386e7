"""Where a stitch pattern is from: a line ``Source: ...`` under its heading.

In: the words of a line or of a note. Out: what they name as the source. Under the title the same key is one
of the header's, and speaks of the whole pattern.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.pattern.file import Pattern

__all__ = ["source_in", "sources_at"]

_SOURCE = re.compile(
    r"\s*(?:\*\*|__)?sources?(?:\*\*|__)?\s{0,8}:(?:\*\*|__)?\s*(?P<words>\S.*)", re.IGNORECASE | re.DOTALL
)


def source_in(words: str) -> str:
    """``SOURCE ":" WORDS``: "Source: traditional, Shetland" names "traditional, Shetland"; "" names none."""
    if "ource" not in words[:12] and "OURCE" not in words[:12]:
        return ""
    m = _SOURCE.match(words)
    return " ".join(m["words"].split()) if m is not None else ""


def sources_at(pattern: Pattern, span: Span) -> tuple[str, ...]:
    """The sources named under the heading under which some words stand, in her order."""
    if span == NOWHERE:
        return ()
    mine = [s for s in pattern.sections if s.span.start <= span.start]
    return tuple(found for line in mine[-1].lines if (found := source_in(line.text))) if mine else ()
