"""Texts that no designer means: each is answered with a clear finding, soon, and none is a fault of ours."""

import time

import pytest

from purlwright.workup import WorkUp

CAST_ON = "# Quay Trial\n\n## Piece\nCast on 20 sts.\n"
LACE = "# Quay Trial\n\n## Lace pattern\nRow 1: Work lace pattern.\n\n## Piece\nCast on 20 sts.\n"

NASTY = {
    "grows without end": ("# T\n\nCast on 2 sts.\nRow 1: Kfb across.\nRep row 1 100 times.\n", "too-much-knitting"),
    "grows past a count": (
        "# T\n\nCast on 2 sts.\nRow 1: *Kfb; rep from * to end.\nRep row 1 until there are 400001 sts.\n",
        "never-reached",
    ),
    "a stitch that is itself": (
        "# T\n\n## Special stitches\nbob: k1, bob.\n\n## Piece\nCast on 9 sts.\nRow 1: Bob, k to end.\n",
        "explained-by-itself",
    ),
    "two stitches that are each other": (
        "# T\n\n## Special stitches\nbob: k1, bab.\nbab: bob, k1.\n\n## Piece\nCast on 9 sts.\nRow 1: Bob, k to end.\n",
        "explained-by-itself",
    ),
    "a pattern that is itself": (LACE + "Row 1: Work lace pattern.\n", "explained-by-itself"),
    "a row of one long word": (CAST_ON + f"Row 1: {'k' * 100_000}.\nBind off.\n", "not-read"),
    "a row of talk": (CAST_ON + "Row 1: Blorp and blorp again.\nBind off.\n", "not-read"),
    "brackets never closed": (CAST_ON + f"Row 1: {'[k1, ' * 3000}{']' * 3000} 2 times.\n", "nested-too-deep"),
    "ten thousand brackets": (CAST_ON + f"Row 1: {'[' * 10_000}k1{']' * 10_000}.\n", "nested-too-deep"),
    "five thousand markers": (CAST_ON + f"Row 1: {'pm, ' * 5000}k20.\n", "line-too-long"),
    "a repeat of a milliard": (CAST_ON + "Row 1: [k1, p1] 1000000000 times.\nBind off.\n", "number-too-large"),
    "rows copied over and over": (
        CAST_ON + "Row 1: Knit.\n" + "".join(f"Rows {2**i + 1}-{2 ** (i + 1)}: Rep rows 1-{2**i}.\n" for i in range(20)),
        "too-much-knitting",
    ),
    "rows that are each other": (CAST_ON + "Row 1: As row 2.\nRow 2: As row 1.\nBind off.\n", "no-such-row"),
    "a gap where none is": (CAST_ON + "Row 1: Knit to gap, turn.\nBind off.\n", "no-such-gap"),
}  # fmt: skip


@pytest.mark.parametrize("name", NASTY)
def test_a_nasty_text_gets_a_clear_finding_soon(name):
    text, code = NASTY[name]
    began = time.perf_counter()
    work = WorkUp(text)
    found = [f.code for f in work.proved().findings]
    work.repairs()
    assert code in found
    assert time.perf_counter() - began < 60  # a hang, not a slow machine
