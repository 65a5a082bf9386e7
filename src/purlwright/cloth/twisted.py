"""Rings that the words twist before they close: a half twist, a twist at the join.

In: a pattern's text. Out: what is said of each such place. A twist changes no stitch, no width and no length:
rounds joined with a twist are as many and as long as without. What it changes is how the ring lies in space,
and where a strip closes with half a twist, that its two long edges become one. That is not drawn, and said.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from purlwright.cloth.said import Basis, Said
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.text import Source

__all__ = ["twists_left_out"]

_RING = (
    r"(?:it|them|(?:the|your) (?:cast[- ]?on(?: edge)?|sts|stitches|loops|strip|work|knitting|piece|edge|end"
    r"|needle|scarf|cowl|tube|ring))"
)
_TWIST = re.compile(
    r"\bhalf[- ]twist\b|\bm(?:o|oe|ö)bius\b"
    rf"|\btwist(?:ing|ed)?\b(?: {_RING})?(?: by)? (?:once|one time|180)\b"
    rf"|\b(?:a|one) twist in {_RING}\b|\bwith (?:a|one) twist\b",
    re.IGNORECASE,
)
_CAST_ON = re.compile(r"\b(?:cast(?:ing)?[ -]?on|co)\b", re.IGNORECASE)


def twists_left_out(source: Source) -> tuple[Said, ...]:
    """What is said of each line that twists a ring, from the first cast-on on; headings are let be."""
    return tuple(
        Said(
            basis=Basis.MISSING,
            words=(
                f'"{words}" twists the ring. Its stitches, width and length are as told; the picture leaves '
                "the twist out."
            ),
            span=span,
        )
        for words, span in _found(source)
    )


def _found(source: Source) -> Iterator[tuple[str, Span]]:
    begun = False
    at = 0
    for line in source.text.split("\n"):
        begun = begun or (_CAST_ON.search(line) is not None and not line.startswith("#"))
        twist = _TWIST.search(line)
        if begun and twist is not None and not line.startswith("#"):
            yield twist[0], Span(at + twist.start(), at + twist.end())
        at += len(line) + 1
