"""Shapes against geometry: rectangles, tubes, cones, domes, discs and heels within 2 %.

A node stands in the middle of its stitch, at the top of its row. A piece in the round is a screw: each round
ends a row higher than it begins. Rims are left out where they are not of the shape: nothing bends them back, so
that they open by 3 % or so within two or three rows.

SciPy's L-BFGS-B (R. Byrd, P. Lu, J. Nocedal, C. Zhu, 1995) on the same energy is the outside judge of whether
the lowest shape was found; Shapely measures areas.
"""

from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import minimize
from shapely import Polygon, unary_union

from purlwright.cloth.mesh import EdgeKind, mesh_of, rims_of
from purlwright.cloth.relax.coarsen import coarsen
from purlwright.cloth.relax.level import energy, springs_of
from purlwright.cloth.relax.shape import BEND, Lies, levels_of, relax
from purlwright.cloth.relax.start import begin
from purlwright.cloth.rest import rest_of
from purlwright.workup import WorkUp

RECTANGLE = "Cast on 20 sts.\nKnit 31 rows.\nBind off.\n"
TUBE = "Cast on 60 sts. Join to work in the round.\nKnit 30 rounds.\nBind off.\n"
CONE = (
    "Cast on 80 sts. Join to work in the round.\nRnd 1: *K6, k2tog; rep from * to end.\nRnds 2-4: Knit.\n"
    "Rnd 5: *K5, k2tog; rep from * to end.\nRnds 6-8: Knit.\nRnd 9: *K4, k2tog; rep from * to end.\nRnds 10-12: Knit.\n"
    "Rnd 13: *K3, k2tog; rep from * to end.\nRnds 14-16: Knit.\nRnd 17: *K2, k2tog; rep from * to end.\nRnds 18-20: Knit.\n"
    "Rnd 21: *K1, k2tog; rep from * to end.\nRnds 22-24: Knit.\n"
)
DISC = "Cast on 8 sts. Join to work in the round.\n" + "".join(
    f"Rnd {2 * n + 1}: *K{n}, m1; rep from * to end.\nRnd {2 * n + 2}: Knit.\n" if n else "Rnd 1: *Kfb; rep from * to end.\nRnd 2: Knit.\n"
    for n in (0, 2, 3, 4, 5, 6, 7, 8, 9)
)  # fmt: skip
HEEL = (
    "Cast on 24 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: Knit 23, turn.\nRow 4: Purl 22, turn.\n"
    "Row 5: Knit to 1 st before gap, turn.\nRow 6: Purl to 1 st before gap, turn.\nRep rows 5 and 6 6 times more.\n"
    "Row 7: Knit to gap, k1, turn.\nRow 8: Purl to gap, p1, turn.\nRep rows 7 and 8 7 times more.\nRow 9: Knit.\nRow 10: Purl.\n"
)
WEDGES = (
    "Cast on 20 sts provisionally.\nRow 1 (RS): Knit.\nRow 2: Knit to last 3 sts, turn.\nRow 3: Knit.\n"
    "Row 4: Knit to 3 sts before gap, turn.\nRow 5: Knit.\nRow 6: As row 4.\nRow 7: Knit.\nRow 8: As row 4.\nRow 9: Knit.\n"
    "Row 10: As row 4.\nRow 11: Knit.\nRow 12: As row 4.\nRow 13: Knit.\nRow 14: Knit.\n"
    "Rep rows 1-14 {n} times more.\nWork rows 1-13 once more.\nGraft the live sts to the cast-on sts.\n"
)


@lru_cache(maxsize=32)
def relaxed(text, w=5.0, h=3.75, lies=Lies.FREE, flat=False):
    m = mesh_of(WorkUp(text).knitted())
    r = rest_of(m, stitch_mm=w, row_mm=h)
    return m, r, relax(m, r, lies=lies, flat=flat)


def row(m, n):
    return m.node_of_row[m.first_of_row[n] : m.first_of_row[n + 1]]


