"""Stitches that need more than a run: the pattern's own, several into one, crossings said in words.

In: a step and the worker. Out: operations gathered, or worked apart where turns stand inside a stitch. How
many loops the pattern's own stitches take is left to ``lookup``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

import numpy as np

from purlwright.fabric.arrays import Link
from purlwright.needles import problems
from purlwright.needles.hands import BULK, Counters, Stop, known, worked
from purlwright.needles.loops import Needles
from purlwright.needles.singles import pass_next
from purlwright.pattern import tree
from purlwright.stitches.kinds import Face, Family, Motion, Stitch
from purlwright.stitches.load import dictionary
from purlwright.stitches.regular import LARGEST
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker


_TURNS = {
    "w&t": tree.TurnHow.WRAP, "ds": tree.TurnHow.DOUBLE, "yo turn": tree.TurnHow.OVER,
    "pin turn": tree.TurnHow.PIN, "twin": tree.TurnHow.TWIN,
}  # fmt: skip


def _gathers(step: tree.Step) -> bool:
    """Whether a step of a definition is gathered and knitted with the rest of the row."""
    if isinstance(step, tree.Work):
        st = None if step.own else dictionary().find(step.stitch)
        return st is not None and st.motion in BULK
    return isinstance(step, (tree.Into, tree.Cross, tree.Note))


def work_stitch(w: Worker, s: tree.Work, pass_: int, *, times: int = 1) -> None:
    """Work one stitch of any kind, ``times`` as often as its count says."""
    n = w.number(s.count) * times
    if w.loop_waits and not s.own:
        st = dictionary().find(s.stitch)
        w.loop_waits = False
        rest = w.tail()
        single = st is not None and st.takes == st.makes == 1
        comes_out = rest is not None and n + rest == w.left_over + 1
        if single and n > 0 and (comes_out or w.loop_counts()):
            n -= 1  # the stitch left by the bind-off counts as the first of these
    if n <= 0:
        return
    if s.own:
        for _ in range(n):
            own_stitch(w, s, pass_)
        return
    st = worked(s)
    if st is None:
        st = dictionary().find("k")
    if st is None:
        return
    if st.motion in BULK:
        need = st.takes * n
        op = w.op(st)
        if need > w.left_over and not w.reach(need):
            w.too_few(s, st.takes, n, op, pass_)
        yarn = w.yarn if s.colour is None else w.grower.yarn(s.colour)
        w.add(op, n, w.span_id(s.span), pass_, yarn)
    elif st.motion is Motion.BIND_OFF:
        w.step(tree.BindOff(count=s.count, span=s.span), pass_)
    elif st.motion is Motion.CAST_ON:
        w.step(tree.CastOn(count=s.count, at="here", span=s.span), pass_)
    elif st.motion is Motion.PICK_UP:
        w.step(tree.PickUp(count=s.count, span=s.span), pass_)
    elif st.motion is Motion.TURN:
        w.step(tree.Turn(how=_TURNS.get(st.key, tree.TurnHow.PLAIN), span=s.span), pass_)
    elif st.motion is Motion.PASS:
        for _ in range(n):
            if st.takes:
                pass_next(w, s.span)
            else:
                one, gone = tree.Number(values=(1,)), tree.Number(values=(-st.net,))
                w.step(tree.PassOver(count=gone, over=one, span=s.span), pass_)
    elif st.motion is Motion.DROP:
        w.step(tree.Drop(count=s.count, span=s.span), pass_)


def own_stitch(w: Worker, s: tree.Work, pass_: int) -> None:
    """Work one of the pattern's own stitches from its words."""
    d = w.definitions.get(s.stitch)
    if d is None:  # explained in words that are no steps: the stitch of that name, if there is one
        usual = dictionary().find(s.stitch)
        stitch = usual.key if usual is not None and not usual.readings else "k"
        work_stitch(w, tree.Work(stitch=stitch, count=tree.Number(values=(1,)), span=s.span), pass_)
        return
    with explaining(w, s.stitch, s.span):
        by_its_words(w, d, s, pass_)


@contextmanager
def explaining(w: Worker, name: str, span: Span) -> Iterator[None]:
    """While the words that explain a name are worked, they cannot be what that name stands for in them."""
    if name in w.explained:
        w.report(problems.ExplainedByItself(name), span)
        raise Stop
    w.explained.append(name)
    try:
        yield
    finally:
        w.explained.pop()


