"""Plans and another gauge as the page asks for them: every plan can be filled in, and no answer speaks of options."""

import json
import re
import shlex
from importlib.resources import files

import jsonschema
import msgspec
import pytest

from purlwright.bench.planned import planned
from purlwright.bench.refusals import Refused
from purlwright.plans.asks import fillable
from purlwright.plans.said import EXAMPLES
from purlwright.sizing.starts.kinds import KINDS
from purlwright.terminal.plan_options import PIECES, QUESTIONS
from purlwright.wire.bench_plans import PlanIn

PLAIN = "22 sts and 30 rows to 10 cm"
HAT = """# Kelp Hat
Sizes: small (large)
Gauge: 18 sts and 26 rounds = 10 cm in stockinette stitch

Cast on 72 (80) sts and join to work in the round.
Rnds 1-20: Knit. (72 (80) sts)
Rnd 21: *K6, k2tog; rep from * to end. (63 (70) sts)
Bind off.
"""


@pytest.fixture(scope="module")
def page(lasting_page):
    return lasting_page


def keeps_to(answer, name):
    schema = json.loads(files("purlwright").joinpath("schema/bench.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(answer, {"$ref": f"#/$defs/{name}", "$defs": schema["$defs"]})
    return answer


def example(plan):
    """The answers of the example of a question."""
    given = shlex.split(EXAMPLES[plan])[2:]
    return [
        {
            "option": word,
            "words": "" if given[n + 1 :] == [] or given[n + 1].startswith("--") else given[n + 1],
        }
        for n, word in enumerate(given)
        if word.startswith("--")
    ]


def test_every_plan_can_be_filled_in_with_each_of_its_options(page):
    told = keeps_to(page.get("/api/plans").json(), "FillablesOut")["plans"]
    assert {one["name"] for one in told} == {*PIECES, *QUESTIONS}
    for one in told:
        options = {**PIECES, **QUESTIONS}[one["name"]]
        assert [ask["option"] for ask in one["asks"]] == [o for o in options if o != "--pattern"]
        assert all(ask["label"] for ask in one["asks"])
        assert bool(one["people"]) == bool(one["whose"])
        assert not one["people"] or any(body["usual"] for body in one["people"])


def test_usual_bodies_are_those_of_the_piece():
    for one in fillable():
        if one.people:
            usual = [body.name for body in one.people if body.usual]
            kind = KINDS[one.name]
            assert usual == list(kind.usual) or {name.split()[0] for name in usual} == set(kind.usual)


@pytest.mark.parametrize("plan", list(EXAMPLES))
def test_every_example_is_answered(page, plan):
    got = page.post("/api/plan", json={"plan": plan, "answers": example(plan)})
    assert got.status_code == 200, got.text
    keeps_to(got.json(), "PlanOut")


@pytest.mark.parametrize("plan", [one.name for one in fillable()])
def test_each_question_left_out_or_answered_with_nonsense_gets_one_sentence_in_words_of_the_page(plan):
    whole = example(plan) if plan in EXAMPLES else [{"option": "--gauge", "words": PLAIN}]
    (one,) = [f for f in fillable() if f.name == plan]
    calls = [[a for a in whole if a["option"] != option] for option in {a["option"] for a in whole}]
    for ask in one.asks:
        if ask.kind != "yes" and ask.option not in TAKEN.get(one.piece, ()):
            others = [a for a in whole if a["option"] != ask.option]
            calls += [[*others, {"option": ask.option, "words": nonsense}] for nonsense in NONSENSE]
    for answers in calls:
        done = planned_or_refused(msgspec.convert({"plan": plan, "answers": answers}, PlanIn))
        if isinstance(done, Refused):
            assert done.status == 422, answers
            assert done.sentence.endswith("."), answers
            assert not re.search(r"--|purlwright|fault|Traceback", done.sentence), (answers, done.sentence)
        else:
            assert plan in QUESTIONS, answers
            assert done.words or done.numbers or done.give_up, answers


def planned_or_refused(asked):
    try:
        return planned(asked)
    except Refused as why:
        return why


TAKEN = {True: ("--sizes", "--title", "--bodies")}
"""What a piece takes as it is: names, and a table that comes as a text of its own."""
NONSENSE = ["0", "-3", "lots", "\u0664", "99999", "0 sts", "1e9 cm", "9999 (1) cm"]


def test_a_plan_that_is_not_there_or_too_much_is_refused(page):
    assert page.post("/api/plan", json={"plan": "tent"}).status_code == 404
    more = [{"option": "--gauge", "words": "x" * 5000}]
    assert page.post("/api/plan", json={"plan": "hat", "answers": more}).status_code == 422
    other = [{"option": "--out", "words": "elsewhere"}]
    assert page.post("/api/plan", json={"plan": "hat", "answers": other}).status_code == 422
    file = [{"option": "--bodies", "words": "/etc/hostname"}, {"option": "--gauge", "words": PLAIN}]
    got = page.post("/api/plan", json={"plan": "body", "answers": file[:1]}).json()
    assert got["title"].startswith("Bodies")  # the tables, and no file


def test_a_table_of_her_own_is_told_by_its_line(page):
    gauge = [{"option": "--gauge", "words": PLAIN}]
    got = page.post("/api/plan", json={"plan": "hat", "answers": gauge, "table": "size,head\nMina,big\n"})
    assert got.status_code == 422
    assert got.json()["message"] == '"Your table", line 2: "big" is no length above 0.'


def test_a_pattern_at_another_gauge(page):
    body = {"path": "kelp.pattern.md", "version": 3, "text": HAT, "gauge": "20 sts and 28 rows to 10 cm"}
    got = keeps_to(page.post("/api/regauge", json=body).json(), "RegaugedOut")
    assert got["version"] == 3
    assert "Cast on 80 (88) sts" in got["found"]["pattern"]
    refused = page.post("/api/regauge", json={**body, "gauge": "soft"})
    assert refused.status_code == 422
    bad = page.post("/api/regauge", json={**body, "text": HAT.replace("(63 (70)", "(60 (70)")})
    assert "correct what proof finds" in bad.json()["message"]
