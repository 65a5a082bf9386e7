"""K04: a count that is reached after one row only, or after two that follow one another."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim
from purlwright.lesson.clues.cost import PAGE, counting
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part, Row
from purlwright.proof.said import count

KIND = "K04"


def find(part: Part) -> Iterator[Clue]:
    """Where most rows can be told by their count: the rule, with one count as an example."""
    by: dict[int, list[Row]] = {}
    for r in part.rows:
        by.setdefault(r.seen.count, []).append(r)
    near = {c: rs for c, rs in by.items() if rs[-1].number - rs[0].number == len(rs) - 1 <= 1}
    if len(near) < 3 or sum(map(len, near.values())) * 2 < len(part.rows):
        return
    shown = list(near.values())[len(near) // 2]
    if len(shown) == 1:
        words = f"{_count(shown[0])}: you have just finished {shown[0].name}."
    else:
        words = f"{_count(shown[0])}: you have just finished {shown[0].name} or the {shown[0].what} after it."
    rows = [r for rs in near.values() for r in rs]
    every = len(rows) == len(part.rows)
    what = part.what
    told = f"every {what} of this part" if every else f"{len(rows)} of its {len(part.rows)} {what}s"
    lacking = [r.name for r in (part.rows[0], part.rows[-1]) if r not in rows]
    yield Clue(
        kind=KIND,
        words=words,
        claims=(claim(Fact("count"), sorted(rows, key=lambda r: r.number)),),
        rows=told,
        stops=f"not after {' or '.join(lacking)}, whose count comes again" if lacking else "",
        seconds=counting(part.rows) + PAGE,
        tells_row=True,
    )


def table(part: Part) -> tuple[tuple[int, tuple[str, ...]], ...]:
    """Every count of a part with the rows after which it is reached."""
    by: dict[int, list[str]] = {}
    for r in part.rows:
        by.setdefault(r.seen.count, []).append(r.name)
    return tuple((c, tuple(names)) for c, names in by.items())


def _count(row: Row) -> str:
    return count(row.seen.count, "stitch", "stitches")
