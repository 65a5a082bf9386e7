"""Outlines to scale, and the wrong side of the whole: a drawing is as large as the cloth over its scale."""

import re

import numpy as np
import pytest

from purlwright.cloth.outlines import outlines
from purlwright.cloth.portrait import NoWrongSide, portrait, standing
from purlwright.cloth.schematic import PAPER
from purlwright.drawing import Group, Path, to_svg
from purlwright.workup import WorkUp

GAUGE = "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch\n\n"
PLAIN = "Row 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 {n} times more.\n"
SQUARE = f"{GAUGE}Cast on 40 sts.\n{PLAIN.format(n=27)}Bind off.\n"
TUBE = f"{GAUGE}Cast on 80 sts and join in the round.\nKnit 40 rnds.\nBind off.\n"


def drawn(text):
    work = WorkUp(text)
    settled = work.settled(lies="blocked") if "round" not in text else work.settled()
    return list(outlines(work.knitted(), settled, work.title))


def paths(shape):
    for one in shape.shapes:
        if isinstance(one, Group):
            yield from paths(one)
        elif isinstance(one, Path) and one.ink.fill == PAPER:
            yield one


def extent(one):
    (path,) = paths(one.drawing)
    at = np.array([step[1:3] for step in path.steps if len(step) == 3])
    return np.ptp(at, axis=0)


def times(one):
    found = re.search(r"1 cm of the drawing is (\d+) cm", one.words)
    return int(found[1]) if found else 1


def test_a_square_is_drawn_as_large_as_its_stitches_over_the_scale():
    (one,) = drawn(SQUARE)
    assert "pinned out" in one.words
    # 40 stitches are 200 mm; 56 rows, and the line of the bind-off, 200 mm
    assert extent(one) * times(one) == pytest.approx([200, 57 / 28 * 100], rel=0.03)
    svg = to_svg(one.drawing, title=one.name, description=one.words)
    assert "width: 20 cm (" in svg
    assert "begin here" in svg


def test_a_tube_is_laid_flat_and_says_so():
    (one,) = drawn(TUBE)
    assert "its rows laid straight" in one.words
    assert extent(one)[0] * times(one) == pytest.approx(200, rel=0.03)
    assert float(re.search(r"round about: ([\d.]+) cm", one.words)[1]) == pytest.approx(40, rel=0.03)


def test_pieces_share_a_scale_and_copies_are_drawn_once():
    sleeve = f"## Sleeves (make 2)\nCast on 20 sts.\n{PLAIN.format(n=9)}Bind off.\n"
    found = drawn(f"{GAUGE}## Back\nCast on 120 sts.\n{PLAIN.format(n=9)}Bind off.\n{sleeve}")
    assert [one.name for one in found] == ["Back", "Sleeves"]
    assert len({times(one) for one in found}) == 1
    assert extent(found[0])[0] == pytest.approx(6 * extent(found[1])[0], rel=0.05)


def test_a_rib_is_drawn_as_narrow_as_it_is():
    rib = "Rnds 1-20: *K2, p2; rep from * to end.\n"
    (one,) = drawn(f"{GAUGE}Cast on 80 sts and join in the round.\n{rib}Knit 40 rnds.\nBind off.\n")
    (path,) = paths(one.drawing)
    at = np.array([step[1:3] for step in path.steps if len(step) == 3])
    lower = at[at[:, 1] >= at[:, 1].max() - 0.5]
    assert np.ptp(lower[:, 0]) < 0.95 * np.ptp(at[:, 0])


def test_without_a_size_there_is_no_outline():
    assert drawn("Cast on 12 sts.\nKnit 8 rows.\nBind off.\n") == []


def test_a_tube_is_turned_inside_out():
    work = WorkUp(TUBE)
    right, told = portrait(work.knitted(), work.settled())
    wrong, said = portrait(work.knitted(), work.settled(), side="wrong")
    assert "inside out" in said
    assert "inside out" not in told
    assert (wrong.width_mm, wrong.height_mm) == pytest.approx((right.width_mm, right.height_mm), rel=0.05)

    def pale(drawing):
        fills = [p.ink.fill for p in drawing.shapes[0].shapes]
        return np.mean([int(f[1:3], 16) for f in fills[-len(fills) // 3 :]])  # what is nearest

    assert pale(wrong) > pale(right) + 10


def test_a_flat_piece_is_turned_over():
    work = WorkUp(SQUARE)
    drawing, told = portrait(work.knitted(), work.settled(lies="blocked"), side="wrong")
    assert told.startswith("The wrong side")
    assert drawing != portrait(work.knitted(), work.settled(lies="blocked"))[0]


def test_what_has_one_side_only_cannot_be_turned():
    from dataclasses import replace

    work = WorkUp(TUBE)
    settled = work.settled()
    with pytest.raises(NoWrongSide, match="one side only"):
        standing(work.knitted(), replace(settled, mesh=replace(settled.mesh, one_sided=True)), side="wrong")
