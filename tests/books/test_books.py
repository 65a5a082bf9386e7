"""Patterns of published books, knitted, and held to the counts and multiples that the books print.

Each ``*.md`` file here is a book: author, title, year and where to read it, then blocks. The rows are facts in our own
short wording, in today's abbreviations. ``printed`` is what the book says of the numbers; ``ends`` are the counts after
each row that follow from it, told by hand; ``unworked`` what each row leaves; ``wrong`` the row in which the book has a
misprint, which must be found.
"""

import re
from dataclasses import dataclass
from pathlib import Path

import pytest

from needles.worked import work

_BLOCK = re.compile(
    r"^### (?P<name>.+)\n\n(?:wrong: (?P<wrong>.+)\n)?printed: (?P<printed>.+)\nends: (?P<ends>[\d ]+)\n"
    r"(?:unworked: (?P<unworked>[\d ]+)\n)?(?:not yet: (?P<why>.+)\n)?\n```\n(?P<words>(?:.+\n)+?)```$",
    re.MULTILINE,
)


@dataclass(frozen=True)
class Printed:
    book: str
    name: str
    words: str
    ends: tuple[int, ...]
    unworked: tuple[int, ...] | None
    wrong: str


def numbers(words):
    return tuple(int(n) for n in words.split()) if words else None


def printed():
    for path in sorted(Path(__file__).parent.glob("*.md")):
        text = path.read_text(encoding="utf-8")
        found = list(_BLOCK.finditer(text))
        assert len(found) == text.count("\n### "), path.name
        for m in found:
            p = Printed(
                path.stem, m["name"], m["words"], numbers(m["ends"]), numbers(m["unworked"]), m["wrong"] or ""
            )
            marks = [pytest.mark.xfail(strict=True, reason=m["why"])] if m["why"] else []
            yield pytest.param(p, id=f"{path.stem}: {p.name}".replace(" ", "-"), marks=marks)


@pytest.mark.parametrize("p", list(printed()))
def test_a_published_pattern_knits_to_its_printed_counts(p):
    w = work(p.words)
    left_live = "left-live"
    wrong = [f for f in w.wrong if not f.startswith(left_live)] if p.ends[-1] != 0 or p.wrong else w.wrong
    if p.wrong:
        assert [p.wrong in f for f in wrong] == [True], wrong
    else:
        assert wrong == []
        assert tuple(w.ends) == p.ends
    if p.unworked:
        assert tuple(e.unworked for e in w.rows) == p.unworked


def test_counts_that_change_from_row_to_row_come_back():
    changing = [p.values[0] for p in printed() if len(set(p.values[0].ends[:-1])) > 2]
    back = [p for p in changing if p.ends[0] in p.ends[3:]]
    assert len(back) >= 3


def test_every_book_says_where_it_can_be_read():
    books = sorted(Path(__file__).parent.glob("*.md"))
    assert len(books) >= 6
    for path in books:
        head = path.read_text(encoding="utf-8").split("### ")[0]
        assert re.search(r"1[89]\d\d", head), path.name
        assert re.search(r"Project Gutenberg \d+|\w+\.com/", head), path.name
