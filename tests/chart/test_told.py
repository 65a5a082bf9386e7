"""Which stretches are charted, typed charts, and rows in words."""

import pytest

from purlwright.chart.charts import NoSuchRows, charts_of, section_names
from purlwright.chart.told import told_charts
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp

TYPED = """# Fern
## Fern chart
```chart
4 | . . . . . |
  | . o / . . | 3
2 | . . . . . |
  | . . . o / | 1

. = k / p
o = yo
/ = k2tog / p2tog
```
## Body
Cast on 20 sts.
Work rows 1-4 of the fern chart 3 times.
Bind off.
"""
HALF = """# Half
## Ladder
Only RS rows are drawn; purl all WS rows.
```chart
| - o / - | 3
| - / o - | 1

- = p
o = yo
/ = k2tog
```
"""
APART = """# Apart
## Little ladder stitch
Row 1 (RS): *K2, yo, k2tog; rep from * to last 2 sts, k2.
Row 2 (WS): Purl.

## Body
Cast on 22 sts.
Knit 4 rows.
Work in little ladder stitch for 8 rows.
Knit 4 rows.
Bind off.
"""


def titles(text):
    work = WorkUp(text, "a")
    return [c.title for c in work.charts()]


def test_a_typed_chart_gets_standard_signs_through_its_own_key():
    (told,) = WorkUp(TYPED, "a").charts(section="fern chart")
    rows = [[s.sign for s in row.squares] for row in told.grid.rows]
    assert rows[0] == ["knit", "knit", "knit", "over", "two-right"]
    assert rows[1] == ["knit"] * 5
    assert [row.number for row in told.grid.rows] == [1, 2, 3, 4]
    assert told.words[0] == "Row 1 (RS): [k2tog, yo, k3] 3 times."
    assert [(t.width, t.times) for t in told.grid.tiles] == [(5, 3)]


def test_only_the_rows_that_are_drawn_are_in_the_chart():
    (told,) = WorkUp(HALF, "a").charts()
    assert [row.number for row in told.grid.rows] == [1, 3]
    assert not told.grid.flat
    assert [s.sign for s in told.grid.rows[1].squares] == ["purl", "over", "two-right", "purl"]


def test_a_square_of_a_typed_chart_is_tied_to_its_mark():
    work = WorkUp(TYPED, "a")
    (told,) = work.charts(section="fern")
    assert [work.source.words(s.span) for s in told.grid.rows[2].squares] == [".", "o", "/", ".", "."]


def test_a_stitch_pattern_written_apart_is_charted_by_itself():
    work = WorkUp(APART, "a")
    assert "Little ladder stitch" in section_names(work.pattern, work.knitted())
    (told,) = work.charts(section="little ladder")
    assert told.words[0] == "Row 1 (RS): [k2, yo, k2tog] 3 times, k2."


def test_plain_rows_and_ribs_are_not_worth_a_chart():
    assert titles("# A\n## Body\nCast on 20 sts.\nRows 1-8: *K2, p2; rep from * to end.\nKnit 10 rows.") == []


def test_rows_are_asked_for_by_their_numbers():
    work = WorkUp(
        "# A\n## Body\nCast on 9 sts.\nRow 1 (RS): K4, p1, k4.\nRow 2: Purl.\nRow 3: Knit.\nRow 4: Purl.", "a"
    )
    (told,) = work.charts(rows=(2, 3))
    assert (told.title, [r.number for r in told.grid.rows]) == ("Body, rows 2 to 3", [2, 3])
    with pytest.raises(NoSuchRows, match="no rows 3 to 9"):
        work.charts(rows=(3, 9))
    with pytest.raises(NoSuchRows, match='no section "Yoke" with rows in it; there are "Body"'):
        work.charts(section="Yoke")


def test_the_working_is_drawn_in_which_each_repeat_was_knitted_three_times():
    text = """# Wedge
## Wedge
Cast on 7 sts.
Row 1 (RS): K1, yo, *k1, yo, sk2p, yo, k1; rep from * to last st, yo, k1.
"""
    grown = """# Growing
## Growing
Cast on 8 sts.
Row 1 (RS): K1, *yo, k2tog, k4; rep from * to last st, yo, k1.
Row 2: Purl.
Row 3: Knit to last st, kfb.
Row 4: P to last st, pfb.
Row 5: K to last st, kfb.
Row 6: P to last st, pfb.
Row 7: K to last st, kfb.
Row 8: Purl.
Rep rows 1-8 3 times more.
"""
    assert charts_of(WorkUp(text, "a").pattern, WorkUp(text, "a").knitted()) is not None
    (told,) = WorkUp(grown, "a").charts()
    assert [tile.times for tile in told.grid.tiles] == [3]


