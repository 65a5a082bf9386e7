"""Rewordings: each is offered only if it knits the same, and says why not where it does not."""

from pathlib import Path

import pytest

from purlwright.pattern.mirrored import NoMirror, other_hand
from purlwright.rewrite.compare import difference
from purlwright.workup import WorkUp

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.pattern.md"))


def offered(text, kind):
    """The suggestions of a kind, as (words offered, ways, why not)."""
    return [(s.after, s.ways, s.refused) for s in WorkUp(text).suggestions() if s.kind == kind]


# --- totals and repeats -----------------------------------------------------------------------------------


def test_a_total_that_is_lacking_is_offered_in_every_size():
    text = "# Gull\nSizes: S (M)\nCast on 20 (24) sts.\nRow 1: Knit.\nRow 2: K2tog, k18 (22).\nRow 3: Knit.\nBind off.\n"
    assert offered(text, "totals") == [(("Row 2: K2tog, k18 (22). (19 (23) sts)",), 2, "")]


@pytest.mark.parametrize(
    ("words", "note"),
    [
        ("Rep rows 1 and 2 three times more.", "> 4 times in all, 8 rows."),
        ("Rep rows 1 and 2 3 (4) times more.", "> 4 (5) times in all, 8 (10) rows."),
        ("Rep row 2 once more.", "> 2 times in all, 2 rows."),
    ],
)
def test_a_repeat_is_told_in_all_and_in_rows(words, note):
    text = (
        f"# Gull\nSizes: S (M)\nCast on 20 (24) sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\n{words}\nBind off.\n"
    )
    assert offered(text, "repeats") == [((words, note), 2, "")]


def test_a_repeat_of_rounds_says_rounds():
    text = "# Gull\nCast on 20 sts. Join to work in the round.\nRnd 1: Knit.\nRep rnd 1 9 times more.\nBind off.\n"
    assert offered(text, "repeats") == [(("Rep rnd 1 9 times more.", "> 10 times in all, 10 rounds."), 1, "")]


def test_a_repeat_that_says_both_already_needs_nothing():
    text = "# Gull\nCast on 20 sts.\nRow 1: Knit.\nRep row 1 9 times more.\n> 10 times in all.\nBind off.\n"
    assert offered(text, "repeats") == []
    assert offered("# Gull\nCast on 20 sts.\nRow 1: Knit.\nBind off.\n", "repeats") == []


# --- at the same time -------------------------------------------------------------------------------------


def test_what_happens_at_the_same_time_becomes_one_list():
    words = "Dec 1 st at each end of every 6th row 2 times, and at the same time dec 1 st at neck edge every 4th row 2 times."
    text = f"# Gull\nSizes: S (M)\nCast on 60 (68) sts.\nKnit 4 rows.\n{words}\nBind off.\n"
    ((after, ways, refused),) = offered(text, "same time")
    assert (ways, refused) == (2, "")
    assert after[:4] == (
        "Next 3 rows: Knit.",
        "Next row (WS): K58 (66), ssp. (59 (67) sts)",
        "Next row (RS): Knit.",
        "Next row (WS): P2tog, k55 (63), ssp. (57 (65) sts)",
    )


def test_sizes_whose_rows_differ_get_a_list_each():
    words = "Dec 1 st at each end of every 6th row 2 (3) times, and at the same time dec 1 st at neck edge every 4th row twice."
    text = f"# Gull\nSizes: S (M)\nCast on 60 (68) sts.\nKnit 4 rows.\n{words}\nBind off.\n"
    ((after, ways, refused),) = offered(text, "same time")
    assert (ways, refused) == (2, "")
    assert {line.partition(" only: ")[0] for line in after} == {"S", "M"}


def test_a_list_of_no_end_is_refused():
    words = "Dec 1 st at each end of every 80th row 6 times, and at the same time dec 1 st at neck edge every 4th row twice."
    text = f"# Gull\nCast on 60 sts.\nKnit 4 rows.\n{words}\nBind off.\n"
    ((after, _, refused),) = offered(text, "same time")
    assert after == ()
    assert "more than a list can hold" in refused


# --- the mirrored half ------------------------------------------------------------------------------------

FRONTS = """\
# Gull Vest
Sizes: S (M)
## Left front
Cast on 24 (28) sts.
{row}
Row 2: Purl.
Bind off all sts.
## Right front
Work as for left front, reversing shaping.
"""


