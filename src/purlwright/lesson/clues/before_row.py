"""K31: what must lie first on the left needle before a row is begun."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim
from purlwright.lesson.clues.cost import LOOK
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part, label_of

KIND = "K31"
_SAID = {"V": "a V", "bump": "a bump"}


def find(part: Part) -> Iterator[Clue]:
    """Where only one row of a repeat begins with a stitch of another look than the rest."""
    labels = {label: rows for label, rows in part.labels.items() if label}
    if len(labels) < 3 or len(part.rows) < 4 or any(not r.first for r in part.rows):
        return
    by: dict[str, set[str]] = {}
    for r in part.rows:
        by.setdefault(r.first, set()).add(label_of(r))
    for face, names in by.items():
        if len(names) == 1 and not any(names & other for f, other in by.items() if f != face):
            label = next(iter(names))
            yield Clue(
                kind=KIND,
                words=f"Before {label} the first stitch on the left needle is {_SAID[face]}; "
                f"before the other {part.what}s of this part it is not.",
                claims=(claim(Fact("first"), part.rows),),
                rows=f"every {part.what} of this part",
                seconds=LOOK,
                tells_row=True,
            )
            return
