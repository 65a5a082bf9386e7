"""Seams close the net: two pieces become a tube, a strip a ring, and what the words leave open stays apart.

A surface is known by its Euler characteristic: 1 for a disc, 0 for a ring, -1 for one with a hole more.
"""

import numpy as np
import pytest

from purlwright.cloth.mesh import EdgeKind, mesh_of, rims_of
from purlwright.cloth.settled import settle
from purlwright.cloth.told import left_open
from purlwright.cloth.worn import worn_up
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


BODY = """Cast on 60 sts.
Row 1 (RS): Knit.
Row 2: Purl.
Rep rows 1 and 2 19 times more.
Bind off 4 sts at the beginning of the next 2 rows. (52 sts)
Dec row (RS): K1, ssk, knit to last 3 sts, k2tog, k1.
Next row: Purl.
Rep the last 2 rows 3 times more. (44 sts)
"""
BACK = f"## Back\n{BODY}Work 30 rows even in stockinette stitch.\n{{top}}"
STEPPED = "Bind off 6 sts at the beginning of the next 4 rows. (20 sts)\nBind off the remaining 20 sts.\n"
FRONT = f"""## Front
{BODY}Work 20 rows even in stockinette stitch.
Next row (RS): K17, bind off 10 sts, knit to end. (34 sts)
Place the first 17 sts on a holder.
### Second side
Row 1 (WS): P1, ssp, purl to end.
Row 2 (RS): Knit.
Rep rows 1 and 2 4 times more. (12 sts)
Row 11 (WS): Purl.
Row 12 (RS): Bind off 6 sts, knit to end.
Row 13: Purl.
Bind off.
### First side
With WS facing, rejoin yarn to the held sts.
Row 1 (WS): Purl to the last 3 sts, p2tog, p1.
Row 2 (RS): Knit.
Rep rows 1 and 2 4 times more. (12 sts)
Row 11 (WS): Bind off 6 sts, purl to end.
Row 12: Knit.
Bind off.
"""
SLEEVES = """## Sleeves (make 2)
Cast on 30 sts.
Row 1 (RS): Knit.
Row 2: Purl.
Rep rows 1 and 2 19 times more.
Bind off 4 sts at the beginning of the next 2 rows. (22 sts)
Dec row (RS): K1, ssk, knit to last 3 sts, k2tog, k1.
Next row: Purl.
{more}Bind off.
"""
CAP = "Work 2 rows even in stockinette stitch.\nRep the last 4 rows 5 times more. (10 sts)\n"


def sewn(*pieces, sew):
    return WorkUp(
        "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\n"
        + "\n".join(pieces)
        + f"\n## Finishing\n{sew}"
    )


def test_shoulders_are_sewn_from_the_arm_to_the_neck():
    m = mesh_of(sewn(BACK.format(top=STEPPED), FRONT, sew="Sew the shoulder seams.\n").knitted())
    # a ring: in at one neck, out at the rest of the edge
    assert (m.components, m.euler, m.left_out, m.one_sided) == (1, 0, 0, False)
    assert (m.edge_kind == EdgeKind.SEAM).sum() == 2 * 12
    neck = len(rims_of(m)[1])
    assert 20 + 10 + 2 * 10 <= neck <= 20 + 10 + 2 * 20  # the back's 20, the front's 10, and both slopes


def test_a_back_bound_off_from_arm_to_arm_is_sewn_as_far_as_the_front_goes():
    m = mesh_of(sewn(BACK.format(top="Bind off.\n"), FRONT, sew="Sew the shoulders together.\n").knitted())
    assert (m.components, m.euler, m.left_out) == (1, 0, 0)
    assert (m.edge_kind == EdgeKind.SEAM).sum() == 2 * 12


def test_two_pieces_bound_off_from_arm_to_arm_do_not_tell_how_wide_the_neck_is():
    straight = f"{BODY}Work 30 rows even in stockinette stitch.\nBind off.\n"
    m = mesh_of(
        sewn(f"## Back\n{straight}", f"## Front\n{straight}", sew="Sew the shoulder seams.\n").knitted()
    )
    assert m.components == 2
    assert not (m.edge_kind == EdgeKind.SEAM).any()


@pytest.mark.parametrize(
    "words", ["Set in the sleeves.", "Sew sleeves into armholes.", "Set in sleeves, easing to fit."]
)
def test_a_pullover_is_sewn_together(words):
    work = sewn(
        BACK.format(top=STEPPED), FRONT, SLEEVES.format(more=CAP),
        sew=f"Sew the shoulder seams.\n{words}\nSew the side and sleeve seams.\n",
    )  # fmt: skip
    assert [f.code for f in work.findings() if f.severity == "error"] == []
    knitted = work.knitted()
    m = mesh_of(knitted)
    assert (m.components, m.left_out, m.one_sided) == (1, 0, False)
    assert left_open(knitted, m) == ()
    # hem, neck and two cuffs; and where four seams meet in an armpit a small gap is left
    rims = [len(rim) for rim in rims_of(m)]
    assert rims[0] == pytest.approx(120, abs=6)
    assert rims[2:4] == pytest.approx([30, 30], abs=3)
    assert max(rims[4:], default=0) <= 6