@pytest.mark.parametrize(
    ("row", "mirrored"),
    [
        ("Row 1 (RS): Knit to last 3 sts, k2tog, k1.", "Row 1 (RS): K1, ssk, knit to end."),
        ("Row 1 (RS): K2, m1l, knit to end.", "Row 1 (RS): Knit to last 2 sts, m1r, k2."),
        ("Row 1 (RS): K4, 2/2 RC, knit to end.", "Row 1 (RS): Knit to last 8 sts, 2/2 LC, k4."),
        ("Row 1 (RS): K4, yo, ssk, pm, knit to last 2 sts, ssk.", "Row 1 (RS): K2tog, knit to last 6 sts, pm, k2tog, yo, k4."),
        ("Row 1 (RS): *K2, p2; rep from * to end.", "Row 1 (RS): *P2, k2; rep from * to end."),
    ],
)  # fmt: skip
def test_a_row_of_the_mirrored_half(row, mirrored):
    ((after, ways, refused),) = offered(FRONTS.format(row=row), "mirror")
    assert (refused, ways) == ("", 2)
    assert after == ("Cast on 24 (28) sts.", mirrored, "Row 2: Purl.", "Bind off all sts.")


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("Row 1 (RS): Kfb, knit to end.", '"kfb" has no stitch that is its mirror'),
        ("Row 1 (RS): Bind off 3 sts, knit to end.", "bound off in the row"),
    ],
)
def test_what_cannot_be_mirrored_is_refused_with_the_reason(row, why):
    ((after, _, refused),) = offered(FRONTS.format(row=row), "mirror")
    assert after == ()
    assert why in refused


def test_every_hand_has_its_other():
    for stitch in ("k2tog", "ssk", "M1L", "M1R", "2/2 RC", "3/1 LPC", "k", "yo"):
        assert other_hand(other_hand(stitch)) == stitch
    with pytest.raises(NoMirror):
        other_hand("kfb")


# --- one size ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name.partition(".")[0])
def test_an_example_for_one_size_knits_as_that_size_of_all(path):
    work = WorkUp(path.read_text(encoding="utf-8"))
    for size in work.pattern.sizes:
        one = work.for_one_size(size)
        assert one.refused == ""
        alone = WorkUp("\n".join(one.after))
        assert alone.sizes == ("One size" if "/" in size else size,)
        assert difference(work.knitted(size), alone.knitted()) == ""
        assert not any(f.severity.value == "error" for f in alone.proved().findings)


def test_lines_for_other_sizes_fall_out():
    text = "# Gull\nSizes: S (M, L)\nCast on 8 (10, 12) sts.\nS, M only: Row 1: Knit.\nL only: Row 1: Purl.\nKnit 2 (-, 4) rows.\nBind off.\n"
    lines = WorkUp(text).for_one_size("M").after
    assert lines == ("# Gull", "Sizes: M", "Cast on 10 sts.", "Row 1: Knit.", "Bind off.", "")


def test_a_pattern_of_one_size_has_nothing_to_choose():
    assert (
        WorkUp("# Gull\nCast on 8 sts.\nBind off.\n").for_one_size("one size").refused
        == "the pattern has one size"
    )


# --- all of them ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name.partition(".")[0])
def test_every_offer_for_an_example_knits_the_same(path):
    text = path.read_text(encoding="utf-8")
    work = WorkUp(text)
    lines = text.split("\n")
    for s in work.suggestions():
        assert s.refused == ""
        assert tuple(lines[s.line - 1 : s.end_line]) == s.before
        new = WorkUp("\n".join([*lines[: s.line - 1], *s.after, *lines[s.end_line :]]))
        for size in work.sizes:
            assert difference(work.knitted(size), new.knitted(size)) == ""


def test_a_difference_is_told_in_words():
    mine = WorkUp("# Gull\nCast on 8 sts.\nRow 1: Knit.\nBind off.\n").knitted()
    for words, said in [
        ("Row 1: K6, k2tog.", "row 2 of the work ends with 7 stitches instead of 8"),
        ("Row 1: Purl.", "row 2 has p in the place of k"),
        ("Row 1: Knit.\nRow 2: Knit.", "row 3 of the work ends with 8 stitches instead of 0"),
    ]:
        other = WorkUp(f"# Gull\nCast on 8 sts.\n{words}\nBind off.\n").knitted()
        assert difference(mine, other) == said
