"""Pieces that are hard to lay out: a clear word or a right shape, never a fault.

Proportions of picked-up stitches and heels are those that craft articles give (three stitches for four rows of
stockinette; a heel flap of as many rows as stitches; a short-row heel on half the stitches).
"""

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from purlwright.cli import main
from purlwright.cloth.mesh import EdgeKind, mesh_of, rims_of
from purlwright.cloth.relax.shape import relax
from purlwright.cloth.rest import rest_of
from purlwright.workup import WorkUp

GAUGE = "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n"
WEDGES = (
    "Gauge: 20 sts and 40 rows = 10 cm in garter stitch\nCast on 20 sts{how}.\n"
    "Row 1 (RS): Knit.\nRow 2: Knit to last 5 sts, turn.\nRow 3: Knit.\nRow 4: Knit to 5 sts before gap, turn.\n"
    "Row 5: Knit.\nRow 6: Knit.\nRep rows 1-6 {n} times more.\n{end}\n"
)


def settled(text):
    work = WorkUp(text)
    return work.knitted(), work.settled()


def size(x):
    """Root mean squares along the three principal axes, the longest first."""
    at = x - x.mean(axis=0)
    return np.linalg.svd(at, full_matrices=False)[1] / np.sqrt(len(at))


def test_a_ring_that_is_not_closed_is_a_fan():
    _, shape = settled(WEDGES.format(how="", n=9, end="Bind off."))
    assert (shape.mesh.components, shape.mesh.euler, shape.mesh.one_sided) == (1, 1, False)
    assert len(rims_of(shape.mesh)) == 1
    # the first and the last row are not drawn together
    rows = [
        shape.mesh.node_of_row[a:b]
        for a, b in zip(shape.mesh.first_of_row, shape.mesh.first_of_row[1:], strict=False)
    ]
    at = shape.shape.position_mm
    assert np.linalg.norm(at[rows[0]].mean(axis=0) - at[rows[-1]].mean(axis=0)) > 20


def test_the_same_ring_closed_is_a_ring():
    _, shape = settled(
        WEDGES.format(
            how=" provisionally", n=9,
            end="Work rows 1-5 once more.\nGraft the live sts to the cast-on sts.",
        )
    )  # fmt: skip
    assert (shape.mesh.components, shape.mesh.euler) == (1, 0)
    graft = shape.mesh.edge[shape.mesh.edge_kind == EdgeKind.GRAFT]
    at = shape.shape.position_mm
    apart = np.linalg.norm(at[graft[:, 0]] - at[graft[:, 1]], axis=1)
    assert apart == pytest.approx(np.full(len(graft), 2.5), rel=0.25)


def test_a_moebius_ring_has_one_side_and_one_edge_and_comes_round():
    band = WorkUp(
        "Cast on 8 sts provisionally.\nKnit 120 rows.\nGraft the live sts to the cast-on sts.\n"
    ).knitted()
    mesh = mesh_of(band, twisted=True)
    assert (mesh.one_sided, mesh.euler, mesh.components) == (True, 0, 1)
    rest = rest_of(mesh, stitch_mm=5.0, row_mm=2.5)
    shape = relax(mesh, rest)
    # half a twist in a band eight times as long as wide hardly stretches it
    assert shape.strain < 0.03
    d = shape.position_mm[mesh.edge[:, 0]] - shape.position_mm[mesh.edge[:, 1]]
    assert np.linalg.norm(d, axis=1).max() < 1.5 * 5.0
    assert size(shape.position_mm)[2] > 3  # it cannot lie flat


