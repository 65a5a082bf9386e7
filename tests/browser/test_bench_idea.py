"""From an idea to a pattern of her own at the bench: pieces, counts and rates, another gauge."""

import pytest

from bench_page import HAT, settled, turn_to, until, words


def chosen(page, name):
    """Chooses a plan, as a hand would."""
    page.get_by_role("combobox", name="What").select_option(name)


def gauge(page, stitches, rows):
    page.get_by_role("textbox", name="sts", exact=True).fill(stitches)
    page.get_by_role("textbox", name="rows", exact=True).fill(rows)


def worked_out(page):
    page.get_by_role("button", name="Work it out").click()
    page.wait_for_selector(".planned h3", timeout=90_000)


@pytest.mark.parametrize(("dark", "width"), [(False, 1280), (True, 390)])
def test_an_idea_becomes_a_proved_pattern_in_a_file_of_its_own(window, bench, barriers, dark, width):
    page = window(bench.write("kelp-hat", HAT), "idea", dark=dark, width=width)
    page.wait_for_selector(".fill-people li")
    chosen(page, "A hat from the brim up")
    gauge(page, "22", "30")
    page.get_by_label("Its name").fill("Sandpiper Hat")
    worked_out(page)
    assert page.evaluate("document.activeElement.tagName") == "H3"
    told = page.locator(".planned").inner_text()
    assert "every size and option: nothing was found" in told
    assert page.locator(".planned-table thead th").all_inner_texts()[1:5] == [
        "toddler",
        "child",
        "adult",
        "large adult",
    ]
    assert barriers(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.get_by_role("button", name="Put it into a new file").click()
    until(page, "() => document.querySelector('.file').textContent.startsWith('Sandpiper Hat')")
    settled(page)
    assert words(page).startswith("# Sandpiper Hat\n")
    made = bench.folder / page.locator(".file").inner_text()
    assert made.read_text(encoding="utf-8") == words(page)
    until(page, "() => document.querySelector('.contents').textContent.includes('holds')", 60)


def test_whom_it_is_for_is_said_by_tables_by_measures_or_by_a_table_of_her_own(window, bench):
    page = window(bench.write("kelp-hat", HAT), "idea")
    chosen(page, "Mittens with a gusseted thumb")
    gauge(page, "22", "30")
    page.get_by_label("child 3-14 yr").uncheck()
    page.get_by_label("man 19 to 23 cm", exact=True).uncheck()
    worked_out(page)
    assert "Sizes:" not in page.locator(".planned pre").last.inner_text()

    page.get_by_label("my own measures").check()
    page.get_by_role("button", name="Work it out").click()
    assert page.get_by_role("alert").inner_text() == 'Fill in "Your own measures".'
    page.get_by_label("Your own measures").fill("18 (20) cm")
    worked_out(page)
    assert "Sizes: small (large)" in page.locator(".planned pre").last.inner_text()

    page.get_by_label("a table of my own").check()
    page.get_by_label("A table of your own").fill("size, hand (in)\nMina, 6.5\nOskar, 8\n")
    worked_out(page)
    assert "Sizes: Mina (Oskar)" in page.locator(".planned pre").last.inner_text()


def test_a_refusal_is_one_sentence_in_the_words_of_the_page(window, bench):
    page = window(bench.write("kelp-hat", HAT), "idea")
    page.wait_for_selector(".fill-people li")
    page.get_by_role("button", name="Work it out").click()
    assert page.get_by_role("alert").inner_text() == 'Fill in "Gauge of your swatch".'
    gauge(page, "22", "30")
    page.get_by_label("Ease").fill("lots")
    page.get_by_role("button", name="Work it out").click()
    until(page, "() => document.querySelector('[role=alert]').textContent.startsWith('\"Ease\" takes')")
    page.get_by_label("Ease").fill("")
    gauge(page, "0", "30")
    page.get_by_role("button", name="Work it out").click()
    until(page, "() => document.querySelector('[role=alert]').textContent.includes('more than 0 stitches')")
    assert page.locator(".planned h3").count() == 0


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_a_rate_goes_onto_the_sheet_where_the_caret_stands_and_can_be_undone(window, bench, barriers, dark):
    path = bench.write("kelp-hat", HAT)
    page = window(path, dark=dark)
    settled(page)
    page.locator(".cm-line", has_text="Rnd 2: Knit.").click()
    turn_to(page, "Counts and rates")
    chosen(page, "Shaping over so many rows")
    for label, value in (("begin with", "44"), ("in the end", "60"), ("so many rows", "42")):
        page.get_by_role("textbox", name=label).fill(value)
    page.get_by_label("On right-side rows only").check()
    worked_out(page)
    assert barriers(page) == []
    said = "Inc 1 st at each end of every 6th row 5 times, then of every 4th row 3 times."
    assert page.locator(".planned pre").inner_text() == said
    page.get_by_role("button", name="Put these words on the sheet").click()
    page.wait_for_selector(".cm-content")
    assert f"Rnd 2: Knit.\n{said}\nRnd 3:" in words(page)
    page.get_by_role("button", name="Undo").click()
    until(page, "() => !document.querySelector('.cm-content').innerText.includes('every 6th row')")


def test_what_was_filled_in_is_kept_for_the_next_question(window, bench):
    page = window(bench.write("kelp-hat", HAT), "rates")
    chosen(page, "A flat circle")
    gauge(page, "22", "30")
    page.get_by_role("textbox", name="How wide").fill("40 cm")
    worked_out(page)
    assert (
        "8 plain" in page.locator(".planned").inner_text()
        or "Increase" in page.locator(".planned").inner_text()
    )
    chosen(page, "A dome")
    assert page.get_by_role("textbox", name="How wide").input_value() == "40 cm"
    assert page.get_by_role("textbox", name="sts", exact=True).input_value() == "22"


def test_a_pattern_at_another_gauge_is_put_on_the_sheet_or_into_a_file(window, bench, barriers):
    path = bench.write("kelp-hat", HAT)
    page = window(path, "other-gauge")
    page.get_by_role("button", name="Work it out").click()
    assert page.get_by_role("alert").inner_text() == "Fill in the stitches and the rows of the other gauge."
    gauge(page, "20", "28")
    worked_out(page)
    assert barriers(page) == []
    assert "From 18 sts and 26 rows" in page.locator(".planned h3").inner_text()
    assert "72 (80)" in page.locator(".planned-table").first.inner_text()
    page.get_by_role("button", name="Put it on this sheet").click()
    until(page, "() => document.querySelector('.cm-content')?.innerText.includes('20 sts and 28')")
    assert "Cast on 80 (88) sts" in words(page)
    page.get_by_role("button", name="Undo").click()
    until(page, "() => document.querySelector('.cm-content').innerText.includes('Cast on 72 (80) sts')")


def test_all_of_it_goes_by_keys_alone(window, bench):
    page = window(bench.write("kelp-hat", HAT))
    settled(page)
    page.get_by_role("link", name="Counts and rates").focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("#fill-what")
    page.locator("#fill-what").focus()
    page.keyboard.press("Tab")
    for value in ("44", "60", "42"):
        page.keyboard.type(value)
        page.keyboard.press("Tab")
    page.keyboard.press("Tab")  # past the choice of the edges
    page.keyboard.press("Space")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Work it out"
    page.keyboard.press("Enter")
    page.wait_for_selector(".planned h3")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.tagName") == "PRE"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_selector(".cm-content")
    assert "every 6th row 5 times" in words(page)
