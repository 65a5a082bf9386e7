"""`purlwright clues`: what is told of each section, in words and as JSON, and what is refused."""

import json
from importlib.resources import files

import jsonschema
import pytest

from purlwright.cli import main

SCARF = """\
# Ferry Scarf
Sizes: narrow (wide)
Cast on 9 (13) sts.

## Sail
Row 1 (RS): K2, yo, k to last 2 sts, yo, k2.
Row 2 (WS): Purl.
Rep rows 1 and 2 four times more.

## Edge
Rows 1-4: Knit.
Bind off.
"""


@pytest.fixture
def clues(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.chdir(tmp_path)

    def run(*words, text=SCARF):
        (tmp_path / "scarf.pattern.md").write_text(text, encoding="utf-8")
        answer = main(["clues", "scarf.pattern.md", *words])
        return (answer, *capsys.readouterr())

    return run


def test_each_section_has_its_clues_with_the_rows_they_hold_for(clues):
    answer, out, err = clues()
    assert (answer, err) == (0, "")
    assert out.startswith("Ferry Scarf (size narrow)\n\n── Sail, 10 rows ")
    assert "* Only right-side rows have holes." in out
    assert "── Edge, 4 rows" in out
    assert "* Every two rows make one ridge: 2 ridges in all in this part, 4 rows." in out
    assert out.count("* ") <= 6


def test_one_section_and_every_clue(clues):
    answer, out, _ = clues("--section", "sail", "--all", "--size", "wide")
    assert answer == 0
    assert "Edge" not in out
    assert "You can never have an even number of stitches here." in out
    assert "19 stitches: you have just finished row 1 for the 3rd time or the row after it." in out
    assert "K04: about" in out


def test_the_answer_for_programs_keeps_its_contract(clues):
    answer, out, _ = clues("--json")
    got = json.loads(out)
    schema = files("purlwright").joinpath("schema/clues.schema.json").read_text(encoding="utf-8")
    jsonschema.validate(got, json.loads(schema))
    assert answer == 0
    assert [p["name"] for p in got["parts"]] == ["Sail", "Edge"]
    assert [p["row_count"] for p in got["parts"]] == [10, 4]
    assert all(c["chosen"] for p in got["parts"] for c in p["clues"])


def test_a_section_that_is_not_there_is_said_with_those_that_are(clues):
    answer, out, err = clues("--section", "Heel")
    assert (answer, out) == (2, "")
    assert err == 'purlwright: No section with rows is called "Heel"; there are "Sail", "Edge".\n'


def test_rows_that_were_not_read_have_no_clue_and_the_page_says_why(clues):
    answer, out, _ = clues(text=SCARF.replace("Row 2 (WS): Purl.", "Row 2 (WS): Purl to the frobnicate."))
    assert answer == 1
    assert "No clue is told: some of its rows could not be followed stitch by stitch." in out
    assert out.endswith("The pattern has errors; clues of its rows may be as wrong as they are.\n")


def test_a_pattern_without_rows_has_none(clues):
    answer, out, _ = clues(text="# Nothing yet\nCast on 9 sts.\n")
    assert answer in {0, 1}
    assert "No rows were knitted." in out
