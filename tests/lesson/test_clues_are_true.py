"""A clue is never false: each is held to the moves and the fabric, of every example in every size, and of random rows."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from lesson.truth import UNKNOWN, Truth
from needles.patterns import patterns
from needles.slow import knit_slowly
from purlwright.lesson.clues.kinds import KINDS, clues_of
from purlwright.lesson.rows import parts_of
from purlwright.lessons import clues
from purlwright.needles.knit import knit
from purlwright.workup import work_up

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.pattern.md"))
ROLES = {"a yarn over": "hole", "a plain stitch": "plain", "a stitch of an increase": "more"}


def looked_at(clue, truth):
    """How many values of a clue could be tested; every one that could is true."""
    tested = 0
    for claim in clue.claims:
        assert claim.orders, clue
        for order, value in zip(claim.orders, claim.values, strict=True):
            if claim.fact.name == "under":
                name, *roles = value
                want = tuple(ROLES.get(r, "fewer") for r in roles)
                real = truth.under(order, name)
                assert real, clue
                assert set(real) == {want}, clue
                tested += 1
                continue
            if claim.fact.name in {"wide cm", "long cm"}:
                continue  # these have a test of their own
            so = truth.of(claim.fact, order)
            if so is UNKNOWN:
                continue
            assert so == value, (clue.kind, clue.words, truth.entry[order], claim.fact, so, value)
            tested += 1
    return tested


def honest(clue, part):
    """It says so where it does not hold at the first or the last row of its part."""
    told = [set(c.orders) for c in clue.claims]
    first, last = part.rows[0].order, part.rows[-1].order
    if clue.rows == f"every {part.what} of this part":
        assert all({first, last} <= t for t in told) or clue.stops, clue
    elif not (clue.rows.startswith("every ") and "-side" in clue.rows):
        missing = any({first, last} - t for t in told)
        assert clue.stops or not missing, clue
    else:
        side = "RS" if "right-side" in clue.rows else "WS"
        sided = {r.order for r in part.rows if r.seen.side == side}
        assert all(t == sided for t in told), clue


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.name)
def test_every_clue_of_an_example_is_true_in_every_size_and_says_where_it_stops(path):
    work = work_up(path.read_text(encoding="utf-8"), path.name)
    every = tested = 0
    for knitted in map(work.knitted, work.sizes):
        truth = Truth(knitted)
        for part in parts_of(knitted):
            assert not part.unread
            for clue in clues_of(part):
                honest(clue, part)
                every += sum(len(c.orders) for c in clue.claims)
                tested += looked_at(clue, truth)
    assert tested >= 0.8 * every, (tested, every)
    assert tested > 20


@pytest.mark.parametrize("path", EXAMPLES[4:7], ids=lambda p: p.name)
def test_at_most_three_are_chosen_and_each_shows_something_that_the_others_do_not(path):
    work = work_up(path.read_text(encoding="utf-8"), path.name)
    parts = clues(work)
    assert parts
    for p in parts:
        chosen = [t for t in p.told if t.chosen]
        assert len(chosen) <= 3
        assert p.told[: len(chosen)] == tuple(chosen)
        assert all(0 < t.strength <= 1 for t in chosen)
        assert len({t.clue.kind for t in chosen}) == len(chosen)
        other = [q for s in work.sizes[1:] for q in parts_of(work.knitted(s)) if q.place == p.part.place]
        for t in p.told:
            there = [any(c.words == t.clue.words for c in clues_of(q)) for q in other] if t.chosen else []
            assert not t.chosen or t.every_size == (all(there) and len(there) == len(work.sizes) - 1)


SLOW = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow, HealthCheck.data_too_large]}


@settings(max_examples=100, **SLOW)
@given(patterns(faults=False))
def test_every_clue_of_random_rows_is_true(p):
    knitted = knit(p)
    truth = Truth(knitted)
    slow = knit_slowly(p)
    counted = {r.order: r for r in slow.rows if r.kind in {"row", "round"}}
    for part in parts_of(knitted):
        for clue in clues_of(part):
            honest(clue, part)
            looked_at(clue, truth)
            for claim in clue.claims:
                for order, value in zip(claim.orders, claim.values, strict=True):
                    row = counted.get(order)
                    if row is not None and claim.fact.name == "count":
                        assert row.end == value
                    if row is not None and claim.fact.name == "waiting":
                        assert row.unworked == value
                    if row is not None and claim.fact.name == "gaps":
                        assert len(row.gaps) == value


def test_no_kind_is_left_out_of_what_is_tested():
    """Each kind is met in an example or in a small pattern of the other tests of this room."""
    from lesson.test_kinds import SMALL

    met = {kind for kind, _, _ in SMALL}
    assert {*KINDS, "K24"} <= met


def test_a_stitch_knitted_before_a_turn_and_passed_over_is_told_as_no_decrease():
    text = (
        "Cast on 8 sts.\nRow 1 (RS): K1, k2tog, k1, k1, k1, turn.\nRow 2 (WS): K1, k1, k1, k1, k1, pass st over.\n"
        "Rep last 2 rows once more.\nRow 60: Knit.\nBind off all sts.\n"
    )
    told = [clue.words for part in parts_of(work_up(text).knitted()) for clue in clues_of(part)]
    assert told
    assert not any("psso" in words for words in told)
