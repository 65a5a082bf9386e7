"""What a knitter says of her work: facts, each of which may be missing or a little wrong.

In: nothing; the command line, a letter or a page fills them in. Out: :class:`Facts`, and for each fact a
:class:`Question`: how it is asked, what it costs to look, and how its answers are told.

The facts are those a beginner can truthfully report, cheap ones first: the count, the side, what is left
over, gaps and holes, edges, an odd-looking place, the last thing she is sure of. A count is a soft fact: it
may be out by one or two.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from enum import StrEnum

from purlwright.rescue.mistakes.made import Holes, Odd, Outline

__all__ = [
    "FACT_WORDS",
    "HOLE_WORDS",
    "LOOKS",
    "ODD_WORDS",
    "OUTLINE_WORDS",
    "QUESTIONS",
    "ROW_WORDS",
    "STACK_WORDS",
    "Answer",
    "Facts",
    "Question",
    "Said",
]

Said = int | str | tuple[int, ...]
"""An answer: a number, a word from a list, or several counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is known. None: not known, or not asked.

    piece : the piece she is knitting, by name. sts : stitches on the needle. side : "RS" or "WS", facing as
    the next row begins. off : left over at the end of the row just tried (above 0), lacking (below 0), or
    0 where every row came out. waiting : stitches beyond the last turning place. gaps : turning places.
    between : counts from marker to marker, as the next row meets them. since_... : rows worked since that
    landmark, 0 if it is in the row just worked. ridges_..., chains_... : bumps and slipped edge stitches up
    each edge, seen on the right side. holes, outline : how they look; keys of HOLE_WORDS and OUTLINE_WORDS.
    stacks : whether each stitch of the pattern stands over its like.
    odd : what looks odd, a key of ODD_WORDS. down : rows between the odd place and the needle, 0 for the row
    just worked. lies_in : what else that row has. up : rows from the beginning of its part up to it, itself
    included. marks_above : rows above it that have a landmark or begin a colour. look_... : "nothing", where
    she looked for odd holes, single stitches or whole rows, or row by row, in vain. cast_on : stitches along
    the cast-on edge.
    row : the row she thinks she has just worked, counted from the cast-on. sure : the last she is sure of.
    on_left, on_right : stitches on each needle, in mid-row.
    """

    piece: str | None = None
    sts: int | None = None
    side: str | None = None
    off: int | None = None
    waiting: int | None = None
    gaps: int | None = None
    between: tuple[int, ...] | None = None
    since_hole: int | None = None
    since_decrease: int | None = None
    since_increase: int | None = None
    since_crossing: int | None = None
    ridges_right: int | None = None
    ridges_left: int | None = None
    chains_right: int | None = None
    chains_left: int | None = None
    holes: str | None = None
    odd: str | None = None
    down: int | None = None
    lies_in: str | None = None
    up: int | None = None
    marks_above: int | None = None
    look_holes: str | None = None
    look_stitches: str | None = None
    look_rows: str | None = None
    look_slowly: str | None = None
    cast_on: int | None = None
    stacks: str | None = None
    outline: str | None = None
    row: int | None = None
    sure: int | None = None
    on_left: int | None = None
    on_right: int | None = None

    @property
    def known(self) -> dict[str, Said]:
        """The facts that are there, by name."""
        return {f.name: v for f in fields(self) if (v := getattr(self, f.name)) is not None}

    def with_(self, more: Mapping[str, Said]) -> Facts:
        """These and more."""
        return replace(self, **more)  # type: ignore[arg-type]


HOLE_WORDS = {
    "as they should be": Holes.RIGHT,
    "one missing": Holes.MISSING,
    "one too many": Holes.EXTRA,
    "off the line": Holes.OFF,
}
OUTLINE_WORDS = {
    "as it should be": Outline.RIGHT,
    "one edge longer": Outline.LONGER,
    "one edge steps out": Outline.FLARES,
    "shaping stops": Outline.STEPS_BACK,
}
ROW_WORDS = {"holes": 1, "decreases": 2, "increases": 3, "crossings": 4, "nothing": 0}
STACK_WORDS = {"yes": 0, "no": 1}
ODD_WORDS = {
    "nothing": Odd.NONE,
    "hole": Odd.HOLE,
    "small hole": Odd.SMALL_HOLE,
    "ladder": Odd.LADDER,
    "crossed stitch": Odd.CROSSED,
    "crossed row": Odd.CROSSED_ROW,
    "strand in front": Odd.STRAND,
    "split stitch": Odd.SPLIT,
    "bump or v": Odd.WRONG_FACE,
    "stretched stitch": Odd.STRETCHED,
    "two in one": Odd.TWO_IN_ONE,
    "two from one": Odd.TWO_FROM_ONE,
    "doubled edge": Odd.EDGE_DOUBLE,
    "ridge across": Odd.RIDGE,
    "wrong lean": Odd.WRONG_LEAN,
    "sideways": Odd.SHIFTED,
    "tight strand": Odd.TIGHT,
    "band": Odd.BAND,
    "spiral": Odd.SPIRAL,
    "two wraps": Odd.TWO_WRAPS,
    "loose bar": Odd.LOOSE_BAR,
    "no marker": Odd.NO_MARKER,
    "hole by decrease": Odd.HOLE_BY_LEAN,
    "inside out": Odd.INSIDE_OUT,
    "colour": Odd.COLOUR,
    "two places": Odd.TWO_PLACES,
}
LOOKS: dict[str, tuple[str, ...]] = {
    "look_holes": (
        "hole",
        "small hole",
        "ladder",
        "loose bar",
        "hole by decrease",
        "tight strand",
        "two places",
    ),
    "look_stitches": (
        "split stitch",
        "bump or v",
        "stretched stitch",
        "two in one",
        "two from one",
        "doubled edge",
        "crossed stitch",
        "wrong lean",
        "two wraps",
        "strand in front",
    ),
    "look_rows": (
        "crossed row",
        "ridge across",
        "sideways",
        "band",
        "colour",
        "inside out",
        "spiral",
        "no marker",
    ),
}
LOOKS["look_slowly"] = tuple(word for words in LOOKS.values() for word in words)
"""What is looked for when a look at the whole tells nothing: at fewer things each, or row by row."""
ODD_MEANS = {
    "nothing": "nothing looks odd",
    "hole": "an open hole that does not belong there",
    "small hole": "a small hole with a tilted stitch beside it",
    "ladder": "a ladder of bars, with a loop at its foot",
    "crossed stitch": "one stitch with crossed legs",
    "crossed row": "crossed legs right across a row",
    "strand in front": "a strand or bar lying across the stitches",
    "split stitch": "a stitch that is thick and thin, with half a strand astray",
    "bump or v": "one bump among smooth stitches, or one smooth V among bumps",
    "stretched stitch": "one stretched stitch with a strand behind it",
    "two in one": "two stitches caught in one, leaning, where there is no decrease",
    "two from one": "two stitches out of one, side by side",
    "doubled edge": "a doubled stitch at the edge",
    "ridge across": "a ridge, or the wrong face, from edge to edge",
    "wrong lean": "a decrease or cable that leans the wrong way",
    "sideways": "the pattern steps sideways, or a part of it is missing or twice there",
    "tight strand": "a pucker or a slit between colours",
    "band": "a band that is wider or narrower than the rest",
    "spiral": "the whole edge spirals over the needle",
    "two wraps": "two wraps round one stitch",
    "loose bar": "a loose bar behind a tight column",
    "no marker": "a marker that is not where it should be",
    "hole by decrease": "a hole with a decrease beside it",
    "inside out": "the wrong side on the outside of the round",
    "colour": "a row or stripe in the wrong colour",
    "two places": "two odd places apart from each other: a hole or bulge, and a lean",
}


FACT_WORDS: dict[str, tuple[str, ...]] = {
    "side": ("RS", "WS"),
    "holes": tuple(HOLE_WORDS),
    "odd": tuple(ODD_WORDS),
    "lies_in": tuple(ROW_WORDS),
    "stacks": tuple(STACK_WORDS),
    "outline": tuple(OUTLINE_WORDS),
    "look_holes": ("nothing",),
    "look_stitches": ("nothing",),
    "look_rows": ("nothing",),
    "look_slowly": ("nothing",),
}
"""The facts that are words, and which."""


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
            how="Count that row too.",
        ),
        Question(
            name="marks_above",
            effort=20,
            asks="How many rows with holes, shaping, crossings or a new colour lie above the odd place?",
            how="Up to the needle; the odd row itself does not count.",
        ),
        Question(
            name="lies_in",
            effort=15,
            answer=Answer.WORD,
            words=tuple(ROW_WORDS),
            asks="What is there in the row of the odd place?",
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
            asks="How many stitches are there from marker to marker?",
            how="From where the next row begins.",
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
