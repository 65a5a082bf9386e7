"""K17: always the same number of plain rows from one landmark to the next."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim
from purlwright.lesson.clues.cost import few
from purlwright.lesson.clues.spacing import evenly_spaced
from purlwright.lesson.rows import Part
from purlwright.proof.said import count

KIND = "K17"
_DO = {
    "holes": ("a hole", "make holes on"),
    "increases": ("an increase", "increase on"),
    "decreases": ("a decrease", "decrease on"),
}


_STRANDS = (
    "{gap} strands above the hole of the last crossing, that of its own {what} counted too: "
    "cross on the next {what}."
)
"""The first strand above the hole is the crossing row's own, and as many as the repeat has rows lie from
one hole to the next: "What row am I on in my cable?", techknitting.blogspot.com, 23 September 2022; K.
Frankel, "How to: count cable rows", katyafrankel.com, 2015.
"""


def _words(gap: int, what: str, landmark: str) -> str:
    if landmark == "crossings":
        return _STRANDS.format(gap=gap, what=what)
    noun, do = _DO[landmark]
    return f"{count(gap - 1, what)} without {noun} between two: {do} the {what} after that."


def find(part: Part) -> Iterator[Clue]:
    """Crossings, holes, increases or decreases at least three rows apart, always as many."""
    for landmark, fact, rows, gap in evenly_spaced(part, 3):
        what = part.what
        first, last = rows[0], rows[-1]
        mine = part.rows[first.number - 1 : last.number]
        ends = []
        if first.number > 1:
            ends.append(f"not before {first.name}")
        if last.number < len(part.rows):
            ends.append(f"no {landmark} after {last.name}")
        yield Clue(
            kind=KIND,
            words=_words(gap, what, landmark),
            claims=(claim(fact, mine),),
            rows=f"from {first.name} to {last.name}",
            stops=", ".join(ends),
            seconds=few(gap),
            tells_row=True,
        )
        return
