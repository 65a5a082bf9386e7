"""Knitting a whole pattern for one size and one choice of options.

In: a pattern as read. Out: :class:`Knitted`: the fabric, the moves, the ledger and what was found wrong.
How steps are worked is left to ``worker``; what statements over rows ask for, to ``statements``; which checks
the numbers must meet, to ``proof``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from functools import partial
from typing import TYPE_CHECKING

from msgspec.structs import replace

from purlwright.fabric.grow import Grower
from purlwright.findings import Collector, Problem, Severity
from purlwright.needles import problems
from purlwright.needles.across import work_across
from purlwright.needles.carried import carry_over
from purlwright.needles.counts import stated
from purlwright.needles.ends import cast_on, finish, result
from purlwright.needles.hands import Stop
from purlwright.needles.knitted import Knitted
from purlwright.needles.ledger import Copied, Entry
from purlwright.needles.lookup import called, derive, find_row, rows_of, told_beforehand
from purlwright.needles.loops import Needles
from purlwright.needles.measure import Measure
from purlwright.needles.optable import op_table
from purlwright.needles.pieces import begin_piece, begins_piece, ready
from purlwright.needles.plan import binds_all, plan_block
from purlwright.needles.resume import resume, track_of
from purlwright.needles.rowends import end_row, give_up_row, next_as_set, open_row, turn, turn_between
from purlwright.needles.sameas import as_told
from purlwright.needles.shape import Memory
from purlwright.needles.state import (
    MOST_ROWS,
    STATEMENTS,
    WORKING,
    AsSet,
    Evidence,
    Info,
    Row,
    TooMuch,
    body_span,
    covers,
    is_row,
    row_word,
    steps_of,
)
from purlwright.needles.stopping import stitches_a_row
from purlwright.needles.whichedge import edge_begins
from purlwright.needles.worker import Worker
from purlwright.pattern import tree
from purlwright.pattern.problems import SizesLineDiffers
from purlwright.pattern.read.problems import SizeListLength
from purlwright.pattern.sections import copied_together
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.rehearse import Watch
    from purlwright.pattern.file import Pattern

__all__ = ["Knitted", "Knitter", "Row", "knit"]


MOST_TRACKS = 128
"""Sizes and choices whose last knitting is kept to go on from."""


_OPEN_LENGTHS = frozenset({"length-left-to-knitter", "length-needs-gauge"})
_OF_COUNTS = frozenset(
    {"count-differs", "repeat-uneven", "group-uneven", "evenly-does-not-fit", "place-behind", "held-differs"}
)
"""What a wrong count in one row brings on in the rows after it."""


class Knitter:
    """Knits one pattern. Made anew for each size and choice of options."""

    def __init__(
        self, pattern: Pattern, size: int, options: Mapping[str, str], memory: Memory | None = None
    ) -> None:
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
            grower=self.grower, table=table, measure=self.measure, needles=Needles(), report=self.report,
            size=size, definitions={d.name: d for d in pattern.definitions}, calls=partial(called, self),
            established=partial(next_as_set, self), on_turn=partial(turn, self), sure=self.sure,
            printed=self.printed, only_pick_up=self.only_pick_up, edge_begins=partial(edge_begins, self),
            stitches_a_row=stitches_a_row(pattern.gauges),
        )  # fmt: skip
        if memory is not None:
            self.worker.memory = memory
        self.entries: list[Entry] = []
        self.marks: list[frozenset[str]] = []
        self.pieces: list[tuple[str, int]] = []
        self.piece_bound_off: list[int] = []
        self.history: list[Row] = []
        self.section = -1
        self.heading = ""
        self.block = 0
        self.rule: tree.Line | None = None
        self.rule_after: tree.Line | None = None
        """The rule for rows in between, while a repeat stands between it and the next number."""
        self.last_number: int | None = None
        self.open = False
        self.info = Info()
        self.ended = False
        self.first_side: int | None = 0
        self.side_known = True
        self.pending: tuple[int, int, Span, int, str] | None = None
        self.unproved = False
        self.ever_unproved = False
        self.miscounted = False
        """Whether a count was reported wrong, and none printed since has set it right."""
        self.delta = 0
        self.nothing_said = False
        self.any_width = False
        self.taken_up = (0, 0)
        self.ring_turned = False
        self.cast_over = 0
        self.side_sure = False
        self.side_said = False
        self.bad: set[int] = set()
        self.trial = 0
        self.watch: Callable[[Knitter, Sequence[tree.Action]], None] | None = None
        """Is told of each row before it is worked, and may try it."""
        self.heard: list[Problem] | None = None
        """What is wrong with a row that is only tried, while it is tried."""
        self.queue: list[tuple[int, tree.Line]] = []
        self.headings: list[str] = []
        self.misread = _misread(pattern)
        self.no_number = _no_number(pattern, size)
        self.at = 0
        self.cycle: list[Row] = []
        self.cycle_place: dict[int, int] = {}
        self.cycle_at = 0
        self.passes: dict[tuple[str, int, str], int] = {}
        self.base: AsSet | None = None
        self.base_row: AsSet | None = None
        """The row that shaping falls on, while that row is worked."""
        self.base_here: tuple[tree.Step, ...] | None = None
        """What the rest of a shaped row is worked in, when the row itself says so."""
        self.order = 0
        self.rows_worked = 0
        self.chart_row: dict[str, tuple[int, int]] = {}
        self.rows_told: dict[tuple[str, int, bool], Row] = {}
        self.beforehand: dict[str, Row] = {}
        """Named rows written before anything was cast on, for words that send back to them."""
        self.charts_told: dict[tuple[str, bool], tuple[tree.Line, ...]] = {}

    # --- reporting -------------------------------------------------------------------------------

    def sure(self) -> bool:
        """Whether all rows so far were read, and none was left to the knitter's own length."""
        return not self.ever_unproved and not any(f.code in _OPEN_LENGTHS for f in self.findings)

    def printed(self) -> int | None:
        """The total printed at the end of the row in work, where one is."""
        totals = [a.total for a in self.info.actions if isinstance(a, tree.Stated) and a.total is not None]
        return totals[0].at(self.size) if len(totals) == 1 else None

    def only_pick_up(self) -> bool:
        """Whether the words in work pick up along one edge only."""
        return sum(isinstance(node, tree.PickUp) for node in tree.walk(self.info.actions)) == 1

    def report(self, problem: Problem, span: Span) -> None:
        """Report a problem at a span of the line in work."""
        w = self.worker
        w.said += 1
        if w.trying:
            return
        if self.heard is not None:
            self.heard.append(problem)
            return
        if w.quiet or (self.info.quiet and problem.severity != "note"):
            self.unproved = self.ever_unproved = True
            self.miscounted = self.miscounted or problem.code in _OF_COUNTS
            return
        if problem.severity == "error":
            if self.trial:
                raise Evidence(good=False)
            follows = self.miscounted and problem.code in _OF_COUNTS
            follows = follows or (self.delta != 0 and problem.code == "never-reached")  # a total was marked
            self.miscounted = self.miscounted or problem.code in _OF_COUNTS
            self.unproved = self.ever_unproved = True
            if self.open:
                self.bad.add(self.info.source_line or self.info.line)
            if follows:
                return  # the stitches were not the right ones to begin with
        place = span if span[1] < 0 else Span(span[0] + w.offset, span[1] + w.offset)
        if w.at is not None:
            place = Span(*w.at)
        elif self.info.at is not None:
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
            derive(self, d)
        sections = self.pattern.sections
        place = {id(section): i for i, section in enumerate(sections)}
        for group in copied_together(sections):
            copies = group[0].copies or 1
            for copy in range(1, copies + 1):
                for section in group:
                    numbered = copies > 1 and section is group[0]
                    heading = f"{section.heading} {copy}" if numbered else section.heading
                    for part in as_told(sections, place[id(section)], heading):
                        self.headings.append(part.heading)
                        self.queue.extend(
                            (len(self.headings) - 1, line)
                            for line in part.lines
                            if not (line.sizes or line.options) or self.applies(line.sizes, line.options)
                        )
        self.track = track_of(self)
        key = (self.size, tuple(sorted(self.options.items())))
        tracks = self.worker.memory.tracks
        resume(self, tracks.get(key), self.track)
        if len(tracks) > MOST_TRACKS:
            tracks.clear()
        tracks[key] = self.track
        self.run_queue()
        self.track.later = None
        finish(self)
        return result(self)

    def run_queue(self) -> None:
        """Work the queued lines from ``at`` to the end."""
        while self.at < len(self.queue):
            self.track.take(self, self.at)
            if carry_over(self, self.at):
                continue
            i, line = self.queue[self.at]
            if i != self.section:
                self.begin_section(i)
            label = line.label
            try:
                if label is not None and (label.numbers or label.rule):
                    self._block(i)
                else:
                    self.at += 1
                    self.before_line(line)
                    self.line(line)
                if line.line in self.no_number:  # what is amiss later comes of that
                    self.unproved = self.ever_unproved = self.miscounted = True
            except TooMuch:
                self.at = len(self.queue)
                return

    def begin_section(self, i: int) -> None:
        """The lines of section ``i`` follow."""
        self.trailing_rule()
        self.section = i
        self.heading = self.headings[i]
        self.rule = self.rule_after = None
        self.last_number = None
        self.block += 1
        self.grower.begin_section()

    def before_line(self, line: tree.Line) -> None:
        """A line without a row number ends the numbered block before it, and its rule for rows in between."""
        works = [a for a in line.actions if not isinstance(a, (tree.Note, tree.Unread, tree.Stated))]
        if works:
            self.before_action(works[0])

    def before_action(self, a: tree.Action) -> None:
        """What follows the numbered rows; a repeat that begins with a row of the rule has its own."""
        if isinstance(a, tree.AtSameTime):
            a = a.parts[0]
        if isinstance(a, tree.RepeatRows) and self._begins_by_rule(a.rows):
            self.rule = None
        else:
            info, offset, rule = self.info, self.worker.offset, self.rule
            self.trailing_rule()
            self.info, self.worker.offset = info, offset
            if isinstance(a, tree.RepeatRows) and rule is not None:
                self.rule_after = rule

    def _begins_by_rule(self, rows: tree.RowSet) -> bool:
        """Whether the first of these rows is one that the rule for rows in between speaks of."""
        rule = self.rule
        if rule is None or rule.label is None:
            return False
        number = rows.numbers[0] if rows.numbers else rows.first
        if number is None and not rows.names:
            block = [r for r in self.history if r.section == self.section and r.block == self.block]
            if rows.back is not None and rows.back > len(block):
                return False
            block = block[-rows.back :] if rows.back else block
            number = block[0].number if block else None
        return number is not None and covers(rule.label, number, self._rs_odd())

    def trailing_rule(self) -> None:
        rule, last = self.rule, self.last_number
        self.rule = None
        if rule is None or last is None or rule.label is None or not self.worker.needles.live:
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

    def _ended_by(self, rule: tree.Line) -> bool:
        """Whether the row worked last is one that the rule for rows in between speaks of."""
        last = self.last_number
        return last is not None and rule.label is not None and covers(rule.label, last, self._rs_odd())

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
        kept, self.rule_after = self.rule_after, None
        if restart:
            self.trailing_rule()
            self.block += 1
            self.last_number = None
        elif self.rule is None and kept is not None and self._ended_by(kept):
            self.rule, self.last_number = kept, None  # no rows of the rule stand before the next number
        rules = [ln for ln in lines[:used] if ln.label is not None and ln.label.rule]
        if rules:
            self.rule = rules[-1]
        last_of = {id(p.line): i for i, p in enumerate(planned)}
        place = {id(line): start + i for i, line in enumerate(lines[:used])}
        places = [place[id(p.line)] for p in planned]
        in_order = self.rule is None and places == sorted(places)
        for i, p in enumerate(planned):
            if in_order and i and p.index == 0:
                self.track.take(self, places[i])
                if carry_over(self, places[i]):
                    return
            self._between(p.number)
            last = last_of[id(p.line)] == i
            if p.number is None:
                self.line(p.line)
                continue
            self.numbered(p.number, p.line, last=last, index=p.index)
        if self.at >= len(self.queue) or self.queue[self.at][0] != section:
            self.trailing_rule()

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
        if label is None:
            return
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
            actions = _not_the_last(actions)
        word = label.words if not many and label.words else row_word(number, label.unit)
        if label.rule:
            word = row_word(number, label.unit)
        info = self._info(line, number, word)
        info.side = label.side if label.side is not None and not (label.rule and not label.numbers) else None
        if many and number - 1 in label.numbers:
            info.side = None  # "Rows 1-4 (RS)" speaks of the first of them
        self.last_number = number
        self.actions(actions, line, info)
        self.last_number = number

    def _info(self, line: tree.Line, number: int | None, word: str) -> Info:
        label = line.label
        plain = self.worker.plain(line.actions)
        if plain.steps is not None and plain.span[1] >= 0:
            span = Span(plain.span[0] + line.offset, plain.span[1] + line.offset)
        else:
            span = body_span(line)
        return Info(
            label=word, number=number, line=line.line, offset=line.offset, unit=label.unit if label else None,
            span=span, name=(label.name or "") if label else "", actions=line.actions,
            side=label.side if label else None,
            quiet=line.line in self.misread
            or (plain.steps is None and any(isinstance(a, tree.Unread) for a in line.actions)),
            colour=label.colour if label else None,
        )  # fmt: skip

    def _copy_block(
        self, label: tree.Label, actions: Sequence[tree.Action]
    ) -> tuple[tree.RepeatRows, tuple[tree.Action, ...]] | None:
        """In words: ``Rows 7-12: rep rows 1-6``: the repeat, and what follows it."""
        for i, a in enumerate(actions):
            if isinstance(a, tree.Note):
                continue
            if isinstance(a, tree.RepeatRows) and not a.define and label.numbers:
                if len(label.numbers) == 1 and (
                    a.until is not None or (a.times is not None and a.times.at(self.size) != 1)
                ):
                    return None
                return a, tuple(actions[i + 1 :])
            return None
        return None

    def _copied_rows(self, label: tree.Label, line: tree.Line, rep: tree.RepeatRows) -> None:
        self.worker.offset = line.offset
        source = rows_of(self, rep.rows, rep.span)
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
            info.source_line = r.line
            info.copied = Copied(r.label or row_word(r.number or 0, r.unit), r.line)
            info.actions, info.offset, info.quiet = (
                r.actions,
                r.offset,
                any(isinstance(a, tree.Unread) for a in r.actions),
            )
            info.side = label.side if n == 1 else None
            info.at = body_span(line)
            info.quiet = info.quiet or r.line in self.bad
            self.actions([a for a in r.actions if not isinstance(a, tree.Stated)], line, info)
            self.last_number = number

    def line(self, line: tree.Line) -> None:
        """Work a line that has no row number."""
        label = line.label
        if told_beforehand(self, line):
            return
        times = 1
        word = label.words if label is not None else ""
        if label is not None and label.next is not None:
            times = max(self.measure.number(label.next), 0)
        for i in range(min(times, MOST_ROWS)):
            actions = line.actions
            if i < times - 1:
                actions = _not_the_last(actions)
            info = self._info(line, None, word)
            if i:
                info.side = None  # "Next 4 rows (RS)" speaks of the first of them
            self.actions(actions, line, info)

    # --- actions of one line -----------------------------------------------------------------------------

    def actions(self, actions: Sequence[tree.Action], line: tree.Line, info: Info) -> None:
        """Work the actions of a line in order: steps make rows, statements stand between rows."""
        from purlwright.needles.statements import work_statement

        self.info = info
        self.worker.offset = info.offset
        if info.colour is not None:
            self.worker.yarn = self.grower.yarn(info.colour)
        if isinstance(actions, tuple) and self._plain_row(actions):
            return
        i, n = 0, len(actions)
        while i < n:
            a = actions[i]
            if isinstance(a, STATEMENTS):
                end_row(self)
                self.info, self.worker.offset = info, info.offset
                work_statement(self, a, actions[i + 1 :], line)
                self.info, self.worker.offset = info, info.offset
                i += 1
                continue
            if isinstance(a, tree.Stated):
                stated(self, a)
                i += 1
                continue
            j = i
            while j < n and not isinstance(actions[j], (*STATEMENTS, tree.Stated)):
                j += 1
            self.group(actions[i:j])
            i = j
        end_row(self)

    def _plain_row(self, actions: tuple[tree.Action, ...]) -> bool:
        """Work a line that is one row and nothing else; False if it is not, or no row can begin."""
        w = self.worker
        if self.open or self.pending is not None or not w.needles.live:
            return False
        plain = w.plain(actions)
        if plain.steps is None:
            return False
        self.base_here = None
        open_row(self, plain.steps)
        try:
            w.row(plain.steps)
            work_across(self, plain.steps)
        except Stop:
            w.flush()
            give_up_row(self)
        for count in plain.counts:
            stated(self, count)
        end_row(self)
        return True

    def group(self, steps: Sequence[tree.Action]) -> None:
        """Work steps that stand together: part of a row, a row, or several with turns between."""
        steps = [s for s in steps if not isinstance(s, tree.Note)]
        if not steps:
            return
        if any(isinstance(s, tree.Unread) for s in steps):
            self.unproved = self.ever_unproved = True
            self.side_sure = False
        self._rules(steps)
        steps = self._resolved(steps)
        k = 0
        while k < len(steps):
            s = steps[k]
            if (
                isinstance(s, tree.CastOn)
                and (s.at == "start" or (not self.open and self.worker.needles.live == 0))
                and begins_piece(self)
            ):
                cast_on(self, s)
                k += 1
                continue
            if (
                not k
                and isinstance(s, tree.CastOn)
                and s.at == "start"
                and not (self.open or self.info.label)
            ):
                self._beside_live(s)
            if isinstance(s, tree.Turn) and not self.open:
                turn_between(self, s)
                k += 1
                continue
            j = k
            while j < len(steps) and not (
                _turns(steps[j]) or (j > k and (_starts_piece(steps[j]) or _off_after_row(steps, j)))
            ):
                j += 1
            part = steps[k : j + 1] if j < len(steps) and isinstance(steps[j], tree.Turn) else steps[k:j]
            self._part(part)
            if j < len(steps) and j > k and _off_after_row(steps, j):
                end_row(self)
            k += len(part)

    def _beside_live(self, s: tree.CastOn) -> None:
        """Says that a section begins with a cast-on though stitches of the one before are still live."""
        before = self.entries[-1].section if self.entries else None
        live = self.worker.needles.live
        if before is not None and self.heading and before != self.heading and live and not self.unproved:
            self.report(problems.CastOnBesideLive(live, self.heading), s.span)

    def _rules(self, steps: Sequence[tree.Action]) -> None:
        """What is said here of rows to come: "every other round is plain"."""
        for s in steps:
            if (
                isinstance(s, tree.RowRule)
                and s.rule == "alternate"
                and s.steps
                and self.info.number is not None
            ):
                plain = all(
                    isinstance(x, (tree.RowRule, tree.Note)) or tree.bare(x) in tree.bare(s.steps)
                    for x in steps
                )
                first = self.info.number if plain else self.info.number + 1
                label = tree.Label(numbers=(first,), rule="alternate", unit=self.info.unit)
                self.rule = tree.Line(
                    label=label, actions=s.steps, line=self.info.line, offset=self.info.offset
                )

    def _resolved(self, steps: Sequence[tree.Action]) -> list[tree.Action]:
        """References to other rows are replaced by those rows' steps."""
        out: list[tree.Action] = []
        for s in steps:
            if isinstance(s, tree.RowRef):
                r = find_row(self, s.number, s.name)
                self.worker.look("C020")
                if r is None:
                    self.report(problems.NoSuchRow(s.name or row_word(s.number or 0, s.unit).lower()), s.span)
                    continue
                if self.info.copied is None:
                    self.info.copied = Copied(r.label or row_word(r.number or 0, r.unit), r.line)
                self.info.at = self.info.span
                steps_there = steps_of(r.actions)
                if r.offset != self.info.offset:
                    steps_there = tree.moved(steps_there, r.offset - self.info.offset)
                out.extend(steps_there if s.to is None else [replace(s, steps=tuple(steps_there))])
            else:
                out.append(s)
        return out

    def _part(self, part: Sequence[tree.Action]) -> None:
        """Work steps up to a turn (or the end of the group)."""
        part, self.base_here = _shaped_row(part)
        works = [s for s in part if isinstance(s, WORKING)]
        w = self.worker
        if not works and not (self.open and w.count.touched):
            if any(isinstance(s, tree.Return) for s in part) and not w.needles.live and w.needles.holders:
                begin_piece(self)
                w.facing = 0
            elif any(isinstance(s, (tree.Hold, tree.Return)) for s in part):
                ready(self)
            before = w.count.returned
            with suppress(Stop):
                w.steps(part)
            self.taken_up = (self.info.line, w.count.returned - before)
            if self._unread_row(part):
                open_row(self, part)
                give_up_row(self)
            return
        begins = not self.open
        if begins:
            if not self._can_begin(works, part):
                return
            extends = isinstance(works[0], tree.PickUp) or (
                isinstance(works[0], tree.CastOn) and works[0].at != "beginning" and len(works) == 1
            )
            open_row(self, part, extends=extends)
        if any(isinstance(s, tree.RowRule) and s.rule == "double over" for s in part):
            w.single_overs()
        try:
            w.row(part)
            if begins:
                work_across(self, part)
        except Stop:
            w.flush()
            give_up_row(self)

    def _unread_row(self, part: Sequence[tree.Action]) -> bool:
        """Whether the words of a labelled row could not be read at all: it is a row all the same."""
        label = self.info.label.lower()
        row = self.info.number is not None or any(word in label for word in ("row", "rnd", "round"))
        unread = any(isinstance(s, tree.Unread) for s in part)
        return unread and row and not self.open and self.worker.needles.live > 0

    def _can_begin(self, works: Sequence[tree.Action], part: Sequence[tree.Action]) -> bool:
        """Whether anything is there to work on; held loops or a pick-up begin a piece if need be."""
        nd = self.worker.needles
        if nd.live:
            return True
        if isinstance(works[0], (tree.PickUp, tree.CastOn)) or any(isinstance(s, tree.Return) for s in part):
            begin_piece(self)
            return True
        if not self.nothing_said and not self.info.quiet:
            self.report(problems.NothingOnNeedle(self.info.name_of_row()), works[0].span)
            self.nothing_said = True
        self.unproved = self.ever_unproved = True
        return False


