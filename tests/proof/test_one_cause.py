"""One slip of the pen gives one finding, set on the very words, and the last word is true."""

import pytest

from purlwright.proof.last_word import last_word
from purlwright.workup import WorkUp

HAT = """\
# Eider Hat

Sizes: child (adult, large)

Cast on 80 (88, 96) sts. Join in the round.
Rnd 1: *K2, p2; rep from * around.
Rnd 2: K40 (44, 48), p40 (44, 48).
Rnd 3: Knit.
Rnd 4: [K8 (9, 10), k2tog] 8 times. (72 (80, 88) sts)
Rnd 5: As rnd 3.
Bind off all sts.
"""


def found(right, wrong):
    assert HAT.count(right) == 1
    work = WorkUp(HAT.replace(right, wrong))
    proved = work.proved()
    findings = [(f.code, work.source.words(f.span), f.sizes) for f in proved.findings]
    said = last_word(proved.sizes, proved.findings, proved.verdicts, work.source, knitted=True)
    return findings, said


def test_the_hat_as_it_should_be():
    assert WorkUp(HAT).proved().findings == ()


@pytest.mark.parametrize(
    ("right", "wrong", "code", "words", "sizes"),
    [
        ("(72 (80, 88) sts)", "(72 (80, 89) sts)", "total-differs", "89", ("large",)),
        ("(72 (80, 88) sts)", "(72 (81, 89) sts)", "total-differs", "(72 (81, 89) sts)", ()),
        ("[K8 (9, 10), k2tog]", "[K8 (8, 10), k2tog]", "count-differs", "8", ("adult",)),
        ("p40 (44, 48)", "p40 (44, 49)", "count-differs", "p40 (44, 49)", ("large",)),
        ("80 (88, 96) sts", "80 (88) sts", "size-list-length", "80 (88)", ()),
        ("K40 (44, 48)", "K40 (44)", "size-list-length", "40 (44)", ()),
        ("K40 (44, 48)", "K40 (44, 48", "unclosed-bracket", "(", ()),
        ("K8 (9, 10)", "K8 (9, 10", "unclosed-bracket", "(", ()),
        ("(72 (80, 88) sts)", "(72 (80, 88 sts)", "unclosed-bracket", "(", ()),
        ("k2tog] 8", "k2tog 8", "unclosed-bracket", "[", ()),
        ("[K8", "K8", "not-read", "] 8 times", ()),
        ("As rnd 3", "As rnd 7", "no-such-row", "As rnd 7", ()),
    ],
)
def test_one_slip_gives_one_finding(right, wrong, code, words, sizes):
    findings, _ = found(right, wrong)
    assert {(c, w) for c, w, _ in findings} == {(code, words)}
    if sizes:
        assert [s for _, _, s in findings] == [sizes]


@pytest.mark.parametrize(
    ("right", "wrong"), [("As rnd 3", "As rnd 7"), ("80 (88, 96) sts", "80 (88) sts"), ("*K2", "K2")]
)
def test_a_knitter_who_is_stuck_has_not_knitted_to_the_end(right, wrong):
    _, said = found(right, wrong)
    assert said.startswith("No size can be knitted as written")


def test_a_row_that_stands_there_is_not_said_to_be_missing():
    words = "# A\n\nCast on 20 sts.\nRow 1: K2tgo.\nRow 2: Purl.\nBind off.\nRow 3: As row 2.\n"
    assert "no-such-row" not in [f.code for f in WorkUp(words).findings()]


CLOTH = """\
# Dishcloth

Needles: 4 mm

Cast on 4 sts.
Row 1: K2, yo, knit to end. (5 sts)
Rep row 1 until there are 40 sts.
Row 2: K1, k2tog, yo, k2tog, knit to end. (39 sts)
Rep row 2 until 4 sts remain.
Bind off all sts.
"""


@pytest.mark.parametrize(
    ("right", "wrong"), [("K2, yo, knit", "K3, knit"), ("k2tog, yo, k2tog, knit", "k2tog, yo, knit")]
)
def test_a_row_that_does_not_give_its_total_is_not_told_again_by_what_never_comes(right, wrong):
    assert WorkUp(CLOTH).proved().findings == ()
    assert [f.code for f in WorkUp(CLOTH.replace(right, wrong)).proved().findings] == ["total-differs"]


def test_a_number_that_is_never_reached_is_told_where_the_rows_give_their_totals():
    wrong = CLOTH.replace("until there are 40 sts", "until there are 3 sts").replace("39 sts", "50 sts")
    assert "never-reached" in [f.code for f in WorkUp(wrong).proved().findings]
