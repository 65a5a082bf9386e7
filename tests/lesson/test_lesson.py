"""The parts of a lesson: moves in order, stages, practice that proves clean, exercises that can be found, grafts, rows played."""

import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from needles.patterns import patterns
from purlwright.fabric.arrays import Link
from purlwright.findings import Severity
from purlwright.lesson.joins import joins_of, ratio_said, shares
from purlwright.lesson.new_moves import new_moves
from purlwright.lesson.planted import counts_of, planted
from purlwright.lesson.played import play
from purlwright.lesson.practice import practice_piece
from purlwright.lesson.rows import parts_of
from purlwright.lesson.stages import EACH_MOVE, lessons, minutes_of_rows, stages
from purlwright.lessons import _material
from purlwright.needles.knit import knit as knit_pattern
from purlwright.needles.ledger import ROWS, Kind
from purlwright.sheet.lesson import player
from purlwright.sheet.lesson.asked import Asked
from purlwright.sheet.lesson.whole import lesson_document
from purlwright.sheet.out.text import to_text
from purlwright.workup import WorkUp, work_up

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.pattern.md"))


def knitted(name):
    path = next(p for p in EXAMPLES if p.name.startswith(name))
    return work_up(path.read_text(encoding="utf-8"), path.name)


def knit(text):
    return WorkUp(text, "practice").knitted()


def piece_for(work):
    moves = new_moves(work.knitted())
    return moves, practice_piece(
        "Practice", moves, work.pattern.definitions, lambda text: WorkUp(text, "practice").proved().findings
    )


# --- moves and stages --------------------------------------------------------------------------------


def test_the_new_moves_of_the_shawl_come_in_the_order_in_which_it_is_worked():
    names = [m.name for m in new_moves(knitted("gannet").knitted())]
    assert names == [
        "cast on", "knit", "pick up and knit", "purl", "yarn over", "slip, slip, knit", "knit two together",
        "slip one, knit two together, pass over", "bud", "purl three together", "bind off",
    ]  # fmt: skip


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name)
def test_every_stage_is_a_place_in_the_ledger_and_every_move_is_shown_once(path):
    work = work_up(path.read_text(encoding="utf-8"), path.name)
    k = work.knitted()
    moves = new_moves(k)
    minutes = minutes_of_rows(k, parts_of(k), 15)
    every = stages(k, moves, minutes)
    entries = {e.order: e for e in k.ledger.entries}
    assert [s.number for s in every] == list(range(1, len(every) + 1))
    for s in every:
        assert (s.count, s.waiting) == (entries[s.after.order].end, entries[s.after.order].unworked)
        assert s.count > 0
    shown = [m.key for s in every for m in s.shows]
    assert len(shown) == len(set(shown))
    begins = {"cast on", "join in the round"}
    first = {p.rows[0].order for p in k.ledger.pieces}
    assert set(shown) == {m.key for m in moves if m.key not in begins and m.order not in first}


def test_time_at_a_pace_is_stitches_over_pace_and_lessons_hold_what_fits():
    k = knitted("skerry").knitted()
    minutes = minutes_of_rows(k, parts_of(k), 18)
    first = next(e for e in k.ledger.entries if e.kind is Kind.ROW)
    assert minutes[first.order] == 36 / 18
    every = stages(k, new_moves(k), minutes)
    shared = lessons(every, 2 * EACH_MOVE)
    assert [s for some in shared for s in some] == list(every)
    assert all(sum(s.teaching for s in some) <= 2 * EACH_MOVE or len(some) == 1 for some in shared)
    with pytest.raises(ValueError, match="above 0"):
        minutes_of_rows(k, (), 0)


# --- practice and exercises --------------------------------------------------------------------------


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name)
def test_the_practice_piece_proves_clean_and_holds_each_move_once(path):
    work = work_up(path.read_text(encoding="utf-8"), path.name)
    moves, piece = piece_for(work)
    found = WorkUp(piece.text, "practice").proved().findings
    assert [f.message for f in found if f.severity is not Severity.NOTE] == []
    there = [name for _, name in piece.rows]
    assert len(there) == len(set(there))
    plain = {"cast on", "k", "p", "bind off"}
    assert {*there, *piece.left_out} == {m.name for m in moves if m.key not in plain}
    assert set(there).isdisjoint(piece.left_out)
    sides = re.findall(r"^Row (\d+) \((RS|WS)\):", piece.text, re.MULTILINE)
    assert [int(n) for n, _ in sides] == list(range(1, len(sides) + 1)), "each row says its side"
    assert {side for n, side in sides if int(n) % 2} == {"RS"}
    assert {side for n, side in sides if not int(n) % 2} == {"WS"}
    assert len(sides) == piece.text.count("\nRow ")


