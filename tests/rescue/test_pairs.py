"""Two mistakes are added up, not knitted: here both are really made, and the count is that of the sum."""

from collections import Counter
from random import Random

import pytest

from purlwright.rescue.observe import Facts
from purlwright.rescue.pairs import best_pair
from purlwright.rescue.rank import rank, weigh
from rescue_work import as_the_words_have_it, desk, knitted_with_both, once_more

TRIED = 60


def at_row(table, i, row):
    """The count after a row with one mistake alone; None where it is met before."""
    lines = ((table.made_of == i) & (table.column("row") == row)).nonzero()[0]
    return int(table.column("sts")[lines[0]]) if len(lines) else None


@pytest.mark.parametrize("name", ["sea-pea", "skerry", "wedge", "shaped"])
def test_the_sum_is_what_knitting_both_comes_to(name):
    chance = Random(name)  # noqa: S311 - which pairs, not a secret
    tables = [t for t in desk(name).tables if len(t.piece.looks) > 8]
    out = Counter()
    for _ in range(TRIED):
        table = chance.choice(tables)
        looks = table.piece.looks
        may = [
            i for i, m in enumerate(table.made)
            if m.lie is not None and 0 < abs(m.by) <= 2 and not (m.skipped or m.again) and 0 < m.on < len(looks)
        ]  # fmt: skip
        i, j = sorted(chance.sample(may, 2), key=lambda k: table.made[k].on)
        first, second = table.made[i], table.made[j]
        row = min(second.on + chance.randint(0, 6), len(looks) - 1)
        alone = at_row(table, i, row), at_row(table, j, row)
        if None in alone:
            out["met before"] += 1
            continue
        real = knitted_with_both(name, table, first, second)
        if real is None or not as_the_words_have_it(real, looks[first.on : row + 1]):
            out["stops"] += 1
            continue
        assert real[looks[row].entry.order].end == sum(alone) - looks[row].stitches, (first, second, row)
        out["added up"] += 1
    assert out["added up"] >= 5, out
    assert out["stops"] <= out["added up"], out


def test_a_count_that_is_out_does_not_make_two_mistakes_of_one():
    """A yarn over too many, and a count that is out by one: of the pairs that would explain it too none is likelier."""
    found = desk("shaped").rescue(Facts(sts=36, odd="hole", down=2, row=8)).found
    assert "+" not in found[0].code, [(d.code, d.likely) for d in found]


def test_a_row_of_few_mistakes_has_an_answer_whatever_is_said():
    """So few pairs that some of the leading ones are a mistake with itself."""
    tables = [t for t in desk("sea-pea").tables if t.piece.name == "Cuff"]
    (table,) = tables
    row = next(r for r in range(90) if 2 <= ((table.column("row") == r) & (table.made_in >= 0)).sum() <= 8)
    right = table.piece.looks[row].stitches
    for sts in (right - 2, right, right + 2):
        facts = Facts().with_(
            {"piece": "Cuff", "row": row + 1, "sts": sts, "odd": "ladder", "down": 9, "off": 3}
        )
        single = next(r for r in rank(weigh(tables, facts), 60) if r.row == row)
        pair = best_pair(single, facts, once_more("sea-pea"))
        assert pair is None or pair.first is not pair.second


@pytest.mark.parametrize(
    ("name", "known", "told"),
    [
        ("harbour", {"sts": 30}, {"yarn": "middle"}),
        ("skerry", {"sts": 96, "row": 20}, {"since_hole": 7}),
    ],
)
def test_what_no_mistake_shows_does_not_speak_for_two(name, known, told):
    """A fact that every mistake contradicts weighs on two as much as on one, and does not make two likelier."""
    alone = desk(name).rescue(Facts().with_(known))
    with_it = desk(name).rescue(Facts().with_({**known, **told}))
    assert not any("+" in d.code for d in alone.found)
    assert not any("+" in d.code for d in with_it.found)
