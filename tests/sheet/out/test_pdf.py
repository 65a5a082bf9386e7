"""The print, read back by its tags: what it says, in which order, and what it is."""

import io

import pytest
import typst
from PIL import Image

from purlwright.sheet.document import (
    Cautions,
    Document,
    Facts,
    Figure,
    Glossary,
    Heading,
    Items,
    Note,
    Paragraph,
    Passes,
    Photo,
    Row,
    Stamp,
    Table,
    plain,
)
from purlwright.sheet.out.faces import typst_fonts
from purlwright.sheet.out.pdf import UnusablePicture, letters_missing, print_files, to_pages, to_pdf
from sheets import NASTY, chart, every_block, key, of, rows, w
from tagged_pdf import opened

PRINTS = [("a4", False), ("letter", False), ("a4", True), ("letter", True)]


def flat(words: str) -> str:
    """Words without blanks: where a line ends, a page has none."""
    return "".join(words.split())


def said_in_order(document: Document) -> list[str]:
    """Everything a sheet says, in the order in which it is to be read."""
    out = [document.title]
    for block in document.blocks:
        match block:
            case Heading():
                out.append(block.text)
            case Paragraph() | Note():
                out.append(plain(block.words))
            case Items():
                out += [plain(item) for item in block.items]
            case Facts():
                out += [part for fact in block.facts for part in (fact.label, plain(fact.words))]
            case Glossary():
                out += [part for term in block.terms for part in (term.term, plain(term.meaning))]
            case Table():
                out += [block.caption, *block.head, *(cell for row in block.rows for cell in row)]
            case Row():
                out += [block.label, block.side, block.only, plain(block.words), block.total]
            case Passes():
                out.append(plain(block.words))
                numbers = range(block.first, block.last + 1)
                out += [str(n) + (block.counts[i] if block.counts else "") for i, n in enumerate(numbers)]
            case Figure():
                out += [plain(block.caption), *map(plain, block.said)]
            case Cautions():
                out += [part for c in block.cautions for part in (plain(c.words), c.source)]
    return [flat(part) for part in out if part]


def stands_in_order(said: str, parts: list[str]) -> bool:
    at = 0
    for part in parts:
        found = said.find(part, at)
        if found < 0:
            pytest.fail(f"{part[:80]!r} does not stand after {said[max(0, at - 60) : at]!r}")
        at = found + len(part)
    return True


# --- what it is -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "large"), PRINTS)
def test_a_print_is_pdf_ua_with_title_and_language(paper, large):
    pdf = opened(to_pdf(every_block(), paper, large))
    assert pdf.demands_ua
    assert pdf.title == "Slipway Cowl"
    assert pdf.language == "en-GB"
    width, height = (float(side) / 72 for side in pdf.reader.pages[0].mediabox[2:])
    assert (round(width, 2), round(height, 2)) == ((8.27, 11.69) if paper == "a4" else (8.5, 11))


@pytest.mark.parametrize(("paper", "large"), PRINTS)
def test_a_print_says_everything_in_reading_order(paper, large):
    document = every_block()
    said = flat(opened(to_pdf(document, paper, large)).document.said)
    if large:
        parts = [part for block in document.blocks if not isinstance(block, Table) for part in said_of(block)]
    else:
        parts = said_in_order(document)
    assert stands_in_order(said, parts)


def said_of(block) -> list[str]:
    parts = said_in_order(Document(title="", stamp=Stamp(name=""), blocks=(block,)))
    if isinstance(block, Row):  # in large print the limit stands in the line of the name
        return [flat(block.label), flat(plain(block.words)), flat(block.total)]
    return parts


def test_the_pages_can_be_had_as_pictures():
    pages = to_pages(every_block(), pixels_per_mm=2)
    assert len(pages) == len(opened(to_pdf(every_block())).pages)
    assert [Image.open(io.BytesIO(page)).size for page in pages] == [(420, 594)] * len(pages)
    assert len(to_pages(of())) == 1


@pytest.mark.parametrize(("paper", "large"), PRINTS)
def test_the_typesetter_has_nothing_to_warn_of(paper, large):
    files = print_files(every_block(), paper, large=large)
    made, warnings = typst.compile_with_warnings(files, font_paths=typst_fonts(), pdf_standards=["ua-1"])
    assert made
    assert warnings == []


def test_the_same_document_gives_the_same_bytes():
    assert to_pdf(every_block()) == to_pdf(every_block())


def test_the_file_is_dated_by_the_stamp_and_never_by_the_clock():
    assert opened(to_pdf(every_block())).reader.metadata["/CreationDate"].startswith("D:20261127")
    undated = of(Paragraph(words=w("Knit.")))
    assert "/CreationDate" not in opened(to_pdf(undated)).reader.metadata


def test_another_paper_is_refused():
    with pytest.raises(ValueError, match=r'"a4" or "letter", not "?\'?foolscap'):
        to_pdf(every_block(), "foolscap")


# --- the tags -------------------------------------------------------------------------------------


def test_headings_lists_tables_and_links_are_tagged():
    tree = opened(to_pdf(every_block())).document
    assert [(t.role, t.said) for t in tree.all("Title", "H1", "H2")] == [
        ("Title", "Slipway Cowl"),
        ("H1", "Materials"),
        ("H1", "Sizes"),
        ("H1", "What you will do"),
        ("H1", "Abbreviations"),
        ("H1", "Body"),
        ("H2", "Chart"),
        ("H1", "Take care"),
    ]
    (table,) = tree.all("Table")
    assert [t.said for t in table.all("Caption")] == ["Measurements in cm"]
    assert [t.said for t in table.all("TH")] == ["", "child", "adult", "large"]
    assert [t.said for t in table.all("TR")][1:] == ["Round the head505460", "Depth2023.525.5"]
    assert [t.said for t in tree.all("Link")] == ["k2tog"]
    labels = [flat(t.said) for t in tree.all("Lbl")]
    assert {"Yarn", "Needles", "k2tog", "Row1RS", "Row2WS", "Rows3-8"} <= set(labels)


