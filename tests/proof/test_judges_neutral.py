"""The checks that no count can make: texture, period, mirror, charts, turns, sizes; where they hold and where not.

Each finding has its cases; here stand the places counted on patterns that are right, and patterns with nothing of
the kind.
"""

import pytest

from purlwright.findings import Result
from purlwright.proof.drawn import blocks
from purlwright.proof.spelled import spell, takes
from purlwright.proof.subject import Subject, Way
from purlwright.proof.texture import looks, seen_from_right, tile_of
from purlwright.workup import WorkUp

PLAIN = "# Gull Flap\nCast on 20 sts.\nKnit 6 rows.\nBind off all sts.\n"
CHECKS = (
    "C025 C027 C028 C029 C030 C032 C034 C042 C043 C045 C046 C047 C080 C081 C082 C083 C084 C085 C086 C087 C088 C089"
    " C090 C091 C125 C126 C128"
).split()


def verdicts(text):
    return {v.check: (v.result, v.places, v.missing) for v in WorkUp(text).proved().verdicts}


def subject(text):
    work = WorkUp(text)
    return Subject(work.source, work.pattern, [Way(s, (), work.knitted(s)) for s in work.sizes])


@pytest.mark.parametrize("check", CHECKS)
def test_a_pattern_with_nothing_of_the_kind(check):
    assert verdicts(PLAIN)[check] == (Result.NOT_APPLICABLE, 0, None)


LACE = """# Gull Lace
Cast on 33 sts.
Row 1 (RS): K2, *yo, ssk, k5, k2tog, yo, k1; rep from * to last st, k1.
Row 2 and all WS rows: Purl.
Row 3: K2, *k1, yo, ssk, k3, k2tog, yo, k2; rep from * to last st, k1.
Row 5: K2, *k2, yo, ssk, k1, k2tog, yo, k3; rep from * to last st, k1.
Row 7: K2, *k3, yo, sk2p, yo, k4; rep from * to last st, k1.
Row 8: Purl.
Bind off all sts.
"""


def test_lace_rows_are_counted_and_their_repeats_are_mirrored():
    found = verdicts(LACE)
    assert found["C087"] == (Result.HOLDS, 4, None)
    assert found["C086"] == (Result.HOLDS, 4, None)
    assert found["C042"] == (Result.HOLDS, 4, None)


def test_lace_that_turns_back_on_itself_keeps_no_rule_to_break():
    zigzag = "".join(
        f"Row {2 * n + 1}: K1, *k{k}, yo, ssk, k{8 - k}; rep from * to end.\nRow {2 * n + 2}: Purl.\n"
        for n, k in enumerate((1, 2, 3, 4, 3, 2, 1, 2, 3, 4, 3, 2))
    )
    assert verdicts(f"# Gull Lace\nCast on 31 sts.\n{zigzag}Bind off all sts.\n")["C087"][0] is Result.HOLDS


def test_an_eyelet_alone_in_the_middle_is_no_broken_mirror():
    text = LACE.replace("k3, yo, sk2p, yo, k4", "k4, yo, ssk, k4")
    assert verdicts(text)["C086"][0] is Result.HOLDS


def test_shaping_at_one_end_only_is_no_broken_mirror():
    rows = "".join(
        f"Row {n}: K1, ssk, k to last 3 sts, k2tog, k1.\nRow {n + 1}: Purl.\n" for n in (1, 3, 5, 7)
    )
    text = f"# Gull Neck\nCast on 30 sts.\n{rows}Row 9: K1, ssk, k to end.\nRow 10: Purl. (21 sts)\nBind off all sts.\n"
    assert verdicts(text)["C086"] == (Result.HOLDS, 4, None)


CHART = """# Gull Panel

## Chart A
```chart
  | . . o / . . | . 3
2 | . . . . . . | .
  | . . . o / . | . 1

. = k / p
o = yo
/ = k2tog
```

## Panel
Cast on 19 sts.
Row 1 (RS): K1, *k1, k2tog, yo, k3; rep from * to end.
Row 2: Purl.
Row 3: K1, *k2, k2tog, yo, k2; rep from * to end.
Bind off all sts.
"""


def test_a_chart_with_its_words():
    found = verdicts(CHART)
    assert found["C080"] == (Result.HOLDS, 3, None)
    assert found["C082"] == (Result.HOLDS, 1, None)
    assert found["C084"] == (Result.HOLDS, 3, None)
    assert found["C085"] == (Result.HOLDS, 3, None)
    assert found["C125"] == (Result.HOLDS, 1, None)
    assert found["C126"] == (Result.HOLDS, 3, None)
    assert found["C083"][0] is Result.NOT_APPLICABLE


