"""The follow-along page in a real browser: hands, keys, ears, and a place that is not lost."""

import re
from dataclasses import replace

import pytest

import sheet_documents
from purlwright.sheet.document import FollowAlong
from purlwright.sheet.out.follow import to_follow

HAT = sheet_documents.hat()
ONE_SIZE = replace(HAT, follow=(FollowAlong(size="", steps=sheet_documents.steps()),))
NO_STORAGE = """Object.defineProperty(window, "localStorage", {get() { throw new DOMException("no", "SecurityError"); }});"""
FULL_STORAGE = (
    """Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };"""
)


@pytest.fixture(scope="module")
def one_size():
    return to_follow(ONE_SIZE)


@pytest.fixture(scope="module")
def two_sizes():
    return to_follow(HAT)


def shown(page):
    """The row that is shown: its label, its words, the step."""
    label = page.locator("#_row .label")
    return (label if label.count() else page.locator("#_row")).inner_text()


def step(page):
    return page.locator("#_progress_words").inner_text()


def said(page):
    return page.locator("#_say").text_content()


def line(page):
    return page.locator("#_line").input_value()


def tick(page, times=1):
    page.locator("#_done").evaluate("(button, times) => { while (times-- > 0) button.click(); }", times)


def paste(page, text):
    page.locator("#_keep").evaluate("panel => panel.open = true")
    page.locator("#_pasted").fill(text)
    page.locator("#_paste button").click()


# --- barriers -------------------------------------------------------------------------------------


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
def test_no_barriers(opened, barriers, two_sizes, width, dark):
    page = opened(two_sizes, width=width, dark=dark)
    if dark is (width == 320):  # the question which size, once in each scheme
        assert barriers(page) == []
    page.locator("#_sizes button").first.click()
    tick(page)
    page.locator("#_on").click()
    page.evaluate("document.querySelectorAll('details').forEach(panel => { panel.open = true; })")
    paste(page, "nothing of the kind")
    assert page.locator("#_behind").is_visible()
    assert barriers(page) == []


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_no_barriers_without_script_or_in_strange_words(opened, barriers, dark):
    page = opened(to_follow(sheet_documents.nasty()), dark=dark)
    page.evaluate("document.querySelectorAll('details').forEach(panel => { panel.open = true; })")
    assert barriers(page) == []


@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("make", [sheet_documents.hat, sheet_documents.nasty])
def test_nothing_hangs_over_the_edge_at_twice_the_size(opened, make, large):
    """640 px across at 200 % is 320 px; with large type besides, the letters are three times as large."""
    page = opened(to_follow(make()), width=320, height=500, device_scale_factor=2)
    page.locator("#_sizes button").first.click() if page.locator("#_choose").is_visible() else None
    page.evaluate("document.querySelectorAll('details').forEach(panel => { panel.open = true; })")
    page.locator("#_large").set_checked(large)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    over = page.evaluate(
        "[...document.querySelectorAll('button, input, p, h1, h2, li')].filter(e => !e.closest('.unseen')"
        " && e.getBoundingClientRect().right > 321).map(e => e.outerHTML.slice(0, 120))"
    )
    assert over == []


# --- one row at a time ----------------------------------------------------------------------------


def test_one_row_with_all_that_is_said_of_it(opened, one_size):
    page = opened(one_size)
    assert shown(page) == "Cast-on"
    for _ in range(2):
        page.locator("#_done").click()
    assert shown(page) == "Row 2"
    card = page.locator(".leaf").inner_text()
    assert "Knit to last 4 sts, w&t." in card
    assert "wrap the next stitch" not in card
    assert "36 stitches afterwards, 4 of them wait beyond the turn." in card
    assert "time 1 of 3" in card
    assert page.locator("#_row .side .unseen").text_content() == "wrong side"
    tick(page)
    assert page.locator("#_look").inner_text() == "Look for: a little step at the turn"
    tick(page)
    assert page.locator("#_note").inner_text() == "Note: In garter stitch a wrap hides under its own ridge."
    assert step(page) == "Step 5 of 14, 4 ticked"


def test_words_in_full_by_a_switch_and_kept(opened, one_size):
    page = opened(one_size)
    tick(page, 2)
    page.locator("#_looks summary").click()
    page.get_by_label("Words in full").check()
    assert "wrap the next stitch and turn." in page.locator("#_words").inner_text()
    assert "w&t" not in page.locator("#_words").inner_text()
    page.reload()
    assert "wrap the next stitch and turn." in page.locator("#_words").inner_text()


