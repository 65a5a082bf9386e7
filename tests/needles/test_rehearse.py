"""Rows tried on other loops: nothing stays changed, and what is said of them is true."""

import pytest

from purlwright.needles.knit import knit
from purlwright.needles.rehearse import Lie, lay, lie_of
from purlwright.workup import WorkUp

RIB = """\
# Tern
Cast on 20 sts.
Row 1 (RS): *K2, p2; rep from * to end.
Row 2: *K2, p2; rep from * to end.
Row 3: K5, pm, k to last 5 sts, pm, k5.
Row 4: Purl.
Row 5: K to m, sm, k2tog, k to m, sm, k5. (19 sts)
Bind off.
"""


def tried(text, by):
    """Each row tried with ``by`` loops more at the far end of the needle."""
    work = WorkUp(text)
    out = {}

    def watch(row):
        out[row.order] = row.work(row.lie._replace(left=row.lie.left + by))

    return knit(work.pattern, watch=watch), out, work


@pytest.mark.parametrize("by", [-3, -1, 0, 1, 2])
def test_trying_changes_nothing(by):
    knitted, _, work = tried(RIB, by)
    plain = work.knitted()
    assert knitted.ledger == plain.ledger
    assert knitted.findings == plain.findings
    assert (knitted.fabric.op_of_stitch == plain.fabric.op_of_stitch).all()
    assert (knitted.fabric.parent == plain.fabric.parent).all()
    assert len(knitted.log) == len(plain.log)


def test_on_the_right_loops_every_row_is_as_it_was():
    knitted, out, _ = tried(RIB, 0)
    for entry in knitted.ledger.entries[1:]:
        assert out[entry.order].fits
        assert out[entry.order].done.live == entry.end


def test_what_is_left_over_of_a_repeat_is_told():
    _, out, _ = tried(RIB, 1)
    assert (out[2].fits, out[2].off, out[2].each) == (False, 1, 4)


def test_what_is_lacking_before_a_marker_is_told():
    _, out, _ = tried(RIB, -1)
    assert out[4].fits, "k to the last 5 comes out on any number"
    assert out[5].fits, "so does purl"


def test_loops_lie_as_they_are_laid():
    work = WorkUp(RIB)
    seen = []
    knit(work.pattern, watch=lambda row: seen.append((row.lie, lie_of(lay(row.lie, row._k.worker.needles)))))
    assert seen
    assert all(a == b for a, b in seen)


def test_loops_that_are_lacking_are_made_up():
    work = WorkUp(RIB)
    seen = []
    knit(work.pattern, watch=lambda row: seen.append(lie_of(lay(Lie(31, 4), row._k.worker.needles))))
    assert {(lie.left, lie.right) for lie in seen} == {(31, 4)}
