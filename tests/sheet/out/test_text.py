"""The plain text of a sheet is a pattern again: it knits to the same fabric."""

from pathlib import Path

import pytest

from purlwright.rewrite.compare import difference
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp, option_choices, work_up

EXAMPLES = sorted((Path(__file__).resolve().parents[3] / "examples").glob("*.pattern.md"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_it_knits_to_the_same_fabric_in_every_size_and_choice(path):
    work = work_up(path.read_text(encoding="utf-8"), path.name)
    for choice in option_choices(list(work.options))[0]:
        for size in [None, *(work.sizes if len(work.sizes) > 1 else ())]:
            again = WorkUp(to_text(work.sheet(size, dict(choice), follow=False)))
            hers = work.sizes if size is None else (size,)
            assert again.title == work.title
            assert len(again.sizes) == len(hers)
            for mine, its in zip(hers, again.sizes, strict=True):
                assert difference(work.knitted(mine, dict(choice)), again.knitted(its)) == ""


def test_what_the_sheet_says_of_itself_is_no_instruction():
    rows = "Cast on 4 sts.\nRow 1: K1, m1l, k to end.\nRep row 1 twice more."
    text = to_text(WorkUp(f"# Mat\n## Mat\n{rows}").sheet())
    assert "> Row 1. 1: 5 sts; 2: 6 sts; 3: 7 sts." in text
    assert "\nRow 1: K1, m1l, k to end.\n" in text


def test_an_explanation_of_ours_defines_no_stitch():
    rows = "Cast on 9 sts.\nRow 1: K3, C4F, k2.\nRow 2: Purl.\nBind off."
    work = WorkUp(f"# Mat\n{rows}")
    text = to_text(work.sheet())
    assert "two over two left cross." in text
    again = WorkUp(text)
    assert again.pattern.definitions == ()
    assert difference(work.knitted(), again.knitted()) == ""
