"""Where things are on the needle: ends, markers, gaps, the centre.

In: a place in the words and the worker. Out: how many loops lie between here and there, or a finding that
it is not there. Working up to there is left to whoever asked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from purlwright.needles import problems
from purlwright.needles.byslip import past_slipped
from purlwright.needles.hands import Stop
from purlwright.pattern import tree
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.worker import Worker


def distance(w: Worker, to: tree.Place, span: Span) -> int:
    """How many loops lie between here and a place. Raises Stop if it is not there."""
    left = w.left_over
    before = w.number(to.before, 0)
    past = w.number(to.past, 0)
    kind = to.kind
    if kind in {tree.PlaceKind.MARKER, tree.PlaceKind.GAP, tree.PlaceKind.WRAPPED}:
        base = to_boundary(w, to, span)
    elif kind in {tree.PlaceKind.CENTRE, tree.PlaceKind.HALF}:
        done = w.count.worked + w.gathered.taken
        half = (w.count.start - 1) // 2 if kind is tree.PlaceKind.CENTRE else w.count.start // 2
        base = half - done
    elif kind is tree.PlaceKind.DECREASE:
        base = to_decrease(w)
    elif kind is tree.PlaceKind.SLIPPED:
        return past_slipped(w, span)
    elif kind is tree.PlaceKind.NEEDLE_END:
        ends = [left - b.at for b in w.needles.left_marks if b.kind == "needle" and b.at < left]
        base = min(ends) if ends else left
    else:
        base = left
        for b in w.needles.left_marks:
            if b.kind == "start" and b.at <= left:
                base = left - b.at
    n = base - before + past
    w.look("C006")
    if n < 0 or n > left:
        if n < 0:
            w.report(problems.PlaceBehind(w.row_name, before, max(base, 0), str(kind)), span)
        else:
            w.report(problems.PlaceBehind(w.row_name, 0, left, str(kind)), span)
        raise Stop
    return n


def to_boundary(w: Worker, to: tree.Place, span: Span) -> int:
    """Loops before a marker or a gap."""
    left = w.left_over
    gap = to.kind is not tree.PlaceKind.MARKER
    wanted = "gap" if gap else "marker"
    marks = [b for b in w.needles.left_marks if b.kind == wanted and b.at <= left]
    marks.reverse()
    if gap:
        w.look("C037")
        if to.kind is tree.PlaceKind.GAP and not marks:  # left by stitches bound off
            marks = [b for b in reversed(w.needles.left_marks) if b.kind == "hole" and b.at <= left]
    if not gap and to.name and to.name not in {"last", "next", "first", "second"}:
        named = [b for b in marks if b.name.lower() == to.name.lower()]
        if named:
            marks = named
        elif marks and len(to.name) == 1 and not _is_named(w, to.name):
            w.report(problems.MarkerNotHere(w.row_name, "go to", to.name.upper()), span)
    if len(marks) > 1 and marks[0].at == left:
        marks = marks[1:]
    if not gap and to.name == "last" and marks:
        marks = marks[-1:]
    if len(marks) >= to.nth:
        return left - marks[to.nth - 1].at
    if not gap and w.needles.ring and (w.needles.start_marked or not marks):
        return left
    w.report(
        problems.NoSuchGap(w.row_name) if gap else problems.NoMarker(w.row_name, to.name or ""),
        span,
    )
    raise Stop


def _is_named(w: Worker, name: str) -> bool:
    marks = (*w.needles.left_marks, *w.needles.right_marks)
    return any(b.kind == "marker" and b.name.lower() == name.lower() for b in marks)


def to_decrease(w: Worker) -> int:
    """Loops before the next one that an earlier decrease made."""
    nd = w.needles
    left = w.left_over
    op = w.grower.buf["op"]
    t = w.table
    for d, s in enumerate(nd.left[:left][::-1].tolist()):
        o = int(op[s])
        if t.takes[o] > t.makes[o] and t.makes[o] == 1:
            return d
    return max((w.count.start - 1) // 2 - w.count.worked - w.gathered.taken, 0)
