"""Working steps on the needles: runs of stitches gathered and knitted whole, the rest one action at a time.

In: steps of the tree and the state of the needles. Out: stitches in the fabric, moves in the log, counters
of the row. Where rows begin and end, and what a line of the pattern asks for, is left to ``knit``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Int32
from purlwright.fabric.query import waste_yarns
from purlwright.needles import problems
from purlwright.needles.byslip import by_slip
from purlwright.needles.edges import bind_off, cast_on, join_edge, pick_up
from purlwright.needles.gather import Gathered, Run
from purlwright.needles.hands import BULK, EMPTY, MOST_STITCHES, Counters, Edges, Stop, worked
from purlwright.needles.holding import hold, return_held
from purlwright.needles.loops import Needles
from purlwright.needles.measure import Measure
from purlwright.needles.places import distance
from purlwright.needles.readings import choice
from purlwright.needles.repeats import fill, repeat
from purlwright.needles.setwork import as_far, call, ground, in_pattern
from purlwright.needles.shape import Memory, Plain, Shape, Template
from purlwright.needles.shapework import at_edges, evenly
from purlwright.needles.singles import drop_loops, marker, pass_over, slip_back, wrap_next
from purlwright.needles.state import AsSet, TooMuch
from purlwright.needles.stitching import cross_worded, into_one, work_stitch
from purlwright.pattern import tree
from purlwright.stitches.kinds import Stitch
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from fractions import Fraction

    from purlwright.fabric.grow import Grower
    from purlwright.findings import Problem
    from purlwright.needles.optable import OpTable

__all__ = ["Edges", "Stop", "Worker"]

_NO_WORDS = Span(0, 0)


@dataclass(slots=True)
class Worker:
    """The knitter's hands for one size.

    ``report`` takes a problem and a span relative to the line in work.
    """

    grower: Grower
    table: OpTable
    measure: Measure
    needles: Needles
    report: Callable[[Problem, Span], None]
    size: int
    definitions: dict[str, tree.Definition]
    calls: Callable[[tree.Call], tuple[Sequence[tree.Step], int] | None]
    established: Callable[[str], AsSet | None]
    """The row that comes next as set; of no shaped pattern where the words say even."""
    on_turn: Callable[[tree.Turn], None]
    sure: Callable[[], bool]
    """Whether all rows so far were read and worked as often as the words say."""
    printed: Callable[[], int | None]
    """The total printed at the end of the row in work."""
    only_pick_up: Callable[[], bool]
    """Whether the words in work pick up along one edge only."""
    edge_begins: Callable[[str], tree.Side | None]
    """The side of the rows that begin at an edge of this name."""
    stitches_a_row: Fraction | None = None
    """How many stitches are as wide as a row is high, by the first gauge that tells both."""

    # the row in work
    offset: int = 0
    """Where the line in work begins in the source."""
    order: int = 0
    """The row's place in the ledger."""
    facing: int = 0
    """The side that faces: 0 right, 1 wrong."""
    side: int = 0
    """As ``facing``; 2 where nothing tells which side it is."""
    yarn: int = 0
    row_name: str = "This row"
    count: Counters = field(default_factory=Counters)
    frames: list[tuple[Sequence[tree.Action], int, bool]] = field(default_factory=list)
    """The steps in work, outermost first: the steps, how many are begun, and whether they are worked once."""
    loop_waits: bool = False
    """Whether the last step was a bind-off, whose last loop is on the right needle."""
    last_taken: int = -1
    """The loop taken last in this row; -1 at its beginning."""
    right_at_start: int = 0
    """In a ring after a turn: unworked loops at the far end of the right needle."""

    # the piece in work
    piece: int = 0
    """Which piece it is, from 0."""
    edges: Edges = field(default_factory=Edges)
    earlier: list[Edges] = field(default_factory=list)
    """The edges of the pieces before."""
    joined: int = 0
    """How many loops of an edge were taken along so far."""
    ground_row: dict[str, tuple[int, int]] = field(default_factory=dict)
    """For each ground, its row worked last and the ledger order of that row."""
    ground_fresh: bool = True
    """Whether the ground in work began in this row."""
    ribbed: int = 0
    marked: int = 0
    """The latest row with a rib in it, and with a marker placed in it."""

    # what is gathered and not yet knitted, and what was knitted before
    gathered: Gathered = field(default_factory=Gathered)
    flushes: int = 0
    """How often gathered stitches were knitted."""
    memory: Memory = field(default_factory=Memory)
    span_ids: dict[tuple[int, int], Int32] = field(default_factory=dict)
    op_of: dict[str, int] = field(default_factory=dict)
    log: list[tuple[Any, ...]] = field(default_factory=list)
    """Runs and single actions, in order: ``movelog`` makes the moves of it."""

    # what is said
    span_here: Span = _NO_WORDS
    """The words of the step in work."""
    at: tuple[int, int] | None = None
    """Where in the source to report what is wrong, when the words in work stand elsewhere (a chart)."""
    places: dict[str, int] = field(default_factory=dict)
    """At how many places each check looked."""
    explained: list[str] = field(default_factory=list)
    """The pattern's own stitches and charts whose words are in work, outermost first."""
    quiet: int = 0
    """Above 0 nothing is reported: a reading is tried, or the words were worked before."""
    trying: int = 0
    """Above 0 what is met does not even count: all of it is put back, or the place to stop is being found."""
    said: int = 0
    """How many problems were met, reported or not."""

    # --- small things ------------------------------------------------------------------------------

    def look(self, check: str, places: int = 1) -> None:
        """Note that a check looked at a place."""
        self.places[check] = self.places.get(check, 0) + places

    @property
    def left_over(self) -> int:
        """Loops still on the left needle, gathered work counted as done."""
        return len(self.needles.left) - self.gathered.taken

    def number(self, n: tree.Number | None, default: int = 1) -> int:
        return self.measure.number(n, default)

    def span_id(self, span: Span) -> int:
        return self.grower.span(span[0] + self.offset, span[1] + self.offset)

    def op(self, stitch: Stitch) -> int:
        got = self.op_of.get(stitch.key)
        if got is None:
            got = self.op_of[stitch.key] = self.table.add(stitch)
        return got

    def add(self, op: int, n: int, span: int, pass_: int, yarn: int) -> None:
        """Gather ``n`` workings of an operation."""
        g, t = self.gathered, self.table
        g.ops.append(op)
        g.ns.append(n)
        g.spans.append(span)
        g.passes.append(pass_)
        g.yarns.append(yarn)
        g.taken += t.takes_each[op] * n
        g.made += t.makes_each[op] * n
        g.workings += n

    def act(self, name: str, span: int, taken: int = 0, made: int = 0) -> None:
        """Log a needle action that is no stitch."""
        self.log.append(("act", self.table.number[name], span, taken, made, self.order))

    # --- knitting what is gathered -------------------------------------------------------------------

    def flush(self) -> None:
        """Knit all that is gathered: loops leave the left needle, new ones stand on the right."""
        g = self.gathered
        if not g.workings:
            g.clear()
            return
        self.flushes += 1
        if g.workings + self.grower.n > MOST_STITCHES:
            self.too_much(g.workings)
        self.run(g.run())

    def too_much(self, more: int) -> None:
        """More stitches are gathered than any piece has: the knitting ends here."""
        self.gathered.clear()
        self.report(problems.TooMuchKnitting(f"{more + self.grower.n:,} stitches"), self.span_here)
        raise TooMuch

    def run(self, r: Run) -> None:
        """Knit a run of single operations."""
        self.knit_shape(self.memory.shape(r, self.table), r.spans)

    def knit_shape(self, p: Shape, spans: Any) -> None:
        """Knit a run whose shape is known; ``spans`` (k,) number the words of its operations."""
        t, nd, c, g = self.table, self.needles, self.count, self.grower
        taken = p.taken
        n_left = len(nd.left)
        src = nd.left[n_left - taken :][::-1]
        r = p.run
        uncrossed = src
        if r.perms:
            src = src.copy()
            for at, perm in r.perms:
                src[at : at + len(perm)] = src[at : at + len(perm)][list(perm)]
        first_id = g.n
        starts, links, fresh = p.starts, p.links, None
        if p.where is None:
            parents = src
            column = g.columns_of(src)
        else:
            parents, starts, links = self._parents(p, src, uncrossed)
            column = None
            if taken:
                column, fresh = g.columns_of(src[p.keep]), p.fresh
        yarns, words = r.yarns, spans
        if p.from_op is not None:
            words = spans[p.from_op]
            if not isinstance(yarns, int):
                yarns = yarns[p.from_op]
        made: Int32 = g.append(
            op=p.ops, row=self.order, column=column, seen=p.seen[self.facing], side=self.side,
            mount=p.mount, yarn=yarns, span=words, pass_=p.passes, count=p.new, parents=parents, links=links,
            starts=starts, fresh=fresh,
        )  # fmt: skip
        if p.out_new is not None:
            out = np.empty(p.total, np.int32)
            out[p.out_new] = made
            out[p.out_old[0]] = src[p.out_old[1]]
            made = out
        if r.crossed:
            self._mark_crossed(made, r.crossed, first_id)
        self.log.append(("run", r.ops, spans, r.passes, first_id, self.order))
        if r.owned:
            self.log += [("own", name, span, a, b, self.order) for name, span, a, b in r.owned]
        c.made += p.made
        c.lost += p.lost
        if not c.first:
            c.first = t.keys[p.first_op]
            c.edge_first = int(made[0]) if len(made) else -1
        c.last = t.keys[p.last_op]
        if len(made):
            c.edge_last = int(made[-1])
        c.worked += taken
        c.touched += taken
        if taken:
            self.last_taken = int(uncrossed[-1])
        if nd.left_marks:
            plain = p.where is None
            takes, makes = (None, None) if plain else (t.takes[r.ops], t.makes[r.ops])
            self._move_marks(r.ops, spans, n_left, taken, takes, makes)
        nd.left = nd.left[: n_left - taken]
        nd.right = made if not len(nd.right) else np.concatenate([nd.right, made])

    def _parents(self, p: Shape, src: Int32, uncrossed: Int32) -> tuple[Int32, Any, Any]:
        """What the new stitches of a run hang on: the stitches, where those of each begin, and how."""
        if len(src):
            parents = src[p.where]
            if p.loose is not None:
                parents[p.loose] = uncrossed[p.where[p.loose]]
            if p.before is not None and self.last_taken >= 0:
                parents[p.before] = self.last_taken
        else:  # nothing is taken: yarn overs and lifted strands next to the needle's tip
            nd = self.needles
            peek = nd.left[-1:] if len(nd.left) else nd.right[-1:]
            if p.before is not None and self.last_taken >= 0:
                peek = np.array([self.last_taken], np.int32)
            if not len(peek):
                return EMPTY, np.zeros(p.new, np.int32), p.links[:0]
            parents = np.repeat(peek, len(p.where))
        if p.deep is not None:
            parents = self._deeper(parents, p.deep)
        return parents, p.starts, p.links

    def _mark_crossed(self, made: Int32, crossed: Sequence[tuple[int, int, int]], first_id: int) -> None:
        first = self.grower.buf["first"]
        for at, k, kind in crossed:
            for s in made[at : at + k].tolist():
                if s >= first_id:
                    self.grower.link[int(first[s])] = kind

    def _deeper(self, parents: Int32, deep: Any) -> Int32:
        """Stitches worked into the row below hang on the parent of the loop met, when there is one."""
        parents = parents.copy()
        for i in deep.tolist():
            up = self.grower.parents_of(int(parents[i]))
            if len(up):
                parents[i] = up[0]
        return parents

    def _move_marks(self, ops: Any, spans: Any, n_left: int, taken: int, takes: Any, makes: Any) -> None:
        """Markers that are passed are slipped; gaps that are passed are closed by the yarn and go."""
        nd = self.needles
        n_right = len(nd.right)
        low = n_left - taken
        passed = [b for b in nd.left_marks if b.at > low]
        nd.left_marks = [b for b in nd.left_marks if b.at <= low]
        for b in reversed(passed):
            steps_in = n_left - b.at
            if takes is None:
                made = steps_in
            else:
                done = np.cumsum(takes)
                j = int(np.searchsorted(done, steps_in, side="left")) + 1 if steps_in else 0
                if steps_in and int(done[j - 1]) != steps_in and b.kind == "marker":
                    start, end = self.grower.span_at(int(spans[j - 1]))
                    words = Span(start - self.offset, end - self.offset) if end >= 0 else self.span_here
                    self.report(
                        problems.MarkerCrossed(self.row_name, self.table.keys[int(ops[j - 1])]), words
                    )
                # operations that take nothing (yarn overs) right at the marker are worked before it is
                # slipped
                while j < len(takes) and takes[j] == 0:
                    j += 1
                made = int(makes[:j].sum())
            if b.kind in {"marker", "needle", "start"}:
                nd.right_marks.append(b.moved(n_right + made))

    def single_overs(self) -> None:
        """Let the second loop of every double yarn over on the left needle go."""
        nd, g = self.needles, self.grower
        loops = nd.left
        overs = self.table.overs(g.buf["op"][loops])
        span = g.buf["span"][loops]
        twin = overs[:-1] & overs[1:] & (span[:-1] == span[1:]) & (np.abs(np.diff(loops)) == 1)
        gone = np.flatnonzero(twin)
        if not len(gone):
            return
        for b in nd.left_marks:
            b.at -= int(np.count_nonzero(gone < b.at))
        nd.left = np.delete(loops, gone)
        self.count.lost += len(gone)
        self.count.worked += len(gone)

    # --- rows worked before --------------------------------------------------------------------------

    def row(self, part: Sequence[tree.Action]) -> None:
        """Work the steps of a row (or its part), as they were worked before if the needle is the same."""
        nd = self.needles
        if (
            nd.left_marks
            or len(nd.right)
            or self.loop_waits
            or self.gathered.workings
            or not self._simple(part)
        ):
            self.steps(part)
            return
        key = (*map(id, part), len(nd.left), self.size, int(nd.ring), self.yarn)
        known = self.memory.templates.get(key)
        g = self.grower
        if known is not None:
            workings = len(known.shape.run.ops)
            if workings + g.n > MOST_STITCHES:
                self.span_here = part[0].span
                self.too_much(workings)
            place = (id(known), self.offset)
            ids = self.span_ids.get(place)
            if ids is None:
                ids = self.span_ids[place] = g.add_spans(known.spans, self.offset)[known.span_of]
            for check, n in known.looks:
                self.look(check, n)
            self.flushes += 1
            self.knit_shape(known.shape, ids)
            return
        flushes, said, looks = self.flushes, self.said, dict(self.places)
        self.steps(part)
        gathered = self.gathered
        if self.flushes != flushes or self.said != said or not gathered.workings:
            return
        if gathered.workings + g.n > MOST_STITCHES:
            self.too_much(gathered.workings)
        run = gathered.run()
        self.flushes += 1
        shape = self.memory.shape(run, self.table)
        self.knit_shape(shape, run.spans)
        if isinstance(run.yarns, int) and run.yarns == self.yarn:
            words, span_of = g.spans_of(run.spans, self.offset)
            new = tuple((c, n - looks.get(c, 0)) for c, n in self.places.items() if n != looks.get(c, 0))
            self.memory.keep(key, Template(tuple(part), shape, words, span_of, new))

    def plain(self, actions: tuple[tree.Action, ...]) -> Plain:
        """Whether a line's actions are one row that depends on nothing but how many loops there are."""
        known = self.memory.plain.get(id(actions))
        if known is None or known.actions is not actions:
            known = self.memory.plain[id(actions)] = self._plain(actions)
        return known

    def _plain(self, actions: tuple[tree.Action, ...]) -> Plain:
        told = [a for a in actions if not isinstance(a, tree.Note)]
        n = next((i for i, a in enumerate(told) if isinstance(a, tree.Stated)), len(told))
        steps = tuple(told[:n])
        counts = tuple(a for a in told[n:] if isinstance(a, tree.Stated))
        if not steps or len(counts) != len(told) - n or not all(map(_is_simple, steps)):
            return Plain(actions, None)
        span = steps[0].span
        for a in told[1:]:
            span = span.cover(a.span)
        return Plain(actions, steps, counts, span if span.end >= 0 else (-1, -1))

    def _simple(self, part: Sequence[tree.Action]) -> bool:
        """Whether steps depend on nothing but how many loops there are."""
        simple = self.memory.simple
        for s in part:
            got = simple.get(id(s))
            if got is None or got[0] is not s:
                got = simple[id(s)] = (s, _is_simple(s))
            if not got[1]:
                return False
        return True

    # --- working steps -------------------------------------------------------------------------------

    def steps(self, steps: Sequence[tree.Action], pass_: int = 1, *, once: bool = True) -> None:
        """Work steps in order. Raises Stop when the row cannot go on."""
        size = self.size
        frames = self.frames
        frames.append((steps, 0, once))
        depth = len(frames) - 1
        try:
            for i, s in enumerate(steps):
                frames[depth] = (steps, i + 1, once)
                if type(s) is tree.Work and not s.own and not self.loop_waits:
                    values = s.count.values
                    n = values[0] if len(values) == 1 else s.count.at(size)
                    if not n:
                        continue
                    st = dictionary().find(s.stitch) if s.yarn is None else worked(s)
                    if st is not None and st.motion in BULK:
                        op = self.op_of.get(st.key)
                        if op is None:
                            op = self.op(st)
                        need = st.takes * n
                        if need > len(self.needles.left) - self.gathered.taken and not self.reach(need):
                            self.too_few(s, st.takes, n, op, pass_)
                        yarn = self.yarn if s.colour is None else self.grower.yarn(s.colour)
                        self.add(op, n, self.span_id(s.span), pass_, yarn)
                        continue
                self.span_here = s.span
                self.step(s, pass_)
        finally:
            del frames[depth:]

    def step(self, s: tree.Action, pass_: int) -> None:
        """Work one step of any kind."""
        if self.loop_waits and not isinstance(s, _KEEPS_LOOP):
            self.loop_waits = False
        match s:
            case tree.Work():
                work_stitch(self, s, pass_)
            case tree.Fill():
                fill(self, s.body, distance(self, s.to, s.span), s, pass_)
            case tree.Repeat():
                repeat(self, s, pass_)
            case tree.InGround():
                ground(self, s, pass_)
            case tree.InPattern():
                in_pattern(self, s, pass_)
            case tree.BySlip():
                by_slip(self, s, pass_)
            case tree.Into():
                into_one(self, s, pass_)
            case tree.Cross():
                cross_worded(self, s, pass_)
            case tree.PassOver():
                pass_over(self, self.number(s.count), self.number(s.over), s.span)
            case tree.SlipBack():
                slip_back(self, self.number(s.count), s.span)
            case tree.Drop():
                drop_loops(self, s)
            case tree.Wrap():
                wrap_next(self, s)
            case tree.Turn():
                if not s.never:
                    self.flush()
                    self.on_turn(s)
            case tree.Marker():
                marker(self, s)
            case tree.YarnTo():
                self.flush()
                self.act("yarn front" if s.front else "yarn back", self.span_id(s.span))
            case tree.Yarn():
                if s.act != "break" and s.colour is not None:
                    self.yarn = self.grower.yarn(s.colour)
                elif s.act == "use":
                    self.yarn = self._own_yarn()
            case tree.Hold():
                hold(self, s)
            case tree.Return():
                return_held(self, s)
            case tree.BindOff():
                bind_off(self, s, pass_)
            case tree.CastOn():
                cast_on(self, s)
            case tree.PickUp():
                pick_up(self, s)
            case tree.EdgeJoin():
                join_edge(self, s, pass_)
            case tree.Evenly():
                evenly(self, s, pass_)
            case tree.AtEdges():
                at_edges(self, s, pass_)
            case tree.Call():
                call(self, s, pass_)
            case tree.RowRef() if s.to is not None:
                as_far(self, s, s.to)
            case tree.Choice():
                choice(self, s, pass_)
            case tree.Resolve():
                self.look("C033")
            case _:
                pass

    def _own_yarn(self) -> int:
        """The yarn of the last stitch that is not in waste yarn: "with the working yarn"."""
        self.flush()
        spare = waste_yarns(self.grower.yarns)
        yarns = self.grower.buf["yarn"]
        last = (int(yarns[n]) for n in range(self.grower.n - 1, -1, -1))
        return next((yarn for yarn in last if yarn not in spare), 0)

    # --- where things are ------------------------------------------------------------------------------

    def reach(self, need: int) -> bool:
        """In a ring after a turn, loops beyond the start of the round come within reach."""
        nd = self.needles
        if not nd.ring or not len(nd.right):
            return False
        lacking = need - self.left_over
        c = self.count
        if c.start and c.worked + self.gathered.taken + need > c.start and not c.picked_up:
            return False  # with stitches picked up on the way, the round may go on to where the next begins
        if self.right_at_start < lacking and not (c.picked_up and lacking <= c.worked):
            return False
        self.flush()
        nd.pull_round(lacking)
        self.right_at_start = max(self.right_at_start - lacking, 0)
        return True

    def tail(self) -> int | None:
        """Loops that the rest of the row's words take after this step; None if that depends on the needle."""
        need = 0
        for steps, at, once in reversed(self.frames):
            for s in steps[at:]:
                if isinstance(s, tree.Turn) and not s.never:
                    return need
                c = self.measure.one(s)
                if c is None:
                    return None
                need += c[0]
            if not once:
                return need
        return need

    def loop_counts(self) -> bool:
        """Whether the stitch that a bind-off left is the first of those counted after it, in all of this row:
        its numbers add up to the stitches that the row began with.
        """
        steps = self.frames[0][0] if self.frames else ()
        return bool(self.count.start) and self.measure.by_numbers(steps) == self.count.start

    def after(self) -> tree.Action | None:
        """The step that the row's words say next after this one."""
        for steps, at, once in reversed(self.frames):
            if at < len(steps):
                return steps[at]
            if not once:
                return None
        return None

    # --- stitches ------------------------------------------------------------------------------------------

    def too_few(self, s: tree.Work, takes: int, n: int, op: int, pass_: int) -> None:
        """More stitches are asked for than are there: work those that are, say so, give up the row."""
        there = self.left_over
        fit = there // takes if takes else 0
        rest = self.tail() or 0
        uses = self.count.worked + self.gathered.taken + takes * n + rest
        have = self.count.worked + self.gathered.taken + there
        if fit:
            self.add(op, fit, self.span_id(s.span), pass_, self.yarn)
        self.report(
            problems.CountDiffers(self.row_name, uses, have, at_least=self.tail() is None, group=0), s.span
        )
        raise Stop


def _is_simple(s: tree.Action) -> bool:
    """Whether what a step does depends on nothing but how many loops there are."""
    if isinstance(s, tree.Work):
        if s.own or s.colour is not None:
            return False
        st = dictionary().find(s.stitch)
        return st is not None and st.motion in BULK
    if isinstance(s, tree.Fill):
        return s.to.kind is tree.PlaceKind.END and all(map(_is_simple, s.body))
    if isinstance(s, tree.Repeat):
        return (s.to is None or s.to.kind is tree.PlaceKind.END) and all(map(_is_simple, s.body))
    if isinstance(s, tree.Into):
        return all(map(_is_simple, s.steps))
    return isinstance(s, tree.Note)


_KEEPS_LOOP = (
    tree.Work, tree.Repeat, tree.BindOff, tree.Marker, tree.YarnTo, tree.Note, tree.Stated, tree.InPattern,
    tree.InGround,
)  # fmt: skip
"""After binding off a stitch is left on the right needle; these may still count it among their own."""
