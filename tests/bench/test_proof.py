"""A proof with the finished sheet answers the checks that only a sheet can."""

import json

from purlwright.bench.examples import example, examples
from purlwright.bench.open_patterns import OpenPatterns
from purlwright.bench.tasks import TASKS, About


def proved(text, **more):
    body = json.dumps({"text": text, **more}).encode()
    return json.loads(TASKS["proof"](body, OpenPatterns(), About()))


def test_the_whole_proof_looks_at_the_finished_sheet():
    text = example("stepping-stones-cloth").text
    plain, whole = proved(text), proved(text, whole=True)
    lacking = {c["check"] for c in plain["checks"] if "does not make this check yet" in (c["missing"] or "")}
    answered = {
        c["check"] for c in whole["checks"] if "does not make this check yet" not in (c["missing"] or "")
    }
    assert lacking
    assert lacking & answered


def test_examples_say_what_they_are_in_one_plain_sentence():
    for one in examples():
        assert one.told.endswith((".", "!", "?"))
        assert not set(one.told) & set(">\n#*")
