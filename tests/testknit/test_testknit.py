"""Test knits: the form asks without telling, is read back as it was filled in, and its answers are judged."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from purlwright.rescue.letter import read_choice
from purlwright.testers import _expected, _meaning
from purlwright.testknit.compare import Whose, compare
from purlwright.testknit.form import FIRST, Answers, NotAForm, read_form, write_form
from purlwright.workup import WorkUp

SCARF = """# Eddy Scarf
Version: 3
Sizes: short (long)
Yarn: MC, wool, 4 Medium, 200 m per 100 g
Gauge: 20 sts and 28 rows = 10 cm in stockinette stitch, after washing

## Strip
Cast on 40 (44) sts.
Row 1 (RS): Knit.
Row 2 (WS): Purl.
Rep rows 1-2 30 times more.

## Point
Row 1 (RS): K1, ssk, knit to last 3 sts, k2tog, k1.
Row 2 (WS): Purl.
Rep rows 1-2 14 times more.
Bind off.
"""
WORK = WorkUp(SCARF, "scarf")
EXPECTED = _expected(WORK, "short", {})


def filled(**answers):
    """The form with answers after the names that begin so."""
    out = []
    for line in write_form(EXPECTED).splitlines():
        for begins, said in answers.items():
            if line.startswith(begins.replace("_", " ")) and line.endswith(":"):
                line += f" {said}"
        out.append(line)
    return "\n".join(out)


def lines(*forms):
    return compare(EXPECTED, forms, _meaning(WORK, "short", {}))


def line_of(found, about, name=""):
    (mine,) = (x for x in found if x.about == about and x.name.startswith(name))
    return mine


def test_the_form_asks_and_tells_nothing_of_what_is_expected():
    form = write_form(EXPECTED)
    asked = [line for line in form.splitlines() if line.endswith(":")]
    assert "Row 62 from the cast-on (Row 2 of Strip, the 31st time):" in asked
    assert any(line.startswith("Row 92 from the cast-on (Row 2 of Point, the 15th time)") for line in asked)
    assert "Length:" in asked
    told = " ".join(line.partition(":")[2] for line in form.splitlines())
    numbers = {c.stitches for c in EXPECTED.counts} | {round(m.mm / 10) for m in EXPECTED.measures}
    assert not numbers & {int(n) for n in re.findall(r"\d+", told)}


def test_an_empty_form_is_no_answer():
    assert read_form(write_form(EXPECTED), EXPECTED) == Answers()
    assert lines(Answers()) == ()


def test_size_and_choices_are_read_from_the_form():
    assert read_choice(write_form(EXPECTED)) == ("short", [])


@given(st.text())
def test_any_text_is_read_or_refused(text):
    try:
        read_form(text, EXPECTED)
    except NotAForm:
        return
    assert FIRST in text


@given(
    st.dictionaries(st.sampled_from(sorted(EXPECTED.every)), st.integers(0, 999)),
    st.dictionaries(st.sampled_from([m.name for m in EXPECTED.measures]), st.integers(1, 999)),
    st.integers(1, 900),
)
@settings(max_examples=50)
def test_what_is_filled_in_is_read_back(counts, measures, minutes):
    form = [FIRST]
    form += [f"{EXPECTED.every[at].name}: {n}" for at, n in counts.items()]
    form += [f"{name}: {n / 10} cm" for name, n in measures.items()]
    form += [f"Time for Strip: {minutes // 60} h {minutes % 60} min"]
    got = read_form("\n".join(form), EXPECTED)
    assert got.counts == counts
    assert got.measures == pytest.approx({name: float(n) for name, n in measures.items()})
    assert got.minutes == {"Strip": minutes}


@pytest.mark.parametrize(
    ("words", "mm"), [("42", 420), ("42,5 cm", 425), ("425 mm", 425), ("16.5 in", 419.1), ('10"', 254)]
)
def test_lengths_in_any_unit(words, mm):
    assert read_form(f"{FIRST}\nLength: {words}", EXPECTED).measures["Length"] == pytest.approx(mm)


@pytest.mark.parametrize(
    ("said", "metres"), [("50 g", 100), ("50", 100), ("120 m", 120), ("100 yd", 91.44), ("2 oz", 113.398)]
)
def test_yarn_is_turned_into_metres_by_its_band(said, metres):
    assert read_form(filled(MC_used=said), EXPECTED).metres["MC"] == pytest.approx(metres, abs=0.01)


def test_her_own_yarn_has_its_own_band():
    form = filled(MC_used="50 g").replace(
        "such as 200 m per 100 g:", "such as 200 m per 100 g: 150 m per 50 g"
    )
    assert read_form(form, EXPECTED).metres["MC"] == pytest.approx(150)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Length: 3", "This is no form of a test knit"),
        (f"{FIRST}\nPattern: Tern", 'The form is about pattern "Tern", and this is "Eddy Scarf".'),
        (f"{FIRST}\nSize: long", 'The form is about size "long", and this is "short".'),
        (f"{FIRST}\nLength: a hand", "Line 2 of the form: a length such as 42.5 cm should stand"),
        (f"{FIRST}\nRow 500 from the cast-on: 3", "Line 2 of the form: there is no such row in this size"),
        (f"{FIRST}\nRow 5 from the cast-on: ²", "Line 2 of the form: a whole number should stand"),
    ],
)
def test_a_form_that_cannot_be_used_is_refused(text, says):
    with pytest.raises(NotAForm, match=re.escape(says)):
        read_form(text, EXPECTED)


# --- what answers say ------------------------------------------------------------------------------

GAUGE = "in stockinette stitch"


def test_all_as_expected_points_nowhere():
    told = Answers(
        piece={GAUGE: (20.0, 28.0)},
        counts={at: c.stitches for at, c in EXPECTED.every.items()},
        measures={m.name: m.mm for m in EXPECTED.measures},
        metres={y.name: y.metres for y in EXPECTED.yarns},
        minutes={s.name: s.stitches / 12 for s in EXPECTED.stretches},
    )
    assert {x.whose for x in lines(told)} == {Whose.AGREES, Whose.PACE}


def test_a_width_that_is_off_as_her_gauge_is_her_gauge():
    """40 sts at 20 to 10 cm are 20 cm; at 18 to 10 cm they are 22.2 cm (plain division)."""
    m = next(m for m in EXPECTED.measures if m.along == "stitches" and abs(m.mm - 200) < 2)
    found = lines(Answers(piece={GAUGE: (18.0, None)}, measures={m.name: 222.0}))
    assert line_of(found, "gauge").whose is Whose.GAUGE
    assert "10 in 100 fewer" in line_of(found, "gauge").words
    assert line_of(found, "size").whose is Whose.GAUGE
    assert "22.5 cm" in line_of(found, "size").words  # to the half centimetre, from 22.2 and the edges


def test_a_width_that_her_gauge_does_not_explain_is_the_patterns():
    m = next(m for m in EXPECTED.measures if m.along == "stitches" and abs(m.mm - 200) < 2)
    found = lines(Answers(piece={GAUGE: (20.0, 28.0)}, measures={m.name: 230.0}))
    assert line_of(found, "size").whose is Whose.PATTERN
    looser = lines(Answers(piece={GAUGE: (18.0, None)}, measures={m.name: 180.0}))
    assert line_of(looser, "size").whose is Whose.PATTERN  # it should have been wider, and is narrower


def test_without_her_gauge_it_is_open():
    m = EXPECTED.measures[0]
    assert line_of(lines(Answers(measures={m.name: m.mm * 1.2})), "size").whose is Whose.OPEN


def test_rows_and_stitches_are_scaled_each_by_its_own_gauge():
    """92 rows at 28 to 10 cm are 32.9 cm, at 24 to 10 cm 38.3 cm (plain division)."""
    m = next(m for m in EXPECTED.measures if m.name == "Length")
    assert m.mm == pytest.approx(92 / 2.8 * 10, abs=10)  # a bind-off row lies on them
    found = lines(Answers(piece={GAUGE: (20.0, 24.0)}, measures={"Length": 383.0}))
    assert line_of(found, "size").whose is Whose.GAUGE


def test_a_wrong_count_is_hers_and_told_as_rescue_has_it():
    at = ("", 62)
    assert EXPECTED.every[at].stitches == 40
    line = line_of(lines(Answers(counts={at: 39})), "stitches")
    assert line.whose is Whose.HAND
    assert "slipped off the needle" in line.words


def test_the_same_wrong_count_of_two_knitters_is_the_patterns():
    at = ("", 62)
    found = lines(Answers(knitter="Ruth", counts={at: 39}), Answers(knitter="May", counts={at: 39}))
    assert [x.whose for x in found] == [Whose.PATTERN, Whose.PATTERN]
    assert {x.knitter for x in found} == {"Ruth", "May"}
    apart = lines(Answers(counts={at: 39}), Answers(counts={at: 40}))
    assert [x.whose for x in apart] == [Whose.HAND, Whose.AGREES]


def test_a_later_count_may_follow_from_an_earlier_one():
    found = lines(Answers(counts={("", 62): 39, ("", 70): 31}))
    assert found[1].words == "It may follow from the difference above."


def test_yarn_by_her_gauge():
    y = EXPECTED.yarns[0]
    assert line_of(lines(Answers(metres={"MC": y.metres})), "yarn").whose is Whose.AGREES
    hers = Answers(piece={GAUGE: (16.0, None)}, metres={"MC": y.metres * 20 / 16})
    assert line_of(lines(hers), "yarn").whose is Whose.GAUGE
    much = Answers(piece={GAUGE: (20.0, None)}, metres={"MC": y.metres * 2})
    assert line_of(lines(much), "yarn").whose is Whose.PATTERN
    assert line_of(lines(Answers(grams={"MC": 50.0})), "yarn").whose is Whose.OPEN


def test_a_part_that_took_long_beside_her_own_pace_is_named():
    strip, point = EXPECTED.stretches
    even = lines(Answers(minutes={strip.name: strip.stitches / 10, point.name: point.stitches / 10}))
    assert [x.whose for x in even] == [Whose.PACE, Whose.AGREES, Whose.AGREES]
    assert even[0].told == "10 plain stitches a minute"
    slow = lines(Answers(minutes={strip.name: strip.stitches / 10, point.name: point.stitches / 4}))
    assert line_of(slow, "time", "Point").whose is Whose.OPEN
    assert "2.5 times as long" in line_of(slow, "time", "Point").words
