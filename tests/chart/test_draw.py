"""What is drawn of a chart: lines, numbers, frames, key, parts and pages, read back from the SVG."""

import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from chart.squares import chart, drawn, rows_of
from purlwright.chart.draw import Part, draw_grid, for_left_hand
from purlwright.chart.draw_key import draw_chart, draw_key
from purlwright.chart.grid import make_grid
from purlwright.chart.key import key_of
from purlwright.chart.pages import PAPERS, chart_pages
from purlwright.chart.parts import parts_of, said_of_part
from purlwright.drawing import Group, Text, to_svg

SVG = "{http://www.w3.org/2000/svg}"
LACE = "Cast on 27 sts.\nRow 1 (RS): K2, *yo, k2, sk2p, k2, yo, k1; rep from * to last st, k1.\nRow 2: Purl."


def read(drawing, **asked):
    return ET.fromstring(to_svg(drawing, "Chart", **asked))  # noqa: S314 - our own words


def words(drawing):
    return [text.text for text in read(drawing).iter(f"{SVG}text")]


def used(drawing):
    return [use.get("href").removeprefix("#") for use in read(drawing).iter(f"{SVG}use")]


def test_an_empty_chart_can_be_drawn():
    _, knitted, _ = rows_of("Cast on 4 sts.\nRow 1: Knit.")
    grid = make_grid(knitted, [], "Nothing")
    assert words(draw_chart(grid, key_of(grid))) == ["Nothing"]


def test_each_sign_is_one_use_and_knits_are_empty_squares():
    assert sorted(used(draw_grid(chart(LACE)))) == ["over-1"] * 6 + ["three-left-passed-1"] * 3


def test_row_numbers_stand_on_the_side_where_the_row_starts():
    drawing = draw_grid(chart(LACE))
    at = {t.text: float(t.get("x")) for t in read(drawing).iter(f"{SVG}text") if t.get("fill") == "#000"}
    assert at["2"] < 10 < drawing.width_mm - 10 < at["1"]


def test_counts_stand_at_the_other_end_when_asked_for():
    counted = words(draw_grid(chart(LACE), counts=True))
    assert counted.count("(27)") == 2
    assert "(27)" not in words(draw_grid(chart(LACE)))


def test_every_square_can_be_found_by_a_click_when_linked():
    root = read(draw_grid(chart(LACE), linked=True), linked=True)
    rects = [r for r in root.iter(f"{SVG}rect") if r.get("data-span")]
    assert len(rects) == 2 * 27
    assert "data-span" not in to_svg(draw_grid(chart(LACE)), "Chart")


def test_places_without_a_stitch_are_shaded_and_places_not_reached_are_left_out():
    shaped = chart("Cast on 5 sts.\nRow 1 (RS): K2, k2tog, k1.\nRow 2: Purl.")
    assert [r.get("fill") for r in read(draw_grid(shaped)).iter(f"{SVG}rect")] == ["#c9c9c9"] * 2
    short = chart("Cast on 6 sts.\nRow 1 (RS): K4, w&t.\nRow 2: Purl.")
    assert list(read(draw_grid(short)).iter(f"{SVG}rect")) == []
    assert used(draw_grid(short)) == ["mirrored-turn-wrapped-1"]


def test_a_repeat_has_a_heavy_frame():
    root = read(draw_grid(chart(LACE, once=True)))
    assert [p.get("stroke-width") for p in root.iter(f"{SVG}path")].count("0.8") == 4


def test_yarns_differ_by_shade_and_the_darkest_has_light_signs():
    words_ = """# A
Yarn: A, wool, white
Yarn: B, wool, grey
Yarn: C, wool, red
## Body
Cast on 8 sts with A.
Row 1 (RS): K3 A, k2 B, k1 C, k2 A.
Row 2 (WS): P3 A, k2 B, p3 A."""
    grid = chart(words_)
    fills = {r.get("fill") for r in read(draw_grid(grid)).iter(f"{SVG}rect")}
    assert len(fills) == 2
    assert "purl-1-light" in used(draw_grid(grid))
    assert [(e.kind, e.words) for e in key_of(grid)] == [
        ("sign", "knit; white is A"), ("sign", "purl"), ("yarn", "B"), ("yarn", "C"),
    ]  # fmt: skip


def test_no_two_lines_of_the_key_of_a_chart_in_colours_look_alike():
    header = "# A\nYarn: MC, wool\nYarn: CC, wool\n## Hat\nCast on 8 sts with MC{}.\n"
    round_ = header.format(" and join to work in the round") + "Rnd 1: *K3 MC, k1 CC; rep from * to end."
    assert [(e.kind, e.line, e.words) for e in key_of(chart(round_))] == [
        ("yarn", "MC", "knit"), ("yarn", "CC", "knit"),
    ]  # fmt: skip
    flat = header.format("") + "Row 1 (RS): K6 MC, k2 CC.\nRow 2 (WS): P1 CC, p7 MC."
    assert [(e.line, e.words) for e in key_of(chart(flat))] == [
        ("MC", "k on RS, p on WS"), ("CC", "k on RS, p on WS"),
    ]  # fmt: skip


def test_the_key_has_each_sign_once_with_what_it_asks_for_on_either_side():
    grid = chart("Cast on 9 sts.\nRow 1 (RS): K2, yo, k2tog, p1, ssk, yo, k2.\nRow 2 (WS): P4, k1, p4.")
    lines = {e.sign: e.line for e in key_of(grid)}
    assert lines == {
        "knit": "k on RS, p on WS", "purl": "p on RS, k on WS", "over": "yo", "two-left": "ssk",
        "two-right": "k2tog",
    }  # fmt: skip
    assert set(lines.values()) <= set(words(draw_key(grid, key_of(grid))))