def length(points):
    return float(np.sqrt((np.diff(points, axis=0) ** 2).sum(axis=1)).sum())


@pytest.mark.parametrize("lies", [Lies.FREE, Lies.BLOCKED])
def test_a_rectangle_is_as_wide_as_its_stitches_and_as_high_as_its_rows(lies):
    m, _, s = relaxed(RECTANGLE, lies=lies)
    x, y, z = np.ptp(s.position_mm, axis=0)
    assert (x, y) == pytest.approx((19 * 5, 31 * 3.75), rel=0.02)
    assert z < 0.05 * y
    assert (s.strain < 0.002, s.inverted) == (True, 0)
    first, last = s.position_mm[row(m, 0)], s.position_mm[row(m, 31)]
    assert last[:, 1].min() > first[:, 1].max()  # the last row above the first
    # the right side faces the viewer: row 1 is worked from the right
    assert s.position_mm[row(m, 1)[0], 0] > s.position_mm[row(m, 1)[-1], 0]


def test_a_tube_is_round():
    m, _, s = relaxed(TUBE)
    middle = s.position_mm[row(m, 15)]
    around = middle - middle.mean(axis=0)
    radius = np.hypot(around[:, 0], around[:, 2])
    assert radius.mean() == pytest.approx(60 * 5 / (2 * np.pi), rel=0.02)
    assert radius.std() < 0.02 * radius.mean()
    screw_is_as_long(m, s, 60, 30)


def screw_is_as_long(m, s, around, rounds, h=3.75):
    """From the middle of one round to that of another: rows times height. Over all: a row more, less a stitch.

    The last stitch of a round stands a whole row above its first, less the step that leads to the next.
    """
    high = s.position_mm[:, 1]
    middles = [high[row(m, n)].mean() for n in range(rounds + 1)]
    assert middles[-1] - middles[0] == pytest.approx(rounds * h, rel=0.01)
    assert middles[-6] - middles[5] == pytest.approx((rounds - 10) * h, rel=0.01)
    assert np.ptp(high) == pytest.approx((rounds + 1 - 1 / around) * h, rel=0.02)


def test_a_tube_pressed_flat_is_half_as_wide_as_it_is_round():
    m, _, s = relaxed(TUBE, lies=Lies.PRESSED)
    x, _, z = np.ptp(s.position_mm, axis=0)
    assert x == pytest.approx(60 * 5 / 2, rel=0.02)
    screw_is_as_long(m, s, 60, 30)
    assert z < 0.05 * x


def test_a_cone_has_the_angle_of_its_decreases():
    # 10 decreases every 4 rounds: the length around falls by 10 w for 4 h of slope, so sin a = 10 w / (4 h 2 pi)
    m, _, s = relaxed(CONE)
    sine = 10 * 5 / (4 * 3.75) / (2 * np.pi)
    # the four rounds of one count are a step of it: their mean is a ring of the cone, as long as its stitches.
    # The last such step is no cone but a short tube, with a free rim; the one before leads over to it
    rings = [np.mean([ring(s, row(m, n)) for n in range(4 * k + 1, 4 * k + 5)], axis=0) for k in range(4)]
    radius, high = np.transpose(rings)
    assert radius == pytest.approx([n * 5 / (2 * np.pi) for n in (70, 60, 50, 40)], rel=0.02)
    assert np.sin(np.arctan(-np.polyfit(high, radius, 1)[0])) == pytest.approx(sine, rel=0.02)
    # from ring to ring: 4 rows along the slope
    assert np.hypot(np.diff(radius), np.diff(high)) == pytest.approx(np.full(3, 4 * 3.75), rel=0.02)


def ring(s, nodes):
    """How far the nodes of a round stand from its axis on the mean, and how high."""
    at = s.position_mm[nodes]
    centre = at.mean(axis=0)
    return float(np.hypot(at[:, 0] - centre[0], at[:, 2] - centre[2]).mean()), float(centre[1])


