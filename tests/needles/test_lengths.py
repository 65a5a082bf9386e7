"""Rows worked until a length is there: the whole piece is measured from its cast-on."""

import pytest

from purlwright.workup import WorkUp

BEGIN = (
    "# Strip\n\nGauge: 20 sts and 24 rows = 10 cm\n\nCast on 20 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): Purl.\n"
)


@pytest.mark.parametrize(
    ("words", "rows"),
    [
        ("Rep rows 1 and 2 until piece measures 10 cm.", 24),
        ("Rep rows 1 and 2 until work measures 10 cm from cast-on edge.", 24),
        ("Knit every row until the piece is 10 cm long.", 24),
        ("Knit every row for 10 cm.", 26),
    ],
)
def test_a_piece_is_measured_from_its_cast_on(words, rows):
    text = BEGIN + words + "\nBind off.\n"
    entries = WorkUp(text).knitted().ledger.entries
    assert sum(e.kind.value == "row" for e in entries) == rows


ALIKE = "Gauge: 20 sts and 20 rows = 10 cm"


def rows_of_section(words, heading):
    entries = WorkUp(f"# Quay Hat\n\n{ALIKE}\n\n{words}").knitted().ledger.entries
    return sum(e.section == heading and e.kind.value in {"row", "round"} for e in entries)


@pytest.mark.parametrize(
    ("words", "rows"),
    [
        ("until sides measure 5 cm", 10),
        ("until it measures 12 cm", 18),
        ("until hat measures 12 cm", 18),
        ("until the cowl measures 12 cm", 18),
        ("until work measures 5 cm above the brim", 10),
        ("until work measures 5 cm from end of brim", 10),
        ("until work measures 12 cm from cast-on edge", 18),
        ("for 5 cm", 12),
    ],
)
def test_a_part_is_measured_from_where_it_begins(words, rows):
    hat = "## Brim\nCast on 20 sts.\nWork in k1, p1 rib until brim measures 3 cm.\n\n## Sides\nKnit 2 rows.\nKnit {}.\nBind off.\n"
    assert rows_of_section(hat.format(words), "Brim") == 6
    assert rows_of_section(hat.format(words), "Sides") == rows


@pytest.mark.parametrize(
    ("before", "words", "rows"),
    [
        ("Knit 4 rows.", "Work in k1, p1 rib until ribbing measures 3 cm", 4 + 6),
        ("Knit 4 rows.\nNext row: K10, place next 10 sts on a holder.", "Knit until armhole measures 3 cm", 4 + 6),
        ("Knit 4 rows.\nNext row: K10, place next 10 sts on a holder.", "Knit until work measures 3 cm from underarm", 4 + 6),
        ("Knit 4 rows.\nNext row: K5, pm, k15.", "Knit until work measures 3 cm from marker", 5 + 6),
        ("Knit 4 rows. Join in the round.", "Knit until work measures 3 cm from join", 4 + 6),
    ],
)  # fmt: skip
def test_a_length_is_measured_from_what_the_words_name(before, words, rows):
    assert rows_of_section(f"## Body\nCast on 20 sts.\n{before}\n{words}.\n", "Body") == rows


STRIP = (
    "Cast on 20 sts.\nKnit 4 rows.\nNext row: K2tog, k18.\nKnit 3 rows.\nKnit until work measures 3 cm {}.\n"
)


@pytest.mark.parametrize("place", ["fold line", "underarm", "marker", "top of gusset"])
def test_a_length_from_a_place_that_nothing_is_called_is_said(place):
    w = WorkUp(f"# Quay Hat\n\n{ALIKE}\n\n## Body\n{STRIP.format(f'from {place}')}").knitted()
    assert [f.problem.place for f in w.findings if f.code == "measured-from-nowhere"] == [place]


@pytest.mark.parametrize(
    ("place", "rows"),
    [("from last dec", 5 + 6), ("along the side", 8), ("from the edge", 8), ("above the body", 8)],
)
def test_a_length_from_a_place_that_is_known_is_not(place, rows):
    words = f"## Body\n{STRIP.format(place)}"
    assert rows_of_section(words, "Body") == rows
    assert "measured-from-nowhere" not in {
        f.code for f in WorkUp(f"# Hat\n\n{ALIKE}\n\n{words}").knitted().findings
    }


def test_a_length_above_the_rib_is_no_number_of_ribs():
    assert (
        rows_of_section("## Body\nCast on 20 sts.\nKnit until work measures 3 cm above rib.\n", "Body") == 6
    )


def test_a_sleeve_taken_up_is_measured_from_there():
    words = (
        "## Body\nCast on 20 sts.\nKnit 10 rows.\nNext row: K10, place next 10 sts on a holder.\nBind off.\n\n"
        "## Sleeve\nReturn 10 held sts to needle.\nKnit 2 rows.\nKnit until sleeve measures 5 cm.\nBind off.\n"
    )
    assert rows_of_section(words, "Sleeve") == 10
