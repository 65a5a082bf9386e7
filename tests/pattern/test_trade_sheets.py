"""Wording of printed trade sheets: rows that run on in a paragraph, stitch patterns told before the cast-on, glosses in
brackets, holders at an edge. Each piece is read word for word, and its counts are those worked out beside it.
"""

import pytest

from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.text import Source
from purlwright.workup import WorkUp


def unread(text):
    lines = [line for s in read_pattern(Source(text)).sections for line in s.lines]
    return [x.words for line in lines for x in tree.walk(line.actions) if isinstance(x, tree.Unread)]


def ends(text):
    return [entry.end for entry in WorkUp(text).knitted().ledger.entries]


@pytest.mark.parametrize(
    "words",
    [
        "Work in st st (k on RS, p on WS) for 4 rows.",
        "Work in rev st st (p on RS, k on WS) for 4 rows.",
        "Work 4 rows in garter st (knit on both RS and WS).",
        "Knit 4 rows. Sl remaining 20 sts on a holder.",
        "Knit 4 rows. Slip first 6 sts at neck edge on a st-holder.",
        "At the beg of each of the next 2 rows bind off 2 sts.",
        "At beg of next 2 rows, bind off 2 sts.",
        "Work 4 rows in st st, inc 3 sts on last row.",
        "Work in ribbing of k1, p1 for 4 rows, dec 2 sts evenly on last row of ribbing.",
        "Row 1: *K in next st below, k1; rep from * to end.",
        "Row 1: K2. °P2. K2. Rep from ° to last 2 sts, p2.",
        "Row 1: ★K2, p2; rep from ★ to end.",
        "Row 1: K1, *sk2togp; rep from * to last st, k1.",
        "Row 1: Knit.\nRow 2: and alt rows: Purl.\nRow 3: Knit.",
        "Row 1: (Right side of work) K1, *p1, k1; rep from * to last st, p1.",
        "Continue working on these 20 sts only for left front.",
        "Proceed on these 20 sts for first leg.",
        "Row 1: (K1, p1) across, end k1, p1.",
        "Row 1: K1, P1 (4x), knit to end.",
        "Leave rem. 20 sts on stitch holder.",
        "Work 2 rows (all sizes).",
        "Mark join as the beginning of the round.",
        "Place a safety pin in the work to indicate the beginning of the round.",
        "Row 1: *Knit 8, k2tog, repeat from * to the end (You will have decreased a total of 2 times)",
        "1st head row: Knit 1, inc in next stitch, k to end.",
        "Row 1: Repeat (P1, K1) to end.",
        "Row 1: K\nRow 2: P\nRepeat Rows 1 & 2 – 6 times more. Then Row 1 once.",
        "Knit for the first 11 rows.",
        "Knit piece even until it measures 2 inches.",
        "Work back and forth in garter stitch (knit every row) for 8 rows (4 ridges).",
        "Rows 1 - 6 -- Stockinette stitch (knit odd rows, purl even rows)",
        "Row 1: Work garter stitch (k 1 row, then p 1 row).",
        "Row 1: S1p, knit until 3 stitches left on the row, k3.",
        "Row 1: K8. Center dec. K to end.",
        "Row 1: (AND ALL ODD ROWS) Purl.\nRow 2: Knit.",
        "Row 1: Knit.\nRow 2: And every other row purl.",
        "Row 1 of hat: Knit.",
        "Work firmly in ribbing of K 1, P 1 for 6 rows.",
        "Ss 4 rows.",
        "Beginning with a k row, ss 4 rows.",
        "Work in gs for 4 rows.",
        "Rows 1-4: GS.",
        "Row 1: Sl 1, *k1, sl 1* repeat across from *, end k1.",
        "Work 4 rows in garter st, and mark first row with a safety pin for right side of work.",
        "Work 2 rows. Repeat these two rows 7 times = 16 rows rib.",
        "20 sts: 10 sts each on Needles 1 and 3, 10 sts each on Needles 2 and 4.",
        "Knit 4 rows, ending ready to begin a RS row.",
        "Knit 4 rows. Work measures 2 inches.",
        "Knit 4 rows (2 garter ridges), ready to work a WS row.",
        "Row 1: Slip first st knitwise through back loop, k to end.",
        "Use a marker of another colour to indicate the beginning of the round.",
        "Row 1: K1, p1, repeat across to end of row.",
        "Decr 1 st at each end of next row.",
        "Repeat rows 1-2 until your blanket is as long as you wish (ending with row 1).",
        "R 1: K\nR 2: P\nR 3 through 6: Repeat last 2 rows twice more.",
        "Row 1 = (RS) Knit.\nRow 2 = (WS) Purl.",
        "(RS) Row 1: Knit.\n(WS) Row 2: Purl.",
        "Garter rows 1-4: Knit.",
        "2nd and 4 rows: Purl.\n1st and 3rd rows: Knit.",
        "Row 1: *K2, p2* (repeat b/t *s until end)",
        "Row 1: *K2, p2* (rep between *s to end).",
        "Work K1, P1 in rib for 4 rows.",
        "Knit rows 1-2 twice more.",
        "Knit 4 more rows to match the beginning (knit each row).",
        "Leaving a 5 inch tail, cut yarn and weave through the remaining stitches using a tapestry needle.",
        "Place marker & join together by knitting first stitch, being careful not to twist.",
        "Work rows 1 and 2 until piece measures 4 in. End by completing Row 2.",
        "Row 1 (and all odd rows) knit\nRow 2: Purl.\nRow 4: Purl.",
    ],
)
def test_is_read_word_for_word(words):
    assert unread(f"# Mat\n\n## Mat\nCast on 20 sts.\n{words}\n") == []


