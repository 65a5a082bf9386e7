"""`purlwright plan`: pages, JSON, and calls that cannot be followed."""

import json
import re
import shlex
from importlib.resources import files

import jsonschema
import pytest

from purlwright.cli import main
from purlwright.plans.said import EXAMPLES
from purlwright.sizing.starts.kinds import KINDS
from purlwright.terminal.plan_options import PIECES, QUESTIONS
from purlwright.workup import WorkUp

PLAIN, GARTER = "22 sts and 30 rows to 10 cm", "20 sts and 40 rows to 10 cm"


@pytest.fixture
def plan(capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "80")

    def run(*words):
        answer = main(["plan", *words])
        return (answer, *capsys.readouterr())

    return run


def schema():
    return json.loads(files("purlwright").joinpath("schema", "plan.schema.json").read_text(encoding="utf-8"))


def test_every_piece_and_question_has_its_options_and_an_example():
    assert set(PIECES) == set(KINDS)
    assert set(QUESTIONS) == set(EXAMPLES)


@pytest.mark.parametrize("name", list(KINDS))
def test_a_piece_is_proved_clean_and_its_text_alone_is_a_pattern(name, plan):
    gauge = GARTER if KINDS[name].fabric == "garter stitch" else PLAIN
    who = ("--for", "child") if KINDS[name].part == "body" else ()
    answer, page, wrong = plan(name, "--gauge", gauge, *who, "--json")
    assert (answer, wrong) == (0, "")
    done = json.loads(page)
    jsonschema.validate(done, schema())
    assert done["proof"]["clean"]
    assert "about" in done["pattern"].split("Yarn:")[1].split("\n")[0]
    answer, page, _ = plan(name, "--gauge", gauge, *who, "--pattern")
    assert answer == 0
    assert page == done["pattern"]
    assert WorkUp(page).proved().findings == ()


@pytest.mark.parametrize("name", list(EXAMPLES))
def test_every_example_is_answered(name, plan):
    words = shlex.split(EXAMPLES[name])[1:]
    answer, page, wrong = plan(*words)
    assert (answer, wrong) == (0, "")
    assert len(page.splitlines()) > 2
    answer, page, _ = plan(*words, "--json")
    jsonschema.validate(json.loads(page), schema())


def test_the_page_of_a_shaping(plan):
    assert plan("shaping", "--from", "44", "--to", "60", "--rows", "42", "--right-side") == (
        0,
        """\
From 44 to 60 sts over 42 rows

Inc 1 st at each end of every 6th row 5 times, then of every 4th row 3 times.

No other rows are more even: two gaps differ by one step at most.
""",
        "",
    )


def test_counts_that_cannot_be_met_say_what_to_give_up(plan):
    answer, page, _ = plan(
        "counts", "--want", "front: 50; 8 plus 0", "--want", "back: 50; 8 plus 1", "--rule", "front = back"
    )
    assert answer == 1
    assert "This cannot be met." in page
    assert "missed by 1" in page


def test_one_list_of_all_plans(plan):
    answer, page, _ = plan()
    assert answer == 0
    assert all(f"plan {name}" in page for name in (*KINDS, *EXAMPLES))


def test_a_table_of_ones_own(plan, tmp_path):
    table = tmp_path / "bodies.csv"
    table.write_text("size,head (in)\nMina,20\nOskar,22.5\n", encoding="utf-8")
    answer, page, _ = plan("hat", "--gauge", PLAIN, "--bodies", str(table), "--json")
    assert answer == 0
    done = json.loads(page)
    assert done["sizes"] == ["Mina", "Oskar"]
    assert done["measures"][0]["wanted_cm"] == [45.7, 51.4]  # 20 and 22.5 in, less a tenth


def test_a_gauge_in_inches_gives_a_pattern_in_inches(plan):
    answer, page, _ = plan(
        "hat", "--gauge", "18 sts and 26 rows to 4 in", "--to-fit", "20 (22) in", "--pattern"
    )
    assert answer == 0
    assert "To fit: head about 20 (22) in round" in page
    assert "Finished size: 18¼ (20) in round" in page
    assert "26 rounds = 4 inches in stockinette stitch" in page
    assert " cm" not in page
    assert WorkUp(page).proved().findings == ()


def test_a_knitter_is_told_how_long_a_piece_is_after_many_plain_rows(plan):
    _, page, _ = plan("drop-shoulder", "--gauge", PLAIN, "--for", "child 2, child 4", "--pattern")
    assert re.search(
        r"^> The back measures about [\d.]+ \([\d.]+\) cm from the cast-on edge.$", page, re.MULTILINE
    )
    assert re.search(r"^> The sleeve measures about .* cm from the cast-on edge.$", page, re.MULTILINE)


