"""Old books: turns of two rows, shaping in the course of rows, the end of a row told in words, stitches let
off.
"""

import pytest

from needles.worked import work
from purlwright.pattern import tree
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.stitches.load import dictionary

COMPACT = dictionary().compact


def old(words):
    return read_line(words, Context(compact=COMPACT, terms="old")).actions


def after(rows):
    """The counts after the rows, as old terms have them."""
    knitted = work(f"{rows}\nCast off.", head="Terms: old\n")
    assert [w for w in knitted.wrong if "left" not in w and "repeat-unsaid" not in w] == []
    return knitted.ends


@pytest.mark.parametrize(
    "words",
    [
        "Knit seven turns with the small needle.",
        "Knit 9 turns plain, increasing one stitch on each turn.",
        "Slip 1, the rest of the row being plain knitting.",
        (
            "Slip 1, take 2 together; the rest plain knitting until you come to within 4 of the end, when you"
            " knit 2"
            " together, the last 2 stitches plain."
        ),
        (
            "Knit the 2 first stitches; * pearl 1, knit 1; repeat from * until you come to the last 2"
            " stitches,"
            " which"
            " must be knitted."
        ),
        (
            "Continue to knit plain until you come to the 4th and 3rd from the end, which must be knitted"
            " together."
        ),
        (
            "Let off 17 on to a third needle, and knit the remaining 11 stitches backwards and forwards for"
            " 24"
            " rows."
        ),
        "Cast off 22 stitches on another needle; knit 8 rows, and cast them off on another needle.",
        (
            "Knit 19 stitches, slip them on to a spare needle, bind off 13 stitches for neck, and on the"
            " remaining 19"
            " stitches, knit 3 ribs."
        ),
        "When 7 inches are done decrease every 6th row until you have only 58 stitches on your pins.",
        "Reduce over the instep to 62. Make the foot 8 inches long.",
        "Do 12 rows in triple rib (knit 3, purl 3).",
        "Knit 5 rows, or without decreasing.",
        "Knit the other front to correspond.",
        (
            "Cast on 76, 25 on two pins and 26 on the third pin. Rib for about an inch by doing 1 plain and 1"
            " pearl."
        ),
        "Then do plain knitting for 4 inches. Then begin to decrease every 6 rows. Then knit 3 more inches.",
        (
            "Knit or pearl the seam-stitch, knit 2 and pearl 1. Continue to knit 2 and pearl 1 every row"
            " until"
            " 9 inches"
            " are done."
        ),
        "When you have turned the heel you must take up 14 stitches. You then cast off.",
        "When the foot is 7 inches long knit a row. Knit 8 rounds, 3 plain, 1 pearl.",
        "Decrease with 5 plain rounds between every decreasing until you have only 44 stitches.",
        "Finish the other half of the boot in the same manner.",
        "The two halves of the boot are then to be sewn together.",
        "In every row the first stitch is to be slipped; the last stitch is to be plain knitted.",
        (
            "Draw up the stitches for the toe. To turn the heel, slip the 1st stitch, knit 9, narrow, knit 1,"
            " turn work."
        ),
        (
            "Proceed to pick up 11 stitches down side of heel, knitting each as you pick it up; knit the 24"
            " left on the"
            " needle for front of foot."
        ),
        "These 6 rows are repeated throughout. Knit plain entirely across, and bind off.",
        "Narrow every 6th stitch, and knit 6 times around; then narrow every stitch.",
        "Knit 3, narrow, knit 4; finish row in pattern. Knit rest plain, to end of needle.",
        "Knit in pattern to within 9 stitches of the end (including the 4 stitches previously left), turn.",
        "Knit two plain rows in grey; three in blue. Knit 18 rows in pattern.",
        "Do 5 rows of alternate knitting and pearling. Knit around 20 times in single rib.",
        "Slip 1, knit 3, * over, narrow; repeat across, ending with knit 2.",
        "Knit 3, pearl 3. Repeat the same, alternately, to the end of the row.",
        "Observe at the commencement of every row to make a slip-stitch.",
        "You must now knit 10 rows plain.",
    ],
)
def test_every_word_is_read(words):
    left = [x for x in tree.walk(old(words)) if isinstance(x, tree.Unread | tree.Note)]
    assert left == []