def test_large_type_and_paper_are_kept_and_are_for_every_pattern(device, saved, one_size, two_sizes):
    context = device()
    page = context.new_page()
    page.goto(saved(one_size, "one.html"))
    before = page.locator("#_row").evaluate("e => parseFloat(getComputedStyle(e).fontSize)")
    page.locator("#_looks summary").click()
    page.get_by_label("Large type").check()
    page.get_by_label("Dark").check()
    page.goto(saved(two_sizes, "two.html"))
    page.locator("#_sizes button").first.click()
    assert page.locator("#_row").evaluate("e => parseFloat(getComputedStyle(e).fontSize)") > 1.4 * before
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(27, 25, 23)"


def test_undo_gives_back_the_row_and_the_tick(opened, one_size):
    page = opened(one_size)
    tick(page, 3)
    page.locator("#_undo").click()
    assert (shown(page), step(page)) == ("Row 2", "Step 3 of 14, 2 ticked")
    assert said(page).startswith("Undone. Row 2. wrong side. time 1 of 3. Knit to last 4 sts, w&t.")
    for _ in range(2):
        page.locator("#_undo").click()
    assert (shown(page), step(page)) == ("Cast-on", "Step 1 of 14, 0 ticked")
    page.locator("#_undo").click(force=True)
    assert said(page) == "There is nothing to undo."


def test_looking_ahead_ticks_nothing_and_says_what_is_left_behind(opened, one_size):
    page = opened(one_size)
    tick(page)
    page.locator("#_on").click()
    page.locator("#_on").click()
    assert step(page) == "Step 4 of 14, 1 ticked"
    assert page.locator("#_behind_words").inner_text() == "2 rows before this one are not ticked."
    page.locator("#_first_open").click()
    assert step(page) == "Step 2 of 14, 1 ticked"
    page.locator("#_undo").click()
    page.locator("#_tick_behind").click()
    assert step(page) == "Step 4 of 14, 3 ticked"
    assert not page.locator("#_behind").is_visible()


def test_rows_that_one_line_asks_for_can_be_ticked_together(opened):
    first, second, *others = ONE_SIZE.follow[0].steps
    line_ = [
        replace(second, label="", words=sheet_documents.words("Knit 4 rows."), note=f"Row {k} of 4.")
        for k in (1, 2, 3, 4)
    ]
    page = opened(
        to_follow(replace(ONE_SIZE, follow=(FollowAlong(size="", steps=(first, *line_, *others)),)))
    )
    assert not page.locator("#_run").is_visible()
    tick(page, 2)
    assert shown(page) == "Row 2 of 4"
    page.get_by_role("button", name="Tick all 3 of these rows").click()
    assert (shown(page), step(page)) == ("Row 2", "Step 6 of 17, 5 ticked")
    page.locator("#_undo").click()
    tick(page, 2)
    assert not page.locator("#_run").is_visible()  # one is left: Done does it
    assert (shown(page), step(page)) == ("Row 4 of 4", "Step 5 of 17, 4 ticked")


def test_ripped_back_rows_are_knitted_again_from_there(opened, one_size):
    page = opened(one_size)
    tick(page, 6)
    page.locator("#_all > summary").click()
    page.locator(".size li").nth(2).locator("a").click()
    assert (shown(page), page.locator("#_done").inner_text()) == ("Row 2", "Go on")
    page.locator("#_again").click()
    assert step(page) == "Step 3 of 14, 2 ticked"


def test_the_last_row_leads_back_to_one_that_was_left_out(opened, one_size):
    page = opened(one_size)
    page.locator("#_on").click()
    tick(page, 13)
    assert shown(page) == "Cast-on"
    tick(page)
    assert shown(page) == "All rows are ticked"
    assert step(page) == "14 of 14 ticked"
    assert said(page) == "All 14 rows are ticked."
    page.reload()
    assert shown(page) == "All rows are ticked"


def test_jumps_by_number_by_part_and_by_list(opened, one_size):
    page = opened(one_size)
    page.get_by_text("Go to another row").click()
    page.get_by_label("Step number").fill("7")
    page.get_by_label("Step number").press("Enter")
    assert (shown(page), step(page)) == ("Row 2", "Step 7 of 14, 0 ticked")
    page.get_by_label("Step number").fill("15")
    page.get_by_label("Step number").press("Enter")
    assert page.locator("#_goto_wrong").inner_text() == "Type a number from 1 to 14."
    assert step(page) == "Step 7 of 14, 0 ticked"
    page.get_by_role("button", name="Finishing 0 of 1 ticked").click()
    assert shown(page) == "Bind-off"
    assert "No stitches are left." in page.locator("#_after").inner_text()


# --- a place that is not lost -----------------------------------------------------------------------


