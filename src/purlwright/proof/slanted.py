"""The edges of flat pieces that run aslant: how long along the slope, and how high straight up.

In: a way of knitting, and the size of a stitch and a row. Out: :class:`Edge` values. Which of them a pattern
speaks of, and whether it is as long as the words say, is left to ``slants``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from purlwright.proof.outline import edge_length, outline
from purlwright.proof.parts import parts, sure
from purlwright.proof.shaping import events

if TYPE_CHECKING:
    from purlwright.proof.outline import Outline
    from purlwright.proof.shaping import Event
    from purlwright.proof.subject import Subject, Way
    from purlwright.text import Span

__all__ = ["Edge", "slanted_edges"]

_AT_THE_EDGE = 6
"""Shaping no more stitches inside shapes the edge: a band of so many may run along it. Common practice."""


class Edge(NamedTuple):
    """An edge, or the stretch of it from its first shaping on, in cm.

    ``roles`` are those of its heading. ``whole`` : it begins at the first row, below all shaping.
    """

    roles: frozenset[str]
    along: float
    high: float
    span: Span
    whole: bool = False


def slanted_edges(subject: Subject, way: Way, stitch: float, row: float) -> Iterator[Edge]:
    """Both edges of every flat part that was knitted as written, where they are shaped.

    stitch, row : the width and height of one, in cm. A part that is shaped in its middle or by short rows has
    edges that its rows and stitches do not tell, and is left out.
    """
    for part in parts(subject, way):
        found = outline(subject, way, part) if part.worked and sure(part) else None
        if found is None or any(_elsewhere(e) for e in events(subject, way, part)):
            continue
        for side in (found.right, found.left):
            yield from _of_side(found, side, stitch, row)


def _elsewhere(event: Event) -> bool:
    """Whether it shapes a piece so that its edges are no longer told by their own steps."""
    return event.sort == "turn" or (event.edge == "middle" and event.sort != "crossing")


def _of_side(found: Outline, side: Sequence[Event], stitch: float, row: float) -> Iterator[Edge]:
    steps = [e for e in side if e.sort != "crossing" and e.row < found.top]
    if not steps or any(e.inside > _AT_THE_EDGE for e in steps):
        return
    first, last = found.part.worked[0], found.top - 1
    # all of it; from the underarm; from the first step of the shaping; and that as far as its last step
    for start, end in dict.fromkeys(
        ((0, last), (found.start, last), (steps[0].row - 1, last), (steps[0].row - 1, steps[-1].row))
    ):
        if end > start:
            along = edge_length([e for e in steps if e.row > start], start, end, stitch, row)
            yield Edge(
                found.part.heading.roles,
                along,
                (end - start) * row,
                first.span,
                start == 0 and steps[0].row > 1,
            )
