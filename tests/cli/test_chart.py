"""`purlwright chart`: which files are written, what is in them, and what is refused."""

import io
import json
from importlib.resources import files
from xml.etree import ElementTree as ET

import jsonschema
import pytest
from PIL import Image
from pypdf import PdfReader

from purlwright.cli import main

SHAWL = """\
# Tern Lace
Sizes: small (large)
Cast on 27 (43) sts.

## Feathers
Row 1 (RS): K2, *yo, k2, sk2p, k2, yo, k1; rep from * to last st, k1.
Row 2 (WS): Purl.
Rep rows 1 and 2 nine times more.

## Edge
Rows 1-4: Knit.
Bind off.
"""


@pytest.fixture
def chart(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.chdir(tmp_path)

    def run(*words, text=SHAWL):
        (tmp_path / "shawl.pattern.md").write_text(text, encoding="utf-8")
        answer = main(["chart", "shawl.pattern.md", *words])
        return (answer, *capsys.readouterr())

    return run


def test_the_files_are_named_and_written_beside_the_pattern(chart, tmp_path):
    answer, out, err = chart()
    assert (answer, err) == (0, "")
    assert out == (
        "Tern Lace (size small)\n\n"
        "Feathers  2 rows of 11 squares, 8 of them a repeat, 3 times\n"
        "  shawl.chart-feathers.svg  picture in shapes\n"
        "  shawl.chart-feathers.pdf  print, A4\n"
        "These rows are worked 10 times.\n"
    )
    assert {p.name for p in tmp_path.iterdir()} == {
        "shawl.pattern.md", "shawl.chart-feathers.svg", "shawl.chart-feathers.pdf",
    }  # fmt: skip


def test_every_form_can_be_read(chart, tmp_path):
    assert chart("--as", "svg,png,pdf", "--size", "large", "--out", "new")[0] == 0
    base = tmp_path / "new" / "shawl.large.chart-feathers"
    svg = ET.fromstring(base.with_suffix(".chart-feathers.svg").read_text(encoding="utf-8"))  # noqa: S314
    assert svg.find("{http://www.w3.org/2000/svg}title").text == "Feathers"
    assert "[yo, k2, sk2p, k2, yo, k1] 5 times" in svg.find("{http://www.w3.org/2000/svg}desc").text
    png = Image.open(io.BytesIO(base.with_suffix(".chart-feathers.png").read_bytes()))
    png.load()
    assert png.size[0] > 500
    reader = PdfReader(base.with_suffix(".chart-feathers.pdf"))
    assert len(reader.pages) == 1
    assert reader.metadata.title == "Feathers"
    assert "k on RS, p on WS" in reader.pages[0].extract_text()
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]


def test_a_chart_larger_than_a_page_has_a_page_for_each_part_and_the_key(chart, tmp_path):
    wide = (
        SHAWL.replace("27 (43)", "140 (143)")
        .replace(
            "*yo, k2, sk2p, k2, yo, k1; rep from * to last st, k1",
            "yo, k2tog, k to last 3 sts, k2tog, yo, k1",
        )
        .replace("K2, ", "K1, p50, ", 1)
    )
    answer, _, err = chart("--section", "Feathers", "--as", "pdf", text=wide)
    assert (answer, err) == (0, "")
    pages = PdfReader(tmp_path / "shawl.chart-feathers.pdf").pages
    text = " ".join(page.extract_text() for page in pages)
    assert len(pages) > 2
    assert "Part 2 of 3" in text
    assert "yarn over" in text


def test_rows_and_words_are_printed_when_asked_for(chart):
    answer, out, _ = chart("--rows", "1-2", "--words", "--terms", "uk", "--as", "svg")
    assert answer == 0
    assert "Feathers, rows 1 to 2" in out
    assert "Row 1 (RS): K2, [yo, k2, sk2p, k2, yo, k1] 3 times, k1." in out or "[yfwd" in out


def test_the_answer_as_json_keeps_to_its_schema(chart):
    _, out, _ = chart("--json", "--as", "svg", "--counts", "--left-handed")
    got = json.loads(out)
    schema = json.loads(files("purlwright").joinpath("schema/chart.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(got, schema)
    (one,) = got["charts"]
    assert (one["columns"], one["repeats"]) == (11, [{"column": 3, "width": 8, "times": 3}])
    assert one["rows"][1]["side"] == "WS"
    assert {s["line"] for s in one["rows"][0]["squares"]} == {6}
    assert {k["sign"]: k["rs"] for k in one["key"]}["over"] == "yo"


def test_a_file_of_hers_is_never_replaced_and_one_of_ours_is(chart, tmp_path):
    assert chart("--as", "svg,png,pdf")[0] == 0
    assert chart("--as", "svg,png,pdf")[0] == 0
    hers = tmp_path / "shawl.chart-feathers.svg"
    hers.write_text("<svg/>", encoding="utf-8")
    answer, out, err = chart()
    assert (answer, out) == (2, "")
    assert "is not a file that Purlwright wrote" in err
    assert hers.read_text(encoding="utf-8") == "<svg/>"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--section", "Yoke"), 'There is no section "Yoke" with rows in it; there are "Feathers", "Edge"'),
        (("--rows", "7-9"), "There are no rows 7 to 9"),
        (("--rows", "9-7"), "--rows begins with the lower number: --rows 7-9."),
        (("--rows", "one"), "--rows takes one number or two"),
        (("--as", "html"), '--as takes svg, png or pdf; "html" is not that.'),
        (("--as", ","), "--as takes one or more of svg, png, pdf"),
        (("--section", " "), "--section takes the heading of a section"),
        (("--size", "tiny"), 'There is no size "tiny"'),
        (("--brief",), "--brief means nothing to chart; it takes --size"),
    ],
)
def test_what_cannot_be_drawn_is_said_in_one_sentence(chart, tmp_path, words, said):
    answer, out, err = chart(*words)
    assert (answer, out) == (2, "")
    assert err.startswith(f"purlwright: {said}")
    assert [p.name for p in tmp_path.iterdir()] == ["shawl.pattern.md"]


def test_a_pattern_of_plain_rows_says_why_there_is_no_chart(chart):
    answer, _, err = chart(text="# Plain\nCast on 20 sts.\nKnit 20 rows.\nBind off.\n")
    assert answer == 2
    assert "--section NAME charts a section all the same" in err


def test_errors_are_told_and_the_chart_is_drawn_all_the_same(chart):
    answer, out, _ = chart("--as", "svg", text=SHAWL.replace("Purl.", "Purl. (28 (44) sts)", 1))
    assert answer == 1
    assert "The pattern has 1 error in this size" in out


def test_names_with_markup_or_other_letters_are_printed_as_they_are(chart, tmp_path):
    odd = SHAWL.replace("## Feathers", "## <b>Fédérs</b> & #1 עלה $x$")
    answer, out, _ = chart("--as", "svg,pdf", text=odd)
    assert answer == 0
    assert "<b>Fédérs</b> & #1" in out
    (svg,) = tmp_path.glob("*.svg")
    assert "<b>" not in svg.read_text(encoding="utf-8")
