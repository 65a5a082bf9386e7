"""A stitch pattern says where it is from, and every output says so under its heading."""

import pytest

from purlwright.chart.pages import chart_pages
from purlwright.drawing import to_svg
from purlwright.pattern.sources import source_in
from purlwright.rewrite.compare import difference
from purlwright.sheet.document import Fact, Facts, Figure, Heading, plain
from purlwright.sheet.out.html import to_html
from purlwright.sheet.out.spoken import to_spoken
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp

FROM = "traditional, the islands; A Book of Rows (knit 2, row 5), 1950, page 12"
TEXT = f"""\
# Ness
Source: my own design

## Little Fern pattern
Source: {FROM}
Row 1 (RS): *K2tog, yo; rep from * to end.
Row 2 (WS): Purl.

## Tide chart
> Source: my own, no. 2

```chart
2 | - - |
  | x x | 1

x = k / p
- = p / k
```

## Special stitches
Source: my aunt
bob: (k1, yo, k1) in next st.

## Scarf
Cast on 20 sts.
Work rows 1 and 2 of Little Fern pattern 5 times.
Work rows 1 and 2 of Tide chart 5 times.
Next row: Bob, k19. (22 sts)
Bind off.
"""


def sources(document):
    """Each source with the heading over it, and whether a chart follows on it."""
    under, out = "", []
    for block, after in zip(document.blocks, document.blocks[1:], strict=False):
        if isinstance(block, Heading):
            under = block.text
        if isinstance(block, Facts):
            out += [
                (under, plain(f.words), isinstance(after, Figure)) for f in block.facts if f.label == "Source"
            ]
    return out


def test_it_is_not_worked_and_stands_under_its_heading_with_its_chart():
    work = WorkUp(TEXT)
    assert [f.code for f in work.findings(work.sizes[0], {}) if f.severity.value == "error"] == []
    assert sources(work.sheet()) == [
        ("Little Fern pattern", FROM, False),
        ("Tide chart", "my own, no. 2", True),
        ("Special stitches", "my aunt", False),
    ]
    assert Fact(label="Source", words=()) not in work.sheet().blocks


def test_a_line_of_work_under_it_is_no_part_of_it():
    work = WorkUp("# A\n## A\nCast on 4 sts.\nSource: my own\nKnit 2 rows.\nBind off.\n")
    assert len([e for e in work.knitted().ledger.entries if e.kind.value == "row"]) == 2


@pytest.mark.parametrize("spoken", [False, True])
def test_text_says_it_and_reads_back_to_it(spoken):
    work = WorkUp(TEXT)
    text = to_spoken(work.sheet(spoken=True)) if spoken else to_text(work.sheet())
    again = WorkUp(text)
    assert difference(work.knitted(), again.knitted()) == ""
    found = [source_in(line.text) for s in again.pattern.sections for line in s.lines]
    assert [words for words in found if words][1:] == ["my own, no. 2", "my aunt", "my own design"]


def test_web_page_and_charts_say_it():
    work = WorkUp(TEXT)
    html = to_html(work.sheet())
    assert FROM in html
    assert "my own, no. 2" in html
    fern = next(c for c in work.charts() if c.title == "Little Fern pattern")
    tide = next(c for c in work.charts() if c.title == "Tide chart")
    assert fern.grid.sources == (FROM,)
    assert fern.grid.sayings[-1] == f"Source: {FROM}."
    assert "Source: my own, no. 2." in to_svg(chart_pages(tide.grid, tide.key)[0], "Tide", "")


def test_boxes_are_those_of_one_stitch_pattern():
    """Two stitch patterns with the same row numbers, worked one after the other, are not run together."""
    text = to_text(WorkUp(TEXT).sheet())
    assert text.count("> Rows 1 and 2: 1 to 5\n") == 2


@pytest.mark.parametrize(
    ("words", "named"),
    [
        ("Source: a book.", "a book."),
        ("**Source:** a  book", "a book"),
        ("SOURCES: two books", "two books"),
        ("Source:", ""),
        ("The source: none", ""),
        ("Source of yarn: none", ""),
        ("", ""),
    ],
)
def test_what_names_a_source(words, named):
    assert source_in(words) == named
