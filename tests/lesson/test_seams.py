"""Sewn seams: which row meets which, how many with how many, and what is told and drawn of it.

Rates are plain division; that side edges are sewn bar by bar and lose a stitch each is common practice.
"""

import pytest

from purlwright.lesson.joins import rate_of
from purlwright.lesson.seam_drawing import SHOWN, draw_seam, draw_turned
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


BAND = (
    "# Quay Bib\nGauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\n"
    "## Bib\nCast on 30 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 until {rows} rows have been worked.\n"
    "Bind off.\n\n## Band\nCast on {sts} sts.\nRow 1 (RS): *K1, p1; rep from * to end.\n"
    "Row 2: *K1, p1; rep from * to end.\nRep rows 1 and 2 twice more.\nBind off in rib.\n\n## Finishing\n{sew}\n"
)
ON_THE_RIGHT = "Sew bound-off edge of Band to right edge of Bib."


def band(sew=ON_THE_RIGHT, sts=30, rows=39):
    return WorkUp(BAND.format(sew=sew, sts=sts, rows=rows), "bib")


def test_stitches_of_a_band_meet_ends_of_rows_in_a_rate():
    (seam,) = seams_of(band().knitted(), (5.0, 3.5))
    assert (seam.names, seam.many, seam.along) == (("Band", "Bib"), (30, 40), "both")
    assert seam.meets == ((30, 40),)  # 39 rows and the bind-off row
    assert [many for _, many in seam.each].count(2) == 10
    assert seam.mm == pytest.approx(40 * 3.5)
    assert not seam.cast_on
    used = {a for a, _ in seam.join.pairs}, {b for _, b in seam.join.pairs}
    assert list(map(len, used)) == [30, 40], "no stitch and no row is left out"


@pytest.mark.parametrize(
    ("sew", "loop_low"),
    [
        (ON_THE_RIGHT, "left"),
        ("Sew bound-off edge of Band to left edge of Bib.", "right"),
        ("Sew the cast-on edge of Band to the right side edge of Bib.", "right"),
        ("Sew left edge of Bib to the cast-on edge of Band.", "left"),
    ],
)
def test_the_band_is_turned_with_its_right_side_up(sew, loop_low):
    """Turned to the left its left end lies low; by hand, on a sheet of paper."""
    work = band(sew).knitted()
    (seam,) = seams_of(work)
    f = work.fabric
    first, last = seam.join.pairs[0], seam.join.pairs[-1]
    side, loops = (0, 1) if seam.many[0] > seam.many[1] else (1, 0)
    assert f.row_of_stitch[first[side]] < f.row_of_stitch[last[side]], "up the side edge"
    # the last row bound off runs from the right end; a cast-on's last loop lies at the right end
    to_the_left = (last[loops] > first[loops]) == ("bound-off" in sew)
    assert to_the_left == (loop_low == "right")


@pytest.mark.parametrize(("sts", "rows"), [(30, 20), (30, 70)])
def test_edges_that_would_not_lie_flat_are_not_joined(sts, rows):
    assert seams_of(band(sts=sts, rows=rows).knitted()) == ()


def test_the_lesson_tells_how_stitches_are_sewn_to_rows(lesson_of):
    text = to_text(lesson_of(band()))
    assert "30 stitches to 40 rows: 3 stitches to 4 rows" in text
    assert "of every 3 stitches take 2 with one row each and the last with two" in " ".join(text.split())
    assert "under both legs of the first stitch inside the bound-off edge" in " ".join(text.split())
    assert "goes through 60 times" in text
    twice = " ".join(to_text(lesson_of(band(rows=59))).split())
    assert "two rows with every stitch" in twice


def test_the_drawing_of_stitches_against_rows():
    drawing = draw_turned(seams_of(band().knitted())[0])
    words = [s.words for s in drawing.shapes if type(s).__name__ == "Text"]
    assert words.count("2 rows") in {2, 3}
    assert words.count("1 row") + words.count("2 rows") == SHOWN
    rows = words.count("1 row") + 2 * words.count("2 rows")
    signs = [s for s in drawing.shapes if type(s).__name__ == "Path"]
    assert len(signs) == 2 * rows + 4 * SHOWN  # two columns of rows; two stitches deep, each on its ground
    assert drawing.height_mm < 150
