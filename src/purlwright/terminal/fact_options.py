"""The options by which a knitter says what she sees of her work.

In: nothing. Out: a table like that of ``arguments``, which takes it in. What the words mean is read by
``rescues``; nothing is imported here, so that ``--help`` opens at once.
"""

from __future__ import annotations

__all__ = ["FACT_OPTIONS"]

_BOTH = ("where", "rescue")
_ONE = ("rescue",)

FACT_OPTIONS: dict[str, tuple[tuple[str, ...], str, str]] = {
    "--piece": (_BOTH, "NAME", "The piece you are knitting, where the pattern has several."),
    "--sts": (_BOTH, "N", "So many stitches are on the needle; count in tens."),
    "--side": (_BOTH, "RS|WS", "The side that faces you as you begin the next row."),
    "--unworked": (_BOTH, "N", "So many stitches wait beyond the last turning place."),
    "--gaps": (_BOTH, "N", "So many turning places can be seen."),
    "--between": (_BOTH, "N,N", "Stitches from marker to marker, as the next row meets them."),
    "--intervals": (_BOTH, "N,N", "Stitches to the first turning place, between them, beyond the last."),
    "--part-rows": (_BOTH, "N", "So many rows are in this part, counted up to the needle."),
    "--since": (_BOTH, "WHAT=N", "Rows since the last hole, decrease, increase, crossing, stripe: hole=2."),
    "--column": (
        _BOTH,
        "N=N",
        "A stitch from the right edge, and stitches above the last mark in its column.",
    ),
    "--ridges": (_BOTH, "N,N", "Garter ridges up the right and the left edge, right side facing."),
    "--chains": (_BOTH, "N,N", "Slipped edge stitches up the right and the left edge."),
    "--left": (("where",), "N", "In mid-row: stitches on the left needle."),
    "--right": (("where",), "N", "In mid-row: stitches on the right needle."),
    "--yarn-on": (("where",), "left|right", "In mid-row: the needle with the stitch the yarn comes from."),
    "--yarn": (_BOTH, "WHERE", "Where the yarn hangs: right edge, left edge, middle, no edge."),
    "--over": (_ONE, "N", "Left over at the end of the row tried last; 0 if all rows came out."),
    "--short": (_ONE, "N", "Lacking at the end of the row tried last."),
    "--holes": (
        _ONE,
        "WORDS",
        "As they should be, one missing, one too many, off the line.",
    ),
    "--stacks": (_ONE, "yes|no", "Whether every stitch of the pattern stands over its like."),
    "--outline": (_ONE, "WORDS", "As it should be, one edge longer, one edge steps out, shaping stops."),
    "--odd": (
        _ONE,
        "WORDS",
        "What looks odd: ladder, small hole; 'explain odd' lists all.",
    ),
    "--down": (_ONE, "N", "So many rows lie between the odd place and the needle."),
    "--up": (_ONE, "N", "So many rows from the beginning of its part up to the odd place."),
    "--marks-above": (
        _ONE,
        "N",
        "So many rows with holes, shaping, crossings, a turn or a new colour above.",
    ),
    "--above-mark": (_ONE, "N", "So many rows from the nearest such row below up to the odd place."),
    "--cast-on": (_ONE, "N", "So many stitches along the cast-on edge."),
    "--looked": (_ONE, "WHAT", "You looked for odd holes, stitches, rows, or slowly, and found nothing."),
    "--lies-in": (
        _ONE,
        "WORD",
        "What else is in that row: holes, decreases, increases, crossings, nothing.",
    ),
    "--row": (_ONE, "N", "The row you think you have just finished, counted from the cast-on."),
    "--sure": (_BOTH, "N", "The last row you were sure of, counted from the cast-on."),
    "--letter": (_ONE, "", "Write what you know as a short text, to send to your teacher."),
    "--facts": (_ONE, "FILE", "Take the facts from such a text."),
}
