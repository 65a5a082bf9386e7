"""The faces of the package: which letters they have, and what stands for a letter that none has."""

import pytest

from purlwright.sheet.out.faces import MISSING, in_face, legible, missing


@pytest.mark.parametrize(
    "words",
    [
        "",
        "K2, *p2; rep from * to end. (36 sts)",
        "½ × 10 cm – 4″ ↔ ✓ é e\u0301 № ≥",
        "שלום مرحبا Ωμέγα Привет",
        "🧶 3️⃣ 👨‍👩‍👧‍👦 🏽 ❤️",
        "a\u200bb\u00adc\u202ed",
    ],
)
def test_words_that_can_be_printed_stay_as_they_are(words):
    assert legible(words) == words
    assert missing(words) == ()


def test_a_letter_that_no_face_has_is_shown_and_told():
    assert legible("毛糸 cowl 毛") == f"{MISSING}{MISSING} cowl {MISSING}"
    assert missing("毛糸 cowl 毛") == ("毛", "糸")


def test_a_mark_that_no_face_sets_on_its_letter_stands_after_it():
    assert legible("x\u20e3") == f"x{MISSING}"


@pytest.mark.parametrize(
    ("given", "shown"),
    [("a\nb\tc", "a b c"), ("a\x00b\x1b", "a\ufffdb\ufffd"), ("\ud800", "\ufffd"), ("a\ufeffb", "ab")],
)
def test_signs_that_no_page_can_hold(given, shown):
    assert legible(given) == shown


def test_words_are_cut_where_the_face_changes():
    assert list(in_face("Row ½, שלום 🧶")) == [
        ("Row ½, ", "Atkinson Hyperlegible Next"),
        ("שלום", "DejaVu Sans"),
        (" ", "Atkinson Hyperlegible Next"),
        ("🧶", "Noto Emoji"),
    ]
