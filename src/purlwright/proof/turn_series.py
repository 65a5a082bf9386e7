"""Family C, turns that follow one another: even steps, and decreases that close the gaps.

In: the gaps that each row of each way leaves, and the operations of the rows that meet them. Out: findings
on one turn out of step, on turns off the centre in one size, and on a decrease that misses the gap it should
close.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np

from purlwright.findings import Finding, Related, Severity
from purlwright.needles.ledger import Entry, Gap, Kind
from purlwright.pattern import tree
from purlwright.pattern.tree import Side
from purlwright.proof.answer import Answer, not_read
from purlwright.proof.options_alike import option_faults
from purlwright.proof.subject import Subject, Way, where_met
from purlwright.proof.texture import looks
from purlwright.text import Span

__all__ = [
    "JUDGES",
    "DecreaseMissesGap",
    "SideTurn",
    "TurnOutOfStep",
    "TurnsOffCentre",
    "series",
    "steps_broken",
    "turn_words",
]


@dataclass(frozen=True, slots=True)
class TurnOutOfStep:
    """One turn of a series stands out of step with the others at its side.

    The turns before and after come two stitches nearer each time, and this one stands too near or too far.
    The slope has a step in it, and nothing else tells.

    Example: turns that leave 4, 8, 13, 16 and 20 stitches.

    Cure: bring it into step, or say that it differs. (Common practice; no source.)
    """

    row: str
    found: int
    wanted: int
    step: int

    code = "turn-out-of-step"
    check = "C032"
    severity = Severity.WARNING

    def message(self) -> str:
        each = "stitch" if abs(self.step) == 1 else "stitches"
        return (
            f"{self.row} turns with {self.found} stitches beyond the turn; the others at this side go by "
            f"{abs(self.step)} {each}, which makes {self.wanted} here."
        )

    def label(self) -> str:
        return f"{self.found}, not {self.wanted}"

    def help(self) -> str | None:
        by = abs(self.found - self.wanted)
        more = "further on" if self.found > self.wanted else "earlier"
        return f"Turn {by} stitch{'es' if by > 1 else ''} {more}, or say that the step differs."


@dataclass(frozen=True, slots=True)
class TurnsOffCentre:
    """The first two turns of short rows stand at unlike distances from the edges, in one size only.

    In the other sizes the turns leave as many stitches at one side as at the other. In this size a number has
    slipped, and the heel or collar slides to one side.

    Example: `K20 (22, 34), turn; p4 (4, 4), turn` over 36 (40, 44) stitches.

    Cure: give this size the number that leaves both sides alike. (Common practice; no source.)
    """

    row: str
    left: int
    right: int
    sides: str

    code = "turns-off-centre"
    check = "C032"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The turns that begin with {self.row} leave {self.right} stitches at the right and "
            f"{self.left} at the "
            f"left; in the other sizes both sides are alike ({self.sides})."
        )

    def label(self) -> str:
        return "off the centre"

    def help(self) -> str | None:
        return "Look for a number of this size that has slipped."


@dataclass(frozen=True, slots=True)
class DecreaseMissesGap:
    """A decrease that should close the gap of an earlier turn stands beside it.

    It must take one stitch from before the gap and one from beyond it. Beside the gap it leaves the hole
    open, and every later row of the heel is a stitch out.

    Example: `Sl 1, p4, p2tog, p1, turn` where the gap comes after six stitches.

    Cure: work one stitch more, or fewer, before the decrease. (Common practice; no source.)
    """

    row: str
    by: int
    others: int

    code = "decrease-misses-gap"
    check = "C034"
    severity = Severity.WARNING

    def message(self) -> str:
        by = abs(self.by)
        sts = "a stitch" if by == 1 else f"{by} stitches"
        where = "before" if self.by < 0 else "beyond"
        rest = f" {self.others} other decreases of these rows close theirs." if self.others else ""
        return f"The decrease of {self.row} stands {sts} {where} the gap that it should close.{rest}"

    def label(self) -> str:
        return "misses the gap"

    def help(self) -> str | None:
        by = abs(self.by)
        more = "more" if self.by < 0 else "fewer"
        return f"Work {by} stitch{'es' if by > 1 else ''} {more} before it."


class SideTurn(NamedTuple):
    """A turn: the row that makes it, whether it stands at the left edge, and the stitches beyond it."""

    entry: Entry
    left: bool
    beyond: int


_ROWS = {Kind.ROW, Kind.ROUND}


def _own_gap(e: Entry) -> Gap | None:
    return next((g for g in e.gaps if g.turned_on == e.order), None)


def series(way: Way) -> Iterator[list[SideTurn]]:
    """Turns that follow one another row by row."""
    for piece in way.knitted.ledger.pieces:
        run: list[SideTurn] = []
        for e in piece.rows:
            gap = _own_gap(e) if e.gaps and e.kind in _ROWS and not (e.unread or e.resumed) else None
            if gap is not None and e.side is not None:
                left = e.side is Side.RS
                run.append(SideTurn(e, left, e.end - gap.from_right_rs if left else gap.from_right_rs))
            elif run and gap is None and not _works_back(e, run[-1].entry):
                yield run
                run = []
        if run:
            yield run


def _works_back(e: Entry, before: Entry) -> bool:
    """Whether a row goes back to the edge after a turn, and so goes on with the series."""
    return e.order == before.order + 1 and bool(before.gaps) and e.kind in _ROWS


# --- C032 -------------------------------------------------------------------------------------------------


def steps_broken(way: Way) -> list[tuple[SideTurn, int, int]]:
    """Each turn out of step with its side: the turn, the stitches that would keep the step, and the step."""
    out = []
    for run in series(way):
        sides = [[t for t in run if t.left is left] for left in (True, False)]
        steps = [[b.beyond - a.beyond for a, b in pairwise(s)] for s in sides]
        for side, d, other in zip(sides, steps, reversed(steps), strict=True):
            if len(side) < 5:
                found = _unlike_other_side(side, sides[0] if side is sides[1] else sides[1])
                if found is not None:
                    out.append(found)
                    break
                continue
            step, times = Counter(d).most_common(1)[0]
            odd = _odd_step(d, step)
            if odd is None or times < 2 or times + other.count(step) < 4:
                continue
            turn = side[odd + 1]
            if _numbers_apart(side[odd], turn) != _numbers_apart(side[0], side[1]):
                continue  # rows between are left out
            out.append((turn, side[odd].beyond + step, step))
            break
    return out


def _unlike_other_side(
    side: Sequence[SideTurn], other: Sequence[SideTurn]
) -> tuple[SideTurn, int, int] | None:
    """The one turn that falls out between its neighbours, where the other side steps evenly and the others
    match.

    The turn, the stitches that the other side leaves there, and its step.
    """
    apart = [n for n, (a, b) in enumerate(zip(side, other, strict=False)) if a.beyond != b.beyond]
    even = {b.beyond - a.beyond for a, b in pairwise(other)}
    if len(side) != len(other) or len(side) < _FEW_TURNS or len(apart) != 1 or len(even) != 1:
        return None
    (n,) = apart
    between = 0 < n < len(side) - 1
    if not between or side[n - 1].beyond < side[n].beyond < side[n + 1].beyond:
        return None
    return side[n], other[n].beyond, even.pop()


_FEW_TURNS = 3


def _out_of_step(way: Way, subject: Subject) -> Iterator[Finding]:
    for turn, wanted, step in steps_broken(way):
        problem = TurnOutOfStep(turn.entry.label or "This row", turn.beyond, wanted, step)
        yield Finding(problem=problem, span=turn_words(subject, turn.entry))


def _numbers_apart(one: SideTurn, two: SideTurn) -> int:
    return (two.entry.number or 0) - (one.entry.number or 0)


def _odd_step(d: Sequence[int], step: int) -> int | None:
    """The one step that breaks an even series: made good by the next, or alone between even ones."""
    odd = [i for i, x in enumerate(d) if x != step]
    if len(odd) == 2 and odd[1] == odd[0] + 1 and d[odd[0]] + d[odd[1]] == 2 * step:
        return odd[0]
    return odd[0] if len(odd) == 1 and 0 < odd[0] < len(d) - 1 else None


def turn_words(subject: Subject, entry: Entry) -> Span:
    """A row's words, or where they turn if that is told once."""
    line = subject.line_of(entry)
    turns = [n for n in tree.walk(line.actions) if isinstance(n, tree.Turn)] if line is not None else []
    if line is None or len(turns) != 1 or turns[0].span.end < 0:
        return entry.span
    return Span(turns[0].span.start + line.offset, turns[0].span.end + line.offset)


