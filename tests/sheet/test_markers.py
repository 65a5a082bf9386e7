"""The plan of markers: where they part the stitches, read off the needle."""

from purlwright.sheet.document import Table
from purlwright.workup import WorkUp


def plans(text):
    return [
        b for b in WorkUp(text).sheet(follow=False).blocks if isinstance(b, Table) and "markers" in b.caption
    ]


def test_the_parts_are_told_for_every_size():
    (plan,) = plans(
        "# A\nSizes: S (M)\n\nCast on 10 (12) sts.\n"
        "Row 1 (RS): K2, pm, k6 (8), pm, k2.\nRow 2: Purl.\nRow 3: K to m, remove m, k to m, remove m, k2.\n"
    )
    assert plan.rows == (("Row 1 (RS)", "2; 6 (8); 2"),)


def test_one_marker_needs_no_plan():
    assert plans("# A\n\nCast on 10 sts.\nRow 1: K5, pm, k5.\nRow 2: Purl.\n") == []
    assert plans("# A\n\nCast on 10 sts.\nRow 1: Knit.\n") == []


def test_new_markers_are_a_new_line():
    (plan,) = plans(
        "# A\n\nCast on 9 sts.\nRow 1: K3, pm, k3, pm, k3.\nRow 2: K3, sm, k1, pm, k2, sm, k3.\nRow 3: Knit.\n"
    )
    assert [between for _, between in plan.rows] == ["3; 3; 3", "3; 2; 1; 3"]  # as row 3 meets them
