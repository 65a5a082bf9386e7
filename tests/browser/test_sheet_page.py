"""The web page of a sheet in a real browser: without barriers, by keys alone, small and large, on paper."""

from pathlib import Path

import pytest

import sheet_documents
from purlwright.sheet.out.html import to_html
from purlwright.sheet.report import report_document
from purlwright.workup import WorkUp

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def hat():
    return to_html(sheet_documents.hat())


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
def test_no_barriers(opened, barriers, hat, width, dark):
    page = opened(hat, width=width, dark=dark)
    page.locator(".spoken summary").click()
    page.locator(".row input").first.check()
    assert barriers(page) == []


def test_no_barriers_in_an_editors_report(opened, barriers):
    faulty = next((ROOT / "examples" / "faults").glob("*yarn-over-missing*"))
    work = WorkUp(faulty.read_text(encoding="utf-8"))
    page = opened(to_html(report_document(work.report(work.proved(), ()))))
    assert page.locator("h1").inner_text() == "Editor's report on Lace Skirt"
    assert barriers(page) == []


def test_no_barriers_in_strange_words(opened, barriers):
    page = opened(to_html(sheet_documents.nasty()))
    assert barriers(page) == []
    written = sheet_documents.NASTY.replace("\x00", "\ufffd").replace("\x1b", "\ufffd")
    assert page.title() == written
    assert page.locator("h1").text_content() == written
    assert page.locator("caption").text_content() == written


@pytest.mark.parametrize("text", [100, 200])
@pytest.mark.parametrize("make", [sheet_documents.hat, sheet_documents.nasty])
def test_nothing_hangs_over_the_edge(opened, make, text):
    """At 200 % a window of 640 px is 320 px wide; larger letters alone must fit as well."""
    page = opened(to_html(make()), width=320 if text == 100 else 640, device_scale_factor=2)
    page.evaluate("size => { document.documentElement.style.fontSize = size; }", f"{text}%")
    width = page.evaluate("innerWidth")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    over = page.evaluate(
        "w => [...document.querySelectorAll('p, h1, h2, h3, li, dd, dt, label')].filter(e => !e.closest('.wide, .table, .unseen')"
        " && e.getBoundingClientRect().right > w + 1).map(e => e.outerHTML.slice(0, 120))",
        width,
    )
    assert over == []


def test_by_keys_alone(opened, hat):
    page = opened(hat, width=1280, height=800)

    def focus():
        return page.evaluate(
            "document.activeElement.id || document.activeElement.getAttribute('href') || document.activeElement.tagName"
        )

    page.keyboard.press("Tab")
    assert focus() == "#_sheet"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    assert focus() == "#wedge-2"  # from an abbreviation to where it is first used
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert focus() == "INPUT"
    page.keyboard.press("Space")
    assert page.locator("#wedge-2 input").is_checked()
    page.keyboard.press("Tab")
    assert focus() == "#term-wt"  # and back
    page.keyboard.press("Enter")
    assert page.evaluate("document.querySelector(':target dt').textContent") == "w&t"


def test_all_is_there_without_script_and_on_paper(opened, hat):
    page = opened(hat, script=False)
    assert page.locator(".row").count() == 6
    page.emulate_media(media="print")
    assert not page.locator("nav").is_visible()
    assert page.locator(".row").first.is_visible()
    assert page.locator("body").evaluate("e => getComputedStyle(e).backgroundColor") == "rgb(255, 255, 255)"


def test_letters_and_chart_stand_in_our_own_typefaces(opened, hat):
    page = opened(hat)
    page.evaluate("document.fonts.ready")
    loaded = page.evaluate(
        "[...document.fonts].filter(f => f.status === 'loaded').map(f => f.family.replaceAll('\"', '') + ' ' + f.weight)"
    )
    assert sorted(loaded) == [
        "Atkinson Hyperlegible Next 400",
        "Atkinson Hyperlegible Next 700",
        "Fraunces 600",
    ]
