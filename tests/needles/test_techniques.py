"""Every technique that we say is knitted is knitted: counts for each, and what hangs on what where that is the point.

``docs/techniques.md`` names the block of ``techniques.md`` (or the test here) that shows each technique.
"""

import itertools
import re
from dataclasses import dataclass
from pathlib import Path

import pytest

from needles.worked import work
from purlwright.fabric.arrays import Link

HERE = Path(__file__).parent
_BLOCK = re.compile(
    r"^### (?P<name>.+)\n\n(?:not yet: (?P<why>.+)\n\n)?ends: (?P<ends>[\d ]+)\n\n```\n(?P<words>(?:.+\n|\n)+?)```$",
    re.MULTILINE,
)


@dataclass(frozen=True)
class Technique:
    name: str
    words: str
    ends: tuple[int, ...]
    why: str = ""


def techniques():
    text = (HERE / "techniques.md").read_text(encoding="utf-8")
    found = [
        Technique(m["name"], m["words"], tuple(int(n) for n in m["ends"].split()), m["why"] or "")
        for m in _BLOCK.finditer(text)
    ]
    assert len(found) == text.count("\n### ")
    return found


def marked():
    for t in techniques():
        marks = [pytest.mark.xfail(strict=True, reason=t.why)] if t.why else []
        yield pytest.param(t, id=t.name.replace(" ", "-"), marks=marks)


@pytest.mark.parametrize("technique", list(marked()))
def test_the_technique_is_read_and_knitted(technique):
    if "## Piece" in technique.words:
        head, _, words = technique.words.partition("## Piece")
        w = work(words, head)
    else:
        w = work(technique.words)
    assert w.wrong == []
    assert tuple(w.ends) == technique.ends


def test_the_page_of_techniques_names_only_what_is_here():
    page = (HERE.parents[1] / "docs" / "techniques.md").read_text(encoding="utf-8")
    names = {t.name for t in techniques() if not t.why}
    code = "\n".join(p.read_text(encoding="utf-8") for p in HERE.glob("test_*.py"))
    tests = set(re.findall(r"^def (test_\w+)", code, re.MULTILINE))
    named = set(re.findall(r"`([^`]+)`", page))
    assert (
        named - names - tests - {"tests/needles/techniques.md", "tests/needles/test_techniques.py"} == set()
    )


# --- what hangs on what --------------------------------------------------------------------------------------


def test_a_knit_stitch_hangs_on_the_loop_it_was_drawn_through_and_a_purl_shows_its_bump():
    w = work("Cast on 4 sts.\nRow 1: K2, p2.\nRow 2: K2, p2.\nBind off.")
    assert [w.parents(s) for s in w.made(1)] == [[3], [2], [1], [0]]
    assert w.seen(1) == "kkpp"
    assert w.seen(2) == "ppkk"


def test_garter_flat_and_garter_round_are_one_fabric():
    flat = work("Cast on 4 sts.\nRow 1: Knit.\nRow 2: Knit.\nBind off.")
    ring = work("Cast on 4 sts. Join in the round.\nRnd 1: Knit.\nRnd 2: Purl.\nBind off.")
    assert (flat.seen(1), flat.seen(2)) == (ring.seen(2), ring.seen(3)) == ("kkkk", "pppp")


def test_a_slipped_stitch_makes_no_new_one():
    w = work("Cast on 4 sts.\nRow 1: Sl 1, k3.\nRow 2: P4.\nBind off.")
    assert len(w.made(1)) == 3
    assert w.parents(w.made(2)[-1]) == [3]


def test_a_stitch_into_the_row_below_hangs_two_rows_down():
    w = work("Cast on 3 sts.\nRow 1: Knit.\nRow 2: K1, k1b, k1.\nBind off.")
    middle = w.made(2)[1]
    assert w.links(middle) == [Link.BELOW]
    assert w.parents(middle) == [1]


def test_a_stitch_through_the_back_is_twisted():
    w = work("Cast on 2 sts.\nRow 1: K1 tbl, k1.\nBind off.")
    assert w.fabric.mount_of_stitch[w.made(1)].tolist() == [1, 0]


def test_a_yarn_over_hangs_on_nothing_and_opens_a_column():
    w = work("Cast on 4 sts.\nRow 1: K2, yo, k2.\nBind off.")
    over = w.made(1)[2]
    assert w.parents(over) == []
    columns = w.fabric.column_of_stitch[w.made(1)].tolist()
    assert len(set(columns)) == 5
    assert columns[2] not in w.fabric.column_of_stitch[w.made(0)].tolist()


