"""The measure of reading: what it counts and what it leaves out. The patterns here are invented."""

import importlib.util
import json
import sys
from pathlib import Path

import pytest

SCRIPT = Path(__file__).parents[2] / "benchmarks" / "reading.py"


def load():
    spec = importlib.util.spec_from_file_location("reading_benchmark", SCRIPT)
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # its dataclasses look themselves up
    spec.loader.exec_module(module)
    return module


reading = load()


def line(label, text, stated=None, sizes=None):
    return {"label": label, "text": text, "stated_count": stated, "sizes": sizes}


SCARF = {
    "id": "quay",
    "about": "Quay scarf",
    "old": False,
    "year": "modern",
    "lines": [
        line("Cast on", "Cast on 24 sts.", 24),
        line("Row 1 (RS):", "Knit."),
        line("Row 2:", "Purl.", 24),
        line("Row 3:", "K2, frobnicate the lighthouse 3 times, k2."),
        line("", "Repeat rows 1-2 until piece measures 20 cm."),
        line("", "Weave in the tails."),
        line("", "Bind off all sts."),
    ],
}
CUFF = {
    "id": "cuff",
    "about": "Wristlet for a lady",
    "old": True,
    "year": "1850",
    "lines": [
        line("", "IV."),
        line("", "A Pretty Wristlet."),
        line("", "Cast on 40 stitches."),
        line("First row:--", "Knit 2, purl 2, and repeat."),
        line("", "It looks very well in scarlet."),
    ],
}


@pytest.fixture
def folder(tmp_path):
    for raw in (SCARF, CUFF):
        (tmp_path / f"{raw['id']}.json").write_text(json.dumps(raw), encoding="utf-8")
    return tmp_path


def classes(raw):
    _, lines, _ = reading.read_lines(raw)
    return [(r.kind, r.cast_on) for r in lines]


def test_the_class_of_a_line_is_told_from_its_words():
    assert classes(SCARF) == [
        ("instruction", True),
        ("row", False),
        ("row", False),
        ("row", False),
        ("instruction", False),
        ("note", False),
        ("instruction", False),
    ]
    assert classes(CUFF) == [
        ("heading", False),
        ("heading", False),
        ("instruction", True),
        ("row", False),
        ("note", False),
    ]


def test_a_word_without_a_meaning_makes_the_line_unread():
    _, lines, _ = reading.read_lines(SCARF)
    assert [r.index for r in lines if not r.read and r.kind == "row"] == [3]


def test_sums(folder, capsys):
    assert reading.main([str(folder), "--json"]) == 0
    sums = json.loads(capsys.readouterr().out)
    assert set(sums) == {"modern", "old"}
    assert sums["modern"]["labelled"] == 3
    assert sums["modern"]["labelled_read"] == 2
    assert sums["modern"]["unlabelled"] == 2
    assert sums["modern"]["counts"] == 1
    assert sums["old"]["labelled"] == 1
    assert sums["old"]["unlabelled"] == 0


def test_a_record_a_line(folder, capsys):
    reading.main([str(folder), "--json", "--lines"])
    lines = json.loads(capsys.readouterr().out)["lines"]
    assert len(lines) == 12
    assert [r["index"] for r in lines if r["id"] == "quay"] == list(range(7))
    assert set(lines[0]) >= {"id", "index", "class", "read", "notes", "end", "stated", "resumed"}


def test_shares_for_people(folder, capsys):
    reading.main([str(folder)])
    out = capsys.readouterr().out
    assert "modern" in out
    assert "frobnicate" in out


@pytest.mark.parametrize(
    ("words", "works"),
    [
        ("Change to size 6 needles", False),
        ("using No. 5 needles", False),
        ("with 4 mm needles", False),
        ("knit 3", True),
        ("at both ends", True),
        ("every row", True),
        ("this one is prettier", False),
        ("it takes 3 evenings", True),
        ("weave in tails", False),
    ],
)
def test_which_words_work_something(words, works):
    assert reading.works(words) is works


def test_a_note_with_a_working_word_is_not_read():
    from purlwright.pattern import tree
    from purlwright.text import Span

    text = "Knit. mind the 3 gulls"
    knit = tree.Work(stitch="k", count=tree.Number(values=(1,)), span=Span(0, 4))
    note = tree.Note(words="mind the 3 gulls", span=Span(6, 22))
    notes, unread = reading.judge([tree.Line(actions=(knit, note), text=text)], text, 0)
    assert notes == [(6, 22)]
    assert unread == ["mind the 3 gulls"]


def test_a_word_left_out_of_the_tree_is_not_read():
    from purlwright.pattern import tree
    from purlwright.text import Span

    text = "Knit backwards."
    knit = tree.Work(stitch="k", count=tree.Number(values=(1,)), span=Span(0, 4))
    assert reading.judge([tree.Line(actions=(knit,), text=text)], text, 0)[1] == ["backwards"]


def test_an_empty_folder(tmp_path, capsys):
    assert reading.main([str(tmp_path)]) == 0
    assert "none" in capsys.readouterr().out
