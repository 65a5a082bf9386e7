"""Colour charts: each colour has its yarn, and no strand is longer than the words say (C089).

In: charts whose key names colours. Out: findings on a colour without a yarn and on a strand too long. How
many rows a chart has and whether they meet is left to ``charts``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Finding, Severity
from purlwright.pattern import tree
from purlwright.pattern.tokens import number_word
from purlwright.proof.answer import Answer
from purlwright.text import Span

if TYPE_CHECKING:
    from purlwright.pattern.charts import Chart
    from purlwright.proof.subject import Subject

__all__ = ["ColourWithoutYarn", "FloatTooLong", "judge_colours"]


@dataclass(frozen=True, slots=True)
class ColourWithoutYarn:
    """A colour of a chart's key is not among the yarns.

    The knitter cannot tell which of her balls is meant.

    Example: `x = k1 in C` with the yarns A and B.

    Cure: name the colour as the yarn list does. (Common practice; no source.)
    """

    colour: str
    yarns: tuple[str, ...]

    code = "colour-without-yarn"
    check = "C089"
    severity = Severity.WARNING

    def message(self) -> str:
        return f'The colour "{self.colour}" of the key is not among the yarns ({", ".join(self.yarns)}).'

    def label(self) -> str:
        return "not among the yarns"

    def help(self) -> str | None:
        return "Name it as the yarns are named, or list the yarn."


@dataclass(frozen=True, slots=True)
class FloatTooLong:
    """A strand at the back of a colour chart is longer than the words say.

    The words promise that no strand is longer than so many stitches; a knitter who trusts them does not
    catch this one, and a finger catches in it.

    Example: "no strand is longer than five stitches", and row 4 has seven squares of one colour in a row.

    Cure: break the stretch with a stitch of the other colour, or say where to catch the strand.
    (Common practice; no source.)
    """

    chart: str
    row: int
    found: int
    limit: int

    code = "float-too-long"
    check = "C089"
    severity = Severity.NOTE

    def message(self) -> str:
        return (
            f'Row {self.row} of the chart "{self.chart}" has a strand over {self.found} stitches; '
            f"the words say that none is longer than {self.limit}."
        )

    def label(self) -> str:
        return f"a strand over {self.found}"

    def help(self) -> str | None:
        return "Break the stretch, or say where the strand is caught."


# --- colours ----------------------------------------------------------------------------------------------

_LIMIT = re.compile(
    r"\bno (?:strands?|floats?) (?:is|are|runs?|goes|spans?)?\s?(?:longer than|more than|over)(?: over)? "
    r"(?P<n>\d+|[a-z]+) (?:sts?|stitch)",
    re.IGNORECASE,
)


def judge_colours(subject: Subject) -> Answer:
    """C089: places are the charts with colours."""
    places = 0
    findings: list[Finding] = []
    for chart in subject.pattern.charts:
        colours = {
            key.mark: step.colour for key in chart.key for step in key.rs
            if isinstance(step, tree.Work) and step.colour
        }  # fmt: skip
        if not colours:
            continue
        places += 1
        findings += _unlisted(subject, chart, colours)
        findings += _floats(subject, chart, colours)
    return Answer(places=places, findings=tuple(findings))


def _unlisted(subject: Subject, chart: Chart, colours: Mapping[str, str]) -> Iterator[Finding]:
    yarns = tuple(y.name for y in subject.pattern.header.yarns if y.name)
    words = set(re.findall(r"[a-z]+", " ".join(y.words for y in subject.pattern.header.yarns).lower()))
    if len(yarns) < 2:
        return
    known = {name.lower() for name in yarns}
    for key in chart.key:
        colour = colours.get(key.mark, "")
        if colour and colour.lower() not in known and not words.issuperset(colour.lower().split()):
            yield Finding(problem=ColourWithoutYarn(colour, yarns), span=key.span)


def _floats(subject: Subject, chart: Chart, colours: Mapping[str, str]) -> Iterator[Finding]:
    m = _LIMIT.search(subject.source.text)
    limit = (int(m["n"]) if m["n"].isdigit() else number_word(m["n"].lower())) if m is not None else None
    if limit is None:
        return
    for row in chart.rows:
        a, b = row.repeat if row.repeat is not None else (0, len(row.marks))
        tile = [colours.get(mark, "") for mark in row.marks[a:b]]
        if len(set(tile)) < 2:
            continue
        run, best, end = 0, 0, 0
        for n, (before, colour) in enumerate(zip([*tile, *tile], [*tile, *tile][1:], strict=False), 1):
            run = run + 1 if colour == before else 1
            if run > best:
                best, end = run, n % len(tile)
        if best > limit:
            problem = FloatTooLong(chart.name, row.number or 0, best, limit)
            at = row.spans[a + end]
            yield Finding(problem=problem, span=Span(at.start, at.end))
            return
