"""Stitch patterns of many kinds: lace, moving repeats, cables, colours, short rows, bobbles, flat and round.

Each stands in ``patterns/`` as a small pattern. Its chart told in words, its sheet as plain text and its sheet
to be heard are knitted again, and all of them are the fabric of the pattern.
"""

from pathlib import Path

import pytest

from chart.again import ROWS, worked, written
from purlwright.chart.charts import charts_of, sections_of
from purlwright.findings import Severity
from purlwright.rewrite.compare import difference
from purlwright.sheet.out.spoken import to_spoken
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp

PATHS = sorted((Path(__file__).parent / "patterns").glob("*.pattern.md"))
by_pattern = pytest.mark.parametrize("path", PATHS, ids=lambda p: p.name.partition(".")[0])


def test_there_are_more_than_twenty():
    assert len(PATHS) > 20


@by_pattern
def test_it_has_a_chart_and_its_rows_in_words_knit_the_same_fabric(path):
    work = WorkUp(path.read_text(encoding="utf-8"))
    knitted = work.knitted()
    assert not [f for f in work.findings(work.sizes[0], {}) if f.severity is Severity.ERROR]
    assert charts_of(work.pattern, knitted)
    for grid in sections_of(knitted):
        again = WorkUp(written(work, grid)).knitted()
        orders = {e.order for p in again.ledger.pieces for e in p.rows if e.kind in ROWS}
        assert worked(again, orders) == worked(knitted, {row.order for row in grid.rows})


@by_pattern
@pytest.mark.parametrize("spoken", [False, True])
def test_its_sheet_as_text_knits_the_same_fabric(path, spoken):
    work = WorkUp(path.read_text(encoding="utf-8"))
    document = work.sheet(spoken=spoken, follow=False)
    again = WorkUp(to_spoken(document) if spoken else to_text(document))
    assert difference(work.knitted(), again.knitted()) == ""
