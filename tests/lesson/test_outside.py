"""What teachers say of reading knitting, each with where it is said, held against what is told here."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from purlwright.lesson.clues.first_trouble import first_signs
from purlwright.lesson.clues.kinds import clues_of
from purlwright.lesson.facts import Fact, read
from purlwright.lesson.rows import parts_of
from purlwright.workup import WorkUp


def part(text):
    return parts_of(WorkUp(f"# Pier\n{text}", "pier").knitted())[-1]


def of_kind(p, kind):
    return [c for c in clues_of(p) if c.kind == kind]


@settings(max_examples=20, deadline=None)
@given(st.integers(2, 30), st.integers(4, 30))
def test_a_garter_ridge_is_two_rows(ridges, stitches):
    """ "Each ridge counts as two rows": "How to count garter stitch rows", blog.yarn.com, 18 June 2013; M. Thomas, Mary
    Thomas's Knitting Book, 1938 (from memory).
    """
    (clue,) = of_kind(part(f"Cast on {stitches} sts.\n## Band\nKnit {2 * ridges} rows.\n"), "K15")
    assert clue.words == (
        f"Every two rows make one ridge: {ridges} ridges in all in this part, {2 * ridges} rows."
    )


@settings(max_examples=15, deadline=None)
@given(st.integers(2, 20))
def test_a_slipped_edge_has_one_chain_for_two_rows(pairs):
    """One chain for every two rows: M. Stanley, The Handknitter's Handbook, 1986 (from memory)."""
    flap = f"Row 1 (RS): Sl 1, k11.\nRow 2 (WS): Sl 1, p11.\nRep rows 1 and 2 {pairs} times in all.\n"
    (clue,) = of_kind(part(f"Cast on 12 sts.\n## Flap\n{flap}"), "K16")
    assert clue.words == f"One chain at each edge for every two rows: {pairs} chains at the end of this part."


def test_strands_above_the_hole_of_a_cable():
    """A 6-stitch cable crosses on rows 7 and 15. After 14 rows the strands above the hole are counted, the first being
    the cable row's own: rows 7 to 14, eight, and row 15 crosses next: "Counting cable rows", craftandhobby.com; as
    many strands from hole to hole as the repeat has rows: "What row am I on in my cable?",
    techknitting.blogspot.com, 23 September 2022.
    """
    rows = "".join(
        f"Row {n}: {'P3, 3/3 RC, p3' if n in {7, 15, 23} else 'P3, k6, p3' if n % 2 else 'K3, p6, k3'}.\n"
        for n in range(1, 25)
    ).replace("Row 1:", "Row 1 (RS):")
    p = part(f"Cast on 12 sts.\n## Rope\n{rows}")
    (clue,) = of_kind(p, "K17")
    assert clue.words == (
        "8 strands above the hole of the last crossing, that of its own row counted too: cross on the next row."
    )
    crossing = [r.number for r in p.rows if read(Fact("holds", 1), r)]
    assert crossing == [7, 15, 23]
    assert 14 - crossing[0] + 1 == 8


def test_a_double_decrease_stands_over_two_holes():
    """In a lace of this sort the double decrease stands in the middle of the two holes two rows below: as teachers of
    lace say it (common practice, no source).
    """
    lace = (
        "Cast on 11 sts.\n## Bud\nRow 1 (RS): K3, k2tog, yo, k1, yo, ssk, k3.\nRow 2 (WS): Purl.\n"
        "Row 3: K4, yo, sk2p, yo, k4.\nRow 4: Purl.\nRep rows 1-4 twice more.\n"
    )
    (clue,) = of_kind(part(lace), "K10")
    assert clue.words == "Each sk2p takes a yarn over, a plain stitch and a yarn over of the rows below."


@pytest.mark.parametrize(
    ("decrease", "leans"), [("k2tog", "right"), ("ssk", "left"), ("skp", "left"), ("k2tog tbl", "left")]
)
def test_which_way_a_decrease_leans(decrease, leans):
    """Knit two together leans to the right; slip, slip, knit and slip, knit, pass over to the left: "Right decreases: the
    good twin", techknitting.blogspot.com, September 2007; B. G. Walker, A Treasury of Knitting Patterns, 1968 (from memory).
    """
    rows = f"Row 1 (RS): K4, {decrease}, k to last 6 sts, {decrease}, k4.\nRow 2 (WS): Purl.\nRep rows 1 and 2 three times more.\n"
    (clue,) = of_kind(part(f"Cast on 40 sts.\n## Tip\n{rows}"), "K21")
    assert clue.words == f"All decreases lean to the {leans}, seen from the right side."


@pytest.mark.parametrize(("sl", "chains"), [("Sl 1, ", 1), ("K1, ", 0)])
def test_a_knitted_edge_has_no_chain(sl, chains):
    """Only an edge stitch that is slipped makes a chain (M. Stanley, as above, from memory)."""
    rows = f"Row 1 (RS): {sl}k11.\nRow 2 (WS): {sl}p11.\nRep rows 1 and 2 six times more.\n"
    assert len(of_kind(part(f"Cast on 12 sts.\n## Flap\n{rows}"), "K16")) == chains


# --- the first sign of trouble -----------------------------------------------------------------------

FERN = """\
# Fern
Cast on 13 sts.
## Fern
Row 1 (RS): K1, yo, k2tog, k to end.
Row 2 (WS): Purl.
Row 3: K1, [ssk, yo, k1] 4 times.
"""


def signs(text):
    work = WorkUp(text, "fern")
    return first_signs(text, parts_of(work.knitted()), lambda t: WorkUp(t, "fern").knitted())


def test_a_forgotten_yarn_over_shows_where_a_row_first_needs_the_stitch():
    """Row 1 is left with 12 stitches, row 2 takes any number, and row 3 needs 13."""
    over, fewer, *_ = signs(FERN)
    assert (
        over.words
        == "If the first yarn over of row 1 is forgotten, row 3 is the first that does not come out."
    )
    assert (
        fewer.words
        == "If the first decrease of row 1 is forgotten, row 3 is the first that does not come out."
    )


def test_where_every_row_takes_any_number_nothing_shows_it():
    text = (
        "# Plain\nCast on 13 sts.\n## Plain\nRow 1 (RS): K1, yo, k to end.\nRow 2 (WS): Purl.\nRow 3: Knit.\n"
    )
    (over,) = signs(text)
    assert over.order is None
    assert over.words.endswith("every row still comes out: only the look of the row tells.")


@pytest.mark.parametrize("text", ["# Nothing\n", "# Plain\nCast on 3 sts.\nRow 1: Knit.\n"])
def test_rows_without_occasion_have_no_sign(text):
    assert signs(text) == ()
