"""Questions to a fabric, held against NetworkX, and against pieces that can be followed by hand."""

import networkx as nx
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from needles.patterns import pattern, patterns
from needles.worked import work
from purlwright.fabric import query
from purlwright.fabric.arrays import Link
from purlwright.needles.knit import knit

PLAIN = "Cast on 6 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): Purl.\nRow 3: Knit.\nRow 4: Purl.\nBind off."
SHORT = "Cast on 6 sts.\nRow 1 (RS): K4, turn.\nRow 2 (WS): P4.\nRow 3: Knit.\nBind off."


def graph_of(fabric):
    """Links upwards, and side links between neighbours of a row, as a graph of NetworkX."""
    g = nx.MultiDiGraph()
    g.add_nodes_from(range(fabric.n))
    first = fabric.first_parent_of_stitch.tolist()
    for s in range(fabric.n):
        g.add_edges_from((p, s) for p in fabric.parent[first[s] : first[s + 1]].tolist())
    return g


@pytest.fixture
def empty():
    return knit(pattern()).fabric


def test_an_empty_fabric_answers_with_nothing(empty):
    assert empty.n == 0
    assert query.rows(empty).tolist() == []
    assert query.neighbours(empty).shape == (0, 2)
    assert query.children_of_all(empty).first_child_of_stitch.tolist() == [0]
    assert [len(a) for a in query.row_ends(empty)] == [0, 0, 0]
    assert query.gaps(empty, 1).tolist() == []
    assert query.stitches_of_span(empty, 0, 10).tolist() == []
    assert query.column(empty, 0).tolist() == []


@pytest.mark.parametrize("ask", [query.parents, query.parent_links, query.children, query.words_of])
@pytest.mark.parametrize("stitch", [-1, 1])
def test_a_stitch_that_is_not_there_is_refused(ask, stitch):
    one = work("Cast on 1 st.").fabric
    with pytest.raises(ValueError, match="stitches 0 to 0"):
        ask(one, stitch)


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
@given(patterns())
def test_parents_and_children_are_those_of_the_graph(p):
    f = knit(p).fabric
    g = graph_of(f)
    assert nx.is_directed_acyclic_graph(g)
    all_children = query.children_of_all(f)
    counts = query.parent_counts(f)
    for s in range(f.n):
        assert sorted(query.parents(f, s)) == sorted(u for u, _ in g.in_edges(s))
        assert counts[s] == g.in_degree(s)
        assert query.children(f, s).tolist() == sorted(set(g.successors(s)))
        a, b = all_children.first_child_of_stitch[s : s + 2]
        assert all_children.child[a:b].tolist() == sorted(v for _, v in g.out_edges(s))
    links = np.concatenate([query.parent_links(f, s) for s in range(f.n)]) if f.n else f.link
    assert links.tolist() == f.link.tolist()
    assert sorted(all_children.link.tolist()) == sorted(f.link.tolist())


def test_a_row_is_a_slice_and_neighbours_stand_side_by_side():
    f = work(PLAIN).fabric
    assert query.rows(f).tolist() == [1, 2, 3, 4, 5, 6]
    assert query.row_slice(f, 3) == slice(12, 18)
    assert query.row_slice(f, 99) == slice(36, 36)
    near = query.neighbours(f)
    assert near[12].tolist() == [-1, 13]
    assert near[14].tolist() == [13, 15]
    assert near[17].tolist() == [16, -1]


def test_a_column_runs_from_the_cast_on_to_the_edge_above():
    f = work(PLAIN).fabric
    assert query.column(f, int(f.column_of_stitch[0])).tolist() == [0, 11, 12, 23, 24, 35]


def test_the_ends_of_rows_are_told_as_the_right_side_sees_them():
    ends = query.row_ends(work(PLAIN).fabric)
    assert ends.row.tolist() == [1, 2, 3, 4, 5, 6]
    assert ends.right.tolist()[1:5] == [6, 17, 18, 29]
    assert ends.left.tolist()[1:5] == [11, 12, 23, 24]


def test_a_full_row_steps_over_the_end_of_a_short_one():
    f = work(SHORT).fabric
    # row 3 (order 4) goes over the four stitches of row 2 and then over two of the cast-on
    assert query.gaps(f, 4).tolist() == [query.row_slice(f, 4).start + 4]
    assert query.gaps(f, 2).tolist() == []


def test_the_words_of_a_stitch_and_the_stitches_of_some_words():
    w = work("Cast on 6 sts.\nRow 1: K2, [p1, k1] twice.\nBind off.")
    group = w.text.index("[p1")
    purl = w.text.index("p1")
    assert query.stitches_of_span(w.fabric, purl, purl + 2).tolist() == [8, 10]
    assert query.stitches_of_span(w.fabric, group, w.text.index("] twice")).tolist() == [8, 9, 10, 11]
    start, end = query.words_of(w.fabric, 8)
    assert w.text[start:end] == "p1"
    cast_on = w.text.index("Cast on")
    assert query.stitches_of_span(w.fabric, cast_on, cast_on + 1).tolist() == [0, 1, 2, 3, 4, 5]


def test_links_keep_their_kind_when_turned_round():
    f = work("Cast on 4 sts.\nRow 1: 2/2 RC.\nBind off.").fabric
    turned = query.children_of_all(f)
    assert set(turned.link[:4].tolist()) == {Link.CROSSED_FRONT, Link.CROSSED_BACK}
