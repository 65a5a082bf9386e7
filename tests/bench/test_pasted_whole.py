"""The measure of whole patterns that are pasted tells what the page says of each line."""

import importlib.util
import sys
from pathlib import Path

import pytest

BENCHMARKS = Path(__file__).resolve().parents[2] / "benchmarks"
# Invented.
SCARF = {
    "id": "kelp",
    "old": False,
    "lines": [
        {"label": "", "text": "Kelp Scarf"},
        {"label": "", "text": "With the fine needles cast on 24 sts."},
        {"label": "Row 1:", "text": "*K2, p2; rep from * to end."},
        {"label": "Row 2:", "text": "Grumble across, then k2zzz."},
        {"label": "Row 3:", "text": "Knit."},
    ],
}


@pytest.fixture
def measure(monkeypatch):
    monkeypatch.syspath_prepend(str(BENCHMARKS))
    spec = importlib.util.spec_from_file_location("pasted_whole", BENCHMARKS / "pasted.py")
    module = importlib.util.module_from_spec(spec)
    monkeypatch.setitem(sys.modules, "pasted_whole", module)
    spec.loader.exec_module(module)
    return module


def test_what_is_not_read_is_marked_or_set_as_a_note(page, measure):
    done = measure.paste(page, SCARF)
    assert (done.lines, done.read, done.noted, done.bare) == (5, 3, 1, ())


def test_a_line_that_the_page_leaves_unexplained_is_counted(page, measure, monkeypatch):
    monkeypatch.setattr(measure, "touched", lambda *_: set())
    done = measure.paste(page, SCARF)
    assert next((n, unread) for n, _, unread in done.bare) == (2, ("With the fine needles",))
    assert len(done.bare) == 2


def test_places_are_counted_as_the_page_counts_them(measure):
    assert measure.touched("𝕄\nab\ncd", [{"from": 3, "to": 5}, {"from": None, "to": None}]) == {2}


def test_ten_of_many_are_spread_evenly(measure):
    assert list(measure.spread(list(range(20)), 5)) == [2, 6, 10, 14, 18]
    assert list(measure.spread([1, 2], 5)) == [1, 2]
