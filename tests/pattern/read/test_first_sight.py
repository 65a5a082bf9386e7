"""Wording of trade patterns met for the first time: read whole, and knitted to the counts that follow from it."""

import pytest

from needles.worked import ends, work
from purlwright.pattern import tree
from purlwright.pattern.file import read_pattern
from purlwright.text import Source


def actions(words):
    """What the last line says, read after a cast-on."""
    sections = read_pattern(Source(f"# Quay Trial\n\n## Piece\n\nCast on 99 sts.\n{words}")).sections
    return sections[-1].lines[-1].actions


def nodes(words, kind):
    return [x for x in tree.walk(actions(words)) if isinstance(x, kind)]


@pytest.mark.parametrize(
    "words",
    [
        "Rep the last 2 rnds 4 times more, switching to dpns when the sts no longer fit.",
        "Work rows 1-6 again, reading the chart from right to left.",
        "Knit 4 rnds, stranding the wool loosely behind the work.",
        "Row 3: K to 1 st before gap, ssk across gap, k1, turn.",
        "Row 3: K9 (sleeve), pm, k20 (front), pm, k9 (sleeve).",
        "Row 5: Sl 1, *k1, p3; rep from *, ending last rep p2 instead of p3, k3.",
        "Row 6: Purl, letting the extra loops drop.",
        "Work 20 rows (10 ridges) in garter st.",
        "Work 6 rnds in est two-colour brioche.",
        "Cont as set for a further 5 cm.",
        "Work without further shaping until piece measures 20 cm.",
        "Rep these 8 rows until the cloth is square, ending with row 4 or 8.",
        "Gusset set-up: K18. Rnd now begins at centre of heel.",
        "Next row: Decrease as follows: [k2, k2tog] 8 times, k to end.",
        "Rnd 1: K2, work instep sts in patt, sm, k2.",
        "Row 3: Slip 1, k rem.",
    ],
)
def test_every_word_is_read(words):
    assert nodes(words, tree.Unread) == []
    assert nodes(words, tree.Note) == []


@pytest.mark.parametrize(
    ("rows", "after"),
    [
        ("Row 1: Inc in every alternate st.", [20, 30]),
        ("Row 1: K2tog across, end k2.", [20, 11]),
        ("Row 1: Purl, keeping first 2 and last 2 plain.", [20, 20]),
        ("Row 1: K1, ssk, k to end.\nRow 2: Purl.\nRep last 2 rows twice more, then the first of these rows once.",
         [20, 19, 19, 18, 18, 17, 17, 16]),
        ("Row A (RS): K1, ssk, k to end.\nRow B (WS): Purl.\nWork rows A and B twice more.",
         [20, 19, 19, 18, 18, 17, 17]),
        ("Row 1: K2, (knit, purl, knit) in next st, k to end.\nRow 2: K2, knit and purl into the next st, k to end.",
         [20, 22, 23]),
        ("Row 1: K2, knit, purl and knit into the next st, k17.", [20, 22]),
        ("Row 1: (K1, p1) in each st to last 5 sts, k5.\nRow 2: (K1, p1) into each of next 3 sts, k to end.",
         [20, 35, 38]),
        ("Row 1: *(Knit, purl, knit) in next st, p3tog; rep from * to end.", [20, 20]),
    ],
)  # fmt: skip
def test_is_knitted_to_the_counts_that_follow_from_it(rows, after):
    assert ends(f"Cast on 20 sts.\n{rows}\nBind off.")[: len(after)] == after


@pytest.mark.parametrize(
    ("words", "loops"),
    [
        ("Remove waste yarn and place the 18 live sts on dpns.", [18]),
        ("Remove waste yarn and place 9 sts from below and 8 sts from above on needles.", [17]),
        ("Pick up 9 sts above and 9 sts below the waste yarn, then remove waste yarn.", [18]),
        (
            "Unpick scrap yarn and place the 16 live sts on dpns, picking up 1 extra st at each corner.",
            [16, 2],
        ),
    ],
)
def test_the_loops_of_an_opening_are_taken_up(words, loops):
    assert [p.count.at(0) for p in nodes(words, tree.PickUp)] == loops


def test_a_thumb_is_knitted_on_the_loops_of_its_opening():
    w = work(
        "Cast on 40 sts. Join in the round.\nKnit 2 rnds.\n"
        "Next rnd: K2, knit the next 9 sts with waste yarn, slip these 9 sts back to LH needle, then knit them"
        " again with MC, k to end.\nKnit 2 rnds.\nBind off.\n"
        "Remove waste yarn and place the 18 live sts on dpns, picking up 1 extra st at each corner. (20 sts)"
        " Join in the round.\nKnit 2 rnds.\nBind off."
    )
    assert w.ends[-3:] == [20, 20, 0]


