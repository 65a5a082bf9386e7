"""A sheet in the other English: every word tried on the needles before it is printed."""

import re
from pathlib import Path

import pytest

from purlwright.rewrite.compare import difference
from purlwright.sheet.document import Facts, Figure, Glossary, Paragraph, Row, plain
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp, work_up

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.pattern.md"))


def words_of(text: str, **asked) -> list[str]:
    return [plain(b.words) for b in WorkUp(text).sheet(**asked).blocks if isinstance(b, Row)]


@pytest.mark.parametrize("terms", ["US", "UK"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_either_english_knits_to_the_same_fabric(path, terms):
    work = work_up(path.read_text(encoding="utf-8"), path.name)
    again = WorkUp(to_text(work.sheet(terms=terms, follow=False)))
    for mine, its in zip(work.sizes, again.sizes, strict=True):
        assert difference(work.knitted(mine), again.knitted(its)) == ""


def test_trade_words_and_the_header_change():
    document = WorkUp(
        "# A\nGauge: 20 sts = 10 cm in stockinette stitch\n## B\nCast on 9 sts.\nBind off loosely."
    ).sheet(terms="UK")
    facts = [f for b in document.blocks if isinstance(b, Facts) for f in b.facts]
    assert [(f.label, plain(f.words)) for f in facts] == [("Tension", "20 sts = 10 cm in stocking stitch")]
    assert [plain(b.words) for b in document.blocks if isinstance(b, Row)] == [
        "Cast on 9 sts.",
        "Cast off loosely.",
    ]
    assert document.language == "en-GB"


def test_a_yarn_over_is_named_by_what_stands_on_either_side():
    text = "# A\nCast on 12 sts.\nRow 1 (RS): K1, yo, k2tog, p1, yo, p2tog, k1, yo, p2tog, k1, yo, k2tog.\nRow 2: Purl."
    assert (
        words_of(text, terms="UK")[1] == "K1, yfwd, k2tog, p1, yrn, p2tog, k1, yfrn, p2tog, k1, yfwd, k2tog."
    )
    back = text.replace("yo", "yfwd").replace("# A", "# A\nTerms: UK")
    assert words_of(back, terms="US")[1] == "K1, yo, k2tog, p1, yo, p2tog, k1, yo, p2tog, k1, yo, k2tog."


def test_her_explanation_goes_with_the_abbreviation():
    text = "# A\n## Abbreviations\nyo: yarn over.\n## B\nCast on 3 sts.\nRow 1: K1, yo, k2tog.\nBind off."
    (glossary,) = [b for b in WorkUp(text).sheet(terms="UK").blocks if isinstance(b, Glossary)]
    assert ("yfwd", "yarn forward.") in [(t.term, plain(t.meaning)) for t in glossary.terms]


def test_her_own_terms_asked_for_change_nothing():
    text = "# A\nTerms: UK\n## B\nCast on 3 sts.\nCast off."
    assert words_of(text, terms="UK") == words_of(text) == ["Cast on 3 sts.", "Cast off."]


def test_seed_stitch_is_moss_stitch_and_moss_is_double_moss():
    text = "# A\n> In seed stitch, not moss stitch.\n\nCast on 3 sts.\nBind off."
    said = to_text(WorkUp(text).sheet(terms="UK"))
    assert "In moss stitch, not double moss stitch." in said


@pytest.mark.parametrize("units", ["metric", "imperial", "both"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])
def test_other_units_knit_to_the_same_fabric(path, units):
    work = work_up(path.read_text(encoding="utf-8"), path.name)
    again = WorkUp(to_text(work.sheet(units=units, follow=False)))
    for mine, its in zip(work.sizes, again.sizes, strict=True):
        assert difference(work.knitted(mine), again.knitted(its)) == ""


def header(line: str, units: str) -> str:
    document = WorkUp(f"# A\n{line}\n## B\nCast on 3 sts.").sheet(units=units)
    return next(plain(f.words) for b in document.blocks if isinstance(b, Facts) for f in b.facts)


@pytest.mark.parametrize(
    ("line", "units", "said"),
    [
        ("Gauge: 18 sts and 36 rows = 10 cm", "imperial", "18 sts and 36 rows = 10 cm / 4 in"),
        ("Gauge: 18 sts and 36 rows = 4 in", "metric", "18 sts and 36 rows = 4 in / 10 cm"),
        ("Gauge: 18 sts = 10 cm (4 in)", "both", "18 sts = 10 cm (4 in)"),
        ("Finished size: 46.5 (50, 56.5) cm round", "imperial", "18¼ (19¾, 22¼) in round"),
        ("Finished size: 46.5 cm round", "both", "46.5 cm / 18¼ in round"),
        ("Finished size: 1 cm deep", "imperial", "⅜ in deep"),
        ("Finished size: 20 in wide", "metric", "51 cm wide"),
        ('Finished size: 7 1/2" long', "metric", "19 cm long"),
        ("Needles: 4.5 mm circular, 60 cm", "imperial", "4.5 mm (US 7) circular, 24 in"),
        ("Yarn: wool, 200 m per 100 g", "imperial", "wool, 219 yd per 3½ oz"),
        ("Yarn: wool, 200 m per 100 g", "both", "wool, 200 m / 219 yd per 100 g / 3½ oz"),
        ("Finished size: 10 cm", "metric", "10 cm"),
    ],
)
def test_lengths_as_a_ruler_shows_them(line, units, said):
    assert header(line, units) == said


def test_an_instruction_that_would_knit_otherwise_keeps_her_length_beside_the_other():
    text = "# A\nGauge: 20 sts and 33 rows = 10 cm\n## B\nCast on 9 sts.\nKnit every row for 13 cm."
    assert words_of(text, units="imperial")[1] == "Knit every row for 13 cm / 5 in."


def test_the_rounding_is_declared():
    document = WorkUp("# A\nFinished size: 10 cm\n## B\nCast on 3 sts.").sheet(units="imperial")
    said = [plain(b.words) for b in document.blocks if isinstance(b, Paragraph) and not b.hers]
    assert said == [
        "Centimetres are given in inches of 2.54 cm, to the nearest quarter; only in the gauge do 10 cm stand for 4 in."
    ]


@pytest.mark.parametrize(("over", "wide"), [("10 cm", "50 cm"), ("10 cm", "20 in"), ("4 in", "20 in")])
@pytest.mark.parametrize("until", ["until piece measures {}", "70 times"])
@pytest.mark.parametrize("units", ["metric", "imperial", "both"])
def test_one_measure_has_one_figure_on_a_sheet(over, wide, until, units):
    # 100 stitches are 20 in at 20 over 4 in, and 50 cm at 20 over 10 cm; 50 cm are 19.69 in by a ruler.
    text = (
        f"# Mat\nFinished size: {wide} wide\nGauge: 20 sts and 28 rows = {over} in stockinette stitch\n"
        "## Mat\nCast on 100 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\n"
        f"Rep rows 1 and 2 {until.format(wide)}.\nBind off all sts.\n"
    )
    document = WorkUp(text).sheet(units=units)
    header = re.search(r"Finished size: (.*) wide", to_text(document))
    drawn = next(b.said[0] for b in document.blocks if isinstance(b, Figure))
    across = re.search(r": (.*) at the beginning", plain(drawn))
    assert header is not None
    assert across is not None
    assert set(header[1].split(" / ")) == set(across[1].split(" / "))


def test_no_rounding_is_declared_where_no_length_is_changed():
    text = "# A\nFinished size: 10 in\nNeedles: 4 mm\n## B\nCast on 3 sts."
    document = WorkUp(text).sheet(units="imperial")
    assert not [b for b in document.blocks if isinstance(b, Paragraph) and "2.54" in plain(b.words)]
    assert "4 mm (US 6)" in to_text(document)
