"""Charts that she typed, and stitch patterns written apart, knitted by themselves so that they can be drawn.

In: a read pattern, and one of its charts or of its sections that only define. Out: a knitting of that alone,
over as many stitches as three repeats take, and its rows. Her own marks mean what her key says: the needles
read it, not this file. What the chart then looks like is left to ``grid``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from purlwright.needles.knit import knit
from purlwright.needles.ledger import ROWS, Entry, Kind
from purlwright.needles.measure import Measure
from purlwright.pattern import tree
from purlwright.pattern.charts import Chart
from purlwright.pattern.sections import Section
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.file import Pattern

__all__ = ["chart_is_round", "knit_apart", "knit_chart"]

REPEATS = 3
"""The first repeat, one in the middle and the last."""
_END = Span(1 << 30, 1 << 30)
"""The new words stand after all others."""
_PURL = tree.Work(stitch="p", count=tree.Number(values=(1,)))
_PURLED = (tree.Fill(body=(_PURL,), to=tree.Place(kind=tree.PlaceKind.END)),)


def knit_chart(
    pattern: Pattern, chart: Chart, *, size: int = 0, options: Mapping[str, str] | None = None,
    whole: Knitted | None = None,
) -> tuple[Knitted, tuple[Entry, ...]]:  # fmt: skip
    """A chart knitted by itself, and the entries of its drawn rows; no entries if it has no rows.

    Rows between that are not drawn are worked as the words beside the chart say, else purled back. ``whole``
    is the knitting of the whole pattern: it found whether the chart is worked in rounds, and how many loops
    her own stitches take and make.
    """
    numbers = [row.number for row in chart.rows]
    if not chart.rows or any(n is None for n in numbers):
        numbers = list(range(1, len(chart.rows) + 1))
    drawn = [n for n in numbers if n is not None]
    lines: list[tree.Line] = []
    rounds = chart_is_round(chart, whole)
    for row, n, before in zip(chart.rows, drawn, [None, *drawn], strict=False):
        if before is not None and n == before + 2 and not rounds:
            lines.append(_row(n - 1, _PURLED, side=tree.Side.WS if row.from_right else tree.Side.RS))
        call = tree.Call(name=chart.name, row=tree.Number(values=(n,)))
        side = None if chart.round else row.side
        lines.append(_row(n, (call,), side=side, round_=rounds))
    known = Measure(size, whole.own if whole is not None else {}, {})
    first = (chart.rounds if rounds else chart.lines)[:1]
    widest = known_width(known, first[0].actions) if first else 0
    return _knitted(pattern, lines, widest, size, options, round_=rounds, only=set(drawn))


def chart_is_round(chart: Chart, whole: Knitted | None = None) -> bool:
    """Whether a chart is of rounds: every row starts at the right, and none is left out between. Where the
    squares leave that open, because there is one row or only each second is drawn, ``whole`` tells how the
    chart is worked; it is of rows if that is not known.
    """
    if not chart.round:
        return False
    numbers = [row.number for row in chart.rows[:2]]
    if None in numbers:
        numbers = list(range(1, len(numbers) + 1))
    if len(numbers) == 2 and numbers[1] == (numbers[0] or 0) + 1:
        return True
    return whole is not None and _worked_in(chart, whole) == {Kind.ROUND}


def _worked_in(chart: Chart, whole: Knitted) -> set[Kind]:
    """The kinds of rows in which stitches of the chart stand."""
    f = whole.fabric
    mine = (f.span_start >= chart.span.start) & (f.span_end <= chart.span.end) & (f.span_end > 0)
    rows = set(np.unique(f.row_of_stitch[mine[f.span_of_stitch]]).tolist())
    return {e.kind for e in whole.ledger.entries if e.order in rows}


def knit_apart(
    pattern: Pattern, section: Section, *, size: int = 0, options: Mapping[str, str] | None = None,
    own: Mapping[str, tuple[int, int]] | None = None,
) -> tuple[Knitted, tuple[Entry, ...]]:  # fmt: skip
    """A stitch pattern written apart, knitted by itself, and its rows; no entries if it has none."""
    lines = [ln for ln in section.lines if ln.label is not None and ln.label.numbers]
    if not lines:
        return _knitted(pattern, [], 0, size, options, round_=False, only=None)
    units = {ln.label.unit for ln in lines if ln.label is not None}
    width = known_width(Measure(size, own or {}, {}), lines[0].actions)
    return _knitted(pattern, lines, width, size, options, round_=tree.Unit.ROUND in units, only=None)


def known_width(measure: Measure, actions: Sequence[tree.Action]) -> int:
    """How many stitches the first row takes, its repeat worked three times; 24 if the words leave it open."""
    steps = [a for a in actions if not isinstance(a, (tree.Note, tree.Stated))]
    repeats = [a for a in steps if isinstance(a, tree.Repeat) and a.times is None]
    inner = sum(_takes(measure, r.body) for r in repeats) * REPEATS
    fills = [a for a in steps if isinstance(a, tree.Fill)]
    outer = sum(_takes(measure, [a]) for a in steps if a not in repeats and a not in fills)
    if not repeats and not fills:
        return outer * REPEATS  # a chart without repeat lines may be a repeat as a whole
    return inner + outer if repeats else outer + _OPEN


_OPEN = 24


def _takes(measure: Measure, steps: Sequence[tree.Action]) -> int:
    count = measure.all(steps)
    return count[0] if count is not None else 1


def _row(
    number: int, steps: tuple[tree.Step, ...], *, side: tree.Side | None, round_: bool = False
) -> tree.Line:
    unit = tree.Unit.ROUND if round_ else tree.Unit.ROW
    return tree.Line(
        label=tree.Label(numbers=(number,), side=side, unit=unit), actions=steps, offset=_END.start
    )


def _knitted(
    pattern: Pattern,
    lines: Sequence[tree.Line],
    width: int,
    size: int,
    options: Mapping[str, str] | None,
    *,
    round_: bool,
    only: set[int] | None,
) -> tuple[Knitted, tuple[Entry, ...]]:
    """The lines knitted over ``width`` stitches, or over a third of them if they do not come out."""
    best: tuple[Knitted, tuple[Entry, ...]] | None = None
    for stitches in dict.fromkeys((width, width // REPEATS)):
        begin: list[tree.Action] = [tree.CastOn(count=tree.Number(values=(stitches,)))]
        if round_:
            begin.append(tree.JoinRound())
        work = Section(
            heading="", span=_END, lines=(tree.Line(actions=tuple(begin), offset=_END.start), *lines)
        )
        kept = [s if s.kind == "define" else replace(s, lines=()) for s in pattern.sections]
        alone = replace(pattern, sections=(*kept, work))
        knitted = knit(alone, size=size, options=dict(options or {}))
        rows = tuple(
            e for p in knitted.ledger.pieces for e in p.rows
            if e.kind in ROWS and (only is None or e.number in only)
        )  # fmt: skip
        if best is None or _bad(knitted) < _bad(best[0]):
            best = (knitted, rows)
        if not _bad(best[0]):
            break
    if best is None:
        raise ValueError("nothing to knit")
    return best


def _bad(knitted: Knitted) -> int:
    return sum(f.severity.value == "error" and f.code not in _NO_FAULT for f in knitted.findings)


_NO_FAULT = frozenset({"left-live"})
