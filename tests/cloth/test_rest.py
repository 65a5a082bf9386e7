"""Lengths at rest, and faces whose corners lie on one circle."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from purlwright.cloth.mesh import mesh_of
from purlwright.cloth.rest import cyclic_polygons, rest_of
from purlwright.workup import WorkUp


def mesh(text):
    return mesh_of(WorkUp(text).knitted())


def test_a_row_is_its_stitches_wide_and_a_column_its_rows_high():
    m = mesh("Cast on 10 sts.\nKnit 8 rows.\nBind off.\n")
    r = rest_of(m, stitch_mm=5, row_mm=3)
    assert set(r.edge_mm.tolist()) == {5.0, 3.0}
    assert r.area_mm2.sum() == pytest.approx(9 * 5 * 8 * 3)


def test_each_stitch_may_have_its_own_size():
    m = mesh("Cast on 3 sts.\nKnit 2 rows.\n")
    w = np.array([4, 4, 4, 5, 5, 5, 6, 6, 6.0])
    r = rest_of(m, stitch_mm=w, row_mm=w / 2)
    assert sorted(r.edge_mm.tolist()) == [2.5] * 3 + [3.0] * 3 + [4, 4, 5, 5, 6, 6]


@pytest.mark.parametrize("size", [0, -1, float("nan"), np.array([1.0])])
def test_a_stitch_has_a_size(size):
    with pytest.raises(ValueError, match="a stitch has a size"):
        rest_of(mesh("Cast on 3 sts.\nKnit 2 rows.\n"), stitch_mm=size, row_mm=1)


def test_an_empty_net_rests():
    r = rest_of(mesh(""), stitch_mm=5, row_mm=3)
    assert (len(r.edge_mm), len(r.area_mm2), r.faces) == (0, 0, ())


@given(st.lists(st.floats(0.2, 5), min_size=3, max_size=8))
def test_a_polygon_has_its_sides_its_corners_on_one_circle_and_the_area_of_brahmagupta(sides):
    longest = max(sides)
    if longest > 0.95 * (sum(sides) - longest):
        return
    at = cyclic_polygons(np.array([sides]))[0]
    lengths = np.hypot(*(np.roll(at, -1, axis=0) - at).T)
    assert lengths == pytest.approx(sides, rel=1e-6)
    shape = Polygon(at)
    assert shape.is_valid
    assert shape.exterior.is_ccw
    if len(sides) == 4:  # Brahmagupta, 7th century; for a triangle, Heron's formula
        s = sum(sides) / 2
        assert shape.area == pytest.approx(np.sqrt(np.prod([s - x for x in sides])), rel=1e-5)
    if len(sides) == 3:
        s = sum(sides) / 2
        assert shape.area == pytest.approx(np.sqrt(s * np.prod([s - x for x in sides])), rel=1e-5)
