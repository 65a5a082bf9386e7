"""K25: after which row half of all stitches are done: about half of the yarn is gone."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim
from purlwright.lesson.clues.cost import MEASURE
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part

KIND = "K25"


def find(part: Part) -> Iterator[Clue]:
    """The row of the part, if any, with which half of all the stitches of the pattern are worked."""
    whole = max((e.stitches_so_far for e in part.knitted.ledger.entries), default=0)
    row = next((r for r in part.rows if r.entry.stitches_so_far * 2 >= whole), None)
    before = part.before.stitches_so_far if part.before is not None else 0
    if row is None or before * 2 >= whole or len(part.rows) < 6:
        return
    yield Clue(
        kind=KIND,
        words=f"Half of all the stitches are worked once you have done {row.name}.",
        claims=(claim(Fact("stitches so far"), (row,)),),
        rows=f"after {row.name}",
        stops="told of that row alone",
        seconds=MEASURE,
        tells_row=True,
    )