def by_its_words(w: Worker, d: tree.Definition, s: tree.Work, pass_: int) -> None:
    """Work a stitch of the pattern's own by the words that explain it."""
    takes, makes = w.measure.own.get(s.stitch, (1, 1))
    in_a_run = w.measure.all(d.steps) is not None and not any(
        isinstance(x, tree.Turn) for x in tree.walk(d.steps)
    )
    if not in_a_run:
        w.flush()
    if takes > w.left_over and not w.reach(takes):
        one = tree.Work(stitch="k", count=tree.Number(values=(1,)), span=s.span)
        w.too_few(one, takes, 1, w.op(known("k")), pass_)
    called_at = w.span_id(s.span)
    if in_a_run:
        at_once = all(map(_gathers, d.steps))
        if not at_once:
            w.flush()
        begun, logged = w.gathered.workings, len(w.log)
        here, w.offset = w.offset, 0  # the words of definitions stand at their place in the source
        try:
            w.steps(d.steps, pass_)
        finally:
            w.offset = here
        if len(w.log) == logged:
            w.gathered.owned.append((s.stitch, called_at, begun, w.gathered.workings))
        elif not at_once:
            w.flush()
            w.log.append(("own", s.stitch, called_at, logged - len(w.log), 0, w.order))
        return
    here, w.offset, logged = w.offset, 0, len(w.log)
    apart(w, d.steps, takes)
    w.offset = here
    w.log.append(("own", s.stitch, called_at, logged - len(w.log), 0, w.order))
    c = w.count
    if makes > takes:
        c.made += makes - takes
    else:
        c.lost += takes - makes
    c.worked += takes
    c.touched += takes
    c.first = c.first or s.stitch
    c.last = s.stitch


@contextmanager
def alone(w: Worker, loops: Needles) -> Iterator[None]:
    """Work on some loops as if they were all there are; a turn turns them and begins no row."""
    was = (w.needles, w.on_turn, w.facing, w.count, w.frames)

    def flip(_: tree.Turn) -> None:
        loops.turn()
        w.facing ^= 1

    w.needles, w.on_turn, w.count, w.frames = loops, flip, Counters(start=loops.live), []
    try:
        yield
    finally:
        w.needles, w.on_turn, w.facing, w.count, w.frames = was


def apart(w: Worker, steps: Sequence[tree.Step], takes: int) -> None:
    """Work steps on the next ``takes`` loops alone, turns and all, and set the result on the right needle."""
    nd, facing = w.needles, w.facing
    n = len(nd.left)
    mine = Needles(left=nd.left[n - takes :])
    marks = [b for b in nd.left_marks if b.at > n - takes]
    nd.left = nd.left[: n - takes]
    nd.left_marks = [b for b in nd.left_marks if b.at <= n - takes]
    with alone(w, mine):
        try:
            w.steps(steps)
            w.flush()
        except Stop:
            w.gathered.clear()
        flipped = w.facing != facing
    loops = np.concatenate([mine.right, mine.left[::-1]])
    if flipped:
        loops = loops[::-1]
    for b in marks:
        nd.right_marks.append(b.moved(len(nd.right)))
    nd.right = np.concatenate([nd.right, loops])


def into_one(w: Worker, s: tree.Into, pass_: int) -> None:
    """Work several loops into one."""
    n = w.number(s.count)
    key, faces = [], []
    for x in s.steps:
        if isinstance(x, tree.Work) and not x.own:
            st = dictionary().find(x.stitch)
            if st is not None:
                k = w.number(x.count)
                key.extend([st.key] * k)
                faces.extend(list(st.faces or (Face.NONE,)) * k)
    made = len(faces)
    if made == 0:
        return
    name = f"({', '.join(key)}) in {s.over}"
    st = Stitch(
        key=name, us=name, uk=name, name_us=name, name_uk=name, family=Family.INCREASE, takes=s.over,
        makes=made, faces=tuple(faces),
    )  # fmt: skip
    op = w.op(st)
    need = s.over * n
    if need > w.left_over and not w.reach(need):
        w.too_few(tree.Work(stitch="k", count=s.count, span=s.span), s.over, n, op, pass_)
    w.add(op, n, w.span_id(s.span), pass_, w.yarn)