def _first_two(way: Way) -> Iterator[tuple[Entry, int, int]]:
    """The first turns at the left and at the right of each series with both, by the words of the first."""
    for run in series(way):
        left = next((t for t in run if t.left), None)
        right = next((t for t in run if not t.left), None)
        if left is not None and right is not None and len(run) >= 3:
            yield run[0].entry, left.beyond, right.beyond


def _off_centre(subject: Subject) -> list[Finding]:
    """Series whose first two turns are alike in all sizes but one."""
    if len(subject.pattern.sizes) < 2:
        return []
    met: dict[int, list[tuple[Way, Entry, int, int]]] = {}
    for way in subject.ways:
        seen: set[int] = set()
        for entry, left, right in _first_two(way):
            if entry.span.start not in seen:
                seen.add(entry.span.start)
                met.setdefault(entry.span.start, []).append((way, entry, left, right))
    out = []
    for at in met.values():
        sizes = {way.size for way, _, _, _ in at}
        bad = [x for x in at if abs(x[2] - x[3]) > 2]
        good = [x for x in at if abs(x[2] - x[3]) <= 1]
        wrong = {x[0].size for x in bad}
        if len(wrong) != 1 or len(sizes) < 2 or {x[0].size for x in good} != sizes - wrong:
            continue
        _, entry, left, right = bad[0]
        alike = (
            subject.by_size((w, r) for w, _, _, r in good)
            if len(good) < 2
            else ", ".join(dict.fromkeys(f"{r} and {n}" for _, _, n, r in good))
        )
        problem = TurnsOffCentre(entry.label or "this row", left, right, alike)
        found = Finding(problem=problem, span=entry.span)
        out.append(where_met(found, [x[0] for x in bad], subject.ways))
    return out