def knit(
    pattern: Pattern,
    *,
    size: int = 0,
    options: Mapping[str, str] | None = None,
    memory: Memory | None = None,
    watch: Watch | None = None,
) -> Knitted:
    """Knit a pattern in one size, with one choice of options.

    size : place of the size in header order, from 0. options : option name to value; an option left out
    takes its usual value.
    memory : rows worked in an earlier knitting, for a pattern knitted again after an edit; it is added to.
    watch : called before each row, which it may try on other loops (:mod:`~purlwright.needles.rehearse`).
    An empty pattern gives an empty ledger and fabric. Never raises for what the words say.
    """
    chosen = {o.name: o.usual for o in pattern.options}
    if options:
        chosen |= dict(options)
    k = Knitter(pattern, size, chosen, memory)
    if watch is not None:
        from purlwright.needles.rehearse import Rehearsal

        k.watch = lambda k, part: watch(Rehearsal(k, part))
    return k.knit()


def _shaped_row(part: Sequence[tree.Action]) -> tuple[Sequence[tree.Action], tuple[tree.Step, ...] | None]:
    """In words: ``Knit, decreasing 1 st at each end``: shaping, and what the rest of the row is worked in."""
    works = [s for s in part if isinstance(s, WORKING)]
    if len(works) != 2:
        return part, None
    rest, shaping = (works[0], works[1]) if _fills_row(works[0]) else (works[1], works[0])
    if not (_fills_row(rest) and isinstance(shaping, (tree.AtEdges, tree.Evenly))):
        return part, None
    return [s for s in part if s is not rest], (rest,)


