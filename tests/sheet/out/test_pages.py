"""What stands on which page: no row is split, no heading is left behind, no line stands alone."""

import re
from dataclasses import replace

import pytest

from purlwright.sheet.document import (
    Block,
    Caution,
    Cautions,
    Fact,
    Facts,
    Figure,
    Glossary,
    Heading,
    Items,
    Note,
    Paragraph,
    Passes,
    Row,
    Stamp,
    Table,
    Term,
    plain,
)
from purlwright.sheet.out.pdf import to_pdf
from purlwright.sheet.out.setting import Setter
from sheets import chart, key, of, rows, w
from tagged_pdf import opened

LONG_ROW = "K3, *yo, k2tog, k5, ssk, yo, k1, p1; rep from * to the last marker, then work even. " * 4


ONE_LINE = 60
"""No line of a paragraph has more letters than this, blanks not counted."""


def flat(words: str) -> str:
    return "".join(words.split())


def pages(*blocks: Block, large: bool = False) -> list[str]:
    return [flat(page) for page in opened(to_pdf(of(*blocks), large=large)).pages]


@pytest.mark.parametrize("large", [False, True])
def test_no_row_is_split_over_two_pages(large):
    every = [
        Row(
            label=f"Row {n}",
            words=w(f"{n}: {LONG_ROW}"[: 20 + 41 * (n % 9)] + f" end {n}."),
            total=f"{n} sts",
        )
        for n in range(60)
    ]
    printed = pages(*every, large=large)
    assert len(printed) > 2
    for row in every:
        assert [True for page in printed if flat(plain(row.words)) in page] == [True]


def test_a_row_too_long_for_a_page_goes_over_and_all_of_it_is_there():
    row = Row(label="Row 1", words=w(LONG_ROW * 60), total="9 sts")
    pdf = opened(to_pdf(of(Paragraph(words=w("Before.")), row)))
    assert len(pdf.pages) > 2
    assert flat(pdf.document.said).count("tothelastmarker") == 240


AFTER_A_HEADING = {
    "rows": rows(3),
    "a line without a name": [Row(label="", words=w("Cast on 20 sts."), boxes=1)],
    "words": [Paragraph(words=w("One line."))],
    "a note": [Note(words=w("One line."))],
    "a note before rows": [Note(words=w("Read this.")), *rows(3)],
    "words before cautions": [
        Paragraph(words=w("These are usual."), hers=False),
        Cautions(cautions=(Caution(words=w("Take care."), source="A book"),) * 4),
    ],
    "a table": [Table(caption="Sizes", head=("", "S", "M"), rows=(("Width", "1", "2"), ("Depth", "1", "2")))],
    "a chart": [Figure(drawing=chart(), alternative="chart", beside=key(), caption=w("A chart."))],
    "passes": [Passes(words=w("Work it 3 times."), first=1, last=3)],
    "cautions": [Cautions(cautions=(Caution(words=w("Take care."), source="A book"),))],
}


LEADS_TO = {"a note before rows": "Row1", "words before cautions": "Takecare."}
"""What must stand on the page with the heading and the words under it."""


@pytest.mark.parametrize("what", AFTER_A_HEADING)
def test_no_heading_is_left_at_the_end_of_a_page(what):
    """Moved down line by line, a heading goes to the next page together with what it heads."""
    went_over = 0
    for many in range(30, 52, 2):
        filler = [Paragraph(words=w(f"Line {n}.")) for n in range(many)]
        blocks = [*filler, Heading(text="Headed"), Heading(text="Below it", level=2), *AFTER_A_HEADING[what]]
        for page in pages(*blocks):
            if "Headed" in page:
                after = page.split("Headed", 1)[1]
                assert flat("Below it") in after
                assert LEADS_TO.get(what, "") in after, many
                assert len(after.split(flat("Below it"))[1].split("page")[0]) > 3, (what, many)
                went_over += page.startswith("Headed")
    assert went_over, "no page ended near the heading"


