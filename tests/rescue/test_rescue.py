"""What went wrong: planted mistakes are found, the pattern is tested too, and what is offered really mends it."""

from collections import defaultdict
from random import Random

import numpy as np
import pytest

from purlwright.needles.looks import is_worked
from purlwright.rescue.cure import cures_for
from purlwright.rescue.fit import said_of
from purlwright.rescue.mistakes import KINDS
from purlwright.rescue.observe import COUNTS, Facts
from purlwright.rescue.questions import QUESTIONS
from purlwright.rescue.rank import Ranked
from purlwright.rescue.table import AT
from purlwright.rescue.verdict import MOST_ASKED
from purlwright.workup import WorkUp
from rescue_work import FAULTY, NAMES, SMALL, desk, knit_so, work


def lines_of(name, code):
    """Some lines of the tables with this mistake."""
    for table in desk(name).tables:
        for i, made in enumerate(table.made):
            if made.kind.code == code:
                for line in (table.made_of == i).nonzero()[0].tolist():
                    yield table, line


def all_that_is_seen(table, line):
    """Everything that one who looks well would say."""
    known = {n: said_of(table, line, n) for n in AT if n != "lies_in"}
    known = {n: v for n, v in known.items() if not (isinstance(v, int) and v < 0 and n != "off")}
    for name in COUNTS:
        if not known[name]:
            del known[name]
    return Facts().with_(known)


@pytest.mark.parametrize("name", ["gannet", "sea-pea", "skerry", *SMALL])
def test_who_sees_all_is_told_what_happened(name):
    chance = Random(3)  # noqa: S311 - which cases, not a secret
    codes = sorted({m.kind.code for t in desk(name).tables for m in t.made if m.row >= 0})
    for code in codes:
        table, line = chance.choice(list(lines_of(name, code)))
        facts = all_that_is_seen(table, line)
        found = desk(name).rescue(facts).found
        row = int(table.column("row")[line])
        # a marker that has moved by one looks much like two counts that are out by one
        first = found[0] if code not in {"E38", "E39"} else next(d for d in found if d.code == code)
        same = np.unique(table.made_of[table.sorts == table.sorts[line]])
        alike = {table.made[i].kind.code for i in same.tolist()}
        assert first.code in alike, (code, first, facts.known)
        assert first.now_row == row + 1


def test_every_operator_can_happen_somewhere():
    known = {m.kind.code for name in NAMES for t in desk(name).tables for m in t.made}
    assert {k.code for k in KINDS} - known == {"E21", "E31"}
    assert {k.code for k in KINDS} | {"E03"} == {f"E{n:02}" for n in range(1, 51)}


@pytest.mark.parametrize(
    ("code", "text"),
    [
        ("E21", "# A\nCast on 12 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\nRow 3: K2, k2tog, yo twice, ssk, k6.\nRow 4: Purl.\nKnit 2 rows.\n"),
        ("E25", "# A\nCast on 40 sts. Join to work in the round.\nKnit 2 rnds.\nRnd 1: *K2tog, k8; rep from * to end.\nRnd 2: Knit.\nRnd 3: *K2tog, k7; rep from * to end.\nRnd 4: Knit.\n"),
        ("E31", "# A\nCast on 20 sts.\nRow 1 (RS): K15, turn.\nRow 2 (WS): P10, turn.\nRow 3: K9, ssk, k to end.\nRow 4: P14, p2tog, p to end.\nKnit 2 rows.\n"),
        ("E22", "# A\nCast on 20 sts.\nKnit 2 rows.\nRow 1 (RS): Bind off 3 sts, k to end.\nRow 2: Knit.\n"),
    ],
)  # fmt: skip
def test_an_operator_that_needs_its_own_pattern(code, text):
    made = [m for t in WorkUp(text).desk().tables for m in t.made]
    assert any(m.kind.code == code for m in made)


def test_the_pattern_is_tested_too():
    found = WorkUp(FAULTY).desk().rescue(Facts(sts=24, off=4, row=3)).found
    assert found[0].code == "P00"
    assert found[0].likely > 0.9, "no slip of hers is needed for it"
    assert found[0].made_row == 0
    assert found[0].cures == ()


