"""A pullover with set-in sleeves: its pieces meet, and its caps fit their armholes."""

from fractions import Fraction
from functools import cache

import pytest

from purlwright.plans.pieces import begun as begun_with_yarn
from purlwright.sizing.starts.asked import Asked, Knit
from purlwright.sizing.starts.kinds import KINDS, who
from purlwright.sizing.unknowns import NoPlan
from purlwright.workup import WorkUp


@cache
def start(whom, sts=22, rows=30):
    kind = KINDS["set-in"]
    bodies, sizes = who(kind, whom)
    asked = Asked(
        sizes=sizes, bodies=bodies, knit=Knit(stitches=Fraction(sts), rows=Fraction(rows)), fabric=kind.fabric
    )
    return begun_with_yarn(kind, asked)[0]


CHILDREN = ("child 2", "child 6", "child 10")


@pytest.mark.parametrize("whom", [("woman M",), CHILDREN])
def test_front_and_back_of_a_set_in_pullover_reach_the_shoulder_in_the_same_row(whom):
    """The first step of the left shoulder is in the row of the back's, that of the right in the row after."""
    begun = start(whom)
    done = WorkUp(begun.text)
    assert done.proved().findings == ()
    shoulders = begun.counts["shoulder"]
    for size, shoulder in zip(done.sizes, shoulders, strict=True):
        back, left, right = (p.rows for p in done.knitted(size).ledger.pieces[:3])
        first = len(back) - 7
        divided = next(n for n, e in enumerate(left) if e.start - e.end > 20)
        assert (
            next(n for n, e in enumerate(left) if n > divided and e.start == shoulder and e.end < shoulder)
            == first
        )
        other = next(n for n, e in enumerate(right) if e.start == shoulder and e.end < shoulder)
        assert divided + other == first + 1
        assert sum(e.start - e.end for e in back[first:-1]) == 2 * shoulder


def test_each_cap_is_as_long_as_its_armhole_within_two_stitches():
    begun = start(CHILDREN)
    cap = begun.finished[-1]
    assert max(abs(a - b) for a, b in zip(cap.wanted_mm, cap.mm, strict=True)) <= cap.step_mm
    assert begun.said[0].startswith("Each cap is as long")


def test_a_gauge_too_coarse_for_a_neck_is_refused():
    with pytest.raises(NoPlan, match=r"(?i)look at the gauge"):
        start(("baby",), 12, 16)
