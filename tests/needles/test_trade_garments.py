"""Small pieces worded as designers word them, knitted to the end: what a knitter would have on the needle."""

import pytest

from needles.worked import ends, work
from purlwright.needles.knit import knit
from purlwright.pattern.file import read_pattern
from purlwright.text import Source


def knitted(text):
    pattern = read_pattern(Source(text))
    k = knit(pattern)
    return k, [f"{f.code}: {f.message}" for f in (*pattern.findings, *k.findings) if f.severity != "note"]


def test_a_short_row_heel_over_half_a_round():
    w = work(
        "Cast on 56 sts. Join to work in the round.\nKnit 3 rnds.\nWork back and forth on first 28 sts only.\n"
        "Row 1 (RS): K27, w&t.\nRow 2 (WS): P26, w&t.\nRow 3: K to st before last wrapped st, w&t.\n"
        "Row 4: P to st before last wrapped st, w&t.\n"
        "Rep rows 3 and 4 until 10 sts rem unwrapped in the centre.\n"
        "Row 5: K to first wrapped st, pick up wrap and k it tog with st, turn.\n"
        "Row 6: Sl 1, p to first wrapped st, pick up wrap and p it tog with st, turn.\n"
        "Rep rows 5 and 6 until all wraps have been worked.\n"
        "Resume knitting in the rnd on all sts.\nK 4 rnds.\nBind off."
    )
    assert w.wrong == []
    heel = [e for e in w.rows if e.label.startswith("Row")]
    assert [e.unworked for e in heel if e.label == "Row 3"] == list(range(2, 10))
    assert {e.end for e in heel} == {28}
    assert [(e.kind.value, e.end) for e in w.rows[-5:]] == [("round", 56)] * 4 + [("bind-off", 0)]


def test_a_thumb_worked_flat_between_turns_with_stitches_cast_on_at_either_side():
    w = work(
        "Cast on 52 sts.\nRow 1 (RS): K31, turn and cast on 1 st.\n"
        "Row 2: P11, turn and cast on 1 st. (12 sts)\nWork 4 rows st st on these 12 sts. Cast off.\n"
        "With RS facing, rejoin yarn, pick up and knit 2 sts from base of thumb, k to end. (44 sts)\n"
        "Next row: P.\nCast off."
    )
    assert w.wrong == []
    assert w.ends == [52, 52, 53, 53, 54, 12, 12, 12, 12, 0, 44, 44, 0]


@pytest.mark.parametrize("words", ["with shawl st", "(with next shawl st)", ""])
def test_what_a_decrease_takes_in_may_be_named(words):
    w = work(f"Cast on 9 sts.\nRow 1 (RS): K3, k2tog {words}, turn.\nRow 2: Sl 1, k3.\nBind off.")
    assert w.wrong == []
    assert w.ends == [9, 8, 8, 0]


def test_a_row_under_the_name_of_its_part_has_its_own_number():
    w = work("Cast on 8 sts, join in the round.\nToe: Rnd 1: K2tog around. (4 sts)\nRnd 2: Knit.\nBind off.")
    assert w.wrong == []
    assert [(e.label, e.number) for e in w.rows[2:4]] == [("Rnd 1", 1), ("Rnd 2", 2)]


def test_an_edging_knitted_on_takes_a_shawl_stitch_in_each_of_its_rows():
    w = work(
        "Cast on 9 sts.\nRow 1 (RS): K3, k2tog, turn.\nRow 2: Sl 1, k3.\n"
        "Rep rows 1 and 2 until all shawl sts have been worked.\nBind off."
    )
    assert w.wrong == []
    assert w.ends == [9, 8, 8, 7, 7, 6, 6, 5, 5, 4, 4, 0]


def test_a_raglan_front_told_as_the_back_up_to_another_count():
    k, wrong = knitted(
        "# Quay Trial\n\nBack\nCast on 52 sts and work 6 rows in k2, p2 rib.\nRaglan shaping\n"
        "Bind off 3 sts at beg of next 2 rows. 46 sts.\nNext row: K2, skpo, k to last 4 sts, k2tog, k2.\n"
        "Next row: Purl.\nRep last 2 rows until 20 sts rem, ending with a purl row. Leave these sts on a holder.\n"
        "Front\nWork as given for back until 28 sts rem, ending with a purl row.\nNeck shaping\n"
        "Next row: K2, skpo, k5, turn and complete this side first. 8 sts.\nNext row: P2tog, p to end. 7 sts.\n"
        "Bind off.\n"
    )
    assert [w.split(":")[0] for w in wrong] == ["left-on-hold", "left-on-hold"]
    back, front = k.ledger.pieces
    assert (back.name, back.rows[-1].end, back.held) == ("Back", 20, 20)
    assert [e.end for e in front.rows][-4:] == [28, 27, 7, 0]