def test_the_sleeves_of_a_sewn_pullover_stand_out_on_both_sides():
    work = sewn(
        BACK.format(top=STEPPED), FRONT, SLEEVES.format(more=CAP),
        sew="Sew the shoulder seams.\nSet in the sleeves.\nSew the side and sleeve seams.\n",
    )  # fmt: skip
    settled = settle(work.knitted(), work.fabric_gauge())
    at, piece = settled.shape.position_mm, settled.mesh.piece
    names = [p.name for p in work.knitted().ledger.pieces]
    one, other = (at[piece == n].mean(axis=0) for n, name in enumerate(names) if name.startswith("Sleeves"))
    body = at[piece < 2].mean(axis=0)
    apart = np.linalg.norm(one - other)
    assert apart > 200  # wider than the body: 60 sts at 20 to 10 cm, flat, are 300 mm round the half
    assert np.linalg.norm((one + other) / 2 - body) < 0.6 * apart
    up = worn_up(work.knitted(), settled.mesh, at)
    neck = at[settled.mesh.piece == names.index("First side")].mean(axis=0)
    assert float((neck - body) @ up) > 100


def test_a_cap_far_too_short_for_its_armhole_is_not_set_in():
    work = sewn(
        BACK.format(top=STEPPED), FRONT, SLEEVES.format(more=""),
        sew="Sew the shoulder seams.\nSet in the sleeves.\nSew the side and sleeve seams.\n",
    )  # fmt: skip
    knitted = work.knitted()
    m = mesh_of(knitted)
    assert m.components == 3
    assert "3 parts" in left_open(knitted, m)[0].words


CARDIGAN = """## Back
Cast on 40 sts.
Knit 20 rows.
Bind off 3 sts at the beginning of the next 2 rows. (34 sts)
Knit 24 rows.
Bind off.
## Left Front
Cast on 20 sts.
Knit 20 rows.
Next row (RS): Bind off 3 sts, knit to end. (17 sts)
Knit 18 rows.
Next row (WS): Bind off 7 sts, knit to end. (10 sts)
Knit 6 rows.
Bind off.
## Right Front
Cast on 20 sts.
Knit 21 rows.
Next row (WS): Bind off 3 sts, knit to end. (17 sts)
Knit 18 rows.
Next row (RS): Bind off 7 sts, knit to end. (10 sts)
Knit 7 rows.
Bind off.
"""


def test_two_fronts_are_sewn_to_a_back():
    m = mesh_of(sewn(CARDIGAN, sew="Sew the shoulder seams.\n").knitted())
    assert (m.components, m.euler, m.left_out) == (1, 1, 0)
    assert (m.edge_kind == EdgeKind.SEAM).sum() == 2 * 10
    m = mesh_of(sewn(CARDIGAN, sew="Sew the shoulder and side seams.\n").knitted())
    # two armholes more than a flat piece: open in front, closed at sides and shoulders
    assert (m.components, m.euler, m.left_out) == (1, -1, 0)


def test_an_edge_that_is_eased_in_leaves_no_hole():
    m = mesh("Sew the side seams.", m=10)
    assert (m.euler, len(rims_of(m))) == (0, 2)


def test_the_yarn_of_a_seam_is_twice_its_length():
    """Two side seams of 20 rows at 28 to 10 cm; and a strip of 12 stitches at 20 to 10 cm, end to end."""
    sides = WorkUp(TWO.format(sew="Sew the side seams.", n=20, m=9)).yarn().uses[0]
    (part,) = [p for p in sides.parts if p.name == "seams"]
    assert part.metres == pytest.approx(
        2 * 2 * 20 * 100 / 28 / 1000, rel=0.06
    )  # the edge of the bind-off too
    strip = WorkUp(
        "Gauge: 20 sts and 28 rows = 10 cm in garter stitch\n## Band\nCast on 12 sts.\nKnit 60 rows.\nBind off.\n"
        "## Finishing\nSew the cast-on edge to the bound-off edge.\n"
    ).yarn()
    (part,) = [p for p in strip.uses[0].parts if p.name == "seams"]
    assert part.metres == pytest.approx(2 * 12 * 5 / 1000, rel=0.03)
    assert not [s for s in strip.said if "sew" in s.words]
    open_ = WorkUp(TWO.format(sew="Sew the pieces together.", n=20, m=9)).yarn()
    assert [s for s in open_.said if "not known which edges meet" in s.words]


