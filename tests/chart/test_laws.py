"""A chart is the fabric it was drawn from: its rows in words, knitted, make the same stitches on the same loops."""

import re
from pathlib import Path

import pytest

from purlwright.chart.charts import charts_of, sections_of
from purlwright.chart.follow import follow
from purlwright.chart.grid import make_grid
from purlwright.chart.tiling import once_across
from purlwright.chart.typed import knit_chart
from purlwright.chart.words import rows_in_words
from purlwright.needles.ledger import Kind
from purlwright.pattern.words import definition_words
from purlwright.proof import two_examples
from purlwright.stitches.load import dictionary
from purlwright.workup import WorkUp

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.pattern.md"))
BOOKS = sorted((ROOT / "tests" / "books").glob("*.md"))
ROWS = {Kind.ROW, Kind.ROUND, Kind.BIND_OFF}


def patterns():
    for path in EXAMPLES:
        yield pytest.param(path.read_text(encoding="utf-8"), id=path.stem)
    for path in BOOKS:
        for m in re.finditer(
            r"^### (.+?)\n.*?```\n(.*?)```", path.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE
        ):
            yield pytest.param(f"# {m[1]}\n{m[2]}", id=f"{path.stem}: {m[1]}".replace(" ", "-"))


def usual(deed):
    """What a stitch is, whatever it is called."""
    name = deed.inner[0] if deed.own and len(deed.inner) == 1 else deed.name
    stitch = dictionary().stitches.get(name)
    return stitch.chart if stitch is not None and stitch.chart else name


def worked(knitted, orders):
    """Each row from left to right: what was worked, on which loops of the row below, how many loops it left
    and what the right side shows of those that are new.
    """
    fabric = knitted.fabric
    entries = [e for p in knitted.ledger.pieces for e in p.rows if e.order in orders]
    first = min((i for i, row in enumerate(fabric.row_of_stitch.tolist()) if row in orders), default=0)
    out, before = [], None
    for row in follow(knitted, entries):
        place = {id(loop): i for i, loop in enumerate(before or ())}
        out.append(
            [
                (
                    usual(d),
                    len(d.taken) if before is None else [place[id(loop)] for loop in d.taken],
                    0 if d.closed else len(d.made),
                    []
                    if d.closed
                    else [int(fabric.seen_of_stitch[m.stitch]) for m in d.made if m.stitch >= first],
                )
                for d in row.deeds
            ]
        )
        before = row.line
    return out


def written(work, grid):
    """A pattern made of nothing but a chart's rows in words."""
    lines = ["# Again"]
    if grid.colours > 1:
        lines += [f"Yarn: {name}, wool" for name in grid.yarns if name]
    if work.pattern.definitions:
        lines += ["## Abbreviations", *map(definition_words, work.pattern.definitions)]
    join = " Join to work in the round." if grid.rows[0].round else ""
    return "\n".join(
        [*lines, "## Rows", f"Cast on {grid.rows[0].start} sts.{join}", *rows_in_words(grid), ""]
    )


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
        alone, rows = knit_chart(work.pattern, chart, own=work.knitted().own)
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
