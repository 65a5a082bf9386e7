"""What holds for every page: one file, nothing from outside, no way in, inks that can be read."""

import re
from base64 import b64encode
from hashlib import sha256
from itertools import pairwise

import pytest

import sheet_documents
from markup import read
from purlwright.sheet.out.follow import to_follow
from purlwright.sheet.out.html import to_html
from purlwright.sheet.out.web import asset, attribute, ident, said

PAGES = {
    "sheet": to_html(sheet_documents.hat()),
    "sheet in strange words": to_html(sheet_documents.nasty()),
    "follow-along": to_follow(sheet_documents.hat()),
    "follow-along in strange words": to_follow(sheet_documents.nasty()),
}
every_page = pytest.mark.parametrize("html", PAGES.values(), ids=PAGES.keys())


def sum_of(text):
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


@every_page
def test_the_policy_knows_the_style_and_the_script_and_no_other(html):
    page = read(html)
    policy = page.one("meta", http_equiv="Content-Security-Policy").attributes["content"]
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == rules["base-uri"] == rules["form-action"] == "'none'"
    assert rules["style-src"] == sum_of(page.one("style").text)
    scripts = list(page.all("script"))
    assert rules["script-src"] == (sum_of(scripts[0].text) if scripts else "'none'")
    assert len(scripts) == ("row by row" in page.one("head").one("title").text)
    assert rules["img-src"] == rules["font-src"] == "data:"


@every_page
def test_nothing_comes_from_outside_and_nothing_acts_by_itself(html):
    page = read(html)
    for element in page.all():
        assert element.tag not in {"link", "iframe", "object", "embed", "base", "foreignobject"}
        for name, value in element.attributes.items():
            assert not name.startswith("on"), element
            assert name != "style", element
            if name in {"src", "href", "action", "srcset", "xlink:href"}:
                assert value.startswith(("#", "data:image/")), element
    addresses = re.findall(r"url\(\"?([^)]{0,12})", page.one("style").text)
    assert addresses
    assert all(address.startswith("data:") for address in addresses)
    assert "http://www.w3.org" in html  # the name of SVG, which is asked of nobody
    assert set(re.findall(r"https?://[^\s\"'<>]+", html)) == {"http://www.w3.org/2000/svg"}


@every_page
def test_names_are_not_given_twice_and_every_link_leads_somewhere(html):
    page = read(html)
    names = [element.attributes["id"] for element in page.all() if "id" in element.attributes]
    assert len(names) == len(set(names))
    assert not any(re.search(r"\s", name) or not name for name in names)
    for element in page.all():
        for what in ("aria-labelledby", "aria-describedby", "for"):
            assert set(element.attributes.get(what, "").split()) <= set(names), element


@every_page
def test_headings_come_in_order_and_landmarks_once(html):
    page = read(html)
    levels = [int(element.tag[1]) for element in page.all() if re.fullmatch("h[1-6]", element.tag)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(below <= above + 1 for above, below in pairwise(levels))
    assert len(list(page.all("main"))) == len(list(page.all("header"))) == 1
    assert page.one("html").attributes["lang"] == "en"


def test_words_stay_words():
    assert said("<b>&amp;\x00\ud800") == "&lt;b&gt;&amp;amp;\ufffd\ufffd"
    assert attribute('"><script>') == '"&quot;&gt;&lt;script&gt;"'
    assert ident("two words\t") == "two-words-"


# --- inks -----------------------------------------------------------------------------------------

PAPERS = re.findall(r"\{([^{}]*--paper:[^{}]*)\}", asset("paper.css"))


def luminance(colour):
    channels = (int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5))
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one, other):
    """Source: WCAG 2.2, definitions of relative luminance and contrast ratio."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_measured_as_the_standard_does():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(
        4.48, abs=0.01
    )  # the well-known grey that just fails


@pytest.mark.parametrize("paper", PAPERS)
def test_every_ink_can_be_read_on_every_ground(paper):
    inks = dict(re.findall(r"--([\w-]+):(#[0-9a-f]{6})", paper))
    for ground in ("paper", "leaf", "wash"):
        for ink in ("ink", "faint", "accent"):
            assert contrast(inks[ink], inks[ground]) >= 4.5, (ink, ground)
        assert contrast(inks["strong-edge"], inks[ground]) >= 3, ground
    assert contrast(inks["on-accent"], inks["accent"]) >= 4.5


def test_light_dark_by_the_device_and_dark_by_choice_are_all_measured():
    assert len(PAPERS) == 3
    assert PAPERS[1].split() == [part for part in PAPERS[2].split() if part != "color-scheme:dark;"]
