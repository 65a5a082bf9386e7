"""The picture of a relaxed cloth: what is near is drawn last, and the inside is paler than the outside."""

import numpy as np
import pytest

from purlwright.cloth.loop_drawing import Look
from purlwright.cloth.view import FROM_ABOVE, FROM_THE_FRONT, Eye, draw_view, stood_up
from purlwright.drawing import to_svg

LOOK = Look(yarns=("#808080", "#204060"))


def tube(rounds=12, around=24, radius=40.0, high=60.0, top=1.0):
    """A tube, or a cone with ``top`` times its radius at the upper end; right side out."""
    turn = np.arange(around) * 2 * np.pi / around
    levels = np.linspace(0, high, rounds)
    radii = np.linspace(radius, radius * top, rounds)
    at = np.concatenate(
        [
            np.column_stack([r * np.sin(turn), np.full(around, y), r * np.cos(turn)])
            for y, r in zip(levels, radii, strict=True)
        ]
    )
    faces = [
        (
            n * around + i,
            n * around + (i + 1) % around,
            (n + 1) * around + (i + 1) % around,
            (n + 1) * around + i,
        )
        for n in range(rounds - 1)
        for i in range(around)
    ]
    node = np.array(faces, np.int32).reshape(-1)
    return at, np.arange(0, len(node) + 1, 4, dtype=np.int32), node


def paths(drawing):
    return drawing.shapes[0].shapes


def lightness(path):
    return int(path.ink.fill[1:3], 16)


def test_a_cloth_without_faces_is_an_empty_sheet():
    none = np.zeros((0, 3)), np.zeros(1, np.int32), np.zeros(0, np.int32)
    assert draw_view(*none, np.zeros(0, np.int8)).shapes == ()
    assert stood_up(none[0])[1] is False


def test_a_tube_from_the_front_is_as_wide_as_its_diameter_and_as_high_as_it_is():
    at, first, node = tube()
    drawing = draw_view(at, first, node, np.zeros(len(at), np.int8), LOOK)
    assert drawing.width_mm == pytest.approx(80 + 8)
    assert drawing.height_mm == pytest.approx(60 + 8)


def test_the_inside_is_drawn_first_and_paler():
    """Seen from above, the far wall shows its inside (the wrong side) and the near wall its outside."""
    at, first, node = tube()
    made = paths(draw_view(at, first, node, np.zeros(len(at), np.int8), LOOK, eye=FROM_ABOVE))
    far, near = made[0], made[-1]
    assert lightness(far) > lightness(near)
    assert np.mean([s[2] for s in far.steps if s[0] == "M"]) < np.mean(
        [s[2] for s in near.steps if s[0] == "M"]
    )


def test_the_wrong_side_is_paler_than_the_right_side_in_the_same_light():
    at = np.array([[0.0, 0, 0], [9, 0, 0], [9, 9, 0], [0, 9, 0]])
    first, node, yarn = np.array([0, 4], np.int32), np.array([0, 1, 2, 3], np.int32), np.zeros(4, np.int8)
    (right,) = paths(draw_view(at, first, node, yarn, LOOK))
    (wrong,) = paths(draw_view(at, first, node[::-1].copy(), yarn, LOOK))
    assert lightness(wrong) > lightness(right)


def test_every_face_is_drawn_once():
    at, first, node = tube()
    made = paths(draw_view(at, first, node, np.zeros(len(at), np.int8), LOOK, eye=Eye(turn_deg=30)))
    assert sum(step[0] == "Z" for p in made for step in p.steps) == len(first) - 1


def test_each_yarn_has_its_colour():
    at, first, node = tube()
    yarn = (np.arange(len(at)) // 24 % 2).astype(np.int8)
    svg = to_svg(draw_view(at, first, node, yarn, LOOK, eye=FROM_THE_FRONT), "x")
    assert draw_view(at, first, node, yarn, LOOK) == draw_view(at, first, node, yarn, LOOK)
    grey = [p for p in paths(draw_view(at, first, node, yarn, LOOK)) if p.ink.fill[1:3] == p.ink.fill[3:5]]
    assert grey
    assert len(grey) < len(paths(draw_view(at, first, node, yarn, LOOK)))
    assert "<script" not in svg


@pytest.mark.parametrize("spin", [0, 1, 2])
def test_a_cone_stands_on_its_wide_end_however_it_lies(spin):
    at, _, _ = tube(top=0.3)
    stood, solid = stood_up(np.roll(at, spin, axis=1) * [1, -1, 1])
    assert solid
    high = stood[:, 1]
    wide = np.hypot(stood[:, 0], stood[:, 2])
    assert wide[high < np.quantile(high, 0.2)].mean() > wide[high > np.quantile(high, 0.8)].mean()
    assert high.max() - high.min() == pytest.approx(60)


def test_a_flat_piece_is_left_as_it_lies():
    x, y = np.meshgrid(np.arange(20.0), np.arange(30.0))
    at = np.column_stack([x.ravel(), y.ravel(), 0.1 * np.sin(x.ravel())])
    stood, solid = stood_up(at)
    assert not solid
    assert stood == pytest.approx(at - at.mean(axis=0))


def test_a_thing_whose_way_up_is_known_is_stood_so_and_not_mirrored():
    at, _, _ = tube(top=0.3)
    up = np.array([0.0, 0.0, -1.0]) if np.ptp(at[:, 2]) == 60 else np.array([0.0, -1.0, 0.0])
    stood, solid = stood_up(at, up)
    assert solid
    assert stood[:, 1] == pytest.approx((at - at.mean(axis=0)) @ up)
    moved = np.linalg.lstsq(at - at.mean(axis=0), stood, rcond=None)[0]
    assert np.linalg.det(moved) == pytest.approx(1)
