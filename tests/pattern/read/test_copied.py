"""Words that make a part like another are reported, or read as making the whole piece again; never guessed."""

import pytest

from purlwright.pattern.file import read_pattern
from purlwright.pattern.read.context import Context
from purlwright.pattern.read.line import read_line
from purlwright.stitches.load import dictionary
from purlwright.text import Source

CTX = Context(compact=dictionary().compact, yarns=frozenset({"mc", "cc", "a"}))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Shoulders same as back shoulders.", "Shoulders same as back shoulders"),
        ("K4. Knit the other gore to match.", "Knit the other gore to match"),
        ("As row 3, but end with knit 2.", "but end with knit 2"),
        ("Row 6: As row 3 except p the last 2 sts.", "except p the last 2 sts"),
        ("Row 9: Knit the second sleeve.", "Knit the second sleeve"),
    ],
)
def test_a_part_without_rows_is_reported(text, words):
    got = read_line(text, CTX)
    (finding,) = got.findings
    assert finding.code == "not-read"
    assert text[finding.span.start : finding.span.end] == words


@pytest.mark.parametrize(
    "text",
    [
        "Row 4: As row 3 but with A.", "Continue in the same manner to the end.", "Row 2: As row 1.",
        "Row 5: Knit the second half of the stitches.", "Row 5: Knit the first half, turn.",
        "Row 3: K all k sts and p all p sts.", "Knit 12 rows, decreasing 1 at the end of every other.",
        "Row 3: Knit to the last st, do not knit the last st, turn.", "Row 3: Knit, narrowing once at the end.",
    ],
)  # fmt: skip
def test_what_is_told_is_read(text):
    assert not read_line(text, CTX).findings


@pytest.mark.parametrize("words", ["Knit a second piece the same.", "Make another mitten to match."])
def test_another_whole_piece_is_made_twice(words):
    text = f"# Pad\n\n## Side\nCast on 12 sts.\nKnit 9 rows.\nBind off.\n{words}\n"
    pattern = read_pattern(Source(text))
    assert not pattern.findings
    assert [s.copies for s in pattern.sections if s.heading == "Side"] == [2]


def test_an_announced_decrease_works_nothing():
    got = read_line("Knit one round in MC, then begin to decrease.", CTX)
    assert [type(a).__name__ for a in got.actions] == ["WorkRows"]
    assert got.findings == ()
