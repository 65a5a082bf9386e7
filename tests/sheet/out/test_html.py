"""The sheet as a page: every block is there, in its order, marked up as what it is."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import sheet_documents
from markup import read
from purlwright.sheet.document import (
    Document,
    Fact,
    Facts,
    Figure,
    Glossary,
    Heading,
    Paragraph,
    Passes,
    Photo,
    Row,
    Run,
    Stamp,
    Table,
    Term,
)
from purlwright.sheet.out.html import to_html
from sheet_documents import words

HAT = read(to_html(sheet_documents.hat()))


def page(*blocks, **kind):
    return read(to_html(Document(title="T", stamp=Stamp(name="T"), blocks=blocks, **kind)))


def test_title_stamp_and_parts():
    assert HAT.one("head").one("title").text == HAT.one("h1").text == "Skerry Hat"
    assert HAT.one("header").one("p").text == "Ailsa of Skerry Bay · Version 1.2 · 3 May 2026"
    assert [h.text for h in HAT.all("h2")] == ["Materials", "Abbreviations", "Wedge", "Chart", "Finishing"]
    assert len(list(HAT.one("main").all("section"))) == 5
    nav = HAT.one("nav")
    assert [a.attributes["href"] for a in nav.all("a")][:4] == [
        "#materials",
        "#sizes",
        "#skills",
        "#abbreviations",
    ]


def test_a_page_does_not_close_with_what_stands_under_its_title():
    about = Heading(text="About this pattern", anchor="about")
    facts = (Fact(label="Version", words=words("1.2")),)
    stamp = Stamp(name="T", version="1.2")
    blocks = (Paragraph(words=words("A cowl.")), about, Facts(facts=facts))
    assert "About this pattern" not in to_html(Document(title="T", stamp=stamp, blocks=blocks))
    more = Facts(facts=(*facts, Fact(label="Contact", words=words("the shop at Skerry Bay"))))
    assert "About this pattern" in to_html(Document(title="T", stamp=stamp, blocks=(*blocks[:2], more)))


def test_a_row_with_all_it_has():
    row = HAT.one("li", id="wedge-4")
    assert " ".join(row.text.split()) == (
        "Row 4 done Row 4 WSwrong side Knit to end. Afterwards: 36 (42, 46) sts A lifeline may go here."
    ).replace("done Row", "doneRow")
    assert [box.attributes["type"] for box in row.all("input")] == ["checkbox"]
    many = next(row for row in HAT.all("li") if row.text.startswith("Rows 5-10"))
    assert many.one("strong", class_="only").text == "Size adult only"
    assert len(list(many.all("input"))) == 6


def test_a_count_that_was_knitted_is_told_from_one_that_is_printed():
    assert (
        HAT.one("li", id="wedge-0").one("span", class_="total counted").text == "Afterwards: 36 (42, 46) sts"
    )
    assert HAT.one("li", id="wedge-4").one("span", class_="total").text == "Afterwards: 36 (42, 46) sts"


def test_lines_stand_in_columns_where_their_part_has_rows_to_tick():
    told, row = Row(label="", words=words("Join.")), Row(label="Row 1", words=words("Knit."), boxes=1)
    found = page(Heading(text="a"), row, Paragraph(words=words("p")), told, Heading(text="b"), told)
    assert [part.attributes["class"] for part in found.one("main").all("ol")] == ["rows", "rows", "rows told"]


def test_numbers_stand_under_each_other_and_words_as_words_do():
    rows = (("S", "90 m", "17.5 cm round", "-"), ("M", "115 m", "20 cm round", "1½"))
    found = page(Table(caption="c", head=("size", "yarn", "foot", "balls"), rows=rows)).one("table")
    assert [cell.attributes.get("class") for cell in found.all("td")] == ["number", None, "number"] * 2


def test_rows_that_follow_each_other_are_one_list():
    rows = [len(list(part.all("li"))) for part in HAT.all("ol", class_="rows")]
    assert rows == [4, 2]  # a note stands between them


def test_abbreviations_lead_to_rows_and_back():
    assert HAT.one("li", id="wedge-2").one("a").attributes["href"] == "#term-wt"
    assert HAT.one("div", id="term-wt").one("a").attributes["href"] == "#wedge-2"
    assert HAT.one("div", id="term-wt").one("a").text == "first in Row 2"
    assert not list(HAT.one("div", id="term-rs").all("a"))


def test_a_row_without_an_anchor_can_still_be_gone_back_to():
    term = Glossary(terms=(Term(term="k", meaning=words("knit"), anchor="k"),))
    found = page(term, Row(label="", words=(Run("k3", to="k"),)))
    back = found.one("div", id="k").one("a")
    assert back.text == "where it is first used"
    assert found.one("li", id=back.attributes["href"][1:]).text.strip() == "k3"


def test_no_link_leads_nowhere():
    found = page(Paragraph(words=(Run("see the chart", to="chart"),)))
    assert found.one("main").text.strip() == "see the chart"
    assert not list(found.one("main").all("a"))


def test_a_table_has_its_caption_and_its_heads():
    table = HAT.one("table")
    assert table.one("caption").text == "Sizes, in cm"
    assert [cell.text for cell in table.all("th", scope="col")] == ["child", "adult", "large"]
    assert [cell.text for cell in table.all("th", scope="row")] == ["To fit head", "Round the brim"]
    assert [cell.text for cell in table.all("td") if cell.text] == ["50", "54", "60", "46.5", "50", "56.5"]


def test_the_count_of_each_pass_stands_at_its_own_number():
    passes = Passes(
        words=words("Repeat until 4 are done."),
        first=2,
        last=4,
        counts=("36 sts", "38 sts", "40 sts", "42 sts"),
    )
    items = [item.text for item in page(passes).one("div", role="group").all("li")]
    assert items == ["Time 2 38 sts", "Time 3 40 sts", "Time 4 42 sts"]
    bare = page(replace(passes, counts=())).one("div", role="group")
    assert [item.text for item in bare.all("li")] == ["Time 2", "Time 3", "Time 4"]


def test_a_drawing_is_seen_and_told():
    figure = HAT.one("div", id="figure-lace")
    assert [title.text for title in figure.all("title")] == [
        "Chart of 12 stitches and 8 rows.",
        "Key: an empty square is knit, a ring is a yarn over.",
    ]
    assert figure.one("figcaption").text == "The lace of the brim."
    assert (
        next(line.text for line in figure.one("details").all("li")) == "Row 1, right side: knit 3, yarn over."
    )
    assert next(HAT.all("div", class_="drawing wide")).attributes["tabindex"] == "0"


def test_drawings_that_follow_each_other_stand_side_by_side_where_they_fit():
    (beside,) = HAT.all("div", class_="figures")
    assert len(list(beside.all("figure"))) == 3


def test_a_wide_drawing_that_is_told_in_words_is_made_smaller_sooner():
    wide = replace(sheet_documents.squares(22, 2), width_mm=111)
    told = page(
        Figure(drawing=wide, alternative="a", said=(words("a row of squares"),)),
        Figure(drawing=wide, alternative="b"),
    )
    assert [
        part.attributes["class"]
        for part in told.all("div")
        if part.attributes["class"].startswith("drawing ")
    ] == ["drawing wide"]
    assert [part.text for part in told.all("p", class_="hint")] == [
        "Wider than the screen? Move the drawing sideways."
    ]


def test_a_drawing_grows_with_the_letters():
    svg = next(HAT.one("div", id="figure-lace").all("svg"))
    assert (svg.attributes["width"], svg.attributes["height"]) == ("17.08rem", "11.48rem")  # 61 by 41 mm
    assert svg.attributes["viewbox"] == "0 0 61 41"


def test_headings_that_skip_a_level_are_set_in_order():
    found = page(
        Heading(text="a", level=3), Heading(text="b", level=3), Heading(text="c"), Heading(text="d", level=3)
    )
    assert [h.tag for h in found.one("main").all() if h.tag.startswith("h")] == ["h2", "h3", "h2", "h3"]


def test_a_sheet_may_have_nothing_in_it():
    empty = page()
    assert empty.one("main").text.strip() == ""
    assert not list(empty.all("nav"))
    assert page(Table(caption="c", head=(), rows=())).one("caption").text == "c"


def test_a_left_handed_sheet_says_so():
    assert "For left-handed knitting" in page(left_handed=True).one("header").text


def test_a_picture_that_is_none_is_refused():
    with pytest.raises(ValueError, match=r"hat\.gif: a picture is a JPEG or a PNG"):
        page(Photo(name="hat.gif", data=b"GIF89a", alternative=""))


def test_the_same_sheet_gives_the_same_page():
    assert to_html(sheet_documents.hat()) == to_html(sheet_documents.hat())


def test_a_page_stays_small_enough_to_send():
    assert len(to_html(sheet_documents.hat()).encode()) < 300_000


@given(st.text(st.characters(exclude_categories=("Cs", "Cc", "Cn"))))
def test_any_words_are_printed_as_they_are_written(text):
    found = page(
        Heading(text=text), Paragraph(words=words(text)), Row(label=text, words=words(text), total=text)
    )
    assert found.one("main").one("h2").text == text
    assert found.one("main").one("p").text == text
    assert found.one("strong", class_="label").text == text if text else True
    assert found.one("span", class_="words").text == text