NONSENSE = [
    (("hat",), "Give the gauge of your swatch"),
    (("hat", "--gauge", "0 sts and 30 rows to 10 cm"), "more than 0 stitches"),
    (("hat", "--gauge", "22 sts to 10 cm"), "lacks rows"),
    (("hat", "--gauge", "200 sts and 300 rows to 10 cm"), "cannot be knitted by hand"),
    (("hat", "--gauge", "22 sts and 120 rows to 10 cm"), "far from square"),
    (("hat", "--gauge", PLAIN, "--ease", "-90 %"), "beyond reason"),
    (("raglan", "--gauge", PLAIN, "--ease", "900 cm"), "takes a length or a share|beyond reason"),
    (("hat", "--gauge", PLAIN, "--to-fit", "56 (50) cm"), "from small to large"),
    (("hat", "--gauge", PLAIN, "--to-fit", "560 cm"), "no circumference that the tables know"),
    (("hat", "--gauge", PLAIN, "--for", "elephant"), "There is no head called"),
    (("raglan", "--gauge", PLAIN, "--for", "woman 9X"), "There is no size"),
    (("raglan", "--gauge", PLAIN, "--sizes", "S, M"), "names 2 sizes, and there are 9"),
    (("hat", "--gauge", PLAIN, "--length", "2 cm"), "higher than the whole hat"),
    (("round-mat", "--gauge", PLAIN, "--across", "1 cm"), "make it larger"),
    (("round-mat", "--gauge", PLAIN, "--fabric", "felt"), "cannot be planned in"),
    (("counts", "--want", "back: 40; 100 plus 2"), "wider than the whole"),
    (("counts", "--want", "back: many"), "give the gauge too"),
    (("counts", "--want", "back: 40 cm"), "give the gauge too"),
    (("counts", "--want", "back: 40", "--rule", "front = back"), 'speaks of "front"'),
    (("shaping", "--from", "60", "--to", "44", "--rows", "6"), "do not fit into 6 rows"),
    (("shaping", "--from", "60", "--to", "45", "--rows", "60"), "both edges"),
    (("evenly", "--decrease", "40", "--stitches", "74"), "do not fit"),
    (("buttonholes", "--many", "30", "--stitches", "40"), "do not fit"),
    (("buttonholes", "--many", "3"), "Give --stitches too"),
    (("heel", "--stitches", "61"), "cannot be halved"),
    (("hat", "--gauge", PLAIN, "--many", "3"), "means nothing to plan hat"),
    (("hatt",), "did you mean"),
    (("hat", "--gauge", PLAIN, "--needle", "four"), "takes a size in mm"),
]


@pytest.mark.parametrize(
    ("words", "said"), NONSENSE, ids=lambda v: " ".join(v) if isinstance(v, tuple) else None
)
def test_nonsense_is_answered_with_one_clear_sentence(words, said, plan):
    answer, page, wrong = plan(*words)
    assert (answer, page) == (2, "")
    assert wrong.count("\n") == 1
    assert re.search(said, wrong)
    assert "fault" not in wrong


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("size\n", "needs a line of headings"),
        ("size,head\nA,x\n", "is no length"),
        ("size,head\nA,50,51\n", "3 entries stand under 2 headings"),
        ("size,head\nB,60\nA,50\n", "from small to large"),
        ("size,foot\nB,22\n", "no circumference is known"),
    ],
)
def test_a_table_that_cannot_be_used_says_why(text, said, plan, tmp_path):
    table = tmp_path / "bodies.csv"
    table.write_text(text, encoding="utf-8")
    answer, _, wrong = plan("hat", "--gauge", PLAIN, "--bodies", str(table))
    assert answer == 2
    assert said in wrong


def test_a_size_of_a_garment_is_no_size_of_a_sock(plan):
    answer, _, wrong = plan("sock", "--gauge", "30 sts and 42 rows to 10 cm", "--for", "woman M")
    assert answer == 2
    assert 'Write "woman" for all of them, or "woman US shoe 3-6 / sock 7-9".' in " ".join(wrong.split())
    answer, _, wrong = plan("mitten", "--gauge", "28 sts and 38 rows to 10 cm", "--for", "woman L")
    assert 'There is one hand for woman: write "woman".' in wrong
    answer, _, wrong = plan("mitten", "--gauge", "28 sts and 38 rows to 10 cm", "--for", "seal")
    assert answer == 2
    assert 'no hand called "seal"; there are' in wrong
    assert len(wrong) < 150
