"""Random patterns that come out (and some that do not), as trees, for the law of the needles.

Each row is fitted to the loops that the slow model has on its needles at that point, so that most of them come out;
now and then a number is put wrong on purpose.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from types import SimpleNamespace

from hypothesis import strategies as st

from needles.slow import SLIPS, STITCHES, DoesNotComeOut, Hole, Loop, Mark, SlowKnit
from purlwright.pattern import tree
from purlwright.pattern.tree import Number, Place, PlaceKind, Said, Side, TurnHow, Unit
from purlwright.pattern.words import line_words
from purlwright.text import NOWHERE

END = Place(kind=PlaceKind.END)
PLAIN = ["k", "p", "k tbl", "p tbl", "sl", "sl wyif"]
TWO_OR_MORE = [key for key, (takes, _) in STITCHES.items() if takes >= 2]
ANY = [*STITCHES, *SLIPS, "k", "p", "k", "p"]


def number(n):
    return Number(values=(n,))


def work(stitch, n=1):
    return tree.Work(stitch=stitch, count=number(n))


def fill(stitch="k", to=END):
    return tree.Fill(body=(work(stitch),), to=to)


def last(n):
    return Place(kind=PlaceKind.END, before=number(n)) if n else END


def before(kind, n):
    return Place(kind=kind, before=number(n) if n else None)


def row(n, *actions, side=None, unit=Unit.ROW):
    label = tree.Label(words=f"{unit.value.title()} {n}", numbers=(n,), unit=unit, side=side)
    return tree.Line(label=label, actions=actions, line=n)


def plain_line(*actions, line=0):
    return tree.Line(actions=actions, line=line)


class Trial(SimpleNamespace):
    """As much of a pattern as the needles look at; shown as its words, so that a failing one can be read."""

    def __repr__(self):
        return "\n" + "\n".join(line_words(line) for s in self.sections for line in s.lines)


def pattern(*lines):
    """A pattern of one section of lines."""
    section = SimpleNamespace(heading="Piece", kind="work", lines=lines, copies=None)
    return Trial(
        title="Trial",
        title_span=NOWHERE,
        header=SimpleNamespace(description=()),
        lines=lines,
        sizes=(),
        options=(),
        sections=(section,),
        definitions=(),
        charts=(),
        gauges=(),
        findings=(),
    )


def takes(step):
    """Loops that a step of fixed size takes."""
    match step:
        case tree.Work():
            one = 1 if step.stitch in SLIPS else STITCHES[step.stitch][0]
            return one * step.count.at(0)
        case tree.Repeat():
            n = step.times.at(0) + (1 if step.star and step.said is Said.MORE else 0)
            return n * sum(takes(x) for x in step.body)
        case tree.Into():
            return step.count.at(0)
        case tree.Cross():
            return sum(takes(x) for x in (*step.first, *step.second))
        case _:
            return 0


@st.composite
def single(draw, room):
    """One step that takes at most ``room`` loops."""
    which = draw(st.integers(0, 9))
    if which == 8 and room >= 1:
        made = draw(st.sampled_from([("k", "yo", "k"), ("k", "p"), ("k", "p", "k", "p", "k")]))
        return tree.Into(steps=tuple(work(m) for m in made), count=number(draw(st.integers(1, min(room, 2)))))
    if which == 9 and room >= 2:
        held = draw(st.integers(1, min(3, room - 1)))
        first = draw(st.integers(1, min(3, room - held)))
        return tree.Cross(
            held=number(held), front=draw(st.booleans()),
            first=(work(draw(st.sampled_from(["k", "p"])), first),), second=(work(draw(st.sampled_from(["k", "p"])), held),),
        )  # fmt: skip
    key = draw(st.sampled_from(ANY))
    one = 1 if key in SLIPS else STITCHES[key][0]
    if one > room:
        key, one = "yo", 0
    most = min(5, room) if one == 1 and key in PLAIN else 1
    return work(key, draw(st.integers(1, max(most, 1))))


@st.composite
def group(draw, room, depth=0):
    """A few steps that take between 1 and ``room`` loops together."""
    out, left = [], room
    for _ in range(draw(st.integers(1, 4))):
        if depth == 0 and left >= 4 and draw(st.integers(0, 5)) == 0:
            inner = draw(group(left // 2, 1))
            times = draw(st.integers(1, max(left // max(sum(map(takes, inner)), 1), 1)))
            out.append(tree.Repeat(body=inner, times=number(min(times, 3)), mark="("))
        else:
            out.append(draw(single(left)))
        left -= takes(out[-1])
    if left == room:
        out.append(work(draw(st.sampled_from(["k", "p"])), 1))
    return tuple(out)


@st.composite
def exactly(draw, room):
    """Steps that take ``room`` loops to the last one."""
    out = []
    while room:
        step = draw(single(room))
        out.append(step)
        room -= takes(step)
        if len(out) > 3 and room:
            out.append(work(draw(st.sampled_from(PLAIN)), room))
            room = 0
    return tuple(out)


@st.composite
def to_the_end(draw, room):
    """Steps for all of ``room`` loops, the size of a repeat left to the needle in one way or another."""
    pre = draw(group(room)) if room > 3 and draw(st.booleans()) else ()
    room -= sum(map(takes, pre))
    which = draw(st.integers(0, 7))
    if room == 0 or which == 0:
        return (*pre, *draw(exactly(room)))
    if which == 1:
        return (*pre, fill(draw(st.sampled_from(PLAIN))))
    if which == 2:
        n = draw(st.integers(0, min(room, 6)))
        return (*pre, fill(draw(st.sampled_from(PLAIN)), last(n)), *draw(exactly(n)))
    body = draw(group(min(room, 8)))
    each = sum(map(takes, body))
    most = room // each
    if which == 3:
        times = draw(st.integers(0, most))
        return (
            *pre,
            tree.Repeat(body=body, times=number(times), mark="["),
            *draw(exactly(room - times * each)),
        )
    if which == 4 and most >= 1:
        more = draw(st.integers(0, most - 1))
        said = draw(st.sampled_from([Said.MORE, Said.IN_ALL]))
        n = more if said is Said.MORE else more + 1
        star = tree.Repeat(body=body, times=number(n), said=said, mark="*", star=True)
        return (*pre, star, *draw(exactly(room - (more + 1) * each)))
    tail = room - each * draw(st.integers(max(most - 1, 0), most))
    if which == 5:
        star = tree.Repeat(body=body, to=last(tail), said=Said.TO, mark="*", star=True)
        end = draw(exactly(tail)) if draw(st.booleans()) or not tail else (fill(),)
        return (*pre, star, *end)
    if which == 6:
        body = tuple(
            work(draw(st.sampled_from(PLAIN)), draw(st.integers(1, 3)))
            for _ in range(draw(st.integers(1, 3)))
        )
        return (*pre, tree.Fill(body=body, to=END))
    said = draw(st.sampled_from([Said.OPEN, Said.TO, Said.PAIR]))
    star = tree.Repeat(body=body, to=END if said is Said.TO else None, said=said, mark="*", star=True)
    return (*pre, star, *draw(exactly(tail)))


@dataclass
class Scene:
    """What stands on the slow needles before a row is drawn."""

    slow: SlowKnit = field(default_factory=SlowKnit)

    @property
    def room(self):
        return self.slow.loops_ahead()

    def first(self, kind):
        """Loops before the first marker or hole ahead, or None."""
        n = 0
        for x in self.slow.ahead:
            if isinstance(x, kind):
                return n
            n += isinstance(x, Loop)
        return None

    def marks(self):
        return sum(isinstance(x, Mark) for x in self.slow.ahead)


@st.composite
def a_row(draw, scene):
    """The steps of one row that fits."""
    slow, room = scene.slow, scene.room
    flat = not slow.in_round
    which = draw(st.integers(0, 13))
    hole, mark = scene.first(Hole), scene.first(Mark)
    wrap = tree.Turn(how=draw(st.sampled_from([TurnHow.PLAIN, TurnHow.WRAP, TurnHow.DOUBLE])))
    if which == 0 and flat and room > 3 and not slow.holders:
        n = draw(st.integers(1, room - 1))
        return (fill(draw(st.sampled_from(["k", "p"])), last(n)), wrap)
    if which == 1 and flat and room > 3 and not slow.holders:
        n = draw(st.integers(1, room))
        return (*draw(exactly(n)), wrap)
    if which in {2, 3} and hole is not None and hole > 0:
        n = draw(st.integers(0, hole - 1))
        return (fill("k", before(PlaceKind.GAP, n)), wrap)
    if which == 4 and mark is not None and mark > 1:
        n = draw(st.integers(0, min(mark - 1, 2)))
        return (
            fill("k", before(PlaceKind.MARKER, n)), *draw(exactly(n)), tree.Marker(act="slip"),
            *draw(to_the_end(room - mark)),
        )  # fmt: skip
    if which == 5 and not scene.marks() and room > 4:
        a = draw(st.integers(1, room - 3))
        b = draw(st.integers(1, room - a - 1))
        pm = tree.Marker(act="place")
        return (*draw(exactly(a)), pm, *draw(exactly(b)), pm, fill())
    if which == 6 and room > 4 and flat and hole is None and not scene.marks():
        n = draw(st.integers(1, room - 2))
        rest = draw(exactly(room - n - 1)) if draw(st.booleans()) else (fill(),)
        return (tree.BindOff(count=number(n)), *rest)
    if which == 7 and room > 6 and not scene.marks() and hole is None:
        a = draw(st.integers(1, room - 4))
        n = draw(st.integers(1, room - a - 2))
        return (work("k", a), tree.BindOff(count=number(n)), fill("p"))
    if which == 8 and flat:
        at = draw(st.sampled_from(["end", "beginning", "here"]))
        n = number(draw(st.integers(1, 5)))
        if at == "beginning":
            return (tree.CastOn(count=n, at=at), fill("k"))
        if at == "end":
            return (fill("p"), tree.CastOn(count=n, at=at))
        a = draw(st.integers(1, room))
        return (work("k", a), tree.CastOn(count=n, at="here"), *((fill("k"),) if a < room else ()))
    if (
        which == 9
        and room > 4
        and not slow.holders
        and hole is None
        and not scene.marks()
        and room == slow.live()
    ):
        a = draw(st.integers(1, room - 2))
        n = draw(st.integers(1, room - a - 1))
        return (work("k", a), tree.Hold(count=number(n), of="next", place="holder"), fill("p"))
    if which in {10, 11} and slow.holders and hole is None and room == slow.live():
        a = draw(st.integers(1, room))
        return (work("k", a), tree.Return(place=""), fill("k"))
    if which == 12 and room > 3:
        return (*draw(exactly(room - 1)), work("k"), tree.PassOver(count=number(1), over=number(1)))
    if which == 13 and room > 3 and not scene.marks():
        return (*draw(exactly(room - 2)), tree.Drop(count=number(1), what="stitch"), work("k"))
    return draw(to_the_end(room))


def spoil(draw, steps):
    """The same steps with one number put wrong."""
    at = [i for i, s in enumerate(steps) if isinstance(s, tree.Work)]
    if not at:
        return (*steps, work("k", draw(st.integers(1, 3))))
    i = draw(st.sampled_from(at))
    off = draw(st.sampled_from([1, 2, -1]))
    n = max(steps[i].count.at(0) + off, 1)
    return (*steps[:i], work(steps[i].stitch, n), *steps[i + 1 :])


@st.composite
def patterns(draw, *, faults=True):
    """A piece cast on, a few rows flat or in the round, bound off at the end."""
    n = draw(st.integers(2, 24))
    start = [tree.CastOn(count=number(n))]
    in_round = draw(st.booleans()) and n > 3
    if in_round:
        start.append(tree.JoinRound())
    lines = [plain_line(*start, line=1)]
    scene = Scene()
    scene.slow.line(lines[0])
    unit = Unit.ROUND if in_round else Unit.ROW
    sure = True
    for i in range(2, 2 + draw(st.integers(1, 7))):
        if scene.room == 0 or scene.slow.live() > 120:
            break
        steps = draw(a_row(scene))
        if faults and draw(st.integers(0, 15)) == 0:
            steps = spoil(draw, steps)
        side = None
        if draw(st.integers(0, 4)) == 0:
            side = Side.RS if scene.slow.facing_rs or in_round else Side.WS
        line = row(i - 1, *steps, side=side, unit=unit)
        placed = any(isinstance(x, tree.Marker) and x.act == "place" for ln in lines[-2:] for x in ln.actions)
        if draw(st.integers(0, 7)) == 0 and i > 3 and sure and not placed:
            back = draw(st.integers(1, 2))
            said = tree.RepeatRows(
                rows=tree.RowSet(back=back), times=number(draw(st.integers(1, 2))), said=Said.MORE
            )
            line = plain_line(said, line=i)
            sure = False
        lines.append(line)
        try:
            scene.slow.line(line)
        except DoesNotComeOut:
            sure = False
            scene = None
            break
    lines.append(row(60, fill("k"), unit=unit))
    lines.append(plain_line(tree.BindOff(), line=99))
    return pattern(*lines)