def test_a_chart_and_the_key_under_it_stay_on_one_page():
    figure = Figure(drawing=chart(60, 20), alternative="chart", beside=key(), caption=w("A chart."))
    went_over = 0
    for many in range(16, 40, 2):
        filler = [Paragraph(words=w(f"Line {n}.")) for n in range(many)]
        for page in pages(*filler, figure):
            if "Achart." in page:
                assert "yarnover" in page, many
                went_over += "Line" not in page
    assert went_over, "it never went over to the next page"


def test_no_first_or_last_line_of_a_paragraph_stands_alone():
    words = "An even line of knitting words that goes on and on until it is long enough. " * 4
    for many in range(36, 50):
        filler = [Paragraph(words=w(f"Line {n}.")) for n in range(many)]
        printed = [page.replace("SlipwayCowl", "") for page in pages(*filler, Paragraph(words=w(words)))]
        left = ["".join(part for part in re.split(r"Line\d+\.|page\dof\d", page)) for page in printed]
        parts = [len(part) for part in left if part]
        assert sum(parts) == len(flat(words)), many
        assert len(parts) == 1 or min(parts) > ONE_LINE, (many, parts)


def test_a_table_longer_than_a_page_has_its_head_on_each():
    table = Table(caption="Rows", head=("Row", "Sts"), rows=tuple((f"Row {n}", str(n)) for n in range(90)))
    printed = pages(table)
    assert len(printed) > 1
    assert ["RowSts" in page for page in printed] == [True] * len(printed)


CROWDED = (
    Heading(text="A heading that goes on for longer than a line has room for, in any print", level=1),
    *AFTER_A_HEADING["a table"],
    Table(
        caption="Twelve sizes",
        head=("", *(f"{n}XL" for n in range(12))),
        rows=tuple((f"Measure {m}", *(f"{90 + n} ({35 + n})" for n in range(12))) for m in range(9)),
    ),
    Facts(facts=tuple(Fact(label="A name of several words", words=w(LONG_ROW)) for _ in range(9))),
    Glossary(terms=tuple(Term(term=f"term {n}", meaning=w(LONG_ROW[:90])) for n in range(70))),
    *rows(30, words=LONG_ROW),
    Passes(
        words=w("Work it."),
        first=1,
        last=40,
        counts=tuple(f"{n} ({n}, {n}, {n}, {n}) sts" for n in range(40)),
    ),
    Figure(drawing=chart(60, 40), alternative="wide", beside=key(), caption=w("Wide")),
    Figure(
        drawing=chart(10, 90), alternative="high", beside=key(), caption=w("High"), said=(w(LONG_ROW),) * 9
    ),
    Cautions(cautions=(Caution(words=w(LONG_ROW[:160]), source="A standard of some length, 2007"),) * 9),
)


@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_that_is_read_stands_in_a_margin(paper, large):
    pdf = opened(to_pdf(of(*CROWDED), paper, large))
    wide = float(pdf.reader.pages[0].mediabox[2]) * 25.4 / 72
    side, foot = (25.4, 38.1) if large else (22, 24)
    assert len(pdf.pages) > 9
    for page in pdf.places:
        for x, y, size in page:
            # A wide chart hangs into the margins by 10 mm at most: only its lettering is so small.
            edge = side - 10 if size < 7.6 and not large else side
            assert edge - 0.1 < x < wide - edge, page
            assert y > foot - 0.1, page


@pytest.mark.parametrize("many", range(20, 44, 3))
def test_what_closes_a_sheet_does_not_stand_alone_on_the_last_page(many):
    closing = (
        Heading(text="Cautions", anchor="cautions"),
        Cautions(cautions=(Caution(words=w("Wash it cool."), source="common practice"),)),
        Heading(text="About this pattern", anchor="about"),
        Facts(facts=(Fact(label="Contact", words=w("the yarn shop at Skerry Bay")),)),
    )
    every = [Row(label=f"Row {n}", words=w("Knit."), boxes=1) for n in range(many)]
    last = pages(Heading(text="Body"), *every, *closing)[-1]
    assert flat("Wash it cool.") in last
    assert flat("the yarn shop at Skerry Bay") in last


