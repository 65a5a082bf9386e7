"""The checks of words, order and completeness on right patterns: they hold, at the right number of places, or do not apply."""

import pytest

from purlwright.findings import Result
from purlwright.workup import WorkUp

PLAIN = "# Gull Panel\nCast on 12 sts.\nRow 1: Knit.\nBind off all sts.\n"
"""Nothing in it but three rows."""

JACKET = """\
# Gull Jacket
Yarn: A, wool, grey
Yarn: B, wool, green
Needles: 4 mm and 3.5 mm
Notions: 3 stitch markers; stitch holder; tapestry needle
## Abbreviations
k: knit.
k2tog: knit 2 together.
m1l: make 1 left (lift the strand between the needles from front to back, knit it through the back loop).
## Back
With the smaller needles and A, cast on 24 sts.
Row 1 (RS): K12, pm, k12.
Row 2 (WS): Purl.
Change to the larger needles and B. Break A.
Row 3: K1, m1l, knit to last 3 sts, k2tog, k1. (24 sts)
Row 4: Purl.
Place all sts on a holder.
## Sleeves (make 2)
With the smaller needles and A, cast on 8 sts.
Row 1: Knit.
Bind off all sts.
## Neckband
With RS facing, join A and place the 24 held sts on the larger needles.
Row 1 (RS): Knit.
Bind off all sts.
## Finishing
Set in both sleeves. Weave in the ends. Wash, and dry flat.
"""

CHARTED = """\
# Gull Panel
## Chart A
```chart
. x . x 2
x . x . 1

. = k / p
x = p / k
```
## Panel
> See chart A for the dots.
Cast on 4 sts.
Row 1: Work row 1 of chart A.
Row 2: Work row 2 of chart A.
Bind off all sts.
"""

SLIPPED = (
    "# Gull Panel\nCast on 12 sts.\n" + "".join(f"Row {n}: Sl1, k11.\n" for n in range(1, 9)) + "Bind off.\n"
)
EDGED = (
    "# Gull Panel\nCast on 12 sts.\n"
    + "".join(f"Row {n}: K3, {'k' if n % 2 else 'p'}6, k3.\n" for n in range(1, 13))
    + "Bind off.\n"
)
BOTH = (
    "# Gull Panel\nCast on 40 sts.\nRow 1 (RS): Knit.\nRow 2: Purl.\n"
    "Dec 1 st at each end of every 4th row 3 times, and at the same time k2tog at the centre of every 6th row 2 times.\n"
)


def verdict(text, check):
    work = WorkUp(text)
    proved = work.proved()
    found = [f"{f.code}: {work.source.words(f.span)}" for f in proved.findings if f.check == check]
    said = next(v for v in proved.verdicts if v.check == check)
    return found, said.result, said.places


@pytest.mark.parametrize(
    ("check", "text", "places"),
    [
        ("C094", JACKET, 3),
        ("C095", JACKET, 2),
        ("C096", JACKET, 2),
        ("C097", JACKET, 4),
        ("C098", "# Gull\nCast on 12 sts.\nRow 1: K2, p2, k8.\nRow 2: Work in pattern as established.\nBind off.\n", 1),
        ("C100", "# Gull\n> Leave 4 or 5 sts.\nCast on 12 sts.\nBind off.\n", 1),
        ("C101", JACKET, 6),
        ("C102", PLAIN, 4),
        ("C103", CHARTED, 3),
        ("C104", "# Gull\nCast on 40 sts.\nKnit 4 rows, and at the same time dec 1 st at each end of every 2nd row twice.\n", 1),
        ("C106", JACKET, 2),
        ("C107", JACKET, 4),
        ("C109", JACKET, 1),
        ("C110", JACKET, 1),
        ("C111", JACKET, 1),
        ("C112", "# Gull\nCast on 12 sts.\nKnit 4 rows.\nBind off.\nSew the side seams.\n", 1),
        ("C113", SLIPPED, 8),
        ("C114", EDGED, 24),
        ("C115", JACKET, 1),
    ],
)  # fmt: skip
def test_a_check_holds(check, text, places):
    assert verdict(text, check) == ([], Result.HOLDS, places)


@pytest.mark.parametrize(
    "check",
    ["C094", "C095", "C097", "C098", "C099", "C100", "C103", "C104", "C105", "C106", "C107", "C109", "C110", "C111",
     "C112", "C113", "C114", "C115"],
)  # fmt: skip
def test_a_check_does_not_apply(check):
    assert verdict(PLAIN, check) == ([], Result.NOT_APPLICABLE, 0)


