"""The outline of a body piece or a sleeve: underarm, armhole or cap, shoulder.

In: a part with all below its heading. Out: an :class:`Outline` in stitches and rows, and how long an edge is
at a gauge. Which outlines must agree is left to ``seams``.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import TYPE_CHECKING, NamedTuple

from purlwright.needles.ledger import Kind
from purlwright.proof.parts import ROWS, Part
from purlwright.proof.shaping import Event, events

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry
    from purlwright.proof.subject import Subject, Way

__all__ = ["Outline", "edge_length", "outline"]

_CLOSE = 2
"""Steps of one shoulder or cap top follow each other within so many rows."""


class Outline(NamedTuple):
    """What a piece measures in stitches and rows.

    ``whole`` is false if its last rows stand under another heading; ``cast_on`` 0 if it goes on from loops of
    another piece. ``start`` is the row of the first bind-off at an edge, the underarm (the first row of a
    piece without a cast-on), ``top`` the row where the shoulder (or the end) begins; rows count from 1.
    ``underarm`` is bound off there; 0 if nothing is. ``shoulder`` is None when the last stitches are bound
    off all together over shoulders and neck, or kept.
    """

    part: Part
    whole: bool
    cast_on: int
    start: int
    top: int
    rows: int
    underarm: int
    decreased: int
    shoulder: int | None
    right: tuple[Event, ...]
    left: tuple[Event, ...]
    first: Entry | None
    last: Entry | None
    end: int

    @property
    def depth(self) -> int:
        """Rows from the underarm to the shoulder."""
        return self.top - self.start


def outline(subject: Subject, way: Way, part: Part) -> Outline | None:
    """The outline of a flat piece, from its cast-on or from loops that waited; None for other parts."""
    first = part.rows[0]
    if any(e.kind is Kind.ROUND for e in part.rows) or first.kind not in {Kind.CAST_ON, *ROWS}:
        return None
    found = events(subject, way, part)
    right = tuple(e for e in found if e.edge == "right")
    left = tuple(e for e in found if e.edge == "left")
    rows = sum(e.kind in ROWS for e in part.rows)
    offs = [e for e in found if e.sort == "bind off" and not e.inside and e.edge != "middle"]
    end = part.rows[-1].lost if part.rows[-1].kind is Kind.BIND_OFF else 0
    steps = _last_steps(offs, rows)
    early = [e for e in offs if e not in steps and e.amount > 1]
    underarm = early[0] if early else None
    top = min((e.row for e in steps), default=rows + 1)
    edge = () if underarm is None else right if underarm.edge == "right" else left
    by_order = {e.order: e for e in part.rows}
    begun = first.kind is Kind.CAST_ON
    return Outline(
        part=part,
        whole=part.rows[-1].order >= _last_of_piece(way, part),
        cast_on=first.end if begun else 0,
        start=1 if not begun else underarm.row if underarm else 0,
        top=top,
        rows=rows,
        underarm=underarm.amount if underarm else 0,
        decreased=sum(e.amount for e in edge if e.sort == "decrease" and e.row < top),
        shoulder=_shoulder(steps, end, side=bool(part.heading.hand) or any(e.held for e in part.rows)),
        right=right,
        left=left,
        first=by_order.get(underarm.order) if underarm else None if begun else first,
        last=by_order.get(steps[0].order) if steps else part.rows[-1],
        end=end,
    )


def _last_of_piece(way: Way, part: Part) -> int:
    """The last row or bind-off of its piece, seams not counted."""
    kinds = {*ROWS, Kind.BIND_OFF}
    return next((e.order for e in reversed(way.knitted.ledger.pieces[part.piece].rows) if e.kind in kinds), 0)


def _last_steps(offs: Sequence[Event], rows: int) -> list[Event]:
    """The bind-offs at the edges that follow each other up to the end of the piece."""
    steps: list[Event] = []
    at = rows + 1
    for event in reversed(offs):
        if at - event.row > _CLOSE:
            break
        at = event.row
        steps.append(event)
    return steps[::-1]


def _shoulder(steps: Sequence[Event], end: int, *, side: bool) -> int | None:
    """Stitches of a shoulder: a side's steps with its last ones; of a whole piece, those at one edge."""
    right = [e.amount for e in steps if e.edge == "right"]
    left = [e.amount for e in steps if e.edge == "left"]
    if side:
        return sum(right) + sum(left) + end or None if not (right and left) else None
    return sum(right) or None if right == left else None


def edge_length(edge: Sequence[Event], first: int, last: int, stitch: float, row: float) -> float:
    """How long an edge is from row ``first`` to row ``last``, straight from one step of it to the next.

    stitch, row : the width and height of one, in the unit wanted.
    """
    length, at = 0.0, first
    for event in edge:
        if first <= event.row <= last and event.sort != "crossing":
            length += hypot(event.amount * stitch, (event.row - at) * row)
            at = event.row
    return length + (last - at) * row