@pytest.mark.parametrize("words", ["m1", "m1l", "m1r", "m1p"])
def test_a_lifted_bar_hangs_on_the_strand_that_leaves_the_stitch_before(words):
    w = work(f"Cast on 4 sts.\nRow 1: K2, {words}, k2.\nBind off.")
    bar = w.made(1)[2]
    assert w.links(bar) == [Link.STRAND]
    assert w.parents(bar) == [2]


def test_lifted_increases_hang_on_the_heads_below_the_next_stitch_or_the_one_just_made():
    w = work("Cast on 3 sts.\nRow 1: Knit.\nRow 2: K1, rli, k1, lli, k1.\nBind off.")
    right, left = w.made(2)[1], w.made(2)[3]
    assert w.links(right) == w.links(left) == [Link.HEAD]
    # row 1 is 3, 4, 5 over the cast-on loops 2, 1, 0; row 2 works 5, 4, 3: below both stands the head of loop 1
    assert w.parents(right) == [1]
    assert w.parents(left) == [1]


def test_front_and_back_hang_on_one_stitch_and_the_second_shows_a_bar():
    w = work("Cast on 1 st.\nRow 1: Kfb.\nBind off.")
    assert [w.parents(s) for s in w.made(1)] == [[0], [0]]
    assert w.seen(1) == "kp"


def test_three_out_of_one():
    w = work("Cast on 1 st.\nRow 1: (k1, yo, k1) in next st.\nBind off.")
    assert w.seen(1) == "k-k"
    assert w.parents(w.made(1)[0]) == w.parents(w.made(1)[2]) == [0]


@pytest.mark.parametrize(
    ("words", "n", "top"),
    [
        ("k2tog", 2, -1), ("ssk", 2, 0), ("skp", 2, 0), ("p2tog", 2, None), ("ssp", 2, None), ("k3tog", 3, -1),
        ("sssk", 3, 0), ("sk2p", 3, 0), ("s2kp", 3, 1), ("k4tog", 4, -1), ("k5tog", 5, -1), ("k2tog tbl", 2, 0),
    ],
)  # fmt: skip
def test_a_decrease_hangs_on_all_it_takes_and_goes_on_in_the_column_on_top(words, n, top):
    w = work(f"Cast on {n} sts.\nRow 1: {words}.\nBind off.")
    (made,) = w.made(1)
    taken = list(range(n))[::-1]
    assert sorted(w.parents(made)) == sorted(taken)
    if top is not None:
        column = w.fabric.column_of_stitch
        assert column[made] == column[taken[top]]


@pytest.mark.parametrize(
    ("words", "order", "seen"),
    [
        ("2/2 RC", (1, 0, 3, 2), "kkkk"), ("2/2 LC", (1, 0, 3, 2), "kkkk"), ("2/1 RPC", (1, 0, 2), "kkp"),
        ("2/1 LPC", (0, 2, 1), "pkk"), ("RT", (0, 1), "kk"), ("LT", (0, 1), "kk"), ("C4F", (1, 0, 3, 2), "kkkk"),
        ("slip next 2 sts to cable needle and hold in front, k2, k2 from cable needle", (1, 0, 3, 2), "kkkk"),
    ],
)  # fmt: skip
def test_a_crossing_exchanges_columns(words, order, seen):
    w = work(f"Cast on {len(order)} sts.\nRow 1: {words}.\nBind off.")
    assert [w.parents(s) for s in w.made(1)] == [[p] for p in order]
    assert w.seen(1) == seen
    kinds = {Link.CROSSED_FRONT, Link.CROSSED_BACK}
    assert {k for s in w.made(1) for k in w.links(s)} == kinds


def test_held_in_front_or_behind():
    for words, first in (("2/2 RC", Link.CROSSED_FRONT), ("2/2 LC", Link.CROSSED_BACK)):
        w = work(f"Cast on 4 sts.\nRow 1: {words}.\nBind off.")
        assert w.links(w.made(1)[0]) == [first]


def test_a_turn_leaves_a_gap_and_no_link_across_it():
    w = work("Cast on 6 sts.\nRow 1 (RS): K4, turn.\nRow 2 (WS): P4.\nRow 3: Knit.\nBind off.")
    assert [(e.worked, e.unworked, [g.from_right_rs for g in e.gaps]) for e in w.rows[1:4]] == [
        (4, 2, [4]), (4, 0, [4]), (6, 0, []),
    ]  # fmt: skip
    assert [w.parents(s) for s in w.made(3)][4:] == [[1], [0]]


