"""Seams close the net: two pieces become a tube, a strip a ring, and what the words leave open stays apart.

A surface is known by its Euler characteristic: 1 for a disc, 0 for a ring, -1 for one with a hole more.
"""

import numpy as np
import pytest

from purlwright.cloth.mesh import EdgeKind, mesh_of, rims_of
from purlwright.cloth.settled import settle
from purlwright.cloth.told import left_open
from purlwright.workup import WorkUp

TWO = """Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch
## Back
Cast on 20 sts.
Row 1 (RS): Knit.
Row 2: Purl.
Rep rows 1 and 2 9 times more.
Bind off.
## Front
Cast on {n} sts.
Row 1 (RS): Knit.
Row 2: Purl.
Rep rows 1 and 2 {m} times more.
Bind off.
## Finishing
{sew}
"""


def mesh(sew, n=20, m=9):
    return mesh_of(WorkUp(TWO.format(sew=sew, n=n, m=m)).knitted())


@pytest.mark.parametrize("sew", ["Sew the side seams.", "Sew up the side seams with mattress stitch."])
def test_two_pieces_sewn_at_the_sides_are_a_tube(sew):
    m = mesh(sew)
    assert (m.components, m.euler, m.left_out) == (1, 0, 0)
    assert len(rims_of(m)) == 2
    assert (m.edge_kind == EdgeKind.SEAM).sum() == 2 * 20


def test_pieces_of_a_row_or_two_more_are_eased_in():
    assert mesh("Sew the side seams.", m=10).components == 1


@pytest.mark.parametrize(("sew", "m"), [("Sew the side seams.", 15), ("Sew the pieces together.", 9)])
def test_what_cannot_be_decided_stays_apart(sew, m):
    assert mesh(sew, m=m).components == 2


def test_what_stays_apart_is_said():
    said = {}
    for sew in ("Sew the shoulder seams.", "Sew the side seams."):
        knitted = WorkUp(TWO.format(sew=sew, n=20, m=9)).knitted()
        said[sew] = [one.words for one in left_open(knitted, mesh_of(knitted))]
    assert said["Sew the side seams."] == []
    assert len(said["Sew the shoulder seams."]) == 1
    assert "2 parts" in said["Sew the shoulder seams."][0]


def test_named_edges_of_named_pieces_are_joined_once():
    m = mesh("Sew the right edge of the front to the left edge of the back.")
    assert (m.components, m.euler) == (1, 1)
    assert (m.edge_kind == EdgeKind.SEAM).sum() == 20


@pytest.mark.parametrize(
    "sew", ["Sew the cast-on edge to the bound-off edge.", "Sew the two side edges together."]
)
def test_a_strip_sewn_end_to_end_or_side_to_side_is_a_ring(sew):
    m = mesh_of(
        WorkUp(f"## Band\nCast on 12 sts.\nKnit 60 rows.\nBind off.\n## Finishing\n{sew}\n").knitted()
    )
    assert (m.components, m.euler, m.one_sided) == (1, 0, False)
    assert len(rims_of(m)) == 2


def test_side_seams_end_at_the_underarm():
    arm = "Bind off 3 sts at the beginning of the next 2 rows.\nKnit 10 rows.\nBind off.\n"
    body = f"Cast on 20 sts.\nKnit 16 rows.\n{arm}"
    m = mesh_of(WorkUp(f"## Back\n{body}## Front\n{body}## Finishing\nSew the side seams.\n").knitted())
    assert (m.components, m.euler) == (1, 0)
    assert 2 * 15 <= (m.edge_kind == EdgeKind.SEAM).sum() <= 2 * 17


def test_a_sewn_tube_is_as_wide_as_its_two_pieces():
    """Arithmetic: 40 stitches at 20 to 10 cm are 20 cm round, and the middle is not drawn in by the ends."""
    work = WorkUp(TWO.format(sew="Sew the side seams.", n=20, m=9))
    settled = settle(work.knitted(), work.fabric_gauge())
    at = settled.shape.position_mm
    middle = [o for o in np.unique(settled.mesh.order) if 0.4 < (settled.mesh.order == o).mean() * 22 < 1.2]
    rows = middle[len(middle) // 4 : len(middle) // 4 + 3]
    back = at[np.isin(settled.mesh.order, rows[:1])]
    length = np.linalg.norm(np.diff(back, axis=0), axis=1).sum()
    assert length == pytest.approx(19 * 5, rel=0.02)
    assert np.linalg.norm(back[-1] - back[0]) < 0.8 * length  # it is bent round, not flat
