"""Each leaf of the binder: what it shows, at every width, and that nothing bars anybody from it."""

import pytest

from bench_page import HAT, settled, turn_to, until

LEAVES = {
    "words": ".margin-left li[data-line]",
    "rows": ".ledger tbody tr td",
    "proof": ".checks li",
    "chart": ".chart svg",
    "cloth": "canvas[data-stitches]",
    "sheet": "iframe[src]",
    "lesson": "iframe[src]",
    "wrong": ".question",
    "where": ".question",
    "idea": ".fill-people li",
    "rates": "#fill-from",
    "other-gauge": "#other-stitches",
    "give": ".copies li",
    "versions": ".leaf > div *",
    "patterns": ".shelf li",
}
LACE = """# Tern Scarf
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch, after blocking

## Lace
Cast on 21 sts.
Row 1 (RS): K2, *yo, k2tog; rep from * to last st, k1.
Row 2 (WS): Purl.
Rep rows 1 and 2 three times more.
Bind off.
"""


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("leaf", LEAVES)
def test_no_barriers(window, bench, barriers, leaf, dark):
    page = window(bench.write("tern-scarf", LACE), leaf, dark=dark)
    page.wait_for_selector(LEAVES[leaf], state="attached", timeout=45_000)
    assert barriers(page) == []


def test_no_barriers_where_something_is_wrong_or_unfolded(window, bench, barriers):
    page = window(bench.write("tern-scarf", LACE.replace("Row 2 (WS): Purl.", "Row 2 (WS): Purl. (22 sts)")))
    page.wait_for_selector(".remark-error")
    page.locator(".margin-left li[data-line] button").nth(1).click()
    page.wait_for_selector(".leaflet .needles")
    assert barriers(page) == []
    page.get_by_role("button", name="Why?").first.click()
    page.wait_for_selector(".prose h2")
    assert barriers(page) == []


@pytest.mark.parametrize("width", [1440, 1024, 390])
def test_nothing_reaches_over_the_edge(window, bench, width):
    page = window(bench.write("kelp-hat", HAT.replace("54 (60)", "55 (60)")), width=width)
    page.wait_for_selector(".remark-error", state="attached")
    for leaf in LEAVES:
        page.evaluate("leaf => { location.hash = location.hash.replace(/[a-z-]+$/, leaf); }", leaf)
        page.wait_for_selector(f".leaf-{leaf}")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, leaf


@pytest.mark.parametrize("width", [1440, 390])
def test_counts_stand_beside_their_lines_below_notes_and_unfolded_rows_too(window, bench, width):
    page = window(bench.write("kelp-hat", HAT.replace("63 (70)", "64 (70)")), width=width, height=1400)
    page.wait_for_selector(".remark-error")
    page.locator('.beside[aria-label^="Rnd 2,"]').last.click()
    page.wait_for_selector(".leaflet .needles")

    def apart():
        line = page.locator(".cm-line", has_text="Rnd 3:").bounding_box()["y"]
        return abs(page.locator('.beside[aria-label^="Rnd 3,"]').last.bounding_box()["y"] - line)

    page.wait_for_timeout(600)
    assert apart() < 6


@pytest.mark.parametrize("width", [1440, 390])
def test_the_contents_lead_to_every_leaf_by_keys_alone(window, bench, width):
    page = window(bench.write("kelp-hat", HAT), width=width)
    settled(page)
    for name in ("Row by row", "The proof", "Give it out", "The pattern"):
        if width == 390:
            page.locator(".contents summary").focus()
            page.keyboard.press("Enter")
        page.get_by_role("link", name=name).focus()
        page.keyboard.press("Enter")
        until(page, "() => document.activeElement.id === 'sheet'")
    assert page.locator(".cm-content").is_visible()


def test_the_contents_say_what_there_is(window, bench):
    page = window(bench.write("kelp-hat", HAT.replace("54 (60)", "55 (60)")))
    page.wait_for_selector(".remark-error")
    until(page, "() => document.querySelector('.contents').innerText.includes('1 wrong')")
    told = page.locator(".contents").inner_text()
    assert "1 mark" in told
    assert told.split("Row by row")[1].split()[0] == "9"


