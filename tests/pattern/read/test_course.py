"""Garments in prose: shaping in the course of rows, parts as others to a length, edges where rows end,
counts.
"""

import pytest

from needles.worked import work
from purlwright.pattern import tree
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.stitches.load import dictionary

COMPACT = dictionary().compact


def said(words):
    return read_line(words, Context(compact=COMPACT)).actions


def ends(rows, head="Gauge: 20 sts and 20 rows = 10 cm\n"):
    knitted = work(f"{rows}\nBind off.", head)
    assert [w for w in knitted.wrong if "left-on-hold" not in w and "left-live" not in w] == []
    return knitted.ends


@pytest.mark.parametrize(
    "words",
    [
        (
            "Work same as for Front until piece measures 9¼ (9¾,10¼)” from beginning, end by working a wrong"
            " side row."
        ),
        (
            "Bind off 3 (4, 4) stitches at beginning of next row, then 2 stitches 2 (2, 3) times at same"
            " edge–14 (15, 17)"
            " stitches."
        ),
        (
            "Bind off 7 sts for underarm, knit to end of row for left front—13 (15, 17) sts remain on needle"
            " for left"
            " front."
        ),
        "Work over 13 (15, 17) left front sts only.",
        "Repeat Rows 4 and 5—9 (11, 13) sts in Row 7.",
        "Return the 28 (32, 36) back sts to needles and join B, ready to work a wrong side row.",
        "Begin at lower edge of front. Cast on 44 stitches.",
        "Starting at lower edge, with smaller needles, cast on 51 sts.",
        "Cast off next 5 stitches, knit to the end, and then knit back to the neck edge.",
        "Continue on remaining 37 stitches until work measures 21cm, ending at side edge.",
        "Continue on the remaining 33 stitches for a further 11cm.",
        "Work in knit 3, purl 3, ribbing, knitting in the round for 14 rows.",
        (
            "Continue to increase as above, adding 2 stitches between increases and working 3 rows even"
            " between"
            " increase"
            " row until you have 48 stitches on needle."
        ),
        (
            "Continue decrease for top as above knitting 2 less stitches between decreases until 6 stitches"
            " remain."
        ),
        "P11, turn and work on these sts only for left leg, leave rem 11 sts on a spare needle.",
        "At end of next row, dec 1 st.",
        "At the beginning of the next round, k2, ssk, k to end.",
        "Work on these 26 sts in ribbing until piece measures 3-1/2 in.",
        "Knit 9; knit in front and back loops (kfb) in each of next 2 stitches, knit to end (24 sts).",
        (
            "Slip first 12 sts for shoulder onto st holder, slip center 18 sts for back neck to second"
            " holder,"
            " slip"
            " remaining sts to third holder for shoulder."
        ),
    ],
)
def test_every_word_is_read(words):
    # how needles are changed is a note
    left = [
        x.words
        for x in tree.walk(said(words))
        if isinstance(x, tree.Unread) or (isinstance(x, tree.Note) and "needles" not in x.words)
    ]
    assert left == []


@pytest.mark.parametrize(
    ("rows", "counts"),
    [
        (("Cast on 20 sts.\nKnit 6 rows, decreasing 1 st at each end of every 3rd"
         " row."), [20, 20, 20, 18, 18, 18, 16]),
        (("Cast on 20 sts.\nWork in garter st until piece measures 3 cm, inc 1 st at each end of every alt"
         " row."),
         [20, 20, 22, 22, 24, 24, 26]),
        ("Cast on 20 sts.\nKnit in the round for 1 cm in stockinette stitch.", [20, 20, 20]),
        (("Cast on 20 sts.\nRow 1: K9; knit in front and back loops (kfb) in each of next 2 sts, k to"
         " end."), [20, 22]),
        # the first stitches of the row, and what they are for
        (("Cast on 20 sts.\nRow 1: Cast on 4 sts, work in garter st over these 4 sts for front border, knit"
          " to"
         " end."), [20, 24]),
        (("Cast on 20 sts.\nKnit 4 rows, increasing sts evenly across the last row to 26 sts."),
         [20, 20, 20, 20, 26]),
        ("Cast on 20 sts.\nAt neck edge, bind off 5 sts, work to end of row.", [20, 15]),
        # rows of which only the yarn is told go on as before
        ("Cast on 20 sts.\nWork in garter st for 2 rows.\nWork 3 rows with B.", [20] * 6),
        # what comes after the rows comes after them
        ("Cast on 20 sts.\nKnit 2 rows, then dec 1 st at each end of next row.", [20, 20, 20, 18]),
        (("Cast on 20 sts.\nCast off 3 sts at the beginning of the next row and the next alternate row and 1"
         " st on the"
         " next 2 alternate rows."), [20, 17, 17, 14, 14, 13, 13, 12]),
        (("Cast on 20 sts.\nBind off 4 sts at beginning of next row, then 2 sts twice at same edge.\nKnit 1"
         " row."),
         [20, 16, 16, 14, 14, 12, 12]),
        ("Cast on 20 sts.\nKnit 2 rows.\nAt end of next row, dec 1 st.", [20, 20, 20, 19]),
        ("Cast on 20 sts.\nRow 1: K2tog, k to end.\nRow 2: Knit.\nRepeat Rows 1 and 2—18 sts in Row 3.",
         [20, 19, 19, 18, 18]),
    ],
)  # fmt: skip
def test_is_knitted_to_the_counts_that_follow_from_it(rows, counts):
    assert ends(rows)[: len(counts)] == counts


def test_a_part_as_another_to_a_length_of_its_own():
    back = "Cast on 20 sts.\nWork in garter st until piece measures 4 cm from beginning.\nBind off."
    front = "Cast on 10 sts.\nWork same as for Piece until piece measures 3 cm from beginning.\nBind off."
    text = f"{back}\n\n## Front\n{front}"
    knitted = work(text, "Gauge: 20 sts and 20 rows = 10 cm\n").knitted.ledger.entries
    assert [e.kind.value for e in knitted if e.section == "Front"] == ["cast-on", *["row"] * 6, "bind-off"]
