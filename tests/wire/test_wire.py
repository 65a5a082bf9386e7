"""The JSON contract: names, order, nulls, and a schema that is current and true."""

import json
from importlib.resources import files

import jsonschema
import pytest

from handmade import Wrong, finding, flap, ledger, piece
from purlwright import wire
from purlwright.findings import Edit, Finding, Fix, Related, Result, Severity, Verdict
from purlwright.text import NOWHERE, Source, Span
from purlwright.workup import WorkUp

KNITTED = wire.KnittedOut(sizes=["one size"], options={}, ways=1, every=True)


def committed(name):
    return json.loads(files("purlwright").joinpath(f"schema/{name}.schema.json").read_text(encoding="utf-8"))


def sent(answer, name):
    """The answer as another program gets it, held against the committed schema."""
    raw = wire.encode(answer)
    raw.decode("utf-8")
    got = json.loads(raw)
    jsonschema.validate(got, committed(name))
    return got


@pytest.mark.parametrize("name", sorted(wire.SCHEMAS))
def test_the_committed_schema_is_current(name):
    assert committed(name) == json.loads(wire.schema(name))
    jsonschema.Draft202012Validator.check_schema(committed(name))


def test_no_schema_is_left_over():
    names = {path.name for path in files("purlwright").joinpath("schema").iterdir()}
    assert names == {f"{name}.schema.json" for name in (*wire.SCHEMAS, "bench")}


def test_a_ledger_has_the_fields_of_the_contract_in_their_order():
    source, book = flap()
    got = sent(wire.ledger_out(source, "Tern Flap", book, [finding(source, "Purl.")]), "ledger")
    assert list(got) == ["title", "size", "options", "pieces", "findings"]
    assert list(got["pieces"][0]) == ["name", "rows", "bound_off", "live"]
    assert got["pieces"][0]["rows"][3] == {
        "order": 4, "number": 3, "kind": "row", "label": "Row 3", "section": "Tern Flap", "pass": 1, "side": "RS",
        "start": 20, "worked": 20, "unworked": 0, "made": 0, "lost": 1, "held": 0, "returned": 0, "end": 19,
        "gaps": [], "line": 5,
    }  # fmt: skip
    assert list(got["pieces"][0]["rows"][3]) == (
        "order number kind label section pass side start worked unworked made lost held returned end gaps line".split()
    )
    assert got["findings"] == [
        {
            "code": "count-differs", "check": "C001", "severity": "error",
            "line": 4, "column": 13, "end_line": 4, "end_column": 18,
            "message": "Row 5 uses 20 of the 24 stitches on the needle.",
            "help": "Work 4 more stitches, or repeat 6 times.", "sizes": [], "options": {}, "related": [], "fix": None,
        }
    ]  # fmt: skip
    assert list(got["findings"][0]) == (
        "code check severity line column end_line end_column message help sizes options related fix".split()
    )


def test_kind_side_number_gaps_and_copies():
    strap = piece(
        "Strap", "Cast on | | +8", "Row 1 | RS | 2left 2gap", "Row 2 | | copied", "Bind off | WS | -8"
    )
    rows = sent(wire.ledger_out(Source(""), "", ledger(strap), []), "ledger")["pieces"][0]["rows"]
    assert [row["kind"] for row in rows] == ["cast-on", "row", "row", "bind-off"]
    assert [row["side"] for row in rows] == [None, "RS", None, "WS"]
    assert [row["number"] for row in rows] == [None, 1, 2, None]
    assert rows[1]["gaps"] == [{"from_right_rs": 2, "turned_on": 2}]
    assert rows[2]["as"] == {"label": "Row 1", "line": 2}
    assert list(rows[2])[-1] == "as"
    assert "as" not in rows[1]


def test_all_sizes_stand_in_a_list():
    source, book = flap()
    one = wire.ledger_out(source, "Tern Flap", book, [])
    got = sent(wire.LedgersOut(sizes=[one, one]), "ledger")
    assert list(got) == ["sizes"]
    assert len(got["sizes"]) == 2


