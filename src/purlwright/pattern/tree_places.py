"""Small words of the tree: sides, numbers, lengths, places, when to stop, and which rows.

In: nothing. Out: small frozen nodes that hold no steps. The rest of a row is in ``tree``,
which names these too.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction

from purlwright.pattern.nodes import Node

__all__ = ["Length", "Number", "Place", "PlaceKind", "RowSet", "Side", "Unit", "Until"]


class Side(StrEnum):
    """The side facing while a row is worked."""

    RS = "RS"
    WS = "WS"


class Unit(StrEnum):
    """What the designer calls one working across the needle."""

    ROW = "row"
    ROUND = "round"


class Number(Node, frozen=True, kw_only=True):
    """A number of stitches, rows or times: one value, or one per size in header order.

    ``None`` stands for ``-`` in a list: this size leaves the clause out. ``words`` keeps the
    designer's expression when the number came from a named number (``{width - 8}``).
    """

    values: tuple[int | None, ...]
    words: str | None = None

    def at(self, size: int) -> int | None:
        """The value for the size in place ``size`` (from 0); a lone value serves every size.

        A list too short (which has its finding) serves the sizes after it with its last value.
        """
        v = self.values
        return v[0] if len(v) == 1 else v[min(size, len(v) - 1)]


class Length(Node, frozen=True, kw_only=True):
    """A measure: one value, or one per size, in ``unit`` as written ("cm", "in", "mm", "m", "yd").

    No values at all means a length left to the knitter ("desired length", "as long as you wish").
    ``less`` means "``values`` less than the desired or full length".
    """

    values: tuple[Fraction | None, ...] = ()
    unit: str = "cm"
    less: bool = False
    words: str = ""


class PlaceKind(StrEnum):
    """Where on the needle something stops."""

    END = "end"
    """End of the row; ``before`` stitches short of it ("to last 3 sts")."""
    MARKER = "marker"
    GAP = "gap"
    """The gap left by the last turn met; also "the hole", "turning point"."""
    WRAPPED = "wrapped stitch"
    """The wrapped or double stitch itself, which stands just past the gap."""
    CENTRE = "centre stitch"
    """Before the centre stitch; ``before`` counts from there."""
    NEEDLE_END = "needle end"
    """End of the needle in work, when the words go needle by needle."""
    HALF = "half"
    """Half-way along the stitches of the row."""
    DECREASE = "decrease"
    """The line of earlier decreases (or spine, seam stitch): found from the row before."""
    SLIPPED = "slipped stitches"
    """Past the stitches that the row before slipped, if such stand next."""


class Place(Node, frozen=True, kw_only=True):
    """A place on the needle: ``before`` stitches short of it, or ``past`` stitches beyond it.

    ``name`` tells markers apart ("marker A", "second marker", "last marker"); ``nth`` counts them from here.
    """

    kind: PlaceKind
    before: Number | None = None
    past: Number | None = None
    name: str | None = None
    nth: int = 1


class Until(Node, frozen=True, kw_only=True):
    """When to stop: one of a length, a stitch count, a number of rows or of repeats or marks.

    And the side it ends on, or the ``edge`` ("armhole edge", "neck edge", "side edge", "front edge").

    ``since`` says from where a length is measured ("beginning", "underarm", ...; "" as the words leave it).
    ``ending_row`` is the row number of "ending with row 4".
    """

    length: Length | None = None
    stitches: Number | None = None
    rows: Number | None = None
    times: Number | None = None
    things: str | None = None
    since: str = ""
    side: Side | None = None
    ending_row: int | None = None
    worked: bool = True
    """For ``side``: True when the last row worked is on that side ("ending with a WS row")."""
    edge: str = ""


class RowSet(Node, frozen=True, kw_only=True):
    """Which rows.

    Numbers ``first`` to ``last``, or ``numbers``; or the last ``back`` rows; or a named row, a section, ...
    """

    first: int | None = None
    last: int | None = None
    numbers: tuple[int, ...] = ()
    back: int | None = None
    names: tuple[str, ...] = ()
    section: str | None = None
    all: bool = False
    """"Repeat from the beginning", "these rows form the pattern"."""
    mirrored: bool = False
    """The rows of ``section`` with left and right changed over: "as for left front, reversing shapings"."""
    rest: bool = False
    """Those after what was worked here already: "complete as for first finger"."""
    unit: Unit | None = None
