"""The fault twins are what they claim to be: two files, one fault, and the truth of it. Not what the proof says of it."""

import difflib
import tomllib
from pathlib import Path

import pytest

TWINS = Path(__file__).resolve().parents[2] / "benchmarks" / "faults"
FAULTS = tomllib.loads((TWINS / "faults.toml").read_text(encoding="utf-8"))["fault"]
FOR_A_PERSON = {3, 13, 21, 33, 59}
MOST_LINES = (
    8  # a twin may differ in this many lines: a chart row and its words, a total and what follows from it
)


def text(fault: dict, twin: str) -> str:
    path = TWINS / f"{fault['number']:02}-{fault['name']}.{twin}.pattern.md"
    return path.read_text(encoding="utf-8")


def test_all_but_the_five_for_a_person_have_twins():
    assert [fault["number"] for fault in FAULTS] == [n for n in range(1, 68) if n not in FOR_A_PERSON]
    assert len(list(TWINS.glob("*.pattern.md"))) == 2 * len(FAULTS) == 124
    assert {fault["caught_by"] for fault in FAULTS} == {"K", "X", "A", "ST"}


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault["name"])
def test_twins_differ_by_one_fault_which_stands_where_it_is_said_to(fault):
    clean, faulty = text(fault, "clean").splitlines(), text(fault, "faulty").splitlines()
    first, last = fault["lines"]
    assert 1 <= first <= fault["line"] <= last <= len(faulty)
    assert last - first < 20

    changes = [
        change
        for change in difflib.SequenceMatcher(a=clean, b=faulty, autojunk=False).get_opcodes()
        if change[0] != "equal"
    ]
    assert changes
    assert all(max(c2 - c1, f2 - f1) <= MOST_LINES for _, c1, c2, f1, f2 in changes)
    assert sum(max(c2 - c1, f2 - f1) for _, c1, c2, f1, f2 in changes) <= MOST_LINES
    assert all(first - 1 <= f1 and f2 <= last for _, _, _, f1, f2 in changes)

    assert fault["right"] in text(fault, "clean")
    assert fault["wrong"] in "\n".join(faulty[first - 1 : last])
    assert fault["wrong"] or len(faulty) < len(clean)
    assert fault["note"].endswith(".")


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault["name"])
def test_the_sizes_named_are_sizes_of_the_pattern(fault):
    header = next((line for line in text(fault, "clean").splitlines() if line.startswith("Sizes:")), "")
    assert all(size in header for size in fault["sizes"])
