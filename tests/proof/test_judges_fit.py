"""Fit and assembly: whole garments hold at the right number of places, and one change in them is found."""

from pathlib import Path

import pytest

from purlwright.findings import Result, Severity
from purlwright.proof.fit import JUDGES
from purlwright.workup import WorkUp

GARMENTS = Path(__file__).parent / "garments"
SCARF = "# Skerry Scarf\nCast on 20 sts.\nRow 1 (RS): Knit.\nRow 2 (WS): Purl.\nRep rows 1 and 2 twice more.\nBind off.\n"


def garment(name, *changes):
    """A garment with some words changed; with `after`, words that follow that heading."""
    text = (GARMENTS / f"{name}.pattern.md").read_text(encoding="utf-8")
    for after, old, new in changes:
        head, mark, rest = text.partition(after) if after else ("", "", text)
        assert old in rest, old
        text = head + mark + rest.replace(old, new, 1)
    return text


def proved(text):
    return WorkUp(text).proved()


def said(text):
    """What this family finds, as `code: message`."""
    return [f"{f.code}: {f.message}" for f in proved(text).findings if f.check in JUDGES]


def verdicts(text):
    return {v.check: v for v in proved(text).verdicts if v.check in JUDGES}


# --- what holds, and at how many places -------------------------------------------------------------------


@pytest.mark.parametrize("name", sorted(p.name.partition(".")[0] for p in GARMENTS.glob("*.md")))
def test_a_right_garment_is_without_a_finding(name):
    found = proved(garment(name)).findings
    assert [f.code for f in found if f.severity is not Severity.NOTE or f.check in JUDGES] == []


@pytest.mark.parametrize(
    ("name", "check", "places"),
    [
        ("pullover", "C052", 3),  # shoulders and their like, three sizes
        ("pullover", "C068", 6),  # two sleeves
        ("pullover", "C069", 3),
        ("pullover", "C072", 9),
        ("pullover", "C073", 3),
        ("pullover", "C074", 3),
        ("pullover", "C079", 3),
        ("cardigan", "C072", 4),  # two fronts, two sizes
        ("cardigan", "C073", 4),
        ("cardigan", "C075", 13),  # 6 and 7 buttonholes
        ("cardigan", "C079", 2),
        ("gloves", "C052", 6),  # the hand, four fingers, the thumb
        ("gloves", "C078", 8),
        ("sock", "C035", 82),
        ("sock", "C036", 4),
        ("sock", "C077", 2),
    ],
)
def test_how_often_a_check_holds(name, check, places):
    verdict = verdicts(garment(name))[check]
    assert (verdict.result, verdict.places) == (Result.HOLDS, places)


def test_a_scarf_has_nothing_of_the_kind():
    assert {v.check: v.result for v in verdicts(SCARF).values()} == dict.fromkeys(
        JUDGES, Result.NOT_APPLICABLE
    )


def test_a_yoke_is_whole_where_a_motif_follows_each_shaping_round():
    yoke = (
        "# Tern\n## Yoke\nCast on 32 sts. Join to work in the round.\nRnd 1: *K3, p1; rep from * to end.\n"
        "Rnd 2: *K2tog, k1, p1; rep from * to end. (24 sts)\nRnd 3: *K2, p1; rep from * to end.\nBind off.\n"
    )
    assert (verdicts(yoke)["C071"].result, verdicts(yoke)["C071"].places) == (Result.HOLDS, 1)
    cut = yoke.replace("Rnd 3: *K2, p1", "Rnd 3: *K4, p1")
    assert verdicts(cut)["C071"].result is Result.FAILS
    assert said(cut) == []  # the uneven repeat has its own finding


def test_raglan_lines_in_one_piece_hold():
    text = (
        "# Tern\nRaglan lines.\n\n## Yoke\nCast on 20 sts.\nRow 1 (RS): K5, m1r, k10, m1l, k5. (22 sts)\n"
        "Row 2: Purl.\nBind off.\n"
    )
    assert (verdicts(text)["C070"].result, verdicts(text)["C070"].places) == (Result.HOLDS, 1)


def test_what_is_missing_to_judge_the_fit_is_said():
    got = verdicts(garment("pullover"))
    for check in ("C065", "C066", "C067"):
        assert got[check].result is Result.UNDECIDED
        assert got[check].missing


def test_a_stated_body_decides_whether_a_piece_goes_round_it():
    text = "# Tern\nTo fit: chest 90 cm\nFinished size: chest 98 cm round\nCast on 8 sts.\nBind off.\n"
    assert (verdicts(text)["C066"].result, verdicts(text)["C066"].places) == (Result.HOLDS, 1)


