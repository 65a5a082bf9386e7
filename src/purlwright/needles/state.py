"""What the knitter keeps in mind: rows worked, what the words say of the row in work, states to go back to.

In: nothing. Out: small values that the knitting modules share. What is done with them is left to them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple, TypeAlias

from msgspec import Struct

from purlwright.needles.ledger import Copied
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.fabric.grow import Mark
    from purlwright.needles.hands import Counters, Edges
    from purlwright.needles.ledger import Entry
    from purlwright.needles.loops import Needles

__all__ = [
    "MOST_ROWS",
    "STATEMENTS",
    "WORKING",
    "AsSet",
    "Evidence",
    "Hold",
    "Info",
    "Lengths",
    "Mind",
    "Row",
    "State",
    "TooMuch",
    "body_span",
    "covers",
    "is_row",
    "row_word",
    "steps_of",
]

MOST_ROWS = 20_000
WORKING = (
    tree.Work, tree.Fill, tree.InGround, tree.InPattern, tree.BySlip, tree.Repeat, tree.Into, tree.Cross,
    tree.PassOver, tree.SlipBack,
    tree.Drop, tree.BindOff, tree.CastOn, tree.PickUp, tree.Evenly, tree.AtEdges, tree.Call, tree.Choice,
    tree.Wrap, tree.RowRef,
)  # fmt: skip
STATEMENTS = (
    tree.WorkRows, tree.RepeatRows, tree.Shaping,
    tree.Again, tree.AtSameTime, tree.JoinRound, tree.Rejoin, tree.Resume, tree.Close,
    tree.Gather,
    tree.Arrange,
)  # fmt: skip


AsSet: TypeAlias = tuple[tuple[tree.Step, ...], int]
"""What "as set" stands for: steps, and where the words begin that they were read from."""


class Row(Struct, frozen=True, gc=False):
    """A row that was worked, to be referred to later."""

    number: int | None
    name: str
    label: str
    actions: tuple[tree.Action, ...]
    line: int
    offset: int
    span: Span
    section: int
    unit: tree.Unit | None
    entry: int
    block: int
    start: int
    end: int
    facing: int
    side: Side | None = None
    """The side a chart or a stitch pattern says the row is worked on."""


class Mind(NamedTuple):
    """What the knitter knows of where she is; each is hers by the same name."""

    section: int
    heading: str
    block: int
    rule: tree.Line | None
    rule_after: tree.Line | None
    last_number: int | None
    open: bool
    info: Info
    ended: bool
    first_side: int | None
    side_known: bool
    pending: tuple[int, int, Span, int, str] | None
    unproved: bool
    miscounted: bool
    ring_turned: bool
    side_sure: bool
    nothing_said: bool
    any_width: bool
    ever_unproved: bool
    delta: int
    at: int
    cycle_at: int
    base: AsSet | None
    order: int
    rows_worked: int


class Lengths(NamedTuple):
    """How much is entered in each list that only grows."""

    entries: int
    history: int
    pieces: int
    log: int


class Hold(NamedTuple):
    """What the hands hold, and what is counted and gone on from."""

    facing: int
    side: int
    yarn: int
    loop_waits: bool
    ground_row: dict[str, tuple[int, int]]
    places: dict[str, int]
    counters: Counters
    cycle: list[Row]
    cycle_place: dict[int, int]
    passes: dict[tuple[str, int, str], int]
    chart_row: dict[str, tuple[int, int]]
    piece_bound_off: list[int]
    offset: int
    last: Entry | None
    """The entry made last: a count printed later may be put beside it."""


@dataclass(slots=True)
class State:
    """Everything that a trial of one reading may change, to be put back afterwards."""

    needles: Needles
    edges: Edges
    mind: Mind
    lengths: Lengths
    mark: Mark
    hold: Hold


class Evidence(Exception):  # noqa: N818 - how a trial of a reading ends
    """A printed count (or the lack of stitches) spoke for or against the reading on trial."""

    def __init__(self, good: bool) -> None:
        super().__init__()
        self.good = good


class Info(Struct):
    """What the words say about the row in work."""

    label: str = ""
    number: int | None = None
    line: int = 0
    offset: int = 0
    unit: tree.Unit | None = None
    span: Span = NOWHERE
    name: str = ""
    actions: Sequence[tree.Action] = ()
    side: Side | None = None
    copied: Copied | None = None
    quiet: bool = False
    colour: str | None = None
    new_pass: bool = False
    passive: bool = False
    part: bool = False
    gave_up: bool = False
    left_behind: int = 0
    advance_order: int = -1
    source_line: int = 0
    at: Span | None = None
    """Where to report what is wrong with a row whose words stand in another line."""
    begins_with: int | None = None
    """The row of the pattern as set that the words name as the first to work."""
    own_shaping: bool = False
    """The words tell the shaping of this row: that of the rows before does not go on in it."""

    def name_of_row(self) -> str:
        """What to call the row in a sentence."""
        if self.label:
            return self.label[0].upper() + self.label[1:]
        return f"The row in line {self.line}" if self.line else "This row"

    def span_rel(self) -> Span:
        return self.span if self.span[1] < 0 else Span(self.span[0] - self.offset, self.span[1] - self.offset)


class TooMuch(Exception):  # noqa: N818 - the words ask for more than is knitted
    """The knitting stops; the reason is reported."""


def is_row(a: tree.Action) -> bool:
    """Whether a statement is the row itself ("Row 5: rep row 2")."""
    return isinstance(a, tree.RepeatRows)


def steps_of(actions: Sequence[tree.Action]) -> tuple[tree.Step, ...]:
    """The steps among some actions: statements, printed counts and notes are left out."""
    return tuple(a for a in actions if not isinstance(a, (*STATEMENTS, tree.Stated, tree.Note)))


def body_span(line: tree.Line) -> Span:
    """The span, in the source, of a line's instruction words: the label and trailing notes left out."""
    span = NOWHERE
    for a in line.actions:
        if not isinstance(a, tree.Note) and a.span[1] >= 0:
            span = span.cover(a.span) if span[1] >= 0 else a.span
    if span[1] < 0:
        span = Span(0, len(line.text))
    return Span(span[0] + line.offset, span[1] + line.offset)


def row_word(number: int, unit: tree.Unit | None) -> str:
    """What to call a row: "Row 5" or "Round 5"."""
    return f"{'Round' if unit is tree.Unit.ROUND else 'Row'} {number}"


def covers(label: tree.Label, number: int, rs_odd: bool) -> bool:
    """Whether "all WS rows", "every even row" and their like speak of row ``number``."""
    if label.rule is None or (label.rule_to is not None and number > label.rule_to):
        return False
    first = label.numbers[0] if label.numbers else None
    if first is not None and number < first:
        return False
    if label.rule in {"even", "odd"}:
        return number % 2 == (0 if label.rule == "even" else 1)
    if first is not None:
        return number % 2 == first % 2
    if label.rule == "alternate":
        return number % 2 == 0
    return (number % 2 == 1) == (rs_odd == (label.rule == "RS"))