@pytest.mark.parametrize(
    ("words", "counts"),
    [
        ("At the beg of each of the next 2 rows bind off 2 sts.", [20, 18, 16]),
        ("Work 3 rows in st st, inc 3 sts on last row.", [20, 20, 20, 23]),
        ("Work 2 rows in k1, p1 rib, dec 2 sts on last row of rib.", [20, 20, 18]),
        ("Row 1: K1, *sk2togp; rep from * to last st, k1.", [20, 8]),
        ("Work as follows: Row 1: K18, k2tog. Row 2: Purl.", [20, 19, 19]),
        ("Next row: Knit. Sl remaining 20 sts on a holder.", [20, 0]),
        ("When work measures 1 inch, bind off.", [20, 20, 20, 20, 20, 20, 20, 0]),
        ("Once piece measures 1 inch, dec 1 st at each end of next row.", [20] * 7 + [18]),
        (
            "When piece measures 1 inch, measured straight from cast-on edge, bind off 2 sts at beg of next 2 rows.",
            [20] * 7 + [18, 16],
        ),
        ("Work even until piece measures 1-2 inches.", [20] * 7),
        ("At arm edge bind off 2 sts.", [20, 18]),
        ("Starting at shoulder edge, bind off 4 sts every other row 2 times.", [20, 20, 16, 16, 12]),
        ("Row 1: P into front and then back of each st to last 4 sts, k4.", [20, 36]),
        ("Knit 2 rows. Purl another row.", [20, 20, 20, 20]),
        ("Cont. in patt. until work measures 1 in.", [20] * 7),
        ("Continue in patt. until work measures 1 in., ending row on wrong side.", [20] * 7),
        (
            "Continue in patt. inc. 1 st. both ends of every 2nd row until there are 24 sts.",
            [20, 20, 22, 22, 24],
        ),
        ("1st row-*K1, w.fd, sl 1, w. bk.; rep. from * to end.", [20, 20]),
        ("2nd row-*P1, w.bk, sl 1, w.fd; rep. from * to end.", [20, 20]),
        ("1st row. Knit 2, forward twice, 2 together, knit 5, forward, knit to end.", [20, 22]),
        ("Increase 1 at the beginning of each row till you have 24.", [20, 21, 22, 23, 24]),
        (
            "Hereafter work in st st, increasing 1 st at both ends of every inch twice (24 sts).",
            [20] * 6 + [22] * 6 + [24],
        ),
        ("Knit 2 rows. On next row cast on 2 sts at the beginning.", [20, 20, 20, 22]),
        ("K8, k2tog to end - 18\nPurl row.", [20, 18, 18]),
        ("K2, *k2tog; rep from * to end - 11", [20, 11]),
        ("Row 1: Work across to within 4 sts, k2tog, k2.", [20, 19]),
        ("With 20 sts work 2 rows even.", [20, 20, 20]),
        ("Knit 1 row. Rem. 20 sts. bind off loosely.", [20, 20, 0]),
        (
            "Row 1: K1, *k1, k1 in front and back of the next stitch to increase; rep from * to last st, k1.",
            [20, 29],
        ),
        ("Row 1: *Inc in st by knitting in front and back of the st., k1; rep from * to end.", [20, 30]),
        ("Row 1: K15, slide last 5 sts onto a holder.", [20, 15]),
        (
            "Row 1: Slip next 2 sts to an extra needle and hold in back, k2, k2 from extra needle, k to end.",
            [20, 20],
        ),
        (
            "Row 1: K5, bind off 2 sts, k to end.\nRow 2: K to gap, cast on 2 sts over bound off sts, k to end.",
            [20, 18, 20],
        ),
        ("Next row: P1; slip the 10 sts between the markers onto scrap yarn.", [20, 10]),
        (
            "Next row: K5, place next 5 sts for first sleeve on scrap yarn to be worked later, knit to end.",
            [20, 15],
        ),
        ("Row 1: RS facing, k2, p to end.", [20, 20]),
        ("Row 1—Right side—*P1, k4, repeat from * across row.", [20, 20]),
        ("Next row: Wrong side, k2, bind off 2 sts for button hole, k to end.", [20, 18]),
        ("These 2 rows form panel A.", [20]),
        ("Row 1: Knit.\nRow 2: Purl.\nRepeat these rows 3 times.", [20] * 9),
        ("Row 1: Knit.\nRow 2: Purl.\nRepeat these two rows twice more, for a total of 3 times.", [20] * 7),
        ("Row 1: Knit.\nRepeat this row 3 more times so you have a total of 4 repeats.", [20] * 5),
        ("Row 1: Increase by knitting into front and back of every stitch.", [20, 40]),
        ("Row 1: Increase by knitting into the front and back of the next st, k to end.", [20, 21]),
        ("Row 1: Beading row: *K2, yo, k2tog; repeat from * to end.", [20, 20]),
        ("Row 1: K2, skp (slip 1, knit 1, pass slip stitch over the knit 1), k to end.", [20, 19]),
        ("Row 1: K2, k2tog (k1, p1) twice, k to end.", [20, 19]),
        ("Row 1: K into f&b of first 3 sts, k to last 3 sts, k into f&b of last 3 sts.", [20, 26]),
        (
            "Row 1: *K1, p1; rep from * to end.\nRow 2: K3, work each stitch in the manner it presents to last 3 sts, k3.",
            [20, 20, 20],
        ),
        ("Bind off 3 sts each side.", [20, 17, 14]),
        (
            "Bind off 3 sts each side, then k2tog each side every other row twice.",
            [20, 17, 14, 14, 12, 12, 10],
        ),
        ("Cast off 5 sts. loosely at beg. of next 2 rows.", [20, 15, 10]),
        ("K. 1 row. P. 2 rows.", [20, 20, 20, 20]),
        ("Row 1: K1-f/b, k to last st, p1-f/b.", [20, 22]),
        ("Work 4 rows in garter st. (knit every row)", [20] * 5),
        ("Row 1: Knit 20 sts on needle.", [20, 20]),
        ("Knit 1 row. Place all sts on a holder.\nRow 1: K 9 stitches from holder, k to end.", [20, 20, 9]),
        (
            "Row 1: K\nRow 2: P\nRows 3-5: Repeat rows 1 and 2, then repeat row 1 once more.\nRow 6: P",
            [20] * 7,
        ),
        (
            "Next row: K to last 2 sts, k2tog.\nNext row: Knit.\nRepeat these 2 rows once, then first row once.",
            [20, 19, 19, 18, 18, 17],
        ),
        ("Work 1x1 ribbing for 1/2 inch then bind off.", [20, 20, 20, 20, 0]),
        ("Dec. at EACH end of next and alt. rows until 14 sts remain.", [20, 18, 18, 16, 16, 14]),
        ("Cast of 2 sts at beg of next 2 rows.", [20, 18, 16]),
        (
            "Bind off for armhole at the beg. of the next 2 rows 2 sts., at the beg. of the next 2 rows 1 st.",
            [20, 18, 16, 15, 14],
        ),
        (
            "Bind off for shoulders at the beg. of the next 2 rows 4 sts., rem. 12 sts. bind off.",
            [20, 16, 12, 0],
        ),
        ("Bind off 1st st of next 2 rows.", [20, 19, 18]),
        ("Row 1: Work to 3 sts before front edge, k 2 tog, k 1.", [20, 19]),
        ("Row 1: Knit twice into each st to end.", [20, 40]),
        ("Row 1: Inc every stitch.", [20, 40]),
        (
            (
                "Row 1: *P3 †K2 tog., but do not slip them from left hand needle, K the first of these 2 sts. once again and"
                " slip both sts. from left needle, repeat from † once, then repeat from * across row, end P6."
            ),
            [20, 20],
        ),
        ("Knit 2 rows, inc 2 sts evenly on last row. Work 2 rows even.", [20, 20, 22, 22, 22]),
        (
            "Work in K2, P2 rib for 2 rows. Inc 2 sts evenly across last row of ribbing. Work even for 2 rows.",
            [20, 20, 22, 22, 22],
        ),
        ("Next row: K2tog.\nNext row: Purl.", [20, 10, 10]),
        ("Continuing in rib as set, dec 1 st at each end of next row.", [20, 18]),
        ("Inc 1 st at each end of the next, then every foll 2nd row 2 times.", [20, 22, 22, 24, 24, 26]),
        ("Row 1: K3, purl across, k3.", [20, 20]),
        ("Row 1: K3, *k2tog, yo; rep from * across, ending with yo, k3.", [20, 20]),
        ("Row 1: *K1, p1* (3x), knit to end.", [20, 20]),
        ("Row 1: *K2tog, k2* (4x), k4.", [20, 16]),
        ("Row 1: Knit across to last 2 sts, inc 1 in each of last 2 sts.", [20, 22]),
        ("Row 1: Slip 4 sts to cn and hold in front, k2, p2, then k2, p2 from cn, k to end.", [20, 20]),
        (
            "Heel Row 1: K to last 2 sts, k2tog.\nHeel Row 2: Purl.\nRepeat heel rows 1 and 2 once more.",
            [20, 19, 19, 18, 18],
        ),
        (
            "Row 1: *K2, p2tog and leave on needle, p first st again, then drop from needle; rep from * to end.",
            [20, 20],
        ),
        (
            (
                "Dec Row: K1, k2tog, k to last 3 sts, ssk, k1.\n"
                "Work Dec Row every other row a total of 3 times."
            ),
            [20, 18, 18, 16, 16, 14],
        ),
        ("On next k row, k across first 8 sts, bind off 4 sts, k across remaining 8 sts.", [20, 16]),
        ("Then to shape neck on next row, k 8 sts, bind off 4 sts, k 8 sts.", [20, 16]),
        (
            "Row 1: K3, *yo, k2, sl1, k2tog, psso, k2, yo, k1; rep from *, end k2 instead of k1.",
            [20, 20],
        ),
    ],
)
def test_has_the_counts_of_its_words(words, counts):
    text = f"# Mat\nGauge: 5 sts and 6 rows = 1 inch\n\n## Mat\nCast on 20 sts.\n{words}\n"
    assert unread(text) == []
    assert ends(text) == counts