def test_words_of_another_pattern_are_not_compared_with_a_chart():
    other = CHART.replace("k1, k2tog, yo, k3", "ssk, yo, k4").replace("k2, k2tog, yo, k2", "k4, yo, ssk")
    assert verdicts(other)["C080"][0] is Result.NOT_APPLICABLE


def test_a_chart_without_an_outline_and_with_crossings():
    text = (
        "# Gull Rope\n\n## Chart A\n```chart\n  . . x . 3\n2 . . . . . . .\n  . . x . 1\n\n"
        ". = k / p\nx = 2/2 RC\n```\n\n## Rope\nCast on 7 sts.\nWork rows 1-3 of chart A.\nBind off all sts.\n"
    )
    found = verdicts(text)
    assert found["C081"] == (Result.HOLDS, 2, None)
    assert found["C088"] == (Result.HOLDS, 2, None)


COLOURS = """# Gull Cuff
Yarn: MC, wool, grey
Yarn: CC, wool, green

> No strand is longer than three stitches.

## Chart A
```chart
x . . . 2
. . x . 1

. = k1 in MC
x = k1 in CC
```

## Cuff
Cast on 24 sts with MC. Join to work in the round.
Rnd 1: Work row 1 of chart A.
Rnd 2: Work row 2 of chart A.
Bind off all sts.
"""


def test_colours_with_their_yarns_and_short_strands():
    found = verdicts(COLOURS)
    assert found["C089"] == (Result.HOLDS, 1, None)
    assert found["C090"] == (Result.HOLDS, 1, None)


HEEL = """# Gull Heel
Cast on 36 sts.
Row 1 (RS): K20, ssk, k1, turn.
Row 2: Sl 1, p5, p2tog, p1, turn.
Row 3: Sl 1, k6, ssk, k1, turn.
Row 4: Sl 1, p7, p2tog, p1, turn.
Row 5: Sl 1, k8, ssk, k1, turn.
Row 6: Sl 1, p9, p2tog, p1, turn.
Row 7: Knit. (30 sts)
Bind off all sts.
"""


def test_a_heel_that_closes_its_gaps():
    found = verdicts(HEEL)
    assert found["C032"] == (Result.HOLDS, 6, None)
    assert found["C034"] == (Result.HOLDS, 4, None)


SIZES = """# Gull Front
Sizes: S (M, L)
Finished size: 22 (24, 26) cm wide
Cast on 48 (52, 56) sts.
Row 1 (RS): K18 (20, 22), pm, k12, pm, k to end.
Row 2: Purl. (48 (52, 56) sts)
Bind off all sts.
"""


def test_lists_of_sizes_and_a_panel_in_the_middle():
    found = verdicts(SIZES)
    assert found["C045"] == (Result.HOLDS, 3, None)
    assert found["C046"] == (Result.HOLDS, 3, None)
    assert found["C091"] == (Result.HOLDS, 1, None)


@pytest.mark.parametrize("listed", ["5 (2, 4)", "4 (12, 9)", "18 (16, 20)", "1 (0, 1)", "20 (20, 22)"])
def test_rows_and_rests_may_go_up_and_down(listed):
    text = SIZES.replace("Row 2: Purl.", f"Knit {listed} rows.").replace("K18 (20, 22)", "K18 (20, 22)")
    assert verdicts(text)["C046"][0] is Result.HOLDS


def test_sections_that_all_sizes_begin_on_one_side():
    text = "# Gull\nSizes: S (M)\n## Hem\nCast on 20 (24) sts.\nKnit 6 (8) rows.\n## Body\nKnit 4 rows.\nBind off all sts.\n"
    assert verdicts(text)["C025"] == (Result.HOLDS, 1, None)


def test_a_rhythm_an_interruption_a_fold_and_the_start_of_the_round():
    text = (
        "# Gull\nCast on 40 sts. Place a marker and join to work in the round.\nRnd 1: Knit.\n"
        "Rnd 2: Remove marker, k1, place marker, knit to end.\nBind off all sts.\n> Fold the band in half.\n"
    )
    found = verdicts(text)
    assert found["C030"] == (Result.HOLDS, 1, None)
    assert found["C028"] == (Result.UNDECIDED, 1, "a word on which way the work is folded")
    assert verdicts(text.replace("Fold the band in half", "Fold the hem up and sew it"))["C028"] == (
        Result.HOLDS,
        1,
        None,
    )
    assert verdicts(text.replace("half.", "half, right side out."))["C028"] == (Result.HOLDS, 1, None)


# --- texture and spelling ---------------------------------------------------------------------------------


def test_a_row_tells_its_operations_its_repeat_and_its_words():
    s = subject(LACE)
    row = s.worked_rows[0]
    assert [op.look.takes for op in looks(row.key)[:5]] == [1, 1, 0, 2, 1]
    tile = tile_of(row)
    assert (tile.first, tile.last, tile.at, tile.width) == (2, 12, 2, 10)
    assert s.source.words(row.words(2, 3)) == "yo, ssk"


