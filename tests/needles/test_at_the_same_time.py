"""Shaping at the same time as other rows or other shaping: every row has all that falls on it."""

import pytest

from needles.worked import work

FORTY = "Cast on 40 sts.\n"
TWO_ROWS = FORTY + "Row 1 (RS): Knit.\nRow 2: Purl.\n"


def rows(words):
    """How each row changes the count, and whether it all came out without a word."""
    w = work(words)
    assert [f for f in w.wrong if not f.startswith("left-live")] == []
    return [e.made - e.lost for e in w.rows if e.kind == "row"]


@pytest.mark.parametrize(
    ("words", "changes"),
    [
        (
            "Dec 1 st at neck edge every row 5 times, AT THE SAME TIME bind off 3 sts at armhole edge twice. (29 sts)",
            [-4, -1, -4, -1, -1],
        ),
        (
            "Dec 1 st at neck edge every row 5 times, at the same time bind off at armhole edge 3 sts once, 2 sts twice. (28 sts)",
            [-4, -1, -3, -1, -3],
        ),
        (
            "Dec 1 st at neck edge on next 5 rows, AT THE SAME TIME bind off 6 sts at beg of every RS row 3 times. (17 sts)",
            [-7, -1, -7, -1, -7],
        ),
        (
            "Bind off 4 sts at armhole edge every 2nd row twice, at the same time bind off 2 sts at neck edge every 2nd row twice. (28 sts)",
            [0, -4, -2, -4, -2],
        ),
        ("Dec 1 st at neck edge on next 3 RS rows. (37 sts)", [-1, 0, -1, 0, -1]),
    ],
)  # fmt: skip
def test_both_edges_are_shaped_row_by_row(words, changes):
    assert rows(FORTY + words) == changes


def test_decreases_stand_at_the_other_end_than_the_stitches_bound_off():
    w = work(
        FORTY
        + "Dec 1 st at neck edge every row 4 times, AT THE SAME TIME bind off 3 sts at armhole edge twice. (30 sts)"
    )
    assert [w.ops(i)[-1] != "k" for i in (1, 3)] == [True, True]
    assert [w.ops(i)[0] != "k" for i in (1, 3)] == [False, False]
    assert [w.fan(i)[0] for i in (2, 4)] == [2, 2]


def test_stitches_go_on_being_bound_off_on_the_side_where_they_were():
    words = (
        "Row 1 (RS): Knit.\nRow 2: Bind off 5 sts, p to end.\nDec 1 st at neck edge every row 5 times, AT THE SAME"
        " TIME bind off 3 sts at armhole edge every other row twice. (24 sts)"
    )
    assert rows(FORTY + words) == [0, -5, -1, -4, -1, -4, -1]


@pytest.mark.parametrize(("total", "times"), [(34, 3), (32, 4)])
def test_the_printed_count_says_whether_the_first_is_one_of_the_times(total, times):
    got = rows(
        FORTY
        + f"Knit 20 rows, AT THE SAME TIME dec 1 st each end of next and every foll 4th row 3 times. ({total} sts)"
    )
    assert [i for i, n in enumerate(got) if n] == [4 * i for i in range(times)]


def test_without_a_count_both_readings_are_told():
    w = work(
        FORTY + "Knit 20 rows, AT THE SAME TIME dec 1 st each end of next and every foll 4th row 3 times."
    )
    assert {f.code for f in w.knitted.findings} == {"left-live", "times-or-more"}


@pytest.mark.parametrize(
    "words",
    [
        "Continue as set, at the same time inc 1 st each end of next and every foll 4th row until there are 46 sts.",
        "Work as established. At the same time, inc 1 st each end of next and every foll 4th row 3 times. (46 sts)",
    ],
)
def test_going_on_as_set_is_no_row_of_its_own(words):
    assert rows(TWO_ROWS + words) == [0, 0, 2, 0, 0, 0, 2, 0, 0, 0, 2]


def test_a_count_that_shaping_beside_other_rows_never_meets_is_said():
    w = work(
        TWO_ROWS
        + "Continue as set, at the same time inc 1 st each end of every 4th row until there are 47 sts."
    )
    assert [f.split(":")[0] for f in w.wrong if "left-live" not in f] == ["never-reached"]


def test_an_increase_row_falls_on_rows_worked_meanwhile():
    words = (
        "Row 1 (RS): Knit.\nRow 2: Purl.\nInc row: K1, m1, k to last st, m1, k1.\nRow 4: Purl.\n"
        "Rep rows 1 and 2 six times, AT THE SAME TIME rep inc row every 4th row 3 times. (48 sts)"
    )
    assert [i for i, n in enumerate(rows(FORTY + words)) if n] == [2, 7, 11, 15]


def test_rows_that_go_on_until_a_count_stop_there():
    w = work(
        FORTY
        + "Work in stockinette st increasing 1 st on each side every 2 cm until there are 46 sts on needle. (46 sts)\nBind off.",
        head="Gauge: 20 sts and 20 rows = 10 cm",
    )
    assert w.wrong == []
    assert [i for i, n in enumerate(e.made for e in w.rows if e.kind == "row") if n] == [3, 7, 11]


def test_rows_that_never_come_to_their_count_stop_and_it_is_said():
    words = "Work in stockinette st until there are 47 sts, at the same time inc 1 st each end of every 4th row 3 times."
    w = work(FORTY + words)
    assert [f.split(":")[0] for f in w.wrong if "left-live" not in f] == ["never-reached"]
    assert len(w.rows) < 20