def test_rows_that_lost_their_line_breaks_begin_at_their_labels():
    text = "# Shawl\nCast on 10 sts. Row 1 (RS) k2, yo, k to last 2 sts, yo, k2. 2 sts inc Row 2 k2, p to last 2 sts, k2."
    assert unread(text) == []
    assert ends(text) == [10, 12, 12]


@pytest.mark.parametrize(
    "heading",
    [
        "PATTERN STITCH: Multiple of 2 sts plus 1.",
        "Pattern Stitch (multiple of 2 sts plus 1)",
        "First Pattern St: Mult. of 2 sts + 1",
    ],
)
@pytest.mark.parametrize("called", ["pattern st", "pattern stitch", "patt"])
def test_a_stitch_pattern_told_first_is_worked_where_it_is_called(heading, called):
    text = f"""# Vest
Gauge: 5 sts = 1 inch

{heading}
Rows 1 and 4: K1, *p1, k1; rep from * across row.
Rows 2 and 3: P1, *k1, p1; rep from * across row.
Repeat these 4 rows for pattern stitch.

BACK: With size 5 mm needles cast on 41 sts. Work in {called} for 8 rows. Bind off.
"""
    assert unread(text) == []
    assert ends(text) == [41] * 9 + [0]


def test_a_total_that_the_repeats_do_not_come_to_is_not_believed():
    text = "# Mat\nCast on 20 sts.\nRow 1: Knit.\nRow 2: Purl.\nRep these two rows 3 times more, for a total of 6 times.\n"
    assert unread(text) == ["for a total of 6 times"]