DIVIDED = """\
# Tern
## Yoke
Cast on 60 sts.
Knit 10 rows.
## {}
Next row: K20, place next 10 sts on waste yarn, cast on 4 sts, k20, place next 10 sts on waste yarn, cast
on 4 sts. (48 sts) Knit 20 rows.
Bind off.
## Lower body
Cast on 14 sts. Join to knit in the round.
Knit 20 rounds.
Bind off.
"""


@pytest.mark.parametrize(
    ("heading", "found"),
    [
        ("Divide for body and sleeves", []),
        ("Separate the sleeves", []),
        ("Body and sleeves", []),
        ("Sleeves", ["sleeve-far-from-body"]),
    ],
)
def test_where_body_and_sleeves_part_neither_is_measured(heading, found):
    got = WorkUp(DIVIDED.format(heading)).proved().findings
    assert [f.code for f in got if f.check == "C067"] == found


def test_a_cap_without_a_gauge_cannot_be_decided():
    text = garment(
        "pullover", ("", "Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch, after washing\n", "")
    )
    assert verdicts(text)["C068"].missing == "a gauge of stitches and rows"


def test_rows_that_were_not_read_leave_fit_undecided():
    text = garment("cardigan", ("## Right Front", "K1, ssk, knit to end.", "Decrease as if by magic."))
    got = verdicts(text)
    assert got["C079"].result is Result.UNDECIDED
    assert said(text) == []


# --- one change ---------------------------------------------------------------------------------------------

SHOULDER = "### Right shoulder"


@pytest.mark.parametrize(
    ("name", "changes", "found"),
    [
        (
            "pullover",
            [(SHOULDER, "K1, ssk, knit to end", "K1, k2tog, knit to end")],
            [],  # all her neck decreases lean the same way: her style
        ),
        (
            "pullover",
            [(SHOULDER, "Rep the last 2 rows 8 (8, 8) times more", "Rep the last 2 rows 8 (7, 8) times more"),
             (SHOULDER, "(20 (22, 24) sts)", "(20 (23, 24) sts)"),
             (SHOULDER, "(10 (11, 12) sts)", "(10 (12, 12) sts)")],
            [("halves-differ: The right shoulder has 8 decreases at this edge, and the left shoulder, otherwise "
             "the same, 9.")],
        ),
        (
            "pullover",
            [("## Front", "Work 20 (22, 24) rows", "Work 30 (32, 34) rows")],
            [("armholes-differ: The front has 64 (68, 72) rows from the underarm to the shoulder, and the back "
             "52 (56, 60).")],
        ),
        (
            "pullover",
            [("### Cap", "Bind off 5 (6, 7) sts at the beginning of the next 2 rows. (58 (60, 62) sts)",
              "Bind off 5 (6, 6) sts at the beginning of the next 2 rows. (58 (60, 64) sts)"),
             ("### Cap", "(22 (24, 26) sts)", "(22 (24, 28) sts)"),
             ("### Cap", "(10 (12, 14) sts)", "(10 (12, 16) sts)")],
            ["underarms-differ: At the underarm the sleeve has 6 stitches, and the body 7."],
        ),
        (
            "cardigan",
            [("## Right Front", "Knit to last 3 sts, k2tog, k1", "Knit to last 3 sts, ssk, k1")],
            [("not-mirrored: The right front has ssk here; the left front is its mirror everywhere else, and "
             "asks for k2tog.")],
        ),
        (
            "cardigan",
            [("## Left Front", "K1, ssk, knit to end", "K1, k2tog, knit to end")],
            [("not-mirrored: The left front has k2tog here; the right front is its mirror everywhere else, and "
             "asks for ssk.")],
        ),
        (
            "cardigan",
            [("Notions: ", "6 (7) buttons", "7 buttons")],
            ["buttonholes-and-buttons: The notions list 7 buttons, and 6 buttonholes are knitted."],
        ),
        (
            "cardigan",
            [("## Button band", "pick up and knit 90 sts", "pick up and knit 90 (94) sts"),
             ("## Button band", "(90 sts)", "(90 (94) sts)")],
            ["bands-differ: The buttonhole band has 90 stitches, and the button band 94."],
        ),
        (
            "gloves",
            [("## Right glove", "Rnd 4: Knit to m, sm, m1r, knit to m, m1l", "Rnd 4: Knit to m, sm, m1l, knit to m, m1r")],
            [("not-mirrored: The right glove has M1R here; the left glove is its mirror everywhere else, and "
             "asks for M1L.")],
        ),
        (
            "gloves",
            [("## Right glove", "Rnds 5 and 6: Knit", "Rnds 5-7: Knit"),
             ("## Right glove", "Rep rnds 4-6", "Rep rnds 4-7")],
            [("halves-differ: The right glove has 4 rounds from the shaping before to this, and the left glove, "
             "otherwise the same, 3.")],
        ),
        (
            "sock",
            [("## Gusset", "until 60 (64) sts remain", "until 58 (64) sts remain"),
             ("## Toe", "K8 (6), k2tog; rep from * to end. (54 (56) sts)", "K27 (6), k2tog; rep from * to end. (56 (56) sts)"),
             ("## Toe", "K7 (5)", "K5 (5)")],
            ["foot-differs-from-leg: The leg has 60 stitches, and past heel and gusset there are 58."],
        ),
    ],
)  # fmt: skip
def test_one_change_is_found_and_nothing_else(name, changes, found):
    assert said(garment(name, *changes)) == found