@pytest.mark.parametrize("name", ["gannet", "harbour", "little"])
def test_an_exercise_differs_in_the_row_it_names_and_no_earlier(name):
    _, piece = piece_for(knitted(name))
    found = planted(piece, knit)
    assert len(found) == 3
    right = knit(piece.text)
    rows = {e.label: e.order for e in right.ledger.entries if e.kind in ROWS}
    for one in found:
        assert one.right == counts_of(right)
        assert one.answer.startswith(f"{one.row}: ")
        at = rows[one.row]
        a, b = right.fabric, one.knitted.fabric
        before = int((a.row_of_stitch < at).sum())
        assert [a.ops[i] for i in a.op_of_stitch[:before]] == [b.ops[i] for i in b.op_of_stitch[:before]]
        here = [[f.ops[i] for i in f.op_of_stitch[f.row_of_stitch == at]] for f in (a, b)]
        assert here[0] != here[1]
        counts_differ = [x for x, y in zip(one.rows, one.right, strict=True) if x != y]
        assert bool(counts_differ) == ("count does not show" not in one.answer)


TIP = """\
# Tip
Cast on 24 sts and join to work in the round.
Knit 6 rounds.
Row 1 (RS): K10, ssk, k1, turn.
Row 2 (WS): Sl 1, p5, p2tog, p1, turn.
Next rnd: Knit.
Break yarn and draw through remaining sts.
"""


def test_a_gathered_end_is_no_bind_off_and_a_purl_decrease_is_tried_on_a_purl_row():
    moves, piece = piece_for(WorkUp(TIP, "tip"))
    names = [m.name for m in moves]
    assert names[-1] == "draw the yarn through the last stitches"
    assert "bind off" not in names
    assert re.search(r"^Row \d+ \(WS\): P3, p2tog, purl to end\.", piece.text, re.MULTILINE)
    assert re.search(r"^Row \d+ \(RS\): K3, ssk, knit to end\.", piece.text, re.MULTILINE)


def test_the_first_exercise_shows_in_the_count_and_no_two_are_of_one_row():
    _, piece = piece_for(WorkUp(TIP, "tip"))
    found = planted(piece, knit)
    assert found[0].rows != found[0].right
    assert len({one.row for one in found}) == len(found) == 3


# --- grafts ------------------------------------------------------------------------------------------


def test_the_graft_of_the_sock_is_the_usual_one_of_plain_knitting():
    """Front: knitwise off, purlwise on; back: purlwise off, knitwise on; first purlwise and knitwise once to set up.

    As M. Thomas, Mary Thomas's Knitting Book, 1938, has it (from memory).
    """
    (join,) = joins_of(knitted("harbour").knitted())
    said = [(s.needle, s.enters, s.drops) for s in join.steps(3)]
    assert said[:6] == [
        ("front", "purlwise", False), ("back", "knitwise", False),
        ("front", "knitwise", True), ("front", "purlwise", False),
        ("back", "purlwise", True), ("back", "knitwise", False),
    ]  # fmt: skip
    assert join.heads
    assert len(join.pairs) == 8


def test_the_graft_of_the_hat_goes_on_in_garter_stitch_onto_the_cast_on():
    k = knitted("skerry").knitted()
    (join,) = joins_of(k, 5.0)
    assert not join.heads
    assert len(join.pairs) == 36 == int((k.fabric.join_kind == Link.GRAFTED).sum())
    # the twelfth row of the wedge is a wrong-side knit row, a bump outside; the first row of the hat is a knit face
    assert set(join.faces) == {(False, True)}
    assert join.tail_mm == 4 * 36 * 5.0 + 200


def test_every_loop_of_a_graft_is_entered_twice_once_each_way_and_dropped_the_second_time():
    for name in ("harbour", "skerry"):
        (join,) = joins_of(knitted(name).knitted())
        met = {}
        for s in join.steps():
            met.setdefault((s.needle, s.loop), []).append((s.enters, s.drops))
        assert len(met) == 2 * len(join.pairs)
        for twice in met.values():
            assert [drops for _, drops in twice] == [False, True]
            assert {enters for enters, _ in twice} == {"purlwise", "knitwise"}


