"""K09: how many stitches are left after the last repeat of a row."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import few
from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import Part, Row
from purlwright.proof.said import count

KIND = "K09"


def find(part: Part) -> Iterator[Clue]:
    """Rows with a repeat that leaves some stitches after it, the same number in each."""
    by: dict[int, list[Row]] = {}
    for r in part.rows:
        left = read(Fact("left over"), r)
        if (
            isinstance(left, int)
            and left > 0
            and not r.seen.waiting
            and len({d.name for d in r.seen.done}) > 1
        ):
            by.setdefault(left, []).append(r)
    if not by:
        return
    left, rows = max(by.items(), key=lambda x: len(x[1]))
    if left > 12 or (len(rows) < 2 and len(part.rows) > 4):
        return
    said, stops = rows_said(part, rows)
    repeats = [r for rs in by.values() for r in rs]
    others = [r for r in repeats if r not in rows]
    if others and not stops:
        stops = f"in the other {part.what}s with a repeat the number differs"
    yield Clue(
        kind=KIND,
        words=f"After the last repeat exactly {count(left, 'stitch is', 'stitches are')} left on the "
        "left needle.",
        claims=(claim(Fact("left over"), rows),),
        rows=said,
        stops=stops,
        seconds=few(left),
    )
