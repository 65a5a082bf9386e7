"""Check C064: slanted edges are as long by the knitting as the words, or the drawing in words, say.

In: stated lengths along a raglan line, and the raglan lines that are knitted. Out: a finding where the two
differ. A line is measured straight from one step of its shaping to the next, stitches across and rows up at
the gauge. Other slanted edges are left open: what they are of is not told in words.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

from purlwright.findings import Severity
from purlwright.needles.ledger import Kind
from purlwright.proof.answer import Answer, Seen, not_read, over_sizes
from purlwright.proof.heights import SLANTED
from purlwright.proof.measures import Measure, Said, stated
from purlwright.proof.outline import edge_length
from purlwright.proof.parts import sure, wholes
from purlwright.proof.rates import worked_rows
from purlwright.proof.seams import outlines
from purlwright.proof.sleeves import main_rate

if TYPE_CHECKING:
    from purlwright.proof.rates import Rate
    from purlwright.proof.subject import Subject, Way
    from purlwright.text import Span

__all__ = ["JUDGES", "SlantDiffers"]


@dataclass(frozen=True, slots=True)
class SlantDiffers:
    """A raglan line is another length by its stitches and rows than the words say.

    The line runs aslant: it is longer than its rows are high. A length that was taken straight up, or a
    shaping that was changed later, makes seams that do not meet and a yoke that is too short or too deep.

    Example: `raglan 24 cm`, and a line of 40 rows and 20 stitches at 20 sts and 28 rows in 10 cm. Along the
    slope it is about 17.5 cm.

    Cure: correct the length, or the rows and decreases of the line.

    Source: the hypotenuse of stitches and rows; an eighth, and a cm and a half, are let pass.
    """

    ours: str
    stated: str

    code = "slant-differs"
    check = "C064"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"Along its slope the raglan line is {self.ours} cm at the gauge, and the words say "
            f"{self.stated} cm."
        )

    def label(self) -> str:
        return f"{self.ours} cm along the slope"

    def help(self) -> str | None:
        return "Correct the length, or the rows and decreases of the line."


_RAGLAN = re.compile(r"\braglan", re.IGNORECASE)
_DEPTH = re.compile(r"\bdepth|\bdeep|\bheight|\bstraight\b|\bvertical", re.IGNORECASE)
_SHARE, _CM = 0.125, 1.5
_LINES = 4
"""A garment in one piece has so many raglan lines, each shaped on both sides."""


def _told(subject: Subject) -> list[Measure]:
    return [m for m in subject.kept(stated) if m.source is Said.FINISHED and SLANTED.search(m.words)]


def _lengths(subject: Subject, way: Way, rate: Rate) -> Iterator[tuple[float, Span]]:
    """The raglan lines of one knitting in cm, with the words where each begins."""
    stitch, row = float(1 / (rate.stitches or 1)), float(1 / (rate.rows or 1))
    found = outlines(subject, way)
    for one in (*found.backs[:1], *found.sleeves[:1]):
        if one.start and one.cast_on and one.whole and one.first is not None:
            yield edge_length(one.right, one.start + 1, one.rows, stitch, row), one.first.span
    for part in wholes(subject, way, "yoke", "raglan"):
        if not sure(part) or len(part.worked) < 2 * _LINES:
            continue
        rows = [e for e in part.worked if e.kind in {Kind.ROW, Kind.ROUND}]
        aside = abs(rows[-1].end - rows[0].start) / (2 * _LINES)
        yield hypot(aside * stitch, worked_rows(rows) * row), rows[0].span


def judge_slants(subject: Subject) -> Answer:
    """C064: a stated raglan length against the knitted line; other slanted edges are left open."""
    told = _told(subject)
    if not told:
        return Answer()
    rate = main_rate(subject)
    raglans = [m for m in told if _RAGLAN.search(m.words) and not _DEPTH.search(m.words)]
    if rate is None or not raglans:
        return Answer(missing="which edge is meant" if rate is not None else "a gauge of stitches and rows")
    places = 0
    seen: list[tuple[Way, Seen]] = []
    for way in subject.ways:
        lines = list(_lengths(subject, way, rate))
        wanted = raglans[0].cm(subject.size_place(way.size))
        if not lines or wanted is None:
            continue
        places += 1
        near = min(lines, key=lambda line: abs(line[0] - float(wanted)))
        if abs(near[0] - float(wanted)) > max(_CM, _SHARE * float(wanted)):
            numbers = round(near[0]), round(wanted)
            seen.append((way, Seen("slant", raglans[0].span, numbers, _differs)))
    missing = not_read(subject) if places else not_read(subject) or "a raglan line that is knitted"
    return Answer(places=places, findings=tuple(over_sizes(subject, seen)), missing=missing)


def _differs(numbers: tuple[str, ...]) -> SlantDiffers:
    return SlantDiffers(*numbers)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C064": judge_slants}
