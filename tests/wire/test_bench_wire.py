"""What the bench's page and server say: the schema is current, and each answer keeps to it."""

import json
from importlib.resources import files
from pathlib import Path

import jsonschema
import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.bench.open_patterns import OpenPatterns
from purlwright.bench.tasks import TASKS, About
from purlwright.wire.bench import Utf16
from purlwright.wire.bench_schema import MESSAGES, bench_schema

ROOT = Path(__file__).resolve().parents[2]
GANNET = (ROOT / "examples" / "gannet-shawl.pattern.md").read_text(encoding="utf-8")
FAULT = next((ROOT / "examples" / "faults").glob("total-differs*.pattern.md")).read_text(encoding="utf-8")


def committed():
    return json.loads(files("purlwright").joinpath("schema/bench.schema.json").read_text(encoding="utf-8"))


def test_the_committed_schema_is_current():
    assert committed() == json.loads(bench_schema())
    jsonschema.Draft202012Validator.check_schema(committed())


def test_every_message_has_a_definition_and_a_docstring():
    defs = committed()["$defs"]
    assert {kind.__name__ for kind in MESSAGES} <= set(defs)
    assert all(kind.__doc__ for kind in MESSAGES)


@pytest.mark.parametrize(
    ("task", "answer", "more"),
    [
        ("work", "BenchWorkOut", {}),
        ("proof", "BenchProofOut", {}),
        ("repairs", "BenchRepairsOut", {}),
        ("row", "RowToldOut", {"order": 3}),
        ("clues", "BenchCluesOut", {"order": 3}),
        ("complete", "CompleteOut", {"at": 700}),
        ("stitches", "StitchesOut", {"from": 0, "to": 2000}),
        ("rescue", "LostOut", {"answers": [{"fact": "sts", "said": "33"}]}),
        ("where", "WhereLostOut", {"answers": []}),
    ],
)
@pytest.mark.parametrize("text", [GANNET, FAULT], ids=["gannet", "fault"])
def test_an_answer_keeps_to_its_schema(task, answer, more, text):
    schema = committed()
    body = json.dumps({"path": "x", "version": 5, "text": text, **more}).encode()
    got = json.loads(TASKS[task](body, OpenPatterns(), About()))
    jsonschema.validate(got, {"$ref": f"#/$defs/{answer}", "$defs": schema["$defs"]})
    assert got.get("version", 5) == 5


@given(st.text(alphabet=st.sampled_from("ab𝕄\n½é🧶"), max_size=30))
def test_places_are_counted_as_the_page_counts_and_back(text):
    at = Utf16(text)
    for offset in range(len(text) + 1):
        units = len(text[:offset].encode("utf-16-le")) // 2
        assert at.to(offset) == units
        assert at.back(units) == offset
    assert at.plain == (not any(ord(c) > 0xFFFF for c in text))


def test_a_place_within_a_letter_of_two_units_is_before_it():
    at = Utf16("a𝕄b")
    assert [at.back(n) for n in (0, 1, 2, 3, 4)] == [0, 1, 1, 2, 3]


def test_a_number_too_great_is_the_end():
    assert Utf16("a𝕄").back(99) == 2
    assert msgspec.json.decode(TASKS["hover"](b'{"text": "k2", "at": 99}', OpenPatterns(), About())) is None
