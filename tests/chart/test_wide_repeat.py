"""A repeat wider than is looked for without words is found where the chart itself says it is one."""

from purlwright.chart.charts import charts_of
from purlwright.workup import WorkUp


def test_a_typed_chart_of_90_stitches_is_drawn_once():
    rows = [
        " ".join("x" if (c * 7 + r * 3) % 11 < 3 or c % 30 == r else "." for c in range(90))
        for r in range(1, 5)
    ]
    drawn = "\n".join(f"{row} {n}" for n, row in reversed(list(enumerate(rows, 1))))
    work = WorkUp(
        "# Cowl\nYarn: MC, grey\nYarn: CC, navy\n\n## Chart: scarth\n```chart\n"
        f"{drawn}\n. = k1 in MC\nx = k1 in CC\n```\n\n## Cowl\nWith MC, cast on 90 sts and join to work in the "
        "round.\nWork rounds 1-4 of chart scarth.\nBind off.\n"
    )
    (grid, *_) = charts_of(work.pattern, work.knitted())
    assert (len(grid.rows), grid.columns) == (4, 90)
