"""The whole cloth: turned, picked and lit, within its bounds."""

import pytest

from bench_page import HAT, settled, turn_to, until

PLAIN = """# Plain
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch

Cast on {} sts.
Row 1 (RS): Knit.
Row 2 (WS): Purl.
Repeat rows 1 and 2 until {} rows have been worked.
Bind off.
"""


@pytest.fixture
def cloth(window, bench):
    page = window(bench.write("kelp-hat", HAT), "cloth")
    laid(page)
    return page


def laid(page):
    page.wait_for_selector("canvas[data-stitches]", timeout=45_000)
    until(page, "() => document.querySelector('.leaf-cloth > .empty').textContent === ''", 120)


def canvas(page):
    return page.locator("canvas.cloth")


def press_the_middle(page):
    box = canvas(page).bounding_box()
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)


def test_a_stitch_shows_its_words_and_they_are_selected(cloth):
    press_the_middle(cloth)
    cloth.wait_for_selector(".picked-words")
    picked = cloth.locator(".picked-words").inner_text()
    assert picked
    assert picked in HAT
    assert (
        ", Brim" in cloth.locator(".cloth-stitch").inner_text()
        or ", Crown" in cloth.locator(".cloth-stitch").inner_text()
    )
    cloth.get_by_role("button", name="To these words").click()
    cloth.wait_for_selector(".lit")
    assert cloth.locator(".lit").first.inner_text() in picked
    assert cloth.evaluate("() => getSelection().toString()") == picked


def test_selected_words_light_their_stitches(window, bench):
    page = window(bench.write("kelp-hat", HAT))
    settled(page)
    page.locator(".cm-line", has_text="Rnd 2: Knit").dblclick(position={"x": 110, "y": 12})
    page.keyboard.press("Home")
    page.keyboard.press("Shift+End")
    turn_to(page, "The whole cloth")
    laid(page)
    page.wait_for_selector(".cloth-stitch b")
    assert page.locator(".cloth-stitch b").inner_text() == "63 stitches"


def test_it_is_turned_by_hand_by_key_and_by_button(cloth):
    turned = "() => document.querySelector('canvas.cloth').dataset.turned"
    first = cloth.evaluate(turned)
    canvas(cloth).focus()
    cloth.keyboard.press("ArrowRight")
    until(cloth, f"() => ({turned})() !== '{first}'")
    second = cloth.evaluate(turned)
    cloth.get_by_role("button", name="Turn left").click()
    until(cloth, f"() => ({turned})() !== '{second}'")
    box = canvas(cloth).bounding_box()
    cloth.mouse.move(box["x"] + 200, box["y"] + 200)
    cloth.mouse.down()
    cloth.mouse.move(box["x"] + 300, box["y"] + 240, steps=3)
    cloth.mouse.up()
    assert cloth.locator(".picked-words").count() == 0
    cloth.get_by_role("button", name="As at first").click()
    until(cloth, f"() => ({turned})() === '{first}'")


def test_by_keys_from_stitch_to_stitch_in_words(cloth):
    canvas(cloth).focus()
    cloth.keyboard.press(".")
    cloth.wait_for_selector(".picked-words")
    assert canvas(cloth).get_attribute("data-chosen") == "0"
    cloth.keyboard.press(".")
    assert canvas(cloth).get_attribute("data-chosen") == "1"
    cloth.keyboard.press(",")
    assert canvas(cloth).get_attribute("data-chosen") == "0"


def test_the_cloth_is_told_in_words(cloth):
    assert cloth.locator(".cloth-told li").count() > 0


def test_fifty_thousand_stitches_stay_within_their_bounds(window, bench):
    # Drawn by a processor instead of a graphics card, so many take their time: the window is small.
    page = window(bench.write("plain", PLAIN.format(200, 250)), "cloth", width=640, height=420)
    page.context.set_default_timeout(240_000)
    page.wait_for_selector("canvas[data-stitches]", timeout=240_000)
    assert int(canvas(page).get_attribute("data-stitches")) >= 50_000
    page.get_by_role("button", name="Nearer").click()
    page.wait_for_timeout(1000)
    assert 0 < int(canvas(page).get_attribute("data-calls")) <= 10
    assert 0 < int(canvas(page).get_attribute("data-triangles")) <= 3_000_000


def test_a_browser_without_it_says_so(window, bench):
    page = window(bench.write("kelp-hat", HAT))
    settled(page)
    page.evaluate("() => { HTMLCanvasElement.prototype.getContext = () => null; }")
    turn_to(page, "The whole cloth")
    until(
        page,
        "() => document.querySelector('.leaf-cloth > .empty').textContent.includes('three dimensions')",
        120,
    )
    assert page.locator(".cloth-acts").is_visible()
