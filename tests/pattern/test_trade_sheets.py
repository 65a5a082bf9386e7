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
    ],
)
def test_has_the_counts_of_its_words(words, counts):
    assert ends(f"# Mat\n\n## Mat\nCast on 20 sts.\n{words}\n") == counts


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
