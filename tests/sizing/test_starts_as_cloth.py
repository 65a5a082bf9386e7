"""Patterns to begin from, laid out as cloth: what the settled stitches measure is what the plan says,
within 3 %.

The plan reckons with stitches and rows; the cloth is relaxed in space from the knitted net, with its yarn
overs, ribs and turns, and then measured along its stitches.
"""

from fractions import Fraction
from math import pi

import numpy as np
import pytest

from purlwright.cloth.measure import edges_of, length_along, row_nodes
from purlwright.cloth.relax.shape import Lies, relax
from purlwright.sizing.starts.asked import Asked, Knit
from purlwright.sizing.starts.kinds import KINDS, who
from purlwright.workup import WorkUp

COARSE = {"stockinette stitch": (18, 25, 5), "garter stitch": (16, 32, 5)}


def begun(name, whom=(), across=600):
    kind = KINDS[name]
    bodies, sizes = who(kind, whom)
    sts, rows, needle = COARSE[kind.fabric]
    lengths = {} if kind.part else {"across": (Fraction(300) if name == "round-mat" else Fraction(across),)}
    start = kind.make(
        Asked(
            sizes=sizes[:1], bodies=bodies[:1], knit=Knit(stitches=Fraction(sts), rows=Fraction(rows)),
            fabric=kind.fabric, needles_mm=Fraction(needle), lengths=lengths,
        )
    )  # fmt: skip
    return start, WorkUp(start.text)


def ring(work, count):
    """The length of the middle one of the rounds that end with so many stitches, in the settled cloth."""
    settled = work.settled()
    rows = [
        e for p in work.knitted().ledger.pieces[:1] for e in p.rows if e.kind == "round" and e.end == count
    ]
    nodes = row_nodes(settled.mesh, rows[len(rows) // 2].order)
    return length_along(settled.shape.position_mm, np.append(nodes, nodes[:1]))


@pytest.mark.parametrize(
    ("name", "whom", "count"),
    [
        ("hat", (), "cast-on"), ("hat-from-crown", (), "brim"), ("mitten", (), "cast-on"), ("sock", (), "cast-on"),
        ("sock-from-toe", (), "cast-on"), ("raglan", ("child 2",), "body"), ("round-yoke", ("child 2",), "body"),
    ],
)  # fmt: skip
def test_a_round_piece_is_as_wide_as_planned(name, whom, count):
    start, work = begun(name, whom)
    assert ring(work, start.counts[count][0]) == pytest.approx(float(start.finished[0].mm[0]), rel=0.03)


@pytest.mark.parametrize("name", ["drop-shoulder", "cardigan"])
def test_a_flat_back_is_as_wide_as_planned(name):
    start, work = begun(name, ("child 2",))
    settled = work.settled()
    rows = [e for e in work.knitted().ledger.pieces[0].rows if e.kind == "row"]
    wide = length_along(settled.shape.position_mm, row_nodes(settled.mesh, rows[len(rows) // 2].order))
    # from the middle of the first stitch to the middle of the last is a stitch less than the whole
    stitches = start.counts["back and front" if name == "drop-shoulder" else "back"][0]
    assert wide + 100 / 18 == pytest.approx(stitches * 100 / 18, rel=0.03)


def test_a_mat_is_as_wide_as_planned_and_lies_flat():
    start, work = begun("round-mat")
    assert ring(work, start.counts["last count"][0]) / pi == pytest.approx(
        float(start.finished[0].mm[0]), rel=0.03
    )
    assert work.settled().flatness[0].verdict == "flat"


@pytest.mark.parametrize(
    ("name", "across"), [("triangle-shawl", 600), ("triangle-shawl", 1200), ("half-round-shawl", 600)]
)
def test_the_top_edge_of_a_shawl_is_as_long_as_planned(name, across):
    """A large triangle pulls its border farther than a small one."""
    start, work = begun(name, across=across)
    settled = work.settled(lies="blocked")
    rows = [
        row_nodes(settled.mesh, e.order)
        for e in work.knitted().ledger.pieces[0].rows
        if e.kind == "row" and e.end
    ]
    one = [nodes[0] if n % 2 else nodes[-1] for n, nodes in enumerate(rows) if len(nodes)]
    other = [nodes[-1] if n % 2 else nodes[0] for n, nodes in enumerate(rows) if len(nodes)]
    along = sum(length_along(settled.shape.position_mm, np.array(edge)) for edge in (one, other))
    assert along == pytest.approx(float(start.finished[0].mm[0]), rel=0.03)


def test_the_lower_edge_of_a_crescent_is_as_long_as_planned():
    """In the row before the last two, which nothing holds from above; before it is pinned out, which stretches it."""
    start, work = begun("crescent-shawl")
    settled = work.settled()
    loose = relax(settled.mesh, settled.rest, lies=Lies.FREE)
    row = [e for e in work.knitted().ledger.pieces[0].rows if e.kind == "row"][-3]
    edge = length_along(loose.position_mm, row_nodes(settled.mesh, row.order))
    planned = float(start.finished[0].mm[0]) * row.end / start.counts["last count"][0]
    assert edge == pytest.approx(planned, rel=0.03)


def test_the_brim_of_a_wedge_hat_is_as_long_as_planned():
    start, work = begun("wedge-hat")
    settled = work.settled()
    along = [length_along(settled.shape.position_mm, nodes) for nodes in edges_of(settled.mesh, 0)]
    assert max(along) == pytest.approx(float(start.finished[0].mm[0]), rel=0.03)
