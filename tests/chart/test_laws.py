"""A chart is the fabric it was drawn from: its rows in words, knitted, make the same stitches on the same loops."""

import re
from pathlib import Path

import pytest

from chart.again import ROWS, worked, written
from purlwright.chart.charts import charts_of, sections_of
from purlwright.chart.grid import make_grid
from purlwright.chart.tiling import once_across
from purlwright.chart.typed import knit_chart
from purlwright.proof import two_examples
from purlwright.workup import WorkUp

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.pattern.md"))
BOOKS = sorted((ROOT / "tests" / "books").glob("*.md"))


def patterns():
    for path in EXAMPLES:
        yield pytest.param(path.read_text(encoding="utf-8"), id=path.stem)
    for path in BOOKS:
        for m in re.finditer(
            r"^### (.+?)\n.*?```\n(.*?)```", path.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE
        ):
            yield pytest.param(f"# {m[1]}\n{m[2]}", id=f"{path.stem}: {m[1]}".replace(" ", "-"))


def stands_alone(grid):
    """Whether rows can be knitted from a cast-on: they begin with stitches, and no holder gives or takes any."""
    return grid.rows[0].start > 0 and not grid.unread and not grid.held


@pytest.mark.parametrize("text", list(patterns()))
def test_the_rows_of_a_chart_in_words_knit_the_fabric_it_was_drawn_from(text):
    work = WorkUp(text, "first")
    knitted = work.knitted()
    for grid in sections_of(knitted):
        if not stands_alone(grid):
            continue
        again = WorkUp(written(work, grid), "again").knitted()
        rows = {e.order for p in again.ledger.pieces for e in p.rows if e.kind in ROWS}
        assert worked(again, rows) == worked(knitted, {row.order for row in grid.rows}), grid.title


def test_nearly_every_stretch_is_held_to_that_law():
    grids = [
        grid for p in patterns() for grid in sections_of(WorkUp(p.values[0], "first").knitted()) if grid.rows
    ]
    assert len(grids) > 60
    assert sum(map(stands_alone, grids)) >= len(grids) - 6


TYPED = [p for p in EXAMPLES if "```chart" in p.read_text(encoding="utf-8")]


@pytest.mark.parametrize("path", TYPED, ids=lambda p: p.stem)
def test_a_typed_chart_drawn_with_standard_signs_and_told_in_words_is_still_that_chart(path):
    work = WorkUp(path.read_text(encoding="utf-8"), "first")
    knitted = work.knitted()
    charts = [c for c in work.pattern.charts if c.rows]
    for chart, grid in zip(charts, charts_of(work.pattern, knitted), strict=False):
        typed = [list(row.marks) for row in chart.rows]
        marks = {}
        for row, squares in zip(grid.rows, typed, strict=True):
            assert len(squares) == grid.columns
            for square, mark in zip(row.squares, squares, strict=True):
                marks.setdefault(mark, set()).add((square.sign, square.yarn, row.from_right))
        assert len(marks) == len(chart.key)
        assert all(len(signs) == 1 for signs in marks.values())


def typed_charts():
    """Typed charts of the examples, and of the small patterns in which a check of charts holds."""
    texts = {path.stem: path.read_text(encoding="utf-8") for path in TYPED}
    texts |= {f"{check} holds": both.holds for check, both in two_examples.examples().items() if both.holds}
    for name, text in texts.items():
        if "```chart" in text:
            yield pytest.param(text, id=name.replace(" ", "-"))


@pytest.mark.parametrize("text", list(typed_charts()))
def test_a_typed_chart_and_its_rows_in_words_knit_one_fabric(text):
    work = WorkUp(text, "first")
    looked = 0
    for chart in work.pattern.charts:
        alone, rows = knit_chart(work.pattern, chart, whole=work.knitted())
        if any(row.unclear for row in chart.rows):
            assert rows == ()
            continue
        grid = once_across(make_grid(alone, rows, chart.name))
        numbers = [row.number for row in grid.rows]
        if numbers != list(range(1, len(numbers) + 1)):
            continue  # rows that are not drawn stand between
        again = WorkUp(written(work, grid), "again").knitted()
        orders = {e.order for p in again.ledger.pieces for e in p.rows if e.kind in ROWS}
        assert worked(again, orders) == worked(alone, {e.order for e in rows}), chart.name
        looked += 1
    assert looked or any(row.unclear for chart in work.pattern.charts for row in chart.rows)
