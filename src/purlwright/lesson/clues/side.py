"""K14: the facing side tells whether the next row has an odd or an even number; the tail tells the side."""

from __future__ import annotations

from collections.abc import Iterator

from purlwright.lesson.clues.clue import Clue, claim, rows_said
from purlwright.lesson.clues.cost import LOOK
from purlwright.lesson.facts import Fact
from purlwright.lesson.rows import Part, label_of
from purlwright.needles.ledger import Kind

KIND = "K14"
_SIDES = {"RS": "right", "WS": "wrong"}


def find(part: Part) -> Iterator[Clue]:
    """By a clip, where all right-side rows have odd numbers, or all even ones; by the tail of the cast-on."""
    yield from _clip(part)
    yield from _tail(part)


def _clip(part: Part) -> Iterator[Clue]:
    numbered = [r for r in part.rows if r.entry.number is not None]
    if not part.even or len(numbered) != len(part.rows) or len(part.rows) < 4:
        return
    right = {(r.entry.number or 0) % 2 for r in part.rows if r.seen.side == "RS"}
    wrong = {(r.entry.number or 0) % 2 for r in part.rows if r.seen.side == "WS"}
    if len(right) != 1 or len(wrong) != 1 or right == wrong:
        return
    odd = "an odd" if right == {1} else "an even"
    said, stops = rows_said(part, part.rows)
    yield Clue(
        kind=KIND,
        words=f"With the right side facing you, ready to begin: the next row has {odd} number. "
        "Hang a clip on that side.",
        claims=(claim(Fact("side"), part.rows), claim(Fact("odd number"), part.rows)),
        rows=said,
        stops=stops,
        seconds=LOOK,
        tells_row=True,
    )


def _tail(part: Part) -> Iterator[Clue]:
    """The tail hangs at one end of the cast-on for good, so it lies at one hand on one side of the work.

    At which end depends on the cast-on: a long tail hangs under the first stitch to be worked, that of a
    knitted or cable cast-on at the far end (what teachers say; no one source). So she is told to look.
    """
    begun = part.before is not None and part.before.kind is Kind.CAST_ON and part.place[1] == 0
    if not begun or not part.even or len(part.rows) < 4:
        return
    faces = _SIDES[part.rows[0].seen.side]
    said, stops = rows_said(part, part.rows)
    first = label_of(part.rows[0]) or part.rows[0].name
    yield Clue(
        kind=KIND,
        words=f"See at which hand the tail of the cast-on hangs as you begin {first}, the {faces} side "
        f"facing: it hangs there whenever the {faces} side faces you, and at the other hand on every other "
        "row.",
        claims=(claim(Fact("side"), part.rows),),
        rows=said,
        stops=stops,
        seconds=LOOK,
        touch=True,
    )