PLAIN = "Row 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 {n} times more.\n"
DROPPED = (
    f"Cast on 60 sts.\n{PLAIN.format(n=39)}Bind off 20 sts at the beginning of the next 2 rows. (20 sts)\n"
    "Bind off the remaining 20 sts.\n"
)
STRAIGHT_SLEEVES = (
    "## Sleeves (make 2)\nCast on 30 sts.\nRow 1 (RS): K1, m1, knit to last st, m1, k1.\nRow 2: Purl.\n"
    "Row 3: Knit.\nRow 4: Purl.\nRep rows 1-4 9 times more. (50 sts)\nBind off.\n"
)
RAGLAN = (
    f"Cast on {{a}} sts.\n{PLAIN.format(n=19)}Bind off 3 sts at the beginning of the next 2 rows. ({{r}} sts)\n"
    "Dec row (RS): K1, ssk, knit to last 3 sts, k2tog, k1.\nNext row: Purl.\n"
    "Rep the last 2 rows {m} times more. ({e} sts)\nBind off.\n"
)


def raglan(sleeve_rows=15, sew="Sew the raglan seams.\nSew the side and sleeve seams.\n"):
    body = RAGLAN.format(a=60, r=54, m=15, e=22)
    sleeve = RAGLAN.format(a=44, r=38, m=sleeve_rows, e=38 - 2 * sleeve_rows - 2)
    return sewn(f"## Back\n{body}", f"## Front\n{body}", f"## Sleeves (make 2)\n{sleeve}", sew=sew)


def dropped(sew):
    return sewn(
        f"## Back\n{DROPPED}", f"## Front\n{DROPPED}", STRAIGHT_SLEEVES,
        sew=f"Sew the shoulder seams.\n{sew}\nSew the side and sleeve seams.\n",
    )  # fmt: skip


@pytest.mark.parametrize(
    "words",
    [
        "Sew in the sleeves.",
        "Sew the sleeves to the body, matching the centre of the sleeve to the shoulder seam.",
    ],
)
def test_a_pullover_with_dropped_shoulders_is_sewn_together(words):
    work = dropped(words)
    assert [f.code for f in work.findings() if f.severity == "error"] == []
    m = mesh_of(work.knitted())
    assert (m.components, m.left_out, m.one_sided) == (1, 0, False)
    # the hem, the neck of both twenties with the ends of their rows, and the cuffs
    rims = [len(rim) for rim in rims_of(m)]
    assert rims[0] == pytest.approx(120, abs=6)
    assert rims[1] == pytest.approx(2 * 20, abs=12)
    assert rims[2:4] == pytest.approx([30, 30], abs=3)
    assert max(rims[4:], default=0) <= 6


@pytest.mark.parametrize(
    "words",
    [
        "Sew the raglan seams.",
        "Sew the raglan edges of the sleeves to the raglan edges of the front and back.",
    ],
)
def test_a_raglan_knitted_in_four_pieces_is_sewn_together(words):
    work = raglan(sew=f"{words}\nSew the side and sleeve seams.\n")
    assert [f.code for f in work.findings() if f.severity == "error"] == []
    m = mesh_of(work.knitted())
    assert (m.components, m.left_out, m.one_sided) == (1, 0, False)
    rims = [len(rim) for rim in rims_of(m)]
    assert rims[0] == pytest.approx(120, abs=6)
    assert rims[1] == 22 + 22 + 6 + 6
    assert rims[2:4] == pytest.approx([44, 44], abs=3)
    assert max(rims[4:], default=0) <= 6


def test_raglan_edges_of_different_lengths_stay_apart():
    work = raglan(sleeve_rows=8)
    assert mesh_of(work.knitted()).components > 1


@pytest.mark.parametrize("which", ["dropped", "raglan"])
def test_a_sewn_body_is_as_far_round_as_its_pieces_are_wide(which):
    """Arithmetic: 60 and 60 stitches at 20 to 10 cm are 60 cm."""
    work = dropped("Sew in the sleeves.") if which == "dropped" else raglan()
    settled = settle(work.knitted(), work.fabric_gauge())
    mesh, at = settled.mesh, settled.shape.position_mm
    around = 0.0
    ends = []
    for piece in (0, 1):
        first, last = mesh.first_of_row[:-1], mesh.first_of_row[1:]
        rows = np.flatnonzero(mesh.piece[mesh.node_of_row[first]] == piece)
        row = at[mesh.node_of_row[first[rows[20]] : last[rows[20]]]]
        around += np.linalg.norm(np.diff(row, axis=0), axis=1).sum()
        ends.append(row[[0, -1]])
    straight = np.linalg.norm(ends[0] - ends[1], axis=1).sum()
    crossed = np.linalg.norm(ends[0] - ends[1][::-1], axis=1).sum()
    assert around + min(straight, crossed) == pytest.approx(600, rel=0.02)
