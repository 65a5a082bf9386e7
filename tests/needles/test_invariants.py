"""What must hold of every knitting, whatever the words say."""

import networkx as nx
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from needles.patterns import patterns
from needles.test_techniques import techniques
from needles.worked import Worked, work
from purlwright.fabric.arrays import Link
from purlwright.needles.knit import knit
from purlwright.needles.ledger import Kind
from purlwright.pattern.file import read_pattern
from purlwright.text import Source
from strategies import files, texts

LAW = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.data_too_large]}
NO_STITCH = {"cast on", "turn", "hold", "return", "place marker", "slip marker", "remove marker", "yarn front", "yarn back"}  # fmt: skip


def check_ledger(knitted):
    orders = [e.order for e in knitted.ledger.entries]
    assert orders == sorted(set(orders))
    for e in knitted.ledger.entries:
        assert e.end == e.start + e.made - e.lost - e.held + e.returned, e
        assert min(e.start, e.worked, e.unworked, e.made, e.lost, e.held, e.returned, e.end) >= 0, e
        assert e.unworked <= e.end + e.lost
        assert all(0 <= g.from_right_rs <= e.end and g.turned_on <= e.order for g in e.gaps), e
        if e.kind is Kind.CAST_ON:
            assert (e.worked, e.lost) == (0, 0)
        if e.kind is Kind.BIND_OFF:
            assert e.end == 0
    for piece in knitted.ledger.pieces:
        for a, b in zip(piece.rows, piece.rows[1:], strict=False):
            assert b.start == a.end, (a, b)


def check_fabric(f, length):
    n, m = f.n, len(f.parent)
    first = f.first_parent_of_stitch
    assert first[0] == 0
    assert first[-1] == m
    assert (np.diff(first) >= 0).all()
    child = np.repeat(np.arange(n), np.diff(first))
    assert (f.parent < child).all()
    assert (f.parent >= 0).all()
    assert np.isin(f.link, list(Link)).all()
    assert (np.diff(f.row_of_stitch) >= 0).all()
    assert len(f.span_start) == len(f.span_end)
    if n:
        assert (f.span_of_stitch >= 0).all()
        assert f.span_of_stitch.max() < len(f.span_start)
        assert f.op_of_stitch.max() < len(f.ops)
        assert f.yarn_of_stitch.max() < len(f.yarns)
        assert np.isin(f.seen_of_stitch, [0, 1, 2]).all()
        assert np.isin(f.side_of_stitch, [0, 1, 2]).all()
        used = np.unique(f.span_of_stitch)
        assert (f.span_start[used] >= (0 if length else -1)).all()
        assert (f.span_end[used] <= length).all() if length else True
    for a in (f.join_a, f.join_b):
        assert ((a >= 0) & (a < n)).all()
    for name in f.__slots__:
        value = getattr(f, name)
        if isinstance(value, np.ndarray):
            assert not value.flags.writeable, name


@pytest.mark.parametrize("technique", techniques(), ids=lambda t: t.name)
def test_every_technique_keeps_the_rules(technique):
    head, _, words = technique.words.rpartition("## Piece")
    w = work(words, head)
    check_ledger(w.knitted)
    check_fabric(w.fabric, len(w.text))


@settings(max_examples=120, **LAW)
@given(patterns())
def test_random_rows_keep_the_rules(p):
    knitted = knit(p)
    check_ledger(knitted)
    check_fabric(knitted.fabric, 0)


@settings(max_examples=150, **LAW)
@given(texts() | files())
def test_any_text_at_all_keeps_the_rules(text):
    source = Source("# T\n\n## Piece\nCast on 12 sts.\nRow 1: " + text)
    knitted = knit(read_pattern(source))
    check_ledger(knitted)
    check_fabric(knitted.fabric, len(source.text))


@settings(max_examples=120, **LAW)
@given(patterns(faults=False))
def test_moves_take_and_make_what_the_ledger_says(p):
    knitted = knit(p)
    moves = knitted.moves
    for e in knitted.ledger.entries:
        here = moves.row_of_move == e.order
        if e.kind in {Kind.JOIN, Kind.GRAFT, Kind.SEAM}:
            continue
        net = int(moves.made_of_move[here].sum()) - int(moves.taken_of_move[here].sum())
        # of the loops taken off, those worked stand on the right needle; cast-ons, drops and holders change the count
        assert net == e.end - e.start, (e, [moves.ops[o] for o in moves.op_of_move[here]])


def test_a_stitch_costs_few_bytes():
    w = work(
        "Cast on 200 sts.\nRow 1: *K2tog, yo, k3; rep from * to end.\nRow 2: Purl.\nRep rows 1-2 99 times more.\nBind off."
    )
    assert w.fabric.n > 40_000
    assert w.fabric.nbytes / w.fabric.n < 150


def cloth(w):
    """Links and side links as one undirected graph of NetworkX."""
    g = nx.Graph()
    f = w.fabric
    g.add_nodes_from(range(f.n))
    first = f.first_parent_of_stitch.tolist()
    for s in range(f.n):
        g.add_edges_from((s, p) for p in f.parent[first[s] : first[s + 1]].tolist())
    return g


def test_plain_cloth_is_columns_and_a_column_is_as_long_as_its_rows():
    w = work("Cast on 7 sts.\nRow 1: Knit.\nRow 2: Purl.\nRep rows 1-2 4 times more.\nBind off.")
    g = cloth(w)
    assert nx.number_connected_components(g) == 7
    for s in range(7):
        top = max(nx.node_connected_component(g, s))
        assert nx.shortest_path_length(g, s, top) == 11  # ten rows and the bind-off
    f = w.fabric
    side = np.flatnonzero(f.row_of_stitch[1:] == f.row_of_stitch[:-1])
    g.add_edges_from((s, s + 1) for s in side.tolist())
    assert nx.is_connected(g)
    assert nx.shortest_path_length(g, 0, 6) == 6


def test_a_wedge_is_longer_at_the_side_that_gets_every_row():
    w = work("Cast on 6 sts.\nRow 1 (RS): K3, turn.\nRow 2 (WS): P3.\nRow 3: Knit.\nRow 4: Purl.\nBind off.")
    g = cloth(w)
    long, short = nx.node_connected_component(g, 5), nx.node_connected_component(g, 0)
    assert (len(long), len(short)) == (6, 4)


def test_nothing_at_all():
    empty = Source("")
    pattern = read_pattern(empty)
    w = Worked("", pattern, knit(pattern))
    assert w.ends == []
    check_fabric(w.fabric, 0)
    assert len(w.knitted.moves.op_of_move) == 0


def test_a_row_given_up_and_gone_on_with_leaves_no_more_than_there_is():
    work_ = knit(read_pattern(Source("# T\n\n## Piece\nCast on 12 sts.\nRow 1: rep turn psso turn k2")))
    check_ledger(work_)
