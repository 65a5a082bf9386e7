"""`purlwright where` and `purlwright rescue`: the pages, JSON, the letter, questions, and calls that cannot be followed."""

import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from purlwright.cli import main
from purlwright.rescue.observe import Facts
from purlwright.rescue.questions import QUESTIONS
from purlwright.rescues import answer_of
from purlwright.terminal.ask import interview
from purlwright.terminal.look import Look

SHAWL = str(next((Path(__file__).resolve().parents[2] / "examples").glob("gannet*")))
WRECK = "# Wreck\nCast on 24 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: *K3, p1; rep from * to end.\nRow 4: *K1, p4; rep from * to end.\nRow 5: Knit.\n"


@pytest.fixture
def run(capsys, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "80")

    def call(*words):
        return (main(list(words)), *capsys.readouterr())

    return call


def held(name, text):
    got = json.loads(text)
    schema = json.loads(
        files("purlwright").joinpath(f"schema/{name}.schema.json").read_text(encoding="utf-8")
    )
    jsonschema.validate(got, schema)
    return got


def test_the_row_is_named(run, snapshot):
    code, out, err = run("where", SHAWL, "--sts", "77", "--side", "WS")
    assert (code, err) == (0, "")
    assert out == snapshot


def test_the_rows_it_could_be_and_what_to_look_at(run, snapshot):
    code, out, err = run("where", SHAWL, "--side", "WS", "--since", "hole=0", "--sure", "90")
    assert (code, err) == (0, "")
    assert out == snapshot


def test_a_count_that_cannot_be(run, snapshot):
    assert run("where", SHAWL, "--sts", "78")[1] == snapshot


def test_where_as_json(run):
    got = held("where", run("where", SHAWL, "--sts", "77", "--json")[1])
    assert [r["row"] for r in got["rows"]] == [41, 42]
    assert got["next"]["fact"] == "side"
    assert got["leaves"] == [{"answer": "RS", "rows": [42]}, {"answer": "WS", "rows": [41]}]


def test_in_mid_row(run):
    got = held("where", run("where", SHAWL, "--left", "40", "--right", "37", "--json")[1])
    assert [(r["row"], r["worked"]) for r in got["rows"]] == [(42, 37)]


def test_what_went_wrong(run, snapshot):
    code, out, err = run(
        "rescue", SHAWL, "--sts", "76", "--odd", "ladder", "--down", "1", "--row", "42", "--side", "rs"
    )
    assert (code, err) == (0, "")
    assert out == snapshot


def test_nothing_said_yet(run, snapshot):
    assert run("rescue", SHAWL)[1] == snapshot


def test_rescue_as_json(run):
    got = held(
        "rescue",
        run("rescue", SHAWL, "--sts", "76", "--odd", "ladder", "--down", "1", "--row", "42", "--json")[1],
    )
    first = got["found"][0]
    assert (first["code"], first["made_in"]["row"], first["now"]["row"]) == ("E16", 41, 42)
    assert [c["stitches"] for c in first["cures"]] == [77, 77, 73]


def test_no_cure_beside_a_count_that_cannot_be(run):
    cowl = SHAWL.replace("gannet-shawl", "eel-cowl")
    page = run("rescue", cowl, "--sts", "83")[1]
    assert "This cannot be: 83 stitches on the needle; 108 can. Count again in tens." in page
    assert "What mends it" not in page
    assert "in 100" not in page  # nor any guess that so little bears
    got = held("rescue", run("rescue", cowl, "--sts", "83", "--json")[1])
    assert got["clash"]
    assert not any(d["cures"] for d in got["found"])


def test_nothing_is_undone_for_the_first_of_many(run):
    page = run("rescue", SHAWL, "--sts", "76")[1]
    assert "The likeliest of many" in page
    assert "Undo nothing yet" in page
    assert "What mends it" not in page


def test_a_place_lost_has_its_row(run):
    got = held("rescue", run("rescue", SHAWL, "--sts", "76", "--json")[1])
    lost = [d["did"] for d in got["found"] if d["code"] == "E01"]
    assert lost
    assert all("only the place was lost, after Row " in did for did in lost)
    page = run("rescue", SHAWL, "--sts", "77", "--side", "WS")[1]
    assert "only the place was lost, after Row 3 of Wings, the 5th time\n(row 41 from the cast-on)." in page


