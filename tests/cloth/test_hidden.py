"""What lies behind another layer of cloth is left out of a small picture, and nothing else."""

import numpy as np

from purlwright.cloth.view import draw_view


def sheet(wide, high, z, first=0):
    """Square faces of 1 mm, anticlockwise seen from the front."""
    x, y = np.meshgrid(np.arange(wide + 1.0), np.arange(high + 1.0))
    at = np.column_stack([x.ravel(), y.ravel(), np.full(x.size, z)])
    faces = [
        (a, a + 1, a + wide + 2, a + wide + 1)
        for b in range(high)
        for a in range(b * (wide + 1), b * (wide + 1) + wide)
    ]
    return at, np.array(faces, np.int32) + first


def drawn(*layers):
    """How many faces are drawn of all that these layers have."""
    at, faces, many = [], [], 0
    for wide, high, z in layers:
        a, f = sheet(wide, high, z, many)
        at.append(a)
        faces.append(f)
        many += len(a)
    node = np.concatenate(faces).ravel()
    first = np.arange(0, len(node) + 1, 4, dtype=np.int32)
    drawing = draw_view(np.concatenate(at), first, node, np.zeros(many, np.int8), within_mm=(90, 90))
    (group,) = drawing.shapes
    return sum(step[0] == "M" for path in group.shapes for step in path.steps)


def test_one_layer_is_drawn_whole():
    assert drawn((20, 20, 0)) == 400


def test_two_layers_close_together_are_both_drawn():
    assert drawn((20, 20, 0), (20, 20, 1)) == 800


def test_most_of_a_layer_far_behind_is_left_out_and_the_front_is_whole():
    found = drawn((20, 20, 0), (20, 20, 50))
    assert 400 <= found < 400 + 4 * 2 * 20


def test_what_stands_out_beside_the_front_is_drawn():
    assert drawn((40, 20, 0), (20, 20, 50)) >= 400 + 400
