"""The literate cases of this room: what knitting finds, and what is quiet beside it."""

import pytest

from notation import cases, differences
from purlwright.text import Source
from purlwright.workup import WorkUp


@pytest.mark.parametrize("case", cases("needles"), ids=lambda case: case.name)
def test_a_case_gives_what_it_expects(case):
    work = WorkUp(case.text)
    assert differences(Source(case.text), work.proved().findings, case.expected) == []