@pytest.mark.parametrize(
    ("words", "want"),
    [
        ("Cast on 9 sts.\nCont in st st and work 4 rows.\nBind off.", [9, 9, 9, 9, 9, 0]),
        ("Cast on 9 sts.\nKnit 1 row.\nWorking in rows, work 2 rows in st st.\nBind off.", [9, 9, 9, 9, 0]),
        ("Cast on 9 sts.\nWork as follows:\nRow 1: Knit.\nBind off.", [9, 9, 0]),
        (
            "Cast on 9 sts.\nKnit 1 row.\nLeave these sts on a holder.\nReturn 9 held sts to needle.\nBind off.",
            [9, 9, 0],
        ),
        (
            "Cast on 9 sts.\nRow 1: K3 and slip these sts on to a holder, bind off 2 sts, k to end. (4 sts)",
            [9, 4],
        ),
        (
            "Cast on 6 sts.\nRow 1: K2, sl both sts back to left needle, k2tog, k4. (5 sts)\nBind off.",
            [6, 5, 0],
        ),
    ],
)
def test_words_that_were_worked_once_too_often_or_not_at_all(words, want):
    w = work(words)
    assert [f for f in w.wrong if not f.startswith(("left-", "side-"))] == []
    assert w.ends == want


def test_a_buttonhole_is_made_on_the_rows_that_are_told():
    w = work(
        "Cast on 40 sts.\nKnit 4 rows.\nButtonhole row (RS): K3, yo, k2tog, k to end.\nNext row: Knit.\n"
        "Cont in garter st until 40 rows have been worked, AT THE SAME TIME making a buttonhole at the beg of "
        "every 12th row.\nCast off."
    )
    assert w.wrong == []
    assert [i for i, e in enumerate(w.rows) if e.made] == [0, 5, 18, 30, 42]


@pytest.mark.parametrize(
    "rows",
    [
        "Work 8 rows less than on back to shoulder, ending with a p. row.",
        "Work until front is 11 rows shorter than back.",
    ],
)
def test_so_many_rows_less_than_another_piece_are_not_so_many_rows(rows):
    w = work(f"Cast on 9 sts.\nKnit 2 rows.\n{rows}\nBind off.")
    assert len(w.rows) < 7
    assert any("left to the knitter" in f.message for f in w.knitted.findings)


def test_next_rounds_whose_rows_stand_under_them_are_said():
    w = work(
        "Cast on 8 sts. Join in the round.\nNext 24 rnds: work in lace patt as folls:\nLace rnd 1: Knit.\nBind off."
    )
    assert [f.split(":")[0] for f in w.wrong] == ["not-read"]


def test_a_name_that_the_next_line_casts_on_is_a_piece():
    k, wrong = knitted(
        "# Quay Doll\n\nBody (worked from the base)\nC/o 12 sts.\nRow 1: Inc in every st (24).\nBind off.\n"
        "Arms (make 2)\nC/o 8 sts. Work 4 rows. Bind off.\nSIDE 1\nCast on 5 sts.\nBind off.\n"
        "SIDE 2\nMake same as Side 1.\n"
    )
    assert wrong == []
    assert [p.rows[0].end for p in k.ledger.pieces] == [12, 8, 8, 5, 5]


def test_the_instep_of_a_bootee_goes_on_to_the_printed_total():
    assert ends(
        "Cast on 13 sts.\nKnit 1 row.\nNext row: K6, k2tog, turn.\nNext row: Sl 1, k1, k2tog, turn.\n"
        "Rep the last row until there are 3 sts left on each side of the 2 centre sts [8 sts].\n"
        "Next row: K to end.\nNext row: K8.\nBind off."
    )[-3:] == [8, 8, 0]


def test_continue_in_this_way_takes_a_stitch_less_between_decreases_if_the_rows_before_did():
    assert ends(
        "Cast on 37 sts.\n1st row: (K7, k2tog) 4 times, k1. (33 sts)\n2nd row: P.\n"
        "3rd row: (K6, k2tog) 4 times, k1. (29 sts)\n4th row: P.\n"
        "Cont in this way until 17 sts rem ending with a p row.\nNext row (RS): (K2tog) 8 times, k1. (9 sts)\nBind off."
    ) == [37, 33, 33, 29, 29, 25, 25, 21, 21, 17, 17, 9, 0]


