"""A text knitted again after an edit comes out as if it were knitted anew, whatever was kept from before."""

import random
from pathlib import Path

import pytest

from edits import edited
from needles.told import told
from purlwright.needles.knit import knit
from purlwright.needles.shape import Memory
from purlwright.needles.worker import Worker
from purlwright.pattern.cache import LineCache
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

EXAMPLES = sorted(Path(__file__).parents[2].joinpath("examples").glob("*.pattern.md"))
MANY_ROWS = "# Panel\n\nCast on 40 sts.\n" + "".join(
    f"Row {n}: {'K2, *k2tog, yo, k2; rep from * to last 2 sts, k2' if n % 2 else 'Purl'}.\n"
    for n in range(1, 41)
)


@pytest.mark.parametrize(
    "text",
    [MANY_ROWS, *(p.read_text(encoding="utf-8") for p in EXAMPLES)],
    ids=lambda t: t.split("\n", 1)[0][2:],
)
def test_knitting_again_after_edits_is_knitting_anew(text):
    chance = random.Random(text)  # noqa: S311 - the same edits every time
    lines, rows = LineCache(), Memory()
    for _ in range(12):
        pattern = read_pattern(Source(text), lines)
        again = knit(pattern, memory=rows)
        assert told(again) == told(knit(pattern))
        text = edited(text, chance)


@pytest.mark.parametrize("words", ["Purl.", "K2tog, k to end.", "Purl.\nRow 41: Knit.", "K2, p"])
def test_rows_after_an_edit_are_carried_over_where_nothing_near_them_changed(words, monkeypatch):
    rows, lines = Memory(), LineCache()
    twice = MANY_ROWS + "Bind off.\n\n## Second\n" + MANY_ROWS.split("\n", 2)[2] + "Bind off.\n"
    knit(read_pattern(Source(twice), lines), memory=rows)
    worked = []
    row = Worker.row
    monkeypatch.setattr(Worker, "row", lambda w, part: worked.append(part) or row(w, part))
    again = knit(
        read_pattern(Source(twice.replace("Row 40: Purl.", f"Row 40: {words}", 1)), lines), memory=rows
    )
    assert len(worked) < 16
    assert len(again.ledger.entries) > 80


def test_colours_and_sides_told_in_labels_are_carried_over_as_they_are(monkeypatch):
    body = "".join(f"Row {n} ({'RS' if n % 2 else 'WS'}): Knit. ({30} sts)\n" for n in range(1, 41))
    text = f"# Cloth\n\n## Cloth\nWith A, cast on 30 sts.\n{body}Bind off.\n"
    rows, lines = Memory(), LineCache()
    knit(read_pattern(Source(text), lines), memory=rows)
    worked = []
    row = Worker.row
    monkeypatch.setattr(Worker, "row", lambda w, part: worked.append(part) or row(w, part))
    pattern = read_pattern(
        Source(text.replace("Row 3 (RS): Knit", "Row 3 (RS): K2tog, yo, knit to end")), lines
    )
    again = knit(pattern, memory=rows)
    assert len(worked) < 12
    assert told(again) == told(knit(pattern))


def test_a_pattern_with_explanations_is_gone_back_into_near_the_edit():
    rows, lines = Memory(), LineCache()
    text = "# T\n\n## Abbreviations\nk: knit.\n\n## Body\nCast on 20 sts.\n"
    text += "".join(f"Row {n}: Knit.\n" for n in range(1, 60)) + "Bind off.\n"
    knit(read_pattern(Source(text), lines), memory=rows)
    again = read_pattern(Source(text.replace("Row 50: Knit.", "Row 50: Purl.")), lines)
    (before,) = rows.tracks.values()
    knit(again, memory=rows)
    (after,) = rows.tracks.values()
    assert after is not before
    assert after.checkpoints[0] is before.checkpoints[0]
    text = text.replace("k: knit.", "k: knit the stitch.")
    knit(read_pattern(Source(text), lines), memory=rows)
    (anew,) = rows.tracks.values()
    assert anew.checkpoints[0] is not after.checkpoints[0]


def test_a_rule_added_later_changes_the_rows_before_it():
    rows, lines = Memory(), LineCache()
    body = "".join(f"Row {n}: Knit.\n" for n in range(1, 60, 2))
    for end in ("Bind off.\n", "All WS rows: Purl.\nBind off.\n", "Rows 2, 4 and 6: Purl.\nBind off.\n"):
        pattern = read_pattern(Source("# T\n\nCast on 20 sts.\n" + body + end), lines)
        assert told(knit(pattern, memory=rows)) == told(knit(pattern))
