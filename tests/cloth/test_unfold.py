"""What lies flat in life is laid out without a fold, and three stitches in the place of one take its place."""

from pathlib import Path

import numpy as np
import pytest
from shapely.geometry import Polygon

from purlwright.cloth.mesh import mesh_of
from purlwright.cloth.relax.level import springs_of
from purlwright.cloth.relax.shape import Lies, levels_of, relax
from purlwright.cloth.relax.unfold import unfolded
from purlwright.cloth.rest import rest_of
from purlwright.cloth.settled import settle
from purlwright.workup import WorkUp

SHAWL = next((Path(__file__).resolve().parents[2] / "examples").glob("gannet*.pattern.md"))


def part(words):
    mesh = mesh_of(WorkUp(words).knitted())
    rest = rest_of(mesh, stitch_mm=5.0, row_mm=5.0)
    level = levels_of(mesh, rest, np.arange(mesh.n, dtype=np.int32), 5.0)
    return mesh, rest, level


def test_a_stitch_drawn_over_its_neighbours_is_put_back():
    mesh, rest, level = part("Cast on 12 sts.\nKnit 11 rows.\n")
    flat = relax(mesh, rest, lies=Lies.BLOCKED).position_mm[:, :2] / 5.0
    folded = flat.copy()
    folded[6 * 12 + 5] += 1.6
    out, _, steps = unfolded(level, springs_of(level, bend=False), folded)
    assert steps > 0
    faces = np.split(mesh.node_of_face, mesh.first_of_face[1:-1])
    assert all(Polygon(out[face]).exterior.is_ccw for face in faces)
    assert sum(Polygon(out[face]).area for face in faces) == pytest.approx(11 * 11, rel=0.05)


def test_what_has_no_fold_is_left_as_it_is():
    mesh, rest, level = part("Cast on 6 sts.\nKnit 5 rows.\n")
    flat = relax(mesh, rest, lies=Lies.BLOCKED).position_mm[:, :2] / 5.0
    out, _, steps = unfolded(level, springs_of(level, bend=False), flat)
    assert steps == 0
    assert np.array_equal(out, flat)


def test_three_stitches_in_the_place_of_one_are_as_wide_as_one():
    words = "Cast on 9 sts.\nRow 1: K4, (k1, yo, k1) in next st, k4.\nRow 2: P4, p3tog, p4.\nRow 3: Knit.\n"
    mesh, rest, _ = part(words)
    row = [rest.stitch_mm[mesh.order == order].sum() for order in np.unique(mesh.order)[:4]]
    assert row == pytest.approx([45.0] * 4)


def test_a_lace_shawl_is_blocked_without_a_fold_into_a_triangle():
    work = WorkUp(SHAWL.read_text(encoding="utf-8"))
    shape = settle(work.knitted(), work.fabric_gauge(), lies=Lies.BLOCKED).shape
    assert shape.inverted <= 0.001 * 14_628  # there were 1,611
    hull = Polygon(shape.position_mm[:, :2]).convex_hull
    box = hull.minimum_rotated_rectangle
    assert 0.45 < hull.area / box.area < 0.7  # a triangle has half of the rectangle about it
