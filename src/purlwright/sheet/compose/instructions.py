"""The sections of the pattern in her order: headings, rows on their own lines, notes, repeats to tick off.

In: the told pattern and what its lines did. Out: blocks. Abbreviations and header keys have their own place
on the sheet and are left out here; so is a heading under which nothing is left.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from purlwright.pattern import tree
from purlwright.pattern.sources import source_in
from purlwright.sheet.compose.chart_rows import chart_rows
from purlwright.sheet.compose.figures import figures
from purlwright.sheet.compose.glossary import hers
from purlwright.sheet.compose.lengths import rows_of_length
from purlwright.sheet.compose.lifelines import lifelines
from purlwright.sheet.compose.passes import passes
from purlwright.sheet.compose.rows import MOST_BOXES, row, said, squeezed
from purlwright.sheet.compose.worked import numbers_in, repeats_in
from purlwright.sheet.document import Block, Fact, Facts, Glossary, Heading, Note, Paragraph, Row
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from purlwright.pattern.charts import Chart
    from purlwright.pattern.sections import Section
    from purlwright.pattern.words_names import Terms
    from purlwright.sheet.compose.worked import Worked

__all__ = ["instructions", "introduction", "notes"]

_ELSEWHERE = frozenset({"abbreviations", "header", "numbers"})


def introduction(worked: Worked) -> list[Block]:
    """The notes beside the header, before her first heading: what it is and how it is made."""
    out: list[Block] = []
    for section in worked.told.pattern.sections[:1]:
        if not section.heading and all(_is_note(line, worked) for line in section.lines):
            out += _notes(section, worked)
    return out


def notes(worked: Worked) -> list[Block]:
    """What is read before the work: notes among the lists, and her Notes if they stand before the rows."""
    out: list[Block] = []
    lead = _leading(worked)
    for section in worked.told.pattern.sections:
        if section.topic in {"header", "numbers"}:
            out += _notes(section, worked)
        elif section in lead:
            out += _under(section, worked, frozenset())
    return out


def _leading(worked: Worked) -> list[Section]:
    """Her Notes sections without headings of their own that stand before the first row."""
    out = []
    for section in worked.told.pattern.sections:
        if section.topic == "notes" and section.level <= 2 and section.heading.strip().casefold() == "notes":
            out.append(section)
        elif section.heading and section.topic not in _ELSEWHERE:
            break
    return out


def instructions(worked: Worked, terms: Terms, *, drawn_too: bool) -> Iterator[Block]:
    """Every section that is read or worked, but for the notes at the front."""
    plain = lifelines(worked)
    charts = _charts(worked)
    drawn = figures(worked.told) if drawn_too else {}
    lead = _leading(worked)
    for n, section in enumerate(worked.told.pattern.sections):
        if section.topic in _ELSEWHERE or section in lead:
            continue
        if not section.heading and all(_is_note(line, worked) for line in section.lines):
            continue
        blocks = list(_under(section, worked, plain))
        mine = charts.get(n, [])
        if _tells_of_chart(section, mine):
            blocks = [Paragraph(words=b.words, span=b.span) if isinstance(b, Row) else b for b in blocks]
        if mine and section.heading and not any(isinstance(b, Row) for b in blocks):
            told = [row for chart in mine for row in chart_rows(chart, worked.told, terms)]
            top = next((k for k, b in enumerate(blocks) if not isinstance(b, Facts)), len(blocks))
            blocks = [*blocks[:top], *drawn.pop(n, []), *blocks[top:], *told]
            mine = []
        for chart in mine:  # drawn among rows: said before them, under its own name
            yield Heading(text=squeezed(chart.name), level=1, anchor=f"chart-{chart.span.start}")
            yield from (f for f in drawn.get(n, ()) if f.span == worked.told.places.hers(chart.span))
            yield from chart_rows(chart, worked.told, terms)
        if section.heading:
            heading = Heading(
                text=squeezed(section.heading),
                level=_level(section.level),
                anchor=f"part-{n}",
                span=worked.told.places.hers(section.span),
            )
            if blocks or _has_below(worked.told.pattern.sections, n):
                yield heading
        elif any(isinstance(b, Row) for b in blocks):
            yield Heading(text="Instructions", level=1, anchor=f"part-{n}")
        yield from blocks
        above = {worked.told.places.hers(chart.span) for chart in mine}
        yield from (f for f in drawn.get(n, ()) if f.span not in above)


def _charts(worked: Worked) -> dict[int, list[Chart]]:
    """The charts by the section in which they are drawn."""
    sections = worked.told.pattern.sections
    starts = [s.span.start if s.span.end >= 0 else -1 for s in sections]
    out: dict[int, list[Chart]] = {}
    for chart in worked.told.pattern.charts:
        n = max((n for n, start in enumerate(starts) if start <= chart.span.start), default=0)
        out.setdefault(n, []).append(chart)
    return out


def _tells_of_chart(section: Section, charts: Sequence[Chart]) -> bool:
    """Whether lines under a chart's name only tell of it, before its squares: "Only RS rows are drawn"."""
    return any(
        chart.name.casefold() == section.heading.strip().casefold()
        and all(line.label is None and line.offset < chart.span.start for line in section.lines)
        for chart in charts[:1]
    )


