"""What a finding looks like. The pictures are part of the test: a change of wording or layout is seen here."""

import re

from hypothesis import given
from hypothesis import strategies as st

from handmade import FLAP, Wrong, finding
from purlwright.findings import Finding, Related, Severity
from purlwright.needles.problems import CountDiffers
from purlwright.terminal.excerpt import show_findings
from purlwright.terminal.look import Look, width_of
from purlwright.text import NOWHERE, Source, Span

COLOUR = re.compile(r"\x1b\[[\d;]*m")


def show(findings, source, **look):
    return "\n".join(show_findings(findings, source, Look(**look)))


def span_of(source, words):
    start = source.text.index(words)
    return Span(start, start + len(words))


def test_the_words_are_underlined_with_the_line_that_matters_above():
    source = Source(FLAP)
    related = (Related(span_of(source, "20 sts"), "20 here"),)
    shown = show([finding(source, "[k3, p1] 4 times", related=related)], source)
    assert (
        shown
        == """\
Line 5: Row 5 uses 20 of the 24 stitches on the needle.   (count-differs)
  2 | Cast on 20 sts.
    |         ------ 20 here
    :
  5 | Row 3 (RS): K2, [k3, p1] 4 times, k2tog. (19 sts)
    |                 ^^^^^^^^^^^^^^^^ uses 20
help: Work 4 more stitches, or repeat 6 times.
"""
    )


def test_a_message_that_begins_with_its_row_gives_the_row_to_the_place():
    source = Source(FLAP)
    problem = CountDiffers(row="Row 3", uses=18, there=20)
    assert show([finding(source, "[k3, p1] 4 times", problem)], source).splitlines()[0] == (
        "Row 3, line 5: uses 18 of the 20 stitches on the needle.   (count-differs)"
    )


def test_sizes_and_options_are_named():
    source = Source(FLAP)
    f = finding(source, "Purl.", Wrong(cure=None), sizes=("child", "adult"), options=(("turns", "wrapped"),))
    assert show([f], source).splitlines()[1] == "Only sizes child and adult; turns = wrapped."


def test_the_same_fault_in_another_size_takes_one_line():
    source = Source(FLAP)
    findings = [
        finding(source, "Purl.", Wrong(words=f"Row 2 uses {n} of the 99 stitches."), sizes=(size,))
        for n, size in enumerate("S M L XL 2X 3X 4X 5X".split(), 90)
    ]
    lines = show(findings, source).splitlines()
    assert lines[5] == "      size M: Row 2 uses 91 of the 99 stitches."
    assert lines[-1] == "      and 3 more like it"


def test_a_finding_that_stands_nowhere_has_no_picture():
    shown = show([Finding(problem=Wrong(severity=Severity.NOTE, cure=None), span=NOWHERE)], Source(""))
    assert shown.startswith("The whole pattern: Row 5 uses")
    assert "|" not in shown


def test_a_stretch_over_several_lines_is_marked_on_each():
    source = Source("Row 1: K2,\n   p2,\nk2,\np2,\nk9.\n")
    lines = show([finding(source, source.text.strip())], source).splitlines()
    assert [line for line in lines if "^" in line] == [
        "    | ^^^^^^^^^^",
        "    |    ^^^",
        "    | ^^^ uses 20",
    ]
    assert "    :" in lines


def test_a_long_line_is_shown_round_its_mark():
    source = Source("Row 1: " + "k1, " * 60 + "qqq, " + "p1, " * 60)
    lines = show([finding(source, "qqq")], source, width=60).splitlines()
    assert max(map(len, lines[1:])) <= 60
    at = lines[2].index("qqq")
    assert lines[3][at : at + 4] == "^^^ "
    assert lines[2].count("…") == 2


def test_the_mark_stands_under_wide_letters_and_tabs():
    source = Source("\t表 qqq")
    lines = show([finding(source, "qqq")], source).splitlines()
    assert width_of(lines[1][: lines[1].index("qqq")]) == lines[2].index("^")


def test_hostile_words_do_not_reach_the_terminal():
    source = Source("Row 1: \x1b]0;owned\x07 k2\n")
    shown = show([finding(source, "k2", Wrong(words="\x1b[2J is wrong", under="\x1b[0m"))], source)
    assert "\x1b" not in shown
    assert "\x07" not in shown


def test_colour_changes_nothing_but_colour():
    source = Source(FLAP)
    findings = [finding(source, "Purl.", Wrong(severity=s)) for s in Severity]
    assert COLOUR.sub("", show(findings, source, colour=True)) == show(findings, source)


@given(st.text(), st.integers(0, 60), st.integers(0, 60), st.integers(40, 120))
def test_any_words_and_any_place_can_be_shown(text, start, length, width):
    source = Source(text)
    start = min(start, len(source.text))
    span = Span(start, min(start + length, len(source.text)))
    show([Finding(problem=Wrong(), span=span, related=(Related(span, "here"),))], source, width=width)