def test_the_number_that_is_odd_in_one_size_names_that_size():
    text = garment("pullover", ("## Front", "98 (98, 98) rows", "98 (98, 90) rows"))
    (finding,) = (f for f in proved(text).findings if f.check == "C072")
    assert finding.sizes == ("L",)
    assert finding.message.startswith(
        "The front has 102 rows from the cast-on to the underarm, and the back 110"
    )


def test_a_sleeve_may_be_gathered_into_its_armhole():
    text = garment("pullover", ("### Armholes", "Work 40 (42, 44) rows", "Work 20 (22, 24) rows"))
    assert any(s.startswith("cap-differs") for s in said(text))
    puffed = text.replace("A flat-knitted pullover", "A flat-knitted pullover, the sleeves puffed,")
    assert not any(s.startswith("cap-differs") for s in said(puffed))


def test_two_sides_of_a_neck_need_no_headings_to_be_compared():
    bare = [("", "### Left shoulder\n", ""), ("", "### Right shoulder\n", "")]
    assert said(garment("pullover", *bare)) == []
    fewer = [
        ("rejoin yarn", "8 (8, 8) times more. (20 (22, 24) sts)", "6 times more. (22 (24, 26) sts)"),
        ("rejoin yarn", "(10 (11, 12) sts)", "(12 (13, 14) sts)"),
    ]
    assert said(garment("pullover", *bare, *fewer)) == [
        (
            "halves-differ: The second side has 7 decreases at this edge, and the first side of the "
            "front, otherwise the "
            "same, 9."
        )
    ]


def test_headings_beside_each_other_are_one_piece_as_long_as_it_is_on_the_needle():
    flat = garment("pullover").replace("### ", "## ")
    assert said(flat) == []
    got = verdicts(flat)
    for check, places in (("C052", 3), ("C068", 6), ("C069", 3), ("C072", 9)):
        assert (got[check].result, got[check].places) == (Result.HOLDS, places)


RING = """\
# Petrel
## Body
Cast on 80 sts. Join to work in the round.
Knit 4 rnds.
Next rnd: Bind off 3 sts, k37, place the remaining 40 sts on a holder. (37 sts)
## Back
Next row (WS): Bind off 3 sts, purl to end. (34 sts)
Work 20 rows in stockinette stitch, ending with a WS row.
Bind off 8 sts at the beginning of the next 2 rows. (18 sts)
Bind off.
## Front
Place the 40 held sts on the needle. With RS facing, rejoin yarn.
Bind off 3 sts at the beginning of the next 2 rows. (34 sts)
Work 20 rows in stockinette stitch, ending with a WS row.
Bind off 8 sts at the beginning of the next 2 rows. (18 sts)
Bind off.
"""


def test_front_and_back_that_part_from_a_round_body_meet_at_the_shoulder():
    assert said(RING) == []
    assert (verdicts(RING)["C073"].result, verdicts(RING)["C073"].places) == (Result.HOLDS, 1)
    front = RING.index("## Front")
    deeper = RING[:front] + RING[front:].replace("Work 20 rows", "Work 28 rows")
    assert said(deeper) == [
        "armholes-differ: The front has 30 rows from the underarm to the shoulder, and the back 21."
    ]
    wider = RING[:front] + RING[front:].replace("Bind off 8 sts", "Bind off 9 sts").replace(
        "(18 sts)", "(16 sts)"
    )
    assert said(wider) == [
        "shoulders-differ: The front comes to the shoulder with 9 stitches, the back with 8."
    ]


def test_each_sleeve_of_two_that_are_written_out_has_its_own_underarm():
    text = (
        "# Turnstone\n## Body\nCast on 60 sts. Join to work in the round.\nKnit 4 rnds.\n"
        "Next rnd: *K18, place the next 12 sts on waste yarn for the sleeve, cast on 6 sts for the "
        "underarm; rep from * "
        "to end. (48 sts)\nBind off.\n"
    )
    for hand in ("Left", "Right"):
        text += (
            f"## {hand} sleeve\nPlace the held sts of one sleeve on the needle. With RS facing, pick up "
            f"and knit 6 sts "
            "from the underarm cast-on, k12, join in the round. (18 sts)\nBind off.\n"
        )
    assert (verdicts(text)["C069"].result, verdicts(text)["C069"].places) == (Result.HOLDS, 2)
