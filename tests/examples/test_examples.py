"""The examples prove clean, and give what was worked out for them on paper.

Every number here was reckoned by hand from the words of the patterns, as the comments show; none is copied from what
Purlwright says.
"""

from collections import Counter
from itertools import groupby
from pathlib import Path

import pytest

from purlwright.cli import main
from purlwright.fabric.arrays import Link
from purlwright.findings import Severity
from purlwright.needles.ledger import Kind
from purlwright.workup import work_up

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = (
    "eel-cowl",
    "gannet-shawl",
    "harbour-steps-sock",
    "little-tern-pullover",
    "sea-pea-mitten",
    "skerry-hat",
    "spinnaker-scarf",
    "stepping-stones-cloth",
)


def work(name):
    return work_up((EXAMPLES / f"{name}.pattern.md").read_text(encoding="utf-8"), name)


def every_way(name):
    """Each size with each choice of options, knitted; and the size."""
    done = work(name)
    return [(k.size, k) for k in done.proved().knitted]


def sections(piece):
    """Each section of a piece: its heading, how many rows or rounds, and the stitches at its end."""
    return [
        (heading, sum(e.kind in {Kind.ROW, Kind.ROUND} for e in entries), entries[-1].end)
        for heading, entries in ((h, list(es)) for h, es in groupby(piece.rows, key=lambda e: e.section))
    ]


def rows(piece):
    return [e for e in piece.rows if e.kind in {Kind.ROW, Kind.ROUND}]


def other(piece, kind):
    return [e for e in piece.rows if e.kind is kind]


def stitches(knitted):
    """How many stitches of each kind were made."""
    fabric = knitted.fabric
    return {fabric.ops[n]: many for n, many in Counter(fabric.op_of_stitch.tolist()).items()}


def colours(knitted):
    fabric = knitted.fabric
    return {fabric.yarns[n]: many for n, many in Counter(fabric.yarn_of_stitch.tolist()).items()}


def joined(knitted, link):
    return knitted.fabric.join_kind.tolist().count(link)


# --- all of them -------------------------------------------------------------------------------------


def test_every_example_is_spoken_of_here():
    assert {path.name.removesuffix(".pattern.md") for path in EXAMPLES.glob("*.pattern.md")} == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_an_example_proves_clean_in_every_size_and_option(name, capsys):
    assert main(["proof", "--strict", str(EXAMPLES / f"{name}.pattern.md")]) == 0
    capsys.readouterr()
    proved = work(name).proved()
    assert proved.every
    assert [f for f in proved.findings if f.severity is not Severity.NOTE] == []
    assert not any(k.unproved for k in proved.knitted)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_left_live_or_on_hold(name):
    for _, knitted in every_way(name):
        assert [(p.live, p.held) for p in knitted.ledger.pieces] == [(0, 0)] * len(knitted.ledger.pieces)


# --- the hat -----------------------------------------------------------------------------------------
# A wedge is 12 rows. The last of 14 (15, 17) wedges has 11: the graft is its twelfth.
#   rows: 12 x 13 (14, 16) = 156 (168, 192), then 11.
# Rows 2, 4, 6, 8 and 10 turn with 4, 8, 12, 16 and 20 stitches left: 5 turns a wedge.
# Over n stitches a wedge works n + n (rows 1 and 12) and twice each of n - 4, n - 8, ... n - 20:
#   2n + 2(5n - 60) = 12n - 120; the last wedge is a row of n short.
#   36: 312 x 14 - 36 = 4332.   42: 384 x 15 - 42 = 5718.   46: 432 x 17 - 46 = 7298.

HAT = {"child": (36, 156, 70, 4332), "adult": (42, 168, 75, 5718), "large": (46, 192, 85, 7298)}


