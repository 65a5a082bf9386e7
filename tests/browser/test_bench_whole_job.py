"""The whole job at the bench, from a blank sheet to a print in her hands, and the same without a mouse."""

from pypdf import PdfReader

from bench_page import settled, turn_to, until, words

MITT = [
    "Sizes: small (large)",
    "Gauge: 20 sts and 28 rounds = 10 cm in stockinette stitch",
    "",
    "## Cuff",
    "Cast on 40 (60) sts and join to work in the round.",
    "Rnd 1: *K2, p2; rep from * to end.",
    "Rnds 2-12: Rep rnd 1. (40 (60) sts)",
    "",
    "## Hand",
    "Rnd 1: *K8, k2tog; rep from * to end. (37 (54) sts)",
    "Rnd 2: Knit.",
    "Bind off.",
]


def test_from_a_blank_sheet_to_a_print(window, bench):
    page = window("example:skerry-hat", "patterns")
    page.get_by_label("Its name").fill("Limpet Wristlets")
    page.get_by_role("button", name="Begin", exact=True).click()
    page.wait_for_selector(".cm-content")
    until(page, "() => document.querySelector('.file').textContent.endsWith('.pattern.md')")
    assert words(page).startswith("# Limpet Wristlets\n")
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    page.keyboard.type("\n".join(MITT))

    # 37 is not what 40 stitches come to when every tenth goes; the repair is taken.
    page.wait_for_selector(".remark-error .accept", timeout=45_000)
    assert page.locator(".marked-error").first.inner_text() == "37"
    page.locator(".remark-error .accept").first.click()
    until(page, "() => document.querySelector('.remark-error') === null", 60)
    assert "(36 (54) sts)" in words(page)
    page.get_by_role("combobox", name="size").select_option("large")
    until(page, "() => [...document.querySelectorAll('.count')].some(e => e.textContent === '54')", 60)

    page.get_by_role("button", name="Save").click()
    until(page, "() => document.querySelector('.state').textContent.startsWith('Saved')")
    made = bench.folder / page.locator(".file").inner_text()
    assert made.read_text(encoding="utf-8") == words(page)

    turn_to(page, "The proof")
    page.wait_for_selector(".checks li", timeout=45_000)
    turn_to(page, "Give it out")
    with page.expect_download(timeout=180_000) as coming:
        page.get_by_role("button", name="Print", exact=True).click()
    kept = made.with_suffix(".pdf")
    coming.value.save_as(kept)
    text = "".join(leaf.extract_text() for leaf in PdfReader(kept).pages)
    assert coming.value.suggested_filename.endswith(".pdf")
    assert "Limpet Wristlets" in text
    assert "36 (54)" in text
    kept.unlink()


def test_the_same_without_a_mouse(window):
    page = window("example:skerry-hat", "patterns")
    page.wait_for_selector(".begin")
    reach(page, "() => document.activeElement.id === 'new-title'")
    page.keyboard.type("Whelk Cowl")
    reach(page, "() => document.activeElement.textContent === 'Begin'")
    page.keyboard.press("Enter")
    until(page, "() => document.querySelector('.file')?.textContent.startsWith('Whelk')")
    reach(page, "() => document.activeElement.classList.contains('cm-content')")
    page.keyboard.press("Control+End")
    page.keyboard.type("Cast on 24 sts.\nRow 1 (RS): Knit. (23 sts)\nBind off.")
    page.wait_for_selector(".remark-error .accept", timeout=45_000)
    reach(page, "() => document.activeElement.classList.contains('accept')")
    page.keyboard.press("Enter")
    until(page, "() => document.querySelector('.remark-error') === null", 60)
    assert "(24 sts)" in words(page)
    page.keyboard.press("Control+s")
    until(page, "() => document.querySelector('.state').textContent.startsWith('Saved')")
    settled(page)
    reach(page, "() => document.activeElement.classList.contains('beside')", back=True)
    page.keyboard.press("Enter")
    page.wait_for_selector(".leaflet-sum")
    reach(
        page,
        "() => document.activeElement.textContent === 'Give it out' || document.activeElement.textContent.startsWith('Give it out')",
        back=True,
    )
    page.keyboard.press("Enter")
    page.wait_for_selector(".copies")
    reach(page, "() => document.activeElement.textContent === 'Plain text'")
    with page.expect_download(timeout=45_000) as coming:
        page.keyboard.press("Enter")
    assert coming.value.suggested_filename


def reach(page, there, *, back=False):
    """Goes on with Tab until what is wanted has the focus."""
    for _ in range(120):
        if page.evaluate(there):
            return
        page.keyboard.press("Shift+Tab" if back else "Tab")
    raise AssertionError(f"never reached: {there}")
