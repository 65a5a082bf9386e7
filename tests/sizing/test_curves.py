"""Edges along a curve: as near to it as whole stitches come, and knitted from their own words."""

from fractions import Fraction
from itertools import product
from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from purlwright.sizing.caps import cap
from purlwright.sizing.curve_words import at_both_ends, increase_rounds, one_side
from purlwright.sizing.curves import armhole, cone, dome, far_from, follow, neck, segment
from purlwright.sizing.shaping import shaped_rows
from purlwright.sizing.unknowns import NoPlan
from purlwright.workup import WorkUp

WIDE, HIGH = 100 / 22, 100 / 30


def knitted(text):
    """Stitches after each row of each piece; the words are read and knitted, and no error is found."""
    work = WorkUp(f"# Edge\n\n## Piece\n{text}\n")
    assert [f.problem.message() for f in work.proved().findings if f.severity.value == "error"] == []
    return [[e.end for e in p.rows if e.kind != "join"] for p in work.knitted().ledger.pieces]


def gone(before, rates, pairs):
    """Stitches gone after each pair of rows."""
    shaped = iter([r.stitches for r in rates.rates for _ in range(r.times)])
    at = {before + (row + 1) // 2 - 1: next(shaped) for row in shaped_rows(rates)}
    out, total = [], 0
    for p in range(pairs):
        total += at.get(p, 0)
        out.append(total)
    return out


def test_a_neck_is_bound_off_in_smaller_and_smaller_steps_and_then_decreased():
    edge = neck(40, 24)
    assert one_side(edge, 36, "WS") == [
        "Bind off 4 sts at the beginning of the next WS row. (32 sts)",
        "Bind off 2 sts at the beginning of the next 3 WS rows. (26 sts)",
        "Work 2 rows even.",
        "Dec 1 st at neck edge of the next 3 RS rows. (23 sts)",
        "Dec 1 st at neck edge of the following 4th row. (22 sts)",
        "Work 5 rows even.",
    ]
    assert edge.first == 12


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.integers(12, 40), st.integers(7, 24), st.booleans())
def test_both_sides_of_a_neck_knit_to_the_same_shoulder_in_the_same_rows(across, half_rows, pointed):
    rows = 2 * half_rows
    try:
        edge = neck(across, rows, pointed=pointed)
    except NoPlan as no:
        assert "give" in str(no)  # noqa: PT017 - refused with what would do
        return
    side = 20 + (across - edge.first) // 2
    ends = []
    for where in ("WS", "RS"):
        lead = "Knit 1 row." if where == "WS" else "Next row (RS): Knit."
        (counts,) = knitted(f"Cast on {side} sts.\n{lead}\n" + "\n".join(one_side(edge, side, where)))
        assert len(counts) == 1 + rows
        ends.append(counts[-1])
        line = [(edge.first / 2 + side - n, float(r)) for r, n in enumerate(counts[1:], 1) if r % 2]
        assert far_from(edge.line, rows, line, 1, 1) <= (5.5 if pointed else 2.6)
    assert ends == [20, 20]


@settings(max_examples=20, deadline=None, derandomize=True)
@given(st.integers(4, 24), st.integers(16, 40))
def test_an_armhole_is_knitted_to_what_is_left_and_no_step_is_two_stitches_off(each, half_rows):
    stitches, rows = 60 + 2 * each, 2 * half_rows
    edge = armhole(stitches, 60, rows)
    (counts,) = knitted(f"Cast on {stitches} sts.\nKnit 2 rows.\n" + "\n".join(at_both_ends(edge, stitches)))
    body = counts[2:]
    assert (len(body), body[-1]) == (rows + 1, 60)
    points = [((stitches - n) / 2, float(r)) for r, n in enumerate(body) if r % 2]
    assert far_from(edge.line, rows, points, 1, 1) < 2.6


def test_a_crescent_is_shaped_ever_faster():
    edge = segment(88, 36, WIDE, HIGH)
    lines = at_both_ends(edge, 88)
    (counts,) = knitted("Cast on 88 sts.\n" + "\n".join(lines))
    off = [a - b for a, b in zip(counts[::2], counts[2::2], strict=False) if a > b]
    assert off == sorted(off)
    with pytest.raises(NoPlan, match="more than half"):
        segment(40, 80, WIDE, HIGH)


