"""Each kind of clue, in a small pattern whose clue was worked out by hand."""

import pytest

from purlwright.lesson.clues.kinds import clues_of
from purlwright.lesson.reading import _gauge
from purlwright.lesson.rows import parts_of
from purlwright.workup import WorkUp

WEDGE = """\
Cast on 20 sts.
## Wedge
Row 1 (RS): Knit.
Row 2 (WS): K16, turn.
Row 3: Knit.
Row 4: K12, turn.
Row 5: Knit.
Row 6: K8, turn.
Row 7: Knit.
Row 8: Knit.
Rep rows 1-8 once more.
"""
RAISED = """\
Cast on 9 sts.
## Sail
Row 1 (RS): K2, yo, k to last 2 sts, yo, k2.
Row 2 (WS): Purl.
Rep rows 1 and 2 four times more.
"""
POINT = """\
Cast on 12 sts.
## Tip
Row 1 (RS): K1, ssk, k to last 3 sts, k2tog, k1.
Row 2 (WS): Purl.
Rep rows 1 and 2 twice more.
Row 7: K1, ssk, k2tog, k1.
Row 8: Purl.
"""
ONE_EDGE = """\
Cast on 20 sts.
## Side
Row 1 (RS): K1, ssk, k to end.
Row 2 (WS): Purl.
Rep rows 1 and 2 four times more.
"""
CABLE = """\
Cast on 10 sts.
## Rope
Row 1 (RS): P3, 2/2 RC, p3.
Row 2 (WS): K3, p4, k3.
Row 3: P3, k4, p3.
Row 4: K3, p4, k3.
Rep rows 1-4 three times more.
"""
LACE = """\
Cast on 25 sts.
## Fern
Row 1 (RS): K2, *yo, k2, sk2p, k2, yo, k1; rep from * to last 7 sts, k7.
Row 2 (WS): Purl.
Rep rows 1 and 2 three times more.
"""
STACKED = """\
Cast on 11 sts.
## Bud
Row 1 (RS): K3, k2tog, yo, k1, yo, ssk, k3.
Row 2 (WS): Purl.
Row 3: K4, yo, sk2p, yo, k4.
Row 4: Purl.
Rep rows 1-4 twice more.
"""
WALKS = """\
Cast on 12 sts.
## Walk
Row 1 (RS): K2, k2tog, yo, k8.
Row 2 (WS): Purl.
Row 3: K3, k2tog, yo, k7.
Row 4: Purl.
Row 5: K4, k2tog, yo, k6.
Row 6: Purl.
Row 7: K5, k2tog, yo, k5.
Row 8: Purl.
"""
TIP = """\
Cast on 24 sts. Join to work in the round and place a marker.
## Tip
Rnd 1: K1, ssk, k18, k2tog, k1.
Rnd 2: Knit.
Rnd 3: K1, ssk, k16, k2tog, k1.
Rnd 4: Knit.
Rnd 5: K1, ssk, k14, k2tog, k1.
"""
GUSSET = """\
Cast on 11 sts.
## Gusset
Row 1 (RS): K4, pm, m1l, k3, m1r, pm, k4.
Row 2 (WS): Purl.
Row 3: K4, sm, m1l, k to m, m1r, sm, k4.
Row 4: Purl.
Row 5: K4, sm, m1l, k to m, m1r, sm, k4.
Row 6: Purl.
"""
SPINE = """\
Cast on 7 sts.
## Spine
Row 1 (RS): K3, yo, pm, k1, pm, yo, k3.
Row 2 (WS): Purl.
Row 3: K1, yo, k to m, sm, k1, sm, k to last st, yo, k1.
Row 4: Purl.
Row 5: K1, yo, k to m, sm, k1, sm, k to last st, yo, k1.
Row 6: Purl.
"""
GARTER = "Cast on 12 sts.\n## Band\nKnit 8 rows.\n"
SLIPPED = "Cast on 12 sts.\n## Flap\nRow 1 (RS): Sl 1, k11.\nRow 2 (WS): Sl 1, p11.\nRep rows 1 and 2 five times more.\n"
SEED = (
    "Cast on 9 sts.\n## Seed\nRow 1 (RS): *K1, p1; rep from * to last st, k1.\nRep row 1 seven times more.\n"
)
STOCKING = "Gauge: 20 sts and 30 rows = 10 cm\nCast on 40 sts.\n## Square\nRow 1 (RS): Knit.\nRow 2 (WS): Purl.\nRep rows 1 and 2 until 30 rows are done.\n"

WELT = "Cast on 8 sts.\nKnit 1 row.\n## Welt\nRow 1 (WS): Knit.\nRows 2-3: Knit.\nRow 4 (RS): Purl.\nRow 5: Knit.\n"

