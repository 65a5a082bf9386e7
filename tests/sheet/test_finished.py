"""The picture of the finished piece, and the yarn that its stitches take."""

import re
from pathlib import Path

import pytest

from purlwright.sheet.document import Figure, Paragraph, Photo, Table, plain
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp

HAT = Path("examples/skerry-hat.pattern.md").read_text(encoding="utf-8")
TUBE = """# Bollard Cosy
Sizes: small (large)
Yarn: wool, 200 m per 100 g
Gauge: 20 sts and 28 rounds = 10 cm in stockinette stitch

## Tube
Cast on 40 (60) sts and join to work in the round.
Knit 30 (40) rounds.
Bind off.
"""
SQUARE = """# Mat
Yarn: A, wool, dark blue, 200 m per 100 g
Yarn: B, wool, pale sand, 200 m per 100 g
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch

## Mat
With A, cast on 20 sts.
Knit 10 rows.
With B, knit 10 rows.
Bind off.
"""


def figures(document):
    return [b for b in document.blocks if isinstance(b, Figure) and "as it takes its shape" in b.alternative]


def yarn(document):
    (table,) = [b for b in document.blocks if isinstance(b, Table) and "computed" in " ".join(b.head)]
    at = next(n for n, head in enumerate(table.head) if "computed" in head)
    return table.head[at], [row[at] for row in table.rows]


def test_a_piece_in_space_is_shown_where_that_is_asked():
    work = WorkUp(TUBE)
    (figure,) = figures(work.sheet(cloth=True))
    assert figure.alternative == "Bollard Cosy in size small, seen a little from above as it takes its shape."
    assert figure.drawing.width_mm <= 56
    assert figure.drawing.height_mm <= 62
    assert figures(work.sheet()) == []


def test_what_lies_flat_is_its_outline():
    assert figures(WorkUp(SQUARE).sheet(cloth=True)) == []


def test_her_own_picture_goes_before_it():
    text = TUBE.replace("Yarn:", "Picture: cosy.png | a cosy on its bollard\nYarn:")
    document = WorkUp(text).sheet(cloth=True, pictures={"cosy.png": b"a picture"})
    assert figures(document) == []
    assert any(isinstance(b, Photo) for b in document.blocks)


def test_each_size_has_its_yarn_as_reckoned_by_cloth():
    work = WorkUp(TUBE)
    head, cells = yarn(work.sheet())
    assert re.fullmatch(r"Yarn as computed, give or take \d+%", head)
    for size, cell in zip(work.sizes, cells, strict=True):
        (use,) = work.yarn(size).uses
        metres, grams = map(float, re.fullmatch(r"([\d.]+) m, ([\d.]+) g", cell).groups())
        assert metres == pytest.approx(use.metres, abs=2.5)
        assert grams == pytest.approx(use.metres / 2, abs=0.5)
        off = int(re.search(r"(\d+)%", head)[1]) / 100
        assert use.least >= use.metres * (1 - off)
        assert use.most <= use.metres * (1 + off)


def test_a_pattern_in_one_size_says_it_among_the_materials():
    (said,) = [
        plain(b.words)
        for b in WorkUp(SQUARE).sheet().blocks
        if isinstance(b, Paragraph) and not b.hers and "computed" in plain(b.words)
    ]
    assert "\u00a0m" in said  # a number stays with its unit
    said = said.replace("\u00a0", " ")
    assert re.search(r"A about [\d.]+ m, [\d.]+ g and B about [\d.]+ m, [\d.]+ g, give or take \d+%\.", said)


def test_yarn_is_told_in_yards_and_ounces_where_that_is_asked():
    _, cells = yarn(WorkUp(TUBE).sheet(units="imperial"))
    assert all(re.fullmatch(r"[\d.]+ yd, [\d.]+ oz", cell) for cell in cells)


def test_without_a_gauge_nothing_is_reckoned():
    document = WorkUp(re.sub("Gauge:.*", "", TUBE)).sheet(cloth=True)
    assert "computed" not in to_text(document)
    assert figures(document) == []


def test_the_text_still_reads_back():
    again = WorkUp(to_text(WorkUp(HAT).sheet(cloth=True)))
    assert not [f for f in again.findings() if f.severity == "error"]


def test_pieces_that_are_joined_in_words_alone_are_not_shown_lying_about():
    loose = TUBE.replace("Bind off.", "Bind off.\n\n## Lid\nCast on 10 sts.\nKnit 12 rows.\nBind off.")
    assert figures(WorkUp(loose).sheet(cloth=True)) == []
