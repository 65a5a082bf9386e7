"""`purlwright cloth`: size, shape and yarn of a pattern, pictures of it, and what is refused."""

import json
import re
from importlib.resources import files
from xml.etree import ElementTree as ET

import jsonschema
import pytest

from purlwright.cli import main
from purlwright.workup import WorkUp

STRIP = """\
# Kelp Strip
Yarn: MC, wool, 4 Medium, 100 m per 50 g; about 60 m
Gauge: 20 sts and 30 rows = 10 cm in stockinette stitch
Cast on 40 sts.
Row 1 (RS): Knit.
Row 2 (WS): Purl.
Rep rows 1 and 2 29 times more.
Bind off.
"""
TWO = """\
# Kelp Bands
Yarn: A, peat wool, 4 Medium, 100 m per 50 g; about 30 m
    B, foam wool, 4 Medium, 100 m per 50 g; about 30 m
Gauge: 20 sts and 30 rows = 10 cm in stockinette stitch
Cast on 20 sts with A.
Row 1 (RS): With A, knit.
Row 2: With A, purl.
Row 3: With B, knit.
Row 4: With B, purl.
Bind off with B.
"""


@pytest.fixture
def cloth(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.chdir(tmp_path)

    def run(*words, text=STRIP):
        (tmp_path / "strip.pattern.md").write_text(text, encoding="utf-8")
        answer = main(["cloth", "strip.pattern.md", *words])
        return (answer, *capsys.readouterr())

    return run


@pytest.fixture
def told(cloth):
    def run(*words, text=STRIP):
        answer, out, err = cloth("--json", *words, text=text)
        assert (answer, err) == (0, "")
        got = json.loads(out)
        schema = files("purlwright").joinpath("schema/cloth.schema.json").read_text(encoding="utf-8")
        jsonschema.validate(got, json.loads(schema))
        return got

    return run


def figures(got):
    return {f["of"]: f["mm"] for piece in got["pieces"] for f in piece["figures"]}


def test_a_strip_is_its_stitches_and_rows_at_the_gauge(told):
    """40 stitches at 20 to 10 cm are 20 cm, and 60 rows at 30 are 20 cm; 2 % for the pull of the cloth."""
    got = told()
    assert figures(got)["width"] == pytest.approx(200, rel=0.02)
    assert figures(got)["length"] == pytest.approx(200, rel=0.02)
    assert got["pieces"][0]["lies"] == "flat"
    assert got["pieces"][0]["area_mm2"] == pytest.approx(40_000, rel=0.03)


SIZED = STRIP.replace("# Kelp Strip\n", "# Kelp Strip\nSizes: small (large)\n").replace(
    "Cast on 40 sts.", "Cast on 40 (50) sts."
)


def test_a_square_is_as_long_as_its_rows_not_as_its_stitches():
    text = (
        "# Tile\nGauge: 20 sts and 28 rows = 10 cm in stockinette stitch\nFinished size: 20 cm wide and 20 cm long\n\n"
        "Cast on 40 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 26 times more.\nBind off.\n"
    )
    sides = [(one.made_of, one.sizes[0].ours_cm) for one in WorkUp(text).beside()]
    assert [made for made, _ in sides] == ["40 sts", "the rows of the piece"]
    assert float(sides[1][1]) == pytest.approx(54 / 2.8, abs=0.01)
    turned = WorkUp(text.replace("# Tile", "# Tile knitted sideways"))
    assert [one.made_of for one in turned.beside()][1] == "the stitches, knitted sideways"


def test_what_is_stated_stands_beside_what_is_knitted_in_every_size(told):
    """Arithmetic: 40 and 50 sts at 20 to 10 cm are 20 and 25 cm; 60 rows at 30 to 10 cm are 20 cm."""
    text = SIZED.replace("Gauge:", "Finished size: 20 (25.5) cm wide and 21 cm long\nGauge:", 1)
    done = told(text=text)
    wide, long = done["measures"]
    assert [(s["size"], s["stated_mm"], s["ours_mm"]) for s in wide["sizes"]] == [
        ("small", 200, 200), ("large", 255, 250),
    ]  # fmt: skip
    assert wide["made_of"].startswith("40 (50) sts")
    assert [(s["stated_mm"], s["ours_mm"]) for s in long["sizes"]] == [(210, 200), (210, 200)]


def test_a_stated_width_that_nothing_makes_is_not_made_to_fit(told):
    done = told(text=SIZED.replace("Gauge:", "Finished size: 200 (300) cm across the top edge\nGauge:", 1))
    assert all(s["ours_mm"] is None or s["ours_mm"] < 400 for m in done["measures"] for s in m["sizes"])


def test_gauges_that_contradict_each_other_are_told(told):
    two = "Gauge: 20 sts and 30 rows = 10 cm in stockinette stitch"
    done = told(text=STRIP.replace(two, f"{two}\nGauge: 24 sts and 34 rows = 10 cm in stockinette stitch"))
    (said,) = [c for c in done["stated"] if c["check"] == "C055"]
    assert (said["result"], said["line"]) == ("fails", 4)
    assert "20" in said["words"][0]
    assert "24" in said["words"][0]


def test_every_measure_has_room_either_way(told):
    for piece in told()["pieces"]:
        assert all(f["least"] < f["mm"] < f["most"] for f in piece["figures"])


def test_the_yarn_is_told_in_metres_grams_and_balls_with_what_it_goes_into(told):
    (yarn,) = told()["yarns"]
    assert yarn["name"] == "MC"
    assert yarn["grams"] == pytest.approx(yarn["metres"] / 2, abs=0.1)
    assert yarn["metres_least"] < yarn["metres"] < yarn["metres_most"]
    assert yarn["balls"] == 1
    assert sum(p["metres"] for p in yarn["parts"]) == pytest.approx(yarn["metres"], abs=0.1)


def test_the_yarn_gone_grows_from_row_to_row_to_all_of_it(told):
    gone = [row["gone"] for row in told()["rows"]]
    assert gone == sorted(gone)
    assert gone[-1] == 1
    half = next(row for row in told()["rows"] if row["gone"] >= 0.5)
    assert half["time"] in {15, 16}


def test_what_is_still_needed_falls_to_nothing(told):
    need = [row["grams_needed"][0] for row in told()["rows"]]
    assert need == sorted(need, reverse=True)
    assert need[-1] == 0


def test_so_much_yarn_left_is_enough_from_some_row_on(told):
    got = told("--yarn-left", "MC: 5 g")
    (left,) = got["left"]
    assert left["metres"] == pytest.approx(10)
    row = next(r for r in got["rows"] if r["order"] == left["enough_after"])
    assert row["metres_needed"][0] <= 10
    before = next(r for r in got["rows"] if r["order"] == left["enough_after"] - 1)
    assert before["metres_needed"][0] > 10
    assert left["one_more"] == "yes"


def test_too_little_is_not_enough_for_one_more_repeat(told):
    (left,) = told("--yarn-left", "0.5 m")["left"]
    assert left["one_more"] == "no"


@pytest.mark.parametrize("words", ["much", "12", "-3 g", "nan g", "B: 3 g"])
def test_an_amount_that_is_none_is_refused(cloth, words):
    answer, out, err = cloth("--yarn-left", words)
    assert (answer, out) == (2, "")
    assert "--yarn-left" in err or 'No yarn is called "B"' in err


def test_of_several_yarns_it_must_be_said_which_is_left(cloth, told):
    answer, _, err = cloth("--yarn-left", "3 g", text=TWO)
    assert answer == 2
    assert "say which is left" in err
    assert told("--yarn-left", "B: 3 g", text=TWO)["left"][0]["yarn"] == "B"


def test_a_page_for_a_person_says_each_thing_once(cloth):
    answer, out, err = cloth("--yarn-left", "5 g", "--by-row")
    assert (answer, err) == (0, "")
    assert re.search(r"width +20 cm +19.5 to 20.5", out)
    assert "It lies flat." in out
    assert re.search(r"MC: \d+ m \(\d+ to \d+\), \d+ g \(\d+ to \d+\), 1 ball", out)
    assert "With 5 g of MC left" in out
    assert "Stated" in out
    assert "strip.cloth.svg" in out
    assert out.count("bind-off") >= 1


def test_the_picture_stands_beside_the_pattern_and_is_well_formed(cloth, tmp_path):
    cloth()
    svg = (tmp_path / "strip.cloth.svg").read_text(encoding="utf-8")
    root = ET.fromstring(svg)  # noqa: S314 - our own
    assert root.find("{http://www.w3.org/2000/svg}title").text == "Kelp Strip"
    assert "<script" not in svg


def test_every_form_begins_as_its_standard_has_it(cloth, tmp_path):
    assert cloth("--as", "svg,png,glb")[0] == 0
    assert (tmp_path / "strip.cloth.png").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    assert (tmp_path / "strip.cloth.glb").read_bytes()[:4] == b"glTF"


def test_rows_are_shown_loop_by_loop_from_either_side(cloth, tmp_path):
    assert cloth("--rows", "1-2")[0] == 0
    assert cloth("--rows", "1-2", "--seen-from", "wrong")[0] == 0
    right = (tmp_path / "strip.rows-1-2.svg").read_text(encoding="utf-8")
    wrong = (tmp_path / "strip.rows-1-2-wrong-side.svg").read_text(encoding="utf-8")
    assert "The right side" in right
    assert "The wrong side" in wrong


def test_the_whole_cloth_is_shown_from_its_wrong_side(cloth, tmp_path):
    assert cloth()[0] == cloth("--seen-from", "wrong")[0] == 0
    right = (tmp_path / "strip.cloth.svg").read_text(encoding="utf-8")
    wrong = (tmp_path / "strip.cloth-wrong-side.svg").read_text(encoding="utf-8")
    assert "The wrong side, each stitch" in wrong
    assert right != wrong


def test_an_outline_has_its_measures_with_their_ranges(cloth, tmp_path):
    assert cloth("--outlines")[0] == 0
    svg = (tmp_path / "strip.outline.svg").read_text(encoding="utf-8")
    assert "Outline of Kelp Strip, pinned out" in svg
    assert re.search(r"width: [\d.]+ cm \([\d.]+ to [\d.]+\)", svg)
    answer, _, err = cloth("--outlines", text="# Bit\nCast on 12 sts.\nKnit 8 rows.\nBind off.\n")
    assert answer == 2
    assert "nothing can be drawn to scale" in err


def test_of_wide_rows_some_columns_are_shown(cloth, tmp_path):
    assert cloth("--rows", "1-2", "--columns", "1-6")[0] == 0
    assert cloth("--rows", "1-2")[0] == 0
    few = (tmp_path / "strip.rows-1-2-sts-1-6.svg").read_text(encoding="utf-8")
    whole = (tmp_path / "strip.rows-1-2.svg").read_text(encoding="utf-8")
    assert "stitches 1-6 from the right edge" in few
    width = [float(re.search(r'width="([\d.]+)mm"', text)[1]) for text in (few, whole)]
    assert width[0] < 0.3 * width[1]
    answer, _, err = cloth("--columns", "1-6")
    assert answer == 2
    assert "say which rows" in err
    answer, _, err = cloth("--rows", "1-2", "--columns", "900-901")
    assert answer == 2
    assert "No such rows" in err


def test_a_file_that_was_not_written_by_purlwright_is_left_alone(cloth, tmp_path):
    (tmp_path / "strip.cloth.svg").write_text("my own", encoding="utf-8")
    answer, _, err = cloth()
    assert answer == 2
    assert "strip.cloth.svg" in err
    assert (tmp_path / "strip.cloth.svg").read_text(encoding="utf-8") == "my own"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--rows", "70-80"], "No such rows"),
        (["--section", "Sleeve"], "No such rows"),
        (["--seen-from", "wrong", "--as", "glb"], "turned about in its viewer"),
        (["--outlines", "--rows", "1-2"], "whole pieces"),
        (["--outlines", "--as", "glb"], "svg or png"),
        (["--as", "pdf"], "svg, png or glb"),
        (["--size", "XL"], "no size"),
    ],
)
def test_what_cannot_be_done_is_said(cloth, words, said):
    answer, out, err = cloth(*words)
    assert (answer, out) == (2, "")
    assert said in err


def test_without_a_gauge_or_yarn_only_proportions_are_told(cloth):
    answer, out, _ = cloth(text="# Bit\nCast on 12 sts.\nKnit 8 rows.\nBind off.\n")
    assert answer == 0
    assert "only proportions are told" in out
    assert re.search(r"width +100% of the largest measure", out)
    assert " cm " not in out


def test_nothing_knitted_is_said(cloth):
    answer, _, err = cloth(text="# Bit\n\nA note.\n")
    assert answer == 2
    assert "Nothing is knitted" in err


def test_an_error_in_the_pattern_is_the_answer_though_the_cloth_is_told(cloth):
    answer, out, _ = cloth(text=STRIP.replace("Row 2 (WS): Purl.", "Row 2 (WS): Purl. (44 sts)"))
    assert answer == 1
    assert "1 error" in out