def test_a_pinwheel_goes_on_with_a_stitch_more_between_its_overs():
    assert ends(
        "Cast on 9 sts; join in the round.\nRnd 1 and every odd rnd: Knit.\nRnd 2: (Yo, k1) 9 times. 18 sts.\n"
        "Rnd 4: (Yo, k2) 9 times. 27 sts.\n"
        "Cont in this manner, having 1 more st between yo's on every even rnd, until there are 45 sts.\nCast off."
    )[-5:] == [27, 36, 36, 45, 0]


def test_a_jumper_front_of_old_is_knitted_with_both_sides_of_its_neck():
    k, wrong = knitted(
        "# Quay Trial\nTerms: UK\n\n## The Back\nCast on 60 sts. Knit 2 rows.\n"
        "Shape Armholes. - Cast off 6 sts. at beg. of next 2 rows. "
        "K. 2 tog. at both ends of next and every foll. alt. row until 40 sts. remain.\nCast off.\n\n## The Front\n"
        "Work exactly as given for Back until 44 sts. remain after armhole shaping, ending with a purl row.\n"
        "Next row: K. 16, cast off 12, k. to end.\n"
        "Work on last set of 16 sts. thus: Dec. 1 st. at neck edge on every row until 12 sts. remain.\n"
        "At armhole edge cast off 6 sts. on next and foll. alt. row.\n"
        "Join wool at neck edge to remaining sts. and work to match other side, reversing shapings.\n"
    )
    assert [w.split(":")[0] for w in wrong if not w.startswith("side-not-known")] == []
    fronts = [p for p in k.ledger.pieces if p.name.startswith("The Front")]
    assert [p.bound_off + p.live for p in fronts] == [36, 12]


def test_decreases_on_the_first_of_several_rounds():
    w = work(
        "Cast on 64 sts, join in the round.\nK 3 rnds, dec 8 sts evenly on first rnd. 56 sts.\nCast off."
    )
    assert w.wrong == []
    assert w.ends[-4:] == [56, 56, 56, 0]


def test_sleeves_of_a_yoke_go_on_hold_up_to_their_markers():
    w = work(
        "Cast on 58 sts.\nRow 1 (WS): P10, pm, p8, pm, p22, pm, p8, pm, p10.\n"
        "Next row (RS): K to first m, slip sleeve sts onto holder, CO 4 sts for underarm, k across back to next m, "
        "slip sleeve sts to holder, CO 4 sts, k to end.\nPurl 1 row.\nBind off."
    )
    parted = next(e for e in w.rows if e.label == "Next row")
    assert (parted.start, parted.held, parted.end) == (58, 16, 50)
    assert [words for words in w.wrong if "left-on-hold" not in words] == []


def test_a_sleeve_knitted_by_itself_goes_on_hold_whole():
    w = work(
        "Cast on 40 sts.\nKnit 10 rows.\nPlace sleeve sts on holder.\nCast on 60 sts.\nKnit 4 rows.\nBind off."
    )
    assert [words.split(" put on hold")[0] for words in w.wrong] == ["left-on-hold: 40 stitches"]


@pytest.mark.parametrize(
    ("rows", "end"),
    [
        (
            "Cast on 24 sts (12 on each needle).\nRnd 1: *K1, m1, k to last st on needle, m1, k1; rep from * once.",
            28,
        ),
        ("Cast on 12 sts.\nRow 1: *K2, p1, k2tog, k1; rep from * once.", 10),
    ],
)
def test_what_is_repeated_from_a_star_once_is_worked_twice(rows, end):
    """Nobody repeats from a star to work it once in all."""
    assert work(f"{rows}").rows[-1].end == end


def test_a_pattern_goes_on_by_the_kind_that_it_is():
    k, wrong = knitted(
        "# Rope\nGauge: 20 sts and 28 rows = 10 cm\n\nCast on 21 sts.\nRow 1 (RS): P3, *C6F, p3; rep from * to end.\n"
        "Row 2 (WS): K3, *p6, k3; rep from * to end.\n"
        "Cont in cable patt until work measures 10 cm, ending with RS facing for next row.\nCast off in pattern.\n"
    )
    assert wrong == []
    assert [e.kind.value for e in k.ledger.pieces[0].rows].count("row") == 28


def test_a_part_may_stand_before_the_label_of_its_first_row():
    w = work(
        "Cast on 40 sts. Join to work in the round.\nTop: Dec rnd: *Ssk, k16, k2tog; rep from * once more. (36 sts)\n"
        "Crown: Next rnd: *K7, k2tog; rep from * to end. (32 sts)\nBind off."
    )
    assert w.wrong == []
    assert [(e.label, e.end) for e in w.rows if e.kind.value == "round"] == [
        ("Dec rnd", 36),
        ("Next rnd", 32),
    ]
