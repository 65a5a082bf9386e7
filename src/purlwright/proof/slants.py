"""Check C064: slanted edges are as long by the knitting as the words, or the drawing in words, say.

In: stated lengths along a raglan line or another slanted edge, and those that are knitted. Out: a finding
where the two differ. An edge is measured straight from one step of its shaping to the next, stitches across
and rows up at the gauge. A diagonal is no edge, and is left open.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
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
from purlwright.proof.slanted import Edge, slanted_edges
from purlwright.proof.sleeves import main_rate

if TYPE_CHECKING:
    from fractions import Fraction

    from purlwright.proof.subject import Subject, Way

__all__ = ["JUDGES", "SlantDiffers"]


@dataclass(frozen=True, slots=True)
class SlantDiffers:
    """A raglan line, or another slanted edge, is another length by its stitches and rows than the words say.

    It runs aslant: it is longer than its rows are high. A length that was taken straight up, or a
    shaping that was changed later, makes seams that do not meet and a yoke that is too short or too deep.

    Example: `raglan 24 cm`, and a line of 40 rows and 20 stitches at 20 sts and 28 rows in 10 cm. Along the
    slope it is about 17.5 cm.

    Cure: correct the length, or the rows and decreases of the line. A length that was taken straight up
    says so: `raglan depth 14 cm`.

    Source: the hypotenuse of stitches and rows; an eighth, and a cm and a half, are let pass.
    """

    ours: str
    stated: str
    edge: str = "raglan line"
    straight_up: bool = False
    how: str = "Along its slope"

    code = "slant-differs"
    check = "C064"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"{self.how} the {self.edge} is {self.ours} cm at the gauge, and the words say {self.stated} cm."
        )

    def label(self) -> str:
        return f"{self.ours} cm {self.how[0].lower()}{self.how[1:].replace('its', 'the')}"

    def help(self) -> str | None:
        if self.straight_up:
            return (
                f"{self.stated} cm is its height: say that it is taken straight up, or print {self.ours} cm."
            )
        if self.edge == "raglan line":
            return "Correct the length, or the rows and decreases of the line."
        return "Correct the length, or the rows and shaping of the edge."


_RAGLAN = re.compile(r"\braglan", re.IGNORECASE)
_DEPTH = re.compile(r"\bdepth|\bdeep|\bhigh\b|\bheight|\bstraight\b|\bvertical", re.IGNORECASE)
_NO_EDGE = re.compile(r"\bdiagonal|\bhypotenuse", re.IGNORECASE)
_SHARE, _CM = 0.125, 1.5
_LINES = 4
"""A garment in one piece has so many raglan lines, each shaped on both sides."""
_ROLES = {"armhole": {"armhole", "back", "front"}, "neck": {"neck", "front"}, "upper arm": {"sleeve"}}
"""Under which headings an edge may stand that is not named in them; it begins where the shaping does."""


def _told(subject: Subject) -> list[Measure]:
    return [m for m in subject.kept(stated) if m.source is Said.FINISHED and SLANTED.search(m.words)]


def _lines(subject: Subject, way: Way, stitch: float, row: float) -> Iterator[Edge]:
    """The raglan lines of one knitting, with the words where each begins."""
    found = outlines(subject, way)
    for one in (*found.backs[:1], *found.sleeves[:1]):
        if one.start and one.cast_on and one.whole and one.first is not None:
            along = edge_length(one.right, one.start + 1, one.rows, stitch, row)
            high = (one.rows - one.start - 1) * row
            yield Edge(one.part.heading.roles, along, high, one.first.span)
    for part in wholes(subject, way, "yoke", "raglan"):
        if not sure(part) or len(part.worked) < 2 * _LINES:
            continue
        rows = [e for e in part.worked if e.kind in {Kind.ROW, Kind.ROUND}]
        aside = abs(rows[-1].end - rows[0].start) / (2 * _LINES)
        high = worked_rows(rows) * row
        yield Edge(part.heading.roles, hypot(aside * stitch, high), high, rows[0].span)


def judge_slants(subject: Subject) -> Answer:
    """C064: places are the stated slanted lengths in each size whose edge is knitted and known."""
    told = _told(subject)
    if not told:
        return Answer()
    rate = main_rate(subject)
    if rate is None:
        return Answer(missing="a gauge of stitches and rows")
    stitch, row = float(1 / (rate.stitches or 1)), float(1 / (rate.rows or 1))
    places = 0
    seen: list[tuple[Way, Seen]] = []
    missing: str | None = None
    for m in told:
        if _NO_EDGE.search(m.words):
            missing = missing or "which edge is meant"
            continue
        raglan = _RAGLAN.search(m.words) is not None
        known = False
        for way in subject.ways:
            edges = (
                _lines(subject, way, stitch, row)
                if raglan
                else _meant(m, slanted_edges(subject, way, stitch, row))
            )
            one = _compared(m, m.cm(subject.size_place(way.size)), list(edges), raglan=raglan)
            known |= one is not None
            places += one is not None
            if isinstance(one, Seen):
                seen.append((way, one))
        if not known:
            missing = missing or f"a {'raglan line' if raglan else 'slanted edge'} that is knitted"
    missing = not_read(subject) or missing
    return Answer(places=places, findings=tuple(over_sizes(subject, seen)), missing=missing)


def _meant(m: Measure, edges: Iterator[Edge]) -> Iterator[Edge]:
    """The edges of the part that a measure names; all where it names none."""
    roles = _ROLES.get(m.part, {m.part})
    if not m.part:
        return edges
    return (e for e in edges if not roles.isdisjoint(e.roles) and not (e.whole and m.part in _ROLES))


def _compared(m: Measure, wanted: Fraction | None, edges: list[Edge], *, raglan: bool) -> Seen | bool | None:
    """What differs, True where nothing does, None where there is nothing to compare."""
    if not edges or wanted is None:
        return None
    cm = float(wanted)
    slack = max(_CM, _SHARE * cm)
    edge = "raglan line" if raglan else f"edge of the {m.part}" if m.part else "slanted edge"
    if _DEPTH.search(m.words):
        high = min((e.high for e in edges), key=lambda h: abs(h - cm))
        say = partial(_differs, edge, straight_up=False, how="Straight up")
        return abs(high - cm) <= slack or Seen((edge, "high"), m.span, (round(high), round(cm)), say)
    along = min((e.along for e in edges), key=lambda a: abs(a - cm))
    if abs(along - cm) <= slack:
        return True
    # told by the height of an edge: that edge, and not one that happens to be nearer, is meant
    upright = min(edges, key=lambda e: abs(e.high - cm))
    straight_up = abs(upright.high - cm) <= slack / 2
    say = partial(_differs, edge, straight_up=straight_up, how="Along its slope")
    numbers = round(upright.along if straight_up else along), round(cm)
    return Seen((edge, straight_up), m.span, numbers, say)


def _differs(edge: str, numbers: tuple[str, ...], *, straight_up: bool, how: str) -> SlantDiffers:
    ours, said = numbers
    return SlantDiffers(ours, said, edge, straight_up, how)


JUDGES: Mapping[str, Callable[[Subject], Answer]] = {"C064": judge_slants}
