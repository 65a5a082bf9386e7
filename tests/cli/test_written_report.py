"""`purlwright proof --report --as`: the editor's report in files, and what is refused."""

import json

import pytest

from purlwright.cli import main
from tagged_pdf import opened

RIGHT = "# Tern Mat\nCast on 12 sts.\nRow 1: Knit.\nRow 2: Knit. (12 sts)\nBind off.\n"
WRONG = RIGHT.replace("(12 sts)", "(13 sts)")


@pytest.fixture
def proof(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.chdir(tmp_path)

    def run(*words, text=RIGHT):
        (tmp_path / "mat.pattern.md").write_text(text, encoding="utf-8")
        answer = main(["proof", "mat.pattern.md", *words])
        return (answer, *capsys.readouterr())

    return run


def test_the_report_is_written_beside_the_pattern(proof, tmp_path):
    answer, out, err = proof("--report", "--as", "pdf,html")
    assert (answer, err) == (0, "")
    assert out == (
        "Editor's report on Tern Mat\n\n  mat.report.pdf   print, A4\n  mat.report.html  web page\n"
    )
    pdf = opened((tmp_path / "mat.report.pdf").read_bytes())
    assert pdf.title == "Editor's report on Tern Mat"
    assert "Nothing was found to put right." in pdf.document.said
    assert "Nothing was found to put right." in (tmp_path / "mat.report.html").read_text(encoding="utf-8")


def test_an_error_in_the_pattern_is_in_the_answer_and_in_the_report(proof, tmp_path):
    answer, out, _ = proof("--report", "--as", "letter", "--out", "to send", text=WRONG)
    assert answer == 1
    assert out.endswith("The pattern has 1 error; the report says where.\n")
    said = opened((tmp_path / "to send" / "mat.report.letter.pdf").read_bytes()).document.said
    assert "says 13 stitches; knitting it gives 12" in said


def test_the_files_are_told_as_json(proof):
    answer, out, _ = proof("--report", "--as", "large", "--json", text=WRONG)
    told = json.loads(out)
    assert (answer, told["errors"], told["said"]) == (1, 1, [])
    assert [(f["kind"], f["file"]) for f in told["files"]] == [("large", "mat.report.large-print.pdf")]


def test_a_file_of_hers_is_not_replaced(proof, tmp_path):
    (tmp_path / "mat.report.html").write_text("mine", encoding="utf-8")
    answer, _, err = proof("--report", "--as", "pdf,html")
    assert answer == 2
    assert "is not a file that Purlwright wrote" in err
    assert not (tmp_path / "mat.report.pdf").exists()


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (("--as", "pdf"), "the report alone is written to files"),
        (("--report", "--out", "x"), "the report alone is written to files"),
        (("--report", "--as", "follow"), "--as takes pdf, letter, large or html"),
        (("--report", "--as", "pdf", "mat.pattern.md"), "name one file"),
    ],
)
def test_what_does_not_go_together_is_refused(proof, words, complaint):
    answer, out, err = proof(*words)
    assert (answer, out) == (2, "")
    assert complaint in err


def test_a_folder_is_refused(tmp_path, capsys):
    assert main(["proof", str(tmp_path), "--report", "--as", "pdf"]) == 2
    assert "not a folder" in capsys.readouterr().err
