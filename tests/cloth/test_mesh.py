"""The net of a knitted piece: what is tied to what, and what kind of surface it makes.

A surface is known by its Euler characteristic (nodes less edges plus faces): 1 for a disc, 0 for a ring or a
twisted ring, 2 for a sphere, and one less for each hole cut in it. NetworkX is asked for distances.
"""

from pathlib import Path

import networkx as nx
import numpy as np
import pytest

from purlwright.cloth.mesh import EdgeKind, mesh_of
from purlwright.workup import WorkUp

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))
TUBE = "Cast on 20 sts. Join to work in the round.\nKnit 10 rounds.\nBind off.\n"


def mesh(text, **how):
    return mesh_of(WorkUp(text).knitted(), **how)


def half_edges(m):
    sides = []
    for a, b in zip(m.first_of_face[:-1], m.first_of_face[1:], strict=True):
        face = m.node_of_face[a:b].tolist()
        sides += zip(face, [*face[1:], face[0]], strict=True)
    return sides


def test_a_square_of_stitches_has_a_face_between_every_four():
    m = mesh("Cast on 10 sts.\nKnit 8 rows.\nBind off.\n")
    assert (m.n, m.euler, m.components, m.left_out) == (90, 1, 1, 0)
    assert np.diff(m.first_of_face).tolist() == [4] * 9 * 8
    assert np.bincount(m.edge_kind).tolist() == [9 * 9, 10 * 8]


def test_nothing_knitted_and_one_stitch():
    empty = mesh("")
    assert (empty.n, len(empty.edge), empty.euler, empty.components) == (0, 0, 0, 0)
    one = mesh("Cast on 1 st.\nRow 1: Knit.\n")
    assert (one.n, one.edge.tolist(), one.euler) == (2, [[1, 0]], 1)


def test_rounds_go_on_from_each_other_so_that_a_tube_has_no_seam():
    m = mesh(TUBE)
    assert (m.euler, m.left_out) == (0, 0)
    course = m.edge[m.edge_kind == EdgeKind.COURSE]
    assert course.tolist() == [[i, i + 1] for i in range(20 * 11 - 1)]


@pytest.mark.parametrize(
    ("words", "euler"),
    [
        ("Row 1: Sl 1, knit to end.\nRep row 1 7 times more.\nBind off.\n", 1),
        ("Row 1: Knit to last st, sl1 wyif.\nRep row 1 7 times more.\nBind off.\n", 1),
        ("Row 1: K1, *sl1, k1; rep from * to last st, k1.\nRow 2: Purl.\nRow 3: Knit.\n", 1),
        ("Row 1: K2, yo, k2tog, k6.\nRow 2: Purl.\nRow 3: K1, ssk, yo, k3, yo, k2tog, k2.\nRow 4: Purl.\n", 1),
        ("Row 1: K1, sl1, k2tog, psso, k3, kfb, k2.\nRow 2: Purl.\n", 1),
        ("Row 1: Purl.\nRow 2: K1, 2/2 RC, 2/2 LC, k1.\nRow 3: Purl.\nRow 4: Knit.\n", 1),
        ("Row 1: Knit.\nRow 2: Knit to last 3 sts, turn.\nRow 3: Knit.\nRow 4: Knit to last 6 sts, w&t.\nRow 5: Knit.\nRow 6: Knit.\nRow 7: Knit.\n", 1),
        ("Row 1: Knit.\nRow 2: K3, bind off 3 sts, k to end.\nRow 3: K4, cast on 3 sts, k3.\nRow 4: Knit.\n", 0),
    ],
    ids=["slipped-first", "slipped-last", "slipped", "lace", "passed-over", "cable", "short-rows", "buttonhole"],
)  # fmt: skip
def test_a_flat_piece_is_a_disc_and_a_buttonhole_is_a_hole_in_it(words, euler):
    m = mesh("Cast on 10 sts.\n" + words)
    assert (m.euler, m.components, m.left_out) == (euler, 1, 0)


