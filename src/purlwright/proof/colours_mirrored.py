"""The mirror of colours: rows whose two halves are of the same colours, and the one row that has a square
amiss (C086).

In: the rows of each section, and of each chart, spelled stitch by stitch with their colours. Out: findings on
the row that is not its own mirror while the others are, about one centre. Counts and stitches are right in
all of these. Leans and holes are left to ``mirror``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from purlwright.findings import Finding, Related, Severity
from purlwright.proof.drawn import blocks
from purlwright.proof.spelled import Unit, loosely, spell
from purlwright.proof.texture import Worked, label_of, names

if TYPE_CHECKING:
    from purlwright.proof.subject import Subject
    from purlwright.text import Span

__all__ = ["ColourNotMirrored", "colours_mirrored"]


@dataclass(frozen=True, slots=True)
class ColourNotMirrored:
    """A square of colour has no fellow in the other half of its figure, where all other rows have theirs.

    In stranded work a figure is mostly its own mirror image; one square a place too far, or left out, shows
    as a limp in it. The number of stitches is right.

    Example: `. . x x . . x . x . .` among rows that read the same from both ends.

    Cure: move the square, or say that the figure is not symmetrical. (Common practice; no source.)
    """

    row: str
    like: str
    here: str
    there: str

    code = "colour-not-mirrored"
    check = "C086"
    severity = Severity.WARNING

    def message(self) -> str:
        return (
            f"The two halves of {self.row} are not of the same colours, and those of {self.like} are: here "
            f"stands {self.here}, and {self.there} in the other half."
        )

    def label(self) -> str:
        return "not mirrored"

    def help(self) -> str | None:
        return "Move or change this square, or say that the figure is not symmetrical."


class _Strip(NamedTuple):
    """The colours of one repeat of a row, and the stitches they stand for."""

    row: Worked
    units: tuple[Unit, ...]
    colours: tuple[str, ...]


_ROWS = 4
"""So many other rows, of different colours, make a rule; common practice, no source."""
_ODD = 2
"""A slip moves no more squares than this out of their pairs."""


def _strips(rows: Sequence[Worked]) -> list[_Strip]:
    """Each row of two colours or more that can be spelled without needles."""
    out = []
    for row in rows:
        spelled = spell(row.line) or loosely(row.line)
        units = (spelled.body or spelled.before) if spelled is not None else ()
        colours = tuple(u.colour.lower() for u in units)
        if len(set(colours)) > 1 and all(colours):
            out.append(_Strip(row, units, colours))
    return out


def _pairs_amiss(colours: Sequence[str], centre: int) -> list[int]:
    """The places whose fellow about ``centre`` (in half stitches, doubled) has another colour."""
    wide = len(colours)
    return [n for n in range(wide) if colours[n] != colours[(centre - n) % wide]]


def colours_mirrored(subject: Subject) -> Iterator[Finding]:
    """The one row of each block that breaks the mirror."""
    for rows in blocks(subject):
        strips = _strips(rows)
        for wide in {len(s.colours) for s in strips}:
            found = _of_width([s for s in strips if len(s.colours) == wide])
            if found is not None:
                yield found


def _of_width(strips: Sequence[_Strip]) -> Finding | None:
    wide = len(strips[0].colours)
    if len({s.colours for s in strips}) < _ROWS or wide < 3:
        return None
    many = Counter(c for s in strips for c in range(wide) if not _pairs_amiss(s.colours, c))
    if not many:
        return None
    centre, _ = max(many.items(), key=lambda x: (x[1], -x[0]))
    good = [s for s in strips if not _pairs_amiss(s.colours, centre)]
    bad = [s for s in strips if _pairs_amiss(s.colours, centre)]
    if len(bad) != 1 or len({s.colours for s in good}) < _ROWS:
        return None
    (odd,) = bad
    places = _pairs_amiss(odd.colours, centre)
    if len(places) > 2 * _ODD or any(not _pairs_amiss(odd.colours, c) for c in range(wide)):
        return None  # many squares, or a row that is mirrored about another centre
    at = _moved(strips, odd, places)
    fellow = odd.units[(centre - at) % wide]
    like = [s.row for s in good]
    problem = ColourNotMirrored(odd.row.name, names(like), odd.units[at].colour, fellow.colour)
    related = tuple(Related(label_of(row), "mirrored") for row in like[:2])
    return Finding(problem=problem, span=_words(odd, at), related=related)


def _moved(strips: Sequence[_Strip], odd: _Strip, places: Sequence[int]) -> int:
    """The likeliest of the places amiss: where a row that is the same elsewhere has another colour."""
    for s in strips:
        differ = [n for n, (a, b) in enumerate(zip(s.colours, odd.colours, strict=True)) if a != b]
        if s is not odd and len(differ) <= _ODD and set(differ) <= set(places):
            return differ[0]
    return places[0]


def _words(strip: _Strip, at: int) -> Span:
    """Where the square stands in the source."""
    span = strip.units[at].span
    start = strip.row.entry.span.start if strip.row.drawn else strip.row.line.offset
    moved = type(span)(span.start + start, span.end + start)
    whole = strip.row.entry.span
    return moved if whole.start <= moved.start < moved.end <= whole.end else whole
