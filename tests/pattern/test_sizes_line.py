"""The Sizes line: names, a measure after them, and whether it or the lists in the rows are amiss."""

import pytest

from purlwright.pattern.file import read_pattern
from purlwright.text import Source

ROWS = "Cast on 36 (40, 44) sts.\nRow 1: K10 (11, 12), p to end.\nRow 2: K20 (22, 24), p to end.\nBind off.\n"


def read(sizes, rows=ROWS):
    return read_pattern(Source(f"# Quay Mitts\n\nSizes: {sizes}\n\n{rows}"))


@pytest.mark.parametrize(
    ("value", "key", "measure"),
    [
        ("S (M, L), to fit hand circumference 18 (20, 22) cm", "To fit", "hand circumference 18 (20, 22) cm"),
        ("S (M, L) to fit 18 (20, 22) cm", "To fit", "18 (20, 22) cm"),
        ("S, M, L; finished size 18 (20, 22) cm", "Finished size", "18 (20, 22) cm"),
        ("S (M, L) (to fit chest: 81 (86, 91) cm)", "To fit", "chest: 81 (86, 91) cm"),
    ],
)
def test_a_measure_after_the_names_is_no_name(value, key, measure):
    p = read(value)
    assert p.sizes == ("S", "M", "L")
    assert [(e.known, e.value) for e in p.header.entries[1:]] == [(key, measure)]
    text = p.source.text
    assert [text[e.value_span.start : e.value_span.end] for e in p.header.entries] == [
        e.value for e in p.header.entries
    ]
    assert list(p.findings) == []


def test_a_measure_that_names_the_sizes_itself_stays():
    assert read("to fit chest 81 (86, 91) cm").sizes == ("81", "86", "91")


@pytest.mark.parametrize("sizes", ["S, M, L, XL", "One size", "S (M)"])
def test_where_all_lists_agree_the_sizes_line_is_what_is_amiss(sizes):
    p = read(sizes)
    (found,) = p.findings
    assert found.code == "sizes-line-differs"
    assert p.source.text[found.span.start : found.span.end] == sizes
    assert "all 3 lists in the rows have 3 numbers" in found.message


def test_one_list_out_of_step_is_named_where_it_stands():
    p = read("S, M, L", ROWS.replace("10 (11, 12)", "10 (11)"))
    assert [f.code for f in p.findings] == ["size-list-length"]
    p = read("S, M, L, XL", ROWS.replace("10 (11, 12)", "10 (11, 12, 13)"))
    assert [f.code for f in p.findings] == ["size-list-length"] * 2
