"""Rows that stand together, knitted or drawn: those of a section, and those of a chart.

In: a subject. Out: blocks of :class:`~purlwright.proof.texture.Worked` rows. A chart's rows are taken as they
are drawn, with their repeat twice, whether or not the words ever call them; a row of words that calls a
chart is no row of its own here.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

from purlwright.needles.ledger import Entry, Kind
from purlwright.needles.optable import op_table
from purlwright.pattern import tree
from purlwright.proof.spelled import Spelled, spell, takes
from purlwright.proof.texture import Worked
from purlwright.stitches.load import dictionary
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.charts import Chart, ChartRow
    from purlwright.proof.subject import Subject

__all__ = ["blocks"]


def blocks(subject: Subject) -> list[Sequence[Worked]]:
    """The rows of each section in the order worked, then those of each chart from the bottom up."""
    return subject.row_blocks


def make_blocks(subject: Subject) -> list[Sequence[Worked]]:
    """What :func:`blocks` gives, made once."""
    rows = subject.worked_rows
    calls = {line.offset for line, _ in subject.nodes(tree.Call)}
    if calls:
        rows = tuple(r for r in rows if r.line.offset not in calls)
    out: list[Sequence[Worked]] = [list(group) for _, group in groupby(rows, key=lambda r: r.entry.section)]
    if subject.ways:
        out += [drawn for chart in subject.pattern.charts if (drawn := _drawn(subject, chart))]
    return out


def _drawn(subject: Subject, chart: Chart) -> list[Worked]:
    """A chart's rows as they are drawn; none if any of them has a mark that was not read."""
    out = []
    for n, (row, line) in enumerate(zip(chart.rows, chart.lines, strict=True)):
        spelled = spell(line)
        worked = _worked(subject, chart, row, line, spelled, n) if spelled is not None else None
        if worked is None:
            return []
        out.append(worked)
    return out


def _worked(
    subject: Subject, chart: Chart, row: ChartRow, line: tree.Line, spelled: Spelled, order: int
) -> Worked | None:
    table, known = op_table(), dictionary().stitches
    units = spelled.times(2) if spelled.body else spelled.before
    ops, spans = [], []
    for unit in units:
        stitch = known.get(unit.key)
        if stitch is None:
            return None
        ops.append(table.add(stitch))
        spans.append(Span(unit.span.start + row.span.start, unit.span.end + row.span.start))
    a, b = len(spelled.before), len(spelled.body)
    passes = [1] * (a + b) + [2] * b + [1] * len(spelled.after) if b else [1] * len(units)
    start, made = takes(units), sum(u.look.makes for u in units)
    label = f"Row {row.number}" if row.number is not None else "A row"
    kind = Kind.ROUND if chart.round else Kind.ROW
    entry = Entry(
        order=order, kind=kind, label=f'{label} of the chart "{chart.name}"',
        number=row.number, section=chart.name, side=row.side, start=start, worked=start,
        made=max(0, made - start), lost=max(0, start - made), end=made, line=row.line, span=row.span,
    )  # fmt: skip
    return Worked(
        line=line, entry=entry, way=subject.ways[0], key=np.array(ops, np.int16).tobytes(),
        spans=tuple(spans), passes=np.array(passes, np.int32), drawn=True,
    )  # fmt: skip
