"""What a check leaves to the reader is told by its page."""

import pytest

from purlwright.cli import main
from purlwright.proof.catalogue import CATALOGUE
from purlwright.proof.unseen import UNSEEN


@pytest.mark.parametrize("check", sorted(UNSEEN))
def test_its_page_tells_what_a_check_leaves_to_the_reader(check, capsys):
    assert CATALOGUE[check].needs != "a person"
    assert main(["explain", check]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert f"It leaves to the reader: {UNSEEN[check]}." in told


def test_other_pages_say_nothing_of_the_kind(capsys):
    assert main(["explain", "C001"]) == 0
    assert "It leaves to the reader" not in capsys.readouterr().out
