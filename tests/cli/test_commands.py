"""The commands as a person or a program calls them, on patterns from Skerry Bay."""

import json
import subprocess
import sys

import jsonschema
import pytest

from purlwright import wire
from purlwright.cli import main
from purlwright.proof.catalogue import CATALOGUE
from purlwright.proof.registry import ABOVE, JUDGES

GOOD = """\
# Gull Coaster
Cast on 12 sts.
Row 1 (RS): Knit.
Row 2 (WS): Purl.
Row 3: K2tog, knit to last 2 sts, ssk. (10 sts)
Row 4: Purl.
Bind off all sts.
"""

FAULTY = GOOD.replace("Row 4: Purl.", "Row 4: [p3, k1] 2 times.")

SIZED = """\
# Gull Cuff
Sizes: child (adult, large)
Options: edge = plain (usual), ribbed

Cast on 24 (28, 33) sts.
Row 1 (RS): *K2, p2; rep from * to end.
plain only: Row 2 (WS): Purl.
ribbed only: Row 2 (WS): *K2, p2; rep from * to end.
Bind off all sts.
"""


@pytest.fixture
def run(capsys, tmp_path):
    """Write a pattern, run a command on it, and hand back the code and what was printed."""

    def call(command, text, *options):
        path = tmp_path / "a.pattern.md"
        path.write_text(text, encoding="utf-8")
        code = main([command, str(path), *options])
        out, err = capsys.readouterr()
        assert "Traceback" not in err
        assert "purlwright-fault" not in err
        return code, out

    return call


def answer(out, name):
    got = json.loads(out)
    jsonschema.validate(got, json.loads(wire.schema(name)))
    return got


def test_a_good_pattern_is_proved(run):
    code, out = run("proof", GOOD)
    assert code == 0
    assert out.splitlines()[0] == "Gull Coaster"
    assert out.splitlines()[-1] == "The pattern can be knitted as written."


def test_its_ledger_balances_in_every_row(run):
    code, out = run("ledger", GOOD, "--json")
    assert code == 0
    got = answer(out, "ledger")
    rows = got["pieces"][0]["rows"]
    assert [row["end"] for row in rows] == [12, 12, 12, 10, 10, 0]
    assert [row["kind"] for row in rows] == ["cast-on", "row", "row", "row", "row", "bind-off"]
    for row in rows:
        assert row["end"] == row["start"] + row["made"] - row["lost"] - row["held"] + row["returned"]
    assert got["pieces"][0]["bound_off"] == 10
    assert got["pieces"][0]["live"] == 0


def test_the_ledger_page_lists_every_row(run):
    code, out = run("ledger", GOOD)
    assert code == 0
    assert [line.split()[:2] for line in out.splitlines() if line.startswith("  Row")] == [
        ["Row", str(n)] for n in range(1, 5)
    ]


def test_a_fault_is_shown_at_its_words_and_answers_one(run):
    code, out = run("proof", FAULTY)
    assert code == 1
    assert "(count-differs)" in out
    assert "6 | Row 4: [p3, k1] 2 times." in out
    assert "^" in out
    assert out.splitlines()[-1] == "The pattern cannot be knitted as written: see line 6."
    assert run("ledger", FAULTY)[0] == 1


def test_strict_lets_a_warning_count(run):
    text = GOOD.replace("Row 4: Purl.", "Row 5: Purl.")
    assert run("proof", text)[0] == 0
    assert run("proof", text, "--strict")[0] == 1


def test_every_size_and_option_is_knitted_for_a_proof(run):
    code, out = run("proof", SIZED, "--json")
    assert code == 1
    got = answer(out, "proof")
    assert got["size"] == "child"
    assert got["options"] == {"edge": "plain"}
    assert got["knitted"] == {
        "sizes": ["child", "adult", "large"],
        "options": {"edge": ["plain", "ribbed"]},
        "ways": 6,
        "every": True,
    }
    assert len(got["checks"]) == 129
    checks = {c["check"]: c for c in got["checks"]}
    assert checks["C007"]["result"] == "fails"
    uneven = [f for f in got["findings"] if f["check"] == "C007"]
    assert {tuple(f["sizes"]) for f in uneven} == {("large",)}
    assert {f["line"] for f in uneven} >= {6}


def test_one_size_or_one_option_can_be_named(run):
    assert run("proof", SIZED, "--size", "Adult")[0] == 0
    assert run("proof", SIZED, "--size", "large")[0] == 1
    assert run("proof", SIZED, "--size", "all")[0] == 1
    _, out = run("ledger", SIZED, "--size", "adult", "--option", "edge=ribbed", "--json")
    got = answer(out, "ledger")
    assert (got["size"], got["options"]) == ("adult", {"edge": "ribbed"})
    assert got["pieces"][0]["rows"][0]["end"] == 28


