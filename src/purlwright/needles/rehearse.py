"""A row tried on other loops than it will be worked on: what her words come to when the needle is not right.

In: the knitter about to work a row, and how the loops lie on the needles instead. Out: whether the row comes
out, what is left over or short, and how the loops lie for the next row. Everything is put back: the knitting
goes on as if nothing had been tried. Which loops might be wrong, and why, is left to ``rescue``.

Printed counts are not looked at: one who has lost a stitch unawares works on by the words.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from msgspec import structs

from purlwright.needles import problems
from purlwright.needles.hands import Stop
from purlwright.needles.loops import Boundary, Held, Needles
from purlwright.needles.pieces import ready
from purlwright.needles.rowends import end_row, give_up_row, open_row
from purlwright.needles.trial import restore, save
from purlwright.pattern import tree

if TYPE_CHECKING:
    from purlwright.findings import Problem
    from purlwright.needles.knit import Knitter

__all__ = ["Came", "Lie", "MarkLie", "Rehearsal", "Watch", "lie_of"]


class MarkLie(NamedTuple):
    """Something between two loops: as :class:`~purlwright.needles.loops.Boundary`."""

    kind: str
    at: int
    name: str
    turned_on: int


class Lie(NamedTuple):
    """How loops lie on the needles and holders: how many, and what sits between them; not which they are."""

    left: int
    right: int = 0
    left_marks: tuple[MarkLie, ...] = ()
    right_marks: tuple[MarkLie, ...] = ()
    holders: tuple[int, ...] = ()
    ring: bool = False
    start_marked: bool = False

    @property
    def live(self) -> int:
        """Loops in play, holders left out."""
        return self.left + self.right


class Came(NamedTuple):
    """What came of a row.

    done : how the loops lay when it ended, before any turn. ready : as the next row finds them.
    off : stitches left over when the words were worked (above 0) or that were lacking (below 0); 0 if the
    row came out. each : where a repeat does not come out even, how many stitches it uses each time, else 0.
    fits : whether the row came out. crossed : whether a stitch stood over a marker.
    entries : how many rows the ledger had more after it; one, unless the words are more than a row.
    """

    done: Lie
    ready: Lie
    off: int
    each: int
    fits: bool
    crossed: bool
    entries: int


def lie_of(nd: Needles) -> Lie:
    """How the loops lie."""
    return Lie(
        len(nd.left), len(nd.right),
        tuple([MarkLie(b.kind, b.at, b.name, b.turned_on) for b in nd.left_marks]),
        tuple([MarkLie(b.kind, b.at, b.name, b.turned_on) for b in nd.right_marks]),
        tuple([len(h.loops) for h in nd.holders]), nd.ring, nd.start_marked,
    )  # fmt: skip


def lay(lie: Lie, like: Needles) -> Needles:
    """Needles on which loops lie so; the loops are those of ``like``, one of them twice if need be."""
    right = _as_many(like.right, lie.right, like.left)
    left = _as_many(like.left, lie.left, like.right)
    holders = list(like.holders[: len(lie.holders)])
    for i, many in enumerate(lie.holders[: len(holders)]):
        h = holders[i]
        if len(h.loops) != many:
            holders[i] = Held(h.name, _as_many(h.loops, many, left), h.facing, h.piece, h.span)
    return Needles(
        left=left, right=right, left_marks=[Boundary(*m) for m in lie.left_marks],
        right_marks=[Boundary(*m) for m in lie.right_marks], holders=holders, ring=lie.ring,
        start_marked=lie.start_marked,
    )  # fmt: skip


def _as_many(loops: np.ndarray, many: int, other: np.ndarray) -> np.ndarray:
    have = len(loops)
    if have == many:
        return loops
    if not have:
        loops = other
        have = len(loops)
    if not have or not many:
        return loops[:0]
    # the loops that are there, spread evenly: each keeps about its place
    place = np.minimum(np.arange(many) * have // many, have - 1)
    return loops[place]


class Rehearsal:
    """One row, about to be worked; it can be tried on any loops while its piece is in work."""

    __slots__ = (
        "_base_here",
        "_base_row",
        "_info",
        "_k",
        "_offset",
        "_part",
        "_yarn",
        "lie",
        "order",
        "rows_in_work",
    )

    def __init__(self, k: Knitter, part: Sequence[tree.Action]) -> None:
        self._k = k
        self._part = part
        self._info = structs.replace(k.info)
        self._offset = k.worker.offset
        self._yarn = k.worker.yarn
        self._base_here, self._base_row = k.base_here, k.base_row
        self.order = k.order + 1
        """The ledger order that the row will have."""
        self.lie = lie_of(k.worker.needles)
        """How the loops lie for it."""
        self.rows_in_work = bool(k.worker.frames)
        """Whether the words of an earlier row go on in it, so that it cannot be tried apart."""

    def lay(self, lie: Lie) -> None:
        """Let the loops really lie so: the knitting goes on on them."""
        worker = self._k.worker
        worker.needles = lay(lie, worker.needles)

    def work(self, lie: Lie) -> Came | None:
        """Work the row on loops that lie so, and put everything back; None if nothing can be worked."""
        k = self._k
        w = k.worker
        if self.rows_in_work or not lie.live:
            return None
        state = save(k)
        rest = (
            k.taken_up,
            k.base_here,
            k.base_row,
            k.heard,
            w.joined,
            w.piece,
            list(w.earlier),
            w.said,
            w.order,
        )
        rows_before = len(k.entries)
        heard: list[Problem] = []
        k.heard = heard
        try:
            w.needles = lay(lie, w.needles)
            k.ended, k.pending, k.open = False, None, False
            k.info = structs.replace(self._info)
            k.base_here, k.base_row = self._base_here, self._base_row
            w.offset, w.yarn = self._offset, self._yarn
            left = self._try()
            short = k.pending is not None
            k.pending = None
            done = lie_of(w.needles)
            ready(k)
            after = lie_of(w.needles)
            entries = len(k.entries) - rows_before
        finally:
            restore(k, state)
            (k.taken_up, k.base_here, k.base_row, k.heard, w.joined, w.piece, earlier, w.said, w.order) = rest
            w.earlier = earlier
        off, each, bad = _told(heard)
        crossed = any(isinstance(p, problems.MarkerCrossed) for p in heard)
        if not off and (left or short):
            off = left or done.left
        return Came(done, after, off, each, not (bad or short or left), crossed, entries)

    def _try(self) -> int:
        """Work it; how many loops were left when it had to be given up."""
        k = self._k
        w = k.worker
        left = 0
        open_row(k, self._part)
        if any(isinstance(s, tree.RowRule) and s.rule == "double over" for s in self._part):
            w.single_overs()
        try:
            w.row(self._part)
            w.flush()
        except Stop:
            try:
                w.flush()
            except Stop:
                w.gathered.clear()
            left = len(w.needles.left)
            give_up_row(k)
        end_row(k)
        return left


Watch = Callable[[Rehearsal], None]
"""Called before each row is worked."""


def _told(heard: Sequence[Problem]) -> tuple[int, int, bool]:
    """Of what was reported: how many stitches over or short, the repeat they are part of, if any is grave."""
    off, each, bad = 0, 0, False
    for p in heard:
        if p.severity != "error":
            continue
        bad = True
        if off:
            continue
        if isinstance(p, problems.CountDiffers):
            off = p.there - p.uses
        elif isinstance(p, problems.RepeatUneven):
            off, each = p.there % p.each, p.each
    return off, each, bad
