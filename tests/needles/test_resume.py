"""A text knitted again after an edit comes out as if it were knitted anew, whatever was kept from before."""

import random
import re
from pathlib import Path

import numpy as np
import pytest

from purlwright.needles.knit import knit
from purlwright.needles.shape import Memory
from purlwright.pattern.cache import LineCache
from purlwright.pattern.file import read_pattern
from purlwright.text import Source

EXAMPLES = sorted(Path(__file__).parents[2].joinpath("examples").glob("*.pattern.md"))
MANY_ROWS = "# Panel\n\nCast on 40 sts.\n" + "".join(
    f"Row {n}: {'K2, *k2tog, yo, k2; rep from * to last 2 sts, k2' if n % 2 else 'Purl'}.\n"
    for n in range(1, 41)
)


def edited(text: str, chance: random.Random) -> str:
    """The text with one small change: a number, a line gone, a line twice, two lines exchanged."""
    lines = text.split("\n")
    at = chance.randrange(3, len(lines))
    kind = chance.randrange(5)
    if kind == 0:
        del lines[at]
    elif kind == 1:
        lines.insert(at, lines[at])
    elif kind == 2 and at + 1 < len(lines):
        lines[at], lines[at + 1] = lines[at + 1], lines[at]
    else:
        numbers = list(re.finditer(r"\d+", lines[at]))
        if numbers:
            m = chance.choice(numbers)
            lines[at] = lines[at][: m.start()] + str(chance.randrange(1, 12)) + lines[at][m.end() :]
    return "\n".join(lines)


def told(knitted):
    """Everything a knitting says, to be compared."""
    fabric = knitted.fabric
    arrays = {
        name: getattr(fabric, name).tolist()
        for name in fabric.__slots__
        if isinstance(getattr(fabric, name), np.ndarray) and "span" not in name
    }
    spans = np.stack([fabric.span_start, fabric.span_end], axis=1)[fabric.span_of_stitch].tolist()
    findings = [(f.code, f.span, f.message) for f in knitted.findings]
    return knitted.ledger, arrays, spans, findings, dict(knitted.places), knitted.unproved


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
