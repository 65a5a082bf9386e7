"""A stitch pattern whose heading is "Chart: NAME", as a plain sheet of a drawn chart has it."""

import pytest

from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp


@pytest.mark.parametrize(
    ("heading", "called"),
    [("Chart: pods", "chart pods"), ("Chart A: pods", "chart A"), ("Pods chart", "pods chart")],
)
def test_rows_under_a_chart_s_name_are_worked_where_it_is_called(heading, called):
    work = WorkUp(
        f"# Mat\n\n## {heading}\nRow 1 (RS): *K1, yo, k2tog; rep from *.\nRow 2: Purl.\n\n"
        f"## Square\nCast on 6 sts.\nWork rows 1-2 of {called} 2 times.\nBind off.\n"
    )
    assert work.findings() == []
    assert [(e.made, e.lost) for e in work.knitted().ledger.entries if e.kind == "row"] == [
        (2, 2),
        (0, 0),
    ] * 2


def test_a_drawn_chart_of_such_a_name_is_the_same_in_plain_text():
    text = (
        "# Mat\n\n## Chart: pods\n```chart\n2 |. .|\n  |. x| 1\n. = knit / purl\nx = purl / knit\n```\n\n"
        "## Square\nCast on 6 sts.\nWork rows 1-2 of chart pods 2 times.\nBind off.\n"
    )
    work = WorkUp(text)
    again = WorkUp(to_text(work.sheet()))
    assert [f.code for f in again.findings()] == [f.code for f in work.findings()]
    assert (again.knitted().fabric.op_of_stitch == work.knitted().fabric.op_of_stitch).all()
