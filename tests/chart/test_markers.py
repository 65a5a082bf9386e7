"""Markers stand in a chart between the squares where they lie on the needle, and the key says what the line is."""

from chart.squares import chart
from purlwright.chart.draw import MARKER, draw_grid, for_left_hand
from purlwright.chart.key import key_of
from purlwright.drawing import Path

FLAT = "Cast on 10 sts.\nRow 1 (RS): K2, pm, yo, k to last 3 sts, pm, k3.\nRow 2: Purl."
ROUND = "Cast on 12 sts. Join to work in the round.\nRnd 1: K4, pm, k8.\nRnd 2: Knit."


def lines(drawing):
    return [s for s in drawing.shapes if isinstance(s, Path) and s.ink == MARKER]


def test_a_marker_stands_between_two_squares_of_either_side():
    grid = chart(FLAT)
    assert [row.end for row in grid.rows] == [11, 11]
    assert [set(row.markers) for row in grid.rows] == [{3, 9}, {3, 9}]  # 3, 6 and 2 stitches from the left
    assert len(lines(draw_grid(grid))) == 4


def test_in_the_round_it_is_counted_from_the_right():
    grid = chart(ROUND)
    assert [row.markers for row in grid.rows] == [(8,), (8,)]


def test_a_marker_at_an_end_of_the_row_parts_nothing():
    grid = chart("Cast on 10 sts.\nRow 1 (RS): Pm, k10.\nRow 2: Purl.")
    assert [row.markers for row in grid.rows] == [(), ()]
    assert not any(entry.kind == "marker" for entry in key_of(grid))


def test_the_key_says_it_and_a_left_handed_chart_mirrors_it():
    grid = chart(FLAT)
    assert [entry.line for entry in key_of(grid) if entry.kind == "marker"] == ["marker"]
    other = for_left_hand(grid)
    assert {grid.columns - c for c in grid.rows[0].markers} == set(other.rows[0].markers)
