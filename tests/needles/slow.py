"""Knitting one loop at a time: the plain, slow truth that the needles are held to.

In: a pattern as a tree. Out: rows, and stitches with what they hang on, which row made them and the face that the
right side shows. Two needles are two Python lists of loops and of what sits between loops; nothing is done in bulk,
nothing is reckoned ahead. Where the words leave a number open ("rep from *" with no number), every number is tried
until the row comes out. Written from the contract alone; it shares no code with the needles.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from purlwright.pattern import tree
from purlwright.pattern.tree import PlaceKind, Said

__all__ = ["Loop", "SlowKnit", "SlowRow", "knit_slowly"]

KNIT, PURL, NONE = "knit", "purl", "none"

# What is done to how many loops, and what comes of it: for each loop made, the face that the side being worked shows
# and which of the loops taken it hangs on.
STITCHES = {
    "k": (1, [(KNIT, [0])]),
    "p": (1, [(PURL, [0])]),
    "k tbl": (1, [(KNIT, [0])]),
    "p tbl": (1, [(PURL, [0])]),
    "k2tog": (2, [(KNIT, [0, 1])]),
    "ssk": (2, [(KNIT, [0, 1])]),
    "skp": (2, [(KNIT, [0, 1])]),
    "p2tog": (2, [(PURL, [0, 1])]),
    "ssp": (2, [(PURL, [0, 1])]),
    "k3tog": (3, [(KNIT, [0, 1, 2])]),
    "sssk": (3, [(KNIT, [0, 1, 2])]),
    "sk2p": (3, [(KNIT, [0, 1, 2])]),
    "s2kp": (3, [(KNIT, [0, 1, 2])]),
    "p3tog": (3, [(PURL, [0, 1, 2])]),
    "kfb": (1, [(KNIT, [0]), (PURL, [0])]),
    "pfb": (1, [(PURL, [0]), (PURL, [0])]),
    "kfbf": (1, [(KNIT, [0]), (PURL, [0]), (KNIT, [0])]),
    "yo": (0, [(NONE, [])]),
    "yo2": (0, [(NONE, []), (NONE, [])]),
    "M1": (0, [(KNIT, ["strand"])]),
    "M1L": (0, [(KNIT, ["strand"])]),
    "M1R": (0, [(KNIT, ["strand"])]),
    "M1P": (0, [(PURL, ["strand"])]),
    # crossings: the first number passes in front, R leans right, the P forms purl what passes behind
    "1/1 rc": (2, [(KNIT, [1]), (KNIT, [0])]),
    "1/1 lc": (2, [(KNIT, [1]), (KNIT, [0])]),
    "1/1 rpc": (2, [(KNIT, [1]), (PURL, [0])]),
    "1/1 lpc": (2, [(PURL, [1]), (KNIT, [0])]),
    "2/1 rc": (3, [(KNIT, [1]), (KNIT, [2]), (KNIT, [0])]),
    "2/1 rpc": (3, [(KNIT, [1]), (KNIT, [2]), (PURL, [0])]),
    "2/1 lc": (3, [(KNIT, [2]), (KNIT, [0]), (KNIT, [1])]),
    "2/1 lpc": (3, [(PURL, [2]), (KNIT, [0]), (KNIT, [1])]),
    "2/2 rc": (4, [(KNIT, [2]), (KNIT, [3]), (KNIT, [0]), (KNIT, [1])]),
    "2/2 lc": (4, [(KNIT, [2]), (KNIT, [3]), (KNIT, [0]), (KNIT, [1])]),
}
SLIPS = frozenset({"sl", "sl wyif", "sl wyib", "sl kwise", "sl pwise"})


@dataclass(frozen=True)
class Loop:
    """A stitch, or the loop it leaves on the needle: ``parents`` are numbers of earlier stitches."""

    number: int
    parents: tuple[int, ...]
    row: int
    face: str
    how: str


@dataclass(frozen=True)
class Mark:
    name: str


@dataclass(frozen=True)
class Hole:
    """What a turn leaves between the loops worked and those left."""

    turned_on: int


@dataclass
class SlowRow:
    order: int
    kind: str
    label: str
    side: str | None = None
    start: int = 0
    worked: int = 0
    unworked: int = 0
    made: int = 0
    lost: int = 0
    held: int = 0
    returned: int = 0
    end: int = 0
    gaps: tuple[tuple[int, int], ...] = ()
    markers: tuple[tuple[str, int], ...] | None = None


class DoesNotComeOut(Exception):  # noqa: N818 - not a fault
    """The row cannot be worked as it stands, or leaves loops over."""


class Asked(Exception):  # noqa: N818 - not a fault
    """The words leave something open; these are the ways to go on."""

    def __init__(self, options):
        super().__init__()
        self.options = options


@dataclass
class SlowKnit:
    rows: list[SlowRow] = field(default_factory=list)
    stitches: list[Loop] = field(default_factory=list)
    came_out: bool = True
    short_row: SlowRow | None = None
    """The row that stopped short of the end with no turn, if that is why the knitting stopped."""
    stopped_short: bool = False
    marker_crossed: bool = False
    nothing_worked: bool = False
    """Words that only turn are no row; what they would mean is not said."""
    ahead: list = field(default_factory=list)
    behind: list = field(default_factory=list)
    holders: list = field(default_factory=list)
    in_round: bool = False
    facing_rs: bool = True
    order: int = 0
    row: SlowRow | None = None
    worked_rows: list = field(default_factory=list)
    label: str = ""
    decisions: list = field(default_factory=list)
    asked: int = 0
    turned: bool = False
    waits: bool = False
    in_cross: bool = False
    last_taken: Loop | None = None

    # --- beads on two needles ----------------------------------------------------------------------

    def loops_ahead(self):
        return sum(isinstance(x, Loop) for x in self.ahead)

    def first_loop(self):
        return next(i for i, x in enumerate(self.ahead) if isinstance(x, Loop))

    def live(self):
        return sum(isinstance(x, Loop) for x in self.ahead + self.behind)

    def take(self, *, within=False):
        """The next loop off the left needle; a marker on the way is slipped, a hole is closed by the yarn.

        A marker ``within`` the loops of one stitch is in the way, and where it goes is not said.
        """
        if not self.loops_ahead():
            raise DoesNotComeOut
        while not isinstance(self.ahead[0], Loop):
            x = self.ahead.pop(0)
            if isinstance(x, Mark):
                if within or self.in_cross:
                    self.marker_crossed = True
                    raise DoesNotComeOut
                self.behind.append(x)
        self.row.worked += 1
        self.last_taken = self.ahead.pop(0)
        return self.last_taken

    def new(self, face, parents, how):
        if face != NONE and not self.facing_rs:
            face = PURL if face == KNIT else KNIT
        loop = Loop(len(self.stitches), tuple(p.number for p in parents), self.order, face, how)
        self.stitches.append(loop)
        return loop

    def swap(self):
        """Turn the work: the needles change hands."""
        self.ahead, self.behind = self.behind[::-1], self.ahead[::-1]
        self.facing_rs = not self.facing_rs

    # --- single stitches ------------------------------------------------------------------------------

    def stitch(self, key):
        if key in SLIPS:
            self.behind.append(self.take())
            return
        takes, makes = STITCHES[key]
        # a lifted strand runs from the loop last taken to the next one
        strand = (
            self.last_taken
            if self.last_taken is not None
            else next((x for x in self.ahead if isinstance(x, Loop)), None)
        )
        taken = [self.take(within=i > 0) for i in range(takes)]
        for face, which in makes:
            parents = [strand if w == "strand" else taken[w] for w in which]
            self.behind.append(self.new(face, [p for p in parents if p is not None], key))
        self.row.made += max(len(makes) - takes, 0)
        self.row.lost += max(takes - len(makes), 0)

    # --- steps -------------------------------------------------------------------------------------------

    def steps(self, steps):
        for s in steps:
            if self.turned:
                raise AssertionError("steps after a turn belong to the next row")
            self.step(s)

    def step(self, s):
        if not isinstance(s, (tree.Work, tree.Marker, tree.Note)):
            self.waits = False  # only the very next stitches may count the loop that a bind-off left
        match s:
            case tree.Work():
                n = s.count.at(0) or 0
                if self.waits and self.waits_for(s):
                    n -= 1
                self.waits = False
                for _ in range(n):
                    self.stitch(s.stitch)
            case tree.Fill():
                self.fill(s.body, self.distance(s.to))
            case tree.Repeat():
                self.repeat(s)
            case tree.Into():
                for _ in range(s.count.at(0) or 0):
                    self.into(s)
            case tree.Cross():
                self.cross(s)
            case tree.PassOver():
                self.pass_over(s.count.at(0), s.over.at(0))
            case tree.Drop():
                for _ in range(s.count.at(0)):
                    self.take()
                    self.row.lost += 1
            case tree.Marker():
                self.marker(s)
            case tree.BindOff():
                self.bind_off(s)
            case tree.CastOn():
                self.cast_on_here(s)
            case tree.Hold():
                self.hold(s)
            case tree.Return():
                self.give_back()
            case tree.Turn():
                self.turn()
            case tree.Note() | tree.Stated():
                pass
            case _:
                raise NotImplementedError(type(s).__name__)

    def waits_for(self, s):
        """Whether the loop that a bind-off left counts as the first of the next ones: told by what comes out."""
        one = s.stitch in SLIPS or (STITCHES[s.stitch][0] == 1 and len(STITCHES[s.stitch][1]) == 1)
        return one and bool(self.loops_ahead()) and self.decide([False, True])

    def distance(self, to):
        """How many loops to a place."""
        before = to.before.at(0) if to.before is not None else 0
        if to.kind is PlaceKind.END:
            n = self.loops_ahead()
        else:
            kind = Mark if to.kind is PlaceKind.MARKER else Hole
            n = 0
            for x in self.ahead:
                if isinstance(x, kind):
                    break
                n += isinstance(x, Loop)
            else:
                raise DoesNotComeOut
        if n < before:
            raise DoesNotComeOut
        return n - before

    def fill(self, body, loops):
        """Work a body over and over until so many loops are taken; it may stop between two stitches."""
        singles = [s.stitch for s in body for _ in range(s.count.at(0))]
        stop = self.loops_ahead() - loops
        while self.loops_ahead() > stop:
            for key in singles:
                if self.loops_ahead() == stop:
                    return
                takes = 1 if key in SLIPS else STITCHES[key][0]
                if self.loops_ahead() - takes < stop:
                    raise DoesNotComeOut
                self.stitch(key)

    def decide(self, options):
        if self.asked == len(self.decisions):
            raise Asked(options)
        self.asked += 1
        return self.decisions[self.asked - 1]

    def repeat(self, s):
        if s.times is not None and s.to is None:
            n = s.times.at(0) or 0
            if s.star and s.said is Said.MORE:
                n += 1
            elif s.star and s.said is Said.TIMES:
                n = self.decide([n + 1, n])
        elif s.to is None or (s.to.kind is PlaceKind.END and s.to.before is None):
            n = self.decide(range(self.loops_ahead() + 1))
        else:
            stop = self.loops_ahead() - self.distance(s.to)
            while self.loops_ahead() > stop:
                self.steps(s.body)
            if self.loops_ahead() != stop:
                raise DoesNotComeOut
            return
        for _ in range(n):
            self.steps(s.body)

    def into(self, s):
        taken = self.take()
        n = 0
        for x in s.steps:
            for _ in range(x.count.at(0)):
                face = STITCHES[x.stitch][1][0][0]
                self.behind.append(self.new(face, [taken], "into"))
                n += 1
        self.row.made += n - 1

    def cross(self, s):
        """Hold some loops apart, work the next ones, put the held ones back and work them."""
        apart = []
        for i in range(s.held.at(0)):
            apart.append(self.take(within=i > 0))
            self.row.worked -= 1
        self.in_cross = True
        self.steps(s.first)
        self.in_cross = False
        far = self.last_taken
        self.ahead[0:0] = apart
        self.steps(s.second)
        self.last_taken = far  # as they lay before: the next strand leaves this one

    def pass_over(self, count, over):
        if sum(isinstance(x, Loop) for x in self.behind) < count + over:
            raise DoesNotComeOut
        for _ in range(count):
            self.lift(over)
        self.row.lost += count

    def marker(self, s):
        if s.act == "place":
            self.behind.append(Mark(s.name or ""))
        elif self.ahead and isinstance(self.ahead[0], Mark):
            x = self.ahead.pop(0)
            if s.act == "slip":
                self.behind.append(x)

    def bind_off(self, s):
        """Work one, work the next, pass the first over it, and so on; the very last loop is fastened off."""
        n = (
            s.count.at(0)
            if s.count is not None
            else self.loops_ahead() - (s.keep.at(0) if s.keep is not None else 0)
        )
        if n > self.loops_ahead():
            raise DoesNotComeOut
        self.stitch("k")
        for _ in range(n):
            if self.loops_ahead():
                self.stitch("k")
                self.lift(1)
            else:
                self.lift(0)
            self.row.lost += 1
        self.waits = bool(self.loops_ahead())

    def lift(self, over):
        """Lift a loop of the right needle over the last ``over`` ones and let it go."""
        loops = [i for i, x in enumerate(self.behind) if isinstance(x, Loop)]
        del self.behind[loops[-1 - over]]

    def cast_on_here(self, s):
        for _ in range(s.count.at(0)):
            loop = self.new(NONE, [], "cast on")
            if s.at == "beginning":
                self.ahead.insert(0, loop)
            else:
                self.behind.append(loop)
            self.row.made += 1

    def hold(self, s):
        """Loops go to a holder as they lie, seen from the right side, right to left."""
        n = s.count.at(0) if s.count is not None else self.loops_ahead()
        if n > self.loops_ahead():
            raise DoesNotComeOut
        loops = []
        while len(loops) < n:
            x = self.ahead.pop(0)
            if isinstance(x, Loop):
                loops.append(x)
        self.row.held += n
        self.holders.append(loops if self.facing_rs else loops[::-1])

    def give_back(self):
        if not self.holders:
            raise DoesNotComeOut
        loops = self.holders.pop()
        self.ahead[0:0] = loops if self.facing_rs else loops[::-1]
        self.row.returned += len(loops)

    def turn(self):
        if self.in_round:
            raise NotImplementedError("turns in the round")
        if self.loops_ahead():
            self.ahead = [
                x for i, x in enumerate(self.ahead) if not (isinstance(x, Hole) and i < self.first_loop())
            ]
            self.ahead.insert(0, Hole(self.order))
        self.turned = True

    # --- rows ------------------------------------------------------------------------------------------------

    def save(self):
        return self.ahead[:], self.behind[:], [h[:] for h in self.holders], len(self.stitches), self.facing_rs

    def restore(self, kept):
        self.in_cross = False
        self.ahead, self.behind, self.holders = kept[0][:], kept[1][:], [h[:] for h in kept[2]]
        del self.stitches[kept[3] :]
        self.facing_rs = kept[4]

    def work_row(self, steps):
        """Work one row, trying what the words leave open until it comes out."""
        if not self.live():
            raise DoesNotComeOut
        self.order += 1
        self.marker_crossed = self.stopped_short = False
        self.attempt(steps, [], self.save())
        r = self.row
        r.order, r.label, r.end, r.unworked = self.order, self.label, self.live(), self.loops_ahead()
        r.side = "RS" if self.facing_rs else "WS"
        r.kind = "bind-off" if r.end == 0 and r.lost else "round" if self.in_round else "row"
        r.gaps = self.gaps()
        self.rows.append(r)
        if not self.live():
            self.ahead, self.behind, self.in_round = [], [], False
            return
        if self.in_round:
            self.ahead, self.behind = self.behind, []
        else:
            whole = not self.loops_ahead()
            self.swap()
            if whole:
                self.ahead, self.behind = self.ahead + self.behind[::-1], []
        r.markers = self.markers() if not r.unworked else None

    def attempt(self, steps, decisions, kept):
        self.restore(kept)
        self.decisions, self.asked, self.turned, self.waits, self.last_taken = (
            decisions,
            0,
            False,
            False,
            None,
        )
        self.row = SlowRow(0, "row", "", start=self.live())
        try:
            self.steps(steps)
        except Asked as question:
            for option in question.options:
                try:
                    self.attempt(steps, [*decisions, option], kept)
                except DoesNotComeOut:
                    continue
                return
            raise DoesNotComeOut from None
        r = self.row
        if self.turned and not (r.worked or r.made or r.held or r.returned):
            self.nothing_worked = True
            raise DoesNotComeOut
        if self.loops_ahead() and not self.turned:
            if all(isinstance(d, bool) for d in decisions):
                self.stopped_short = True
            if not decisions:
                self.short_row = self.row
                self.row.unworked = self.loops_ahead()
            raise DoesNotComeOut
        if not self.turned:
            while self.ahead:  # nothing but markers stands at the end of the row
                x = self.ahead.pop(0)
                if isinstance(x, Mark):
                    self.behind.append(x)

    def gaps(self):
        """Holes, by how many loops lie between each and the right edge, the right side facing."""
        in_order = self.behind + self.ahead
        found, before, total = [], 0, self.live()
        for x in in_order:
            if isinstance(x, Hole):
                found.append((before if self.facing_rs else total - before, x.turned_on))
            before += isinstance(x, Loop)
        return tuple(sorted(found))

    def markers(self):
        found, before = [], 0
        for x in self.ahead:
            if isinstance(x, Mark):
                found.append((x.name, before))
            before += isinstance(x, Loop)
        return tuple(found)

    # --- lines ----------------------------------------------------------------------------------------------

    def cast_on(self, n):
        self.order += 1
        self.row = SlowRow(self.order, "cast-on", "", made=n, end=n)
        loops = []
        for _ in range(n):
            loops.append(Loop(len(self.stitches), (), self.order, NONE, "cast on"))
            self.stitches.append(loops[-1])
        self.rows.append(self.row)
        # the last loop cast on is nearest the needle's tip and the first to be worked once the needle changes hands
        self.ahead, self.behind, self.facing_rs = loops[::-1], [], True

    def line(self, line):
        label = line.label
        times = label.next.at(0) if label is not None and label.next is not None else 1
        self.label = label.words if label is not None else ""
        for _ in range(times):
            self.actions(line.actions, line)

    def actions(self, actions, line):
        steps = []
        for a in actions:
            if isinstance(a, tree.CastOn) and a.at == "start" and not self.live():
                self.cast_on(a.count.at(0))
            elif isinstance(a, tree.JoinRound):
                self.order += 1
                n = self.live()
                self.rows.append(SlowRow(self.order, "join", self.label, start=n, end=n))
                self.in_round = True
                self.ahead, self.facing_rs = (
                    self.ahead[::-1],
                    True,
                )  # joined, not turned: the first made comes first
            elif isinstance(a, tree.RepeatRows):
                self.repeat_rows(a)
            elif not isinstance(a, (tree.Note, tree.Stated)):
                steps.append(a)
        if steps:
            self.worked_rows.append((self.label, line, steps))
            self.parts(steps)

    def parts(self, steps):
        """Each turn within a line ends a row."""
        part = []
        for s in steps:
            part.append(s)
            if isinstance(s, tree.Turn):
                self.work_row(part)
                part = []
        if part:
            self.work_row(part)

    def repeat_rows(self, a):
        rows = self.worked_rows[-a.rows.back :] if a.rows.back else self.named(a.rows)
        times = a.times.at(0)
        if a.said is Said.IN_ALL:
            times -= 1
        was = self.label
        for _ in range(times):
            for label, line, steps in list(rows):
                self.label = label
                self.worked_rows.append((label, line, steps))
                self.parts(steps)
        self.label = was

    def named(self, rows):
        def latest(n):
            return next(
                r for r in reversed(self.worked_rows) if r[1].label is not None and n in r[1].label.numbers
            )

        return [latest(n) for n in range(rows.first, rows.last + 1)]


def knit_slowly(pattern) -> SlowKnit:
    """Knit until the end, or until a row does not come out."""
    k = SlowKnit()
    for section in pattern.sections:
        for line in section.lines:
            try:
                k.line(line)
            except DoesNotComeOut:
                k.came_out = False
                return k
    return k
