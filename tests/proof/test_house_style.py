"""C101: the house style as it is said, and patterns that keep to it or do not."""

import pytest

from purlwright.proof.house_style import HouseStyle, read_house_file, read_house_line
from purlwright.workup import WorkUp

EVERYTHING = HouseStyle(
    terms="UK", sizes="( )", repeats="[ ]", capitals=True, full_stops=True, units="cm", numbers="2½"
)


def test_every_setting_is_read_from_a_line_and_from_a_file():
    line = "UK terms, sizes in ( ), repeats in [ ], capitals after the label, full stops, cm, 2½"
    assert read_house_line(line) == (EVERYTHING, ())
    file = "# Mine\nTerms: UK\nSizes: ( )\nRepeats: [ ]\nCapitals: yes\nFull stops: yes\nUnits: cm\nNumbers: 2½\n"
    assert read_house_file(file) == (EVERYTHING, ())
    assert read_house_file(f"House style: {line}\n") == (EVERYTHING, ())


@pytest.mark.parametrize(
    ("words", "style"),
    [
        ("American", HouseStyle(terms="US")),
        ("sizes in square brackets; repeats in round brackets", HouseStyle(sizes="[ ]", repeats="( )")),
        ("no capitals, without full stops", HouseStyle(capitals=False, full_stops=False)),
        ("small letters after the label", HouseStyle(capitals=False)),
        ("inches and cm", HouseStyle(units="both")),
        ("inches, numbers as 2 1/2", HouseStyle(units="in", numbers="2 1/2")),
        ("", HouseStyle()),
    ],
)
def test_settings_are_read(words, style):
    assert read_house_line(words) == (style, ())


def test_what_is_not_understood_is_given_back():
    assert read_house_line("full stops, curly brackets") == (HouseStyle(full_stops=True), ("curly brackets",))
    assert read_house_file("Full stops: maybe\nSizes: { }\nInk: blue\n> Ink: red\n") == (
        HouseStyle(),
        ("Full stops: maybe", "Sizes: { }", "Ink: blue"),
    )


PANEL = """\
# Gull Panel
Sizes: S (M, L)
Finished size: 12 1/2 (14, 15) in wide
Cast on 12 (14, 16) sts.
Row 1: Knit.
Row 2: p2, (k1, p1) 5 (6, 7) times.
> Cast off loosely when it measures 10 cm.
Bind off all sts.
"""


def notes(text, house=""):
    work = WorkUp(text, house=house)
    return [
        f"{f.problem.style}: {work.source.words(f.span)}"
        for f in work.proved().findings
        if f.code == "house-style-differs"
    ]


@pytest.mark.parametrize(
    ("style", "found"),
    [
        ("US terms", ["US terms: Cast off"]),
        ("UK terms", ["UK terms: Bind off"]),
        ("sizes in ( )", []),
        ("sizes in [ ]", ["sizes in [ ]: 2 (14, 15)"]),
        ("repeats in [ ]", ["repeats in [ ]: (k1, p1) 5 (6, 7) times"]),
        ("repeats in ( )", []),
        ("capitals", ["capitals after the label: p"]),
        ("no capitals", ["no capitals after the label: K"]),
        ("full stops", []),
        ("no full stops", ["no full stops: ."]),
        ("cm", ["cm: 15) in"]),
        ("2½", ["numbers as 2½: 12 1/2"]),
        ("2 1/2", []),
    ],
)
def test_what_differs_from_the_house_style(style, found):
    assert notes(PANEL, f"House style: {style}") == found


def test_the_header_goes_before_the_file():
    said = PANEL.replace("Sizes:", "House style: no capitals\nSizes:")
    assert notes(said, "Capitals: yes\nFull stops: yes") == ["no capitals after the label: K"]


def test_a_setting_of_the_file_that_is_not_understood():
    (found,) = (f for f in WorkUp(PANEL, house="Ink: blue").proved().findings if f.check == "C101")
    assert (found.code, found.span.end) == ("house-style-not-read", -1)
    assert "Ink: blue" in found.message