def test_a_slipped_loop_has_a_node_in_each_row_that_passed_it():
    m = mesh("Cast on 5 sts.\nRow 1: K2, sl1, k2.\nRow 2: K2, sl1, k2.\nRow 3: Knit.\n")
    assert m.slipped.sum() == 2
    assert [len(m.node_of_row[a:b]) for a, b in zip(m.first_of_row, m.first_of_row[1:], strict=False)] == [
        5
    ] * 4


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.split(".")[0])
def test_no_side_of_a_face_is_used_twice_and_faces_lie_on_edges(path):
    m = mesh(path.read_text(encoding="utf-8"))
    sides = half_edges(m)
    assert len(set(sides)) == len(sides)
    known = {frozenset(e) for e in m.edge.tolist()}
    assert {frozenset(s) for s in sides} <= known
    assert m.components == 1


@pytest.mark.parametrize(
    ("name", "euler", "opening"),
    [
        ("skerry-hat", 0, "brim and crown"),
        ("harbour-steps-sock", 0, "the cuff, and the two short sides of the graft that the ends close"),
        ("eel-cowl", 0, "both ends"),
        ("gannet-shawl", 1, "none"),
        ("stepping-stones-cloth", 1, "none"),
        ("spinnaker-scarf", 1, "none"),
    ],
)
def test_the_examples_are_the_surfaces_that_they_are_in_life(name, euler, opening):
    path = next(p for p in EXAMPLES if p.name.startswith(name))
    m = mesh(path.read_text(encoding="utf-8"))
    assert (m.euler, m.left_out) == (euler, 0), opening


COWL = "Cast on 8 sts provisionally.\nKnit 60 rows.\nGraft the live sts to the cast-on sts.\n"


def test_a_graft_closes_a_ring_without_a_twist_unless_one_is_asked_for():
    plain, twisted = mesh(COWL), mesh(COWL, twisted=True)
    assert (plain.euler, plain.one_sided, twisted.euler, twisted.one_sided) == (0, False, 0, True)
    assert len(rims(plain)) == 2
    assert len(rims(twisted)) == 1  # a twisted ring has one edge that goes round twice


def rims(m):
    count = {}
    for a, b in half_edges(m):
        count[frozenset((a, b))] = count.get(frozenset((a, b)), 0) + 1
    return list(nx.connected_components(nx.Graph([tuple(e) for e, k in count.items() if k == 1])))


def test_two_pieces_do_not_hang_together():
    m = mesh(
        "## Back\nCast on 6 sts.\nKnit 4 rows.\nBind off.\n## Front\nCast on 8 sts.\nKnit 4 rows.\nBind off.\n"
    )
    assert (m.components, m.euler) == (2, 2)
    graph = nx.Graph(m.edge.tolist())
    assert sorted(len(c) for c in nx.connected_components(graph)) == [30, 40]
    assert np.bincount(m.component).tolist() == [30, 40]


def test_a_sleeve_hangs_on_the_body_and_is_a_tube():
    path = next(p for p in EXAMPLES if p.name.startswith("little-tern"))
    m = mesh(path.read_text(encoding="utf-8"))
    assert m.components == 1
    assert (m.left_out, m.loose) == (0, 0)
    assert m.euler == 2 - 4  # a sphere with four openings: hem, neck and two cuffs


def test_distances_along_the_net_are_those_of_networkx():
    from scipy.sparse.csgraph import dijkstra

    from purlwright.cloth.relax.coarsen import graph_of
    from purlwright.cloth.relax.shape import levels_of
    from purlwright.cloth.rest import rest_of

    m = mesh(
        "Cast on 12 sts.\nRow 1: Knit.\nRow 2: Knit to last 3 sts, turn.\nRow 3: Knit.\nRow 4: K2tog, knit to end.\nRow 5: Knit.\n"
    )
    level = levels_of(m, rest_of(m, stitch_mm=5, row_mm=3), np.arange(m.n, dtype=np.int32), 5.0)
    graph = nx.Graph()
    for tie, lengths in ((level.edge, level.length), (level.diagonal, level.across)):
        for (a, b), length in zip(tie.tolist(), lengths.tolist(), strict=True):
            if not graph.has_edge(a, b) or graph[a][b]["weight"] > length:
                graph.add_edge(a, b, weight=length)
    expected = nx.single_source_dijkstra_path_length(graph, 0)
    found = dijkstra(graph_of(level), indices=0)
    assert found == pytest.approx([expected[i] for i in range(m.n)])
