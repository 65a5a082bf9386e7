"""Two mistakes really made, row by row on the loops they leave, beside the whole pattern knitted with both."""

from random import Random

import pytest

from purlwright.rescue.observe import ODD_WORDS, Facts
from purlwright.rescue.pairs import best_pair
from purlwright.rescue.rank import rank, weigh
from purlwright.rescue.table import shown_by
from purlwright.rescue.together import both_made
from purlwright.rescue.walks import left_by
from rescue_work import as_the_words_have_it, desk, knitted_with_both, once_more

TRIED = 40


def pairs_of(table, chance):
    """Two mistakes that change the count, the second at most some rows later, and a row after both."""
    looks = table.piece.looks
    may = [
        m for m in table.made
        if m.lie is not None and 0 < abs(m.by) <= 2 and not (m.skipped or m.again) and 0 < m.on < len(looks) - 8
    ]  # fmt: skip
    first = chance.choice(may)
    second = chance.choice([m for m in may if 0 <= m.on - first.on <= 6])
    return first, second, second.on + chance.randint(0, 5)


@pytest.mark.parametrize("name", ["sea-pea", "skerry", "harbour", "shaped"])
def test_they_come_to_what_the_whole_pattern_comes_to(name):
    chance = Random(name)  # noqa: S311 - which pairs, not a secret
    tables = [t for t in desk(name).tables if len(t.piece.looks) > 16]
    came_out = 0
    for _ in range(TRIED):
        table = chance.choice(tables)
        first, second, row = pairs_of(table, chance)
        looks = table.piece.looks
        both = both_made(table.piece, [(first, second)], row, once_more(name))[0]
        if both is None or both.met:
            continue
        real = knitted_with_both(name, table, first, second)
        if real is None or not as_the_words_have_it(real, looks[first.on : row + 1]):
            continue  # the whole pattern goes on from a printed count there
        assert both.lie.live == real[looks[row].entry.order].end, (first, second, row)
        came_out += 1
    assert came_out >= 5


def test_many_at_once_come_to_what_each_comes_to_alone():
    chance = Random(5)  # noqa: S311 - which pairs, not a secret
    table = max(desk("harbour").tables, key=lambda t: len(t.piece.looks))
    row = 40
    pairs = [pair for pair in (pairs_of(table, chance) for _ in range(400)) if pair[1].on <= row]
    knit = once_more("harbour")
    together = both_made(table.piece, [(a, b) for a, b, _ in pairs], row, knit)
    assert len(pairs) > 5
    for (a, b, _), both in zip(pairs, together, strict=True):
        assert both_made(table.piece, [(a, b)], row, knit) == [both]


def test_a_pair_that_is_told_shows_what_she_sees():
    """What is told of two mistakes is not refuted by working them: no row before stops, and the next does as she says."""
    chance = Random(11)  # noqa: S311 - which pairs, not a secret
    table = max(desk("harbour").tables, key=lambda t: len(t.piece.looks))
    knit = once_more("harbour")
    told = 0
    for _ in range(100):
        first, second, row = pairs_of(table, chance)
        both = both_made(table.piece, [(first, second)], row, knit)[0]
        if both is None or both.met or both.next is None:
            continue
        odd = next((word for word, v in ODD_WORDS.items() if v == first.odd != 0), None)
        seen = {} if odd is None else {"odd": odd, "down": row - first.row}
        facts = Facts().with_(
            {**seen, "sts": shown_by(both.lie)["sts"], "row": row + 1, "off": left_by(both.next)}
        )
        pair = best_pair(rank(weigh([table], facts))[0], facts, knit)
        if pair is None:
            continue
        in_order = sorted((pair.first, pair.second), key=lambda m: m.on)
        again = both_made(table.piece, [(in_order[0], in_order[1])], pair.row, knit)[0]
        if again is not None:
            assert not again.met
            assert again.lie.live == facts.sts
            told += 1
    assert told > 2