def judge_steps(subject: Subject) -> Answer:
    """C032: places are the turns of series long enough to have a step."""
    if not any(e.gaps for _, e in subject.entries()):
        return Answer()
    places = sum(len(run) for way in subject.ways[:1] for run in series(way) if len(run) >= 3)
    findings = subject.each_way(lambda way: _out_of_step(way, subject)) or _off_centre(subject)
    findings = findings or list(option_faults(subject))
    return Answer(places=places, findings=tuple(findings), missing=not_read(subject))


# --- C034 -------------------------------------------------------------------------------------------------


class _Met(NamedTuple):
    """A decrease near a gap: the row, the stitches between their middles (0: it closes the gap), its
    words.
    """

    entry: Entry
    by: int
    span: Span


NEAR = 2
"""A decrease farther from a gap than this many stitches has nothing to do with it."""


def _closings(way: Way) -> Iterator[_Met]:
    """Every decrease of two stitches near a gap that its row comes to, and how near."""
    fabric = way.knitted.fabric
    wanted: dict[int, tuple[Entry, Sequence[Gap], int]] = {}
    for piece in way.knitted.ledger.pieces:
        before: Entry | None = None
        for e in piece.rows:
            if before is not None and len(before.gaps) > 1 and e.kind in _ROWS and e.lost and not e.resumed:
                wanted[e.order] = (e, before.gaps, before.end)
            before = e
    if not wanted:
        return
    done: dict[int, int] = {}
    for item in way.knitted.log:
        if item[0] != "run" or item[-1] not in wanted:
            continue
        e, gaps, there = wanted[item[-1]]
        yield from _met_in(item, e, gaps, there, done, fabric)


def _met_in(
    item: tuple[Any, ...], e: Entry, gaps: Sequence[Gap], there: int, done: dict[int, int], fabric: Any
) -> Iterator[_Met]:
    ops = looks(np.asarray(item[1], np.int16).tobytes())
    right = e.side is not Side.WS
    places = [g.from_right_rs if right else there - g.from_right_rs for g in gaps]
    turned = [
        p for p, g in zip(places, gaps, strict=True) if g.turned_on == e.order - 1
    ]  # the row before turned here: this row begins there
    begin = done.setdefault(e.order, turned[0] if turned else 0)
    ahead = [p for p in places if p > (turned[0] if turned else 0)]
    for op in ops:
        if op.look.takes == 2 and op.look.makes == 1 and ahead:
            middle = begin + op.at + 1
            by = min((middle - p for p in ahead), key=abs)
            if abs(by) <= NEAR:
                spans = item[2]
                n = int(spans[op.place]) if np.ndim(spans) else int(spans)
                yield _Met(e, by, Span(int(fabric.span_start[n]), int(fabric.span_end[n])))
    done[e.order] = begin + (ops[-1].at + ops[-1].look.takes if ops else 0)


def _missed(way: Way) -> Iterator[Finding]:
    met = list(_closings(way))
    closed = [m for m in met if m.by == 0]
    missed = [m for m in met if m.by]
    if not missed or (len(closed) < 3 and not (len(closed) >= 1 and len(missed) == 1)):
        first = missed[0] if missed else None
        if first is None or len(missed) < 3 or closed:
            return
    if len(missed) > len(closed) and closed:
        return
    words: set[Span] = set()
    for m in missed:
        if m.span not in words:
            words.add(m.span)
            problem = DecreaseMissesGap(m.entry.label or "this row", m.by, len(closed))
            related = tuple(Related(c.span, "closes its gap") for c in closed[:1])
            yield Finding(problem=problem, span=m.span, related=related)
            return


def judge_closing(subject: Subject) -> Answer:
    """C034: places are the decreases that meet a gap."""
    if not any(len(e.gaps) > 1 for _, e in subject.entries()):
        return Answer()
    places = sum(1 for way in subject.ways for _ in _closings(way))
    return Answer(places=places, findings=tuple(subject.each_way(_missed)), missing=not_read(subject))


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C032": judge_steps, "C034": judge_closing}