def _level(level: int) -> Literal[1, 2, 3]:
    return 1 if level <= 2 else 2 if level == 3 else 3


def _has_below(sections: tuple[Section, ...], n: int) -> bool:
    """Whether a heading has headings below it, or a chart: then it stays though it has no line."""
    return n + 1 < len(sections) and sections[n + 1].level > sections[n].level


def _under(section: Section, worked: Worked, plain: frozenset[int]) -> Iterator[Block]:
    if section.topic == "stitches":
        terms, rest = hers(worked.told, "stitches")
        inside = {line.offset for line in section.lines}
        own = [t for t in terms if int(t.anchor.rpartition("-")[2]) in _spans(inside, section)]
        if own:
            sources = [_source(line, worked) for line in section.lines if source_in(line.text)]
            yield from sources
            yield Glossary(terms=tuple(own))
            yield from rest
            return
    at = 0
    lines = section.lines
    while at < len(lines):
        line = lines[at]
        if source_in(line.text) and line.label is None:
            yield _source(line, worked)
            at += 1
            continue
        if _is_note(line, worked):
            last = at
            while last + 1 < len(lines) and _goes_on(lines[last], lines[last + 1], worked):
                last += 1
            yield _note(lines[at : last + 1], worked, done=section.kind == "finishing")
            at = last + 1
            continue
        at += 1
        if section.topic == "notes" and line.label is None:
            span = worked.told.places.hers(_span(line))
            yield Paragraph(words=said(squeezed(line.text)), span=span)
            continue
        told = passes(line, worked)
        printed = row(line, worked, section.sizes, lifeline=line.offset in plain)
        if told is None and not printed.boxes and any(isinstance(a, tree.RepeatRows) for a in line.actions):
            printed = replace(printed, boxes=_boxes_again(line))  # no passes to tick, but it is worked
        yield printed
        high = rows_of_length(line, worked)
        if high is not None:
            yield high
        if told is not None:
            yield told


def _boxes_again(line: tree.Line) -> int:
    """A box for each row that is worked again, or of a chart: "Work rnds 1-7 of chart A". One where they are
    too many, or it is not said how many.
    """
    rows = 0
    for repeat in repeats_in(line):
        each = len(numbers_in(repeat.rows)) or repeat.rows.back or 0
        times = max((n or 0 for n in repeat.times.values), default=0) if repeat.times is not None else 1
        if not each or repeat.until is not None:
            return 1
        written_out = repeat.said is tree.Said.IN_ALL and repeat.rows.section is None
        rows += each * (times - written_out)
    return rows if 0 < rows <= MOST_BOXES else 1


def _source(line: tree.Line, worked: Worked) -> Facts:
    """Where a stitch pattern is from, as she says it under its heading."""
    span = worked.told.places.hers(_span(line))
    return Facts(facts=(Fact(label="Source", words=said(source_in(line.text)), span=span),))


def _spans(starts: set[int], section: Section) -> set[int]:
    """Every place of a section's lines."""
    return {
        place for line in section.lines if line.offset in starts
        for place in range(line.offset, line.offset + len(line.text))
    }  # fmt: skip


def _notes(section: Section, worked: Worked) -> Iterator[Block]:
    """Only the notes of a section."""
    notes = [line for line in section.lines if _is_note(line, worked)]
    at = 0
    while at < len(notes):
        last = at
        while last + 1 < len(notes) and _goes_on(notes[last], notes[last + 1], worked):
            last += 1
        yield _note(tuple(notes[at : last + 1]), worked)
        at = last + 1


def _is_note(line: tree.Line, worked: Worked) -> bool:
    """Whether a line stands behind ">"."""
    if line.label is not None or not all(isinstance(a, tree.Note) for a in line.actions):
        return False
    text = worked.told.text
    start = text.rfind("\n", 0, line.offset) + 1
    return text[start : line.offset].lstrip()[:1] == ">"


def _goes_on(line: tree.Line, after: tree.Line, worked: Worked) -> bool:
    """Whether a note goes on in the next line of the text."""
    if source_in(line.text) or source_in(after.text):
        return False
    return _is_note(after, worked) and after.line == line.line + 1 + line.text.count("\n")


def _note(lines: tuple[tree.Line, ...], worked: Worked, *, done: bool = False) -> Note:
    span = NOWHERE
    for line in lines:
        span = span.cover(_span(line))
    words = squeezed(" ".join(line.text for line in lines))
    return Note(words=said(words), worked=done, span=worked.told.places.hers(span))


def _span(line: tree.Line) -> Span:
    return Span(line.offset, line.offset + len(line.text))
