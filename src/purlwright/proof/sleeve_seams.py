"""Check C072, the seam of a sleeve: its two edges are alike from the cuff to the underarm.

In: the outlines of flat sleeves. Out: what stands on one edge and not on the other. Side and shoulder seams
are left to ``seams``, the cap in its armhole to ``sleeves``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from purlwright.findings import Severity
from purlwright.proof.answer import Seen
from purlwright.text import NOWHERE, Span

if TYPE_CHECKING:
    from collections.abc import Sequence

    from purlwright.proof.outline import Outline
    from purlwright.proof.shaping import Event
    from purlwright.proof.subject import Way

__all__ = ["SleeveEdgesDiffer", "sleeve_edges"]


@dataclass(frozen=True, slots=True)
class SleeveEdgesDiffer:
    """The two edges of a sleeve, which are sewn together, are not alike.

    The seam of a sleeve joins its right edge to its left. Where one edge has more increases, the sleeve
    twists round the arm; where the underarm is bound off some rows later on one side, one edge is longer.

    Example: `Inc 1 st at the beginning of every RS row 10 times.` for a sleeve that is sewn into a tube.

    Cure: shape both edges in the same rows; or say that the sleeve is meant to lean.

    Source: common practice, no source; one increase and two rows are let pass.
    """

    part: str
    right: str
    left: str
    what: str

    code = "sleeve-edges-differ"
    check = "C072"
    severity = Severity.WARNING

    def message(self) -> str:
        said = (
            f"{self.right} increases at its right edge and {self.left} at its left"
            if self.what == "increases"
            else f"{self.right} rows to the underarm at its right edge and {self.left} at its left"
        )
        return f"{self.part[0].upper()}{self.part[1:]} has {said}; the two are sewn together."

    def label(self) -> str:
        return f"{self.right} and {self.left} {self.what}"

    def help(self) -> str | None:
        return "Shape both edges alike, or say that the sleeve is meant to lean."


_ROWS, _INCREASES = 2, 1


def sleeve_edges(way: Way, sleeves: Sequence[Outline]) -> Iterator[tuple[Way, Seen]]:
    """Each flat sleeve from its cast-on whose edges differ below the underarm."""
    for one in sleeves:
        if not one.cast_on:
            continue
        for sort, numbers, most in (
            ("rows", (_underarm(one.right), _underarm(one.left)), _ROWS),
            ("increases", (_increases(one, one.right), _increases(one, one.left)), _INCREASES),
        ):
            if (sort == "increases" or all(numbers)) and abs(numbers[0] - numbers[1]) > most:
                span = _words(one, numbers)
                say = partial(_told, one.part.name, sort)
                if span.end >= 0:
                    yield way, Seen(("sleeve edges", sort, one.part.name), span, numbers, say)
                break


def _words(one: Outline, numbers: tuple[int, int]) -> Span:
    """The words that first shape the edge that has more."""
    edge = one.right if numbers[0] > numbers[1] else one.left
    order = edge[0].order if edge else 0
    return next((e.span for e in one.part.rows if e.order == order), NOWHERE)


def _underarm(edge: Sequence[Event]) -> int:
    """The row of the first bind-off of more than one stitch at an edge; 0 if there is none."""
    return next((e.row for e in edge if e.sort == "bind off" and not e.inside and e.amount > 1), 0)


def _increases(one: Outline, edge: Sequence[Event]) -> int:
    last = one.start or one.rows
    return sum(e.amount for e in edge if e.sort in {"increase", "cast on"} and e.row <= last)


def _told(part: str, what: str, numbers: tuple[str, ...]) -> SleeveEdgesDiffer:
    return SleeveEdgesDiffer(part, numbers[0], numbers[1], what)
