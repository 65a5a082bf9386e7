"""A check that fails says where, or names the finding that does."""

import pytest

from purlwright.cli import main
from purlwright.findings import Result
from purlwright.proof.carried import CARRIED, WITHOUT_OWN
from purlwright.proof.catalogue import CATALOGUE
from purlwright.proof.pages import pages, pages_of_check
from purlwright.proof.two_examples import examples
from purlwright.workup import WorkUp

TEXTS = [(check, text) for check, one in examples().items() for text in one if text is not None]


@pytest.mark.parametrize(("check", "text"), TEXTS, ids=lambda v: v if v in CATALOGUE else "")
def test_every_check_that_fails_is_told_by_a_finding(check, text):
    proved = WorkUp(text).proved()
    codes = {f.code for f in proved.findings}
    own = {f.check for f in proved.findings if not f.settled}
    for verdict in proved.verdicts:
        fails = verdict.result is Result.FAILS
        assert bool(verdict.told_by) == (fails and verdict.check not in own), verdict
        assert set(verdict.told_by) <= codes


def test_who_has_no_finding_of_its_own():
    judged = {check for check, entry in CATALOGUE.items() if entry.needs != "a person"}
    found = {page.check for page in pages()}
    assert not WITHOUT_OWN & found
    assert set(CARRIED) >= WITHOUT_OWN
    known = {page.code for page in pages()}
    assert {name for names in CARRIED.values() for name in names} <= {*judged, *known}


@pytest.mark.parametrize("check", sorted(WITHOUT_OWN))
def test_its_page_says_who_tells_it(check, capsys):
    assert not pages_of_check(check)
    assert main(["explain", check]) == 0
    page = " ".join(capsys.readouterr().out.split())
    assert "It has no finding of its own" in page
    assert all(name in page for name in CARRIED[check] if name in CATALOGUE)


def test_a_heel_that_sticks_is_told_once(capsys, tmp_path):
    file = tmp_path / "heel.pattern.md"
    file.write_text(examples()["C017"].fails, encoding="utf-8")
    assert main(["proof", str(file)]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "told by decrease-misses-gap, line" in said
