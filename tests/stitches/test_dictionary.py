"""The dictionary's entries agree with themselves, with published lists and with what knitters write."""

from __future__ import annotations

import csv
import subprocess
import sys
from pathlib import Path

import pytest

from purlwright.stitches.build import COMPACT_PIECES, FILES, NOT_COMPACT, as_text, compile_tables
from purlwright.stitches.kinds import Face, Family, Lean, Loose, Motion
from purlwright.stitches.load import dictionary
from purlwright.stitches.regular import regular
from purlwright.stitches.spelling import squeeze

HERE = Path(__file__).parent
TABLE = dictionary()
EVERY = list(TABLE.stitches.values())
ids = [stitch.key for stitch in EVERY]


def published():
    lines = (HERE / "published_abbreviations.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def test_the_compiled_file_is_what_the_tables_say():
    data = Path(sys.modules["purlwright.stitches.build"].__file__).parent / "data"
    assert (data / "compiled.json").read_text(encoding="utf-8") == as_text(compile_tables())
    assert {path.stem for path in data.glob("*.toml")} == {*FILES, "sources", "grounds"}


@pytest.mark.parametrize("stitch", EVERY, ids=ids)
def test_every_entry_is_whole(stitch):
    assert stitch.source
    assert stitch.status in {"confirmed", "one source", "recalled", "common practice", "own"}
    assert stitch.us
    assert stitch.uk
    assert stitch.name_us
    assert stitch.name_uk
    assert stitch.spoken
    assert 0 <= stitch.yarn <= 25


@pytest.mark.parametrize("stitch", EVERY, ids=ids)
def test_the_loops_of_every_entry_add_up(stitch):
    assert stitch.takes >= 0
    assert len(stitch.faces) == max(stitch.makes, 0)
    if stitch.motion is Motion.CROSS:
        assert sorted(stitch.order) == list(range(stitch.takes))
        assert stitch.order != tuple(range(stitch.takes))
        assert stitch.takes == stitch.makes
        assert 0 < stitch.front < stitch.takes
        assert stitch.lean in {Lean.LEFT, Lean.RIGHT}
    else:
        assert not stitch.order
    if stitch.family is Family.DECREASE and stitch.motion is Motion.WORK:
        assert 0 <= stitch.top < stitch.takes
        assert stitch.net < 0
        assert stitch.lean is not Lean.NONE
    if stitch.family is Family.DECREASE and stitch.takes == 2:
        assert stitch.top == (1 if stitch.lean is Lean.RIGHT else 0)
    if stitch.takes == 0 and stitch.makes > 0 and stitch.motion is Motion.WORK:
        assert stitch.loose is not Loose.NONE, "a loop drawn through no stitch comes from somewhere"
    if stitch.family is Family.INCREASE or stitch.family is Family.LACE:
        assert stitch.net > 0
    if stitch.takes and Face.NONE in stitch.faces and stitch.makes > stitch.takes:
        assert stitch.loose is Loose.OVER, "a loop of no face among several is a yarn over"


@pytest.mark.parametrize("stitch", EVERY, ids=ids)
def test_what_an_entry_names_is_there(stitch):
    assert TABLE.find(stitch.key) is stitch
    for key in stitch.readings:
        assert key in TABLE.stitches
    if stitch.behind:
        back = TABLE.stitches[stitch.behind]
        assert (back.takes, back.makes) == (stitch.takes, stitch.makes)
        assert (
            not (back.faces and stitch.faces)
            or Face.NONE in stitch.faces
            or back.faces != stitch.faces
            or (stitch.behind == stitch.key)
        )
    for spelling in (stitch.us, stitch.uk, stitch.name_us, stitch.name_uk, *stitch.aliases, *stitch.old):
        found = TABLE.find(spelling)
        assert found is not None
        assert found is stitch or stitch.key in found.readings, f"{spelling} is claimed by {found.key}"


@pytest.mark.parametrize("row", published(), ids=lambda row: row["abbreviation"])
def test_published_abbreviations_mean_what_they_say(row):
    stitch = TABLE.find(row["abbreviation"])
    assert stitch is not None
    assert (stitch.takes, stitch.makes) == (int(row["takes"]), int(row["makes"]))


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("K2tog", "k2tog"),
        ("k 2 tog", "k2tog"),
        ("K. 2 tog.", "k2tog"),
        ("k2togtbl", "k2tog tbl"),
        ("p2tog-b", "p2tog tbl"),
        ("knit two together", "k2tog"),
        ("Knit 2 together through the back loops", "k2tog tbl"),
        ("SSK", "ssk"),
        ("slip, slip, knit", "ssk"),
        ("sl1-k1-psso", "skp"),
        ("SL 1, K1, PSSO", "skp"),
        ("slip 1, knit 1, pass the slipped stitch over", "skp"),
        ("skpo", "skp"),
        ("sl1, k2tog, psso", "sk2p"),
        ("sl2-k1-p2sso", "s2kp"),
        ("CDD", "s2kp"),
        ("M1", "M1"),
        ("m1l", "M1L"),
        ("make one right", "M1R"),
        ("incL", "lli"),
        ("k1f&b", "kfb"),
        ("inc in next st", "kfb"),
        ("(k1, yo, k1) in 1", "kyok"),
        ("(K1, P1, K1) in next st", "kpk"),
        ("yrn", "yo"),
        ("yarn over", "yo"),
        ("yo twice", "yo2"),
        ("W&T", "w&t"),
        ("wrap and turn", "w&t"),
        ("Cast off", "bo"),
        ("3-needle BO", "three-needle bo"),
        ("long-tail cast-on", "long-tail cast-on"),
        ("provisionally", "provisional cast-on"),
        ("brioche knit", "brk"),
        ("yf sl1yo", "sl1yo"),
        ("sl1 wyif", "sl wyif"),
        ("k9tog", "k9tog"),
        ("p6tog tbl", "p6tog tbl"),
    ],
)
def test_real_spellings_are_found(written, key):
    stitch = TABLE.find(written)
    assert stitch is not None
    assert stitch.key == key


