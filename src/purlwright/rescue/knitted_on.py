"""Mistakes knitted on: every mistake of every row, and what the rows after it come to.

In: a pattern, one size of it as knitted, and a way to knit it once more with someone watching. Out: for each
piece a :class:`PieceAt`: its rows, its mistakes, and the ways that altered loops go on. What can be seen of
them is laid out by ``table``.

A learner who does not know of her mistake works the rows in their order by the words. So each row has to be
tried only once for each way its loops can lie, whatever brought them there: a row that is tried on 51 loops
instead of 52 comes to the same for a dropped stitch and for two knitted together. Lies that reach a row
are gathered as the knitting goes on, and each is really worked (:mod:`~purlwright.needles.rehearse`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.needles.looks import RowLook, Working, is_worked, looks, operations
from purlwright.needles.optable import op_table
from purlwright.needles.rehearse import Came, Lie, Rehearsal
from purlwright.rescue.mistakes import mistakes_in
from purlwright.rescue.mistakes.made import Made, RowAt
from purlwright.rescue.mistakes.rows import other_size, section

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.needles.ledger import Ledger

__all__ = ["Knit", "PieceAt", "knit_on"]

Knit = Callable[[Callable[[Rehearsal], None]], object]
"""Knits the size once more, telling a watcher of each row."""

MOST_LIES = 400
"""So many different ways the loops can lie are followed through one row; more are let go, and said."""


@dataclass(slots=True)
class PieceAt:
    """One piece: its rows, the mistakes that can be made in them, and how altered loops go on.

    lies : for each row, and one more after the last, how its loops should lie; None where a row could not be
    tried, so that nothing is followed over it. came : for each row, what each way of lying came to.
    failing : rows that do not come out on the right loops: there the pattern is at fault.
    """

    name: str
    looks: tuple[RowLook, ...]
    made: list[Made] = field(default_factory=list)
    lies: list[Lie | None] = field(default_factory=list)
    came: list[dict[Lie, Came]] = field(default_factory=list)
    failing: dict[int, Came] = field(default_factory=dict)
    let_go: int = 0
    rows: list[RowAt | None] = field(default_factory=list)
    structured: list[bool] = field(default_factory=list)
    """For each row, whether it works more than one sort of stitch between two markers."""

    def after(self, row: int, lie: Lie) -> Came | None:
        """What row ``row`` comes to on loops that lie so; None if that was not tried."""
        return self.came[row].get(lie) if 0 <= row < len(self.came) else None


def knit_on(knitted: Knitted, knit: Knit, others: Sequence[tuple[str, Ledger]] = ()) -> tuple[PieceAt, ...]:
    """Follow every mistake of every row; ``others`` are the other sizes' ledgers."""
    watcher = _Watcher(knitted, others)
    knit(watcher.row)
    watcher.end()
    worked = [p for p in watcher.pieces if p.looks]
    if len(worked) == 1:
        worked[0].name = ""  # the only piece needs none
    return tuple(worked)


