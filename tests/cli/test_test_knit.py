"""`purlwright test-knit`: the pack that goes out, and the forms that come back."""

import json
from importlib.resources import files

import jsonschema
import pytest
from pypdf import PdfReader

from purlwright.cli import main

SCARF = """# Eddy Scarf
Sizes: short (long)
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch

## Strip
Cast on 20 (24) sts.
Row 1 (RS): Knit.
Row 2 (WS): Purl.
Rep rows 1-2 10 times more.
Bind off.
"""


@pytest.fixture
def test_knit(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "scarf.pattern.md").write_text(SCARF, encoding="utf-8")

    def call(*words):
        answer = main(["test-knit", "scarf.pattern.md", *words])
        out, err = capsys.readouterr()
        return answer, out, err

    return call


def test_the_pack_is_sheet_log_and_form(test_knit, tmp_path):
    answer, out, err = test_knit("--size", "long")
    assert (answer, err) == (0, "")
    for name in ("sheet.pdf", "log.pdf", "form.txt"):
        assert f"scarf.long.test-knit.{name}" in out
    log = "".join(page.extract_text() for page in PdfReader(tmp_path / "scarf.long.test-knit.log.pdf").pages)
    assert "Test knit: Eddy Scarf" in log
    assert "24" not in log, "what is expected is not told"
    sheet = PdfReader(tmp_path / "scarf.long.test-knit.sheet.pdf").pages[0].extract_text()
    assert "24 sts" in sheet.replace("\xa0", " ")


def test_a_form_that_was_filled_in_is_not_written_over(test_knit, tmp_path):
    assert test_knit()[0] == 0
    assert test_knit()[0] == 0, "an untouched form is written again"
    form = tmp_path / "scarf.short.test-knit.form.txt"
    form.write_text(form.read_text(encoding="utf-8").replace("Length:", "Length: 8"), encoding="utf-8")
    answer, _, err = test_knit()
    assert answer == 2
    assert "is there already" in err
    assert "Length: 8" in form.read_text(encoding="utf-8")


def test_answers_are_judged_in_the_size_of_the_form(test_knit, tmp_path):
    test_knit("--size", "long")
    form = tmp_path / "scarf.long.test-knit.form.txt"
    text = form.read_text(encoding="utf-8")
    text = text.replace("the 11th time):", "the 11th time): 25").replace(
        "the finished piece, washed:", "the finished piece, washed: 20", 1
    )
    form.write_text(text, encoding="utf-8")
    answer, out, err = test_knit("--answers", form.name)
    assert (answer, err) == (0, "")
    assert "(size long)" in out
    assert "25 instead of 24 [her knitting]" in out
    assert "Gauge  1 of 1 as expected" in out
    assert out.endswith("Nothing here points at the pattern.\n")


def test_the_answer_for_programs_keeps_its_contract(test_knit, tmp_path):
    schema = json.loads(
        files("purlwright").joinpath("schema/test-knit.schema.json").read_text(encoding="utf-8")
    )
    _, out, _ = test_knit("--json")
    jsonschema.validate(json.loads(out), schema)
    form = tmp_path / "scarf.short.test-knit.form.txt"
    form.write_text(form.read_text(encoding="utf-8").replace("Length:", "Length: 80 cm"), encoding="utf-8")
    _, out, _ = test_knit("--json", "--answers", form.name)
    told = json.loads(out)
    jsonschema.validate(told, schema)
    assert [x["whose"] for x in told["lines"]] == ["open"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--answers", "none.txt"], 'There is no file "none.txt"'),
        (["--answers", "scarf.pattern.md"], "This is no form of a test knit"),
        (["--answers", "x", "--out", "y"], "--answers writes no files"),
        (["--size", "vast"], "vast"),
    ],
)
def test_what_cannot_be_done_is_said(test_knit, words, said):
    answer, _, err = test_knit(*words)
    assert answer == 2
    assert said in err


def test_a_pattern_with_errors_is_not_sent_out(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "bad.pattern.md").write_text("# A\nCast on 9 sts.\nRow 1: K10.\n", encoding="utf-8")
    assert main(["test-knit", "bad.pattern.md"]) == 1
    assert "errors" in capsys.readouterr().err
