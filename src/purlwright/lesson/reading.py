"""The clues of a whole pattern, part by part.

In: one size knitted, the other sizes, the gauges of the header. Out: each part with its clues, the few that
are worth telling first. A piece that is made twice is told once.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from purlwright.lesson.choose import MOST, Told, choose
from purlwright.lesson.rows import Part, parts_of

if TYPE_CHECKING:
    from purlwright.needles.knitted import Knitted
    from purlwright.pattern.gauge import Gauge

__all__ = ["NoSuchSection", "PartClues", "read_work"]

_CM = {"cm": Fraction(1), "in": Fraction(5, 2), "mm": Fraction(1, 10)}
"""By the trade's rule 4 in of gauge are 10 cm."""


class NoSuchSection(ValueError):  # noqa: N818 - said as the caller would
    """A section was asked for that has no rows; the message lists those that have."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartClues:
    """A part and its clues, the chosen ones first. ``missing`` says why there are none, else ""."""

    part: Part
    told: tuple[Told, ...]
    missing: str = ""

    @property
    def name(self) -> str:
        """The heading of the part; of a piece that is made twice, without the number of the copy."""
        copies = re.fullmatch(r"(.*\((?:make|both)[^)]*\)) \d+", self.part.name, re.IGNORECASE)
        return copies[1] if copies else self.part.name


def read_work(
    knitted: Knitted,
    others: Sequence[Knitted] = (),
    gauges: Sequence[Gauge] = (),
    *,
    section: str | None = None,
    most: int = MOST,
) -> tuple[PartClues, ...]:
    """The clues of every part, or of those under one heading (a part of its words will do).

    Raises NoSuchSection.
    """
    every = parts_of(knitted)
    wanted = [p for p in every if section is None or section.casefold() in p.name.casefold()]
    if section is not None and not wanted:
        names = ", ".join(f'"{name}"' for name in dict.fromkeys(p.name for p in every))
        raise NoSuchSection(f'No section with rows is called "{section}"; there are {names or "none"}.')
    same = [{(p.place, p.name): p for p in parts_of(k)} for k in others]
    gauge = _gauge(gauges)
    out: list[PartClues] = []
    for part in wanted:
        alike = [ps[part.place, part.name] for ps in same if (part.place, part.name) in ps]
        told = choose(part, alike, most=most, gauge=gauge) if len(alike) == len(same) else ()
        if len(alike) != len(same):  # it is not worked in every size
            told = choose(part, (*alike, *_none(part, len(same) - len(alike))), most=most, gauge=gauge)
        missing = "some of its rows could not be followed stitch by stitch" if part.unread else ""
        if any(_again(part, told, other) for other in out):
            continue
        out.append(PartClues(part=part, told=told, missing=missing))
    return tuple(out)


def _none(part: Part, many: int) -> list[Part]:
    """Parts without rows, for sizes in which this one is not worked."""
    empty = Part(
        name=part.name, piece=part.piece, place=part.place, rows=(), before=None, knitted=part.knitted
    )
    return [empty] * many


def _again(part: Part, told: Sequence[Told], other: PartClues) -> bool:
    """Whether it is a copy of a piece that is told already."""
    same_name = part.name.rstrip("0123456789 ") == other.part.name.rstrip("0123456789 ")
    words = [t.clue.words for t in told]
    return (
        same_name
        and part.place[0] != other.part.place[0]
        and len(part.rows) == len(other.part.rows)
        and words == [t.clue.words for t in other.told]
    )


def _gauge(gauges: Sequence[Gauge]) -> tuple[Fraction | None, Fraction | None]:
    """Stitches and rows to 10 cm, where the header has one gauge only; of several it is not known which
    holds.
    """
    if len(gauges) != 1:
        return None, None
    (g,) = gauges
    over, rows_over = _cm(g), _cm(g, rows=True)
    return (
        g.stitches * 10 / over if g.stitches and over else None,
        g.rows * 10 / rows_over if g.rows and rows_over else None,
    )


def _cm(gauge: Gauge, *, rows: bool = False) -> Fraction | None:
    length = gauge.rows_over if rows and gauge.rows_over is not None else gauge.over
    value = length.values[0] if length.values else None
    return value * _CM[length.unit] if value and length.unit in _CM else None
