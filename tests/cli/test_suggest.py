"""`purlwright suggest`: the page, the text for one size, JSON, and when it has nothing to say."""

import json

import pytest

from purlwright.cli import main

GULL = """\
# Gull Panel
Sizes: S (M)
Cast on 20 (24) sts.
Row 1 (RS): Knit.
Row 2: Purl.
Rep rows 1 and 2 three times more.
Bind off all sts.
"""


@pytest.fixture
def suggest(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "80")

    def run(text, *words):
        path = tmp_path / "a.pattern.md"
        path.write_text(text, encoding="utf-8")
        answer = main(["suggest", str(path), *words])
        assert path.read_text(encoding="utf-8") == text
        return (answer, *capsys.readouterr())

    return run


def test_the_page(suggest):
    assert suggest(GULL) == (
        0,
        """\
Gull Panel

Line 6: Times in all, and rows (knitted both ways in 2 sizes or choices, the
same).
  - Rep rows 1 and 2 three times more.
  + Rep rows 1 and 2 three times more.
  + > 4 times in all, 8 rows.

1 suggestion; your file is as it was.
""",
        "",
    )


def test_one_size_is_printed_as_a_pattern(suggest):
    answer, page, _ = suggest(GULL, "--size", "m")
    assert answer == 0
    assert page == GULL.replace("S (M)", "M").replace("20 (24)", "24")


def test_json(suggest):
    answer, page, _ = suggest(GULL, "--json")
    (one,) = json.loads(page)["suggestions"]
    assert answer == 0
    assert one == {
        "kind": "repeats",
        "title": "Times in all, and rows",
        "line": 6,
        "end_line": 6,
        "before": ["Rep rows 1 and 2 three times more."],
        "after": ["Rep rows 1 and 2 three times more.", "> 4 times in all, 8 rows."],
        "ways": 2,
        "refused": None,
    }


@pytest.mark.parametrize(
    ("text", "words", "complaint"),
    [
        (GULL.replace("Knit.", "K3."), [], "The pattern has"),
        ("# A\nCast on 4 sts.\nBind off.\n", ["--size", "one size"], "the pattern has one size"),
        (GULL, ["--size", "L"], 'There is no size "L"'),
    ],
)
def test_when_there_is_nothing_to_say(suggest, text, words, complaint):
    answer, page, said = suggest(text, *words)
    assert (answer, page) == (2, "")
    assert complaint in said


def test_a_pattern_that_needs_no_other_words(suggest):
    assert suggest("# A\nCast on 4 sts.\nBind off.\n")[1] == "A\n\nNothing to suggest.\n"


def test_a_refusal_is_told_with_its_reason(suggest):
    text = (
        "# Vest\n## Left front\nCast on 20 sts.\nRow 1 (RS): Kfb, knit to end. (21 sts)\nRow 2: Purl.\nBind off.\n"
        "## Right front\nWork as for left front, reversing shaping.\n"
    )
    assert 'not offered, for line 4 of the other half: "kfb"' in " ".join(suggest(text)[1].split())