def test_a_finding_with_everything_and_one_that_stands_nowhere():
    source = Source("Row 1: K2,\nk9 𝕜2.\n")
    span = Span(source.text.index("K2"), source.text.index("."))
    full = Finding(
        problem=Wrong(severity=Severity.WARNING),
        span=span,
        related=(Related(Span(0, 5), "here"),),
        fix=Fix(title="Put it right", edits=(Edit(Span(7, 9), "k4"),), safe=True),
        sizes=("M",),
        options=(("turns", "wrapped"),),
    )
    nowhere = Finding(problem=Wrong(check=None, cure=None), span=NOWHERE)
    got = sent(wire.ledger_out(source, "", ledger(), [full, nowhere]), "ledger")["findings"]
    # columns count code points, so the letter outside the basic plane counts one
    assert [got[0][k] for k in ("line", "column", "end_line", "end_column")] == [1, 8, 2, 6]
    assert got[0]["sizes"] == ["M"]
    assert got[0]["options"] == {"turns": "wrapped"}
    assert got[0]["related"] == [{"line": 1, "column": 1, "end_line": 1, "end_column": 6, "words": "here"}]
    assert got[0]["fix"] == {
        "title": "Put it right",
        "edits": [{"line": 1, "column": 8, "end_line": 1, "end_column": 10, "words": "k4"}],
        "safe": True,
    }
    assert [got[1][k] for k in ("line", "column", "end_line", "end_column", "help", "check")] == [None] * 6


def test_a_repair_names_its_finding_and_the_words_to_put():
    work = WorkUp("# Mat\nCast on 24 sts.\nRow 1 (RS): [K3, p1 6 times.\nRow 2 (WS): Purl.\nBind off.\n")
    proved = work.proved()
    book = proved.knitted[0].ledger
    got = sent(
        wire.proof_out(
            work.source, work.title, book, proved.findings, proved.verdicts, KNITTED, repairs=work.repairs()
        ),
        "proof",
    )
    (repair,) = got["repairs"]
    (fix,) = repair["fixes"]
    (edit,) = fix["edits"]
    assert (repair["code"], repair["line"], repair["column"]) == ("unclosed-bracket", 3, 13)
    assert (edit["line"], edit["column"], edit["words"]) == (3, 20, "]")


def test_a_proof_adds_checks_and_what_was_knitted():
    source, book = flap()
    verdicts = [
        Verdict(check="C001", result=Result.HOLDS, places=168),
        Verdict(check="C015", result=Result.UNDECIDED, missing="a gauge"),
    ]
    got = sent(wire.proof_out(source, "Tern Flap", book, [], verdicts, KNITTED), "proof")
    assert list(got) == ["title", "size", "options", "pieces", "findings", "checks", "knitted", "repairs"]
    assert got["repairs"] == []
    assert got["checks"] == [
        {"check": "C001", "result": "holds", "places": 168, "missing": None, "told_by": []},
        {"check": "C015", "result": "cannot be decided", "places": 0, "missing": "a gauge", "told_by": []},
    ]
    assert got["knitted"] == {"sizes": ["one size"], "options": {}, "ways": 1, "every": True}


def test_several_proofs_name_their_files():
    source, book = flap()
    one = wire.proof_out(source, "Tern Flap", book, [], [], KNITTED, "flap.pattern.md")
    failing = wire.FailingOut(file="b.md", errors=1, warnings=0, line=4, column=1, message="No.")
    unused = wire.UnusedOut(file="c.md", message="Empty.", fault=False)
    summary = wire.SummaryOut(patterns=3, hold=1, fail=1, unusable=1, failing=[failing], unused=[unused])
    got = sent(wire.ProofsOut(patterns=[one], summary=summary), "proof")
    assert got["patterns"][0]["file"] == "flap.pattern.md"
    assert got["summary"]["failing"][0]["line"] == 4
    assert json.loads(wire.encode_several("patterns", [wire.encode_one(one)], summary)) == got


@pytest.mark.parametrize("damage", [{"side": "left"}, {"kind": "loop"}, {"end": "20"}, {"number": "one"}])
def test_the_schema_would_catch_a_wrong_answer(damage):
    source, book = flap()
    got = sent(wire.ledger_out(source, "Tern Flap", book, []), "ledger")
    got["pieces"][0]["rows"][1].update(damage)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(got, committed("ledger"))
