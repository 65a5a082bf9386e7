"""Wordings of printed sheets and magazines: what they work, row by row."""

import pytest

from needles.worked import ends, work

GUSSET = (
    "Cast on 20 sts. Join to work in the round.\nRnd 1: K10, pm, m1l, k1, m1r, pm, k to end.\nRnd 2: Knit.\n"
    "Rnd 3: K to m, sm, m1l, k to m, m1r, sm, k to end.\nRep rnds 2 and 3 twice more. (28 sts)\n"
    "Next rnd: K to m, remove m, place 9 thumb sts on scrap yarn, remove m, cast on 1 st, k to end. (20 sts)\n"
)


@pytest.mark.parametrize(
    "words", ["Work straight for 6 rnds.", "Work 6 rounds even.", "Work 6 rnds without shaping."]
)
def test_what_is_worked_even_is_not_shaped_again(words):
    w = work(f"{GUSSET}{words}\nBind off.")
    assert w.wrong == [w.wrong[0]]
    assert w.wrong[0].startswith("left-on-hold")
    assert w.ends[-7:] == [20] * 6 + [0]


def test_a_lace_pattern_goes_on_where_it_is_worked_even():
    w = work(
        "Cast on 12 sts.\nRow 1: *K1, yo, k2tog; rep from * to end.\nRow 2: Purl.\nWork 4 rows even.\nBind off."
    )
    assert w.wrong == []
    assert "yo" in w.ops(3)


def test_a_thumb_is_placed_on_needles_by_its_name():
    w = work(
        f"{GUSSET}Bind off.\nPlace thumb sts on dpns, pick up and k 3 sts across the gap. (12 sts)\nK 4 rnds.\nBind off."
    )
    assert w.wrong == []
    assert [(e.kind.value, e.end) for e in w.rows[-5:-1]] == [("round", 12)] * 4


def test_the_sleeve_stitches_are_as_many_as_there_are():
    assert ends(
        "Cast on 30 sts. Join to work in the round.\nKnit 2 rnds.\n"
        "Next rnd: K10, place next 10 sts on waste yarn for sleeve, cast on 4 sts, k to end. (24 sts)\nBind off.\n"
        "Return 10 held sts to needles; pick up and knit 2 sts, knit the sleeve sts, pick up and knit 2 sts. (14 sts)\n"
        "Knit 2 rounds.\nBind off."
    )[-4:] == [14, 14, 14, 0]


@pytest.mark.parametrize(
    "words",
    [
        "Carry on decreasing like this, with one fewer stitch between the decreases each time, until 8 sts remain.",
        "Continue decreasing like this until 8 sts remain.",
    ],
)
def test_a_crown_carried_on_comes_to_its_count(words):
    w = work(
        "Cast on 40 sts. Join to work in the round.\nCrown Decreases (change to dpns when necessary)\n"
        "Rnd 1: *K3, k2tog; rep from * to end. (32 sts)\nRnd 2 and all even rounds: k to end.\n"
        f"Rnd 3: *K2, k2tog; rep from * to end. (24 sts)\n{words}\nBind off."
    )
    assert w.wrong == []
    assert w.ends[-2] == 8


def test_the_second_needle_as_the_first():
    w = work(
        "Cast on 24 sts, 12 sts on each of 2 needles. Join to work in the round.\n"
        "Rnd 1: N1 (instep): k1, m1r, k to last st, m1l, k1; N2: as N1. (28 sts)\n"
        "Rnd 2: N1 (instep): p to end; N2 (sole): knit.\nBind off."
    )
    assert w.wrong == []
    assert w.seen(3) == "p" * 14 + "k" * 14


def test_a_fold_grafted_down_takes_the_stitches_off():
    w = work(
        "Cast on 20 sts.\nKnit 4 rows.\nFold to inside and graft live sts to cast-on sts using Kitchener st."
    )
    assert w.wrong == []
    assert w.ends[-1] == 0


def test_whole_patterns_count_the_one_that_was_told():
    w = work(
        "Cast on 12 sts.\nRow 1: Knit.\nRow 2: Purl.\nRow 3: Purl.\nRow 4: Knit.\nWork 3 patterns.\nCast off."
    )
    assert w.wrong == []
    assert len(w.rows) == 1 + 12 + 1


def test_a_tab_and_what_is_picked_up_round_it_has_its_side_from_the_next_label():
    assert ends(
        "CO 3 sts. Knit 6 rows. Do not turn; rotate work 90 degrees, pick up and knit 3 sts along the edge, then 3 sts from"
        " CO edge. (9 sts)\nSet-up row (WS): K3, p3, k3.\nRow 1 (RS): Knit.\nBind off."
    )[-3:] == [9, 9, 0]


def test_shape_top_before_a_label_opens_the_row():
    w = work(
        "Cast on 20 sts.\nKnit 2 rows.\nShape top.—1st row: *K. 3, k. 2 tog.; rep. from * to end.\nCast off."
    )
    assert w.wrong == []
    assert w.ends == [20, 20, 20, 16, 0]


def test_rows_of_a_chart_in_words_stand_under_its_name():
    w = work(
        "Cast on 8 sts.\nChart A in words\nRow 1 (RS): *Yo, k2tog; rep from * to end.\nRow 2: Purl.\nBind off."
    )
    assert w.wrong == []
    assert len(w.rows) == 4


def test_a_piece_told_in_one_paragraph_is_no_key_of_the_header():
    from purlwright.needles.knit import knit
    from purlwright.pattern.file import read_pattern
    from purlwright.text import Source

    p = read_pattern(
        Source(
            "# Vest\n\nSizes: one\n\nBACK: With size 4 mm needles and A, cast on 20 sts. Knit 4 rows. Bind off.\n"
        )
    )
    assert [e.key for e in p.header.entries] == ["Sizes"]
    assert [e.end for e in knit(p).ledger.entries] == [20, 20, 20, 20, 20, 0]
