"""`purlwright gauge`: the page, JSON, and calls that cannot be followed."""

import json
from importlib.resources import files

import jsonschema
import pytest

from purlwright.cli import main


@pytest.fixture
def gauge(capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "80")

    def run(*words):
        answer = main(["gauge", *words])
        return (answer, *capsys.readouterr())

    return run


def test_the_page(gauge):
    assert gauge(
        "22 sts and 30 rows to 10 cm", "--width", "45 cm", "--multiple", "4n+2", "--rows", "64", "--mine",
        "20 sts and 28 rows to 4 in",
    ) == (
        0,
        """\
Gauge  22 sts and 30 rows to 10 cm
  22 sts (21.5 to 22.5) and 30 rows (29.5 to 30.5) to 10 cm (4 in)
Your gauge  20 sts and 28 rows to 4 in
  20 sts (19.5 to 20.5) and 28 rows (27.5 to 28.5) to 10 cm (4 in)

Along row ends, pick up 3 sts for every 4 rows.
A circle lies flat if it grows by 4.6 sts a round.

45 cm wide
  98 sts: 44.5 cm / 17½ in (43.6 to 45.6 cm); or 102 sts: 46.4 cm / 18¼ in
  at your gauge 98 sts come to 49.0 cm / 19¼ in (47.8 to 50.3 cm)
  for the same width work 90 sts

64 rows
  21.3 cm / 8½ in (21.0 to 21.7 cm)
  at your gauge 64 rows come to 22.9 cm / 9 in (22.5 to 23.3 cm)
  for the same length work 60 rows

You have 2 sts fewer in 10 cm: try thinner needles. One size changes about half
a stitch to a stitch (common practice, no source).
""",
        "",
    )  # fmt: skip


def test_a_swatch_before_and_after_washing(gauge):
    answer, page, _ = gauge(
        "--swatch", "28 sts = 12.4 cm, 40 rows = 13.2 cm", "--washed", "28 sts = 12.8 cm, 40 rows = 13.1 cm"
    )
    assert answer == 0
    assert "22 sts (21.5 to 22.2) and 30½ rows (30.1 to 31.0) to 10 cm" in page
    assert "washing made it 3.2 % wider and 0.8 % shorter" in page


def test_json_is_as_the_schema_says(gauge):
    answer, page, _ = gauge("20 sts to 10 cm", "--width", "18 in", "--mine", "21 sts to 10 cm", "--json")
    got = json.loads(page)
    text = files("purlwright").joinpath("schema/gauge.schema.json").read_text(encoding="utf-8")
    jsonschema.validate(got, json.loads(text))
    assert answer == 0
    assert (got["answers"][0]["count"], got["answers"][0]["yours"]["count"]) == (90, 95)
    assert got["pick_up"] is got["gauge"]["rows"] is None


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "Give a gauge"),
        (["wool"], 'A gauge is written like "22 sts and 30 rows to 10 cm"'),
        (["22 sts to 10 cm", "--rows", "64"], "counts no rows"),
        (["22 sts to 10 cm", "--rows", "2-4"], "--rows takes one number"),
        (["22 sts to 10 cm", "--width", "45"], "--width takes a length with its unit"),
        (["22 sts to 10 cm", "--stitches", "-3"], "--stitches takes a whole number"),
        (["22 sts to 10 cm", "--stitches", "2", "--seam", "2"], "nothing but the 2 stitches of the seams"),
        (["22 sts to 10 cm", "--multiple", "x", "--width", "4 cm"], "--multiple is written like"),
        (["22 sts to 10 cm", "24 sts to 10 cm"], "one gauge in quotes"),
        (["22 sts to 10 cm", "--mine", "20 sts to 10 cm", "--swatch", "28 sts = 12 cm"], "not both"),
        (["22 sts to 10 cm", "--size", "M"], "--size means nothing to gauge"),
        (["--swatch", "28 sts = 1 mm"], "measured over too little"),
    ],
)
def test_a_call_that_cannot_be_followed_says_how(gauge, words, said):
    answer, page, complaint = gauge(*words)
    assert (answer, page) == (2, "")
    assert said in complaint
    assert complaint.count("\n") == 1
