"""Every kind of finding has a page, and says what it says in a knitter's words."""

import dataclasses
import re
import typing
from enum import Enum

import pytest

from purlwright.proof.catalogue import CATALOGUE
from purlwright.proof.pages import near, pages, pages_of_check

PAGES = pages()
BANNED = re.compile(r"\b(token|parse|parsing|syntax|invalid|illegal|unexpected|expression)", re.IGNORECASE)
every_page = pytest.mark.parametrize("page", PAGES, ids=lambda page: page.code)


def example_of(kind):
    """A problem of this class, its facts filled by their types."""
    hints = typing.get_type_hints(kind)
    given = {}
    for f in dataclasses.fields(kind):
        if f.default is not dataclasses.MISSING or f.default_factory is not dataclasses.MISSING:
            continue
        hint = hints[f.name]
        origin, kinds = typing.get_origin(hint), typing.get_args(hint)
        if origin is tuple:
            given[f.name] = tuple({int: 3, str: "adult"}.get(k, 3) for k in kinds[:1])
        elif isinstance(hint, type) and issubclass(hint, Enum):
            given[f.name] = next(iter(hint))
        else:
            plain = kinds[0] if kinds else hint
            given[f.name] = {int: 3, str: "RS", bool: True}.get(plain, 3)
    return kind(**given)


def test_there_are_pages():
    assert {"count-differs", "not-read", "row-missing"} <= {page.code for page in PAGES}


def test_no_two_findings_share_a_code():
    codes = [page.code for page in PAGES]
    assert sorted(codes) == sorted(set(codes))


@every_page
def test_codes_are_trade_words_with_hyphens(page):
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", page.code)
    assert not BANNED.search(page.code)


@every_page
def test_a_page_says_what_it_is_and_gives_an_example_and_the_cure(page):
    what, *rest = re.split(r"\n\s*\n", page.text)
    assert what.strip().endswith((".", "?"))
    heads = {paragraph.split(":")[0].strip() for paragraph in rest}
    assert {"Example", "Cure"} <= heads
    assert not BANNED.search(page.text)


@every_page
def test_a_check_that_is_named_is_in_the_catalogue(page):
    assert page.check is None or page.check in CATALOGUE


@every_page
def test_messages_are_one_sentence_in_plain_words(page):
    problem = example_of(page.kind)
    message, label, cure = problem.message(), problem.label(), problem.help()
    assert message.rstrip('"').endswith((".", "?"))
    assert "\n" not in message + label + (cure or "")
    for words in (message, label, cure or ""):
        assert not BANNED.search(words)
        assert "None" not in words
        assert "<" not in words
    assert cure is None or cure.endswith((".", "?"))


def test_pages_of_a_check_and_the_nearest_name():
    assert "count-differs" in {page.code for page in pages_of_check("C001")}
    assert near("count-diffres", [page.code for page in PAGES]) == "count-differs"
    assert near("zzzz", [page.code for page in PAGES]) is None