def test_an_edge_may_be_told_before_what_is_picked_up_there():
    text = "# Band\n\n## Mat\nCast on 10 sts.\nKnit 20 rows.\nBind off all sts.\n\n## Band\nAlong one long edge, pick up and k 10 sts.\n"
    assert unread(text) == []
    assert ends(text)[-1] == 10


@pytest.mark.parametrize(
    "words",
    [
        "With No. 12 needles and double black thread cast on 40 sts.",
        "With size 8 needles, and worsted weight yarn, cast on 40 stitches.",
        "Using UK 6 (5mm) needles and yarn A, cast on 40 sts.",
        "With 2 strands of yarn held together and larger needles, cast on 40 sts.",
    ],
)
def test_needles_and_yarn_are_told_before_the_cast_on(words):
    text = f"# Mat\n\n## Mat\n{words}\nKnit 2 rows.\n"
    assert unread(text) == []
    assert ends(text) == [40, 40, 40]


@pytest.mark.parametrize(
    ("first", "second"),
    [("Row 4: K2, p16, k2", "Repeat rows 3 and 4 five times (about 3 cm)"), ("Row 4: Purl", "K2tog across.")],
)
def test_a_row_without_its_stop_ends_with_its_line(first, second):
    text = f"# Mat\nCast on 20 sts.\nRow 1: Knit.\nRow 2: Purl.\nRow 3: Knit.\n{first}\n{second}\n"
    assert [line.text for line in read_pattern(Source(text)).sections[0].lines][-2:] == [first, second]