def test_what_a_picture_shows_is_told_for_those_who_cannot_see_it():
    (told,) = WorkUp(TYPED, "a").charts(section="fern")
    assert told.description.startswith("A chart of 4 rows over 5 squares, with a repeat framed. Row 1 (RS): ")


def test_left_handed_charts_keep_their_words():
    right, left = (WorkUp(TYPED, "a").charts(left_handed=hand)[0] for hand in (False, True))
    assert right.words == left.words
    assert [s.sign for s in left.grid.rows[0].squares] == ["two-left", "over", "knit", "knit", "knit"]


def places(text, check):
    return next((v.result.value, v.places) for v in WorkUp(text, "a").proved().verdicts if v.check == check)


WHOLE = TYPED.replace("| ", "  ").replace(" |", "  ").replace("Cast on 20", "Cast on 30")


def test_a_chart_without_lines_that_tiles_as_a_whole_holds():
    assert places(WHOLE, "C082") == ("holds", 1)
    assert places(TYPED, "C082") == ("holds", 1)


def test_a_chart_without_lines_whose_rows_differ_in_width_is_no_repeat():
    assert places(WHOLE.replace(". . . o /", ". . . o / ."), "C082")[1] == 0


def test_a_chart_whose_lines_are_unclear_is_not_drawn():
    work = WorkUp(TYPED.replace("4 | . . . . . |", "4 | . . . . ."), "a")
    assert "Fern chart" not in [c.title for c in work.charts()]
    with pytest.raises(NoSuchRows, match="cannot be knitted as it is typed"):
        work.charts(section="fern chart")


def test_a_chart_wider_than_can_be_drawn_is_refused_in_words_and_soon():
    wide = " ".join(".-" * 510)
    text = (
        f"# Wide\n\n## Wide chart\n```chart\n  {wide} 1\n\n. = k / p\n- = p / k\n```\n\n## Piece\n"
        "Cast on 1020 sts.\nWork row 1 of Wide chart.\nBind off.\n"
    )
    work = WorkUp(text)
    assert work.charts() == ()
    with pytest.raises(NoSuchRows, match="more than 1,000 squares across"):
        work.charts(section="Wide chart")
    assert "P1, k1, p1" in to_text(work.sheet())


@pytest.mark.parametrize(("cast_on", "label"), [("", "Row 1"), (" Join in the round.", "Rnd 1")])
def test_one_row_typed_is_a_row_or_a_round_as_it_is_worked(cast_on, label):
    unit = "Rnd" if cast_on else "Row"
    text = (
        "# Strip\n## Chart A\n```chart\n. x . x 1\n\n. = k\nx = p\n```\n## Strip\n"
        f"Cast on 12 sts.{cast_on}\n{unit} 1: Work row 1 of chart A to end.\nBind off all sts.\n"
    )
    work = WorkUp(text)
    (grid,) = charts_of(work.pattern, work.knitted())
    assert grid.rows[0].round is bool(cast_on)
    told = to_text(work.sheet()).split("## Strip")[0]
    assert f"\n{label}" in told


def repeat_said(text):
    work = WorkUp(text)
    (chart,) = told_charts(work.pattern, work.knitted())
    return [entry.words for entry in chart.key if entry.kind == "repeat"]


def test_a_chart_apart_does_not_say_how_often_its_repeat_is_worked_across():
    assert repeat_said(TYPED) == [""]


def test_a_stitch_of_her_own_is_told_in_full_words():
    text = (
        "# Mat\n\n## Abbreviations\nsl1: slip 1 purlwise.\n\n## Mat\nCast on 9 sts.\n"
        "Row 1 (RS): *K2, sl1; rep from * to end.\nRow 2: Purl.\n"
        "Row 3: K1, *sl1, k2; rep from * to last 2 sts, sl1, k1.\nRow 4: Purl.\n"
        "Rep rows 1-4 twice more.\nBind off.\n"
    )
    work = WorkUp(text)
    key = [entry for chart in told_charts(work.pattern, work.knitted()) for entry in chart.key]
    assert [entry.words for entry in key if entry.line.startswith("sl1")] == ["slip purlwise"]


def test_the_key_calls_a_stitch_what_she_calls_it():
    text = (
        "# Mat\n\n## Mat\nCast on 9 sts.\nRow 1 (RS): K3, yo, CDD, yo, k3.\nRow 2: Purl.\n"
        "Row 3: K2, yo, k1, CDD, k1, yo, k2.\nRow 4: Purl.\nBind off.\n"
    )
    work = WorkUp(text)
    (chart,) = told_charts(work.pattern, work.knitted())
    lines = [entry.line for entry in chart.key]
    assert "CDD" in lines
    assert "k on RS, p on WS" in lines