def test_a_piece_as_another_from_its_first_row_has_no_cast_on_again():
    rows = nodes("Work as for first square from row 1.", tree.RepeatRows)[0].rows
    assert (rows.section, rows.rest) == ("first square", True)


@pytest.mark.parametrize(
    ("words", "side"),
    [
        ("Work 6 rows in garter stitch, the first of them on the right side.", tree.Side.RS),
        ("Work 6 rows in garter stitch, the first a RS row.", tree.Side.RS),
        ("Work 6 rows in garter stitch, the first one being a wrong-side row.", tree.Side.WS),
        ("P 1 row on WS.", tree.Side.WS),
        ("Work 6 rows in garter stitch.", None),
    ],
)
def test_the_words_say_on_which_side_the_first_row_is(words, side):
    assert nodes(words, tree.Unread) == []
    assert [rows.side for rows in nodes(words, tree.WorkRows)] == [side]


def test_stitches_picked_up_about_so_many_for_so_many_rows():
    words = (
        "With RS facing, pick up and knit 84 sts evenly along the right edge, about 3 sts for every 4 rows."
    )
    assert nodes(words, tree.Unread) == []
    assert [p.rate for p in nodes(words, tree.PickUp)] == [(3, 4)]


@pytest.mark.parametrize(
    ("words", "note"),
    [
        (
            "Change to double-pointed needles when the sts no longer reach round.",
            "Change to double-pointed needles when the sts no longer reach round",
        ),
        ("Change to double-pointed needles when there are too few sts.", "Change to double-pointed needles when there are too few sts"),
        ("Change to dpns when necessary, k3.", "Change to dpns when necessary"),
    ],
)  # fmt: skip
def test_why_needles_are_changed_belongs_to_the_change(words, note):
    assert nodes(words, tree.Unread) == []
    assert [n.words for n in nodes(words, tree.Note)] == [note]


def test_rows_are_worked_until_so_many_cable_rows_are_done():
    words = "Repeat rows 1-4 until 23 cable rows have been worked, then work rows 1 and 2 once more."
    assert nodes(words, tree.Unread) == []
    assert [r.until.times.at(0) for r in nodes(words, tree.RepeatRows) if r.until] == [23]


@pytest.mark.parametrize("words", ["Bind off the held sts.", "Cast off all the 20 held sts loosely."])
def test_held_stitches_are_taken_up_to_be_bound_off(words):
    text = f"Cast on 20 sts.\nKnit 4 rows. Place the 20 sts on a holder. Break yarn.\n{words}"
    w = work(text)
    assert w.wrong == []
    assert w.ends[-1] == 0


@pytest.mark.parametrize(
    ("row", "worked"),
    [
        ("Row 3: Work as row 1 to last 4 sts, k4.", "ppppkkkkppppkkkk"),
        ("Row 3: As row 1 to last 7 sts, p7.", "ppppkkkkpppppppp"),
        ("Row 3: K6, work to end as row 1.", "kkkkkkkkppppkkkk"),
    ],
)
def test_part_of_a_row_is_worked_as_another(row, worked):
    w = work(f"Cast on 16 sts.\nRow 1: P4, k4, p4, k4.\nRow 2: P16.\n{row}\nBind off.")
    assert w.wrong == []
    fabric = w.knitted.fabric
    last = next(e for e in w.knitted.ledger.entries if e.label == "Row 3")
    made = fabric.row_of_stitch == last.order
    assert "".join(fabric.ops[op] for op in fabric.op_of_stitch[made]) == worked


@pytest.mark.parametrize(
    "words",
    ["Cast on 40 sts and divide between three needles.", "CO 40 sts and divide them over four needles."],
)
def test_stitches_divided_over_a_set_of_needles_are_a_ring_when_rounds_follow(words):
    w = work(f"{words}\nRound 1: *K2, p2; rep from * to end.\nRound 2: As round 1.\nCast off.")
    assert w.wrong == []
    assert w.knitted.ledger.entries[-2].kind.value == "round"


def test_how_often_a_chart_goes_into_a_round_is_no_number_of_its_rows():
    w = work(
        "## Wave chart\n```chart\n. x . . 2\nx . . . 1\n\n. = k1\nx = p1\n```\n## Body\n"
        "Cast on 24 sts and join in the round.\nWork rnds 1 and 2 of the wave chart, 6 times in each round.\nBind off."
    )
    assert w.wrong == []
    assert [e.kind.value for e in w.knitted.ledger.entries].count("round") == 2


def test_stitches_left_on_the_needle_on_purpose_are_not_forgotten():
    w = work("Cast on 20 sts.\nKnit 4 rows.\nLeave the sts on the needle for the heel.")
    assert w.wrong == []
