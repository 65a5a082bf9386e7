"""Measures of settled pieces against their stitches and rows, and areas against Shapely."""

import numpy as np
import pytest
from shapely import Polygon

from purlwright.cloth.measure import edges_of, length_along, measured, rims_of, row_nodes
from purlwright.cloth.mesh import mesh_of
from purlwright.cloth.relax.shape import Lies
from purlwright.cloth.settled import settle
from purlwright.workup import WorkUp

GAUGE = "Gauge: 20 sts and 30 rows = 10 cm in stockinette stitch, after washing\n"


def settled(words, lies=Lies.FREE):
    work = WorkUp("# Test\n" + GAUGE + "\n" + words)
    knitted = work.knitted()
    return settle(knitted, work.fabric_gauge(), lies=lies), knitted


def by_name(words, **how):
    s, knitted = settled(words, **how)
    return {(m.what, m.order): m for m in measured(s, knitted)}


FLAT = "## Square\nCast on 20 sts.\n*Row 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 14 times more.\nBind off.\n".replace(
    "*", ""
)


def test_a_square_is_as_wide_as_its_gauge_says():
    found = by_name(FLAT)
    width = next(m for (what, _), m in found.items() if what == "width")
    assert width.rest_mm == pytest.approx(100)
    assert width.mm == pytest.approx(100, rel=0.01)
    assert 0 < width.off_mm < 10
    for what in ("length", "left edge", "right edge"):
        assert found[what, -1].mm == pytest.approx(100, rel=0.02)
        assert found[what, -1].off_mm > 0


def test_the_area_is_that_of_its_outline():
    s, knitted = settled(FLAT, lies=Lies.BLOCKED)
    (rim,) = rims_of(s.mesh)
    outline = Polygon(s.shape.position_mm[rim, :2])
    area = next(m for m in measured(s, knitted) if m.what == "area")
    # the middles of the outer stitches are half a stitch inside the edge: 30 rows of it at both sides
    assert area.mm - 30 * (100 / 30) * 2.5 * 2 == pytest.approx(outline.area, rel=1e-3)
    # a rectangle: stitches times rows
    assert area.rest_mm == pytest.approx(20 * 5 * 30 * 100 / 30)
    assert area.mm == pytest.approx(100 * 100, rel=0.01)


def test_a_tube_has_no_side_edges_to_its_area():
    area = by_name("## Tube\nCast on 40 sts. Join to work in the round.\nKnit 20 rounds.\nBind off.\n")[
        "area", -1
    ]
    # a cylinder: 2 pi r times its height
    assert area.rest_mm == pytest.approx(40 * 5 * 20 * 100 / 30, rel=0.01)
    assert area.mm == pytest.approx(40 * 5 * 20 * 100 / 30, rel=0.02)


def test_a_tube_has_a_round_and_no_edges():
    found = by_name("## Tube\nCast on 40 sts. Join to work in the round.\nKnit 20 rounds.\nBind off.\n")
    around = [m for (what, _), m in found.items() if what == "round"]
    assert around
    assert all(m.rest_mm == pytest.approx(200) for m in around)
    # both are ends of the tube, which open a little in this model: nothing bends them back
    assert all(m.mm == pytest.approx(200, rel=0.05) for m in around)
    assert not any(what in {"width", "left edge"} for what, _ in found)


def test_edges_go_up_both_sides_and_short_rows_leave_one_out():
    words = "Cast on 12 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: Knit 8, turn.\nRow 4: Purl.\nRow 5: Knit.\nRow 6: Purl.\n"
    mesh = mesh_of(WorkUp(words).knitted())
    left, right = edges_of(mesh, 0)
    assert (len(left), len(right)) == (5, 7)
    assert mesh.stitch[right[0]] == 11  # a right-side row begins on the loop cast on last
    assert mesh.stitch[left[0]] == 0


def test_rims_of_a_tube_are_its_two_ends_and_the_first_goes_round_it():
    mesh = mesh_of(WorkUp("Cast on 20 sts. Join to work in the round.\nKnit 6 rounds.\n").knitted())
    assert sorted(len(r) for r in rims_of(mesh)) == [21, 21]


def test_a_row_that_is_not_there_and_an_empty_piece():
    mesh = mesh_of(WorkUp("").knitted())
    assert rims_of(mesh) == ()
    assert len(row_nodes(mesh, 3)) == 0
    assert length_along(np.zeros((0, 3)), np.zeros(0, np.int32)) == 0
    s, knitted = settled("")
    assert measured(s, knitted) == ()


def test_a_long_scarf_lies_flat_and_straight():
    s, _ = settled(
        "## Scarf\nCast on 12 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 99 times more.\nBind off.\n"
    )
    x, y, z = np.ptp(s.shape.position_mm, axis=0)
    assert y == pytest.approx(200 * 10 / 3, rel=0.02)
    assert x < 1.1 * 11 * 5
    assert z < 0.02 * y


def test_a_pattern_settles_each_size_once():
    work = WorkUp(
        "# Test\nSizes: S (M)\n" + GAUGE + "\n## Square\nCast on 10 (12) sts.\nKnit 12 rows.\nBind off.\n"
    )
    small = work.settled()
    assert work.settled("S") is small
    assert work.settled("M").mesh.n > small.mesh.n
    blocked = work.settled(lies="blocked")
    assert blocked is not small
    assert blocked.mesh is small.mesh
    assert np.ptp(blocked.shape.position_mm[:, 2]) == 0
    with pytest.raises(ValueError, match="no size"):
        work.settled("XL")


def test_a_point_is_as_long_as_its_middle_and_its_edges_are_longer():
    """60 rows at 30 to 10 cm are 20 cm (plain division)."""
    point = (
        "Cast on 40 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 14 times more.\n"
        "Row 3: K1, ssk, knit to last 3 sts, k2tog, k1.\nRow 4: Purl.\nRep rows 3 and 4 14 times more.\nBind off.\n"
    )
    told = {what: m.mm for (what, _), m in by_name(point).items()}
    assert told["length"] == pytest.approx(200, abs=5)
    assert told["left edge"] > 1.05 * told["length"]


def test_above_a_rib_the_widest_row_is_one_that_the_rib_does_not_draw_in():
    """40 stitches at 20 to 10 cm are 20 cm (plain division)."""
    hem = (
        "Cast on 40 sts.\nRow 1 (RS): *K2, p2; rep from * to end.\nRep row 1 15 times more.\n"
        "Row 2: Knit.\nRow 3: Purl.\nRep rows 2 and 3 29 times more.\nDec row: K1, ssk, knit to end.\nBind off.\n"
    )
    widths = [m.mm for (what, _), m in by_name(hem).items() if what == "width"]
    assert len(widths) == 3
    assert max(widths) == pytest.approx(200, rel=0.02)
    assert widths[0] < 0.85 * widths[1]
