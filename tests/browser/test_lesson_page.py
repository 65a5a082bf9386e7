"""The lesson page in a real browser: without barriers, by keys alone, as a list without script, never over the edge."""

from pathlib import Path

import pytest

from purlwright.cli import main

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def lesson(tmp_path_factory):
    folder = tmp_path_factory.mktemp("lesson")
    example = ROOT / "examples" / "skerry-hat.pattern.md"
    assert main(["lesson", str(example), "--as", "html", "--out", str(folder)]) == 0
    return (folder / "skerry-hat.lesson.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
def test_no_barriers(opened, barriers, lesson, width, dark):
    page = opened(lesson, width=width, dark=dark)
    page.locator(".played summary").first.click()
    page.locator("#_one_on").click()
    assert barriers(page) == []


def test_a_short_row_played_by_keys_alone(opened, lesson):
    page = opened(lesson, width=1280)
    page.locator("#_which").focus()
    page.keyboard.press("ArrowDown")  # from row 1 to row 2, which works 32 stitches and turns
    assert page.locator("#_which option:checked").inner_text() == "Wedge: Row 2, wrong side"
    assert page.locator("#_counts").inner_text() == "36 on the left needle, 0 on the right needle"
    page.locator("#_one_on").focus()
    page.keyboard.press("Enter")
    assert (
        page.locator("#_counts").inner_text()
        == "35 on the left needle, 1 on the right needle, yarn at the back"
    )
    for _ in range(31):
        page.keyboard.press("ArrowRight")
    assert page.locator("#_counts").inner_text().startswith("4 on the left needle, 32 on the right needle")
    page.keyboard.press("ArrowRight")
    assert "4 stitches wait on the left needle, and a gap is left" in page.locator("#_step").inner_text()
    page.keyboard.press("ArrowRight")  # there is no more
    page.keyboard.press("ArrowLeft")
    assert page.locator("#_step").inner_text() == "32 of 33. Knit 1."
    page.keyboard.press("Home")
    assert page.locator("#_step").inner_text().startswith("Before the row: 36 loops")


def test_it_plays_and_stops_and_goes_over_and_over(opened, lesson):
    page = opened(lesson, width=1280)
    page.locator("#_play").click()
    assert page.locator("#_play").inner_text() == "Stop"
    page.locator("#_step", has_text="2 of 36").wait_for()
    page.locator("#_play").click()
    assert page.locator("#_play").inner_text() == "Play"
    still = page.locator("#_step").inner_text()
    page.wait_for_timeout(1300)
    assert page.locator("#_step").inner_text() == still
    assert page.locator("#_needles svg path.loop").count() > 10


def test_a_row_that_begins_at_a_turn_has_loops_on_the_right_needle(opened, lesson):
    page = opened(lesson, width=1280)
    page.locator("#_which").select_option(label="Wedge: Row 3, right side")
    assert page.locator("#_counts").inner_text() == "32 on the left needle, 4 on the right needle"


def test_without_script_the_rows_stand_there_as_lists(opened, lesson):
    page = opened(lesson, script=False)
    assert not page.locator("#_stage").is_visible()
    page.locator(".played summary").nth(1).click()
    lines = page.locator(".played").nth(1).locator("li").all_inner_texts()
    assert lines[0] == "Knit 32."
    assert lines[1].startswith("The yarn goes round the next stitch. Turn: 4 stitches wait")


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_nothing_hangs_over_the_edge(opened, lesson, width):
    page = opened(lesson, width=width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
