"""Increases and decreases without a method: evenly, at the edges, at the centre.

In: a step and the worker. Out: operations gathered. On which rows they fall is left to ``shapings``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.needles import problems
from purlwright.needles.hands import Stop, known
from purlwright.needles.setwork import as_they_appear, in_pattern, span_of
from purlwright.pattern import tree
from purlwright.stitches.kinds import Stitch
from purlwright.stitches.load import dictionary

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker


def evenly(w: Worker, s: tree.Evenly, pass_: int) -> None:
    """Spread increases or decreases over the row."""
    there = span_of(w, s.over, None, s.span)
    change = w.number(s.change, 0) if s.change is not None else w.number(s.total, there) - there
    w.look("C009")
    sid = w.span_id(s.span)
    k = w.op(known("k"))
    if change < 0:
        st = known(s.stitch) if s.stitch else known("k2tog")
        n, each = -change, st.takes
        if st.net >= 0 or n * each > there or n % -st.net:
            w.report(problems.EvenlyDoesNotFit(w.row_name, change, there), s.span)
            w.add(k, there, sid, pass_, w.yarn)
            return
        n //= -st.net
    elif change > 0:
        st = known(s.stitch) if s.stitch else known("M1")
        n, each = change, st.takes
        if n * each > there or there == 0:
            w.report(problems.EvenlyDoesNotFit(w.row_name, change, there), s.span)
            w.add(k, there, sid, pass_, w.yarn)
            return
    else:
        w.add(k, there, sid, pass_, w.yarn)
        return
    op = w.op(st)
    plain = there - n * each
    for i in range(n):
        a = plain * (2 * i + 1) // (2 * n) - plain * (2 * i - 1) // (2 * n) if i else plain // (2 * n)
        if a > 0:
            w.add(k, a, sid, pass_, w.yarn)
        w.add(op, 1, sid, pass_, w.yarn)
    rest = w.left_over if s.over is None and (w.tail() or 0) == 0 else 0
    done = plain // (2 * n) + sum(
        plain * (2 * i + 1) // (2 * n) - plain * (2 * i - 1) // (2 * n) for i in range(1, n)
    )
    rest = plain - done
    if rest > 0:
        w.add(k, rest, sid, pass_, w.yarn)


def _begins_here(w: Worker, edge: str) -> bool:
    """Whether this row begins at the edge of that name; where nothing tells, right-side rows do."""
    side = w.edge_begins(edge)
    return (w.facing == 0) if side is None else (w.facing == 0) == (side is tree.Side.RS)


def at_edges(w: Worker, s: tree.AtEdges, pass_: int) -> None:
    """Increase or decrease at the edges of the row; the rest goes on as established."""
    n = w.number(s.count)
    inside = w.number(s.inside, 0)
    there = w.left_over
    first = s.where in {"each end", "beginning"} or (
        s.where in {"neck edge", "armhole edge"} and _begins_here(w, s.where)
    )
    last = s.where in {"each end", "end"} or (s.where in {"neck edge", "armhole edge"} and not first)
    if s.change < 0:
        a, b = (known("ssk"), known("k2tog")) if not w.facing else (known("p2tog"), known("ssp"))
    else:
        a = b = known("M1") if inside else known("kfb")
    if s.stitch:
        a = b = known(s.stitch)
    sid = w.span_id(s.span)
    need = (a.takes * n + inside) * (int(first) + int(last))
    if s.where == "centre":
        at_centre(w, s, a, n, pass_)
        return
    if s.where == "each side of marker":
        beside_markers(w, s, n, pass_)
        return
    if need > there:
        w.report(problems.EvenlyDoesNotFit(w.row_name, s.change * n, there), s.span)
        raise Stop
    if first:
        if inside:
            as_they_appear(w, inside, s.span)
        w.add(w.op(a), n, sid, pass_, w.yarn)
    w.flush()
    middle = w.left_over - ((b.takes * n + inside) if last else 0)
    in_pattern(w, tree.InPattern(count=tree.Number(values=(middle,)), span=s.span), pass_)
    if last:
        w.add(w.op(b), n, sid, pass_, w.yarn)
        w.flush()
        if inside:
            as_they_appear(w, inside, s.span)


def at_centre(w: Worker, s: tree.AtEdges, a: Stitch, n: int, pass_: int) -> None:
    """Increase or decrease at the middle of the row."""
    st = known("s2kp") if s.change < 0 and not s.stitch and n > 1 else a
    if s.change < 0 and not s.stitch and s.count.span.end < 0:
        st = _as_before(w) or st
    if st.takes > w.left_over:
        w.report(problems.EvenlyDoesNotFit(w.row_name, st.net, w.left_over), s.span)
        raise Stop
    half = (w.left_over - st.takes) // 2
    in_pattern(w, tree.InPattern(count=tree.Number(values=(half,)), span=s.span), pass_)
    w.add(w.op(st), 1, w.span_id(s.span), pass_, w.yarn)
    w.flush()
    in_pattern(w, tree.InPattern(count=tree.Number(values=(w.left_over,)), span=s.span), pass_)


_NEAR = 3
"""So far from the middle a decrease still lies on the centre line."""


def _as_before(w: Worker) -> Stitch | None:
    """The decrease that stands at the middle of the rows before: "decreasing at centre" goes on with it."""
    w.flush()
    loops = w.needles.left
    middle = len(loops) // 2
    near = sorted(
        range(max(middle - _NEAR, 0), min(middle + _NEAR + 1, len(loops))), key=lambda i: abs(i - middle)
    )
    for i in near:
        op = int(w.grower.buf["op"][loops[i]])
        if w.table.makes[op] == 1 and w.table.takes[op] > 1:
            return dictionary().find(w.table.keys[op])
        for up in w.grower.parents_of(int(loops[i])).tolist():
            op = int(w.grower.buf["op"][up])
            if w.table.makes[op] == 1 and w.table.takes[op] > 1:
                return dictionary().find(w.table.keys[op])
    return None


def beside_markers(w: Worker, s: tree.AtEdges, n: int, pass_: int) -> None:
    """Increase or decrease on both sides of every marker of the row."""
    before, after = (known("M1R"), known("M1L")) if s.change > 0 else (known("k2tog"), known("ssk"))
    if s.stitch:
        before = after = known(s.stitch)
    sid = w.span_id(s.span)
    w.flush()
    for _ in range(sum(b.kind == "marker" and b.at > 0 for b in w.needles.left_marks)):
        there = w.left_over - max(b.at for b in w.needles.left_marks if b.kind == "marker")
        plain = there - before.takes * n
        if plain < 0:
            w.report(problems.EvenlyDoesNotFit(w.row_name, s.change * n, there), s.span)
            raise Stop
        if plain:
            in_pattern(w, tree.InPattern(count=tree.Number(values=(plain,)), span=s.span), pass_)
        w.add(w.op(before), n, sid, pass_, w.yarn)
        w.step(tree.Marker(act="slip", span=s.span), pass_)
        w.add(w.op(after), n, sid, pass_, w.yarn)
        w.flush()
    rest = w.left_over
    if rest:
        in_pattern(w, tree.InPattern(count=tree.Number(values=(rest,)), span=s.span), pass_)
