"""Loops of yarn: what lies over and what under, that the yarn runs on, and the solid for 3D viewers."""

import json
import struct

import numpy as np
import pytest

from purlwright.cloth.close_up import close_up
from purlwright.cloth.gltf import to_glb
from purlwright.cloth.loop_drawing import Look, draw_loops, strands
from purlwright.cloth.loops import POINTS, loops
from purlwright.drawing import to_svg
from purlwright.fabric.arrays import Seen
from purlwright.workup import WorkUp

PLAIN = "Cast on 6 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: Knit.\nRow 4: Purl.\n"
FOOT_LEG, HEAD = 2, POINTS // 2


def shown(text, *, rows=None, columns=None, piece=0):
    knitted = WorkUp(text).knitted()
    of = knitted.ledger.pieces[piece]
    orders = [e.order for e in of.rows] if rows is None else [of.rows[i].order for i in rows]
    return knitted.fabric, close_up(knitted.fabric, of, orders, stitch_mm=5.0, row_mm=3.5, columns=columns)


def of_row(fabric, made, order):
    return fabric.row_of_stitch[made.stitch] == order


def test_a_knit_stitch_comes_to_the_front_between_the_feet_and_the_head_of_the_one_it_came_through():
    """Its legs lie before the head below, its feet behind (any drawing of plain knitting shows it)."""
    fabric, made = shown(PLAIN)
    inner = of_row(fabric, made, 3)
    z = made.line[..., 2]
    assert (z[inner][:, FOOT_LEG] > 0).all()
    assert (z[inner][:, 0] < 0).all()
    assert (z[inner][:, HEAD] < 0).all()


def test_a_purl_stitch_lies_the_other_way_about():
    fabric, made = shown("Cast on 6 sts.\nRow 1 (RS): Purl.\nRow 2: Knit.\nRow 3: Purl.\n")
    inner = of_row(fabric, made, 3)
    assert (fabric.seen_of_stitch[made.stitch[inner]] == Seen.PURL).all()
    z = made.line[..., 2]
    assert (z[inner][:, FOOT_LEG] < 0).all()
    assert (z[inner][:, HEAD] > 0).all()


def test_every_stitch_passes_over_and_under_the_one_it_hangs_on():
    """Where the legs of a stitch cross the head below, one is before the other by a thickness of yarn or more."""
    fabric, made = shown(PLAIN + "Row 5: K2, p2, k2.\nRow 6: P2, k2, p2.\n")
    place = {int(s): i for i, s in enumerate(made.stitch)}
    first = fabric.first_parent_of_stitch
    looked = 0
    for s, i in place.items():
        for p in fabric.parent[first[s] : first[s + 1]].tolist():
            looked += 1
            legs, head = made.line[i, FOOT_LEG, 2], made.line[place[p], HEAD, 2]
            assert abs(legs - head) > made.thick_mm
            assert (legs > head) == (fabric.seen_of_stitch[s] != Seen.PURL)
    assert looked == 6 * 6


def test_the_yarn_runs_on_from_stitch_to_stitch_and_from_row_to_row():
    _, made = shown(PLAIN)
    on = made.goes_to >= 0
    assert on.sum() == len(made.stitch) - 1
    assert made.line[on, -1] == pytest.approx(made.line[made.goes_to[on], 0])


def test_the_other_colour_runs_behind_the_work():
    text = "Cast on 8 sts in A.\nRow 1 (RS): With A, knit.\nRow 2: With A, purl.\nRow 3: K2 A, k4 B, k2 A.\n"
    fabric, made = shown(text)
    row = np.flatnonzero(of_row(fabric, made, 4))
    a = row[made.yarn[row] == made.yarn[row[0]]]
    floated = a[1]  # the second stitch of A; its yarn passes behind four of B
    assert made.goes_to[floated] == a[2]
    assert made.line[floated, -1, 2] < made.line[row[3], 0, 2] < 0


