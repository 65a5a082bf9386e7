"""Family H, how often a chart's repeat is worked: said where it changes from working to working (C082).

In: charts with an outline, and the rows worked from them. Out: a finding where the outlined repeat is worked
another number of times at each working of the chart, and no words say so. Whether the outline fits is left to
``charts``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Related, Severity
from purlwright.pattern import tree
from purlwright.proof.said import and_list
from purlwright.proof.spelled import Spelled, spell, takes
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.needles.ledger import Entry
    from purlwright.pattern.charts import Chart
    from purlwright.proof.subject import Subject

__all__ = ["RepeatsNotTold", "repeats_not_told"]


@dataclass(frozen=True, slots=True)
class RepeatsNotTold:
    """Each working of a chart takes its repeat another number of times, and no words say how often.

    The chart narrows or widens by whole repeats. The knitter finds the new number by counting her stitches,
    or works the first number again and runs out of them.

    Example: a chart that loses one repeat each time, and only `Work rows 1-4 of the chart 3 times.`

    Cure: say how often the stitches between the upright lines are worked at each working of the chart.
    (Common practice; no source.)
    """

    chart: str
    times: str

    code = "repeats-not-told"
    check = "C082"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f'The repeat of the chart "{self.chart}" is worked {self.times} times, as the chart is worked '
            "again and again, and nothing says so."
        )

    def label(self) -> str:
        return "how often the repeat is worked is not said"

    def help(self) -> str | None:
        return (
            f"Say that the stitches between the lines are worked {self.times} times, the first number the "
            "first time the chart is worked."
        )


_SAID = re.compile(
    r"\brep(?:eat)?s?\b[^.\n]*\b(?:more|fewer|less|extra|another|additional|each|every|many|often|\d+|times)\b"
    r"|\b(?:more|fewer|less|extra|another|additional|many)\b[^.\n]*\b(?:rep(?:eat)?s?|chart)\b"
    r"|\b(?:outlined?|box(?:ed)?|framed?|shaded|within|between)\b"
    r"[^.\n]*\b(?:lines?|times|as often|to last|sts?)\b",
    re.IGNORECASE,
)


def repeats_not_told(subject: Subject) -> Iterator[Finding]:
    """A finding for each chart whose repeat changes its number from working to working, unsaid."""
    charts = [c for c in subject.pattern.charts if any(row.repeat is not None for row in c.rows)]
    if not charts or not subject.ways or subject.unread:
        return
    every = [e for piece in subject.ways[0].knitted.ledger.pieces for e in piece.rows]
    for chart in charts:
        found = _changing(chart, every)
        call = _call(subject, chart)
        if found and call is not None and not _said(subject):
            problem = RepeatsNotTold(chart.name, and_list([str(n) for n in found]))
            row = next(r for r in chart.rows if r.repeat is not None)
            yield Finding(problem=problem, span=call, related=(Related(row.span, "the repeat"),))


def _changing(chart: Chart, every: Sequence[Entry]) -> list[int]:
    """How often the repeat of one row is worked at each working of the chart, if that goes steadily up or
    down; else nothing.
    """
    for row, line in zip(chart.rows, chart.lines, strict=True):
        spelled = spell(line)
        if row.repeat is None or spelled is None or not takes(spelled.body):
            continue
        at = row.span
        worked = [e for e in every if at.start <= e.span.start < at.end and not (e.unread or e.resumed)]
        times = [_times(spelled, e.start) for e in worked]
        if len(times) < 3 or None in times:
            return []
        numbers = [n for n in times if n is not None]
        steps = {b - a for a, b in pairwise(numbers)}
        return numbers if len(steps) == 1 and steps != {0} else []
    return []


def _times(spelled: Spelled, stitches: int) -> int | None:
    inner, outer = takes(spelled.body), takes(spelled.before) + takes(spelled.after)
    return (stitches - outer) // inner if stitches >= outer and (stitches - outer) % inner == 0 else None


def _said(subject: Subject) -> bool:
    """Whether any words, the charts left out, speak of how often a repeat is worked."""
    if any(s.kind == "lines" for _, s in subject.nodes(tree.Stated)):
        return True
    text = subject.source.text
    for chart in sorted(subject.pattern.charts, key=lambda c: -c.span.start):
        text = text[: chart.span.start] + "\n" + text[chart.span.end :]
    return _SAID.search(text) is not None


def _call(subject: Subject, chart: Chart) -> Span | None:
    """The words that work a chart; None if they cannot be told."""
    name = chart.name.lower()
    for line, call in subject.nodes(tree.Call):
        called = call.name.lower()
        if called in name or name in called or called in {"chart", "the chart"}:
            return Span(line.offset, line.offset + len(line.text))
    for line in subject.lines:
        if name and name in line.text.lower():
            return Span(line.offset, line.offset + len(line.text))
    return None