def dome(around, w=5.0, h=3.75):
    """Half a ball: row ``i`` lies at the angle ``i h / R`` and is ``2 pi R cos(i h / R)`` round."""
    radius = around * w / (2 * np.pi)
    counts = [round(around * np.cos(i * h / radius)) for i in range(int(np.pi / 2 * radius / h) + 1)]
    counts = [n for n in counts if n >= 8]
    words = [f"Cast on {around} sts. Join to work in the round."]
    for i, (before, n) in enumerate(pairwise(counts), 1):
        cuts = [k * before // max(before - n, 1) for k in range(before - n + 1)]
        gaps = [b - a - 2 for a, b in pairwise(cuts)]
        # every other round has its decreases in the middle of the gaps, so that they do not stand in columns
        early = [gap // 2 * (i % 2) for gap in gaps]
        steps = [
            f"{f'k{e}, ' if e else ''}k2tog{f', k{gap - e}' if gap > e else ''}"
            for e, gap in zip(early, gaps, strict=True)
        ]
        words.append(f"Rnd {i}: {', '.join(steps) or 'Knit'}.")
    return "\n".join(words) + "\n", radius, len(counts)


def test_a_dome_on_a_tube_is_half_a_ball():
    """As the end of a sock or a hat: a rim that is free would open, so the dome goes on from a tube."""
    text, radius, rows = dome(96)
    text = text.replace("round.\n", "round.\nKnit 12 rounds.\n", 1)
    m, _, s = relaxed(text)
    inner = [row(m, n) for n in range(12, 12 + rows - 3)]
    x = s.position_mm[np.concatenate(inner)]
    # the ball that fits best: |x|^2 = 2 c x + (R^2 - |c|^2), linear in c and in the last term
    found = np.linalg.lstsq(np.column_stack([2 * x, np.ones(len(x))]), (x**2).sum(axis=1), rcond=None)[0]
    centre = found[:3]
    assert np.sqrt(found[3] + centre @ centre) == pytest.approx(radius, rel=0.02)
    apart = np.array([np.linalg.norm(s.position_mm[nodes] - centre, axis=1).mean() for nodes in inner])
    assert apart == pytest.approx(np.full(len(inner), radius), rel=0.02)
    # from the widest round to the last of these: R sin(i h / R) high
    up = ring(s, inner[-1])[1] - ring(s, inner[0])[1]
    assert up == pytest.approx(radius * np.sin((len(inner) - 1) * 3.75 / radius), rel=0.02)


def test_the_flat_disc_rule_gives_a_disc_that_lies_flat():
    # 2 pi rows to a stitch: 8 increases every other round lie flat at h / w = 8 / (4 pi)
    # (rule "disc", derived in two posts; "disc8": exact only when rows/sts = 1.57)
    h = 5 * 8 / (4 * np.pi)
    m, _, s = relaxed(DISC, h=h)
    rim = s.position_mm[m.node_of_row[m.first_of_row[-2] :]]
    centre = s.position_mm.mean(axis=0)
    axes = np.linalg.svd(s.position_mm - centre, full_matrices=False)[2]
    flat = (rim - centre) @ axes.T
    radius = np.hypot(flat[:, 0], flat[:, 1])
    inner = 8 * 5 / (2 * np.pi)
    assert radius.mean() == pytest.approx(inner + 18 * h, rel=0.02)
    assert np.ptp((s.position_mm - centre) @ axes[2]) < 0.2 * radius.mean()
    # rows half as high again make a cup of it, as for a crown knitted to the rule at the wrong row gauge
    m, _, s = relaxed(DISC, h=1.6 * h)
    assert np.linalg.svd(s.position_mm - s.position_mm.mean(axis=0))[1][2] > 5 * np.sqrt(m.n)


def test_a_flat_circle_blocked_has_the_area_of_a_circle():
    h = 5 * 8 / (4 * np.pi)
    m, _, s = relaxed(DISC, h=h, lies=Lies.BLOCKED)
    rim = s.position_mm[m.node_of_row[m.first_of_row[-2] :], :2]
    # pi r^2, r from the middle of the cast-on round (its eight stitches) over eighteen rows
    assert Polygon(rim).area == pytest.approx(np.pi * (8 * 5 / (2 * np.pi) + 18 * h) ** 2, rel=0.02)
    assert s.inverted <= 0.01 * (len(m.first_of_face) - 1)


def test_a_short_row_heel_is_a_cup_whose_middle_has_every_row():
    m, _, s = relaxed(HEEL)
    assert (m.left_out, m.euler) == (0, 1)
    x = s.position_mm - s.position_mm.mean(axis=0)
    spread = np.linalg.svd(x, full_matrices=False)[1] / np.sqrt(m.n)
    assert spread[2] > 0.15 * spread[0]  # it will not lie flat
    middle, edge = column(m, 12), column(m, 0)
    assert length(s.position_mm[middle]) == pytest.approx((len(middle) - 1) * 3.75, rel=0.02)
    # the two edges of the short rows are drawn together: the cup is far deeper than its edge is long
    assert len(middle) > 3 * len(edge)
    assert length(s.position_mm[edge]) == pytest.approx((len(edge) - 1) * 3.75, rel=0.02)


def column(m, cast_on):
    """Up from a loop of the cast-on, stitch by stitch."""
    below = {
        int(b): int(a) for (a, b), kind in zip(m.edge, m.edge_kind, strict=True) if kind == EdgeKind.WALE
    }
    way = [cast_on]
    while way[-1] in below:
        way.append(below[way[-1]])
    return way


@pytest.mark.parametrize("lies", [Lies.FREE, Lies.BLOCKED])
def test_the_area_of_a_piece_is_that_of_its_faces_laid_side_by_side(lies):
    m, r, s = relaxed(RECTANGLE, lies=lies)
    faces = [Polygon(s.position_mm[m.node_of_face[a:b], :2]) for a, b in zip(m.first_of_face, m.first_of_face[1:], strict=False)]  # fmt: skip
    assert unary_union(faces).area == pytest.approx(19 * 5 * 31 * 3.75, rel=0.02)
    assert sum(f.area for f in faces) == pytest.approx(float(r.area_mm2.sum()), rel=0.02)


def test_the_wedge_table_six_steps_of_three_want_nineteen_wedges():
    # N = pi s w / h = 18.85 at 20 / 6 / 3 / .5: 19 wedges lie flat (a trial measured z/R .05), 13 cup
    def off_flat(n):
        m, _, s = relaxed(WEDGES.format(n=n - 2), w=5.0, h=2.5)
        assert (m.euler, m.left_out) == (0, 0)
        x = s.position_mm - s.position_mm.mean(axis=0)
        axes = np.linalg.svd(x, full_matrices=False)[2]
        local = x @ axes.T
        return float(np.sqrt((local[:, 2] ** 2).mean()) / np.hypot(local[:, 0], local[:, 1]).max())

    assert off_flat(19) < 0.06
    assert min(off_flat(17), off_flat(21)) > 1.5 * off_flat(19)


ROUGH = [
    RECTANGLE,
    TUBE,
    CONE,
    DISC,
    HEEL,
    WEDGES.format(n=4),
    "Cast on 12 sts provisionally.\nKnit 60 rows.\nGraft the live sts to the cast-on sts.\n",
    "Cast on 24 sts.\nRow 1: *K4, yo, k2tog; rep from * to end.\nRow 2: Purl.\nRep rows 1 and 2 9 times more.\n",
    "Cast on 20 sts.\nRow 1: *Sl1, k1; rep from * to end.\nRow 2: Purl.\nRep rows 1 and 2 9 times more.\n",
    "Cast on 24 sts. Join to work in the round.\nKnit 4 rounds.\nNext rnd: *Kfb; rep from * to end.\nKnit 8 rounds.\nBind off.\n",
]  # fmt: skip


@pytest.mark.parametrize("text", ROUGH, ids=range(len(ROUGH)))
def test_scipy_finds_no_lower_energy_from_the_same_start(text):
    m, r, s = relaxed(text)
    unit = float(r.stitch_mm.mean())
    level = levels_of(m, r, np.arange(m.n, dtype=np.int32), unit)
    springs = springs_of(level)

    def judged(x):
        value, slope = energy(springs, x.reshape(-1, 3), BEND)
        return value, slope.ravel()

    x = s.position_mm.ravel() / unit
    assert judged(x)[0] == pytest.approx(s.energy, rel=1e-6, abs=1e-6 * m.n)
    x = begin(level, landmarks=100).ravel()
    best = minimize(judged, x, jac=True, method="L-BFGS-B", options={"maxiter": 250, "maxfun": 300})
    assert s.energy <= 1.01 * best.fun + 1e-5 * m.n


def test_relaxing_never_ends_worse_than_it_began_and_is_the_same_again():
    m, r, s = relaxed(CONE)
    assert s.energy <= s.start_energy
    again = relax(m, r)
    assert np.array_equal(again.position_mm, s.position_mm)
    assert not s.position_mm.flags.writeable


@pytest.mark.parametrize("text", ["", "Cast on 1 st.\n", "Cast on 1 st.\nKnit 3 rows.\n", "Cast on 4 sts.\n"])
@pytest.mark.parametrize("lies", list(Lies))
def test_nothing_and_a_single_column_have_a_shape(text, lies):
    m, _, s = relaxed(text, lies=lies)
    assert s.position_mm.shape == (m.n, 3)
    assert np.isfinite(s.position_mm).all()


def test_two_pieces_lie_side_by_side():
    _, _, s = relaxed(
        "## Back\nCast on 6 sts.\nKnit 4 rows.\nBind off.\n## Front\nCast on 8 sts.\nKnit 4 rows.\nBind off.\n"
    )
    x = s.position_mm[:, 0]
    assert x[:30].max() < x[30:].min()


def test_a_hat_knitted_sideways_stands_on_its_brim():
    # short rows gather the right-hand edge into a crown; the longer edge is the brim
    m, _, s = relaxed(WEDGES.format(n=6), w=5.0, h=2.5)
    brim, crown = (s.position_mm[rim] for rim in rims_of(m))
    assert len(brim) > len(crown)
    assert np.ptp(brim[:, 1]) < 0.2 * np.ptp(s.position_mm[:, 1])
    assert crown[:, 1].min() > brim[:, 1].max()


def test_a_flat_piece_begins_flat_and_stays_so():
    _, _, s = relaxed(RECTANGLE, flat=True)
    x, y, z = np.ptp(s.position_mm, axis=0)
    assert (x, y) == pytest.approx((19 * 5, 31 * 3.75), rel=0.01)
    assert z < 0.01 * y
    # but what cups is not kept flat by a wrong guess
    _, _, s = relaxed(WEDGES.format(n=6), w=5.0, h=2.5, flat=True)
    assert np.ptp(s.position_mm[:, 1]) > 30


def test_patches_of_a_plain_piece_lie_as_far_apart_as_on_paper():
    """Not as far as a walk along stitches and diagonals, which is up to a twelfth longer."""
    m, r, s = relaxed(RECTANGLE, flat=True)
    level = levels_of(m, r, np.arange(m.n, dtype=np.int32), 5.0)
    coarse, patch, seeds = coarsen(level)
    assert coarse.n < 0.5 * level.n
    assert (patch[seeds] == np.arange(coarse.n)).all()
    at = s.position_mm[seeds] / 5.0
    apart = np.linalg.norm(at[coarse.edge[:, 0]] - at[coarse.edge[:, 1]], axis=1)
    assert coarse.length == pytest.approx(apart, rel=0.025)


def test_over_a_seam_patches_lie_as_far_apart_as_one_walks():
    m = mesh_of(
        WorkUp(
            "## Strip\nCast on 8 sts.\nKnit 40 rows.\nBind off.\n## Finishing\nSew the cast-on edge to the bound-off edge.\n"
        ).knitted()
    )
    assert (m.edge_kind == EdgeKind.SEAM).any()
    level = levels_of(m, rest_of(m, stitch_mm=5, row_mm=5), np.arange(m.n, dtype=np.int32), 5.0)
    coarse = coarsen(level)[0]
    assert np.isfinite(coarse.length).all()
    assert coarse.length.min() > 0
    assert not np.isfinite(coarse.way).all()


@pytest.mark.parametrize("text", [RECTANGLE, TUBE, CONE, HEEL, WEDGES.format(n=6)], ids=range(5))
@pytest.mark.parametrize("many", [1, 3])
def test_a_first_look_is_about_as_large_as_the_settled_shape(text, many, monkeypatch):
    monkeypatch.setattr("purlwright.cloth.relax.shape._PATCHES", 400 // many)
    m, r, s = relaxed(text)
    quick = relax(m, r, quick=True)
    assert np.isnan(quick.energy)
    size, first = (
        np.sort(np.sqrt(((x - x.mean(axis=0)) ** 2).mean(axis=0))) for x in (s.position_mm, quick.position_mm)
    )
    assert first[1:] == pytest.approx(size[1:], rel=0.12)


HEM = (
    "Gauge: 20 sts and 28 rounds = 10 cm in stockinette stitch\nCast on 100 sts. Join to work in the round.\n"
    "Rnd 1: *K2, p2; rep from * to end.\nRep rnd 1 9 times more.\nKnit 24 rounds.\nBind off.\n"
)


@lru_cache(maxsize=1)
def hem():
    """A body on a hem of rib without a gauge of its own, which takes it to be 0.7 as wide."""
    work = WorkUp(HEM)
    found = work.settled()
    rest = found.rest
    stiff = relax(found.mesh, replace(rest, firm=np.ones(len(rest.firm))))
    return found.mesh, rest, found.shape, stiff


def test_a_rib_gives_along_its_rows_and_nowhere_else():
    m, r, _, _ = hem()
    rib = (m.order[m.edge] <= m.order.min() + 9).all(axis=1)
    course = m.edge_kind == EdgeKind.COURSE
    assert r.firm[rib & course] == pytest.approx(0.5)
    assert (r.firm[~course] == 1).all()
    assert (r.firm[course & (m.order[m.edge] > m.order.min() + 12).all(axis=1)] == 1).all()


def test_a_body_stands_in_lower_waves_above_a_hem_that_gives():
    m, r, s, stiff = hem()
    first = int(np.argmax(r.stitch_mm[m.node_of_row[m.first_of_row[:-1]]] > 4))

    def waves(shape):
        """How far the rounds above the rib stand off a circle, in mm."""
        off = []
        for n in range(first, first + 6):
            at = shape.position_mm[row(m, n)]
            apart = at - at.mean(axis=0)
            off.append(np.hypot(apart[:, 0], apart[:, 2]).std())
        return np.mean(off)

    assert waves(s) < waves(stiff)
    # and the hem is drawn out further by the body
    assert ring(s, row(m, first - 4))[0] > ring(stiff, row(m, first - 4))[0]


def test_scipy_finds_no_lower_energy_where_a_rib_gives():
    m, r, s, _ = hem()
    unit = float(r.stitch_mm.mean())
    springs = springs_of(levels_of(m, r, np.arange(m.n, dtype=np.int32), unit))

    def judged(x):
        value, slope = energy(springs, x.reshape(-1, 3), BEND)
        return value, slope.ravel()

    x = s.position_mm.ravel() / unit
    best = minimize(judged, x, jac=True, method="L-BFGS-B", options={"maxiter": 250, "maxfun": 300})
    assert judged(x)[0] <= 1.01 * best.fun + 1e-5 * m.n
    start = begin(levels_of(m, r, np.arange(m.n, dtype=np.int32), unit), landmarks=100).ravel()
    best = minimize(judged, start, jac=True, method="L-BFGS-B", options={"maxiter": 250, "maxfun": 300})
    assert judged(x)[0] <= 1.01 * best.fun + 1e-5 * m.n