def closing_with_pieces() -> list[Block]:
    clues = tuple(
        w(f"Clue {n}: every second row ends with three knit stitches, and no other.") for n in range(22)
    )
    return [
        Heading(text="The pieces", anchor="the-pieces"),
        Figure(drawing=chart(12, 24), alternative="outline", caption=w("To scale")),
        Figure(drawing=chart(12, 20), alternative="growth", caption=w("How it grows")),
        Heading(text="Clues", anchor="clues"),
        Items(items=clues),
        Heading(text="Cautions", anchor="cautions"),
        Cautions(cautions=(Caution(words=w("Wash it cool."), source="A book"),)),
    ]


def test_where_the_pieces_do_not_fit_the_clues_fill_the_page_before_them():
    """Never is a third of a page left empty where a list could stand."""
    before = 0
    for many in range(12, 30, 3):
        filler = [Row(label=f"Row {n}", words=w("Knit."), boxes=1) for n in range(many)]
        pdf = opened(to_pdf(of(Heading(text="Body"), *filler, *closing_with_pieces())))
        for page, places in zip(pdf.pages[:-1], pdf.places[:-1], strict=True):
            lowest = min(y for _, y, size in places if size > 8.5)
            assert lowest < 24 + 0.3 * 252, (many, page)
        said = flat("".join(pdf.pages))
        before += said.index("Clue0:") < said.index("Thepieces")
        assert said.count("Clue21:") == said.count("Toscale") == said.count("Washitcool.") == 1
    assert before, "the clues never stood first"


def test_a_chart_opens_the_next_page_if_a_whole_part_fits_before_it():
    figure = Figure(
        drawing=chart(10, 16), alternative="chart", beside=key(), caption=w("A chart."), anchor="figure-0"
    )
    rows_before = [Row(label=f"Row {n}", words=w("Knit."), boxes=1) for n in range(24)]
    short, long = [Row(label="Rnd 1", words=w("Knit."))], rows(20)
    first, second = (
        pages(Heading(text="Body"), *rows_before, figure, Heading(text="Edge"), *part)
        for part in (short, long)
    )
    assert "Edge" in first[0]
    assert "Achart." in first[1]
    assert "Edge" not in second[0]


def test_a_sheet_does_not_close_with_what_stands_under_its_title():
    about = Heading(text="About this pattern", anchor="about")
    version = Facts(facts=(Fact(label="Version", words=w("1.2")),))
    rows_and_about = (Row(label="Row 1", words=w("Knit.")), about, version)
    document = replace(of(*rows_and_about), stamp=Stamp(name="Skerry", version="1.2"))
    (page,) = opened(to_pdf(document)).pages
    assert flat("About this pattern") not in flat(page)
    assert flat("version 1.2").lower() in flat(page).lower()


def test_a_number_stays_in_the_line_with_what_it_counts():
    said = "Work to last 2 sts, cast on 12 (14, 16) sts, then 8 cm, 3 times in MC."
    data = Setter("a4", large=False).whole(of(Heading(text="Body"), Row(label="Row 1", words=w(said))))
    printed = data["blocks"][-1]["rows"][0]["words"][0]["text"]
    assert printed == (
        "Work to last 2\u00a0sts, cast on 12 (14, 16)\u00a0sts, then 8\u00a0cm, 3\u00a0times in MC."
    )


def test_no_item_of_a_list_is_parted_between_two_pages():
    items = tuple(
        w(f"Item {n} begins here and is told in more lines than one, so that it ends here {n}.")
        for n in range(40)
    )
    for page in pages(Heading(text="Body"), Items(items=items)):
        for n in range(40):
            assert (flat(f"Item {n} begins") in page) == (flat(f"ends here {n}.") in page)
