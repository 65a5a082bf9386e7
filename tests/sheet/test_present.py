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