def test_the_place_survives_reload_and_a_new_window(device, saved, one_size):
    context = device()
    address = saved(one_size)
    page = context.new_page()
    page.goto(address)
    tick(page, 5)
    page.reload()
    assert (shown(page), step(page)) == ("Row 1", "Step 6 of 14, 5 ticked")
    page.locator("#_undo").click()
    page.close()
    page = context.new_page()
    page.goto(address)
    assert step(page) == "Step 5 of 14, 4 ticked"


def test_patterns_and_sizes_lie_side_by_side(device, saved, two_sizes, one_size):
    context = device()
    page = context.new_page()
    hat, cowl = (
        saved(two_sizes, "hat.html"),
        saved(to_follow(replace(ONE_SIZE, title="Eel Cowl")), "cowl.html"),
    )
    page.goto(hat)
    assert page.locator("#_which").inner_text() == "Which are you knitting?"
    assert not page.locator("#_card").is_visible()
    page.get_by_role("button", name="adult, turns: wrapped").click()
    tick(page, 4)
    assert "42 stitches" in page.locator("#_after").inner_text()
    page.goto(cowl)
    tick(page, 2)
    page.goto(hat)
    assert step(page) == "Step 5 of 14, 4 ticked"
    page.get_by_role("button", name="Change").click()
    page.get_by_role("button", name="child, turns: wrapped").click()
    assert step(page) == "Step 1 of 14, 0 ticked"
    assert "36 stitches" in page.locator("#_after").inner_text()
    page.goto(cowl)
    assert step(page) == "Step 3 of 14, 2 ticked"


def test_a_second_window_of_the_same_page_follows(device, saved, one_size):
    context = device()
    first, second = context.new_page(), context.new_page()
    for page in (first, second):
        page.goto(saved(one_size))
    tick(first, 3)
    second.wait_for_function("document.getElementById('_progress').value === 3")
    assert step(second) == "Step 4 of 14, 3 ticked"


def test_the_address_carries_the_place_to_another_device(opened, two_sizes):
    page = opened(two_sizes)
    page.get_by_role("button", name="adult").click()
    tick(page, 3)
    place = page.evaluate("location.hash")
    assert re.fullmatch(r"#place=4\.1-3\.[a-z2-7]{10}\.[0-9a-z]{4}", place)
    other = opened(two_sizes, at=place)
    assert step(other) == "Step 4 of 14, 3 ticked"
    assert other.locator("#_size_name").inner_text() == "adult, turns: wrapped"


def test_an_old_bookmark_does_not_undo_what_was_knitted_since(opened, one_size):
    page = opened(one_size)
    tick(page, 2)
    old = page.url
    tick(page, 3)
    page.goto("about:blank")
    page.goto(old)
    assert step(page) == "Step 6 of 14, 5 ticked"
    assert "The address has another place than this device." in page.locator("#_message_words").inner_text()
    page.get_by_role("button", name="Go to the one in the address").click()
    assert step(page) == "Step 3 of 14, 2 ticked"
    page.locator("#_undo").click()
    assert step(page) == "Step 6 of 14, 5 ticked"


def test_the_line_brings_back_place_and_size(opened, two_sizes):
    page = opened(two_sizes)
    page.get_by_role("button", name="adult").click()
    tick(page, 2)
    page.locator("#_on").click()
    tick(page)
    kept = line(page)
    assert re.match(r"Skerry Hat, adult, turns: wrapped: step 5 of 14\. place=5\.1-2,4\.", kept)
    other = opened(two_sizes)
    other.get_by_role("button", name="child").click()
    paste(other, f"  Fwd: {kept.upper()} — sent from a ferry ")
    assert step(other) == "Step 5 of 14, 3 ticked"
    assert "42 stitches" in other.locator("#_after").inner_text()
    assert line(other) == kept


