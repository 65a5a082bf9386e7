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