def _turns(s: tree.Action) -> bool:
    """Whether the work is turned here."""
    return isinstance(s, tree.Turn) and not s.never


def _starts_piece(s: tree.Action) -> bool:
    """Whether stitches are cast on here to begin with."""
    return isinstance(s, tree.CastOn) and s.at == "start"


def _fills_row(s: tree.Action) -> bool:
    if isinstance(s, tree.Fill):
        return s.to.kind is tree.PlaceKind.END and s.to.before is None
    return isinstance(s, (tree.InGround, tree.InPattern)) and s.count is None and s.to is None


def _not_the_last(actions: Sequence[tree.Action]) -> tuple[tree.Action, ...]:
    """What is worked in each row but the last of several told together: "Next 2 rows", "Rows 3-6"."""
    return tuple(
        a
        for i, a in enumerate(actions)
        if not (isinstance(a, (*STATEMENTS, tree.Stated)) or _off_after_row(actions, i))
        or is_row(a)
        or _each_row(a)
    )


def _each_row(a: tree.Action) -> bool:
    """In words: ``bind off 6 sts at the beginning of each row``, without a number of rows or a stop."""
    return (
        isinstance(a, tree.Shaping)
        and a.every.values == (1,)
        and a.start == "next"
        and (a.times, a.until, a.length, a.row) == (None, None, None, None)
    )


def _off_after_row(steps: Sequence[tree.Action], i: int) -> bool:
    """Whether all is bound off at ``i`` after a row worked to its end: "Knit, then bind off."."""
    return i > 0 and binds_all(steps[i]) and _fills_row(steps[i - 1])


def _no_number(pattern: Pattern, size: int) -> frozenset[int]:
    """The lines whose list of numbers is of the wrong length, so that this size has no number of its own."""
    lists = [
        f.span
        for f in pattern.findings
        if isinstance(f.problem, SizeListLength) and not size < f.problem.found < f.problem.sizes
    ]
    for f in pattern.findings:
        if isinstance(f.problem, SizesLineDiffers):
            lists += f.problem.lists
    return frozenset(pattern.source.place(span.start)[0] for span in lists)


def _misread(pattern: Pattern) -> frozenset[int]:
    """The lines that could not be read whole; what is wrong with their rows for that is not said again."""
    spans = [f.span for f in pattern.findings if f.severity is Severity.ERROR and f.span.end >= 0]
    for f in pattern.findings:
        if isinstance(f.problem, SizesLineDiffers):
            spans += f.problem.lists
    return frozenset(pattern.source.place(span.start)[0] for span in spans)