def test_loops_carried_across_in_front_lie_before_those_they_cross():
    text = "Cast on 4 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: 2/2 LC.\nRow 4: Purl.\n"
    fabric, made = shown(text)
    crossed = np.flatnonzero(of_row(fabric, made, 4))
    right, left = crossed[:2], crossed[2:]  # as worked from the right: those that came from the back first
    assert made.line[left][:, FOOT_LEG, 2].min() > made.line[right][:, FOOT_LEG, 2].max()
    assert made.line[left][:, 5, 0].max() < made.line[right][:, 5, 0].max()


def test_two_knitted_together_are_both_held_by_the_one_stitch():
    fabric, made = shown("Cast on 4 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: K1, k2tog, k1.\n")
    one = int(made.stitch[of_row(fabric, made, 4)][1])
    first = fabric.first_parent_of_stitch
    heads = made.line[np.isin(made.stitch, fabric.parent[first[one] : first[one + 1]]), HEAD, 0]
    foot = made.line[made.stitch == one, [0]][0, 0] / 2 + made.line[made.stitch == one, [-1]][0, 0] / 2
    assert len(heads) == 2
    assert np.abs(heads - foot).max() < 5.0 / 2


def test_the_picture_of_the_wrong_side_is_the_mirror_image_with_before_and_behind_changed_about():
    _, knit = shown(PLAIN)
    right, wrong = draw_loops(knit), draw_loops(knit, side="wrong")
    assert (right.width_mm, right.height_mm) == pytest.approx((wrong.width_mm, wrong.height_mm))
    assert to_svg(right, "x") != to_svg(wrong, "x")


def test_what_lies_behind_is_drawn_before_what_lies_in_front():
    _, made = shown(PLAIN)
    names = [s.shapes[0].symbol.name for s in draw_loops(made).shapes]
    depths = [int(name[1 : name.index("r")]) for name in names]
    assert depths == sorted(depths)
    assert {-1, 1} <= set(depths)


def test_pointed_out_stitches_have_their_own_colour():
    _, made = shown(PLAIN)
    look = Look(marked="#123456")
    assert "#123456" not in to_svg(draw_loops(made, look), "x")
    assert "#123456" in to_svg(draw_loops(made, look, marked=[int(made.stitch[8])]), "x")


def test_curves_meet_without_a_corner():
    _, made = shown(PLAIN)
    curves, _ = strands(made)
    leaving = curves[:, :-1, 3] - curves[:, :-1, 2]
    coming = curves[:, 1:, 1] - curves[:, 1:, 0]
    assert leaving == pytest.approx(coming)


def test_no_stitches_and_one_stitch():
    fabric, none = shown(PLAIN, rows=[])
    assert len(none.stitch) == 0
    assert draw_loops(none).shapes == ()
    with pytest.raises(ValueError, match="no stitches"):
        to_glb(none)
    one = loops(fabric, np.array([3], np.int32), np.zeros((1, 2)), width_mm=5, height_mm=3)
    assert np.isfinite(one.line).all()
    with pytest.raises(ValueError, match="a size"):
        loops(fabric, np.array([3], np.int32), np.zeros((1, 2)), width_mm=0, height_mm=3)


def test_columns_are_counted_from_the_right_as_the_right_side_is_seen():
    fabric, made = shown(PLAIN, columns=(1, 2))
    assert len(made.stitch) == 2 * 5
    worked_first = of_row(fabric, made, 2)
    assert made.stitch[worked_first].tolist() == [6, 7]


