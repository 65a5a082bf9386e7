"""Flat rounds and wedges, against numbers published elsewhere."""

from math import asin, radians

import pytest

from purlwright.sizing.rounds import disc, doubling, wedged
from purlwright.sizing.unknowns import NoPlan

IN = 25.4


def test_a_flat_circle_at_5_sts_and_7_rows_to_the_inch():
    """4.488 sts a round, 9 every other round: "Flat hat formula", a knitters' forum; the formula is
    general.
    """
    found = disc(300, IN / 5, IN / 7)
    assert found.exact == pytest.approx(4.488, abs=0.001)
    assert (found.lines, found.every) == (9, 2)
    assert found.turned == pytest.approx(1, abs=0.01)


def test_eight_every_other_round_is_exact_where_rows_to_stitches_are_half_pi():
    """Shawl geometry, 2013: 8 sts every other round are exact only where rows / sts = 1.57."""
    found = disc(300, 5.0, 5.0 / 1.571)
    assert (found.lines, found.every) == (8, 2)
    assert found.turned == pytest.approx(1, abs=0.001)


def test_garter_grows_by_about_three_a_round():
    """Rows / sts = 2: 3 to 3.2 sts a round, about 6 every ridge (own, same formula)."""
    found = disc(300, 5.0, 2.5)
    assert found.lines / found.every == pytest.approx(3.14, abs=0.15)


@pytest.mark.parametrize(("step", "row", "wedges"), [(3, 0.5, 19), (2, 0.5, 13), (4, 0.5, 25), (3, 0.6, 16)])
def test_wedges_that_close_flat(step, row, wedges):
    """Relaxed in three dimensions, 19, 13 and 25 wedges lay flattest (of the formula 18.85, 12.57, 25.13)."""
    assert wedged(2 * 20 * 5.0, 5.0, 5.0 * row, step=step).wedges == wedges


def test_a_rim_is_told():
    assert wedged(200, 5.0, 2.5, step=3, rim=8).rim == 8
    assert wedged(200, 5.0, 2.5, step=3).rim == 0


def test_the_doubling_circle():
    """Cast on 6; 12, 24, 48 ... with plain rounds 1, 2, 4 between: H. Chayes, Shawl Geometry, 2013."""
    found = doubling(2 * 70 * 3.0, 3.0, start=6)
    assert [sts for _, sts in found] == [12, 24, 48, 96, 192, 384]
    assert [plain for plain, _ in found][:5] == [1, 2, 4, 8, 16]


def test_a_cone_has_the_share_of_its_angle():
    found = disc(200, 5.0, 3.6, half_angle=asin(0.5))
    assert found.exact == pytest.approx(disc(200, 5.0, 3.6).exact / 2)
    assert radians(30) == pytest.approx(asin(0.5))


def test_what_is_too_small_is_refused():
    with pytest.raises(NoPlan, match="make it larger"):
        disc(20, 5.0, 3.6)
    with pytest.raises(NoPlan, match="make it larger"):
        wedged(20, 5.0, 3.6)
