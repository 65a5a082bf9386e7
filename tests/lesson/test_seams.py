"""Sewn seams: which row meets which, how many with how many, and what is told and drawn of it.

Rates are plain division; that side edges are sewn bar by bar and lose a stitch each is common practice.
"""

import pytest

from purlwright.lesson.joins import rate_of
from purlwright.lesson.seam_drawing import SHOWN, draw_seam
from purlwright.lesson.seams import seams_of
from purlwright.sheet.lesson.asked import Asked
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp

PIECE = "Cast on 40 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): {back}.\nRep rows 1-2 {more} times more.\n"


def bag(*, back="Purl", more=(14, 14), sew="Sew the side seams."):
    parts = [
        f"## {name}\n{PIECE.format(back=back, more=n)}Bind off.\n"
        for name, n in zip(("Back", "Front"), more, strict=True)
    ]
    head = "# Ebb Bag\nGauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\n"
    return WorkUp(head + "\n".join(parts) + f"\n## Finishing\n{sew}\n", "bag")


def test_both_side_seams_of_two_pieces():
    found = seams_of(bag().knitted(), (5.0, 10 / 2.8))
    assert len(found) == 2
    for seam in found:
        assert set(seam.names) == {"Back", "Front"}
        assert seam.many == (31, 31)  # 30 rows and the bind-off row
        assert (seam.along, seam.face) == ("rows", "V")
        assert set(seam.each) == {(1, 1)}
        assert seam.mm == pytest.approx(31 / 2.8 * 10)
        assert seam.lost_mm == 10.0  # a stitch of 5 mm at each edge
        assert seam.tail_mm == pytest.approx(31 / 2.8 * 10 * 1.5 + 200)


def test_edges_of_unlike_length_are_eased_in_evenly():
    seam = seams_of(bag(more=(14, 13)).knitted())[0]
    assert sorted(seam.many) == [29, 31]
    each = [many for _, many in seam.each]
    assert sum(each) == 31
    assert each.count(2) == 2
    assert seam.mm is None
    assert seam.tail_mm is None


def test_garter_edges_are_known_by_their_ridges():
    assert seams_of(bag(back="Knit").knitted())[0].face == "garter"


def test_two_cast_on_edges_stand_half_a_stitch_apart():
    found = seams_of(bag(sew="Sew cast-on edge of Front to cast-on edge of Back.").knitted())
    (seam,) = found
    assert (seam.along, seam.many, seam.heads) == ("loops", (40, 40), True)


def test_each_pair_stands_in_the_fabric():
    work = bag()
    f = work.knitted().fabric
    for seam in seams_of(work.knitted()):
        rows = [(int(f.row_of_stitch[a]), int(f.row_of_stitch[b])) for a, b in seam.join.pairs]
        assert rows == sorted(rows), "up both edges, row by row"


@pytest.mark.parametrize(
    "text", ["# A\nCast on 4 sts.\nKnit 3 rows.\nBind off.\n", "# A\n", "# A\nCast on 1 st.\nKnit 1 row.\n"]
)
def test_no_seam_no_answer(text):
    assert seams_of(WorkUp(text).knitted()) == ()


def test_the_drawing_shows_the_place_where_two_are_taken():
    plain = draw_seam(seams_of(bag().knitted())[0])
    eased = draw_seam(seams_of(bag(more=(14, 13)).knitted())[0])
    signs = [len([s for s in drawing.shapes if type(s).__name__ == "Path"]) for drawing in (plain, eased)]
    assert signs[0] == 4 * SHOWN  # two columns of both edges
    assert signs[1] == 4 * SHOWN + 2  # one row more, in two columns
    for drawing in (plain, eased):
        assert drawing.width_mm > 0
        assert drawing.height_mm < 150


def test_the_lesson_tells_seam_and_yarn(lesson_of):
    text = to_text(lesson_of(bag(more=(14, 13))))
    assert "Finishing: seam of Back and Front, 2 alike" in text
    assert "29 rows to 31 rows" in text or "31 rows to 29 rows" in text
    assert "mostly 1 to 1, and 2 times 1 to 2" in text
    assert "under the bar between the edge stitch and the next" in text
    assert "at most" in text
    assert "The whole takes" in text


@pytest.fixture
def lesson_of():
    from purlwright.lessons import _material
    from purlwright.sheet.lesson.whole import lesson_document

    return lambda work: lesson_document(_material(work, "one size", {}), Asked())


def test_an_armhole_is_sewn_as_a_few_long_seams():
    """The front edge is sewn downwards where the back edge was sewn upwards: that begins no seam at each row."""
    body = (
        "Cast on 60 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 19 times more.\n"
        "Bind off 4 sts at the beginning of the next 2 rows. (52 sts)\n"
        "Dec row (RS): K1, ssk, knit to last 3 sts, k2tog, k1.\nNext row: Purl.\n"
        "Rep the last 2 rows 3 times more. (44 sts)\nWork 30 rows even in stockinette stitch.\n"
        "Next row (RS): K12, bind off 20 sts, knit to end. (24 sts)\nPlace the first 12 sts on a holder.\n"
        "### Second side\nRow 1 (WS): Purl.\nBind off.\n"
        "### First side\nWith WS facing, rejoin yarn to the held sts.\nRow 1 (WS): Purl.\nBind off.\n"
    )
    sleeves = (
        "## Sleeves (make 2)\nCast on 30 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 19 times more.\n"
        "Bind off 4 sts at the beginning of the next 2 rows. (22 sts)\n"
        "Dec row (RS): K1, ssk, knit to last 3 sts, k2tog, k1.\nNext row: Purl.\n"
        "Work 2 rows even in stockinette stitch.\nRep the last 4 rows 5 times more. (10 sts)\nBind off.\n"
    )
    knitted = WorkUp(
        f"# Tern\nGauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\n## Back\n{body}\n## Front\n{body}\n"
        f"{sleeves}\n## Finishing\nSew the shoulder seams.\nSet in the sleeves.\n"
    ).knitted()
    seams = [s for s in seams_of(knitted) if any("Sleeves" in name for name in s.names)]
    pairs = sum(len(s.join.pairs) for s in seams)
    assert pairs > 100
    assert max(len(s.join.pairs) for s in seams) >= 20
    assert len(seams) <= 6
    for seam in seams:
        assert sum(map(sum, seam.meets)) <= 2 * sum(seam.many)
    assert any(seam.meets for seam in seams), "the bound-off top of a cap meets row ends of the body"


@pytest.mark.parametrize(
    ("a", "b", "rate"),
    [(24, 32, (3, 4)), (30, 30, (1, 1)), (5, 7, (5, 7)), (20, 41, (1, 2)), (1, 50, (1, 8))],
)
def test_a_rate_in_small_numbers(a, b, rate):
    assert rate_of(a, b) == rate
