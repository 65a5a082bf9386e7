"""Rows followed once more, loop by loop: which loops each stitch took, and which it left.

In: a knitted pattern and some of its rows, in the order worked. Out: for each row its :class:`Deed` s as the
right side shows them, from left to right, and the loops that lie on the needles after it. Where they stand
in a chart is left to ``columns``, and what they look like to ``signs``.

The needles are not worked again: what was done stands in the log, and what hangs on what in the fabric. Only
the order of the loops is kept, as one line seen from the right side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Link
from purlwright.needles.ledger import Entry, Kind
from purlwright.needles.optable import op_table
from purlwright.pattern.tree import Side
from purlwright.stitches.kinds import Motion, Stitch
from purlwright.stitches.load import dictionary
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted

__all__ = ["Deed", "Followed", "Loop", "follow"]

_TAKEN = (Link.DRAWN, Link.TUCKED, Link.CROSSED_FRONT, Link.CROSSED_BACK)


class Loop:
    """A loop on the needle. ``stitch`` is its number in the fabric, -1 while it is not known.

    ``column`` is filled by ``columns``.
    """

    __slots__ = ("column", "stitch")

    def __init__(self, stitch: int) -> None:
        self.stitch = stitch
        self.column = -1


@dataclass(slots=True, kw_only=True)
class Deed:
    """One stitch worked: an operation of the dictionary, or one of the pattern's own by its name.

    ``taken`` and ``made`` are loops from left to right as the right side shows them. ``inner`` are the
    operations that one of the pattern's own is made of. ``closed`` says that it was bound off.
    """

    name: str
    own: bool
    stitch: Stitch | None
    taken: list[Loop]
    made: list[Loop]
    span: Span
    pass_: int
    yarn: int
    inner: tuple[str, ...] = ()
    closed: bool = False


@dataclass(slots=True, kw_only=True)
class Followed:
    """A row as it was worked. ``line`` are the loops on the needles after it, from left to right; those it
    did not reach are in ``waiting``.
    """

    entry: Entry
    from_right: bool
    deeds: list[Deed]
    before: list[Loop]
    line: list[Loop]
    waiting: set[int]
    turned: str = ""
    """How it turned before its end: "", "turn" or "turn-wrapped"."""


@dataclass(slots=True)
class _Raw:
    """One operation of the log, before its loops are known."""

    op: int
    span: int
    pass_: int
    takes: int
    makes: int
    new: tuple[int, ...]
    """New stitches in working order; -1 where a loop goes on."""


@dataclass(slots=True)
class _Line:
    """The loops as one line seen from the right side, and where the knitter stands in it."""

    loops: list[Loop]
    at: int
    """The gap she stands at: this many loops lie to the left of it."""
    place: dict[int, int] = field(default_factory=dict)
    cast: bool = False
    """Whether the loops were only cast on, so that it is not known yet from which end they are worked."""

    def index(self) -> None:
        self.place = {loop.stitch: i for i, loop in enumerate(self.loops) if loop.stitch >= 0}


def follow(knitted: Knitted, entries: Sequence[Entry]) -> list[Followed]:
    """Follow some rows of one piece, in the order worked; no rows give an empty list.

    The few rows before them are followed too, so that it is known how their loops lie.
    """
    if not entries:
        return []
    lead = _lead(knitted, entries[0])
    items = _items(knitted, {e.order for e in (*lead, *entries)})
    line = _Line([Loop(-1) for _ in range((*lead, *entries)[0].start)], 0)
    last: Followed | None = None
    out: list[Followed] = []
    facts = _Facts(knitted)
    for n, entry in enumerate((*lead, *entries)):
        if entry.kind is Kind.CAST_ON and not line.loops:
            made = knitted.fabric.row_of_stitch
            a, b = (int(np.searchsorted(made, entry.order, side)) for side in ("left", "right"))
            line = _Line([Loop(s) for s in range(a, b)], 0, cast=True)
            continue
        if entry.kind is Kind.JOIN:
            continue
        if len(line.loops) != entry.start and entry.kind is not Kind.BIND_OFF:
            _come_to(line, entry.start)
        last = _Row(knitted, facts, entry, line, items.get(entry.order, []), last).follow()
        if n >= len(lead):
            out.append(last)
    return out


_LEAD = 3
"""Rows followed before the first one wanted."""


def _lead(knitted: Knitted, first: Entry) -> list[Entry]:
    """The rows just before one, of the same piece."""
    for piece in knitted.ledger.pieces:
        if any(e.order == first.order for e in piece.rows):
            before = [e for e in piece.rows if e.order < first.order]
            return before[-_LEAD:]
    return []


def _come_to(line: _Line, many: int) -> None:
    """As many loops as the ledger says: what was held or taken up between rows is not in the log."""
    while len(line.loops) < many:
        line.loops.append(Loop(-1))
    if len(line.loops) > many:
        unknown = [loop for loop in line.loops if loop.stitch < 0]
        for loop in unknown[: len(line.loops) - many]:
            line.loops.remove(loop)
    line.at = min(line.at, len(line.loops))


def _items(knitted: Knitted, orders: set[int]) -> dict[int, list[tuple[Any, ...]]]:
    out: dict[int, list[tuple[Any, ...]]] = {}
    for item in knitted.log:
        if item[-1] in orders:
            out.setdefault(item[-1], []).append(item)
    return out


class _Facts:
    """What is asked of the fabric for every stitch, as plain lists, which are quicker to look into."""

    __slots__ = ("first", "link", "parent", "spans", "yarn")

    def __init__(self, knitted: Knitted) -> None:
        f = knitted.fabric
        self.spans = [Span(a, b) for a, b in zip(f.span_start.tolist(), f.span_end.tolist(), strict=True)]
        self.first = f.first_parent_of_stitch.tolist()
        self.parent = f.parent.tolist()
        self.link = f.link.tolist()
        self.yarn = f.yarn_of_stitch.tolist()


class _Row:
    """One row being followed."""

    def __init__(
        self,
        knitted: Knitted,
        facts: _Facts,
        entry: Entry,
        line: _Line,
        items: list[tuple[Any, ...]],
        last: Followed | None,
    ) -> None:
        self.facts = facts
        self.fabric = knitted.fabric
        self.own = knitted.own
        self.entry = entry
        self.line = line
        self.items = items
        self.rs = entry.side is not Side.WS
        if entry.side is None and entry.kind is Kind.ROW and last is not None:
            self.rs = not last.from_right
        self.deeds: list[Deed] = []
        self.begun = self.low = self.high = line.at
        """Where she began, and how far to the left and right she came."""
        self.wrapped = False
        self.parts: list[list[Loop]] = [[]]
        """Loops behind her in this row, in working order: those she made and those she left out. There are
        two parts where a round began in its middle."""
        self.skipped: list[Loop] = []
        self.yarn_at = ""
        """Where the yarn was brought last, "front" or "back"; "" once a stitch was drawn."""
        made = self.fabric.row_of_stitch
        a, b = (int(np.searchsorted(made, entry.order, side)) for side in ("left", "right"))
        self.fresh = (a, b)
        self.next_new = a

    # --- the row -------------------------------------------------------------------------------------

    def follow(self) -> Followed:
        line = self.line
        line.index()
        work = list(self._raws())
        self._look_which_way(work)
        line.at = self._start(work)
        before = list(line.loops)
        self.begun = self.low = self.high = line.at
        turned = ""
        for kind, what in work:
            if kind == "op":
                self._work(what)
            elif kind == "own":
                self._work_own(*what)
            elif kind == "turn":
                turned = "turn"
            else:
                self._act(kind, what)
        self._loose(self.fresh[1])
        return self._done(turned, before)

    def _done(self, turned: str, begun: list[Loop]) -> Followed:
        """Lay the line together again; ``begun`` is how it lay at first."""
        line = self.line
        left, right = line.loops[: self.low], line.loops[self.high :]
        if not self.rs:
            line.loops = [*left, *self.parts[0], *right]
            line.at = len(left) + len(self.parts[0])
            waiting = {*map(id, left), *map(id, right)}
        elif len(self.parts) == 1:
            line.loops = [*left, *reversed(self.parts[0]), *right]
            line.at = len(left)
            waiting = {*map(id, left), *map(id, right)}
        else:  # the round was begun in its middle: its first part lies at the left end, the rest at the right
            middle = line.loops[self.high : self.low]
            line.loops = [*reversed(self.parts[0]), *middle, *reversed(self.parts[1])]
            line.at = len(self.parts[0]) + len(middle)
            waiting = {id(loop) for loop in middle}
        gone = {id(loop) for deed in self.deeds if deed.closed for loop in deed.made}
        if self.entry.held:
            left_out = [id(loop) for loop in self.skipped] or list(waiting)
            if len(left_out) == self.entry.held:
                gone.update(left_out)
        if gone:
            line.at -= sum(id(loop) in gone for loop in line.loops[: line.at])
            line.loops = [loop for loop in line.loops if id(loop) not in gone]
        deeds = self.deeds if not self.rs else self.deeds[::-1]
        if self.rs and len(self.parts) > 1:
            first = {id(loop) for loop in self.parts[0]}
            deeds = [d for d in deeds if d.made and id(d.made[0]) in first] + [
                d for d in deeds if not (d.made and id(d.made[0]) in first)
            ]
        if self.entry.unworked and not turned:
            turned = "turn"
        if turned and self._wraps():
            turned = "turn-wrapped"
        waiting -= gone
        return Followed(
            entry=self.entry, from_right=self.rs, deeds=deeds, before=begun, line=list(line.loops),
            waiting=waiting, turned=turned if waiting else "",
        )  # fmt: skip

    def _wraps(self) -> bool:
        """Whether a loop was wrapped by a stitch of this row."""
        a, b = self.fresh
        f = self.fabric
        return bool(np.any((f.join_kind == Link.WRAPPED) & (f.join_a >= a) & (f.join_a < b)))

    # --- what was done, in order ---------------------------------------------------------------------

    def _raws(self) -> Iterator[tuple[str, Any]]:
        """The row's log as single operations, those of one own stitch together."""
        t = op_table()
        owned: dict[int, list[tuple[str, int, int, int]]] = {}
        skip: dict[int, tuple[int, str, int]] = {}
        run = -1
        for i, item in enumerate(self.items):
            if item[0] == "run":
                run = i
            elif item[0] == "own":
                _, name, span, a, b, _ = item
                if a >= 0:
                    owned.setdefault(run, []).append((name, span, a, b))
                else:
                    skip[i + a] = (i, name, span)
        i = 0
        while i < len(self.items):
            item = self.items[i]
            if i in skip:
                until, name, span = skip[i]
                inner = [raw for it in self.items[i:until] if it[0] == "run" for raw in _run(it, t)]
                yield "own", (name, span, inner, True)
                i = until + 1
                continue
            if item[0] == "run":
                raws = _run(item, t)
                groups = {a: (b, name, span) for name, span, a, b in sorted(owned.get(i, ()), key=_widest)}
                j = 0
                while j < len(raws):
                    if j in groups and groups[j][0] > j:
                        b, name, span = groups[j]
                        yield "own", (name, span, raws[j:b], False)
                        j = b
                    else:
                        yield "op", raws[j]
                        j += 1
            elif item[0] == "act":
                name = t.keys[item[1]]
                yield name, item
            i += 1

    def _look_which_way(self, work: Sequence[tuple[str, Any]]) -> None:
        """After a cast-on: the first loop made is worked last in a row, and first in a round."""
        line = self.line
        if not line.cast or not self.fresh[1] - self.fresh[0]:
            return
        line.cast = False
        raws = [
            raw
            for kind, what in work
            for raw in ([what] if kind == "op" else what[2] if kind == "own" else [])
        ]
        parents = [line.place[p] for raw in raws for p in self._parents(raw) if p in line.place]
        if len(parents) > 1 and (parents[0] < parents[-1]) == self.rs:
            line.loops.reverse()
            line.index()

    def _start(self, work: Sequence[tuple[str, Any]]) -> int:
        """Where she begins: at the loop that the first stitch was drawn through, or where she stands."""
        line = self.line
        n = len(line.loops)
        step = -1 if self.rs else 1
        before = 0
        for kind, what in work:
            raws = [what] if kind == "op" else what[2] if kind == "own" else []
            places = [line.place[p] for raw in raws for p in self._parents(raw) if p in line.place]
            if places and len(places) == sum(
                raw.takes for raw in raws
            ):  # crossings too, whatever their order
                return max(0, min(n, (max(places) + 1 + before) if self.rs else (min(places) - before)))
            for raw in raws:
                parents = self._parents(raw)
                for k, parent in enumerate(parents):
                    if parent in line.place:
                        at = line.place[parent]
                        edge = at + 1 if self.rs else at
                        return max(0, min(n, edge - step * (before + k)))
                before += raw.takes
        flat = self.entry.kind is not Kind.ROUND
        if self.entry.worked + self.entry.unworked >= n and not self.entry.unworked:
            return n if self.rs else 0
        if not flat and line.at == 0 and self.rs:
            return n
        return line.at

    def _parents(self, raw: _Raw) -> list[int]:
        """The stitches that an operation's loops were drawn from, in working order, as far as known."""
        if not raw.takes:
            return []
        facts = self.facts
        out: list[int] = []
        for s in raw.new:
            if s < 0:
                continue
            for i in range(facts.first[s], facts.first[s + 1]):
                if facts.link[i] in _TAKEN and facts.parent[i] not in out:
                    out.append(facts.parent[i])
        return out

    # --- taking and making loops ---------------------------------------------------------------------

    def _next(self) -> Loop | None:
        """The loop next to the needle's tip, taken from the line."""
        line = self.line
        if self.rs:
            if self.wrapped:
                if line.at <= self.high:
                    return None
            elif line.at <= 0:
                if self.begun >= len(line.loops) or self.entry.kind is not Kind.ROUND:
                    return None
                # round from the left end to the right one
                self.wrapped = True
                self.parts.append([])
                self.low = line.at = len(line.loops)
                if line.at <= self.high:
                    return None
            line.at -= 1
            self.low = min(self.low, line.at)
            return line.loops[line.at]
        if line.at >= len(line.loops):
            return None
        line.at += 1
        self.high = max(self.high, line.at)
        return line.loops[line.at - 1]

    def _take(self, many: int, parents: Sequence[int]) -> list[Loop]:
        """So many loops in working order. Those left out on the way wait where they are."""
        out: list[Loop] = []
        if many == 1 and len(parents) == 1:  # nearly always the loop that is next
            at, reach = self.line.at, (self.low, self.high)
            loop = self._next()
            if loop is not None and loop.stitch in {parents[0], -1}:
                loop.stitch = parents[0]
                return [loop]
            if loop is not None and not self.wrapped:
                self.line.at, (self.low, self.high) = at, reach
            elif loop is not None:
                return [loop]
        wanted = set(parents)
        while len(out) < many:
            loop = self._next()
            if loop is None:
                break
            if wanted and loop.stitch >= 0 and loop.stitch not in wanted and self._ahead(wanted):
                self.parts[-1].append(loop)
                self.skipped.append(loop)
                continue
            out.append(loop)
        unknown = [p for p in parents if p not in {loop.stitch for loop in out}]
        for loop in out:
            if loop.stitch not in wanted and unknown and loop.stitch < 0:
                loop.stitch = unknown.pop(0)
        return out

    def _ahead(self, wanted: set[int]) -> bool:
        """Whether a wanted loop lies further on."""
        places = [self.line.place[p] for p in wanted if p in self.line.place]
        at = self.line.at
        return any(place < at for place in places) if self.rs else any(place >= at for place in places)

    def _loose(self, until: int) -> None:
        """Stitches of this row that no operation of the log made: cast on, or picked up from an edge."""
        f = self.fabric
        for s in range(self.next_new, until):
            cast = f.ops[int(f.op_of_stitch[s])] == "cast on"
            loop = Loop(s)
            self.parts[-1].append(loop)
            self.deeds.append(
                Deed(
                    name="co" if cast else "pick up k", own=False, stitch=None, taken=[], made=[loop],
                    span=self._span(int(f.span_of_stitch[s])), pass_=1, yarn=int(f.yarn_of_stitch[s]),
                )
            )  # fmt: skip
        self.next_new = max(self.next_new, until)

    def _work(self, raw: _Raw) -> None:
        """Work one operation."""
        new = [s for s in raw.new if s >= 0]
        if new:
            self._loose(new[0])
            self.next_new = new[-1] + 1
        stitch = op_table().stitches[raw.op]
        if stitch is None or stitch.motion is not Motion.SLIP:
            self.yarn_at = ""
        elif self.yarn_at and stitch.key in {"sl", "sl pwise"}:
            stitch = dictionary().stitches["sl wyif" if self.yarn_at == "front" else "sl wyib"]
        taken = self._take(raw.takes, self._parents(raw))
        kept = iter(taken)
        made = [Loop(s) if s >= 0 else next(kept, Loop(-1)) for s in raw.new]
        self._add(
            Deed(
                name=stitch.key if stitch is not None else op_table().keys[raw.op], own=False, stitch=stitch,
                taken=taken, made=made,
                span=self._span(raw.span), pass_=raw.pass_,
                yarn=self._yarn(new or [loop.stitch for loop in taken if loop.stitch >= 0]),
            )
        )  # fmt: skip

    def _work_own(self, name: str, span: int, inner: list[_Raw], apart: bool) -> None:
        """Work one of the pattern's own stitches."""
        new = [s for raw in inner for s in raw.new if s >= 0]
        if new:
            self._loose(new[0])
            self.next_new = new[-1] + 1
        takes, makes = self.own.get(name, (1, 1))
        if not apart:
            takes, makes = sum(r.takes for r in inner), sum(r.makes for r in inner)
        parents = [p for raw in inner for p in self._parents(raw) if p < self.fresh[0]]
        taken = self._take(takes, parents)
        if apart:
            stitches = new[len(new) - makes :] if len(new) >= makes else [*new, *[-1] * (makes - len(new))]
            made = [Loop(s) for s in stitches]
        else:
            kept = iter(taken)
            made = [Loop(s) if s >= 0 else next(kept, Loop(-1)) for raw in inner for s in raw.new]
        keys = op_table().keys
        usual = None if name in self.own else dictionary().find(name)  # a crossing told in words in the row
        self._add(
            Deed(
                name=usual.key if usual is not None else name, own=usual is None, stitch=usual,
                taken=taken, made=made, span=self._span(span), pass_=inner[0].pass_ if inner else 1,
                yarn=self._yarn(new), inner=tuple(keys[r.op] for r in inner),
            )
        )  # fmt: skip

    def _add(self, deed: Deed) -> None:
        """One more stitch is worked; its loops lie from left to right in it."""
        if not deed.made and deed.taken:  # let go: its place is shown, its loop is not on the needle
            deed.made, deed.closed = [Loop(-1)], True
        self.parts[-1] += deed.made
        if self.rs:
            deed.taken, deed.made = deed.taken[::-1], deed.made[::-1]
        self.deeds.append(deed)

    def _yarn(self, stitches: Sequence[int]) -> int:
        return self.facts.yarn[stitches[0]] if stitches else -1

    def _span(self, number: int) -> Span:
        spans = self.facts.spans
        return spans[number] if 0 <= number < len(spans) else NOWHERE

    # --- actions that are no stitch ------------------------------------------------------------------

    def _act(self, name: str, item: tuple[Any, ...]) -> None:
        _, _, span, taken, made, _ = item
        if name in {"yarn front", "yarn back"}:
            self.yarn_at = name.removeprefix("yarn ")
        elif name == "bind off":
            self._bind_off(-made)
        elif name == "pass over":
            self._pass_over(taken, -made, span)
        elif name == "slip back":
            self._slip_back(-taken)
        elif name == "drop":
            for loop in self._take(taken, ()):
                gone = Deed(
                    name="drop", own=False, stitch=None, taken=[loop], made=[], span=self._span(span),
                    pass_=1, yarn=-1,
                )  # fmt: skip
                self._add(gone)

    def _bind_off(self, many: int) -> None:
        """Close the stitches passed over; with all of them the last, which no other is passed over."""
        f = self.fabric
        a, b = self.fresh
        passed = set(f.join_a[(f.join_kind == Link.PASSED) & (f.join_a >= a) & (f.join_a < b)].tolist())
        still = [d for d in self.deeds if d.made and not d.closed]
        over = [d for d in still if d.made[-1].stitch in passed or d.made[0].stitch in passed]
        closed = over[-many:] if len(over) >= many else [*over, *still[-1:]]
        for deed in closed:
            deed.closed = True

    def _pass_over(self, taken: int, gone: int, span: int) -> None:
        """Loops lifted over the last one worked: all of them together are one decrease."""
        if taken:
            more = self._take(taken, ())
            if self.deeds:
                last = self.deeds[-1]
                last.taken = [*more, *last.taken] if self.rs else [*last.taken, *more]
                last.name, last.stitch = f"{last.name}, pass next over", None
            return
        if len(self.deeds) <= gone or gone <= 0:
            return
        kept = self.deeds[-1]
        lifted = self.deeds[-1 - gone : -1]
        gone_loops = {id(loop) for d in lifted for loop in d.made}
        if not all(len(d.made) == 1 for d in lifted):
            return
        self.parts[-1] = [loop for loop in self.parts[-1] if id(loop) not in gone_loops]
        all_taken = [loop for d in (*lifted, kept) for loop in (d.taken[::-1] if self.rs else d.taken)]
        kept.taken = all_taken[::-1] if self.rs else all_taken
        kept.name = ", ".join([*(d.name for d in lifted), kept.name, "psso"])
        kept.stitch = None
        kept.span = lifted[0].span.cover(kept.span).cover(self._span(span))
        del self.deeds[-1 - gone : -1]

    def _slip_back(self, many: int) -> None:
        """Slipped loops go back to the left needle; what was only slipped is as if it had not been."""
        for _ in range(many):
            if not self.deeds or not self.parts[-1]:
                return
            last = self.deeds[-1]
            if last.stitch is not None and last.taken == last.made and len(last.made) == 1:
                self.deeds.pop()
                self.parts[-1].pop()
                self.line.at += 1 if self.rs else -1
            else:
                return


def _raws_of(kind: str, what: Any) -> list[_Raw]:
    """The operations of one thing that was done; none for an action that is no stitch."""
    return [what] if kind == "op" else what[2] if kind == "own" else []


def _run(item: tuple[Any, ...], t: Any) -> list[_Raw]:
    """A run of the log as single operations."""
    _, ops, spans, passes, first, _ = item
    n = len(ops)
    spans = np.broadcast_to(spans, n).tolist()
    passes = np.broadcast_to(passes, n).tolist()
    out: list[_Raw] = []
    at = first
    begins, is_new = t.first_child.tolist(), t.child_new.tolist()
    for op, span, pass_ in zip(ops.tolist(), spans, passes, strict=True):
        makes = t.makes_each[op]
        new = []
        for child in range(begins[op], begins[op] + makes):
            if is_new[child]:
                new.append(at)
                at += 1
            else:
                new.append(-1)
        out.append(_Raw(op, span, pass_, t.takes_each[op], makes, tuple(new)))
    return out


def _widest(group: tuple[str, int, int, int]) -> tuple[int, int]:
    return group[2], group[3]  # the widest of those that begin together comes last and is kept
