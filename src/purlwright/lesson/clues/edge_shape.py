"""K20: the shape of the edges: straight, or in steps."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import LOOK
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import LANDMARKS, Part

KIND = "K20"


def find(part: Part) -> Iterator[Clue]:
    """Flat rows, all of them to the end, with nothing made or lost: both edges run straight up."""
    rows = part.rows
    if not part.flat or len(rows) < 6 or any(r.seen.waiting for r in rows):
        return
    if any(d.net for r in rows for d in r.seen.done) or len({r.seen.count for r in rows}) > 1:
        return
    said, stops = rows_said(part, rows)
    yield Clue(
        kind=KIND,
        words="Both edges run straight up, without a step.",
        claims=(
            claim(Fact("change"), rows),
            claim(Fact("waiting"), rows),
            claim(Fact("holds", LANDMARKS.index("increases")), rows),
            claim(Fact("holds", LANDMARKS.index("decreases")), rows),
        ),
        rows=said,
        stops=stops,
        seconds=LOOK,
    )
