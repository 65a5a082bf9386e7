"""What a knitter says of her work: facts, each of which may be missing or a little wrong.

In: nothing; the command line, a letter or a page fills them in. Out: :class:`Facts`, and the words that some
of them are told in. How they are asked for is in ``questions``.

The facts are those a beginner can truthfully report, cheap ones first: the count, the side, what is left
over, gaps and holes, edges, an odd-looking place, the last thing she is sure of. A count is a soft fact: it
may be out by one or two.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace

from purlwright.rescue.mistakes.made import Holes, Odd, Outline

__all__ = [
    "COUNTS",
    "FACT_WORDS",
    "HOLE_WORDS",
    "LOOKS",
    "NO_MARK_WORD",
    "ODD_MEANS",
    "ODD_WORDS",
    "OUTLINE_WORDS",
    "ROW_WORDS",
    "STACK_WORDS",
    "YARN_WORDS",
    "Facts",
    "Said",
]

Said = int | str | tuple[int, ...]
"""An answer: a number, a word from a list, or several counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is known. None: not known, or not asked.

    piece : the piece she is knitting, by name. sts : stitches on the needle. side : "RS" or "WS", facing as
    the next row begins. off : left over at the end of the row just tried (above 0), lacking (below 0), or 0
    where every row came out. waiting : stitches beyond the last turning place. gaps : turning places. between
    : counts from marker to marker, as the next row meets them. intervals : counts from the right, as she
    holds it for the next row, to the first turning place, from one to the next, and beyond the last.
    part_rows : rows of this part up to the needle, counted in the knitting. since_... : rows worked since
    that landmark, 0 if it is in the row just worked. ridges_..., chains_... : bumps and slipped edge stitches
    up each edge, seen on the right side. holes, outline : how they look; keys of HOLE_WORDS and
    OUTLINE_WORDS. stacks : whether each stitch of the pattern stands over its like. odd : what looks odd, a
    key of ODD_WORDS. down : rows between the odd place and the needle, 0 for the row just worked. lies_in :
    what else that row has. up : rows from the beginning of its part up to it, itself included. marks_above :
    rows above it that have a landmark, turn, or begin a colour. above_mark : rows from the nearest row with a
    landmark below it up to it, 0 if it is in such a row. These tell also where a hole is missing or a line of
    shaping steps back. look_... : "nothing", where she looked for odd holes, single stitches or whole rows,
    or row by row, in vain. cast_on : stitches along the cast-on edge. row : the row she thinks she has just
    worked, counted from the cast-on. sure : the last she is sure of. on_left, on_right : stitches on each
    needle, in mid-row; yarn_on : "left" or "right", the needle with the stitch that the yarn comes from.
    yarn : where it hangs when a row is done, the right side facing her; a key of YARN_WORDS. since_stripe :
    rows worked since the row that began a colour. column : a stitch, counted from 1 from the right edge with
    the right side facing (in the round, from its beginning), and how many stitches stand in its column above
    the last hole, decrease, increase or crossing there, the loop on the needle included.
    """

    piece: str | None = None
    sts: int | None = None
    side: str | None = None
    yarn: str | None = None
    off: int | None = None
    waiting: int | None = None
    gaps: int | None = None
    between: tuple[int, ...] | None = None
    intervals: tuple[int, ...] | None = None
    part_rows: int | None = None
    since_hole: int | None = None
    since_decrease: int | None = None
    since_increase: int | None = None
    since_crossing: int | None = None
    since_stripe: int | None = None
    column: tuple[int, ...] | None = None
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
    above_mark: int | None = None
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
    yarn_on: str | None = None

    @property
    def known(self) -> dict[str, Said]:
        """The facts that are there, by name."""
        return {f.name: v for f in fields(self) if (v := getattr(self, f.name)) is not None}

    def with_(self, more: Mapping[str, Said]) -> Facts:
        """These and more."""
        return replace(self, **more)  # type: ignore[arg-type]


COUNTS = ("between", "intervals")
"""The facts that are several counts."""
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
YARN_WORDS = {"right edge": 0, "left edge": 1, "middle": 2, "no edge": 3}
"""Where the yarn hangs, right side facing; in the middle after a turn, at no edge in the round."""
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


NO_MARK_WORD = "none"
"""What she says of a column without a mark, in place of the stitches above it."""

FACT_WORDS: dict[str, tuple[str, ...]] = {
    "side": ("RS", "WS"),
    "yarn": tuple(YARN_WORDS),
    "yarn_on": ("left", "right"),
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
