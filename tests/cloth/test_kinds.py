"""The kind of cloth is told from the stitches: cloths knitted from words, each judged by its faces and deeds."""

import numpy as np
import pytest

from purlwright.cloth.kinds import ClothKind, kind_of_stitches, rows_spanned
from purlwright.workup import WorkUp


def knitted(text):
    work = WorkUp(text)
    found = work.knitted()
    assert not found.unproved, [f.problem.message() for f in work.findings()]
    return found


def share(text, kind):
    """How much of a knitting is of one kind."""
    kinds = kind_of_stitches(knitted(text))
    return float((kinds == kind).mean())


FLAT = "Cast on {n} sts.\nRow 1 (RS): {a}\nRow 2: {b}\nRep rows 1 and 2 12 times more.\nBind off.\n"
ROUND = "Cast on {n} sts. Join to work in the round.\nRnd 1: {a}\nRnd 2: {b}\nRep rnds 1 and 2 12 times more.\nBind off.\n"

K = ClothKind


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        (K.STOCKINETTE, FLAT.format(n=24, a="Knit.", b="Purl.")),
        (K.STOCKINETTE, FLAT.format(n=24, a="Purl.", b="Knit.")),
        (K.STOCKINETTE, ROUND.format(n=24, a="Knit.", b="Knit.")),
        (K.GARTER, FLAT.format(n=24, a="Knit.", b="Knit.")),
        (K.GARTER, FLAT.format(n=24, a="Purl.", b="Purl.")),
        (K.GARTER, ROUND.format(n=24, a="Knit.", b="Purl.")),
        (K.RIB, FLAT.format(n=24, a="*K1, p1; rep from *.", b="*K1, p1; rep from *.")),
        (K.RIB, ROUND.format(n=24, a="*K2, p2; rep from *.", b="*K2, p2; rep from *.")),
        (K.RIB, ROUND.format(n=36, a="*K4, p2; rep from *.", b="*K4, p2; rep from *.")),
        (K.SEED, ROUND.format(n=24, a="*K1, p1; rep from *.", b="*P1, k1; rep from *.")),
        (K.SEED, FLAT.format(n=25, a="*K1, p1; rep from * to last st, k1.", b="*K1, p1; rep from * to last st, k1.")),
        (
            K.LACE,
            FLAT.format(n=36, a="*(k2tog) 3 times, (yo, k1) 6 times, (k2tog) 3 times; rep from *.", b="Purl."),
        ),
        (K.LACE, ROUND.format(n=24, a="*Yo, k2tog; rep from *.", b="Knit.")),
        (K.SLIPPED, FLAT.format(n=25, a="*K1, sl 1; rep from * to last st, k1.", b="Knit.")),
        (
            K.BRIOCHE,
            "Cast on 25 sts.\nSet-up row: *Sl1yo, k1; rep from * to last st, sl1yo.\nNext 20 rows: Work in brioche rib.\n",
        ),
    ],
)  # fmt: skip
def test_a_cloth_is_known_by_its_stitches(kind, text):
    assert share(text, kind) > 0.9


def test_cables_reach_as_far_as_they_draw():
    text = (
        "Cast on 36 sts. Join to work in the round.\nRnd 1: *2/2 RC, p2; rep from *.\nRnds 2-4: *K4, p2; rep from *.\n"
        "Rep rnds 1-4 6 times more.\nBind off.\n"
    )
    assert share(text, K.CABLE) > 0.9


def test_two_colours_by_turns_are_stranded_and_stripes_are_not():
    header = "Yarn: MC, wool\nYarn: CC, wool\n\n"
    stranded = ROUND.format(n=24, a="*K2 MC, k2 CC; rep from *.", b="*K1 CC, k2 MC, k1 CC; rep from *.")
    stripes = ROUND.format(n=24, a="With MC, knit.", b="With CC, knit.")
    assert share(header + stranded, K.STRANDED) > 0.9
    assert share(header + stripes, K.STOCKINETTE) == 1.0


def test_a_garter_border_stays_garter_and_the_middle_stays_plain():
    found = knitted(FLAT.format(n=40, a="Knit.", b="K5, p to last 5 sts, k5."))
    kinds, column = kind_of_stitches(found), found.fabric.column_of_stitch
    border = np.isin(column, [*range(4), *range(36, 40)])
    middle = (column >= 7) & (column < 33)
    assert (kinds[border] == K.GARTER).mean() > 0.95
    assert (kinds[middle] == K.STOCKINETTE).all()


def test_plain_beside_reversed_is_no_rib():
    assert share(FLAT.format(n=40, a="K20, p20.", b="K20, p20."), K.STOCKINETTE) > 0.9


def test_a_buttonhole_is_no_lace_and_a_slipped_edge_no_slip_stitch():
    hole = "Cast on 30 sts.\nKnit 12 rows.\nRow 13: K3, yo, k2tog, k to end.\nKnit 12 rows.\nBind off.\n"
    assert share(hole, K.GARTER) > 0.95
    edge = FLAT.format(n=24, a="Sl 1, k to end.", b="Sl 1, p to end.")
    assert share(edge, K.STOCKINETTE) == 1.0


def test_short_rows_stay_garter():
    text = "Cast on 30 sts.\nKnit 6 rows.\nRow 7: K20, turn.\nRow 8: Knit to end.\nKnit 6 rows.\nBind off.\n"
    assert share(text, K.GARTER) == 1.0
    assert set(rows_spanned(knitted(text)).tolist()) == {1}


def test_a_slipped_stitch_is_as_high_as_the_rows_it_passes():
    text = "Cast on 5 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: K2, sl 1, k2.\nRow 4: P2, sl 1, p2.\nRow 5: Knit.\n"
    found = knitted(text)
    last = rows_spanned(found)[-5:].tolist()
    assert last == [1, 1, 3, 1, 1]


def test_loops_that_waited_on_a_holder_are_no_slipped_stitches():
    text = (
        "Cast on 20 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nPlace the last 10 sts on a holder.\n"
        "Row 3: Knit.\nRow 4: Purl.\nRow 5: Knit.\nRow 6: Purl.\nBind off.\n"
    )
    work = WorkUp(text)
    assert rows_spanned(work.knitted()).max() == 1


@pytest.mark.parametrize("text", ["", "Cast on 1 st.\nRow 1: Knit.\n", "Cast on 3 sts.\n"])
def test_nothing_one_stitch_and_a_bare_edge(text):
    found = WorkUp(text).knitted()
    kinds = kind_of_stitches(found)
    assert len(kinds) == found.fabric.n == len(rows_spanned(found))
    assert (kinds == K.STOCKINETTE).all()