def test_the_hat():
    ways = every_way("skerry-hat")
    assert len(ways) == 6
    for size, knitted in ways:
        cast_on, in_wedges, turns, worked = HAT[size]
        (piece,) = knitted.ledger.pieces
        assert piece.rows[0].end == cast_on
        assert sections(piece) == [
            ("Wedge", in_wedges, cast_on),
            ("Last wedge", 11, cast_on),
            ("Finishing", 0, 0),
        ]
        short = [e for e in rows(piece) if any(gap.turned_on == e.order for gap in e.gaps)]
        assert len(short) == turns
        assert [e.unworked for e in short[:5]] == [4, 8, 12, 16, 20]
        assert sum(e.worked for e in rows(piece)) == worked
        (graft,) = other(piece, Kind.GRAFT)
        assert (graft.start, graft.end) == (cast_on, 0)
        wrapped = dict(knitted.options)["turns"] == "wrapped"
        assert joined(knitted, Link.WRAPPED) == (turns if wrapped else 0)
        assert joined(knitted, Link.GRAFTED) == cast_on


# --- the shawl ---------------------------------------------------------------------------------------
# Tab: 3 cast on, 6 rows, and a row that picks up 3 + 3: 9 stitches; a row of markers: 8 rows.
# Beginning: 6 rows, 3 of them with 4 yarn overs: 9 + 12 = 21; each half 1 + 6 = 7.
# Wings: 12 stitches more each 6 rows. 213 - 21 = 192 = 16 x 12; 357 - 21 = 336 = 28 x 12: 96 (168) rows.
#   The m-th time a half has 6m + 1 stitches: m repeats, m + 1 buds.
#   buds: 2 halves x (2 + 3 + ... + 17) = 2 x 152 = 304, and 2 x (2 + ... + 29) = 2 x 434 = 868; as many p3tog.
#   ssk, k2tog, sk2p: 2 x (1 + ... + 16) = 272, and 2 x (1 + ... + 28) = 812 of each.
#   yo: 4 a row at the edges, and 2 a repeat in rows 1 and 3: 12 x 16 + 4 x 272 = 1280; 12 x 28 + 4 x 812 = 3584;
#   and 3 + 2 rows with 4 yarn overs before and after: 20 more.
# Row 5, the first time: 29 before it (21 + 4 + 4), 4 yarn overs, 4 buds of 2 more: 41; row 6 brings back 8: 33.
# Edging: 4 rows, 2 of them with 4 more: 221 (365).

SHAWL = {"shawlette": (96, 213, 304, 272, 1300), "shawl": (168, 357, 868, 812, 3604)}


def test_the_shawl():
    for size, knitted in every_way("gannet-shawl"):
        in_wings, widest, buds, decreases, overs = SHAWL[size]
        (piece,) = knitted.ledger.pieces
        assert piece.rows[0].end == 3
        assert sections(piece) == [
            ("Garter tab", 8, 9),
            ("Beginning", 6, 21),
            ("Wings", in_wings, widest),
            ("Edging", 4, 0),
        ]
        wings = [e for e in piece.rows if e.section == "Wings"]
        assert [e.end for e in wings[:6]] == [25, 25, 29, 29, 41, 33]
        assert other(piece, Kind.BIND_OFF)[0].start == widest + 8
        made = stitches(knitted)
        assert made["(k, yo, k) in 1"] == 3 * buds
        assert made["p3tog"] == buds
        assert (made["ssk"], made["k2tog"], made["sk2p"]) == (decreases,) * 3
        assert made["yo"] == overs


# --- the cowl ----------------------------------------------------------------------------------------
# 108 (144) in rib, 8 rounds; the set-up adds 2 to each 6: 18 x 2 = 36 (24 x 2 = 48): 144 (192).
# Cables: 8 rounds, 5 times more: 48, and 2: 50 rounds. 16 stitches a repeat: 9 (12) repeats.
#   2/2 RC in rounds 1 and 5: 6 x 2 + 1 = 13 times; 2/2 LC in rounds 3 and 7: 12 times; 3/3 LC in round 5: 6 times.
# Then 2 fewer for each 8: 108 (144). Rounds at the top: 1 + 7.

COWL = {"snug": (108, 144, 9), "looped": (144, 192, 12)}


