"""How each fact is asked for.

In: nothing. Out: a :class:`Question` for each: its words, what it costs to look, how its answers are told.
Which is asked next is left to ``asking``.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from purlwright.rescue.observe import (
    HOLE_WORDS,
    LOOKS,
    ODD_WORDS,
    OUTLINE_WORDS,
    ROW_WORDS,
    STACK_WORDS,
    YARN_WORDS,
)

__all__ = ["QUESTIONS", "Answer", "Question"]


class Answer(StrEnum):
    """What kind of answer a question has."""

    COUNT = "count"
    COUNTS = "counts"
    WORD = "word"


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """How a fact is asked for. ``effort`` is about how long it takes to look, in seconds (rule of thumb)."""

    name: str
    asks: str
    how: str
    effort: float
    answer: Answer = Answer.COUNT
    words: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    """The facts of its answer, where they are more than the one of its name."""
    numbers: int = 1
    """How many numbers the one fact of its answer has; 0 for as many as there are."""

    @property
    def facts(self) -> tuple[str, ...]:
        return self.parts or (self.name,)


QUESTIONS: dict[str, Question] = {
    q.name: q
    for q in (
        Question(
            name="sts",
            effort=40,
            asks="How many stitches are on the needle?",
            how="Count in tens, a marker after each ten.",
        ),
        Question(
            name="side",
            effort=8,
            answer=Answer.WORD,
            words=("RS", "WS"),
            asks="Which side faces you as you are about to begin the next row?",
            how="RS is the side that will be seen.",
        ),
        Question(
            name="yarn",
            effort=8,
            answer=Answer.WORD,
            words=tuple(YARN_WORDS),
            asks="Where does the working yarn hang, the right side facing you?",
            how="In the middle if you turned before the end of the row; at no edge in the round.",
        ),
        Question(
            name="odd",
            effort=30,
            answer=Answer.WORD,
            words=tuple(ODD_WORDS),
            parts=("odd", "down"),
            asks="Does anything look odd: what, and how many rows below the needle?",
            how="Look along the last rows, from the needle down; the row just worked counts 0.",
        ),
        Question(
            name="look_holes",
            effort=25,
            answer=Answer.WORD,
            words=("nothing", *LOOKS["look_holes"]),
            parts=("odd", "down"),
            asks="Look for holes, ladders and loose strands: what, and how many rows below the needle?",
            how="Hold it up to the light.",
        ),
        Question(
            name="look_stitches",
            effort=35,
            answer=Answer.WORD,
            words=("nothing", *LOOKS["look_stitches"]),
            parts=("odd", "down"),
            asks="Look for a single stitch unlike its neighbours: what, and how many rows below the needle?",
            how="Go along each row with the tip of a needle.",
        ),
        Question(
            name="look_rows",
            effort=20,
            answer=Answer.WORD,
            words=("nothing", *LOOKS["look_rows"]),
            parts=("odd", "down"),
            asks="Look for a whole row unlike the others: what, and how many rows below the needle?",
            how="Lay it flat and look from further off.",
        ),
        Question(
            name="look_slowly",
            effort=240,
            answer=Answer.WORD,
            words=("nothing", *LOOKS["look_slowly"]),
            parts=("odd", "down"),
            asks="Go down row by row, a needle under each: what is unlike its neighbours, and how far down?",
            how="Count the rows from the needle; the row just worked counts 0. Take your time.",
        ),
        Question(
            name="cast_on",
            effort=70,
            asks="How many stitches are there along the cast-on edge?",
            how="Count in tens, a pin after each ten.",
        ),
        Question(
            name="up",
            effort=45,
            asks="How many rows are there from the beginning of this part up to the odd place?",
            how="Or up to the missing one. Count that row too.",
        ),
        Question(
            name="marks_above",
            effort=20,
            asks="How many rows with holes, shaping, crossings, turns, or a new colour lie above that place?",
            how="Or above the missing one, up to the needle; its own row does not count.",
        ),
        Question(
            name="above_mark",
            effort=30,
            asks="How many rows above the nearest row with holes, shaping or a crossing is the odd place?",
            how="Count up from the nearest below it; 0 if it is in such a row.",
        ),
        Question(
            name="lies_in",
            effort=15,
            answer=Answer.WORD,
            words=tuple(ROW_WORDS),
            asks="What is there, or should be, in the row of the odd place?",
            how="Follow that row to the left and to the right.",
        ),
        Question(
            name="off",
            effort=10,
            asks="In the row you tried last: how many stitches were left over, or how many short?",
            how="So many over as a number, so many short with a minus, 0 if it came out.",
        ),
        Question(
            name="waiting",
            effort=12,
            asks="How many stitches wait beyond the last turning place?",
            how="Count from the gap to the end that was not reached.",
        ),
        Question(
            name="gaps",
            effort=12,
            asks="How many turning places (gaps) can you see along the needle?",
            how="Spread the stitches and look for the wider steps.",
        ),
        Question(
            name="between",
            effort=45,
            answer=Answer.COUNTS,
            numbers=0,
            asks="How many stitches are there from marker to marker?",
            how="From where the next row begins.",
        ),
        Question(
            name="intervals",
            effort=40,
            answer=Answer.COUNTS,
            numbers=0,
            asks="How many stitches to the first turning place, from one to the next, and beyond the last?",
            how="As you hold it for the next row, from the right.",
        ),
        Question(
            name="part_rows",
            effort=60,
            asks="How many rows are there in this part, from its beginning up to the needle?",
            how="Count the Vs up one column, or two for each ridge, where every row reaches.",
        ),
        Question(
            name="since_hole",
            effort=12,
            asks="How many rows have been worked since the last row with yarn overs?",
            how="0 if it is the row just worked.",
        ),
        Question(
            name="since_decrease",
            effort=14,
            asks="How many rows have been worked since the last row with decreases?",
            how="0 if it is the row just worked.",
        ),
        Question(
            name="since_increase",
            effort=14,
            asks="How many rows have been worked since the last row with increases?",
            how="0 if it is the row just worked.",
        ),
        Question(
            name="since_crossing",
            effort=12,
            asks="How many rows have been worked since the last cable crossing?",
            how="0 if it is the row just worked. The strand right above the hole of a crossing is its row.",
        ),
        Question(
            name="since_stripe",
            effort=10,
            asks="How many rows have been worked since the row that began the last colour?",
            how="0 if it is the row just worked.",
        ),
        Question(
            name="column",
            effort=35,
            answer=Answer.COUNTS,
            numbers=2,
            asks=(
                "In the column of one stitch, how many stitches stand above the last hole, decrease, "
                "increase or crossing?"
            ),
            how=(
                "Which stitch, from the right edge with the right side facing, and how many: 12, 5. Count up "
                "to the needle, its loop included; 0 if it was made in the row just worked."
            ),
        ),
        Question(
            name="holes",
            effort=20,
            answer=Answer.WORD,
            words=tuple(HOLE_WORDS),
            asks="Are the holes of the pattern as they should be?",
            how="Look along each line of holes.",
        ),
        Question(
            name="stacks",
            effort=18,
            answer=Answer.WORD,
            words=tuple(STACK_WORDS),
            asks="Does every stitch of the pattern stand over its like?",
            how="Look at the last pattern row: decrease over decrease, rib over rib.",
        ),
        Question(
            name="outline",
            effort=15,
            answer=Answer.WORD,
            words=tuple(OUTLINE_WORDS),
            asks="Is the outline as it should be?",
            how="Lay it flat and look at both edges.",
        ),
        Question(
            name="ridges",
            effort=70,
            answer=Answer.COUNTS,
            parts=("ridges_right", "ridges_left"),
            asks="How many bumps (garter ridges) are there up the right edge, and up the left?",
            how="Right side facing. One ridge is two rows.",
        ),
        Question(
            name="chains",
            effort=70,
            answer=Answer.COUNTS,
            parts=("chains_right", "chains_left"),
            asks="How many slipped edge stitches are there up the right edge, and up the left?",
            how="Right side facing. One chain is two rows.",
        ),
        Question(
            name="row",
            effort=5,
            asks="Which row do you think you have just finished?",
            how="Counted from the cast-on; the list of rows has the numbers.",
        ),
        Question(
            name="sure",
            effort=5,
            asks="Which was the last row you were sure of?",
            how="Counted from the cast-on.",
        ),
    )
}