def test_all_sizes_of_a_ledger_stand_in_a_list(run):
    _, out = run("ledger", SIZED, "--size", "all", "--json")
    got = answer(out, "ledger")
    assert [one["size"] for one in got["sizes"]] == ["child", "adult", "large"]
    assert [one["pieces"][0]["rows"][0]["end"] for one in got["sizes"]] == [24, 28, 33]


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--size", "XXL"), 'There is no size "XXL"; the sizes are "child", "adult" and "large".'),
        (("--option", "hem=folded"), 'There is no option "hem"; the option is "edge".'),
        (
            ("--option", "edge=lace"),
            'The option "edge" has no value "lace"; its values are "plain" and "ribbed".',
        ),
    ],
)
def test_a_size_or_option_that_is_not_there(capsys, tmp_path, options, said):
    path = tmp_path / "a.pattern.md"
    path.write_text(SIZED, encoding="utf-8")
    assert main(["ledger", str(path), *options]) == 2
    assert capsys.readouterr().err == f"purlwright: {said}\n"


def test_several_files_and_folders(capsys, tmp_path):
    (tmp_path / "sub").mkdir()
    for name, text in (("b.pattern.md", GOOD), ("sub/c.pattern.md", FAULTY), ("notes.md", "k2")):
        (tmp_path / name).write_text(text, encoding="utf-8")
    assert main(["proof", str(tmp_path), "--json"]) == 1
    got = answer(capsys.readouterr().out, "proof")
    assert [one["file"].rpartition("/")[2] for one in got["patterns"]] == ["b.pattern.md", "c.pattern.md"]
    assert main(["proof", str(tmp_path / "b.pattern.md"), str(tmp_path / "gone.md")]) == 2
    out, err = capsys.readouterr()
    assert "can be knitted as written" in out
    assert "There is no file" in err


def test_a_pattern_on_standard_input():
    done = subprocess.run(
        [sys.executable, "-m", "purlwright", "proof", "-", "--json"],
        input=GOOD.encode(),
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0
    assert json.loads(done.stdout)["title"] == "Gull Coaster"


def test_utf8_goes_out_whatever_the_console_says(tmp_path):
    path = tmp_path / "a.pattern.md"
    path.write_text(GOOD.replace("Gull", "Måge"), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "purlwright", "ledger", str(path)],
        env={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "LC_ALL": "C"},
        capture_output=True,
        check=False,
    )
    assert done.returncode == 0
    assert done.stdout.decode("utf-8").startswith("Måge Coaster")


@pytest.mark.parametrize(
    "text", ["\ufeff# A\n", "#", "k2", "# \x1b[2J\nCast on 4 sts.\n", "((((", "*" * 4000, "Row 1: " * 999]
)
@pytest.mark.parametrize("command", ["ledger", "proof"])
def test_odd_texts_are_answered(run, command, text):
    code, out = run(command, text)
    assert code in {0, 1}
    assert "\x1b" not in out
    code, out = run(command, text, "--json")
    answer(out, command)


def test_explain(capsys):
    assert main(["explain", "count-differs"]) == 0
    out = capsys.readouterr().out
    assert out.startswith("count-differs\n")
    assert "Example:" in out
    assert "Cure:" in out
    assert main(["explain", "c001"]) == 0
    assert "count-differs" in capsys.readouterr().out
    for check in [c for c, e in CATALOGUE.items() if c not in {*JUDGES, *ABOVE} and e.needs != "a person"][
        :1
    ]:
        assert main(["explain", check]) == 0
        assert "does not make this check yet" in capsys.readouterr().out
    assert main(["explain"]) == 0
    assert "count-differs" in capsys.readouterr().out
    assert main(["explain", "count-difers"]) == 2
    assert capsys.readouterr().err.endswith('did you mean "count-differs"?\n')
    assert main(["explain", "--json", "C001"]) == 0
    got = answer(capsys.readouterr().out, "explain")
    assert got["checks"][0]["check"] == "C001"
    assert "count-differs" in {page["code"] for page in got["pages"]}


def test_a_mistake_at_the_needles_is_explained_for_programs_too(capsys):
    assert main(["explain", "--json", "E16", "odd"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [m["title"] for m in told["mistakes"]] == ["E16: dropped stitch", "odd: what may look odd"]
    assert "slipped off the needle" in told["mistakes"][0]["paragraphs"][0]
