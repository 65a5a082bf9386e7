"""Knitting a whole pattern for one size and one choice of options.

In: a pattern as read. Out: :class:`Knitted`: the fabric, the moves, the ledger and what was found wrong on the way.
How steps are worked is left to ``worker``; what statements over rows ask for, to ``statements``; which checks
the numbers must meet, to ``proof``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Fabric, Int32, Link, Seen
from purlwright.fabric.grow import Grower
from purlwright.findings import Collector, Finding, Problem
from purlwright.needles import problems
from purlwright.needles.ledger import Copied, Entry, Gap, Kind, Ledger, MarkAt, Piece, StatedCount
from purlwright.needles.loops import Boundary, Needles
from purlwright.needles.measure import Measure
from purlwright.needles.movelog import moves_of
from purlwright.needles.optable import op_table
from purlwright.needles.plan import Planned, plan_block
from purlwright.needles.worker import Counters, Edges, Stop, Worker
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.fabric.moves import Moves
    from purlwright.pattern.file import Pattern

__all__ = ["Knitted", "Knitter", "Row", "knit"]

MOST_ROWS = 60_000
_WORKING = (
    tree.Work, tree.Fill, tree.InGround, tree.InPattern, tree.Repeat, tree.Into, tree.Cross, tree.PassOver, tree.SlipBack,
    tree.Drop, tree.BindOff, tree.CastOn, tree.PickUp, tree.Evenly, tree.AtEdges, tree.Call, tree.Choice, tree.Wrap, tree.RowRef,
)  # fmt: skip
_STATEMENTS = (
    tree.WorkRows, tree.RepeatRows, tree.Shaping, tree.AtSameTime, tree.JoinRound, tree.Rejoin, tree.Resume, tree.Close,
    tree.Gather,
    tree.Arrange,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Knitted:
    """One size knitted with one choice of options.

    ``places`` says at how many places each check looked. ``unproved`` is true when some words were not read or did
    not come out, so that what follows stands on printed counts. Findings' spans are places in the source.
    """

    size: str
    options: tuple[tuple[str, str], ...]
    ledger: Ledger
    fabric: Fabric
    findings: tuple[Finding, ...]
    places: Mapping[str, int]
    unproved: bool
    own: Mapping[str, tuple[int, int]]
    _log: list[tuple[Any, ...]] = field(repr=False, compare=False)

    @property
    def moves(self) -> Moves:
        """Every single needle action, laid out from the log when first asked for."""
        return moves_of(self._log)


@dataclass(frozen=True, slots=True)
class Row:
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


@dataclass(slots=True)
class _State:
    """Everything that a trial of one reading may change, to be put back afterwards."""

    needles: Needles
    edges: Edges
    scalars: tuple[Any, ...]
    lengths: tuple[int, ...]
    mark: Any
    worker: tuple[Any, ...]


class Evidence(Exception):  # noqa: N818 - how a trial of a reading ends
    """A printed count (or the lack of stitches) spoke for or against the reading on trial."""

    def __init__(self, good: bool) -> None:  # noqa: FBT001
        super().__init__()
        self.good = good


class Knitter:
    """Knits one pattern. Made anew for each size and choice of options."""

    def __init__(self, pattern: Pattern, size: int, options: Mapping[str, str]) -> None:
        self.pattern = pattern
        self.size = size
        self.size_name = pattern.sizes[size] if size < len(pattern.sizes) else "one size"
        self.options = options
        self.findings = Collector()
        self.grower = Grower()
        table = op_table()
        self.own: dict[str, tuple[int, int]] = {}
        self.measure = Measure(size, self.own, {})
        self.worker = Worker(
            grower=self.grower, table=table, measure=self.measure, needles=Needles(), report=self.report, size=size,
            definitions={d.name: d for d in pattern.definitions}, calls=self.called, established=self.next_as_set,
            on_turn=self.turn,
        )  # fmt: skip
        self.entries: list[Entry] = []
        self.pieces: list[tuple[str, int]] = []
        self.piece_bound_off: list[int] = []
        self.piece_live: list[int] = []
        self.history: list[Row] = []
        self.section = -1
        self.heading = ""
        self.block = 0
        self.rule: tree.Line | None = None
        self.last_number: int | None = None
        self.open = False
        self.info = _Info()
        self.ended = False
        self.fresh_turn = False
        self.first_side: int | None = 0
        self.flip = True
        self.side_known = True
        self.pending: tuple[int, int, Span, int, str] | None = None
        self.unproved = False
        self.ever_unproved = False
        self.delta = 0
        self.trial = 0
        self.queue: list[tuple[int, tree.Line]] = []
        self.at = 0
        self.cycle: list[Row] = []
        self.cycle_at = 0
        self.base: tuple[tree.Step, ...] | None = None
        self.double_next = False
        self.order = 0
        self.rows_worked = 0
        self.chart_row: dict[str, int] = {}

    # --- reporting -------------------------------------------------------------------------------

    def report(self, problem: Problem, span: Span) -> None:
        """Report a problem at a span of the line in work."""
        w = self.worker
        if w.quiet or (self.info.quiet and problem.severity != "note"):
            self.unproved = self.ever_unproved = True
            return
        if problem.severity == "error":
            self.unproved = self.ever_unproved = True
            if self.trial:
                raise Evidence(good=False)
        place = span if span[1] < 0 else Span(span[0] + w.offset, span[1] + w.offset)
        if self.info.at is not None:
            place = self.info.at
        self.findings.report(problem, place)

    # --- sections and lines ------------------------------------------------------------------------

    def applies(self, sizes: Sequence[str], options: Sequence[tuple[str, str]]) -> bool:
        """Whether something limited to sizes and options is for this knitting."""
        if sizes and self.size_name not in sizes:
            return False
        by_name: dict[str, set[str]] = {}
        for name, value in options:
            by_name.setdefault(name, set()).add(value)
        return all(self.options.get(name) in values for name, values in by_name.items())

    def knit(self) -> Knitted:
        """Knit it all."""
        for d in self.pattern.definitions:
            self.derive(d)
        for i, section in enumerate(self.pattern.sections):
            if section.kind == "define":
                continue
            for line in section.lines:
                if self.applies(line.sizes, line.options):
                    self.queue.append((i, line))
        self.run_queue()
        self.finish()
        return self.result()

    def run_queue(self) -> None:
        """Work the queued lines from ``at`` to the end."""
        while self.at < len(self.queue):
            i, line = self.queue[self.at]
            if i != self.section:
                self.begin_section(i)
            label = line.label
            try:
                if label is not None and (label.numbers or label.rule):
                    self._block(i)
                else:
                    self.at += 1
                    self._before_line(line)
                    self.line(line)
            except _TooMuch:
                self.at = len(self.queue)
                return

    def begin_section(self, i: int) -> None:
        """The lines of section ``i`` follow."""
        self._trailing_rule()
        self.section = i
        self.heading = self.pattern.sections[i].heading
        self.rule = None
        self.last_number = None
        self.block += 1
        self.grower.begin_section()

    def _before_line(self, line: tree.Line) -> None:
        """A line without a row number ends the numbered block before it, and with it the rule for rows in between."""
        if any(not isinstance(a, (tree.Note, tree.Unread, tree.Stated)) for a in line.actions):
            self._trailing_rule()

    def _trailing_rule(self) -> None:
        rule, last = self.rule, self.last_number
        self.rule = None
        if rule is None or last is None or rule.label is None:
            return
        n = last + 1
        if covers(rule.label, n, self._rs_odd()) and not self._ends_with_row(last):
            self.numbered(n, rule)

    def _ends_with_row(self, last: int) -> bool:
        """Whether the words that follow say that the section ends with row ``last``."""
        if self.at < len(self.queue):
            for a in self.queue[self.at][1].actions:
                until = getattr(a, "until", None)
                if isinstance(until, tree.Until) and until.ending_row == last and isinstance(a, tree.Resume):
                    return True
        return False

    def _rs_odd(self) -> bool:
        """Whether odd rows of this section are right-side rows."""
        for r in reversed(self.history):
            if r.section == self.section and r.number is not None and r.block == self.block:
                return (r.number % 2 == 1) == (r.facing == 0)
        return True

    def _block(self, section: int) -> None:
        """Work a run of numbered lines in the order of their numbers."""
        start = self.at
        lines: list[tree.Line] = []
        while self.at < len(self.queue) and self.queue[self.at][0] == section:
            lines.append(self.queue[self.at][1])
            self.at += 1
        planned, used, restart = plan_block(lines, self.last_number)
        self.at = start + used
        if restart:
            self._trailing_rule()
            self.block += 1
            self.last_number = None
        rules = [ln for ln in lines[:used] if ln.label is not None and ln.label.rule]
        if rules:
            self.rule = rules[-1]
        for i, p in enumerate(planned):
            self._between(p.number)
            last = all(q.line is not p.line for q in planned[i + 1 :])
            if p.number is None:
                self.line(p.line)
                continue
            self.numbered(p.number, p.line, last=last, index=p.index)
        if self.at >= len(self.queue) or self.queue[self.at][0] != section:
            self._trailing_rule()

    def _between(self, number: int | None) -> None:
        """Rows that only a rule speaks of ("all WS rows: purl") stand between the numbered ones."""
        rule = self.rule
        if number is None or rule is None or rule.label is None or self.last_number is None:
            return
        for n in range(self.last_number + 1, min(number, self.last_number + 500)):
            if covers(rule.label, n, self._rs_odd()):
                self.numbered(n, rule)

    def numbered(self, number: int, line: tree.Line, *, last: bool = True, index: int = 0) -> None:
        """Work row ``number`` by the words of ``line``."""
        label = line.label
        assert label is not None
        actions = line.actions
        many = len(label.numbers) > 1
        copy = self._copy_block(label, actions)
        if copy is not None:
            if index == 0:
                rest = copy[1]
                self._copied_rows(label, line, copy[0])
                if rest:
                    self.actions(rest, line, self._info(line, None, ""))
            self.last_number = number
            return
        if many and not last:
            actions = tuple(a for a in actions if not isinstance(a, (*_STATEMENTS, tree.Stated)) or _is_row(a))
        word = label.words if not many and label.words else row_word(number, label.unit)
        if label.rule and number not in label.numbers:
            word = row_word(number, label.unit)
        info = self._info(line, number, word)
        info.side = label.side if label.side is not None and not (label.rule and not label.numbers) else None
        self.actions(actions, line, info)
        self.last_number = number

    def _info(self, line: tree.Line, number: int | None, word: str) -> _Info:
        label = line.label
        return _Info(
            label=word, number=number, line=line.line, offset=line.offset, unit=label.unit if label else None,
            span=_body_span(line), name=(label.name or "") if label else "", actions=line.actions,
            side=label.side if label else None,
            quiet=any(isinstance(a, tree.Unread) for a in line.actions),
            colour=label.colour if label else None,
        )  # fmt: skip

    def _copy_block(
        self, label: tree.Label, actions: Sequence[tree.Action]
    ) -> tuple[tree.RepeatRows, tuple[tree.Action, ...]] | None:
        """"Rows 7-12: rep rows 1-6": the repeat, and what follows it."""
        for i, a in enumerate(actions):
            if isinstance(a, tree.Note):
                continue
            if isinstance(a, tree.RepeatRows) and not a.define and label.numbers:
                if len(label.numbers) == 1 and (a.until is not None or (a.times is not None and a.times.at(self.size) != 1)):
                    return None
                return a, tuple(actions[i + 1 :])
            return None
        return None

    def _copied_rows(self, label: tree.Label, line: tree.Line, rep: tree.RepeatRows) -> None:
        self.worker.offset = line.offset
        source = self.rows_of(rep.rows, rep.span)
        if not source:
            return
        n, k = len(label.numbers), len(source)
        self.worker.look("C026")
        given = k * (self.measure.number(rep.times) if rep.times is not None else max(n // k, 1))
        if rep.times is not None and rep.said is tree.Said.MORE and given != n and given + k == n:
            given = n
        if n % k or given != n:
            self.report(problems.RowsDiffer(n, given if rep.times is not None else k), rep.span)
        for i, number in enumerate(label.numbers):
            r = source[i % k]
            info = self._info(line, number, row_word(number, label.unit))
            info.copied = Copied(r.label or row_word(r.number or 0, r.unit), r.line)
            info.actions, info.offset, info.quiet = r.actions, r.offset, any(isinstance(a, tree.Unread) for a in r.actions)
            info.side = label.side if n == 1 else None
            info.at = _body_span(line)
            self.actions([a for a in r.actions if not isinstance(a, tree.Stated)], line, info)
            self.last_number = number

    def line(self, line: tree.Line) -> None:
        """Work a line that has no row number."""
        label = line.label
        times = 1
        word = label.words if label is not None else ""
        if label is not None and label.next is not None:
            times = max(self.measure.number(label.next), 0)
        for i in range(min(times, MOST_ROWS)):
            actions = line.actions
            if i < times - 1:
                actions = tuple(a for a in actions if not isinstance(a, (*_STATEMENTS, tree.Stated)) or _is_row(a))
            self.actions(actions, line, self._info(line, None, word))

    # --- actions of one line -----------------------------------------------------------------------------

    def actions(self, actions: Sequence[tree.Action], line: tree.Line, info: _Info) -> None:
        """Work the actions of a line in order: steps make rows, statements stand between rows."""
        from purlwright.needles.statements import work_statement  # noqa: PLC0415 - the two lean on each other

        self.info = info
        self.worker.offset = info.offset
        if info.colour is not None:
            self.worker.yarn = self.grower.yarn(info.colour)
        i, n = 0, len(actions)
        while i < n:
            a = actions[i]
            if isinstance(a, _STATEMENTS):
                self.end_row()
                self.info, self.worker.offset = info, info.offset
                work_statement(self, a, actions[i + 1 :], line)
                self.info, self.worker.offset = info, info.offset
                i += 1
                continue
            if isinstance(a, tree.Stated):
                self.stated(a)
                i += 1
                continue
            j = i
            while j < n and not isinstance(actions[j], (*_STATEMENTS, tree.Stated)):
                j += 1
            self.group(actions[i:j])
            i = j
        self.end_row()

    def group(self, steps: Sequence[tree.Action]) -> None:
        """Work steps that stand together: part of a row, a row, or several with turns between."""
        steps = [s for s in steps if not isinstance(s, tree.Note)]
        if not steps:
            return
        if any(isinstance(s, tree.Unread) for s in steps):
            self.unproved = self.ever_unproved = True
        steps = self._resolved(steps)
        k = 0
        while k < len(steps):
            s = steps[k]
            if isinstance(s, tree.CastOn) and (s.at == "start" or (not self.open and self.worker.needles.live == 0)) and self.begins_piece():
                self.cast_on(s)
                k += 1
                continue
            if isinstance(s, tree.Turn) and not self.open:
                self.turn_between(s)
                k += 1
                continue
            j = k
            while j < len(steps) and not (
                isinstance(steps[j], tree.Turn) and not steps[j].never  # type: ignore[union-attr]
            ) and not (isinstance(steps[j], tree.CastOn) and steps[j].at == "start" and j > k):  # type: ignore[union-attr]
                j += 1
            part = steps[k : j + 1] if j < len(steps) and isinstance(steps[j], tree.Turn) else steps[k:j]
            self._part(part)
            k += len(part)

    def _resolved(self, steps: Sequence[tree.Action]) -> list[tree.Action]:
        """References to other rows are replaced by those rows' steps."""
        out: list[tree.Action] = []
        for s in steps:
            if isinstance(s, tree.RowRef):
                r = self.find_row(s.number, s.name)
                self.worker.look("C020")
                if r is None:
                    self.report(problems.NoSuchRow(s.name or row_word(s.number or 0, s.unit).lower()), s.span)
                    continue
                if self.info.copied is None:
                    self.info.copied = Copied(r.label or row_word(r.number or 0, r.unit), r.line)
                if len(steps) == 1:
                    self.worker.offset = r.offset
                    self.info.at = self.info.span
                out.extend(x for x in r.actions if not isinstance(x, (*_STATEMENTS, tree.Stated, tree.Note)))
            else:
                out.append(s)
        return out

    def _part(self, part: Sequence[tree.Action]) -> None:
        """Work steps up to a turn (or the end of the group)."""
        works = [s for s in part if isinstance(s, _WORKING)]
        w = self.worker
        if not works and not (self.open and w.count.touched):
            if any(isinstance(s, (tree.Hold, tree.Return)) for s in part):
                self.ready()
            try:
                w.steps(part)
            except Stop:
                pass
            if part and isinstance(part[-1], tree.Turn):
                return
            return
        if not self.open:
            if not self._can_begin(works, part):
                return
            extends = isinstance(works[0], (tree.PickUp,)) or (
                isinstance(works[0], tree.CastOn) and works[0].at in {"end", "here", "gap"} and len(works) == 1
            )
            self.open_row(part, extends=extends)
        if self.double_next:
            self.double_next = False
        try:
            w.steps(part)
        except Stop:
            w.flush()
            self._give_up_row()

    def _can_begin(self, works: Sequence[tree.Action], part: Sequence[tree.Action]) -> bool:
        """Whether anything is there to work on; starts a piece from held loops or a pick-up if the words do."""
        nd = self.worker.needles
        if nd.live:
            return True
        if isinstance(works[0], (tree.PickUp, tree.CastOn)) or any(isinstance(s, tree.Return) for s in part):
            self.begin_piece()
            return True
        if not self.unproved or not self.entries:
            self.report(problems.NothingOnNeedle(self.info.name_of_row()), works[0].span)
        self.unproved = self.ever_unproved = True
        return False

    def _give_up_row(self) -> None:
        """The rest of the row cannot be worked: move what is left over, so that the next row has a whole needle."""
        nd = self.worker.needles
        self.unproved = self.ever_unproved = True
        self.info.gave_up = True
        if len(nd.left):
            self.info.left_behind = len(nd.left)
            nd.right = np.concatenate([nd.right, nd.left[::-1]])
            total = len(nd.right)
            nd.right_marks += [
                b.moved(total - b.at) for b in reversed(nd.left_marks) if b.kind == "marker"
            ]
            nd.left, nd.left_marks = nd.left[:0], []

    # --- rows -------------------------------------------------------------------------------------------

    def ready(self) -> None:
        """Put the loops on the left needle as for the next row, without beginning one."""
        w = self.worker
        nd = w.needles
        if self.ended:
            self.ended = False
            if nd.ring:
                nd.come_round()
            else:
                nd.turn()
                if self.first_side is None:
                    w.facing ^= 1
            self.fresh_turn = True

    def open_row(self, part: Sequence[tree.Action], *, extends: bool = False) -> None:
        """Begin a row: turn if the last one is done, find the side, start counting."""
        w = self.worker
        nd = w.needles
        if self.pending is not None:
            self._settle_short(part)
        if self.ended and not extends:
            self.ready()
        if self.rows_worked > MOST_ROWS:
            self.report(problems.TooMuchKnitting(f"more than {MOST_ROWS:,} rows"), self.info.span_rel())
            raise _TooMuch
        self.rows_worked += 1
        self.order += 1
        w.order = self.order
        self.open = True
        self.fresh_turn = False
        w.count = Counters(start=nd.live)
        w.loop_waits = False
        w.short = 0
        w.row_name = self.info.name_of_row()
        w._made_here = 0  # noqa: SLF001 - the worker's own count of this row
        for b in nd.left_marks:
            b.met = False
        self._side(extends=extends)

    def _side(self, *, extends: bool) -> None:
        """Which side faces: the printed label wins; else rounds are RS and rows alternate."""
        w = self.worker
        label = self.info.side
        if self.first_side is not None and not extends:
            w.facing = self.first_side
            self.first_side = None
        elif w.needles.ring and not self.info.turned_in_ring:
            w.facing = 0
        if label is None:
            w.side = w.facing if self.side_known else 2
            if not self.side_known:
                known = self._side_ahead()
                if known is not None:
                    w.facing = w.side = known
                    self.side_known = True
                else:
                    self.report(problems.SideNotKnown(self.info.name_of_row()), self.info.span_rel())
            return
        stated = 0 if label is Side.RS else 1
        w.look("C021")
        if self.side_known and stated != w.facing and not (w.needles.ring and stated == 0) and not extends:
            names = ("RS", "WS")
            self.report(
                problems.SideDiffers(self.info.name_of_row(), names[stated], names[w.facing]), self.info.label_span()
            )
        w.facing = w.side = stated
        self.side_known = True

    def _side_ahead(self) -> int | None:
        """The side of the next row that follows from the next printed side, counting rows back from it."""
        n = 0
        for i, line in self.queue[self.at : self.at + 40]:
            if i != self.section:
                return None
            label = line.label
            if label is None:
                if any(isinstance(a, _WORKING) for a in line.actions):
                    n += 1
                for a in line.actions:
                    if isinstance(a, _STATEMENTS):
                        return None
                continue
            if label.side is not None and not label.rule:
                side = 0 if label.side is Side.RS else 1
                return side ^ ((n + 1) % 2)
            n += max(len(label.numbers), 1)
        return None

    def _settle_short(self, part: Sequence[tree.Action]) -> None:
        """The last row stopped before its end without a turn. What follows tells what was meant."""
        assert self.pending is not None
        uses, there, span, entry, name = self.pending
        self.pending = None
        w = self.worker
        nd = w.needles
        c = self.measure.all(part)
        rest = len(nd.left)
        if self.info.number is None and not self.info.label and c is not None and c[0] == rest:
            return  # the words go on in the same row
        if c is not None and c[0] == len(nd.right) and c[0] != rest + len(nd.right):
            self._gap(entry, "")
            nd.turn()
            w.facing ^= 1
            return
        self.findings_short(uses, there, span, name)
        self._move_over()

    def findings_short(self, uses: int, there: int, span: Span, name: str) -> None:
        """Say that a row left stitches over."""
        if self.trial:
            raise Evidence(good=False)
        if self.unproved:
            return
        self.unproved = self.ever_unproved = True
        self.findings.report(problems.CountDiffers(name, uses, there), span)

    def _move_over(self) -> None:
        nd = self.worker.needles
        nd.right = np.concatenate([nd.right, nd.left[::-1]])
        total = len(nd.right)
        nd.right_marks += [b.moved(total - b.at) for b in reversed(nd.left_marks) if b.kind == "marker"]
        nd.left, nd.left_marks = nd.left[:0], []
        self.ended = True

    def settle(self) -> None:
        """Nothing more is worked in the last row: if it stopped short, say so."""
        if self.pending is not None:
            uses, there, span, _, name = self.pending
            self.pending = None
            if len(self.worker.needles.left):
                self.findings_short(uses, there, span, name)
                self._move_over()

    def _gap(self, order: int, how: str) -> None:
        nd = self.worker.needles
        if len(nd.left):
            nd.left_marks = [b for b in nd.left_marks if not (b.kind == "gap" and b.at == len(nd.left))]
            nd.left_marks.append(Boundary("gap", len(nd.left), "", order, how))

    def turn(self, step: tree.Turn) -> None:
        """Turn in the course of a row: the row is done, what is left stays unworked."""
        w = self.worker
        nd = w.needles
        if not self.open:
            self.turn_between(step)
            return
        if step.leave is not None:
            w.look("C031")
            leave = self.measure.number(step.leave)
            if leave != len(nd.left):
                self.report(problems.LeavesDiffers(w.row_name, leave, len(nd.left)), step.span)
        w.log.append(("act", w.table.number["turn"], w.span_id(step.span), 0, 0, w.order))
        if step.how is tree.TurnHow.WRAP and len(nd.left):
            loop = int(nd.left[-1])
            w.wraps[loop] = "wrap"
            if len(nd.right):
                self.grower.join(int(nd.right[-1]), loop, Link.WRAPPED)
        elif step.how is not tree.TurnHow.PLAIN and len(nd.right):
            w.wraps[int(nd.right[-1])] = str(step.how)
        if step.how is not tree.TurnHow.PLAIN:
            w.look("C033")
        if step.slide:
            self.end_row()
            if self.ended:
                self.ended = False
                nd.slide()
                self.fresh_turn = True
                w.facing ^= 0
            return
        order = self.order
        self._gap(order, str(step.how))
        self.end_row(turned=True)
        nd.turn()
        w.facing ^= 1
        self.fresh_turn = True
        self.ended = False

    def turn_between(self, step: tree.Turn) -> None:
        """"Turn." that stands between rows."""
        if step.never:
            if self.ended and not step.slide:
                # the work is not turned: what follows goes on from the right needle
                self.flip = False
            return
        w = self.worker
        nd = w.needles
        if step.slide:
            if self.ended:
                self.ended = False
                nd.slide()
            return
        if self.ended:
            self.ended = False
            if nd.ring:
                nd.come_round()
            nd.turn()
            if self.first_side is None:
                w.facing ^= 1
            self.fresh_turn = True
            return
        if self.pending is not None:
            _, _, _, order, _ = self.pending
            self.pending = None
            self._gap(order, str(step.how))
            nd.turn()
            w.facing ^= 1
            self.fresh_turn = True

    def end_row(self, *, turned: bool = False) -> None:  # noqa: C901, PLR0912
        """The row is done: enter it in the ledger."""
        if not self.open:
            return
        w = self.worker
        try:
            w.flush()
        except Stop:
            self._give_up_row()
        self.open = False
        nd, c, info = w.needles, w.count, self.info
        live = nd.live
        start_mark = any(b.kind == "start" and b.at == len(nd.left) for b in nd.left_marks)
        whole = len(nd.left) == 0 or start_mark
        unworked = info.left_behind if info.gave_up else len(nd.left)
        if c.touched == 0 and c.made == 0 and c.held == 0 and c.returned == 0 and c.lost == 0:
            self.order -= 1
            self.rows_worked -= 1
            self.ended = self.ended or whole
            return
        kind = Kind.ROW
        if c.start == 0 and c.cast_on and not c.touched and not c.picked_up:
            kind = Kind.CAST_ON
        elif c.touched == 0 and c.picked_up:
            kind = Kind.PICK_UP
        elif live == 0 and c.bound_off:
            kind = Kind.BIND_OFF
        elif nd.ring and not turned and not info.turned_in_ring:
            kind = Kind.ROUND
        if nd.ring:
            info.turned_in_ring = turned
        if c.edge_first >= 0 and not nd.ring and kind in {Kind.ROW, Kind.BIND_OFF}:
            self._edges(c, whole=whole)
        side = None if w.side == 2 else (Side.WS if w.side else Side.RS)
        entry = Entry(
            order=self.order, kind=kind, label=info.label, number=info.number, section=self.heading,
            pass_=self._pass(info), side=None if kind is Kind.CAST_ON else side, start=c.start, worked=c.worked,
            unworked=unworked, made=c.made, lost=c.lost, held=c.held, returned=c.returned, end=live,
            gaps=self._gaps(nd, w.facing), markers=self._markers(nd), line=info.line, span=info.span,
            copied=info.copied, unread=info.quiet, resumed=False, first=c.first, last=c.last,
            stitches_so_far=self.grower.n, first_stitch=0, yarns=(self.grower.yarns[w.yarn],),
            ridges_right=self._ridges(w.edges.right), ridges_left=self._ridges(w.edges.left),
        )  # fmt: skip
        self.enter(entry)
        if kind in {Kind.ROW, Kind.ROUND}:
            w.look("C001")
            self._remember(entry, info)
        elif kind is Kind.BIND_OFF:
            w.look("C001")
        if turned:
            return
        if whole:
            self.ended = True
            if start_mark:
                nd.come_round()
                self.ended = False
                self.fresh_turn = True
        elif nd.live and kind is not Kind.PICK_UP:
            uses = c.worked
            self.pending = (uses, uses + len(nd.left), info.span, entry.order, info.name_of_row())
        else:
            self.ended = kind is Kind.PICK_UP
        if live == 0:
            self.end_piece()

    def _pass(self, info: _Info) -> int:
        if not info.counts_passes:
            return 1
        n = 1
        for e in reversed(self.entries):
            if e.line == info.line and e.label == info.label and e.section == self.heading and e.order < self.order:
                n = e.pass_ + (1 if info.new_pass else 0)
                break
        info.new_pass = False
        return n

    def _edges(self, c: Counters, *, whole: bool) -> None:
        w = self.worker
        if w.facing == 0:
            w.edges.right.append(c.edge_first)
            if whole:
                w.edges.left.append(c.edge_last)
        else:
            w.edges.left.append(c.edge_first)
            if whole:
                w.edges.right.append(c.edge_last)

    def _ridges(self, edge: Sequence[int]) -> int:
        return len(edge) // 2

    @staticmethod
    def _gaps(nd: Needles, facing: int) -> tuple[Gap, ...]:
        out: list[Gap] = []
        total, left, right = nd.live, len(nd.left), len(nd.right)
        for b in nd.left_marks:
            if b.kind == "gap":
                out.append(Gap(b.at if facing else total - b.at, b.turned_on))
        for b in nd.right_marks:
            if b.kind == "gap":
                out.append(Gap(total - b.at if facing else b.at, b.turned_on))
        del left, right
        return tuple(sorted(out, key=lambda g: g.from_right_rs))

    @staticmethod
    def _markers(nd: Needles) -> tuple[MarkAt, ...]:
        right = len(nd.right)
        total = nd.live
        if nd.ring:
            return tuple(MarkAt(b.name, b.at) for b in nd.right_marks if b.kind == "marker")
        return tuple(
            MarkAt(b.name, total - b.at) for b in reversed(nd.right_marks) if b.kind == "marker" and b.at <= right
        )

    def enter(self, entry: Entry) -> None:
        """Add an entry to the ledger."""
        if not self.pieces:
            self.begin_piece()
        self.entries.append(entry)
        self.piece_bound_off[-1] += self.worker.count.bound_off

    def _remember(self, entry: Entry, info: _Info) -> None:
        row = Row(
            info.number, info.name.lower(), info.label, tuple(info.actions), info.line, info.offset, info.span,
            self.section, info.unit, entry.order, self.block, entry.start, entry.end, self.worker.facing,
        )  # fmt: skip
        last = self.history[-1] if self.history else None
        if last is not None and last.line == row.line and last.label == row.label and last.actions is row.actions and info.part:
            return
        self.history.append(row)
        info.part = True
        if not info.passive:
            self._extend_cycle(row)

    def _extend_cycle(self, row: Row) -> None:
        """Keep the rows of the pattern as set, so that "in pattern" knows which comes next."""
        if self.cycle and (self.cycle[-1].block != row.block or self.cycle[-1].section != row.section):
            self.cycle = []
        for i, r in enumerate(self.cycle):
            if r.number is not None and r.number == row.number:
                self.cycle[i] = row
                self.cycle_at = (i + 1) % len(self.cycle)
                return
        self.cycle.append(row)
        self.cycle_at = 0
        self.base = None

    def next_as_set(self) -> tuple[tree.Step, ...] | None:
        """The steps of the row that comes next in the pattern as set; None if no pattern is."""
        if self.base is not None:
            return self.base
        if not self.cycle:
            return None
        r = self.cycle[self.cycle_at % len(self.cycle)]
        if self.info.advance_order != self.order:
            self.info.advance_order = self.order
            self.cycle_at = (self.cycle_at + 1) % len(self.cycle)
        steps = tuple(a for a in r.actions if not isinstance(a, (*_STATEMENTS, tree.Stated, tree.Note)))
        if any(isinstance(x, (tree.InPattern, tree.AtEdges, tree.RowRef, tree.CastOn, tree.BindOff, tree.Turn)) for x in steps):
            return None
        return steps  # type: ignore[return-value]

    # --- counts printed by the designer -----------------------------------------------------------------------

    def stated(self, s: tree.Stated) -> None:
        """Compare a printed count with the needle; go on from it after words that could not be knitted."""
        w = self.worker
        if self.open:
            w.flush()
            if not len(w.needles.left) or self.info.gave_up:
                self.end_row()
        if s.kind in {"part", "held", "bound off"} or (s.kind == "unworked" and s.total is not None):
            if s.kind == "unworked" and s.total is not None and self.entries:
                w.look("C031")
                want = self.measure.number(s.total)
                have = self.entries[-1].unworked if not self.open else len(w.needles.left)
                rest = [g for g in (self.entries[-1].gaps or ())]
                if want != have and not any(
                    want in (g.from_right_rs, w.needles.live - g.from_right_rs) for g in rest
                ):
                    self.report(problems.LeavesDiffers(self.info.name_of_row(), want, have), s.span)
            return
        if s.change is not None and s.total is None:
            self._stated_change(s)
            return
        if s.total is None:
            return
        want = s.total.at(self.size)
        if want is None:
            return
        have = w.needles.live
        last = self.entries[-1] if self.entries else None
        w.look("C002")
        parts = [p.at(self.size) or 0 for p in s.parts]
        if parts and sum(parts) != want and want == have:
            self.report(problems.StatedPartsDiffer(sum(parts), have), s.span)
        ok = want == have or (s.approximate and abs(want - have) <= max(2, have // 20))
        if not ok and last is not None and not self.open:
            ok = (bool(last.unworked or last.gaps) and want == last.worked) or want in self._needle_parts(want, have)
        span = Span(s.span[0] + w.offset, s.span[1] + w.offset) if s.span[1] >= 0 else NOWHERE
        used = False
        if self.trial and not s.approximate:
            raise Evidence(good=ok)
        if ok:
            self.unproved = False
            self.delta = 0
        elif self.unproved:
            used = True
            self.findings.report(problems.KnittedOnFromCount(want, have), span)
            self._resume_from(want)
            self.unproved = False
            self.delta = 0
        elif want - have != self.delta or self.delta == 0:
            self.delta = want - have
            self.report(problems.TotalDiffers(self.info.name_of_row(), want, have), s.span)
            self.unproved = False
        if last is not None:
            self._restate(last, StatedCount(want, have, span, "total", used, s.approximate), resumed=used)

    def _needle_parts(self, want: int, have: int) -> tuple[int, ...]:
        """Counts that may be meant besides the whole needle; none for now but equal shares on several needles."""
        del want, have
        return ()

    def _restate(self, last: Entry, stated: StatedCount, *, resumed: bool) -> None:
        import dataclasses  # noqa: PLC0415 - only where an entry is changed

        end = self.worker.needles.live if not self.open else last.end
        made, lost = last.made, last.lost
        if resumed:
            made, lost = made + max(end - last.end, 0), lost + max(last.end - end, 0)
        self.entries[-1] = dataclasses.replace(
            last, stated=(*last.stated, stated), resumed=last.resumed or resumed, end=end, made=made, lost=lost
        )

    def _resume_from(self, want: int) -> None:
        """Bring the needle to ``want`` loops, so that the knitting can go on."""
        nd = self.worker.needles
        if self.open:
            self._give_up_row()
        if len(nd.left) and not self.ended:
            self._move_over()
        self.pending = None
        have = len(nd.right)
        if want > 500_000:
            return
        if want > have:
            extra = self.worker.new_loops(want - have, Span(0, 0))
            nd.right = np.concatenate([nd.right, extra])
        else:
            nd.right = nd.right[:want]
            nd.right_marks = [b for b in nd.right_marks if b.at <= want]
        self.ended = True
        if not self.pieces:
            self.begin_piece()

    def _stated_change(self, s: tree.Stated) -> None:
        w = self.worker
        if not self.entries or s.change is None:
            return
        want = s.change.at(self.size)
        if want is None:
            return
        w.look("C003")
        if self.open:
            w.flush()
            have = w.count.made - w.count.lost
        else:
            have = self.entries[-1].made - self.entries[-1].lost
        if self.trial:
            raise Evidence(good=want == have)
        if want != have and not self.unproved:
            self.report(problems.ChangeDiffers(self.info.name_of_row(), want, have), s.span)

    # --- pieces ------------------------------------------------------------------------------------------------

    def begins_piece(self) -> bool:
        """Whether a cast-on here begins a new piece: nothing is live, or all that is live waits."""
        return self.worker.needles.live == 0

    def begin_piece(self) -> None:
        """A new piece begins here, named by the heading it stands under."""
        name = self.heading or self.pattern.title or "Piece"
        names = [n for n, _ in self.pieces]
        if name in names:
            k = 2
            while f"{name} {k}" in names:
                k += 1
            name = f"{name} {k}"
        self.pieces.append((name, len(self.entries)))
        self.piece_bound_off.append(0)
        self.piece_live.append(0)
        self.worker.edges = Edges()
        self.worker.needles.ring = False
        self.worker.needles.start_marked = False
        self.worker.ground_row.clear()
        self.ended = False
        self.pending = None
        self.first_side = 0
        self.side_known = True
        self.cycle, self.base = [], None

    def end_piece(self) -> None:
        """All loops of the piece are off the needles."""
        self.ended = False
        self.worker.needles.left_marks, self.worker.needles.right_marks = [], []

    def cast_on(self, s: tree.CastOn) -> None:
        """Begin a piece by casting on."""
        self.end_row()
        w = self.worker
        n = self.measure.number(s.count, 0) * max(s.each, 1)
        if s.count is None and s.multiple is not None:
            n = self.measure.number(s.multiple) * 3 + self.measure.number(s.plus, 0)
        if s.count is None and s.needles:
            n = sum(self.measure.number(x) for x in s.needles)
        w.look("C004")
        if n <= 0:
            return
        self.begin_piece()
        self.order += 1
        w.order = self.order
        w.count = Counters()
        w.side = 2
        try:
            ids = w.new_loops(n, s.span, side=2)
        except Stop:
            raise _TooMuch from None
        w.needles.right = ids
        w.needles.left = ids[:0]
        w.edges.cast_on.append(ids)
        w.count.made = n
        info = self.info
        self.enter(
            Entry(
                order=self.order, kind=Kind.CAST_ON, label=info.label, section=self.heading, side=None, start=0,
                worked=0, made=n, end=n, line=info.line, span=info.span, last="cast on", stitches_so_far=self.grower.n,
            )  # fmt: skip
        )
        w.log.append(("act", w.table.number["cast on"], w.span_id(s.span), 0, n, w.order))
        self.ended = True
        self.first_side = 1 if s.counts_row else 0
        self.side_known = True
        self.unproved = False

    # --- looking things up ---------------------------------------------------------------------------------------

    def find_row(self, number: int | None, name: str | None) -> Row | None:
        """The latest row with this number (or name), in this section first, then in earlier ones."""
        want = (name or "").lower()
        for same in (True, False):
            for r in reversed(self.history):
                if same and r.section != self.section:
                    continue
                if number is not None and r.number == number and not (want and want not in r.label.lower()):
                    return r
                if number is None and want and (r.name == want or r.label.lower() == want):
                    return r
        return self._defined_row(number, want)

    def _defined_row(self, number: int | None, want: str) -> Row | None:
        """A row written in a section that only defines."""
        for i, section in enumerate(self.pattern.sections):
            if section.kind != "define":
                continue
            for line in section.lines:
                label = line.label
                if label is None or not self.applies(line.sizes, line.options):
                    continue
                if (number is not None and number in label.numbers) or (want and (label.name or "").lower() == want):
                    return Row(
                        number, want, label.words, line.actions, line.line, line.offset, _body_span(line), i,
                        label.unit, 0, -1, 0, 0, 0,
                    )  # fmt: skip
        return None

    def rows_of(self, rows: tree.RowSet, span: Span) -> list[Row]:
        """The rows a set of rows names, in order."""
        if rows.numbers or rows.first is not None:
            numbers = rows.numbers or tuple(range(rows.first or 1, (rows.last or rows.first or 1) + 1))
            out: list[Row] = []
            for n in numbers[:5000]:
                r = self.find_row(n, None)
                if r is None:
                    self.report(problems.NoSuchRow(f"row {n}"), span)
                    return []
                out.append(r)
            return out
        if rows.names:
            out = []
            for name in rows.names:
                r = self.find_row(None, name)
                if r is None:
                    self.report(problems.NoSuchRow(f'"{name}"'), span)
                    return []
                out.append(r)
            return out
        if rows.back is not None:
            recent = [r for r in self.history if r.section == self.section] or self.history
            return recent[-rows.back :]
        block = [r for r in self.history if r.section == self.section and r.block == self.block] or [
            r for r in self.history if r.section == self.section
        ]
        seen: dict[Any, Row] = {}
        for r in block:
            seen[r.number if r.number is not None else ("line", r.line, r.label)] = r
        return list(seen.values())

    def called(self, call: tree.Call) -> Sequence[tree.Step] | None:
        """The steps of a chart's or stitch pattern's row."""
        name = call.name.lower()
        lines: Sequence[tree.Line] | None = None
        for chart in self.pattern.charts:
            if chart.name.lower() == name or name in chart.name.lower() or chart.name.lower() in name:
                lines = chart.lines
                break
        if lines is None:
            for section in self.pattern.sections:
                head = section.heading.lower()
                if section.kind == "define" and head and (head == name or name in head or head in name):
                    lines = [ln for ln in section.lines if ln.label is not None and self.applies(ln.sizes, ln.options)]
                    break
        if not lines:
            self.report(problems.PatternNotGiven(call.name), call.span)
            return None
        if call.row is not None:
            number = self.measure.number(call.row)
        else:
            last = self.chart_row.get(name, (0, -1))  # type: ignore[call-overload]
            number = last[0] if last[1] == self.order else last[0] + 1
            self.chart_row[name] = (number, self.order)  # type: ignore[assignment]
        top = max((n for ln in lines if ln.label for n in ln.label.numbers), default=len(lines))
        number = (number - 1) % max(top, 1) + 1
        for ln in lines:
            if ln.label is not None and (number in ln.label.numbers or covers(ln.label, number, True)):
                return tuple(a for a in ln.actions if not isinstance(a, (*_STATEMENTS, tree.Stated, tree.Note)))  # type: ignore[misc]
        return None

    def derive(self, d: tree.Definition) -> None:
        """Find by knitting how many loops the pattern's own stitch takes and makes."""
        w = self.worker
        c = self.measure.all(d.steps)
        simple = not any(isinstance(x, (tree.Turn, tree.PassOver, tree.SlipBack, tree.BindOff, tree.CastOn)) for x in tree.walk(d.steps))
        w.look("C018")
        if c is not None and simple:
            takes, makes = c
        else:
            got = self._derive_by_knitting(d)
            if got is None:
                takes, makes = d.takes or 1, d.makes or 1
            else:
                takes, makes = got
        self.own[d.name] = (takes, makes)
        if (d.takes is not None and d.takes != takes) or (d.makes is not None and d.makes != makes):
            said = f"{d.takes if d.takes is not None else takes} to {d.makes if d.makes is not None else makes}"
            w.offset = 0
            self.report(problems.DefinitionDiffers(d.name, takes, makes, said), d.span)

    def _derive_by_knitting(self, d: tree.Definition) -> tuple[int, int] | None:
        mark = self.grower.mark()
        probe = Knitter.__new__(Knitter)
        del probe
        w = self.worker
        was = (w.needles, w.on_turn, w.count, w.frames, w.facing, list(w.log), w.quiet)
        n = 40
        loops = self.grower.append(
            op=0, row=0, column=None, seen=Seen.NONE, side=0, mount=0, yarn=0, span=self.grower.span(0, 0), pass_=0,
            count=n, parents=np.zeros(0, np.int32), links=0,
        )  # fmt: skip
        nd = Needles(left=loops[::-1].copy())

        def flip(_: tree.Turn) -> None:
            w.needles.turn()
            w.facing ^= 1

        w.needles, w.on_turn, w.count, w.frames, w.quiet = nd, flip, Counters(start=n), [], w.quiet + 1
        try:
            w.steps(d.steps)
            w.flush()
            old = {int(x) for x in loops.tolist()}
            untouched_left = [x for x in nd.left.tolist() if x in old]
            low = loops.tolist()
            kept = 0
            for x in reversed(low):
                if x in untouched_left:
                    kept += 1
                else:
                    break
            takes = n - kept
            makes = nd.live - kept
        except Stop:
            return None
        finally:
            w.needles, w.on_turn, w.count, w.frames, w.facing = was[0], was[1], was[2], was[3], was[4]
            w.log[:] = was[5]
            w.quiet = was[6]
            w.gathered.clear()  # noqa: SLF001 - nothing of the probe may stay
            self.grower.back_to(mark)
        return takes, makes

    # --- trying a reading ------------------------------------------------------------------------------------------

    def save(self) -> _State:
        """The state of everything a trial may change."""
        w = self.worker
        return _State(
            w.needles.copy(), w.edges.copy(),
            (
                self.section, self.heading, self.block, self.rule, self.last_number, self.open, self.info, self.ended,
                self.fresh_turn, self.first_side, self.flip, self.side_known, self.pending, self.unproved,
                self.ever_unproved, self.delta, self.at, self.cycle_at, self.base, self.order, self.rows_worked,
            ),
            (len(self.entries), len(self.history), len(self.pieces), len(w.log)),
            self.grower.mark(),
            (
                w.facing, w.side, w.yarn, w.loop_waits, dict(w.ground_row), dict(w.wraps), dict(w.places), w.count,
                list(self.cycle), dict(self.chart_row), list(self.piece_bound_off), w.offset,
                self.entries[-1] if self.entries else None,
            ),
        )  # fmt: skip

    def restore(self, s: _State) -> None:
        """Put everything back as it was."""
        w = self.worker
        w.needles, w.edges = s.needles.copy(), s.edges.copy()
        (
            self.section, self.heading, self.block, self.rule, self.last_number, self.open, self.info, self.ended,
            self.fresh_turn, self.first_side, self.flip, self.side_known, self.pending, self.unproved,
            self.ever_unproved, self.delta, self.at, self.cycle_at, self.base, self.order, self.rows_worked,
        ) = s.scalars  # fmt: skip
        e, h, p, g = s.lengths
        del self.entries[e:], self.history[h:], self.pieces[p:], self.piece_live[p:], w.log[g:]
        if self.entries and s.worker[12] is not None:
            self.entries[-1] = s.worker[12]
        self.grower.back_to(s.mark)
        w.facing, w.side, w.yarn, w.loop_waits = s.worker[:4]
        w.ground_row, w.wraps, w.places = dict(s.worker[4]), dict(s.worker[5]), dict(s.worker[6])
        w.count = s.worker[7]
        self.cycle, self.chart_row = list(s.worker[8]), dict(s.worker[9])
        self.piece_bound_off = list(s.worker[10])
        w.offset = s.worker[11]
        w.gathered.clear()  # noqa: SLF001 - nothing of the trial may stay
        w.frames.clear()

    # --- the end -----------------------------------------------------------------------------------------------------

    def finish(self) -> None:
        """The words are at an end: nothing may still be live."""
        self.info = _Info()
        self.end_row()
        self._trailing_rule()
        self.settle()
        w = self.worker
        nd = w.needles
        w.offset = 0
        w.look("C019", len(self.pieces))
        if nd.live and self.pieces:
            last = self.entries[-1] if self.entries else None
            span = last.span if last is not None else NOWHERE
            self.report(problems.LeftLive(self.pieces[-1][0], nd.live), span)
        for h in nd.holders:
            self.report(
                problems.LeftLive(h.name or "A holder", len(h.loops), "on hold"), self.entries[-1].span if self.entries else NOWHERE
            )

    def result(self) -> Knitted:
        """Everything, frozen."""
        pieces: list[Piece] = []
        nd = self.worker.needles
        for k, (name, first) in enumerate(self.pieces):
            last = self.pieces[k + 1][1] if k + 1 < len(self.pieces) else len(self.entries)
            rows = tuple(self.entries[first:last])
            live = nd.live if k == len(self.pieces) - 1 else (rows[-1].end if rows else 0)
            pieces.append(Piece(name=name, rows=rows, bound_off=self.piece_bound_off[k], live=live))
        options = tuple(sorted(self.options.items()))
        return Knitted(
            size=self.size_name, options=options,
            ledger=Ledger(size=self.size_name, options=options, pieces=tuple(pieces)),
            fabric=self.grower.finish(self.worker.table.keys), findings=tuple(self.findings.sorted()),
            places=dict(self.worker.places), unproved=self.ever_unproved, own=dict(self.own), _log=self.worker.log,
        )  # fmt: skip


@dataclass(slots=True)
class _Info:
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
    counts_passes: bool = True
    new_pass: bool = False
    passive: bool = False
    part: bool = False
    gave_up: bool = False
    left_behind: int = 0
    turned_in_ring: bool = False
    advance_order: int = -1
    at: Span | None = None
    """Where to report what is wrong with a row whose words stand in another line."""

    def name_of_row(self) -> str:
        """What to call the row in a sentence."""
        if self.label:
            return self.label[0].upper() + self.label[1:]
        return f"The row in line {self.line}" if self.line else "This row"

    def span_rel(self) -> Span:
        return self.span if self.span[1] < 0 else Span(self.span[0] - self.offset, self.span[1] - self.offset)

    def label_span(self) -> Span:
        return self.span_rel()


class _TooMuch(Exception):  # noqa: N818 - the words ask for more than is knitted
    """The knitting stops; the reason is reported."""


def _is_row(a: tree.Action) -> bool:
    return isinstance(a, tree.RepeatRows)


def _body_span(line: tree.Line) -> Span:
    """The span, in the source, of a line's instruction words: the label and trailing notes left out."""
    span = NOWHERE
    for a in line.actions:
        if not isinstance(a, tree.Note) and a.span[1] >= 0:
            span = span.cover(a.span) if span[1] >= 0 else a.span
    if span[1] < 0:
        span = Span(0, len(line.text))
    return Span(span[0] + line.offset, span[1] + line.offset)


def row_word(number: int, unit: tree.Unit | None) -> str:
    """"Row 5" or "Round 5"."""
    return f"{'Round' if unit is tree.Unit.ROUND else 'Row'} {number}"


def covers(label: tree.Label, number: int, rs_odd: bool) -> bool:  # noqa: FBT001
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


def knit(pattern: Pattern, *, size: int = 0, options: Mapping[str, str] | None = None) -> Knitted:
    """Knit a pattern in one size, with one choice of options.

    size : place of the size in header order, from 0. options : option name to value; an option left out takes its usual value.
    An empty pattern gives an empty ledger and fabric. Never raises for what the words say.
    """
    chosen = {o.name: o.usual for o in pattern.options}
    if options:
        chosen |= dict(options)
    return Knitter(pattern, size, chosen).knit()


def _unused(_: Planned, __: Int32) -> None:
    """Names kept for readers of this module's types."""
