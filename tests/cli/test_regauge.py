"""`purlwright regauge`: patterns at another gauge, proved; refusals; calls that cannot be followed."""

import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from purlwright.cli import main
from purlwright.sizing.numbers import numbers_in
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
        ("eel-cowl", "28 sts and 33 rows to 10 cm"),
        ("sea-pea-mitten", "31 sts and 33.0 rows to 10 cm"),
        ("little-tern-pullover", "24 sts and 32 rows to 10 cm"),
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
    """At so coarse a gauge no tip of a mitten comes out of its chart's thumb."""
    answer, page, _ = regauge(
        EXAMPLES / "sea-pea-mitten.pattern.md", "--gauge", "22.4 sts and 24 rows to 10 cm"
    )
    assert answer == 1
    assert "No new counts can be offered." in page
    said = " ".join(page.split())
    assert 'come out in "Dec rnd: *K1, ssk, knit to 3 sts before m, k2tog' in said
    assert (
        "At best: Dec rnd wants to stop 3 stitches before the marker, but only 1 is left before it." in said
    )
    assert "At the same counts" in page


def test_a_stitch_pattern_keeps_its_repeat_and_the_piece_takes_more_or_fewer_of_them(regauge):
    answer, text, _ = regauge(
        EXAMPLES / "eel-cowl.pattern.md", "--gauge", "20.8 sts and 24 rows to 10 cm", "--pattern"
    )
    assert answer == 0
    old = (EXAMPLES / "eel-cowl.pattern.md").read_text(encoding="utf-8")
    assert [line for line in text.splitlines() if "*K6, p2" in line] == [
        line for line in old.splitlines() if "*K6, p2" in line
    ]
    assert WorkUp(text).proved().findings == ()


def test_what_the_same_counts_come_to_is_told(regauge):
    """With as many stitches to 10 cm the chest stays, and the sleeve follows the rows."""
    answer, page, _ = regauge(
        EXAMPLES / "little-tern-pullover.pattern.md", "--gauge", "22 sts and 33 rows to 10 cm", "--json"
    )
    assert answer == 0
    done = json.loads(page)
    chest = done["measures"][0]
    assert chest["cm"] == chest["same_counts_cm"]
    assert not any("knit" in s for s in done["said"])
    sleeve = done["measures"][1]
    assert sleeve["same_counts_cm"] == pytest.approx([v * 30 / 33 for v in sleeve["cm"]], abs=0.11)
    assert sleeve["same_counts_in"] == pytest.approx([v / 2.5 for v in sleeve["same_counts_cm"]], abs=0.03)


def test_another_size_at_the_same_counts(regauge, cowl):
    """80, 96 and 116 sts are 40, 48 and 58 cm at 20 to 10 cm; at 24 they are 33.3, 40 and 48.3."""
    cowl.write_text(
        """# Bands
Sizes: small (medium, large)
Finished size: 40 (48, 58) cm round
Gauge: 20 sts and 28 rounds = 10 cm in stockinette stitch, in the round

Cast on 80 (96, 116) sts and join to work in the round.
Rnd 1: *K2, p2; rep from * to end.
Rnds 2-8: As rnd 1.
Knit 40 rnds. (80 (96, 116) sts)
Bind off.
""",
        encoding="utf-8",
    )
    answer, page, _ = regauge(cowl, "--gauge", "24 sts and 28 rounds to 10 cm", "--json")
    assert answer == 0
    done = json.loads(page)
    assert done["measures"][0]["same_counts_cm"] == [33.3, 40.0, 48.3]
    assert any(
        "for small (40 cm) knit medium (40 cm); for medium (48 cm) knit large (48.3 cm)" in s
        for s in done["said"]
    )
    assert done["pattern"].count("96 (116, 140)") == 2


def test_brackets_for_each_marker_are_worked_as_often_as_there_are_markers():
    lines = "Row 1: [Knit to m, m1r, sm] 8 times, knit to end.\n"
    assert numbers_in(lines, {1: 0}, 1) == []
    lines = "Row 1: *K12, pm; rep from * to end.\nRow 2: *K12, p2; rep from * to end.\nRow 3: *K12, k2tog; rep from * to end.\n"
    at = {n: sum(len(x) + 1 for x in lines.split("\n")[: n - 1]) for n in (1, 2, 3)}
    assert [n.line for n in numbers_in(lines, at, 1)] == [1, 3]


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