@pytest.mark.parametrize(
    ("check", "text", "missing"),
    [
        ("C097", "# Gull\nCast on 12 sts with A.\nRow 1: With B, knit.\n", "the pattern has no list of yarns by letter"),
        ("C103", "# Gull\n> See page 4.\nCast on 12 sts.\n", "the printed sheet, for the pages referred to"),
        ("C103", "# Gull\nCast on 12 sts.\n> See chart A.\n", "the charts, which are not in the file"),
        ("C106", "# Gull\nCast on 12 sts.\nRow 1: K6, pm, k6.\n", "the pattern has no list of needles and notions"),
        ("C107", "# Gull\nWith larger needles cast on 12 sts.\n", "the pattern has no list of needles"),
    ],
)  # fmt: skip
def test_what_is_missing_is_said(check, text, missing):
    said = next(v for v in WorkUp(text).proved().verdicts if v.check == check)
    assert (said.result, said.missing) == (Result.UNDECIDED, missing)


@pytest.mark.parametrize(
    ("right", "wrong", "found"),
    [
        ("Change to the larger needles and B.", "Change to the smaller needles and B.", ["change-to-same: smaller"]),
        ("3 stitch markers; ", "", ["used-not-listed: pm"]),
        ("stitch holder; ", "stitch holder; 4 buttons; ", ["listed-not-used: buttons"]),
        ("(make 2)", "", ["pieces-differ: both sleeves"]),
        ("join A and place", "place", ["yarn-not-taken-up: Row 1 (RS): Knit."]),
        ("Row 4: Purl.", "Row 4: With C, purl.", ["colour-not-listed: With C"]),
        (" Weave in the ends.", "", ["ends-not-spoken-of: Finishing"]),
        ("Set in both", "Set in the second mitten, then both", ["garment-differs"]),
    ],
)  # fmt: skip
def test_one_word_out_of_place_is_found(right, wrong, found):
    assert right in JACKET
    work = WorkUp(JACKET.replace(right, wrong))
    got = [
        f"{f.code}: {work.source.words(f.span)}"
        for f in work.proved().findings
        if f.check and f.check > "C093"
    ]
    if found == ["garment-differs"]:
        assert got == []  # "the second mitten" is another piece, not the thing that the pattern makes
    else:
        assert sorted(got) == sorted(found)


@pytest.mark.parametrize(
    "words",
    ["Cast on 12 stitches; the larger stitch markers may stay.", "Measure the length of each sleeve twice.",
     "Pulled tight, the patten lies flat; the maker is patient.", "Continue evenly through the rounds."],
)  # fmt: skip
def test_a_right_word_is_no_slip(words):
    assert verdict(f"# Gull\n> {words}\nCast on 12 sts.\n", "C102")[0] == []


@pytest.mark.parametrize(
    ("words", "right"),
    [("The gague is loose.", "gauge"), ("Knit togehter.", "together"), ("Mind the nedles.", "needles")],
)
def test_a_slip_of_the_key_is_found_with_its_cure(words, right):
    (found,) = (
        f for f in WorkUp(f"# Gull\n> {words}\nCast on 12 sts.\n").proved().findings if f.check == "C102"
    )
    assert found.fix.edits[0].words == right


def test_a_note_that_says_which_increase_is_meant_explains_it():
    rows = "Cast on 12 sts.\nRow 1: Knit.\nInc 1 st at each end of every 2nd row 3 times. (18 sts)\n"
    assert verdict(f"# Gull\n{rows}", "C095")[0] == ["kind-not-said: Inc"]
    assert (
        verdict(f"# Gull\n> A neck increase is k1, m1l at the beginning of the row.\n{rows}", "C095")[0] == []
    )


@pytest.mark.parametrize("words", ["pm for beg of rnd", "place a marker for the beginning of the round"])
def test_the_marker_of_the_round_is_used_by_the_round(words):
    text = (
        f"# Gull Cowl\nCast on 12 sts. Join to knit in the round, {words}.\nRnd 1: Knit.\nBind off all sts.\n"
    )
    assert [f for f in WorkUp(text).proved().findings if f.check == "C108"] == []


def test_a_label_of_one_letter_says_neither_row_nor_round():
    text = (
        "# Gull Cowl\nCast on 12 sts. Join to knit in the round.\nR1: Knit.\nR2: Knit.\nBind off all sts.\n"
    )
    assert [f for f in WorkUp(text).proved().findings if f.check == "C023"] == []
