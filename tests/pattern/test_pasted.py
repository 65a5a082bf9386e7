"""Labels in bold and headings without marks, as text copied from a web page or a letter has them."""

import pytest

from purlwright.pattern.emphasis import unmarked
from purlwright.pattern.file import read_pattern
from purlwright.text import Source
from purlwright.workup import work_up

COPIED = """# Kelp Scarf
**Yarn:** Aran weight
**Tension:** 16 sts and 24 rows to 10cm

## Instructions

**Cast on 9 sts.**

**Row 1 (RS):** Knit.
__Row 2:__ As row 1.

**Main pattern**

- **Row 1**: K3, *yo, k2tog, k1; rep from *.
*Row 2:* Purl.

**Bind off all sts.**
"""

PRINTED = """# Harbour Cowl

Materials
Worsted yarn, 180 m. 4.5 mm circular needle. 1 stitch marker.

Gauge
18 sts and 26 rnds = 4" (10 cm) in pattern

Finished measurements
22 inches around

Pattern

Cast on 20 sts and join in the round.
Rib: *K1, p1; rep from * around.

Lace
Rnd 1: *K2tog, yo; rep from * around.
Rnd 2: Purl.

Work 3 rounds of rib as at beginning.
Bind off.
"""


def test_places_stay_where_they_were() -> None:
    plain = unmarked(COPIED)
    assert len(plain) == len(COPIED)
    assert [len(line) for line in plain.split("\n")] == [len(line) for line in COPIED.split("\n")]


@pytest.mark.parametrize(
    ("hers", "plain"),
    [
        ("**Row 1 (RS):** K2.", "  Row 1 (RS):   K2."),
        ("**Row 1**: K2.", "  Row 1  : K2."),
        ("**Row 1** K2.", "  Row 1   K2."),
        ("__Sizes:__ S, M", "  Sizes:   S, M"),
        ("*Rnd 3:* Knit.", " Rnd 3:  Knit."),
        ("***Next row:*** Purl.", "   Next row:    Purl."),
        ("**Bind off all sts.**", "  Bind off all sts.  "),
    ],
)
def test_marks_round_a_label_or_a_whole_sentence_are_taken_away(hers: str, plain: str) -> None:
    assert unmarked(hers) == plain


@pytest.mark.parametrize(
    "hers",
    [
        "Row 1: *K2, p2* to end.",
        "*K2, p2; rep from * to end.",
        "Row 1: K2, **p2, k2; rep from ** twice, p2.",
        "**Work 4 rows.** Now work from ** to ** again.",
        "** Cast on 9 sts.",
        "**Main pattern**",
        "*K1: a stitch*",
    ],
)
def test_stars_of_the_trade_and_headings_stay(hers: str) -> None:
    assert unmarked(hers) == hers


def test_a_copied_pattern_is_knitted_and_its_words_stay_hers() -> None:
    work = work_up(COPIED)
    rows = [(e.label, e.section, e.end) for e in work.knitted().ledger.entries]
    assert rows == [
        ("", "Instructions", 9),
        ("Row 1", "Instructions", 9),
        ("Row 2", "Instructions", 9),
        ("Row 1", "Main pattern", 9),
        ("Row 2", "Main pattern", 9),
        ("", "Main pattern", 0),
    ]
    assert work.pattern.source.text == COPIED
    assert not [f for f in work.findings() if f.severity.value != "note"]


def test_keys_that_stand_over_their_values_and_a_rib_taken_up_again() -> None:
    pattern = read_pattern(Source(PRINTED))
    assert [(e.known, e.value[:12]) for e in pattern.header.entries] == [
        ("Yarn", "Worsted yarn"),
        ("Gauge", "18 sts and 2"),
        ("Finished size", "22 inches ar"),
    ]
    entries = work_up(PRINTED).knitted().ledger.entries
    rib = [e for e in entries if "of rib" in PRINTED.split("\n")[e.line - 1]]
    assert [(e.made, e.lost, e.end) for e in rib] == [(0, 0, 20)] * 3


PASTED = """# Gull Toy

**Size:** 9 x 12 cm (3½ x 4¾ in)
Materials: 4ply wool in grey; 2.75 mm double pointed needles; 2 stitch markers

Wave pattern (mult of 4)
Rnd 1: *K2, p2; rep from *.
Rnd 2: *P2, k2; rep from *.

BODY & HEAD (worked in one piece)
Cast on 8 sts and join in the round.
Rnds 1-2: knit
Stuff firmly.
Next rnd: Pm, work rnd 1 of wave pattern to m, pm.
Next rnd: Work rnd 2 of wave pattern, removing markers on this round.
Bind off.

WINGS (make 2)
Cast on 3 sts.
Row 1: Kfb, k1, kfb. (5)
Row 2: K2tog, k1, k2tog. (3)
Row 3: Sk2p. Fasten off.
"""


