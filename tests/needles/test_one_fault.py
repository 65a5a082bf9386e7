"""One wrong count is told once: what it brings on in the rows after it is not told as well."""

from needles.worked import work
from purlwright.workup import WorkUp

WRONG = "Cast on 21 sts.\nRow 1 (RS): *K4, p1; rep from * to end.\nRow 2: *K1, p4; rep from * to end.\n"
RIGHT = "Row 3: Knit. (21 sts)\n"


def codes(text):
    return [f.code for f in work(text).knitted.findings if f.severity == "error"]


def test_rows_after_a_wrong_count_are_not_told_wrong_for_it():
    assert codes(WRONG) == ["repeat-uneven"]


def test_a_count_that_sets_it_right_lets_the_next_fault_be_told():
    assert codes(WRONG + RIGHT + "Row 4: K4, p16.") == ["repeat-uneven", "count-differs"]


def test_a_wrong_total_does_not_make_the_next_row_wrong():
    assert codes("Cast on 20 sts.\nRow 1: K2tog, k18. (18 sts)\nRow 2: P18.") == ["total-differs"]


def test_an_ending_does_not_knit_what_the_broken_repeat_would_purl():
    assert codes("Cast on 21 sts.\nRow 1: *K2, p2; rep from * to end, ending k3.") == ["repeat-uneven"]
    assert codes("Cast on 23 sts.\nRow 1: *K2, p2; rep from * to end, ending k3.") == []
    assert codes("Cast on 23 sts.\nRow 1: *K2, p2; rep from * to end, ending p1.") == []


def test_a_stitch_that_takes_more_than_its_words_were_measured_for_makes_the_repeat_uneven():
    text = (
        "# Mat\n\n## Abbreviations\nC4F: two over two left cross.\n\n## Mat\nCast on 20 sts.\n"
        "Row 1: *P2, k1, p3, C4F, p3, MB; rep from * to end.\n"
    )
    assert "repeat-uneven" in [f.code for f in WorkUp(text).findings()]