@pytest.mark.parametrize("text", ["Cast on 20 sts.\nBind off.\n", "Cast on 20 sts.\n"])
def test_no_rows_at_all_give_a_line_or_a_word(text, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    _, shape = settled(GAUGE + text)
    assert np.isfinite(shape.shape.position_mm).all()
    (tmp_path / "none.pattern.md").write_text("# None\n" + GAUGE + text, encoding="utf-8")
    answer = main(["cloth", "none.pattern.md"])
    out, err = capsys.readouterr()
    assert answer in {0, 1, 2}
    assert "Traceback" not in out + err


def test_a_piece_without_a_row_is_said_to_have_no_size(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    pieces = "## Tie\nCast on 20 sts.\nBind off.\n\n## Flap\nCast on 20 sts.\nKnit 4 rows.\nBind off.\n"
    (tmp_path / "tie.pattern.md").write_text(f"# Bag\n{GAUGE}\n{pieces}", encoding="utf-8")
    assert main(["cloth", "tie.pattern.md"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Tie has no row after its cast-on: there is no size to tell." in told
    assert "Flap has no row" not in told


HALVES = GAUGE + (
    "Cast on 40 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 9 times more.\n"
    "Row 21 (RS): K20, place the remaining 20 sts on a holder.\n"
    "Row 22: Purl.\nRow 23: Knit.\nRow 24: Purl.\nRep rows 23 and 24 9 times more.\nBind off.\n"
    "With RS facing, rejoin yarn to the held sts.\n"
    "Row 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 9 times more.\nBind off.\n"
)


def test_a_piece_in_two_halves_is_one_piece_with_a_slit():
    knitted, shape = settled(HALVES)
    assert not [f for f in knitted.findings if f.severity == "error"]
    assert (shape.mesh.components, shape.mesh.euler) == (1, 1)
    x, y, z = np.ptp(shape.shape.position_mm, axis=0)
    assert (x, y) == pytest.approx((39 * 5, 41 * 100 / 28), rel=0.05)
    assert z < 0.1 * x


def test_two_pieces_that_nothing_joins_lie_side_by_side():
    _, shape = settled(
        GAUGE
        + "## Left half\nCast on 10 sts.\nKnit 10 rows.\nBind off.\n\n## Right half\nCast on 10 sts.\nKnit 10 rows.\nBind off.\n"
    )
    assert shape.mesh.components == 2
    x = shape.shape.position_mm[:, 0]
    one = shape.mesh.component == 0
    assert x[one].max() < x[~one].min()


def test_without_a_gauge_the_shape_is_told_in_proportion(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "bare.pattern.md").write_text(
        "# Bare\nCast on 20 sts.\nKnit 40 rows.\nBind off.\n", encoding="utf-8"
    )
    assert main(["cloth", "bare.pattern.md"]) == 0
    out = capsys.readouterr().out
    assert "only proportions are told" in out
    assert " cm" not in out


def border(each, of):
    """A band picked up along 42 rows of stockinette, ``each`` stitches for ``of`` rows, and the piece."""
    _, shape = settled(
        GAUGE
        + "## Front\nCast on 20 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 20 times more.\nBind off.\n"
        f"## Band\nWith RS facing, pick up and knit {42 * each // of} sts along the right edge of the front.\nKnit 6 rows.\nBind off.\n"
    )
    return shape


def test_three_stitches_picked_up_for_four_rows_lie_flat_and_one_for_each_ruffles():
    by_rule, for_each = border(3, 4), border(1, 1)
    for shape in (by_rule, for_each):
        assert shape.mesh.loose == 0
        assert shape.mesh.components == 1
    # exactly 20 / 28 = 0.714 stitches a row lie flat: 3 in 4 are a twentieth too many, one for each two fifths
    flat, wavy = (size(s.shape.position_mm)[2] for s in (by_rule, for_each))
    assert wavy > 2 * flat


def test_a_heel_flap_of_as_many_rows_as_stitches_is_as_high_as_its_gauge_makes_it():
    _, shape = settled(
        "Gauge: 32 sts and 44 rows = 10 cm in stockinette stitch\nCast on 32 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\n"
        "Rep rows 1 and 2 15 times more.\nBind off.\n"
    )
    x, y, _ = np.ptp(shape.shape.position_mm, axis=0)
    assert y / x == pytest.approx((32 / 44) / (31 / 32), rel=0.02)


def test_a_sock_with_a_short_row_heel_is_bent_at_the_heel():
    """On half the stitches, a third of them unturned: the leg then stands across the foot."""
    work = WorkUp(
        (Path(__file__).resolve().parents[2] / "examples" / "harbour-steps-sock.pattern.md").read_text(
            "utf-8"
        )
    )
    shape = work.settled()
    at = shape.shape.position_mm
    heel = np.isin(shape.mesh.order, [e.order for e in work.knitted().ledger.entries if e.section == "Heel"])
    leg = np.isin(shape.mesh.order, [e.order for e in work.knitted().ledger.entries if e.section == "Leg"])
    foot = np.isin(shape.mesh.order, [e.order for e in work.knitted().ledger.entries if e.section == "Foot"])
    # a sock is bent: the leg stands at an angle to the foot, by the heel
    up = np.linalg.svd(at[leg] - at[leg].mean(axis=0), full_matrices=False)[2][0]
    along = np.linalg.svd(at[foot] - at[foot].mean(axis=0), full_matrices=False)[2][0]
    angle = np.degrees(np.arccos(abs(float(up @ along))))
    assert heel.any()
    assert 45 < angle <= 90


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="the peak of a process is read as Linux tells it")
def test_a_hundred_thousand_stitches_stay_within_their_memory():
    """Knitted, made a net, settled: at most 700 MB at the peak, in a process of its own.

    The peak is that of the process since it began; what ``getrusage`` tells counts its parent's as well.
    """
    code = (
        "from pathlib import Path; from purlwright.workup import WorkUp\n"
        "w = WorkUp('Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\\nCast on 316 sts. Join to work in the round.\\n"
        "Knit 316 rounds.\\nBind off.\\n')\n"
        "assert w.settled().mesh.n >= 100_000 and w.settled().shape.strain < 0.01\n"
        "told = Path('/proc/self/status').read_text()\n"
        "print(int(told.split('VmHWM:')[1].split()[0]) // 1024)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert int(done.stdout) < 700


def test_a_tip_that_is_drawn_together_closes():
    """The yarn is drawn through twelve loops: they come together; bound off, they stay as wide as they are."""
    tube = (
        GAUGE
        + "Cast on 36 sts. Join to work in the round.\nKnit 12 rounds.\nNext rnd: *K1, k2tog; rep from * to end.\nNext rnd: *K2tog; rep from * to end. (12 sts)\n"
    )
    _, drawn = settled(tube + "Break yarn, draw it through the remaining sts and fasten off.\n")
    _, bound = settled(tube + "Bind off.\n")

    def round_(shape):
        rim = min(rims_of(shape.mesh), key=len)
        at = shape.shape.position_mm[np.append(rim, rim[0])]
        return np.linalg.norm(np.diff(at, axis=0), axis=1).sum()

    assert round_(drawn) < 0.6 * 12 * 5
    assert round_(bound) > 0.9 * 12 * 5