def test_a_repeat_in_the_line_of_its_last_row_lacks_no_row():
    text = "# Mat\nCast on 20 sts.\nRow 1: Knit.\nRow 2: Purl. Repeat rows 1 and 2 five times more.\nBind off all sts.\n"
    assert [f.code for f in WorkUp(text).proved().findings] == []


def test_a_cast_on_shared_out_over_needles_is_joined_by_its_first_round():
    text = "# Sock\nCast on 64 sts. Divide evenly onto 4 dpns.\nRound 1: *K2, p2; rep from * to end.\nRound 2: Knit.\n"
    kinds = [str(entry.kind) for entry in WorkUp(text).knitted().ledger.entries]
    assert kinds[-2:] == ["round", "round"]


def test_markers_slipped_in_passing_stand_at_no_place():
    text = (
        "# Mat\nCast on 40 sts.\nRow 1 (RS): K10, pm, k20, pm, k10.\nRow 2: Work 4 sts in seed st, slipping markers purl to "
        "last 4 sts, work 4 sts in seed st.\nRow 3: Purl, slipping markers as you pass them.\nBind off all sts.\n"
    )
    assert [f.code for f in WorkUp(text).proved().findings if f.code.startswith("marker")] == []
    assert [len(e.markers) for e in WorkUp(text).knitted().ledger.entries][1:4] == [2, 2, 2]


def test_a_heel_is_worked_to_the_stitch_that_was_slipped():
    text = """# Heel
Cast on 30 sts.
Row 1 (RS): Sl 1, k16, ssk, k1, turn.
Row 2: Sl 1, p5, p2tog, p1, turn.
Row 3: Sl 1, k to slipped st, ssk, k1, turn.
Row 4: Sl 1, p to slipped stitch, p2tog, p1, turn.
"""
    assert unread(text) == []
    assert ends(text) == [30, 29, 28, 27, 26]


