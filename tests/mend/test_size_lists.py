"""Lists of sizes: whose number, which is missing; and rows that fell out."""

from purlwright.mend.edits import Words, changes
from purlwright.mend.rows_lost import lost_rows
from purlwright.mend.size_lists import entries, known_lists, steps_unlike, with_one_less, with_one_more
from purlwright.workup import WorkUp

COWL = """# Gull Cowl
Sizes: S (M, L)

Cast on 96 (104, 112) sts. Join to work in the round.
Rnd 1: *K2, p2; rep from * to end.
Rnd 2: *K2tog, k6; rep from * to end. (84 (91, 98) sts)
Bind off all sts.
"""


def test_each_number_of_a_list_has_its_size():
    found = entries("K24 (28), p2 (2), k3", 2)
    assert [(e.place, e.values) for e in found.values()] == [
        (0, (24, 28)), (1, (24, 28)), (0, (2, 2)), (1, (2, 2)),
    ]  # fmt: skip
    assert not entries("K24 (28)", 1)
    assert not entries("K24 (28)", 3)
    assert not entries("", 2)


def test_even_steps():
    assert steps_unlike((10, 12, 14)) == 0
    assert steps_unlike((10, 13, 14)) == 2
    assert steps_unlike((10, 8, 14)) > steps_unlike((10, 11, 14))
    assert steps_unlike((5,)) == 0
    assert steps_unlike((None, 10, 12)) == 0


def test_the_number_that_a_list_lacks_is_the_one_it_has_elsewhere_then_the_even_step():
    here = next(iter(with_one_more("until 32 (40, 44) sts", 4, known_lists(["K32 (36, 40, 44)"], 4))))
    assert here[2] == "32 (36, 40, 44)"
    assert next(iter(with_one_more("for 15 (19, 21) cm", 4, ())))[2] == "15 (17, 19, 21)"
    assert list(with_one_more("for 15 (19, 21) cm", 3, ())) == []


def test_a_number_too_many():
    assert [new for _, _, new in with_one_less("23 (27, 27) times")] == ["27", "27"]


def test_only_the_number_of_the_size_is_changed():
    words = Words(text="K24 (28), p2", offset=0, sizes=2, met=frozenset({1}))
    titles = {c.title for c in changes(words, (), [])}
    assert "27 for 28" in titles
    assert "K23 for K24" not in titles
    every = {c.title for c in changes(Words(text="K24 (28), p2", offset=0, sizes=2), (), [])}
    assert "p3 for p2" in every
    assert not {"27 for 28", "K23 for K24"} & every


def first(text):
    return WorkUp(text).repairs()[0].fixes[0].title


def test_a_list_that_lost_a_number_gets_it_back():
    assert first(COWL.replace("96 (104, 112)", "96 (112)")) == "line 4: 104 after 96"


def test_a_wrong_total_is_what_was_knitted():
    assert first(COWL.replace("(91, 98)", "(93, 98)")) == "line 6: 91 sts for 93 sts"


PAIRS = [
    "Row 1 (RS): With A, k1, *sl1 wyib, k1; rep from * to end.",
    "Row 2 (WS): With A, k1, *sl1 wyif, k1; rep from * to end.",
    "Row 3: With B, *k2, sl1 wyib; rep from * to end.",
    "Row 5: With A, k1, *sl1 wyib, k1; rep from * to end.",
]


def test_a_row_that_fell_out_is_told_by_its_partner():
    lost = [one.words for one in lost_rows(PAIRS)]
    assert lost[0] == "Row 4: With B, *k2, sl1 wyif; rep from * to end."
    assert PAIRS[0] in [one.words for one in lost_rows(PAIRS[1:])]


def test_every_other_row_that_is_the_same_is_put_back():
    rows = [f"Rnd {n}: {'Knit.' if n % 2 == 0 else f'K{n}, k2tog, knit to end.'}" for n in range(1, 9)]
    lost = next(lost_rows([row for row in rows if "Rnd 4" not in row]))
    assert lost.words == "Rnd 4: Knit."
    assert list(lost_rows([])) == []