def test_two_mistakes_have_their_rows_once(run):
    said = (
        "--sts",
        "78",
        "--between",
        "3,37,1,34,3",
        "--side",
        "RS",
        "--odd",
        "ladder",
        "--down",
        "1",
        "--row",
        "42",
    )
    got = held("rescue", run("rescue", SHAWL, *said, "--json")[1])
    two = next(d for d in got["found"] if "+" in d["code"])
    assert two["made_in"] is None
    assert two["did"].count("row 41 from the cast-on") == 2
    page = " ".join(run("rescue", SHAWL, *said)[1].split())
    assert page.count(two["did"][1:]) == 1
    assert f"{two['did'][1:]}." in page


def test_a_pattern_at_fault(run, tmp_path, snapshot):
    path = tmp_path / "wreck.pattern.md"
    path.write_text(WRECK, encoding="utf-8")
    code, out, _ = run("rescue", str(path), "--sts", "24", "--over", "4", "--row", "3")
    assert code == 1
    assert out == snapshot


def test_the_letter_goes_out_and_comes_back(run, tmp_path):
    said = ("--sts", "76", "--between", "3,35,1,34,3", "--odd", "ladder", "--short", "1", "--ridges", "20,20")
    code, letter, _ = run("rescue", SHAWL, *said, "--letter")
    assert code == 0
    path = tmp_path / "letter.txt"
    path.write_text(letter, encoding="utf-8")
    assert run("rescue", SHAWL, "--facts", str(path)) == run("rescue", SHAWL, *said)


def test_the_letter_brings_its_size_and_choices(run, tmp_path):
    hat = SHAWL.replace("gannet-shawl", "skerry-hat")
    said = ("--sts", "46", "--unworked", "8", "--size", "adult", "--option", "turns=double stitch")
    letter = run("rescue", hat, *said, "--letter")[1]
    path = tmp_path / "letter.txt"
    path.write_text(letter, encoding="utf-8")
    got = held("rescue", run("rescue", hat, "--facts", str(path), "--json")[1])
    assert (got["size"], got["options"]) == ("adult", {"turns": "double stitch"})
    other = held("rescue", run("rescue", hat, "--facts", str(path), "--size", "child", "--json")[1])
    assert other["size"] == "child"


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("where", SHAWL, "--sts", "many"), '--sts takes a whole number; "many" is not that.'),
        (("where", SHAWL, "--since", "snow=2"), "--since takes hole, decrease, increase, crossing or stripe"),
        (("where", SHAWL, "--ridges", "2"), "--ridges takes two numbers"),
        (("rescue", SHAWL, "--odd", "blue"), "--odd takes one of: nothing, hole"),
        (("rescue", SHAWL, "--odd", "l"), "--odd takes one of: nothing, hole"),
        (("where", SHAWL, "--over", "2"), "--over means nothing to where; it takes --size "),
        (("where", SHAWL, "--size", "XXL"), 'There is no size "XXL"'),
        (("where",), "where takes one file"),
        (("rescue", SHAWL, "--letter", "--json"), "leave out --json"),
        (("rescue", SHAWL, "--facts", SHAWL), "This is no letter"),
    ],
)  # fmt: skip
def test_calls_that_cannot_be_followed(run, words, says):
    code, out, err = run(*words)
    assert (code, out) == (2, "")
    assert says in err


def test_a_pattern_in_which_nothing_is_knitted(run, tmp_path):
    path = tmp_path / "empty.pattern.md"
    path.write_text("# Nothing\n", encoding="utf-8")
    assert run("where", str(path))[0] == 2
    assert run("rescue", str(path), "--sts", "3")[0] == 2


# --- questions ---------------------------------------------------------------------------------------


def talk(answers, order=("sts", "odd", "ridges", "off", "side")):
    rest, written = list(answers), []

    def read(_):
        if not rest:
            raise EOFError
        return rest.pop(0)

    def following(_, asked):
        return QUESTIONS[order[len(asked)]] if len(asked) < len(order) else None

    facts, asked = interview(following, answer_of, Facts(), Look(), written.append, read)
    return facts, asked, "".join(written)


def test_questions_and_answers():
    facts, asked, _ = talk(["76", "ladder, 2", "?", "-1", "ws"])
    assert facts == Facts(sts=76, odd="ladder", down=2, off=-1, side="WS")
    assert asked == ("sts", "odd", "ridges", "off", "side")


def test_an_answer_that_is_not_understood_is_asked_again():
    facts, _, written = talk(["lots", "76", "q"])
    assert facts == Facts(sts=76)
    assert 'The answer takes a whole number; "lots" is not that.' in written


def test_the_questions_end_with_the_input():
    assert talk([])[0] == Facts()


@pytest.mark.parametrize("question", QUESTIONS.values(), ids=lambda q: q.name)
def test_every_question_can_be_passed_over(question):
    assert answer_of(question, " ? ") == {}
    assert answer_of(question, "") == {}
