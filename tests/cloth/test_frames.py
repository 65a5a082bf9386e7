"""Frames: each stitch once, standing as the settled cloth has it, and named for what was done."""

import numpy as np
import pytest

from purlwright.cloth.frames import StitchShape, stitch_frames
from purlwright.workup import WorkUp

PLAIN = "Gauge: 20 sts and 28 rows = 10 cm\nCast on 20 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRep rows 1 and 2 9 times more.\n"


def framed(text):
    work = WorkUp(text)
    knitted = work.knitted()
    return work, knitted, stitch_frames(knitted, work.settled())


def test_a_plain_piece_has_upright_frames_as_large_as_its_stitches():
    _, knitted, frames = framed(PLAIN + "Bind off.\n")
    assert len(frames.stitch) == knitted.fabric.n == 20 * 22
    inner = (frames.shape == StitchShape.KNIT) & (frames.order > 2)
    assert inner.sum() == 20 * 19
    assert np.linalg.norm(frames.wale_mm[inner], axis=1) == pytest.approx(100 / 28, rel=0.01)
    assert np.linalg.norm(frames.course_mm[inner], axis=1) == pytest.approx(5.0, rel=0.02)
    # x to the right, y upwards, the right side towards the eye
    assert frames.wale_mm[inner][:, 1].min() > 3.4
    assert frames.course_mm[inner][:, 0].min() > 4.8
    assert frames.normal[inner][:, 2].min() > 0.97


def test_course_wale_and_normal_are_square_to_each_other_and_turn_one_way():
    _, _, frames = framed(
        "Cast on 40 sts. Join to work in the round.\nKnit 10 rounds.\nRnd 11: *K2, k2tog; rep from * to end.\n"
        "Knit 4 rounds.\n"
    )
    turned = np.cross(frames.course_mm, frames.wale_mm)
    lengths = np.linalg.norm(frames.course_mm, axis=1) * np.linalg.norm(frames.wale_mm, axis=1)
    assert np.einsum("ij,ij->i", turned, frames.normal) == pytest.approx(lengths, rel=1e-4)


def test_each_stitch_is_named_for_what_the_right_side_shows():
    work, _, frames = framed(
        "Cast on 16 sts.\nRow 1 (RS): K2, ssk, yo, k2tog, yo, p2, sl1 wyib, k2, sl1-k2tog-psso, k2.\n"
        "Row 2: Purl.\nRow 3: K2, 2/2 RC, knit to end.\nRow 4: Purl to last 2 sts, p2tog.\nBind off.\n"
    )
    words = [work.source.text[a:b] for a, b in frames.span.tolist()]
    shape_of = {
        w: {StitchShape(s) for s, v in zip(frames.shape, words, strict=True) if v == w} for w in set(words)
    }
    assert shape_of["ssk"] == {StitchShape.DECREASE_LEFT}
    assert shape_of["k2tog"] == shape_of["p2tog"] == {StitchShape.DECREASE_RIGHT}
    assert shape_of["sl1-k2tog-psso"] == {StitchShape.DECREASE_LEFT}
    assert shape_of["yo"] == {StitchShape.YARN_OVER}
    assert shape_of["p2"] == {StitchShape.PURL}
    assert shape_of["2/2 RC"] == {StitchShape.CROSSED}
    assert {StitchShape(s) for s in frames.shape[frames.order == frames.order[-1]]} == {StitchShape.BOUND_OFF}
    cast_on = frames.shape == StitchShape.CAST_ON
    assert (frames.shape[:16] != StitchShape.KNIT).all()
    assert cast_on.sum() == 15  # the other one was slipped later
    assert (frames.shape == StitchShape.SLIPPED).sum() == 1


def test_nothing_knitted_has_no_frames():
    _, _, frames = framed("Gauge: 20 sts and 28 rows = 10 cm\n")
    assert frames.at_mm.shape == (0, 3)
    assert len(frames.stitch) == len(frames.shape) == 0
