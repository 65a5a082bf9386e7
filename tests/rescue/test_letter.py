"""What is sent to a teacher is read back as it was."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purlwright.rescue.letter import FIRST, NAMES, NotALetter, read_letter, write_letter
from purlwright.rescue.observe import COUNTS, FACT_WORDS, Facts


def said(name):
    if name in FACT_WORDS:
        return st.sampled_from(FACT_WORDS[name])
    if name == "piece":
        return st.sampled_from(["Sleeves (make 2) 1", "Body: front"])
    if name == "column":
        return st.tuples(st.integers(1, 999), st.integers(0, 999))
    if name in COUNTS:
        return st.lists(st.integers(0, 999), min_size=1, max_size=5).map(tuple)
    return st.integers(-99, 9999)


FACTS = st.fixed_dictionaries({}, optional={name: said(name) for name in NAMES})


@given(FACTS, st.text(), st.text(), st.text())
def test_a_letter_is_read_back(known, title, version, size):
    facts = Facts().with_(known)
    letter = write_letter(title, version, size, {"turns": "wrapped"}, facts)
    assert read_letter(letter, title, version) == facts


def test_every_fact_has_a_name():
    assert set(NAMES) == set(Facts.__dataclass_fields__)
    assert len(set(NAMES.values())) == len(NAMES)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("Stitches on the needle: 3", "This is no letter"),
        (f"{FIRST}\nPattern: Other", 'The letter is about "Other", and this pattern is "Tern".'),
        (f"{FIRST}\nVersion: 3", "The letter is about version 3, and this is version 1."),
        (f"{FIRST}\nStitches on the needle: many", "Line 2 of the letter: a whole number"),
        (f"{FIRST}\nLooks odd: blue", "Line 2 of the letter: write one of nothing, hole"),
        (f"{FIRST}\nStitches on the needle: ²", "Line 2 of the letter: a whole number"),
    ],
)
def test_a_letter_that_cannot_be_used_is_refused(text, says):
    with pytest.raises(NotALetter, match=says.replace("(", r"\(")):
        read_letter(text, "Tern", "1")


def test_what_she_writes_between_is_let_be():
    letter = f"{FIRST}\n\nDear teacher: help!\nStitches on the needle: 12\n"
    assert read_letter(letter, "Tern", "1") == Facts(sts=12)
