"""The small patterns that `explain` shows are what the page says: each is proved here."""

import pytest

from purlwright.cli import main
from purlwright.findings import Result
from purlwright.proof.catalogue import CATALOGUE, FAMILIES
from purlwright.proof.registry import ABOVE, JUDGES
from purlwright.proof.two_examples import examples
from purlwright.workup import WorkUp

EXAMPLES = examples()

NO_EXAMPLE = set("C127 C129".split())
"""Checks that have no pattern on their page yet, made or not. The list may only become shorter."""
NEVER_HOLDS = set("C099 C100".split())
"""Checks that only find."""

SAID = [
    (check, text, result)
    for check, one in EXAMPLES.items()
    for text, result in zip(one, (Result.FAILS, Result.UNDECIDED, Result.HOLDS), strict=True)
    if text is not None
]


@pytest.mark.parametrize(("check", "text", "result"), SAID, ids=lambda v: v if v in CATALOGUE else "")
def test_an_example_is_what_it_is_shown_as(check, text, result):
    assert {v.check: v.result for v in WorkUp(text).proved().verdicts}[check] is result


def test_which_checks_lack_an_example():
    assert set(EXAMPLES) <= set(JUDGES)
    assert set(JUDGES) - set(EXAMPLES) <= NO_EXAMPLE
    assert not NO_EXAMPLE & set(EXAMPLES)
    assert [c for c, e in EXAMPLES.items() if e.fails is None and e.undecided is None] == []
    assert {c for c, e in EXAMPLES.items() if e.holds is None} == NEVER_HOLDS


@pytest.mark.parametrize("check", sorted(CATALOGUE))
def test_every_check_has_a_page(check, capsys):
    assert main(["explain", check]) == 0
    page = " ".join(capsys.readouterr().out.split())
    entry = CATALOGUE[check]
    assert page.startswith(f"{check} {entry.title} {FAMILIES[entry.family]}; decided ")
    assert f"When it holds: {entry.title}." in page
    if entry.needs == "a person":
        assert "left for a person" in page
    else:
        assert ("makes this check in every proof" in page) == (check in {*JUDGES, *ABOVE})
    for text in filter(None, EXAMPLES.get(check, ())):
        assert " ".join(text.split()) in page
