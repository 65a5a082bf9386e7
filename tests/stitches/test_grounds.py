"""Fabrics by name, held against published row instructions worked out by hand."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.stitches.grounds import LARGEST_RIB, rib
from purlwright.stitches.load import dictionary, grounds

TABLE = grounds()
EVERY = list(TABLE.grounds.values())
SHOWS = {"k": "k", "p": "p", "k tbl": "k", "p tbl": "p", "sl1yo": "s", "brk": "k", "brp": "p"}
TURNED = {"k": "p", "p": "k", "s": "s"}


def row(words):
    """Keys from short words: "k1 p2" is k, p, p."""
    return tuple(
        key for word in words.split() for key in [word.rstrip("0123456789")] * int(word.lstrip("kp") or 1)
    )


@pytest.mark.parametrize("ground", EVERY, ids=[ground.key for ground in EVERY])
def test_every_ground_is_whole(ground):
    stitches = dictionary().stitches
    assert ground.source
    assert ground.status
    assert ground.flat
    assert ground.round
    widths = {len(line) for line in (*ground.setup, *ground.flat, *ground.setup_round, *ground.round)}
    assert widths == {ground.multiple}
    for line in (*ground.setup, *ground.flat, *ground.setup_round, *ground.round):
        assert all((stitches[key].takes, stitches[key].makes) == (1, 1) for key in line)
    assert TABLE.find(ground.key) is ground
    for name in (ground.us, ground.uk, *ground.aliases, *ground.old):
        found = TABLE.find(name)
        assert found is ground or ground.key in found.readings
    assert all(key in TABLE.grounds for key in ground.readings)


FACES = {
    "k": "k",
    "p": "p",
    "k tbl": "k",
    "p tbl": "p",
    "k below": "kb",
    "p below": "pb",
    "sl wyif": "sf",
    "sl wyib": "sb",
}
OTHER_SIDE = {"k": "p", "p": "k", "kb": "pb", "pb": "kb", "sf": "sb", "sb": "sf"}


@pytest.mark.parametrize(
    "ground", [g for g in EVERY if not g.setup and not g.setup_round], ids=lambda ground: ground.key
)
def test_flat_and_in_the_round_make_the_same_fabric(ground):
    count = 3 * ground.multiple + ground.plus
    rows = 2 * len(ground.flat) * len(ground.round)
    for index in range(rows):
        flat = [FACES[key] for key in ground.row(count, index)]
        if index % 2:
            flat = [OTHER_SIDE[face] for face in reversed(flat)]
        assert flat == [FACES[key] for key in ground.row(count, index, in_the_round=True)]


@pytest.mark.parametrize(
    ("name", "count", "rows"),
    [
        # R. Stroot, Hastings Tribune, 22 April 2021: seed over odd and even numbers; double moss over an odd one.
        ("seed stitch", 7, ["k1 p1 k1 p1 k1 p1 k1", "k1 p1 k1 p1 k1 p1 k1"]),
        ("seed stitch", 6, ["k1 p1 k1 p1 k1 p1", "p1 k1 p1 k1 p1 k1"]),
        ("double moss", 5, ["k1 p1 k1 p1 k1", "p1 k1 p1 k1 p1", "p1 k1 p1 k1 p1", "k1 p1 k1 p1 k1"]),
        # Moss Stitch, knittingmagic.biz, read in 2026: rows 1 and 4 from k1, rows 2 and 3 from p1.
        ("moss stitch", 5, ["k1 p1 k1 p1 k1", "p1 k1 p1 k1 p1", "p1 k1 p1 k1 p1", "k1 p1 k1 p1 k1"]),
        # B. G. Walker, A Treasury of Knitting Patterns, 1968, at second hand: two rows k2, p2, two rows p2, k2.
        ("double seed stitch", 8, ["k2 p2 k2 p2", "k2 p2 k2 p2", "p2 k2 p2 k2", "p2 k2 p2 k2"]),
        # Common practice: mistake rib is k2, p2 ending k2, p1 on every row, over a multiple of 4 plus 3.
        ("mistake rib", 11, ["k2 p2 k2 p2 k2 p1", "k2 p2 k2 p2 k2 p1"]),
        # Craft Yarn Council, abbreviations: garter, stockinette and its reverse.
        ("g st", 3, ["k3", "k3"]),
        ("St st", 3, ["k3", "p3"]),
        ("rev St st", 3, ["p3", "k3"]),
        # Ribs: knits stand over knits.
        ("k2, p2 rib", 6, ["k2 p2 k2", "p2 k2 p2"]),
        ("3x1 rib", 7, ["k3 p1 k3", "p3 k1 p3"]),
        ("1/1 rib", 4, ["k1 p1 k1 p1", "k1 p1 k1 p1"]),
        ("p1, k2 rib", 6, ["p1 k2 p1 k2", "p2 k1 p2 k1"]),
    ],
)
def test_published_rows(name, count, rows):
    ground = TABLE.find(name)
    assert [ground.row(count, index) for index in range(len(rows))] == [row(words) for words in rows]
    assert ground.row(count, len(ground.flat)) == ground.row(count, 0)


def test_linen_stitch_as_written():
    # Shells on the Shoreline, Linen Stitch, 16 January 2011: an even number, strands to the right side.
    linen = TABLE.find("linen stitch")
    assert linen.row(4, 0) == ("k", "sl wyif", "k", "sl wyif")
    assert linen.row(4, 1) == ("p", "sl wyib", "p", "sl wyib")


def test_brioche_takes_up_in_each_row_what_the_last_one_slipped():
    brioche = TABLE.find("brioche")
    columns = [brioche.row(6, index) for index in range(4)]
    seen = [line if index % 2 == 0 else line[::-1] for index, line in enumerate(columns)]
    for below, above in itertools.pairwise(seen):
        assert all((under == "sl1yo") == (over == "brk") for under, over in zip(below, above, strict=True))
    rounds = [brioche.row(6, index, in_the_round=True) for index in range(4)]
    for below, above in itertools.pairwise(rounds):
        assert all(
            (under == "sl1yo") == (over in {"brk", "brp"}) for under, over in zip(below, above, strict=True)
        )


def test_fishermans_rib_in_the_round_as_written():
    # J. Cox, Hooked by Fisherman's Rib: a round of 1x1 rib, then *k1b, p1* and *k1, p1b* in turn.
    ground = TABLE.find("fisherman's rib")
    assert [ground.row(2, index, in_the_round=True) for index in range(4)] == [
        ("k", "p"),
        ("k below", "p"),
        ("k", "p below"),
        ("k below", "p"),
    ]


def test_moss_keeps_both_readings():
    assert TABLE.find("moss stitch").readings == ("irish moss", "seed")
    assert TABLE.find("double moss").readings == ("irish moss", "box")


@given(
    first=st.integers(1, LARGEST_RIB), second=st.integers(1, LARGEST_RIB), purl=st.booleans(), data=st.data()
)
def test_ribs_of_any_size_stand_true(first, second, purl, data):
    ground = rib(first, second, purl_first=purl)
    assert TABLE.find(ground.key) is ground
    count = data.draw(st.integers(0, 3 * ground.multiple))
    front, back = ground.row(count, 0), ground.row(count, 1)
    assert [TURNED[SHOWS[key]] for key in reversed(back)] == [SHOWS[key] for key in front]
    assert front == ground.row(count, 2) == ground.row(count, 0, in_the_round=True)


@pytest.mark.parametrize(
    "name", ["", "rib", "k2", "k2k2 rib", "k0p2 rib", "25x1 rib", "cotton", "2x2", "k2tog", "row 4"]
)
def test_what_is_no_ground_is_none(name):
    assert TABLE.find(name) is None


def test_a_row_of_nothing_is_empty_and_less_is_refused():
    ground = TABLE.find("garter")
    assert ground.row(0, 0) == ()
    assert ground.row(1, 1) == ("k",)
    with pytest.raises(ValueError, match="0 or more"):
        ground.row(-1, 0)
    with pytest.raises(ValueError, match="from 0"):
        ground.row(3, -1)
    with pytest.raises(ValueError, match="1 to 24"):
        rib(0, 2)
