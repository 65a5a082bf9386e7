"""Shaping in words: as even as whole numbers allow, held against every other way; and read and knitted
again.
"""

from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from purlwright.sizing.caps import cap
from purlwright.sizing.shaping import Rate, along, compound, even_rates, shaped_rows
from purlwright.sizing.shaping_words import rates_words
from purlwright.sizing.spread import buttonholes, pick_up, spread
from purlwright.sizing.turning import heel, slope
from purlwright.sizing.unknowns import NoPlan
from purlwright.workup import WorkUp


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.integers(1, 5), st.integers(1, 14), st.sampled_from([1, 2]))
def test_no_other_rows_are_more_even(times, rows, step):
    allowed = range(step, rows + 1, step)
    if len(allowed) < times:
        with pytest.raises(NoPlan, match="do not fit"):
            even_rates(times, rows, step)
        return
    found = shaped_rows(even_rates(times, rows, step))
    assert set(found) <= set(allowed)

    def uneven(chosen):
        gaps = [b - a for a, b in zip((0, *chosen), chosen, strict=False)]
        return max(gaps) - min(gaps), rows - chosen[-1]

    spread_of, left = uneven(found)
    others = [uneven(chosen) for chosen in combinations(allowed, times)]
    assert left == min(rest for _, rest in others)
    assert spread_of == min(apart for apart, rest in others if rest == left)


def test_the_words_of_a_sleeve():
    assert rates_words(even_rates(8, 42, 2)) == (
        "Dec 1 st at each end of every 6th row 5 times, then of every 4th row 3 times."
    )
    assert even_rates(8, 42, 2).left == 0


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(st.fractions(0, 1), min_size=1, max_size=12))
def test_along_a_curve_no_row_is_more_than_half_a_stitch_off(steps):
    line, at = [], Fraction(0)
    for one in steps:
        at += one
        line.append(at)
    found = along(line)
    rows = shaped_rows(found)
    for n, want in enumerate(line, 1):
        assert abs(sum(r <= n for r in rows) - want) <= Fraction(1, 2)


def test_a_curve_that_is_too_steep_is_refused():
    with pytest.raises(NoPlan, match="too steep"):
        along([Fraction(3), Fraction(6)])
    assert along([Fraction(3), Fraction(6)], most=3).rates == (Rate(1, 2, 3),)


def test_the_words_are_read_and_knit_to_the_count():
    for times, rows in ((8, 42), (5, 23), (7, 7), (1, 9), (12, 50)):
        words = rates_words(even_rates(times, rows))
        text = (
            f"# Sleeve\n\nCast on 60 sts.\nWork in stockinette stitch: {words}\n"
            f"Next row: Knit. ({60 - 2 * times} sts)\nBind off.\n"
        )
        work = WorkUp(text)
        wrong = [f.code for f in work.proved().findings if f.severity.value == "error"]
        assert (words, wrong) == (words, [])


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.integers(0, 12), st.integers(0, 12), st.integers(12, 40))
def test_compound_rates_shape_both_as_often_as_asked(first, second, rounds):
    found = compound(first, second, rounds)
    assert sum(times for _, one, _, times in found.runs if one) == first
    assert sum(times for _, _, two, times in found.runs if two) == second
    assert sum(gap * times for gap, _, _, times in found.runs) + found.left == rounds
    assert all(one or two for _, one, two, _ in found.runs)


@pytest.mark.parametrize("kind", ["increase", "decrease"])
@pytest.mark.parametrize(("many", "sts"), [(8, 74), (1, 5), (3, 9), (7, 100), (10, 41), (5, 20)])
def test_spread_across_a_row_is_knitted_to_the_count(kind, many, sts):
    if kind == "decrease" and 2 * many > sts:
        return
    found = spread(kind, many, sts)
    inner = found.plain[1:-1]
    assert not inner or max(inner) - min(inner) <= 1
    assert abs(found.plain[0] - found.plain[-1]) <= 1
    assert sum(found.plain) + (2 * many if kind == "decrease" else 0) == sts
    text = f"# Row\n\nCast on {sts} sts.\nRow 1: {found.words}. ({found.after} sts)\nBind off.\n"
    assert [f.code for f in WorkUp(text).proved().findings if f.severity.value == "error"] == []


def test_increase_8_evenly_across_74():
    assert spread("increase", 8, 74).after == 82


@pytest.mark.parametrize(("many", "sts"), [(7, 98), (1, 20), (5, 61), (2, 12), (9, 100)])
def test_buttonholes_are_even_and_knit_to_the_same_count(many, sts):
    found = buttonholes(many, sts)
    assert found.first + sum(found.between) + found.last + 2 * many == sts
    assert not found.between or max(found.between) - min(found.between) <= 1
    text = f"# Band\n\nCast on {sts} sts.\nRow 1: {found.words}. ({sts} sts)\nBind off.\n"
    assert [f.code for f in WorkUp(text).proved().findings if f.severity.value == "error"] == []


def test_picking_up_for_a_forum_example():
    """20 in at 16 sts x 24 rows to 4 in: 120 rows, 80 sts, 2 of every 3 (a knitters' forum)."""
    found = pick_up(120, 80)
    assert (found.sts, found.per, found.times, found.rest_sts) == (2, 3, 40, 0)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(st.integers(1, 400), st.integers(1, 400))
def test_a_pick_up_rate_gives_just_the_total(rows, total):
    if total > 2 * rows:
        with pytest.raises(NoPlan):
            pick_up(rows, total)
        return
    found = pick_up(rows, total)
    assert found.sts * found.times + found.rest_sts == total
    assert found.per * found.times + found.rest_rows == rows


@pytest.mark.parametrize(("around", "side", "middle"), [(60, 10, 10), (64, 11, 10)])
def test_heel_thirds_as_published(around, side, middle):
    """60 sts: a sock article in a yarn magazine; 64 sts: a designer's sock table of 48 to 88 stitches."""
    found = heel(around)
    assert (found.stitches, found.side, found.middle) == (around // 2, side, middle)


def test_a_shoulder_in_steps():
    assert slope(26, 8).steps == (7, 7, 6, 6)
    with pytest.raises(NoPlan):
        slope(3, 8)


def test_a_cap_is_as_long_as_its_armhole():
    found = cap(72, underarm=5, top=18, armhole_mm=440, stitch_mm=100 / 22, row_mm=100 / 30)
    assert abs(found.edge_mm - 440) < 8
    assert 72 - 2 * 5 - 2 * found.rates.shapings == 18
    text = "# Sleeve\n\nCast on 72 sts.\nKnit 2 rows.\n" + "\n".join(found.lines)
    work = WorkUp(text)
    assert [f.code for f in work.proved().findings if f.severity.value == "error"] == []
    rows = work.knitted().ledger.pieces[0].rows
    assert len(rows) == 3 + found.rows
    # after the two bind-off rows a right-side row is the first to be decreased
    assert [(e.start, e.end) for e in rows[3:6]] == [(72, 67), (67, 62), (62, 60)]


def test_a_cap_that_cannot_be_long_enough_is_refused():
    with pytest.raises(NoPlan, match="cannot be had"):
        cap(40, underarm=4, top=12, armhole_mm=900, stitch_mm=4.5, row_mm=3.3)
