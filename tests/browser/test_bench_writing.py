"""Writing at the bench: counts beside the lines, marks in place, repairs that are taken and taken back."""

import re

import pytest

from bench_page import HAT, beside, go_to, settled, turn_to, until, words, write_anew


@pytest.fixture
def hat(window, bench):
    page = window(bench.write("kelp-hat", HAT))
    settled(page)
    return page


def test_beside_each_line_stands_its_side_and_count(hat):
    assert beside(hat, "Rnd 3:").inner_text().split()[:2] == ["RS", "54"]
    named = beside(hat, "Rnd 3:").get_by_role("button").get_attribute("aria-label")
    assert named.startswith("Rnd 3, right side, 54 stitches after it")


def test_a_printed_count_that_agrees_has_a_tick_and_one_that_does_not_has_none(hat):
    assert "\u2713" in beside(hat, "Rnd 3:").inner_text()
    assert "\u2713" not in beside(hat, "Rnd 2:").inner_text()
    write_anew(hat, HAT.replace("54 (60)", "55 (60)"))
    hat.wait_for_selector(".marked-error")
    assert "\u2713" not in beside(hat, "Rnd 3:").inner_text()
    assert "\u2260" in beside(hat, "Rnd 3:").inner_text()


def test_size_and_option_are_chosen_in_words_and_every_count_follows(hat):
    hat.get_by_role("combobox", name="size").select_option("large")
    until(hat, "[...document.querySelectorAll('.count')].some(e => e.textContent === '60')")
    assert beside(hat, "Rnd 3:").inner_text().split()[1] == "60"
    assert beside(hat, "folded only").inner_text() != ""
    hat.get_by_role("combobox", name="brim").select_option("rolled")
    until(hat, "[...document.querySelectorAll('.line-aside')].some(e => e.textContent.startsWith('folded'))")
    line = hat.locator(".cm-line", has_text="rolled only").bounding_box()["y"]
    assert abs(beside(hat, "rolled only").bounding_box()["y"] - line) < 8


def test_what_is_wrong_is_marked_as_she_types_and_accepting_the_repair_mends_it(hat):
    go_to(hat, "Rnd 3:")
    hat.keyboard.press("End")
    for _ in "0) sts)":
        hat.keyboard.press("ArrowLeft")
    hat.keyboard.type("1", delay=20)  # 54 (610) sts
    hat.wait_for_selector(".remark-error .accept")
    remark = hat.locator(".remark-error", has=hat.locator(".accept")).first
    assert "610" in remark.inner_text()
    assert hat.locator(".marked-error").first.inner_text() == "610"
    remark.locator(".accept").click()
    until(hat, "document.querySelector('.remark-error') === null")
    assert words(hat) == HAT
    hat.get_by_role("button", name="Undo").click()
    hat.wait_for_selector(".remark-error")
    assert "54 (610) sts" in words(hat)


def test_a_mark_says_why_and_leads_back(hat):
    write_anew(hat, HAT.replace("54 (60)", "55 (60)"))
    hat.locator(".remark-error").get_by_role("button", name=re.compile("^Why")).first.click()
    hat.wait_for_selector(".prose h2")
    assert hat.locator(".prose p").count() > 1
    hat.get_by_role("button", name="Back to the pattern").click()
    hat.wait_for_selector(".cm-content")
    assert "55 (60)" in words(hat)


def test_a_chosen_row_unfolds_beneath_it(hat):
    beside(hat, "Rnd 3:").get_by_role("button").click()
    hat.wait_for_selector(".leaflet-sum")
    said = hat.locator(".leaflet").inner_text()
    assert "63 stitches at the start" in said
    assert "54 at the end" in said
    under = hat.locator(".leaflet").bounding_box()["y"]
    line = hat.locator(".cm-line", has_text="Rnd 3:").bounding_box()
    assert 0 <= under - (line["y"] + line["height"]) < 20
    assert beside(hat, "Rnd 3:").get_by_role("button").get_attribute("aria-expanded") == "true"
    hat.get_by_role("button", name="Fold up").click()
    assert hat.locator(".leaflet").count() == 0


def test_the_same_by_keys_alone(hat):
    go_to(hat, "Rnd 3:")
    hat.keyboard.press("Control+Enter")
    hat.wait_for_selector(".leaflet-sum")
    hat.keyboard.press("Control+Enter")
    assert hat.locator(".leaflet").count() == 0


def test_what_fits_here_is_offered(hat):
    go_to(hat, "Rnd 2:")
    hat.keyboard.press("End")
    hat.keyboard.press("Backspace")
    for _ in "Knit":
        hat.keyboard.press("Backspace")
    hat.keyboard.type("k2t", delay=60)
    hat.wait_for_selector(".cm-tooltip-autocomplete")
    offered = hat.locator(".cm-tooltip-autocomplete").inner_text()
    assert "k2tog" in offered
    assert "stitches remain on the left needle" in offered
    hat.wait_for_timeout(200)  # the list takes keys only 75 ms after it came up
    hat.keyboard.press("Enter")
    assert "Rnd 2: k2tog" in words(hat)


