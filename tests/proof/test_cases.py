"""The literate cases of this room, and what each finding of it looks like."""

import pytest

from notation import cases, differences
from purlwright.proof.pages import pages
from purlwright.terminal.excerpt import show_findings
from purlwright.terminal.look import Look
from purlwright.text import Source
from purlwright.workup import WorkUp

CASES = cases("proof")
OURS = sorted(page.code for page in pages() if page.kind.__module__.startswith("purlwright.proof"))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_case_gives_what_it_expects(case):
    work = WorkUp(case.text)
    assert differences(Source(case.text), work.proved().findings, case.expected) == []


@pytest.mark.parametrize("code", OURS)
def test_every_finding_has_a_case_and_a_picture(code, snapshot):
    case = next(case for case in CASES if case.name == f"{code}-1")
    work = WorkUp(case.text)
    found = [f for f in work.proved().findings if f.code == code]
    assert found
    assert "\n" + "\n".join([case.text, *show_findings(found, work.source, Look())]) == snapshot


def test_no_case_is_left_over():
    assert {case.name.rpartition("-")[0] for case in CASES} == set(OURS)
