"""A sheet to be heard: it knits to the same fabric, and no row has a mark or an abbreviation of a stitch in it."""

import re
from pathlib import Path

import pytest

from purlwright.rewrite.compare import difference
from purlwright.sheet.compose import NoSheet
from purlwright.sheet.document import Row, plain
from purlwright.sheet.out.spoken import to_spoken
from purlwright.workup import WorkUp

EXAMPLES = sorted((Path(__file__).resolve().parents[3] / "examples").glob("*.pattern.md"))

HEARD = """\
# Plover
Sizes: small (large)
Cast on 20 (26) sts.
Row 1 (RS): K1, *yo, k2tog; rep from * to last st, k1.
Row 2: P2, (k1, yo, k1) in next st, p to end. (22 (28) sts)
Row 3: K2, [k2, p2] twice, k to end.
Rep rows 1-3 once more.
Bind off.
"""


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_it_knits_to_the_same_fabric(path):
    work = WorkUp(path.read_text(encoding="utf-8"))
    for size in (work.sizes[0], work.sizes[-1]):
        document = work.sheet(size if len(work.sizes) > 1 else None, spoken=True, follow=False)
        again = WorkUp(to_spoken(document))
        assert difference(work.knitted(size), again.knitted()) == ""
        rows = [plain(b.words) for b in document.blocks if isinstance(b, Row)]
        assert rows
        assert not [words for words in rows if re.search(r"[*\[\]{}]", words)]


def test_rows_have_their_number_first_and_their_count_last():
    text = to_spoken(WorkUp(HEARD).sheet("large", spoken=True))
    assert (
        "Row 1, right side: Knit 1, repeat the following to last 1 stitch: yarn over, knit two together, "
        "end of repeat, knit 1.\n"
    ) in text
    assert (
        "Row 2: Purl 2, work all of this into the next stitch: knit 1, yarn over, knit 1, "
        "end of group, purl to end. 28 stitches.\n"
    ) in text
    assert "Repeat rows 1 to 3, once more." in text or "Repeat rows 1 to 3 once more." in text


def test_it_is_for_one_size():
    with pytest.raises(NoSheet, match="one size"):
        WorkUp(HEARD).sheet(spoken=True)


def test_units_and_fractions_are_words():
    text = to_spoken(
        WorkUp("# A\nNeedles: 4½ mm\nGauge: 18 sts = 10 cm\n\nCast on 3 sts.\nKnit 2 rows.\n").sheet(
            spoken=True
        )
    )
    assert "Needles: 4 and a half millimetres" in text
    assert "Gauge: 18 stitches to 10 centimetres" in text


def test_in_is_a_length_only_where_one_is_meant():
    text = to_spoken(
        WorkUp(
            "# A\nFinished size: 8 in wide, 9½ in\n\n> There are 7 sts, 3 in each border.\n\nCast on 3 sts.\nKnit 2 rows.\n"
        ).sheet(spoken=True)
    )
    assert "8 inches wide, 9 and a half inches" in text
    assert "3 in each border" in text


def test_a_count_that_grows_does_not_remain():
    text = to_spoken(
        WorkUp("# A\nCast on 3 sts.\nRow 1: Kfb, k to end.\nRep row 1 until there are 9 sts.\n").sheet(
            spoken=True
        )
    )
    assert "until there are 9 stitches" in text
    assert "remain" not in text


def test_what_remains_is_the_remaining_stitches():
    text = to_spoken(
        WorkUp(
            "# A\nNeedles: 4 mm needles\n\nCast on 3 sts.\nKnit 2 rows.\nBreak yarn, draw through rem sts and fasten off.\n"
        ).sheet(spoken=True)
    )
    assert "through remaining stitches" in text
    assert "4 millimetre needles" in text