def test_every_picture_has_its_alternative():
    tree = opened(to_pdf(every_block())).document
    assert [t.alternative for t in tree.all("Figure")] == [
        "Chart of 10 stitches and 8 rows.",
        "Key: an empty square, yarn over.",
    ]


def test_a_picture_without_an_alternative_has_its_caption_for_one():
    bare = of(Figure(drawing=chart(), alternative="", caption=w("Edge chart"), beside=key()))
    tree = opened(to_pdf(bare)).document
    assert [t.alternative for t in tree.all("Figure")] == ["Edge chart", "Edge chart: key"]


@pytest.mark.parametrize("large", [False, True])
def test_rows_and_totals_are_those_of_the_document(large):
    document = of(Heading(text="Body"), *rows(60))
    tree = opened(to_pdf(document, large=large)).document
    printed = [flat(t.said) for t in tree.all("LI") if "Row" in t.said]
    if large:
        wanted = [f"{r.label},{r.side}{plain(r.words)}{r.total}" for r in document.blocks[1:]]
        printed = printed[: len(wanted)]
    else:
        wanted = [f"{r.label}{r.side}{plain(r.words)}{r.total}" for r in document.blocks[1:]]
    assert printed == [flat(row) for row in wanted]


def test_the_foot_of_a_page_is_no_part_of_what_is_read():
    pdf = opened(to_pdf(of(*rows(60), title="Footnote")))
    many = len(pdf.pages)
    assert many > 1
    assert [f"page {n} of {many}" in page for n, page in enumerate(pdf.pages, 1)] == [True] * many
    assert f"of {many}" not in pdf.document.said
    assert pdf.document.said.count("Footnote") == 1


def test_a_heading_level_is_never_left_out():
    deep = of(Heading(text="A", level=3), Heading(text="B", level=3), Heading(text="C", level=1))
    assert [t.role for t in opened(to_pdf(deep)).document.all("H1", "H2", "H3")] == ["H1", "H2", "H1"]


# --- words that are hard on a page ------------------------------------------------------------------


@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("nasty", NASTY, ids=["markup", "script", "right-to-left", "signs", "10,000 letters"])
def test_words_are_printed_as_they_stand_wherever_they_stand(nasty, large):
    document = of(
        Heading(text=nasty, anchor=nasty),
        Paragraph(words=w(nasty, to=nasty)),
        Note(words=w(nasty, strong=True)),
        Items(items=(w(nasty),)),
        Row(label=nasty, words=w(nasty), total=nasty[:200], only=nasty, boxes=1, anchor="a" + nasty),
        Row(label="", words=w(nasty), total=nasty, boxes=1),
        Passes(words=w(nasty), first=1, last=2, counts=(nasty[:200], "4")),
        Table(caption=nasty, head=("", nasty), rows=((nasty, "1"),)),
        title=nasty,
    )
    pdf = opened(to_pdf(document, large=large))
    assert pdf.title == " ".join(nasty.split())
    said = flat(pdf.document.said)
    assert said.count(letters(nasty)) >= 11 if nasty != NASTY[2] else letters_of(said, nasty)


def letters(words: str) -> str:
    return flat(words)


def letters_of(said: str, words: str) -> bool:
    """Right-to-left words are written in the order in which they are seen: count their letters."""
    return all(said.count(c) >= 11 * words.count(c) for c in set(flat(words)))


def test_letters_that_cannot_be_printed_are_told():
    document = of(Paragraph(words=w("毛糸 and wool")), title="毛 Cowl")
    assert letters_missing(document) == ("毛", "糸")
    assert "□□ and wool" in opened(to_pdf(document)).document.said
    assert letters_missing(every_block()) == ()


def test_the_empty_sheet_is_a_sheet():
    pdf = opened(to_pdf(Document(title="", stamp=Stamp(name=""), blocks=())))
    assert pdf.title == "A pattern without a title"
    assert len(pdf.pages) == 1


def test_blocks_with_nothing_in_them_leave_no_trace():
    document = of(
        Heading(text=" "), Paragraph(words=()), Items(items=()), Facts(facts=()), Glossary(terms=()),
        Cautions(cautions=()), Table(caption="", head=(), rows=()), Heading(text="End"),
    )  # fmt: skip
    tree = opened(to_pdf(document)).document
    assert [(t.role, t.said) for t in tree.children] == [("Title", "Slipway Cowl"), ("H1", "End")]


# --- her own pictures -----------------------------------------------------------------------------


def photo(data: bytes) -> Document:
    return of(Photo(name="mat.jpg", data=data, alternative="The mat on a table."))


def picture(kind: str, size: tuple[int, int] = (60, 40)) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", size, (120, 60, 30)).save(out, kind)
    return out.getvalue()


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
@pytest.mark.parametrize("size", [(60, 40), (1, 1), (4000, 30), (30, 4000)])
def test_her_picture_is_printed_with_what_it_shows(kind, size):
    tree = opened(to_pdf(photo(picture(kind, size)))).document
    assert [t.alternative for t in tree.all("Figure")] == ["The mat on a table."]


@pytest.mark.parametrize("data", [b"", b"GIF89a", picture("JPEG")[:80], picture("PNG")[:60], b"<svg/>"])
def test_a_picture_that_cannot_be_read_is_told_by_its_name(data):
    with pytest.raises(UnusablePicture, match=r"mat\.jpg"):
        to_pdf(photo(data))
