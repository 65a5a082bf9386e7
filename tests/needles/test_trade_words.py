"""Trade words that honest patterns use: where rounds begin, groups on hold, shaping told again, edges, heels."""

import pytest

from needles.worked import work
from purlwright.pattern.file import read_pattern
from purlwright.text import Source
from purlwright.workup import WorkUp


def test_each_cast_on_has_its_marker():
    w = work(
        "Cast on 10 sts for the front, pm, cast on 6 sts for the sleeve, pm, cast on 10 sts for the back. (26 sts)\n"
        "Row 1: *K to 2 sts before m, k2tog, sm; rep from * once more, k to end. (24 sts)\nBind off."
    )
    assert w.wrong == []


def test_the_group_that_is_named_is_taken_from_hold():
    w = work(
        "Cast on 9 sts.\nKnit 1 row.\n"
        "Next row: Place the next 2 sts on waste yarn for the first finger, place the next 3 sts on waste yarn for the"
        " second finger, place the next 4 sts on waste yarn for the little finger.\n"
        "Place the held sts of the first finger on the needles. K2. (2 sts)\nBind off.\n"
        "Place the held sts of the second finger on the needles. K3. (3 sts)\nBind off.\n"
        "Place the held sts of the little finger on the needles. K4. (4 sts)\nBind off."
    )
    assert w.wrong == []


@pytest.mark.parametrize(
    "words",
    [
        "The rnd now begins at this marker.",
        "The round now begins here.",
        "This marker now marks the beginning of the round.",
        "This is the new beg of rnd.",
    ],
)
def test_the_round_begins_where_the_words_say(words):
    w = work(
        "Cast on 20 sts. Place marker for beg of rnd and join.\nNext rnd: K5, pm, k10, pm, k5.\n"
        f"Next rnd: Remove marker, knit to first marker. {words}\n"
        "Rnd 1: *K1, k2tog, k to m, sm; rep from * once more. (18 sts)\nBind off."
    )
    assert w.wrong == []


def test_shaping_in_the_same_way_is_the_shaping_told_before():
    w = work(
        "Cast on 24 sts.\nKnit 2 rows.\n"
        "Increase 1 st at each end of next row, then increasing in the same way on every 4th row 3 times more. (32 sts)\n"
        "Bind off."
    )
    assert w.wrong == []
    assert len(w.rows) == 1 + 2 + 1 + 12 + 1


@pytest.mark.parametrize(
    "words",
    [
        "Rep rows 3 and 4 until all the sts have been worked.",
        "Continue in this manner until all sts are worked.",
    ],
)
def test_a_heel_turns_until_all_stitches_are_worked(words):
    w = work(
        "Cast on 24 sts.\nRow 1 (RS): K13, ssk, k1, turn.\nRow 2 (WS): Sl 1, p3, p2tog, p1, turn.\n"
        "Row 3: Sl 1, k to 1 st before gap, ssk, k1, turn.\nRow 4: Sl 1, p to 1 st before gap, p2tog, p1, turn.\n"
        f"{words} (14 sts)\nBind off."
    )
    assert w.wrong == []


@pytest.mark.parametrize(
    ("words", "ends"),
    [
        ("Bind off 5 sts at each end.", [15, 10]),
        ("Bind off 5 sts on each side of the needle.", [15, 10]),
        ("Bind off 5 sts at each end of next row.", [10]),
        ("Next row: Bind off 5 sts at each end.", [10]),
        ("Bind off 2 sts at each end of next and every foll alt row 3 times.", [16, 16, 12, 12, 8]),
        ("Bind off 5 sts for the shoulder at the beg of the next 2 rows.", [15, 10]),
    ],
)
def test_stitches_are_bound_off_at_both_ends(words, ends):
    w = work(f"Cast on 20 sts.\nKnit 2 rows.\n{words}\nBind off.")
    assert [f for f in w.wrong if "times-or-more" not in f] == []
    assert w.ends[3:-1] == ends


def test_a_row_named_in_the_notes_is_worked_beside_others():
    w = work(
        "## Notes\nButtonhole row (RS): K2, k2tog, yo, k to end.\n## Band\nCast on 10 sts.\n"
        "Work 40 rows in garter stitch, at the same time working a buttonhole row on the 5th row and on every following"
        " 10th row until 3 buttonholes have been made.\nBind off."
    )
    assert w.wrong == []
    assert [i for i, e in enumerate(w.rows) if e.made and i] == [5, 15, 25]


@pytest.mark.parametrize("words", ["Rows 3 and 4: As rows 1 and 2.", "Rows 3 and 4: Same as rows 1-2."])
def test_rows_are_worked_as_others(words):
    w = work(f"Cast on 5 sts.\nRow 1: K1, yo, k to end.\nRow 2: Purl.\n{words} (7 sts)\nBind off.")
    assert w.wrong == []
    assert w.ends == [5, 6, 6, 7, 7, 0]


@pytest.mark.parametrize(
    "words",
    [
        "Work 24 rows of i-cord on these 4 sts.",
        "Work these 2 rows 10 times in all.",
        "Break yarn, draw through and fasten off.",
        "Next row: Purl, picking up the wraps and purling them together with the wrapped sts.",
        "Next rnd: Knit, lifting the last wrap.",
        "Cast on 56 sts loosely and join to work in the round, placing a marker.",
    ],
)
def test_words_of_the_trade_are_read(words):
    assert [f for f in work(words).pattern.findings if f.severity == "error"] == []


@pytest.mark.parametrize(
    "line", ["The set-up of a cabled front above its rib.", "A set-in sleeve, with its back."]
)
def test_a_line_under_the_title_may_tell_of_the_set_up(line):
    p = read_pattern(Source(f"# A\n{line}\n\nNeedles: 4 mm\n\n## Front\nCast on 4 sts.\nBind off.\n"))
    assert p.findings == ()
    assert p.description == (line,)


GUSSET = (
    "Sizes: S (L)\n\n## Hand\nCast on 36 (42) sts and join.\nRnd 1: K17 (20), pm, m1l, k1, m1r, pm, k to end.\n"
    "Rnds 2-3: Knit.\nRnd 4: K to m, sm, m1l, k to m, m1r, sm, k to end.\nRep rnds 2-4 4 (5) more times"
)


@pytest.mark.parametrize("form", [": {} sts between markers.", ". ({} sts between markers)"])
@pytest.mark.parametrize(("count", "wrong"), [("13 (15)", 0), ("14 (15)", 1)])
def test_a_count_between_markers_is_no_total_and_is_checked(form, count, wrong):
    p = WorkUp(f"# A\n{GUSSET}{form.format(count)}\nBind off.\n")
    assert [f.code for f in p.findings("S") if f.severity != "note"] == ["between-markers-differs"] * wrong
    assert [f for f in p.findings("L") if f.severity != "note"] == []


def test_sizes_in_a_bracket_are_no_printed_total():
    p = WorkUp(f"# A\n{GUSSET}. The heel is worked over the first 13 (15) sts.\nBind off.\n")
    assert [e.end for e in p.knitted("S").ledger.entries[-2:]] == [48, 0]


@pytest.mark.parametrize("words", ["knit the held sts", "knit held sts", "knit the live stitches"])
def test_held_stitches_that_are_knitted_are_all_of_them(words):
    w = work(f"Cast on 12 sts.\nKnit 2 rows.\nNext row: {words[0].upper()}{words[1:]}. (12 sts)\nBind off.")
    assert w.wrong == []