@pytest.mark.parametrize(
    "written", ["", " ", "incl", "knit to end", "m", "k13tog", "k1tog", "40", "xyz", "4"]
)
def test_what_is_no_stitch_is_not_found(written):
    assert TABLE.find(written) is None


@pytest.mark.parametrize(
    ("term", "readings"),
    [
        ("k1b", {"k below", "k tbl"}),
        ("yfwd", {"yo", "yarn front"}),
        ("yf", {"yo", "yarn front"}),
        ("m1", {"M1", "yo"}),
        ("C3B", {"2/1 rc", "1/2 rc"}),
        ("T3F", {"2/1 lpc", "1/2 lpc"}),
        ("C6", {"3/3 rc", "3/3 lc"}),
        ("MB", {"bobble 5", "bobble 3"}),
        ("inc", {"kfb", "M1", "yo"}),
    ],
)
def test_ambiguous_terms_keep_all_their_readings(term, readings):
    assert set(TABLE.find(term).readings) == readings


@pytest.mark.parametrize(
    ("phrase", "key"),
    [
        ("narrow", "k2tog"),
        ("over", "yo"),
        ("make 1", "yo"),
        ("slip and bind", "skp"),
        ("widen", "kfb"),
        ("seam 2 together", "p2tog"),
        ("pearl", "p"),
        ("plain", "k"),
        ("thread forward", "yo"),
        ("raise 1", "M1"),
    ],
)
def test_old_forms_stand_apart(phrase, key):
    assert TABLE.old_words[phrase] == key
    assert TABLE.find(phrase) is not None


def test_us_and_uk_names_differ_where_the_trade_does():
    pairs = [(s.us, s.uk) for s in map(TABLE.find, ("skp", "bo", "2/2 RC", "2/1 LPC", "yo", "k2tog"))]
    assert pairs == [
        ("skp", "skpo"),
        ("BO", "cast off"),
        ("2/2 RC", "C4B"),
        ("2/1 LPC", "T3F"),
        ("yo", "yfwd"),
        ("k2tog", "k2tog"),
    ]


def test_compact_abbreviations_are_ready_for_reading():
    for form in (
        "k2tog",
        "p2togtbl",
        "sl1-k2tog-psso",
        "sl1k2togpsso",
        "w&t",
        "c4f",
        "2/2rc",
        "kfb",
        "skpo",
        "ssk",
        "yo",
        "m1",
    ):
        assert form in TABLE.compact
    for form, key in TABLE.compact.items():
        assert form == form.lower()
        assert not set(form) & set(" .,()")
        assert key in TABLE.stitches
    assert not {"k4", "k1", "p1", "sl1", "brk1", "k", "p"} - {"k", "p"} & TABLE.compact.keys()
    ordinary = (
        "over narrow turn drop slip bind graft pop bark burp tuck knot loop wrap star raise plain seam pearl"
    )
    ordinary += " widen welt in on to and by the rib incl won con wk ms mr ml c2 c3"
    assert not set(ordinary.split()) & TABLE.compact.keys()
    assert not NOT_COMPACT & TABLE.compact.keys()
    assert COMPACT_PIECES


@pytest.mark.parametrize(
    ("written", "key", "times"),
    [
        ("k4", "k", 4),
        ("K. 12", "k", 12),
        ("p2 tbl", "p tbl", 2),
        ("sl 3 wyif", "sl wyif", 3),
        ("k2 below", "k below", 2),
        ("BO 5", "bo", 5),
        ("k2tog", "k2tog", 1),
        ("m1l", "M1L", 1),
        ("sl1-k1-psso", "skp", 1),
        ("c4f", "2/2 lc", 1),
    ],
)
def test_a_counted_stitch_is_split_from_its_number(written, key, times):
    stitch, count = TABLE.counted(written)
    assert (stitch.key, count) == (key, times)


def test_what_is_no_stitch_is_not_counted():
    assert TABLE.counted("4k2") is None
    assert TABLE.counted("row 4") is None


@pytest.mark.parametrize(
    ("slip", "meant"),
    [
        ("k2tgo", "k2tog"),
        ("k22og", "k2tog"),
        ("p2otg", "p2tog"),
        ("skop", "skpo"),
        ("K2TOG", "k2tog"),
        ("skpoo", "skpo"),
        ("c6d", None),
        ("xx", None),
        ("", None),
        ("sleeve", None),
    ],
)
def test_a_slip_of_the_pen_has_one_near_name_or_none(slip, meant):
    assert TABLE.nearest(slip) == meant


def test_no_word_of_no_length_is_near():
    assert TABLE.nearest("zz") is None


def test_a_key_that_is_no_stitch_is_a_key_error():
    with pytest.raises(KeyError):
        TABLE.stitches["C4F"]  # the key is 2/2 lc
    assert TABLE.stitches.get("5/5 lpc") is regular("5/5 LPC")
    assert "7/2 rc" in TABLE.stitches
    assert len(TABLE.stitches) == len(EVERY)


def test_importing_the_room_loads_nothing():
    code = "import sys, purlwright.stitches; print(any(m in sys.modules for m in ('json', 'purlwright.stitches.load')))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_squeezing_loses_only_what_never_tells_stitches_apart():
    assert squeeze("K. 2 tog.") == squeeze("k2tog") == "k2tog"
    assert squeeze("w&t") == "w&t"
    assert squeeze("2/2 RC") == "2/2rc"
