"""The syntax tree of a written pattern: what the words say, before anything is knitted.

In: nothing. Out: small frozen nodes, each with the span of its words. A row is a tuple of steps;
a line is a label and actions (steps and statements). Numbers hold one value or one per size.
Small words stand in ``tree_places``, moves of the needles in ``tree_moves``. What the words do to loops is
left to ``needles``.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Literal, TypeAlias

from purlwright.pattern.nodes import Node, bare, moved, walk
from purlwright.pattern.tree_moves import (
    AtEdges,
    BindOff,
    CastOn,
    Drop,
    Edge,
    EdgeJoin,
    Evenly,
    Hold,
    Marker,
    PassOver,
    PickUp,
    Resolve,
    Return,
    SlipBack,
    Turn,
    TurnHow,
    Wrap,
    Yarn,
    YarnTo,
)
from purlwright.pattern.tree_places import Length, Number, Place, PlaceKind, RowSet, Side, Unit, Until

__all__ = [
    "Action", "Again", "Arrange", "AtEdges", "AtSameTime", "BindOff", "BySlip", "Call", "CastOn", "Choice",
    "Close", "Cross", "Definition", "Drop", "Edge", "EdgeJoin", "Evenly", "Fill", "Gather", "Hold",
    "InGround", "InPattern", "Into", "JoinRound", "Label", "Length", "Line", "Marker", "Node", "Note",
    "Number", "PassOver", "PickUp", "Place", "PlaceKind", "Rejoin", "Repeat", "RepeatRows", "Resolve",
    "Resume", "Return", "RowRef", "RowRule", "RowSet", "Said", "Shaping", "Side", "SlipBack", "Stated",
    "Statement", "Step", "Turn", "TurnHow", "Unit", "Unread", "Until", "Work", "WorkRows", "Wrap", "Yarn",
    "YarnTo", "bare", "moved", "walk",
]  # fmt: skip


# --- steps: what happens within a row ------------------------------------------------------------


class Work(Node, frozen=True, kw_only=True):
    """Work a stitch of the dictionary (or of the pattern's own definitions) ``count`` times.

    ``stitch`` is the dictionary key, or the designer's own abbreviation when ``own`` is true.
    ``colour`` is the designer's letter or name for the yarn, if this stitch names one.
    ``readings`` holds dictionary keys when the words may mean several stitches, likeliest first.
    ``yarn`` says where the yarn is held if the words say ("wyif" is "front").
    """

    stitch: str
    count: Number
    own: bool = False
    colour: str | None = None
    readings: tuple[str, ...] = ()
    yarn: Literal["front", "back"] | None = None


class Fill(Node, frozen=True, kw_only=True):
    """Work ``body`` over and over until a place is reached; it may stop anywhere in ``body``.

    "Knit to end", "purl to last 3 sts", "work in k2, p2 rib to marker", and "Knit." as a whole row.
    """

    body: tuple[Step, ...]
    to: Place


class InGround(Node, frozen=True, kw_only=True):
    """Work a named ground ("garter st", "2x2 rib"): over ``count`` stitches, or up to a place.

    ``ground`` is its key in the dictionary of grounds; with neither count nor place it is the whole row.
    """

    ground: str
    count: Number | None = None
    to: Place | None = None
    readings: tuple[str, ...] = ()


class InPattern(Node, frozen=True, kw_only=True):
    """Go on as established, over ``count`` stitches or up to a place; with neither, the whole row.

    ``how``: "even" is "straight", "without shaping"; "rib" one worked before; else "knit the knits" words.
    """

    count: Number | None = None
    to: Place | None = None
    how: Literal["set", "even", "rib", "as they appear", "knitwise"] = "set"


class BySlip(Node, frozen=True, kw_only=True):
    """Each stitch by what the row before did with it: ``slipped`` those it slipped, ``others`` the rest.

    ``others`` None is as they appear. "Knit the knits, purl the purls and slip the slipped sts".
    """

    slipped: Work
    others: Work | None = None
    to: Place | None = None


class Said(StrEnum):
    """How a number of repeats is worded: that decides what it means."""

    TIMES = "times"
    MORE = "more"
    IN_ALL = "in all"
    OPEN = "open"
    """No number and no place ("and repeat", a star left open): as often as the stitches allow."""
    TO = "to"
    """Up to a place ("rep from * to last 2 sts")."""
    PAIR = "pair"
    """A closed pair of marks with no word about how often (``*k3, p1* k2``)."""


class Repeat(Node, frozen=True, kw_only=True):
    """Work ``body`` several times.

    ``mark`` is the designer's own: ``*``, ``**``, ``(``, ``[``, ``{``, a letter, or "" for bare words.
    For bracketed groups ``times`` is the number in all. For stars (``star`` true) the body stands once
    in the words before "rep from *": with ``said`` TIMES the number may be in all or more (both are tried),
    MORE adds the first working, IN_ALL does not.
    ``cut`` is true when the last copy may stop short or be replaced by the steps that follow
    ("ending k2", "end last rep k2", "ending with k2 instead of k5").
    """

    body: tuple[Step, ...]
    times: Number | None = None
    to: Place | None = None
    said: Said = Said.TIMES
    mark: str = "["
    star: bool = False
    cut: bool = False


class Into(Node, frozen=True, kw_only=True):
    """Work all of ``steps`` into one stitch, ``count`` stitches one after another.

    "(k1, yo, k1) in next st", "knit twice into each of next 3 sts". ``keep`` is true when the
    steps themselves take several loops off together first ("(k3tog, yo, k3tog) into the same 3 sts"): then
    ``over`` loops.
    """

    steps: tuple[Step, ...]
    count: Number
    over: int = 1


class Cross(Node, frozen=True, kw_only=True):
    """A crossing said in words.

    Hold ``held`` stitches at front or back, work ``first``, then ``second`` from the held ones.
    """

    held: Number
    front: bool
    first: tuple[Step, ...]
    second: tuple[Step, ...]


class RowRule(Node, frozen=True, kw_only=True):
    """What holds of rows without being said in each: it works nothing where it stands.

    "alternate": every row between those told is ``steps`` ("every other round is plain"); "slip first": the
    first stitch of each row is slipped, not worked; "double over": each double yarn over of the row before is
    one stitch of this row, its second loop let go.
    """

    rule: Literal["alternate", "slip first", "double over"]
    steps: tuple[Step, ...] = ()


class RowRef(Node, frozen=True, kw_only=True):
    """Work this row as another: "as row 2", "same as 3rd", "rep row 1".

    ``name`` for named rows ("as dec row").

    ``to`` is how far ("as row 2 to last 6 sts"); ``steps`` are its steps where they were looked up.
    """

    number: int | None = None
    name: str | None = None
    unit: Unit | None = None
    to: Place | None = None
    steps: tuple[Step, ...] = ()


class Call(Node, frozen=True, kw_only=True):
    """Work a stitch pattern, chart or panel by its name.

    ``row`` the row of it, ``over`` how many stitches.
    """

    name: str
    row: Number | None = None
    over: Number | None = None
    to: Place | None = None


class Choice(Node, frozen=True, kw_only=True):
    """Words with several meanings, each a way to read the same stretch; the printed counts choose.

    Likeliest first; ``usual``: the trade takes the first whenever it comes out. ``ways``: each in words.
    """

    readings: tuple[tuple[Step, ...], ...]
    ways: tuple[str, ...] = ()
    usual: bool = False


class Stated(Node, frozen=True, kw_only=True):
    """A count that the designer printed: a total, a change ("2 sts dec"), what stays unworked or is held.

    ``parts`` are the numbers of "[8 + 8 + 8 = 24]" or "18 sts each side", in order; for "repeat" ("9 stitches
    to a pattern") the stitches of one repeat, and no total; "lines" how often those between two lines of a
    chart are worked, each time; "rows" how many were. ``between``: what stands between markers, alone or not.
    """

    total: Number | None = None
    change: Number | None = None
    kind: Literal["total", "change", "unworked", "part", "bound off", "held", "repeat", "lines", "rows"] = (
        "total"
    )
    parts: tuple[Number, ...] = ()
    approximate: bool = False
    between: Number | None = None


class Note(Node, frozen=True, kw_only=True):
    """Words to the knitter that do nothing on the needles; ``words`` as they stand."""

    words: str


class Unread(Node, frozen=True, kw_only=True):
    """Words that could not be read. Rooms above skip them; the finding stands already."""

    words: str


# --- statements: what happens over rows or between them -------------------------------------------


class WorkRows(Node, frozen=True, kw_only=True):
    """Work ``rows`` rows the same way: "Knit 6 rows", "Work 10 rnds in k2, p2 rib", "Work 4 rows even".

    ``body`` is the steps of one such row. With ``until`` as many rows as that takes.
    ``alternate`` holds several rows worked in turn ("knit 1 row, purl 1 row alternately for 4 rows").
    ``between`` as in :class:`RepeatRows`; the rows are then those of the shaping told last.
    """

    body: tuple[Step, ...] = ()
    alternate: tuple[tuple[Step, ...], ...] = ()
    rows: Number | None = None
    until: Until | None = None
    unit: Unit | None = None
    side: Side | None = None
    between: int = 0


class RepeatRows(Node, frozen=True, kw_only=True):
    """Repeat rows already worked: "Rep rows 1-4 five times more", "repeat last 2 rows until 12 sts remain".

    ``times`` with ``said``; ``until`` a stop; ``then`` rows worked once more after ("ending with row 3").
    ``define`` is true for "rows 1-4 form the pattern", which works nothing.
    ``between`` is how many more stitches lie between the shapings each time: -1 for "1 st fewer between
    decreases".
    """

    rows: RowSet
    times: Number | None = None
    said: Said = Said.TIMES
    until: Until | None = None
    define: bool = False
    between: int = 0


class Shaping(Node, frozen=True, kw_only=True):
    """Do ``steps`` on every ``every``-th row, ``times`` times.

    "dec 1 st each end of next and every foll alt row 5 times".

    ``start`` is "next" when the first shaping row is the next row, "every" when ``every - 1`` plain rows
    come before it; "after" when it goes on from a first one told before ("5th and every foll 6th").
    ``base`` is what the rows between (and the rest of the shaping rows) are worked in; None is as
    established.
    ``times`` counts all shaping rows when ``said`` is IN_ALL or TIMES, those after the first when MORE.
    ``row`` names a row to be worked as the shaping row instead of steps ("work dec row every other row 6
    times").
    """

    steps: tuple[Step, ...] = ()
    row: RowRef | None = None
    every: Number
    times: Number | None = None
    said: Said = Said.TIMES
    start: Literal["next", "every", "after"] = "next"
    until: Until | None = None
    unit: Unit | None = None
    side: Side | None = None
    length: Length | None = None
    """Given instead of ``every`` for "every 2 cm"."""
    between: int = 0
    """As in :class:`RepeatRows`."""


class Again(Node, frozen=True, kw_only=True):
    """Whole rows in brackets or after a star: "[knit 5 rounds, work dec round] 4 times".

    ``body`` are the statements and rows, ``times`` and ``said`` as in :class:`Repeat` (after a star the
    body stands once
    in the words), or ``until`` a stop.
    """

    body: tuple[Action, ...]
    times: Number | None = None
    said: Said = Said.TIMES
    star: bool = False
    until: Until | None = None


class AtSameTime(Node, frozen=True, kw_only=True):
    """Statements that run side by side: the first is the main one."""

    parts: tuple[Statement, ...]


class JoinRound(Node, frozen=True, kw_only=True):
    """Join to work in the round."""


class Arrange(Node, frozen=True, kw_only=True):
    """Share the stitches out over needles: "divide on 3 needles 16-18-16". No loop is worked.

    It says where needles end.

    ``needles`` how many lie on each, if said; ``count`` over how many needles, if said.
    """

    needles: tuple[Number, ...] = ()
    count: Number | None = None


class Rejoin(Node, frozen=True, kw_only=True):
    """Go on with stitches that wait.

    "with RS facing, rejoin yarn to the held sts". ``place`` as in :class:`Return`.
    """

    side: Side | None = None
    place: str | None = None
    colour: str | None = None


class Resume(Node, frozen=True, kw_only=True):
    """Set the side or the start for what follows without working.

    "beginning with a WS row", "starting with row 3".
    """

    side: Side | None = None
    row: int | None = None
    flat: bool | None = None
    """True for "work back and forth in rows", False for "work in rounds"."""
    here: bool = False
    """True for "the round now begins here"."""
    over: Number | None = None
    part: Literal["", "these", "first", "last", "centre", "half"] = ""
    """Over which stitches: "on these 24 sts only"; with no number, those up to the gap; "" is all."""


class Close(Node, frozen=True, kw_only=True):
    """Join two edges: graft, seam or three-needle bind-off. ``a`` and ``b`` as the words name them.

    ``b`` None is "the two halves of the needle" (a toe) or "the seam".
    """

    how: Literal["graft", "seam", "three-needle"]
    a: Edge | None = None
    b: Edge | None = None
    manner: str = ""


class Gather(Node, frozen=True, kw_only=True):
    """Break the yarn, draw it through the stitches left, fasten off; ``stated`` is a count given with it."""

    stated: Number | None = None


Step: TypeAlias = (
    Work | Fill | InGround | InPattern | BySlip | Repeat | Into | Cross | PassOver | SlipBack | Drop | Wrap
    | Turn | Resolve
    | EdgeJoin | RowRule | Marker | YarnTo | Yarn | Hold | Return | BindOff | CastOn | PickUp | Evenly |
    AtEdges | RowRef | Call | Choice
    | Stated | Note | Unread
)  # fmt: skip
Statement: TypeAlias = (
    WorkRows
    | RepeatRows
    | Shaping
    | Again
    | AtSameTime
    | JoinRound
    | Arrange
    | Rejoin
    | Resume
    | Close
    | Gather
)
Action: TypeAlias = Step | Statement


# --- lines and the whole pattern -----------------------------------------------------------------


class Label(Node, frozen=True, kw_only=True):
    """What stands before a row.

    "Row 1 (RS):", "Rnds 3, 5 and 7:", "Next 4 rows:", "Dec rnd:", "All WS rows:".

    ``numbers`` the row numbers in the order written; ``words`` the label as it stands, without colon and
    side. ``next`` is how many rows "Next row" / "Next 4 rows" stands for. ``name`` for named rows.
    ``rule`` is set for "all WS rows", "every alternate row", "Row 2 and all WS rows" (then ``numbers`` is
    (2,)): "WS", "RS", "even", "odd", "alternate"; ``rule_to`` the row it ends with, if said.
    ``unit`` None when no word says row or round.
    """

    words: str = ""
    numbers: tuple[int, ...] = ()
    next: Number | None = None
    name: str | None = None
    unit: Unit | None = None
    side: Side | None = None
    colour: str | None = None
    rule: Literal["WS", "RS", "even", "odd", "alternate"] | None = None
    rule_to: int | None = None


class Line(Node, frozen=True, kw_only=True):
    """One line of instruction: label, actions in order, and what limits it.

    ``sizes`` names the sizes it is for (empty: all); ``options`` the (option, value) pairs it is for.
    ``line`` counts from 1 in the file. Spans of the label and actions count from ``offset``, the place in
    the source where the line's text begins, so that a line read once stays good when lines above it change.
    ``text`` is that text.
    """

    label: Label | None = None
    actions: tuple[Action, ...] = ()
    sizes: tuple[str, ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    line: int = 0
    offset: int = 0
    text: str = ""


class Definition(Node, frozen=True, kw_only=True):
    """The pattern's own stitch, e.g. "MB: [k1, p1, k1] in next st, turn, p3, turn, sl1-k2tog-psso".

    ``takes`` and ``makes`` only if the words state them ("(5 sts inc'd)", "worked over 4 sts"); else they
    are derived by knitting.
    """

    name: str
    steps: tuple[Step, ...]
    meaning: str = ""
    takes: int | None = None
    makes: int | None = None