def test_headings_without_marks_under_a_marked_title() -> None:
    work = work_up(PASTED)
    pieces = [(p.name, p.rows[-1].end) for p in work.knitted().ledger.pieces]
    assert [name for name, _ in pieces] == [
        "BODY & HEAD (worked in one piece)",
        "WINGS (make 2) 1",
        "WINGS (make 2) 2",
    ]
    assert not [f for f in work.findings() if f.severity.value == "error"]
    assert [s.heading for s in work.pattern.sections if s.topic == "called"] == ["Wave pattern (mult of 4)"]


def test_one_measure_in_two_units_names_no_sizes() -> None:
    pattern = read_pattern(Source(PASTED))
    assert pattern.sizes == ()
    assert next((e.key, e.known) for e in pattern.header.entries) == ("Size", "Finished size")
    assert read_pattern(Source("# A\nSizes: 46 (51) cm\n")).sizes == ("46", "51")


def test_all_rows_of_a_pattern_so_often() -> None:
    words = (
        "# A\nCast on 8 sts.\nRow 1: Knit.\nRow 2: Purl.\n"
        "Continue as set until all 2 rows of pattern have been worked 5 times.\nBind off.\n"
    )
    rows = [e for e in work_up(words).knitted().ledger.entries if e.kind.value == "row"]
    assert len(rows) == 10


@pytest.mark.parametrize(
    ("last", "codes"),
    [
        ("Bind off rem 9 sts.", ["total-differs"]),
        ("Bind off all 9 sts.", ["total-differs"]),
        ("Cast off the remaining 10 sts.", []),
        ("Row 2: P1, turn.\nBind off rem 10 sts.", []),
        ("Row 2: P2. Bind off rem 8 sts.", []),
    ],
)
def test_the_number_in_bind_off_the_rest_is_held_against_the_needle(last: str, codes: list[str]) -> None:
    findings = work_up(f"# A\nCast on 10 sts.\nRow 1: Knit.\n{last}\n").findings()
    assert [f.code for f in findings if f.severity.value == "error"] == codes


def test_a_count_in_the_words_that_take_up_the_rest_is_a_total() -> None:
    words = "# A\nSizes: S (M)\nCast on 10 (12) sts.\nRow 1: K2tog, k to last 2 sts, k2tog.\n{}\n"
    lacking = [
        [f.code for f in work_up(words.format(end)).proved().findings if f.code == "total-lacking"]
        for end in ("Bind off.", "Bind off rem 8 (10) sts.", "Leave rem 8 (10) sts on a holder.")
    ]
    assert lacking == [["total-lacking"], [], []]


def test_lists_of_a_sheet_follow_each_other_without_a_blank_line() -> None:
    text = 'MY SHAWL\n\nYARN\nLace; 600 m\nNEEDLES\n4 mm\nGAUGE\n18 sts/26 rows = 10cm/4" in st st\n\nBODY\nCast on 4 sts.\n'
    pattern = read_pattern(Source(text))
    assert [e.known for e in pattern.header.entries] == ["Yarn", "Needles", "Gauge"]
    assert len(pattern.gauges) == 1


@pytest.mark.parametrize(
    ("value", "names", "measure"),
    [
        ("S (M, L): foot circumference 20 (22, 24) cm", ("S", "M", "L"), "foot circumference 20 (22, 24) cm"),
        ("child (adult): head 50 (56) cm", ("child", "adult"), "head 50 (56) cm"),
    ],
)
def test_sizes_with_the_measure_of_each(value: str, names: tuple[str, ...], measure: str) -> None:
    pattern = read_pattern(Source(f"# A\nSizes: {value}\n"))
    assert pattern.sizes == names
    assert pattern.header.entries[-1].value == measure


def test_every_so_many_rows_by_size_with_the_ending_after_the_list() -> None:
    words = (
        "# A\nSizes: S (M, L)\nCast on 60 sts. Join in the round.\nDec rnd: K2tog, k to end.\n"
        "Rep dec rnd every 10 (9, 8)th rnd 2 (3, 4) more times.\nBind off.\n"
    )
    work = work_up(words)
    assert not work.findings()
    rounds = [[e for e in work.knitted(s).ledger.entries if e.kind.value == "round"] for s in work.sizes]
    assert [len(r) for r in rounds] == [21, 28, 33]


