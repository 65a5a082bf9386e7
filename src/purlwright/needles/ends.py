"""The first loops of a piece and the last words of a pattern.

In: the knitter at work. Out: cast-on entries; at the end, what is still live, and everything frozen. Casting
on in the course of a row is left to ``edges``.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from purlwright.findings import Severity
from purlwright.needles import problems
from purlwright.needles.edges import new_loops
from purlwright.needles.hands import Counters, Stop
from purlwright.needles.knitted import Knitted
from purlwright.needles.ledger import Entry, Kind, Ledger, Piece
from purlwright.needles.loops import Boundary
from purlwright.needles.pieces import begin_piece
from purlwright.needles.rowends import end_row, enter, settle
from purlwright.needles.state import Info, TooMuch
from purlwright.pattern import tree
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from purlwright.needles.knit import Knitter


CLOSED = frozenset(
    "judy|judys|judy magic|magic|turkish|figure eight|figure 8|winding|wound|closed|closed toe"
    "|closed toe up".split("|")
)
"""Cast-ons that lie on two needles and have no edge: the work goes round them from the first round on."""


def cast_on(k: Knitter, s: tree.CastOn) -> None:
    """Begin a piece by casting on."""
    end_row(k)
    w = k.worker
    n = k.measure.number(s.count, 0) * max(s.each, 1)
    if s.count is None and s.multiple is not None:
        n = k.measure.number(s.multiple) * 3 + k.measure.number(s.plus, 0)
    if s.count is None and s.needles:
        n = sum(k.measure.number(x) for x in s.needles)
    k.cast_over = max(s.over, s.each, len(s.needles), 2 * (s.method in CLOSED))
    w.look("C004")
    if n <= 0:
        return
    begin_piece(k)
    k.any_width = s.count is None and s.multiple is not None
    k.order += 1
    w.order = k.order
    w.count = Counters()
    w.side = 2
    try:
        ids = new_loops(w, n, s.span, side=2)
    except Stop:
        raise TooMuch from None
    w.needles.right = ids
    w.needles.left = ids[:0]
    w.edges.cast_on.append(ids)
    sizes = [k.measure.number(x) for x in s.needles] or [k.measure.number(s.count, 0)] * s.each
    if len(sizes) > 1 and sum(sizes) == n:
        ends = np.cumsum(sizes[:-1]).tolist()
        w.needles.right_marks += [Boundary("needle", at) for at in ends]
    w.count.made = n
    info = k.info
    enter(
        k,
        Entry(
            order=k.order,
            kind=Kind.CAST_ON,
            label=info.label,
            section=k.heading,
            side=None,
            start=0,
            worked=0,
            made=n,
            end=n,
            line=info.line,
            span=info.span,
            last="cast on",
            stitches_so_far=k.grower.n,
        ),
    )
    w.act("cast on", w.span_id(s.span), 0, n)
    k.ended = True
    k.first_side = 1 if s.counts_row else 0
    k.side_known = True
    k.unproved = k.miscounted = False


def finish(k: Knitter) -> None:
    """The words are at an end: nothing may still be live."""
    k.info = Info()
    end_row(k)
    k.trailing_rule()
    settle(k)
    w = k.worker
    nd = w.needles
    w.offset = 0
    w.look("C019", len(k.pieces))
    _double_overs(k)
    if not k.pieces:
        _nothing_knitted(k)
    if nd.live and k.pieces and not k.unproved and not k.any_width and not _left_on_purpose(k):
        last = k.entries[-1] if k.entries else None
        span = last.span if last is not None else NOWHERE
        ends = problems.EndingNotSaid if _goes_on(k) else problems.LeftLive
        k.report(ends(k.pieces[-1][0], nd.live), span)
    for h in nd.holders:
        k.report(problems.LeftOnHold(h.name, len(h.loops)), Span(*h.span))


_LEFT = re.compile(r"leave\b.*\bsts?\b.*\bon\b.*\b(?:needles?|dpns|pins|cable)\b", re.IGNORECASE)


def _left_on_purpose(k: Knitter) -> bool:
    """In words: ``Leave the sts on the needles for the heel.`` at the very end: they stay where they are."""
    last = next(
        (line.actions for section in reversed(k.pattern.sections) if section.kind != "define"
         for line in reversed(section.lines) if any(not isinstance(a, tree.Unread) for a in line.actions)),
        (),
    )  # fmt: skip
    return any(isinstance(a, tree.Note) and _LEFT.match(a.words) for a in last)


def _goes_on(k: Knitter) -> bool:
    """Whether the last words repeat rows without an end: "repeat these rows", "rep from row 1"."""
    said = [
        a
        for section in k.pattern.sections
        if section.kind != "define"
        for line in section.lines
        for a in line.actions
        if not isinstance(a, tree.Note)
    ]
    last = said[-1] if said else None
    if not isinstance(last, tree.RepeatRows) or last.times is not None:
        return False
    until = last.until
    return until is None or (until.length is not None and not until.length.values)


def result(k: Knitter) -> Knitted:
    """Everything, frozen."""
    held: dict[int, int] = {}
    for h in k.worker.needles.holders:
        held[h.piece] = held.get(h.piece, 0) + len(h.loops)
    pieces: list[Piece] = []
    nd = k.worker.needles
    for i, (name, first) in enumerate(k.pieces):
        last = k.pieces[i + 1][1] if i + 1 < len(k.pieces) else len(k.entries)
        rows = tuple(k.entries[first:last])
        live = nd.live if i == len(k.pieces) - 1 else 0
        pieces.append(
            Piece(name=name, rows=rows, bound_off=k.piece_bound_off[i], live=live, held=held.get(i, 0))
        )
    options = tuple(sorted(k.options.items()))
    return Knitted(
        size=k.size_name, options=options,
        ledger=Ledger(size=k.size_name, options=options, pieces=tuple(pieces)),
        fabric=k.grower.finish(k.worker.table.keys), findings=tuple(k.findings.sorted()),
        places=dict(k.worker.places), unproved=k.ever_unproved, own=dict(k.own), _log=k.worker.log,
    )  # fmt: skip


def _nothing_knitted(k: Knitter) -> None:
    """The text has words and begins no piece; no more is said if something in them is amiss already."""
    p = k.pattern
    lines = (Span(x.offset, x.offset + len(x.text.split("\n", 1)[0])) for x in p.lines if x.text.strip())
    span = next(lines, p.header.description[0][1] if p.header.description else p.title_span)
    strange = {
        line.line
        for s in p.sections
        for line in s.lines
        if line.label is not None and line.actions and all(isinstance(a, tree.Unread) for a in line.actions)
    }
    if span.end < 0 or any(
        f.severity is Severity.ERROR and p.source.place(f.span.start)[0] not in strange
        for f in (*p.findings, *k.findings.sorted())
    ):
        return
    explains = bool(p.charts) or any(s.topic == "called" for s in p.sections)
    k.report(problems.NothingKnitted(explains=explains), span)


def _double_overs(k: Knitter) -> None:
    """Look for decreases that take both loops of a double yarn over."""
    g = k.grower
    op = g.buf["op"][: g.n]
    made = k.worker.table.overs(op)
    if not made.any():
        return
    row, span = g.buf["row"], g.buf["span"]
    first = np.flatnonzero(made[:-1] & made[1:])
    first = first[(row[first] == row[first + 1]) & (span[first] == span[first + 1])]
    if not len(first):
        return
    k.worker.look("C016", len(first))
    starts = g.buf["first"][: g.n]
    many = np.flatnonzero(np.diff(np.append(starts, g.m)) > 1)
    pairs = set(first.tolist())
    for s in many.tolist():
        parents = set(g.parents_of(s).tolist())
        if any(p in pairs and p + 1 in parents for p in parents):
            key = k.worker.table.keys[int(op[s])]
            k.findings.report(problems.DoubleOverWorkedAsOne(key), Span(*g.span_at(int(span[s]))))
