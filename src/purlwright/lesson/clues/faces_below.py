"""K22: work each stitch as it shows, or the other way about."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import LOOK
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part, Row

KIND = "K22"


def find(part: Part) -> Iterator[Clue]:
    """The rows in which every stitch is worked as it shows; else those in which all are worked the other
    way.
    """
    rows = [r for r in part.rows if r.faces == "same" and _mixed(r)]
    if len(rows) >= 3:
        yield _clue(part, rows, "Work each stitch as it shows: knit the V's and purl the bumps.")
        return
    rows = [r for r in part.rows if r.faces == "other"]
    if len(rows) < 3:
        return
    if all({d.name for d in r.seen.done} == {"k"} for r in rows):
        yield _clue(
            part, rows, "Every stitch that you knit shows you a bump on the needle before it is worked."
        )
    elif all(_mixed(r) for r in rows):
        yield _clue(part, rows, "Work each stitch as it does not show: purl the V's and knit the bumps.")


def _mixed(row: Row) -> bool:
    return {"k", "p"} <= {d.name for d in row.seen.done}


def _clue(part: Part, rows: list[Row], words: str) -> Clue:
    said, stops = rows_said(part, rows)
    return Clue(
        kind=KIND, words=words, claims=(claim(Fact("faces"), rows),), rows=said, stops=stops, seconds=2 * LOOK
    )
