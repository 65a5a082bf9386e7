"""Working steps on the needles: runs of stitches are gathered and knitted whole, the rest one action at a time.

In: steps of the tree and the state of the needles. Out: stitches in the fabric, moves in the log, counters of the
row. Where rows begin and end, and what a line of the pattern asks for, is left to ``knit``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from purlwright.fabric.arrays import Int32, Link, Seen
from purlwright.needles import problems
from purlwright.needles.gather import Gathered, Run
from purlwright.needles.loops import Boundary, Held, Needles
from purlwright.needles.measure import Measure
from purlwright.pattern import tree
from purlwright.stitches.kinds import Face, Family, Motion, Stitch
from purlwright.stitches.load import dictionary, grounds

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from purlwright.fabric.grow import Grower
    from purlwright.findings import Problem
    from purlwright.needles.optable import OpTable
    from purlwright.text import Span

__all__ = ["Edges", "Stop", "Worker"]

_EMPTY: Int32 = np.zeros(0, np.int32)
MOST_STITCHES = 5_000_000


class Stop(Exception):  # noqa: N818 - not a fault: the rest of this row cannot be worked
    """The rest of the row cannot be worked; the reason is reported already."""


@dataclass(slots=True)
class Edges:
    """The edges of the piece in work, as stitch ids in the order they were made."""

    cast_on: list[Int32] = field(default_factory=list)
    bound_off: list[Int32] = field(default_factory=list)
    right: list[int] = field(default_factory=list)
    left: list[int] = field(default_factory=list)
    picked_up: list[Int32] = field(default_factory=list)

    def copy(self) -> Edges:
        return Edges(
            list(self.cast_on), list(self.bound_off), list(self.right), list(self.left), list(self.picked_up)
        )


@dataclass(slots=True)
class Counters:
    """What one row did so far."""

    start: int = 0
    worked: int = 0
    made: int = 0
    lost: int = 0
    held: int = 0
    returned: int = 0
    picked_up: int = 0
    cast_on: int = 0
    bound_off: int = 0
    touched: int = 0
    first: str = ""
    last: str = ""
    edge_first: int = -1
    edge_last: int = -1


@dataclass(slots=True)
class Worker:
    """The knitter's hands for one size. ``report`` takes a problem and a span relative to the line in work."""

    grower: Grower
    table: OpTable
    measure: Measure
    needles: Needles
    report: Callable[[Problem, Span], None]
    size: int
    definitions: dict[str, tree.Definition]
    calls: Callable[[tree.Call], Sequence[tree.Step] | None]
    established: Callable[[], tuple[tree.Step, ...] | None]
    on_turn: Callable[[tree.Turn], None]
    offset: int = 0
    order: int = 0
    facing: int = 0
    side: int = 0
    yarn: int = 0
    row_name: str = "This row"
    edges: Edges = field(default_factory=Edges)
    count: Counters = field(default_factory=Counters)
    wraps: dict[int, str] = field(default_factory=dict)
    log: list[tuple[Any, ...]] = field(default_factory=list)
    ground_row: dict[str, tuple[int, int]] = field(default_factory=dict)
    places: dict[str, int] = field(default_factory=dict)
    flushes: int = 0
    loop_waits: bool = False
    short: int = 0
    quiet: int = 0
    # what is gathered and not yet knitted
    gathered: Gathered = field(default_factory=Gathered)
    frames: list[tuple[Sequence[tree.Action], int, bool]] = field(default_factory=list)
    op_of: dict[str, int] = field(default_factory=dict)

    # --- small things ------------------------------------------------------------------------------

    def look(self, check: str, places: int = 1) -> None:
        """Note that a check looked at a place."""
        self.places[check] = self.places.get(check, 0) + places

    @property
    def left_over(self) -> int:
        """Loops still on the left needle, gathered work counted as done."""
        return len(self.needles.left) - self.gathered.taken

    def number(self, n: tree.Number | None, default: int = 1) -> int:
        if n is None:
            return default
        v = n.at(self.size)
        return 0 if v is None else v

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
            g.clear()
            raise Stop
        self.run(g.run())

    def run(self, r: Run) -> None:
        """Knit a run of single operations in array steps."""
        ops, spans, passes, yarns, taken, perms, crossed = (
            r.ops, r.spans, r.passes, r.yarns, r.taken, r.perms, r.crossed
        )  # fmt: skip
        t, nd, c = self.table, self.needles, self.count
        n_left = len(nd.left)
        src = nd.left[n_left - taken :][::-1]
        if perms:
            src = src.copy()
            for at, perm in perms:
                src[at : at + len(perm)] = src[at : at + len(perm)][list(perm)]
        first_id = self.grower.n
        plain = bool(t.plain[ops].all())
        made: Int32
        if plain:
            child = t.first_child[ops]
            seen = t.child_seen[child]
            if self.facing:
                seen = np.where(seen == Seen.NONE, seen, 1 - seen)
            made = self.grower.append(
                op=ops, row=self.order, column=self.grower.columns_of(src), seen=seen, side=self.side,
                mount=t.child_twist[child], yarn=yarns, span=spans, pass_=passes, count=taken, parents=src, links=0,
            )  # fmt: skip
            makes_all = takes_all = None
        else:
            made, makes_all, takes_all = self._run_any(ops, spans, passes, yarns, src)
            net = makes_all - takes_all
            c.made += int(net[net > 0].sum())
            c.lost -= int(net[net < 0].sum())
        if crossed:
            links = self.grower.link
            for at, k, kind in crossed:
                for s in made[at : at + k].tolist():
                    if s >= first_id:
                        links[int(self.grower.buf["first"][s])] = kind
        self.log.append(("run", ops, spans, passes, first_id, self.order))
        if not c.first:
            c.first = t.keys[int(ops[0])]
            c.edge_first = int(made[0]) if len(made) else -1
        c.last = t.keys[int(ops[-1])]
        if len(made):
            c.edge_last = int(made[-1])
        c.worked += taken
        c.touched += taken
        if nd.left_marks:
            self._move_marks(ops, n_left, taken, takes_all, makes_all)
        nd.left = nd.left[: n_left - taken]
        nd.right = made if not len(nd.right) else np.concatenate([nd.right, made])

    def _run_any(self, ops: Any, spans: Any, passes: Any, yarns: Any, src: Int32) -> tuple[Int32, Any, Any]:
        """As :meth:`run`, for operations of every kind. Returns the loops made, and loops made and taken by each operation."""
        t, g = self.table, self.grower
        makes = t.makes[ops]
        takes = t.takes[ops]
        total = int(makes.sum())
        begins = np.cumsum(takes) - takes
        starts = np.cumsum(makes) - makes
        child = np.repeat(t.first_child[ops] - starts, makes) + np.arange(total)
        base = np.repeat(begins, makes)
        new = t.child_new[child]
        whole = bool(new.all())
        keep = child if whole else child[new]
        base_new = base if whole else base[new]
        each = t.child_parents[keep]
        parents_n = int(each.sum())
        rel_at = np.repeat(t.child_rel[keep] - (np.cumsum(each) - each), each) + np.arange(parents_n)
        where = np.repeat(base_new, each) + t.rel[rel_at]
        links: Any = t.rel_link[rel_at]
        n_src = len(src)
        if n_src:
            parents = src[np.clip(where, 0, n_src - 1)]
        else:
            peek = self.needles.left[-1:] if len(self.needles.left) else self.needles.right[-1:]
            if len(peek):
                parents = np.repeat(peek, parents_n)
            else:
                parents, each, links = _EMPTY, np.zeros_like(each), links[:0]
        parents, links = self._deeper(parents, links)
        keeps = t.child_keeps[keep]
        column = np.full(len(keep), -1, np.int32)
        if n_src:
            old = keeps >= 0
            column[old] = g.columns_of(src[np.clip(base_new[old] + keeps[old], 0, n_src - 1)])
        seen = t.child_seen[keep]
        if self.facing:
            seen = np.where(seen == Seen.NONE, seen, 1 - seen)

        def spread(a: Any) -> Any:
            if isinstance(a, int):
                return a
            b = np.repeat(a, makes)
            return b if whole else b[new]

        ids = g.append(
            op=spread(ops), row=self.order, column=column, seen=seen, side=self.side, mount=t.child_twist[keep],
            yarn=spread(yarns), span=spread(spans), pass_=spread(passes), count=len(keep), parents=parents,
            links=links, parents_each=each,
        )  # fmt: skip
        if whole:
            return ids, makes, takes
        out = np.empty(total, np.int32)
        out[new] = ids
        slipped = ~new
        out[slipped] = src[base[slipped] + t.rel[t.child_rel[child[slipped]]]]
        return out, makes, takes

    def _deeper(self, parents: Int32, links: Any) -> tuple[Int32, Any]:
        """Stitches worked into the row below hang on the parent of the loop met, when there is one."""
        deep = np.flatnonzero((links == Link.BELOW) | (links == Link.HEAD))
        if len(deep):
            parents = parents.copy()
            for i in deep.tolist():
                up = self.grower.parents_of(int(parents[i]))
                if len(up):
                    parents[i] = up[0]
        return parents, links

    def _move_marks(self, ops: Any, n_left: int, taken: int, takes: Any, makes: Any) -> None:
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
                    self.report(
                        problems.MarkerCrossed(self.row_name, self.table.keys[int(ops[j - 1])]),
                        self._span_here,
                    )
                # operations that take nothing (yarn overs) right at the marker are worked before it is slipped
                while steps_in and j < len(takes) and takes[j] == 0:
                    j += 1
                made = int(makes[:j].sum())
            if b.kind in {"marker", "needle"}:
                nd.right_marks.append(b.moved(n_right + made))

    _span_here: Any = (0, 0)

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
                    st = dictionary().find(s.stitch)
                    if st is not None and st.motion in _BULK:
                        op = self.op_of.get(st.key)
                        if op is None:
                            op = self.op(st)
                        need = st.takes * n
                        if need > len(self.needles.left) - self.gathered.taken and not self._reach(need):
                            self._too_few(s, st.takes, n, op, pass_)
                        yarn = self.yarn if s.colour is None else self.grower.yarn(s.colour)
                        self.add(op, n, self.span_id(s.span), pass_, yarn)
                        continue
                self._span_here = s.span
                self.step(s, pass_)
        finally:
            del frames[depth:]

    def step(self, s: tree.Action, pass_: int) -> None:  # noqa: C901, PLR0912, PLR0915
        """Work one step of any kind."""
        match s:
            case tree.Work():
                self._work(s, pass_)
            case tree.Fill():
                self._fill(s.body, self.distance(s.to, s.span), s, pass_)
            case tree.Repeat():
                self._repeat(s, pass_)
            case tree.InGround():
                self._ground(s, pass_)
            case tree.InPattern():
                self._in_pattern(s, pass_)
            case tree.Into():
                self._into(s, pass_)
            case tree.Cross():
                self._cross(s, pass_)
            case tree.PassOver():
                self._pass_over(self.number(s.count), self.number(s.over), s.span)
            case tree.SlipBack():
                self._slip_back(self.number(s.count), s.span)
            case tree.Drop():
                self._drop(s)
            case tree.Wrap():
                self._wrap(s)
            case tree.Turn():
                if not s.never:
                    self.flush()
                    self.on_turn(s)
            case tree.Marker():
                self._marker(s)
            case tree.YarnTo():
                self.flush()
                self.act("yarn front" if s.front else "yarn back", self.span_id(s.span))
            case tree.Yarn():
                if s.act != "break" and s.colour is not None:
                    self.yarn = self.grower.yarn(s.colour)
            case tree.Hold():
                self._hold(s)
            case tree.Return():
                self._return(s)
            case tree.BindOff():
                self._bind_off(s, pass_)
            case tree.CastOn():
                self._cast_on(s)
            case tree.PickUp():
                self._pick_up(s)
            case tree.Evenly():
                self._evenly(s, pass_)
            case tree.AtEdges():
                self._at_edges(s, pass_)
            case tree.Call():
                self._call(s, pass_)
            case tree.Choice():
                self._choice(s, pass_)
            case tree.Resolve():
                self.look("C033")
            case _:
                pass

    # --- where things are ------------------------------------------------------------------------------

    def _reach(self, need: int) -> bool:
        """In a ring after a turn, loops beyond the start of the round come within reach."""
        nd = self.needles
        if not nd.ring or not len(nd.right):
            return False
        lacking = need - self.left_over
        if self.count.start and self.count.worked + self.gathered.taken + lacking > self.count.start:
            return False
        self.flush()
        fresh = len(nd.right) - self._made_here
        if fresh < lacking:
            return False
        start = nd.pull_round
        start(lacking)
        return True

    _made_here: int = 0

    def distance(self, to: tree.Place, span: Span) -> int:
        """How many loops lie between here and a place. Raises Stop if it is not there."""
        left = self.left_over
        before = self.number(to.before, 0)
        past = self.number(to.past, 0)
        kind = to.kind
        if kind in {tree.PlaceKind.MARKER, tree.PlaceKind.GAP, tree.PlaceKind.WRAPPED}:
            base = self._to_boundary(to, span)
        elif kind in {tree.PlaceKind.CENTRE, tree.PlaceKind.HALF}:
            done = self.count.worked + self.gathered.taken
            half = (self.count.start - 1) // 2 if kind is tree.PlaceKind.CENTRE else self.count.start // 2
            base = half - done
        elif kind is tree.PlaceKind.DECREASE:
            base = self._to_decrease()
        elif kind is tree.PlaceKind.NEEDLE_END:
            ends = [left - b.at for b in self.needles.left_marks if b.kind == "needle" and b.at < left]
            base = min(ends) if ends else left
        else:
            base = left
            for b in self.needles.left_marks:
                if b.kind == "start" and b.at <= left:
                    base = left - b.at
        n = base - before + past
        self.look("C006")
        if n < 0 or n > left:
            if n < 0:
                self.report(problems.PlaceBehind(self.row_name, before, max(base, 0), str(kind)), span)
            else:
                self.report(problems.PlaceBehind(self.row_name, 0, left, str(kind)), span)
            raise Stop
        return n

    def _to_boundary(self, to: tree.Place, span: Span) -> int:
        left = self.left_over
        gap = to.kind is not tree.PlaceKind.MARKER
        wanted = "gap" if gap else "marker"
        marks = [b for b in self.needles.left_marks if b.kind == wanted and b.at <= left]
        marks.reverse()
        self.look("C037")
        if not gap and to.name and to.name not in {"last", "next", "first", "second"}:
            named = [b for b in marks if b.name.lower() == to.name.lower()]
            if named:
                marks = named
        if len(marks) > 1 and marks[0].at == left:
            marks = marks[1:]
        if not gap and to.name == "last" and marks:
            marks = marks[-1:]
        if len(marks) >= to.nth:
            b = marks[to.nth - 1]
            b.met = True
            return left - b.at
        if not gap and self.needles.ring and (self.needles.start_marked or not marks):
            return left
        self.report(
            problems.NoSuchGap(self.row_name) if gap else problems.NoMarker(self.row_name, to.name or ""),
            span,
        )
        raise Stop

    def _to_decrease(self) -> int:
        """Loops before the next one that an earlier decrease made."""
        nd = self.needles
        left = self.left_over
        op = self.grower.buf["op"]
        t = self.table
        for d, s in enumerate(nd.left[:left][::-1].tolist()):
            o = int(op[s])
            if t.takes[o] > t.makes[o] and t.makes[o] == 1:
                return d
        return max((self.count.start - 1) // 2 - self.count.worked - self.gathered.taken, 0)

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

    # --- stitches ------------------------------------------------------------------------------------------

    def _too_few(self, s: tree.Work, takes: int, n: int, op: int, pass_: int) -> None:
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
        self.short = 1
        raise Stop

    def _work(self, s: tree.Work, pass_: int, *, times: int = 1) -> None:
        n = self.number(s.count) * times
        if self.loop_waits and not s.own:
            st = dictionary().find(s.stitch)
            self.loop_waits = False
            rest = self.tail()
            if (
                st is not None
                and st.takes == 1
                and rest is not None
                and n + rest == self.left_over + 1
                and n > 0
            ):
                n -= 1  # the stitch left by the bind-off counts as the first of these
        if n <= 0:
            return
        if s.own:
            for _ in range(n):
                self._own(s, pass_)
            return
        st = dictionary().find(s.stitch)
        if st is None:
            st = dictionary().find("k")
        if st is None:
            return
        if st.motion in _BULK:
            need = st.takes * n
            op = self.op(st)
            if need > self.left_over and not self._reach(need):
                self._too_few(s, st.takes, n, op, pass_)
            yarn = self.yarn if s.colour is None else self.grower.yarn(s.colour)
            self.add(op, n, self.span_id(s.span), pass_, yarn)
        elif st.motion is Motion.BIND_OFF:
            self._bind_off(tree.BindOff(count=s.count, span=s.span), pass_)
        elif st.motion is Motion.CAST_ON:
            self._cast_on(tree.CastOn(count=s.count, at="here", span=s.span))
        elif st.motion is Motion.PICK_UP:
            self._pick_up(tree.PickUp(count=s.count, span=s.span))
        elif st.motion is Motion.TURN:
            self.flush()
            how = tree.TurnHow.WRAP if "w" in st.key.lower() and "t" in st.key.lower() else tree.TurnHow.PLAIN
            self.on_turn(tree.Turn(how=how, span=s.span))
        elif st.motion is Motion.PASS:
            for _ in range(n):
                if st.takes:
                    self._pass_next(s.span)
                else:
                    self._pass_over(-st.net, 1, s.span)
        elif st.motion is Motion.DROP:
            self._drop(tree.Drop(count=s.count, span=s.span))

    def _own(self, s: tree.Work, pass_: int) -> None:
        """Work one of the pattern's own stitches from its words."""
        d = self.definitions.get(s.stitch)
        if d is None:
            self._work(tree.Work(stitch="k", count=tree.Number(values=(1,)), span=s.span), pass_)
            return
        takes, makes = self.measure.own.get(s.stitch, (1, 1))
        if self.measure.all(d.steps) is not None and not any(
            isinstance(x, tree.Turn) for x in tree.walk(d.steps)
        ):
            if takes > self.left_over and not self._reach(takes):
                self._too_few(
                    tree.Work(stitch="k", count=tree.Number(values=(1,)), span=s.span), takes, 1, self.op(_known("k")), pass_
                )  # fmt: skip
            self.steps(d.steps, pass_)
            return
        self.flush()
        if takes > self.left_over and not self._reach(takes):
            self._too_few(
                tree.Work(stitch="k", count=tree.Number(values=(1,)), span=s.span), takes, 1, self.op(_known("k")), pass_
            )  # fmt: skip
        self.apart(d.steps, takes)
        c = self.count
        if makes > takes:
            c.made += makes - takes
        else:
            c.lost += takes - makes
        c.worked += takes
        c.touched += takes
        c.first = c.first or s.stitch
        c.last = s.stitch

    def apart(self, steps: Sequence[tree.Step], takes: int) -> None:
        """Work steps on the next ``takes`` loops alone, turns and all, and set the result on the right needle."""
        nd = self.needles
        n = len(nd.left)
        mine = Needles(left=nd.left[n - takes :])
        marks = [b for b in nd.left_marks if b.at > n - takes]
        nd.left = nd.left[: n - takes]
        nd.left_marks = [b for b in nd.left_marks if b.at <= n - takes]
        was = (self.needles, self.on_turn, self.facing, self.count, self.frames, self.side)

        def flip(_: tree.Turn) -> None:
            self.needles.turn()
            self.facing ^= 1

        self.needles, self.on_turn, self.count, self.frames = mine, flip, Counters(start=takes), []
        try:
            self.steps(steps)
            self.flush()
        except Stop:
            self.gathered.clear()
        finally:
            mine = self.needles
            flipped = self.facing != was[2]
            self.needles, self.on_turn, self.facing, self.count, self.frames, self.side = was
        loops = np.concatenate([mine.right, mine.left[::-1]])
        if flipped:
            loops = loops[::-1]
        for b in marks:
            nd.right_marks.append(b.moved(len(nd.right)))
        nd.right = np.concatenate([nd.right, loops])

    def _into(self, s: tree.Into, pass_: int) -> None:
        n = self.number(s.count)
        key, faces = [], []
        for x in s.steps:
            if isinstance(x, tree.Work) and not x.own:
                st = dictionary().find(x.stitch)
                if st is not None:
                    k = self.number(x.count)
                    key.extend([st.key] * k)
                    faces.extend(list(st.faces or (Face.NONE,)) * k)
        made = len(faces)
        if made == 0:
            return
        name = f"({', '.join(key)}) in {s.over}"
        st = Stitch(
            key=name, us=name, uk=name, name_us=name, name_uk=name, family=Family.INCREASE, takes=s.over, makes=made,
            faces=tuple(faces),
        )  # fmt: skip
        op = self.op(st)
        need = s.over * n
        if need > self.left_over and not self._reach(need):
            self._too_few(tree.Work(stitch="k", count=s.count, span=s.span), s.over, n, op, pass_)
        self.add(op, n, self.span_id(s.span), pass_, self.yarn)

    def _cross(self, s: tree.Cross, pass_: int) -> None:
        held = self.number(s.held)
        first, second = self.measure.all(s.first), self.measure.all(s.second)
        if first is None or second is None or second[0] != held:
            second = (held, held)
        a = first[0] if first is not None else held
        if a + held > self.left_over and not self._reach(a + held):
            self._too_few(
                tree.Work(stitch="k", count=s.held, span=s.span), 1, a + held, self.op(_known("k")), pass_
            )
        if self._marks_within(a + held):
            self.flush()
        self.gathered.perms.append((self.gathered.taken, (*range(held, held + a), *range(held))))
        at = self.gathered.made
        self.steps(s.first, pass_, once=False)
        mid = self.gathered.made
        self.steps(s.second, pass_, once=False)
        end = self.gathered.made
        front, back = int(Link.CROSSED_FRONT), int(Link.CROSSED_BACK)
        self.gathered.crossed.append((at, mid - at, back if s.front else front))
        self.gathered.crossed.append((mid, end - mid, front if s.front else back))

    def _marks_within(self, loops: int) -> bool:
        n = self.left_over
        return any(n - loops < b.at <= n for b in self.needles.left_marks)

    # --- fills and repeats --------------------------------------------------------------------------------

    def _fill(self, body: Sequence[tree.Step], dist: int, s: tree.Action, pass_: int) -> None:
        """Work ``body`` over and over for ``dist`` loops; it may stop inside."""
        if dist <= 0:
            return
        size = self.measure.all(body)
        if size is None or size[0] <= 0:
            if size is not None:
                self.steps(body, pass_)
            else:
                stop = self.left_over - dist
                while self.left_over > stop:
                    here = self.left_over
                    self.steps(body, pass_, once=False)
                    if self.left_over >= here:
                        break
            return
        each = size[0]
        full, rest = divmod(dist, each)
        if (
            full
            and len(body) == 1
            and isinstance(body[0], tree.Work)
            and not body[0].own
            and body[0].count.values == (1,)
        ):
            self._work(body[0], pass_, times=full)
        elif full:
            self._times(body, full, pass_)
        if rest:
            self._part(body, rest, s, pass_, dist)

    def _part(self, body: Sequence[tree.Step], rest: int, s: tree.Action, pass_: int, dist: int) -> None:
        """Work the beginning of ``body`` for ``rest`` loops."""
        for x in body:
            if rest <= 0:
                return
            c = self.measure.one(x)
            if c is None:
                continue
            if c[0] <= rest:
                self.steps((x,), pass_, once=False)
                rest -= c[0]
                continue
            if isinstance(x, tree.Work):
                t, _ = self.measure.stitch(x)
                k = rest // t if t else 0
                if k:
                    part = tree.Work(
                        stitch=x.stitch,
                        own=x.own,
                        colour=x.colour,
                        span=x.span,
                        count=tree.Number(values=(k,)),
                    )
                    self.steps((part,), pass_, once=False)
                    rest -= k * t
            elif isinstance(x, tree.Repeat):
                self._part(x.body * self.number(x.times), rest, s, pass_, dist)
                return
            if rest:
                size = self.measure.all(body)
                self.report(problems.GroupUneven(self.row_name, size[0] if size else 1, dist), s.span)
                raise Stop

    def _times(self, body: Sequence[tree.Step], n: int, pass_: int) -> None:
        """Work ``body`` ``n`` times. What can be gathered is gathered once and copied."""
        del pass_
        if n <= 0:
            return
        size = self.measure.all(body)
        if size is None or n == 1:
            for i in range(n):
                if i > MOST_STITCHES // 10:
                    raise Stop
                here, flushed = self.left_over, self.flushes
                self.steps(body, i + 1, once=False)
                if i > 10_000 and here == self.left_over and flushed == self.flushes:
                    raise Stop
            return
        g, flushes, mark = self.gathered, self.flushes, self.gathered.mark()
        self.steps(body, -1, once=False)
        if self.flushes != flushes or len(g.ops) == mark[0]:
            for i in range(1, n):
                self.steps(body, i + 1, once=False)
            return
        step, more = g.taken - mark[4], n - 1
        if (g.workings - mark[6]) * n + self.grower.n > MOST_STITCHES:
            g.clear()
            raise Stop
        if step * more > self.left_over:
            g.copy(mark, self.left_over // step)
            raise _Short(n, step)
        g.copy(mark, more)

    def _repeat(self, s: tree.Repeat, pass_: int) -> None:
        size = self.measure.all(s.body)
        if s.to is not None and not (s.to.kind is tree.PlaceKind.END and s.to.before is None):
            dist = self.distance(s.to, s.span)
            if s.cut and dist >= 0:
                tail = self.tail()
                extra = (tail or 0) - self.number(s.to.before, 0)
                dist = max(dist - max(extra, 0), 0)
            self._whole(s, dist, size, pass_)
            return
        if s.times is not None:
            self._counted(s, size, pass_)
            return
        tail = self.tail()
        if tail is None:
            if s.said is tree.Said.PAIR:
                self._times(s.body, 1, pass_)
                return
            tail = 0
        self._whole(s, self.left_over - tail if s.to is None else self._to_end(tail), size, pass_)

    def _to_end(self, tail: int) -> int:
        """Loops to the end of the row (or round), less what the words after the repeat take."""
        return self.distance(tree.Place(kind=tree.PlaceKind.END), self._span_here) - tail

    def _whole(self, s: tree.Repeat, dist: int, size: tuple[int, int] | None, pass_: int) -> None:
        """Work a repeat as often as ``dist`` loops allow; it must come out even."""
        if size is None or size[0] <= 0:
            stop = self.left_over - dist
            i = 0
            while self.left_over > stop and i < MOST_STITCHES:
                here = self.left_over
                i += 1
                self.steps(s.body, i, once=False)
                if self.left_over >= here:
                    break
            return
        self.look("C007")
        each = size[0]
        full, rest = divmod(max(dist, 0), each)
        if dist < 0:
            uses = self.count.worked + self.gathered.taken + each + self.left_over - dist
            self.report(
                problems.CountDiffers(
                    self.row_name, uses, self.count.worked + self.gathered.taken + self.left_over
                ),
                s.span,
            )
            raise Stop
        if rest and not s.cut:
            self._times(s.body, full, pass_)
            self.report(problems.RepeatUneven(self.row_name, each, dist), s.span)
            self.short = 1
            raise Stop
        self._times(s.body, full, pass_)
        if rest:
            self._part(s.body, rest, s, pass_, dist)

    def _counted(self, s: tree.Repeat, size: tuple[int, int] | None, pass_: int) -> None:
        """Work a repeat a given number of times; after a star "n times" may be n in all or n more."""
        n = self.number(s.times)
        if s.star:
            self.look("C026")
            if s.said is tree.Said.MORE:
                n += 1
            elif s.said is tree.Said.TIMES and size is not None and size[0] > 0:
                tail = self.tail()
                if tail is not None and self.left_over - tail == size[0] * (n + 1):
                    n += 1
        try:
            if size is not None and size[0] * n > self.left_over and not self._reach(size[0] * n):
                fit = self.left_over // size[0]
                self._times(s.body, fit, pass_)
                uses = self.count.worked + self.gathered.taken + size[0] * (n - fit) + (self.tail() or 0)
                there = self.count.worked + self.gathered.taken + self.left_over
                self.report(problems.CountDiffers(self.row_name, uses, there, group=size[0]), s.span)
                self.short = 1
                raise Stop
            self._times(s.body, n, pass_)
        except _Short as e:
            there = self.count.worked + self.gathered.taken + self.left_over
            self.report(problems.CountDiffers(self.row_name, e.each * e.n, there, group=e.each), s.span)
            raise Stop from None

    def _choice(self, s: tree.Choice, pass_: int) -> None:
        """Take the first reading that uses up what is there."""
        tail = self.tail()
        best = s.readings[0] if s.readings else ()
        if tail is not None:
            for r in s.readings:
                c = self.measure.all(r)
                if c is not None and c[0] + tail == self.left_over:
                    best = r
                    break
        self.steps(best, pass_)

    # --- grounds and "in pattern" ---------------------------------------------------------------------------

    def _span_of(self, count: tree.Number | None, to: tree.Place | None, span: Span) -> int:
        if to is not None:
            return self.distance(to, span)
        if count is not None:
            n = self.number(count)
            if n > self.left_over and not self._reach(n):
                self._too_few(tree.Work(stitch="k", count=count, span=span), 1, n, self.op(_known("k")), 1)
            return n
        tail = self.tail()
        return max(self.left_over - (tail or 0), 0)

    def _ground(self, s: tree.InGround, pass_: int) -> None:
        n = self._span_of(s.count, s.to, s.span)
        g = grounds().find(s.ground)
        if g is None or n <= 0:
            if n > 0:
                self._as_they_appear(n, s.span)
            return
        ring = self.needles.ring
        last = self.ground_row.get(g.key)
        if last is None:
            i, fresh = (0 if ring or len(g.flat) == 1 else self.facing), True
        elif last[1] == self.order:
            i, fresh = last[0], self._ground_fresh
        else:
            i, fresh = last[0] + 1, False
            if not ring and len(g.flat) % 2 == 0 and len(g.setup) % 2 == 0 and i % 2 != self.facing:
                i += 1
        self._ground_fresh = fresh
        self.ground_row[g.key] = (i, self.order)
        self._row_of_keys(g.row(n, i, in_the_round=ring), s.span, pass_)

    def _row_of_keys(self, keys: Sequence[str], span: Span, pass_: int) -> None:
        """Work one dictionary key a loop."""
        sid = self.span_id(span)
        at, n = 0, len(keys)
        while at < n:
            end = at
            while end < n and keys[end] == keys[at]:
                end += 1
            self.add(self.op(_known(keys[at])), end - at, sid, pass_, self.yarn)
            at = end

    _ground_fresh: bool = True

    def _keys(self, row: Sequence[str], n: int, span: Span, pass_: int) -> None:
        """Work dictionary keys over and over for ``n`` loops."""
        body = tuple(tree.Work(stitch=k, count=tree.Number(values=(1,)), span=span) for k in row)
        if len(set(row)) == 1:
            body = body[:1]
        self._fill(body, n, tree.Fill(body=body, to=tree.Place(kind=tree.PlaceKind.END), span=span), pass_)

    def _as_they_appear(self, n: int, span: Span) -> None:
        """Knit the knit stitches and purl the purl stitches, as they face."""
        self.flush()
        nd = self.needles
        src = nd.left[len(nd.left) - n :][::-1]
        seen = self.grower.buf["seen"][src] if n else np.zeros(0, np.int8)
        purl = np.asarray(seen == Seen.PURL)
        if self.facing:
            purl = np.asarray(seen == Seen.KNIT)
        k, p = self.op(_known("k")), self.op(_known("p"))
        ops = np.where(purl, p, k).astype(np.int16)
        sid = self.span_id(span)
        if n:
            self.run(Run(ops, np.full(n, sid, np.int32), np.ones(n, np.int32), self.yarn, n))

    def _in_pattern(self, s: tree.InPattern, pass_: int) -> None:
        if s.count is None and s.to is None and s.how == "set":
            steps = self.established()
            if steps is not None:
                c = self.measure.all(steps)
                tail = self.tail()
                if (c is None or c[0] + (tail or 0) == self.left_over) and not (c is None and tail):
                    self.quiet += 1
                    try:
                        self.steps(steps, pass_)
                    finally:
                        self.quiet -= 1
                    return
        n = self._span_of(s.count, s.to, s.span)
        if n <= 0:
            return
        if s.how == "knitwise":
            self._keys(("k",), n, s.span, pass_)
            return
        steps = self.established()
        if s.how == "set" and steps is not None and _all_knit(steps):
            self._keys((_only(steps),), n, s.span, pass_)
            return
        self._as_they_appear(n, s.span)

    def _call(self, s: tree.Call, pass_: int) -> None:
        steps = self.calls(s)
        if steps is None:
            n = self._span_of(s.over, s.to, s.span)
            self._as_they_appear(n, s.span)
            return
        if s.over is None and s.to is None:
            self.steps(steps, pass_)
            return
        n = self._span_of(s.over, s.to, s.span)
        self._fill(steps, n, s, pass_)

    # --- increases and decreases without a method --------------------------------------------------------------

    def _evenly(self, s: tree.Evenly, pass_: int) -> None:
        there = self._span_of(s.over, None, s.span)
        change = self.number(s.change, 0) if s.change is not None else self.number(s.total, there) - there
        self.look("C009")
        sid = self.span_id(s.span)
        k = self.op(_known("k"))
        if change < 0:
            st = _known(s.stitch) if s.stitch else _known("k2tog")
            n, each = -change, st.takes
            if st.net >= 0 or n * each > there or n % -st.net:
                self.report(problems.EvenlyDoesNotFit(self.row_name, change, there), s.span)
                self.add(k, there, sid, pass_, self.yarn)
                return
            n //= -st.net
        elif change > 0:
            st = _known(s.stitch) if s.stitch else _known("M1")
            n, each = change, st.takes
            if n * each > there or there == 0:
                self.report(problems.EvenlyDoesNotFit(self.row_name, change, there), s.span)
                self.add(k, there, sid, pass_, self.yarn)
                return
        else:
            self.add(k, there, sid, pass_, self.yarn)
            return
        op = self.op(st)
        plain = there - n * each
        for i in range(n):
            a = plain * (2 * i + 1) // (2 * n) - plain * (2 * i - 1) // (2 * n) if i else plain // (2 * n)
            if a > 0:
                self.add(k, a, sid, pass_, self.yarn)
            self.add(op, 1, sid, pass_, self.yarn)
        rest = self.left_over if s.over is None and (self.tail() or 0) == 0 else 0
        done = plain // (2 * n) + sum(
            plain * (2 * i + 1) // (2 * n) - plain * (2 * i - 1) // (2 * n) for i in range(1, n)
        )
        rest = plain - done
        if rest > 0:
            self.add(k, rest, sid, pass_, self.yarn)

    def _at_edges(self, s: tree.AtEdges, pass_: int) -> None:
        """Increase or decrease at the edges of the row; the rest goes on as established."""
        n = self.number(s.count)
        inside = self.number(s.inside, 0)
        there = self.left_over
        first = s.where in {"each end", "beginning", "each side of marker"} or (
            s.where in {"neck edge", "armhole edge"} and not self.facing
        )
        last = s.where in {"each end", "end"} or (s.where in {"neck edge", "armhole edge"} and not first)
        if s.change < 0:
            a, b = (_known("ssk"), _known("k2tog")) if not self.facing else (_known("p2tog"), _known("ssp"))
        else:
            a = b = _known("M1") if inside else _known("kfb")
        if s.stitch:
            a = b = _known(s.stitch)
        sid = self.span_id(s.span)
        need = (a.takes * n + inside) * (int(first) + int(last))
        if s.where == "centre":
            self._centre(s, a, n, pass_)
            return
        if need > there:
            self.report(problems.EvenlyDoesNotFit(self.row_name, s.change * n, there), s.span)
            raise Stop
        if first:
            if inside:
                self._as_they_appear(inside, s.span)
            self.add(self.op(a), n, sid, pass_, self.yarn)
        self.flush()
        middle = self.left_over - ((b.takes * n + inside) if last else 0)
        self._in_pattern(tree.InPattern(count=tree.Number(values=(middle,)), span=s.span), pass_)
        if last:
            self.add(self.op(b), n, sid, pass_, self.yarn)
            self.flush()
            if inside:
                self._as_they_appear(inside, s.span)

    def _centre(self, s: tree.AtEdges, a: Stitch, n: int, pass_: int) -> None:
        st = _known("s2kp") if s.change < 0 and not s.stitch and n > 1 else a
        half = max((self.left_over - st.takes) // 2, 0)
        self._in_pattern(tree.InPattern(count=tree.Number(values=(half,)), span=s.span), pass_)
        self.add(self.op(st), 1, self.span_id(s.span), pass_, self.yarn)
        self.flush()
        self._in_pattern(tree.InPattern(count=tree.Number(values=(self.left_over,)), span=s.span), pass_)

    # --- right needle, drops, wraps ----------------------------------------------------------------------------

    def _pass_over(self, count: int, over: int, span: Span) -> None:
        """Lift ``count`` loops of the right needle over the last ``over`` worked there."""
        self.flush()
        nd = self.needles
        n = len(nd.right)
        if n < count + over:
            self.report(problems.CountDiffers(self.row_name, count + over, n), span)
            raise Stop
        gone = nd.right[n - over - count : n - over]
        kept = nd.right[n - over :]
        for s in gone.tolist():
            self.grower.join(int(s), int(kept[0]), Link.PASSED)
        nd.right = np.concatenate([nd.right[: n - over - count], kept])
        self._drop_right_marks(n - over - count, count)
        self.count.lost += count
        self.count.last = "pass over"
        self.act("pass over", self.span_id(span), 0, -count)

    def _pass_next(self, span: Span) -> None:
        """Lift the next loop of the left needle over the last one worked."""
        self.flush()
        nd = self.needles
        if not len(nd.left) or not len(nd.right):
            raise Stop
        self.grower.join(int(nd.left[-1]), int(nd.right[-1]), Link.PASSED)
        nd.left = nd.left[:-1]
        nd.left_marks = [b for b in nd.left_marks if b.at <= len(nd.left)]
        self.count.lost += 1
        self.count.worked += 1
        self.act("pass over", self.span_id(span), 1, 0)

    def _drop_right_marks(self, at: int, gone: int) -> None:
        self.needles.right_marks = [
            b.moved(b.at - gone) if b.at >= at + gone else b.moved(min(b.at, at))
            for b in self.needles.right_marks
        ]

    def _slip_back(self, n: int, span: Span) -> None:
        self.flush()
        nd = self.needles
        n = min(n, len(nd.right))
        nd.left = np.concatenate([nd.left, nd.right[len(nd.right) - n :][::-1]])
        nd.right = nd.right[: len(nd.right) - n]
        moved = [b for b in nd.right_marks if b.at > len(nd.right)]
        nd.right_marks = [b for b in nd.right_marks if b.at <= len(nd.right)]
        top = len(nd.left)
        nd.left_marks += [b.moved(top - (b.at - len(nd.right))) for b in reversed(moved)]
        self.count.worked -= n
        self.act("slip back", self.span_id(span), -n, -n)

    def _drop(self, s: tree.Drop) -> None:
        n = self.number(s.count)
        self.look("C017", n)
        if s.what == "wrap" or n <= 0:
            return
        self.flush()
        nd = self.needles
        if n > len(nd.left):
            self.report(problems.CountDiffers(self.row_name, n, len(nd.left)), s.span)
            raise Stop
        nd.left = nd.left[: len(nd.left) - n]
        nd.left_marks = [b.moved(min(b.at, len(nd.left))) for b in nd.left_marks]
        self.count.lost += n
        self.count.worked += n
        self.count.touched += n
        self.act("drop", self.span_id(s.span), n, 0)

    def _wrap(self, s: tree.Wrap) -> None:
        self.flush()
        nd = self.needles
        if len(nd.left):
            loop = int(nd.left[-1])
            self.wraps[loop] = "wrap"
            if len(nd.right):
                self.grower.join(int(nd.right[-1]), loop, Link.WRAPPED)
        self.act("wrap", self.span_id(s.span))

    def _marker(self, s: tree.Marker) -> None:
        nd = self.needles
        sid = self.span_id(s.span)
        if s.act == "place":
            self.flush()
            if s.after is not None or s.before_end is not None:
                self._place_at(s)
            elif not len(nd.right) and not self.count.worked and nd.ring and self.count.start == 0:
                nd.start_marked = True
            else:
                nd.right_marks.append(Boundary("marker", len(nd.right), s.name or ""))
            self.act("place marker", sid)
            return
        self.flush()
        here = [b for b in nd.left_marks if b.kind == "marker" and b.at == len(nd.left)]
        if s.act == "slip":
            for b in here[-1:]:
                nd.left_marks.remove(b)
                nd.right_marks.append(b.moved(len(nd.right)))
            self.act("slip marker", sid)
        else:
            if here:
                nd.left_marks.remove(here[-1])
            else:
                back = [b for b in nd.right_marks if b.kind == "marker" and b.at == len(nd.right)]
                if back:
                    nd.right_marks.remove(back[-1])
                elif nd.start_marked:
                    nd.start_marked = False
            self.act("remove marker", sid)

    def _place_at(self, s: tree.Marker) -> None:
        """Place a marker a number of stitches from the beginning or the end of the row, worked already or not."""
        nd = self.needles
        left = bool(len(nd.left))
        total = len(nd.left) if left else len(nd.right)
        n = self.number(s.after, 0) if s.after is not None else total - self.number(s.before_end, 0)
        if not 0 <= n <= total:
            return
        marks, at = (nd.left_marks, total - n) if left else (nd.right_marks, n)
        if not any(b.kind == "marker" and b.at == at for b in marks):
            marks.append(Boundary("marker", at, s.name or ""))
            marks.sort(key=lambda b: b.at)

    # --- holding ---------------------------------------------------------------------------------------------

    def _hold(self, s: tree.Hold) -> None:
        self.flush()
        nd = self.needles
        n_left = len(nd.left)
        n = self.number(s.count) if s.count is not None else n_left
        self.look("C012")
        if s.of == "worked":
            n = min(n if s.count is not None else len(nd.right), len(nd.right))
            loops = nd.right[len(nd.right) - n :]
            nd.right = nd.right[: len(nd.right) - n]
            nd.right_marks = [b for b in nd.right_marks if b.at <= len(nd.right)]
        else:
            if s.of == "all" and s.count is None:
                n = n_left
            if n > n_left:
                self.report(problems.HeldDiffers(self.row_name, n, n_left), s.span)
                n = n_left
            if s.of == "last":
                loops = nd.left[:n][::-1]
                nd.left = nd.left[n:]
                nd.left_marks = [b.moved(b.at - n) for b in nd.left_marks if b.at >= n]
            else:
                loops = nd.left[n_left - n :][::-1]
                nd.left = nd.left[: n_left - n]
                nd.left_marks = [b for b in nd.left_marks if b.at <= n_left - n]
        if n == 0:
            return
        nd.holders.append(Held(s.place.strip().lower(), loops.copy(), self.facing, 0))
        self.count.held += n
        self.act("hold", self.span_id(s.span), n, 0)

    def take_held(self, place: str, span: Span) -> Held | None:
        """The holder meant by ``place``; reports when none fits."""
        nd = self.needles
        place = place.strip().lower()
        self.look("C012")
        if not nd.holders:
            self.report(problems.NothingHeld(place), span)
            return None
        words = {w for w in place.replace("-", " ").split() if w not in _FILLERS}
        best, score = None, 0
        for h in reversed(nd.holders):
            got = len(words & set(h.name.replace("-", " ").split()))
            if got > score:
                best, score = h, got
        if best is None:
            numbers = [h for h in nd.holders if not words or str(len(h.loops)) in words]
            best = numbers[-1] if numbers else nd.holders[-1]
        nd.holders.remove(best)
        return best

    def _return(self, s: tree.Return) -> None:
        self.flush()
        h = self.take_held(s.place, s.span)
        if h is None:
            return
        nd = self.needles
        loops = h.loops
        n = self.number(s.count, len(loops)) if s.count is not None else len(loops)
        if n < len(loops):
            nd.holders.append(Held(h.name, loops[n:], h.facing, h.piece))
            loops = loops[:n]
        elif n > len(loops):
            self.report(problems.HeldDiffers(self.row_name, n, len(loops)), s.span)
        if h.facing != self.facing:
            loops = loops[::-1]
        nd.left = np.concatenate([nd.left, loops[::-1]])
        self.count.returned += len(loops)
        self.act("return", self.span_id(s.span), 0, len(loops))

    # --- edges -----------------------------------------------------------------------------------------------

    def _bind_off(self, s: tree.BindOff, pass_: int) -> None:
        self.flush()
        nd, c = self.needles, self.count
        there = len(nd.left)
        n = self.number(s.count) if s.count is not None else there - self.number(s.keep, 0)
        if s.count is None and s.keep is None and s.at == "here":
            n = there + (1 if self.loop_waits else 0)
            if self.loop_waits:
                n = there
        if n <= 0:
            return
        self.look("C010")
        if n > there:
            self.report(problems.CountDiffers(self.row_name, n, there), s.span)
            n = there
        op = self.op(_known("p" if s.how == "purlwise" else "k"))
        sid = self.span_id(s.span)
        before = len(nd.right)
        waiting = self.loop_waits
        if s.how == "pattern":
            self._as_they_appear(min(n + (0 if n == there else 1), there), s.span)
        else:
            k = min(n + (0 if n == there else 1), there)
            if waiting and n < there:
                k = n
            self.add(op, k, sid, pass_, self.yarn)
            self.flush()
        if waiting:
            before -= 1
        gone = nd.right[before : before + n]
        chain = nd.right[before : before + n + 1].tolist()
        for a, b in zip(chain, chain[1:], strict=False):
            self.grower.join(int(a), int(b), Link.PASSED)
        nd.right = np.concatenate([nd.right[:before], nd.right[before + n :]])
        self._drop_right_marks(before, n)
        self.edges.bound_off.append(gone.copy())
        c.lost += n
        c.bound_off += n
        c.last = "bind off"
        self.act("bind off", sid, 0, -n)
        self.loop_waits = bool(len(nd.left)) and len(nd.right) > before

    def new_loops(self, n: int, span: Span, *, side: int | None = None, twisted: bool = False) -> Int32:
        """Cast on ``n`` loops that hang on nothing."""
        if n + self.grower.n > MOST_STITCHES:
            self.report(problems.TooMuchKnitting(f"{n:,} stitches cast on"), span)
            raise Stop
        op = self.table.number["cast on"]
        return self.grower.append(
            op=op, row=self.order, column=None, seen=Seen.NONE, side=self.side if side is None else side,
            mount=int(twisted), yarn=self.yarn, span=self.span_id(span), pass_=1, count=n, parents=_EMPTY, links=0,
        )  # fmt: skip

    def _cast_on(self, s: tree.CastOn) -> None:
        self.flush()
        n = self.number(s.count) * max(s.each, 1)
        if n <= 0:
            return
        nd = self.needles
        ids = self.new_loops(n, s.span)
        if s.at == "beginning":
            nd.left = np.concatenate([nd.left, ids])
        else:
            nd.right = np.concatenate([nd.right, ids])
        self.edges.cast_on.append(ids)
        self.count.made += n
        self.count.cast_on += n
        self.count.last = "cast on"
        self.log.append(("act", self.table.number["cast on"], self.span_id(s.span), 0, n, self.order))

    def _pick_up(self, s: tree.PickUp) -> None:
        self.flush()
        edge, exact, name = self.edge(s.edge)
        n = self.number(s.count) if s.count is not None else self._by_rate(s, len(edge))
        if n <= 0:
            return
        if s.count is not None and len(edge) and exact:
            self.look("C014")
            if n != len(edge):
                self.report(problems.PickUpDiffers(n, len(edge), name), s.span)
        st = _known("p" if s.how == "purl" else "k")
        if n + self.grower.n > MOST_STITCHES:
            self.report(problems.TooMuchKnitting(f"{n:,} stitches picked up"), s.span)
            raise Stop
        parents = edge[(np.arange(n) * len(edge)) // n] if len(edge) else _EMPTY
        seen = (0 if s.how != "purl" else 1) ^ self.facing
        ids = self.grower.append(
            op=self.op(st), row=self.order, column=None, seen=seen, side=self.side, mount=0, yarn=self.yarn,
            span=self.span_id(s.span), pass_=1, count=n, parents=parents, links=int(Link.EDGE),
        )  # fmt: skip
        nd = self.needles
        nd.right = np.concatenate([nd.right, ids])
        self.edges.picked_up.append(ids)
        c = self.count
        c.made += n
        c.picked_up += n
        c.first = c.first or "pick up"
        c.last = "pick up"

    def _by_rate(self, s: tree.PickUp, there: int) -> int:
        if s.rate is None:
            return there
        return there * s.rate[0] // s.rate[1]

    def edge(self, e: tree.Edge | None) -> tuple[Int32, bool, str]:
        """The stitches of a named edge; whether it is one for one; and what to call it."""
        ed = self.edges
        if e is None:
            return _EMPTY, False, "the edge"
        pick: list[Int32] = []
        if e.kind == "cast-on":
            pick = ed.cast_on[-1:] if len(ed.cast_on) > 1 else ed.cast_on
        elif e.kind == "bound-off":
            pick = ed.bound_off[-1:] if len(ed.bound_off) > 1 else ed.bound_off
        elif e.kind in {"row ends", "left", "right"}:
            rows = ed.right if e.kind == "right" else ed.left
            return np.array(rows, np.int32), False, e.words or "the row ends"
        if not pick:
            return _EMPTY, False, e.words or "the edge"
        return np.concatenate(pick), True, e.words or "the edge"


class _Short(Exception):  # noqa: N818 - not a fault
    """A counted repeat ran out of stitches."""

    def __init__(self, n: int, each: int) -> None:
        super().__init__()
        self.n = n
        self.each = each


_BULK = frozenset({Motion.WORK, Motion.SLIP, Motion.CROSS, Motion.BELOW, Motion.TUCK})
_FILLERS = frozenset(
    "the a of on to held sts stitches st holder waste yarn and for from spare needle sleeve's".split()
) - {"sleeve's"}


def _known(key: str) -> Stitch:
    st = dictionary().find(key)
    if st is None:
        msg = f"the dictionary has no entry {key!r}"
        raise LookupError(msg)
    return st


def _only(steps: Sequence[tree.Step]) -> str:
    s = steps[0]
    if isinstance(s, tree.Fill) and isinstance(s.body[0], tree.Work):
        return s.body[0].stitch
    return s.stitch if isinstance(s, tree.Work) else "k"


def _all_knit(steps: Sequence[tree.Step]) -> bool:
    """Whether a row is one plain stitch all along ("Knit.")."""
    if len(steps) != 1:
        return False
    s = steps[0]
    return isinstance(s, tree.Fill) and len(s.body) == 1 and isinstance(s.body[0], tree.Work)