SMALL = [
    ("K01", WEDGE, "Always 20 stitches, those that wait beyond a turn counted too."),
    ("K02", RAISED, "2 stitches more after each right-side row, and the same number after each row between."),
    ("K03", RAISED, "You can never have an even number of stitches here."),
    ("K04", RAISED, "15 stitches: you have just finished row 1 for the 3rd time or the row after it."),
    ("K05", RAISED.replace("on 9", "on 17"), "You can never have 20 stitches here."),
    ("K06", GUSSET, "Outside the markers at either edge always 4 stitches."),
    ("K07", SPINE, "The stretches between the markers on either side of the middle always have the same number of stitches."),
    ("K08", LACE, "Every right-side row begins with 2 knit stitches and ends with a knit stitch."),
    ("K09", LACE, "After the last repeat exactly 7 stitches are left on the left needle."),
    ("K10", STACKED, "Each sk2p takes a yarn over, a plain stitch and a yarn over of the rows below."),
    ("K11", RAISED, "The first hole of a row always comes after the 2nd stitch and the last hole always has 2 stitches after it."),
    ("K12", WALKS, "The first hole stands 1 stitch farther from the beginning of the row every 2 rows."),
    ("K13", LACE, "Only right-side rows have holes."),
    ("K14", CABLE, "With the right side facing you, ready to begin: the next row has an odd number. Hang a clip on that side."),
    ("K15", GARTER, "Every two rows make one ridge: 4 ridges in all in this part, 8 rows."),
    ("K15", WEDGE, "For each ridge at the right edge there are 4 at the left one, as the right side shows them: 2 and 8 at the end of this part."),
    ("K16", SLIPPED, "One chain at each edge for every two rows: 6 chains at the end of this part."),
    ("K17", CABLE, "4 strands above the hole of the last crossing, that of its own row counted too: cross on the next row."),
    ("K18", WEDGE, "The open gaps stand 4 stitches apart, 3 at the most. Count them: so many turns are done."),
    ("K19", WEDGE, "Each short wrong-side row works 4 stitches fewer and leaves 4 more waiting beyond the turn than the one before."),
    ("K14", RAISED, "See at which hand the tail of the cast-on hangs as you begin row 1, the right side facing: it hangs there whenever the right side faces you, and at the other hand on every other row."),
    ("K20", WEDGE, "The right edge, where the turns are, goes in steps of 4; the left edge has every row and runs on without a step."),
    ("K20", RAISED, "Both edges lean out, away from each other."),
    ("K20", POINT, "Both edges lean in and meet in a point."),
    ("K20", ONE_EDGE, "The right edge leans in, and the left edge runs straight up, right side facing."),
    ("K20", CABLE, "Both edges run straight up, without a step."),
    ("K21", TIP, "Decreases in the right half lean to the left, those in the left half to the right: in to the middle, seen from the right side."),
    ("K22", CABLE, "Work each stitch as it shows: knit the V's and purl the bumps."),
    ("K22", SEED, "Work each stitch as it does not show: purl the V's and knit the bumps."),
    ("K23", RAISED, "2 rows with holes so far in this part: you have done row 1 for the 2nd time."),
    ("K24", STOCKING, "After the last row the stitches, laid flat, measure about 20 cm at the gauge, and the rows of this part about 10 cm up a column."),
    ("K25", GARTER, "Half of all the stitches are worked once you have done the 4th row of this part."),
    ("K26", WEDGE, "When 12 stitches wait beyond the last turn (row 6), there is no turn more before the rows go to the end again."),
    ("K26", RAISED, "With 19 stitches this part is done, after 1 row more without shaping."),
    ("K27", CABLE.replace("P3, k4, p3", "Knit"), "The side that faces you and how the stitches sit on those below together tell which row of the repeat you have just done (row 1 to row 4)."),
    ("K31", WELT, "Before row 5 the first stitch on the left needle is a V; before the other rows of this part it is not."),
]  # fmt: skip


def clues(text):
    work = WorkUp(f"# Skerry\n{text}", "small")
    knitted = work.knitted()
    assert not [f for f in work.findings() if f.severity.value == "error" and f.code != "left-live"]
    return [c for part in parts_of(knitted) for c in clues_of(part, *_gauge(work.pattern.gauges))]


@pytest.mark.parametrize(
    ("kind", "text", "words"), SMALL, ids=[f"{k}-{n}" for n, (k, _, _) in enumerate(SMALL)]
)
def test_the_clue_in_its_own_words(kind, text, words):
    found = [c.words for c in clues(text) if c.kind == kind]
    assert words in found


OWN_CABLE = """\
# Bollard
Abbreviations
C6F: slip 3 sts to cable needle, hold in front, k3, k3 from cable needle.

Cast on 32 sts and join to work in the round.
Rnds 1-3: *P2, k6; rep from * to end.
Rnd 4: *P2, C6F; rep from * to end.
Rep rnds 1-4 4 times more.
Bind off.
"""


def test_a_crossing_that_the_pattern_explains_itself_is_a_crossing():
    (part,) = parts_of(WorkUp(OWN_CABLE).knitted())
    words = [clue.words for clue in clues_of(part)]
    assert "Only round 4 has crossings." in words
    assert any(said.startswith("4 strands above the hole of the last crossing") for said in words)


def test_the_rows_of_a_heel_flap():
    text = (
        "# Flap\nCast on 56 sts and join to work in the round.\nKnit 4 rnds.\n## Heel flap\n"
        "Row 1 (RS): *Sl 1, k1; rep from * 13 times more, turn.\nRow 2: Sl 1, p27, turn.\nRep rows 1 and 2 5 times more.\n"
    )
    flap = parts_of(WorkUp(text).knitted())[-1]
    words = [clue.words for clue in clues_of(flap)]
    assert "Every row begins with a slipped stitch." in words
    assert any(said.startswith("The two open gaps stand 28 stitches apart.") for said in words)
