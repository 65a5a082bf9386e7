"""Pieces laid out row on row: widths and heights are stitches and rows at the gauge, wedges stand up as steps."""

from pathlib import Path

import numpy as np
import pytest

from purlwright.cloth.laid import lay_out
from purlwright.cloth.outline import boxes, has_short_rows, measure
from purlwright.cloth.pictures import NoPictures, piece_pictures, stitch_and_row_mm
from purlwright.drawing import to_svg
from purlwright.workup import WorkUp

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))


def laid(text, *, stitch_mm=5.0, row_mm=3.0, piece=0):
    knitted = WorkUp(text).knitted()
    return lay_out(knitted.fabric, knitted.ledger.pieces[piece], stitch_mm=stitch_mm, row_mm=row_mm)


def cm(lengths_mm):
    return ", ".join(f"{v / 10:.1f}" for v in lengths_mm) + " cm"


def test_a_square_is_its_stitches_wide_and_its_rows_high():
    mine = measure(laid("Cast on 10 sts.\nKnit 8 rows.\nBind off.\n"))
    assert (mine.first_mm, mine.widest_mm, mine.last_mm) == (50, 50, 50)
    assert (mine.left_mm, mine.right_mm) == (24, 24)


def test_one_stitch_and_one_row():
    mine = measure(laid("Cast on 1 st.\nRow 1: Knit.\n"))
    assert (mine.widest_mm, mine.high_mm) == (5, 3)


def test_decreases_at_both_ends_leave_the_middle_in_the_middle():
    piece = laid(
        "Cast on 20 sts.\nRow 1 (RS): K1, ssk, k to last 3 sts, k2tog, k1.\nRow 2: Purl.\nRep rows 1 and 2 4 times more.\n"
    )
    mine = measure(piece)
    assert (mine.first_mm, mine.last_mm) == (100, 50)
    top = piece.x_mm[piece.order == piece.order.max()]
    assert abs(float(top.mean())) < 2.5


def test_an_edge_that_slants_is_as_long_as_its_rows():
    mine = measure(
        laid(
            "Cast on 12 sts.\nRow 1 (RS): K1, ssk, k to end.\nRow 2: Purl.\nRep rows 1 and 2 3 times more.\n"
        )
    )
    assert (mine.left_mm, mine.right_mm) == (24, 24)


def test_a_short_row_lies_only_on_the_stitches_it_works():
    piece = laid("Cast on 10 sts.\nRow 1: Knit.\nRow 2: Knit 6, turn.\nRow 3: Knit to end.\nRow 4: Knit.\n")
    assert has_short_rows(piece) is False  # two rows are a step that a knitter does not see
    heights = sorted({float(h) for h in piece.high_mm[piece.order == piece.order.max()]})
    assert heights == [6, 12]


def test_rows_short_at_one_edge_make_the_other_longer():
    text = (Path(__file__).resolve().parents[2] / "examples" / "skerry-hat.pattern.md").read_text(
        encoding="utf-8"
    )
    piece = laid(text)
    mine = measure(piece)
    assert has_short_rows(piece)
    # Its notes: 14 wedges of 12 rows at the brim, of 2 at the crown; the last row is grafted.
    assert round(mine.left_mm / 3) == 14 * 12
    assert round(mine.right_mm / 3) == 14 * 2


def test_a_tube_is_drawn_flat_and_measured_round():
    piece = laid("Cast on 20 sts and join to work in the round.\nRnd 1: Knit.\nRnd 2: Knit.\n")
    mine = measure(piece)
    assert piece.tube
    assert mine.first_mm == 100
    assert float(piece.x_mm.max() - piece.x_mm.min()) == pytest.approx(47.5)


def test_loops_bound_off_at_an_edge_stay_where_they_were():
    piece = laid(
        "Cast on 10 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: Bind off 4 sts, k to end.\nRow 4: Purl.\nRow 5: Knit.\n"
    )
    top = piece.x_mm[piece.order == piece.order.max()]
    assert sorted(top.tolist()) == [-22.5, -17.5, -12.5, -7.5, -2.5, 2.5]


def test_slipped_stitches_leave_a_row_as_wide_as_it_is():
    piece = laid("Cast on 9 sts.\nRow 1: K1, *sl 1, k1; rep from * to end.\nRow 2: Knit.\nRow 3: Knit.\n")
    assert measure(piece).widest_mm == 45
    assert not has_short_rows(piece)


def test_an_edge_of_slipped_stitches_is_as_long_as_its_rows():
    piece = laid("Cast on 9 sts.\nRow 1: Sl 1, k to end.\nRep row 1 nine times more.\n")
    found = measure(piece)
    assert (found.left_mm, found.right_mm) == (10 * piece.row_mm, 10 * piece.row_mm)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_every_stitch_of_the_examples_has_one_place(path):
    knitted = WorkUp(path.read_text(encoding="utf-8")).knitted()
    found = [lay_out(knitted.fabric, p, stitch_mm=5, row_mm=3).stitch for p in knitted.ledger.pieces]
    every = np.concatenate(found)
    assert len(np.unique(every)) == len(every)
    assert len(every) >= 0.99 * knitted.fabric.n


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_every_example_is_drawn_and_said(path):
    work = WorkUp(path.read_text(encoding="utf-8"))
    knitted = [work.knitted(size) for size in work.sizes]
    found = piece_pictures(work.pattern, knitted, 0, cm)
    assert found
    for one in found:
        assert to_svg(one.picture.drawing, "a piece", one.picture.words).startswith("<svg")
        assert one.picture.drawing.width_mm < 260
        assert len(to_svg(one.picture.drawing, "", "")) < 120_000


def test_without_a_gauge_there_is_no_drawing_and_it_is_said_why():
    work = WorkUp("Cast on 10 sts.\nKnit 8 rows.\n")
    with pytest.raises(NoPictures, match="no gauge says how many stitches and how many rows"):
        stitch_and_row_mm(work.pattern)


@pytest.mark.parametrize(("stitch_mm", "row_mm"), [(0, 3), (5, 0), (-1, 3)])
def test_a_stitch_without_a_size_is_refused(stitch_mm, row_mm):
    with pytest.raises(ValueError, match="have a size"):
        laid("Cast on 3 sts.\n", stitch_mm=stitch_mm, row_mm=row_mm)


def test_a_piece_without_stitches_has_no_measure():
    knitted = WorkUp("Cast on 3 sts.\nKnit 2 rows.\n").knitted()
    from dataclasses import replace

    empty = lay_out(knitted.fabric, replace(knitted.ledger.pieces[0], rows=()), stitch_mm=5, row_mm=3)
    assert measure(empty) is None
    assert boxes(empty) == []