def test_a_word_tells_what_it_means(hat):
    hat.locator(".cm-line", has_text="Rnd 3:").first.scroll_into_view_if_needed()
    at = hat.evaluate("""() => {
      const line = [...document.querySelectorAll('.cm-line')].find(e => e.textContent.startsWith('Rnd 3:'));
      const texts = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
      for (let t = texts.nextNode(); t; t = texts.nextNode()) {
        const n = t.data.indexOf('k2tog');
        if (n < 0) continue;
        const range = document.createRange();
        range.setStart(t, n); range.setEnd(t, n + 5);
        const box = range.getBoundingClientRect();
        return [box.x + box.width / 2, box.y + box.height / 2];
      }
    }""")
    hat.mouse.move(*at)
    hat.wait_for_selector(".meaning")
    assert "knit two together" in hat.locator(".meaning").inner_text().lower()


def test_sections_fold_and_open(hat):
    go_to(hat, "Crown")
    hat.keyboard.press("Control+Shift+BracketLeft")
    hat.wait_for_selector(".folded")
    assert hat.locator(".cm-line", has_text="Rnd 3:").count() == 0
    assert words(hat) == HAT
    hat.locator(".folded").click()
    assert hat.locator(".cm-line", has_text="Rnd 3:").count() == 1
    hat.get_by_role("button", name="Fold away: Crown").click()
    assert hat.locator(".cm-line", has_text="Rnd 3:").count() == 0
    hat.get_by_role("button", name="Open: Crown").click()
    assert hat.locator(".cm-line", has_text="Rnd 3:").count() == 1


def test_undo_and_redo_from_the_head_of_the_sheet(hat):
    write_anew(hat, "# Another\n")
    hat.get_by_role("button", name="Undo").click()
    assert words(hat) == HAT
    hat.get_by_role("button", name="Redo").click()
    assert words(hat) == "# Another\n"


def test_text_from_a_word_processor_is_put_right_and_shown(hat):
    hat.locator(".cm-content").click()
    hat.keyboard.press("Control+a")
    hat.evaluate("""() => {
      const data = new DataTransfer();
      data.setData('text/plain', '# Kelp Scarf\\n\\nCast on 24 sts.\\nRow 1 (RS): \u201cKnit\u201d to last 2 sts, k2\u00adtog, yo, k\u00bd.\\n');
      document.querySelector('.cm-content').dispatchEvent(new ClipboardEvent('paste', {clipboardData: data, bubbles: true, cancelable: true}));
    }""")
    hat.wait_for_selector(".slip table")
    assert hat.locator(".slip tbody tr").count() > 0
    assert "Why" in hat.locator(".slip thead").inner_text()
    hat.get_by_role("button", name="Good").click()
    assert "k2tog" in words(hat)
    hat.get_by_role("button", name="Undo").click()
    assert words(hat) == HAT


def test_those_who_listen_hear_side_and_count_of_the_line_they_come_to(hat):
    go_to(hat, "Rnd 3:")
    until(hat, "document.getElementById('said').textContent.startsWith('Rnd 3, right side, 54')")


def test_the_first_minutes_are_a_finished_example_with_things_to_try(window):
    page = window(guide=True, height=2600)
    settled(page)
    assert page.locator(".line-title").inner_text().endswith("Skerry Hat")
    assert page.locator(".remark").count() == 0
    steps = page.locator(".guide li")
    assert steps.count() == 6
    beside(page, "Row 3:").get_by_role("button").click()
    page.wait_for_selector(".guide li.is-done:nth-child(2)")
    page.get_by_role("button", name="Put this slip away").click()
    page.reload()
    page.wait_for_selector(".cm-content")
    assert page.locator(".guide").count() == 0


def test_an_example_that_she_writes_on_becomes_a_file_of_hers(window, bench):
    page = window()
    settled(page)
    go_to(page, "Skerry Hat")
    page.keyboard.press("End")
    page.keyboard.type(" for me", delay=10)
    until(page, "document.querySelector('.file').textContent.endsWith('.pattern.md')")
    made = page.locator(".file").inner_text()
    assert (bench.folder / made).read_text(encoding="utf-8").startswith("# Skerry Hat for me\n")
    page.reload()
    page.wait_for_selector(".cm-content")
    assert words(page).startswith("# Skerry Hat for me\n")
    turn_to(page, "All patterns")
    page.wait_for_selector(".shelf")
    assert made in page.locator(".leaf").inner_text()