def cross_worded(w: Worker, s: tree.Cross, pass_: int) -> None:
    """A crossing said in words: the usual one, or else the held loops are worked after the others."""
    held = w.number(s.held)
    first, second = w.measure.all(s.first), w.measure.all(s.second)
    if second is not None and second[0] != held:
        w.report(problems.CrossingDiffers(w.row_name, held, second[0]), s.span)
        held = second[0]
    a = first[0] if first is not None else held
    if a + held > w.left_over and not w.reach(a + held):
        w.too_few(tree.Work(stitch="k", count=s.held, span=s.span), 1, a + held, w.op(known("k")), pass_)
    if marks_within(w, a + held):
        n = w.left_over
        if any(b.kind == "marker" and n - a - held < b.at < n for b in w.needles.left_marks):
            w.report(problems.MarkerCrossed(w.row_name, "the crossing"), s.span)
        w.flush()
    elif (usual := crossing_meant(s, w.number)) is not None:
        w.add(w.op(usual), 1, w.span_id(s.span), pass_, w.yarn)
        return
    _loop_by_loop(w, s, pass_, a, held)


def _loop_by_loop(w: Worker, s: tree.Cross, pass_: int, a: int, held: int) -> None:
    """Work the ``a`` loops beyond the held ones first, each by its own words, then those held."""
    w.gathered.perms.append((w.gathered.taken, (*range(held, held + a), *range(held))))
    at, begun, flushes = w.gathered.made, w.gathered.workings, w.flushes
    w.steps(s.first, pass_, once=False)
    mid = w.gathered.made
    w.steps(s.second, pass_, once=False)
    end = w.gathered.made
    front, back = int(Link.CROSSED_FRONT), int(Link.CROSSED_BACK)
    w.gathered.crossed.append((at, mid - at, back if s.front else front))
    w.gathered.crossed.append((mid, end - mid, front if s.front else back))
    if w.flushes == flushes:
        name = _crossing_name(s, a, held)
        w.gathered.owned.append((name, w.span_id(s.span), begun, w.gathered.workings))


def crossing_meant(s: tree.Cross, number: Callable[[tree.Number | None], int]) -> Stitch | None:
    """The crossing of the dictionary that the words of one come to, stitch for stitch; None for any other."""
    held = number(s.held)
    worked = [_plain_stitches(steps, number) for steps in (s.first, s.second)]
    first, second = worked
    if first is None or second is None or len(second) != held or not first or not held:
        return None
    front, back = (second, first) if s.front else (first, second)
    twisted = {st.twisted for st in front}
    purled = back[0].faces == (Face.PURL,)
    name = f"{len(front)}/{len(back)} {'L' if s.front else 'R'}{'PC' if purled else 'C'}"
    if twisted == {True}:
        name += " tbl"
    usual = dictionary().find(name)
    if usual is None or usual.motion is not Motion.CROSS or len(twisted) != 1:
        return None
    order = (*range(held, held + len(first)), *range(held))
    faces = tuple(face for st in (*first, *second) for face in st.faces)
    all_twisted = usual.twisted and len(set(faces)) == 1
    if usual.order != order or usual.faces != faces or any(st.twisted is not all_twisted for st in back):
        return None
    return usual


def _plain_stitches(
    steps: Sequence[tree.Step], number: Callable[[tree.Number | None], int]
) -> list[Stitch] | None:
    """The stitches of one loop that some steps work, in order; None if they are more than such stitches."""
    out: list[Stitch] = []
    for step in steps:
        if isinstance(step, tree.Note):
            continue
        if not isinstance(step, tree.Work) or step.own or step.colour is not None or step.yarn is not None:
            return None
        st = dictionary().find(step.stitch)
        if st is None or (st.takes, st.makes) != (1, 1) or st.motion is not Motion.WORK:
            return None
        out += [st] * min(number(step.count), LARGEST + 1)
    return out


def _crossing_name(s: tree.Cross, first: int, held: int) -> str:
    """The usual name of a crossing said in words: "2/1 LPC"."""
    back = s.first if s.front else s.second
    purled = any(isinstance(x, tree.Work) and x.stitch.startswith("p") for x in back)
    front, behind = (held, first) if s.front else (first, held)
    return f"{front}/{behind} {'L' if s.front else 'R'}{'PC' if purled else 'C'}"


def marks_within(w: Worker, loops: int) -> bool:
    """Whether a marker sits within the next ``loops`` loops."""
    n = w.left_over
    return any(n - loops < b.at <= n for b in w.needles.left_marks)