def test_a_key_in_uk_terms_has_uk_words():
    grid = chart("Cast on 6 sts.\nRow 1 (RS): Bind off 2 sts, k to end.")
    assert "cast off 1" in {e.line for e in key_of(grid, terms="UK")}


def test_the_key_stands_beside_a_narrow_chart_and_under_a_wide_one():
    narrow, wide = chart(LACE, once=True), chart(LACE.replace("27", "43"))
    for grid, beside in ((narrow, True), (wide, False)):
        key = [s for s in draw_chart(grid, key_of(grid)).shapes if isinstance(s, Group)][1]
        assert (key.x_mm > 40) == beside


def test_a_left_handed_chart_is_the_mirror_image_and_its_key_says_the_same_words():
    grid = chart(LACE)
    left = for_left_hand(grid)
    assert [line.strip(" 0123456789") for line in drawn(left)] == [
        line.strip(" 0123456789")[::-1].replace("L", "m") for line in drawn(grid)
    ]
    assert {e.line for e in key_of(left)} == {e.line for e in key_of(grid)}
    two = chart("Cast on 6 sts.\nRow 1 (RS): K1, k2tog, yo, k3.")
    assert {s.sign for s in for_left_hand(two).rows[0].squares} == {"knit", "over", "two-left"}
    assert for_left_hand(for_left_hand(two)) == two


def test_a_wide_chart_comes_in_parts_that_overlap_and_say_so():
    grid = chart(LACE.replace("Cast on 27", "Cast on 91"))
    parts = parts_of(grid, 40, 20)
    assert len(parts) == 3
    assert parts[0].last == grid.columns
    assert parts[-1].first == 0
    for a, b in pairwise(parts):
        assert b.last - a.first >= 2
    assert said_of_part(grid, parts[1], parts).startswith("Part 2 of 3: squares ")
    assert "stand in part 1 too" in said_of_part(grid, parts[1], parts)
    assert said_of_part(grid, Part.whole(grid), (Part.whole(grid),)) == ""


def test_no_crossing_is_cut_when_there_is_another_place():
    grid = chart("Cast on 90 sts. Join in the round.\nRnd 1: [2/2 RC, k1] 18 times.\nRnd 2: Knit.")
    for part in parts_of(grid, 33, 20):
        for s in grid.rows[0].squares:
            assert not s.column < part.first < s.column + s.width
            assert not s.column < part.last < s.column + s.width


def test_every_square_is_on_some_page_and_the_key_too():
    grid = chart(LACE.replace("Cast on 27", "Cast on 131"))
    pages = chart_pages(grid, key_of(grid))
    wide, high = PAPERS["a4"]
    assert all({page.width_mm, page.height_mm} == {wide, high} for page in pages)
    text = [w for page in pages for w in words(page)]
    assert {"yo", "sk2p", "k on RS, p on WS"} <= set(text)
    assert {str(n) for n in range(5, 131, 5)} <= set(text)


def test_a_small_chart_is_one_upright_page():
    grid = chart(LACE, once=True)
    (page,) = chart_pages(grid, key_of(grid), paper="letter")
    assert (page.width_mm, page.height_mm) == PAPERS["letter"]


def test_what_no_page_has_room_for_is_refused():
    grid = chart(LACE)
    with pytest.raises(ValueError, match="8 by 4"):
        parts_of(grid, 4, 4)
    with pytest.raises(ValueError, match=re.escape("a4, letter")):
        chart_pages(grid, (), paper="foolscap")


def test_words_in_a_drawing_are_printed_as_they_are():
    grid = chart("# A & <b>\n\nCast on 5 sts.\nRow 1 (RS): Knit.")
    shapes = draw_chart(grid, key_of(grid), notes=["<script>alert(1)</script> & more"])
    assert "<script>" not in to_svg(shapes, "<script>")
    assert any(isinstance(s, Text) and "alert(1)" in s.words for s in shapes.shapes)


def test_a_chart_of_two_hundred_rows_over_a_hundred_stitches_is_a_small_file():
    rows = "".join(
        f"Row {n}: K1, [yo, k2tog, p1, ssk, yo, k{n % 4 + 1}] {94 // (n % 4 + 6)} times, k to end.\nRow {n + 1}: Purl.\n"
        for n in range(1, 200, 2)
    )
    grid = chart(f"Cast on 100 sts.\n{rows}")
    assert (grid.columns, len(grid.rows)) == (100, 200)
    assert len(to_svg(draw_chart(grid, key_of(grid)), "Large").encode()) < 2_000_000
    assert len(to_svg(draw_grid(grid, linked=True), "Large", linked=True).encode()) < 4_000_000


def test_no_panel_of_lace_is_cut_when_there_is_plain_knitting_beside_it():
    row = "K23, yo, ssk, k4, yo, sk2p, yo, k4, k2tog, yo, k23."
    grid = chart(f"Cast on 61 sts.\nRow 1 (RS): {row}\nRow 2: Purl.")
    lace = {s.column for s in grid.rows[0].squares if s.taken != 1}
    parts = parts_of(grid, 41, 20)
    assert len(parts) == 2
    assert any(all(part.first <= column < part.last for column in lace) for part in parts)