def test_a_dropped_stitch_is_found_and_mended():
    verdict = desk("gannet").rescue(Facts(sts=76, side="RS", odd="ladder", down=1, row=42))
    first = verdict.found[0]
    assert (first.code, first.made_row, first.now_row) == ("E16", 41, 42)
    assert first.how_sure == "almost certain"
    assert [c.grade.value for c in first.cures] == ["quick", "tidy", "perfect"]
    assert {c.then for c in first.cures[:2]} == {77}
    assert first.cures[2].then == 73


def test_two_mistakes_are_told_where_one_does_not_explain_it():
    """A knitter counted more on one side of the spine and fewer on the other."""
    facts = Facts(sts=78, between=(3, 37, 1, 34, 3), side="RS", odd="ladder", down=1, row=42)
    verdict = desk("gannet").rescue(facts)
    first = verdict.found[0]
    assert first.code.startswith("E16+")
    assert any(note.startswith("Two mistakes explain it better") for note in verdict.notes)
    assert [c.grade.value for c in first.cures] == ["perfect"]
    assert first.cures[0].then == 73


def test_a_count_that_is_out_by_one_is_no_second_mistake():
    verdict = desk("gannet").rescue(Facts(sts=77, side="RS", odd="ladder", down=1, row=42))
    assert verdict.found[0].code == "E16"
    assert all("+" not in d.code for d in verdict.found)


def test_only_the_piece_she_is_knitting_is_looked_at():
    pieces = {d.piece for d in desk("little").rescue(Facts(piece="Neckband", sts=75)).found}
    assert pieces == {"Neckband"}


def test_impossible_counts_are_said_first():
    notes = desk("gannet").rescue(Facts(sts=76)).notes
    assert notes == ("76 stitches cannot happen anywhere if all is right; 73 or 77 can.",)


def test_facts_that_cannot_all_be_true_are_named():
    clash = desk("stepping").rescue(Facts(sts=43, ridges_right=200)).clash
    assert clash.names == ("ridges_right",)


def test_nothing_said_nothing_found():
    verdict = desk("gannet").rescue(Facts())
    assert verdict.found == ()
    assert verdict.next is not None


def test_questions_end_when_it_is_clear_or_too_much():
    assert desk("gannet").rescue(Facts(sts=76), list(QUESTIONS)[:MOST_ASKED]).next is None


def offered(name, most, seed):
    """Cures offered for mistakes drawn evenly over the operators."""
    chance = Random(seed)  # noqa: S311 - which cases, not a secret
    lines = defaultdict(list)
    for table in desk(name).tables:
        for i, made in enumerate(table.made):
            if made.row >= 0:
                lines[made.kind.code].append((table, i))
    for _ in range(most):
        table, i = chance.choice(lines[chance.choice(sorted(lines))])
        here = (table.made_of == i).nonzero()[0].tolist()
        if here:
            line = chance.choice(here)
            row = int(table.column("row")[line])
            found = Ranked(table=table, made=table.made[i], row=row, likely=1.0, line=line)
            for cure in cures_for(found):
                yield table, found, cure


@pytest.mark.parametrize("name", ["eel", "gannet", "little", "skerry", *SMALL])
def test_every_cure_knits_on_to_every_later_total(name):
    """Really knitted: the loops as the cure leaves them, then the pattern to its end."""
    totals = {e.order: e.end for e in work(name).knitted().ledger.entries}
    for table, found, cure in offered(name, 20, 11):
        looks = table.piece.looks
        if cure.row + 1 >= len(looks):
            continue
        order = looks[cure.row + 1].entry.order
        ledger = knit_so(name, order, cure.lie)
        rows = [e for p in ledger.pieces for e in p.rows if is_worked(e) and e.order >= order]
        assert rows, found.made
        assert all(totals[e.order] == e.end for e in rows), (
            found.made.kind.code,
            found.made.detail,
            cure.what,
        )
        assert len(ledger.entries) == len(totals)


def test_cures_have_the_count_they_promise():
    for name in ("gannet", "skerry", "shaped"):
        for table, _, cure in offered(name, 40, 5):
            looks = table.piece.looks
            right = looks[cure.row].stitches if cure.row >= 0 else looks[0].entry.start
            assert cure.then == right
            assert cure.cost >= 0
