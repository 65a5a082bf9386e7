"""The literate cases of this room, and that no kind of problem goes without one."""

import dataclasses
import re

import pytest

import notation
from purlwright.pattern import problems
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

KINDS = [getattr(problems, name) for name in problems.__all__]
BANNED = re.compile(r"\b(token|parse|syntax|invalid|illegal|unexpected|expression)", re.IGNORECASE)


@pytest.mark.parametrize("case", notation.cases("pattern"), ids=lambda c: c.name)
def test_case(case):
    source = Source(case.text)
    assert notation.differences(source, read_pattern(source).findings, case.expected) == []


@pytest.mark.parametrize("kind", KINDS, ids=lambda k: k.code)
def test_every_problem_has_a_page_an_example_and_a_cure(kind):
    page = kind.__doc__
    assert "Example:" in page
    assert "Cure:" in page
    assert dataclasses.is_dataclass(kind)
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", kind.code)
    assert (notation.CASES / "pattern" / f"{kind.code}.md").is_file()


def test_no_message_speaks_of_the_inside():
    for case in notation.cases("pattern"):
        for f in read_pattern(Source(case.text)).findings:
            for words in (f.message, f.problem.label(), f.help or ""):
                assert not BANNED.search(words), words


def test_an_expectation_that_is_not_met_is_told():
    text, expected = notation.parse('// error 1-4 not-read "x"\nRow 1: Knit.')
    assert len(notation.differences(Source(text), (), expected)) == 1


def test_a_line_that_is_no_expectation_is_refused():
    with pytest.raises(ValueError, match="not an expectation"):
        notation.parse("// something\nRow 1: Knit.")
