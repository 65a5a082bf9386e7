"""What the needles do besides stitches, as nodes: turning, markers, holding, binding off, picking up.

In: nothing. Out: small frozen nodes that hold no steps. The rest of a row is in ``tree``,
which names these too.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from purlwright.pattern.nodes import Node
from purlwright.pattern.tree_places import Number

__all__ = [
    "AtEdges", "BindOff", "CastOn", "Drop", "Edge", "EdgeJoin", "Evenly", "Hold", "Marker",
    "PassOver", "PickUp", "Resolve", "Return", "SlipBack", "Turn", "TurnHow", "Wrap", "Yarn", "YarnTo",
]  # fmt: skip


class PassOver(Node, frozen=True, kw_only=True):
    """Pass ``count`` earlier stitches of the right needle over the last ``over`` worked there."""

    count: Number
    over: Number


class SlipBack(Node, frozen=True, kw_only=True):
    """Slip ``count`` stitches from the right needle back to the left one."""

    count: Number


class Drop(Node, frozen=True, kw_only=True):
    """Let ``count`` loops go.

    ``what`` "wrap" is an extra wrap (no stitch lost), "yo" a yarn over, "stitch" a stitch.
    """

    count: Number
    what: Literal["wrap", "yo", "stitch"] = "stitch"


class Wrap(Node, frozen=True, kw_only=True):
    """Wrap the next stitch (or the next ``count`` together) without working it."""

    count: Number


class TurnHow(StrEnum):
    """What is done at a turn so that it leaves no hole."""

    PLAIN = "plain"
    WRAP = "wrap"
    DOUBLE = "double stitch"
    OVER = "yarn over"
    PIN = "pinned loop"
    TWIN = "twin"


class Turn(Node, frozen=True, kw_only=True):
    """Turn the work.

    ``leave`` is what the words say stays unworked; ``never`` is "do not turn"; ``slide`` slides instead.
    """

    how: TurnHow = TurnHow.PLAIN
    leave: Number | None = None
    never: bool = False
    slide: bool = False


class Resolve(Node, frozen=True, kw_only=True):
    """From here on in this row, wraps (double stitches, overs of turns) are worked with their stitches."""

    how: TurnHow | None = None
    left: bool = False
    """True when the words say that wraps are left as they are."""


class Edge(Node, frozen=True, kw_only=True):
    """Words that name an edge.

    "cast-on edge", "left side of heel flap", "bound-off sts of neck", "row ends of wedge".

    ``kind`` is what can be told from the words alone.
    """

    words: str
    kind: Literal["cast-on", "bound-off", "row ends", "left", "right", "live", "held", "unknown"] = "unknown"
    piece: str | None = None


class EdgeJoin(Node, frozen=True, kw_only=True):
    """Work one stitch of the row (the last, the first, or the next) together with a loop of an edge.

    "Join at the end", "last st together with next st of edge". The count of the row stays. ``live`` is true
    when the loop waits on a needle ("ssk last st with 1 live st of the shawl"), which then holds one fewer.
    ``edge`` None is the edge met before ("join as before").
    """

    edge: Edge | None = None
    at: Literal["here", "beginning", "end"] = "end"
    stitch: str = ""
    live: bool = False


class Marker(Node, frozen=True, kw_only=True):
    """Place, slip or remove a marker; ``name`` is the designer's name, letter or colour for it.

    ``after`` places it that many stitches from here without working ("place markers after the first 5 sts"),
    ``before_end`` that many before the end; ``count`` places several.
    """

    act: Literal["place", "slip", "remove"]
    name: str | None = None
    after: Number | None = None
    before_end: Number | None = None


class YarnTo(Node, frozen=True, kw_only=True):
    """Bring the yarn to the front or take it to the back between the needles; no loop is made."""

    front: bool


class Yarn(Node, frozen=True, kw_only=True):
    """Which yarn is worked from here on: "with A", "join CC", "change to MC", "break yarn".

    To "use" none by name is to go on with the yarn of the piece after a spare one: "with the working yarn".
    """

    act: Literal["use", "join", "break"]
    colour: str | None = None


class Hold(Node, frozen=True, kw_only=True):
    """Move stitches to a holder, waste yarn or spare needle.

    ``count`` None is all that are left (``rest``) or all on the needle. ``place`` is what she calls it.
    ``of`` is which: the next, the first or last of the needle, those just worked, those up to a marker;
    those of a sleeve are up to the next marker, or all of a sleeve that is knitted by itself.
    """

    count: Number | None = None
    place: str = ""
    of: Literal["next", "first", "last", "rest", "all", "worked", "marker", "sleeve"] = "next"


class Return(Node, frozen=True, kw_only=True):
    """Put held stitches back on the needle, ready to be worked. ``place`` names which; "" is the latest.

    ``if_held`` for stitches only named in passing ("knit across the 32 instep sts"), maybe live already.
    """

    place: str = ""
    count: Number | None = None
    if_held: bool = False


class BindOff(Node, frozen=True, kw_only=True):
    """Bind off ``count`` stitches, or (None) all, or all but ``keep``.

    ``manner`` is a key of the bind-off family or "" for the usual chain; ``how`` the stitches it is worked
    in.
    ``counts_loop`` is True when the words say that the stitch left on the right needle counts among those
    that follow.
    ``at`` is "beginning" or "end" when the words say which ("bind off 5 sts at beg of row").
    """

    count: Number | None = None
    keep: Number | None = None
    manner: str = ""
    how: Literal["", "pattern", "knitwise", "purlwise"] = ""
    at: Literal["here", "beginning", "end", "each end", "neck edge", "armhole edge"] = "here"
    counts_loop: bool = False


class CastOn(Node, frozen=True, kw_only=True):
    """Cast on ``count`` stitches; at the start of a piece, or in the course of a row.

    ``multiple`` and ``plus`` when only those are given; ``needles`` how many to each needle, if said;
    ``each`` means ``count`` on each of that many needles; ``over`` how many needles share the stitches.
    ``provisional`` keeps the lower loops for later.
    ``counts_row`` is True when the words say that the cast-on counts as a row.
    ``at`` is "end" for a cast-on at the end (or beginning) of a row, "gap" over earlier bound-off stitches.
    """

    count: Number | None = None
    multiple: Number | None = None
    plus: Number | None = None
    needles: tuple[Number, ...] = ()
    each: int = 1
    over: int = 0
    method: str = ""
    provisional: bool = False
    counts_row: bool = False
    at: Literal["start", "here", "end", "beginning", "gap"] = "start"


class PickUp(Node, frozen=True, kw_only=True):
    """Pick up (and knit, purl, or only pick up) stitches along an edge.

    ``count`` None with ``rate`` (stitches, rows) means as many as the rate gives.
    """

    count: Number | None = None
    how: Literal["knit", "purl", "lift"] = "knit"
    edge: Edge | None = None
    rate: tuple[int, int] | None = None


class Evenly(Node, frozen=True, kw_only=True):
    """Increase or decrease across the row: by ``change`` (signed), or to ``total`` stitches.

    ``stitch`` is the key used if the words name one; spacing is left to the knitter.
    """

    change: Number | None = None
    total: Number | None = None
    stitch: str | None = None
    over: Number | None = None


class AtEdges(Node, frozen=True, kw_only=True):
    """Increase or decrease ``count`` stitches at the edge(s) of the row, the rest in pattern.

    ``change`` is +1 or -1 for each; ``stitch`` the key if named; ``inside`` how many edge stitches stand
    outside it.
    """

    change: Literal[1, -1]
    where: Literal[
        "each end", "beginning", "end", "neck edge", "armhole edge", "each side of marker", "centre"
    ]
    count: Number
    stitch: str | None = None
    inside: Number | None = None
