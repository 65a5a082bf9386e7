"""Other words for the same knitting: tried on the needles before they are printed.

In: a text that was read, and edits in groups, one a line. Out: the text with those edits that leave every
stitch where it was, and how many lines of instruction keep her words because theirs did not.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from purlwright.findings import Severity
from purlwright.pattern import tree
from purlwright.rewrite.compare import difference
from purlwright.sheet.compose.places import Places, edited

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from purlwright.findings import Edit
    from purlwright.sheet.compose.asked import Again, Work

__all__ = ["Reworded", "lines_of_work", "reworded"]


@dataclass(frozen=True, slots=True)
class Reworded:
    """The text in other words, read; the way back; and on how many lines her words were kept."""

    work: Work
    places: Places
    kept: int


def lines_of_work(work: Work) -> list[tree.Line]:
    """The lines that are worked, notes left out."""
    return [
        line
        for section in work.pattern.sections
        if section.kind != "define" or section.topic in {"called", "stitches"}
        for line in section.lines
        if line.label is not None or not all(isinstance(a, tree.Note) for a in line.actions)
    ]


def reworded(
    work: Work,
    edits: Mapping[int, list[Edit]],
    again: Again,
    places: Places,
    *,
    errors: bool,
    instead: Mapping[int, list[Edit]] | None = None,
) -> Reworded:
    """The most of the edits that knit to the same fabric: all, else those of lines that read the same (or
    others instead), else only those outside the instructions.

    edits : by the number of the line of the text. ``instead`` are others for instructions, if those fail.
    errors : the pattern has errors, so that the knitting of its text is no measure.
    """
    worked = {line.line for line in lines_of_work(work)}
    wanted = {n: group for n, group in edits.items() if group}
    if not wanted:
        return Reworded(work, places, 0)
    outside = {n: group for n, group in wanted.items() if n not in worked}
    # Rows are knitted to a length by the gauge: where the rows keep their length, so must the gauge.
    lengths = {e.line for e in work.pattern.header.entries if e.known == "Gauge"}
    other = instead or {}
    outside |= {n: other[n] for n in lengths & outside.keys() if n in other}
    careful = {**{n: other[n] for n in worked & wanted.keys() if n in other}, **outside}
    tries: tuple[Callable[[], dict[int, list[Edit]]], ...] = (
        lambda: wanted,
        lambda: careful if instead else _alike(work, wanted, again),
        lambda: outside,
    )
    for chosen in tries:
        some = chosen()
        text, back = edited(work.source.text, (e for group in some.values() for e in group), places)
        now = again(text)
        if (errors and some is outside) or _same(work, now):
            kept = sum(n in worked for n in wanted) - sum(n in worked for n in some)
            return Reworded(now, back, kept)
    return Reworded(work, places, sum(n in worked for n in wanted))


def _alike(work: Work, wanted: Mapping[int, list[Edit]], again: Again) -> dict[int, list[Edit]]:
    """The edits of lines that read as they did, lengths aside."""
    text, _ = edited(work.source.text, (e for group in wanted.values() for e in group))
    mine, others = list(work.pattern.lines), list(again(text).pattern.lines)
    worked = {line.line for line in lines_of_work(work)}
    if len(mine) != len(others):
        return {n: group for n, group in wanted.items() if n not in worked}
    changed = {a.line for a, b in zip(mine, others, strict=True) if not _reads_alike(a, b)}
    return {n: group for n, group in wanted.items() if n not in changed or n not in worked}


def _reads_alike(a: tree.Line, b: tree.Line) -> bool:
    return bool(tree.bare(a.actions) == tree.bare(b.actions))


def _same(work: Work, now: Work) -> bool:
    """Whether both knit to the same fabric in every size, and the new words bring no error."""
    if len(work.sizes) != len(now.sizes):
        return False
    for mine, its in zip(work.sizes, now.sizes, strict=True):
        if difference(work.knitted(mine), now.knitted(its)):
            return False
        before = sum(f.severity is Severity.ERROR for f in work.findings(mine))
        if sum(f.severity is Severity.ERROR for f in now.findings(its)) > before:
            return False
    return True