def test_the_cowl():
    for size, knitted in every_way("eel-cowl"):
        cast_on, widest, repeats = COWL[size]
        (piece,) = knitted.ledger.pieces
        assert piece.rows[0].end == cast_on
        assert sections(piece) == [("Lower edge", 9, widest), ("Cables", 50, widest), ("Upper edge", 8, 0)]
        assert piece.bound_off == cast_on
        made = stitches(knitted)
        assert made["2/2 rc"] == 4 * 13 * repeats
        assert made["2/2 lc"] == 4 * 12 * repeats
        assert made["3/3 lc"] == 6 * 6 * repeats
        in_front = knitted.fabric.link.tolist().count(Link.CROSSED_FRONT)
        assert in_front == (2 * 13 + 2 * 12 + 3 * 6) * repeats


# --- the sock ----------------------------------------------------------------------------------------
# Cuff 16. Leg 4 x 14 (15, 16, 17) = 56 (60, 64, 68).
# Heel on 28 (32, 36, 40): rows 1 and 2 wrap one stitch each, rows 3 and 4 and their 7 (8, 10, 11) repeats too:
#   9 (10, 12, 13) wrapped on each side, 10 (12, 12, 14) between. Rows: 2 x 9 (10, 12, 13) = 18 (20, 24, 26).
#   Outwards 8 (9, 11, 12) pairs: 16 (18, 22, 24); the last of them works all but one: 26 (30, 34, 38).
# Foot: 2 + 4 x 14 (16, 17, 18) = 58 (66, 70, 74).
# Toe: 56 to 32 in 6 pairs, 64 to 36 in 7, 72 to 40 in 8, 80 to 44 in 9; then 4 at a time to 16 (20, 20, 24):
#   12 + 4, 14 + 4, 16 + 5, 18 + 5 = 16 (18, 21, 23) rounds. Half of what is left is grafted to the other half.

SOCK = {
    "S": (56, 56, 18, 16, 10, 26, 58, 16, 16),
    "M": (64, 60, 20, 18, 12, 30, 66, 18, 20),
    "L": (72, 64, 24, 22, 12, 34, 70, 21, 20),
    "XL": (80, 68, 26, 24, 14, 38, 74, 23, 24),
}


