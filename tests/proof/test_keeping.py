"""What is kept of a proof over an edit: the answers are those of a proof made anew, and what stayed is not asked."""

import random
import re
from pathlib import Path

import pytest

from edits import edited
from purlwright.proof import edge_rows, period, registry
from purlwright.workup import Kept, WorkUp

HOME = Path(__file__).parents[2]
PATTERNS = (
    HOME / "benchmarks/forty_rows.pattern.md",
    *(HOME / f"examples/{name}.pattern.md" for name in ("skerry-hat", "eel-cowl", "gannet-shawl")),
    HOME / "examples/faults/marker-never-used.stray.pattern.md",
)
OTHER_WORDS = (
    ("k3", "knit 3"), ("K3", "Knit 3"), ("k2tog", "knit 2 together"), ("p2", "purl 2"), ("yo", "yarn over"),
    ("Knit", "K"), ("Purl", "P"), ("sts", "stitches"), ("rep from *", "repeat from *"), ("to end", "to the end"),
    ("ssk", "k2tog"), ("k2", "k1, p1"), ("stockinette", "garter"),
)  # fmt: skip
MORE_NOTED = (
    " In stockinette.",
    " With the smaller needles.",
    " brk",
    " (20 sts)",
    " See page 3.",
    " mm",
    ".",
)
LACE = "# Panel\n\nCast on 23 sts.\n" + "".join(
    f"Row {n}: K3, {'yo, k2tog, k1, ' * 5}k5.\nRow {n + 1}: K3, purl to last 3 sts, k3.\n"
    for n in range(1, 13, 2)
)


def changed(text, chance):
    """The text with other words for the same, with a word more in a note, or with one of the changes of a desk."""
    sort = chance.random()
    if sort < 0.55:
        here, there = chance.choice(OTHER_WORDS)
        places = [m.start() for m in re.finditer(re.escape(here), text)]
        if places:
            at = chance.choice(places)
            return text[:at] + there + text[at + len(here) :]
    lines = text.split("\n")
    notes = [n for n, line in enumerate(lines) if line.startswith(">")]
    if sort < 0.75 and notes:
        lines[chance.choice(notes)] += chance.choice(MORE_NOTED)
        return "\n".join(lines)
    return edited(text, chance)


@pytest.mark.parametrize("path", PATTERNS, ids=lambda p: p.name.split(".")[0])
def test_what_is_kept_over_an_edit_is_what_would_be_found_anew(path):
    chance = random.Random(path.name)  # noqa: S311 - the same edits every time
    first = path.read_text(encoding="utf-8")
    for _ in range(3):
        text, kept = first, Kept()
        for _ in range(5):
            again, anew = WorkUp(text, kept=kept).proved(), WorkUp(text).proved()
            assert again.findings == anew.findings
            assert again.verdicts == anew.verdicts
            text = changed(text, chance)


def test_columns_and_edges_are_not_looked_at_again_while_the_same_is_knitted(monkeypatch):
    asked = []
    monkeypatch.setattr(period, "_first_found", lambda *_: asked.append("columns") or [])
    monkeypatch.setattr(edge_rows, "_odd_row", lambda *_a, **_k: asked.append("edges") or (None, 1))
    kept = Kept()
    WorkUp(LACE, kept=kept).proved()
    assert {"columns", "edges"} <= set(asked)
    asked.clear()
    WorkUp(LACE.replace("Row 5: K3", "Row 5: Knit 3"), kept=kept).proved()
    WorkUp(LACE.replace("k5", "knit 5", 1), kept=kept).proved()
    assert not asked
    WorkUp(LACE.replace("k5", "k4, p1", 1), kept=kept).proved()
    assert {"columns", "edges"} <= set(asked)


def test_another_size_another_heading_or_another_stitch_is_other_work(monkeypatch):
    text = "# Band\nSizes: S (M)\n\n## Band\nCast on 8 (12) sts.\nRow 1: Knit.\nRow 2: Purl.\nBind off.\n"
    kept, seen = Kept(), []
    prove = registry.prove
    monkeypatch.setattr(registry, "prove", lambda subject, more: seen.append(subject) or prove(subject, more))

    def same(now):
        WorkUp(now, kept=kept).proved()
        return seen[-1].same_work

    assert not same(text)
    assert same(text)
    assert same(text.replace("Knit.", "K to end."))
    assert not same(text.replace("## Band", "## Tie"))
    assert not same(text.replace("S (M)", "S (L)"))
    assert not same(text)
    assert not same(text.replace("8 (12)", "8 (14)"))
    assert not same(text.replace("8 (12)", "8 (14)").replace("Row 2: Purl.", "Row 2: Knit."))
