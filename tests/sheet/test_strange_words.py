"""Titles, notes and keys in any letters: the plain text and the text to be heard read back to the same pattern,
and on the pages words stay words.
"""

import pytest

from purlwright.rewrite.compare import difference
from purlwright.sheet.document import Note, one_line, plain
from purlwright.sheet.out.follow import to_follow
from purlwright.sheet.out.html import to_html
from purlwright.sheet.out.spoken import to_spoken
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp

STRANGE = {
    "quoted": "> quoted",
    "stars": "*starred* _under_ **bold**",
    "code": "`code` ```fence```",
    "script": "<script>alert(1)</script> &amp; <b>",
    "sums": "$x^2$, then #let x = 1",
    "right-to-left": "שלום ארץ",
    "signs": "🧶🐑 👩‍👩‍👧",
    "list": "- item",
    "upright lines": "| a | b |",
    "key": "Sizes: a (b, c)",
    "rule": "-----",
    "row": "as in Row 3: Knit. (5 sts)",
    "source": "Source: my aunt",
    "long": "x" * 10_000,
}


@pytest.fixture(params=STRANGE.values(), ids=STRANGE)
def pattern(request):
    said = request.param
    return WorkUp(
        f"# {said}\n\nGauge: 20 sts and 28 rows = 10 cm\nYarn: MC, wool, {said}\nContact: {said}\nVersion: {said}\n\n"
        f"## Body\nCast on 10 sts.\n> {said}\nRow 1 (RS): Knit.\n> {said}\nRow 2: Purl.\nBind off.\n"
    )


@pytest.mark.parametrize("spoken", [False, True])
def test_text_reads_back_to_the_same_pattern(pattern, spoken):
    document = pattern.sheet(spoken=spoken, follow=False)
    again = WorkUp(to_spoken(document) if spoken else to_text(document))
    assert again.title == pattern.title
    assert difference(pattern.knitted(), again.knitted()) == ""


def test_notes_read_back_word_for_word(pattern):
    document = pattern.sheet(follow=False)
    notes = [one_line(plain(b.words)) for b in document.blocks if isinstance(b, Note)]
    again = WorkUp(to_text(document)).sheet(follow=False)
    kept = [one_line(plain(b.words)) for b in again.blocks if isinstance(b, Note)]
    assert notes == [words for words in kept if words in notes]


def test_pages_never_take_words_for_markup(pattern):
    document = pattern.sheet(follow=True)
    for page in (to_html(document), to_follow(document)):
        assert "<script>alert" not in page
        assert "<b>" not in page