def read_glb(data):
    """The parts of a GLB file, read by its specification (glTF 2.0, section 4.4)."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    words = json.loads(data[20 : 20 + size])
    more, kind = struct.unpack_from("<I4s", data, 20 + size)
    assert kind == b"BIN\0"
    return words, data[28 + size : 28 + size + more]


def part(words, body, n):
    accessor = words["accessors"][n]
    view = words["bufferViews"][accessor["bufferView"]]
    dtype = {5126: np.float32, 5125: np.uint32}[accessor["componentType"]]
    wide = {"VEC3": 3, "SCALAR": 1}[accessor["type"]]
    raw = body[view["byteOffset"] : view["byteOffset"] + view["byteLength"]]
    return np.frombuffer(raw, dtype).reshape(accessor["count"], wide)


def test_the_solid_is_a_file_as_the_standard_has_it():
    fabric, made = shown(PLAIN)
    words, body = read_glb(to_glb(made, title="Swatch"))
    assert words["scenes"][0]["name"] == "Swatch"
    assert words["buffers"][0]["byteLength"] == len(body)
    (mesh,) = words["meshes"]
    (primitive,) = mesh["primitives"]
    corners = part(words, body, primitive["attributes"]["POSITION"])
    normals = part(words, body, primitive["attributes"]["NORMAL"])
    stitch = part(words, body, primitive["attributes"]["_STITCH"])
    index = part(words, body, primitive["indices"])[:, 0]
    assert index.max() == len(corners) - 1
    accessor = words["accessors"][primitive["attributes"]["POSITION"]]
    assert accessor["min"] == pytest.approx(corners.min(axis=0))
    assert np.linalg.norm(normals, axis=1) == pytest.approx(1, abs=1e-5)
    assert set(stitch[:, 0].astype(int)) == set(made.stitch.tolist())
    # In metres, and every triangle is turned outwards: its corners run round with its normals.
    assert corners[:, 0].max() - corners[:, 0].min() == pytest.approx(0.03, rel=0.25)
    a, b, c = (corners[index[i::3]] for i in range(3))
    face = np.cross(b - a, c - a)
    assert (np.einsum("ij,ij->i", face, normals[index[::3]]) > 0).mean() > 0.99
    assert fabric.n == 30


def test_each_colour_is_a_mesh_of_its_own_and_light_is_linear():
    """0x80 of 0xff is 0.2158605 in linear light (IEC 61966-2-1)."""
    _, made = shown("Cast on 4 sts in A.\nRow 1 (RS): With B, knit.\n")
    words, _ = read_glb(to_glb(made, Look(yarns=("#808080", "#000000"))))
    colours = [m["pbrMetallicRoughness"]["baseColorFactor"] for m in words["materials"]]
    assert len(colours) == len(words["meshes"]) == len(set(made.yarn.tolist()))
    assert colours[-1][0] == pytest.approx(0.2158605, abs=1e-6) or colours[0][0] == pytest.approx(
        0.2158605, abs=1e-6
    )


CABLE = "Cast on 8 sts.\nRow 1 (WS): Purl.\nRow 2: K2, 2/2 {}, k2.\nRow 3: Purl.\nRow 4: Knit.\n"


@pytest.mark.parametrize(("words", "first_over"), [("LC", False), ("RC", True)])
def test_strands_of_a_cable_lie_over_one_another_and_lean_over_in_more_than_one_row(words, first_over):
    """A left crossing carries its first strand, held in front, to the left over the other."""
    fabric, made = shown(CABLE.format(words))
    # worked from right to left: the crossing is the third to sixth of its row
    row = made.stitch[of_row(fabric, made, 3)]
    place = {int(s): i for i, s in enumerate(made.stitch)}
    legs = [made.depth[place[int(s)], FOOT_LEG] for s in row[2:6]]
    over, under = (legs[2:], legs[:2]) if not first_over else (legs[:2], legs[2:])
    # the strand worked last in a left crossing was held in front
    assert min(over) > max(under) + 1
    # beside a crossing the columns lean already: they stand nearer together than at the edge
    below = made.line[[place[int(s)] for s in made.stitch[of_row(fabric, made, 2)]], HEAD, 0]
    middle = np.sort(below)[2:6]
    assert np.ptp(middle) < 3 * 5.0 - 2
    plain = np.sort(below)[[0, 1, 6, 7]]
    assert np.diff(plain)[[0, 2]] == pytest.approx([5.0, 5.0], abs=0.6)
