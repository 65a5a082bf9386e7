"""Faults that later twins brought up: half a figure, buttonholes, short rows of three a side, sleeves."""

import pytest

from purlwright.workup import WorkUp

PANEL = """# Plover Panel
Cast on 17 sts.
Row 1 (RS): K6, k2tog, yo, k1, yo, ssk, k6.
Row 2 and all WS rows: K2, p13, k2.
Row 3: K5, k2tog, yo, k3, yo, ssk, k5.
Row 5: K4, [k2tog, yo] twice, k1, [yo, ssk] twice, k4.
Row 7: K3, [k2tog, yo] twice, k3, [yo, ssk] twice, k3.
Row 9: K2, [k2tog, yo] 3 times, k1, [yo, ssk] 3 times, k2.
Row 10: K2, p13, k2.
Bind off all sts.
"""
BAND = """# Signal Band
Notions: 6 buttons
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch
Cast on 98 sts.
Row 1: *K1, p1; rep from * to end.
Row 2 (buttonholes): Rib 3, [bind off 2 sts, rib 16] 5 times, bind off 2 sts, rib 3.
Row 3: Rib 3, [cast on 2 sts, rib 16] 5 times, cast on 2 sts, rib 3. (98 sts)
Bind off all sts.
"""
HOOD = """# Lee Hood
Sizes: S (M)
Cast on 60 (66) sts.
Row 1 (RS): Knit to last 6 (7) sts, w&t.
Row 2 (WS): Purl to last 6 (7) sts, w&t.
Row 3: Knit to last 12 (14) sts, w&t.
Row 4: Purl to last 12 (14) sts, w&t.
Row 5: Knit to last 18 (21) sts, w&t.
Row 6: Purl to last 18 (21) sts, w&t.
Row 7: Knit to end, working the wraps with their sts.
Row 8: Purl to end, working the wraps with their sts.
Bind off all sts.
"""
SLEEVE = """# Cox Pullover
To fit: bust 92 cm
Finished size: bust 106 cm; sleeve 34 cm round at the top
Gauge: 18 sts and 24 rows = 10 cm in stockinette stitch
## Back and front (make 2)
Cast on 96 sts.
Work 142 rows in stockinette stitch.
Bind off all sts.
## Sleeves (make 2)
Cast on 42 sts.
Row 1 (RS): Kfb, knit to last 2 sts, kfb, k1.
Row 2 (WS): Purl.
Rep rows 1 and 2 nine times more. (62 sts)
Work 40 rows in stockinette stitch.
Bind off all sts.
## Finishing
Sew the bound-off edge of each sleeve to the sides of back and front, 17 cm down from the shoulder. Weave in ends.
"""


def grave(text):
    work = WorkUp(text)
    return {
        (f.code, work.source.place(f.span.start)[0])
        for f in work.proved().findings
        if f.severity.value != "note"
    }


@pytest.mark.parametrize(
    ("clean", "right", "wrong", "code", "line"),
    [
        (PANEL, "k3, [yo, ssk] twice, k3.", "k5, yo, ssk, k3.", "mirror-broken", 7),
        (
            BAND,
            "rib 16] 5 times, bind off 2 sts, rib 3.",
            "rib 16] 3 times, [bind off 2 sts, rib 12] twice, bind off 2 sts, rib 11.",
            "buttonholes-uneven",
            6,
        ),
        (HOOD, "Row 4: Purl to last 12 (14)", "Row 4: Purl to last 22 (14)", "turn-out-of-step", 7),
        (SLEEVE, "nine times more. (62", "once more. (46", "width-differs", 3),
    ],
)
def test_a_fault_is_found_and_its_twin_is_quiet(clean, right, wrong, code, line):
    assert clean.count(right) == 1
    before, after = grave(clean), grave(clean.replace(right, wrong))
    assert (code, line) in after - before
    assert code not in {c for c, _ in before}


def test_where_a_seam_runs_is_read():
    assert "not-read" not in {c for c, _ in grave(SLEEVE)}
    assert "not-read" not in {
        c for c, _ in grave(SLEEVE.replace(", 17 cm down from the shoulder", ", easing in any fullness"))
    }


def test_crochet_cotton_asks_for_no_hook():
    text = (
        "# Mat\nNeedles: 2 mm\nNotions: tapestry needle\nCast on 20 sts.\nKnit 10 rows.\nBind off all sts.\n"
        "Sew up with the tapestry needle and crochet cotton. Weave in ends.\n"
    )
    assert "used-not-listed" not in {c for c, _ in grave(text)}
    hook = grave(text.replace("crochet cotton", "a crochet hook"))
    assert "used-not-listed" in {c for c, _ in hook}
