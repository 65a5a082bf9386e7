"""Stitches picked up where the words name no edge that is known: from what lies between two that are.

A surface is known by its Euler characteristic: 2 for a sphere, and one less for each opening in it.
"""

from pathlib import Path

import numpy as np
import pytest

from purlwright.cloth.mesh import EdgeKind, mesh_of
from purlwright.cloth.settled import settle
from purlwright.cloth.worn import worn_up
from purlwright.workup import WorkUp

PULLOVER = next((Path(__file__).resolve().parents[2] / "examples").glob("little-tern*.pattern.md")).read_text(
    encoding="utf-8"
)
NECK = """## Yoke
Cast on 20 sts.
Knit 12 rows.
Joining row: Knit to end, cast on 9 sts for the front neck, join to work in the round.
Knit 6 rounds.
Bind off.
## Neckband
With RS facing, {legs}, join to work in the round.
Knit 3 rounds.
Bind off.
"""
LEGS = (
    "pick up and knit 6 sts down the left neck edge, pick up and knit 9 sts across the front neck, "
    "pick up and knit 6 sts up the right neck edge, pick up and knit 20 sts over the back neck"
)


def mesh(text):
    return mesh_of(WorkUp(text).knitted())


def under(m, order):
    """What the stitches of the row with an order are drawn through, in working order."""
    below = {int(a): int(b) for a, b in m.edge[m.edge_kind == EdgeKind.WALE]}
    row = int(np.flatnonzero(m.row_order == order)[0])
    return [below.get(int(p)) for p in m.node_of_row[m.first_of_row[row] : m.first_of_row[row + 1]]]


def test_a_neckband_closes_the_neck_all_round():
    m = mesh(NECK.format(legs=LEGS))
    assert (m.loose, m.left_out, m.components, m.euler) == (0, 0, 1, 0)


def test_as_many_stitches_as_were_cast_on_at_once_are_one_for_each():
    text = NECK.format(legs=LEGS)
    knitted = WorkUp(text).knitted()
    m = mesh_of(knitted)
    order = next(e.order for p in knitted.ledger.pieces for e in p.rows if e.kind == "pick-up")
    at = under(m, order)
    cast = {e.order: e for p in knitted.ledger.pieces for e in p.rows}
    front = [cast[int(m.order[p])].label for p in at[6:15]]
    assert set(front) == {"Joining row"}
    assert len(set(at[6:15])) == 9
    assert {str(cast[int(m.order[p])].kind) for p in at[21:]} == {"cast-on"}
    assert len(set(at[21:])) == 20


@pytest.mark.parametrize(
    "legs",
    [
        "pick up and knit 30 sts evenly all round",
        "pick up and knit 17 sts here and there, pick up and knit 8 sts after them",
    ],
)
def test_what_no_word_and_no_number_tells_is_left_loose_and_counted(legs):
    m = mesh(NECK.format(legs=legs))
    assert m.loose in {25, 30}
    assert m.components == 2


def test_the_neck_of_a_pullover_is_up_though_it_is_knitted_first():
    work = WorkUp(PULLOVER)
    knitted = work.knitted()
    m = mesh_of(knitted)
    at = np.zeros((m.n, 3))
    at[:, 1] = -m.order  # as it hangs from the needles: what is knitted later lies lower
    up = worn_up(knitted, m, at)
    assert up is not None
    # the neckband is knitted last of all: laid in the order of work it would lie lowest
    assert up == pytest.approx([0, -1, 0])
    band = [e.order for p in knitted.ledger.pieces if p.name == "Neckband" for e in p.rows]
    at[np.isin(m.order, band), 1] = 1
    assert worn_up(knitted, m, at) == pytest.approx([0, 1, 0])


def test_a_scarf_has_no_way_up():
    work = WorkUp("## Scarf\nCast on 6 sts.\nKnit 9 rows.\nBind off.\n")
    knitted = work.knitted()
    settled = settle(knitted, work.fabric_gauge())
    assert worn_up(knitted, settled.mesh, settled.shape.position_mm) is None