CHANGED = "A letter or a figure of this line is missing or changed."


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ("Row 5, I think", "There is no place in this line."),
        ("{other row}", CHANGED),
        ("{last letter lost}", CHANGED),
        ("{other pattern}", "This line belongs to another pattern or to a size that is not on this page."),
    ],
)
def test_a_wrong_line_is_refused_in_words_and_nothing_is_lost(opened, one_size, two_sizes, wrong, told):
    page = opened(one_size)
    tick(page, 3)
    kept = line(page)
    if "{" in wrong:
        other = opened(two_sizes)
        other.locator("#_sizes button").first.click()
        wrong = {
            "{other row}": kept.replace("place=4.", "place=9."),
            "{last letter lost}": kept[:-1],
            "{other pattern}": line(other),
        }[wrong]
    paste(page, wrong)
    assert page.locator("#_paste_wrong").inner_text().startswith(told)
    assert page.locator("#_paste_wrong").inner_text().endswith("Your place is as it was.")
    assert page.locator("#_pasted").input_value() == wrong
    assert step(page) == "Step 4 of 14, 3 ticked"
    if "place=" in wrong:  # the same in the address
        page.evaluate("place => { location.hash = place; }", wrong[wrong.index("place=") :])
        page.wait_for_selector("#_message:not([hidden])")
        assert told in page.locator("#_message_words").inner_text()
        assert page.evaluate("location.hash").startswith("#place=4.1-3.")
    assert step(page) == "Step 4 of 14, 3 ticked"
    page.reload()
    assert step(page) == "Step 4 of 14, 3 ticked"


def test_a_wrong_address_on_a_new_device_is_said(opened, one_size):
    page = opened(one_size, at="#place=9.1-8.aaaaaabbbb.zzzz")
    assert "The place in the address was not understood." in page.locator("#_message_words").inner_text()
    assert step(page) == "Step 1 of 14, 0 ticked"


def test_a_pattern_that_was_mended_keeps_the_ticks_and_says_so(device, saved, one_size):
    first, *others = ONE_SIZE.follow[0].steps
    mended = replace(
        ONE_SIZE,
        follow=(
            FollowAlong(size="", steps=(replace(first, words=sheet_documents.words("Cast on.")), *others)),
        ),
    )
    page = device().new_page()
    page.goto(saved(one_size))
    tick(page, 2)
    kept = line(page)
    page.goto("about:blank")
    page.goto(saved(to_follow(mended)))
    assert step(page) == "Step 3 of 14, 2 ticked"
    assert "This pattern has changed" in page.locator("#_message_words").inner_text()
    page.get_by_role("button", name="Close").click()
    tick(page)
    paste(page, kept)
    assert step(page) == "Step 3 of 14, 2 ticked"
    assert "another version of the pattern" in page.locator("#_message_words").inner_text()


def test_what_the_device_keeps_may_be_nonsense(opened, one_size):
    page = opened(one_size)
    tick(page, 2)
    page.evaluate(
        'for (const key of Object.keys(localStorage)) localStorage.setItem(key, \'{"place":"99.1-200","undo":7}\')'
    )
    page.goto("about:blank")
    page.go_back()
    assert (
        "does not fit its rows" in page.locator("#_message_words").inner_text()
        or step(page) == "Step 3 of 14, 2 ticked"
    )


@pytest.mark.parametrize("before", [NO_STORAGE, FULL_STORAGE], ids=["blocked", "full"])
def test_without_storage_it_is_said_and_address_and_line_still_hold(opened, one_size, before):
    page = opened(one_size, before=before)
    assert "does not keep your place" in page.locator("#_message_words").inner_text()
    tick(page, 3)
    assert page.locator("#_line").is_visible()
    page.reload()  # the address is still there
    assert step(page) == "Step 4 of 14, 3 ticked"
    kept = line(page)
    other = opened(one_size, before=before)
    paste(other, kept)
    assert step(other) == "Step 4 of 14, 3 ticked"


# --- keys and ears --------------------------------------------------------------------------------


def test_by_keys_alone(opened, two_sizes):
    page = opened(two_sizes, width=1280, height=800)

    def press(*keys):
        for key in keys:
            page.keyboard.press(key)

    def focus():
        return page.evaluate("document.activeElement.id || document.activeElement.textContent")

    press("Tab")
    assert focus() == "_skip"
    press("Enter")
    assert focus() == "_choose"
    press("Tab", "Tab", "Enter")  # the second size
    assert page.locator("#_size_name").inner_text() == "adult, turns: wrapped"
    assert focus() == "_card"
    press("Space", "Enter")
    assert step(page) == "Step 3 of 14, 2 ticked"
    press("ArrowRight", "ArrowRight", "ArrowLeft")
    assert step(page) == "Step 4 of 14, 2 ticked"
    press("Backspace", "Backspace", "Backspace", "Backspace")
    assert step(page) == "Step 2 of 14, 1 ticked"
    press("Tab", "Tab", "Tab", "Tab")
    assert focus() == "_done"
    press("Space", "Enter")  # a key pressed on a button presses the button once
    assert (focus(), step(page)) == ("_done", "Step 4 of 14, 3 ticked")
    press("Tab", "Enter", "Tab", *"12", "Enter")
    assert (focus(), step(page)) == ("_card", "Step 12 of 14, 3 ticked")
    press("Control+ArrowRight", "Alt+Backspace")
    assert step(page) == "Step 12 of 14, 3 ticked"


