"""The editor's report as a document: all that the letter says, on paper too."""

from pathlib import Path

import pytest

from purlwright.proof.letter import parts, reach
from purlwright.sheet.document import Facts, Heading, Items, plain
from purlwright.sheet.out.pdf import to_pdf
from purlwright.sheet.report import report_document
from purlwright.terminal.print_report import show_report
from purlwright.workup import WorkUp
from tagged_pdf import opened

FAULTS = sorted((Path(__file__).parents[2] / "examples" / "faults").glob("*.pattern.md"))
HAT = Path(__file__).parents[2] / "examples" / "skerry-hat.pattern.md"


def flat(words: str) -> str:
    return "".join(words.split())


def reported(path: Path):
    work = WorkUp(path.read_text(encoding="utf-8"))
    proved = work.proved()
    return work.report(proved, work.repairs() if proved.errors else ())


@pytest.mark.parametrize("path", [HAT, FAULTS[0], FAULTS[len(FAULTS) // 2]], ids=lambda p: p.stem)
def test_the_print_says_what_the_letter_says(path):
    report = reported(path)
    pdf = opened(to_pdf(report_document(report)))
    said = flat(pdf.document.said)
    letter = flat("".join(show_report(report, 80)))
    assert pdf.title.startswith("Editor's report on ")
    for remark in report.remarks:
        for part in parts(remark):
            for words in (part.words, *part.listed):
                assert flat(words) in letter
                assert flat(words) in said
    for answer in reach(report):
        for group in answer.groups:
            assert all(flat(line) in said for line in (group.head.rstrip(":"), *group.lines))


def test_a_remark_has_its_heading_its_named_parts_and_the_repairs_that_were_knitted():
    report = reported(next(path for path in FAULTS if "yarn-over-missing" in path.name))
    blocks = report_document(report).blocks
    at = next(i for i, b in enumerate(blocks) if isinstance(b, Heading) and b.text == "1. Line 7, Row 3")
    facts, repairs, last = blocks[at + 1 : at + 4]
    assert isinstance(facts, Facts)
    assert [fact.label for fact in facts.facts] == ["The words", "Found", "Smallest repair", "Repairs"]
    assert isinstance(repairs, Items)
    assert "line 7: yo before K2tog" in map(plain, repairs.items)
    assert [fact.label for fact in last.facts] == ["What was asked"]


def test_what_the_printed_counts_chose_stands_in_letter_and_print():
    text = "# Mat\nCast on 10 sts.\nRow 1: K2tog, knit to end.\nRow 2: Purl.\nRep rows 1 and 2 twice. (7 sts)\nBind off.\n"
    work = WorkUp(text)
    report = work.report(work.proved(), ())
    said = 'Line 5, "Rep rows 1 and 2 twice": "2 times" was knitted as 2 more: with 2 in all the counts do not come out.'
    assert said in " ".join(" ".join(show_report(report, 80)).split())
    lists = [block for block in report_document(report).blocks if isinstance(block, Items)]
    assert said in map(plain, lists[0].items)


def test_the_letter_of_an_empty_pattern_is_a_letter():
    work = WorkUp("")
    pdf = opened(to_pdf(report_document(work.report(work.proved(), ()))))
    assert pdf.title == "Editor's report on A pattern without a title"
