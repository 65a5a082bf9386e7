"""The pages of every example, as a reader's browser finds them: no barriers, and a place to knit from."""

from pathlib import Path

import pytest

from purlwright.sheet.out.follow import to_follow
from purlwright.sheet.out.html import to_html
from purlwright.workup import work_up

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_no_barriers_and_all_rows_can_be_ticked(opened, barriers, path):
    document = work_up(path.read_text(encoding="utf-8"), path.name).sheet(follow=True)
    dark = EXAMPLES.index(path) % 2 == 1
    page = opened(to_html(document), dark=dark)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert barriers(page) == []

    page = opened(to_follow(document), dark=not dark)
    if page.locator("#_choose").is_visible():
        page.locator("#_sizes button").last.click()
    rows = len(document.follow[-1].steps)
    page.get_by_text("Go to another row").click()
    page.get_by_label("Step number").fill(str(rows))
    page.get_by_label("Step number").press("Enter")
    page.get_by_role("button", name="Tick them too").click()
    assert page.locator("#_progress_words").inner_text() == f"Step {rows} of {rows}, {rows - 1} ticked"
    assert barriers(page) == []
    page.locator("#_done").click()
    assert page.locator("#_row").inner_text() == "All rows are ticked"
