"""`purlwright regauge`: patterns at another gauge, proved; refusals; calls that cannot be followed."""

import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from purlwright.cli import main
from purlwright.workup import WorkUp

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
COWL = """# Slipway Cowl
Gauge: 18 sts and 26 rounds = 10 cm in stockinette stitch, in the round

Cast on 96 sts and join to work in the round.
Rnd 1: *K2, p2; rep from * to end.
Rnds 2-8: As rnd 1.
Knit 40 rnds. (96 sts)
Bind off.
"""


@pytest.fixture
def regauge(capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "80")

    def run(*words):
        answer = main(["regauge", *map(str, words)])
        return (answer, *capsys.readouterr())

    return run


@pytest.fixture
def cowl(tmp_path):
    file = tmp_path / "cowl.pattern.md"
    file.write_text(COWL, encoding="utf-8")
    return file


def test_a_cowl_keeps_its_size_and_its_rib_whole(regauge, cowl):
    """96 sts at 18 to 10 cm are 53.3 cm; at 22 that is 117.3, and k2, p2 goes into 116 (arithmetic)."""
    answer, page, _ = regauge(cowl, "--gauge", "22 sts and 30 rounds to 10 cm", "--json")
    assert answer == 0
    done = json.loads(page)
    jsonschema.validate(
        done,
        json.loads(files("purlwright").joinpath("schema", "regauge.schema.json").read_text(encoding="utf-8")),
    )
    assert "Cast on 116 sts" in done["pattern"]
    assert "(116 sts)" in done["pattern"]
    assert "Knit 46 rnds" in done["pattern"]  # 40 * 30 / 26 = 46.2
    assert "22 sts and 30 rounds = 10 cm" in done["pattern"]
    assert done["proof"]["errors"] == 0
    assert cowl.read_text(encoding="utf-8") == COWL


@pytest.mark.parametrize(
    ("name", "gauge"),
    [
        ("skerry-hat", "20 sts and 40 rows to 10 cm"),
        ("harbour-steps-sock", "28 sts and 40 rows to 10 cm"),
        ("stepping-stones-cloth", "22 sts and 46 rows to 10 cm"),
    ],
)
def test_an_example_at_another_gauge_proves_clean_in_every_size_and_option(name, gauge, regauge):
    answer, text, _ = regauge(EXAMPLES / f"{name}.pattern.md", "--gauge", gauge, "--pattern")
    assert answer == 0
    proved = WorkUp(text).proved()
    assert [f.code for f in proved.findings if f.severity.value == "error"] == []
    assert proved.every


def test_the_same_gauge_moves_nothing(regauge):
    file = EXAMPLES / "skerry-hat.pattern.md"
    answer, text, _ = regauge(file, "--gauge", "18 sts and 36 rows to 10 cm", "--pattern")
    assert answer == 0
    assert text == file.read_text(encoding="utf-8")


def test_what_cannot_be_changed_is_refused_at_its_words(regauge):
    answer, page, _ = regauge(EXAMPLES / "eel-cowl.pattern.md", "--gauge", "28 sts and 33 rows to 10 cm")
    assert answer == 1
    assert "No new counts can be offered." in page
    assert "At the same counts" in page


@pytest.mark.parametrize(
    ("text", "gauge", "said"),
    [
        (COWL, "0 sts and 30 rows to 10 cm", "more than 0 stitches"),
        (COWL, "60 sts and 80 rows to 10 cm", "another piece"),
        (COWL, "22 sts to 10 cm", "lacks rows"),
        (COWL.replace("Gauge", "Remark"), "22 sts and 30 rows to 10 cm", "states no gauge"),
        (COWL.replace("96 sts)", "90 sts)"), "22 sts and 30 rows to 10 cm", "has an error"),
    ],
)
def test_what_cannot_be_used_is_answered_with_one_sentence(text, gauge, said, regauge, cowl):
    cowl.write_text(text, encoding="utf-8")
    answer, page, wrong = regauge(cowl, "--gauge", gauge)
    assert (answer, page) == (2, "")
    assert said in wrong


def test_a_gauge_has_to_be_said(regauge, cowl):
    answer, _, wrong = regauge(cowl)
    assert answer == 2
    assert "Say the new gauge" in wrong
