"""The follow-along page plays any row stitch by stitch: as the ledger has it, by keys alone, for either hand."""

import json
import random
from pathlib import Path

import pytest

from purlwright.lesson.played import play
from purlwright.sheet.out.follow import to_follow
from purlwright.sheet.out.playing import as_played
from purlwright.workup import WorkUp
from rescue_work import SMALL

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))
WEDGE = SMALL["wedge"]
LACE = SMALL["lace"]
MOST_KB_FOR_100_ROWS = 100


def page_of(opened, text, *, left_handed=False, width=390):
    page = opened(
        to_follow(WorkUp(text).sheet(follow=True, drawn=False, left_handed=left_handed)), width=width
    )
    page.locator("#_play summary").click()
    return page


def go_to(page, step):
    page.locator("#_elsewhere").evaluate("panel => { panel.open = true; }")
    page.locator("#_number").fill(str(step))
    page.locator("#_goto button").click()


def counts(page):
    return page.locator("#_play_counts").inner_text()


def test_the_row_that_is_shown_is_played(opened):
    page = page_of(opened, WEDGE)
    assert page.locator("#_play_none").is_visible(), "a cast-on is not played"
    go_to(page, 3)  # row 2 works to the last stitches and turns
    assert page.locator("#_play_row").inner_text() == "Row 2"
    assert counts(page) == "24 on the left needle, 0 on the right needle"
    for _ in range(3):
        page.locator("#_play_one_on").click()
    assert counts(page).startswith("21 on the left needle, 3 on the right needle")
    go_to(page, 4)
    assert page.locator("#_play_row").inner_text() == "Row 3"
    assert page.locator("#_play_step").inner_text().startswith("Before the row")


def test_by_keys_alone_and_the_rows_stay_where_they_are(opened):
    page = page_of(opened, WEDGE)
    go_to(page, 3)
    step = page.locator("#_progress_words").inner_text()
    page.locator("#_play_one_on").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    assert page.locator("#_play_step").inner_text().startswith("1 of ")
    page.keyboard.press("Home")
    assert page.locator("#_play_step").inner_text().startswith("Before the row")
    assert page.locator("#_progress_words").inner_text() == step, (
        "the arrows on the needles look at no other row"
    )


def test_it_plays_and_stops(opened):
    page = page_of(opened, WEDGE)
    go_to(page, 3)
    page.locator("#_play_play").click()
    page.locator("#_play_step", has_text="2 of ").wait_for()
    page.locator("#_play_play").click()
    assert page.locator("#_play_play").inner_text() == "Play"


def test_for_the_left_hand_needles_change_places(opened):
    page = page_of(opened, WEDGE, left_handed=True)
    go_to(page, 3)
    assert counts(page) == "24 on the right needle, 0 on the left needle"
    assert page.locator("#_play_needles svg.mirrored").count() == 1
    page.keyboard.press("Escape")
    for _ in range(30):
        page.locator("#_play_one_on").click()
    assert "wait on the right needle" in page.locator("#_play_step").inner_text()


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_no_barriers(opened, barriers, width, dark):
    page = opened(to_follow(WorkUp(LACE).sheet(follow=True, drawn=False)), width=width, dark=dark)
    page.locator("#_play summary").click()
    go_to(page, 3)
    page.locator("#_play_one_on").click()
    assert barriers(page) == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name.partition(".")[0])
def test_every_row_comes_out_as_the_ledger_has_it(path):
    """The table, read again by hand, ends every row on the count of the ledger; and it is small."""
    work = WorkUp(path.read_text(encoding="utf-8"), path.name)
    size = work.sizes[-1]
    follow = work.sheet(size, follow=True, drawn=False).follow[0]
    text = as_played(follow, left_handed=False)
    data = json.loads(text)
    ends = {}
    for row, (left, behind, after, line) in enumerate(data["rows"]):
        near, far = loops(left), behind
        for stitch, times in zip(line[::2], line[1::2], strict=True):
            _, takes, makes, _ = data["stitches"][stitch]
            near, far = near - takes * times, far + loops(makes) * times
        ends[row] = near + far, data["words"][after]
    shown = [(step, ends[n]) for step, n in zip(follow.steps, data["of"], strict=True) if n >= 0]
    held = {row.order for row in play(work.knitted(size))}
    assert len(shown) == len(held)
    for step, (count, words) in shown:
        assert words.startswith(f"{step.after} ") or step.after == 0
        if not step.kind.startswith("bind") and "hold" not in step.in_full:
            assert count >= step.after
    assert len(text) < max(len(follow.steps), 100) * MOST_KB_FOR_100_ROWS * 10


def loops(text):
    total, many = 0, ""
    for letter in text:
        if letter.isdecimal():
            many += letter
        else:
            total, many = total + int(many or 1), ""
    return total


def test_a_row_read_by_the_page_is_the_row_of_the_lesson(opened):
    """What stands on the needles half-way through rows of a lace, beside what the lesson room has."""
    work = WorkUp(LACE)
    rows = [r for r in play(work.knitted()) if r.beats]
    page = page_of(opened, LACE)
    orders = sorted(e.order for p in work.knitted().ledger.pieces for e in p.rows)
    rng = random.Random(5)  # noqa: S311 - which rows, not a secret
    for row in rng.sample(rows, min(4, len(rows))):
        go_to(page, orders.index(row.order) + 1)
        half = len(row.beats) // 2
        for _ in range(half):
            page.locator("#_play_one_on").click()
        left = len(row.left) - sum(b.takes for b in row.beats[:half])
        right = row.behind + sum(len(b.makes) for b in row.beats[:half])
        assert counts(page).startswith(f"{left} on the left needle, {right} on the right needle")
