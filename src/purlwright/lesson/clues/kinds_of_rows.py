"""K13: which rows hold holes, crossings, turns, increases, decreases, and which hold none."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import LOOK
from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import Part, told

KIND = "K13"


def find(part: Part) -> Iterator[Clue]:
    """What stands in the rows of one side only, or in the rows of one number only."""
    for n, landmark in told(part):
        fact = Fact("holds", n)
        rows = [r for r in part.rows if read(fact, r)]
        if not rows or len(rows) == len(part.rows) or len(part.rows) < 4:
            continue
        said, stops = rows_said(part, rows)
        whole = claim(fact, part.rows)
        if said.startswith("every"):
            side = said.split(" ")[1]
            words = f"Only {side} {part.what}s have {landmark}."
        elif _sided(part, [r.seen.side for r in rows]):
            side = "right-side" if rows[0].seen.side == "RS" else "wrong-side"
            words = f"Only {side} {part.what}s have {landmark}, and not all of them."
        elif not stops or "each time" in said:
            one = sum(any(r in rows for r in rs) for rs in part.labels.values()) == 1
            words = f"Only {said.removesuffix(', each time')} {'has' if one else 'have'} {landmark}."
        else:
            continue
        yield Clue(
            kind=KIND,
            words=words,
            claims=(whole,),
            rows=f"every {part.what} of this part",
            seconds=LOOK,
        )
        return


def _sided(part: Part, sides: list[str]) -> bool:
    return part.even and len(set(sides)) == 1
