"""A count up one column: what is counted, and that it narrows the answer truly."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs

from purlwright.needles.columns import NO_MARK, UNTOLD
from purlwright.needles.looks import LANDMARKS, marks, operations
from purlwright.rescue.fit import fit
from purlwright.rescue.letter import NotALetter, read_letter, write_letter
from purlwright.rescue.observe import Facts
from purlwright.rescue.table import in_column
from purlwright.rescue.verdict import tell
from purlwright.rescue.where import ask_up_a_column, column_of, telling_column, where
from purlwright.rescues import answer_of
from purlwright.workup import WorkUp
from rescue_work import CABLES, NAMES, desk

ROWS = [(name, piece, look) for name in NAMES for piece, looks in desk(name).pieces for look in looks]


def test_a_count_up_each_cable():
    ((_, rows),) = WorkUp(CABLES).desk().pieces
    first, second = rows[8], rows[14]  # rows 9 and 15: the fourth row after a crossing, of either cable
    assert first.since == second.since
    assert (first.side, first.stitches) == (second.side, second.stitches)
    assert column_of(first, 3) == (3, 4)
    assert column_of(first, 13) == (13, NO_MARK)
    assert (column_of(second, 3), column_of(second, 13)) == ((3, 10), (13, 4))
    assert {column_of(first, n)[1] for n in (1, 2, 9, 10, 11, 12, 19, 20)} == {NO_MARK}


@pytest.mark.parametrize("name", NAMES)
def test_the_count_is_that_of_the_fabric(name):
    """Counted once more, down the columns of the fabric itself, after every row that works all stitches."""
    work = desk(name).knitted
    f, worked = work.fabric, operations(work)
    tried = 0
    for _, looks in desk(name).pieces:
        landmarks = {}
        for look in looks:
            order = look.entry.order
            low, high = np.searchsorted(f.row_of_stitch, [order, order + 1]).tolist()
            w = worked.get(order)
            if w is None or look.above is None or look.entry.unworked or high - low != look.stitches:
                continue
            if int(w.makes.sum()) != high - low:
                continue
            marked = np.repeat(np.any([marks(w, m) for m in LANDMARKS], axis=0), w.makes)
            landmarks[order] = True
            above = look.above if look.entry.side.value == "RS" else look.above[::-1]
            for stitch, n, mark in zip(range(low, high), above, marked.tolist(), strict=True):
                if n == UNTOLD:
                    continue
                assert (n == 0) == bool(mark), (look.index, stitch - low)
                if n <= 0:
                    continue
                below = np.flatnonzero(f.column_of_stitch[:stitch] == f.column_of_stitch[stitch])
                rows = f.row_of_stitch[below]
                in_reach = [o for o in rows[-n:].tolist() if o not in landmarks]
                if in_reach or len(below) < n:
                    continue  # rows between that are not told again here
                tried += 1
                foot = looks[[x.entry.order for x in looks].index(int(rows[-n]))]
                at = int(below[-n]) - int(np.searchsorted(f.row_of_stitch, foot.entry.order))
                seen = foot.above if foot.entry.side.value == "RS" else foot.above[::-1]
                assert seen[at] == 0, (look.index, stitch - low, n)
    assert tried or name in {"wedge", "stepping", "skerry"}, "nothing was tried"


@given(st.sampled_from(ROWS), st.data())
@settings(deadline=None, max_examples=200)
def test_exactly_the_rows_of_that_column(at, data):
    name, piece, look = at
    told = [n for n in range(1, look.stitches + 1) if (c := column_of(look, n)) is not None and c[1] >= 0]
    if not told:
        return
    stitch = data.draw(st.sampled_from(told))
    said = column_of(look, stitch)
    got = {(f.piece, f.look.index) for f in desk(name).where(Facts(column=said)).rows}
    want = {
        (p, x.index) for p, looks in desk(name).pieces for x in looks if column_of(x, stitch) in {said, None}
    }
    assert got == want
    assert (piece, look.index) in got


def test_it_is_asked_where_nothing_cheaper_tells_and_its_answers_are_true():
    work = WorkUp(CABLES)
    ((piece, rows),) = work.desk().pieces
    twins = [rows[8], rows[14]]
    known = Facts(part_rows=None, since_crossing=4, side="WS")
    found = where([(piece, twins)], known, operations(work.desk().knitted))
    assert len(found.rows) == 2
    stitch, bits = telling_column(twins)
    assert bits == 1.0
    asked = where([(piece, [replace_in_part(x) for x in twins])], known, {})
    assert asked.next.name == "column"
    assert f"stitch {stitch}, " in asked.next.asks
    for value, left in asked.answers:
        again = work.desk().where(known.with_({"column": value})) if value != "none" else None
        assert again is None or left[0].look.index in {f.look.index for f in again.rows}


def replace_in_part(look):
    """The same look, of a part whose rows cannot be counted."""
    edges = {"ridges_right": 0, "ridges_left": 0, "chains_right": 0, "chains_left": 0}
    return replace(look, in_part=1, entry=structs.replace(look.entry, **edges))


def test_rescue_weighs_it_and_a_gained_stitch_moves_her_to_the_next_column():
    work = WorkUp(CABLES)
    (table,) = work.desk().tables
    values = in_column(table, 3)
    right = (table.made_of == 0) & (table.column("row") == 8)
    assert values[right].tolist() == [4]
    score = fit(table, Facts(column=(3, 4))) - table.prior
    assert score[right].max() > score[(table.made_of == 0) & (table.column("row") == 9)].max() + 2
    # stitch 2 is purled and never crossed; with one stitch too many the cable may begin there
    beside = fit(table, Facts(column=(2, 4))) - table.prior
    sts, row = table.column("sts"), table.column("row")
    more = (sts == 21) & (row == 8)
    assert more.any()
    assert beside[more].max() > beside[right].max() + 2


def answers_of(work, row, name):
    """What one sees after a row in which all is right, of what the desk asks for."""
    seen = {
        "odd": {"look_rows": "nothing", "odd": "nothing"},
        "side": {"side": row.side.value},
        "stacks": {"stacks": "yes"},
        "since_crossing": {"since_crossing": row.since[LANDMARKS.index("crossing")]},
    }
    return seen.get(name, {})


def test_rescue_asks_for_it_when_nothing_else_tells_and_then_knows_the_row():
    work = WorkUp(CABLES)
    ((_, rows),) = work.desk().pieces
    here = rows[8]
    facts, asked = Facts(sts=20, side="WS"), ()
    while (found := work.desk().rescue(facts, asked)).next is not None:
        asked = (*asked, found.next.name)
        if found.next.name == "column":
            before = found
            stitch = int(found.next.asks.split("Find stitch ")[1].split(",")[0])
            assert "from the right edge" in found.next.asks
            facts = facts.with_({"column": column_of(here, stitch)})
        else:
            facts = facts.with_(answers_of(work, here, found.next.name))
    assert asked.count("column") == 1
    assert len({d.now_row for d in before.found}) > 1
    assert found.found[0].now_row == here.index + 1
    assert found.found[0].likely > before.found[0].likely


def test_a_column_without_a_mark_can_be_told():
    question = ask_up_a_column(WorkUp(CABLES).desk().pieces[0][1])
    assert question is not None
    assert ", none if the column has no crossing" in question.how
    assert answer_of(question, "13, None") == {"column": (13, NO_MARK)}
    assert answer_of(question, "13, 4") == {"column": (13, 4)}
    assert answer_of(question, "13") == "Answer with the stitch, a comma, and how many: 12, 5; or 12, none."
    assert tell("column", (13, NO_MARK)) == "no mark in the column of stitch 13 from the right edge"


def test_it_goes_into_the_letter_and_out_again():
    facts = Facts(column=(12, 5), since_stripe=2, yarn="left edge")
    text = write_letter("Hawser", "", "one size", {}, facts)
    assert read_letter(text, "Hawser", "") == facts
    bare = Facts(column=(13, NO_MARK))
    told = write_letter("Hawser", "", "one size", {}, bare)
    assert told.endswith(": 13, none\n")
    assert read_letter(told, "Hawser", "") == bare
    with pytest.raises(NotALetter, match="two numbers"):
        read_letter(text.replace("12, 5", "12"), "Hawser", "")


def test_yarn_and_stripe_are_asked_where_they_tell():
    text = "# Ebb\nYarn: A, B\n\nWith A, cast on 20 sts. Join.\nRnds 1-3: With A, knit.\nRnds 4-8: With B, knit.\n"
    d = WorkUp(text).desk()
    found = d.where(Facts(sts=20))
    assert found.next.name == "since_stripe"
    assert [v for v, _ in found.answers] == [0, 1, 2, 3, 4, "none"]
    short = "# Ebb\nCast on 20 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: K12, turn.\nRow 4: P12.\nRow 5: Knit.\n"
    ((_, rows),) = WorkUp(short).desk().pieces
    third, fifth = rows[2], rows[4]
    assert (third.yarn, fifth.yarn) == ("middle", "left edge")
    names = {f.look.index for f in WorkUp(short).desk().where(Facts(side="WS", yarn="middle")).rows}
    assert names == {2}
