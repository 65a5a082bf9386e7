"""The line round a shape made of boxes."""

from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from purlwright.cloth.silhouette import line_round
from purlwright.drawing import Rect


def rect(x, y, w, h):
    return Rect(x_mm=x, y_mm=y, width_mm=w, height_mm=h)


def lines(steps):
    """The closed lines of a path, each a list of its corners."""
    out = []
    for step in steps:
        if step[0] == "M":
            out.append([])
        if step[0] != "Z":
            out[-1].append(step[1:])
    return out


def area(rects, step_mm=0.3):
    """What lies within the lines: those that turn the other way are holes."""
    found = 0.0
    for line in lines(line_round(rects, step_mm)):
        shape = Polygon(line)
        assert shape.is_valid
        found += (
            shape.area
            if shape.exterior.is_ccw == Polygon(lines(line_round(rects, step_mm))[0]).exterior.is_ccw
            else -shape.area
        )
    return found


def test_nothing_has_no_line():
    assert line_round([], 0.3) == ()


def test_one_box_has_four_corners():
    (line,) = lines(line_round([rect(3, 4, 30, 15)], 0.3))
    assert len(line) == 4
    assert abs(Polygon(line).area - 450) < 450 * 0.02


def test_steps_of_single_rows_become_a_slope_and_large_ones_stay():
    fine = [rect(0.2 * n, 0.3 * n, 40 - 0.4 * n, 0.3) for n in range(60)]
    (line,) = lines(line_round(fine, 0.3))
    assert len(line) <= 8
    assert (
        abs(
            Polygon(line).area
            - unary_union([box(r.x_mm, r.y_mm, r.x_mm + r.width_mm, r.y_mm + r.height_mm) for r in fine]).area
        )
        < 20
    )
    coarse = [rect(0, 8 * n, 40 - 6 * n, 8) for n in range(4)]
    (line,) = lines(line_round(coarse, 0.3))
    assert len(line) == 10


def test_a_fine_gap_is_closed_and_a_wide_one_is_not():
    apart = [rect(0, 0, 10, 20), rect(10.6, 0, 10, 20)]
    assert len(lines(line_round(apart, 0.3))) == 1
    wide = [rect(0, 0, 10, 20), rect(14, 0, 10, 20)]
    assert len(lines(line_round(wide, 0.3))) == 2


def test_a_hole_is_kept_and_turns_the_other_way():
    ring = [rect(0, 0, 30, 10), rect(0, 20, 30, 10), rect(0, 10, 10, 10), rect(20, 10, 10, 10)]
    outer, inner = (Polygon(line) for line in lines(line_round(ring, 0.3)))
    assert outer.exterior.is_ccw != inner.exterior.is_ccw
    assert abs(outer.area - inner.area - 800) < 20