def test_a_wrap_is_a_link_and_no_stitch():
    w = work(
        "Cast on 6 sts.\nRow 1 (RS): K4, w&t.\nRow 2 (WS): P4.\nRow 3: K to end, picking up wraps.\nBind off."
    )
    assert w.ends == [6, 6, 6, 6, 0]
    f = w.fabric
    wraps = [
        (a, b)
        for a, b, k in zip(f.join_a.tolist(), f.join_b.tolist(), f.join_kind.tolist(), strict=True)
        if k == Link.WRAPPED
    ]
    assert wraps == [(w.made(1)[-1], 1)]


def test_a_bind_off_lifts_each_stitch_over_the_next():
    w = work("Cast on 4 sts.\nRow 1: Knit.\nBind off.")
    f = w.fabric
    passed = [
        (a, b)
        for a, b, k in zip(f.join_a.tolist(), f.join_b.tolist(), f.join_kind.tolist(), strict=True)
        if k == Link.PASSED
    ]
    last = w.made(2).tolist()
    assert passed == list(itertools.pairwise(last))


def test_loops_come_back_from_the_holder_as_they_lay():
    w = work(
        "Cast on 8 sts.\nRow 1: Knit.\nRow 2: P2, place next 3 sts on holder, p3.\n"
        "Row 3: K3, return held sts to needle, k5.\nBind off."
    )
    assert [(e.held, e.returned) for e in w.rows[1:4]] == [(0, 0), (3, 0), (0, 3)]
    first = w.made(1).tolist()
    assert [w.parents(s) for s in w.made(3)[3:6]] == [[first[3]], [first[4]], [first[5]]]


def test_grafting_live_loops_to_a_cast_on_joins_one_to_one():
    w = work(
        "Cast on 4 sts provisionally.\nRow 1: Knit.\nRow 2: Purl.\nGraft the live sts to the cast-on sts."
    )
    f = w.fabric
    assert set(f.join_kind.tolist()) == {Link.GRAFTED}
    assert sorted(f.join_b.tolist()) == [0, 1, 2, 3]


def test_picked_up_along_the_cast_on_one_for_one():
    w = work(
        "Cast on 4 sts.\nRow 1: Knit.\nBind off.\n\n## Border\nPick up and knit 4 sts along the cast-on edge.\nBind off."
    )
    assert [w.parents(s) for s in w.made(3)] == [[0], [1], [2], [3]]
    assert {k for s in w.made(3) for k in w.links(s)} == {Link.EDGE}


def test_brioche_pairs_count_as_one():
    w = work("Cast on 3 sts.\nRow 1: K1, sl1yo, k1.\nRow 2: K1, brk, k1.\nBind off.")
    pair = w.made(1)[1]
    assert w.links(pair) == [Link.TUCKED]
    assert w.parents(pair) == [1]
    assert w.parents(w.made(2)[1]) == [pair]


def test_colours_are_told_apart_stitch_by_stitch():
    w = work("Cast on 4 sts with A. Join in the round.\nRnd 1: *K1 A, k1 B; rep from * to end.\nBind off.")
    names = [w.fabric.yarns[y] for y in w.fabric.yarn_of_stitch[w.made(2)]]
    assert names == ["A", "B", "A", "B"]


def test_stitches_cast_on_at_the_start_of_a_row_are_worked_first():
    w = work("Cast on 6 sts.\nRow 1: Knit.\nRow 2: Cast on 3 sts, k2, k2tog, k5.\nBind off.")
    two = w.made(2).tolist()
    assert w.parents(two[3]) == [two[2]]  # the last of the three cast on is the first to be knitted


def test_a_marker_at_the_end_of_a_round_stays_in_the_ledger():
    w = work("Cast on 10 sts. Join in the round.\nRnd 1: K10, pm.\nRnd 2: Knit.\nRnd 3: Knit.\nBind off.")
    assert [len(e.markers) for e in w.rows[2:5]] == [1, 1, 1]


def test_what_stands_below_the_heading_of_a_piece_made_twice_is_worked_with_each():
    words = "## Sleeves (make 2)\nCast on 6 sts.\nKnit 2 rows.\n### Cap\nBind off.\n"
    assert work(words).ends == [6, 6, 6, 0] * 2
    assert work(words.replace("### Cap", "## Cap")).ends == [6, 6, 6, 0] * 2
    parts = words.replace("### Cap", "### Left cap\nKnit 1 row.\n### Right cap")
    assert work(parts).ends == [6, 6, 6, 12, 12, 12, 12, 0]