@pytest.mark.parametrize(
    ("rows", "counts"),
    [
        # a turn is two rows; the shaping stands in the course of them
        ("Cast on 20 stitches.\nKnit three turns, increasing a stitch at each row.", [20, *range(21, 27)]),
        ("Cast on 20 stitches.\nKnit 2 turns, increasing one stitch on each turn.", [20, 20, 21, 21, 22]),
        ("Cast on 20 stitches.\nKnit two turns, increasing a stitch at one end only.", [20, 21, 21, 22, 22]),
        (("Cast on 20 stitches, knit 4 rows, increasing 1 at the beginning of each, knit 4 rows, increasing"
         " 1 at"
         " the beginning of every other row for the toe."), [20, 21, 22, 23, 24, 24, 25, 25, 26]),
        ("Cast on 20 stitches.\nKnit until 12 stitches remain, decreasing 1 at each end of every row.",
         [20, 18, 16, 14, 12]),
        (("Cast on 24 stitches on 3 needles.\nKnit a round.\nDo plain knitting, and decrease twice in every"
         " second"
         " round for 4 rounds."), [24, 24, 24, 22, 22, 20]),
        (("Cast on 20 stitches.\nFirst row: Slip 1, take 2 together; plain knitting until you come to the"
         " 3rd and"
         " 2nd from the end, which must be knitted together."), [20, 18]),
        (("Cast on 20 stitches.\nKnit 2 plain rows; in the next row, bring the wool forward, knit two"
         " together."),
         [20, 20, 20, 20]),
        (("Cast on 20 stitches.\nIncrease 2 times with 1 plain row between each.\nKnit a"
         " row."), [20, 21, 21, 22]),
        (("Cast on 21 stitches.\nKnit a row. In the next two rows, knit two together at the commencement of"
         " each row."),
         [21, 21, 20, 19]),
        (("Cast on 20 stitches.\nFirst row: Knit 6; then, knit two together, to the end of the"
         " row."), [20, 13]),
        ("Cast on 12 stitches on 3 needles.\nKnit a round.\nNarrow every 4th stitch. Knit twice around.",
         [12, 12, 9, 9, 9]),
        # the wool goes there and back about the slip, and makes no loop
        (("Cast on 12 stitches.\nFirst row: Knit one, pass the wool forward; slip one, pass the wool back."
         " Repeat."),
         [12, 12]),
        ("Cast on 12 stitches.\nFirst row: Pearl knitting.\nKnit 4 turns, increasing one stitch at each end.",
         [12, 12, 14, 14, 16, 16, 18, 18, 20]),
        ("Cast on 12 stitches.\nKnit one turn in grey; two in blue.", [12] * 7),
        (("Cast on 12 stitches.\nFirst row: Knit 2 together, taking the back of the stitches, knit 4, and"
         " repeat."),
         [12, 10]),
        ("Cast on 12 stitches.\nKnit 2 pearl, 2 plain, for 3 rows.", [12] * 4),
        ("Cast on 12 stitches.\nKnit and pearl three stitches alternately, for two turns.", [12] * 5),
    ],
)  # fmt: skip
def test_is_knitted_to_the_counts_that_follow_from_it(rows, counts):
    assert after(rows)[: len(counts)] == counts


def test_stitches_let_off_wait_and_are_not_bound_off():
    knitted = work(
        "Cast on 30 stitches.\nKnit 2 rows. Cast off 12 stitches on another needle; knit the remaining 18"
        " stitches,"
        " for 2 turns.",
        head="Terms: old\n",
    )
    assert knitted.ends == [30, 30, 30, 18, 18, 18, 18]
    assert sum(e.lost for e in knitted.rows) == 0


def test_the_heel_lies_about_the_seam_stitch():
    knitted = work(
        "Cast on 40 stitches on 3 needles.\nKnit 3 rounds. Take 9 on each side of the seam-stitch for the"
        " heel,"
        " knit backwards and forwards for 4 rows.",
        head="Terms: old\n",
    )
    assert [(e.worked, e.end) for e in knitted.rows[-5:]] == [
        (10, 40),
        (19, 19),
        (19, 19),
        (19, 19),
        (19, 19),
    ]


def test_half_of_them_before_the_beginning_of_the_round():
    rows = (
        "Cast on 40 sts and join.\nKnit 2 rounds.\nK10, turn.\nWork back and forth over 19 sts.\nKnit 2 rows."
    )
    assert work(rows).ends[-2:] == [19, 19]


@pytest.mark.parametrize(
    ("words", "count"),
    [
        ("Pick up 1 stitch on each rib around the armhole, 44 stitches in all.", [44]),
        (("Pick up and knit 14 sts along left front, 9 sts across back, 14 sts along right front, 37 sts in"
         " all."),
         [14, 9, 14]),
        ("Pick up and knit 11 sts across the left back, 17 round the front and 11 along the right back.",
         [11, 17, 11]),
    ],
)  # fmt: skip
def test_a_total_of_stitches_picked_up_is_no_further_edge(words, count):
    assert [x.count.at(0) for x in old(words) if isinstance(x, tree.PickUp)] == count