def test_keys_typed_in_a_field_or_read_with_the_list_do_not_tick(opened, one_size):
    page = opened(one_size)
    page.locator("#_keep summary").click()
    page.locator("#_pasted").focus()
    for key in ("Space", "Backspace", "ArrowRight"):
        page.keyboard.press(key)
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press("Space")  # on the page itself it scrolls
    assert step(page) == "Step 1 of 14, 0 ticked"


def test_each_row_is_said_once_it_is_shown(opened, one_size):
    page = opened(one_size)
    assert page.locator("#_say").get_attribute("aria-live") == "polite"
    tick(page)
    assert said(page) == "Row 1. right side. time 1 of 3. Knit. 36 stitches afterwards. Step 2."
    page.get_by_text("How it looks").click()
    page.get_by_label("Words in full").check()
    tick(page)
    assert said(page) == (
        "Row 2. wrong side. time 1 of 3. Knit to the last 4 stitches, wrap the next stitch and turn."
        " 36 stitches afterwards, 4 of them wait beyond the turn. Step 3."
    )
    assert page.locator(".size li[aria-current=step] .label").text_content() == "Row 2"
    assert page.evaluate("document.activeElement.id") != "_card"  # whoever presses Done stays on Done


def test_the_screen_may_be_kept_on_or_it_is_said_that_it_cannot(opened, one_size):
    refused = "if (navigator.wakeLock) navigator.wakeLock.request = () => Promise.reject(new Error('battery is low'));"
    page = opened(one_size, before=refused)
    page.get_by_text("How it looks").click()
    page.locator("#_wake").click()
    page.wait_for_function("document.getElementById('_say').textContent.includes('keep the screen on')")
    assert not page.locator("#_wake").is_checked()


# --- without script, on paper, in strange words -----------------------------------------------------


def test_without_script_every_row_is_there_to_read(opened, two_sizes):
    page = opened(two_sizes, script=False)
    rows = page.locator(".size li")
    assert rows.count() == 28
    assert all(row.is_visible() for row in rows.all())
    assert (
        rows.nth(16).inner_text().split()
        == "Row 2 WS wrong side time 1 of 3 Knit to last 4 sts, w&t. 42 stitches afterwards, 4 of them wait beyond the turn.".split()
    )
    assert page.get_by_role("heading", name="Size adult, turns: wrapped").is_visible()
    assert page.get_by_text("scripts are not run here").is_visible()
    assert not page.locator("#_app").is_visible()
    page.get_by_text("How it looks").click()
    page.get_by_label("Words in full").check()
    assert "wrap the next stitch and turn." in rows.nth(16).inner_text()


def test_a_script_that_fails_leaves_the_list_open(opened, complaints, two_sizes):
    page = opened(two_sizes, before="document.createElement = () => { throw new Error('worn out'); };")
    assert [text for text in complaints if "worn out" in text] == complaints != []
    complaints.clear()
    assert page.locator(".size li:visible").count() == 28
    assert page.get_by_text("scripts are not run here").is_visible()


def test_the_chosen_size_can_be_printed_and_all_where_none_is_chosen(opened, two_sizes):
    page = opened(two_sizes)
    page.emulate_media(media="print")
    assert page.locator(".size li:visible").count() == 28
    page.emulate_media(media="screen")
    page.get_by_role("button", name="adult").click()
    page.emulate_media(media="print")
    assert not page.locator("#_done").is_visible()
    seen = page.locator("body").inner_text()
    assert "42 stitches afterwards" in seen
    assert "36 stitches" not in seen


def test_strange_words_are_shown_as_they_are_written(opened):
    page = opened(to_follow(sheet_documents.nasty()))
    written = sheet_documents.NASTY.replace("\x00", "\ufffd").replace("\x1b", "\ufffd")
    assert page.title() == f"{written}, row by row"
    assert page.locator("#_row .label").text_content() == written
    assert page.locator("#_words .short").text_content() == written
    assert page.locator("#_words .full").text_content() == "w" * 10_000
    tick(page)
    assert shown(page) == "Row"
    paste(page, line(page))
    assert step(page) == "Step 2 of 2, 1 ticked"


def test_markup_is_never_made_from_words(opened, complaints, one_size):
    """The page's own policy forbids it, so that no later change can slip it in."""
    page = opened(one_size)
    refused = page.evaluate(
        "() => { try { document.body.innerHTML = '<b>x</b>'; return ''; } catch (e) { return e.name; } }"
    )
    assert refused == "TypeError"
    assert "TrustedHTML" in complaints.pop()
