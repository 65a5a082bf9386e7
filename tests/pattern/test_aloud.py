"""Words as they are heard: stitches by their names in full, groups told in words."""

import pytest

from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.text import Source


def steps(text):
    pattern = read_pattern(Source(f"Cast on 30 sts.\n{text}\n"))
    assert not pattern.findings, [f.problem.message() for f in pattern.findings]
    return tuple(tree.bare(a) for a in list(pattern.lines)[1].actions)


@pytest.mark.parametrize(
    ("heard", "written"),
    [
        ("Knit 1, slip slip knit, knit 2.", "K1, ssk, k2."),
        ("Slip slip purl, purl 2.", "Ssp, p2."),
        ("Knit front and back, knit 2.", "Kfb, k2."),
        ("Knit 1, left twist, knit 1.", "K1, LT, k1."),
        ("Purl 1, three over three left cross, purl 1.", "P1, 3/3 LC, p1."),
        ("Two over one right purl cross.", "2/1 RPC."),
        ("Two over two around one left cross, knit 1.", "2/1/2 LC, k1."),
        ("Slip one with a yarn over, brioche knit, knit 1.", "Sl1yo, brk, k1."),
        ("Slip one knit two together pass over, knit 1.", "Sk2p, k1."),
    ],
)
def test_a_stitch_is_known_by_its_whole_name(heard, written):
    assert steps(f"Row 1: {heard}") == steps(f"Row 1: {written}")


@pytest.mark.parametrize(
    ("heard", "written"),
    [
        ("Repeat the following 3 times: yarn over, knit two together, end of repeat, knit 2.", "[yo, k2tog] 3 times, k2."),
        ("Knit 1, repeat the following to last stitch: purl 1, knit 1, end of repeat, purl 1.", "K1, [p1, k1] to last st, p1."),
        (
            "Repeat the following twice: knit 1, repeat the following 4 times: purl 1, end of repeat, end of repeat.",
            "[k1, [p1] 4 times] twice.",
        ),
        ("Knit 1, repeat the following across: purl 1, knit 1, end of repeat, knit 1.", "K1, *p1, k1; rep from *, k1."),
        (
            "Knit 2, work all of this into the next stitch: knit 1, yarn over, knit 1, end of group, knit 2.",
            "K2, (k1, yo, k1) in the next stitch, k2.",
        ),
    ],
)  # fmt: skip
def test_a_group_told_in_words_is_a_group(heard, written):
    assert steps(f"Row 1: {heard}") == steps(f"Row 1: {written}")


@pytest.mark.parametrize(
    "text",
    [
        "Row 1: Repeat the following 3 times: knit 1, purl 1.",
        "Row 1: Knit 1, end of repeat, purl 1.",
        "Row 1: Repeat the following: end of repeat, end of repeat.",
        "Row 1: Work all of this into the next stitch: group.",
    ],
)
def test_a_group_that_does_not_close_is_told_and_never_guessed(text):
    pattern = read_pattern(Source(text))
    assert pattern.findings
    for finding in pattern.findings:
        assert 0 <= finding.span.start <= finding.span.end <= len(text)