class _Watcher:
    """Looks at each row as it is about to be worked."""

    def __init__(self, knitted: Knitted, others: Sequence[tuple[str, Ledger]]) -> None:
        self.worked = operations(knitted)
        self.passes = _passes(knitted)
        self.acts, self.yarns = _acts(knitted), _yarns(knitted)
        self.nets = [(size, _nets(ledger)) for size, ledger in others]
        self.pieces: list[PieceAt] = []
        self.place: dict[int, tuple[int, int]] = {}
        self.pending: dict[Lie, None] = {}
        self.expected: Lie | None = None
        self.last = (-1, -1)
        self.section_from: RowAt | None = None
        for piece in knitted.ledger.pieces:
            seen = looks(knitted, piece)
            n = len(seen)
            for look in seen:
                self.place[look.entry.order] = (len(self.pieces), look.index)
            self.pieces.append(
                PieceAt(
                    name=piece.name,
                    looks=seen,
                    lies=[None] * (n + 1),
                    came=[{} for _ in range(n)],
                    rows=[None] * n,
                    structured=[False] * n,
                )
            )

    def row(self, r: Rehearsal) -> None:
        """A row is about to be worked."""
        at = self.place.get(r.order)
        if at is None:
            self._forget()
            return
        p, i = at
        if self.last != (p, i - 1) or self.expected != r.lie:
            self._forget()
        self.last = at
        piece = self.pieces[p]
        look = piece.looks[i]
        came = r.work(r.lie)
        self.expected = None
        if came is None or came.entries != 1 or (came.fits and came.done.live != look.entry.end):
            self._forget()
            return
        piece.lies[i] = r.lie
        piece.came[i][r.lie] = came
        if not came.fits:
            piece.failing[i] = came
            self._forget()
            return
        piece.lies[i + 1] = self.expected = came.ready
        row = RowAt(
            index=i,
            entry=look.entry,
            look=look,
            lie=r.lie,
            came=came,
            working=self.worked.get(r.order, _NOTHING),
            passes=self.passes.get(r.order),
            rehearsal=r,
            before=[x for x in piece.rows[max(i - 1, 0) : i] if x is not None],
            acts=self.acts.get(r.order, ()),
            yarns=self.yarns.get(r.order, 1),
        )
        piece.rows[i] = row
        piece.structured[i] = _structured(row)
        made = list(mistakes_in(row))
        key = (look.entry.line, look.entry.label, look.entry.pass_)
        made += other_size(row, [(size, nets[key]) for size, nets in self.nets if key in nets])
        made += self._sections(row)
        piece.made += made
        later: dict[Lie, None] = {}
        here = dict(self.pending)
        for m in made:
            if m.lie is not None:
                (here if m.on == i else later)[m.lie] = None
        for lie in here:
            if lie == r.lie:
                later[came.ready] = None
                continue
            if len(piece.came[i]) > MOST_LIES:
                piece.let_go += 1
                continue
            tried = r.work(lie)
            if tried is not None:
                piece.came[i][lie] = tried
                if tried.fits and tried.entries == 1:
                    later[tried.ready] = None
        later.pop(came.ready, None)
        self.pending = later

    def _sections(self, row: RowAt) -> list[Made]:
        """Whether a whole part ends with this row."""
        first = self.section_from
        if first is None or first.entry.section != row.entry.section or first.index > row.index:
            self.section_from = first = row
        piece, i = self.pieces[self.last[0]], row.index
        following = piece.looks[i + 1].entry.section if i + 1 < len(piece.looks) else None
        if following is None or following == row.entry.section:
            return []
        return list(section(first, row))

    def _forget(self) -> None:
        self.pending, self.expected = {}, None

    def end(self) -> None:
        """Nothing more is knitted: let the rows go, which hold the knitter."""
        for piece in self.pieces:
            piece.rows = []


def _structured(row: RowAt) -> bool:
    """Whether stitches of more than one sort stand between two markers, so that a lost one moves the rest."""
    w = row.working
    taken = w.takes.cumsum()
    for _, a, b in row.stretches():
        ops = w.ops[(taken > a) & (taken <= b)]
        if len(ops) > 1 and not bool((ops == ops[0]).all()):
            return True
    return False


_NONE = np.zeros(0, np.int32)
_NOTHING = Working(ops=np.zeros(0, np.int16), takes=_NONE, makes=_NONE, then=_NONE)


def _passes(knitted: Knitted) -> Mapping[int, Any]:
    """For each row which working of its repeat each operation is."""
    parts: dict[int, list[Any]] = {}
    for item in knitted.log:
        if item[0] == "run":
            parts.setdefault(item[5], []).append(np.broadcast_to(item[3], len(item[1])))
    return {order: np.concatenate(runs) for order, runs in parts.items()}


def _acts(knitted: Knitted) -> Mapping[int, tuple[str, ...]]:
    names = op_table().keys
    out: dict[int, set[str]] = {}
    for item in knitted.log:
        if item[0] == "act":
            out.setdefault(item[5], set()).add(names[item[1]])
    return {order: tuple(sorted(acts)) for order, acts in out.items()}


def _yarns(knitted: Knitted) -> Mapping[int, int]:
    """How many yarns were worked in each row."""
    f = knitted.fabric
    if not f.n:
        return {}
    pairs = np.unique(f.row_of_stitch.astype(np.int64) * 256 + f.yarn_of_stitch)
    rows, many = np.unique(pairs // 256, return_counts=True)
    return dict(zip(rows.tolist(), many.tolist(), strict=True))


def _nets(ledger: Ledger) -> dict[tuple[int, str, int], int]:
    """What each row of a size changes, by its words and pass."""
    return {(e.line, e.label, e.pass_): e.end - e.start for e in ledger.entries if is_worked(e)}
