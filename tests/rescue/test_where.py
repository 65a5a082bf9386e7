"""Where am I? Exactly the rows that fit, always."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from purlwright.needles.looks import operations, within
from purlwright.rescue.fit import said_of
from purlwright.rescue.observe import Facts
from purlwright.rescue.where import NOTHING_TELLS, SEEN_IN_A_ROW, fact_of, where
from purlwright.workup import WorkUp
from rescue_work import NAMES, desk

ROWS = [(name, piece, look) for name in NAMES for piece, looks in desk(name).pieces for look in looks]


@given(st.sampled_from(ROWS), st.sets(st.sampled_from(SEEN_IN_A_ROW), min_size=1))
@settings(deadline=None, max_examples=300)
def test_the_exact_set_of_rows_that_fit(at, told):
    name, piece, look = at
    true = {fact: v for fact in told if (v := fact_of(look, fact)) is not None}
    found = desk(name).where(Facts().with_(true))
    got = {(f.piece, f.look.index) for f in found.rows}
    assert (piece, look.index) in got
    # whatever is listed shows the same, and nothing that shows the same is left out
    want = {
        (p, x.index)
        for p, looks in desk(name).pieces
        for x in looks
        if all(
            fact_of(x, fact) == v or (fact in NOTHING_TELLS and fact_of(x, fact) is None)
            for fact, v in true.items()
        )
    }
    assert got == want
    assert found.clash is None
    if found.next is not None:
        left = [rows for _, rows in found.answers]
        assert len(left) > 1, "a question that does not divide the rows is not asked"
        assert sum(map(len, left)) == len(got)


@given(st.sampled_from(ROWS), st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=100)
def test_the_row_is_found_in_mid_row(at, chance):
    name, piece, look = at
    states = list(within(look.entry, operations(desk(name).knitted)[look.entry.order]))
    if not states:
        return
    left, right = chance.choice(states)
    found = desk(name).where(Facts(on_left=left, on_right=right))
    assert (piece, look.index) in {(f.piece, f.look.index) for f in found.rows}
    assert all(f.worked == right for f in found.rows)


def test_a_count_that_cannot_be_is_said_with_those_beside_it():
    found = desk("gannet").where(Facts(sts=78))
    assert found.rows == ()
    assert found.clash.names == ("sts",)
    assert found.clash.nearest == (77, 81)
    assert {f.look.stitches for f in found.near} == {77}


def test_two_facts_that_clash_are_named_together():
    found = desk("wedge").where(Facts(gaps=3, side="RS", waiting=4))
    assert found.rows == ()
    assert found.clash.names == ("waiting", "gaps")


def test_no_rows_no_answer():
    found = where((), Facts(sts=3), {})
    assert found.rows == ()


def test_only_rows_from_the_last_sure_one_on_are_looked_at():
    rows = desk("skerry").where(Facts(waiting=8, side="RS", sure=30)).rows
    assert rows
    assert min(f.look.index + 1 for f in rows) >= 30


@given(st.sampled_from(ROWS), st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=100)
def test_work_held_turned_round_is_the_same_row(at, chance):
    """The stitch that the yarn comes from belongs on the right needle: on the left, the work is turned round."""
    name, _, look = at
    states = list(within(look.entry, operations(desk(name).knitted)[look.entry.order]))
    if not states:
        return
    left, right = chance.choice(states)
    turned = {"RS": "WS", "WS": "RS"}
    side = None if look.entry.side is None else look.entry.side.value
    as_it_is = desk(name).where(Facts(on_left=left, on_right=right, side=side, yarn_on="right"))
    other = desk(name).where(Facts(on_left=right, on_right=left, side=turned.get(side), yarn_on="left"))
    assert as_it_is.rows
    assert other.rows == as_it_is.rows


def test_where_the_yarn_hangs_by_the_ledger():
    """After a right-side row at the left edge, after a wrong-side row at the right; after a turn in the middle."""
    text = (
        "# Ebb\nCast on 20 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: K12, turn.\nRow 4: P4, turn.\n"
        "Row 5: Knit.\nRow 6: Purl.\n"
    )
    ((_, rows),) = WorkUp(text).desk().pieces
    assert [r.yarn for r in rows] == [
        "left edge", "right edge", "middle", "middle", "left edge", "right edge",
    ]  # fmt: skip
    ((_, rounds),) = WorkUp("# Ebb\nCast on 20 sts. Join.\nRnd 1: Knit.\nRnd 2: Knit.\n").desk().pieces
    assert [r.yarn for r in rounds] == ["no edge", "no edge"]


def test_rows_since_a_stripe():
    text = (
        "# Ebb\nYarn: A, B\n\nWith A, cast on 20 sts.\nRows 1-4: With A, knit.\nRows 5-6: With B, knit.\n"
        "Rows 7-10: With A, knit.\n"
    )
    ((_, rows),) = WorkUp(text).desk().pieces
    assert [r.since_stripe for r in rows] == [-1, -1, -1, -1, 0, 1, 0, 1, 2, 3]


@pytest.mark.parametrize("name", NAMES)
def test_the_table_shows_of_right_work_what_the_row_shows(name):
    tried = 0
    for table in desk(name).tables:
        looks = table.piece.looks
        for line in (table.made_of == 0).nonzero()[0].tolist():
            row = int(table.column("row")[line])
            if not 0 <= row < len(looks) or table.column("off")[line]:
                continue
            tried += 1
            assert said_of(table, line, "yarn") == (looks[row].yarn or "")
            assert said_of(table, line, "since_stripe") == looks[row].since_stripe
    assert tried


def test_loops_bound_off_are_on_neither_needle():
    text = (
        "# Ebb\nCast on 12 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: Bind off 4 sts, knit to end.\n"
        "Row 4: Purl 4, cast on 3 sts, purl to end.\n"
    )
    d = WorkUp(text).desk()
    ((_, rows),) = d.pieces
    worked = operations(d.knitted)
    states = [list(within(x.entry, worked[x.entry.order])) for x in rows[2:]]
    assert states[0][:6] == [(11, 1), (10, 1), (9, 1), (8, 1), (7, 1), (6, 2)]
    assert states[0][-1] == (1, 7)  # eight are left, and one of them is still to be knitted
    assert states[1] == [(7, 1), (6, 2), (5, 3), (4, 7), (3, 8), (2, 9), (1, 10)]
    assert {f.look.index for f in d.where(Facts(on_left=2, on_right=6)).rows} == {2}
    assert {f.look.index for f in d.where(Facts(on_left=4, on_right=8)).rows} == {0, 1}


@pytest.mark.parametrize("yarn_on", ["left", "right"])
def test_in_mid_row_the_side_is_asked_and_its_answer_is_true(yarn_on):
    facts = Facts(on_left=10, on_right=13, yarn_on=yarn_on)
    d = desk("lace")
    found = d.where(facts)
    assert found.next.name == "side"
    assert "as you hold it now" in found.next.asks
    assert {value for value, _ in found.answers} == {"RS", "WS"}
    for value, rows in found.answers:
        again = d.where(facts.with_({"side": value}))
        assert {f.look.index for f in again.rows} == {f.look.index for f in rows}
        assert again.next is None


def test_in_mid_row_too_she_is_no_further_back_than_she_is_sure_of():
    every = desk("lace").where(Facts(on_left=10, on_right=13)).rows
    late = desk("lace").where(Facts(on_left=10, on_right=13, sure=6)).rows
    assert [f for f in every if f.look.index >= 5] == list(late)
    assert len(late) < len(every)