def test_the_sock():
    for size, knitted in every_way("harbour-steps-sock"):
        all_, leg, inwards, outwards, between, last, foot, toe, left = SOCK[size]
        (piece,) = knitted.ledger.pieces
        assert piece.rows[0].end == all_
        assert sections(piece) == [
            ("Cuff", 16, all_),
            ("Leg", leg, all_),
            ("Heel", inwards + outwards, all_),
            ("Foot", foot, all_),
            ("Toe", toe, left),
            ("Finishing", 0, 0),
        ]
        heel = [e for e in piece.rows if e.section == "Heel"]
        assert heel[inwards - 1].worked == between
        assert [e.worked for e in heel[inwards:]] == list(range(between + 1, last + 1))
        assert [e.side for e in heel] == ["RS", "WS"] * (len(heel) // 2)
        assert joined(knitted, Link.WRAPPED) == inwards + outwards
        assert joined(knitted, Link.GRAFTED) == left // 2


# --- the pullover ------------------------------------------------------------------------------------
# Cast on 2 + 6 + 24 (24, 26, 30, 30) + 6 + 2 = 40 (40, 42, 46, 46).
# Yoke: a row of markers and 16 rows. 8 raglan rows of 8, and 2 more at the neck on the second, fourth, sixth and
#   eighth of them: + 72: 112 (112, 114, 118, 118).
# Joining row: + 8 and the front neck, 12 (12, 14, 18, 18): 132 (132, 136, 144, 144).
#   Then 8 more in every second round to 204 (220, 232, 248, 264): 9 (11, 12, 13, 15) pairs, and one plain round:
#   1 + 18 (22, 24, 26, 30) + 1 = 20 (24, 26, 28, 32).
# Raglan rows in all: 8 + 1 + 9 (11, 12, 13, 15) = 18 (20, 21, 22, 24), so that
#   back 24 (24, 26, 30, 30) + 2 x 18 (20, 21, 22, 24) = 60 (64, 68, 74, 78),
#   sleeve 6 + 36 (40, 42, 44, 48) = 42 (46, 48, 50, 54), front 2 (2 + 18 + 4) + 12 = 60 and so on: as the back.
# Divide: 2 sleeves out, 2 underarms of 6 (6, 8, 8, 8) in: 132 (140, 152, 164, 172).
# Body: 15 (17, 19, 21, 24) cm at 3 rounds a cm = 45 (51, 57, 63, 72), and 12 of rib.
# Sleeve: 48 (52, 56, 58, 62) with the underarm. The row that takes them up; 8 rounds, 6 (8, 8, 9, 9) times;
#   4 (-, 12, 9, 18) rounds; 12 of rib: 1 + 48 + 4 + 12 = 65, 1 + 64 + 12 = 77, 1 + 64 + 12 + 12 = 89,
#   1 + 72 + 9 + 12 = 94, 1 + 72 + 18 + 12 = 103. 2 fewer each time: 36 (36, 40, 40, 44).
# Neck: 12 + 12 (12, 14, 18, 18) + 12 + 40 (40, 42, 46, 46) = 76 (76, 80, 88, 88).

PULLOVER = {
    #            cast on, yoke, rounds, widest, held, body, body rounds, sleeve, its rows, wrist, neck
    "2 years": (40, 112, 20, 204, 84, 132, 57, 48, 65, 36, 76),
    "4 years": (40, 112, 24, 220, 92, 140, 63, 52, 77, 36, 76),
    "6 years": (42, 114, 26, 232, 96, 152, 69, 56, 89, 40, 80),
    "8 years": (46, 118, 28, 248, 100, 164, 75, 58, 94, 40, 88),
    "10 years": (46, 118, 32, 264, 108, 172, 84, 62, 103, 44, 88),
}


def test_the_pullover():
    for size, knitted in every_way("little-tern-pullover"):
        cast_on, yoke, joined_, widest, held, body, in_body, sleeve, in_sleeve, wrist, neck = PULLOVER[size]
        whole, *sleeves, band = knitted.ledger.pieces
        assert whole.rows[0].end == cast_on
        assert [(n, end) for _, n, end in sections(whole)] == [
            (17, yoke),
            (joined_, widest),
            (1, body),
            (in_body, 0),
        ]
        assert [e.held for e in whole.rows if e.held] == [held]
        assert whole.bound_off == body
        assert len(sleeves) == 2
        for piece in sleeves:
            assert rows(piece)[0].end == sleeve
            assert len(rows(piece)) == in_sleeve
            assert piece.bound_off == wrist
        assert other(band, Kind.PICK_UP)[0].end == neck
        assert len(rows(band)) == 6
        assert band.bound_off == neck
        raglan = (widest - cast_on - (neck - cast_on - 24) - 8) // 8
        assert stitches(knitted)["M1L"] == stitches(knitted)["M1R"] == 4 * raglan
        shaped = [e.made for e in whole.rows if e.section == "Yoke" and e.kind is Kind.ROW and e.made]
        assert shaped == [8, 10] * 4


# --- the cloth ---------------------------------------------------------------------------------------
# 43 stitches; 4 rows, 8 x 10 rows, 2 + 4 rows.
# Knitted, not slipped: rows 1 and 2 (B) 43 - 10 = 33; rows 3 and 4 (A) 43 - 11 = 32; rows 5 and 6 (B) 22; rows 7
# and 8 (A) 43 - 20 = 23. In 8 rows A draws 2 (32 + 23) = 110 and B 2 (33 + 22) = 110.
#   A: 43 cast on + 4 x 43 + 10 x 110 + 4 x 43 + 43 bound off = 1530.   B: 10 x 110 + 2 x 43 = 1186.


def test_the_cloth():
    ((_, knitted),) = every_way("stepping-stones-cloth")
    (piece,) = knitted.ledger.pieces
    assert sections(piece) == [("Lower border", 4, 43), ("Stones", 80, 43), ("Upper border", 6, 0)]
    assert {e.end for e in rows(piece)} == {43}
    assert piece.bound_off == 43
    assert colours(knitted) == {"A": 1530, "B": 1186}


# --- the scarf ---------------------------------------------------------------------------------------
# 12 cast on. Luff: a row and 8 x 15 rows, 2 more each time: 121 rows, 42 stitches.
# Sail: 140 cm at 4 rows a cm are 560 rows from the cast-on. Row 1 is a wrong-side row, so row 560 is a right-side
# row; it must end with a wrong-side row: 561, that is 440 more. Leech: 8 x 15 = 120 rows, back to 12.
# Slipped with a yarn over: set-up 5. In the Luff, with a stitches before the increase, (a - 2) / 2 in row 1 and a / 2 in
# each of the seven others: 4a - 1; a = 12, 14, ... 40: 4 x 390 - 15 = 1545. Sail 440 x 20 = 8800. In the Leech
# (a - 4) / 2 in each of eight rows: 4a - 16; a = 42, 40, ... 14: 4 x 420 - 240 = 1440. In all 11790.


def test_the_scarf():
    ((_, knitted),) = every_way("spinnaker-scarf")
    (piece,) = knitted.ledger.pieces
    assert piece.rows[0].end == 12
    assert sections(piece) == [("Luff", 121, 42), ("Sail", 440, 42), ("Leech", 120, 0)]
    assert rows(piece)[560].side == "WS"
    assert piece.bound_off == 12
    assert stitches(knitted)["sl1yo"] == 11790
    assert knitted.fabric.link.tolist().count(Link.TUCKED) == 11790


# --- the mitten --------------------------------------------------------------------------------------
# Cuff 20 rounds and 1: 48 (56) + 3 = 51 (59). Gusset: 2 + 3 x 7 (8) = 23 (26) rounds, + 14 (16): 65 (75).
# Hand: 17 (19) held, 3 cast on: 51 (59); 1 + 24 (28) rounds. Tip: 2 rounds, 49 (57) and 48 (56), then 4 fewer a
# round to 8: 10 (12): 12 (14) rounds.
# Thumb: 17 (19) + 3 = 20 (22); 1 + 16 (18) + 2 rounds; 10 (11), then 5 (6).
# Chart: 16 pods' stitches in 8 rounds of 8 (1, 3, 3, 1, 1, 3, 3, 1). S/M: 23 + 25 = 48 rounds, 6 times the chart, 6
# repeats round: 6 x 6 x 16 = 576. L: 26 + 29 = 55 rounds, 6 times and rounds 1-7 (15), 7 round: 7 x 111 = 777.

MITTEN = {
    #        cuff, gusset rounds and stitches, hand rounds, tip rounds, thumb, its rounds, its end, CC
    "S/M": (51, 23, 65, 25, 12, 20, 19, 5, 576),
    "L": (59, 26, 75, 29, 14, 22, 21, 6, 777),
}


def test_the_mitten():
    for size, knitted in every_way("sea-pea-mitten"):
        cuff, in_gusset, gusset, in_hand, in_tip, thumb, in_thumb, last, second_colour = MITTEN[size]
        hand, finger = knitted.ledger.pieces
        assert hand.rows[0].end == cuff - 3
        assert sections(hand) == [
            ("Cuff", 21, cuff),
            ("Thumb gusset", in_gusset, gusset),
            ("Hand", in_hand, cuff),
            ("Tip", in_tip, 0),
        ]
        assert [e.held for e in hand.rows if e.held] == [thumb - 3]
        assert rows(finger)[0].end == thumb
        assert len(rows(finger)) == in_thumb
        assert rows(finger)[-1].end == last
        assert colours(knitted)["CC"] == second_colour