def test_a_wrong_side_row_is_told_from_the_right_edge():
    text = "# Gull\nCast on 10 sts.\nRow 1: Knit.\nRow 2: P2, p2tog, yo, p6.\nBind off all sts.\n"
    (dec, over) = sorted(
        seen_from_right(subject(text).worked_rows[1].key, True), key=lambda op: -op.look.takes
    )
    assert (dec.at, dec.look.faces, over.at) == (6, "k", 6)


def test_a_section_a_chart_and_a_single_row_are_blocks():
    assert [len(b) for b in blocks(subject(CHART))] == [3, 3]
    assert blocks(subject("# Gull\n")) == []


def test_a_row_is_spelled_over_any_number_of_repeats():
    s = subject(CHART)
    words = spell(next(ln for ln in s.lines if ln.label is not None))
    assert [u.key for u in words.body] == ["k", "k2tog", "yo", "k", "k", "k"]
    assert len(words.over(13)) == 13
    assert words.over(12) is None
    assert takes(words.times(2)) == 13
    assert spell(s.lines[0]) is None


STRIPES = "# Cloth\nYarn: A, cotton\nYarn: B, cotton\n> Carry both yarns up the edge.\nWith A, cast on 20 sts.\n{}Bind off all sts.\n"


@pytest.mark.parametrize(
    ("rows", "found"),
    [
        ((2, 2, 2, 2, 2, 2, 2, 2), 0),
        ((2, 2, 2, 3, 2, 2, 2, 2), 1),
        ((2, 2, 2, 4, 2, 2, 6, 2), 0),
        ((2, 3, 2, 3), 0),  # too few to make a rule
    ],
)
def test_a_yarn_is_taken_up_where_it_hangs(rows, found):
    words = "".join(f"With {'AB'[n % 2]}, knit {many} rows.\n" for n, many in enumerate(rows))
    codes = [f.code for f in WorkUp(STRIPES.format(words)).proved().findings]
    assert codes.count("yarn-at-other-edge") == found


def test_a_yarn_that_was_broken_is_joined_anywhere():
    words = "".join(f"With {'AB'[n % 2]}, knit {m} rows.\n" for n, m in enumerate((2, 2, 2, 3, 2, 2, 2, 2)))
    words = words.replace("With B, knit 3 rows.", "Break A. With B, knit 3 rows.")
    codes = [f.code for f in WorkUp(STRIPES.format(words)).proved().findings]
    assert "yarn-at-other-edge" not in codes


@pytest.mark.parametrize(
    ("words", "codes"),
    [
        ("*P2; rep from * to end.", ["repeat-of-one-stitch"]),
        ("*K2, p2; rep from * to end.", []),
        ("*P1, k1, k1, p1; rep from * to end.", ["same-stitch-again"]),
        ("*P2, k1, K1; rep from * to end.", []),  # a capital begins something new
        ("*K2, k2, p2, p2; rep from * to end.", []),  # a way of writing
        ("*K1, k3; rep from * to end.", ["repeat-of-one-stitch"]),
        ("K1, k3, purl to end.", []),
    ],
)
def test_one_plain_stitch_and_the_same_again(words, codes):
    text = f"# Cuff\nCast on 24 sts. Join to work in the round.\nRnd 1: {words}\nRnd 2: Knit.\nBind off all sts.\n"
    found = [f.code for f in WorkUp(text).proved().findings]
    assert [c for c in found if c in {"repeat-of-one-stitch", "same-stitch-again"}] == codes


def test_two_increases_from_one_strand():
    text = "# Cuff\nCast on 24 sts. Join to work in the round.\nRnd 1: *K6, m1l, m1r; rep from * to end. (32 sts)\nRnd 2: Knit.\nBind off all sts.\n"
    (found,) = (f for f in WorkUp(text).proved().findings if f.code == "same-stitch-again")
    assert found.message == '"m1l, m1r" lifts the same strand twice: there is no stitch between the two.'


def test_stitches_taken_up_from_waste_yarn_are_those_that_were_held():
    text = (
        "# Finger\nCast on 20 sts. Join to work in the round.\nKnit 2 rounds.\n"
        "Next round: K10, place the next 10 sts on waste yarn.\nBind off.\n\n"
        "## Rest\nTake up the 10 sts from the waste yarn; join yarn.\nKnit 2 rows.\nBind off.\n"
    )
    work = WorkUp(text)
    assert "left-on-hold" not in [f.code for f in work.proved().findings]
    first = work.proved().knitted[0].ledger.pieces[-1].rows[0]
    assert (first.start, first.made) == (10, 0)
