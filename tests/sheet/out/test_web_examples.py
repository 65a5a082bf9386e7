"""The pages of every example say the rows and counts of the pattern, each once and in order."""

from pathlib import Path

import pytest

from markup import read
from purlwright.sheet.document import Passes, Row, Table, plain
from purlwright.sheet.out.follow import to_follow
from purlwright.sheet.out.html import to_html
from purlwright.workup import work_up

EXAMPLES = sorted((Path(__file__).resolve().parents[3] / "examples").glob("*.pattern.md"))
every_example = pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name.partition(".")[0])


def words_of(element, kind):
    return "".join(part.text for part in element.all() if kind in part.attributes.get("class", "").split())


def heard_of(element, kind):
    """The words of a part without those that only explain it to the ear."""
    return words_of(element, kind).removeprefix("Afterwards: ")


@every_example
def test_every_row_stands_on_the_web_page(path):
    document = work_up(path.read_text(encoding="utf-8"), path.name).sheet()
    page = read(to_html(document))
    found = [
        (
            words_of(row, "label"),
            words_of(row, "side")[:2],
            words_of(row, "words").removeprefix(words_of(row, "only")).strip(),
            heard_of(row, "total"),
            len(list(row.all("input"))),
        )
        for row in page.all("li")
        if "row" in row.attributes.get("class", "").split()
    ]
    rows = [block for block in document.blocks if isinstance(block, Row)]
    assert rows
    assert found == [(row.label, row.side, plain(row.words).strip(), row.total, row.boxes) for row in rows]
    passes = [block for block in document.blocks if isinstance(block, Passes)]
    boxes = [len(list(group.all("input"))) for group in page.all("div", role="group")]
    assert boxes == [block.last - block.first + 1 for block in passes]
    tables = [block.caption for block in document.blocks if isinstance(block, Table)]
    assert [caption.text for caption in page.all("caption")] == tables


@every_example
def test_every_row_really_worked_stands_on_the_follow_along_page_with_its_count(path):
    work = work_up(path.read_text(encoding="utf-8"), path.name)
    document = work.sheet(follow=True, drawn=False)
    page = read(to_follow(document))
    lists = list(page.all("div", class_="size"))
    assert len(lists) == max(1, len(work.sizes))
    for size, followed, rows in zip(work.sizes or (None,), document.follow, lists, strict=True):
        ledger = work.knitted(size, dict(followed.options)).ledger
        counts = [words_of(row, "after").split()[0] for row in rows.all("li")]
        assert counts == [str(entry.end or "No") for entry in ledger.entries]
        told = [tuple(words_of(row, kind) for kind in ("side", "short")) for row in rows.all("li")]
        heard = {"RS": "RSright side", "WS": "WSwrong side", "": ""}
        assert told == [(heard[step.side], plain(step.words)) for step in followed.steps]
        called = [words_of(row, "label") for row in rows.all("li")]
        assert all(called)
        assert [step.label or name for step, name in zip(followed.steps, called, strict=True)] == called
