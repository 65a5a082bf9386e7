"""The editor's report: a letter that tells everything the proof did, in words, on a page that can be sent."""

import json
import re
from dataclasses import replace

import jsonschema
import pytest

from purlwright import wire
from purlwright.cli import main
from purlwright.findings import Result
from purlwright.proof.catalogue import CATALOGUE
from purlwright.terminal.look import width_of
from purlwright.terminal.print_report import show_report
from purlwright.workup import WorkUp

MITTS = """\
# Bollard Mitts
Sizes: small (large)
Version: 1.2
Date: March 2026
Options: cuff = plain (usual), ribbed
Needles: 4 mm

Cast on 32 (36) sts.
Row 1 (RS): K2, p2, k24 (26), p2, k2.
plain only: Row 2 (WS): Purl.
ribbed only: Row 2 (WS): *K2, p2; rep from * to end.
Row 4: Purl.
Bind off.
"""


@pytest.fixture(scope="module")
def report():
    work = WorkUp(MITTS)
    proved = work.proved()
    return work.report(proved, work.repairs())


def test_the_letter(snapshot):
    """Of some checks only, so that it stays as it is when others are built."""
    work = WorkUp(MITTS)
    proved = work.proved()
    some = {"C001", "C002", "C007", "C020", "C049", "C093", "C123"}
    proved = replace(
        proved,
        findings=tuple(f for f in proved.findings if f.check in some),
        verdicts=tuple(v for v in proved.verdicts if v.check in some),
    )
    assert "\n" + "\n".join(show_report(work.report(proved, work.repairs()))) == snapshot


def test_it_is_plain_and_narrow(report):
    for width in (40, 80, 200):
        lines = show_report(report, width)
        assert all(width_of(line) <= min(width, 80) for line in lines)
        assert "\x1b" not in "".join(lines)


def test_no_check_is_named_by_its_number_alone(report):
    letter = " ".join(" ".join(show_report(report)).split())
    for number in re.findall(r"C\d{3}", letter):
        assert f"{CATALOGUE[number].title}" in letter


def test_every_check_has_its_place_once(report):
    parts = (report.fails, report.proved, report.undecided, report.not_made, report.person, report.absent)
    assert sorted(scope.check for part in parts for scope in part) == sorted(CATALOGUE)
    work = WorkUp(MITTS)
    by = {v.check: v.result for v in work.proved().verdicts}
    assert {scope.check for scope in report.proved} == {c for c, r in by.items() if r is Result.HOLDS}


def test_remarks_quote_the_words_and_say_where_and_how_to_mend(report):
    first = report.remarks[0]
    assert (first.number, first.gravity.value, first.line) == (1, "error", 9)
    assert (first.quoted, first.in_line) == ("26", "Row 1 (RS): K2, p2, k24 (26), p2, k2.")
    assert first.where == "size large only, with every choice"
    assert first.repair == "Work 2 more stitches."
    assert "line 9: 28 for 26" in first.mends
    grave = [["error", "warning", "note"].index(r.gravity.value) for r in report.remarks]
    assert grave == sorted(grave)
    assert report.version == ("Version: 1.2", "Date: March 2026")


def test_a_pattern_without_fault_or_words():
    clean = WorkUp("# Mat\nCast on 4 sts.\nRow 1 (RS): Knit.\nBind off.\n")
    letter = "\n".join(show_report(clean.report(clean.proved())))
    assert "Nothing was found to put right." in letter
    assert "To put right" not in letter
    empty = WorkUp("#\n")
    letter = "\n".join(show_report(empty.report(empty.proved())))
    assert letter.startswith("Editor's report on A pattern without a title")
    assert "no piece is begun" in letter


def test_the_command_writes_it_as_text_and_as_json(tmp_path, capsys):
    path = tmp_path / "mitts.pattern.md"
    path.write_text(MITTS, encoding="utf-8")
    assert main(["proof", str(path), "--report"]) == 1
    assert capsys.readouterr().out.startswith("Editor's report on Bollard Mitts\n")
    assert main(["proof", str(path), "--report", "--json"]) == 1
    got = json.loads(capsys.readouterr().out)
    jsonschema.validate(got, json.loads(wire.schema("report")))
    assert "file" not in got
    assert got["knitting"]["ways"] == 4
    assert got["knitting"]["options"] == {"cuff": ["plain", "ribbed"]}
    assert got["remarks"][0]["quoted"] == "26"
    assert got["person"][0]["asked"] == CATALOGUE[got["person"][0]["check"]].title