def test_what_becomes_of_the_others_in_a_sentence_of_its_own() -> None:
    words = (
        "# A\nCast on 20 sts. Join in the round.\nRnd 1: Knit.\n"
        "The flap is worked back and forth over the first 10 sts. Leave the remaining 10 sts unworked on the "
        "needles for the instep.\nRow 1: K10, turn.\nRow 2: P10, turn.\n"
    )
    work = work_up(words)
    assert not [f for f in work.findings() if f.severity.value == "error"]
    assert [e.worked for e in work.knitted().ledger.entries][-2:] == [10, 10]


@pytest.mark.parametrize(
    ("said", "codes"),
    [
        ("Repeat these 2 rows 3 more times. 8 rows worked.", []),
        ("Repeat these 2 rows 3 more times (8 rows).", []),
        ("Repeat these 2 rows 3 more times, 6 rows in total.", []),
        ("Repeat these 2 rows 3 more times (9 rows).", ["rows-differ"]),
        ("Repeat these 2 rows 3 more times. 9 rows have been worked.", ["rows-differ"]),
        ("Repeat these 2 rows 3 more times (11 inches).", []),
    ],
)
def test_a_printed_number_of_rows_is_held_against_the_rows(said: str, codes: list[str]) -> None:
    words = f"# A\nCast on 10 sts.\nKnit 3 rows.\n\n## B\nRow 1: Knit.\nRow 2: Purl.\n{said}\nBind off.\n"
    assert [f.code for f in work_up(words).findings()] == codes


MITTS = """# Eider Mitts
Cast on 8 sts. Join in the round.
Rnd 1: K3, place next 2 sts on waste yarn, k3. (6 sts)
Bind off.

## Thumb
Place 2 held sts back on the needles.
Row 1: Knit.
Bind off.
{}
"""


def test_a_second_mitt_is_the_whole_pattern_again_and_a_second_thumb_is_not() -> None:
    mitt, thumb = (work_up(MITTS.format(f"Make a second {what} the same.")) for what in ("mitt", "thumb"))
    assert (mitt.pattern.header.make, thumb.pattern.header.make) == (2, 1)
    assert [p.name for p in mitt.knitted().ledger.pieces] == ["Eider Mitts", "Thumb"]
    assert not [f for f in mitt.findings() if f.severity.value == "error"]


@pytest.mark.parametrize(
    ("said", "codes"),
    [
        ("Work Rnds 1-4 of Chart A, working the 8-st repeat 12 times around.", []),
        ("Join CC. Work Rnds 1-4 of Chart A, working the 8-st repeat 11 times around.", ["total-differs"]),
    ],
)
def test_how_often_a_chart_goes_round_is_held_against_the_needle(said: str, codes: list[str]) -> None:
    words = f"# A\nCast on 96 sts. Join in the round.\nRnd 1: Knit.\n{said}\nBind off.\n"
    found = [f.code for f in work_up(words).findings() if f.severity.value == "error"]
    assert found == codes


def test_decreases_go_on_every_other_round_and_then_every_round() -> None:
    words = (
        "# A\nCast on 80 sts. Join in the round.\nRnd 1: *K8, k2tog; rep from *.\nRnd 2: Knit.\n"
        "Rnd 3: *K7, k2tog; rep from *.\nRnd 4: Knit.\nContinue decreasing in this manner{}, every other rnd until "
        "40 sts rem, then every rnd until 8 sts rem.\nBind off.\n"
    )
    for aside in ("", ", working 1 fewer st before each dec"):
        work = work_up(words.format(aside))
        assert not [f for f in work.findings() if f.severity.value != "note"]
        ends = [e.end for e in work.knitted().ledger.entries if e.kind.value == "round"]
        assert ends == [80 - 8, 72, 64, 64, 56, 56, 48, 48, 40, 32, 24, 16, 8]


@pytest.mark.parametrize(
    "words",
    [
        "Join in the round, being careful not to twist the cast-on edge.",
        "Being careful not to twist cast on edge, join for working in the round.",
        "Taking care not to twist the cast-on edge, join and place a marker.",
        "Place marker and join, making sure the cast-on edge is not twisted.",
        "Join, making sure that the cast-on edge is not twisted around the needle, and pm.",
    ],
)
def test_care_not_to_twist_casts_nothing_on_and_joins(words: str) -> None:
    work = work_up(f"# A\nCast on 40 sts. {words}\nRnd 1: Knit.\nBind off.\n")
    assert not work.findings()
    assert [e.kind.value for e in work.knitted().ledger.entries] == ["cast-on", "join", "round", "bind-off"]
