"""Laws of the whole work: any text is answered, nothing is worked twice, and the answers agree with each other."""

import json
import random
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings

from edits import edited
from purlwright import wire
from purlwright.findings import Result
from purlwright.proof.catalogue import CATALOGUE
from purlwright.terminal.look import Look, width_of
from purlwright.terminal.print_ledger import show_ledger
from purlwright.terminal.print_proof import show_proof
from purlwright.workup import Kept, NoSuchOption, NoSuchSize, WorkUp, work_up
from strategies import files, texts

EXAMPLES = sorted(Path(__file__).parents[1].joinpath("examples").glob("*.pattern.md"))
SCHEMA = jsonschema.Draft202012Validator(json.loads(wire.schema("ledger")))

BAND = """\
# Skerry Band
Sizes: child (adult, large)
Options: edge = plain (usual), ribbed; end = plain, picot

Cast on 24 (28, 32) sts.
Row 1 (RS): *K2, p2; rep from * to end.
plain only: Row 2 (WS): Purl.
ribbed only: Row 2 (WS): *K2, p2; rep from * to end.
Bind off all sts.
"""


@settings(max_examples=60, deadline=None)
@given(files() | texts())
def test_any_text_is_knitted_proved_and_shown(text):
    work = WorkUp(text)
    proved = work.proved()
    assert [v.check for v in proved.verdicts] == list(CATALOGUE)
    for finding in proved.findings:
        assert finding.span.end < 0 or 0 <= finding.span.start <= finding.span.end <= len(work.source.text)
    for verdict in proved.verdicts:
        assert (verdict.missing is not None) == (verdict.result is Result.UNDECIDED)
    for knitted in proved.knitted:
        for row in knitted.ledger.entries:
            assert row.end == row.start + row.made - row.lost - row.held + row.returned
    lines = show_ledger(proved.knitted[0].ledger, work.title, work.source, Look(), brief=True)
    lines += show_proof(proved, work.title, work.source, Look(), everything=True)
    assert not any("\x1b" in line for line in lines)
    answer = wire.ledger_out(work.source, work.title, proved.knitted[0].ledger, proved.findings)
    SCHEMA.validate(json.loads(wire.encode(answer)))


def test_sizes_and_options_as_the_pattern_writes_them():
    work = WorkUp(BAND)
    assert work.sizes == ("child", "adult", "large")
    assert work.options == (("edge", ("plain", "ribbed")), ("end", ("plain", "picot")))
    assert work.size_named(None) == "child"
    assert work.size_named(" ADULT ") == "adult"
    assert work.option_values({"EDGE": "Ribbed"}) == (("edge", "ribbed"),)
    assert WorkUp("Cast on 4 sts.").sizes == ("one size",)
    with pytest.raises(NoSuchSize, match='the sizes are "child", "adult" and "large"'):
        work.size_named("huge")
    with pytest.raises(NoSuchOption, match='the options are "edge" and "end"'):
        work.option_values({"hem": "x"})


def test_nothing_is_worked_twice():
    work = WorkUp(BAND)
    assert work.proved() is work.proved()
    assert work.knitted() is work.knitted("child", {"edge": "plain"})
    assert work.knitted("adult") in work.proved().knitted
    assert work_up(BAND, "band") is work_up(BAND, "band")


@pytest.mark.parametrize(
    "text", [BAND, *(p.read_text(encoding="utf-8") for p in EXAMPLES)], ids=lambda t: t.split("\n", 1)[0][2:]
)
def test_a_text_worked_again_after_an_edit_is_worked_as_if_it_were_new(text):
    chance = random.Random(text)  # noqa: S311 - the same edits every time
    kept = Kept()
    for n in range(9):
        again, anew = WorkUp(text, kept=kept).proved(), WorkUp(text).proved()
        assert again.findings == anew.findings
        assert again.verdicts == anew.verdicts
        assert [k.ledger for k in again.knitted] == [k.ledger for k in anew.knitted]
        if n % 3 == 2:  # every third time two edits are made at once
            text = edited(text, chance)
        text = edited(text, chance)


def test_a_proof_knits_every_way_and_the_named_ones_only():
    work = WorkUp(BAND)
    assert len(work.proved().knitted) == 12
    assert [k.ledger.size for k in work.proved().knitted][::4] == ["child", "adult", "large"]
    named = work.proved("large", {"edge": "ribbed"})
    assert len(named.knitted) == 2
    assert {k.ledger.size for k in named.knitted} == {"large"}
    assert named.options == (("edge", ("ribbed",)), ("end", ("plain", "picot")))


def test_a_finding_of_one_size_is_found_whatever_else_is_knitted():
    work = WorkUp(BAND.replace("(28, 32)", "(28, 33)"))
    every = [f for f in work.proved().findings if f.check == "C007"]
    assert {f.sizes for f in every} == {("large",)}
    assert not [f for f in work.proved("child").findings if f.check == "C007"]
    alone = [f for f in work.proved("large").findings if f.check == "C007"]
    assert {f.sizes for f in alone} == {()}
    assert {f.message for f in alone} == {f.message for f in every}


def test_the_page_fits_its_width():
    work = WorkUp(BAND)
    for width in (60, 80, 120):
        lines = show_proof(work.proved(), work.title, work.source, Look(width=width))
        assert max(map(width_of, lines)) <= width