def test_the_first_steps_of_a_graft_are_those_of_the_whole():
    for name in ("harbour", "skerry"):
        (join,) = joins_of(knitted(name).knitted())
        whole = join.steps()
        first = join.steps(3)
        assert len(first) == 2 + 4 * 3
        assert first == whole[: len(first)], "nothing ends before the last loop"
        assert join.steps(len(join.pairs)) == whole


@given(st.integers(1, 400), st.integers(1, 400))
def test_unlike_edges_are_shared_out_evenly_and_used_up(a, b):
    each = [n for _, n in shares(a, b)]
    assert len(each) == min(a, b)
    assert sum(each) == max(a, b)
    assert max(each) - min(each) <= 1
    assert ratio_said(a, b)


# --- rows played --------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name)
def test_a_played_row_ends_with_the_loops_that_the_ledger_has(path):
    k = work_up(path.read_text(encoding="utf-8"), path.name).knitted()
    entry = {e.order: e for e in k.ledger.entries}
    rows = play(k)
    kinds = {*ROWS, Kind.PICK_UP, Kind.BIND_OFF}
    assert len(rows) >= sum(e.kind in kinds for e in k.ledger.entries) - 4
    odd = 0
    for row in rows:
        e = entry[row.order]
        left, right = len(row.left), row.behind
        for beat in row.beats:
            left -= beat.takes
            right += len(beat.makes)
            assert left >= 0
        if e.returned or e.held:
            odd += 1
            continue
        assert (left, left + right) == (e.unworked, e.end), (row.label, row.section)
        assert (row.beats[-1].does == "turn") == bool(e.unworked)
    assert odd <= 4


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
@given(patterns())
def test_random_rows_played_end_with_the_loops_of_the_ledger(p):
    """With mistakes in some of them; rows that go to a holder or come from one are not told here."""
    k = knit_pattern(p)
    entry = {e.order: e for e in k.ledger.entries}
    stages(k, new_moves(k), minutes_of_rows(k, parts_of(k), 10))
    for row in play(k):
        e = entry[row.order]
        if not (e.held or e.returned):
            left = len(row.left) - sum(b.takes for b in row.beats)
            right = row.behind + sum(len(b.makes) for b in row.beats)
            assert (left, left + right) == (e.unworked, e.end)


def test_a_page_shows_every_row_it_has_room_for_and_names_the_others(monkeypatch):
    rows = "".join(f"Row {n}{' (RS)' if n == 1 else ''}: K{n}, p{50 - n}.\n" for n in range(1, 46))
    work = WorkUp(f"# Tern\nCast on 50 sts.\n## Flag\n{rows}Bind off.\n", "tern")
    every = player.played_rows(work.knitted())
    assert [r.label for r in every if r.section == "Flag"][:45] == [f"Row {n}" for n in range(1, 46)]
    assert player.left_out(work.knitted()) == ()
    text = to_text(lesson_document(_material(work, "one size", {}), Asked()))
    assert "Rows not shown stitch by stitch" not in text

    monkeypatch.setattr(player, "MOST_STITCHES", sum(len(r.beats) for r in every[:30]))
    shown, rest = player.played_rows(work.knitted()), player.left_out(work.knitted())
    assert (*shown, *rest) == every
    assert len(shown) == 30
    text = to_text(lesson_document(_material(work, "one size", {}), Asked()))
    assert f"It leaves out {len(rest)} rows" in text
    assert f"Flag: {', '.join(r.label for r in rest if r.section == 'Flag')}" in " ".join(text.split())


def test_a_row_with_a_name_is_shown_stitch_by_stitch_once_however_often_it_is_worked():
    work = WorkUp(
        "# Tern\n\n## Tip\nCast on 12 sts and join to work in the round.\nKnit 2 rnds.\n"
        "Dec rnd: *K2, k2tog; rep from * to end.\nKnit 2 rnds.\nRep dec rnd twice more.\nBind off.\n"
    )
    labels = [row.label for row in player.played_rows(work.knitted())]
    assert labels.count("Dec rnd") == 1


def test_a_caption_tells_a_row_that_joins_once():
    work = WorkUp(
        "# Tern\n\n## Cuff\nCast on 12 sts.\nKnit 2 rows.\nNext row: K12 and join to work in the round.\nKnit 2 rnds.\n"
    )
    text = to_text(lesson_document(_material(work, "one size", {}), Asked()))
    captions = text.split("## Captions for filming")[1].split("\n## ")[0]
    assert captions.casefold().count("knit 12 and join") == 1
