"""An old pattern told in the words of today: it knits to the same fabric, and no old word is left in its rows."""

import re

from purlwright.rewrite.compare import difference
from purlwright.sheet.document import Row, plain
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp

MUFFATEE = """\
# Muffatee
Terms: old

Cast on 36 sts.
1st row: Seam 2, *bring the wool forward, knit 2 together, knit 1, seam 3; repeat from *, end seam 1.
2nd row: Knit 1, *seam 3, knit 3; repeat from *, end seam 3, knit 2.
3rd row: Seam 2, *knit 3, seam 3; repeat from *, end knit 3, seam 1.
4th row: As the 2nd.
Repeat these 4 rows 8 times more.
Cast off loosely.
"""


def test_the_rows_are_told_in_present_words_and_knit_the_same():
    work = WorkUp(MUFFATEE)
    document = work.sheet(terms="US", follow=False)
    rows = [plain(b.words) for b in document.blocks if isinstance(b, Row)]
    assert not [words for words in rows if re.search(r"seam|bring the wool", words, re.IGNORECASE)]
    assert "Terms: US" in to_text(document)
    assert any(words.startswith("P2, *yo, k2tog, k1, p3") for words in rows)
    assert difference(work.knitted(), WorkUp(to_text(document)).knitted()) == ""


def test_without_being_asked_the_old_words_stand():
    rows = [plain(b.words) for b in WorkUp(MUFFATEE).sheet(follow=False).blocks if isinstance(b, Row)]
    assert any("bring the wool forward" in words for words in rows)


VEST = """\
# Vest
Terms: old

Using No. 8 needles, cast on 21 sts. very loosely.
1st row: K. plain.
2nd row: Purl very carefully.
3rd row: K. tightly to end.
Cast off 3 sts loosely at the beginning of the next 2 rows.
Change to finer needles and work 4 rows in garter st.
Cast off loosely knitwise, with a larger needle.
"""


def test_nothing_is_lost_of_how_she_wants_it_worked_and_on_which_needles():
    work = WorkUp(VEST)
    text = to_text(work.sheet(terms="US", follow=False))
    for said in (
        "Using No. 8 needles, cast on 21 sts very loosely.",
        "Row 1 (RS): K to end.",
        "Row 2 (WS): Purl very carefully.",
        "3rd row (RS): K. tightly to end.",  # no sure place for it in other words: hers stay
        "Bind off 3 sts loosely at beg of next 2 rows. (15 sts)",
        "Change to finer needles and work 4 rows in garter stitch.",
        "Bind off all sts loosely knitwise, with a larger needle.",
    ):
        assert f"\n{said}\n" in text, text
    assert difference(work.knitted(), WorkUp(text).knitted()) == ""


def test_the_last_line_of_the_muffatee_is_cast_off_loosely():
    assert "\nBind off all sts loosely.\n" in to_text(WorkUp(MUFFATEE).sheet(terms="US", follow=False))