def test_the_ledger_leads_to_the_words(window, bench):
    page = window(bench.write("kelp-hat", HAT), "rows")
    page.wait_for_selector(".ledger")
    cells = page.locator("tr", has_text="Rnd 3").last.locator("td").all_inner_texts()
    assert cells[0] == "RS"
    assert cells[1] == "63"
    assert cells[6] == "54"
    page.get_by_role("button", name="Rnd 3").last.click()
    page.wait_for_selector(".lit")
    assert page.locator(".lit").first.inner_text().startswith("*K5")


def test_a_square_of_the_chart_shows_its_words(window, bench):
    page = window(bench.write("tern-scarf", LACE), "chart")
    page.wait_for_selector(".chart svg [data-span]")
    squares = page.locator(".chart svg [data-span]")
    assert squares.count() > 10
    squares.nth(8).click(force=True)
    page.wait_for_selector(".chart-words b")
    assert page.locator(".chart-words b").first.inner_text().lower() in LACE.lower()
    page.get_by_role("button", name="To these words").click()
    page.wait_for_selector(".lit")


def test_the_proof_holds_what_was_proved(window, bench):
    page = window(bench.write("kelp-hat", HAT), "proof")
    page.wait_for_selector(".checks li")
    assert "Holds" in page.locator(".leaf").inner_text()


def test_the_sheet_is_shown_as_a_knitter_gets_it(window, bench):
    page = window(bench.write("kelp-hat", HAT), "sheet")
    page.wait_for_selector("iframe[src]", timeout=45_000)
    frame = page.frame_locator("iframe")
    frame.get_by_role("heading", name="Crown").wait_for()
    assert "54" in frame.locator("main").inner_text()


def test_where_am_i_goes_on_asking_until_one_row_is_left(window, bench):
    page = window(bench.write("kelp-hat", HAT), "where")
    page.wait_for_selector(".question")
    page.get_by_label("How many rows have been worked since the last row with decreases?").fill("1")
    page.get_by_role("button", name="Say so").click()
    page.wait_for_selector(".said")
    assert (
        "rows fit" in page.locator(".leaf").inner_text()
        or "One row fits" in page.locator(".leaf").inner_text()
    )
    page.get_by_role("button", name="Take the last answer back").click()
    until(page, "() => document.querySelector('.said') === null")


def test_rescue_says_what_may_have_happened(window, bench):
    page = window(bench.write("kelp-hat", HAT), "wrong")
    page.wait_for_selector(".question", timeout=45_000)
    for _ in range(3):
        if page.locator(".likely").count():
            break
        unsure = page.get_by_role("button", name="I cannot tell")
        if page.get_by_role("textbox").count():
            page.get_by_role("textbox").fill("10")
            page.get_by_role("button", name="Say so").click()
        elif unsure.count():
            unsure.click()
        page.wait_for_timeout(1500)
    page.wait_for_selector(".said")
    assert page.locator(".said li").count() >= 1


def test_where_the_folder_is_empty_the_page_teaches(window):
    page = window("example:skerry-hat", "patterns")
    page.wait_for_selector(".begin")
    said = page.locator(".leaf").inner_text()
    assert "There is no pattern in this folder yet" in said
    assert page.locator(".shelf li").count() >= 8


def test_a_leaf_of_an_empty_sheet_teaches(window, bench):
    path = bench.write("bare", "# Bare\n")
    page = window(path, "rows")
    page.wait_for_selector(".empty")
    assert "A pattern begins with a cast-on" in page.locator(".empty").first.inner_text()
    turn_to(page, "The whole cloth")
    until(
        page,
        "() => document.querySelector('.leaf-cloth .empty')?.textContent.includes('Nothing is knitted yet')",
    )


@pytest.mark.parametrize("asked", ["/api/binder", "/api/pattern*"])
def test_whoever_goes_elsewhere_while_the_bench_opens_stays_there(window, bench, asked):
    name = bench.write("tern-scarf", LACE)
    page = window(name)
    page.goto("about:blank")

    def first_go_to_the_chart(route):
        page.evaluate("hash => { location.hash = hash; }", f"#{name}/chart")
        route.continue_()

    page.route(f"**{asked}", first_go_to_the_chart, times=1)
    page.goto(f"{bench.home}/" if asked == "/api/binder" else f"{bench.home}/#{name}/words")
    page.wait_for_selector(".leaf-chart .chart svg")
    page.wait_for_timeout(500)
    assert page.url.endswith("/chart")
    assert page.locator(".leaf-chart .chart svg").count() == 1