def test_a_round_may_be_joined_by_working_its_first_stitch():
    text = (
        "# Cowl\nCast on 92 sts. Place marker for beg of rnd. Join by working the first st on left hand needle with the "
        "working yarn from the right hand needle and being careful not to twist sts.\nRnd 1: *K2, p2; rep from * around.\n"
    )
    assert unread(text) == []
    assert [str(e.kind) for e in WorkUp(text).knitted().ledger.entries] == ["cast-on", "join", "round"]


def test_a_bare_number_for_each_size_is_a_count():
    text = "# Hat\nSizes: S (L)\n\n## Hat\nCO 24[30] sts. Join.\nRound 1: [K4, k2tog] to end. 20[25]\n"
    lines = read_pattern(Source(text)).sections[-1].lines
    stated = [a for a in lines[-1].actions if isinstance(a, tree.Stated)]
    assert [a.total.values for a in stated] == [(20, 25)]


def test_a_comma_may_stand_before_the_other_sizes():
    text = "# Vest\nSizes: 4 (6, 8)\n\n## Back\nCast on 20, (24, 28) sts.\nKnit 2 rows.\n"
    cast_on = read_pattern(Source(text)).sections[-1].lines[0].actions[0]
    assert cast_on.count.values == (20, 24, 28)


def test_own_stitches_may_be_told_before_the_cast_on_under_no_heading():
    text = (
        "# Band\n\nRC - sl 2 st on to cable needle, hold behind, k2, then k2 from cable needle.\n\n"
        "LT: (left twist) K2tog but do not move new st to right needle, K into 1st st and move both sts to right"
        " needle\n\n4-st LPC: Sl 2 sts to cn and hold to front, p2, k2 from cn.\n\nCast on 20 sts.\n"
        "Row 1: RC, LT, 4-st LPC, k to end.\nRow 2: Purl.\nBind off.\n"
    )
    assert unread(text) == []
    assert [d.name for d in read_pattern(Source(text)).definitions] == ["RC", "LT", "4-st LPC"]
    assert ends(text) == [20, 20, 20, 0]


def test_a_part_told_before_the_cast_on_is_no_stitch():
    text = "# Sock\n\nHeel: Sl 1, k to end.\n\nCast on 20 sts.\nKnit 2 rows.\n"
    assert read_pattern(Source(text)).definitions == ()


def test_lengths_may_stand_in_both_units_and_after_a_comma():
    text = (
        "# Vest\nSizes: 4 (6, 8)\nGauge: 6 sts and 8 rows = 1 inch\n\n## Back\nCast on 20 sts.\n"
        'Work even until piece measures 1 (1½, 2)" 3 (4, 5)cm from beg.\n'
        "Work even until piece measures 5, (6, 7) cm from beg.\n"
    )
    assert unread(text) == []
    assert not {f.code for f in WorkUp(text).findings()} & {"not-read", "size-list-length"}


def test_stitches_on_each_needle_add_up_to_the_total():
    text = (
        "# Tam\n\nCast on 99 sts.\nRow 1: Knit, there will be 33 sts on each needle for a total of 99 sts.\n"
    )
    assert "parts-differ" not in {f.code for f in WorkUp(text).findings()}


def test_a_count_before_an_order_is_checked():
    text = "# Mat\n\n## Mat\nCast on 20 sts.\nWith 22 sts work 2 rows even.\n"
    assert "total-differs" in {f.code for f in WorkUp(text).findings()}


@pytest.mark.parametrize("words", ["(yields 16 stitches)", "(yields 16 sts)", "yielding 16 sts"])
def test_a_row_yields_a_count(words):
    text = f"# Mat\n\n## Mat\nCast on 20 sts.\nRow 1: *K2tog, k3; rep from * to end {words}.\n"
    assert unread(text) == []
    lines = read_pattern(Source(text)).sections[-1].lines
    assert [a.total.values for a in lines[-1].actions if isinstance(a, tree.Stated)] == [(16,)]


def test_a_first_line_that_casts_on_is_no_title():
    text = "CUFF. With small needles cast on 20 sts. Knit 6 rows.\nBind off all sts.\n"
    assert ends(text) == [20] * 7 + [0]
