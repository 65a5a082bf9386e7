"""Abbreviations in rows lead to their entries, each once a row, and the words stay as they were."""

from purlwright.sheet.document import Glossary, Row, plain
from purlwright.sheet.out.html import to_html
from purlwright.workup import WorkUp

TEXT = """\
# Skerry

## Abbreviations
w&t (wrap and turn): bring the yarn to the front, slip the next stitch, take the yarn to the back, return the stitch, turn.

Cast on 20 sts.
Row 1 (RS): K2, k2tog, yo, k2tog, yo, k to last 4 sts, w&t.
Row 2: Purl to end.
Bind off.
"""


def test_each_row_leads_to_what_it_asks_for_once():
    document = WorkUp(TEXT).sheet()
    entry = {t.anchor: t.term for b in document.blocks if isinstance(b, Glossary) for t in b.terms}
    row = next(b for b in document.blocks if isinstance(b, Row) and b.label == "Row 1")
    assert plain(row.words) == "K2, k2tog, yo, k2tog, yo, k to last 4 sts, w&t."
    assert [(run.text, entry[run.to]) for run in row.words if run.to] == [
        ("k2tog", "k2tog"),
        ("yo", "yo"),
        ("w&t", "w&t (wrap and turn)"),
    ]


def test_what_every_knitter_reads_leads_nowhere():
    document = WorkUp(TEXT).sheet()
    row = next(b for b in document.blocks if isinstance(b, Row) and b.label == "Row 2")
    assert not any(run.to for run in row.words)


def test_the_web_page_has_the_link_and_the_way_back():
    html = to_html(WorkUp(TEXT).sheet())
    assert ">w&amp;t</a>" in html
    assert html.count("first in <bdi>Row 1</bdi>") == 3