def test_the_shapings_found_are_the_nearest_there_are():
    """Beside every way to shape 5 stitches in 7 pairs of rows, ever slower; the price is that of follow."""
    line = [1.6, 2.4, 3.1, 3.9, 4.2, 4.6, 5.0]

    def price(at):
        done, total = 0, 0.0
        for p, want in enumerate(line):
            done += at[p]
            total += (done - want) ** 2
        kinds = []
        last = -1
        for p, k in enumerate(at):
            if k:
                # the first shaping may count as any kind of single decrease
                kinds.append((p - last, k) if last >= 0 else (None, k))
                last = p
        return total, kinds

    def falls(kinds):
        if len(kinds) > 1 and kinds[0][1] == 1:
            kinds = [(kinds[1][0], 1), *kinds[1:]]
        elif kinds:
            kinds = [(1, kinds[0][1]), *kinds[1:]]
        if any(gap > 1 and k > 1 for gap, k in kinds):
            return None
        steep = [k if gap == 1 else 1 / gap for gap, k in kinds]
        return kinds if steep == sorted(steep, reverse=True) else None

    best = min(
        price(at)[0] + 0.35 * (len(set(kinds)) - 1)
        for at in product(range(4), repeat=7)
        if sum(at) == 5 and (kinds := falls(price(at)[1]))
    )
    before, rates = follow(line, 5, "slower")
    total, kinds = price(
        [b - a for a, b in zip([0, *gone(before, rates, 7)], gone(before, rates, 7), strict=False)]
    )
    assert total + 0.35 * (len(set(falls(kinds))) - 1) == pytest.approx(best)


def test_more_stitches_than_rows_is_said():
    with pytest.raises(NoPlan, match="give 52 rows"):
        neck(50, 20, pointed=True)
    with pytest.raises(NoPlan, match="two armholes"):
        armhole(100, 97, 60)


@pytest.mark.parametrize(
    "found", [dome(180, WIDE, HIGH), dome(90, WIDE, HIGH, 6), cone(180, 300, WIDE, HIGH)]
)
def test_rounds_of_a_dome_or_a_cone_are_no_more_than_half_a_ring_of_increases_off(found):
    (counts,) = knitted(
        f"Cast on {found.start} sts. Join to work in the round.\n" + "\n".join(increase_rounds(found))
    )
    assert len(counts) == found.rounds
    assert max(abs(n - found.line(r + 0.5)) for r, n in enumerate(counts)) <= found.lines


def test_a_dome_is_as_long_down_its_side_as_a_quarter_of_a_circle():
    assert dome(180, WIDE, HIGH).rounds == round(90 * pi / 2 / HIGH)
    with pytest.raises(NoPlan, match="flat circle"):
        cone(180, 60, WIDE, HIGH)
    with pytest.raises(NoPlan, match="3 to 16"):
        dome(180, WIDE, HIGH, 2)


def test_what_no_one_knits_in_one_curve_is_refused_at_once():
    with pytest.raises(NoPlan, match="in parts"):
        segment(2200, 1200, WIDE, HIGH)


def test_a_cap_of_one_rate_tells_it_once():
    found = cap(90, underarm=8, top=24, armhole_mm=460, stitch_mm=100 / 28, row_mm=100 / 38)
    assert found.lines == (
        "Bind off 8 sts at the beginning of the next 2 rows. (74 sts)",
        "Dec 1 st at each end of the next 25 RS rows. (24 sts)",
        "Work 1 row even.",
        "Bind off the remaining 24 sts.",
    )


def test_nothing_to_shape_is_plain():
    assert follow([0.0, 0.0], 0, "slower")[1].left == 4
    with pytest.raises(NoPlan):
        follow([], 3, "slower")
    assert Fraction(gone(0, follow([1.0, 1.0], 1, "slower")[1], 2)[0]) == 1
