"""`purlwright lesson`: which files are written, what is in them, and what is refused."""

import io
import json
import re
from importlib.resources import files

import jsonschema
import pytest
from PIL import Image
from pypdf import PdfReader

from purlwright.cli import main

SCARF = """\
# Ferry Scarf
Yarn: wool, 4 Medium, 200 m per 100 g; about 40 m
Needles: 4.5 mm
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch, after washing

## Abbreviations
k: knit.
k2tog: knit 2 together.
ssk: slip 2 stitches knitwise one at a time, knit them together through the back loops.
yo: yarn over.

## Sail
Cast on 11 sts.
Row 1 (RS): K2, k2tog, yo, k3, yo, ssk, k2.
Row 2 (WS): Purl.
Rep rows 1 and 2 four times more. (11 sts)
Bind off.
"""


@pytest.fixture
def lesson(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.chdir(tmp_path)

    def run(*words, text=SCARF):
        (tmp_path / "scarf.pattern.md").write_text(text, encoding="utf-8")
        answer = main(["lesson", "scarf.pattern.md", *words])
        return (answer, *capsys.readouterr())

    return run


def test_the_pack_is_written_as_print_and_as_a_page(lesson, tmp_path):
    answer, out, err = lesson("--minutes", "30", "--pace", "12", "--learners", "6")
    assert (answer, err) == (0, "")
    assert out == (
        "Ferry Scarf (size one size)\n\n"
        "  scarf.lesson.pdf   print, A4\n"
        "  scarf.lesson.html  web page, with each row stitch by stitch\n"
    )
    pages = PdfReader(tmp_path / "scarf.lesson.pdf").pages
    said = " ".join(" ".join(page.extract_text().split()) for page in pages)
    for words in (
        "New moves, in order", "How the time is spent", "Stages to have ready", "Checkpoints: if you see this, then",
        "Practice piece", "Find the mistake", "Class kit", "Captions for filming", "Answers", "6 learners",
        "12 plain stitches a minute",
    ):  # fmt: skip
        assert words in said
    page = (tmp_path / "scarf.lesson.html").read_text(encoding="utf-8")
    assert page.count('<details class="played"') == 3  # two rows and the bind-off
    assert "Content-Security-Policy" in page


def test_a_row_is_written_as_frames_and_captions_for_a_film(lesson, tmp_path):
    answer, out, _ = lesson("--play", "row 1")
    assert answer == 0
    assert out.count(".png") == 12  # before the row, and eleven steps: 2 + k2tog + yo + 3 + yo + ssk + 2
    made = sorted(tmp_path.glob("scarf.row-1.frame-*.png"))
    assert len(made) == 12
    assert Image.open(io.BytesIO(made[0].read_bytes())).size == (1280, 720)
    vtt = (tmp_path / "scarf.row-1.vtt").read_text(encoding="utf-8")
    assert vtt.startswith("WEBVTT\n\nNOTE ")
    times = re.findall(r"^(\d\d:\d\d:\d\d\.\d{3}) --> (\d\d:\d\d:\d\d\.\d{3})$", vtt, re.MULTILINE)
    assert len(times) == 12
    assert [a for a, _ in times[1:]] == [b for _, b in times[:-1]]
    assert "Yarn over: 1 new loop lies on the right needle; none leaves the left." in vtt


def test_what_was_written_can_be_written_again_and_nothing_else_is_replaced(lesson, tmp_path):
    assert lesson("--play", "Row 2")[0] == 0
    assert lesson("--play", "Row 2")[0] == 0
    (tmp_path / "scarf.row-2.vtt").write_text("WEBVTT\n", encoding="utf-8")
    answer, out, err = lesson("--play", "Row 2")
    assert (answer, out) == (2, "")
    assert "is not a file that Purlwright wrote" in err


def test_the_answer_for_programs_keeps_its_contract(lesson):
    answer, out, _ = lesson("--json", "--as", "html")
    schema = files("purlwright").joinpath("schema/lesson.schema.json").read_text(encoding="utf-8")
    got = json.loads(out)
    jsonschema.validate(got, json.loads(schema))
    assert answer == 0
    assert [f["kind"] for f in got["files"]] == ["html"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--play", "Row 9"], 'No row is called "Row 9"; the ledger lists their names.'),
        (["--pace", "0"], '--pace takes a whole number from 1 to 999; "0" is not that.'),
        (["--as", "svg"], '--as takes pdf, letter or html; "svg" is not that.'),
        (["--as", "pdf", "--play", "Row 1"], '--as takes frames or vtt; "pdf" is not that.'),
        (["--section", "Sail"], "--section of a lesson says where the row of --play stands"),
    ],
)
def test_what_cannot_be_made_is_said(lesson, words, said):
    answer, out, err = lesson(*words)
    assert (answer, out) == (2, "")
    assert said in err


def test_a_pattern_with_errors_has_no_lesson(lesson):
    answer, out, err = lesson(
        text=SCARF.replace("K2, k2tog, yo, k3, yo, ssk, k2.", "K2, k2tog, yo, k3, yo, k2.")
    )
    assert (answer, out) == (1, "")
    assert "a lesson would teach" in err


def test_a_pattern_without_a_gauge_or_a_name_has_one_all_the_same(lesson, tmp_path):
    bare = "Cast on 8 sts.\nRow 1: Knit.\nRow 2: Purl.\nRow 3: Knit.\nBind off.\n"
    answer, _, err = lesson("--as", "html", text=bare)
    assert (answer, err) == (0, "")
    page = (tmp_path / "scarf.lesson.html").read_text(encoding="utf-8")
    assert "the pattern has no gauge to reckon from" in page
